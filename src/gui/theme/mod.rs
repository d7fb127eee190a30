//! Every colour, size and text role of the window, named by meaning.
//!
//! Knows the [`Tokens`] of each palette, the [text roles](body) and the touch sizes, and teaches
//! them to egui in [`install`]. Refuses to know widgets. No other file makes a colour: a new meaning
//! gets a token here first. Meaning is never colour alone: see [`crate::gui::marks`].

mod tokens;

pub use tokens::{Tokens, temper};

use crate::{
    gui::fonts,
    store::{Colours, Contrast, Look, Motion},
};
use egui::{Color32, CornerRadius, FontId, Id, Stroke, TextStyle, Theme, Vec2, Visuals, style};

/// The palette of the theme that is shown.
pub fn tokens(ui: &egui::Ui) -> &'static Tokens {
    tokens_of(ui.ctx())
}

/// The palette of the theme that is shown, where only the context is at hand.
pub fn tokens_of(ctx: &egui::Context) -> &'static Tokens {
    Tokens::of(ctx.theme(), contrast(ctx))
}

fn contrast(ctx: &egui::Context) -> Contrast {
    ctx.data(|data| data.get_temp(worn::<Contrast>())).unwrap_or_default()
}

/// Whether pictures may move by themselves.
pub fn motion(ctx: &egui::Context) -> Motion {
    ctx.data(|data| data.get_temp(worn::<Motion>())).unwrap_or_default()
}

/// Where the window's look lies in the memory of egui.
fn worn<T>() -> Id {
    Id::unique(("look", std::any::type_name::<T>()))
}

/// The smallest side of anything a gloved finger must hit.
pub const TOUCH: f32 = 44.0;
/// The height of the one primary button.
pub const PRIMARY: f32 = 60.0;
/// The gap between panels and around the window.
pub const GAP: f32 = 12.0;
/// The inner margin of a panel.
pub const PAD: f32 = 16.0;
/// The corner radius of panels and controls.
pub const RADIUS: CornerRadius = CornerRadius::same(4);
/// The width of the outline that says *chosen* or *you are here*.
pub const CHOSEN: f32 = 2.5;

/// Whether the window is too low for roomy tiles: a small tablet lying flat.
pub fn is_low(ctx: &egui::Context) -> bool {
    ctx.content_rect().height() < 840.0
}

/// The number under the hand.
pub fn number_large() -> FontId {
    FontId::new(48.0, fonts::bold())
}

/// The station that is being measured.
pub fn station_name() -> FontId {
    FontId::new(46.0, fonts::bold())
}

/// The action word of a detail pane.
pub fn action() -> FontId {
    FontId::new(26.0, fonts::bold())
}

/// The action word of a row, and the largest word on a button.
pub fn row_action() -> FontId {
    FontId::new(18.0, fonts::bold())
}

/// Title-block values, verdict lines, hours.
pub fn value() -> FontId {
    FontId::new(16.5, fonts::bold())
}

/// The quiet part beside a [`value`].
pub fn value_quiet() -> FontId {
    FontId::new(16.5, fonts::regular())
}

/// Panel titles and recipes.
pub fn panel_title() -> FontId {
    FontId::new(16.0, fonts::bold())
}

/// Section titles and station names on chips.
pub fn section() -> FontId {
    FontId::new(14.5, fonts::bold())
}

/// Words on buttons.
pub fn button() -> FontId {
    FontId::new(14.5, fonts::bold())
}

/// Running text and reasons.
pub fn body() -> FontId {
    FontId::new(13.0, fonts::regular())
}

/// Numbers in running text.
pub fn body_bold() -> FontId {
    FontId::new(13.0, fonts::bold())
}

/// Chip values, legends, labels.
pub fn chip() -> FontId {
    FontId::new(12.5, fonts::regular())
}

/// A chip value that must be found first.
pub fn chip_bold() -> FontId {
    FontId::new(12.5, fonts::bold())
}

/// Captions, sources, axes. Nothing on screen is smaller.
pub fn caption() -> FontId {
    FontId::new(11.5, fonts::regular())
}

/// A caption that names a limit or a column.
pub fn caption_bold() -> FontId {
    FontId::new(11.5, fonts::bold())
}

/// Teaches egui the typefaces, both palettes and the touch sizes. Call once, at start.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts::definitions());
    // Where the desktop does not say, paper and ink are easier to read in daylight.
    ctx.options_mut(|options| options.fallback_theme = Theme::Light);
    // Sizes are chosen among a few that were looked at, by keys of our own.
    ctx.options_mut(|options| options.zoom_with_keyboard = false);
    colour(ctx, Contrast::Usual);
}

/// Dresses the window as a person likes it.
pub fn wear(ctx: &egui::Context, look: Look) {
    ctx.data_mut(|data| {
        data.insert_temp(worn::<Contrast>(), look.contrast);
        data.insert_temp(worn::<Motion>(), look.motion);
    });
    colour(ctx, look.contrast);
    match look.colours {
        Colours::AsTheDesktop => {}
        Colours::Light => ctx.set_theme(Theme::Light),
        Colours::Dark => ctx.set_theme(Theme::Dark),
    }
    ctx.set_zoom_factor(zoom(look));
}

/// How much larger than drawn everything is.
pub fn zoom(look: Look) -> f32 {
    f32::from(look.text_percent) / 100.0
}

fn colour(ctx: &egui::Context, contrast: Contrast) {
    for theme in [Theme::Light, Theme::Dark] {
        ctx.style_mut_of(theme, |style| dress(style, theme, contrast));
    }
}

fn dress(style: &mut egui::Style, theme: Theme, contrast: Contrast) {
    style.text_styles = [
        (TextStyle::Heading, panel_title()),
        (TextStyle::Body, body()),
        (TextStyle::Button, button()),
        (TextStyle::Small, caption()),
        (TextStyle::Monospace, body()),
    ]
    .into();
    style.drag_value_text_style = TextStyle::Body;
    // Idle must cost nothing, and a gloved hand waits for no fade.
    style.animation_time = 0.0;
    style.scroll_animation = style::ScrollAnimation::none();
    style.visuals = visuals(theme, contrast);

    let spacing = &mut style.spacing;
    spacing.item_spacing = Vec2::splat(8.0);
    spacing.button_padding = Vec2::new(14.0, 8.0);
    spacing.interact_size = Vec2::splat(TOUCH);
    spacing.icon_width = 24.0;
    spacing.icon_width_inner = 14.0;
    spacing.icon_spacing = 8.0;
    spacing.menu_margin = egui::Margin::same(8);
    spacing.window_margin = egui::Margin::same(16);
    spacing.combo_width = 120.0;
    // In ink, since a bar nobody sees says nothing about what lies below.
    spacing.scroll = style::ScrollStyle {
        foreground_color: true,
        dormant_handle_opacity: 0.5,
        active_handle_opacity: 0.7,
        ..style::ScrollStyle::solid()
    };
}

fn visuals(theme: Theme, contrast: Contrast) -> Visuals {
    let t = Tokens::of(theme, contrast);
    let mut visuals = match theme {
        Theme::Light => Visuals::light(),
        Theme::Dark => Visuals::dark(),
    };
    let look = |fill, edge: Stroke, ink: Color32| style::WidgetVisuals {
        bg_fill: fill,
        weak_bg_fill: fill,
        bg_stroke: edge,
        fg_stroke: Stroke::new(1.0, ink),
        corner_radius: RADIUS,
        expansion: 0.0,
    };
    visuals.widgets.noninteractive = look(t.paper, Stroke::new(1.0, t.soft), t.ink2);
    visuals.widgets.inactive = look(t.field, Stroke::new(1.0, t.edge), t.ink);
    visuals.widgets.hovered = look(t.field, Stroke::new(1.5, t.ink2), t.ink);
    visuals.widgets.active = look(t.accent_tint, Stroke::new(CHOSEN, t.accent), t.ink);
    visuals.widgets.open = look(t.field, Stroke::new(1.5, t.ink2), t.ink);
    visuals.selection =
        style::Selection { bg_fill: t.accent_tint, stroke: Stroke::new(CHOSEN, t.accent) };
    visuals.text_cursor.stroke = Stroke::new(2.0, t.accent);
    // A blinking caret would repaint the window for ever.
    visuals.text_cursor.blink = false;
    visuals.weak_text_color = Some(t.ink3);
    visuals.hyperlink_color = t.accent;
    visuals.faint_bg_color = t.rail;
    visuals.extreme_bg_color = t.field;
    visuals.text_edit_bg_color = Some(t.field);
    visuals.code_bg_color = t.field;
    visuals.warn_fg_color = t.watch;
    visuals.error_fg_color = t.stop;
    visuals.panel_fill = t.ground;
    visuals.window_fill = t.paper;
    visuals.window_stroke = Stroke::new(1.0, t.line);
    visuals.window_corner_radius = RADIUS;
    visuals.menu_corner_radius = RADIUS;
    visuals.window_shadow = egui::Shadow::NONE;
    visuals.popup_shadow = egui::Shadow::NONE;
    visuals
}
