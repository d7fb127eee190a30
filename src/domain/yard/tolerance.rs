//! How sure somebody must be before a gap counts as inside its limits.

/// Which readings count as inside.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rule {
    /// Only those that are surely enough inside, and outside only what is surely enough outside;
    /// the uncertainty counts against whoever wants to prove something (ISO 14253-1).
    #[default]
    Guarded,
    /// The middle of the reading decides (JCGM 106, 8.2.1); an error either way is as likely.
    Simple,
}

/// The tolerance table of a yard.
///
/// Invariant: ½ < `conformity` < 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    conformity: f64,
    rule: Rule,
}

impl Tolerance {
    /// With the probability from which something counts as proven.
    ///
    /// `None` unless it lies between ½ and 1: from ½ down, both sides could be proven at once.
    pub fn new(conformity: f64, rule: Rule) -> Option<Self> {
        (0.5 < conformity && conformity < 1.0).then_some(Self { conformity, rule })
    }

    /// The probability from which something counts as proven.
    pub const fn conformity(self) -> f64 {
        self.conformity
    }

    /// Which readings count as inside.
    pub const fn rule(self) -> Rule {
        self.rule
    }
}

impl Default for Tolerance {
    /// 95 %, guarded: the default of ISO 14253-1:2017, read in copies that quote it.
    fn default() -> Self {
        Self { conformity: 0.95, rule: Rule::Guarded }
    }
}

#[test]
fn no_reading_can_be_proven_inside_and_outside_at_once() {
    for wrong in [0.0, 0.5, 1.0, f64::NAN] {
        assert_eq!(Tolerance::new(wrong, Rule::Guarded), None, "{wrong}");
    }
    assert_eq!(Tolerance::new(0.95, Rule::Guarded), Some(Tolerance::default()));
}
