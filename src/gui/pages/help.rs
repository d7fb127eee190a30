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
    workbench::Screen,
};
use egui::{Frame, Margin, RichText, Stroke, Ui};

/// The page of a screen.
pub(crate) const fn text(screen: Screen) -> &'static str {
    match screen {
        Screen::Yard => include_str!("../../../assets/help/yard.md"),
        Screen::Measure => include_str!("../../../assets/help/measure.md"),
        Screen::Decide => include_str!("../../../assets/help/decide.md"),
        Screen::Trend => include_str!("../../../assets/help/trend.md"),
        Screen::Study => include_str!("../../../assets/help/study.md"),
        Screen::Setup => include_str!("../../../assets/help/setup.md"),
        Screen::Heat => include_str!("../../../assets/help/heat.md"),
    }
}

pub(super) fn show(ui: &mut Ui, screen: Screen, asked: &mut Vec<Deed>) {
    for line in text(screen).lines() {
        line_of(ui, line);
    }
    ui.add_space(12.0);
    heading(ui, "More", "");
    ui.horizontal_wrapped(|ui| {
        for (word, page) in [
            ("All keys", Page::Keys),
            ("Find a command", Page::Palette),
            ("About this program", Page::About),
        ] {
            if Button::plain(word).show(ui).clicked() {
                asked.push(Deed::Open(page));
            }
        }
        for other in Screen::ALL.into_iter().filter(|it| *it != screen) {
            let word = format!("Help: {}", title(other));
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
                told.extend(["**", entry.words, "**"]);
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
