//! The large plot of one line's gaps over the hours.
//!
//! Panning, zooming and their memory are `egui_plot`'s; everything visible is painted here, so that
//! the rules of the charts hold: bars, never dots; limits named at their band; one straight line a
//! segment; a fan that ends at the stop limit.

use crate::{
    gui::{
        paint,
        plots::{
            Bar, Chart, Crossing, Event, Fan, axis, bars, fan, limits,
            marks::{self, EVENTS, MOMENTS},
            readout::{self, Keep, Place},
            small,
        },
        theme::{self, Tokens},
        widgets::{Bands, Button},
    },
    language::tell,
};
use egui::{
    Align2, Color32, Galley, Painter, Pos2, Rect, Response, Stroke, Ui, UiBuilder, accesskit::Role,
    pos2, vec2,
};
use egui_plot::{Plot, PlotResponse};
use std::sync::Arc;

/// A straight line over a stretch of hours.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Stretch {
    /// Service hours at both ends.
    pub(crate) hours: [f64; 2],
    /// Millimetres there.
    pub(crate) gaps: [f64; 2],
    /// Growth in mm per hour.
    pub(crate) rate: f64,
}

impl Stretch {
    /// Both ends on screen.
    pub(crate) fn ends(&self, chart: &Chart) -> [Pos2; 2] {
        let ([from, to], [low, high]) = (self.hours, self.gaps);
        [chart.at(from, low), chart.at(to, high)]
    }
}

/// One station's readings and lines.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Series {
    /// `S4`.
    pub(crate) name: String,
    /// Readings, oldest first.
    pub(crate) bars: Vec<Bar>,
    /// Lines, oldest first.
    pub(crate) lines: Vec<Stretch>,
}

/// The limits in words, from the upper stop limit down to the lower one.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct LimitWords(pub(crate) [String; 6]);

/// The plot.
pub(crate) struct TrendPlot<'a> {
    /// Zoom and place are kept as long as this stays the same.
    pub(crate) salt: u64,
    /// Service hours from the left to the right edge before anybody zooms.
    pub(crate) hours: [f64; 2],
    /// Limits in mm.
    pub(crate) bands: Bands,
    /// The limits in words.
    pub(crate) words: &'a LimitWords,
    /// Where the limits come from.
    pub(crate) note: &'a str,
    /// Millimetres of one unit on the axis, and its sign.
    pub(crate) unit: (f64, &'a str),
    /// What the axes show.
    pub(crate) axis: &'a str,
    /// What runs from left to right: `service hours`.
    pub(crate) along: &'a str,
    /// The stations shown; the last one is solid and in front.
    pub(crate) series: &'a [Series],
    /// The forecast of the leading station.
    pub(crate) fan: &'a Fan,
    /// Where it meets limits.
    pub(crate) crossings: &'a [Crossing],
    /// What was done, oldest first.
    pub(crate) events: &'a [Event],
    /// Service hours now, and in words.
    pub(crate) today: (f64, &'a str),
    /// Service hours of the next look, and in words.
    pub(crate) next: (f64, &'a str),
    /// The reading that was tapped or stepped to last.
    pub(crate) kept: Option<Place>,
    /// A reading in words, by its series and its place.
    pub(crate) say: &'a dyn Fn(usize, usize) -> String,
    /// Growth in words: `5.4 µm/h`.
    pub(crate) rate: &'a dyn Fn(f64) -> String,
    /// Where the hours go that it shows.
    pub(crate) shown: egui::Id,
}

const LEFT: f32 = 48.0;
const RIGHT: f32 = 98.0;
/// Below the chart, without the note.
const BELOW: f32 = 54.0;
/// A segment narrower than this has no room for its growth.
const ROOM: f32 = 40.0;
/// Work that follows sooner than this on screen has no arrow.
const APART: f32 = 6.0;

impl TrendPlot<'_> {
    /// Shows the plot in `rect`; answers what a tap or a step means.
    pub(crate) fn show(self, ui: &mut Ui, rect: Rect) -> Option<Keep> {
        let t = theme::tokens(ui);
        let ground = t.paper;
        let note = {
            let (font, room) = (theme::caption(), rect.width() - 8.0);
            ui.painter().layout(self.note.to_owned(), font, t.ink3, room)
        };
        let area = Rect::from_min_max(
            rect.min + vec2(LEFT, EVENTS + MOMENTS),
            rect.max - vec2(RIGHT, BELOW + note.size().y),
        );
        let gaps = small::gaps(self.bands, self.series.iter().map(|it| it.bars.as_slice()));
        let (response, chart) = self.coordinates(ui, area, gaps);
        ui.data_mut(|data| data.insert_temp(self.shown, chart.hours));
        let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
        let cut = painter.with_clip_rect(area.intersect(painter.clip_rect()));

        limits::limits(&painter, &chart, self.bands, t);
        axis::gaps(&painter, &chart, self.unit.0, 46.0, t);
        axis::hours(&painter, &chart, [90.0, 30.0], t);
        marks::events(&painter, &chart, self.events, ground, t);
        marks::moments(&painter, &chart, self.today, self.next, t);
        fan::fan(&painter, &chart, self.fan, self.bands.stop, t);
        self.limit_words(&painter, &chart, t);
        self.lines(&cut, &chart, ground, t);
        let taken: Vec<Rect> = self
            .crossings
            .iter()
            .filter_map(|crossing| fan::crossing(&painter, &chart, crossing, ground, t))
            .collect();
        self.rates(&cut, &chart, &taken, t);
        self.foot(&painter, (rect, note), &chart, t);

        let read = readout::asked(ui, &response, &chart, self.series, self.kept);
        let kept = read.kept;
        let read = read.shown;
        let words = read.map(|(of, place)| (self.say)(of, place));
        if let (Some((of, place)), Some(words)) = (read, &words)
            && let Some(series) = self.series.get(of)
        {
            readout::paint(&painter, &chart, (series, place), words, &taken, t);
        }
        if response.has_focus() {
            painter.rect_stroke(area, 0.0, Stroke::new(2.0, t.ink), egui::StrokeKind::Inside);
        }
        speak(&response, self.axis, words.as_deref());
        self.back_to_all(ui, &response, &chart, gaps);
        kept
    }

    /// Lets `egui_plot` pan and zoom, and answers where that leaves the chart.
    fn coordinates(&self, ui: &mut Ui, area: Rect, gaps: [f64; 2]) -> (Response, Chart) {
        let mut child = ui.new_child(UiBuilder::new().max_rect(area).id_salt("plot"));
        let [from, to] = self.hours;
        let reset_id = self.reset_id();
        let reset = ui.data_mut(|data| data.remove_temp::<bool>(reset_id)).unwrap_or(false);
        // Of the salt alone: a notice that pushes the plot down must not forget the zoom.
        let mut plot = Plot::new(("trend", self.salt))
            .id(egui::Id::unique(("trend plot", self.salt)))
            .width(area.width())
            .height(area.height())
            .default_x_bounds(from, to.max(from + 1.0))
            .default_y_bounds(gaps[0], gaps[1].max(gaps[0] + 0.1))
            .show_background(false)
            .show_axes(false)
            .show_grid(false)
            .show_x(false)
            .show_y(false)
            .show_crosshair(false)
            .allow_drag([true, false])
            .allow_zoom([true, false])
            .allow_scroll([true, false]);
        if reset {
            plot = plot.reset();
        }
        let PlotResponse { response, transform, .. } = plot.show(&mut child, |_| ());
        let bounds = transform.bounds();
        let chart = Chart {
            area,
            hours: [bounds.min()[0], bounds.max()[0]],
            gaps: [bounds.min()[1], bounds.max()[1]],
        };
        (response, chart)
    }

    fn reset_id(&self) -> egui::Id {
        egui::Id::unique(("whole view", self.salt))
    }

    /// After zooming or panning there must be a way back without a double click.
    fn back_to_all(&self, ui: &mut Ui, response: &Response, chart: &Chart, gaps: [f64; 2]) {
        let near = |a: [f64; 2], b: [f64; 2]| {
            let tall = (b[1] - b[0]).abs() * 1e-3;
            (a[0] - b[0]).abs() < tall && (a[1] - b[1]).abs() < tall
        };
        if near(chart.hours, self.hours) && near(chart.gaps, gaps) {
            return;
        }
        let size = vec2(128.0, theme::TOUCH);
        let corner = Rect::from_min_size(chart.area.left_top() + vec2(8.0, 8.0), size);
        let mut child = ui.new_child(UiBuilder::new().max_rect(corner).id_salt("whole"));
        let clicked = Button::plain(tell!("Whole view")).width(size.x).show(&mut child).clicked();
        if clicked {
            // Taken up by the plot in the next frame.
            let reset_id = self.reset_id();
            ui.data_mut(|data| data.insert_temp(reset_id, true));
            response.ctx.request_repaint();
        }
    }

    fn lines(&self, cut: &Painter, chart: &Chart, ground: Color32, t: &Tokens) {
        let lead = self.series.len().saturating_sub(1);
        for (place, series) in self.series.iter().enumerate() {
            let (stroke, look) = if place == lead {
                (Stroke::new(2.4, t.accent), bars::Look::Solid)
            } else {
                (Stroke::new(1.3, t.ink3), bars::Look::Outlined(ground))
            };
            for line in &series.lines {
                cut.line_segment(line.ends(chart), stroke);
            }
            bars::bars(cut, chart, &series.bars, look, 6.0, t);
        }
        let Some(series) = self.series.get(lead) else { return };
        for pair in series.lines.windows(2) {
            let [before, after] = pair else { continue };
            let ([_, from], [to, _]) = (before.ends(chart), after.ends(chart));
            let apart = after.ends(chart);
            if apart[1].x - apart[0].x < APART {
                continue;
            }
            if 14.0 < (to.y - from.y).abs() {
                let towards = (to.y - from.y).signum();
                let to = pos2(from.x, to.y - 2.0 * towards);
                let from = pos2(from.x, from.y + 8.0 * towards);
                paint::arrow(cut, from, to, 8.0, Stroke::new(1.8, t.ink));
            }
        }
        self.names(cut, chart, ground, t);
    }

    /// The growth of each segment of the leading station.
    fn rates(&self, cut: &Painter, chart: &Chart, taken: &[Rect], t: &Tokens) {
        let lines = self.series.last().map_or(&[][..], |series| &series.lines);
        for line in lines {
            let [from, to] = line.ends(chart);
            if ROOM <= to.x - from.x {
                let words = (self.rate)(line.rate);
                rate(cut, chart, (line, &words), (self.bands.set, taken), t);
            }
        }
    }

    /// Each station's name near the end of its newest line, the leading one above it.
    fn names(&self, cut: &Painter, chart: &Chart, ground: Color32, t: &Tokens) {
        if self.series.len() < 2 {
            return;
        }
        let lead = self.series.len() - 1;
        for (place, series) in self.series.iter().enumerate() {
            let Some(line) = series.lines.last() else { continue };
            let [from, to] = line.ends(chart);
            let at = from + (to - from) * 0.74;
            let (offset, anchor, ink) = if place == lead {
                (vec2(-12.0, -22.0), Align2::RIGHT_BOTTOM, t.ink)
            } else {
                (vec2(10.0, 18.0), Align2::LEFT_TOP, t.ink3)
            };
            let style = (theme::section(), ink, ground);
            paint::knocked_out(cut, at + offset, anchor, series.name.as_str(), style);
        }
    }

    /// Limits in words at their band; where two are close the words part.
    fn limit_words(&self, painter: &Painter, chart: &Chart, t: &Tokens) {
        let Bands { set, working, stop } = self.bands;
        let places = [stop[1], working[1], set[1], set[0], working[0], stop[0]];
        let colours = [t.stop, t.watch, t.ok, t.ok, t.watch, t.stop];
        let mut ys = places.map(|gap| chart.y(f64::from(gap)));
        const TALL: f32 = 14.0;
        for _ in 0..4 {
            for k in 1..ys.len() {
                if let Some([upper, lower]) = ys.get_mut(k - 1..=k) {
                    let push = (TALL - (*lower - *upper)) / 2.0;
                    if 0.0 < push {
                        *upper -= push;
                        *lower += push;
                    }
                }
            }
        }
        for ((words, y), colour) in self.words.0.iter().zip(ys).zip(colours) {
            let inside = chart.area.top() - 2.0 <= y && y <= chart.area.bottom() + 6.0;
            if inside {
                let at = pos2(chart.area.right() + 8.0, y);
                painter.text(at, Align2::LEFT_CENTER, words, theme::caption_bold(), colour);
            }
        }
    }

    /// What the axes are, and what the signs mean.
    fn foot(
        &self,
        painter: &Painter,
        (rect, note): (Rect, Arc<Galley>),
        chart: &Chart,
        t: &Tokens,
    ) {
        let above = pos2(chart.area.left() - 11.0, chart.area.top() - MOMENTS / 2.0);
        painter.text(above, Align2::RIGHT_CENTER, self.unit.1, theme::caption(), t.ink3);
        let y = rect.bottom() - 14.0 - note.size().y;
        let right = pos2(chart.area.right(), y);
        let hours = painter.text(right, Align2::RIGHT_CENTER, self.along, theme::caption(), t.ink3);
        let title = painter.layout_no_wrap(self.axis.to_owned(), theme::chip_bold(), t.ink);
        let title = paint::place(painter, pos2(rect.left() + 4.0, y), Align2::LEFT_CENTER, title);
        let below = pos2(rect.left() + 4.0, rect.bottom() - 2.0 - note.size().y);
        paint::place(painter, below, Align2::LEFT_TOP, note);
        let mut x = title.right() + 26.0;
        for sign in [Sign::Bar, Sign::Line, Sign::Fan] {
            let words = painter.layout_no_wrap(sign.words().to_owned(), theme::caption(), t.ink2);
            let needs = sign.width() + 6.0 + words.size().x;
            if hours.left() - 12.0 < x + needs {
                break;
            }
            sign.paint(painter, pos2(x, y), t);
            let at = pos2(x + sign.width() + 6.0, y);
            paint::place(painter, at, Align2::LEFT_CENTER, words);
            x += needs + 22.0;
        }
    }
}

/// The growth of a segment, on the free side of its line.
fn rate(
    cut: &Painter,
    chart: &Chart,
    (line, words): (&Stretch, &str),
    (set, taken): ([f32; 2], &[Rect]),
    t: &Tokens,
) {
    let [from, to] = line.ends(chart);
    let galley = cut.layout_no_wrap(words.to_owned(), theme::body_bold(), t.accent);
    let (width, room) = (galley.size().x, to.x - from.x);
    if room < width + 8.0 {
        return;
    }
    let rising = to.y <= from.y;
    let (share, aside): (f32, f32) = if rising { (0.46, -16.0) } else { (0.54, 16.0) };
    let along = |share: f32| from + (to - from) * share;
    let fits = width + 24.0 < room * share.min(1.0 - share);
    let above = match (fits, rising) {
        (true, true) => (along(share) + vec2(aside, -20.0), Align2::RIGHT_BOTTOM),
        (true, false) => (along(share) + vec2(aside, -20.0), Align2::LEFT_BOTTOM),
        (false, _) => (pos2(from.x + room / 2.0, from.y.min(to.y) - 16.0), Align2::CENTER_BOTTOM),
    };
    let below = if rising {
        (along(0.54) + vec2(16.0, 20.0), Align2::LEFT_TOP)
    } else {
        (along(0.46) + vec2(-16.0, 20.0), Align2::RIGHT_TOP)
    };
    let free = |(at, anchor): &(Pos2, Align2)| {
        let covers = anchor.anchor_size(*at, galley.size()).expand(4.0);
        taken.iter().all(|other| !other.intersects(covers))
    };
    let Some((at, anchor)) = [above, below].into_iter().find(free) else { return };
    // Inside the set range the patch has the colour of the band.
    let covers = anchor.anchor_size(at, galley.size());
    let [low, high] = set.map(|gap| chart.y(f64::from(gap)));
    let inside = high <= covers.top() && covers.bottom() <= low;
    let ground = if inside { t.ok_tint } else { t.paper };
    let style = (theme::body_bold(), t.accent, ground);
    paint::knocked_out(cut, at, anchor, words, style);
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Sign {
    Bar,
    Line,
    Fan,
}

impl Sign {
    fn words(self) -> &'static str {
        match self {
            Self::Bar => tell!("goes to does-not-go"),
            Self::Line => tell!("straight line per segment"),
            Self::Fan => tell!("forecast, 80 % interval"),
        }
    }

    const fn width(self) -> f32 {
        match self {
            Self::Bar => 6.0,
            Self::Line | Self::Fan => 22.0,
        }
    }

    fn paint(self, painter: &Painter, at: Pos2, t: &Tokens) {
        let box_of = |size| Rect::from_min_size(at - vec2(0.0, 6.5), size);
        match self {
            Self::Bar => {
                painter.rect_filled(box_of(vec2(6.0, 13.0)), 0.0, t.ink);
            }
            Self::Line => {
                painter.line_segment([at, at + vec2(22.0, 0.0)], Stroke::new(2.4, t.accent));
            }
            Self::Fan => {
                painter.rect_filled(box_of(vec2(22.0, 13.0)), 0.0, t.accent_tint);
                let line = [at, at + vec2(22.0, 0.0)];
                paint::dashed(painter, &line, Stroke::new(2.4, t.accent), [8.0, 5.0]);
            }
        }
    }
}

fn speak(response: &Response, axis: &str, words: Option<&str>) {
    response.widget_info(|| egui::WidgetInfo::labeled(Role::GraphicsDocument, true, axis));
    let value = words.unwrap_or(tell!("Arrow keys step through the readings.")).to_owned();
    response.ctx.accesskit_node_builder(response.id, |node| node.set_value(value));
}
