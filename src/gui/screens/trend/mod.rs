//! Gaps over the hours: how fast they grow, and when each will be out.
//!
//! Knows the layout of the screen and its switches. What is said comes from `brief::trend`.

mod advice;
mod alike;
mod breaks;
mod keep;
mod page;
mod plot;
mod reading;
mod signals;
mod strip;
mod table;
mod tried;
mod wear;

use crate::{
    brief::{Numbers, head, trend::TrendBrief},
    domain::{
        decide::{LineDecision, MachineDecision},
        machine::{Line, LineId, StationId},
        trend::Axis,
        yard::Machine,
    },
    gui::{
        screens::{self, View, column},
        theme,
        widgets::{ChipState, Panel, scrolls, segmented, toggle_chip},
    },
    language::{self, sentence, tell},
    workbench::{Command, Kin, Screen, Span, TrendView},
};
use egui::{Margin, Rect, ScrollArea, Ui, UiBuilder, pos2, vec2};
pub(crate) use page::{TREND_PAGE, page};

/// What the parts of the screen look at.
#[derive(Clone, Copy)]
struct Scene<'a> {
    view: &'a View<'a>,
    machine: &'a Machine,
    decision: &'a MachineDecision,
    line: &'a Line,
    decided: &'a LineDecision,
    brief: &'a TrendBrief,
    /// Service hours that the plots show.
    hours: [f64; 2],
}

/// The line that is looked at.
fn line_of(view: &View<'_>, decision: &MachineDecision) -> Option<LineId> {
    let chosen = view.bench.line().filter(|line| decision.line(*line).is_some());
    chosen.or_else(|| decision.lines.first().map(|line| line.line))
}

impl<'a> Scene<'a> {
    /// `None` if there is no machine or no such line.
    fn of(view: &'a View<'a>, brief: &'a TrendBrief) -> Option<Self> {
        let (machine, decision) = (view.bench.machine()?, view.decision?);
        let (line, decided) = (machine.shear.line(brief.line)?, decision.line(brief.line)?);
        let mut scene = Self { view, machine, decision, line, decided, brief, hours: [0.0, 1.0] };
        scene.hours = plot::hours(&scene);
        Some(scene)
    }
}

impl Scene<'_> {
    /// The stations that are shown, the one that is read last.
    ///
    /// Nobody having chosen, it is the one that leaves its limits first.
    fn shown(&self) -> Vec<StationId> {
        let chosen = self.view.bench.trend_stations();
        let mut shown: Vec<StationId> = self
            .brief
            .stations
            .iter()
            .map(|it| it.station)
            .filter(|it| chosen.contains(it))
            .collect();
        if shown.is_empty() {
            shown.extend(self.brief.worst);
        }
        if let Some(lead) = self.soonest(&shown) {
            shown.retain(|station| *station != lead);
            shown.push(lead);
        }
        shown
    }

    /// Keeps the station that is read where it is, for a command that changes how it grows: nobody
    /// having chosen, another one might come in its place.
    fn stay(&self) -> Option<Command> {
        let nobody = self.view.bench.trend_stations().is_empty();
        let lead = self.shown().last().copied().filter(|_| nobody)?;
        Some(Command::ToggleTrendStation(lead))
    }

    fn soonest(&self, of: &[StationId]) -> Option<StationId> {
        let left = |station: &StationId| {
            let state = self.decided.stations.iter().find(|it| it.station == *station);
            let hours = state.and_then(|state| state.hours.as_ref());
            match hours {
                Some(hours) if hours.passed => f64::NEG_INFINITY,
                Some(hours) => hours.estimate_h.unwrap_or(f64::INFINITY),
                None => f64::INFINITY,
            }
        };
        of.iter().copied().min_by(|a, b| left(a).total_cmp(&left(b)))
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
    let Some(id) = line_of(view, decision) else {
        return screens::nothing(
            ui,
            tell!("This machine has no lines"),
            tell!("Mend its file."),
            None,
        );
    };
    let brief = crate::brief::trend::tell(machine, decision, id, view.numbers);
    let Some(scene) = brief.as_ref().and_then(|brief| Scene::of(view, brief)) else {
        return Vec::new();
    };
    let mut asked = Vec::new();
    if view.is_stacked() && decision.measured.is_some() {
        stacked(ui, &scene, &mut asked);
        return asked;
    }
    asked.extend(title(ui, &scene));
    ui.add_space(4.0);
    if decision.measured.is_none() {
        let next = Some((tell!("Measure this machine"), Command::Go(Screen::Measure)));
        asked.extend(screens::nothing(
            ui,
            tell!("Nothing measured yet"),
            tell!("A trend needs readings of several visits. Measure this machine first."),
            next,
        ));
        return asked;
    }
    asked.extend(sheets(ui, &scene));
    asked
}

/// Which machine, and how many readings are in view.
fn title(ui: &mut Ui, scene: &Scene<'_>) -> Option<Command> {
    let Scene { view, machine, decision, .. } = *scene;
    let head = head::tell(machine, decision, view.numbers);
    let (readings, sessions) = match view.numbers.per {
        Axis::Hours => crate::brief::trend::counts(&machine.history, scene.line.id, scene.hours),
        _ => crate::brief::trend::counts_along(&scene.decided.stations, scene.hours),
    };
    let last = tell!("**{readings}** from **{sessions}** sessions", readings, sessions);
    screens::head::show(ui, view, &head, (tell!("Readings in this view"), &last))
}

/// The height of the plot in a column.
const CHART: f32 = 290.0;

/// The plot, the table and the other lines one under the other.
fn stacked(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let parts = |ui: &mut Ui, asked: &mut Vec<Command>| {
        asked.extend(title(ui, scene));
        Panel::paper().margin(Margin::same(12)).show(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 8.0;
            ui.horizontal_wrapped(|ui| {
                asked.extend(lines(ui, scene));
                asked.extend(span(ui, scene));
            });
            second_row(ui, scene, asked);
            screens::room_of(ui, CHART, |ui| asked.extend(chart(ui, scene)));
        });
        Panel::paper().margin(BESIDE).show(ui, |ui| asked.extend(answers(ui, scene)));
        asked.extend(strip::stacked(ui, scene));
        let head = head::tell(scene.machine, scene.decision, scene.view.numbers);
        screens::head::rest(ui, &head);
    };
    column(ui, ("trend", 0.0), asked, parts, |_, _| {});
}

/// The plot, the table beside it and the other lines below.
fn sheets(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let whole = screens::room(ui);
    let below = (whole.height() * 0.285).clamp(150.0, 262.0);
    let beside = (whole.width() * 0.275).clamp(286.0, 384.0);
    let split = pos2(whole.right() - beside - theme::GAP, whole.bottom() - below - theme::GAP);
    let left = Rect::from_min_max(whole.min, split);
    let right =
        Rect::from_min_max(pos2(split.x + theme::GAP, whole.top()), pos2(whole.right(), split.y));
    let foot = Rect::from_min_max(pos2(whole.left(), split.y + theme::GAP), whole.max);
    let mut asked = Vec::new();
    asked.extend(Panel::paper().show_at(ui, left, |ui| {
        let mut asked = controls(ui, scene);
        ui.add_space(2.0);
        asked.extend(chart(ui, scene));
        asked
    }));
    asked.extend(Panel::paper().margin(BESIDE).show_at(ui, right, |ui| answers(ui, scene)));
    asked.extend(strip::show(ui, foot, scene));
    ui.advance_cursor_after_rect(whole);
    asked
}

/// What was asked to be seen, into the room that is left.
fn chart(ui: &mut Ui, scene: &Scene<'_>) -> Option<Command> {
    let rest = ui.available_rect_before_wrap();
    match scene.view.bench.trend_view() {
        TrendView::Growth => match wear::chosen(ui, scene) {
            Some(mark) => {
                wear::show(ui, rest, scene, mark);
                None
            }
            None => plot::show(ui, rest, scene),
        },
        TrendView::Signals => signals::charts(ui, rest, scene),
        TrendView::Compare(kin) => {
            alike::rates(ui, rest, scene, kin);
            None
        }
    }
}

/// The hours that the chart shows, once it was painted: somebody may have zoomed.
pub(crate) fn hours(ctx: &egui::Context) -> Option<[f64; 2]> {
    ctx.data(|data| data.get_temp(plot::shown_hours()))
}

/// The margin of the sheet beside the plot: its rows keep one of their own.
const BESIDE: Margin = Margin { left: 0, right: 0, top: 10, bottom: 8 };

/// A switch between what can be asked, and the answer in words.
fn answers(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    let view = scene.view.bench.trend_view();
    within(ui, |ui| {
        let on = match view {
            TrendView::Growth => 0,
            TrendView::Signals => 1,
            TrendView::Compare(_) => 2,
        };
        let tapped = segmented(
            ui,
            tell!("view"),
            &[tell!("Growth"), tell!("Signals"), tell!("Compare")],
            on,
        );
        let views = [TrendView::Growth, TrendView::Signals, TrendView::Compare(Kin::default())];
        let chosen = tapped.filter(|it| *it != on).and_then(|it| views.get(it));
        asked.extend(chosen.map(|view| Command::SetTrendView(*view)));
    });
    ui.spacing_mut().item_spacing.y = 0.0;
    let tall = (ui.available_height() - keep::TALL).max(theme::TOUCH);
    let area = ScrollArea::vertical().id_salt(("beside", view)).auto_shrink(false);
    scrolls(ui, area.max_height(tall), |ui| {
        asked.extend(match view {
            TrendView::Growth => table::show(ui, scene),
            TrendView::Signals => signals::list(ui, scene),
            TrendView::Compare(kin) => alike::list(ui, scene, kin),
        });
    });
    within(ui, |ui| asked.extend(keep::show(ui, scene)));
    asked
}

/// Inside the margins that the table's rows do not keep.
fn within(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    egui::Frame::NONE.inner_margin(Margin::symmetric(16, 0)).show(ui, |ui| {
        ui.take_available_width();
        add(ui);
    });
}

const SPANS: [(Span, &str); 3] = [
    (Span::ThisEdge, sentence!("This edge")),
    (Span::Recent, "550 h"),
    (Span::All, sentence!("All")),
];

/// Which line, which stations, how far back.
fn controls(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    let axes = axes(scene);
    let axes_wide = if axes.is_empty() { 0.0 } else { 216.0 };
    let stations_wide = 70.0 * scene.brief.stations.len() as f32 + axes_wide;
    let one_row = 490.0 + stations_wide < ui.available_width();
    let captions = 620.0 + stations_wide < ui.available_width();
    let top = ui.available_rect_before_wrap();
    let row = Rect::from_min_size(top.min, vec2(top.width(), theme::TOUCH));
    let mut at_right = ui.new_child(
        UiBuilder::new()
            .max_rect(row)
            .id_salt("span")
            .layout(egui::Layout::right_to_left(egui::Align::Center)),
    );
    // From the right the switch takes its own width, so it is laid out in a box of that size.
    let width = 236.0_f32.min(row.width() * 0.45);
    at_right.allocate_ui(vec2(width, theme::TOUCH), |ui| {
        asked.extend(span(ui, scene));
    });
    let mut asked_axis = None;
    if one_row && !axes.is_empty() {
        at_right.add_space(4.0);
        at_right.allocate_ui(vec2(axes_wide - 12.0, theme::TOUCH), |ui| {
            asked_axis = along(ui, scene, &axes);
        });
    }
    asked.extend(asked_axis);
    ui.horizontal(|ui| {
        if captions {
            caption(ui, tell!("Line"));
        }
        ui.scope(|ui| {
            ui.set_max_width(row.width() - width - 8.0);
            asked.extend(lines(ui, scene));
        });
        if captions {
            ui.add_space(12.0);
            caption(ui, tell!("Stations"));
        }
        if one_row {
            asked.extend(stations(ui, scene));
        }
    });
    if !one_row {
        second_row(ui, scene, &mut asked);
    }
    asked
}

/// The stations, and what growth is counted against.
fn second_row(ui: &mut Ui, scene: &Scene<'_>, asked: &mut Vec<Command>) {
    let axes = axes(scene);
    ui.horizontal_wrapped(|ui| {
        asked.extend(stations(ui, scene));
        if !axes.is_empty() {
            ui.add_space(8.0);
            asked.extend(along(ui, scene, &axes));
        }
    });
}

/// How far back.
fn span(ui: &mut Ui, scene: &Scene<'_>) -> Option<Command> {
    let words = SPANS.map(|(_, word)| language::told(word));
    let on = SPANS.iter().position(|(span, _)| *span == scene.view.bench.span());
    let tapped = segmented(ui, tell!("hours"), &words, on.unwrap_or(1))?;
    SPANS.get(tapped).map(|(span, _)| Command::SetSpan(*span))
}

/// What growth can be counted against; empty where it is hours or nothing, and where it does not
/// matter.
fn axes(scene: &Scene<'_>) -> Vec<Axis> {
    let compares = matches!(scene.view.bench.trend_view(), TrendView::Compare(_));
    let known = Axis::of_log(&scene.machine.history);
    if compares || known.len() < 2 { Vec::new() } else { known }
}

fn along(ui: &mut Ui, scene: &Scene<'_>, axes: &[Axis]) -> Option<Command> {
    let word = |per: &Axis| Numbers { per: *per, ..scene.view.numbers }.along_word();
    let words: Vec<&str> = axes.iter().map(word).collect();
    let on = axes.iter().position(|axis| *axis == scene.view.numbers.per).unwrap_or(0);
    let tapped = segmented(ui, tell!("along"), &words, on)?;
    axes.get(tapped).map(|axis| Command::SetAxis(*axis))
}

fn caption(ui: &mut Ui, words: &str) {
    let t = theme::tokens(ui);
    ui.label(egui::RichText::new(words).font(theme::chip()).color(t.ink2));
}

fn lines(ui: &mut Ui, scene: &Scene<'_>) -> Option<Command> {
    let ids: Vec<LineId> = scene.machine.shear.lines.iter().map(|line| line.id).collect();
    let words: Vec<String> = ids.iter().map(ToString::to_string).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let on = ids.iter().position(|id| *id == scene.line.id).unwrap_or(0);
    let tapped = segmented(ui, tell!("line"), &words, on)?;
    ids.get(tapped).map(|id| Command::ChooseLine(*id))
}

fn stations(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let shown = scene.shown();
    let lead = shown.last().copied();
    let mut asked = Vec::new();
    for brief in &scene.brief.stations {
        let station = brief.station;
        let state = match () {
            () if lead == Some(station) => ChipState::Leading,
            () if shown.contains(&station) => ChipState::On,
            () => ChipState::Off,
        };
        if toggle_chip(ui, &station.to_string(), state).clicked() {
            let chosen = scene.view.bench.trend_stations();
            // The station shown because nobody chose stays when another one joins it.
            if chosen.is_empty() && lead != Some(station) {
                asked.extend(lead.map(Command::ToggleTrendStation));
            }
            if !(chosen.is_empty() && lead == Some(station)) {
                asked.push(Command::ToggleTrendStation(station));
            }
        }
    }
    asked
}
