//! The help page of a screen, written for who uses it.
//!
//! Knows a little markup: `#` a title, `##` a section, `-` a row, `!` a caution, `**bold**`, and
//! `[[Undo]]` for a command of the table with its keys. The pages are files of their own, one per
//! screen; what they say is theirs.

use crate::{
    gui::{
        commands::{Deed, Page, TABLE, title},
        theme,
        widgets::{Button, heading, paragraph, rich_text},
    },
    language::{self, Language, tell},
    workbench::Screen,
};
use egui::{Frame, Margin, RichText, Stroke, Ui};

macro_rules! pages {
    ($name:literal) => {
        [
            include_str!(concat!("../../../assets/help/", $name, ".md")),
            include_str!(concat!("../../../assets/help/de/", $name, ".md")),
        ]
    };
}

/// The page of a screen, in the language that is spoken.
pub(crate) fn text(screen: Screen) -> &'static str {
    let [english, german] = match screen {
        Screen::Yard => pages!("yard"),
        Screen::Measure => pages!("measure"),
        Screen::Decide => pages!("decide"),
        Screen::Trend => pages!("trend"),
        Screen::Study => pages!("study"),
        Screen::Setup => pages!("setup"),
        Screen::Heat => pages!("heat"),
    };
    match language::spoken() {
        Language::English => english,
        Language::German => german,
    }
}

pub(super) fn show(ui: &mut Ui, screen: Screen, asked: &mut Vec<Deed>) {
    for line in text(screen).lines() {
        line_of(ui, line);
    }
    ui.add_space(12.0);
    heading(ui, tell!("More"), "");
    ui.horizontal_wrapped(|ui| {
        for (word, page) in [
            (tell!("All keys"), Page::Keys),
            (tell!("Find a command"), Page::Palette),
            (tell!("About this program"), Page::About),
        ] {
            if Button::plain(word).show(ui).clicked() {
                asked.push(Deed::Open(page));
            }
        }
        for other in Screen::ALL.into_iter().filter(|it| *it != screen) {
            let word = tell!("Help: {other}", other = title(other));
            if Button::plain(&word).show(ui).clicked() {
                asked.push(Deed::Open(Page::Help(other)));
            }
        }
    });
}

fn line_of(ui: &mut Ui, line: &str) {
    let t = theme::tokens(ui);
    if let Some(title) = line.strip_prefix("## ") {
        ui.add_space(8.0);
        heading(ui, title, "");
    } else if let Some(title) = line.strip_prefix("# ") {
        ui.label(RichText::new(title).font(theme::row_action()).color(t.ink));
    } else if let Some(caution) = line.strip_prefix("! ") {
        let margin = Margin { left: 14, right: 12, top: 8, bottom: 8 };
        let frame = Frame::NONE.fill(t.watch_tint).corner_radius(theme::RADIUS);
        let stroke = Stroke::new(1.5, t.watch);
        frame.stroke(stroke).inner_margin(margin).show(ui, |ui| {
            ui.take_available_width();
            ui.label(rich_text(&told(caution), theme::body().size, t.ink, t.ink));
        });
    } else if let Some(row) = line.strip_prefix("- ") {
        ui.horizontal_top(|ui| {
            ui.add_space(4.0);
            let (dot, _) = ui.allocate_exact_size(egui::vec2(10.0, 18.0), egui::Sense::hover());
            ui.painter().circle_filled(dot.center(), 2.5, t.ink2);
            let row = rich_text(&told(row), theme::body().size, t.ink2, t.ink);
            ui.add(egui::Label::new(row).wrap());
        });
    } else if !line.is_empty() {
        paragraph(ui, &told(line));
    }
}

/// A line with its commands by name and keys: `[[Undo]]` is `**Take the last step back** (Ctrl+Z)`.
fn told(line: &str) -> String {
    let mut parts = line.split("[[");
    let mut told = parts.next().unwrap_or_default().to_owned();
    for part in parts {
        let (id, after) = part.split_once("]]").unwrap_or((part, ""));
        match TABLE.iter().find(|it| it.id == id) {
            Some(entry) => {
                let keys = entry.keys_in_words();
                told.extend(["**", language::told(entry.words), "**"]);
                if !keys.is_empty() {
                    told.extend([" (", keys.as_str(), ")"]);
                }
            }
            None => told.push_str(id),
        }
        told.push_str(after);
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;

    fn every_page() -> impl Iterator<Item = (Screen, &'static str)> {
        Screen::ALL.into_iter().chain([Screen::Study]).map(|screen| (screen, text(screen)))
    }

    #[test]
    fn every_screen_has_a_page_that_defers_to_the_manual() {
        for (screen, text) in every_page() {
            let first = text.lines().next().unwrap_or_default();
            assert!(first.starts_with("# "), "{screen:?} opens with its title");
            assert!(text.lines().any(|it| it.starts_with("! ")), "{screen:?} has a caution");
            assert!(text.contains("manual"), "{screen:?} names the machine's manual");
            let longest = text.lines().map(|it| it.chars().count()).max();
            assert!(longest < Some(400), "{screen:?}: short lines, not {longest:?}");
            assert!(text.lines().count() <= 48, "{screen:?}: one page");
        }
    }

    #[test]
    fn every_command_that_help_names_is_in_the_table() {
        let mut named = 0;
        for (screen, text) in every_page() {
            for part in text.split("[[").skip(1) {
                let (id, _) = part.split_once("]]").unwrap_or_else(|| panic!("{screen:?}: {part}"));
                assert!(TABLE.iter().any(|it| it.id == id), "{screen:?}: no command {id}");
                named += 1;
            }
        }
        assert!(10 < named, "{named}");
    }

    #[test]
    fn a_command_stands_with_its_keys() {
        let line = "Then [[Undo]], or [[About]].";
        assert_eq!(
            told(line),
            "Then **Take the last step back** (Ctrl+Z), or **About this program**."
        );
    }
}
