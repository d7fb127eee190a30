//! The scale of temper colours, with a mark for one face.
//!
//! Knows degrees and the theme's colours. Refuses to know faces.

use crate::{
    gui::{
        paint, theme,
        widgets::{
            spread::spread,
            touch::{self, Spoken},
        },
    },
    language::tell,
};
use egui::{Align2, Mesh, Rect, Sense, Stroke, StrokeKind, Ui, pos2, vec2};

const FROM_C: f64 = 190.0;
const TO_C: f64 = 350.0;

/// Paints the scale; `names` are colours with the temperature they begin at, `mark` is a face.
/// Returns the index of a colour that was tapped; `chosen` is the one tapped before.
pub fn temper_scale(
    ui: &mut Ui,
    names: &[(f64, &str)],
    mark: Option<(f64, &str)>,
    chosen: Option<usize>,
) -> Option<usize> {
    let t = theme::tokens(ui);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 62.0), Sense::hover());
    let bar = Rect::from_x_y_ranges(rect.x_range(), rect.top() + 18.0..=rect.top() + 42.0);
    let x = |c: f64| {
        let share = ((c - FROM_C) / (TO_C - FROM_C)).clamp(0.0, 1.0);
        bar.left() + bar.width() * paint::screen(share)
    };
    let mut mesh = Mesh::default();
    for step in 0..=80_u8 {
        let c = FROM_C + (TO_C - FROM_C) * f64::from(step) / 80.0;
        let colour = theme::temper(c);
        mesh.colored_vertex(pos2(x(c), bar.top()), colour);
        mesh.colored_vertex(pos2(x(c), bar.bottom()), colour);
        if 0 < step {
            let first = u32::from(step - 1) * 2;
            mesh.add_triangle(first, first + 1, first + 3);
            mesh.add_triangle(first, first + 3, first + 2);
        }
    }
    let painter = ui.painter();
    painter.add(mesh);
    painter.rect_stroke(bar, 0.0, Stroke::new(1.2, t.ink), StrokeKind::Inside);
    let ends = names.iter().skip(1).map(|(c, _)| *c).chain([TO_C]);
    // Neighbours whose stretches are short move apart; the marks below say where each begins.
    let wanted: Vec<f32> =
        names.iter().zip(ends).map(|((from, _), to)| x(f64::midpoint(*from, to))).collect();
    let bounds = [bar.left() + 16.0, bar.right() - 16.0];
    let mut tapped = None;
    for (index, ((_, name), at)) in names.iter().zip(spread(&wanted, 44.0, bounds)).enumerate() {
        let here = chosen == Some(index);
        let area = Rect::from_center_size(pos2(at, rect.center().y), vec2(43.0, rect.height()));
        let label = tell!("seen {name}", name);
        let id = ui.make_persistent_id(("temper", index));
        let response = touch::tap(ui, area, id, &Spoken::on_off(&label, here));
        let strong = here || response.hovered();
        let (font, ink) =
            if strong { (theme::caption_bold(), t.ink) } else { (theme::caption(), t.ink2) };
        let word = pos2(at, rect.top() + 8.0);
        let word = painter.text(word, Align2::CENTER_CENTER, *name, font, ink);
        if here {
            let under = word.bottom() - 1.0;
            paint::level(painter, word.x_range().into(), under, Stroke::new(2.0, t.accent));
        }
        touch::focus_ring(ui, &response, area.shrink(3.0), 4.0);
        if response.clicked() {
            tapped = Some(index);
        }
    }
    for c in [200.0, 220.0, 240.0, 260.0, 280.0, 300.0, 320.0, 340.0] {
        let at = x(c);
        paint::upright(painter, at, bar.bottom()..=bar.bottom() + 4.0, Stroke::new(1.0, t.ink2));
        let text = format!("{c:.0}");
        let below = pos2(at, bar.bottom() + 5.0);
        painter.text(below, Align2::CENTER_TOP, text, theme::caption(), t.ink2);
    }
    if let Some((c, name)) = mark {
        let at = x(c);
        let span = bar.top() - 4.0..=bar.bottom() + 3.0;
        paint::upright(painter, at, span.clone(), Stroke::new(4.0, t.field));
        paint::upright(painter, at, span, Stroke::new(2.0, t.ink));
        let left = bar.center().x < at;
        let anchor = if left { Align2::RIGHT_CENTER } else { Align2::LEFT_CENTER };
        let beside = pos2(if left { at - 7.0 } else { at + 7.0 }, bar.center().y);
        let look = (theme::caption_bold(), t.ink, t.field);
        paint::knocked_out(painter, beside, anchor, name, look);
    }
    tapped
}
