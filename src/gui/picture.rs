//! A picture of the screen, without the rail, as a PNG.
//!
//! Asks the window for its pixels and makes a file's bytes of them when they come, some frames
//! later. Refuses to know where the file goes.

use egui::{ColorImage, Context};
use std::sync::{
    Arc,
    mpsc::{Receiver, channel},
};

/// A picture that was asked for, and the name it is to have.
pub(super) struct Asked {
    name: String,
    comes: Receiver<Arc<ColorImage>>,
}

/// Asks for a picture of the frame that is painted next.
pub(super) fn ask(ctx: &Context, name: String) -> Asked {
    let (sender, comes) = channel();
    let again = ctx.clone();
    ctx.request_screenshot(move |image| {
        // A send fails only after the window is gone, and then nobody wants the picture.
        drop(sender.send(image));
        again.request_repaint();
    });
    Asked { name, comes }
}

/// The picture with its name, once it has come; gives the question back until then.
pub(super) fn taken(asked: Asked) -> Result<(String, Arc<ColorImage>), Asked> {
    match asked.comes.try_recv() {
        Ok(image) => Ok((asked.name, image)),
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
