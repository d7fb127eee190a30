//! What to do with each blade, most urgent first, and the sheet of the chosen job.
//!
//! Knows the layout of the screen. Every word comes from `brief`.

mod list;
mod parts;
mod plan;
mod really;
mod record;
mod sheet;
mod supply;
mod swap;

use crate::{
    brief::{
        decision::{LineBrief, tell_all},
        head, parts as told_parts,
        plan::{self as told_plan, PlanBrief},
    },
    domain::{
        decide::{LineDecision, MachineDecision},
        machine::LineId,
        yard::Machine,
    },
    gui::{
        screens::{self, View, column},
        theme,
        widgets::{Panel, heading, segmented},
    },
    language::tell,
    workbench::{Command, Decide, DecideView, Screen},
};
use egui::{Margin, Rect, ScrollArea, Sense, Ui, UiBuilder, pos2, vec2};

/// What the parts of the screen look at.
#[derive(Clone, Copy)]
struct Scene<'a> {
    view: &'a View<'a>,
    machine: &'a Machine,
    decision: &'a MachineDecision,
    briefs: &'a [LineBrief],
    plan: Option<&'a PlanBrief>,
    chosen: LineId,
}

impl Scene<'_> {
    /// Hours until the next look.
    fn next_look_h(&self) -> f64 {
        (self.decision.next_look - self.decision.meter).h().max(0.0)
    }
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
    let mut asked = Vec::new();
    let plan = plan_of(view, machine);
    let title = |ui: &mut Ui| title(ui, view, (machine, decision), plan.as_ref());
    if !view.is_stacked() || decision.measured.is_none() {
        asked.extend(title(ui));
        ui.add_space(4.0);
    }
    if decision.measured.is_none() {
        asked.extend(screens::nothing(
            ui,
            tell!("Nothing measured yet"),
            tell!("What to do with each blade follows from its gaps. Measure this machine once before \
             it cuts."),
            Some((tell!("Measure this machine"), Command::Go(Screen::Measure))),
        ));
        return asked;
    }
    let mut briefs = tell_all(decision, &machine.shear, view.numbers);
    if let Some(plan) = &plan {
        plan.retime(&mut briefs);
    }
    let kept = view.bench.line().and_then(|line| decision.line(line));
    let Some(chosen) = kept.or_else(|| decision.lines.first()) else { return asked };
    let scene = Scene {
        view,
        machine,
        decision,
        briefs: &briefs,
        plan: plan.as_ref(),
        chosen: chosen.line,
    };
    if view.is_stacked() {
        stacked(ui, &scene, chosen, &mut asked, title);
    } else {
        asked.extend(sheets(ui, &scene, chosen));
    }
    asked
}

/// Which machine, and how much work it needs.
fn title(
    ui: &mut Ui,
    view: &View<'_>,
    (machine, decision): (&Machine, &MachineDecision),
    plan: Option<&PlanBrief>,
) -> Option<Command> {
    let head = head::tell(machine, decision, view.numbers);
    // Where it is narrow, which machine it is comes first.
    let roomy = 1_100.0 <= ui.available_width();
    let time = plan.and_then(|it| it.now_time.as_deref()).filter(|_| roomy);
    let needs = match time {
        Some(time) => format!("{}, {time}", head.needs_work),
        None => head.needs_work.clone(),
    };
    screens::head::show(ui, view, &head, (tell!("Needs work"), &needs))
}

/// The list over the sheet of the chosen job, whose buttons stay in reach.
fn stacked(
    ui: &mut Ui,
    scene: &Scene<'_>,
    chosen: &LineDecision,
    asked: &mut Vec<Command>,
    title: impl FnOnce(&mut Ui) -> Option<Command>,
) {
    let foot = record::height(ui, scene, chosen);
    let parts = |ui: &mut Ui, asked: &mut Vec<Command>| {
        asked.extend(title(ui));
        asked.extend(match scene.view.bench.decide().view {
            DecideView::Jobs => list::stacked(ui, scene),
            other => instead_of_the_list(ui, scene, other),
        });
        asked.extend(sheet::stacked(ui, scene, chosen));
        let head = head::tell(scene.machine, scene.decision, scene.view.numbers);
        screens::head::rest(ui, &head);
    };
    column(ui, ("decide", foot), asked, parts, |ui, asked| {
        ui.spacing_mut().item_spacing.y = 4.0;
        asked.extend(record::show(ui, scene, chosen));
    });
}

/// The list on the left, the sheet of the chosen job on the right.
fn sheets(ui: &mut Ui, scene: &Scene<'_>, chosen: &LineDecision) -> Vec<Command> {
    let whole = screens::room(ui);
    let beside = (whole.width() * 0.3).clamp(330.0, 448.0);
    let split = whole.right() - beside - theme::GAP - 4.0;
    let left = Rect::from_min_max(whole.min, pos2(split, whole.bottom()));
    let right = Rect::from_min_max(pos2(whole.right() - beside, whole.top()), whole.max);
    let mut asked = match scene.view.bench.decide().view {
        DecideView::Jobs => list::show(ui, left, scene),
        other => beside_the_list(ui, left, scene, other),
    };
    asked.extend(sheet::show(ui, right, scene, chosen));
    ui.advance_cursor_after_rect(whole);
    asked
}

/// The plan of the machine in hand as it stands, told.
fn plan_of(view: &View<'_>, machine: &Machine) -> Option<PlanBrief> {
    let plan = view.bench.decide().overrule(view.plan?);
    Some(told_plan::tell(&plan, view.supply?, &machine.shear, view.bench.yard(), view.numbers))
}

/// The height of the head of the plan and of the parts.
const HEAD: f32 = 60.0;

/// The plan or the parts, in the place of the list.
fn beside_the_list(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, show: DecideView) -> Vec<Command> {
    Panel::paper().margin(Margin::ZERO).show_at(ui, rect, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let head = Rect::from_min_size(rect.min, vec2(rect.width(), HEAD));
        let mut asked: Vec<Command> = switch(ui, scene, head, name(show)).into_iter().collect();
        let below = rect.with_min_y(rect.top() + HEAD).shrink(1.0);
        let mut body = ui.new_child(UiBuilder::new().max_rect(below).id_salt(show));
        ScrollArea::vertical().id_salt(show).auto_shrink(false).show(&mut body, |ui| {
            asked.extend(plan_or_parts(ui, scene, show));
        });
        asked
    })
}

/// The same in a column.
fn instead_of_the_list(ui: &mut Ui, scene: &Scene<'_>, show: DecideView) -> Vec<Command> {
    let shown = Panel::paper().margin(Margin::ZERO).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        let size = vec2(ui.available_width(), HEAD);
        let (head, _) = ui.allocate_exact_size(size, Sense::hover());
        let mut asked: Vec<Command> = switch(ui, scene, head, name(show)).into_iter().collect();
        asked.extend(plan_or_parts(ui, scene, show));
        asked
    });
    shown.inner
}

fn name(show: DecideView) -> &'static str {
    match show {
        DecideView::Parts => tell!("Parts for the whole yard"),
        DecideView::Jobs | DecideView::Plan => tell!("Plan of the next shutdown"),
    }
}

fn plan_or_parts(ui: &mut Ui, scene: &Scene<'_>, show: DecideView) -> Vec<Command> {
    match (show, scene.plan, scene.view.supply) {
        (DecideView::Plan, Some(plan), _) => return plan::show(ui, scene, plan),
        (DecideView::Parts, _, Some(supply)) => {
            let (yard, n) = (scene.view.bench.yard(), scene.view.numbers);
            supply::show(ui, &told_parts::tell(supply, yard, n));
        }
        _ => {}
    }
    Vec::new()
}

/// The switch between what the screen shows, and the title of what it shows now.
fn switch(ui: &mut Ui, scene: &Scene<'_>, band: Rect, title: &str) -> Option<Command> {
    let views = [DecideView::Jobs, DecideView::Plan, DecideView::Parts];
    let on = views.iter().position(|it| *it == scene.view.bench.decide().view).unwrap_or(0);
    let band = Rect::from_min_max(
        band.min + vec2(12.0, 8.0),
        pos2(band.right() - 12.0, band.top() + 52.0),
    );
    let mut child = ui.new_child(UiBuilder::new().max_rect(band).id_salt("switch"));
    let mut tapped = None;
    child.horizontal_centered(|ui| {
        tapped = segmented(ui, tell!("show"), &[tell!("Jobs"), tell!("Plan"), tell!("Parts")], on);
        ui.add_space(8.0);
        heading(ui, title, "");
    });
    let view = tapped.filter(|it| *it != on).and_then(|it| views.get(it))?;
    Some(Command::Decide(Decide::Show(*view)))
}

/// Inside the margins of the sheet.
fn within(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    egui::Frame::NONE.inner_margin(Margin::symmetric(16, 0)).show(ui, |ui| {
        ui.take_available_width();
        add(ui);
    });
}
