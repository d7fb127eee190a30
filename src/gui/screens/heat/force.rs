//! Closing and opening force along the jaw, and the plate that can be cut at each place.

use crate::{
    brief::numbers,
    domain::{
        heat::{force_along, stock, stock_places},
        quantity::Length,
    },
    gui::{
        paint,
        screens::heat::Scene,
        theme::{self, Tokens},
    },
    language::tell,
};
use egui::{Align2, Painter, Pos2, Rect, Stroke, Ui, pos2};

pub(super) fn show(ui: &mut Ui, scene: &Scene<'_>) {
    let Some(thermal) = scene.machine.shear.thermal.as_ref() else { return };
    let jaw = force_along(thermal);
    let rect = ui.available_rect_before_wrap();
    let t = theme::tokens(ui);
    let painter = ui.painter_at(rect.expand(8.0));
    let n = scene.view.numbers;
    let area = Rect::from_min_max(
        pos2(rect.left() + 52.0, rect.top() + 28.0),
        pos2(rect.right() - 74.0, rect.bottom() - 24.0),
    );
    let reach = scene.machine.shear.geometry.reach.mm().max(1.0);
    let from = reach * 0.12;
    let most = jaw.closing_n(Length::from_mm(from).unwrap_or_default()) / 1e3;
    let x = |mm: f64| {
        area.left() + area.width() * paint::screen(((mm - from) / (reach - from)).clamp(0.0, 1.0))
    };
    let y = |kn: f64| area.bottom() - area.height() * paint::screen((kn / most).clamp(0.0, 1.0));
    let title = tell!("Force along the jaw");
    let at = pos2(rect.left(), rect.top() + 6.0);
    let title = painter.text(at, Align2::LEFT_CENTER, title, theme::body_bold(), t.ink);
    let note = tell!("kN · an estimate for one jaw angle").to_owned();
    let room = rect.right() - title.right() - 12.0;
    let note = paint::fitted(&painter, note, theme::chip(), t.ink3, room);
    let at = pos2(title.right() + 8.0, at.y);
    paint::place(&painter, at, Align2::LEFT_CENTER, note);
    let step = (most / 4.0 / 1_000.0).ceil().max(1.0) * 1_000.0;
    let mut kn = 0.0;
    while kn <= most {
        paint::level(&painter, area.x_range().into(), y(kn), Stroke::new(1.0, t.soft));
        let left = pos2(area.left() - 8.0, y(kn));
        let text = numbers::hours_value(kn);
        painter.text(left, Align2::RIGHT_CENTER, text, theme::caption(), t.ink2);
        kn += step;
    }
    let curve = |of: &dyn Fn(Length) -> f64| -> Vec<Pos2> {
        (0..=80_u8)
            .filter_map(|k| {
                let mm = from + (reach - from) * f64::from(k) / 80.0;
                Some(pos2(x(mm), y(of(Length::from_mm(mm)?) / 1e3)))
            })
            .collect()
    };
    let closing = curve(&|at| jaw.closing_n(at));
    let opening = curve(&|at| jaw.opening_n(at));
    for (points, word, stroke) in [
        (closing, tell!("closing"), Stroke::new(2.4, t.accent)),
        (opening, tell!("opening"), Stroke::new(2.0, t.ink2)),
    ] {
        if let Some(end) = points.last() {
            let at = *end + egui::vec2(6.0, 0.0);
            painter.text(at, Align2::LEFT_CENTER, word, theme::caption_bold(), stroke.color);
        }
        painter.line(points, stroke);
    }
    let needed = scene.case.model.forces.needed_n / 1e3;
    if needed < most {
        let level = [pos2(area.left(), y(needed)), pos2(area.right(), y(needed))];
        paint::dashed(&painter, &level, Stroke::new(1.6, t.watch), paint::LIMIT);
        let thick = Length::from_mm(scene.runs.ask.work.plate_mm);
        let thick = thick.map_or_else(String::new, |it| n.dimension(it));
        let text = tell!(
            "a plate of {thick} takes {needed} kN",
            thick,
            needed = numbers::hours_value(needed)
        );
        let look = (theme::caption_bold(), t.watch, t.paper);
        let at = pos2(area.right() - 4.0, y(needed) - 10.0);
        paint::knocked_out(&painter, at, Align2::RIGHT_CENTER, text, look);
    }
    let said = places(&painter, t, scene, area, &x);
    paint::level(&painter, area.x_range().into(), area.bottom(), Stroke::new(1.2, t.ink));
    crate::gui::widgets::say(ui, rect, "force along the jaw", &said.join(", "));
}

/// The thickest plate at each place under the axis, as far as there is room; all of them in words.
fn places(
    painter: &Painter,
    t: &Tokens,
    scene: &Scene<'_>,
    area: Rect,
    x: &impl Fn(f64) -> f32,
) -> Vec<String> {
    let Some(thermal) = scene.machine.shear.thermal.as_ref() else { return Vec::new() };
    let (jaw, plate) = (force_along(thermal), stock(thermal));
    let n = scene.view.numbers;
    let (mut said, mut taken) = (Vec::new(), Vec::new());
    for station in stock_places(&scene.machine.shear) {
        let thickest = jaw.thickest_plate_mm(station.from_pivot, &plate);
        let at = x(station.from_pivot.mm());
        paint::upright(painter, at, area.bottom()..=area.bottom() + 5.0, Stroke::new(1.0, t.ink2));
        let thick = n.at_most(thickest);
        said.push(tell!("{id}: plate up to {thick}", id = station.id, thick));
        let text = format!("{} {thick}", station.id);
        let text = painter.layout_no_wrap(text, theme::caption(), t.ink2);
        let below = pos2(at, area.bottom() + 7.0);
        let place = Align2::CENTER_TOP.anchor_size(below, text.size());
        if taken.iter().all(|other: &Rect| !other.expand(5.0).intersects(place)) {
            painter.galley(place.min, text, t.ink2);
            taken.push(place);
        }
    }
    said
}
