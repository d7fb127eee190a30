//! The gap against the distance from the pivot, with its limits as bands.
//!
//! Knows millimetres, bands and ready-made words; shares its scale along the jaw with the mouth view
//! above it. Refuses to draw a reading as a dot: it is a bar from the leaf that goes to the leaf
//! that does not.

mod bands;
mod readings;

use crate::gui::{
    fonts,
    marks::VerdictMark,
    paint, theme,
    widgets::{Along, Bands, touch},
};
use egui::{Align2, FontId, Painter, Rect, Sense, Stroke, Ui, pos2, vec2};

/// One line on the ribbon.
#[derive(Clone, Copy, Debug)]
pub struct RibbonLine<'a> {
    /// Its letter.
    pub letter: &'a str,
    /// Its place in one word, such as "Primary".
    pub place: &'a str,
    /// From where to where it runs, in mm from the pivot.
    pub span: [f32; 2],
    /// Its limits.
    pub bands: Bands,
    /// Whether it is the one that is read; neighbours are quiet.
    pub selected: bool,
    /// Its limits as text, from the lower stop limit up to the upper one.
    pub limits: [&'a str; 6],
}

/// One station on the ribbon.
#[derive(Clone, Copy, Debug, Default)]
pub struct RibbonReading<'a> {
    /// The index of its line.
    pub line: usize,
    /// From the pivot in mm.
    pub from_pivot: f32,
    /// The cold gap: the leaf that goes, and the one that does not (`None`: every leaf went).
    pub bracket: Option<(f32, Option<f32>)>,
    /// The estimated hot gap.
    pub hot: Option<f32>,
    /// The previous session's reading.
    pub before: Option<[f32; 2]>,
    /// Where the reading lies.
    pub mark: Option<VerdictMark>,
    /// The reading as text; empty to leave it out.
    pub text: &'a str,
    /// Whether it is being measured now.
    pub current: bool,
    /// Whether it comes next.
    pub next: bool,
}

/// The words on the ribbon.
#[derive(Clone, Copy, Debug)]
pub struct RibbonWords<'a> {
    /// The title of the panel.
    pub title: &'a str,
    /// The note beside it.
    pub note: &'a str,
    /// For the three series: bars, the session before, the hot gap. Empty ones are left out.
    pub legend: [&'a str; 3],
    /// "stop limit".
    pub stop: &'a str,
    /// "working limit".
    pub working: &'a str,
    /// "set range".
    pub set: &'a str,
    /// "next".
    pub next: &'a str,
    /// Under the axis along the jaw, such as "mm from pivot".
    pub axis: &'a str,
}

/// The ribbon.
#[derive(Clone, Copy, Debug)]
pub struct GapRibbon<'a> {
    /// Lines from the pivot outward.
    pub lines: &'a [RibbonLine<'a>],
    /// Stations from the pivot outward.
    pub readings: &'a [RibbonReading<'a>],
    /// Marks on the gap axis: value in mm and text.
    pub gap_ticks: &'a [(f32, &'a str)],
    /// Marks on the axis along the jaw: mm from the pivot and text.
    pub along_ticks: &'a [(f32, &'a str)],
    /// Words.
    pub words: RibbonWords<'a>,
}

const HEAD: f32 = 26.0;
const NAMES: f32 = 24.0;
const FOOT: f32 = 38.0;
/// Half the width of the column under the current station, unless its neighbours are closer.
const COLUMN: f32 = 40.0;

/// The two scales of the plot.
#[derive(Clone, Copy)]
struct Scale {
    along: Along,
    plot: Rect,
    high: f32,
}

impl Scale {
    fn x(self, from_pivot: f32) -> f32 {
        self.along.x(from_pivot)
    }

    fn y(self, gap: f32) -> f32 {
        self.plot.bottom() - gap / self.high * self.plot.height()
    }
}

impl GapRibbon<'_> {
    /// Paints into the width at hand and `height`, on the scale of the mouth view above.
    pub fn show(&self, ui: &mut Ui, along: Along, height: f32) {
        let t = theme::tokens(ui);
        let (rect, response) =
            ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
        response.widget_info(|| {
            egui::WidgetInfo::labeled(egui::accesskit::Role::Group, true, self.words.title)
        });
        let painter = ui.painter_at(rect);
        self.head(ui, &painter, rect);
        let right =
            self.lines.iter().map(|line| along.x(line.span[1])).fold(along.pivot_x, f32::max);
        let plot = Rect::from_min_max(
            pos2(along.pivot_x, rect.top() + HEAD + NAMES),
            pos2((right + 30.0).min(rect.right()), rect.bottom() - FOOT),
        );
        let scale = Scale { along, plot, high: self.highest() };

        if let Some(here) = self.readings.iter().find(|reading| reading.current) {
            let x = scale.x(here.from_pivot);
            let apart = self.readings.iter().map(|other| (scale.x(other.from_pivot) - x).abs());
            let half = apart.filter(|apart| 1.0 < *apart).fold(2.0 * COLUMN, f32::min) / 2.0;
            let column = Rect::from_x_y_ranges(x - half..=x + half, plot.y_range());
            painter.rect_filled(column, 0.0, t.accent_tint);
        }
        for line in self.lines.iter().filter(|line| !line.selected) {
            bands::quiet(&painter, t, line, scale);
        }
        for line in self.lines.iter().filter(|line| line.selected) {
            bands::selected(&painter, t, line, scale);
        }
        self.axes(&painter, ui, scale);
        let taken = readings::paint(&painter, t, self, scale);
        for line in self.lines.iter().filter(|line| line.selected) {
            bands::words(&painter, t, line, (&self.words, &taken), scale);
        }
    }

    /// The top of the gap axis: above the upper stop limit of the line that is read, and above
    /// every reading.
    fn highest(&self) -> f32 {
        let limits = self.lines.iter().map(|line| line.bands.span()[1]);
        let ends = self.readings.iter().filter_map(|reading| {
            let (low, high) = reading.bracket?;
            Some(high.unwrap_or(low + 0.1) * 1.08)
        });
        limits.chain(ends).fold(0.1, f32::max)
    }

    fn head(&self, ui: &Ui, painter: &Painter, rect: Rect) {
        let t = theme::tokens(ui);
        let middle = rect.top() + 10.0;
        let font = FontId::new(12.0, fonts::regular());
        let title = painter.text(
            pos2(rect.left(), middle),
            Align2::LEFT_CENTER,
            self.words.title,
            theme::panel_title(),
            t.ink,
        );
        touch::say(ui, title, "ribbon title", self.words.title);
        // Series from the right; the note takes what is left.
        let mut right = rect.right();
        for (index, word) in self.words.legend.iter().enumerate().rev() {
            let galley = painter.layout_no_wrap((*word).to_owned(), font.clone(), t.ink2);
            let sign = if index == 2 { 36.0 } else { 20.0 };
            let left = right - galley.size().x - sign;
            if word.is_empty() || left < title.right() + 40.0 {
                continue;
            }
            readings::legend_sign(painter, t, index, pos2(left, middle));
            paint::place(painter, pos2(left + sign, middle), Align2::LEFT_CENTER, galley);
            right = left - 20.0;
        }
        let left = title.right() + 16.0;
        let note = paint::shrunk(painter, self.words.note, &font, t.ink3, right - left);
        if !note.elided {
            paint::place(painter, pos2(left, middle + 1.0), Align2::LEFT_CENTER, note);
        }
    }

    fn axes(&self, painter: &Painter, ui: &Ui, scale: Scale) {
        let t = theme::tokens(ui);
        let plot = scale.plot;
        let thin = Stroke::new(1.0, t.ink2);
        paint::upright(painter, plot.left(), plot.top()..=plot.bottom(), thin);
        let zero = Stroke::new(1.6, t.ink);
        paint::level(painter, plot.left()..=plot.right(), plot.bottom(), zero);
        for (gap, text) in self.gap_ticks.iter().filter(|tick| tick.0 <= scale.high) {
            let y = scale.y(*gap);
            let long = if text.is_empty() { 4.0 } else { 7.0 };
            paint::level(painter, plot.left() - long..=plot.left(), y, thin);
            let at = pos2(plot.left() - 11.0, y);
            painter.text(at, Align2::RIGHT_CENTER, text, theme::caption(), t.ink2);
        }
        let mut taken = f32::NEG_INFINITY;
        for (mm, text) in self.along_ticks {
            let x = scale.x(*mm);
            if plot.right() < x {
                continue;
            }
            paint::upright(painter, x, plot.bottom()..=plot.bottom() + 7.0, thin);
            let galley = painter.layout_no_wrap((*text).to_owned(), theme::caption(), t.ink2);
            let half = galley.size().x / 2.0;
            if taken < x - half {
                taken = x + half + 8.0;
                let at = pos2(x, plot.bottom() + 16.0);
                paint::place(painter, at, Align2::CENTER_CENTER, galley);
            }
        }
        let at = pos2(plot.right(), plot.bottom() + 31.0);
        painter.text(at, Align2::RIGHT_CENTER, self.words.axis, theme::caption(), t.ink2);
    }
}
