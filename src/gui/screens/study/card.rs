//! The card of the hand in a study: whose turn it is, where, and the two stacks.

use crate::{
    brief::{
        caution::MOVE_THE_JAW,
        fault,
        study::walk::{self, BLIND},
        words,
    },
    domain::quantity::Length,
    gui::{
        commands::{Name, pressed},
        marks::Icon,
        paint,
        screens::{
            measure::{fault_box, leaf_share, tiles},
            study::{Desk, step},
        },
        theme,
        widgets::{
            Button, Entry, Leaf, STACK, big_choice, divider, heading, leaf_grid, paragraph, say,
            section,
        },
    },
    language::{self, sentence, tell},
    workbench::{Cell, Command, StudyStep},
};
use egui::{Align2, RichText, Sense, Ui, UiBuilder, vec2};

const FIELD: Entry<'static> = Entry {
    caption: sentence!("Stack in the gap"),
    unit: "mm",
    name: STACK,
    hint: "",
    wrong: false,
};

/// What the card is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stage {
    Position(Cell),
    Reading(Cell),
    Finished,
}

impl Stage {
    pub(super) fn of(desk: &Desk<'_>) -> Self {
        match desk.cell {
            None => Self::Finished,
            Some(cell) if desk.study.must_move(desk.shear) => Self::Position(cell),
            Some(cell) => Self::Reading(cell),
        }
    }

    /// Tells the cards apart.
    pub(super) const fn salt(self) -> &'static str {
        match self {
            Self::Position(_) => "position",
            Self::Reading(_) => "hand",
            Self::Finished => "finished",
        }
    }
}

pub(super) fn show(ui: &mut Ui, desk: &Desk<'_>, stage: Stage, asked: &mut Vec<Command>) {
    match stage {
        Stage::Finished => finished(ui, desk, asked),
        Stage::Position(cell) => must_move(ui, desk, cell, asked),
        Stage::Reading(cell) => measure(ui, desk, cell, asked),
    }
}

/// What stands below it, in reach of a thumb.
pub(super) fn buttons(ui: &mut Ui, desk: &Desk<'_>, stage: Stage, asked: &mut Vec<Command>) {
    match stage {
        Stage::Finished => take_in(ui, desk, asked),
        Stage::Position(_) => reached(ui, asked),
        Stage::Reading(_) => say_next(ui, desk, asked),
    }
}

/// Enter where no control of its own has the keyboard.
fn enter(ui: &Ui) -> bool {
    let focused = ui.memory(egui::Memory::focused);
    focused.is_none_or(|id| id == FIELD.id()) && pressed(ui, Name::StudySayNext)
}

fn keys(ui: &Ui, asked: &mut Vec<Command>) {
    if pressed(ui, Name::StudyNext) {
        asked.push(step(StudyStep::Next));
    }
    if pressed(ui, Name::StudyPrevious) {
        asked.push(step(StudyStep::Previous));
    }
}

fn must_move(ui: &mut Ui, desk: &Desk<'_>, cell: Cell, asked: &mut Vec<Command>) {
    let t = theme::tokens(ui);
    keys(ui, asked);
    if enter(ui) {
        asked.push(step(StudyStep::PositionReached));
    }
    let on = ui;
    heading(on, tell!("Move the jaw"), "");
    let position = desk.shear.position_of(cell.station);
    let position = position.and_then(|position| desk.shear.positions.get(position));
    let place = position.map_or("", |position| &position.words);
    on.label(RichText::new(format!("{place}.")).font(theme::panel_title()).color(t.ink));
    on.label(RichText::new(language::told(MOVE_THE_JAW)).font(theme::body_bold()).color(t.ink));
    tiles(on);
}

fn reached(ui: &mut Ui, asked: &mut Vec<Command>) {
    let width = ui.available_width();
    let done = Button::primary(tell!("Locked and blocked"))
        .detail(tell!("people clear, jaw moved: measure"));
    if done.width(width).show(ui).clicked() {
        asked.push(step(StudyStep::PositionReached));
    }
}

fn measure(ui: &mut Ui, desk: &Desk<'_>, cell: Cell, asked: &mut Vec<Command>) {
    keys(ui, asked);
    if enter(ui) {
        asked.push(step(StudyStep::Confirm));
    }
    let field = ui.memory(|memory| memory.focused().is_none_or(|id| id == FIELD.id()));
    if field && pressed(ui, Name::StudyClear) {
        asked.push(step(StudyStep::Clear));
    }
    if ui.memory(|memory| memory.focused().is_none()) {
        ui.memory_mut(|memory| memory.request_focus(FIELD.id()));
    }
    let on = ui;
    name(on, desk, cell);
    entry(on, desk, cell, asked);
    leaves(on, desk, asked);
    if let Some(wrong) = &desk.study.entry.fault {
        fault_box(on, &fault::entry(wrong, desk.view.numbers));
    }
    divider(on);
    paragraph(on, language::told(BLIND));
}

fn say_next(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        let back =
            Button::plain(tell!("Back")).before(Icon::Back).width(104.0).height(theme::PRIMARY);
        if back.enabled(0 < desk.study.at).show(ui).clicked() {
            asked.push(step(StudyStep::Previous));
        }
        let width = ui.available_width();
        let entry = &desk.study.entry;
        let in_hand = entry.stack(desk.view.bench.unit());
        let (word, detail) = match (in_hand, entry.go) {
            (Some(stack), None) if entry.no_go.is_none() => {
                let goes = tell!("{stack} goes", stack = desk.view.numbers.length(stack));
                (goes, tell!("then one too thick").to_owned())
            }
            _ => (tell!("Save and next").to_owned(), next(desk)),
        };
        let save = Button::primary(&word).detail(&detail).after(Icon::Forward);
        if save.width(width).show(ui).clicked() {
            asked.push(step(StudyStep::Confirm));
        }
    });
}

/// What comes after the reading in hand.
fn next(desk: &Desk<'_>) -> String {
    let next = desk.walk.get(desk.study.at + 1);
    next.map_or_else(
        || tell!("the last one").to_owned(),
        |next| {
            tell!(
                "then {person} at {station}",
                person = desk.study.initials(next.person),
                station = next.station
            )
        },
    )
}

/// Whose turn it is, and where.
fn name(ui: &mut Ui, desk: &Desk<'_>, cell: Cell) {
    let t = theme::tokens(ui);
    let turn = walk::turn(desk.study.initials(cell.person), cell.trial);
    let place = words::station(desk.shear, cell.station);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 52.0), Sense::hover());
    let painter = ui.painter();
    let large = painter.layout_no_wrap(cell.station.to_string(), theme::station_name(), t.ink);
    let large = paint::place(painter, rect.left_center(), Align2::LEFT_CENTER, large);
    let x = large.right() + 18.0;
    let line = |text: &str, font, ink, y: f32| {
        let galley = paint::fitted(painter, text, font, ink, rect.right() - x);
        paint::place(painter, egui::pos2(x, y), Align2::LEFT_CENTER, galley);
    };
    line(&turn, theme::row_action(), t.ink, rect.center().y - 10.0);
    line(&place, theme::chip(), t.ink2, rect.center().y + 13.0);
    let spoken = tell!("{turn}, station {station}: {place}", turn, station = cell.station, place);
    say(ui, rect, "turn", &spoken);
}

fn entry(ui: &mut Ui, desk: &Desk<'_>, cell: Cell, asked: &mut Vec<Command>) {
    let n = desk.view.numbers;
    let hand = &desk.study.entry;
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 110.0), Sense::hover());
    let split = rect.left() + (rect.width() - 14.0) * 0.5;
    let mut left = ui.new_child(UiBuilder::new().max_rect(rect.with_max_x(split)));
    let mut right = ui.new_child(UiBuilder::new().max_rect(rect.with_min_x(split + 14.0)));
    let stack = hand.stack(desk.view.bench.unit());
    let measured =
        desk.study.readings.get(&cell).filter(|_| *hand == crate::workbench::Entry::default());
    let hint = measured.map_or(String::new(), |bracket| n.range(*bracket));
    let caption = match (measured, hand.go, hand.no_go) {
        (Some(_), ..) => tell!("Saved here").to_owned(),
        (None, Some(go), _) => tell!("{go} goes. Next:", go = n.length(go)),
        (None, None, Some(no_go)) => tell!("{no_go} does not. Next:", no_go = n.length(no_go)),
        (None, None, None) => FIELD.caption.to_owned(),
    };
    let field = Entry {
        caption: &caption,
        unit: n.unit_name(),
        hint: &hint,
        wrong: hand.fault.is_some(),
        ..FIELD
    };
    // Leaves in the stack show as their sum; what is typed after it starts a number of its own.
    let sum = stack.filter(|_| hand.text.is_empty()).map_or(String::new(), |sum| n.length(sum));
    let shown = format!("{sum}{}", hand.text);
    let mut text = shown.clone();
    field.show(&mut left, &mut text, vec2(split - rect.left(), 110.0));
    if text != shown {
        let typed = text.strip_prefix(&sum).or(text.strip_suffix(&sum)).unwrap_or(&text);
        asked.push(step(StudyStep::Type(typed.to_owned())));
    }
    let pending = stack.map(|_| usize::from(hand.go.is_some()));
    match big_choice(&mut right, [tell!("Goes in"), tell!("Does not go")], pending) {
        Some(0) => asked.push(step(StudyStep::Goes)),
        Some(_) => asked.push(step(StudyStep::DoesNotGo)),
        None => {}
    }
}

fn leaves(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    let n = desk.view.numbers;
    let bench = desk.view.bench;
    let Some(set) = bench.yard().settings.leaves_in(bench.unit()) else { return };
    section(ui, tell!("Feeler leaves"), set.name());
    let in_hand = &desk.study.entry.leaves;
    let thickest = set.leaves().last().map_or(Length::ZERO, |leaf| leaf.thickness);
    let texts: Vec<(String, String)> = set
        .leaves()
        .iter()
        .map(|leaf| n.compact(leaf.thickness))
        .map(|print| (tell!("leaf {print}", print), print))
        .collect();
    let cells: Vec<Leaf<'_>> = set
        .leaves()
        .iter()
        .zip(&texts)
        .map(|(leaf, (name, print))| Leaf {
            print,
            share: leaf_share(leaf.thickness, thickest),
            chosen: in_hand.contains(&leaf.thickness),
            suggested: false,
            name,
        })
        .collect();
    let tapped = leaf_grid(ui, &cells, 46.0);
    if let Some(leaf) = tapped.and_then(|place| set.leaves().get(place)) {
        asked.push(step(StudyStep::TapLeaf(leaf.thickness)));
    }
}

fn finished(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    keys(ui, asked);
    let n = desk.view.numbers;
    let on = ui;
    heading(on, tell!("All is measured"), "");
    if let Some(name) = &desk.study.name {
        paragraph(on, &walk::kept_as(name));
    }
    if let Some(scatter) = &desk.view.bench.yard().settings.repeatability {
        paragraph(on, &walk::in_use(scatter, n));
    }
    on.add_space(8.0);
    let width = on.available_width();
    if Button::plain(tell!("Plan another check")).width(width).show(on).clicked() {
        asked.push(step(StudyStep::StartOver));
    }
    let back = Button::plain(tell!("Look at the last reading")).before(Icon::Back).width(width);
    if back.show(on).clicked() {
        asked.push(step(StudyStep::Previous));
    }
}

fn take_in(ui: &mut Ui, desk: &Desk<'_>, asked: &mut Vec<Command>) {
    let n = desk.view.numbers;
    let grr = desk.found.as_ref().and_then(|it| it.study.anova.chosen().components.grr);
    let width = ui.available_width();
    let detail = grr.map_or(String::new(), |grr| walk::to_use(grr, n));
    let take = Button::primary(tell!("Use this in my readings")).detail(&detail).after(Icon::Check);
    if take.enabled(grr.is_some_and(|grr| 0.0 < grr)).width(width).show(ui).clicked() {
        asked.push(step(StudyStep::Use(n.zone)));
    }
}
