//! The buttons under a job: put it on paper, write the work down, or measure again.
//!
//! A session is written once and for good, so recording asks once more, in place, for what was
//! really used.

use crate::{
    brief::{caution, done},
    domain::{
        decide::{Job, LineDecision},
        log::Work,
    },
    gui::{
        commands::{Name, pressed},
        screens::decide::{Scene, really::Form, sheet::fine_print},
        theme,
        widgets::{Button, paragraph},
    },
    language::{self, tell},
    workbench::{Command, Screen},
};
use egui::{Label, RichText, Ui};

/// The height that the buttons take.
pub(super) fn height(ui: &Ui, scene: &Scene<'_>, decision: &LineDecision) -> f32 {
    let width = ui.available_width();
    let tall = |words: &str, font| {
        ui.painter().layout(words.to_owned(), font, egui::Color32::PLACEHOLDER, width).size().y
    };
    let Some(form) = Form::open(ui, scene, decision) else {
        // In a column the sheet says it.
        if scene.view.is_stacked() {
            return theme::PRIMARY;
        }
        return tall(language::told(caution::ADVICE_ONLY), theme::caption())
            + theme::PRIMARY
            + 14.0;
    };
    let question = question(scene, &form.work(&scene.machine.shear, decision));
    tall(&question, theme::body_bold()) + tall(once(), theme::body()) + theme::PRIMARY + 14.0
}

/// What will be written, as a question.
fn question(scene: &Scene<'_>, work: &[Work]) -> String {
    if work.is_empty() {
        return tell!("Nothing to write down yet: tap what was used.").to_owned();
    }
    done::question(work, &scene.machine.shear, scene.view.numbers)
}

fn once() -> &'static str {
    tell!("It is written once and cannot be taken back. Then measure this line again.")
}

/// Shows the buttons.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>, decision: &LineDecision) -> Option<Command> {
    if let Some(form) = Form::open(ui, scene, decision) {
        return confirm(ui, scene, decision, &form);
    }
    if !scene.view.is_stacked() {
        fine_print(ui, language::told(caution::ADVICE_ONLY));
        ui.add_space(4.0);
    }
    let work = decision.as_work(&scene.machine.shear);
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
                Form::new(scene, decision).keep(ui);
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
fn confirm(
    ui: &mut Ui,
    scene: &Scene<'_>,
    decision: &LineDecision,
    form: &Form,
) -> Option<Command> {
    let t = theme::tokens(ui);
    let work = form.work(&scene.machine.shear, decision);
    let question = RichText::new(question(scene, &work)).font(theme::body_bold()).color(t.ink);
    ui.add(Label::new(question).wrap());
    paragraph(ui, once());
    ui.add_space(2.0);
    let width = ui.available_width();
    let (mut asked, mut over) = (None, false);
    ui.horizontal(|ui| {
        // Not where the button was that asked: a second tap by mistake must not write.
        let yes = Button::primary(tell!("Yes, done")).width(width * 0.37);
        if yes.enabled(!work.is_empty()).show(ui).clicked() {
            asked = Some(Command::RecordWorkBy(work, form.by.trim().to_owned()));
            over = true;
        }
        let rest = ui.available_width();
        let later = Button::plain(tell!("Not yet")).height(theme::PRIMARY).width(rest);
        over |= later.show(ui).clicked();
    });
    if over || pressed(ui, Name::NotDone) {
        Form::close(ui);
    }
    asked
}
