//! What is in hand at one station: typed text, tapped leaves, and what was said about them.
//!
//! Text stays as it was typed until it means something; a fault never clears it.

use crate::domain::{
    gauge::{Bracket, EntryFault, LeafSet, Typed, read_entry},
    quantity::{Length, LengthUnit},
};

/// What is in hand at one station.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Entry {
    /// As typed.
    pub text: String,
    /// Leaves tapped into the stack.
    pub leaves: Vec<Length>,
    /// The thickest stack that was said to go.
    pub go: Option<Length>,
    /// The thinnest stack that was said not to go.
    pub no_go: Option<Length>,
    /// The leaves of those two, where they were tapped and not typed.
    pub said: [Vec<Length>; 2],
    /// Why the last thing could not be taken.
    pub fault: Option<EntryFault>,
}

impl Entry {
    /// The stack in hand: typed, or the leaves tapped together.
    pub fn stack(&self, unit: LengthUnit) -> Option<Length> {
        if !self.text.trim().is_empty() {
            return match read_entry(&self.text, unit) {
                Ok(Typed::One(length)) => Some(length),
                _ => None,
            };
        }
        (!self.leaves.is_empty()).then(|| self.leaves.iter().copied().sum())
    }

    /// The bracket if nothing more were said: live, while a number is typed.
    ///
    /// A lone stack counts as one that goes, with an open end. Stacks are named by the stamps of
    /// their leaves and count as `set` says they really are.
    pub fn preview(&self, unit: LengthUnit, set: Option<&LeafSet>) -> Option<Bracket> {
        let typed = read_entry(&self.text, unit).ok();
        let exact = matches!(typed, Some(Typed::Exact(_)));
        let set = set.filter(|_| !exact);
        let said = (self.said_to_go(), self.said_to_stick());
        let in_hand = self.stack(unit).map(|stack| Named { stack, leaves: &self.leaves });
        let (go, no_go) = match (typed, in_hand) {
            (Some(Typed::Both(go, no_go)), _) => {
                (Some(Named::typed(go)), Some(Named::typed(no_go)))
            }
            (Some(Typed::AllGo(go)), _) => (Some(Named::typed(go)), None),
            (Some(Typed::NoneGoes(no_go)), _) => (None, Some(Named::typed(no_go))),
            (Some(Typed::Exact(gap)), _) => (Some(Named::typed(gap)), Some(Named::typed(gap))),
            (_, Some(in_hand)) => match said {
                (Some(go), _) if go.stack < in_hand.stack => (Some(go), Some(in_hand)),
                (_, Some(no_go)) if in_hand.stack < no_go.stack => (Some(in_hand), Some(no_go)),
                (None, None) => (Some(in_hand), None),
                // It contradicts what was said, whichever way it is meant; that stands.
                said => said,
            },
            (_, None) => said,
        };
        if go.is_none() && no_go.is_none() {
            return None;
        }
        really(set, go, no_go)
    }

    fn said_to_go(&self) -> Option<Named<'_>> {
        self.go.map(|stack| Named { stack, leaves: &self.said[0] })
    }

    fn said_to_stick(&self) -> Option<Named<'_>> {
        self.no_go.map(|stack| Named { stack, leaves: &self.said[1] })
    }

    /// The reading, once both stacks are known.
    ///
    /// The thinnest leaf not going needs no second stack, and neither does the thickest stack of
    /// the set going.
    pub fn reading(&self, leaves: Option<&LeafSet>) -> Option<Bracket> {
        let thinnest = leaves.and_then(|set| set.leaves().first()).map(|leaf| leaf.thickness);
        let thickest = leaves.and_then(|set| set.stacks().next_back());
        match (self.said_to_go(), self.said_to_stick()) {
            (Some(go), Some(no_go)) => really(leaves, Some(go), Some(no_go)),
            (None, Some(no_go)) if Some(no_go.stack) == thinnest => {
                really(leaves, None, Some(no_go))
            }
            (Some(go), None) => really(leaves, Some(go), None)
                .filter(|all| thickest.is_some_and(|thickest| thickest <= all.go())),
            _ => None,
        }
    }

    /// Says that a stack goes.
    pub(crate) fn say_goes(&mut self, stack: Length) {
        match self.no_go {
            Some(no_go) if no_go <= stack => {
                self.fault = Some(EntryFault::Reversed { go: stack, no_go });
            }
            _ => {
                self.go = Some(stack);
                self.said[0] = std::mem::take(&mut self.leaves);
                self.said();
            }
        }
    }

    /// Says that a stack does not go.
    pub(crate) fn say_does_not_go(&mut self, stack: Length) {
        match self.go {
            Some(go) if stack <= go => {
                self.fault = Some(EntryFault::Reversed { go, no_go: stack });
            }
            _ => {
                self.no_go = Some(stack);
                self.said[1] = std::mem::take(&mut self.leaves);
                self.said();
            }
        }
    }

    /// Says both at once; `read_entry` has shown that they can be.
    pub(crate) fn say_both(&mut self, go: Length, no_go: Length) {
        (self.go, self.no_go) = (Some(go), Some(no_go));
        self.said = Default::default();
        self.said();
    }

    /// Whether nothing was typed, tapped or said.
    pub fn is_blank(&self) -> bool {
        self.text.trim().is_empty()
            && self.leaves.is_empty()
            && self.go.is_none()
            && self.no_go.is_none()
    }

    fn said(&mut self) {
        self.text.clear();
        self.leaves.clear();
        self.fault = None;
    }
}

/// A stack by its stamps: their sum, and each of them where the leaves were tapped.
#[derive(Clone, Copy)]
pub(crate) struct Named<'a> {
    stack: Length,
    leaves: &'a [Length],
}

impl Named<'_> {
    /// Of a typed stack nobody knows which leaves it was.
    pub(crate) const fn typed(stack: Length) -> Self {
        Self { stack, leaves: &[] }
    }

    fn really(self, set: &LeafSet) -> Length {
        if self.leaves.is_empty() {
            set.really(self.stack)
        } else {
            set.really_together(self.leaves)
        }
    }
}

/// The bracket of two stacks that were named by their stamps; `None` if they contradict each
/// other as they really are.
pub(crate) fn really(
    set: Option<&LeafSet>,
    go: Option<Named<'_>>,
    no_go: Option<Named<'_>>,
) -> Option<Bracket> {
    let really = |named: Named<'_>| set.map_or(named.stack, |set| named.really(set));
    Bracket::new(go.map_or(Length::ZERO, really), no_go.map(really)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn um(um: i64) -> Length {
        Length::from_um(um)
    }

    #[test]
    fn a_lone_stack_is_previewed_with_an_open_end() {
        let mut entry = Entry { text: "0.55".into(), ..Entry::default() };
        assert_eq!(entry.preview(LengthUnit::Millimetre, None), Bracket::new(um(550), None).ok());
        entry.say_goes(um(550));
        entry.text = "0.60".into();
        assert_eq!(
            entry.preview(LengthUnit::Millimetre, None),
            Bracket::new(um(550), Some(um(600))).ok()
        );
        entry.say_does_not_go(um(500));
        assert_eq!(entry.fault, Some(EntryFault::Reversed { go: um(550), no_go: um(500) }));
        assert_eq!(entry.text, "0.60", "a fault never clears what was typed");
    }
}
