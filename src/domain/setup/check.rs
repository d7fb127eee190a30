//! Whether a draft holds together, asked of the types it is made of.

use crate::domain::{
    gauge::LeafSet,
    heat,
    machine::{BladeId, Limits, LimitsError, LineId, Shear, ShearIssue},
    quantity::{Length, NumberError},
    setup::{
        Draft, Field, LimitsDraft, OfBlade, OfHeat, OfLeaf, OfLimits, OfLine, OfMachine, OfSet,
        OfStation, OfYard, SetDraft,
    },
    yard::Settings,
};

/// Why a text or a draft cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SetupIssue {
    /// A text that is no number, or one that cannot be.
    #[error(transparent)]
    Number(#[from] NumberError),
    /// A number that no file takes.
    #[error("“{0}” is beyond what any machine has")]
    Beyond(String),
    /// A text that is no whole number in range.
    #[error("“{0}” is no whole number that fits here")]
    NoCount(String),
    /// A text that is none of the choices.
    #[error("“{0}” is none of the choices")]
    NoChoice(String),
    /// A text that is no day.
    #[error("“{0}” is no day: write it like 2026-03-14")]
    NoDay(String),
    /// A name is missing.
    #[error("nothing is written here yet")]
    NoName,
    /// Limits that do not lie inside each other.
    #[error(transparent)]
    Limits(#[from] LimitsError),
    /// Something in the machine does not hang together.
    #[error(transparent)]
    Shear(#[from] ShearIssue),
    /// A leaf set without leaves, or with one of them twice.
    #[error("a leaf set needs at least one leaf, each above zero and none of them twice")]
    LeafSet,
    /// A tolerance as large as the leaf.
    #[error("the tolerance is as large as the leaf")]
    Tolerance,
    /// A calibration that was due before it was made.
    #[error("it cannot have been due before it was made")]
    Calibration,
    /// Heat that cannot be calculated.
    #[error("{0}")]
    Heat(String),
    /// A shim of no thickness.
    #[error("a shim has no thickness")]
    Shim,
}

/// Something that does not hold together, and the field where it shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    /// The field.
    pub field: Field,
    /// What is wrong.
    pub why: SetupIssue,
}

/// A draft that holds together.
#[derive(Clone, Debug, PartialEq)]
pub struct Finished {
    /// What belongs to the yard as a whole.
    pub settings: Settings,
    /// The machine, if one is described.
    pub shear: Option<Shear>,
}

impl Draft {
    /// The yard and the machine it describes.
    ///
    /// # Errors
    ///
    /// Everything that does not hold together, in the order of the description.
    pub fn finish(&self) -> Result<Finished, Vec<Flaw>> {
        let mut flaws = Vec::new();
        let settings = self.settings_checked(&mut flaws);
        let shear = self.shear.as_ref().map(|shear| self.shear_checked(shear, &mut flaws));
        if flaws.is_empty() { Ok(Finished { settings, shear }) } else { Err(flaws) }
    }

    /// The yard with every leaf set that is one; what is wrong with another is said elsewhere.
    pub(crate) fn finished_settings(&self) -> Settings {
        self.settings_checked(&mut Vec::new())
    }

    fn settings_checked(&self, flaws: &mut Vec<Flaw>) -> Settings {
        let mut settings = self.settings.clone();
        if settings.name.trim().is_empty() {
            flaws.push(Flaw { field: Field::Yard(OfYard::Name), why: SetupIssue::NoName });
        }
        for (row, item) in settings.shelf.iter().enumerate() {
            if item.thickness <= Length::ZERO {
                let field = Field::Shelf(row, crate::domain::setup::OfShelf::Thickness);
                flaws.push(Flaw { field, why: SetupIssue::Shim });
            }
        }
        settings.shelf.sort_by_key(|item| item.thickness);
        let sets = self.sets.iter().enumerate();
        settings.leaf_sets = sets.filter_map(|(place, set)| leaf_set(place, set, flaws)).collect();
        settings
    }

    fn shear_checked(&self, shear: &Shear, flaws: &mut Vec<Flaw>) -> Shear {
        let mut shear = shear.clone();
        if shear.name.trim().is_empty() {
            flaws.push(Flaw { field: Field::Machine(OfMachine::Name), why: SetupIssue::NoName });
        }
        for line in &mut shear.lines {
            let Some(draft) = self.limits.get(&line.id) else { continue };
            match limits(draft) {
                Ok(limits) => line.limits = limits,
                Err(why) => {
                    flaws.push(Flaw { field: limit_at(line.id, draft, why), why: why.into() });
                }
            }
        }
        flaws.extend(
            shear
                .check()
                .into_iter()
                .map(|issue| Flaw { field: shear_at(&shear, &issue), why: issue.into() }),
        );
        if let Some(fault) = heat::fault_of(&shear) {
            let why = SetupIssue::Heat(fault.to_string());
            flaws.push(Flaw { field: Field::Heat(OfHeat::Source), why });
        }
        shear
    }
}

fn limits(draft: &LimitsDraft) -> Result<Limits, LimitsError> {
    let LimitsDraft { set, working, stop, hot_min, taper_max, source } = draft.clone();
    Limits::new(set, working, stop, hot_min, taper_max, source)
}

/// The limit beside which a fault is shown.
fn limit_at(line: LineId, draft: &LimitsDraft, why: LimitsError) -> Field {
    let (set, working, stop) = (draft.set, draft.working, draft.stop);
    let of = match why {
        LimitsError::Reversed if set.max < set.min => OfLimits::SetMax,
        LimitsError::Reversed if working.max < working.min => OfLimits::WorkingMax,
        LimitsError::Reversed => OfLimits::StopMax,
        LimitsError::Negative => OfLimits::StopMin,
        LimitsError::SetOutsideWorking if set.min < working.min => OfLimits::SetMin,
        LimitsError::SetOutsideWorking => OfLimits::SetMax,
        LimitsError::WorkingOutsideStop if working.min < stop.min => OfLimits::WorkingMin,
        LimitsError::WorkingOutsideStop => OfLimits::WorkingMax,
    };
    Field::Limit(line, of)
}

/// The field beside which a fault of the machine is shown.
fn shear_at(shear: &Shear, issue: &ShearIssue) -> Field {
    let blade = |id: &BladeId, of| Field::Blade(id.clone(), of);
    match issue {
        ShearIssue::NoLines => Field::Machine(OfMachine::Name),
        ShearIssue::LineTwice(line) | ShearIssue::NoStations(line) => {
            Field::Line(*line, OfLine::Place)
        }
        ShearIssue::UnknownBlade { line, blade } => {
            let moving = shear.line(*line).is_some_and(|it| it.moving == *blade);
            Field::Line(*line, if moving { OfLine::Moving } else { OfLine::Fixed })
        }
        ShearIssue::UnknownPosition(line) => Field::Line(*line, OfLine::Position),
        ShearIssue::StationOrder(station) => Field::Station(*station, OfStation::FromPivot),
        ShearIssue::Edges(id) => blade(id, OfBlade::Edges),
        ShearIssue::Shape(id) => {
            let angle =
                shear.blade(id).is_some_and(|it| it.near < it.far && Length::ZERO < it.depth);
            let shallow = shear.blade(id).is_some_and(|it| it.near < it.far);
            let of = match (angle, shallow) {
                (true, _) => OfBlade::FaceAngle,
                (false, true) => OfBlade::Depth,
                (false, false) => OfBlade::Far,
            };
            blade(id, of)
        }
        ShearIssue::Geometry => {
            let g = shear.geometry;
            let sizes = [
                (g.reach, OfMachine::Reach),
                (g.mouth, OfMachine::Mouth),
                (g.cheek, OfMachine::Cheek),
                (g.upper_jaw, OfMachine::UpperJaw),
                (g.pivot, OfMachine::Pivot),
                (g.pads, OfMachine::Pads),
            ];
            let wrong = sizes.into_iter().find(|(size, _)| *size <= Length::ZERO);
            Field::Machine(wrong.map_or(OfMachine::Reach, |(_, of)| of))
        }
    }
}

fn leaf_set(place: usize, draft: &SetDraft, flaws: &mut Vec<Flaw>) -> Option<LeafSet> {
    for (number, leaf) in draft.leaves.iter().enumerate() {
        if leaf.thickness <= leaf.tolerance {
            let field = Field::Leaf(place, number, OfLeaf::Tolerance);
            flaws.push(Flaw { field, why: SetupIssue::Tolerance });
        }
    }
    if draft.calibration.is_some_and(|it| it.due < it.on) {
        let field = Field::Set(place, OfSet::Due);
        flaws.push(Flaw { field, why: SetupIssue::Calibration });
    }
    let set = LeafSet::new(draft.name.clone(), draft.leaves.clone());
    if set.is_none() {
        flaws.push(Flaw { field: Field::Set(place, OfSet::Name), why: SetupIssue::LeafSet });
    }
    set.map(|set| set.calibrated(draft.calibration))
}
