//! Every command with its name and its keys: one table, from which all else comes.
//!
//! The window's key handler, the screens, the list of keys, the palette and the help pages read it,
//! so no two of them can disagree. Knows which keys a command has and on which screen. Refuses to
//! know when a screen lets it be done: a screen asks [`pressed`] where it is.

mod deed;

pub(crate) use deed::{Deed, Page, Text, deed};

use crate::{gui::widgets, language::tell, workbench::Screen};
use egui::{Event, Key, Modifiers, Ui};

/// What has to be pressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Press {
    /// A key, with others held down.
    Key(Modifiers, Key),
    /// A letter or sign, wherever it lies on the keyboard.
    Sign(&'static str),
}

/// Where a command is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Place {
    /// On every screen and page.
    Window,
    /// On one screen.
    On(Screen),
    /// On a page over the screen, such as this list.
    Page,
}

impl Place {
    /// What a person calls it.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Window => tell!("Everywhere"),
            Self::Page => tell!("On a page like this one"),
            Self::On(screen) => title(screen),
        }
    }
}

/// Who listens for its keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum By {
    /// The window.
    Window,
    /// The screen or page itself, which knows whether it is the time for it.
    Screen,
}

/// One row of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Entry {
    pub(crate) name: Name,
    /// How help names it: `[[Undo]]`.
    pub(crate) id: &'static str,
    /// What a person calls it.
    pub(crate) words: &'static str,
    pub(crate) place: Place,
    pub(crate) by: By,
    pub(crate) keys: &'static [Press],
}

macro_rules! table {
    ($($name:ident $words:literal $place:ident $by:ident [$($key:expr),*])*) => {
        /// Every command of the table.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(crate) enum Name { $(#[doc = $words] $name,)* }

        /// Every command, in the order in which it is shown.
        pub(crate) const TABLE: &[Entry] = &[$(Entry {
            name: Name::$name,
            id: stringify!($name),
            words: $words,
            place: $place,
            by: By::$by,
            keys: &[$($key),*],
        },)*];
    };
}

const ANYWHERE: Place = Place::Window;
const PAGE: Place = Place::Page;
const YARD: Place = Place::On(Screen::Yard);
const MEASURE: Place = Place::On(Screen::Measure);
const DECIDE: Place = Place::On(Screen::Decide);
const TREND: Place = Place::On(Screen::Trend);
const STUDY: Place = Place::On(Screen::Study);
const HEAT: Place = Place::On(Screen::Heat);
const SETUP: Place = Place::On(Screen::Setup);

const fn key(key: Key) -> Press {
    Press::Key(Modifiers::NONE, key)
}

const fn ctrl(key: Key) -> Press {
    Press::Key(Modifiers::COMMAND, key)
}

const fn sign(text: &'static str) -> Press {
    Press::Sign(text)
}

const CTRL_SHIFT: Modifiers = Modifiers { shift: true, ..Modifiers::COMMAND };

// A key with Shift stands before the same key without: the shorter one would take it.
table! {
    Yard "Yard" ANYWHERE Window [ctrl(Key::Num1)]
    Measure "Measure" ANYWHERE Window [ctrl(Key::Num2)]
    Decide "Decide" ANYWHERE Window [ctrl(Key::Num3)]
    Trend "Trend" ANYWHERE Window [ctrl(Key::Num4)]
    Heat "Heat" ANYWHERE Window [ctrl(Key::Num5)]
    Setup "Setup" ANYWHERE Window [ctrl(Key::Num6)]
    Help "Help for this screen" ANYWHERE Window [key(Key::F1)]
    Keys "All keys" ANYWHERE Window [sign("?"), key(Key::F2)]
    Palette "Find a command" ANYWHERE Window [ctrl(Key::K)]
    Settings "Settings of this window" ANYWHERE Window [ctrl(Key::Comma)]
    About "About this program" ANYWHERE Window []
    Larger "Larger text" ANYWHERE Window [ctrl(Key::Plus), ctrl(Key::Equals)]
    Smaller "Smaller text" ANYWHERE Window [ctrl(Key::Minus)]
    UsualSize "Text at its usual size" ANYWHERE Window [ctrl(Key::Num0)]
    OtherColours "Light or dark" ANYWHERE Window []
    PreviousMachine "Previous machine" ANYWHERE Window [ctrl(Key::PageUp)]
    NextMachine "Next machine" ANYWHERE Window [ctrl(Key::PageDown)]
    JobSheet "Job sheet on paper" ANYWHERE Window [ctrl(Key::P)]
    OpenYard "Open another yard" ANYWHERE Window [ctrl(Key::O)]
    Import "Take a table in" ANYWHERE Window []
    Export "Write the yard as tables" ANYWHERE Window []
    Millimetres "Lengths in millimetres" ANYWHERE Window []
    Inches "Lengths in inches" ANYWHERE Window []

    ClosePage "Back to the screen" PAGE Screen [key(Key::Escape)]
    RowAbove "The row above" PAGE Screen [key(Key::ArrowUp)]
    RowBelow "The row below" PAGE Screen [key(Key::ArrowDown)]
    RunRow "Do it" PAGE Screen [key(Key::Enter)]

    MachineAbove "The machine above" YARD Screen [key(Key::ArrowUp)]
    MachineBelow "The machine below" YARD Screen [key(Key::ArrowDown)]
    MeasureMachine "Measure this machine" YARD Screen [key(Key::Enter)]

    SayNext "The next thing to say: locked and blocked, goes, does not go, save, go on"
        MEASURE Screen [key(Key::Enter)]
    Goes "The stack goes in" MEASURE Screen [sign("g"), sign("G"), sign("+")]
    DoesNotGo "The stack does not go in" MEASURE Screen [sign("n"), sign("N")]
    ClearEntry "Take back what is typed here" MEASURE Screen [key(Key::Escape)]
    NextStation "Next station" MEASURE Screen [key(Key::PageDown), key(Key::ArrowDown)]
    PreviousStation "Previous station" MEASURE Screen [key(Key::PageUp), key(Key::ArrowUp)]
    SignOff "Sign off what is measured" MEASURE Screen []
    Redo "Do it again" MEASURE Screen [ctrl(Key::Y), Press::Key(CTRL_SHIFT, Key::Z)]
    Undo "Take the last step back" MEASURE Screen [ctrl(Key::Z)]
    StartOver "Start this station over" MEASURE Screen [ctrl(Key::Backspace)]
    Seen "What is seen on the faces, streaks and cracks" MEASURE Screen [key(Key::F6)]
    BladeColder "Blades one degree colder" MEASURE Screen [key(Key::F7)]
    BladeWarmer "Blades one degree warmer" MEASURE Screen [key(Key::F8)]
    Budget "How sure this reading is" MEASURE Screen [key(Key::F9)]
    CheckMeasuring "Check our measuring" MEASURE Window []

    StudySayNext "The next thing to say" STUDY Screen [key(Key::Enter)]
    StudyClear "Take back what is typed here" STUDY Screen [key(Key::Escape)]
    StudyNext "Next place" STUDY Screen [key(Key::PageDown)]
    StudyPrevious "Previous place" STUDY Screen [key(Key::PageUp)]

    JobAbove "The job above" DECIDE Screen [key(Key::ArrowUp)]
    JobBelow "The job below" DECIDE Screen [key(Key::ArrowDown)]
    NotDone "Not done yet" DECIDE Screen [key(Key::Escape)]

    ReadingBefore "The reading before" TREND Screen [key(Key::ArrowLeft)]
    ReadingAfter "The reading after" TREND Screen [key(Key::ArrowRight)]

    Projector "Large, for a projector, and back" HEAT Screen [key(Key::F11)]
    LeaveProjector "Back from the projector" HEAT Screen [key(Key::Escape)]
    LessonOn "On in the lesson, on a projector" HEAT Screen [key(Key::PageDown)]
    LessonBack "Back in the lesson, on a projector" HEAT Screen [key(Key::PageUp)]

    SetupRedo "Do it again" SETUP Screen [Press::Key(CTRL_SHIFT, Key::Z), ctrl(Key::Y)]
    SetupUndo "Take the last change back" SETUP Screen [ctrl(Key::Z)]
    SetupSave "Save what is set up" SETUP Screen [ctrl(Key::S)]
    StationNearer "The chosen station a step toward the pivot"
        SETUP Screen [key(Key::ArrowLeft)]
    StationFurther "The chosen station a step away from the pivot"
        SETUP Screen [key(Key::ArrowRight)]
}

/// What a person calls a screen.
pub(crate) fn title(screen: Screen) -> &'static str {
    match screen {
        Screen::Yard => tell!("Yard"),
        Screen::Measure => tell!("Measure"),
        Screen::Decide => tell!("Decide"),
        Screen::Trend => tell!("Trend"),
        Screen::Study => tell!("Check our measuring"),
        Screen::Heat => tell!("Heat"),
        Screen::Setup => tell!("Setup"),
    }
}

/// The row of a command.
pub(crate) fn entry(name: Name) -> Option<&'static Entry> {
    TABLE.iter().find(|it| it.name == name)
}

/// Whether one of the keys of a command was pressed in this frame; takes it, so nobody else has it.
pub(crate) fn pressed(ui: &Ui, name: Name) -> bool {
    entry(name).is_some_and(|it| it.keys.iter().any(|press| press.taken(ui)))
}

/// The same for one of its keys alone, where the others mean something else just now.
pub(crate) fn only(ui: &Ui, name: Name, key: Key) -> bool {
    let mine = |press: &&Press| matches!(press, Press::Key(_, it) if *it == key);
    entry(name).and_then(|it| it.keys.iter().find(mine)).is_some_and(|press| press.taken(ui))
}

impl Press {
    /// Takes it out of this frame's input, if it is there.
    fn taken(self, ui: &Ui) -> bool {
        ui.input_mut(|input| match self {
            Self::Key(modifiers, key) => input.consume_key(modifiers, key),
            Self::Sign(sign) => {
                let before = input.events.len();
                input.events.retain(|it| !matches!(it, Event::Text(text) if text == sign));
                input.events.len() < before
            }
        })
    }

    /// As it is printed on the keyboard.
    fn words(self) -> String {
        let (modifiers, key) = match self {
            Self::Sign(sign) => return sign.to_owned(),
            Self::Key(modifiers, key) => (modifiers, key),
        };
        let key = match key {
            Key::ArrowUp => tell!("Up"),
            Key::ArrowDown => tell!("Down"),
            Key::ArrowLeft => tell!("Left"),
            Key::ArrowRight => tell!("Right"),
            Key::PageUp => tell!("Page up"),
            Key::PageDown => tell!("Page down"),
            Key::Escape => tell!("Esc"),
            Key::Minus => "−",
            other => other.symbol_or_name(),
        };
        let shift = if modifiers.shift { tell!("Shift+") } else { "" };
        let ctrl = if modifiers.command { tell!("Ctrl+") } else { "" };
        format!("{ctrl}{shift}{key}")
    }
}

impl Entry {
    /// Its keys in words, such as `Ctrl+Z`, `g or +`; empty if it has none.
    pub(crate) fn keys_in_words(&self) -> String {
        // A capital letter and the other sign on one key are the same key to a person.
        let shown = |press: &&Press| {
            !matches!(press, Press::Sign("G" | "N")) && **press != ctrl(Key::Equals)
        };
        let words: Vec<String> = self.keys.iter().filter(shown).map(|it| it.words()).collect();
        words.join(tell!(" or "))
    }
}

/// What the keys of this frame ask for that the window itself listens to.
///
/// A sign is left to a field that takes words; a field for a number has no use for it.
pub(crate) fn of_window(ui: &Ui, bench: &crate::workbench::Workbench) -> Vec<Deed> {
    let types_words = ui.ctx().text_edit_focused() && !widgets::stack_has_keyboard(ui);
    let mine = TABLE.iter().filter(|it| it.by == By::Window && it.place == Place::Window);
    let mut asked = Vec::new();
    for it in mine {
        let free = |press: &&Press| !(types_words && matches!(press, Press::Sign(_)));
        if it.keys.iter().filter(free).any(|press| press.taken(ui)) {
            asked.extend(deed(it.name, bench));
        }
    }
    asked
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_means_two_things_in_one_place() {
        let meets = |a: Place, b: Place| a == b || a == Place::Window || b == Place::Window;
        // Both are asked on one screen, one after the other, by who is in front.
        let told_apart = [(Name::Projector, Name::LeaveProjector)];
        for (at, one) in TABLE.iter().enumerate() {
            for other in TABLE.iter().skip(at + 1).filter(|it| meets(it.place, one.place)) {
                let shared = one.keys.iter().any(|press| other.keys.contains(press));
                let known = told_apart.contains(&(one.name, other.name));
                assert!(!shared || known, "{:?} and {:?} share a key", one.name, other.name);
            }
        }
    }

    #[test]
    fn every_screen_can_be_reached_by_a_key() {
        for screen in Screen::ALL {
            let row = TABLE.iter().find(|it| it.words == title(screen));
            let row = row.unwrap_or_else(|| panic!("{screen:?} has no row"));
            assert!(!row.keys.is_empty() && row.by == By::Window, "{screen:?}");
        }
    }

    #[test]
    fn keys_are_told_as_they_are_printed() {
        let told = |name| entry(name).unwrap().keys_in_words();
        assert_eq!(told(Name::Undo), "Ctrl+Z");
        assert_eq!(told(Name::Redo), "Ctrl+Y or Ctrl+Shift+Z");
        assert_eq!(told(Name::Goes), "g or +");
        assert_eq!(told(Name::Larger), "Ctrl++");
        assert_eq!(told(Name::NextStation), "Page down or Down");
        assert_eq!(told(Name::About), "");
    }
}
