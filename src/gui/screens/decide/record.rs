//! The buttons under a job: put it on paper, write the work down, or measure again.
//!
//! A session is written once and for good, so recording asks once more, in place.

use crate::{
    brief::{caution, decision::LineBrief},
    domain::{
        decide::{Job, LineDecision},
        log::Work,
    },
    gui::{
        commands::{Name, pressed},
        screens::decide::{Scene, sheet::fine_print},
        theme,
        widgets::{Button, divider, paragraph},
    },
    language::{self, tell},
    workbench::{Command, Screen},
};
use egui::{Id, RichText, Ui};

/// The height that the buttons take.
pub(super) fn height(ui: &Ui, scene: &Scene<'_>, decision: &LineDecision) -> f32 {
    let asking = asking(ui, scene, decision);
    let width = ui.available_width();
    let advice = ui.painter().layout(
        language::told(caution::ADVICE_ONLY).to_owned(),
        theme::caption(),
        egui::Color32::PLACEHOLDER,
        width,
    );
    advice.size().y + theme::PRIMARY + 14.0 + if asking { 92.0 } else { 0.0 }
}

/// What is being asked about: this job of this machine, until another session is written.
fn key(scene: &Scene<'_>, decision: &LineDecision) -> (Id, (String, usize)) {
    let of = format!("{} {}", scene.machine.shear.id, decision.line);
    (Id::unique("write work down"), (of, scene.machine.sessions.len()))
}

fn asking(ui: &Ui, scene: &Scene<'_>, decision: &LineDecision) -> bool {
    let (id, about) = key(scene, decision);
    ui.data(|data| data.get_temp::<(String, usize)>(id)) == Some(about)
}

/// Shows the buttons.
pub(super) fn show(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (decision, brief): (&LineDecision, &LineBrief),
) -> Option<Command> {
    fine_print(ui, language::told(caution::ADVICE_ONLY));
    ui.add_space(4.0);
    let work = decision.as_work(&scene.machine.shear);
    let (id, about) = key(scene, decision);
    if !work.is_empty() && asking(ui, scene, decision) {
        return confirm(ui, brief, work, id);
    }
    let width = ui.available_width();
    let mut asked = None;
    ui.horizontal(|ui| {
        let paper = Button::plain(tell!("Job sheet")).height(theme::PRIMARY).width(width * 0.37);
        if paper.show(ui).clicked() {
            asked = Some(Command::MakeSheet);
        }
        let rest = ui.available_width();
        if !work.is_empty() {
            if Button::primary(tell!("Record work done")).width(rest).show(ui).clicked() {
                ui.data_mut(|data| data.insert_temp(id, about));
            }
            return;
        }
        // The one primary button only where measuring is the job.
        let button = match decision.job {
            Job::Measure => Button::primary(tell!("Measure this line")).width(rest),
            _ => Button::plain(tell!("Measure again")).width(rest).height(theme::PRIMARY),
        };
        if button.show(ui).clicked() {
            asked = Some(Command::Go(Screen::Measure));
        }
    });
    asked
}

/// Are you sure: it cannot be taken back.
fn confirm(ui: &mut Ui, brief: &LineBrief, work: Vec<Work>, id: Id) -> Option<Command> {
    let t = theme::tokens(ui);
    let question = tell!("Is it done? {headline}.", headline = brief.headline);
    ui.label(RichText::new(question).font(theme::body_bold()).color(t.ink));
    paragraph(
        ui,
        tell!("It is written once and cannot be taken back. Then measure this line again."),
    );
    divider(ui);
    let width = ui.available_width();
    let (mut asked, mut over) = (None, false);
    ui.horizontal(|ui| {
        // Not where the button was that asked: a second tap by mistake must not write.
        let yes = Button::primary(tell!("Yes, done")).width(width * 0.37);
        if yes.show(ui).clicked() {
            asked = Some(Command::RecordWork(work));
            over = true;
        }
        let rest = ui.available_width();
        let later = Button::plain(tell!("Not yet")).height(theme::PRIMARY).width(rest);
        over |= later.show(ui).clicked();
    });
    if over || pressed(ui, Name::NotDone) {
        ui.data_mut(|data| data.remove::<(String, usize)>(id));
    }
    asked
}
