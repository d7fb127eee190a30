//! What a hand does at a station: tap a leaf, say that a stack goes or does not, press Enter.
//!
//! Works on one entry; does not know the visit's undo, drafts or the clock.

use crate::{
    domain::{
        gauge::{Bracket, EntryFault, LeafSet, Typed, read_entry},
        quantity::{Length, LengthUnit},
    },
    workbench::{
        Entry,
        entry::{Named, really},
    },
};

pub(crate) fn tap_leaf(entry: &mut Entry, leaf: Length) {
    entry.text.clear();
    entry.fault = None;
    match entry.leaves.iter().position(|it| *it == leaf) {
        Some(place) => {
            entry.leaves.remove(place);
        }
        None => entry.leaves.push(leaf),
    }
}

/// Says `what` about the stack in hand, or why there is none.
pub(crate) fn say(entry: &mut Entry, unit: LengthUnit, what: fn(&mut Entry, Length)) {
    if let Ok(Typed::Both(go, no_go)) = read_entry(&entry.text, unit) {
        return entry.say_both(go, no_go);
    }
    match entry.stack(unit) {
        Some(stack) => what(entry, stack),
        None if entry.text.trim().is_empty() => entry.fault = Some(EntryFault::Nothing),
        None => entry.fault = read_entry(&entry.text, unit).err().or(Some(EntryFault::Nothing)),
    }
}

/// Enter: says the obvious next thing about the stack in hand; the reading, once it is known.
pub(crate) fn enter(
    entry: &mut Entry,
    unit: LengthUnit,
    leaves: Option<&LeafSet>,
) -> Option<Bracket> {
    match read_entry(&entry.text, unit) {
        Ok(Typed::Both(go, no_go)) => {
            let reading = really(leaves, Some(Named::typed(go)), Some(Named::typed(no_go)));
            if reading.is_none() {
                entry.fault = Some(EntryFault::Reversed { go, no_go });
            }
            return reading;
        }
        Ok(Typed::AllGo(go)) => return really(leaves, Some(Named::typed(go)), None),
        Ok(Typed::NoneGoes(no_go)) => return really(leaves, None, Some(Named::typed(no_go))),
        Ok(Typed::Exact(gap)) => return Some(Bracket::exactly(gap)),
        Ok(Typed::One(_)) | Err(_) => {}
    }
    let in_hand = !entry.text.trim().is_empty() || !entry.leaves.is_empty();
    if in_hand {
        let second = entry.go.is_some();
        say(entry, unit, if second { Entry::say_does_not_go } else { Entry::say_goes });
        if entry.fault.is_some() {
            return None;
        }
    }
    let reading = entry.reading(leaves);
    if let (None, Some(go), Some(no_go)) = (reading, entry.go, entry.no_go) {
        // By their stamps they could be; as they really are they cannot.
        entry.fault = Some(EntryFault::Reversed { go, no_go });
        return None;
    }
    if reading.is_none() && !in_hand {
        // After the first stack the field silently asks for the other; Enter on it while it is
        // empty is a slip, and is named.
        let (go, no_go) = (entry.go, entry.no_go);
        entry.fault = Some(match (go, no_go) {
            (None, None) => EntryFault::Nothing,
            _ => EntryFault::OtherMissing { go, no_go },
        });
    }
    reading
}
