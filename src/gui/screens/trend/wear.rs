//! Wear marks of the line's two blades: a row each under the gaps, and one of them drawn large.
//!
//! Which one is drawn is remembered until another line or station is looked at. What is said comes
//! from `brief::marks`.

use crate::{
    brief::{Numbers, marks, plain, words},
    domain::{
        decide::{MarkState, MarkVerdict},
        log::MarkKind,
        trend::{Axis, CONFIDENCE, MarkTrend, Which, worn},
    },
    gui::{
        fonts,
        marks::VerdictMark,
        paint,
        plots::{Bar, Crossing, Fan, MarkPlot, Stretch},
        screens::trend::{Scene, plot},
        theme,
        widgets::{
            self, Button, rich_text,
            touch::{self, Spoken},
        },
    },
    language::{self, tell},
};
use egui::{Align2, FontId, Id, Rect, Sense, Stroke, Ui, UiBuilder, pos2, vec2};

/// What a row is remembered under, and which mark it was.
type Chosen = (String, (String, MarkKind));

fn memory() -> Id {
    Id::unique("wear mark on trend")
}

/// The line and the stations in front: another one puts the mark away.
fn front(scene: &Scene<'_>) -> String {
    format!("{} {} {:?}", scene.machine.shear.id, scene.line.id, scene.view.bench.trend_stations())
}

/// The mark that is drawn in place of the gaps.
pub(super) fn chosen<'a>(ui: &Ui, scene: &Scene<'a>) -> Option<&'a MarkState> {
    let (of, (blade, kind)) = ui.data(|data| data.get_temp::<Chosen>(memory()))?;
    let of = Some(of).filter(|of| *of == front(scene));
    of.and_then(|_| scene.decided.marks.iter().find(|it| it.blade.0 == blade && it.kind == kind))
}

/// Back to the gaps.
pub(super) fn put_away(ui: &Ui) {
    ui.data_mut(|data| data.remove::<Chosen>(memory()));
}

/// Marks are followed over the hours, whatever gaps are counted against.
const fn over_hours(scene: &Scene<'_>) -> Numbers {
    Numbers { per: Axis::Hours, ..scene.view.numbers }
}

/// A row for each mark that was ever taken on this line's blades as they are.
pub(super) fn rows(ui: &mut Ui, scene: &Scene<'_>) {
    if scene.decided.marks.is_empty() {
        return;
    }
    let n = over_hours(scene);
    widgets::section(ui, tell!("Wear marks"), n.rate_unit());
    let before = chosen(ui, scene).map(|it| (it.blade.clone(), it.kind));
    for state in &scene.decided.marks {
        let on = before.as_ref().is_some_and(|it| *it == (state.blade.clone(), state.kind));
        if row(ui, scene, state, (on, n)) {
            let of: Chosen = (front(scene), (state.blade.0.clone(), state.kind));
            ui.data_mut(|data| data.insert_temp(memory(), of));
        }
    }
}

/// True if it was tapped.
fn row(ui: &mut Ui, scene: &Scene<'_>, state: &MarkState, (on, n): (bool, Numbers)) -> bool {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 48.0), Sense::hover());
    let name = name(scene, state);
    let label = tell!("{name} growth", name);
    let told = plain(&marks::tell(state, &scene.machine.shear, n));
    let spoken = Spoken::one_of(&label, on).with(&told);
    let response = touch::tap(ui, rect, ui.make_persistent_id(&label), &spoken);
    let painter = ui.painter();
    if on {
        painter.rect_filled(rect.expand2(vec2(8.0, 0.0)), 0.0, t.field);
    }
    let (upper, lower) = (rect.top() + 15.0, rect.top() + 34.0);
    verdict(state).paint(painter, pos2(rect.left() + 8.0, upper), 15.0, t);
    let rate = state.trend.rate_mm_per_h().map_or("–".to_owned(), |it| n.rate_value(it));
    let bold = FontId::new(14.5, fonts::bold());
    let right = pos2(rect.right(), upper);
    let rate = painter.text(right, Align2::RIGHT_CENTER, rate, bold, t.ink);
    let left = rect.left() + 24.0;
    let room = rate.left() - left - 8.0;
    let name = paint::fitted(painter, name.as_str(), theme::body_bold(), t.ink, room);
    paint::place(painter, pos2(left, upper), Align2::LEFT_CENTER, name);
    let (large, quiet) = ahead(state, n);
    let value = n.length_unit(state.value);
    let said = rich_text(&format!("{value} · **{large}** {quiet}"), 13.0, t.ink2, t.ink);
    let said = painter.layout_job(said);
    paint::place(painter, pos2(left, lower), Align2::LEFT_CENTER, said);
    let edge = Stroke::new(1.0, t.soft);
    paint::level(painter, rect.left()..=rect.right(), rect.bottom(), edge);
    touch::focus_ring(ui, &response, rect.shrink(2.0), 3.0);
    response.clicked()
}

/// Hours to the limit as for a gap; what stands there instead where there is none.
fn ahead(state: &MarkState, n: Numbers) -> (String, String) {
    match (state.limit, state.verdict) {
        (None, _) => ("–".to_owned(), tell!("no limit noted").to_owned()),
        (Some(limit), Some(MarkVerdict::Beyond)) => {
            (tell!("beyond").to_owned(), tell!("its limit {limit}", limit = n.length(limit)))
        }
        (Some(limit), _) => {
            let (large, quiet) = n.ahead(state.hours.as_ref());
            (large, format!("{quiet} · {}", side(state.kind, &n.length(limit))))
        }
    }
}

/// `most 2.50`.
fn side(kind: MarkKind, limit: &str) -> String {
    if kind == MarkKind::Thickness {
        tell!("least {limit}", limit)
    } else {
        tell!("most {limit}", limit)
    }
}

fn name(scene: &Scene<'_>, state: &MarkState) -> String {
    let blade = scene.machine.shear.blade(&state.blade);
    let blade = blade.map_or(state.blade.0.as_str(), |blade| language::known(&blade.name));
    format!("{}, {}", words::capital(blade), marks::name_of(state.kind))
}

/// The sign of its verdict: too much points apart, too little together.
const fn verdict(state: &MarkState) -> VerdictMark {
    let thin = matches!(state.kind, MarkKind::Thickness);
    match state.verdict {
        None | Some(MarkVerdict::Inside) => VerdictMark::Working,
        Some(MarkVerdict::Soon) if thin => VerdictMark::SoonTooTight,
        Some(MarkVerdict::Soon) => VerdictMark::SoonTooWide,
        Some(MarkVerdict::Beyond) if thin => VerdictMark::TooTight,
        Some(MarkVerdict::Beyond) => VerdictMark::TooWide,
    }
}

/// The mark drawn large, with a way back to the gaps.
pub(super) fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, state: &MarkState) {
    let t = theme::tokens(ui);
    let n = over_hours(scene);
    let now = scene.machine.history.service_now().h();
    let intervals = scene.view.bench.yard().settings.intervals_of(&scene.machine.shear);
    let look_h = intervals.look.h();
    let known = scene.view.numbers.per == Axis::Hours;
    let next_h = if known { scene.brief.next_look_h } else { now + look_h };
    let today = tell!("today {now}", now = n.along(now));
    let next = tell!("next look {next_h}", next_h = n.along(next_h));
    let crossing = crossing(state, n);
    let first = state.trend.seen.first().map_or(now, |it| it.at.h());
    let back = (now - first).max(8.0);
    let far = crossing.as_ref().map_or(next_h, |it| it.interval.map_or(it.at_h, |[_, high]| high));
    let most = now + (2.0 * back).max(3.0 * (next_h - now));
    let to = (far + back * 0.1).clamp(next_h + back * 0.05, most);
    let axis = tell!("{state} over service hours", state = name(scene, state));
    let limit = state.limit.map(|limit| (limit.mm(), side(state.kind, &n.length(limit))));
    MarkPlot {
        hours: [first - back * 0.05, to],
        bars: bars(&state.trend),
        lines: lines(&state.trend),
        fan: fan(&state.trend, to),
        crossing,
        limit,
        rising: worn(state.kind) == Which::WorkingMax,
        unit: (plot::per_unit(n.unit), n.unit_name()),
        axis: &axis,
        note: &marks::how_read(n),
        today: (now, &today),
        next: (next_h, &next),
    }
    .paint(ui.painter(), rect, t);
    let told = plain(&marks::tell(state, &scene.machine.shear, n));
    touch::say(ui, rect, "wear mark plot", &told);
    let size = vec2(168.0, theme::TOUCH);
    let corner = Rect::from_min_size(rect.right_bottom() - size, size);
    let mut child = ui.new_child(UiBuilder::new().max_rect(corner).id_salt("back to gaps"));
    if Button::plain(tell!("Back to the gaps")).width(corner.width()).show(&mut child).clicked() {
        put_away(ui);
    }
}

fn bars(trend: &MarkTrend) -> Vec<Bar> {
    let bar = |it: &crate::domain::log::MarkSeen| {
        let (go_mm, no_go) = it.ends_mm();
        Bar { at_h: it.at.h(), go_mm, no_go_mm: Some(no_go), aside: false }
    };
    trend.seen.iter().map(bar).collect()
}

fn lines(trend: &MarkTrend) -> Vec<Stretch> {
    trend.fit.as_ref().map_or_else(|_| Vec::new(), plot::lines_of)
}

/// The mean and its interval from the newest mark on.
fn fan(trend: &MarkTrend, to_h: f64) -> Fan {
    const STEPS: u32 = 40;
    let Some(fit) = trend.fit.as_ref().ok().filter(|_| !trend.superseded) else {
        return Fan::default();
    };
    let points = (0..=STEPS).map(|step| {
        let at = fit.last_h + (to_h - fit.last_h) * f64::from(step) / f64::from(STEPS);
        let mean = fit.mean.at(at);
        let (low, high) = fit.band_mm(at, CONFIDENCE).unwrap_or((mean, mean));
        [at, low, mean, high]
    });
    Fan { points: points.collect() }
}

fn crossing(state: &MarkState, n: Numbers) -> Option<Crossing> {
    let hours = state.hours.filter(|hours| !hours.passed)?;
    let fit = state.trend.fit.as_ref().ok()?;
    let at = |ahead: f64| fit.last_h + ahead;
    Some(Crossing {
        limit_mm: hours.limit_mm,
        at_h: at(hours.estimate_h.filter(|ahead| *ahead < n.far())?),
        interval: hours.low_h.zip(hours.high_h).map(|(low, high)| [at(low), at(high)]),
        words: crate::brief::trend::ahead(&hours, n)?,
        stop: false,
        rising: worn(state.kind) == Which::WorkingMax,
    })
}
