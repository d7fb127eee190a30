//! Parts: what is left, what will be needed, and what to order.
//!
//! Follows each blade from today's job through so many hours: the gap grows, shims follow it while
//! the pack has room, then the edge is turned, then the blade is replaced; an edge also goes by the
//! hours of its table. A hundred equally likely growths of each line give how often each part is
//! needed; lines are taken as independent, and their counts are added up exactly.
//!
//! Knows the whole yard, since parts are shared. Does not know names for people: `brief` says them.

mod follow;

use crate::domain::{
    decide::{
        Job, MachineDecision,
        outlook::{Outlook, edge_left_h, fresh_edges},
        parts::follow::{Used, follow},
    },
    machine::{Blade, BladeId, LineId, ShearId},
    quantity::{Hours, Length, float},
    statistics::Counts,
    trend::CONFIDENCE,
    yard::{Machine, Part, PartKind, Settings, Yard},
};

/// Shims are counted in steps of so much thickness.
pub const SHIM_STEP: Length = Length::from_um(50);

/// Something that is used up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// A blade, a tip, a guide blade or a pad.
    Blade {
        /// Its name in the shear's file.
        blade: BladeId,
        /// What people call it.
        name: String,
        /// The machine it is for; `None` if it fits all.
        shear: Option<ShearId>,
    },
    /// Bolts of this size and grade.
    Bolt(String),
    /// Nuts of this size and grade.
    Nut(String),
    /// Shims, in steps of [`SHIM_STEP`], whatever their thickness.
    Shims,
    /// Welding consumables.
    Electrode(String),
    /// Grease.
    Grease(String),
}

/// What is needed of one item.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// Which.
    pub item: Item,
    /// How many there are; `None` if nobody counted them.
    pub on_hand: Option<usize>,
    /// How many today's jobs take.
    pub now: usize,
    /// How many are enough with [`CONFIDENCE`].
    pub needed: usize,
    /// How many are needed on average.
    pub expected: f64,
    /// The probability that those on hand, or none, are not enough.
    pub chance_short: f64,
    /// How many to order.
    pub order: usize,
    /// Machines that need them.
    pub machines: Vec<ShearId>,
    /// Those of them whose jobs of today take some.
    pub today: Vec<ShearId>,
}

impl Need {
    /// How many more today's jobs take than there are; `None` if nobody counted them.
    pub fn short_now(&self) -> Option<usize> {
        self.on_hand.map(|there| self.now.saturating_sub(there))
    }
}

/// The edges of one blade.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgesLeft {
    /// The machine.
    pub shear: ShearId,
    /// The blade.
    pub blade: BladeId,
    /// What people call it.
    pub name: String,
    /// The edge in use.
    pub edge: u8,
    /// Edges not used yet.
    pub fresh: usize,
    /// Hours the edge in use has left by its table; `None` if nobody knows since when it has cut.
    pub left_h: Option<f64>,
}

/// Parts for the whole yard.
#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    /// Service hours looked ahead, of each machine.
    pub within: Hours,
    /// Every item that is on hand or may be needed.
    pub needs: Vec<Need>,
    /// Every blade's edges.
    pub edges: Vec<EdgesLeft>,
    /// Lines nobody can look ahead on, because they have no trend of the gap of now.
    pub unforeseen: Vec<(ShearId, LineId)>,
}

impl Supply {
    /// What to order, what today's jobs need first.
    pub fn to_order(&self) -> impl Iterator<Item = &Need> {
        self.needs.iter().filter(|need| 0 < need.order)
    }

    /// Whether a job of today cannot be done with what is on hand.
    pub fn short_now(&self) -> bool {
        self.needs.iter().any(|need| need.on_hand.unwrap_or(0) < need.now)
    }
}

/// What one machine uses up within so many service hours.
#[derive(Clone, Debug, PartialEq)]
pub struct Uses {
    rows: Vec<Row>,
    edges: Vec<EdgesLeft>,
    unforeseen: Vec<(ShearId, LineId)>,
}

/// What a machine uses up within so many service hours.
pub fn uses(
    machine: &Machine,
    decision: &MachineDecision,
    settings: &Settings,
    within: Hours,
) -> Uses {
    let mut list = List { settings, rows: Vec::new() };
    for blade in &machine.shear.blades {
        list.blade(machine, decision, blade, within);
    }
    list.upkeep(machine, within);
    let blind = decision.lines.iter().filter(|it| Outlook::of(machine, it).is_none());
    Uses {
        rows: list.rows,
        edges: machine.shear.blades.iter().map(|blade| edges_of(machine, blade)).collect(),
        unforeseen: blind.map(|it| (machine.shear.id.clone(), it.line)).collect(),
    }
}

/// What a yard needs, from what each of its machines uses up within the same hours.
pub fn supply_of<'a>(
    settings: &Settings,
    machines: impl IntoIterator<Item = &'a Uses>,
    within: Hours,
) -> Supply {
    let mut list = List { settings, rows: Vec::new() };
    let (mut edges, mut unforeseen) = (Vec::new(), Vec::new());
    for uses in machines {
        uses.rows.iter().for_each(|row| list.join(row));
        edges.extend(uses.edges.iter().cloned());
        unforeseen.extend(uses.unforeseen.iter().cloned());
    }
    list.rest_on_hand();
    Supply { within, needs: list.needs(), edges, unforeseen }
}

/// What the yard needs within so many service hours of each machine.
pub fn supply(yard: &Yard, decisions: &[MachineDecision], within: Hours) -> Supply {
    let of = |machine: &Machine| {
        let decision = decisions.iter().find(|it| it.shear == machine.shear.id)?;
        Some(uses(machine, decision, &yard.settings, within))
    };
    let all: Vec<Uses> = yard.machines.iter().filter_map(of).collect();
    supply_of(&yard.settings, &all, within)
}

fn edges_of(machine: &Machine, blade: &Blade) -> EdgesLeft {
    EdgesLeft {
        shear: machine.shear.id.clone(),
        blade: blade.id.clone(),
        name: blade.name.clone(),
        edge: machine.history.blades.get(&blade.id).map_or(1, |state| state.edge),
        fresh: fresh_edges(&machine.history, blade),
        left_h: edge_left_h(&machine.history, blade),
    }
}

#[derive(Clone, Debug, PartialEq)]
struct Row {
    item: Item,
    counts: Counts,
    now: usize,
    machines: Vec<ShearId>,
    today: Vec<ShearId>,
}

impl Row {
    fn of(item: Item) -> Self {
        let counts = Counts::surely(0);
        Self { item, counts, now: 0, machines: Vec::new(), today: Vec::new() }
    }
}

/// The list while it grows.
struct List<'a> {
    settings: &'a Settings,
    rows: Vec<Row>,
}

impl List<'_> {
    fn add(&mut self, item: &Item, counts: &Counts, now: usize, machine: &ShearId) {
        let some = |any: bool| any.then(|| machine.clone()).into_iter().collect();
        self.join(&Row {
            item: item.clone(),
            counts: counts.clone(),
            now,
            machines: some(0.0 < counts.mean()),
            today: some(0 < now),
        });
    }

    /// Counts of one item that do not depend on each other are added up.
    fn join(&mut self, more: &Row) {
        if !self.rows.iter().any(|row| row.item == more.item) {
            self.rows.push(Row::of(more.item.clone()));
        }
        let Some(row) = self.rows.iter_mut().find(|row| row.item == more.item) else { return };
        row.counts = row.counts.plus(&more.counts);
        row.now += more.now;
        for (all, more) in [(&mut row.machines, &more.machines), (&mut row.today, &more.today)] {
            let new: Vec<ShearId> = more.iter().filter(|it| !all.contains(it)).cloned().collect();
            all.extend(new);
        }
    }

    /// One blade followed through the hours: new blades with their bolts and nuts, and shims.
    fn blade(
        &mut self,
        machine: &Machine,
        decision: &MachineDecision,
        blade: &Blade,
        within: Hours,
    ) {
        let cases = follow(machine, decision, blade, within.h());
        let of = |count: fn(&Used) -> usize| -> Vec<usize> { cases.iter().map(count).collect() };
        let fits = decision
            .lines
            .iter()
            .any(|line| matches!(&line.job, Job::Fit { blade: it, .. } if *it == blade.id));
        let id = &machine.shear.id;
        let new = Counts::from_cases(&of(|used| used.blades));
        let now = usize::from(fits);
        self.add(&self.item_of(id, blade), &new, now, id);
        if let Some(bolts) = &blade.bolts {
            let (name, each) = (format!("{} {}", bolts.size, bolts.grade), bolts.from_pivot.len());
            self.add(&Item::Bolt(name.clone()), &new.times(each), now * each, id);
            self.add(&Item::Nut(name), &new.times(each), now * each, id);
        }
        let shims: usize = decision
            .lines
            .iter()
            .filter(|line| shimmed(&line.job) == Some(&blade.id))
            .map(|line| steps(line.job.takes_from_shelf().into_iter().sum()))
            .sum();
        self.add(&Item::Shims, &Counts::from_cases(&of(|used| used.shims)), shims, id);
    }

    /// What comes round by the hours alone.
    fn upkeep(&mut self, machine: &Machine, within: Hours) {
        let now = machine.history.service_now();
        let (grease, weld) = (
            self.settings.intervals_of(&machine.shear).lubricate,
            self.settings.upkeep.times().weld_every,
        );
        let id = &machine.shear.id;
        for (kind, every, last) in [
            (PartKind::Grease, grease, machine.history.lubricated),
            (PartKind::Electrode, weld, machine.history.last_weld()),
        ] {
            let since = now - last.unwrap_or(now);
            let every = every.thousandths().max(1);
            let times = (since + within).thousandths().div_euclid(every).max(0);
            let due = since.thousandths().div_euclid(every).clamp(0, 1);
            let (times, due) =
                (usize::try_from(times).unwrap_or(0), usize::try_from(due).unwrap_or(0));
            let parts: Vec<(String, u16)> = self
                .settings
                .upkeep
                .parts
                .iter()
                .filter(|part| part.kind == kind && fits(part, id))
                .map(|part| (part.name.clone(), part.per_job))
                .collect();
            for (name, each) in parts {
                let item = if kind == PartKind::Grease {
                    Item::Grease(name)
                } else {
                    Item::Electrode(name)
                };
                let each = usize::from(each);
                self.add(&item, &Counts::surely(times * each), due * each, id);
            }
        }
    }

    /// Parts that somebody counted and nothing asks for.
    fn rest_on_hand(&mut self) {
        for part in &self.settings.upkeep.parts {
            let known = self.rows.iter().any(|row| is_of(part, &row.item));
            if !known {
                let name = part.name.clone();
                let item = match part.kind {
                    PartKind::Blade => Item::Blade {
                        blade: BladeId(part.name.clone()),
                        name,
                        shear: part.shear.clone(),
                    },
                    PartKind::Bolt => Item::Bolt(name),
                    PartKind::Nut => Item::Nut(name),
                    PartKind::Electrode => Item::Electrode(name),
                    PartKind::Grease => Item::Grease(name),
                };
                self.rows.push(Row::of(item));
            }
        }
    }

    /// The pile that a blade is taken from: the machine's own, unless somebody counted one that
    /// fits every machine.
    fn item_of(&self, shear: &ShearId, blade: &Blade) -> Item {
        let named = |part: &&Part| part.kind == PartKind::Blade && part.name == blade.id.0;
        let mut parts = self.settings.upkeep.parts.iter().filter(named);
        let shared = parts.clone().any(|part| part.shear.is_none())
            && !parts.any(|part| part.shear.as_ref() == Some(shear));
        Item::Blade {
            blade: blade.id.clone(),
            name: blade.name.clone(),
            shear: (!shared).then(|| shear.clone()),
        }
    }

    fn on_hand(&self, item: &Item) -> Option<usize> {
        if *item == Item::Shims {
            let each =
                |it: &crate::domain::yard::ShelfItem| it.thickness.times(i64::from(it.count));
            return Some(down(self.settings.shelf.iter().map(each).sum()));
        }
        let counted: Vec<usize> = self
            .settings
            .upkeep
            .parts
            .iter()
            .filter(|part| is_of(part, item))
            .map(|part| usize::from(part.count))
            .collect();
        (!counted.is_empty()).then(|| counted.iter().sum())
    }

    fn needs(&self) -> Vec<Need> {
        let need = |row: &Row| {
            let on_hand = self.on_hand(&row.item);
            let needed = row.counts.enough(CONFIDENCE).max(row.now);
            Need {
                item: row.item.clone(),
                on_hand,
                now: row.now,
                needed,
                expected: row.counts.mean(),
                chance_short: row.counts.beyond(on_hand.unwrap_or(0)),
                order: needed.saturating_sub(on_hand.unwrap_or(0)),
                machines: row.machines.clone(),
                today: row.today.clone(),
            }
        };
        let mut needs: Vec<Need> = self.rows.iter().map(need).collect();
        needs.sort_by_key(|need| {
            let short_now = need.on_hand.unwrap_or(0) < need.now;
            (std::cmp::Reverse(short_now), std::cmp::Reverse(need.order.min(1)))
        });
        needs
    }
}

fn fits(part: &Part, shear: &ShearId) -> bool {
    part.shear.as_ref().is_none_or(|it| it == shear)
}

fn is_of(part: &Part, item: &Item) -> bool {
    match (part.kind, item) {
        (PartKind::Blade, Item::Blade { blade, shear, .. }) => {
            part.name == blade.0 && part.shear == *shear
        }
        (PartKind::Bolt, Item::Bolt(name))
        | (PartKind::Nut, Item::Nut(name))
        | (PartKind::Electrode, Item::Electrode(name))
        | (PartKind::Grease, Item::Grease(name)) => part.name == *name,
        _ => false,
    }
}

/// The blade whose pack a job changes.
fn shimmed(job: &Job) -> Option<&BladeId> {
    match job {
        Job::ChangePack { blade, .. } | Job::StepPack { blade, .. } => Some(blade),
        _ => None,
    }
}

/// Steps of shims that are at least as thick.
fn steps(thickness: Length) -> usize {
    let step = SHIM_STEP.nm();
    usize::try_from((thickness.nm() + step - 1).div_euclid(step)).unwrap_or(0)
}

/// Steps of shims that are no thicker.
fn down(thickness: Length) -> usize {
    usize::try_from(thickness.nm().div_euclid(SHIM_STEP.nm())).unwrap_or(0)
}

/// A whole number of steps as millimetres.
pub fn shim_mm(steps: usize) -> f64 {
    float(i64::try_from(steps).unwrap_or(i64::MAX)) * SHIM_STEP.mm()
}
