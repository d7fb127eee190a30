//! Changes to the shape of a description: what comes in, what goes out, where a station stands.
//!
//! Stations are numbered from the pivot and their readings go by that number, so only the outermost
//! comes or goes and none is moved past its neighbour: a reading never changes its place.

use crate::domain::{
    gauge::{Calibration, Leaf, LeafSet},
    machine::{
        BladeId, Bolts, Follows, Line, LineId, Link, Material, PackRules, Shear, Station,
        StationId,
        bare::{Known, with},
    },
    quantity::{Length, LengthUnit},
    setup::{Draft, Field, LimitsDraft, SetDraft, SetupIssue},
    yard::{Settings, ShelfItem},
};
use chrono::{NaiveDate, TimeDelta};
use std::collections::BTreeMap;

/// Something that changes a description.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// A text was typed into a field, or one of its choices taken.
    Put(Field, String),
    /// A station was moved to this distance from the pivot.
    Move(StationId, Length),
    /// One more station at the far end of a line.
    AddStation(LineId),
    /// The outermost station of a line goes.
    DropStation(LineId),
    /// One more line, with blades of its own.
    AddLine,
    /// A line goes, with its stations and limits.
    DropLine(LineId),
    /// One more link in the expansion chain of a line.
    AddLink(LineId),
    /// The last link of the chain goes.
    DropLink(LineId),
    /// A blade has bolts, or none after all.
    ToggleBolts(BladeId),
    /// A blade can be shimmed, or not after all.
    TogglePack(BladeId),
    /// One more thickness on the shelf.
    AddShim,
    /// A thickness of the shelf goes.
    DropShim(usize),
    /// A usual leaf set comes in.
    AddSet(Box<LeafSet>),
    /// A leaf set goes.
    DropSet(usize),
    /// One more leaf in a set.
    AddLeaf(usize),
    /// A leaf goes.
    DropLeaf(usize, usize),
    /// A set was calibrated on this day, or nobody noted when.
    ToggleCalibration(usize, NaiveDate),
    /// The machine as a text says it.
    TakeShear(Box<Shear>),
    /// The yard as a text says it.
    TakeSettings(Box<Settings>),
}

const MM: Length = Length::from_um(1_000);

impl Draft {
    /// Makes one change; what it names and is not there changes nothing. Lengths are read in `unit`
    /// where they have none of their own.
    ///
    /// # Errors
    ///
    /// [`SetupIssue`] if a text cannot be read; then nothing has changed.
    pub fn change(&mut self, change: &Change, unit: LengthUnit) -> Result<(), SetupIssue> {
        match change {
            Change::Put(field, text) => {
                return self.slot(field).map_or(Ok(()), |slot| slot.put(text, unit));
            }
            Change::TakeShear(shear) => *self = Self::of_both(&self.finished_settings(), shear),
            Change::TakeSettings(settings) => {
                let (shear, limits) = (self.shear.take(), std::mem::take(&mut self.limits));
                *self = Self { shear, limits, ..Self::of(settings, None) };
            }
            Change::Move(id, to) => {
                self.shear.as_mut().and_then(|shear| move_station(shear, *id, *to, unit));
            }
            Change::AddStation(_)
            | Change::DropStation(_)
            | Change::AddLine
            | Change::DropLine(_)
            | Change::AddLink(_)
            | Change::DropLink(_)
            | Change::ToggleBolts(_)
            | Change::TogglePack(_) => {
                self.shape(change);
            }
            _ => {
                self.stock(change);
            }
        }
        Ok(())
    }

    fn of_both(settings: &Settings, shear: &Shear) -> Self {
        Self::of(settings, Some(shear))
    }

    /// The machine's own shape; `None` if there was nothing to change.
    fn shape(&mut self, change: &Change) -> Option<()> {
        let shear = self.shear.as_mut()?;
        match change {
            Change::AddStation(line) => add_station(line_mut(shear, *line)?),
            Change::DropStation(line) => {
                let stations = &mut line_mut(shear, *line)?.stations;
                if 1 < stations.len() {
                    stations.pop();
                }
                Some(())
            }
            Change::AddLine => {
                let known = Known {
                    stations: BTreeMap::from([(free_letter(shear)?, 2)]),
                    ..Known::default()
                };
                *shear = with(shear, &known)?;
                let line = shear.lines.last()?;
                self.limits.insert(line.id, LimitsDraft::from(&line.limits));
                Some(())
            }
            Change::DropLine(id) => {
                shear.lines.retain(|line| line.id != *id);
                if let Some(thermal) = &mut shear.thermal {
                    thermal.contacts.retain(|contact| contact.line != *id);
                }
                self.limits.remove(id);
                Some(())
            }
            Change::AddLink(line) => {
                line_mut(shear, *line)?.chain.0.push(Link {
                    name: "link".to_owned(),
                    length: MM.times(50),
                    opens: true,
                    material: Material::CarbonSteelTe1,
                    follows: Follows::LowerJaw,
                });
                Some(())
            }
            Change::DropLink(line) => line_mut(shear, *line)?.chain.0.pop().map(|_| ()),
            Change::ToggleBolts(id) => {
                let blade = shear.blades.iter_mut().find(|blade| blade.id == *id)?;
                blade.bolts = blade.bolts.is_none().then(|| Bolts {
                    from_pivot: vec![(blade.near + blade.far).half()],
                    size: "M24".to_owned(),
                    grade: "10.9".to_owned(),
                    torque: None,
                    first_torque: None,
                });
                Some(())
            }
            Change::TogglePack(id) => {
                let blade = shear.blades.iter_mut().find(|blade| blade.id == *id)?;
                let rules = PackRules { most_shims: 4, thickest: MM, step: None };
                blade.pack = blade.pack.is_none().then_some(rules);
                Some(())
            }
            _ => None,
        }
    }

    /// Leaves and shims; `None` if there was nothing to change.
    fn stock(&mut self, change: &Change) -> Option<()> {
        match change {
            Change::AddShim => {
                let shelf = &mut self.settings.shelf;
                let thickest = shelf.iter().map(|item| item.thickness).max();
                let thickness = thickest.unwrap_or(Length::ZERO) + MM.half();
                shelf.push(ShelfItem { thickness, count: 4 });
            }
            Change::DropShim(row) => {
                self.settings.shelf.get(*row)?;
                self.settings.shelf.remove(*row);
            }
            Change::AddSet(set) => self.sets.push(SetDraft::from(&**set)),
            Change::DropSet(set) => {
                self.sets.get(*set)?;
                self.sets.remove(*set);
            }
            Change::AddLeaf(set) => {
                let leaves = &mut self.sets.get_mut(*set)?.leaves;
                let thickest = leaves.iter().map(|leaf| leaf.thickness).max();
                let thickness = thickest.unwrap_or(Length::ZERO) + Length::from_um(50);
                let tolerance = leaves.last().map_or(Length::from_um(5), |leaf| leaf.tolerance);
                leaves.push(Leaf { thickness, tolerance, measured: None });
            }
            Change::DropLeaf(set, leaf) => {
                let leaves = &mut self.sets.get_mut(*set)?.leaves;
                leaves.get(*leaf)?;
                leaves.remove(*leaf);
            }
            Change::ToggleCalibration(set, on) => {
                let noted = &mut self.sets.get_mut(*set)?.calibration;
                let due = *on + TimeDelta::days(365);
                *noted = noted.is_none().then_some(Calibration { on: *on, due });
            }
            _ => return None,
        }
        Some(())
    }
}

fn line_mut(shear: &mut Shear, id: LineId) -> Option<&mut Line> {
    shear.lines.iter_mut().find(|line| line.id == id)
}

/// The usual letters first, then any other.
fn free_letter(shear: &Shear) -> Option<LineId> {
    let usual = [LineId::P, LineId::S, LineId::T, LineId::F, LineId::G, LineId::J];
    let all = usual.into_iter().chain(('A'..='Z').filter_map(LineId::new));
    all.into_iter().find(|id| shear.line(*id).is_none())
}

/// Halfway between the outermost station and the far end of the fixed blade, or a hand further out.
fn add_station(line: &mut Line) -> Option<()> {
    let number = u8::try_from(line.stations.len()).ok()?.checked_add(1)?;
    let last = line.stations.last().copied();
    let step = match line.stations.as_slice() {
        [.., before, last] => last.from_pivot - before.from_pivot,
        _ => MM.times(100),
    };
    line.stations.push(Station {
        id: StationId { line: line.id, number },
        from_pivot: last.map_or(MM.times(100), |last| last.from_pivot + step),
        across: last.and_then(|last| last.across),
    });
    Some(())
}

/// The step in which a station is moved by hand: a millimetre, or five hundredths of an inch.
pub const fn hand_step(unit: LengthUnit) -> Length {
    match unit {
        LengthUnit::Millimetre => MM,
        LengthUnit::Inch => Length::from_um(1_270),
    }
}

/// To a whole step, between its neighbours and inside the jaw.
fn move_station(shear: &mut Shear, id: StationId, to: Length, unit: LengthUnit) -> Option<()> {
    let step = hand_step(unit);
    let reach = shear.geometry.reach;
    let stations = &mut line_mut(shear, id.line)?.stations;
    let place = stations.iter().position(|it| it.id == id)?;
    let near = place.checked_sub(1).and_then(|before| stations.get(before));
    let near = near.map_or(Length::ZERO, |it| it.from_pivot + step);
    let far = stations.get(place + 1).map_or(reach, |it| it.from_pivot - step);
    let whole = step.times((to.nm() + step.half().nm()).div_euclid(step.nm()));
    let station = stations.get_mut(place)?;
    station.from_pivot = whole.min(far).max(near);
    Some(())
}
