//! What a command of the table does, wherever it is asked for.

use crate::{
    gui::commands::Name,
    workbench::{Command, Screen, StudyStep, Workbench},
};

/// A page over the screen in front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Page {
    /// What this screen is for and how it is used.
    Help(Screen),
    /// Every command with its keys.
    Keys,
    /// A command by typing a part of its name.
    Palette,
    /// How this window looks.
    Settings,
    /// Version, safety, licences.
    About,
}

/// How large text becomes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Text {
    Larger,
    Smaller,
    Usual,
}

/// What a person asked for: of the workbench, or of the window itself.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Deed {
    /// For the workbench.
    Ask(Command),
    /// Show a page.
    Open(Page),
    /// Put the page away.
    Close,
    /// Another size of text.
    Resize(Text),
    /// Dark instead of light, or the other way round.
    SwapColours,
    /// Look like this from now on.
    Wear(crate::store::Look),
}

/// What a command does now; `None` if only its screen can do it, or there is nothing to do it to.
pub(crate) fn deed(name: Name, bench: &Workbench) -> Option<Deed> {
    use crate::domain::quantity::LengthUnit;
    let ask = |command| Some(Deed::Ask(command));
    let go = |screen| ask(Command::Go(screen));
    match name {
        Name::Yard => go(Screen::Yard),
        Name::Measure => go(Screen::Measure),
        Name::Decide => go(Screen::Decide),
        Name::Trend => go(Screen::Trend),
        Name::Heat => go(Screen::Heat),
        Name::Setup => go(Screen::Setup),
        Name::Help => Some(Deed::Open(Page::Help(bench.screen()))),
        Name::Keys => Some(Deed::Open(Page::Keys)),
        Name::Palette => Some(Deed::Open(Page::Palette)),
        Name::Settings => Some(Deed::Open(Page::Settings)),
        Name::About => Some(Deed::Open(Page::About)),
        Name::Larger => Some(Deed::Resize(Text::Larger)),
        Name::Smaller => Some(Deed::Resize(Text::Smaller)),
        Name::UsualSize => Some(Deed::Resize(Text::Usual)),
        Name::OtherColours => Some(Deed::SwapColours),
        Name::PreviousMachine => neighbour(bench, Step::Back).map(Deed::Ask),
        Name::NextMachine => neighbour(bench, Step::On).map(Deed::Ask),
        Name::JobSheet => ask(Command::MakeSheet),
        Name::OpenYard => ask(Command::ChooseYardFolder),
        Name::Import => ask(Command::ImportTable(None)),
        Name::Export => ask(Command::ExportTables(None)),
        Name::Millimetres => ask(Command::SetUnit(LengthUnit::Millimetre)),
        Name::Inches => ask(Command::SetUnit(LengthUnit::Inch)),
        Name::ClearEntry => ask(Command::ClearEntry),
        Name::NextStation => ask(Command::NextStation),
        Name::PreviousStation => ask(Command::PreviousStation),
        Name::SignOff => ask(Command::GoToSignature),
        Name::Undo => ask(Command::Undo),
        Name::Redo => ask(Command::Redo),
        Name::StartOver => ask(Command::StartOver),
        Name::CheckMeasuring => ask(Command::Study(StudyStep::Open)),
        Name::StudyNext => ask(Command::Study(StudyStep::Next)),
        Name::StudyPrevious => ask(Command::Study(StudyStep::Previous)),
        _ => None,
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Step {
    Back,
    On,
}

/// The machine before or after the one in hand, round in a ring.
fn neighbour(bench: &Workbench, step: Step) -> Option<Command> {
    let machines = &bench.yard().machines;
    let here = &bench.machine()?.shear.id;
    let place = machines.iter().position(|it| it.shear.id == *here)?;
    let by = if step == Step::On { 1 } else { machines.len() - 1 };
    let next = machines.get((place + by) % machines.len())?;
    (next.shear.id != *here).then(|| Command::ChooseMachine(next.shear.id.clone()))
}
