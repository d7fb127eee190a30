//! What a frame painted, as a drawing in SVG.
//!
//! Takes the shapes of the frame itself, so that a drawing cannot differ from the screen. Knows the
//! shapes our widgets paint: rectangles, circles, lines, polygons, triangles and text; a texture or
//! a callback has no drawing. Refuses to know what they mean.

use crate::gui::fonts;
use egui::{
    Color32, Pos2, Rect, Shape, Stroke, StrokeKind,
    epaint::{
        CircleShape, ClippedShape, ColorMode, Mesh, PathShape, PathStroke, RectShape, TextShape,
        text::{Glyph, PlacedRow},
    },
};
use std::fmt::{self, Write as _};

/// A drawing of the shapes inside `frame`.
pub(super) fn svg<'a>(shapes: impl Iterator<Item = &'a ClippedShape>, frame: Rect) -> String {
    let mut out = String::new();
    // Writing to a string cannot fail.
    let _never = drawing(&mut out, shapes, frame);
    out
}

fn drawing<'a>(
    out: &mut String,
    shapes: impl Iterator<Item = &'a ClippedShape>,
    frame: Rect,
) -> fmt::Result {
    let (x, y, wide, tall) = (frame.left(), frame.top(), frame.width(), frame.height());
    writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"{x} {y} {wide} {tall}\" \
         width=\"{wide}\" height=\"{tall}\" \
         font-family=\"B612, 'DejaVu Sans', sans-serif\">"
    )?;
    let mut clip: Option<(Rect, usize)> = None;
    for ClippedShape { clip_rect, shape, .. } in shapes {
        let within = clip_rect.intersect(frame);
        let nothing = matches!(shape, Shape::Noop) || !within.is_positive();
        // What lies outside would be cut off, and yet be found by whoever searches the drawing.
        if nothing || !shape.visual_bounding_rect().intersects(within) {
            continue;
        }
        if clip.is_none_or(|(last, _)| last != within) {
            let number = clip.map_or(0, |(_, number)| number + 1);
            if clip.is_some() {
                writeln!(out, "</g>")?;
            }
            write!(out, "<clipPath id=\"c{number}\">")?;
            let size = (within.width(), within.height());
            box_of(out, within.min, size, "")?;
            writeln!(out, "</clipPath><g clip-path=\"url(#c{number})\">")?;
            clip = Some((within, number));
        }
        one(out, shape)?;
    }
    if clip.is_some() {
        writeln!(out, "</g>")?;
    }
    writeln!(out, "</svg>")
}

fn one(out: &mut String, shape: &Shape) -> fmt::Result {
    match shape {
        Shape::Vec(all) => all.iter().try_for_each(|shape| one(out, shape)),
        Shape::Rect(it) => rectangle(out, it),
        Shape::Circle(it) => circle(out, it),
        Shape::LineSegment { points, stroke } => line(out, points, *stroke),
        Shape::Path(it) => path(out, it),
        Shape::Text(it) => text(out, it),
        Shape::Mesh(it) => triangles(out, it),
        _ => Ok(()),
    }
}

/// `fill="#15242c" fill-opacity="0.5"`, or nothing to see.
fn paint(name: &str, colour: Color32) -> String {
    let [red, green, blue, alpha] = colour.to_srgba_unmultiplied();
    match alpha {
        0 => format!(" {name}=\"none\""),
        255 => format!(" {name}=\"#{red:02x}{green:02x}{blue:02x}\""),
        part => {
            let share = f32::from(part) / 255.0;
            format!(" {name}=\"#{red:02x}{green:02x}{blue:02x}\" {name}-opacity=\"{share:.3}\"")
        }
    }
}

fn outline(stroke: Stroke) -> String {
    if stroke.width <= 0.0 {
        return String::new();
    }
    format!("{} stroke-width=\"{}\"", paint("stroke", stroke.color), stroke.width)
}

fn box_of(out: &mut String, min: Pos2, (wide, tall): (f32, f32), style: &str) -> fmt::Result {
    let (x, y) = (min.x, min.y);
    write!(out, "<rect x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{tall}\"{style}/>")
}

fn rectangle(out: &mut String, it: &RectShape) -> fmt::Result {
    // SVG draws outlines on the edge; ours lie mostly inside it.
    let half = match it.stroke_kind {
        StrokeKind::Inside => -it.stroke.width / 2.0,
        StrokeKind::Middle => 0.0,
        StrokeKind::Outside => it.stroke.width / 2.0,
    };
    let rect = it.rect.expand(half);
    if rect.width() < 0.0 || rect.height() < 0.0 {
        return Ok(());
    }
    let round = f32::from(it.corner_radius.nw.max(it.corner_radius.se));
    let mut style = paint("fill", it.fill) + &outline(it.stroke);
    if 0.0 < round {
        let _never = write!(style, " rx=\"{round}\"");
    }
    box_of(out, rect.min, (rect.width(), rect.height()), &style)?;
    writeln!(out)
}

fn circle(out: &mut String, it: &CircleShape) -> fmt::Result {
    let (x, y, radius) = (it.center.x, it.center.y, it.radius);
    let style = paint("fill", it.fill) + &outline(it.stroke);
    writeln!(out, "<circle cx=\"{x}\" cy=\"{y}\" r=\"{radius}\"{style}/>")
}

fn line(out: &mut String, [from, to]: &[Pos2; 2], stroke: Stroke) -> fmt::Result {
    let style = outline(stroke);
    let (x1, y1, x2, y2) = (from.x, from.y, to.x, to.y);
    writeln!(out, "<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"{style}/>")
}

fn path(out: &mut String, it: &PathShape) -> fmt::Result {
    let name = if it.closed { "polygon" } else { "polyline" };
    let PathStroke { width, color, .. } = &it.stroke;
    let edge = match color {
        ColorMode::Solid(color) => outline(Stroke::new(*width, *color)),
        ColorMode::UV(_) => String::new(),
    };
    let fill = if it.closed { it.fill } else { Color32::TRANSPARENT };
    corners(out, name, &it.points, &(paint("fill", fill) + &edge))
}

fn corners(out: &mut String, name: &str, points: &[Pos2], style: &str) -> fmt::Result {
    write!(out, "<{name} points=\"")?;
    for point in points {
        write!(out, "{},{} ", point.x, point.y)?;
    }
    writeln!(out, "\"{style}/>")
}

/// Triangles in the colour of their first corner: neighbours of one hue are made of many.
fn triangles(out: &mut String, mesh: &Mesh) -> fmt::Result {
    for three in mesh.indices.chunks_exact(3) {
        let corner = |at: &u32| mesh.vertices.get(usize::try_from(*at).unwrap_or(usize::MAX));
        let found: Vec<_> = three.iter().filter_map(corner).collect();
        let Some(first) = found.first().filter(|_| found.len() == 3) else { continue };
        let points: Vec<Pos2> = found.iter().map(|it| it.pos).collect();
        // A hair of outline closes the seams between triangles.
        let style = paint("fill", first.color) + &outline(Stroke::new(0.4, first.color));
        corners(out, "polygon", &points, &style)?;
    }
    Ok(())
}

fn text(out: &mut String, it: &TextShape) -> fmt::Result {
    // A letter's kind is that of its place in the text; an ellipsis has the last one.
    let job = &it.galley.job;
    let kind_at = |place: usize| {
        let ends = job.sections.iter().position(|it| place < it.byte_range.end.0);
        ends.unwrap_or(job.sections.len().saturating_sub(1))
    };
    let mut rest = job.text.char_indices();
    for row in &it.galley.rows {
        let mut kinds = Vec::with_capacity(row.row.glyphs.len());
        for _ in &row.row.glyphs {
            kinds.push(kind_at(rest.next().map_or(job.text.len(), |(place, _)| place)));
        }
        if row.ends_with_newline {
            rest.next();
        }
        let pairs: Vec<(&Glyph, usize)> = row.row.glyphs.iter().zip(kinds).collect();
        for run in pairs.chunk_by(|(_, a), (_, b)| a == b) {
            words(out, it, row, run)?;
        }
    }
    Ok(())
}

/// Letters of one kind in a row, each where the screen has it.
fn words(
    out: &mut String,
    it: &TextShape,
    row: &PlacedRow,
    run: &[(&Glyph, usize)],
) -> fmt::Result {
    let Some((first, kind)) = run.first() else { return Ok(()) };
    if run.iter().all(|(it, _)| it.chr.is_whitespace()) {
        return Ok(());
    }
    let Some(format) = it.galley.job.sections.get(*kind).map(|it| &it.format) else {
        return Ok(());
    };
    let own = if format.color == Color32::PLACEHOLDER { it.fallback_color } else { format.color };
    let ink = it.override_text_color.unwrap_or(own).gamma_multiply(it.opacity_factor);
    let origin = it.pos + row.pos.to_vec2();
    write!(out, "<text x=\"")?;
    for (glyph, _) in run {
        write!(out, "{:.2} ", origin.x + glyph.pos.x)?;
    }
    let y = origin.y + first.pos.y;
    let size = format.font_id.size;
    let bold = if format.font_id.family == fonts::bold() { " font-weight=\"bold\"" } else { "" };
    let turn = if it.angle.abs() < 1e-6 {
        String::new()
    } else {
        let (degrees, x, y) = (it.angle.to_degrees(), it.pos.x, it.pos.y);
        format!(" transform=\"rotate({degrees} {x} {y})\"")
    };
    write!(out, "\" y=\"{y:.2}\" font-size=\"{size}\"{bold}{}{turn}>", paint("fill", ink))?;
    for (glyph, _) in run {
        match glyph.chr {
            '<' => out.write_str("&lt;")?,
            '>' => out.write_str("&gt;")?,
            '&' => out.write_str("&amp;")?,
            other => out.write_char(other)?,
        }
    }
    writeln!(out, "</text>")
}

#[test]
fn shapes_outside_the_frame_are_left_out_and_words_are_escaped() {
    let frame = Rect::from_min_max(egui::pos2(10.0, 0.0), egui::pos2(110.0, 50.0));
    let rect = |x: f32| {
        let rect = Rect::from_min_size(egui::pos2(x, 5.0), egui::vec2(4.0, 4.0));
        let shape = Shape::rect_filled(rect, 0.0, Color32::BLACK);
        ClippedShape::new(rect, shape)
    };
    let drawn = svg([rect(2.0), rect(20.0)].iter(), frame);
    assert_eq!(drawn.matches("<rect").count(), 2, "one clip and one box: {drawn}");
    assert!(drawn.contains("viewBox=\"10 0 100 50\"") && drawn.ends_with("</g>\n</svg>\n"));
    let context = egui::Context::default();
    context.set_fonts(fonts::definitions());
    let mut drawn = String::new();
    let output = context.run_ui(egui::RawInput::default(), |ui| {
        let font = egui::FontId::new(12.0, fonts::bold());
        let place = egui::pos2(20.0, 20.0);
        ui.painter().text(place, egui::Align2::LEFT_TOP, "a < b & c", font, Color32::BLACK);
        let layer = ui.layer_id();
        drawn = ui.ctx().graphics(|it| {
            svg(it.get(layer).into_iter().flat_map(egui::layers::PaintList::all_entries), frame)
        });
    });
    output.drop_without_applying_deltas();
    assert!(drawn.contains(">a &lt; b &amp; c</text>"), "{drawn}");
    assert!(drawn.contains("font-weight=\"bold\""), "{drawn}");
}
