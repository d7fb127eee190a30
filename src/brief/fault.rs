//! Slips and refusals: a fact and a next step, in one plain sentence or two.

use crate::{
    brief::{Numbers, numbers},
    domain::{
        gauge::EntryFault,
        log::{Counted, SignFault},
        quantity::NumberError,
    },
    language::tell,
};

/// Why a number cannot be taken.
pub fn number(err: &NumberError, what: &str, example: &str) -> String {
    match err {
        NumberError::Empty => tell!("Type {what}, such as {example}.", what, example),
        NumberError::NotANumber(text) => {
            tell!("“{text}” is not a number. Type {what}, such as {example}.", text, what, example)
        }
        NumberError::Negative(text) => {
            tell!(
                "“{text}” is negative. Type {what} without a sign, such as {example}.",
                text,
                what,
                example
            )
        }
        NumberError::OutOfRange(text) => {
            tell!(
                "“{text}” has more digits than can be kept. Type {what}, such as {example}.",
                text,
                what,
                example
            )
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
            number(err, tell!("the stack in the gap"), example)
        }
        EntryFault::Reversed { go, no_go } => tell!(
            "{go} goes, so a stack of {no_go} must go too. Check which one stuck, or clear this station.",
            go = n.length_unit(*go),
            no_go = n.length_unit(*no_go)
        ),
        EntryFault::TooThick { typed, meant: Some(meant) } => tell!(
            "{typed} is thicker than any gap here. Did you mean {meant}?",
            typed = n.length_unit(*typed),
            meant = n.length(*meant)
        ),
        EntryFault::TooThick { typed, meant: None } => {
            tell!(
                "{typed} is thicker than any gap here. Type it again.",
                typed = n.length_unit(*typed)
            )
        }
        EntryFault::NoCeiling { go } => tell!(
            "{go} goes. A check of your measuring needs the stack that does not go as well.",
            go = n.length_unit(*go)
        ),
        EntryFault::Nothing => {
            tell!("Nothing is in hand. Tap leaves or type a thickness first.").to_owned()
        }
        EntryFault::OtherMissing { go: Some(go), .. } => {
            tell!("{go} goes. Now the stack that does not go.", go = n.length_unit(*go))
        }
        EntryFault::OtherMissing { .. } => tell!(
            "Now the thickest stack that goes, or tap the thinnest leaf as one that does not."
        )
        .to_owned(),
    }
}

fn counter(counted: Counted) -> &'static str {
    match counted {
        Counted::Tonnes => tell!("tonnes"),
        Counted::Cuts => tell!("cuts"),
    }
}

/// Why a visit cannot be signed yet.
pub fn sign(fault: &SignFault, n: Numbers) -> String {
    match fault {
        SignFault::Empty => {
            tell!("Nothing was measured or seen yet. Measure a station, or log what you saw.")
                .to_owned()
        }
        SignFault::Meter(err) => number(err, tell!("the hour meter"), "4812.5"),
        SignFault::MeterBackwards { typed, last } => tell!(
            "The meter reads {typed}, but it stood at {meter} last time. Type it again; if the meter was \
             changed, record that first.",
            typed = numbers::meter(*typed),
            meter = numbers::meter(*last)
        ),
        SignFault::MeterLeaps { typed, last, clock_h } => tell!(
            "{typed} is {meter} more than last time, but only {clock_h} hours have passed. Type the meter again.",
            typed = numbers::meter(*typed),
            meter = numbers::meter(*typed - *last),
            clock_h
        ),
        SignFault::Counter { counted, typed } => {
            let what = counter(*counted);
            let such_as = match counted {
                Counted::Tonnes => "18250",
                Counted::Cuts => "640000",
            };
            tell!(
                "“{typed}” is no whole number of {what}. Type the digits of its counter, such as \
                 {such_as}, or leave the field empty.",
                typed,
                what,
                such_as
            )
        }
        SignFault::CounterBackwards { counted, typed, last } => {
            let (what, last) = (counter(*counted), numbers::count(*last));
            tell!(
                "The counter of {what} reads {typed}, but it stood at {last} last time. Type it again; \
                 if it is a new counter, or was set back, sign with it: it goes on from {last}.",
                what,
                typed = numbers::count(*typed),
                last
            )
        }
        SignFault::Unfinished { station } => tell!(
            "Something is in hand at {station} and not saved. Go there and press Enter, or clear it.",
            station
        ),
        SignFault::NoInitials => {
            tell!("Type your initials, so that others know whom to ask.").to_owned()
        }
        SignFault::ClockBehind { last } => tell!(
            "The last session is dated {moment}, which is still to come by this tablet's clock. If this \
             clock is wrong, set it, then sign. If it is right, sign after that session: the order \
             stays, and the note says when it was.",
            moment = n.moment(*last)
        ),
    }
}
