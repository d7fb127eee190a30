//! What was welded, in format 1. Frozen.
//!
//! A weld without it is from before parts were noted, or nobody said: its words are kept, and
//! nothing follows from them.

use crate::{domain::log::WeldPart, store::wire::v1::units::BladeName};
use serde::{Deserialize, Serialize};

#[derive(Debug, Default, Deserialize, Serialize)]
pub(crate) enum WeldPartWord {
    Tip(BladeName),
    UpperJaw,
    LowerJaw,
    #[default]
    Elsewhere,
}

impl WeldPartWord {
    pub(crate) const fn is_elsewhere(&self) -> bool {
        matches!(self, Self::Elsewhere)
    }
}

impl From<WeldPart> for WeldPartWord {
    fn from(part: WeldPart) -> Self {
        match part {
            WeldPart::Tip(blade) => Self::Tip(BladeName(blade)),
            WeldPart::UpperJaw => Self::UpperJaw,
            WeldPart::LowerJaw => Self::LowerJaw,
            WeldPart::Elsewhere => Self::Elsewhere,
        }
    }
}

impl From<WeldPartWord> for WeldPart {
    fn from(word: WeldPartWord) -> Self {
        match word {
            WeldPartWord::Tip(blade) => Self::Tip(blade.0),
            WeldPartWord::UpperJaw => Self::UpperJaw,
            WeldPartWord::LowerJaw => Self::LowerJaw,
            WeldPartWord::Elsewhere => Self::Elsewhere,
        }
    }
}
