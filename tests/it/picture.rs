//! Pictures of the window without a GPU.
//!
//! Knows how strictly two pictures are compared; the painting is the program's own.

use egui::{Color32, Context, FullOutput, TexturesDelta, Theme, Vec2};
use egui_kittest::{Harness, HarnessBuilder, SnapshotOptions, TestRenderer};
use gapwright::gui::{Canvas, theme};

/// A harness dressed like the program, which paints with a [`Canvas`].
pub(crate) fn builder<State>(size: [f32; 2], theme: Theme) -> HarnessBuilder<State> {
    Harness::builder()
        .with_size(Vec2::from(size))
        .with_theme(theme)
        .with_options(options())
        .with_context_setup(theme::install)
        // A thread that has finished asks for one more frame whenever it likes.
        .with_max_steps(16)
        .renderer(Memory::default())
}

/// How strictly a picture is compared: a hue may round differently, nothing may move.
pub(crate) fn options() -> SnapshotOptions {
    SnapshotOptions::new().threshold(0.2).max_failed_pixels(24_usize)
}

/// A window in memory.
#[derive(Default)]
struct Memory(Canvas);

impl TestRenderer for Memory {
    fn handle_delta(&mut self, delta: &mut TexturesDelta) {
        self.0.take(delta);
    }

    fn render(&mut self, ctx: &Context, output: &FullOutput) -> Result<image::RgbaImage, String> {
        let scale = ctx.pixels_per_point();
        let size = (ctx.content_rect().size() * scale).round();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "points become pixels"
        )]
        let [width, height] = [size.x as u32, size.y as u32];
        let primitives = ctx.tessellate(output.shapes.clone(), scale);
        let painted = self.0.paint(&primitives, [width as usize, height as usize], scale);
        let bytes = painted.pixels.iter().flat_map(Color32::to_srgba_unmultiplied).collect();
        image::RgbaImage::from_raw(width, height, bytes)
            .ok_or_else(|| "the picture has a different size from its pixels".to_owned())
    }
}
