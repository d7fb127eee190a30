//! The bracket: a reading with a floor and a ceiling.

use crate::domain::quantity::Length;

/// A gap known to lie in `go <= gap < no_go`, at the temperature it was felt.
///
/// Invariant: `0 <= go <= no_go`. `go == no_go` is an exact reading from another instrument. No
/// ceiling means that even the thickest stack went; a floor of zero that not even the thinnest did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bracket {
    go: Length,
    no_go: Option<Length>,
}

/// Two stacks that no gap can explain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum BracketError {
    /// The stack that went is thicker than the one that did not.
    #[error("a stack that goes cannot be thicker than one that does not go")]
    Reversed,
    /// A stack thinner than nothing.
    #[error("a stack cannot be thinner than nothing")]
    Negative,
}

/// Whether something holds, as far as a bracket can tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answer {
    /// It holds for every gap in the bracket.
    Yes,
    /// It holds for none.
    No,
    /// It holds for some.
    Undecided,
}

impl Bracket {
    /// Between the thickest stack that goes (zero if none did) and the thinnest that does not.
    ///
    /// # Errors
    ///
    /// [`BracketError`] if the invariant does not hold.
    pub fn new(go: Length, no_go: Option<Length>) -> Result<Self, BracketError> {
        if go < Length::ZERO {
            return Err(BracketError::Negative);
        }
        if no_go.is_some_and(|no_go| no_go < go) {
            return Err(BracketError::Reversed);
        }
        Ok(Self { go, no_go })
    }

    /// A gap known exactly; below zero after a shift, as in [`Self::shifted`].
    pub const fn exactly(gap: Length) -> Self {
        Self { go: gap, no_go: Some(gap) }
    }

    /// The thickest stack that goes; zero if none did.
    pub const fn go(self) -> Length {
        self.go
    }

    /// The thinnest stack that does not go; `None` if all went.
    pub const fn no_go(self) -> Option<Length> {
        self.no_go
    }

    /// Whether both ends are known and differ, or the reading is exact.
    pub const fn is_closed(self) -> bool {
        self.no_go.is_some()
    }

    /// Whether not even the thinnest stack went, so that nothing is known below.
    pub fn is_open_below(self) -> bool {
        self.go == Length::ZERO && self.no_go != Some(Length::ZERO)
    }

    /// The middle, for statistics; `None` while the upper end is open.
    pub fn middle(self) -> Option<Length> {
        self.no_go.map(|no_go| (self.go + no_go).half())
    }

    /// The same gap after a shift by a known amount, such as the correction to 20 °C.
    ///
    /// A shift may carry the floor below zero: faces that push each other have no clearance.
    pub fn shifted(self, by: Length) -> Self {
        Self { go: self.go + by, no_go: self.no_go.map(|no_go| no_go + by) }
    }

    /// Is the gap at least `limit`? A gap exactly on the limit meets it.
    pub fn is_at_least(self, limit: Length) -> Answer {
        match self.no_go {
            _ if limit <= self.go => Answer::Yes,
            Some(no_go) if no_go <= limit => Answer::No,
            _ => Answer::Undecided,
        }
    }

    /// Is the gap at most `limit`? A gap exactly on the limit meets it.
    pub fn is_at_most(self, limit: Length) -> Answer {
        match self.no_go {
            Some(no_go) if no_go <= limit => Answer::Yes,
            _ if limit < self.go => Answer::No,
            _ => Answer::Undecided,
        }
    }
}

#[test]
fn a_limit_is_decided_on_an_edge_and_undecided_inside() {
    let um = Length::from_um;
    let bracket = |go, no_go: i64| Bracket::new(um(go), Some(um(no_go))).unwrap();
    let b = bracket(300, 350);
    assert_eq!(b.is_at_least(um(300)), Answer::Yes, "the leaf that goes is a floor");
    assert_eq!(b.is_at_least(um(301)), Answer::Undecided);
    assert_eq!(b.is_at_least(um(350)), Answer::No, "the gap is thinner than the one that stuck");
    assert_eq!(b.is_at_most(um(350)), Answer::Yes);
    assert_eq!(b.is_at_most(um(349)), Answer::Undecided);
    assert_eq!(b.is_at_most(um(300)), Answer::Undecided, "it may be exactly 0.300");
    assert_eq!(b.is_at_most(um(299)), Answer::No);
    let exact = bracket(300, 300);
    assert_eq!(exact.is_at_least(um(300)), Answer::Yes);
    assert_eq!(exact.is_at_most(um(300)), Answer::Yes);
    assert_eq!(exact.is_at_most(um(299)), Answer::No);
    let open = Bracket::new(um(1000), None).unwrap();
    assert_eq!(open.is_at_least(um(1000)), Answer::Yes);
    assert_eq!(open.is_at_most(um(9_999)), Answer::Undecided, "no ceiling was found");
    assert_eq!(open.is_at_most(um(999)), Answer::No);
    assert_eq!(Bracket::new(um(300), Some(um(299))), Err(BracketError::Reversed));
    assert_eq!(Bracket::new(um(-1), None), Err(BracketError::Negative));
}

#[cfg(test)]
mod laws {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Knowing less never turns an undecided answer into a yes or a no.
        #[test]
        fn widening_a_bracket_never_decides(
            go in 0_i64..2_000, width in 0_i64..400, down in 0_i64..400, up in 0_i64..400,
            limit in 0_i64..2_500,
        ) {
            let um = Length::from_um;
            let narrow = Bracket::new(um(go), Some(um(go + width))).unwrap();
            let wide = Bracket::new(um((go - down).max(0)), Some(um(go + width + up))).unwrap();
            let limit = um(limit);
            for ask in [Bracket::is_at_least, Bracket::is_at_most] {
                let (before, after) = (ask(narrow, limit), ask(wide, limit));
                prop_assert!(
                    before == after || after == Answer::Undecided,
                    "{narrow:?} said {before:?}, {wide:?} says {after:?}"
                );
            }
        }
    }
}
