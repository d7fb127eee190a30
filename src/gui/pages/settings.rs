//! How this window looks: size of text, colours, contrast, motion.

use crate::{
    gui::{
        commands::Deed,
        pages::Sight,
        widgets::{divider, heading, paragraph, segmented},
    },
    store::{Colours, Contrast, Look, Motion},
};
use egui::Ui;

const COLOURS: [(Colours, &str); 3] =
    [(Colours::AsTheDesktop, "as the desktop"), (Colours::Light, "light"), (Colours::Dark, "dark")];
const CONTRAST: [(Contrast, &str); 2] = [(Contrast::Usual, "usual"), (Contrast::High, "high")];
const MOTION: [(Motion, &str); 2] = [(Motion::Smooth, "smooth"), (Motion::Reduced, "reduced")];

pub(super) fn show(ui: &mut Ui, sight: &Sight<'_>, asked: &mut Vec<Deed>) {
    let look = sight.look;
    let sizes = Look::SIZES.map(|percent| (percent, format!("{percent} %")));
    let sizes: Vec<(u16, &str)> = sizes.iter().map(|(of, word)| (*of, word.as_str())).collect();
    let about = "Everything grows with its text. What no longer fits the window scrolls.";
    let new = [
        choice(ui, ("Text", "text", about), &sizes, look.text_percent)
            .map(|text_percent| Look { text_percent, ..look }),
        choice(
            ui,
            ("Colours", "colours", "Dark ones are easier on the eyes at night."),
            &COLOURS,
            look.colours,
        )
        .map(|colours| Look { colours, ..look }),
        choice(
            ui,
            (
                "Contrast",
                "contrast",
                "High contrast is black and white, for bright sun and tired eyes.",
            ),
            &CONTRAST,
            look.contrast,
        )
        .map(|contrast| Look { contrast, ..look }),
        choice(
            ui,
            (
                "Motion",
                "motion",
                "Reduced: a shift that plays on Heat goes in steps of half an hour.",
            ),
            &MOTION,
            look.motion,
        )
        .map(|motion| Look { motion, ..look }),
    ];
    asked.extend(new.into_iter().flatten().map(Deed::Wear));
    divider(ui);
    let kept = match sight.kept {
        Some(folder) => format!(
            "Kept for you on this computer, in {}. It is no part of the yard.",
            folder.join("window.ron").display()
        ),
        None => "This system names no folder for your settings, so they hold until the window is \
                 closed."
            .to_owned(),
    };
    paragraph(ui, &kept);
}

/// A head, a switch, and what it is for; the answer is another value than the one that is on.
fn choice<T: Copy + PartialEq>(
    ui: &mut Ui,
    (title, name, about): (&str, &str, &str),
    of: &[(T, &str)],
    now: T,
) -> Option<T> {
    heading(ui, title, "");
    let words: Vec<&str> = of.iter().map(|(_, word)| *word).collect();
    let on = of.iter().position(|(it, _)| *it == now).unwrap_or_default();
    let tapped = segmented(ui, name, &words, on);
    paragraph(ui, about);
    ui.add_space(8.0);
    of.get(tapped?).map(|(it, _)| *it).filter(|it| *it != now)
}
