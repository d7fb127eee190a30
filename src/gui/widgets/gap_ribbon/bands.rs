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
    let lay =
        |words: &str| paint::lessened(painter, rich_text(words, 12.0, quiet, strong), far - near);
    // A place that has no room leaves its letter, which the tabs and stations say as well.
    let whole = lay(&format!("**{}**  {}", line.letter, line.place));
    let galley =
        if whole.size().x <= far - near { whole } else { lay(&format!("**{}**", line.letter)) };
    paint::place(painter, pos2(near, scale.plot.top() - 12.0), Align2::LEFT_CENTER, galley);
}

/// How far a word moves along to find room.
const STEP: f32 = 14.0;

/// What the limits are called, at their bands, in their colours, with their values at the left. A
/// word stands where no reading does, or nowhere.
pub(super) fn words(
    painter: &Painter,
    t: &Tokens,
    line: &RibbonLine<'_>,
    (words, taken): (&RibbonWords<'_>, &[Rect]),
    scale: Scale,
) {
    let [near, far] = line.span.map(|mm| scale.x(mm));
    let bold = FontId::new(theme::caption().size, fonts::bold());
    let y = |gap: f32| scale.y(gap.min(scale.high));
    let bands = &line.bands;
    let say = |level: f32, from_left: bool, text: &str, ink, ground| {
        let size = painter.layout_no_wrap(text.to_owned(), bold.clone(), ink).size();
        let first = if from_left { near + 8.0 } else { far - 8.0 - size.x };
        let places = (0..=u8::MAX).map(|step| f32::from(step) * STEP);
        let places = places.map(|along| if from_left { first + along } else { first - along });
        let free = |x: &f32| {
            let room = Rect::from_min_size(pos2(*x, level - size.y / 2.0), size).expand(3.0);
            taken.iter().all(|other| !other.intersects(room))
        };
        let inside = |x: &f32| near + 8.0 <= *x && *x + size.x <= far - 8.0;
        if let Some(x) = places.take_while(inside).find(free) {
            let colours = (bold.clone(), ink, ground);
            paint::knocked_out(painter, pos2(x, level), Align2::LEFT_CENTER, text, colours);
        }
    };
    if 36.0 < y(bands.working[1]) - y(bands.stop[1]) {
        say(y(bands.working[1]) - 10.0, true, words.working, t.watch, t.paper);
    }
    say(y(bands.stop[1]) + 11.0, true, words.stop, t.stop, t.paper);
    if 14.0 < y(bands.set[0]) - y(bands.set[1]) {
        say(y(bands.set[0]) - 8.0, false, words.set, t.ok, t.ok_tint);
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
