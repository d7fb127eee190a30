//! What heat does to the gaps in a shift, shown on the jaw, lesson by lesson.
//!
//! Knows the layout of the screen. Numbers come from the shifts that were run, sentences from
//! `brief` and from the lesson.

mod force;
mod jaw;
mod lesson;
mod page;
mod plot;
mod time;
mod try_it;

use crate::{
    brief::{head, heat as told},
    domain::{
        decide::MachineDecision,
        heat::{Lesson, Picture, Sample},
        machine::Line,
        yard::Machine,
    },
    gui::{
        commands::{Name, pressed},
        heat_runs::{Case, HeatRuns},
        screens::{self, View, column, head::cells, room_of},
        theme,
        widgets::{Panel, Step},
    },
    language::{self, tell},
    workbench::{Command, Heat, HeatDesk, Tried},
};
use egui::{Margin, Rect, Ui, pos2};

pub(crate) use page::{LESSON_PAGE, page};

/// What the parts of the screen look at.
#[derive(Clone, Copy)]
struct Scene<'a> {
    view: &'a View<'a>,
    machine: &'a Machine,
    lesson: &'a Lesson,
    desk: &'a HeatDesk,
    runs: &'a HeatRuns,
    case: &'a Case,
    line: &'a Line,
    /// The hour that is shown.
    hour: f64,
}

impl Scene<'_> {
    /// The machine at an hour of one case.
    fn at(case: &Case, hour: f64) -> Option<&Sample> {
        let off = |sample: &&Sample| (sample.hour - hour).abs();
        case.shift.samples.iter().min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// The machine at the hour that is shown.
    fn now(&self) -> Option<&Sample> {
        Self::at(self.case, self.hour)
    }

    /// Low and high face temperature at the station at the hour that is shown.
    fn range_c(&self) -> Option<(f64, f64)> {
        let band = self.runs.band.as_ref()?;
        let off = |at: &f64| (at - self.hour).abs();
        let (place, _) =
            band.hours.iter().enumerate().min_by(|a, b| off(a.1).total_cmp(&off(b.1)))?;
        band.face_c.get(self.case.contact)?.get(place).copied()
    }
}

/// The hour that is shown: the one somebody sought, or the step's own.
fn hour_of(lesson: &Lesson, desk: &HeatDesk, case: &Case) -> f64 {
    let step_h = lesson.steps.get(desk.step).map_or(0.0, |step| step.at_h);
    desk.hour.unwrap_or(step_h).clamp(0.0, case.model.duty.hours)
}

/// Paints the screen.
pub(crate) fn ui(ui: &mut Ui, view: &View<'_>) -> Vec<Command> {
    let (Some(machine), Some(decision)) = (view.bench.machine(), view.decision) else {
        return screens::nothing(
            ui,
            tell!("No machine in this yard yet"),
            tell!("Open another yard."),
            None,
        );
    };
    let desk = view.bench.heat();
    let (Some(lesson), Some(runs)) = (view.lessons.get(desk.lesson), view.heat) else {
        let next = tell!("Add “thermal” to its shear.ron; a machine of the sample yard shows how.");
        return screens::nothing(
            ui,
            tell!("Nothing is known about this machine's heat"),
            next,
            None,
        );
    };
    let mut asked = Vec::new();
    let stacked = view.is_stacked() && runs.case.is_ok();
    if !desk.large && !stacked {
        asked.extend(head(ui, view, (machine, decision), (lesson, Arrows::Shown)));
        ui.add_space(4.0);
    }
    let line = machine.shear.line(runs.ask.station.line);
    let (case, line) = match (&runs.case, line) {
        (Ok(case), Some(line)) => (case, line),
        (Err(fault), _) => {
            asked.extend(screens::nothing(
                ui,
                &told::fault(fault),
                tell!("Go back to the lesson's numbers, or mend the machine's file."),
                Some((tell!("Back to the lesson"), Command::Heat(Heat::Lesson(desk.lesson)))),
            ));
            return asked;
        }
        (Ok(_), None) => return asked,
    };
    let hour = hour_of(lesson, desk, case);
    let scene = Scene { view, machine, lesson, desk, runs, case, line, hour };
    asked.extend(keys(ui, &scene));
    if desk.large {
        projector(ui, &scene, &mut asked);
    } else if stacked {
        column_of(ui, &scene, decision, &mut asked);
    } else {
        sheets(ui, &scene, &mut asked);
    }
    let to = asked.iter().find_map(|it| match it {
        Command::Heat(Heat::Step(step)) => Some(*step),
        _ => None,
    });
    asked.extend(to.map(|step| Command::Heat(Heat::Try(kept(&scene, step)))));
    asked
}

/// What was moved by hand and is still true in another step: what that step sets itself is not.
fn kept(scene: &Scene<'_>, step: usize) -> Tried {
    let mut tried = scene.desk.tried;
    let Some(it) = scene.lesson.steps.get(step) else { return tried };
    let elsewhere = scene.lesson.station_at(step) != scene.runs.ask.station;
    if it.setting.gap_mm.is_some() || elsewhere {
        tried.gap_mm = None;
    }
    tried.cuts_per_minute = tried.cuts_per_minute.filter(|_| it.setting.cuts_per_minute.is_none());
    tried.plate_mm = tried.plate_mm.filter(|_| it.setting.plate_mm.is_none());
    tried.air_c = tried.air_c.filter(|_| it.setting.air_c.is_none());
    tried
}

/// The keys of a presenter's remote: on, back, and away from the projector; F11 goes to it.
fn keys(ui: &Ui, scene: &Scene<'_>) -> Option<Command> {
    let large = scene.desk.large;
    if pressed(ui, Name::Projector) || (large && pressed(ui, Name::LeaveProjector)) {
        return Some(Command::Heat(Heat::Large(!large)));
    }
    if !large {
        return None;
    }
    let desk = scene.desk;
    if pressed(ui, Name::LessonOn) {
        return Some(Command::Heat(if desk.answer { next(scene) } else { Heat::Answer(true) }));
    }
    if pressed(ui, Name::LessonBack) {
        return Some(Command::Heat(match desk.step.checked_sub(1) {
            _ if desk.answer => Heat::Answer(false),
            Some(step) => Heat::Step(step),
            None => Heat::Lesson(desk.lesson.saturating_sub(1)),
        }));
    }
    None
}

/// The step that follows, or the next lesson after the last one.
fn next(scene: &Scene<'_>) -> Heat {
    let step = scene.desk.step + 1;
    if step < scene.lesson.steps.len() {
        Heat::Step(step)
    } else {
        Heat::Lesson((scene.desk.lesson + 1) % scene.view.lessons.len().max(1))
    }
}

/// The picture that moves, the question and its answer; nobody moves a number on a projector.
fn projector(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let whole = screens::room(ui);
    let gap = 6.0;
    let jaw = whole.with_max_y(whole.top() + whole.height() * 0.5);
    let bar = Rect::from_min_max(
        pos2(whole.left(), jaw.bottom() + gap),
        pos2(whole.right(), jaw.bottom() + gap + 74.0),
    );
    let below = whole.with_min_y(bar.bottom() + gap);
    let split = below.left() + below.width() * 0.44;
    let margin = Margin { top: 10, bottom: 6, left: 14, right: 14 };
    Panel::paper().margin(margin).show_at(ui, jaw, |ui| jaw::show(ui, scene, asked));
    Panel::paper()
        .margin(Margin::symmetric(14, 4))
        .show_at(ui, bar, |ui| time::show(ui, scene, asked));
    let plots = below.with_max_x(split);
    Panel::paper().margin(margin).show_at(ui, plots, |ui| picture(ui, scene));
    let right = below.with_min_x(split + gap);
    let margin = Margin { top: 12, bottom: 8, left: 14, right: 14 };
    Panel::paper()
        .accent()
        .margin(margin)
        .show_at(ui, right, |ui| lesson::show_projected(ui, scene, asked));
    ui.advance_cursor_after_rect(whole);
}

/// With arrows to the other lessons, or alone on a page.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Arrows {
    Shown,
    Hidden,
}

fn head(
    ui: &mut Ui,
    view: &View<'_>,
    (machine, decision): (&Machine, &MachineDecision),
    (lesson, arrows): (&Lesson, Arrows),
) -> Option<Command> {
    let desk = view.bench.heat();
    let head = head::tell(machine, decision, view.numbers);
    let count = view.lessons.len();
    let strong = |text: &str| format!("**{text}**");
    let [title, work] = [&lesson.title, &lesson.work].map(|it| language::known(it));
    let values = [head.machine.as_str(), title, work, &head.taken].map(strong);
    let nth = tell!("Lesson {lesson} of {count}", lesson = desk.lesson + 1, count);
    let minutes = format!("{} min", lesson.minutes);
    let gaps = tell!("Gaps from {session}", session = crate::brief::words::within(&head.session));
    let quiet = [head.carrier.as_str(), &minutes, tell!("an estimate"), &head.meter];
    let captions = [tell!("Machine"), &nth, tell!("Work"), &gaps];
    let mut cells = cells(captions, &values, quiet);
    if let Some(cell) = cells.get_mut(1).filter(|_| arrows == Arrows::Shown) {
        cell.steps = Some([tell!("previous lesson"), tell!("next lesson")]);
    }
    if view.is_stacked() {
        cells.truncate(3);
    }
    let to = match screens::head::block(ui, view, &cells)? {
        Step::Less => (desk.lesson + count - 1) % count.max(1),
        Step::More => (desk.lesson + 1) % count.max(1),
    };
    Some(Command::Heat(Heat::Lesson(to)))
}

/// The heights of the clock and of the plots in a column.
const CLOCK: f32 = 66.0;
const PLOTS: f32 = 300.0;

/// The jaw over its clock, the lesson and what can be tried; its buttons stay in reach.
fn column_of(ui: &mut Ui, scene: &Scene<'_>, decision: &MachineDecision, asked: &mut Vec<Command>) {
    let margin = Margin { top: 12, bottom: 8, left: 14, right: 14 };
    let paper = || Panel::paper().margin(margin);
    let parts = |ui: &mut Ui, asked: &mut Vec<Command>| {
        let about = (scene.machine, decision);
        asked.extend(head(ui, scene.view, about, (scene.lesson, Arrows::Shown)));
        paper().show(ui, |ui| jaw::show(ui, scene, asked));
        paper().show(ui, |ui| room_of(ui, CLOCK, |ui| time::show(ui, scene, asked)));
        Panel::paper().accent().show(ui, |ui| lesson::show(ui, scene, asked));
        paper().show(ui, |ui| try_it::show(ui, scene, asked));
        paper().show(ui, |ui| room_of(ui, PLOTS, |ui| picture(ui, scene)));
        screens::head::rest(ui, &head::tell(scene.machine, decision, scene.view.numbers));
    };
    column(ui, ("heat", theme::PRIMARY), asked, parts, |ui, asked| {
        lesson::buttons(ui, scene, asked);
    });
}

/// What the lesson draws beside the jaw.
fn picture(ui: &mut Ui, scene: &Scene<'_>) {
    match scene.lesson.picture {
        Picture::Heat => plot::show(ui, scene),
        Picture::Force => force::show(ui, scene),
    }
}

fn sheets(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let whole = screens::room(ui);
    let gap = theme::GAP.min(whole.height() * 0.014);
    let beside = (whole.width() * 0.262).clamp(280.0, 376.0);
    let split = whole.right() - beside - theme::GAP;
    let left = whole.with_max_x(split);
    let right = whole.with_min_x(split + theme::GAP);
    let jaw_tall = whole.height() * 0.455;
    let jaw = left.with_max_y(left.top() + jaw_tall);
    let bar = Rect::from_min_max(
        pos2(left.left(), jaw.bottom() + gap),
        pos2(left.right(), jaw.bottom() + gap + 78.0),
    );
    let below = left.with_min_y(bar.bottom() + gap);
    let margin = Margin { top: 12, bottom: 6, left: 14, right: 14 };
    Panel::paper().margin(margin).show_at(ui, jaw, |ui| jaw::show(ui, scene, asked));
    let margin = Margin::symmetric(14, 6);
    Panel::paper().margin(margin).show_at(ui, bar, |ui| time::show(ui, scene, asked));
    let wide = (below.width() * 0.29).clamp(210.0, 320.0);
    let margin = Margin { top: 10, bottom: 8, left: 16, right: 16 };
    let controls = below.with_max_x(below.left() + wide);
    Panel::paper().margin(margin).show_at(ui, controls, |ui| try_it::show(ui, scene, asked));
    let plots = below.with_min_x(controls.right() + theme::GAP);
    Panel::paper().margin(margin).show_at(ui, plots, |ui| picture(ui, scene));
    Panel::paper().accent().show_at(ui, right, |ui| lesson::show_over(ui, scene, asked));
    ui.advance_cursor_after_rect(whole);
}
