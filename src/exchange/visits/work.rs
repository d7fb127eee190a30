//! A table of work.
//!
//! Knows what one row says, and asks which blade of the machine is meant where the row names only
//! a line. Does not know the yard.

use crate::{
    domain::{
        log::{BoltSpan, WeldPart, Work},
        machine::{BladeId, EDGES_MOST, LineId, ShearId},
        quantity::Torque,
    },
    exchange::{
        LineIssue,
        visits::{
            GoesOn,
            columns::Cells,
            read::{Key, Refused, Visits, gather},
        },
    },
};

const NEEDED: [&str; 8] =
    ["shear", "line", "at", "meter_h", "kind", "put_in_mm", "take_out_mm", "edge"];

/// Every kind as it is written, and the other words it is known by.
const KINDS: [(&str, &[&str]); 8] = [
    ("shims", &["shim", "shimmed"]),
    ("turned", &["turn", "rotate", "rotated"]),
    ("replaced", &["replace"]),
    ("swapped", &["swap"]),
    ("tightened", &["tighten"]),
    ("welded", &["weld"]),
    ("lubricated", &["lubricate"]),
    ("meter_changed", &[]),
];

/// Which blade is meant: by name, by line, or by both.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Meant {
    pub(crate) shear: ShearId,
    /// The lines the blade faces, as far as the row says.
    pub(crate) lines: Vec<LineId>,
    pub(crate) blade: Option<BladeId>,
}

/// The word of a piece of work.
pub(crate) const fn kind_of(work: &Work) -> &'static str {
    match work {
        Work::Shims { .. } => "shims",
        Work::Turned { .. } => "turned",
        Work::Replaced { .. } => "replaced",
        Work::Swapped { .. } => "swapped",
        Work::Tightened { .. } => "tightened",
        Work::Welded { .. } => "welded",
        Work::Lubricated => "lubricated",
        Work::MeterChanged { .. } => "meter_changed",
    }
}

/// Reads a table of work; `blade_of` says which blade is meant, or what to do if none is.
pub(crate) fn work(
    bytes: &[u8],
    goes_on: GoesOn<'_>,
    mut blade_of: impl FnMut(Meant) -> Result<BladeId, Refused>,
) -> Visits<Work> {
    gather(bytes, &NEEDED, goes_on, |cells| {
        let key =
            Key { shear: cells.shear()?, taken: cells.time("at")?, session: cells.session()? };
        let work = one(cells, &key.shear, &mut blade_of)?;
        Ok((key, work))
    })
}

fn one(
    cells: Cells<'_>,
    shear: &ShearId,
    blade_of: &mut impl FnMut(Meant) -> Result<BladeId, Refused>,
) -> Result<Work, LineIssue> {
    let words: Vec<&str> = KINDS.iter().map(|(word, _)| *word).collect();
    let expected = format!("one of {}", words.join(", "));
    let kind = cells.must("kind", &expected, |text| {
        let low = text.to_lowercase().replace([' ', '-'], "_");
        let known = |(word, others): &(&'static str, &[&str])| {
            (*word == low || others.contains(&low.as_str())).then_some(*word)
        };
        KINDS.iter().find_map(known)
    })?;
    Ok(match kind {
        "shims" => {
            let (put_in, take_out) = (cells.shims("put_in_mm")?, cells.shims("take_out_mm")?);
            Work::Shims {
                blade: which_blade(cells, shear, blade_of)?,
                bolts: bolts(cells)?,
                put_in,
                take_out,
            }
        }
        "turned" => {
            let expected = format!("the edge now in use, from 1 to {EDGES_MOST}");
            let edge = cells.must("edge", &expected, |text| {
                text.parse().ok().filter(|edge| (1..=EDGES_MOST).contains(edge))
            })?;
            Work::Turned {
                blade: which_blade(cells, shear, blade_of)?,
                edge,
                pack: cells.shims("pack_mm")?,
            }
        }
        "replaced" => Work::Replaced {
            blade: which_blade(cells, shear, blade_of)?,
            pack: cells.shims("pack_mm")?,
        },
        "swapped" => {
            let blade = which_blade(cells, shear, blade_of)?;
            Work::Swapped { with: swapped_with(cells, shear, &blade, blade_of)?, blade }
        }
        "tightened" => {
            let newton_metres = cells.torque()?;
            let torque = Torque::from_newton_metres(newton_metres)
                .ok_or_else(|| cells.missing("torque_nm", "write newton metres such as 812.5"))?;
            Work::Tightened { blade: which_blade(cells, shear, blade_of)?, torque }
        }
        "welded" => Work::Welded {
            part: weld_part(cells, shear, blade_of)?,
            place: cells.words("place"),
            consumable: cells.words("consumable"),
            cooled_slowly: cells.yes("cooled_slowly")?,
            template_checked: cells.yes("template_checked")?,
        },
        "lubricated" => Work::Lubricated,
        _ => Work::MeterChanged { old: cells.hours("old_h")?, new: cells.hours("new_h")? },
    })
}

/// The part that was welded; nothing is another part, or nobody said.
fn weld_part(
    cells: Cells<'_>,
    shear: &ShearId,
    blade_of: &mut impl FnMut(Meant) -> Result<BladeId, Refused>,
) -> Result<WeldPart, LineIssue> {
    let words = ["tip", "upper_jaw", "lower_jaw"];
    let expected = format!("one of {}, or nothing", words.join(", "));
    let part = cells.read("part", &expected, |text| {
        let low = text.to_lowercase().replace([' ', '-'], "_");
        words.into_iter().find(|word| *word == low)
    })?;
    Ok(match part {
        Some("tip") => WeldPart::Tip(which_blade(cells, shear, blade_of)?),
        Some("upper_jaw") => WeldPart::UpperJaw,
        Some(_) => WeldPart::LowerJaw,
        None => WeldPart::Elsewhere,
    })
}

/// The blade a row is about, by name, by line, or by both.
fn which_blade(
    cells: Cells<'_>,
    shear: &ShearId,
    blade_of: &mut impl FnMut(Meant) -> Result<BladeId, Refused>,
) -> Result<BladeId, LineIssue> {
    let expected = "line letters apart by spaces, such as S or T F G";
    let lines = cells.read("line", expected, |text| {
        text.split_whitespace().map(one_letter).collect::<Option<Vec<LineId>>>()
    })?;
    let named = cells.text("blade").map(|text| BladeId(text.to_owned()));
    let lines = lines.unwrap_or_default();
    if lines.is_empty() && named.is_none() {
        return Err(cells.missing("line", "write the letter of its line, or name the blade"));
    }
    let column = if named.is_some() { "blade" } else { "line" };
    blade_of(Meant { shear: shear.clone(), lines, blade: named })
        .map_err(|(what, next)| cells.fault(column, what, next))
}

/// The blade that another one changed places with.
fn swapped_with(
    cells: Cells<'_>,
    shear: &ShearId,
    blade: &BladeId,
    blade_of: &mut impl FnMut(Meant) -> Result<BladeId, Refused>,
) -> Result<BladeId, LineIssue> {
    let next = "name the blade that it changed places with";
    let named = cells.text("with_blade").ok_or_else(|| cells.missing("with_blade", next))?;
    let named = Some(BladeId(named.to_owned()));
    let with = blade_of(Meant { shear: shear.clone(), lines: Vec::new(), blade: named })
        .map_err(|(what, next)| cells.fault("with_blade", what, next))?;
    if *blade == with {
        let what = format!("“{blade}” cannot change places with itself");
        return Err(cells.fault("with_blade", what, next));
    }
    Ok(with)
}

fn one_letter(text: &str) -> Option<LineId> {
    let mut letters = text.chars();
    let first = letters.next().map(|it| it.to_ascii_uppercase())?;
    letters.next().is_none().then(|| LineId::new(first)).flatten()
}

fn bolts(cells: Cells<'_>) -> Result<Option<BoltSpan>, LineIssue> {
    match (cells.whole("first_bolt")?, cells.whole("last_bolt")?) {
        (None, None) => Ok(None),
        (Some(first), Some(last)) if first <= last => Ok(Some(BoltSpan { first, last })),
        _ => {
            let what = "“first_bolt” and “last_bolt” are no span";
            Err(cells.fault("last_bolt", what, "count them from 1 at the pivot end outward"))
        }
    }
}
