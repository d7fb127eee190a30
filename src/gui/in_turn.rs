//! One answer at a time, however fast the hand.
//!
//! A quick typist, or a slow computer, brings `0.55`, Enter and `0.60` in one frame. A screen reads
//! its state once per frame, so what was typed before an answer must reach it a frame earlier, and
//! what was typed after it a frame later. Knows the order of keys; refuses to know what they mean.

use crate::workbench::Screen;
use egui::{Event, Id, Key, Ui};

/// Lets this frame have what was typed up to an answer, or the answer itself, and keeps the rest
/// for the next frame. On Measure single letters answer too; `None` while a page is over the screen.
pub(super) fn keep_in_turn(ui: &Ui, screen: Option<Screen>) {
    let id = Id::unique("typed after an answer");
    let held: Vec<Event> = ui.data_mut(|data| data.remove_temp(id)).unwrap_or_default();
    let rest = ui.input_mut(|input| {
        input.events.splice(0..0, held);
        let cut = turn_ends(&input.events, screen)?;
        Some(input.events.split_off(cut))
    });
    if let Some(rest) = rest {
        ui.data_mut(|data| data.insert_temp(id, rest));
        ui.request_repaint();
    }
}

/// Where this frame's events end, if something is left for the next.
fn turn_ends(events: &[Event], screen: Option<Screen>) -> Option<usize> {
    let answer = events.iter().position(|event| answers(event, screen))?;
    let (before, after) = events.split_at(answer);
    if before.iter().any(types) {
        return Some(answer);
    }
    let mut after = after.iter().skip(1);
    after.any(|event| types(event) || answers(event, screen)).then_some(answer + 1)
}

fn answers(event: &Event, screen: Option<Screen>) -> bool {
    match event {
        Event::Key { key: Key::Enter | Key::Escape, pressed, .. } => *pressed,
        Event::Text(text) => {
            screen == Some(Screen::Measure)
                && text.starts_with(|c: char| c == '+' || c.is_alphabetic())
        }
        _ => false,
    }
}

fn types(event: &Event) -> bool {
    match event {
        Event::Text(_) | Event::Paste(_) | Event::Cut | Event::Ime(_) => true,
        Event::Key { key: Key::Backspace | Key::Delete, pressed, .. } => *pressed,
        _ => false,
    }
}

#[test]
fn a_frame_ends_before_or_after_an_answer() {
    let text = |text: &str| Event::Text(text.to_owned());
    let key = |key, pressed| Event::Key {
        key,
        physical_key: None,
        pressed,
        repeat: false,
        modifiers: egui::Modifiers::NONE,
    };
    let enter = || key(Key::Enter, true);
    let ends = |events: &[Event]| turn_ends(events, Some(Screen::Measure));
    assert_eq!(ends(&[text("0"), text(".")]), None, "typing alone is one turn");
    assert_eq!(ends(&[enter(), key(Key::Enter, false)]), None, "an answer alone is one turn");
    assert_eq!(ends(&[text("5"), enter()]), Some(1), "first what was typed");
    assert_eq!(ends(&[enter(), text("0")]), Some(1), "then the answer, then the next number");
    assert_eq!(ends(&[text("g"), text("0"), text("n")]), Some(1), "a letter answers like Enter");
    assert_eq!(
        turn_ends(&[text("n"), text("o")], Some(Screen::Yard)),
        None,
        "and is a letter in a note"
    );
}
