//! Readings as bars, the session before, the hot gap.
//!
//! Knows bars and lines. Refuses to know limits; a mark says whether a bar is coloured.

use crate::gui::{
    paint,
    theme::{self, Tokens},
    widgets::gap_ribbon::{GapRibbon, RibbonReading, Scale},
};
use egui::{Align2, Color32, Painter, Pos2, Rect, Stroke, StrokeKind, pos2, vec2};

/// Answers what the line that is read has taken up: its bars and their values.
pub(super) fn paint(
    painter: &Painter,
    t: &Tokens,
    ribbon: &GapRibbon<'_>,
    scale: Scale,
) -> Vec<Rect> {
    let mut taken = Vec::new();
    for (index, line) in ribbon.lines.iter().enumerate() {
        let own: Vec<&RibbonReading<'_>> =
            ribbon.readings.iter().filter(|reading| reading.line == index).collect();
        for reading in &own {
            before(painter, t, reading, scale);
            let above = scale.y(line.bands.set[1]);
            pending(painter, t, reading, (ribbon.words.next, above), scale);
        }
        let strength = if line.selected { 1.0 } else { 0.62 };
        hot(painter, t, &own, scale, t.hot.gamma_multiply(strength));
        join(painter, t, &own, scale);
        for reading in &own {
            bar(painter, t, reading, scale);
        }
        if line.selected {
            taken.extend(values(painter, t, &own, (scale, scale.x(line.span[0]))));
            taken.extend(own.iter().filter_map(|reading| bar_rect(reading, scale)));
            taken.extend(own.iter().filter_map(|reading| {
                let at = pos2(scale.x(reading.from_pivot), scale.y(reading.hot?.max(0.0)));
                Some(Rect::from_center_size(at, vec2(8.0, 8.0)))
            }));
        }
    }
    taken
}

fn before(painter: &Painter, t: &Tokens, reading: &RibbonReading<'_>, scale: Scale) {
    if let Some([low, high]) = reading.before {
        let x = scale.x(reading.from_pivot) - 20.0;
        let tall = (scale.y(low) - scale.y(high)).max(6.0);
        let middle = scale.y(f32::midpoint(low, high));
        let rect = Rect::from_center_size(pos2(x, middle), vec2(8.0, tall));
        painter.rect_filled(rect, 0.0, t.ghost);
    }
}

/// A station without a reading: a dotted line to say where it will stand.
fn pending(
    painter: &Painter,
    t: &Tokens,
    reading: &RibbonReading<'_>,
    (next, above): (&str, f32),
    scale: Scale,
) {
    if reading.bracket.is_some() || reading.current {
        return;
    }
    let x = scale.x(reading.from_pivot);
    let from = scale.plot.top() + scale.plot.height() * 0.38;
    let line = [pos2(x, from), pos2(x, scale.plot.bottom() - 4.0)];
    paint::dashed(painter, &line, Stroke::new(1.2, t.edge), [2.0, 5.0]);
    if reading.next && 600.0 < scale.plot.width() {
        let at = pos2(x + 9.0, above - 12.0);
        painter.text(at, Align2::LEFT_CENTER, next, theme::chip(), t.ink2);
    }
}

fn hot(
    painter: &Painter,
    t: &Tokens,
    readings: &[&RibbonReading<'_>],
    scale: Scale,
    colour: Color32,
) {
    let points: Vec<Pos2> = readings
        .iter()
        .filter_map(|reading| {
            Some(pos2(scale.x(reading.from_pivot), scale.y(reading.hot?.max(0.0))))
        })
        .collect();
    paint::dashed(painter, &points, Stroke::new(1.7, colour), paint::HOT);
    for point in points {
        painter.circle(point, 3.2, t.paper, Stroke::new(1.5, colour));
    }
}

/// A thin line through the middles, so that taper along the line is seen.
fn join(painter: &Painter, t: &Tokens, readings: &[&RibbonReading<'_>], scale: Scale) {
    let points = readings.iter().filter_map(|reading| {
        let (low, high) = reading.bracket?;
        Some(pos2(scale.x(reading.from_pivot), scale.y(f32::midpoint(low, high?))))
    });
    painter.line(points.collect(), Stroke::new(1.2, t.ink2));
}

fn bar_rect(reading: &RibbonReading<'_>, scale: Scale) -> Option<Rect> {
    let (low, high) = reading.bracket?;
    let x = scale.x(reading.from_pivot);
    let half = if reading.current { 8.0 } else { 6.0 };
    let (top, bottom) = match high {
        Some(high) => (scale.y(high), scale.y(low)),
        None => (scale.y(low) - 14.0, scale.y(low)),
    };
    let short = (5.0 - (bottom - top)).max(0.0) / 2.0;
    Some(Rect::from_x_y_ranges(x - half..=x + half, top - short..=bottom + short))
}

fn colour(t: &Tokens, reading: &RibbonReading<'_>) -> Color32 {
    match reading.mark {
        _ if reading.current => t.accent,
        Some(mark) if mark.is_watch() => mark.colour(t),
        _ => t.ink,
    }
}

fn bar(painter: &Painter, t: &Tokens, reading: &RibbonReading<'_>, scale: Scale) {
    let Some(rect) = bar_rect(reading, scale) else { return };
    let ink = colour(t, reading);
    if matches!(reading.bracket, Some((_, Some(_)))) {
        painter.rect_filled(rect, 0.0, ink);
        return;
    }
    // No leaf stuck: the gap is open upward, and so is the bar.
    let stroke = Stroke::new(1.6, ink);
    painter.rect(rect, 0.0, t.paper, stroke, StrokeKind::Inside);
    paint::arrow(painter, rect.center_bottom(), rect.center_top() - vec2(0.0, 9.0), 7.0, stroke);
}

/// Values over the bars; where they would touch, the current one and the widest stay. Answers where
/// they stand.
fn values(
    painter: &Painter,
    t: &Tokens,
    readings: &[&RibbonReading<'_>],
    (scale, near): (Scale, f32),
) -> Vec<Rect> {
    let mut order: Vec<_> = readings.iter().filter(|reading| !reading.text.is_empty()).collect();
    let rank = |reading: &RibbonReading<'_>| {
        let low = reading.bracket.map_or(0.0, |(low, _)| low);
        if reading.current { f32::INFINITY } else { low }
    };
    order.sort_by(|a, b| rank(b).total_cmp(&rank(a)));
    let mut taken: Vec<Rect> = Vec::new();
    for reading in order {
        let Some(bar) = bar_rect(reading, scale) else { continue };
        let ink = colour(t, reading);
        let galley = painter.layout_no_wrap(reading.text.to_owned(), theme::chip_bold(), ink);
        let room =
            Align2::CENTER_BOTTOM.anchor_size(bar.center_top() - vec2(0.0, 7.0), galley.size());
        let room = if room.top() < scale.plot.top() {
            Align2::CENTER_TOP.anchor_size(bar.center_bottom() + vec2(0.0, 7.0), galley.size())
        } else {
            room
        };
        // The limits' values stand before the band.
        let room = room.translate(vec2((near - room.left()).max(0.0), 0.0));
        if taken.iter().all(|other| !other.expand2(vec2(5.0, 0.0)).intersects(room)) {
            let ground = if reading.current { t.accent_tint } else { t.paper };
            painter.rect_filled(room.shrink2(vec2(-2.0, 2.0)), 0.0, ground);
            painter.galley(room.min, galley, ink);
            taken.push(room);
        }
    }
    taken
}

/// The sign of one series in the legend, from its left edge.
pub(super) fn legend_sign(painter: &Painter, t: &Tokens, series: usize, at: Pos2) {
    match series {
        0 => {
            let rect = Rect::from_min_size(at - vec2(0.0, 5.0), vec2(12.0, 10.0));
            painter.rect_filled(rect, 0.0, t.ink);
        }
        1 => {
            let rect = Rect::from_min_size(at - vec2(-3.0, 7.0), vec2(8.0, 14.0));
            painter.rect_filled(rect, 0.0, t.ghost);
        }
        _ => {
            let line = [at, at + vec2(29.0, 0.0)];
            paint::dashed(painter, &line, Stroke::new(1.8, t.hot), paint::HOT);
            painter.circle(at + vec2(14.5, 0.0), 3.2, t.paper, Stroke::new(1.6, t.hot));
        }
    }
}
