//! The reading under the finger: by pointer, by tap, or with the arrow keys.

use crate::gui::{
    commands::{Name, pressed},
    plots::{Chart, bars, trend_plot::Series},
    theme::{self, Tokens},
};
use egui::{
    Align2, EventFilter, Painter, Pos2, Rect, Response, Stroke, StrokeKind, Ui, pos2, vec2,
};

/// A reading by the places of its series and of its bar.
pub(crate) type Place = (usize, usize);

/// How far from a bar a finger may be.
const REACH: f32 = 30.0;

/// What a person asks of the readings in one frame.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Asked {
    /// The reading to show: under the pointer, or the one kept.
    pub(crate) shown: Option<Place>,
    /// What a tap or a step made of the one kept.
    pub(crate) kept: Option<Keep>,
}

/// What a tap or a step means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Keep {
    /// This reading is read off until another one is.
    Reading(Place),
    /// None is any more.
    Nothing,
}

impl Keep {
    /// The reading to keep.
    pub(crate) const fn place(self) -> Option<Place> {
        match self {
            Self::Reading(place) => Some(place),
            Self::Nothing => None,
        }
    }
}

/// Which reading is asked for, when `kept` was tapped or stepped to last.
pub(crate) fn asked(
    ui: &Ui,
    response: &Response,
    chart: &Chart,
    series: &[Series],
    kept: Option<Place>,
) -> Asked {
    let mut asked = Asked::default();
    if response.clicked() {
        // The arrow keys go on from where the finger was.
        response.request_focus();
        if let Some(at) = response.interact_pointer_pos() {
            asked.kept = Some(nearest(chart, series, at).map_or(Keep::Nothing, Keep::Reading));
        }
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        if let Some(next) = stepped(ui, kept, chart, series) {
            asked.kept = Some(Keep::Reading(next));
        }
    }
    let hovered = response.hover_pos().and_then(|at| nearest(chart, series, at));
    let there = |(of, place): &Place| series.get(*of).is_some_and(|it| *place < it.bars.len());
    asked.shown = hovered.or(asked.kept.map_or(kept, Keep::place)).filter(there);
    asked
}

/// Left and right along the leading series.
fn stepped(ui: &Ui, kept: Option<Place>, chart: &Chart, series: &[Series]) -> Option<Place> {
    let (back, on) = (pressed(ui, Name::ReadingBefore), pressed(ui, Name::ReadingAfter));
    if back == on {
        return None;
    }
    let lead = series.len().checked_sub(1)?;
    let bars = &series.get(lead)?.bars;
    let last = bars.iter().rposition(|bar| chart.shows(bar.at_h))?;
    let place = match kept {
        Some((of, place)) if of == lead && back => place.saturating_sub(1),
        Some((of, place)) if of == lead => (place + 1).min(bars.len() - 1),
        _ => last,
    };
    Some((lead, place))
}

/// The bar closest to a point, of the leading series where two are as close.
fn nearest(chart: &Chart, series: &[Series], at: Pos2) -> Option<Place> {
    let mut best: Option<(f32, Place)> = None;
    for (of, one) in series.iter().enumerate() {
        let reach = f64::from(REACH / chart.per_hour().max(1e-6));
        let hour =
            chart.hours[0] + f64::from((at.x - chart.area.left()) / chart.per_hour().max(1e-6));
        let from = one.bars.partition_point(|bar| bar.at_h < hour - reach);
        let to = one.bars.partition_point(|bar| bar.at_h <= hour + reach);
        for (place, bar) in one.bars.iter().enumerate().take(to).skip(from) {
            let far = bar.rect(chart, 6.0).distance_to_pos(at);
            if far <= REACH && best.is_none_or(|(least, _)| far <= least) {
                best = Some((far, (of, place)));
            }
        }
    }
    best.map(|(_, place)| place)
}

/// A ring around the bar and its words on a small sheet beside it, where they cover nothing of what
/// is `taken` if there is such a place.
pub(crate) fn paint(
    painter: &Painter,
    chart: &Chart,
    (series, place): (&Series, usize),
    words: &str,
    taken: &[Rect],
    t: &Tokens,
) {
    let Some(bar) = series.bars.get(place).filter(|bar| chart.shows(bar.at_h)) else { return };
    let width = bars::width(chart, &series.bars, 6.0);
    let ring = bar.rect(chart, width).expand(4.0);
    let accent = Stroke::new(2.5, t.accent);
    painter.rect_stroke(ring, 3.0, accent, StrokeKind::Outside);
    let text = painter.layout_no_wrap(words.to_owned(), theme::body_bold(), t.ink);
    let size = text.size() + vec2(20.0, 14.0);
    let right_most = chart.area.right() - size.x;
    let middle = (ring.center().x - size.x / 2.0)
        .clamp(chart.area.left(), right_most.max(chart.area.left()));
    let (above, below) = (ring.top() - size.y - 10.0, ring.bottom() + 10.0);
    let before = ring.left() - size.x - 10.0;
    let places = [
        pos2(middle, above),
        pos2(middle, below),
        pos2(before, ring.center().y - size.y / 2.0),
        pos2(before, above),
        pos2(before, below),
    ];
    let free = |at: &Pos2| {
        let sheet = Rect::from_min_size(*at, size);
        chart.area.contains_rect(sheet) && !taken.iter().any(|it| it.intersects(sheet))
    };
    let otherwise = pos2(middle, if chart.area.top() <= above { above } else { below });
    let sheet = Rect::from_min_size(places.into_iter().find(free).unwrap_or(otherwise), size);
    painter.rect(sheet, 4.0, t.field, Stroke::new(1.5, t.ink2), StrokeKind::Inside);
    let at = Align2::CENTER_CENTER.anchor_size(sheet.center(), text.size());
    painter.galley(at.min, text, t.ink);
}
