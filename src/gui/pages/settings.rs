//! How this window looks: size of text, colours, contrast, motion.

use crate::{
    gui::{
        commands::Deed,
        pages::Sight,
        widgets::{divider, heading, paragraph, segmented},
    },
    language::{self, Language, sentence, tell},
    store::{Colours, Contrast, Look, Motion, Speech},
};
use egui::Ui;

const COLOURS: [(Colours, &str); 3] = [
    (Colours::AsTheDesktop, sentence!("as the desktop")),
    (Colours::Light, sentence!("light")),
    (Colours::Dark, sentence!("dark")),
];
const CONTRAST: [(Contrast, &str); 2] =
    [(Contrast::Usual, sentence!("usual")), (Contrast::High, sentence!("high"))];
const MOTION: [(Motion, &str); 2] =
    [(Motion::Smooth, sentence!("smooth")), (Motion::Reduced, sentence!("reduced"))];
/// A language is written as those call it who are looking for it.
const SPEECH: [(Speech, &str); 3] = [
    (Speech::AsTheDesktop, sentence!("as the desktop")),
    (Speech::English, Language::English.name()),
    (Speech::German, Language::German.name()),
];

/// What somebody with this look reads, whose desktop speaks `desktop`.
pub(crate) const fn language_of(look: Look, desktop: Language) -> Language {
    match look.speech {
        Speech::AsTheDesktop => desktop,
        Speech::English => Language::English,
        Speech::German => Language::German,
    }
}

pub(super) fn show(ui: &mut Ui, sight: &Sight<'_>, asked: &mut Vec<Deed>) {
    let look = sight.look;
    let sizes = Look::SIZES.map(|percent| (percent, format!("{percent} %")));
    let sizes: Vec<(u16, &str)> = sizes.iter().map(|(of, word)| (*of, word.as_str())).collect();
    let about = tell!("Everything grows with its text. What no longer fits the window scrolls.");
    let new = [
        choice(ui, (tell!("Text"), "text", about), &sizes, look.text_percent)
            .map(|text_percent| Look { text_percent, ..look }),
        choice(
            ui,
            (tell!("Colours"), "colours", tell!("Dark ones are easier on the eyes at night.")),
            &COLOURS,
            look.colours,
        )
        .map(|colours| Look { colours, ..look }),
        choice(
            ui,
            (
                tell!("Contrast"),
                "contrast",
                tell!("High contrast is black and white, for bright sun and tired eyes."),
            ),
            &CONTRAST,
            look.contrast,
        )
        .map(|contrast| Look { contrast, ..look }),
        choice(
            ui,
            (
                tell!("Motion"),
                "motion",
                tell!("Reduced: a shift that plays on Heat goes in steps of half an hour."),
            ),
            &MOTION,
            look.motion,
        )
        .map(|motion| Look { motion, ..look }),
        choice(
            ui,
            (
                tell!("Language"),
                "language",
                tell!("Also of job sheets that are written here. Tables and files stay English."),
            ),
            &SPEECH,
            look.speech,
        )
        .map(|speech| Look { speech, ..look }),
    ];
    asked.extend(new.into_iter().flatten().map(Deed::Wear));
    divider(ui);
    let kept = match sight.kept {
        Some(folder) => tell!(
            "Kept for you on this computer, in {file}. It is no part of the yard.",
            file = folder.join("window.ron").display()
        ),
        None => tell!(
            "This system names no folder for your settings, so they hold until the window is closed."
        )
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
    let words: Vec<&str> = of.iter().map(|(_, word)| language::known(word)).collect();
    let on = of.iter().position(|(it, _)| *it == now).unwrap_or_default();
    let tapped = segmented(ui, name, &words, on);
    paragraph(ui, about);
    ui.add_space(8.0);
    of.get(tapped?).map(|(it, _)| *it).filter(|it| *it != now)
}
