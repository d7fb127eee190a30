//! Where a function of one number reaches a level, found without slopes.

/// How many looks a search may take.
const LOOKS: usize = 80;

/// The place between `inside`, where `f` lies below `level`, and `outside`, where it does not,
/// to within `close` of the distance.
///
/// Regula falsi with the Illinois weights, which keeps the place enclosed. `None` if `f` has no
/// value somewhere on the way.
pub(crate) fn between(
    f: &impl Fn(f64) -> Option<f64>,
    level: f64,
    inside: f64,
    outside: f64,
    close: f64,
) -> Option<f64> {
    let (mut a, mut b) = (inside, outside);
    let (mut at_a, mut at_b) = (f(a)? - level, f(b)? - level);
    if 0.0 <= at_a {
        return Some(a);
    }
    if at_b < 0.0 {
        return None;
    }
    let within = close * (b - a).abs();
    let mut last_moved_a = None;
    for _ in 0..LOOKS {
        let next = (a * at_b - b * at_a) / (at_b - at_a);
        // Rounding may put it outside; halving never does.
        let next = if (next - a) * (next - b) < 0.0 { next } else { f64::midpoint(a, b) };
        let at_next = f(next)? - level;
        let moves_a = at_next < 0.0;
        let moved = if moves_a { next - a } else { next - b };
        if moves_a {
            (a, at_a) = (next, at_next);
        } else {
            (b, at_b) = (next, at_next);
        }
        if moved.abs() <= within || (b - a).abs() <= within || at_next.abs() < 1e-14 {
            return Some(next);
        }
        if last_moved_a == Some(moves_a) {
            if moves_a { at_b *= 0.5 } else { at_a *= 0.5 }
        }
        last_moved_a = Some(moves_a);
    }
    None
}

/// The first place from `inside` on in steps that double, where `f` is no longer below `level`.
pub(crate) fn beyond(
    f: &impl Fn(f64) -> Option<f64>,
    level: f64,
    inside: f64,
    step: f64,
) -> Option<f64> {
    let (mut from, mut step) = (inside, step);
    for _ in 0..LOOKS {
        let to = from + step;
        if !to.is_finite() {
            return None;
        }
        if level <= f(to)? {
            return between(f, level, from, to, 1e-12);
        }
        from = to;
        step *= 2.0;
    }
    None
}

#[test]
fn a_level_is_found_from_either_side() {
    let parabola = |x: f64| Some(x * x);
    assert!((beyond(&parabola, 2.0, 0.0, 0.3).unwrap() - 2.0_f64.sqrt()).abs() < 1e-11);
    assert!((beyond(&parabola, 2.0, 0.0, -0.3).unwrap() + 2.0_f64.sqrt()).abs() < 1e-11);
    assert_eq!(beyond(&|_| Some(1.0), 2.0, 0.0, 1.0), None, "it never gets there");
    assert_eq!(beyond(&|_| None, 2.0, 0.0, 1.0), None);
}
