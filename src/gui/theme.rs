//! Every colour, size and text role of the window, named by meaning.
//!
//! Knows the light and the dark [`Tokens`], the [text roles](body) and the touch sizes, and teaches
//! them to egui in [`install`]. Refuses to know widgets. No other file makes a colour: a new meaning
//! gets a token here first. Meaning is never colour alone: see [`crate::gui::marks`].

use crate::gui::fonts;
use egui::{Color32, CornerRadius, FontId, Stroke, TextStyle, Theme, Vec2, Visuals, style};

/// The palette of one theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tokens {
    /// Behind the panels.
    pub ground: Color32,
    /// The left rail, and tabs that are not chosen.
    pub rail: Color32,
    /// Panels.
    pub paper: Color32,
    /// Inputs, chips, the chosen row.
    pub field: Color32,
    /// Values, outlines, data.
    pub ink: Color32,
    /// Labels and part names.
    pub ink2: Color32,
    /// Captions, sources, units.
    pub ink3: Color32,
    /// The outline of anything that can be tapped.
    pub edge: Color32,
    /// Dividers and interval bars; never the only cue.
    pub line: Color32,
    /// Panel outline, slider track, faint grid.
    pub soft: Color32,
    /// The previous session.
    pub ghost: Color32,
    /// You are here, your hand, the one primary button.
    pub accent: Color32,
    /// The current column, the chosen option, the forecast fan.
    pub accent_tint: Color32,
    /// Text on accent.
    pub on_accent: Color32,
    /// Set range and working.
    pub ok: Color32,
    /// Behind the set range and a good verdict.
    pub ok_tint: Color32,
    /// Near or past a working limit.
    pub watch: Color32,
    /// Behind a verdict to watch, and cautions.
    pub watch_tint: Color32,
    /// Past a stop limit.
    pub stop: Color32,
    /// Behind a stop verdict.
    pub stop_tint: Color32,
    /// The sign inside a solid stop mark.
    pub on_stop: Color32,
    /// The estimated hot gap, and nothing else.
    pub hot: Color32,
    /// Jaw cheeks in the drawing.
    pub steel: Color32,
    /// The upper jaw in the drawing.
    pub steel2: Color32,
    /// Blades in the drawing.
    pub blade: Color32,
    /// Hatching of cut metal in the drawing.
    pub hatch: Color32,
    /// Temper colours a streak can have, palest first: straw, brown, purple, blue.
    pub temper: [Color32; 4],
}

impl Tokens {
    /// Workshop paper.
    pub const LIGHT: Self = Self {
        ground: hex(0xE8_EA_E5),
        rail: hex(0xDA_DE_D8),
        paper: hex(0xF6_F7_F3),
        field: hex(0xFF_FF_FF),
        ink: hex(0x15_24_2C),
        ink2: hex(0x37_49_52),
        ink3: hex(0x4F_60_68),
        edge: hex(0x74_81_80),
        line: hex(0xA6_B0_AD),
        soft: hex(0xD3_D9_D3),
        ghost: hex(0xB4_BD_BA),
        accent: hex(0xB1_3E_0A),
        accent_tint: hex(0xF8_E3_D4),
        on_accent: hex(0xFF_FF_FF),
        ok: hex(0x1B_66_57),
        ok_tint: hex(0xD3_E8_E0),
        watch: hex(0x7A_56_00),
        watch_tint: hex(0xF2_E6_C2),
        stop: hex(0xA1_0F_39),
        stop_tint: hex(0xF5_DC_E1),
        on_stop: hex(0xFF_FF_FF),
        hot: hex(0x6A_3C_80),
        steel: hex(0xDF_E4_E0),
        steel2: hex(0xCC_D4_D0),
        blade: hex(0xE6_EB_E8),
        hatch: hex(0xB3_BD_BA),
        temper: TEMPER,
    };

    /// The same sheet at night.
    pub const DARK: Self = Self {
        ground: hex(0x10_17_1B),
        rail: hex(0x0B_11_14),
        paper: hex(0x18_21_27),
        field: hex(0x0D_13_17),
        ink: hex(0xE9_EF_EC),
        ink2: hex(0xBA_C6_C7),
        ink3: hex(0x93_A2_A7),
        edge: hex(0x6B_7C_84),
        line: hex(0x4A_5A_62),
        soft: hex(0x2C_38_3F),
        ghost: hex(0x51_61_6A),
        accent: hex(0xF2_8C_4E),
        accent_tint: hex(0x3D_27_18),
        on_accent: hex(0x1B_0E_05),
        ok: hex(0x71_C9_B0),
        ok_tint: hex(0x19_3A_34),
        watch: hex(0xE3_BB_52),
        watch_tint: hex(0x3A_31_17),
        stop: hex(0xFF_80_98),
        stop_tint: hex(0x45_1B_26),
        on_stop: hex(0x0D_13_17),
        hot: hex(0xCB_A0_E2),
        steel: hex(0x25_31_3A),
        steel2: hex(0x30_3E_47),
        blade: hex(0x2E_3B_43),
        hatch: hex(0x43_53_5B),
        temper: TEMPER,
    };

    /// The palette of `theme`.
    pub const fn of(theme: Theme) -> &'static Self {
        match theme {
            Theme::Light => &Self::LIGHT,
            Theme::Dark => &Self::DARK,
        }
    }
}

/// Steel keeps its colours whatever the screen does: 220, 255, 280 and 295 °C.
const TEMPER: [Color32; 4] = [hex(0xE2_C0_56), hex(0xA0_5E_2A), hex(0x69_3A_80), hex(0x2D_52_A0)];

/// Clean steel as it is drawn, with the temperature up to which it stays bare.
const BARE: (f64, Color32) = (195.0, hex(0xD3_DA_D6));

/// The temper scale: temperatures in °C and the colours between which a face runs.
const TEMPER_SCALE: [(f64, Color32); 11] = [
    BARE,
    (206.0, hex(0xE9_DD_A9)),
    (220.0, hex(0xE2_C0_56)),
    (240.0, hex(0xCB_92_33)),
    (255.0, hex(0xA0_5E_2A)),
    (270.0, hex(0x7D_3D_52)),
    (280.0, hex(0x69_3A_80)),
    (295.0, hex(0x2D_52_A0)),
    (310.0, hex(0x48_78_B4)),
    (330.0, hex(0x7A_95_A5)),
    (360.0, hex(0x8B_96_99)),
];

/// The colour of a steel face at this temperature, the same whatever the screen does.
pub fn temper(c: f64) -> Color32 {
    let mut below = BARE;
    for above in TEMPER_SCALE {
        if c <= above.0 {
            let share = (c - below.0) / (above.0 - below.0).max(1e-9);
            let share = crate::gui::paint::screen(share.clamp(0.0, 1.0));
            return below.1.lerp_to_gamma(above.1, share);
        }
        below = above;
    }
    below.1
}

/// The palette of the theme that is shown.
pub fn tokens(ui: &egui::Ui) -> &'static Tokens {
    tokens_of(ui.ctx())
}

/// The palette of the theme that is shown, where only the context is at hand.
pub fn tokens_of(ctx: &egui::Context) -> &'static Tokens {
    Tokens::of(ctx.theme())
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
    for theme in [Theme::Light, Theme::Dark] {
        ctx.style_mut_of(theme, |style| dress(style, theme));
    }
}

fn dress(style: &mut egui::Style, theme: Theme) {
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
    style.visuals = visuals(theme);

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
    spacing.scroll = style::ScrollStyle::solid();
}

fn visuals(theme: Theme) -> Visuals {
    let t = Tokens::of(theme);
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

#[expect(clippy::disallowed_methods, reason = "the one place where a colour is made")]
const fn hex(rgb: u32) -> Color32 {
    let [_, r, g, b] = rgb.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrast ratio of WCAG 2.2, *relative luminance* and *contrast ratio* in its glossary.
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |colour: Color32| {
            let [r, g, b] = [colour.r(), colour.g(), colour.b()].map(|channel| {
                let c = f64::from(channel) / 255.0;
                if c <= 0.040_45 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
            });
            0.2126 * r + 0.7152 * g + 0.0722 * b
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn black_on_white_is_twenty_one_to_one() {
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
    }

    #[test]
    fn every_text_colour_reads_on_every_ground_it_stands_on() {
        for t in [Tokens::LIGHT, Tokens::DARK] {
            let text = [t.ink, t.ink2, t.ink3, t.accent, t.ok, t.watch, t.stop, t.hot];
            for (ground, name) in [(t.paper, "paper"), (t.field, "field")] {
                for colour in text {
                    let ratio = contrast(colour, ground);
                    assert!(4.5 <= ratio, "{colour:?} on {name}: {ratio:.2}");
                }
            }
            for (colour, ground, least) in [
                (t.on_accent, t.accent, 4.5),
                (t.on_stop, t.stop, 4.5),
                (t.accent, t.accent_tint, 4.5),
                (t.ink, t.ok_tint, 10.0),
                (t.ink, t.watch_tint, 10.0),
                (t.ink, t.stop_tint, 10.0),
                (t.ink2, t.rail, 4.5),
                (t.ink2, t.ground, 4.5),
                (t.ink2, t.steel, 4.5),
                (t.ink2, t.steel2, 4.5),
                (t.ink2, t.blade, 4.5),
                // Not text: WCAG asks 3 for the outline of a control.
                (t.edge, t.paper, 3.0),
                (t.edge, t.field, 3.0),
            ] {
                let ratio = contrast(colour, ground);
                assert!(least <= ratio, "{colour:?} on {ground:?}: {ratio:.2} under {least}");
            }
        }
    }
}
