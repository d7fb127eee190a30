//! The Decide screen, as somebody who acts on it sees it.

use crate::desk::Desk;
use egui::Theme;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use gapwright::{
    brief::{decision::tell_all, plain},
    domain::{
        log::Work,
        machine::{LineId, ShearId},
    },
    store,
    workbench::{Command, Screen},
};

fn at_decide(size: [f32; 2], theme: Theme, machine: &str) -> Desk {
    let mut desk = Desk::open(size, theme);
    desk.act(Command::ChooseMachine(ShearId::new(machine).unwrap()));
    desk.act(Command::Go(Screen::Decide));
    desk
}

#[test]
fn pictures_to_look_at() {
    for (name, size, theme, machine, line) in [
        ("decide-1600", [1600.0, 1000.0], Theme::Light, "heron", LineId::S),
        ("decide-1600-g", [1600.0, 1000.0], Theme::Light, "heron", LineId::G),
        ("decide-1600-p", [1600.0, 1000.0], Theme::Light, "heron", LineId::P),
        ("decide-1280", [1280.0, 800.0], Theme::Light, "heron", LineId::F),
        ("decide-1024", [1024.0, 768.0], Theme::Light, "wren", LineId::G),
        ("decide-dark", [1600.0, 1000.0], Theme::Dark, "heron", LineId::S),
    ] {
        let mut desk = at_decide(size, theme, machine);
        desk.act(Command::ChooseLine(line));
        desk.photograph(name);
    }
}

#[test]
fn every_row_says_what_the_brief_says_and_opens_its_sheet() {
    let mut desk = at_decide([1600.0, 1000.0], Theme::Light, "heron");
    let (machine, decision) = desk.machine("heron");
    for brief in tell_all(&decision, &machine.shear, desk.numbers()) {
        let label = format!("{}: {}", brief.action_word, brief.headline);
        desk.window.get_by_label(&label).click();
        desk.window.run();
        assert_eq!(desk.window.state().bench().line().unwrap_or(brief.line), brief.line);
        let sheet = format!(
            "{}, {}: {} {}",
            brief.action_word, brief.when, brief.line, brief.place
        );
        desk.window.get_by_label(&sheet);
        for note in &brief.notes {
            desk.window.get_by_label(&plain(note));
        }
    }
}
