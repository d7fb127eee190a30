//! The budget of one reading, term by term.
//!
//! Knows what makes a feeler reading uncertain: where between two stacks the gap lies, how thick
//! the leaves really are, the hand, and how warm the steel was. How far warmth moves a gap comes
//! in as numbers; machines are not known here.

use crate::domain::gauge::{Bracket, Budget, Input, LeafSet, Product, Repeatability, Share};

/// What a crew measures with.
#[derive(Clone, Copy, Debug, Default)]
pub struct Kit<'a> {
    /// The leaves; `None` if nobody entered them, then they count as exact.
    pub leaves: Option<&'a LeafSet>,
    /// The hand's scatter, if a gauge study found it.
    pub hand: Option<&'a Repeatability>,
}

/// How far one hand scatters.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Hand {
    /// One standard deviation of a reading, in mm.
    pub sigma_mm: f64,
    /// How well that is known; `None` stands for infinitely many degrees of freedom.
    pub dof: Option<u32>,
}

/// A term of a reading's budget.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Term {
    /// How thick the leaves really are.
    Leaves,
    /// How far the same hand scatters.
    Hand,
    /// How much the steel really grows.
    Expansion,
    /// What the thermometer on the blades shows.
    BladeTemp,
    /// What the thermometer on the jaws shows.
    JawTemp,
    /// The temperature of jaws that nobody measured.
    JawAssumed,
    /// The temperature of blades that nobody measured, in jaws that somebody did.
    BladeAssumed,
    /// Where between the two stacks the gap lies.
    Place,
}

/// How warmth moves one reading, in mm and per kelvin.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Warmth {
    /// From the reading to the gap at 20 °C.
    pub shift_mm: f64,
    /// By how much one kelvin more on the blades moves the result; `None` if nobody took it.
    pub blade_mm_per_k: Option<f64>,
    /// The same for the jaws.
    pub jaw_mm_per_k: Option<f64>,
    /// Half the width of what jaws of assumed temperature leave open.
    pub assumed_mm: f64,
    /// Whether that is of the blades and not of the jaws.
    pub blade_assumed: bool,
}

/// What makes one reading at 20 °C uncertain, in mm. Its inputs are spelled out when asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ReadingBudget {
    felt: Bracket,
    stacks_mm: [f64; 2],
    hand: Hand,
    warmth: Warmth,
}

const INPUTS: usize = 8;
/// Places among the inputs that products refer to.
const EXPANSION: usize = 3;
const BLADE: usize = 4;
const JAW: usize = 5;
/// The leaves of one set err together.
const ONE_SET: u8 = 0;

/// Half-width of the usual expansion coefficient: 10 % (design value; published coefficients of
/// blade steels differ by about as much).
const EXPANSION_SHARE: f64 = 0.10;
/// Half-width of a contact thermometer's reading on a blade, in kelvin. From memory, not published.
const THERMOMETER_K: f64 = 2.0;

impl ReadingBudget {
    /// The budget of a bracket whose stacks have these tolerances, in mm.
    pub const fn new(felt: Bracket, stacks_mm: [f64; 2], hand: Hand, warmth: Warmth) -> Self {
        Self { felt, stacks_mm, hand, warmth }
    }

    /// The standard uncertainty; `None` while the reading is open.
    pub fn u_mm(&self) -> Option<f64> {
        let (inputs, products) = self.spelled_out();
        self.felt.is_closed().then(|| Budget::new(&inputs, &products).u())
    }

    /// The standard uncertainty of everything but the place between the stacks, which is no bell
    /// but a box.
    #[expect(
        clippy::redundant_closure_for_method_calls,
        reason = "the bare method is good for one lifetime only"
    )]
    pub fn blur_mm(&self) -> f64 {
        self.blur(|budget| budget.u())
    }

    /// How many degrees of freedom the blur has, whole ones and at least one (GUM G.4); `None` for
    /// as many as one likes.
    #[expect(
        clippy::redundant_closure_for_method_calls,
        reason = "the bare method is good for one lifetime only"
    )]
    pub fn blur_dof(&self) -> Option<f64> {
        self.blur(|budget| budget.dof()).map(|dof| dof.floor().max(1.0))
    }

    fn blur<T>(&self, of: impl FnOnce(Budget<'_, Term>) -> T) -> T {
        let (inputs, products) = self.spelled_out();
        let rest = inputs.split_last().map_or(&[][..], |(_, rest)| rest);
        of(Budget::new(rest, &products))
    }

    /// What each term adds, most first, without terms that add nothing.
    pub fn terms(&self) -> Vec<Share<Term>> {
        let (inputs, products) = self.spelled_out();
        let budget = Budget::new(&inputs, &products);
        let mut shares: Vec<_> = budget.shares().filter(|share| 0.0 < share.u).collect();
        shares.sort_by(|a, b| b.u.total_cmp(&a.u));
        shares
    }

    /// What adds most, if anything does.
    pub fn largest(&self) -> Option<Share<Term>> {
        let (inputs, products) = self.spelled_out();
        Budget::new(&inputs, &products).largest()
    }

    /// Half-widths are rectangular (GUM 4.3.7). The tolerance of the middle is half the sum over
    /// both stacks, because leaves of one set err together; an exact reading has no leaves. The
    /// place between the stacks comes last.
    fn spelled_out(&self) -> ([Input<Term>; INPUTS], [Product; 2]) {
        let felt = self.felt;
        let width = felt.no_go().map_or(0.0, |no_go| (no_go - felt.go()).mm());
        let middle = felt.middle().unwrap_or_else(|| felt.go()).mm();
        let [go, no_go] = self.stacks_mm;
        let (of_go, of_no_go) = match felt.no_go() {
            Some(no_go) if no_go == felt.go() => (0.0, 0.0),
            Some(_) => (0.5, 0.5),
            None => (1.0, 0.0),
        };
        let plain = |name, value, u, sensitivity| Input {
            name,
            value,
            u,
            dof: None,
            sensitivity,
            group: None,
        };
        let leaf = |tolerance, sensitivity| Input {
            group: Some(ONE_SET),
            ..plain(Term::Leaves, 0.0, rectangular(tolerance), sensitivity)
        };
        let Warmth { shift_mm, blade_mm_per_k, jaw_mm_per_k, assumed_mm, blade_assumed } =
            self.warmth;
        let assumed = if blade_assumed { Term::BladeAssumed } else { Term::JawAssumed };
        let degree = |name, per_k: Option<f64>| {
            plain(name, 0.0, rectangular(THERMOMETER_K), per_k.unwrap_or(0.0))
        };
        let inputs = [
            leaf(go, of_go),
            leaf(no_go, of_no_go),
            Input {
                dof: self.hand.dof.map(f64::from),
                ..plain(Term::Hand, 0.0, self.hand.sigma_mm, 1.0)
            },
            plain(Term::Expansion, 1.0, rectangular(EXPANSION_SHARE), shift_mm),
            degree(Term::BladeTemp, blade_mm_per_k),
            degree(Term::JawTemp, jaw_mm_per_k),
            plain(assumed, 0.0, rectangular(assumed_mm), 1.0),
            plain(Term::Place, middle, rectangular(width / 2.0), 1.0),
        ];
        // The correction is a product of coefficient and temperature, so both count together too.
        let product = |place: usize, per_k: Option<f64>| Product {
            of: [EXPANSION, place],
            mixed: per_k.unwrap_or(0.0),
        };
        (inputs, [product(BLADE, blade_mm_per_k), product(JAW, jaw_mm_per_k)])
    }
}

impl Kit<'_> {
    /// The tolerances of both stacks, in mm; a stack the set cannot make counts with the set's
    /// widest tolerance.
    pub fn stacks_mm(&self, bracket: Bracket) -> [f64; 2] {
        let tolerance = |stack| self.leaves.map_or(0.0, |set| set.stack_tolerance(stack).mm());
        [tolerance(bracket.go()), bracket.no_go().map_or(0.0, tolerance)]
    }

    /// The hand's scatter; nothing is made up where no study was done.
    pub fn scatter(&self) -> Hand {
        self.hand.map_or_else(Hand::default, |it| Hand { sigma_mm: it.sigma.mm(), dof: it.dof })
    }
}

/// The standard uncertainty of something known to lie within ±`half_width`.
fn rectangular(half_width: f64) -> f64 {
    half_width / 3.0_f64.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::quantity::Length;

    fn bracket(go: i64, no_go: Option<i64>) -> Bracket {
        Bracket::new(Length::from_um(go), no_go.map(Length::from_um)).unwrap()
    }

    fn hand(sigma_mm: f64) -> Hand {
        Hand { sigma_mm, dof: None }
    }

    #[track_caller]
    fn close(value: f64, expected: f64) {
        assert!((value / expected - 1.0).abs() <= 1e-12, "{value} is not {expected}");
    }

    /// 0.50 + 0.05 goes, 0.50 + 0.10 does not: ± 9 µm and ± 9 µm, which err together.
    #[test]
    fn a_cold_reading_adds_its_terms_by_hand() {
        let felt = bracket(550, Some(600));
        let budget = ReadingBudget::new(felt, [0.009, 0.009], hand(0.006), Warmth::default());
        let (place, leaves, hand) = (0.05 / 12_f64.sqrt(), 0.009 / 3_f64.sqrt(), 0.006_f64);
        close(budget.u_mm().unwrap(), (place * place + leaves * leaves + hand * hand).sqrt());
        close(budget.blur_mm(), leaves.hypot(hand));
        let terms: Vec<Term> = budget.terms().iter().map(|it| it.name).collect();
        assert_eq!(terms, [Term::Place, Term::Hand, Term::Leaves]);
        assert_eq!(budget.largest().map(|it| it.name), Some(Term::Place));
    }

    #[test]
    fn a_scatter_from_few_trials_is_known_as_well_as_those_trials() {
        let of = |hand, stacks| {
            ReadingBudget::new(bracket(550, Some(600)), stacks, hand, Warmth::default()).blur_dof()
        };
        let few = Hand { sigma_mm: 0.006, dof: Some(4) };
        assert_eq!(of(few, [0.0; 2]), Some(4.0));
        assert!(of(few, [0.009; 2]).is_some_and(|dof| 4.0 < dof), "the leaves are known better");
        assert_eq!(of(hand(0.006), [0.0; 2]), None);
    }

    #[test]
    fn an_exact_reading_has_no_leaves_and_an_open_one_no_uncertainty_yet() {
        let exact =
            ReadingBudget::new(bracket(572, Some(572)), [0.009; 2], hand(0.0), Warmth::default());
        assert_eq!(exact.u_mm(), Some(0.0));
        assert_eq!(exact.terms(), []);
        let open =
            ReadingBudget::new(bracket(1_000, None), [0.009, 0.0], hand(0.0), Warmth::default());
        assert_eq!(open.u_mm(), None);
        close(open.blur_mm(), 0.009 / 3_f64.sqrt());
    }

    /// Blades at 50 °C, jaws at 35 °C: +18 µm in all, −1.2 µm for a degree more on the blades.
    #[test]
    fn warmth_adds_a_term_for_each_thing_that_is_not_known() {
        let warmth = Warmth {
            shift_mm: 0.018,
            blade_mm_per_k: Some(0.0012),
            jaw_mm_per_k: Some(-0.0012),
            assumed_mm: 0.0,
            blade_assumed: false,
        };
        let budget = ReadingBudget::new(bracket(550, Some(550)), [0.0; 2], hand(0.0), warmth);
        let root = 3_f64.sqrt();
        let (expansion, degrees) = (0.018 * 0.1 / root, 0.0012 * 2.0 / root);
        let both = 0.0012 * (0.1 / root) * (2.0 / root);
        let sum = expansion * expansion + 2.0 * degrees * degrees + 2.0 * both * both;
        close(budget.u_mm().unwrap(), sum.sqrt());
        let assumed = Warmth { jaw_mm_per_k: None, assumed_mm: 0.018, ..warmth };
        let assumed = ReadingBudget::new(bracket(550, Some(550)), [0.0; 2], hand(0.0), assumed);
        assert!(budget.u_mm() < assumed.u_mm(), "a guess is worse than a thermometer");
        assert_eq!(assumed.largest().map(|it| it.name), Some(Term::JawAssumed));
    }
}
