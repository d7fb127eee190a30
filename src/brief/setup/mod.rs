//! The Setup screen, told: what each field is called, in which unit, what is usual, and where its
//! number comes from.
//!
//! "Usual" is no rule: a number outside it is taken, and somebody is asked to look again. The rules
//! are those of the domain, and so are their sentences. All ranges are judgement over machines of
//! this kind, from memory, and say so.

mod heat;
mod machine;
mod outcome;
mod yard;

pub use outcome::{elsewhere, outcome, unfinished};

use crate::{
    brief::numbers,
    domain::{
        machine::BladeId,
        quantity::{Length, LengthUnit},
        setup::{Draft, Field, OfLine, OfMachine},
    },
    language::{self, sentence, tell},
};

/// What is told of a field.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// What it is called, in a few words.
    pub label: &'static str,
    /// Its unit, for a length the one that people read; empty where it has none.
    pub unit: &'static str,
    /// What is usual, in that unit.
    pub usual: Option<(f64, f64)>,
    /// What it is.
    pub what: &'static str,
    /// Where its number comes from.
    pub source: &'static str,
}

/// Where most numbers come from.
const MANUAL: &str = sentence!("From the machine's manual. Match it by place, not by letter.");
/// Lengths that anybody can measure.
const MEASURED: &str = sentence!(
    "Measured on the machine, locked out and blocked, or from its drawing. \
     A steel rule is good enough: it puts things in their place on the drawing."
);
/// What only the machine's drawing tells.
const DRAWING: &str = sentence!(
    "From the drawing of the machine. If nobody has one, leave the template's number: the hot gap \
     is then an estimate of a machine like it."
);
/// What is common and has no source.
const PRACTICE: &str = sentence!(
    "Common practice, no published source. If the machine's manual says otherwise, the manual is \
     right."
);

/// What stands over the intervals.
pub const INTERVALS: &str = sentence!(
    "These are common practice. Where the machine's manual says less, \
     write that."
);

const fn guide(
    label: &'static str,
    unit: &'static str,
    usual: Option<(f64, f64)>,
    what: &'static str,
    source: &'static str,
) -> Guide {
    Guide { label, unit, usual, what, source }
}

/// What is told of a field to somebody who reads lengths in `unit`.
pub fn tell(field: &Field, unit: LengthUnit) -> Guide {
    let told = guide_of(field);
    let told = match (told.unit, unit) {
        (MM, LengthUnit::Inch) => Guide { unit: "in", usual: told.usual.map(inches), ..told },
        _ => told,
    };
    let Guide { label, unit, usual, what, source } = told;
    let [label, unit, what, source] = [label, unit, what, source].map(language::told);
    Guide { label, unit, usual, what, source }
}

/// The unit of every length in the tables of fields.
const MM: &str = "mm";

/// A usual range of millimetres in inches, rounded outward to two digits: it is judgement.
fn inches((least, most): (f64, f64)) -> (f64, f64) {
    let rounded = |mm: f64, round: fn(f64) -> f64| {
        let inches = mm / 25.4;
        let scale = (-3..8).map(|digits| 10_f64.powi(digits)).find(|it| 10.0 <= inches * it);
        scale.map_or(0.0, |it| round(inches * it) / it)
    };
    (rounded(least, f64::floor), rounded(most, f64::ceil))
}

/// What stands in a field, with the decimal mark of the language where it is a number.
pub fn written(field: &Field, text: &str) -> String {
    let told = guide_of(field);
    let is_number = !told.unit.is_empty() || told.usual.is_some();
    if is_number { numbers::marked(text.to_owned()) } else { text.to_owned() }
}

/// A length as its fields show it, with its unit.
pub fn length(length: Length, unit: LengthUnit) -> String {
    let sign = match unit {
        LengthUnit::Millimetre => MM,
        LengthUnit::Inch => "in",
    };
    format!("{}\u{a0}{sign}", numbers::marked(length.typed(unit)))
}

const fn guide_of(field: &Field) -> Guide {
    match field {
        Field::Yard(of) => yard::of_yard(*of),
        Field::Shelf(_, of) => yard::of_shelf(*of),
        Field::Set(_, of) => yard::of_set(*of),
        Field::Leaf(_, _, of) => yard::of_leaf(*of),
        Field::Machine(of) => machine::of_machine(*of),
        Field::Position(_) => machine::POSITION,
        Field::Line(_, of) => machine::of_line(*of),
        Field::Station(_, of) => machine::of_station(*of),
        Field::Limit(_, of) => machine::of_limits(*of),
        Field::Blade(_, of) => machine::of_blade(*of),
        Field::Link(_, _, of) => machine::of_link(*of),
        Field::Heat(of) => heat::of_heat(*of),
        Field::Part(_, of) => heat::of_part(*of),
        Field::Joint(..) => heat::JOINT,
        Field::Contact(_, of) => heat::of_contact(*of),
    }
}

/// What one of the choices of a field is called; a blade as a mechanic calls it.
pub fn choice(field: &Field, text: &str, draft: &Draft) -> String {
    let is_blade = matches!(field, Field::Line(_, OfLine::Moving | OfLine::Fixed));
    if is_blade {
        blade(&BladeId(text.to_owned()), draft)
    } else {
        language::known(text).to_owned()
    }
}

fn blade(id: &BladeId, draft: &Draft) -> String {
    let blade = draft.shear.as_ref().and_then(|shear| shear.blade(id));
    blade.map_or_else(|| id.0.clone(), |blade| language::known(&blade.name).to_owned())
}

/// Whose number stands in a field that only one machine may have: `8 h, from the yard`, or
/// `of this machine`; `None` for any other field.
pub fn whose(field: &Field, draft: &Draft) -> Option<String> {
    let Field::Machine(of) = field else { return None };
    let (own, yard) = (draft.shear.as_ref()?.intervals, draft.settings.intervals);
    let (own, yard) = match of {
        OfMachine::Look => (own.look, yard.look),
        OfMachine::Lubricate => (own.lubricate, yard.lubricate),
        OfMachine::Retorque => (own.retorque, yard.retorque),
        OfMachine::BreakIn => (own.break_in, yard.break_in),
        _ => return None,
    };
    Some(match own {
        Some(_) => tell!("of this machine").to_owned(),
        None => tell!("{hours} h, from the yard", hours = numbers::exact(yard.h())),
    })
}

/// The usual range in words.
pub fn usual(guide: &Guide) -> Option<String> {
    let (least, most) = guide.usual?;
    let unit = if guide.unit.is_empty() { String::new() } else { format!(" {}", guide.unit) };
    Some(tell!(
        "Usual: {least} to {most}{unit}.",
        least = numbers::exact(least),
        most = numbers::exact(most),
        unit
    ))
}

/// A gentle word where a number lies outside what is usual; `None` for one inside, or for text.
pub fn unusual(guide: &Guide, text: &str) -> Option<String> {
    let (least, most) = guide.usual?;
    let value: f64 = text.trim().replace(',', ".").parse().ok()?;
    let inside = least <= value && value <= most;
    (!inside).then(|| tell!("Unusual: look again.").to_owned())
}

/// A field's name, spoken so that no two are the same.
pub fn name(field: &Field, draft: &Draft) -> String {
    let label = language::told(guide_of(field).label);
    match field {
        Field::Yard(_) => tell!("yard: {label}", label),
        Field::Shelf(row, _) => tell!("shelf row {row}: {label}", row = row + 1, label),
        Field::Set(set, _) => tell!("leaf set {set}: {label}", set = set + 1, label),
        Field::Leaf(set, leaf, _) => {
            tell!("leaf {leaf} of set {set}: {label}", leaf = leaf + 1, set = set + 1, label)
        }
        Field::Machine(_) => tell!("machine: {label}", label),
        Field::Position(place) => tell!("jaw position {place}", place = place + 1),
        Field::Line(line, _) | Field::Limit(line, _) => {
            tell!("line {line}: {label}", line, label)
        }
        Field::Station(station, _) => {
            tell!("station {station}: {label}", station, label)
        }
        Field::Blade(id, _) => format!("{}: {label}", blade(id, draft)),
        Field::Link(line, link, _) => {
            tell!("line {line}, link {link}: {label}", line, link = link + 1, label)
        }
        Field::Heat(_) => tell!("heat: {label}", label),
        Field::Part(part, _) => tell!("heat, part {part}: {label}", part = part + 1, label),
        Field::Joint(joint, _) => {
            tell!("heat, joint {joint}: {label}", joint = joint + 1, label)
        }
        Field::Contact(contact, _) => {
            tell!("heat, contact {contact}: {label}", contact = contact + 1, label)
        }
    }
}

#[test]
fn what_is_unusual_is_said_and_what_is_no_number_is_not() {
    use crate::domain::setup::OfLimits;
    let reach = Field::Machine(OfMachine::Reach);
    let inch = |field: &Field| usual(&tell(field, LengthUnit::Inch));
    assert_eq!(inch(&reach).as_deref(), Some("Usual: 19 to 120 in."));
    let limit = |of| Field::Limit(crate::domain::machine::LineId::P, of);
    assert_eq!(inch(&limit(OfLimits::SetMin)).as_deref(), Some("Usual: 0.0019 to 0.12 in."));
    assert_eq!(inch(&limit(OfLimits::StopMin)).as_deref(), Some("Usual: 0 to 0.079 in."));
    let reach = tell(&reach, LengthUnit::Millimetre);
    assert_eq!(usual(&reach).as_deref(), Some("Usual: 500 to 3000 mm."));
    for (text, said) in [("500", false), ("3000", false), ("13,6", true), ("", false), ("x", false)]
    {
        assert_eq!(unusual(&reach, text).is_some(), said, "{text}");
    }
}

#[test]
fn a_number_has_the_mark_of_the_language_and_a_word_keeps_its_point() {
    use crate::domain::{
        machine::LineId,
        setup::{OfBlade, OfLimits},
    };
    let blade = |of| Field::Blade(BladeId("tip".to_owned()), of);
    language::speak(language::Language::German);
    let shown = [
        (Field::Limit(LineId::P, OfLimits::SetMin), "0.3"),
        (blade(OfBlade::Bolts), "170.5; 290"),
        (blade(OfBlade::BoltGrade), "10.9"),
    ]
    .map(|(field, text)| written(&field, text));
    language::speak(language::Language::English);
    assert_eq!(shown, ["0,3", "170,5; 290", "10.9"]);
}
