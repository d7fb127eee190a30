//! A hand that is faster than the frames.
//!
//! In a real window, keys sixty milliseconds apart were once read as the stack 0.550.60: Enter and
//! the first digit of the next number had come in one frame, and the digit went to the old text.

use crate::measure::Bench;
use egui::{Event, Key, Modifiers, Theme};
use gapwright::domain::{gauge::Bracket, quantity::Length};

#[test]
fn two_readings_in_one_frame_are_two_readings() {
    let mut bench = Bench::open([1280.0, 800.0], Theme::Light, 1);
    bench.press(Key::Enter);
    if bench.shows("People clear") {
        bench.press(Key::Enter);
    }
    let enter = Event::Key {
        key: Key::Enter,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers: Modifiers::NONE,
    };
    // Past the harness, which would give every event a frame of its own.
    let events = &mut bench.harness.input_mut().events;
    for text in ["0.55", "0.60", "0.45", "0.50"] {
        events.extend([Event::Text(text.to_owned()), enter.clone()]);
    }
    bench.harness.run_steps(12);
    let visit = bench.harness.state().bench().visit().unwrap();
    let felt: Vec<Bracket> = visit.session.readings.iter().map(|it| it.bracket).collect();
    let [um_550, um_600, um_450, um_500] = [550, 600, 450, 500].map(Length::from_um);
    assert_eq!(
        felt,
        [Bracket::new(um_550, Some(um_600)).unwrap(), Bracket::new(um_450, Some(um_500)).unwrap(),]
    );
}
