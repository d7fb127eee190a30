//! One line's gaps on their limits, now and after the work, at a glance.
//!
//! Knows bars on bands and arrows between them. Refuses to know distances: stations stand evenly.

use crate::gui::{
    paint, theme,
    widgets::{Bands, touch},
};
use egui::{Rect, Sense, Stroke, StrokeKind, Ui, Vec2, pos2, vec2};

/// One station, now and after.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeforeAfter {
    /// The reading from low to high in mm.
    pub now: [f32; 2],
    /// What is expected after the work; `None` if nothing moves or nobody can know.
    pub after: Option<[f32; 2]>,
}

/// The gaps of one line.
#[derive(Clone, Copy, Debug)]
pub struct MiniRibbon<'a> {
    /// Its limits.
    pub bands: Bands,
    /// Its measured stations from the pivot outward.
    pub stations: &'a [BeforeAfter],
    /// What a screen reader says.
    pub name: &'a str,
}

impl MiniRibbon<'_> {
    /// Shows the ribbon at exactly `size`.
    pub fn show(self, ui: &mut Ui, size: Vec2) {
        let t = theme::tokens(ui);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        touch::say(ui, rect, ("mini ribbon", self.name), self.name);
        let painter = ui.painter_at(rect.expand(1.0));
        let seen = self.stations.iter().map(|station| station.now[1]);
        let high = seen.fold(self.bands.span()[1], |high, gap| high.max(gap * 1.05));
        let y = |gap: f32| rect.bottom() - gap.max(0.0) / high * rect.height();
        let x = rect.left() + 1.0..=rect.right();
        let band = |from: f32, to: f32| Rect::from_x_y_ranges(x.clone(), y(to)..=y(from));
        let Bands { set, working, stop } = self.bands;

        painter.rect_filled(band(set[0], set[1]), 0.0, t.ok_tint);
        let hatch = Stroke::new(1.0, t.stop.gamma_multiply(0.45));
        for beyond in [band(stop[1], high), band(0.0, stop[0])] {
            paint::hatch_rect(&painter, beyond, 8.5, hatch, paint::Lean::Falling);
        }
        for limit in stop {
            paint::level(&painter, x.clone(), y(limit), Stroke::new(1.4, t.stop));
        }
        for limit in working {
            let ends = [pos2(*x.start(), y(limit)), pos2(*x.end(), y(limit))];
            paint::dashed(&painter, &ends, Stroke::new(1.3, t.watch), [7.0, 4.0]);
        }
        paint::upright(
            &painter,
            rect.left() + 0.5,
            rect.top()..=rect.bottom(),
            Stroke::new(1.0, t.ink2),
        );

        let pitch = rect.width() / self.stations.len().max(1) as f32;
        let bar = |middle: f32, [low, high]: [f32; 2]| {
            let tall = (y(low) - y(high)).max(4.5);
            let at = pos2(middle, y(f32::midpoint(low, high)));
            Rect::from_center_size(at, vec2(11.0, tall))
        };
        for (index, station) in self.stations.iter().enumerate() {
            let middle = rect.left() + pitch * (index as f32 + 0.5);
            let Some(after) = station.after else {
                painter.rect_filled(bar(middle, station.now), 0.0, t.ink);
                continue;
            };
            let (from, to) = (bar(middle - 8.0, station.now), bar(middle + 6.0, after));
            painter.rect(from, 0.0, t.ghost, Stroke::new(1.0, t.ink3), StrokeKind::Inside);
            let knee = pos2(to.center().x, from.center().y);
            let thin = Stroke::new(1.2, t.ink2);
            let down = to.center().y - knee.y;
            if down.abs() > 12.0 {
                painter.line_segment([from.right_center(), knee], thin);
                let tip = if 0.0 < down { to.center_top() } else { to.center_bottom() };
                paint::arrow(&painter, knee, tip, 5.5, thin);
            }
            painter.rect_filled(to, 0.0, t.ink);
        }
    }
}
