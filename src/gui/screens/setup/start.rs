//! From an empty disk: a new yard in a folder, and a new machine from one like it.
//!
//! The two forms keep what is typed while they are in front; nothing is made before its button is
//! pressed.

use crate::{
    gui::{
        screens::{View, setup::step},
        theme,
        widgets::{Button, heading, paragraph, scrolls, touch},
    },
    language::{self, sentence, tell},
    sample,
    workbench::{Command, Setup},
};
use egui::{Id, Key, Margin, Response, ScrollArea, TextEdit, Ui, vec2};
use std::path::PathBuf;

const NAME: &str = sentence!("name of the new yard");
const FOLDER: &str = sentence!("folder of the new yard");

pub(super) fn show(ui: &mut Ui, view: &View<'_>, asked: &mut Vec<Command>) {
    scrolls(ui, ScrollArea::vertical().id_salt("start").auto_shrink(false), |ui| {
        ui.spacing_mut().item_spacing.y = 8.0;
        machine(ui, view, asked);
        ui.add_space(18.0);
        yard(ui, view, asked);
    });
}

fn machine(ui: &mut Ui, view: &View<'_>, asked: &mut Vec<Command>) {
    let name = &view.bench.yard().settings.name;
    heading(ui, &tell!("A new machine in {name}", name), "");
    paragraph(
        ui,
        tell!(
            "Begin with a machine like yours, then change what is different. Its limits are \
         **demonstration values** until you write in those of the manual for your machine."
        ),
    );
    ui.horizontal_wrapped(|ui| {
        for template in sample::templates() {
            let reach = view.numbers.dimension(template.shear.geometry.reach);
            let size = tell!("{reach} from pivot to tip", reach);
            let button = Button::plain(language::known(template.name)).detail(&size);
            if button.height(theme::PRIMARY).width(216.0).show(ui).clicked() {
                asked.push(step(Setup::Begin(Box::new(template.shear))));
            }
        }
        for machine in &view.bench.yard().machines {
            let word = tell!("Like {shear}", shear = machine.shear.name);
            let button = Button::plain(&word).detail(tell!("its numbers, none of its log"));
            if button.height(theme::PRIMARY).width(216.0).show(ui).clicked() {
                let mut shear = machine.shear.clone();
                shear.name.clear();
                shear.carrier.clear();
                asked.push(step(Setup::Begin(Box::new(shear))));
            }
        }
    });
}

fn yard(ui: &mut Ui, view: &View<'_>, asked: &mut Vec<Command>) {
    heading(ui, tell!("A new yard"), "");
    paragraph(
        ui,
        tell!(
            "A folder of its own for the machines you look after, with a usual leaf set and the usual \
         intervals. It may lie on a drive that others see, and it may be copied."
        ),
    );
    let picked = view.bench.setup().and_then(|desk| desk.folder.clone());
    let state = Id::unique("new yard as typed");
    let mut typed: (String, String) = ui.data(|data| data.get_temp(state)).unwrap_or_default();
    let name = field(ui, NAME, (tell!("Name"), tell!("such as Quay yard")), &mut typed.0);
    let folder = match (typed.1.trim(), &picked) {
        ("", Some(picked)) => picked.clone(),
        ("", None) => suggested(&typed.0),
        (path, _) => PathBuf::from(path),
    };
    let hint = folder.display().to_string();
    let path = ui
        .horizontal_wrapped(|ui| {
            let path = field(ui, FOLDER, (tell!("Folder"), &hint), &mut typed.1);
            if Button::plain(tell!("Choose a folder…")).show(ui).clicked() {
                asked.push(step(Setup::PickFolder));
            }
            path
        })
        .inner;
    let enter = ui.input(|input| input.key_pressed(Key::Enter));
    let entered = enter && (name.lost_focus() || path.lost_focus());
    let ready = !typed.0.trim().is_empty();
    ui.add_space(4.0);
    let make = Button::primary(tell!("Make the yard")).width(300.0).detail(&hint).enabled(ready);
    if ready && (make.show(ui).clicked() || entered) {
        let name = typed.0.trim().to_owned();
        asked.push(step(Setup::MakeYard { folder, name }));
    } else if !ready {
        paragraph(ui, tell!("Give it a name first."));
    }
    ui.data_mut(|data| data.insert_temp(state, typed));
}

fn field(ui: &mut Ui, name: &str, (caption, hint): (&str, &str), text: &mut String) -> Response {
    let t = theme::tokens(ui);
    ui.vertical(|ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        ui.label(egui::RichText::new(caption).font(theme::caption()).color(t.ink2));
        let id = Id::unique(name);
        let width = ui.available_width().min(420.0);
        let edit = TextEdit::singleline(text)
            .id(id)
            .hint_text(hint)
            .margin(Margin::symmetric(10, 10))
            .align(egui::Align2::LEFT_CENTER)
            .min_size(vec2(width, theme::TOUCH))
            .desired_width(width);
        let shown = ui.name_inputs(language::known(name), |ui| ui.add(edit));
        touch::follow(ui, &shown, shown.rect);
        ui.ctx().accesskit_node_builder(id, |node| node.set_label(language::known(name)));
        shown
    })
    .inner
}

/// A folder where people look for their own things.
fn suggested(name: &str) -> PathBuf {
    let home = std::env::home_dir().unwrap_or_default();
    let plain = |c: char| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    let folder: String = name.trim().chars().map(plain).collect();
    home.join(if folder.is_empty() { "my-yard".to_owned() } else { folder })
}
