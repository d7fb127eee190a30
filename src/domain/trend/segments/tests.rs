//! What segments do with little, with much, and with nonsense.

use super::*;
use proptest::prelude::*;

fn exact(segment: usize, x: f64, y: f64) -> Observation {
    Observation { x, low: Some(y), high: Some(y), segment, edge_age: None }
}

fn stretch(segment: usize, points: &[(f64, f64)]) -> Vec<Observation> {
    points.iter().map(|&(x, y)| exact(segment, x, y)).collect()
}

fn grown(segment: usize, from: f64, level: f64, rate: f64, jitter: f64) -> Vec<Observation> {
    let signs = [1.0, -1.0, -1.0, 1.0, 1.0, -1.0];
    let points: Vec<(f64, f64)> = (0..6)
        .zip(signs)
        .map(|(step, sign)| {
            let x = f64::from(step) * 8.0;
            (from + x, level + rate * x + sign * jitter)
        })
        .collect();
    stretch(segment, &points)
}

#[test]
fn too_little_is_refused_with_what_is_missing() {
    let fit = |points: &[(f64, f64)]| Segmented::fit(&stretch(0, points)).unwrap_err();
    assert_eq!(Segmented::fit(&[]), Err(WhyNot::NoReadings));
    assert_eq!(fit(&[(0.0, 0.4), (8.0, 0.5)]), WhyNot::TooFewReadings { have: 2, need: 3 });
    assert_eq!(fit(&[(8.0, 0.4), (8.0, 0.5), (8.0, 0.6)]), WhyNot::SameHour);
    assert_eq!(fit(&[(8.0, 0.4), (8.0, 0.5)]), WhyNot::SameHour, "more of them would not help");
    assert_eq!(fit(&[(8.0, 1e300), (9.0, 0.5), (10.0, 0.6)]), WhyNot::TooLarge);
    let mut three = stretch(0, &[(0.0, 0.4)]);
    three.extend(stretch(1, &[(8.0, 0.3)]));
    three.extend(stretch(2, &[(16.0, 0.3), (24.0, 0.4)]));
    assert_eq!(Segmented::fit(&three), Err(WhyNot::TooFewReadings { have: 4, need: 5 }));
}

#[test]
fn one_rate_serves_all_unless_the_readings_say_otherwise() {
    let mut alike = grown(0, 0.0, 0.40, 0.005, 0.01);
    alike.extend(grown(1, 48.0, 0.40, 0.0051, 0.01));
    let fit = Segmented::fit(&alike).unwrap();
    assert_eq!((fit.model, fit.dof), (Model::SharedRate, 9));
    let rates: Vec<f64> = fit.segments.iter().map(|it| it.mean.rate).collect();
    assert_eq!(rates[0].to_bits(), rates[1].to_bits());

    let mut unlike = grown(0, 0.0, 0.40, 0.005, 0.01);
    unlike.extend(grown(1, 48.0, 0.40, -0.004, 0.01));
    let fit = Segmented::fit(&unlike).unwrap();
    assert_eq!((fit.model, fit.dof), (Model::OwnLines, 8));
    assert!((fit.segments[1].mean.rate + 0.004).abs() < 0.001, "a gap may shrink");
}

#[test]
fn two_readings_after_work_borrow_the_rate_of_earlier_stretches() {
    let mut points = grown(0, 0.0, 0.40, 0.005, 0.001);
    points.extend(grown(1, 48.0, 0.40, 0.009, 0.001));
    points.extend(stretch(2, &[(96.0, 0.40), (104.0, 0.30)]));
    let fit = Segmented::fit(&points).unwrap();
    assert_eq!(fit.model, Model::SharedRate);
    assert!(0.005 < fit.segments[2].mean.rate, "not the −12 µm/h of the two readings alone");
}

#[test]
fn a_single_old_reading_does_not_force_one_rate_on_the_others() {
    let mut points = grown(0, 0.0, 0.40, 0.002, 0.001);
    points.extend(stretch(1, &[(48.0, 0.35)]));
    points.extend(grown(2, 56.0, 0.40, 0.009, 0.001));
    let fit = Segmented::fit(&points).unwrap();
    assert_eq!((fit.model, fit.dof), (Model::OwnLines, 13 - 5));
    assert!((fit.segments[2].mean.rate - 0.009).abs() < 1e-4);
}

/// Felt with leaves `leaf` apart.
fn felt(segment: usize, x: f64, y: f64, leaf: f64) -> Observation {
    let low = (y / leaf).floor() * leaf;
    Observation { x, low: Some(low), high: Some(low + leaf), segment, edge_age: None }
}

#[test]
fn open_ends_count_and_a_stretch_of_one_kind_says_nothing() {
    let mut points: Vec<Observation> = (0..12)
        .map(|step| f64::from(step) * 8.0)
        .map(|x| felt(0, x, 0.4 + 0.004 * x + 0.01 * x.sin(), 0.05))
        .collect();
    points[11].high = None;
    let fit = Segmented::fit(&points).unwrap();
    assert_eq!((fit.n, fit.dof), (12, 10));

    let mut after = points.clone();
    after.push(Observation { x: 96.0, low: Some(1.0), high: None, segment: 1, edge_age: None });
    let fit = Segmented::fit(&after).unwrap();
    assert_eq!((fit.n, fit.segments.len()), (12, 1), "the thickest stack goes: it may be anywhere");
    after.push(Observation { x: 104.0, low: None, high: Some(0.1), segment: 1, edge_age: None });
    let fit = Segmented::fit(&after).unwrap();
    assert_eq!((fit.n, fit.segments.len()), (14, 2), "between the two");

    for point in &mut points {
        point.high = None;
    }
    assert_eq!(Segmented::fit(&points), Err(WhyNot::AllOpen(12)));
    for point in points.iter_mut().skip(6) {
        point.high = point.low.map(|low| low + 0.05);
        point.low = None;
    }
    assert_eq!(Segmented::fit(&points), Err(WhyNot::TooOpen), "it may fall as fast as it likes");
}

#[test]
fn fresh_edges_may_wear_faster_at_first() {
    let reading = |segment: usize, step: u8| {
        let (age, x) = (f64::from(step) * 4.0, 200.0 * count(segment) + f64::from(step) * 4.0);
        let early = 0.15 * (age.min(24.0) / 24.0);
        let y = 0.3 + early + 0.002 * age + 0.012 * (f64::from(step) * 1.7).sin();
        Observation { edge_age: Some(age), ..felt(segment, x, y, 0.05) }
    };
    let points: Vec<Observation> =
        (0..3).flat_map(|segment| (0..20).map(move |step| reading(segment, step))).collect();
    let fit = Segmented::fit(&points).unwrap();
    assert_eq!(fit.model, Model::SharedRateBreakIn);
    assert_eq!(fit.tried.len(), 4);
    assert!((fit.break_in_mm.unwrap() - 0.15).abs() < 0.03, "{:?}", fit.break_in_mm);
    assert!((fit.segments[2].mean.rate - 0.002).abs() < 3e-4, "the rate after break-in");
    let score = |model| fit.tried.iter().find(|it| it.model == model).unwrap().aicc.unwrap();
    assert!(score(Model::SharedRateBreakIn) + 2.0 < score(Model::SharedRate));
}

#[test]
fn lines_that_touch_every_bracket_give_way_to_a_simpler_model_that_does_too() {
    let points: Vec<Observation> = (0..10)
        .map(|step| f64::from(step) * 8.0)
        .map(|x| {
            felt(usize::from(36.0 < x), x, if 36.0 < x { x * 0.004 } else { 0.4 + x * 0.004 }, 0.05)
        })
        .collect();
    let fit = Segmented::fit(&points).unwrap();
    assert_eq!((fit.model, fit.sigma, fit.log_likelihood), (Model::SharedRate, 0.0, Some(0.0)));
    for segment in &fit.segments {
        let (least, largest) = segment.inside.as_ref().unwrap().rates();
        assert!(least < 0.004 && 0.004 < largest);
        assert!(0.0 < segment.mean.rate_var, "an interval needs more than the range");
    }
}

#[test]
fn a_line_that_only_touches_corners_is_not_certain() {
    let strip = |x: f64, low: f64| Observation {
        x,
        low: Some(low),
        high: Some(low + 0.1),
        segment: 0,
        edge_age: None,
    };
    // One line alone: below the first ceiling, on the second floor, below the third ceiling.
    let touching = [strip(0.0, 0.0), strip(10.0, 0.2), strip(20.0, 0.2)];
    let fit = Segmented::fit(&touching).unwrap();
    let (least, largest) = fit.segments[0].inside.as_ref().unwrap().rates();
    assert!((least - 0.01).abs() < 1e-12 && (largest - 0.01).abs() < 1e-12);
    // As σ shrinks the line leans off the corners by a share of σ: the largest of
    // 2·ln Φ(−d) + ln Φ(d) is at Φ(d) = 1/3.
    let top = (4.0_f64 / 27.0).ln();
    assert!((fit.log_likelihood.unwrap() - top).abs() < 1e-6, "{:?}", fit.log_likelihood);
    assert_eq!(fit.sigma.to_bits(), 0.0_f64.to_bits());

    let room = [strip(0.0, 0.0), strip(10.0, 0.15), strip(20.0, 0.2)];
    assert_eq!(Segmented::fit(&room).unwrap().log_likelihood, Some(0.0));
}

#[test]
fn growth_that_is_rounding_is_none() {
    let level: Vec<Observation> =
        (0..9).map(|step| felt(0, 3_000.3 + f64::from(step) * 8.1, 0.42, 0.05)).collect();
    let fit = Segmented::fit(&level).unwrap();
    assert_eq!(fit.segments[0].mean.rate.to_bits(), 0.0_f64.to_bits());
    let exact: Vec<Observation> =
        (0..9).map(|step| exact(0, 3_000.3 + f64::from(step) * 8.1, 0.1 + 0.2)).collect();
    let fit = Segmented::fit(&exact).unwrap();
    assert_eq!(fit.segments[0].mean.rate.to_bits(), 0.0_f64.to_bits());
}

proptest! {
    #[test]
    fn a_noiseless_line_comes_back(
        level in 0.0..2.0_f64, rate in -0.02..0.02_f64, start in 0.0..20_000.0_f64,
        drop in 0.0..1.0_f64,
    ) {
        let mut points = grown(0, start, level, rate, 0.0);
        points.extend(grown(1, start + 48.0, level - drop, rate, 0.0));
        let fit = Segmented::fit(&points).unwrap();
        prop_assert_eq!(fit.model, Model::SharedRate, "fewer numbers say the same");
        // Lengths are whole nanometres and hours whole thousandths.
        prop_assert!((fit.segments[1].mean.rate - rate).abs() < 1e-6);
        prop_assert!((fit.segments[1].mean.at(start + 48.0) - (level - drop)).abs() < 1e-4);
        prop_assert!(fit.sigma < 2e-5);
    }

    #[test]
    fn another_meter_or_a_thicker_shim_only_moves_the_line(
        gaps in prop::collection::vec((0.1..1.5, 0_usize..4), 8..20),
        hours in -5_000..5_000_i32, mm in -500..500_i32, cut in 3_usize..6,
    ) {
        let (hours, mm) = (f64::from(hours), f64::from(mm) / 1e3);
        let points: Vec<Observation> = gaps.iter().enumerate()
            .map(|(place, &(y, kind))| {
                let mut it = felt(place / cut, count(place) * 7.5, y, 0.05);
                match kind {
                    0 => it.high = it.low,
                    1 => it.high = None,
                    _ => {}
                }
                it
            })
            .collect();
        let moved: Vec<Observation> = points.iter()
            .map(|p| {
                let up = |y: Option<f64>| y.map(|y| y + mm);
                Observation { x: p.x + hours, low: up(p.low), high: up(p.high), ..*p }
            })
            .collect();
        match (Segmented::fit(&points), Segmented::fit(&moved)) {
            (Ok(a), Ok(b)) => {
                prop_assert_eq!(a.model, b.model);
                prop_assert!((a.sigma - b.sigma).abs() < 1e-7);
                for (a, b) in a.segments.iter().zip(&b.segments) {
                    prop_assert!((a.mean.rate - b.mean.rate).abs() < 1e-8);
                    prop_assert!((a.mean.at(9.0) + mm - b.mean.at(9.0 + hours)).abs() < 1e-6);
                    // Where readings say next to nothing, the likelihood is flat and its bend is
                    // known to fewer digits than its top.
                    let (se, moved) = (a.mean.se_at(9.0), b.mean.se_at(9.0 + hours));
                    prop_assert!((se - moved).abs() < 1e-5 * (1.0 + se), "{} {}", se, moved);
                }
            }
            (a, b) => prop_assert_eq!(a.map(|_| ()), b.map(|_| ())),
        }
    }

    #[test]
    fn any_numbers_give_a_finite_fit_or_a_reason(
        points in prop::collection::vec((any::<f64>(), any::<f64>(), any::<f64>(), 0_usize..2, 0..5), 0..12),
        small in any::<bool>(),
    ) {
        let mut segment = 0;
        let tame = |y: f64| if small { (y.abs().max(1e-300).ln() / 100.0).round() / 8.0 } else { y };
        let points: Vec<Observation> = points.into_iter()
            .map(|(x, a, b, step, kind)| {
                segment += step;
                let (x, a, b) = (tame(x), tame(a), tame(b));
                let (low, high) = (Some(a.min(b)), Some(a.max(b)));
                let (low, high) = match kind {
                    0 => (low, None),
                    1 => (None, high),
                    2 => (low, low),
                    _ => (low, high),
                };
                Observation { x, low, high, segment, edge_age: None }
            })
            .collect();
        if let Ok(fit) = Segmented::fit(&points) {
            prop_assert!(fit.sigma.is_finite());
            prop_assert!(fit.log_likelihood.is_none_or(f64::is_finite));
            for it in &fit.segments {
                prop_assert!(it.mean.at(0.0).is_finite() && it.mean.rate.is_finite());
                prop_assert!(it.mean.se_at(0.0).is_finite());
            }
        }
    }

    /// Leaves on a grid, felt at whole looks: lines often touch corners and pass between no others.
    #[test]
    fn lines_that_touch_have_a_likelihood_however_they_touch(
        steps in prop::collection::vec(-1..3_i32, 3..40), open in prop::collection::vec(0..8_u8, 40),
        width in 1..3_i32, cut in 3_usize..30,
    ) {
        let mut at = 20;
        let points: Vec<Observation> = steps.iter().zip(&open).enumerate()
            .map(|(look, (step, open))| {
                at += step;
                let (low, high) = (f64::from(at) / 20.0, f64::from(at + width) / 20.0);
                let segment = usize::from(cut <= look);
                Observation {
                    x: 8.0 * count(look),
                    low: (*open != 0).then_some(low),
                    high: (*open != 1).then_some(high),
                    segment,
                    edge_age: None,
                }
            })
            .collect();
        match Segmented::fit(&points) {
            Ok(fit) => prop_assert!(fit.log_likelihood.unwrap() <= 0.0),
            Err(why) => prop_assert!(why != WhyNot::TooLarge),
        }
    }

    /// Whatever the fit says of lines inside every bracket, it says of one of them.
    #[test]
    fn the_line_that_is_told_is_one_of_those_that_fit(
        gaps in prop::collection::vec(-0.02..0.02_f64, 3..9), rate in -0.01..0.01_f64,
    ) {
        let points: Vec<Observation> = gaps.iter().enumerate()
            .map(|(look, jitter)| {
                let x = 8.0 * count(look);
                felt(0, x, 0.5 + rate * x + jitter, 0.05)
            })
            .collect();
        let fit = Segmented::fit(&points).unwrap();
        let it = &fit.segments[0];
        if let Some(inside) = &it.inside {
            prop_assert!(fit.log_likelihood.unwrap() <= 0.0);
            let (least, largest) = inside.rates();
            prop_assert!(least - 1e-12 <= it.mean.rate && it.mean.rate <= largest + 1e-12);
            for point in &points {
                let mean = it.mean.at(point.x);
                prop_assert!(point.low.unwrap() - 1e-9 <= mean && mean <= point.high.unwrap() + 1e-9);
            }
        }
    }
}
