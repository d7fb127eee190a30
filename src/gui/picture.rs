//! A picture of the screen without the rail, or of a page that no window shows, as a PNG.
//!
//! Asks for pixels and makes a file's bytes of them when they come, some frames later. Refuses to
//! know where the file goes.

use crate::gui::{canvas::Canvas, theme};
use egui::{
    ColorImage, Context, RawInput, Rect, Theme, Ui, Vec2, ViewportId, epaint::ClippedShape,
};
use std::sync::{
    Arc,
    mpsc::{Receiver, channel},
};

/// Which part of the pixels that come is the picture, in points.
#[derive(Clone, Copy, Debug)]
pub(super) enum Part {
    /// All of them.
    Whole,
    /// Without this much at the left.
    RightOf(f32),
}

/// A picture that was asked for, and the name it is to have.
pub(super) struct Asked {
    name: String,
    part: Part,
    comes: Receiver<Arc<ColorImage>>,
}

/// Asks for a picture of the frame that is painted next, or of a part of it.
pub(super) fn ask(ctx: &Context, name: String, part: Part) -> Asked {
    let (sender, comes) = channel();
    let again = ctx.clone();
    ctx.request_screenshot(move |image| {
        // A send fails only after the window is gone, and then nobody wants the picture.
        drop(sender.send(image));
        again.request_repaint();
    });
    Asked { name, part, comes }
}

/// Pixels a point of a page that no window shows: fine enough for print.
const PAGE_SCALE: f32 = 1.5;

/// A page of its own, on paper and of some size in points, laid out.
pub(super) struct Page {
    own: Context,
    canvas: Canvas,
    size: Vec2,
    /// What stands on it.
    pub(super) shapes: Vec<ClippedShape>,
}

/// Lays out a page that no window shows.
pub(super) fn lay_out(size: Vec2, mut add: impl FnMut(&mut Ui)) -> Page {
    let own = Context::default();
    theme::install(&own);
    own.set_theme(Theme::Light);
    let mut canvas = Canvas::default();
    let mut frame = || {
        let screen_rect = Some(Rect::from_min_size(egui::Pos2::ZERO, size));
        let mut input = RawInput { screen_rect, ..RawInput::default() };
        let window = input.viewports.entry(ViewportId::ROOT).or_default();
        window.native_pixels_per_point = Some(PAGE_SCALE);
        let mut output = own.run_ui(input, &mut add);
        canvas.take(&mut output.textures_delta);
        let shapes = std::mem::take(&mut output.shapes);
        output.drop_without_applying_deltas();
        shapes
    };
    // The first frame learns the sizes of what it shows.
    drop(frame());
    let shapes = frame();
    Page { own, canvas, size, shapes }
}

/// A page on its way; a thread paints it.
pub(super) fn page(ctx: &Context, name: String, page: Page) -> Asked {
    let Page { own, canvas, size, shapes } = page;
    let primitives = own.tessellate(shapes, PAGE_SCALE);
    let (sender, comes) = channel();
    let again = ctx.clone();
    std::thread::spawn(move || {
        let pixels = [size.x, size.y].map(|points| {
            (0..usize::from(u16::MAX)).take_while(|it| (*it as f32) < points * PAGE_SCALE).count()
        });
        // A send fails only after the window is gone, and then nobody wants the picture.
        drop(sender.send(Arc::new(canvas.paint(&primitives, pixels, PAGE_SCALE))));
        again.request_repaint();
    });
    Asked { name, part: Part::Whole, comes }
}

/// A picture that has come.
pub(super) struct Taken {
    pub(super) name: String,
    pub(super) part: Part,
    pub(super) image: Arc<ColorImage>,
}

/// The picture, once it has come; gives the question back until then.
pub(super) fn taken(asked: Asked) -> Result<Taken, Asked> {
    match asked.comes.try_recv() {
        Ok(image) => Ok(Taken { name: asked.name, part: asked.part, image }),
        Err(_not_yet) => Err(asked),
    }
}

/// The bytes of a PNG of everything right of `left` pixels.
///
/// # Errors
///
/// What the encoder says; a picture without pixels is one.
pub(super) fn png(image: &ColorImage, left: f32) -> Result<Vec<u8>, png::EncodingError> {
    let [width, height] = image.size;
    let left = (0..width).take_while(|pixel| (*pixel as f32) < left).count();
    let size = |pixels: usize| u32::try_from(pixels).unwrap_or(u32::MAX);
    let rows = image.pixels.chunks(width.max(1));
    let pixels: Vec<u8> = rows
        .flat_map(|row| row.iter().skip(left))
        .flat_map(|pixel| {
            let [red, green, blue, _] = pixel.to_array();
            [red, green, blue]
        })
        .collect();
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, size(width - left), size(height));
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_compression(png::Compression::Fast);
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&pixels)?;
    writer.finish()?;
    Ok(bytes)
}

#[test]
fn a_picture_begins_right_of_the_rail() {
    let mut image = ColorImage::filled([4, 2], egui::Color32::BLACK);
    image.pixels[1] = egui::Color32::WHITE;
    let bytes = png(&image, 1.0).unwrap();
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().unwrap();
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut pixels).unwrap();
    assert_eq!((info.width, info.height), (3, 2));
    assert_eq!(pixels[..6], [255, 255, 255, 0, 0, 0]);
    assert!(png(&image, 9.0).is_err(), "a picture without pixels is none");
}
