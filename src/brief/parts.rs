//! Parts, told: what there is, what will be needed, what to order.

use crate::{
    brief::{Numbers, numbers, words},
    domain::{
        decide::{EdgesLeft, Item, Need, Supply, shim_mm},
        machine::ShearId,
        trend::CONFIDENCE,
        yard::Yard,
    },
    language::{self, sentence, tell},
};

/// One kind of part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartBrief {
    /// `Front blade, Heron`.
    pub name: String,
    /// `2`, or that nobody counted them.
    pub on_hand: String,
    /// `1`: what today's jobs take.
    pub now: String,
    /// `3`: enough four times in five.
    pub needed: String,
    /// `1`, or nothing.
    pub order: String,
    /// `Heron, Wren`: who needs them.
    pub machines: String,
    /// Whether today's jobs take more than there are.
    pub short: bool,
}

/// All parts of a yard.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartsBrief {
    /// What the list looks ahead to.
    pub title: String,
    /// What to order first.
    pub parts: Vec<PartBrief>,
    /// `1 front blade for Heron, 4 bolts M20 10.9`; nothing if nothing is short.
    pub shopping: Option<String>,
    /// `Parts short`, if a job of today cannot be done with what is on hand.
    pub short: Option<&'static str>,
    /// One sentence for each blade whose last edge is in use, or soon dull.
    pub edges: Vec<String>,
    /// What the numbers rest on.
    pub notes: Vec<String>,
}

/// Tells what a yard has and needs.
pub fn tell(supply: &Supply, yard: &Yard, n: Numbers) -> PartsBrief {
    let within = numbers::whole_hours(supply.within.h());
    PartsBrief {
        title: tell!(
            "Within {within} of service of each machine; enough four times in five ({confidence}).",
            within,
            confidence = numbers::percent(CONFIDENCE)
        ),
        parts: supply
            .needs
            .iter()
            .filter(|need| 0 < need.needed || need.on_hand.is_some())
            .map(|need| part(need, yard, n))
            .collect(),
        shopping: shopping(supply, yard, n),
        short: supply.short_now().then_some(language::told(SHORT)),
        edges: supply.edges.iter().filter_map(|it| edges(it, yard, supply)).collect(),
        notes: notes(supply, yard),
    }
}

/// Everything to order in one line; nothing if nothing is short.
pub fn shopping(supply: &Supply, yard: &Yard, n: Numbers) -> Option<String> {
    let list: Vec<String> = supply.to_order().map(|need| order(need, yard, n)).collect();
    (!list.is_empty()).then(|| list.join(", "))
}

/// The same for one machine alone.
pub fn shopping_for(supply: &Supply, shear: &ShearId, yard: &Yard, n: Numbers) -> Option<String> {
    let mine = |need: &&Need| need.machines.contains(shear);
    let list: Vec<String> =
        supply.to_order().filter(mine).map(|need| order(need, yard, n)).collect();
    (!list.is_empty()).then(|| list.join(", "))
}

/// `1 front blade for Heron`, `4 bolts M20 10.9`.
fn order(need: &Need, yard: &Yard, n: Numbers) -> String {
    let count = need.order;
    match &need.item {
        Item::Blade { name, shear, .. } => {
            let machine = shear.as_ref().map(|it| tell!(" for {yard}", yard = called(yard, it)));
            let name = language::known(name);
            let part = match count {
                1 => format!("1 {name}"),
                _ => tell!("{count} {name}s", count, name),
            };
            part + &machine.unwrap_or_default()
        }
        Item::Bolt(name) if count == 1 => tell!("1 bolt {name}", name),
        Item::Bolt(name) => tell!("{count} bolts {name}", count, name),
        Item::Nut(name) if count == 1 => tell!("1 nut {name}", name),
        Item::Nut(name) => tell!("{count} nuts {name}", count, name),
        Item::Shims => tell!("shims, {thickness} in all", thickness = amount(count, &need.item, n)),
        Item::Electrode(name) | Item::Grease(name) => format!("{count} × {name}"),
    }
}

fn part(need: &Need, yard: &Yard, n: Numbers) -> PartBrief {
    let amount = |count| amount(count, &need.item, n);
    let some = |count| if count == 0 { "–".to_owned() } else { amount(count) };
    let machines: Vec<&str> = need.machines.iter().map(|it| called(yard, it)).collect();
    PartBrief {
        name: name(&need.item, yard),
        on_hand: need.on_hand.map_or_else(|| tell!("not counted").to_owned(), amount),
        now: some(need.now),
        needed: some(need.needed),
        order: some(need.order),
        machines: machines.join(", "),
        short: is_short(need),
    }
}

fn is_short(need: &Need) -> bool {
    need.short_now().is_some_and(|missing| 0 < missing)
}

/// Whether a machine's jobs of today can be done with what is on hand, in two or three words;
/// nothing if they can.
pub fn short_for(supply: &Supply, shear: &ShearId) -> Option<&'static str> {
    let mine = || supply.needs.iter().filter(|need| need.today.contains(shear));
    if mine().any(is_short) {
        Some(language::told(SHORT))
    } else {
        mine().any(|need| need.on_hand.is_none()).then_some(tell!("Parts not counted"))
    }
}

/// A job of today cannot be done with what is on hand.
const SHORT: &str = sentence!("Parts short");

fn name(item: &Item, yard: &Yard) -> String {
    match item {
        Item::Blade { name, shear: Some(shear), .. } => {
            format!("{}, {}", words::capital(language::known(name)), called(yard, shear))
        }
        Item::Bolt(name) => tell!("Bolts {name}", name),
        Item::Nut(name) => tell!("Nuts {name}", name),
        Item::Shims => tell!("Shims, thickness in all").to_owned(),
        Item::Blade { name, shear: None, .. } | Item::Electrode(name) | Item::Grease(name) => {
            words::capital(language::known(name))
        }
    }
}

fn amount(count: usize, item: &Item, n: Numbers) -> String {
    match item {
        Item::Shims => format!("{}\u{a0}{}", n.estimate(shim_mm(count)), n.unit_name()),
        _ => count.to_string(),
    }
}

fn edges(left: &EdgesLeft, yard: &Yard, supply: &Supply) -> Option<String> {
    let hours = left.left_h.filter(|hours| *hours <= supply.within.h())?;
    let then = match left.fresh {
        0 => tell!("no fresh edge is left").to_owned(),
        1 => tell!("1 fresh edge is left").to_owned(),
        more => tell!("{more} fresh edges are left", more),
    };
    let when = if hours <= 0.0 {
        tell!("is up by its table").to_owned()
    } else {
        tell!("is up in {hours} by its table", hours = numbers::whole_hours(hours))
    };
    let (name, machine) = (words::capital(language::known(&left.name)), called(yard, &left.shear));
    Some(tell!(
        "{name} of {machine}: edge {edge} {when}; {then}.",
        name,
        machine,
        edge = left.edge,
        when,
        then
    ))
}

/// One shelf, and several machines.
pub const SHARED_SHELF: &str = sentence!(
    "One shelf serves the whole yard: the lines of one machine never want \
     the same shim twice, but each machine's recipe counts on all that lies there. Work that is \
     written down takes nothing off the count: count again after it."
);
/// Where all machines are added up.
pub const ADDED_UP: &str = sentence!(
    "What the jobs of all machines take together stands under Parts on the Decide screen."
);

fn notes(supply: &Supply, yard: &Yard) -> Vec<String> {
    let mut notes = Vec::new();
    if yard.settings.upkeep.parts.is_empty() {
        notes.push(
            tell!("Nobody counted spare parts yet: write them into yard.ron under “parts”.")
                .to_owned(),
        );
    }
    if !supply.unforeseen.is_empty() {
        let places: Vec<String> = supply
            .unforeseen
            .iter()
            .filter_map(|(shear, line)| {
                let place = &yard.machine(shear)?.shear.line(*line)?.place;
                Some(format!("{} {line} {}", called(yard, shear), language::known(place)))
            })
            .collect();
        notes.push(tell!(
            "Counted by today's job and the hours on the edge alone, since no trend runs towards \
             the upper limit: {places}.",
            places = places.join(", ")
        ));
    }
    notes.push(language::told(SHARED_SHELF).to_owned());
    notes.push(
        tell!("Each line is taken by itself, its widest station for all, and work as leaving it in the \
         middle of the set range.")
            .to_owned(),
    );
    notes
}

fn called<'a>(yard: &'a Yard, shear: &'a ShearId) -> &'a str {
    yard.machine(shear).map_or(shear.as_str(), |it| &it.shear.name)
}
