//! The jaw from above, pivot left, tip right, with every station on a leader line.
//!
//! Knows plain geometry in millimetres and ready-made words. Refuses to know limits and verdict
//! rules. Lengths along the jaw are to scale; gaps are drawn larger by a factor that the drawing
//! states, because a true gap would be thinner than its outline.
//!
//! - [`along`]: the scale along the jaw, shared with the gap ribbon below;
//! - [`plan`]: millimetres to points on screen;
//! - [`steel`]: the drawing itself;
//! - [`hot`]: faces in the colours of hot steel;
//! - [`chips`]: the stations, which are what can be tapped.

mod along;
mod chips;
mod hot;
mod plan;
mod steel;

pub use along::Along;

use crate::{
    gui::{
        marks::VerdictMark,
        paint, theme,
        widgets::{mouth_view::plan::Plan, touch},
    },
    language,
};
use egui::{Align2, Color32, FontId, Rect, Sense, Ui, pos2, vec2};

/// On which face a part or a station lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    /// On the upper jaw.
    Moving,
    /// On the cheek the steel is cut against, drawn on top.
    Cutting,
    /// On the cheek that keeps the upper jaw from leaning away, drawn at the bottom.
    Guide,
    /// Across the tip.
    Front,
}

/// The lower jaw in mm.
#[derive(Clone, Copy, Debug)]
pub struct Jaw {
    /// From the pivot to the outside of the tip.
    pub reach: f32,
    /// Clear width between the cheeks.
    pub mouth: f32,
    /// Thickness of each cheek.
    pub cheek: f32,
    /// Width of the upper jaw's body.
    pub upper: f32,
    /// Diameter of the pivot pin.
    pub pivot: f32,
}

/// A blade, tip or pad, in mm from the pivot.
#[derive(Clone, Debug)]
pub struct JawPart<'a> {
    /// Where it sits.
    pub face: Face,
    /// Its name as written on it, such as "Upper primary blade".
    pub name: &'a str,
    /// Its near end.
    pub near: f32,
    /// Its far end.
    pub far: f32,
    /// From seat to face.
    pub depth: f32,
    /// Where its bolts stand.
    pub bolts: Vec<f32>,
}

/// A station on the drawing.
#[derive(Clone, Copy, Debug)]
pub struct MouthStation<'a> {
    /// Its name, such as `P3`.
    pub name: &'a str,
    /// The fixed face it is measured at; never [`Face::Moving`].
    pub face: Face,
    /// From the pivot in mm.
    pub from_pivot: f32,
    /// From the guide cheek in mm, for stations of a cross line.
    pub across: Option<f32>,
    /// The gap to draw in mm: measured, or the last one known.
    pub gap: f32,
    /// What its chip shows, such as "0.57–0.62" or "not yet".
    pub value: &'a str,
    /// Where its reading lies.
    pub mark: VerdictMark,
    /// What a screen reader calls it, such as "P3, primary blades, third from pivot".
    pub label: &'a str,
    /// What a screen reader says then, such as "between 0.57 and 0.62, working".
    pub detail: &'a str,
}

/// What stands in a chip instead of its mark where faces are painted.
#[derive(Clone, Copy, Debug)]
pub struct HotFace<'a> {
    /// The face's colour; without one the face stays as it is.
    pub colour: Option<Color32>,
    /// Its name, such as "blue", or what else stands under the value.
    pub word: &'a str,
}

/// A bar that lies across the blades, as thick as can be cut there.
#[derive(Clone, Copy, Debug)]
pub struct StockBar<'a> {
    /// From the pivot, in mm.
    pub from_pivot: f32,
    /// Its thickness, in mm; drawn to scale.
    pub thick: f32,
    /// What is written on it, such as "169 mm".
    pub word: &'a str,
}

/// What is drawn over the steel beside the stations.
#[derive(Clone, Copy, Debug, Default)]
pub struct Overlay<'a> {
    /// One painted face for each station; none leaves the marks.
    pub faces: &'a [HotFace<'a>],
    /// Stock across the blades.
    pub bars: &'a [StockBar<'a>],
}

/// A sentence that must be seen, in the free space of the mouth.
#[derive(Clone, Copy, Debug)]
pub struct Warning<'a> {
    /// Its mark and colour.
    pub mark: VerdictMark,
    /// Such as "G2 is under the stop limit 0.20".
    pub headline: &'a str,
    /// Such as "Do not cut until the guide blade is shimmed."
    pub text: &'a str,
}

/// The words on the drawing that do not belong to a part.
#[derive(Clone, Copy, Debug)]
pub struct MouthWords<'a> {
    /// The title of the panel.
    pub title: &'a str,
    /// The note beside it; `{}` stands for the factor by which gaps are drawn larger.
    pub note: &'a str,
    /// At the pivot.
    pub pivot: &'a str,
    /// On the cutting cheek.
    pub cutting: &'a str,
    /// On the guide cheek.
    pub guide: &'a str,
    /// On the upper jaw.
    pub upper: &'a str,
}

/// The drawing with its stations.
#[derive(Clone, Copy, Debug)]
pub struct MouthView<'a> {
    /// The lower jaw.
    pub jaw: Jaw,
    /// Blades, tip, guide blade, pads, front blade.
    pub parts: &'a [JawPart<'a>],
    /// Stations in walking order.
    pub stations: &'a [MouthStation<'a>],
    /// The index of the station that is being measured.
    pub current: Option<usize>,
    /// Words.
    pub words: MouthWords<'a>,
    /// Marks and their words, right of the title.
    pub legend: &'a [(VerdictMark, &'a str)],
    /// A sentence that must be seen.
    pub warning: Option<Warning<'a>>,
}

/// What a hand did on a drawing whose stations can be moved.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MouthEdit {
    /// The index of the station that was tapped.
    pub tapped: Option<usize>,
    /// The index of the station that is held, and where it is now, in mm from the pivot.
    pub dragged: Option<(usize, f32)>,
    /// The index of the station that has the keyboard; its arrow keys lead to no other.
    pub focused: Option<usize>,
}

/// The title row.
const HEAD: f32 = 28.0;

impl MouthView<'_> {
    /// Paints into the width at hand and `height`; returns the index of the station that was tapped.
    ///
    /// `along` comes from [`Along::fit`] for the same width; hand the same one to the gap ribbon.
    pub fn show(&self, ui: &mut Ui, along: Along, height: f32) -> Option<usize> {
        self.show_over(ui, along, height, Overlay::default())
    }

    /// The height of the room at hand; in a column, which has no end, that of the steel to scale
    /// and of every chip.
    pub fn height_in(&self, ui: &Ui, along: Along) -> f32 {
        let room = ui.available_rect_before_wrap();
        if room.height().is_finite() {
            return room.height();
        }
        let rows = chips::Rows::of(self, along, room.x_range());
        let steel = (self.jaw.mouth + 2.0 * self.jaw.cheek) * along.per_mm * plan::STRETCH;
        HEAD + rows.height(steel)
    }

    /// The same with painted faces or stock in the mouth.
    pub fn show_over(
        &self,
        ui: &mut Ui,
        along: Along,
        height: f32,
        over: Overlay<'_>,
    ) -> Option<usize> {
        let t = theme::tokens(ui);
        let (rect, ground) =
            ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::CLICK);
        ground.widget_info(|| {
            egui::WidgetInfo::labeled(
                egui::accesskit::Role::Group,
                true,
                language::known(self.words.title),
            )
        });
        let layout = chips::Layout::of(self, along, rect.with_min_y(rect.top() + HEAD));
        let plan = Plan::new(self, along, layout.steel);
        if let Some(current) = self.current {
            chips::column(ui, self, &layout, current);
        }
        let painter = ui.painter_at(rect);
        steel::paint(&painter, t, self, &plan);
        hot::faces(&painter, t, self, &plan, over.faces);
        chips::leaders(&painter, t, self, &plan, &layout);
        if let Some(current) = self.current.and_then(|index| plan.dots.get(index)) {
            // The line that joins the station to its column in the ribbon below.
            let from = *current + vec2(0.0, 15.0);
            let stroke = egui::Stroke::new(1.4, t.accent);
            paint::dashed(&painter, &[from, pos2(current.x, rect.bottom())], stroke, paint::DOTS);
        }
        let told = steel::words(&painter, t, self, &plan);
        hot::bars(&painter, t, &plan, over.bars);
        self.head(ui, rect, &plan, self.warning.filter(|_| !told));
        chips::dots(&painter, t, self, &plan);
        let tapped = chips::show(ui, self, &layout, over.faces);
        tapped.or_else(|| {
            let at = ground.clicked().then(|| ground.interact_pointer_pos()).flatten()?;
            plan.nearest_dot(at, theme::TOUCH / 2.0)
        })
    }

    /// The same with stations that can be dragged along the jaw.
    pub fn show_movable(&self, ui: &mut Ui, along: Along, height: f32) -> MouthEdit {
        let at = ui.next_widget_position();
        let rect = Rect::from_min_size(at, vec2(ui.available_width(), height));
        let tapped = self.show(ui, along, height);
        let layout = chips::Layout::of(self, along, rect.with_min_y(rect.top() + HEAD));
        let plan = Plan::new(self, along, layout.steel);
        let id = ui.make_persistent_id("dragged station");
        // The chips take the keyboard, and move by the arrow keys.
        let hand = ui.interact(layout.steel, id, Sense::DRAG);
        let over = hand.hover_pos().and_then(|at| plan.nearest_dot(at, theme::TOUCH / 2.0));
        if over.is_some() || hand.dragged() {
            ui.ctx().set_cursor_icon(egui::CursorIcon::ResizeHorizontal);
        }
        if hand.drag_started() {
            let from = ui.input(|input| input.pointer.press_origin());
            let held = from.and_then(|at| plan.nearest_dot(at, theme::TOUCH / 2.0));
            ui.data_mut(|data| data.insert_temp(id, held));
        }
        let held: Option<usize> = ui.data(|data| data.get_temp(id)).flatten();
        // A hand that rests asks for nothing, or the window would never be still.
        let moves = hand.dragged() && hand.drag_delta() != egui::Vec2::ZERO;
        let to = hand.interact_pointer_pos().filter(|_| moves);
        let dragged = held.zip(to).map(|(station, to)| (station, along.mm_at(to.x)));
        let has = |name| ui.memory(|it| it.has_focus(chips::id(ui, name)));
        let focused = self.stations.iter().position(|it| has(it.name));
        if let Some(station) = focused.and_then(|place| self.stations.get(place)) {
            let arrows = egui::EventFilter { horizontal_arrows: true, ..Default::default() };
            let id = chips::id(ui, station.name);
            ui.memory_mut(|memory| memory.set_focus_lock_filter(id, arrows));
        }
        MouthEdit { tapped, dragged, focused }
    }

    /// The title row; a warning that found no space in the mouth stands here instead of the legend.
    fn head(&self, ui: &Ui, rect: Rect, plan: &Plan<'_>, warning: Option<Warning<'_>>) {
        let t = theme::tokens(ui);
        let painter = ui.painter_at(rect);
        let middle = rect.top() + 10.0;
        let title = (theme::panel_title(), t.ink);
        let title = painter.text(
            pos2(rect.left(), middle),
            Align2::LEFT_CENTER,
            language::known(self.words.title),
            title.0,
            title.1,
        );
        let mut right = rect.right();
        if let Some(warning) = warning {
            let (font, ink) = (theme::section(), warning.mark.colour(t));
            let room = right - title.right() - 50.0;
            let text = paint::fitted(&painter, warning.headline, font, ink, room);
            let text = paint::place(&painter, pos2(right, middle), Align2::RIGHT_CENTER, text);
            right = text.left() - 28.0;
            warning.mark.paint(&painter, pos2(right + 13.0, middle), 18.0, t);
        }
        let note = language::known(self.words.note).replace("{}", &plan.factor.to_string());
        let font = FontId::new(12.0, crate::gui::fonts::regular());
        let note = whole(&painter, &note, &font, (t.ink3, right - title.right() - 24.0));
        let at = pos2(title.right() + 16.0, middle + 1.0);
        let note = paint::place(&painter, at, Align2::LEFT_CENTER, note);
        touch::say(ui, title.union(note), "mouth title", language::known(self.words.title));
        if let Some(Warning { headline, text, .. }) = self.warning {
            touch::say(ui, rect, "warning", &format!("{headline}. {text}"));
        }

        // Marks from the right, as long as they do not touch the note.
        let legend = if warning.is_none() { self.legend } else { &[] };
        for (mark, word) in legend.iter().rev() {
            let word =
                painter.layout_no_wrap(language::known(word).to_owned(), font.clone(), t.ink2);
            let left = right - word.size().x - 22.0;
            if left < note.right() + 18.0 {
                break;
            }
            mark.paint(&painter, pos2(left + 7.0, middle), 15.0, t);
            paint::place(&painter, pos2(left + 20.0, middle), Align2::LEFT_CENTER, word);
            right = left - 16.0;
        }
    }
}

/// The note, or its last part alone where there is no room for more, or nothing: never a cut word.
fn whole(
    painter: &egui::Painter,
    note: &str,
    font: &FontId,
    (ink, room): (egui::Color32, f32),
) -> std::sync::Arc<egui::Galley> {
    let last = note.rsplit(" · ").next().unwrap_or_default();
    let lay = |text: &str| painter.layout_no_wrap(text.to_owned(), font.clone(), ink);
    [note, last].into_iter().map(lay).find(|it| it.size().x <= room).unwrap_or_else(|| lay(""))
}
