//! The stations on their leader lines: what is read and what is tapped.
//!
//! Knows how chips share a row without ever overlapping. Refuses to know what the values mean.

#![expect(clippy::fn_params_excessive_bools, reason = "a chip is the chosen one or is not")]

use crate::gui::{
    fonts,
    marks::VerdictMark,
    paint,
    theme::{self, Tokens},
    widgets::{
        mouth_view::{Along, Face, HotFace, MouthStation, MouthView, along, plan::Plan},
        spread::spread,
        touch::{self, Spoken},
    },
};
use egui::{
    Align2, Color32, FontId, Painter, Pos2, Rangef, Rect, Stroke, StrokeKind, Ui, pos2, vec2,
};

const GAP: f32 = 4.0;
/// Between a row of chips and the steel, for the leaders.
const AIR: f32 = 20.0;
/// A chip that shows its value on one line.
const WIDE: [f32; 2] = [82.0, 46.0];
/// A chip that breaks its value over two lines.
const SLIM: [f32; 2] = [48.0, 60.0];

/// Where every chip goes.
pub(super) struct Layout {
    pub(super) chips: Vec<Rect>,
    /// What is left for the steel.
    pub(super) steel: Rect,
    slim: bool,
}

/// How the chips of one side of the jaw stand.
#[derive(Clone, Copy)]
struct Row {
    /// From the middle of one chip to that of the next.
    pitch: f32,
    width: f32,
    height: f32,
    /// Where they do not fit beside each other, every other one stands a row further out.
    tiers: usize,
}

impl Row {
    /// So many chips in the room from `left` to `right`.
    fn of(count: usize, [left, right]: [f32; 2], (slim, width, height): (bool, f32, f32)) -> Self {
        let fits = count as f32 * (width + GAP) - GAP <= right - left + 0.5;
        if !slim || fits {
            return Self { pitch: width + GAP, width, height, tiers: 1 };
        }
        // The leader of one that stands further out runs between those that stand nearer.
        let pitch = f32::midpoint(width, GAP) + 3.0;
        Self { pitch, width, height, tiers: 2 }
    }

    fn tall(self) -> f32 {
        self.height * self.tiers as f32 + GAP * (self.tiers - 1) as f32
    }

    /// How far out the chip at `place` stands.
    fn out(self, place: usize) -> f32 {
        if self.tiers == 2 && place % 2 == 1 { self.height + GAP } else { 0.0 }
    }
}

impl Layout {
    pub(super) fn of(view: &MouthView<'_>, along: Along, room: Rect) -> Self {
        let Rows { top, bottom, front, slim, left } = Rows::of(view, along, room.x_range());
        let right = room.right();
        let mut chips = vec![Rect::NOTHING; view.stations.len()];
        let mut set = |index: usize, rect: Rect| {
            if let Some(chip) = chips.get_mut(index) {
                *chip = rect;
            }
        };
        let wanted = |row: &[usize]| -> Vec<f32> {
            let at = |index: &usize| view.stations.get(*index).map(|s| along.x(s.from_pivot));
            row.iter().filter_map(at).collect()
        };
        let sides = [(&top, room.top(), -1.0), (&bottom, room.bottom(), 1.0)];
        for ((row, stand), edge, outward) in sides {
            // A little narrower, if that lets every chip stand over its station.
            let wanted = wanted(row);
            let steps = wanted.iter().zip(wanted.iter().skip(1)).map(|(a, b)| b - a);
            let closest = steps.fold(f32::INFINITY, f32::min) - GAP;
            let narrower = stand.width - stand.width.min(closest.max(76.0));
            let less = if slim { 0.0 } else { narrower };
            let (width, pitch) = (stand.width - less, stand.pitch - less);
            let bounds = [left + width / 2.0, right - width / 2.0];
            let near = edge - outward * (stand.tall() - stand.height / 2.0);
            let at = spread(&wanted, pitch, bounds);
            for (place, (index, x)) in row.iter().zip(at).enumerate() {
                let middle = pos2(x, near + outward * stand.out(place));
                set(*index, Rect::from_center_size(middle, vec2(width, stand.height)));
            }
        }
        let (above, below) = (Rows::beside(&top), Rows::beside(&bottom));
        let steel = Rect::from_min_max(
            pos2(room.left(), room.top() + above),
            pos2(room.right(), room.bottom() - below),
        );
        let slot = slot(slim);
        let across = |index: &usize| {
            let share = view.stations.get(*index).and_then(|s| s.across).unwrap_or(0.0);
            steel.center().y + (view.jaw.mouth / 2.0 - share) * along.per_mm
        };
        // From the top down, so that leaders never cross.
        let mut front = front;
        front.sort_by(|a, b| across(a).total_cmp(&across(b)));
        let wanted: Vec<f32> = front.iter().map(across).collect();
        let bounds = [steel.top() + slot[1] / 2.0, steel.bottom() - slot[1] / 2.0];
        for (index, y) in front.iter().zip(spread(&wanted, slot[1] + 8.0, bounds)) {
            let middle = pos2(right - slot[0] / 2.0, y);
            set(*index, Rect::from_center_size(middle, slot.into()));
        }
        Self { chips, steel, slim }
    }
}

/// Which chips stand on which side of the jaw, and how.
pub(super) struct Rows {
    top: (Vec<usize>, Row),
    bottom: (Vec<usize>, Row),
    front: Vec<usize>,
    slim: bool,
    /// Where the rows begin.
    left: f32,
}

impl Rows {
    pub(super) fn of(view: &MouthView<'_>, along: Along, room: Rangef) -> Self {
        let row = |face: Face| -> Vec<usize> {
            (0..view.stations.len())
                .filter(|index| view.stations.get(*index).is_some_and(|s| s.face == face))
                .collect()
        };
        let (top, bottom, front) = (row(Face::Cutting), row(Face::Guide), row(Face::Front));
        // The front chips need the right edge; the rows must not run under them.
        let (left, right) = (along.pivot_x + 24.0, room.max);
        let most = top.len().max(bottom.len()).max(1) as f32;
        let each = (right - left + GAP) / most - GAP;
        let slim = each < 68.0 || room.span() < along::NARROW;
        let [full, height] = if slim { SLIM } else { WIDE };
        let width = full.min(each).max(theme::TOUCH);
        let stand = |row: &[usize]| Row::of(row.len(), [left, right], (slim, width, height));
        let (above, below) = (stand(&top), stand(&bottom));
        Self { top: (top, above), bottom: (bottom, below), front, slim, left }
    }

    /// From the edge of the drawing to the steel.
    fn beside((row, stand): &(Vec<usize>, Row)) -> f32 {
        AIR + if row.is_empty() { 0.0 } else { stand.tall() }
    }

    /// The height of a drawing whose steel, `steel` high by its scale, has room for its chips.
    pub(super) fn height(&self, steel: f32) -> f32 {
        let [_, slot] = slot(self.slim);
        let front = self.front.len() as f32 * (slot + 8.0);
        Self::beside(&self.top) + steel.max(front) + Self::beside(&self.bottom)
    }
}

/// The size of a chip at the front.
const fn slot(slim: bool) -> [f32; 2] {
    if slim { SLIM } else { [76.0, 46.0] }
}

/// The tint from the current chip down into the steel.
pub(super) fn column(ui: &Ui, view: &MouthView<'_>, layout: &Layout, current: usize) {
    let Some((chip, station)) = layout.chips.get(current).zip(view.stations.get(current)) else {
        return;
    };
    let tint = theme::tokens(ui).accent_tint;
    match station.face {
        Face::Cutting | Face::Moving => {
            let y = chip.bottom()..=layout.steel.top() + 8.0;
            ui.painter().rect_filled(Rect::from_x_y_ranges(chip.x_range(), y), 0.0, tint);
        }
        Face::Guide => {
            let y = layout.steel.bottom() - 8.0..=chip.top();
            ui.painter().rect_filled(Rect::from_x_y_ranges(chip.x_range(), y), 0.0, tint);
        }
        Face::Front => {}
    }
}

/// Leaders from chips to gaps.
pub(super) fn leaders(
    painter: &Painter,
    t: &Tokens,
    view: &MouthView<'_>,
    plan: &Plan<'_>,
    layout: &Layout,
) {
    let each = view.stations.iter().zip(&plan.dots).zip(&layout.chips).enumerate();
    for (index, ((station, dot), chip)) in each {
        let here = view.current == Some(index);
        let stroke = if here { Stroke::new(2.0, t.accent) } else { Stroke::new(1.0, t.ink2) };
        let path = match station.face {
            Face::Front => {
                let knee = chip.left() - 12.0;
                vec![pos2(chip.left(), chip.center().y), pos2(knee, dot.y), *dot]
            }
            Face::Guide => {
                let past = layout.steel.bottom() + AIR;
                let knee = pos2(dot.x, plan.outer.bottom() + 7.0);
                leader(chip.center_top(), past.min(chip.top()), [knee, *dot])
            }
            Face::Cutting | Face::Moving => {
                let past = layout.steel.top() - AIR;
                let knee = pos2(dot.x, plan.outer.top() - 7.0);
                leader(chip.center_bottom(), past.max(chip.bottom()), [knee, *dot])
            }
        };
        painter.line(path, stroke);
    }
}

/// Straight past the chips that stand nearer, then to its dot.
fn leader(from: Pos2, past: f32, [knee, dot]: [Pos2; 2]) -> Vec<Pos2> {
    if (past - from.y).abs() < 1.0 {
        vec![from, knee, dot]
    } else {
        vec![from, pos2(from.x, past), knee, dot]
    }
}

/// The dots at the ends of the leaders, over everything else on the steel.
pub(super) fn dots(painter: &Painter, t: &Tokens, view: &MouthView<'_>, plan: &Plan<'_>) {
    for (index, (station, dot)) in view.stations.iter().zip(&plan.dots).enumerate() {
        mark_gap(painter, t, station, *dot, view.current == Some(index));
    }
}

fn mark_gap(painter: &Painter, t: &Tokens, station: &MouthStation<'_>, dot: Pos2, here: bool) {
    if here {
        let stroke = Stroke::new(3.0, t.accent);
        painter.circle_filled(dot, 4.6, t.accent);
        painter.circle_stroke(dot, 13.0, stroke);
        for side in [-1.0, 1.0] {
            painter
                .line_segment([dot + vec2(side * 13.0, 0.0), dot + vec2(side * 21.0, 0.0)], stroke);
        }
        return;
    }
    if station.mark == VerdictMark::NotMeasured {
        painter.circle(dot, 4.0, t.paper, Stroke::new(1.6, t.ink2));
        return;
    }
    let colour = if station.mark.is_watch() { station.mark.colour(t) } else { t.ink };
    painter.circle(dot, 4.2, colour, Stroke::new(1.2, t.paper));
    if station.mark.is_stop() {
        painter.circle_stroke(dot, 9.0, Stroke::new(2.0, colour));
    }
}

/// The chip of a station, to ask for the keyboard.
pub(super) fn id(ui: &Ui, station: &str) -> egui::Id {
    ui.make_persistent_id(("station", station))
}

/// Paints the chips and returns the index of the one that was tapped.
pub(super) fn show(
    ui: &Ui,
    view: &MouthView<'_>,
    layout: &Layout,
    faces: &[HotFace<'_>],
) -> Option<usize> {
    let mut tapped = None;
    for (index, (station, rect)) in view.stations.iter().zip(&layout.chips).enumerate() {
        let id = id(ui, station.name);
        let chosen = view.current == Some(index);
        let spoken = Spoken::one_of(station.label, chosen).with(station.detail);
        let response = touch::tap(ui, *rect, id, &spoken);
        ui.ctx().accesskit_node_builder(id, |node| {
            node.set_position_in_set(index + 1);
            node.set_size_of_set(view.stations.len());
        });
        let t = theme::tokens(ui);
        let (fill, stroke) = look(t, station, chosen);
        let stroke = if response.is_pointer_button_down_on() {
            Stroke::new(theme::CHOSEN, t.accent)
        } else if response.hovered() && stroke.width < 1.5 {
            Stroke::new(1.5, t.ink2)
        } else {
            stroke
        };
        if station.mark == VerdictMark::NotMeasured && !chosen {
            ui.painter().rect_filled(*rect, theme::RADIUS, fill);
            paint::dashed_rect(ui.painter(), rect.shrink(0.5), stroke);
        } else {
            let around = if chosen { rect.expand(2.0) } else { *rect };
            ui.painter().rect(around, theme::RADIUS, fill, stroke, StrokeKind::Inside);
        }
        let face = faces.get(index).copied();
        print(ui.painter(), t, station, *rect, (layout.slim, face));
        touch::focus_ring(ui, &response, *rect, 4.0);
        if response.clicked() {
            tapped = Some(index);
        }
    }
    tapped
}

fn look(t: &Tokens, station: &MouthStation<'_>, chosen: bool) -> (Color32, Stroke) {
    match station.mark {
        _ if chosen => (t.field, Stroke::new(3.0, t.accent)),
        VerdictMark::NotMeasured => (t.paper, Stroke::new(1.0, t.edge)),
        mark if mark.is_watch() => (t.field, Stroke::new(2.0, mark.colour(t))),
        _ => (t.field, Stroke::new(1.0, t.edge)),
    }
}

fn print(
    painter: &Painter,
    t: &Tokens,
    station: &MouthStation<'_>,
    rect: Rect,
    (slim, face): (bool, Option<HotFace<'_>>),
) {
    let pad = if slim || face.is_some() { 5.0 } else { 9.0 };
    let at = rect.left_top() + vec2(pad, 14.0);
    let name = if slim { theme::chip_bold() } else { theme::section() };
    painter.text(at, Align2::LEFT_CENTER, station.name, name, t.ink);
    if let Some(face) = face {
        return print_hot(painter, t, (station.name, station.value), rect, (slim, face));
    }
    let mark = rect.right_top() + vec2(-pad - 6.0, 14.0);
    station.mark.paint(painter, mark, if slim { 12.0 } else { 15.0 }, t);
    let ink = if station.mark == VerdictMark::NotMeasured { t.ink3 } else { t.ink };
    let room = rect.width() - 6.0;
    if slim {
        let font = theme::caption();
        for (row, part) in two_lines(station.value).into_iter().enumerate() {
            let part = paint::fitted(painter, part, font.clone(), ink, room);
            let at = rect.center_top() + vec2(0.0, 32.0 + 15.0 * row as f32);
            paint::place(painter, at, Align2::CENTER_CENTER, part);
        }
        return;
    }
    let size = |size| FontId::new(size, fonts::regular());
    let full = painter.layout_no_wrap(station.value.to_owned(), size(13.0), ink);
    let value = if full.size().x <= room {
        full
    } else {
        paint::fitted(painter, station.value, size(11.5), ink, room)
    };
    paint::place(painter, rect.center_top() + vec2(0.0, 33.0), Align2::CENTER_CENTER, value);
}

/// The degrees beside the name, the colour and its name below; a slim chip has no room beside.
fn print_hot(
    painter: &Painter,
    t: &Tokens,
    (name, value): (&str, &str),
    rect: Rect,
    (slim, face): (bool, HotFace<'_>),
) {
    let swatch = |at: Pos2, size: f32| {
        let Some(colour) = face.colour else { return };
        let swatch = Rect::from_center_size(at, vec2(size * 0.8, size));
        painter.rect(swatch, 0.0, colour, Stroke::new(1.0, t.ink), StrokeKind::Inside);
    };
    let line = |at: Pos2, anchor: Align2, text: &str, font: FontId, room: f32| {
        let text = paint::fitted(painter, text, font, t.ink, room);
        paint::place(painter, at, anchor, text);
    };
    if slim {
        swatch(rect.right_top() + vec2(-11.0, 14.0), 12.0);
        let (room, middle) = (rect.width() - 4.0, rect.center_top());
        let under = |y: f32| middle + vec2(0.0, y);
        line(under(32.0), Align2::CENTER_CENTER, value, theme::chip_bold(), room);
        line(under(48.0), Align2::CENTER_CENTER, face.word, theme::caption(), room);
        return;
    }
    let right = rect.right_top() + vec2(-5.0, 14.0);
    let name = painter.layout_no_wrap(name.to_owned(), theme::section(), t.ink).size().x;
    let room = rect.width() - name - 15.0;
    let font = |size| FontId::new(size, fonts::regular());
    let wide = |size| painter.layout_no_wrap(value.to_owned(), font(size), t.ink).size().x;
    let size = [12.5, 11.5, 10.5].into_iter().find(|size| wide(*size) <= room).unwrap_or(10.0);
    line(right, Align2::RIGHT_CENTER, value, font(size), room + 6.0);
    swatch(rect.left_top() + vec2(11.0, 33.0), 13.0);
    let from = if face.colour.is_some() { 21.0 } else { 5.0 };
    let left = rect.left_top() + vec2(from, 33.0);
    line(left, Align2::LEFT_CENTER, face.word, theme::caption(), rect.width() - from - 3.0);
}

/// Breaks a value after its dash, or at its first space.
fn two_lines(value: &str) -> [&str; 2] {
    let after_dash = value.find('–').map(|at| at + '–'.len_utf8());
    let at = after_dash.or_else(|| value.find(char::is_whitespace)).unwrap_or(value.len());
    let (first, second) = value.split_at(at);
    [first, second.trim_start()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_break_where_a_person_would_break_them() {
        assert_eq!(two_lines("0.57–0.62"), ["0.57–", "0.62"]);
        assert_eq!(two_lines("not yet"), ["not", "yet"]);
        assert_eq!(two_lines("over\u{a0}0.55"), ["over", "0.55"]);
        assert_eq!(two_lines("0.60"), ["0.60", ""]);
    }
}
