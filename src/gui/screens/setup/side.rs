//! The sheet at the side: what the field in hand is, what keeps the draft from being saved, what it
//! would change, and the button that saves it.

use crate::{
    brief::setup,
    domain::setup::{Elsewhere, Field},
    gui::{
        marks::Icon,
        screens::{View, setup::step},
        theme,
        widgets::{Button, divider, heading, paragraph, warn},
    },
    language::tell,
    workbench::{Command, Setup, SetupDesk, SetupPage},
};
use egui::{Rect, RichText, ScrollArea, Ui, UiBuilder, pos2};

pub(super) fn show(ui: &mut Ui, view: &View<'_>, desk: &SetupDesk, asked: &mut Vec<Command>) {
    let all = ui.max_rect();
    let foot = foot(desk);
    let top = all.with_max_y(all.bottom() - foot - 8.0);
    let mut body = ui.new_child(UiBuilder::new().id_salt("told").max_rect(top));
    body.set_clip_rect(top.expand(2.0).intersect(ui.clip_rect()));
    ScrollArea::vertical().id_salt("told").show(&mut body, |ui| told_all(ui, view, desk));
    let foot = all.with_min_y(all.bottom() - foot);
    buttons(&mut ui.new_child(UiBuilder::new().id_salt("save").max_rect(foot)), desk, asked);
}

/// What is told of the field in hand and of the draft.
pub(super) fn told_all(ui: &mut Ui, view: &View<'_>, desk: &SetupDesk) {
    let changed = desk.elsewhere();
    if !changed.is_empty() {
        elsewhere(ui, desk, &changed);
        ui.add_space(10.0);
    }
    told(ui, desk);
    ui.add_space(10.0);
    outcome(ui, view, desk);
}

/// The height of the buttons.
pub(super) fn foot(desk: &SetupDesk) -> f32 {
    if !desk.elsewhere().is_empty() {
        2.0 * theme::PRIMARY + 8.0
    } else if desk.is_changed() {
        theme::PRIMARY + theme::TOUCH + 8.0
    } else {
        0.0
    }
}

/// What drops or saves a draft that was changed.
pub(super) fn buttons(ui: &mut Ui, desk: &SetupDesk, asked: &mut Vec<Command>) {
    if !desk.elsewhere().is_empty() {
        return choose(ui, asked);
    }
    if !desk.is_changed() {
        return;
    }
    let width = ui.available_width();
    if Button::quiet(tell!("Drop the changes")).width(width).show(ui).clicked() {
        asked.push(step(Setup::Discard));
    }
    let detail = if desk.is_new() { tell!("a new machine") } else { tell!("former file kept") };
    let save = Button::primary(tell!("Save")).detail(detail).after(Icon::Check).width(width);
    if save.enabled(desk.can_save()).show(ui).clicked() {
        asked.push(step(Setup::Save));
    }
}

/// What others have changed while something was typed here, and that nothing is lost.
fn elsewhere(ui: &mut Ui, desk: &SetupDesk, changed: &[Elsewhere]) {
    heading(ui, tell!("Changed elsewhere"), "");
    let of_yard = |it: &Elsewhere| {
        matches!(it.field, Field::Yard(_) | Field::Shelf(..) | Field::Set(..) | Field::Leaf(..))
    };
    let shear = desk.draft().shear.as_ref();
    let files = shear.into_iter().map(|it| format!("shears/{}/shear.ron", it.id));
    let files = files.filter(|_| !changed.iter().all(of_yard));
    let files = files.chain(changed.iter().any(of_yard).then(|| "yard.ron".to_owned()));
    let files: Vec<String> = files.collect();
    let said = tell!(
        "Another window or a copy has changed {files} since it was read here. \
         Nothing is saved until you choose; what you typed is still here.",
        files = files.join(", ")
    );
    let top = ui.cursor().min;
    paragraph(ui, &said);
    let at = Rect::from_min_max(top, pos2(ui.max_rect().right(), ui.cursor().top()));
    warn(ui, at, "elsewhere", &said);
    for line in setup::elsewhere(changed, desk.draft(), desk.unit()) {
        paragraph(ui, &line);
    }
}

/// Whose numbers stay.
fn choose(ui: &mut Ui, asked: &mut Vec<Command>) {
    let width = ui.available_width();
    let theirs = Button::plain(tell!("Take theirs")).detail(tell!("Undo brings yours back"));
    if theirs.height(theme::PRIMARY).width(width).show(ui).clicked() {
        asked.push(step(Setup::TakeTheirs));
    }
    let ours = Button::primary(tell!("Keep mine")).detail(tell!("and the rest of theirs"));
    if ours.width(width).show(ui).clicked() {
        asked.push(step(Setup::KeepOurs));
    }
}

/// What the field in hand is.
fn told(ui: &mut Ui, desk: &SetupDesk) {
    let Some(field) = desk.asked.as_ref().filter(|field| desk.has(field)) else {
        heading(ui, tell!("What is this?"), "");
        paragraph(ui, general(desk.page));
        return;
    };
    let guide = setup::tell(field, desk.unit());
    heading(ui, &crate::brief::words::capital(guide.label), guide.unit);
    paragraph(ui, guide.what);
    if let Some(usual) = setup::usual(&guide) {
        paragraph(ui, &format!("**{usual}**"));
    }
    ui.add_space(6.0);
    let t = theme::tokens(ui);
    let note = RichText::new(tell!("Where does this number come from?"));
    ui.label(note.font(theme::caption_bold()).color(t.ink2));
    paragraph(ui, guide.source);
}

fn general(page: SetupPage) -> &'static str {
    match page {
        SetupPage::Start => {
            tell!(
                "A yard is a folder with your machines, leaves and shims. Nothing leaves this computer."
            )
        }
        SetupPage::Text => {
            tell!(
                "These are the files as they lie on the disk. What is edited here is read as strictly \
             as a file, and a mistake is named with its line."
            )
        }
        _ => tell!(
            "Tap a field: what it is, what is usual, and where its number comes from stand here."
        ),
    }
}

/// What is not in the log yet and follows the same numbers: a visit that nobody has signed, here or in
/// another window.
fn beside(view: &View<'_>, desk: &SetupDesk) -> Option<String> {
    let shear = desk.draft().shear.as_ref()?;
    let readings = &view.bench.visit_to(&shear.id)?.session.readings;
    let gone = readings.iter().filter(|it| shear.station(it.station).is_none()).count();
    match (readings.len(), gone) {
        (0, _) => None,
        (count, 0) => Some(tell!(
            "Readings of the visit that is open: **{count}**. They are judged by these numbers too.",
            count
        )),
        (count, gone) => Some(tell!(
            "Readings of the visit that is open: **{count}**. **{gone}** of them are at stations \
             that go: sign the visit first, or keep the stations.",
            count,
            gone
        )),
    }
}

/// What keeps the draft from being saved, or what saving it would change.
fn outcome(ui: &mut Ui, view: &View<'_>, desk: &SetupDesk) {
    let faults = desk.faults();
    if !faults.is_empty() {
        divider(ui);
        heading(ui, tell!("To mend first"), "");
        for line in setup::unfinished(&faults, desk.draft()) {
            paragraph(ui, &line);
        }
    } else if desk.is_changed() && !desk.is_new() {
        divider(ui);
        heading(ui, tell!("Would change"), "");
        match view.consequences {
            Some(consequences) => {
                for line in setup::outcome(consequences) {
                    paragraph(ui, &line);
                }
                if let Some(said) = beside(view, desk) {
                    paragraph(ui, &said);
                }
            }
            None => {
                paragraph(ui, tell!("One moment: the log is worked out with these numbers."));
            }
        }
    }
}
