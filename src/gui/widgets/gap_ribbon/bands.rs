//! Limits of a line as bands, with their words.
//!
//! Knows three bands inside each other. Refuses to know readings.

use crate::gui::{
    fonts, paint,
    theme::{self, Tokens},
    widgets::{
        gap_ribbon::{RibbonLine, RibbonWords, Scale},
        rich_text,
        spread::spread,
    },
};
use egui::{Align2, Color32, FontId, Painter, Rect, Stroke, pos2};

struct Look {
    set: Color32,
    working: Stroke,
    stop: Stroke,
    hatch: Stroke,
}

/// The line that is read, in full colour.
pub(super) fn selected(painter: &Painter, t: &Tokens, line: &RibbonLine<'_>, scale: Scale) {
    let look = Look {
        set: t.ok_tint,
        working: Stroke::new(1.6, t.watch),
        stop: Stroke::new(2.0, t.stop),
        hatch: Stroke::new(1.0, t.stop.gamma_multiply(0.45)),
    };
    bands(painter, line, scale, &look);
    name(painter, line, scale, (t.ink, t.ink));
}

/// A neighbour: its limits go grey.
pub(super) fn quiet(painter: &Painter, t: &Tokens, line: &RibbonLine<'_>, scale: Scale) {
    let look = Look {
        set: t.soft.gamma_multiply(0.55),
        working: Stroke::new(1.4, t.line),
        stop: Stroke::new(1.6, t.line),
        hatch: Stroke::new(1.0, t.hatch.gamma_multiply(0.7)),
    };
    bands(painter, line, scale, &look);
    name(painter, line, scale, (t.ink3, t.ink2));
}

fn bands(painter: &Painter, line: &RibbonLine<'_>, scale: Scale, look: &Look) {
    let x = scale.x(line.span[0])..=scale.x(line.span[1]);
    let y = |gap: f32| scale.y(gap.min(scale.high));
    let set = y(line.bands.set[1])..=y(line.bands.set[0]);
    painter.rect_filled(Rect::from_x_y_ranges(x.clone(), set), 0.0, look.set);
    let beyond =
        [scale.plot.top()..=y(line.bands.stop[1]), y(line.bands.stop[0])..=scale.plot.bottom()];
    for y in beyond {
        let rect = Rect::from_x_y_ranges(x.clone(), y);
        paint::hatch_rect(painter, rect, 9.9, look.hatch, paint::Lean::Falling);
    }
    for limit in line.bands.stop {
        paint::level(painter, x.clone(), y(limit), look.stop);
    }
    for limit in line.bands.working {
        let ends = [pos2(*x.start(), y(limit)), pos2(*x.end(), y(limit))];
        paint::dashed(painter, &ends, look.working, paint::LIMIT);
    }
}

fn name(
    painter: &Painter,
    line: &RibbonLine<'_>,
    scale: Scale,
    (quiet, strong): (Color32, Color32),
) {
    let [near, far] = line.span.map(|mm| scale.x(mm));
    let mut job = rich_text(&format!("**{}**  {}", line.letter, line.place), 12.0, quiet, strong);
    job.wrap = egui::text::TextWrapping::truncate_at_width(far - near);
    let galley = painter.layout_job(job);
    paint::place(painter, pos2(near, scale.plot.top() - 12.0), Align2::LEFT_CENTER, galley);
}

/// What the limits are called, at their bands, in their colours, with their values at the left.
pub(super) fn words(
    painter: &Painter,
    t: &Tokens,
    line: &RibbonLine<'_>,
    words: &RibbonWords<'_>,
    scale: Scale,
) {
    let [near, far] = line.span.map(|mm| scale.x(mm));
    let bold = FontId::new(theme::caption().size, fonts::bold());
    let y = |gap: f32| scale.y(gap.min(scale.high));
    let bands = &line.bands;
    let say = |at, anchor, text: &str, ink, ground| {
        paint::knocked_out(painter, at, anchor, text, (bold.clone(), ink, ground));
    };
    let room = far - near;
    if 70.0 < room {
        let stop = pos2(near + 8.0, y(bands.stop[1]) + 11.0);
        say(stop, Align2::LEFT_CENTER, words.stop, t.stop, t.paper);
        let working = pos2(near + 8.0, y(bands.working[1]) - 10.0);
        if 36.0 < y(bands.working[1]) - y(bands.stop[1]) {
            say(working, Align2::LEFT_CENTER, words.working, t.watch, t.paper);
        }
        let set = pos2(far - 8.0, y(bands.set[0]) - 8.0);
        if 14.0 < y(bands.set[0]) - y(bands.set[1]) && 180.0 < room {
            say(set, Align2::RIGHT_CENTER, words.set, t.ok, t.ok_tint);
        }
    }

    // Values from the top of the drawing down, moved apart where limits lie close together.
    let gaps = [
        bands.stop[1],
        bands.working[1],
        bands.set[1],
        bands.set[0],
        bands.working[0],
        bands.stop[0],
    ];
    let inks = [t.stop, t.watch, t.ok, t.ok, t.watch, t.stop];
    let wanted = gaps.map(y);
    let bounds = [scale.plot.top() + 6.0, scale.plot.bottom() - 4.0];
    let texts = line.limits.iter().rev();
    for ((text, ink), at) in texts.zip(inks).zip(spread(&wanted, 13.0, bounds)) {
        let font = bold.clone();
        painter.text(pos2(near - 6.0, at), Align2::RIGHT_CENTER, text, font, ink);
    }
}
