//! Ticks and their numbers.

use crate::{
    brief::numbers,
    gui::{
        paint,
        plots::Chart,
        theme::{self, Tokens},
    },
};
use egui::{Align2, Painter, Stroke, pos2};

/// Steps of 1, 2, 2.5 or 5 times a power of ten, so that ticks stand at least `least` points apart.
fn step(span: f64, points: f32, least: f32) -> f64 {
    let rough = (span * f64::from(least / points.max(1.0))).max(1e-9);
    let ten = 10_f64.powf(rough.log10().floor());
    [1.0, 2.0, 2.5, 5.0].into_iter().map(|k| k * ten).find(|it| rough <= *it).unwrap_or(10.0 * ten)
}

/// Multiples of `step` in view.
fn ticks([from, to]: [f64; 2], step: f64) -> impl Iterator<Item = f64> {
    let first = (from / step - 1e-9).ceil();
    (0..400)
        .map(move |k| (first + f64::from(k)) * step)
        .take_while(move |at| *at <= to + step * 1e-9)
}

/// Service hours along the lower edge, which stands for no gap at all where zero is in view; their
/// numbers stand `least` apart, and reach at most `beside` beyond the right edge.
pub(crate) fn hours(painter: &Painter, chart: &Chart, [least, beside]: [f32; 2], t: &Tokens) {
    let (area, font) = (chart.area, theme::caption());
    let [from, to] = chart.hours;
    let step = step(to - from, area.width(), least).max(1.0);
    let stroke = Stroke::new(1.0, t.ink2);
    paint::level(painter, area.left()..=area.right(), area.bottom(), Stroke::new(1.6, t.ink));
    let minor = if step >= 4.0 { step / 4.0 } else { step };
    for at in ticks(chart.hours, minor) {
        paint::upright(painter, chart.x(at), area.bottom()..=area.bottom() + 4.0, stroke);
    }
    for at in ticks(chart.hours, step) {
        let x = chart.x(at);
        paint::upright(painter, x, area.bottom()..=area.bottom() + 8.0, stroke);
        // A number at the end of a small chart stays inside its frame.
        let words = painter.layout_no_wrap(numbers::hours_value(at), font.clone(), t.ink2);
        let left = (x - words.size().x / 2.0).min(area.right() + beside - words.size().x);
        paint::place(painter, pos2(left, area.bottom() + 10.0), Align2::LEFT_TOP, words);
    }
}

/// Rates along the lower edge.
pub(crate) fn rates(painter: &Painter, chart: &Chart, least: f32, t: &Tokens) {
    let (area, font) = (chart.area, theme::caption());
    let [from, to] = chart.hours;
    let step = step(to - from, area.width(), least);
    let stroke = Stroke::new(1.0, t.ink2);
    paint::level(painter, area.left()..=area.right(), area.bottom(), stroke);
    for at in ticks(chart.hours, step) {
        let x = chart.x(at);
        paint::upright(painter, x, area.bottom()..=area.bottom() + 6.0, stroke);
        let below = pos2(x, area.bottom() + 8.0);
        painter.text(below, Align2::CENTER_TOP, numbers::tick(at, step), font.clone(), t.ink2);
    }
}

/// Gaps along the left edge in units of `per_unit` mm.
pub(crate) fn gaps(painter: &Painter, chart: &Chart, per_unit: f64, least: f32, t: &Tokens) {
    let (area, font) = (chart.area, theme::caption());
    let span = chart.gaps.map(|gap| gap / per_unit);
    let step = step(span[1] - span[0], area.height(), least);
    let stroke = Stroke::new(1.0, t.ink2);
    paint::upright(painter, area.left(), area.top()..=area.bottom(), stroke);
    for at in ticks(span, step / 2.0) {
        let y = chart.y(at * per_unit);
        paint::level(painter, area.left() - 4.0..=area.left(), y, stroke);
    }
    for at in ticks(span, step) {
        let y = chart.y(at * per_unit);
        paint::level(painter, area.left() - 7.0..=area.left(), y, stroke);
        let beside = pos2(area.left() - 11.0, y);
        painter.text(beside, Align2::RIGHT_CENTER, numbers::tick(at, step), font.clone(), t.ink2);
    }
}

#[test]
fn ticks_are_round_numbers() {
    assert!((step(550.0, 940.0, 90.0) - 100.0).abs() < 1e-9);
    assert!((step(1.75, 464.0, 90.0) - 0.5).abs() < 1e-9);
    let at: Vec<f64> = ticks([4_370.0, 4_920.0], 100.0).collect();
    assert_eq!(at, [4_400.0, 4_500.0, 4_600.0, 4_700.0, 4_800.0, 4_900.0]);
}
