//! The palettes, and the colours of steel.
//!
//! Knows every colour of the window by its meaning, and holds each pair that stands one on the other
//! to a contrast. Refuses to know where they are painted.

use crate::store::Contrast;
use egui::{Color32, Theme};

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

    /// Black on white, for bright sun and tired eyes.
    pub const HIGH_LIGHT: Self = Self {
        ground: hex(0xFF_FF_FF),
        rail: hex(0xF0_F0_F0),
        paper: hex(0xFF_FF_FF),
        field: hex(0xFF_FF_FF),
        ink: hex(0x00_00_00),
        ink2: hex(0x14_1C_20),
        ink3: hex(0x26_32_38),
        edge: hex(0x2E_3A_40),
        line: hex(0x4A_56_5C),
        soft: hex(0x76_82_86),
        ghost: hex(0x76_82_86),
        accent: hex(0x7E_28_00),
        accent_tint: hex(0xFB_EA_DF),
        on_accent: hex(0xFF_FF_FF),
        ok: hex(0x00_47_3A),
        ok_tint: hex(0xDD_F1_EA),
        watch: hex(0x50_38_00),
        watch_tint: hex(0xF8_EE_D2),
        stop: hex(0x7C_00_26),
        stop_tint: hex(0xFB_E6_EB),
        on_stop: hex(0xFF_FF_FF),
        hot: hex(0x4B_1E_62),
        steel: hex(0xF2_F4_F2),
        steel2: hex(0xE6_EA_E8),
        blade: hex(0xFA_FB_FA),
        hatch: hex(0x76_82_86),
        temper: TEMPER,
    };

    /// White on black.
    pub const HIGH_DARK: Self = Self {
        ground: hex(0x00_00_00),
        rail: hex(0x12_12_12),
        paper: hex(0x00_00_00),
        field: hex(0x00_00_00),
        ink: hex(0xFF_FF_FF),
        ink2: hex(0xEE_F2_F2),
        ink3: hex(0xD6_DC_DC),
        edge: hex(0xC4_CC_CC),
        line: hex(0x9A_A6_AA),
        soft: hex(0x76_82_86),
        ghost: hex(0x80_8C_90),
        accent: hex(0xFF_B0_80),
        accent_tint: hex(0x30_1C_0E),
        on_accent: hex(0x00_00_00),
        ok: hex(0x9C_EC_D6),
        ok_tint: hex(0x0C_2A_24),
        watch: hex(0xFF_DE_84),
        watch_tint: hex(0x2C_24_08),
        stop: hex(0xFF_AE_BE),
        stop_tint: hex(0x36_0E_1A),
        on_stop: hex(0x00_00_00),
        hot: hex(0xE4_C6_F4),
        steel: hex(0x16_1C_20),
        steel2: hex(0x20_28_2C),
        blade: hex(0x1C_24_28),
        hatch: hex(0x76_82_86),
        temper: TEMPER,
    };

    /// The palette of `theme` at this contrast.
    pub const fn of(theme: Theme, contrast: Contrast) -> &'static Self {
        match (theme, contrast) {
            (Theme::Light, Contrast::Usual) => &Self::LIGHT,
            (Theme::Dark, Contrast::Usual) => &Self::DARK,
            (Theme::Light, Contrast::High) => &Self::HIGH_LIGHT,
            (Theme::Dark, Contrast::High) => &Self::HIGH_DARK,
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

#[expect(clippy::disallowed_methods, reason = "the one place where a colour is made")]
const fn hex(rgb: u32) -> Color32 {
    let [_, r, g, b] = rgb.to_be_bytes();
    Color32::from_rgb(r, g, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrast ratio of WCAG 2.2 (W3C), *relative luminance* and *contrast ratio* in its glossary.
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

    type Named = (&'static str, Color32);

    /// What is read on what: text, and the grounds it stands on.
    fn text_pairs(t: &Tokens) -> Vec<(Named, Named)> {
        let ink = ("ink", t.ink);
        let inks = [ink, ("ink2", t.ink2), ("ink3", t.ink3)];
        let status = [("ok", t.ok), ("watch", t.watch), ("stop", t.stop), ("hot", t.hot)];
        let accent = ("accent", t.accent);
        let sheets = [("paper", t.paper), ("field", t.field)];
        let tints = [
            ("ok tint", t.ok_tint),
            ("watch tint", t.watch_tint),
            ("stop tint", t.stop_tint),
            ("accent tint", t.accent_tint),
        ];
        let steels = [("steel", t.steel), ("steel2", t.steel2), ("blade", t.blade)];
        let mut pairs = Vec::new();
        for sheet in sheets {
            pairs.extend(inks.into_iter().chain(status).chain([accent]).map(|it| (it, sheet)));
        }
        for ground in [("ground", t.ground), ("rail", t.rail)] {
            pairs.extend(inks.map(|it| (it, ground)));
        }
        for tint in tints {
            pairs.extend([ink, ("ink2", t.ink2)].map(|it| (it, tint)));
        }
        for steel in steels {
            pairs.extend([ink, ("ink2", t.ink2)].map(|it| (it, steel)));
        }
        pairs.extend([
            (accent, ("accent tint", t.accent_tint)),
            (("ok", t.ok), ("ok tint", t.ok_tint)),
            (("watch", t.watch), ("watch tint", t.watch_tint)),
            (("stop", t.stop), ("stop tint", t.stop_tint)),
            (("on accent", t.on_accent), accent),
            (("on stop", t.on_stop), ("stop", t.stop)),
            // The chosen part of a switch.
            (("field", t.field), ink),
        ]);
        pairs
    }

    /// What is seen but not read: outlines of controls, marks, the bar that says *you are here*.
    fn shape_pairs(t: &Tokens) -> Vec<(Named, Named)> {
        let mut pairs = Vec::new();
        for sheet in [("paper", t.paper), ("field", t.field)] {
            pairs.push((("edge", t.edge), sheet));
        }
        for ground in [("ground", t.ground), ("rail", t.rail)] {
            pairs.extend(
                [("ink", t.ink), ("accent", t.accent), ("stop", t.stop)].map(|it| (it, ground)),
            );
        }
        pairs
    }

    #[test]
    fn black_on_white_is_twenty_one_to_one() {
        assert!((contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
    }

    /// WCAG 2.2 asks 4.5 for text (1.4.3) and 3 for what is no text (1.4.11); its stricter level
    /// asks 7 for text (1.4.6), which the two high palettes hold.
    #[test]
    fn every_colour_stands_out_from_every_ground_it_stands_on() {
        for (name, t, text, shape) in [
            ("light", Tokens::LIGHT, 4.5, 3.0),
            ("dark", Tokens::DARK, 4.5, 3.0),
            ("high light", Tokens::HIGH_LIGHT, 7.0, 4.5),
            ("high dark", Tokens::HIGH_DARK, 7.0, 4.5),
        ] {
            let all = [(text_pairs(&t), text), (shape_pairs(&t), shape)];
            for (pairs, least) in all {
                for ((of, colour), (on, ground)) in pairs {
                    let ratio = contrast(colour, ground);
                    assert!(least <= ratio, "{name}: {of} on {on} is {ratio:.2}, under {least}");
                }
            }
        }
    }
}
