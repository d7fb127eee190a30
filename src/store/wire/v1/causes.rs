//! A table of causes in format 1. Frozen: what changes becomes a new format.
//!
//! Written and changed by people by hand, so every number is held to its range where it stands.

use crate::{
    domain::decide::{Cause, CauseTable, Clue, Likelihoods, MOST_LIKELY, Spot},
    store::{refusal::Refusal, wire::v1::units::Plain},
};
use serde::Deserialize;

/// The file `causes.ron`.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct CausesFile {
    #[serde(rename = "format")]
    _format: u64,
    source: String,
    other: Weight,
    usual: UsualFields,
    causes: CauseList,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CauseFields {
    name: String,
    next: String,
    weight: Weight,
    at: Vec<SpotWord>,
    #[serde(default)]
    shows: ShowsFields,
}

#[derive(Clone, Copy, Debug, Deserialize)]
enum SpotWord {
    Blades,
    Tip,
    Guide,
    Front,
    Pads,
}

/// A table that names one cause ranks nothing.
#[derive(Debug, Deserialize)]
#[serde(try_from = "Vec<CauseFields>")]
struct CauseList(Vec<CauseFields>);

impl TryFrom<Vec<CauseFields>> for CauseList {
    type Error = Refusal;

    fn try_from(causes: Vec<CauseFields>) -> Result<Self, Refusal> {
        if causes.is_empty() {
            return Err(Refusal::new("the table names no cause", "write at least one"));
        }
        for (place, cause) in causes.iter().enumerate() {
            if cause.name.trim().is_empty() || cause.at.is_empty() {
                let fact = format!("cause {} has no name or no place", place + 1);
                return Err(Refusal::new(fact, "write its name, and at least one place in “at”"));
            }
            if causes.iter().take(place).any(|it| it.name == cause.name) {
                let fact = format!("“{}” stands in the table twice", cause.name);
                return Err(Refusal::new(fact, "keep one of the two, or give it another name"));
            }
        }
        Ok(Self(causes))
    }
}

/// A number between two ends, refused with the name of its field.
macro_rules! between {
    ($(#[$doc:meta])* $name:ident, $fits:expr, $words:expr) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Deserialize)]
        #[serde(try_from = "Plain")]
        struct $name(f64);

        impl TryFrom<Plain> for $name {
            type Error = Refusal;

            fn try_from(value: Plain) -> Result<Self, Refusal> {
                let fits: fn(f64) -> bool = $fits;
                if fits(value.0) {
                    return Ok(Self(value.0));
                }
                let field = crate::store::refusal::FIELD;
                let fact = format!("“{field}” is {}, which cannot be", value.0);
                Err(Refusal::new(fact, $words))
            }
        }
    };
}

/// The least that is still possible.
const LEAST_LIKELY: f64 = 0.001;

between!(
    /// How common something is beside the others.
    Weight, |it| (LEAST_LIKELY..=1.0).contains(&it), "write a weight from 0.001 to 1"
);
between!(
    /// How likely a clue is under a cause.
    Likely, |it| (0.0..=MOST_LIKELY).contains(&it), "write a likelihood from 0.001 to 0.99, or 0.0 for never"
);
between!(
    /// How likely a clue is anyhow.
    Usual, |it| (LEAST_LIKELY..=MOST_LIKELY).contains(&it), "write a likelihood from 0.001 to 0.99"
);

/// Clues as fields, so that an unknown one and one that stands twice are refused where they are.
/// Those behind the semicolon came later: a table from before has none, and they count for nothing.
macro_rules! clues {
    ($($field:ident: $clue:ident,)* ; $($late:ident: $late_clue:ident,)*) => {
        /// Every clue once.
        #[derive(Debug, Deserialize)]
        #[serde(deny_unknown_fields)]
        struct UsualFields {
            $($field: Usual,)*
            $(#[serde(default)] $late: Option<Usual>,)*
        }

        /// What is different under one cause.
        #[derive(Clone, Debug, Default, Deserialize)]
        #[serde(deny_unknown_fields, default)]
        struct ShowsFields {
            $($field: Option<Likely>,)*
            $($late: Option<Likely>,)*
        }

        impl From<UsualFields> for Likelihoods {
            fn from(fields: UsualFields) -> Self {
                let late = [$((Clue::$late_clue, fields.$late),)*];
                let late = late.into_iter().filter_map(|(clue, it)| Some((clue, it?.0)));
                [$((Clue::$clue, fields.$field.0),)*].into_iter().chain(late).collect()
            }
        }

        impl From<ShowsFields> for Likelihoods {
            fn from(fields: ShowsFields) -> Self {
                let all = [
                    $((Clue::$clue, fields.$field),)*
                    $((Clue::$late_clue, fields.$late),)*
                ];
                all.into_iter().filter_map(|(clue, it)| Some((clue, it?.0))).collect()
            }
        }
    };
}

clues! {
    jam: Jam,
    chatter: Chatter,
    streak: Streak,
    tip_streak: TipStreak,
    cracks: Cracks,
    chip: Chip,
    loose_bolt: LooseBolt,
    stock_caught: StockCaught,
    shrinks: Shrinks,
    taper: Taper,
    too_wide: TooWide,
    too_tight: TooTight,
    hot_closed: HotClosed,
    tip_spread: TipSpread,
    joint_step: JointStep,
    pad_play: PadPlay,
    past_hours: PastHours,
    recent_work: RecentWork,
    ;
    wear_mark: WearMark,
}

impl From<CausesFile> for CauseTable {
    fn from(file: CausesFile) -> Self {
        let spot = |word: SpotWord| match word {
            SpotWord::Blades => Spot::Blades,
            SpotWord::Tip => Spot::Tip,
            SpotWord::Guide => Spot::Guide,
            SpotWord::Front => Spot::Front,
            SpotWord::Pads => Spot::Pads,
        };
        let cause = |fields: CauseFields| Cause {
            name: fields.name,
            next: fields.next,
            weight: fields.weight.0,
            at: fields.at.into_iter().map(spot).collect(),
            shows: fields.shows.into(),
        };
        Self {
            source: file.source,
            other: file.other.0,
            usual: file.usual.into(),
            causes: file.causes.0.into_iter().map(cause).collect(),
        }
    }
}
