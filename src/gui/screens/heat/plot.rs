//! Face temperature and hot gap at one station over the shift, beside the case of the set range.

use crate::{
    brief::{heat as told, numbers},
    domain::{
        heat::{Band, Colour, Sample},
        quantity::LengthUnit,
    },
    gui::{
        fonts,
        heat_runs::Case,
        paint,
        screens::heat::Scene,
        theme::{self, Tokens},
    },
    language::{self, tell},
};
use egui::{Align2, Color32, FontId, Mesh, Painter, Pos2, Rect, Stroke, Ui, Vec2, pos2, vec2};

/// Hotter than this the model says nothing, in °C; the case in hand is drawn wherever it goes.
const MOST_C: f64 = 600.0;
/// How far under the case in hand the low and high gap is drawn once some case is past that, in mm.
const PAST_MM: f64 = 0.2;

/// One of the two drawings.
struct Chart {
    area: Rect,
    hours: f64,
    from: f64,
    to: f64,
}

impl Chart {
    fn x(&self, hour: f64) -> f32 {
        self.area.left() + self.area.width() * paint::screen((hour / self.hours).clamp(0.0, 1.0))
    }

    fn y(&self, value: f64) -> f32 {
        let share = (value - self.from) / (self.to - self.from).max(1e-9);
        self.area.bottom() - self.area.height() * paint::screen(share.clamp(0.0, 1.0))
    }

    fn at(&self, hour: f64, value: f64) -> Pos2 {
        pos2(self.x(hour), self.y(value))
    }
}

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>) {
    let rect = ui.available_rect_before_wrap();
    let beside = 92.0;
    let area = Rect::from_min_max(
        pos2(rect.left() + 46.0, rect.top() + 24.0),
        pos2(rect.right() - beside, rect.bottom() - 22.0),
    );
    // On a projector the drawing of the jaw shows the gaps.
    let only_faces = scene.desk.large;
    let share = if only_faces { 1.0 } else { 0.54 };
    let split = area.top() + (area.height() - if only_faces { 0.0 } else { 34.0 }) * share;
    let hours = scene.case.model.duty.hours.max(0.1);
    let (face, gap) = (face_of(scene.case), gap_of(scene.case));
    // Everything that is drawn lies inside: both cases, and the stretch of low and high as far as
    // the model says anything.
    let all = |of: &dyn Fn(&Sample) -> f64, ends: Option<&Vec<(f64, f64)>>| -> (f64, f64) {
        let set = scene.runs.set.as_ref().map_or(&[][..], |it| &it.shift.samples);
        let each = scene.case.shift.samples.iter().chain(set).map(of);
        let ends = ends.into_iter().flatten().flat_map(|(low, high)| [*low, *high]);
        let span = (f64::INFINITY, f64::NEG_INFINITY);
        each.chain(ends).fold(span, |(low, high), it| (low.min(it), high.max(it)))
    };
    let band = scene.runs.band.as_ref();
    let faces = band.and_then(|it| it.face_c.get(scene.case.contact));
    let own = all(&|sample| face(sample), None);
    let (coolest, hottest) = all(&|sample| face(sample), faces);
    let past = MOST_C < hottest;
    let hottest = hottest.min(own.1.max(MOST_C));
    let top = (hottest / 100.0).ceil().max(3.0) * 100.0 + 20.0;
    let floor = if coolest < 0.0 { (coolest / 50.0).floor() * 50.0 } else { 0.0 };
    let upper = Chart { area: area.with_max_y(split), hours, from: floor, to: top };
    let gaps_between = band.and_then(|it| it.gap_mm.get(scene.case.contact));
    let own = all(&|sample| gap(sample), None);
    let (least, most) = all(&|sample| gap(sample), gaps_between);
    let least = if past { least.max(own.0 - PAST_MM) } else { least };
    let lower = Chart {
        area: area.with_min_y(split + 34.0),
        hours,
        from: (least * 5.0).floor().min(-1.0) / 5.0,
        to: ((most * 5.0).ceil() / 5.0).max(0.4),
    };
    let t = theme::tokens(ui);
    let painter = ui.painter_at(rect.expand(8.0));
    let station = scene.runs.ask.station;
    let n = scene.view.numbers;
    let titles = [
        (rect.top() + 6.0, tell!("Face temperature at {station}", station), "°C"),
        (split + 17.0, tell!("Hot gap at {station}", station), n.unit_name()),
    ];
    for (y, title, unit) in titles.into_iter().take(if only_faces { 1 } else { 2 }) {
        let at = pos2(rect.left(), y);
        let title = painter.text(at, Align2::LEFT_CENTER, title, theme::body_bold(), t.ink);
        let at = pos2(title.right() + 8.0, y);
        painter.text(at, Align2::LEFT_CENTER, unit, theme::chip(), t.ink3);
    }
    temperatures(&painter, t, scene, &upper);
    if past {
        let at = pos2(rect.right(), rect.top() + 6.0);
        painter.text(
            at,
            Align2::RIGHT_CENTER,
            language::told(told::PAST_ALL),
            theme::caption(),
            t.ink3,
        );
    }
    if only_faces {
        cursor(&painter, t, scene, [&upper, &upper]);
        hours_axis(&painter, t, &upper);
    } else {
        gaps(&painter, t, scene, &lower);
        cursor(&painter, t, scene, [&upper, &lower]);
        hours_axis(&painter, t, &lower);
    }
    let face_now = scene.now().map_or(0.0, face);
    let gap_now = scene.now().map_or(0.0, gap);
    let said = tell!(
        "at {hour} the face is {face_now}, the hot gap {gap_now} {unit_name}",
        hour = told::hour(scene.hour),
        face_now = told::celsius(face_now),
        gap_now = n.estimate(gap_now),
        unit_name = n.unit_name()
    );
    crate::gui::widgets::say(ui, rect, "heat plot", &said);
}

fn face_of(case: &Case) -> impl Fn(&Sample) -> f64 + '_ {
    |sample| sample.contacts.get(case.contact).map_or(0.0, |at| at.face_c)
}

fn gap_of(case: &Case) -> impl Fn(&Sample) -> f64 + '_ {
    |sample| case.model.hot_gap_mm(sample, case.contact)
}

fn breaks(painter: &Painter, t: &Tokens, scene: &Scene<'_>, chart: &Chart) {
    for (from, to) in &scene.case.model.duty.breaks {
        let x = chart.x(*from)..=chart.x(*to);
        let stretch = Rect::from_x_y_ranges(x, chart.area.y_range());
        painter.rect_filled(stretch, 0.0, t.soft.gamma_multiply(0.7));
    }
}

fn temperatures(painter: &Painter, t: &Tokens, scene: &Scene<'_>, chart: &Chart) {
    let area = chart.area;
    if let Some(band) = &scene.runs.band {
        shade(painter, t, chart, band, band.face_c.get(scene.case.contact));
    }
    breaks(painter, t, scene, chart);
    // Ticks never crowd: at least 15 points stand between two.
    let degrees = (chart.to - chart.from) * 15.0 / f64::from(area.height().max(1.0));
    let step = [100.0, 200.0, 500.0].into_iter().find(|it| degrees <= *it).unwrap_or(1_000.0);
    let mut at = (chart.from / step).ceil() * step;
    while at <= chart.to {
        let y = chart.y(at);
        paint::level(painter, area.x_range().into(), y, Stroke::new(1.0, t.soft));
        let left = pos2(area.left() - 17.0, y);
        painter.text(left, Align2::RIGHT_CENTER, told::degrees(at), theme::caption(), t.ink2);
        at += step;
    }
    // The temper scale stands on the axis itself.
    let slices = 60_u8;
    for slice in 0..slices {
        let share = |k: u8| f64::from(k) / f64::from(slices);
        let c = chart.from + (chart.to - chart.from) * share(slice);
        let next = chart.from + (chart.to - chart.from) * share(slice + 1);
        let bar =
            Rect::from_x_y_ranges(area.left() - 10.0..=area.left(), chart.y(next)..=chart.y(c));
        painter.rect_filled(bar, 0.0, theme::temper(f64::midpoint(c, next)));
    }
    let blue = Colour::Blue.starts_c();
    if blue < chart.to {
        let y = chart.y(blue);
        let stroke = Stroke::new(1.2, theme::temper(296.0));
        paint::dashed(painter, &[pos2(area.left(), y), pos2(area.right(), y)], stroke, paint::DOTS);
        let word = tell!("blue from {blue}", blue = told::celsius(blue));
        let look = (theme::caption(), t.ink2, t.paper);
        let size = painter.layout_no_wrap(word.clone(), look.0.clone(), look.1).size();
        let place = free(scene, chart, size, y);
        paint::knocked_out(painter, place, Align2::LEFT_CENTER, word, look);
    }
    frame(painter, t, chart);
    let face = face_of(scene.case);
    let face = |sample: &Sample| face(sample);
    lines(painter, t, scene, chart, (&face, &|set, sample| face_of(set)(sample)), None);
}

/// Where a word beside the level `y` hides neither the case in hand nor the hour that is shown: its
/// left middle.
fn free(scene: &Scene<'_>, chart: &Chart, size: Vec2, y: f32) -> Pos2 {
    let area = chart.area;
    let points: Vec<Pos2> = scene
        .case
        .shift
        .samples
        .iter()
        .map(|sample| chart.at(sample.hour, face_of(scene.case)(sample)))
        .collect();
    let now = scene.now().map_or(0.0, face_of(scene.case));
    let value = Rect::from_center_size(chart.at(scene.hour, now), vec2(150.0, 56.0));
    let upright = Rect::from_x_y_ranges(chart.x(scene.hour)..=chart.x(scene.hour), area.y_range());
    let lefts = [area.left() + 8.0, area.right() - size.x - 8.0, area.center().x - size.x / 2.0];
    let places = lefts.into_iter().flat_map(|left| [pos2(left, y - 10.0), pos2(left, y + 10.0)]);
    let hides = |at: &Pos2| {
        let place = Align2::LEFT_CENTER.anchor_size(*at, size).expand(4.0);
        place.intersects(value)
            || place.intersects(upright)
            || points.iter().any(|it| place.contains(*it))
    };
    places.clone().find(|at| !hides(at)).or_else(|| places.clone().next()).unwrap_or(area.min)
}

fn gaps(painter: &Painter, t: &Tokens, scene: &Scene<'_>, chart: &Chart) {
    let area = chart.area;
    if let Some(band) = &scene.runs.band {
        shade(painter, t, chart, band, band.gap_mm.get(scene.case.contact));
    }
    breaks(painter, t, scene, chart);
    let per_unit = match scene.view.numbers.unit {
        LengthUnit::Millimetre => 1.0,
        LengthUnit::Inch => 25.4,
    };
    let apart = (chart.to - chart.from) * 15.0 / f64::from(area.height().max(1.0));
    let step = [0.1, 0.2, 0.5, 1.0].into_iter().find(|it| apart <= *it).unwrap_or(2.0);
    let mut at = (chart.from / step).ceil() * step;
    while at <= chart.to + 1e-9 {
        let y = chart.y(at);
        paint::level(painter, area.x_range().into(), y, Stroke::new(1.0, t.soft));
        let text = numbers::tick(at / per_unit, step / per_unit);
        let left = pos2(area.left() - 8.0, y);
        painter.text(left, Align2::RIGHT_CENTER, text, theme::caption(), t.ink2);
        at += step;
    }
    let zero = chart.y(0.0);
    let closed = area.with_min_y(zero);
    let thin = Stroke::new(1.0, t.stop.gamma_multiply(0.45));
    paint::hatch_rect(painter, closed, 9.0, thin, paint::Lean::Falling);
    paint::level(painter, area.x_range().into(), zero, Stroke::new(2.0, t.stop));
    frame(painter, t, chart);
    let gap = gap_of(scene.case);
    let touch = Some((zero, tell!("faces touch").to_owned(), t.stop));
    let gap = |sample: &Sample| gap(sample);
    lines(painter, t, scene, chart, (&gap, &|set, sample| gap_of(set)(sample)), touch);
}

fn frame(painter: &Painter, t: &Tokens, chart: &Chart) {
    let area = chart.area;
    let ink = Stroke::new(1.2, t.ink);
    paint::upright(painter, area.left(), area.y_range().into(), ink);
    paint::level(painter, area.x_range().into(), area.bottom(), ink);
}

/// The low and high case as a pale stretch behind the line.
fn shade(painter: &Painter, t: &Tokens, chart: &Chart, band: &Band, of: Option<&Vec<(f64, f64)>>) {
    let Some(ends) = of else { return };
    let mut mesh = Mesh::default();
    for (hour, (low, high)) in band.hours.iter().zip(ends) {
        let Ok(first) = u32::try_from(mesh.vertices.len()) else { return };
        mesh.colored_vertex(chart.at(*hour, *low), t.accent_tint);
        mesh.colored_vertex(chart.at(*hour, *high), t.accent_tint);
        if 0 < first {
            mesh.add_triangle(first - 2, first - 1, first + 1);
            mesh.add_triangle(first - 2, first + 1, first);
        }
    }
    painter.add(mesh);
}

/// A value of a case in hand, and the same of the case it is held against.
type Values<'a> = (&'a dyn Fn(&Sample) -> f64, &'a dyn Fn(&Case, &Sample) -> f64);

/// The case in hand, and dashed the one with the station in the middle of its set range; beside
/// them what they are, and a level that has a name.
fn lines(
    painter: &Painter,
    t: &Tokens,
    scene: &Scene<'_>,
    chart: &Chart,
    (value, ghost): Values<'_>,
    level: Option<(f32, String, Color32)>,
) {
    let n = scene.view.numbers;
    let ask = &scene.runs.ask;
    let mut names = Vec::new();
    let cold = |gap_mm: f64| tell!("cold gap {gap_mm}", gap_mm = n.estimate(gap_mm));
    if let Some(set) = &scene.runs.set {
        let points: Vec<Pos2> =
            set.shift.samples.iter().map(|it| chart.at(it.hour, ghost(set, it))).collect();
        paint::dashed(painter, &points, Stroke::new(1.4, t.ink2), paint::HOT);
        names.extend(points.last().map(|end| (end.y, cold(ask.set_mm), t.ink2)));
    }
    let points: Vec<Pos2> =
        scene.case.shift.samples.iter().map(|it| chart.at(it.hour, value(it))).collect();
    names.extend(points.last().map(|end| (end.y, cold(ask.gap_mm), t.accent)));
    painter.line(points, Stroke::new(2.4, t.accent));
    names.extend(level);
    beside(painter, chart, names, t.ink2);
}

/// Names beside the ends of what they name, moved apart where they would touch; bold but for the
/// `quiet` ones.
fn beside(
    painter: &Painter,
    chart: &Chart,
    mut names: Vec<(f32, String, Color32)>,
    quiet: Color32,
) {
    const APART: f32 = 14.0;
    names.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut least = f32::NEG_INFINITY;
    for (y, _, _) in &mut names {
        *y = y.max(least);
        least = *y + APART;
    }
    // What was pushed out at the foot pushes the others up again.
    let mut most = chart.area.bottom() - 2.0;
    for (y, _, _) in names.iter_mut().rev() {
        *y = y.min(most);
        most = *y - APART;
    }
    for (y, name, colour) in names {
        let at = pos2(chart.area.right() + 6.0, y);
        let font = if colour == quiet { theme::caption() } else { theme::caption_bold() };
        painter.text(at, Align2::LEFT_CENTER, name, font, colour);
    }
}

/// The hour that is shown, with its values.
fn cursor(painter: &Painter, t: &Tokens, scene: &Scene<'_>, [upper, lower]: [&Chart; 2]) {
    let Some(sample) = scene.now() else { return };
    let x = upper.x(scene.hour);
    let span = upper.area.top() - 6.0..=lower.area.bottom();
    paint::upright(painter, x, span, Stroke::new(1.6, t.accent));
    let n = scene.view.numbers;
    let (face, gap) = (face_of(scene.case)(sample), gap_of(scene.case)(sample));
    let both = [(upper, face, told::celsius(face)), (lower, gap, n.estimate(gap))];
    for (chart, value, text) in both.into_iter().take(if scene.desk.large { 1 } else { 2 }) {
        let at = chart.at(scene.hour, value);
        painter.circle(at, 5.5, t.field, Stroke::new(2.2, t.accent));
        let left = chart.area.center().x < at.x;
        let anchor = if left { Align2::RIGHT_CENTER } else { Align2::LEFT_CENTER };
        let by = if left { -12.0 } else { 12.0 };
        let font = FontId::new(14.0, fonts::bold());
        let y = (at.y + 15.0).clamp(chart.area.top() + 8.0, chart.area.bottom() - 8.0);
        paint::knocked_out(painter, pos2(at.x + by, y), anchor, text, (font, t.accent, t.paper));
    }
}

fn hours_axis(painter: &Painter, t: &Tokens, chart: &Chart) {
    let step = if chart.hours < 12.0 { 1.0 } else { 4.0 };
    let mut hour = 0.0;
    while hour <= chart.hours + 1e-9 {
        let x = chart.x(hour);
        let bottom = chart.area.bottom();
        paint::upright(painter, x, bottom..=bottom + 4.0, Stroke::new(1.0, t.ink2));
        let text = format!("{hour:.0}");
        let at = pos2(x, bottom + 6.0);
        painter.text(at, Align2::CENTER_TOP, text, theme::caption(), t.ink2);
        hour += step;
    }
    let at = pos2(chart.area.right() + 14.0, chart.area.bottom() + 6.0);
    painter.text(at, Align2::LEFT_TOP, tell!("hours"), theme::caption(), t.ink3);
}
