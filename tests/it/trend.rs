//! The Trend screen, as somebody who reads it sees it.

use crate::desk::Desk;
use egui::Theme;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use gapwright::{
    brief::trend,
    domain::{
        machine::{LineId, ShearId},
        quantity::LengthUnit,
    },
    workbench::{Command, Screen, Span},
};

fn at_trend(size: [f32; 2], theme: Theme, machine: &str, line: LineId) -> Desk {
    let mut desk = Desk::open(size, theme);
    desk.act(Command::ChooseMachine(ShearId::new(machine).unwrap()));
    desk.act(Command::Go(Screen::Trend));
    desk.act(Command::ChooseLine(line));
    desk
}

#[test]
fn pictures_to_look_at() {
    for (name, size, theme, machine, line) in [
        ("trend-1600", [1600.0, 1000.0], Theme::Light, "heron", LineId::S),
        ("trend-1280", [1280.0, 800.0], Theme::Light, "dunlin", LineId::P),
        ("trend-1024", [1024.0, 768.0], Theme::Light, "wren", LineId::G),
        ("trend-dark", [1600.0, 1000.0], Theme::Dark, "heron", LineId::G),
    ] {
        at_trend(size, theme, machine, line).photograph(name);
    }
    let mut desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    desk.tap("S2");
    desk.act(Command::SetSpan(Span::ThisEdge));
    desk.window.hover_at(egui::pos2(640.0, 380.0));
    desk.window.run();
    desk.photograph("trend-two");
    let mut desk = at_trend([1280.0, 800.0], Theme::Light, "dunlin", LineId::F);
    desk.act(Command::SetUnit(LengthUnit::Inch));
    desk.act(Command::SetSpan(Span::All));
    desk.photograph("trend-inch");
}

#[test]
fn the_table_says_what_the_brief_says() {
    let desk = at_trend([1600.0, 1000.0], Theme::Light, "heron", LineId::S);
    let (machine, decision) = desk.machine("heron");
    let brief = trend::tell(&machine, &decision, LineId::S, desk.numbers()).unwrap();
    for station in &brief.stations {
        let label = format!("{} growth", station.station);
        let row = desk.window.get_by_label(&label);
        assert_eq!(row.accesskit_node().description().unwrap_or_default(), station.spoken);
    }
}
