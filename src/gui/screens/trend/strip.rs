//! The other lines at a glance, side by side.

use crate::{
    brief::{along, trend::Glance, words},
    domain::{decide::LineDecision, machine::Line},
    gui::{
        fonts,
        meaning::verdict_mark,
        paint,
        plots::SmallTrend,
        screens::trend::{Scene, plot},
        theme,
        widgets::{
            rich_text,
            touch::{self, Spoken},
        },
    },
    language::tell,
    workbench::Command,
};
use egui::{
    Align2, FontId, Rect, ScrollArea, Sense, Stroke, StrokeKind, Ui, UiBuilder, pos2, vec2,
};

/// Narrower than this a small multiple says nothing; then the strip scrolls.
const LEAST: f32 = 214.0;
/// The height of one in a column.
const TALL: f32 = 164.0;

/// Shows every line but the chosen one.
pub(super) fn show(ui: &mut Ui, rect: Rect, scene: &Scene<'_>) -> Vec<Command> {
    let others = others(scene);
    let gaps = theme::GAP * others.len().saturating_sub(1) as f32;
    let width = ((rect.width() - gaps) / others.len().max(1) as f32).max(LEAST);
    let scrolls = rect.width() + 1.0 < width * others.len() as f32 + gaps;
    let tall = if scrolls { rect.height() - 14.0 } else { rect.height() };
    let mut child = ui.new_child(UiBuilder::new().max_rect(rect).id_salt("others"));
    let mut asked = Vec::new();
    let cards = |ui: &mut Ui| {
        ui.spacing_mut().item_spacing.x = theme::GAP;
        ui.horizontal_top(|ui| {
            for line in others {
                asked.extend(card(ui, vec2(width, tall), scene, line));
            }
        });
    };
    if scrolls {
        let area = ScrollArea::horizontal().id_salt("other lines").auto_shrink(false);
        area.show(&mut child, cards);
    } else {
        cards(&mut child);
    }
    asked
}

fn others<'s>(scene: &Scene<'s>) -> Vec<&'s Line> {
    scene.machine.shear.lines.iter().filter(|line| line.id != scene.line.id).collect()
}

/// The same in a column: in as many rows as they need.
pub(super) fn stacked(ui: &mut Ui, scene: &Scene<'_>) -> Vec<Command> {
    let mut asked = Vec::new();
    let columns = touch::columns(ui.available_width(), LEAST, theme::GAP, 3);
    let width = (ui.available_width() + theme::GAP) / columns as f32 - theme::GAP;
    for row in others(scene).chunks(columns) {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = theme::GAP;
            for line in row {
                asked.extend(card(ui, vec2(width, TALL), scene, line));
            }
        });
    }
    asked
}

fn card(ui: &mut Ui, size: egui::Vec2, scene: &Scene<'_>, line: &Line) -> Option<Command> {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let n = scene.view.numbers;
    let decided = scene.decision.line(line.id)?;
    let brief = crate::brief::trend::glance(scene.machine, scene.decision, line.id, n)?;
    let label = tell!("trend of {line}", line = words::line(line));
    let id = ui.make_persistent_id(&label);
    let response = touch::tap(ui, rect, id, &Spoken::button(&label).with(&brief.spoken));
    let edge = if response.hovered() { Stroke::new(1.5, t.edge) } else { Stroke::new(1.0, t.soft) };
    ui.painter().rect(rect, theme::RADIUS, t.paper, edge, StrokeKind::Inside);
    let inside = rect.shrink2(vec2(14.0, 10.0));
    paint_card(ui, inside, scene, (line, decided, &brief));
    touch::focus_ring(ui, &response, rect.shrink(3.0), 3.0);
    response.clicked().then_some(Command::ChooseLine(line.id))
}

fn paint_card(
    ui: &Ui,
    rect: Rect,
    scene: &Scene<'_>,
    (line, decided, brief): (&Line, &LineDecision, &Glance),
) {
    let t = theme::tokens(ui);
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let n = scene.view.numbers;
    let worst =
        brief.worst.and_then(|it| decided.stations.iter().find(|state| state.station == it));
    let top = rect.top() + 11.0;
    let mark = verdict_mark(worst.and_then(|state| state.verdict));
    mark.paint(&painter, pos2(rect.left() + 7.0, top), 15.0, t);
    let letter = FontId::new(15.0, fonts::bold());
    let at = pos2(rect.left() + 22.0, top);
    let shown = painter.text(at, Align2::LEFT_CENTER, line.id.to_string(), letter, t.ink);
    let station = worst.map_or_else(String::new, |state| state.station.to_string());
    let at = pos2(rect.right(), top);
    let right = painter.text(at, Align2::RIGHT_CENTER, station, theme::body_bold(), t.ink2);
    let room = right.left() - shown.right() - 20.0;
    let place = paint::fitted(&painter, brief.place.as_str(), theme::chip(), t.ink2, room);
    paint::place(&painter, pos2(shown.right() + 10.0, top), Align2::LEFT_CENTER, place);

    let foot = if rect.height() < 160.0 { 24.0 } else { 42.0 };
    let (from, to) = (rect.top() + 26.0, rect.bottom() - foot);
    if let Some(state) = worst {
        SmallTrend {
            hours: span(scene),
            bands: plot::bands(&line.limits),
            per_unit: plot::per_unit(n.unit),
            bars: plot::bars(&state.trend),
            lines: plot::stretches(&state.trend),
            event: brief.event.map(|(at_h, kind)| (at_h, plot::event_mark(kind))),
        }
        .paint(&painter, Rect::from_x_y_ranges(rect.x_range(), from..=to), t.paper, t);
    }
    let rate = worst.and_then(plot::rate_of).map_or_else(
        || "**–**".to_owned(),
        |rate| format!("**{}** {}", n.rate_value(rate), n.rate_unit()),
    );
    let (large, quiet) = match worst {
        Some(state) if state.trend.superseded => {
            ("–".to_owned(), tell!("measure again").to_owned())
        }
        Some(state) => n.ahead(state.hours.as_ref()),
        None => n.ahead(None),
    };
    let strong = if worst.is_some_and(|state| state.hours.is_some_and(|hours| hours.passed)) {
        t.stop
    } else {
        t.ink
    };
    // Smaller rather than left out: hours are never shown without their interval.
    let said = format!("**{large}**  {quiet}");
    let lay = |size: f32| {
        let rate = painter.layout_job(rich_text(&rate, size, t.ink2, t.ink));
        (rate, painter.layout_job(rich_text(&said, size, t.ink2, strong)))
    };
    let fits = |size: &f32| {
        let (rate, hours) = lay(*size);
        rate.size().x + 8.0 + hours.size().x <= rect.width()
    };
    let (rate, hours) = lay([13.5, 12.0, 11.5, 11.0].into_iter().find(fits).unwrap_or(10.5));
    let (left, right) = (pos2(rect.left(), to + 13.0), pos2(rect.right(), to + 13.0));
    paint::place(&painter, left, Align2::LEFT_CENTER, rate);
    paint::place(&painter, right, Align2::RIGHT_CENTER, hours);
    if 30.0 < foot {
        let down = vec2(0.0, 19.0);
        let caption = theme::caption;
        painter.text(left + down, Align2::LEFT_CENTER, tell!("growth now"), caption(), t.ink3);
        let passed = along::is_behind(&large);
        let words = if passed { tell!("the working limit") } else { tell!("to the working limit") };
        painter.text(right + down, Align2::RIGHT_CENTER, words, caption(), t.ink3);
    }
}

/// The hours that small multiples share: those of the large plot's past.
fn span(scene: &Scene<'_>) -> [f64; 2] {
    let [from, to] = scene.hours;
    let now = scene.brief.now_h;
    [from, (now + (now - from) * 0.04).min(to)]
}
