//! Pictures without a window: egui's triangles painted into memory.
//!
//! Knows how to fill textured triangles on whole numbers, so that the same shapes give the same
//! bytes on every machine. Refuses to know what is on them. Pictures of ours are never compared
//! with those of another renderer.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::indexing_slicing,
    clippy::iter_over_hash_type,
    reason = "a rasteriser goes between pixels and points, stays inside its clip, and fills by texture in any order"
)]

use egui::{
    ClippedPrimitive, ColorImage, ImageData, TextureFilter, TextureId, TexturesDelta,
    epaint::{Primitive, Vertex},
};
use std::collections::HashMap;

/// Paints egui's triangles into memory.
#[derive(Debug, Default)]
pub struct Canvas {
    textures: HashMap<TextureId, (ColorImage, TextureFilter)>,
}

impl Canvas {
    /// Takes over what changed in the textures, and leaves nothing behind.
    pub fn take(&mut self, delta: &mut TexturesDelta) {
        for (id, parts) in delta.set.drain() {
            for part in parts {
                let ImageData::Color(image) = &part.image;
                let Some([left, top]) = part.pos else {
                    let whole = ((**image).clone(), part.options.magnification);
                    self.textures.insert(id, whole);
                    continue;
                };
                // A patch for a texture that was never there has nothing to be painted on.
                let Some((whole, _)) = self.textures.get_mut(&id) else { continue };
                let (stride, width) = (whole.width(), image.width());
                for (row, pixels) in image.pixels.chunks_exact(width).enumerate() {
                    let start = (top + row) * stride + left;
                    whole.pixels[start..start + width].copy_from_slice(pixels);
                }
            }
        }
        for id in delta.free.drain() {
            self.textures.remove(&id);
        }
    }

    /// Paints onto black; `size` is in pixels, `scale` in pixels a point.
    pub fn paint(
        &self,
        primitives: &[ClippedPrimitive],
        size: [usize; 2],
        scale: f32,
    ) -> ColorImage {
        let [width, height] = size;
        let mut target = Target { width, height, pixels: vec![BLACK; width * height] };
        for primitive in primitives {
            self.fill(&mut target, scale, primitive);
        }
        ColorImage::from_rgba_premultiplied(size, target.pixels.as_flattened())
    }

    fn fill(&self, target: &mut Target, scale: f32, primitive: &ClippedPrimitive) {
        let Primitive::Mesh(mesh) = &primitive.primitive else { return };
        let Some((image, filter)) = self.textures.get(&mesh.texture_id) else { return };
        let clip = primitive.clip_rect * scale;
        let clip = [
            (
                clip.min.x.round().max(0.0) as i64,
                clip.max.x.round().min(target.width as f32) as i64,
            ),
            (
                clip.min.y.round().max(0.0) as i64,
                clip.max.y.round().min(target.height as f32) as i64,
            ),
        ];
        for corners in mesh.indices.chunks_exact(3) {
            let corners = [0, 1, 2].map(|k| mesh.vertices[corners[k] as usize]);
            triangle(target, clip, scale, corners, |u, v| sample(image, *filter, u, v));
        }
    }
}

struct Target {
    width: usize,
    height: usize,
    pixels: Vec<Pixel>,
}

/// Red, green, blue and how much it hides, already multiplied by that.
type Pixel = [u8; 4];

const BLACK: Pixel = [0, 0, 0, 255];

/// Positions are counted in these fractions of a pixel, so that coverage is a whole-number question.
const GRAIN: i64 = 256;

/// One side of a triangle: positive inside, zero on the side itself.
struct Side {
    per_x: i64,
    per_y: i64,
    at_zero: i64,
    /// Who owns a pixel whose middle lies on the side: 0 if this triangle does, otherwise 1.
    least: i64,
}

impl Side {
    fn new([ax, ay]: [i64; 2], [bx, by]: [i64; 2]) -> Self {
        let (per_x, per_y) = (ay - by, bx - ax);
        // The top-left rule: two triangles that share a side never both paint a pixel on it.
        let owns = (ay == by && ax < bx) || by < ay;
        Self { per_x, per_y, at_zero: -(per_x * ax + per_y * ay), least: i64::from(!owns) }
    }

    /// The value at the middle of a pixel.
    fn at(&self, x: i64, y: i64) -> i64 {
        let middle = |pixel: i64| pixel * GRAIN + GRAIN / 2;
        self.per_x * middle(x) + self.per_y * middle(y) + self.at_zero
    }

    /// Narrows a run of pixels in row `y` to those inside.
    fn narrow(&self, (from, to): (i64, i64), y: i64) -> (i64, i64) {
        let (start, step) = (self.at(from, y) - self.least, self.per_x * GRAIN);
        match step.signum() {
            1 if start < 0 => (from + (-start + step - 1) / step, to),
            -1 if start < 0 => (from, from),
            -1 => (from, to.min(from + start / -step + 1)),
            0 if start < 0 => (from, from),
            _ => (from, to),
        }
    }
}

fn triangle(
    target: &mut Target,
    [clip_x, clip_y]: [(i64, i64); 2],
    scale: f32,
    mut corners: [Vertex; 3],
    texel: impl Fn(f32, f32) -> [f32; 4],
) {
    let grid = |vertex: &Vertex| {
        [vertex.pos.x, vertex.pos.y].map(|p| (p * scale * GRAIN as f32).round() as i64)
    };
    let mut at = [0, 1, 2].map(|k| grid(&corners[k]));
    let mut area = Side::new(at[0], at[1]).value(at[2]);
    if area < 0 {
        corners.swap(1, 2);
        at.swap(1, 2);
        area = -area;
    }
    if area == 0 {
        return;
    }
    let sides = [Side::new(at[1], at[2]), Side::new(at[2], at[0]), Side::new(at[0], at[1])];
    let span = |axis: usize, (low, high): (i64, i64)| {
        let [a, b, c] = at.map(|p| p[axis]);
        let first = a.min(b).min(c).div_euclid(GRAIN);
        (first.max(low), (a.max(b).max(c).div_euclid(GRAIN) + 1).min(high))
    };
    let ((left, right), (top, bottom)) = (span(0, clip_x), span(1, clip_y));

    let [a, b, c] = corners;
    let tints = corners.map(|v| v.color.to_array().map(f32::from));
    let one_texel = (a.uv == b.uv && b.uv == c.uv).then(|| texel(a.uv.x, a.uv.y));
    let flat = one_texel.filter(|_| a.color == b.color && b.color == c.color);
    let flat = flat.map(|texel| tinted(tints[0], texel));
    for y in top..bottom {
        let (from, to) = sides.iter().fold((left, right), |run, side| side.narrow(run, y));
        for x in from..to {
            let pixel = &mut target.pixels[y as usize * target.width + x as usize];
            let paint = flat.unwrap_or_else(|| {
                let share = [0, 1, 2].map(|k| sides[k].at(x, y) as f32 / area as f32);
                let mix = |values: [f32; 3]| (0..3).map(|k| share[k] * values[k]).sum::<f32>();
                let tint = [0, 1, 2, 3].map(|channel| mix(tints.map(|tint| tint[channel])));
                let texel = one_texel.unwrap_or_else(|| {
                    texel(mix(corners.map(|v| v.uv.x)), mix(corners.map(|v| v.uv.y)))
                });
                tinted(tint, texel)
            });
            *pixel = over(paint, *pixel);
        }
    }
}

impl Side {
    fn value(&self, [x, y]: [i64; 2]) -> i64 {
        self.per_x * x + self.per_y * y + self.at_zero
    }
}

fn tinted(tint: [f32; 4], texel: [f32; 4]) -> Pixel {
    [0, 1, 2, 3].map(|k| (tint[k] * texel[k] / 255.0).round() as u8)
}

/// Premultiplied source over destination, rounded as an eight-bit framebuffer does.
fn over(source: Pixel, below: Pixel) -> Pixel {
    let hides = 255 - u16::from(source[3]);
    if hides == 0 {
        return source;
    }
    [0, 1, 2, 3].map(|k| {
        let sum = u16::from(source[k]) + (u16::from(below[k]) * hides + 127) / 255;
        u8::try_from(sum).unwrap_or(u8::MAX)
    })
}

fn sample(image: &ColorImage, filter: TextureFilter, u: f32, v: f32) -> [f32; 4] {
    let [width, height] = image.size;
    let pixel = |x: f32, y: f32| {
        let x = x.clamp(0.0, width as f32 - 1.0) as usize;
        let y = y.clamp(0.0, height as f32 - 1.0) as usize;
        image.pixels[y * width + x].to_array().map(f32::from)
    };
    let (x, y) = (u * width as f32, v * height as f32);
    if filter == TextureFilter::Nearest {
        return pixel(x.floor(), y.floor());
    }
    let (x, y) = (x - 0.5, y - 0.5);
    let (left, top) = (x.floor(), y.floor());
    let (right_share, low_share) = (x - left, y - top);
    let near = [pixel(left, top), pixel(left + 1.0, top)];
    let far = [pixel(left, top + 1.0), pixel(left + 1.0, top + 1.0)];
    let mix = |a: f32, b: f32, share: f32| a + (b - a) * share;
    [0, 1, 2, 3].map(|k| {
        let above = mix(near[0][k], near[1][k], right_share);
        let below = mix(far[0][k], far[1][k], right_share);
        mix(above, below, low_share)
    })
}

#[test]
fn triangles_that_share_a_side_paint_every_pixel_once() {
    let half = egui::Color32::GRAY.gamma_multiply(0.5);
    let corner = |x, y| Vertex { pos: egui::pos2(x, y), uv: egui::Pos2::ZERO, color: half };
    let square = [corner(0.0, 0.0), corner(9.5, 0.0), corner(9.5, 7.5), corner(0.0, 7.5)];
    let mut target = Target { width: 12, height: 9, pixels: vec![BLACK; 12 * 9] };
    for corners in [[0, 1, 2], [0, 3, 2]].map(|half| half.map(|it: usize| square[it])) {
        triangle(&mut target, [(0, 12), (0, 9)], 1.0, corners, |_, _| [255.0; 4]);
    }
    let once = over(half.to_array(), BLACK);
    for (index, pixel) in target.pixels.iter().enumerate() {
        let (x, y) = (index % 12, index / 12);
        // A pixel belongs to the square if its middle does; the middle on the far side does not.
        let expected = if x < 9 && y < 7 { once } else { BLACK };
        assert_eq!(*pixel, expected, "pixel {x}, {y}");
    }
}
