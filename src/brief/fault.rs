//! Slips and refusals: a fact and a next step, in one plain sentence or two.

use crate::{
    brief::{Numbers, numbers},
    domain::{
        gauge::EntryFault,
        log::{Counted, SignFault},
        quantity::NumberError,
    },
};

/// Why a number cannot be taken.
pub fn number(err: &NumberError, what: &str, example: &str) -> String {
    match err {
        NumberError::Empty => format!("Type {what}, such as {example}."),
        NumberError::NotANumber(text) => {
            format!("“{text}” is not a number. Type {what}, such as {example}.")
        }
        NumberError::Negative(text) => {
            format!("“{text}” is negative. Type {what} without a sign, such as {example}.")
        }
        NumberError::OutOfRange(text) => {
            format!("“{text}” has more digits than can be kept. Type {what}, such as {example}.")
        }
    }
}

/// Why what is in hand at a station cannot be taken.
pub fn entry(fault: &EntryFault, n: Numbers) -> String {
    match fault {
        EntryFault::Number(err) => {
            let example = match n.unit {
                crate::domain::quantity::LengthUnit::Millimetre => "0.45",
                crate::domain::quantity::LengthUnit::Inch => ".018",
            };
            number(err, "the stack in the gap", example)
        }
        EntryFault::Reversed { go, no_go } => format!(
            "{} goes, so a stack of {} must go too. Check which one stuck, or clear this station.",
            n.length_unit(*go),
            n.length_unit(*no_go)
        ),
        EntryFault::TooThick { typed, meant: Some(meant) } => format!(
            "{} is thicker than any gap here. Did you mean {}?",
            n.length_unit(*typed),
            n.length(*meant)
        ),
        EntryFault::TooThick { typed, meant: None } => {
            format!("{} is thicker than any gap here. Type it again.", n.length_unit(*typed))
        }
        EntryFault::NoCeiling { go } => format!(
            "{} goes. A check of your measuring needs the stack that does not go as well.",
            n.length_unit(*go)
        ),
        EntryFault::Nothing => {
            "Nothing is in hand. Tap leaves or type a thickness first.".to_owned()
        }
        EntryFault::OtherMissing { go: Some(go), .. } => {
            format!("{} goes. Now the stack that does not go.", n.length_unit(*go))
        }
        EntryFault::OtherMissing { .. } => {
            "Now the thickest stack that goes, or tap the thinnest leaf as one that does not."
                .to_owned()
        }
    }
}

const fn counter(counted: Counted) -> &'static str {
    match counted {
        Counted::Tonnes => "tonnes",
        Counted::Cuts => "cuts",
    }
}

/// Why a visit cannot be signed yet.
pub fn sign(fault: &SignFault, n: Numbers) -> String {
    match fault {
        SignFault::Empty => {
            "Nothing was measured or seen yet. Measure a station, or log what you saw.".to_owned()
        }
        SignFault::Meter(err) => number(err, "the hour meter", "4812.5"),
        SignFault::MeterBackwards { typed, last } => format!(
            "The meter reads {}, but it stood at {} last time. Type it again; if the meter was \
             changed, record that first.",
            numbers::meter(*typed),
            numbers::meter(*last)
        ),
        SignFault::MeterLeaps { typed, last, clock_h } => format!(
            "{} is {} more than last time, but only {} hours have passed. Type the meter again.",
            numbers::meter(*typed),
            numbers::meter(*typed - *last),
            clock_h
        ),
        SignFault::Counter { counted, typed } => {
            let what = counter(*counted);
            let such_as = match counted {
                Counted::Tonnes => "18250",
                Counted::Cuts => "640000",
            };
            format!(
                "“{typed}” is no whole number of {what}. Type the digits of its counter, such as \
                 {such_as}, or leave the field empty."
            )
        }
        SignFault::CounterBackwards { counted, typed, last } => {
            let (what, last) = (counter(*counted), numbers::count(*last));
            format!(
                "The counter of {what} reads {}, but it stood at {last} last time. Type it again; \
                 if it is a new counter, or was set back, sign with it: it goes on from {last}.",
                numbers::count(*typed)
            )
        }
        SignFault::Unfinished { station } => format!(
            "Something is in hand at {station} and not saved. Go there and press Enter, or clear it."
        ),
        SignFault::NoInitials => "Type your initials, so that others know whom to ask.".to_owned(),
        SignFault::ClockBehind { last } => format!(
            "The last session is dated {}, which is still to come by this tablet's clock. If this \
             clock is wrong, set it, then sign. If it is right, sign after that session: the order \
             stays, and the note says when it was.",
            n.moment(*last)
        ),
    }
}
