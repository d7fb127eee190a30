//! The law of a reading against chance itself: GUM Supplement 1 (JCGM 101), by drawing.
//!
//! Knows how to draw a gap from its parts; knows nothing of the closed form it is held against.

use gapwright::domain::verdict::Law;
use rand::Rng as _;
use rand_pcg::Pcg64;

/// Draws gaps for brackets at random and holds the shares beyond limits at random against the
/// closed form; `draws` for each of six brackets, from the narrowest blur to the widest.
pub(crate) fn agree(draws: u32) {
    let mut chance = Pcg64::new(101, 2008);
    for round in 0..6 {
        let low = share(&mut chance);
        let width = 0.005 + 0.1 * share(&mut chance);
        // From a hundredth of the bracket to three of it.
        let sigma = width * 0.01 * 3.13_f64.powi(round);
        let law = Law::new(low, low + width, sigma).unwrap();
        let min = low + (share(&mut chance) - 0.2) * width;
        let max = min + share(&mut chance) * (width + 2.0 * sigma);
        let (mut below, mut within, mut above) = (0_u32, 0_u32, 0_u32);
        for _ in 0..draws {
            let gap = low + width * share(&mut chance) + sigma * bell(&mut chance);
            if gap < min {
                below += 1;
            } else if gap <= max {
                within += 1;
            } else {
                above += 1;
            }
        }
        let n = f64::from(draws);
        for (side, drawn, p) in [
            ("below", below, law.below(min)),
            ("within", within, law.within(min, max)),
            ("above", above, law.above(max)),
        ] {
            // Four standard deviations of a share; one draw in sixteen thousand is beyond.
            let off = (f64::from(drawn) / n - p).abs();
            let reach = 4.0 * (p * (1.0 - p) / n).sqrt() + 1.0 / n;
            assert!(off <= reach, "{law:?} {min}..{max} {side}: {drawn} of {draws}, not {p}");
        }
    }
}

/// Evenly from 0 up to but not including 1.
fn share(chance: &mut Pcg64) -> f64 {
    f64::from(u32::try_from(chance.next_u64() >> 32).unwrap()) / 4_294_967_296.0
}

/// Normal, by Box and Muller.
fn bell(chance: &mut Pcg64) -> f64 {
    let radius = (-2.0 * (1.0 - share(chance)).ln()).sqrt();
    radius * (std::f64::consts::TAU * share(chance)).cos()
}
