//! The pack behind a blade, now and after.
//!
//! Knows plates from the seat outward. Refuses to choose them. Thickness is drawn to one scale in
//! both stacks.

use crate::gui::{
    fonts, paint,
    theme::{self, Tokens},
    widgets::{rich_text, touch},
};
use egui::{Align2, FontId, Painter, Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

/// What happens to a shim.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShimFate {
    /// Stays.
    Stays,
    /// Is put in.
    GoesIn,
    /// Is taken out.
    ComesOut,
}

/// One shim.
#[derive(Clone, Copy, Debug)]
pub struct Shim<'a> {
    /// In mm.
    pub thickness: f32,
    /// As text.
    pub text: &'a str,
    /// What happens to it.
    pub fate: ShimFate,
}

/// One pack.
#[derive(Clone, Copy, Debug)]
pub struct ShimStack<'a> {
    /// From the seat outward, thick ones first.
    pub shims: &'a [Shim<'a>],
    /// Under the drawing, with bold numbers, such as "now **0.75**".
    pub caption: &'a str,
}

const SEAT: f32 = 16.0;
const BLADE: f32 = 24.0;
const LEAST: f32 = 14.5;
const CAPTION: f32 = 24.0;
/// The height of a shim per mm: 0.50 is 29 high.
const PER_MM: f32 = 58.0;

impl ShimStack<'_> {
    fn heights(&self, per_mm: f32) -> impl Iterator<Item = f32> {
        self.shims.iter().map(move |shim| (shim.thickness * per_mm).max(LEAST))
    }
}

/// Shows both packs beside each other with an arrow between, over the width at hand.
///
/// `blade` is the word written on the blade.
pub fn shim_change(ui: &mut Ui, blade: &str, now: &ShimStack<'_>, after: &ShimStack<'_>) {
    let t = theme::tokens(ui);
    // A thick pack is drawn flatter rather than taller than the pane.
    let total = |per_mm: f32| {
        let height = |stack: &ShimStack<'_>| stack.heights(per_mm).sum::<f32>();
        height(now).max(height(after))
    };
    let per_mm = [PER_MM, 40.0, 28.0, 16.0].into_iter().find(|s| total(*s) < 130.0).unwrap_or(8.0);
    let height = total(per_mm) + SEAT + BLADE + CAPTION + 6.0;
    let width = ui.available_width();
    let (rect, _) = ui.allocate_exact_size(vec2(width, height), Sense::hover());
    let spoken = format!("{}, {}", now.caption, after.caption).replace("**", "");
    touch::say(ui, rect, ("pack", blade), &spoken);
    let side = (width * 0.255).clamp(56.0, 104.0);
    let painter = ui.painter();
    let seat = rect.bottom() - CAPTION;
    let second = rect.left() + width * 0.555;
    for (stack, left) in [(now, rect.left()), (after, second)] {
        let x = left..=left + side;
        stack_up(painter, t, stack, per_mm, Rect::from_x_y_ranges(x, rect.top()..=seat), blade);
        let caption = painter.layout_job(rich_text(stack.caption, 13.5, t.ink2, t.ink));
        let at = pos2(left, rect.bottom() - 8.0);
        paint::place(painter, at, Align2::LEFT_CENTER, caption);
    }
    // Between the printed thicknesses and the second stack, as long as that allows.
    let font = FontId::new(13.0, fonts::bold());
    let print = |shim: &Shim<'_>| {
        painter.layout_no_wrap(shim.text.to_owned(), font.clone(), t.ink).size().x
    };
    let prints = now.shims.iter().map(print).fold(0.0, f32::max);
    let free = [rect.left() + side + prints + 18.0, second - 8.0];
    let reach = vec2(((free[1] - free[0]) / 2.0).min(18.0), 0.0);
    let middle = pos2(f32::midpoint(free[0], free[1]), seat - SEAT - 30.0);
    if 8.0 < reach.x {
        paint::arrow(painter, middle - reach, middle + reach, 9.0, Stroke::new(2.0, t.ink2));
    }
}

fn stack_up(
    painter: &Painter,
    t: &Tokens,
    stack: &ShimStack<'_>,
    per_mm: f32,
    room: Rect,
    blade: &str,
) {
    let outline = Stroke::new(1.3, t.ink);
    let seat = room.with_min_y(room.bottom() - SEAT);
    painter.rect_filled(seat, 0.0, t.steel);
    paint::hatch_rect(painter, seat, 8.5, Stroke::new(1.0, t.hatch), paint::Lean::Rising);
    painter.rect_stroke(seat, 0.0, outline, StrokeKind::Middle);
    let mut top = seat.top();
    for (shim, height) in stack.shims.iter().zip(stack.heights(per_mm)) {
        let plate = Rect::from_x_y_ranges(room.x_range(), top - height..=top);
        let (fill, ink, family) = match shim.fate {
            ShimFate::Stays => (t.blade, t.ink, fonts::regular()),
            ShimFate::GoesIn => (t.accent, t.accent, fonts::bold()),
            ShimFate::ComesOut => (t.accent_tint, t.accent, fonts::bold()),
        };
        painter.rect_filled(plate, 0.0, fill);
        if shim.fate == ShimFate::ComesOut {
            let thin = Stroke::new(1.0, t.accent);
            paint::hatch_rect(painter, plate, 7.0, thin, paint::Lean::Falling);
        }
        painter.rect_stroke(plate, 0.0, Stroke::new(1.2, t.ink), StrokeKind::Middle);
        let at = plate.right_center() + vec2(10.0, 0.0);
        painter.text(at, Align2::LEFT_CENTER, shim.text, FontId::new(13.0, family), ink);
        top = plate.top();
    }
    let body = Rect::from_x_y_ranges(room.x_range(), top - BLADE..=top);
    painter.rect(body, 0.0, t.steel2, outline, StrokeKind::Middle);
    let word = paint::fitted(painter, blade, theme::caption(), t.ink2, body.width() - 6.0);
    paint::place(painter, body.center(), Align2::CENTER_CENTER, word);
}
