//! What is described, what was typed on the way, and the way back.
//!
//! Knows a draft and the texts that are not in it; does not know the yard it will be saved in.

use crate::{
    domain::{
        machine::{BladeId, Shear},
        quantity::LengthUnit,
        setup::{Change, Draft, Elsewhere, Field, Finished, Flaw, OfStation, SetupIssue},
        yard::{Settings, Yard},
    },
    workbench::setup::{SetupPage, TextOf},
};
use std::{collections::BTreeMap, path::PathBuf};

/// A text as typed that is not, or not yet, in the draft.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Typed {
    text: String,
    fault: Option<SetupIssue>,
}

#[derive(Clone, Debug, PartialEq)]
struct State {
    draft: Draft,
    typed: BTreeMap<Field, Typed>,
}

/// What is described, and what was typed on the way.
#[derive(Clone, Debug, PartialEq)]
pub struct SetupDesk {
    /// The page in front.
    pub page: SetupPage,
    /// The field that is told about.
    pub asked: Option<Field>,
    /// The blade on the page of blades.
    pub blade: Option<BladeId>,
    /// The file on the page of texts.
    pub text_of: TextOf,
    /// That file as edited, until it is taken in.
    pub text: Option<String>,
    /// Why the edited text was not taken.
    pub text_fault: Option<String>,
    /// The folder that was picked for a new yard.
    pub folder: Option<PathBuf>,
    state: State,
    /// What was last read of the files.
    base: Draft,
    /// What stands in them now, where others have changed them since and something is not saved here.
    theirs: Option<Draft>,
    is_new: bool,
    unit: LengthUnit,
    texts: BTreeMap<Field, String>,
    finished: Result<Finished, Vec<Flaw>>,
    past: Vec<State>,
    future: Vec<State>,
    last: Option<Field>,
}

/// So many steps can be taken back; nobody remembers more.
const STEPS_MOST: usize = 200;

impl SetupDesk {
    pub(super) fn of(
        yard: &Yard,
        shear: Option<&Shear>,
        page: SetupPage,
        unit: LengthUnit,
    ) -> Self {
        let draft = Draft::of(&yard.settings, shear);
        let mut desk = Self {
            page,
            asked: None,
            blade: shear.and_then(|it| it.blades.first()).map(|blade| blade.id.clone()),
            text_of: TextOf::default(),
            text: None,
            text_fault: None,
            folder: None,
            base: draft.clone(),
            finished: draft.finish(),
            state: State { draft, typed: BTreeMap::new() },
            theirs: None,
            is_new: false,
            unit,
            texts: BTreeMap::new(),
            past: Vec::new(),
            future: Vec::new(),
            last: None,
        };
        desk.settle();
        desk
    }

    /// Of a machine that is not in the yard yet.
    pub(super) fn of_new(yard: &Yard, shear: &Shear, unit: LengthUnit) -> Self {
        Self { is_new: true, ..Self::of(yard, Some(shear), SetupPage::Machine, unit) }
    }

    /// Lengths are read in another unit from here on; nothing that was described changes.
    pub(crate) fn set_unit(&mut self, unit: LengthUnit) {
        self.unit = unit;
        // A text that was read stands in the draft; one that could not be waits as it was typed.
        let all = self.past.iter_mut().chain(&mut self.future).chain([&mut self.state]);
        all.for_each(|state| state.typed.retain(|_, it| it.fault.is_some()));
        self.settle();
    }

    /// Another page comes to the front.
    pub(super) fn turn_to(&mut self, page: SetupPage) {
        (self.page, self.last, self.asked) = (page, None, None);
    }

    /// The unit in which lengths stand in the fields.
    pub const fn unit(&self) -> LengthUnit {
        self.unit
    }

    /// What is described as far as it can be read.
    pub const fn draft(&self) -> &Draft {
        &self.state.draft
    }

    /// The yard and the machine if they hold together, or everything that does not.
    pub const fn finished(&self) -> &Result<Finished, Vec<Flaw>> {
        &self.finished
    }

    /// What stands in a field: as typed, or as the draft has it.
    pub fn text(&self, field: &Field) -> &str {
        let typed = self.state.typed.get(field).map(|it| &it.text);
        typed.or_else(|| self.texts.get(field)).map_or("", String::as_str)
    }

    /// Whether the machine is not in the yard yet.
    pub const fn is_new(&self) -> bool {
        self.is_new
    }

    /// Whether a field is there.
    pub fn has(&self, field: &Field) -> bool {
        self.texts.contains_key(field)
    }

    /// What is wrong with a field.
    pub fn fault(&self, field: &Field) -> Option<&SetupIssue> {
        let typed = self.state.typed.get(field).and_then(|it| it.fault.as_ref());
        typed.or_else(|| {
            let flaws = self.finished.as_ref().err()?;
            flaws.iter().find(|flaw| flaw.field == *field).map(|flaw| &flaw.why)
        })
    }

    /// Every field that keeps the draft from being saved.
    pub fn faults(&self) -> Vec<(&Field, &SetupIssue)> {
        let typed = self.state.typed.iter();
        let unread = typed.filter_map(|(field, it)| Some((field, it.fault.as_ref()?)));
        let flaws = self.finished.as_ref().err().into_iter().flatten();
        unread.chain(flaws.map(|flaw| (&flaw.field, &flaw.why))).collect()
    }

    /// Whether something is not saved.
    pub fn is_changed(&self) -> bool {
        let unread = self.state.typed.values().any(|it| it.fault.is_some());
        self.is_new || unread || self.state.draft != self.base
    }

    /// Whether everything can be saved.
    pub fn can_save(&self) -> bool {
        self.is_changed()
            && self.theirs.is_none()
            && self.finished.is_ok()
            && self.faults().is_empty()
    }

    /// Whether there is a change to take back.
    pub const fn can_undo(&self) -> bool {
        !self.past.is_empty()
    }

    /// Whether there is one to make again.
    pub const fn can_redo(&self) -> bool {
        !self.future.is_empty()
    }

    pub(super) fn change(&mut self, change: Change) {
        let field = match &change {
            Change::Put(field, _) => Some(field.clone()),
            Change::Move(station, _) => Some(Field::Station(*station, OfStation::FromPivot)),
            _ => None,
        };
        // A word is one step, not each of its letters.
        if field.is_none() || field != self.last {
            self.past.push(self.state.clone());
            if STEPS_MOST < self.past.len() {
                self.past.remove(0);
            }
        }
        self.future.clear();
        let typed = &mut self.state.typed;
        typed.retain(|other, it| it.fault.is_some() && Some(other) != field.as_ref());
        let fault = match &change {
            Change::Put(field, text) if self.shows_the_file(field, text) => {
                self.state.draft.take(field, &self.base);
                None
            }
            _ => self.state.draft.change(&change, self.unit).err(),
        };
        if let Change::Put(field, text) = change {
            self.state.typed.insert(field, Typed { text, fault });
        }
        self.last = field;
        self.settle();
    }

    /// Whether a text is the one that shows the length in the file. It stands for that length: an inch
    /// may show no more than the nearest number, and typing it again must not move anything.
    fn shows_the_file(&self, field: &Field, text: &str) -> bool {
        let shown = self.base.is_length(field).then(|| self.base.text(field, self.unit)).flatten();
        shown.is_some_and(|it| it == text.trim().replace(',', "."))
    }

    pub(super) fn travel(&mut self, back: Back) {
        let (from, to) = match back {
            Back::Past => (&mut self.past, &mut self.future),
            Back::Future => (&mut self.future, &mut self.past),
        };
        if let Some(state) = from.pop() {
            to.push(std::mem::replace(&mut self.state, state));
            self.last = None;
            self.settle();
        }
    }

    /// What the draft was made from: the yard's file, and the machine's if it is in the yard.
    pub(super) fn read_from(&self) -> (&Settings, Option<&Shear>) {
        (&self.base.settings, self.base.shear.as_ref().filter(|_| !self.is_new))
    }

    /// What others have changed in the files while something was not saved here.
    pub fn elsewhere(&self) -> Vec<Elsewhere> {
        let ours = &self.state.draft;
        let theirs = self.theirs.as_ref();
        theirs.map_or_else(Vec::new, |it| ours.elsewhere(&self.base, it, self.unit))
    }

    /// Others have changed the files. Where nothing waits to be saved, what they wrote stands here
    /// too; what has no field of its own is nobody's choice; and anything else is asked.
    pub(crate) fn found(&mut self, yard: &Yard) {
        let shear = self.base.shear.as_ref();
        let there = shear.and_then(|it| yard.machine(&it.id)).map(|it| &it.shear);
        let theirs = Draft::of(&yard.settings, if self.is_new { shear } else { there.or(shear) });
        if theirs == self.base {
            self.theirs = None;
            return;
        }
        let waits = self.is_changed();
        self.theirs = Some(theirs);
        if !waits || self.elsewhere().is_empty() {
            self.keep_ours();
        }
    }

    /// What was changed here stays, together with what others changed elsewhere.
    pub(super) fn keep_ours(&mut self) {
        let Some(theirs) = self.theirs.take() else { return };
        // A step back must not undo what others did.
        let all = self.past.iter_mut().chain(&mut self.future).chain([&mut self.state]);
        for state in all {
            state.draft = state.draft.with_theirs(&self.base, &theirs);
            state.typed.retain(|_, it| it.fault.is_some());
        }
        self.base = theirs;
        self.last = None;
        self.settle();
    }

    /// What stands in the files stands here; a step back brings what was changed here.
    pub(super) fn take_theirs(&mut self) {
        if self.theirs.is_none() {
            return;
        }
        self.keep_ours();
        self.past.push(self.state.clone());
        self.future.clear();
        self.state = State { draft: self.base.clone(), typed: BTreeMap::new() };
        self.settle();
    }

    /// The yard's file was written, by this screen or by another.
    pub(super) fn settings_saved(&mut self, yard: &Yard) {
        let settings = &yard.settings;
        if self.state.draft.finished_settings() != *settings {
            self.found(yard);
            return;
        }
        let saved = Draft::of(settings, None);
        for of in [&mut self.base].into_iter().chain(&mut self.theirs) {
            (of.settings, of.sets) = (saved.settings.clone(), saved.sets.clone());
        }
        self.saved(settings);
    }

    /// The machine's file was written.
    pub(super) fn shear_saved(&mut self, settings: &Settings, shear: &Shear) {
        let saved = Draft::of(settings, Some(shear));
        (self.base.shear, self.base.limits) = (saved.shear, saved.limits);
        if self.is_new {
            self.is_new = false;
            self.state.draft.shear.clone_from(&self.base.shear);
        }
        self.saved(settings);
    }

    /// What stands in the files is what is described, where nothing is left to save.
    fn saved(&mut self, settings: &Settings) {
        let same = Draft::of(settings, self.base.shear.as_ref());
        // The shelf and the leaves come back in order.
        if self.state.draft.finish() == same.finish() {
            self.state = State { draft: same.clone(), typed: BTreeMap::new() };
            self.base = same;
            self.settle();
        }
    }

    /// What follows from the draft, found anew.
    fn settle(&mut self) {
        self.texts = self.state.draft.texts(self.unit);
        self.finished = self.state.draft.finish();
        let blades = self.state.draft.shear.iter().flat_map(|shear| &shear.blades);
        let mut blades = blades.map(|blade| &blade.id);
        if !self.blade.as_ref().is_some_and(|id| blades.clone().any(|it| it == id)) {
            self.blade = blades.next().cloned();
        }
    }
}

/// Which way along the changes.
#[derive(Clone, Copy, Debug)]
pub(super) enum Back {
    Past,
    Future,
}
