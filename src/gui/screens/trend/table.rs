//! Growth and hours left, station by station.

use crate::{
    brief::{
        inside, signal,
        trend::{self, SegmentBrief, StationBrief},
    },
    domain::{decide::StationState, machine::StationId, trend::HoursTo},
    gui::{
        fonts,
        meaning::verdict_mark,
        paint,
        screens::trend::{Scene, advice, breaks, reading, tried, wear, within},
        theme::{self, Tokens},
        widgets::{
            self, rich_text,
            touch::{self, Spoken},
        },
    },
    language::tell,
    workbench::Command,
};
use egui::{Align2, Color32, FontId, Painter, Pos2, Rect, Sense, Stroke, Ui, pos2, vec2};

/// Of so many segments, the newest ones, growth is listed; the exported table has all.
const SEGMENTS: usize = 24;

/// Shows the table, what follows from it, and growth by segment.
pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    if scene.view.bench.picked().is_some() {
        ui.add_space(10.0);
        asked.extend(reading::show(ui, scene));
    }
    asked.extend(rows(ui, scene));
    ui.add_space(8.0);
    within(ui, |ui| {
        wear::rows(ui, scene);
        asked.extend(below(ui, scene));
    });
    asked
}

/// What stands below the rows.
fn below(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    ui.spacing_mut().item_spacing.y = 8.0;
    let t = theme::tokens(ui);
    let (key, _) = ui.allocate_exact_size(vec2(ui.available_width(), 18.0), Sense::hover());
    let tick = key.left_center();
    paint::upright(ui.painter(), tick.x + 1.0, key.top() + 2.0..=key.bottom() - 2.0, accent(t));
    let words = tell!("next look. Bars are 80 % intervals.");
    let at = tick + vec2(10.0, 0.0);
    ui.painter().text(at, Align2::LEFT_CENTER, words, theme::caption(), t.ink2);
    let lead = scene.shown().last().copied();
    let insight = lead.zip(scene.view.insight).and_then(|(lead, it)| it.station(lead));
    // First what puts everything below in doubt.
    for change in insight.map_or(&[][..], |it| &it.changes) {
        asked.extend(breaks::offer(ui, scene, change));
    }
    advice::show(ui, scene.decided, &scene.brief.advice);
    if let Some(note) = &scene.brief.hours_note {
        widgets::paragraph(ui, note);
    }
    let Some(lead) = lead else { return asked };
    let brief = scene.brief.stations.iter().find(|it| it.station == lead);
    if let Some(note) = brief.and_then(|it| it.note.as_ref()) {
        widgets::paragraph(ui, note);
    }
    asked.extend(breaks::taken_up(ui, scene));
    let state = scene.decided.stations.iter().find(|it| it.station == lead);
    let second = insight.and_then(|it| it.second.as_ref()).zip(state);
    let n = scene.view.numbers;
    if let Some(said) = second.and_then(|(it, state)| signal::second_opinion(&state.trend, it, n)) {
        widgets::paragraph(ui, &said);
    }
    if let Some(note) = state.and_then(|it| inside::note(it, n)) {
        widgets::paragraph(ui, &note);
    }
    let told = state.map_or_else(Vec::new, |it| trend::segments(&it.trend, SEGMENTS, n));
    if !told.is_empty() {
        let unit = format!("{}, 80 %", scene.view.numbers.rate_unit());
        widgets::section(ui, &tell!("{lead} growth by segment", lead), &unit);
        ui.spacing_mut().item_spacing.y = 0.0;
        segments(ui, lead, &told);
        ui.spacing_mut().item_spacing.y = 8.0;
    }
    if let Some((state, fit)) = state.and_then(|it| Some((it, it.trend.fit.as_ref().ok()?))) {
        let from = inside::rests_on(&state.trend, fit, n);
        tried::show(ui, fit);
        widgets::paragraph(ui, &tell!("Growth now comes {from}.", from));
    }
    asked
}

fn accent(t: &Tokens) -> Stroke {
    Stroke::new(1.8, t.accent)
}

/// Where the columns of the table stand.
struct Columns {
    mark: f32,
    name: f32,
    rate: f32,
    hours: [f32; 2],
    passes: Option<f32>,
}

impl Columns {
    /// Where it is narrow the hours at which the limit is met give way: they follow from the rest.
    fn of(rect: Rect) -> Self {
        let (left, right) = (rect.left(), rect.right());
        let passes = 312.0 <= rect.width();
        let rate = left + 42.0 + (rect.width() * 0.225).min(80.0);
        let end = if passes { right - 70.0 } else { right - 14.0 };
        Self {
            mark: left + 24.0,
            name: left + 42.0,
            rate,
            hours: [rate + 18.0, end],
            passes: passes.then_some(right - 14.0),
        }
    }
}

fn rows(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let t = theme::tokens(ui);
    let (head, _) = ui.allocate_exact_size(vec2(ui.available_width(), 26.0), Sense::hover());
    let columns = Columns::of(head);
    let painter = ui.painter().clone();
    let word = |x: f32, anchor: Align2, words: &str| {
        painter.text(pos2(x, head.center().y), anchor, words, theme::caption(), t.ink3);
    };
    word(columns.rate, Align2::RIGHT_CENTER, scene.view.numbers.rate_unit());
    word(columns.hours[0], Align2::LEFT_CENTER, &scene.brief.hours_to);
    if let Some(passes) = columns.passes {
        word(passes, Align2::RIGHT_CENTER, tell!("passes at"));
    }
    let edge = Stroke::new(1.0, t.soft);
    paint::level(&painter, head.left()..=head.right(), head.bottom(), edge);

    let lead = scene.shown().last().copied();
    let scale = scale(&scene.decided.stations, scene.view.numbers.far());
    let next = scene.brief.next_look_h - scene.brief.now_h;
    let many = 4 < scene.brief.stations.len();
    let tall = if many || ui.available_height() < 480.0 { 48.0 } else { 58.0 };
    let mut asked = Vec::new();
    for (brief, state) in scene.brief.stations.iter().zip(&scene.decided.stations) {
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), tall), Sense::hover());
        let chosen = lead == Some(brief.station);
        let label = tell!("{station} growth", station = brief.station);
        let spoken = Spoken::one_of(&label, chosen).with(&brief.spoken);
        let response = touch::tap(ui, rect, ui.make_persistent_id(&label), &spoken);
        row(ui, rect, (brief, state), lead, (scale, next, scene.view.numbers.far()));
        touch::focus_ring(ui, &response, rect.shrink(4.0), 3.0);
        if response.clicked() {
            wear::put_away(ui);
            asked.extend(only(scene, brief));
        }
    }
    asked
}

/// Shows this station and no other.
fn only(scene: &Scene<'_>, brief: &StationBrief) -> Vec<Command> {
    let chosen = scene.view.bench.trend_stations();
    let others = chosen.iter().filter(|it| **it != brief.station);
    let mut asked: Vec<Command> = others.map(|it| Command::ToggleTrendStation(*it)).collect();
    if !chosen.contains(&brief.station) {
        asked.push(Command::ToggleTrendStation(brief.station));
    }
    asked
}

/// The hours at the right end of every bar: one scale for all, so that bars compare.
fn scale(states: &[StationState], furthest: f64) -> f64 {
    let ends = states.iter().filter_map(|state| state.hours.as_ref());
    let far = ends
        .filter(|hours| hours.estimate_h.is_some_and(|estimate| estimate < furthest))
        .filter_map(|hours| hours.high_h.or(hours.estimate_h))
        .fold(24.0, |far: f64, hours| far.max(hours.min(furthest)));
    far * 1.12
}

fn row(
    ui: &Ui,
    rect: Rect,
    (brief, state): (&StationBrief, &StationState),
    lead: Option<StationId>,
    (scale, next, furthest): (f64, f64, f64),
) {
    let chosen = lead == Some(brief.station);
    let t = theme::tokens(ui);
    let painter = ui.painter();
    if chosen {
        painter.rect_filled(rect, 0.0, t.field);
        let bar = Rect::from_min_size(rect.min, vec2(5.0, rect.height()));
        painter.rect_filled(bar, 0.0, t.accent);
    }
    let columns = Columns::of(rect);
    let middle = rect.center().y;
    verdict_mark(state.verdict).paint(painter, pos2(columns.mark, middle), 15.0, t);
    let bold = FontId::new(14.5, fonts::bold());
    let figure = if chosen { bold.clone() } else { FontId::new(14.5, fonts::regular()) };
    let text = |at: Pos2, anchor: Align2, words: &str, font: &FontId| {
        painter.text(at, anchor, words, font.clone(), t.ink);
    };
    text(pos2(columns.name, middle), Align2::LEFT_CENTER, &brief.station.to_string(), &bold);
    text(pos2(columns.rate, middle), Align2::RIGHT_CENTER, &brief.rate, &figure);
    let (large, quiet) = &brief.hours;
    let room = columns.hours[1] - columns.hours[0] + 10.0;
    // Smaller rather than cut: the end of the words is the interval.
    let said = format!("**{large}**  {quiet}");
    let lay = |size: f32| painter.layout_job(rich_text(&said, size, t.ink2, t.ink));
    let fits = |size: &f32| lay(*size).size().x <= room;
    let words = lay([13.0, 12.0, 11.5].into_iter().find(fits).unwrap_or(11.0));
    if let Some(passes) = columns.passes {
        // Tonnes and cuts have more digits; where they take the column, it moves beside the bar.
        let y = if words.size().x <= room { middle } else { middle + 11.0 };
        text(pos2(passes, y), Align2::RIGHT_CENTER, &brief.passes_at, &figure);
    }
    let at = pos2(columns.hours[0], middle - 11.0);
    paint::place(painter, at, Align2::LEFT_CENTER, words);
    let track = Rect::from_min_max(
        pos2(columns.hours[0], middle + 3.0),
        pos2(columns.hours[1], middle + 19.0),
    );
    interval(painter, track, state.hours.as_ref(), (scale, next, furthest), t);
    let edge = Stroke::new(1.0, t.soft);
    paint::level(painter, rect.left()..=rect.right(), rect.bottom(), edge);
}

/// The interval as a bar, the estimate as a tick in it, the next look as an accent line.
fn interval(
    painter: &Painter,
    track: Rect,
    hours: Option<&HoursTo>,
    (scale, next, furthest): (f64, f64, f64),
    t: &Tokens,
) {
    let middle = track.center().y;
    paint::level(painter, track.left()..=track.right(), middle, Stroke::new(1.0, t.soft));
    let x = |h: f64| track.left() + paint::screen((h / scale).clamp(0.0, 1.0)) * track.width();
    let far = hours.and_then(|hours| hours.estimate_h).is_some_and(|estimate| furthest <= estimate);
    if far {
        let dots = [track.left_center(), track.right_center()];
        paint::dashed(painter, &dots, Stroke::new(2.0, t.ink3), [2.0, 5.0]);
    } else if let Some(hours) = hours.filter(|hours| !hours.passed) {
        // An interval through a change would not hold.
        let sound = hours.low_h.filter(|_| hours.through_break_h.is_none());
        if let Some(low) = sound.filter(|low| *low < scale) {
            let high = hours.high_h.map_or(track.right(), x);
            let bar = Rect::from_x_y_ranges(x(low)..=high, middle - 5.0..=middle + 5.0);
            painter.rect_filled(bar, 0.0, t.line);
        }
        if let Some(estimate) = hours.estimate_h.filter(|estimate| *estimate < scale) {
            let tick = Rect::from_center_size(pos2(x(estimate), middle), vec2(3.0, 16.0));
            painter.rect_filled(tick, 0.0, t.ink);
        }
    }
    paint::upright(painter, x(next), track.top()..=track.bottom(), accent(t));
}

fn segments(ui: &mut Ui, station: StationId, told: &[SegmentBrief]) {
    let t = theme::tokens(ui);
    let most = told
        .iter()
        .flat_map(|it| it.interval.into_iter().chain([it.rate_mm_per_h]))
        .map(f64::abs)
        .fold(1e-6, f64::max);
    let last = told.len().saturating_sub(1);
    for (place, segment) in told.iter().enumerate() {
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 27.0), Sense::hover());
        let newest = place == last;
        let painter = ui.painter();
        let middle = rect.center().y;
        let ink = if newest { t.ink } else { t.ink2 };
        let left = pos2(rect.left(), middle);
        painter.text(left, Align2::LEFT_CENTER, &segment.span, theme::chip(), t.ink2);
        let bold = if newest { fonts::bold() } else { fonts::regular() };
        let right = pos2(rect.right(), middle);
        let font = FontId::new(14.0, bold);
        painter.text(right, Align2::RIGHT_CENTER, &segment.rate, font, ink);
        let track = rect.left() + (rect.width() * 0.34).max(98.0)..=rect.right() - 44.0;
        let x = |rate: f64| {
            track.start()
                + paint::screen((rate.abs() / most).min(1.0)) * (track.end() - track.start())
        };
        let fill: Color32 = if newest { t.accent } else { t.line };
        let bar = Rect::from_x_y_ranges(
            *track.start()..=x(segment.rate_mm_per_h),
            middle - 5.0..=middle + 5.0,
        );
        painter.rect_filled(bar, 0.0, fill);
        let [low, high] = segment.interval.map(x);
        let whisker = Stroke::new(1.6, t.ink);
        paint::level(painter, low.min(high)..=low.max(high), middle, whisker);
        for end in [low, high] {
            paint::upright(painter, end, middle - 6.0..=middle + 6.0, whisker);
        }
        let said = tell!(
            "{station} grew {segment}, {span}",
            station,
            segment = segment.rate,
            span = segment.span
        );
        touch::say(ui, rect, ("segment", place), &said);
    }
}
