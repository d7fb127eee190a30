//! Somebody describes the yard and a machine: text in, a draft that is undone and saved as one.
//!
//! What cannot be read or does not hold together stays where it was typed, with its fault beside it,
//! and nothing is saved until there is none. Knows no file: it asks for a save and is told what came
//! of it. The rules are those of the domain.

mod desk;

pub use desk::SetupDesk;

use crate::{
    domain::{
        machine::{BladeId, Shear, ShearId},
        quantity::LengthUnit,
        setup::{Change, Field, Finished, OfMachine},
        yard::{Settings, Yard},
    },
    workbench::{Effect, Screen, Workbench, setup::desk::Back},
};
use std::path::PathBuf;

/// A page of the Setup screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SetupPage {
    /// A new yard, a new machine.
    Start,
    /// Name and size of the machine.
    #[default]
    Machine,
    /// Lines, and where they are measured.
    Lines,
    /// What each gap may be.
    Limits,
    /// Blades, packs and bolts.
    Blades,
    /// What stands across each gap, and how warm it gets.
    Expansion,
    /// What the heat model needs.
    Heat,
    /// Leaf sets.
    Leaves,
    /// Shims on the shelf.
    Shelf,
    /// How often something is due.
    Service,
    /// Both files as text.
    Text,
}

impl SetupPage {
    /// In the order of a description.
    pub const ALL: [Self; 11] = [
        Self::Start,
        Self::Machine,
        Self::Lines,
        Self::Limits,
        Self::Blades,
        Self::Expansion,
        Self::Heat,
        Self::Leaves,
        Self::Shelf,
        Self::Service,
        Self::Text,
    ];

    /// Whether it describes a machine, so that there must be one.
    pub const fn of_machine(self) -> bool {
        matches!(
            self,
            Self::Machine
                | Self::Lines
                | Self::Limits
                | Self::Blades
                | Self::Expansion
                | Self::Heat
        )
    }
}

/// Which file is read as text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TextOf {
    /// The machine's.
    #[default]
    Shear,
    /// The yard's.
    Yard,
}

/// Everything a person can ask for on the Setup screen.
#[derive(Clone, Debug, PartialEq)]
pub enum Setup {
    /// Turn to a page.
    Page(SetupPage),
    /// Tell about a field.
    Ask(Field),
    /// Look at one blade.
    Blade(BladeId),
    /// Look at the text of one file.
    Text(TextOf),
    /// Begin a machine that is not in the yard yet.
    Begin(Box<Shear>),
    /// Change something.
    Change(Change),
    /// Take the last change back.
    Undo,
    /// Make it again.
    Redo,
    /// Forget every change since the last save.
    Discard,
    /// Write what changed.
    Save,
    /// What stands in the files now stands here, instead of what was changed.
    TakeTheirs,
    /// What was changed here stays, with what others changed elsewhere.
    KeepOurs,
    /// The text of a file was edited.
    TypeText(String),
    /// Take the edited text in.
    TakeText,
    /// The shell could not read the edited text.
    NoText(String),
    /// Let the person pick the folder of a new yard.
    PickFolder,
    /// The person has picked it.
    FolderPicked(PathBuf),
    /// Make a yard.
    MakeYard {
        /// The folder.
        folder: PathBuf,
        /// What the yard is called.
        name: String,
    },
}

impl Workbench {
    /// The Setup screen comes to the front: with what is not saved there, or with the machine in
    /// hand.
    pub(crate) fn open_setup(&mut self) {
        if self.setup.as_ref().is_some_and(SetupDesk::is_changed) {
            return;
        }
        let before = self.setup.take();
        let shear = self.machine().map(|machine| machine.shear.clone());
        let page = before.map(|desk| desk.page).unwrap_or_default();
        let page = if shear.is_none() && page.of_machine() { SetupPage::Start } else { page };
        self.setup = Some(SetupDesk::of(&self.yard, shear.as_ref(), page, self.unit));
    }

    /// Something on the Setup screen.
    pub(crate) fn set_up(&mut self, step: Setup) -> Vec<Effect> {
        self.revision += 1;
        if self.setup.is_none() {
            self.open_setup();
        }
        let yard = &self.yard;
        let Some(desk) = &mut self.setup else { return Vec::new() };
        match step {
            Setup::Page(page) => {
                desk.turn_to(page);
            }
            Setup::Ask(field) => desk.asked = Some(field),
            Setup::Blade(blade) => desk.blade = Some(blade),
            Setup::Text(of) => (desk.text_of, desk.text, desk.text_fault) = (of, None, None),
            Setup::Begin(shear) => {
                *desk = SetupDesk::of_new(yard, &shear, self.unit);
                desk.asked = Some(Field::Machine(OfMachine::Name));
                self.screen = Screen::Setup;
            }
            Setup::Change(change) => {
                if matches!(change, Change::TakeShear(_) | Change::TakeSettings(_)) {
                    (desk.text, desk.text_fault) = (None, None);
                }
                desk.change(change);
            }
            Setup::Undo => desk.travel(Back::Past),
            Setup::Redo => desk.travel(Back::Future),
            Setup::Discard => {
                let page = desk.page;
                self.setup = None;
                self.open_setup();
                if let Some(desk) = self.setup.as_mut().filter(|it| it.draft().shear.is_some()) {
                    desk.page = page;
                }
            }
            Setup::Save => return self.save_setup(),
            Setup::TakeTheirs => desk.take_theirs(),
            Setup::KeepOurs => desk.keep_ours(),
            Setup::TypeText(text) => (desk.text, desk.text_fault) = (Some(text), None),
            Setup::TakeText => return read_text(desk),
            Setup::NoText(fault) => desk.text_fault = Some(fault),
            Setup::PickFolder => return vec![Effect::PickNewFolder],
            Setup::FolderPicked(folder) => desk.folder = Some(folder),
            Setup::MakeYard { folder, name } => return vec![Effect::MakeYard { folder, name }],
        }
        Vec::new()
    }

    fn save_setup(&self) -> Vec<Effect> {
        let Some(desk) = self.setup.as_ref().filter(|desk| desk.can_save()) else {
            return Vec::new();
        };
        let Ok(Finished { settings, shear }) = desk.finished() else { return Vec::new() };
        let mut effects = Vec::new();
        let (base_settings, base_shear) = desk.read_from();
        if settings != base_settings {
            effects.push(Effect::SaveSettings {
                base: Box::new(base_settings.clone()),
                settings: Box::new(settings.clone()),
            });
        }
        if let Some(shear) = shear {
            let mut shear = shear.clone();
            if desk.is_new() {
                let Some(id) = folder_name(&shear.name, &self.yard) else { return effects };
                shear.id = id;
            }
            if base_shear != Some(&shear) {
                let base = base_shear.cloned().map(Box::new);
                effects.push(Effect::SaveShear { base, shear: Box::new(shear) });
            }
        }
        effects
    }

    /// Lengths are read in this unit from here on.
    pub(crate) fn read_in(&mut self, unit: LengthUnit) {
        self.unit = unit;
        if let Some(desk) = &mut self.setup {
            desk.set_unit(unit);
        }
    }

    /// The yard's file was written.
    pub(crate) fn settings_saved(&mut self, settings: Settings) {
        if settings.unit != self.yard.settings.unit {
            self.read_in(settings.unit);
        }
        self.yard.settings = settings;
        if let Some(desk) = &mut self.setup {
            desk.settings_saved(&self.yard);
        }
    }

    /// A machine's file was written.
    pub(crate) fn shear_saved(&mut self, shear: Shear) {
        let id = shear.id.clone();
        if let Some(desk) = &mut self.setup {
            desk.shear_saved(&self.yard.settings, &shear);
        }
        self.described(shear);
        self.choose_machine(id);
    }
}

fn read_text(desk: &SetupDesk) -> Vec<Effect> {
    let Some(text) = desk.text.clone() else { return Vec::new() };
    match (desk.text_of, &desk.draft().shear) {
        (TextOf::Yard, _) => vec![Effect::ReadSettings(text)],
        (TextOf::Shear, Some(shear)) => vec![Effect::ReadShear(shear.id.clone(), text)],
        (TextOf::Shear, None) => Vec::new(),
    }
}

/// The folder of a new machine: its name in letters that every file system takes, and a number
/// where another machine has it.
fn folder_name(name: &str, yard: &Yard) -> Option<ShearId> {
    let plain = |c: char| match c.to_ascii_lowercase() {
        it if it.is_ascii_alphanumeric() => it,
        _ => '-',
    };
    let whole: String = name.trim().chars().map(plain).take(32).collect();
    let words: Vec<&str> = whole.split('-').filter(|word| !word.is_empty()).collect();
    let whole = if words.is_empty() { "machine".to_owned() } else { words.join("-") };
    let numbered = (2..=999).map(|number| format!("{whole}-{number}"));
    let names = std::iter::once(whole.clone()).chain(numbered);
    names.filter_map(|name| ShearId::new(&name)).find(|id| yard.machine(id).is_none())
}

#[test]
fn a_new_machine_gets_a_folder_of_its_own() {
    let yard = Yard { settings: Settings::usual("Quay".to_owned()), machines: Vec::new() };
    for (name, folder) in [("Heron", "heron"), ("  Old  Crane 7 ", "old-crane-7"), ("Ä", "machine")]
    {
        assert_eq!(folder_name(name, &yard).unwrap().as_str(), folder);
    }
}
