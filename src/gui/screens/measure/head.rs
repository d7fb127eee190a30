//! The title block over the drawing, and the two taps that log trouble in mid-shift.

use crate::{
    brief::measure::{head, saved},
    domain::{log::FindingKind, quantity::Hours},
    gui::{
        marks::Icon,
        meaning::verdict_mark,
        screens::measure::hand::Hand,
        widgets::{Button, ProgressGroup, ProgressStep, TitleCell, title_block},
    },
    language::tell,
    workbench::{Command, StudyStep},
};
use egui::Ui;

/// Tells the cells: machine, session, meter, how far, and whether it is saved.
fn tell<R>(hand: &Hand<'_>, show: impl FnOnce([TitleCell<'_>; 5]) -> R) -> R {
    let meter = hand.visit.and_then(|visit| Hours::parse(&visit.meter_text).ok());
    let taken = hand.visit.map_or(hand.view.now, |visit| visit.session.taken);
    let told = head(&hand.telling, hand.machine, taken, meter);
    let (saved_caption, saved_at) =
        saved(hand.visit.and_then(|visit| visit.saved), hand.view.numbers);
    let bold = |text: &str| format!("**{text}**");
    let [machine, taken, meter] = [&told.machine, &told.taken, &told.meter].map(|it| bold(it));
    let measured =
        tell!("**{measured}** of {told}", measured = told.measured.0, told = told.measured.1);
    let is_saved = hand.visit.is_some_and(|visit| visit.saved.is_some());
    let saved_at = if is_saved { bold(&saved_at) } else { saved_at };
    let letters = letters(hand);
    let cell = |caption, value, quiet| TitleCell { caption, value, quiet, ..TitleCell::default() };
    show([
        cell(tell!("Machine"), &machine, &told.carrier),
        cell(&told.session, &taken, &told.by),
        cell(tell!("Hour meter"), &meter, &told.since),
        TitleCell { walk: strip(hand, &letters), ..cell(tell!("Measured"), &measured, "") },
        TitleCell { check: is_saved, ..cell(saved_caption, &saved_at, "") },
    ])
}

/// Over the drawing and the card, with the buttons beside it.
pub(super) fn show(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        let narrow = ui.available_width() < 1_100.0;
        let (tap, check) = if narrow { (86.0, 70.0) } else { (124.0, 124.0) };
        ui.scope(|ui| {
            ui.set_max_width(ui.available_width() - 2.0 * (tap + 8.0) - check - 8.0);
            tell(hand, |cells| title_block(ui, &cells));
        });
        let button = Button::plain(tell!("Check"));
        let button = if narrow { button } else { button.detail(tell!("our measuring")) };
        if button.width(check).height(60.0).show(ui).clicked() {
            asked.push(Command::Study(StudyStep::Open));
        }
        let trouble = trouble();
        let trouble = if narrow { trouble.map(|it| (it.0, None, it.2)) } else { trouble };
        for it in trouble {
            log(ui, tap, it, asked);
        }
    });
}

/// In a column: what must be seen while somebody measures.
pub(super) fn now(ui: &mut Ui, hand: &Hand<'_>) {
    tell(hand, |[machine, _, _, measured, saved]| {
        let measured = TitleCell { walk: Vec::new(), ..measured };
        title_block(ui, &[machine, measured, saved])
    });
}

/// In a column: the rest, and the buttons.
pub(super) fn rest(ui: &mut Ui, hand: &Hand<'_>, asked: &mut Vec<Command>) {
    tell(hand, |[_, session, meter, _, _]| {
        ui.push_id("rest", |ui| title_block(ui, &[session, meter]));
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        let width = (ui.available_width() - 16.0) / 3.0;
        let check = Button::plain(tell!("Check")).detail(tell!("our measuring"));
        if check.width(width).height(60.0).show(ui).clicked() {
            asked.push(Command::Study(StudyStep::Open));
        }
        for it in trouble() {
            log(ui, width, it, asked);
        }
    });
}

/// What can be logged in one tap.
type Trouble = (&'static str, Option<Icon>, FindingKind);

fn trouble() -> [Trouble; 2] {
    [
        (tell!("Jam"), Some(Icon::Jam), FindingKind::Jam),
        (tell!("Chatter"), Some(Icon::Chatter), FindingKind::Chatter),
    ]
}

fn log(ui: &mut Ui, width: f32, (word, icon, kind): Trouble, asked: &mut Vec<Command>) {
    let button = Button::plain(word).detail(tell!("log now"));
    let button = icon.map_or(button, |icon| button.before(icon));
    if button.width(width).height(60.0).show(ui).clicked() {
        asked.push(Command::ReportNow(kind));
    }
}

fn letters(hand: &Hand<'_>) -> Vec<String> {
    lines_walked(hand).map(|line| line.id.to_string()).collect()
}

fn lines_walked<'h>(hand: &'h Hand<'_>) -> impl Iterator<Item = &'h crate::domain::machine::Line> {
    let mut lines: Vec<_> = hand.shear.lines.iter().collect();
    lines.sort_by_key(|line| line.position);
    lines.into_iter()
}

fn strip<'l>(hand: &Hand<'_>, letters: &'l [String]) -> Vec<ProgressGroup<'l>> {
    lines_walked(hand)
        .zip(letters)
        .map(|(line, letter)| ProgressGroup {
            letter,
            steps: line
                .stations
                .iter()
                .map(|station| ProgressStep {
                    mark: verdict_mark(hand.telling.confirmed(station.id).map(|gap| gap.verdict)),
                    current: station.id == hand.at && !hand.signing,
                })
                .collect(),
        })
        .collect()
}
