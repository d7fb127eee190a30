//! What was seen or heard at the station in hand: the usual few, and a page with all of them.

use crate::{
    brief::words,
    domain::log::FindingKind,
    gui::{
        marks::Icon,
        meaning::finding_icon,
        screens::measure::{Room, hand::Hand, marks, weld},
        widgets::{Button, SeenTile, heading, paragraph, section, seen_grid, seen_page},
    },
    language::tell,
    workbench::Command,
};
use egui::{Id, Ui};

/// What is seen most: a hot face, a tired one, a broken one.
const FEW: [FindingKind; 3] =
    [FindingKind::BlueStreak, FindingKind::SurfaceCracks, FindingKind::ChippedEdge];

const REST: [FindingKind; 7] = [
    FindingKind::StrawStreak,
    FindingKind::BrownStreak,
    FindingKind::PurpleStreak,
    FindingKind::Jam,
    FindingKind::Chatter,
    FindingKind::LooseBolt,
    FindingKind::StockCaught,
];

fn page() -> Id {
    Id::unique("all findings")
}

/// Whether the page with all findings is in front.
pub(super) fn is_open(ui: &Ui) -> bool {
    ui.data(|data| data.get_temp(page())).unwrap_or(false)
}

/// Brings the page with all findings to the front.
pub(super) fn open(ui: &Ui) {
    ui.data_mut(|data| data.insert_temp(page(), true));
}

/// Puts it away.
pub(super) fn close(ui: &Ui) {
    ui.data_mut(|data| data.remove::<bool>(page()));
}

/// One row: none, the usual three, and more.
pub(super) fn show_few(ui: &mut Ui, hand: &Hand<'_>, room: Room, asked: &mut Vec<Command>) {
    let seen = hand.seen();
    let others = seen.iter().filter(|kind| !FEW.contains(kind)).count();
    if room == Room::Full {
        section(ui, tell!("Seen on the faces"), "");
    }
    let more =
        if others == 0 { tell!("More…").to_owned() } else { tell!("{others} more", others) };
    let mut tiles =
        vec![SeenTile { icon: Icon::Nothing, words: tell!("None"), chosen: seen.is_empty() }];
    tiles.extend(FEW.iter().map(|kind| tile(kind, &seen)));
    tiles.push(SeenTile { icon: Icon::Other, words: &more, chosen: 0 < others });
    match seen_grid(ui, &tiles) {
        Some(0) => clear(&seen, asked),
        Some(4) => open(ui),
        Some(index) => toggle(FEW.get(index - 1), asked),
        None => {}
    }
}

/// Every finding there is, the yard's own words at the end.
pub(super) fn show_all(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    let seen = hand.seen();
    let own = &hand.view.bench.yard().settings.own_findings;
    let all: Vec<FindingKind> =
        FEW.into_iter().chain(REST).chain(own.iter().cloned().map(FindingKind::Own)).collect();
    heading(ui, &tell!("Seen or heard at {at}", at = hand.at), "");
    let tiles: Vec<SeenTile<'_>> = all.iter().map(|kind| tile(kind, &seen)).collect();
    if let Some(index) = seen_page(ui, &tiles) {
        toggle(all.get(index), asked);
    }
    paragraph(ui, tell!("Saved with the session, at this station. Tap again to take it back."));
    let escape = ui.input(|input| input.key_pressed(egui::Key::Escape));
    ui.horizontal(|ui| {
        let each = (ui.available_width() - 2.0 * ui.spacing().item_spacing.x) / 3.0;
        let back = Button::plain(tell!("Back to the leaves")).width(each);
        if back.show(ui).clicked() || escape {
            close(ui);
        }
        marks::button(ui, each);
        weld::button(ui, each);
    });
    if hand.visit.is_some() && Button::plain(tell!("Sign off what is measured")).show(ui).clicked()
    {
        close(ui);
        asked.push(Command::GoToSignature);
    }
}

fn tile<'k>(kind: &'k FindingKind, seen: &[&FindingKind]) -> SeenTile<'k> {
    SeenTile { icon: finding_icon(kind), words: words::finding(kind), chosen: seen.contains(&kind) }
}

fn toggle(kind: Option<&FindingKind>, asked: &mut Vec<Command>) {
    asked.extend(kind.cloned().map(Command::ToggleFinding));
}

fn clear(seen: &[&FindingKind], asked: &mut Vec<Command>) {
    asked.extend(seen.iter().map(|kind| Command::ToggleFinding((*kind).clone())));
}
