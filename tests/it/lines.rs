//! Lines through readings, against values that somebody else published or found another way.
//!
//! "Certified" and "published" were read in the source or in a copy that quotes it; "recomputed"
//! was found independently at 40 or more digits.

use gapwright::domain::{
    statistics::{normal_quantile, t_quantile},
    trend::{Mean, Model, Observation, Reach, SegmentMean, Segmented, with_profile},
};

#[track_caller]
fn close(what: &str, value: f64, expected: f64, relative: f64) {
    assert!((value / expected - 1.0).abs() <= relative, "{what}: {value} is not {expected}");
}

/// The rows of a reference file, after its provenance and header.
fn rows(text: &str) -> Vec<Vec<f64>> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| line.split(',').map(|word| word.parse().unwrap()).collect())
        .collect()
}

fn bracket(x: f64, low: f64, high: f64) -> Observation {
    Observation { x, low: Some(low), high: Some(high), segment: 0, edge_age: None }
}

fn brackets(text: &str) -> Vec<Observation> {
    rows(text).iter().map(|row| bracket(row[0], row[1], row[2])).collect()
}

fn exact(points: impl Iterator<Item = (f64, f64)>) -> Segmented {
    let points: Vec<Observation> = points.map(|(x, y)| bracket(x, y, y)).collect();
    Segmented::fit(&points).unwrap()
}

fn only(fit: &Segmented) -> &SegmentMean {
    assert_eq!(fit.segments.len(), 1);
    &fit.segments[0]
}

/// Covariance of the line at hour 0 with its rate.
fn covariance(mean: &Mean) -> f64 {
    mean.covariance - mean.centre * mean.rate_var
}

/// Two routes agree on these to 12 digits: Newton on the analytic gradient with 60 digits, and
/// `survreg` of the R package survival.
#[test]
fn brackets_give_the_line_that_other_programs_find() {
    let fit = Segmented::fit(&brackets(include_str!("../reference/interval_A20.csv"))).unwrap();
    let plain = only(&fit).plain.unwrap();
    close("a", plain.at(0.0), 0.381_612_043_576_951_8, 1e-10);
    close("b", plain.rate, 0.002_006_339_404_417_265, 1e-10);
    close("σ", fit.sigma, 0.032_714_424_660_575_12, 1e-10);
    close("ln L", fit.log_likelihood.unwrap(), -21.733_628_713_779_61, 1e-13);
    close("se(a)", plain.se_at(0.0), 0.013_696_148_026_924_63, 1e-9);
    close("se(b)", plain.rate_var.sqrt(), 5.730_761_326_112_903e-5, 1e-9);
    close("se(σ)", fit.sigma_se.unwrap(), 0.006_194_160_414_987_547, 1e-9);
    close("cov(a, b)", covariance(&plain), -6.374_115_743_015_698e-7, 1e-9);
    close("hours to 1.2", (1.2 - plain.at(0.0)) / plain.rate, 407.901_053_341_842_9, 1e-10);
    let z = normal_quantile(0.975).unwrap();
    let crossing = plain.meets(1.2, Reach::Up, 497.0, z);
    close("Fieller, low", crossing.low.unwrap(), 394.244_031_219_6, 1e-10);
    close("Fieller, high", crossing.high.unwrap(), 422.902_518_970_6, 1e-10);
    assert_eq!((fit.n, fit.dof, fit.model), (20, 18, Model::OwnLines));
    assert!(only(&fit).inside.is_none());

    let mean = only(&fit).mean;
    assert_eq!(mean.rate.to_bits(), plain.rate.to_bits(), "the line itself is the most likely one");
    let student = 20.0 / 18.0;
    assert!(plain.rate_var * student < mean.rate_var && mean.rate_var < plain.rate_var * 1.3);
}

/// The limits of the rate recomputed with `survreg` and root finding. Those of the hours are where
/// the same likelihood drops as far: checked by asking for the drop at either end.
#[test]
fn the_likelihood_itself_gives_the_published_interval() {
    let points = brackets(include_str!("../reference/interval_A20.csv"));
    let (rate, hours) = with_profile(&points, Model::OwnLines, |it| {
        (it.rate(0.95).unwrap(), it.meets(1.2, Reach::Up, 497.0, 0.95).unwrap())
    })
    .unwrap();
    close("rate, low", rate.0, 1.887_857_61e-3, 1e-8);
    close("rate, high", rate.1, 2.124_181_51e-3, 1e-8);
    let fieller = only(&Segmented::fit(&points).unwrap()).plain.unwrap();
    let z = normal_quantile(0.975).unwrap();
    let parabola = fieller.meets(1.2, Reach::Up, 497.0, z);
    close("low", hours.low.unwrap(), parabola.low.unwrap(), 0.01);
    close("high", hours.high.unwrap(), parabola.high.unwrap(), 0.01);
}

/// With exact readings the drop of ln L is n/2·ln(1 + t²/(n − 2)), so that the likelihood's interval
/// is Fieller's with another factor.
#[test]
fn the_likelihood_of_exact_readings_agrees_with_fieller() {
    let weights =
        [0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04];
    let hours = (1..).map(|step| f64::from(2 * step));
    let crystal: Vec<(f64, f64)> = hours.zip(weights).collect();
    let flat = vec![(0.0, 1.0), (1.0, 1.3), (2.0, 0.8), (3.0, 1.2), (4.0, 1.1)];
    for (points, limit, reach, confidence) in [
        (&crystal, 5.0, Reach::Up, 0.9),
        (&crystal, 20.0, Reach::Up, 0.95),
        (&crystal, -3.0, Reach::Down, 0.8),
        (&flat, 3.0, Reach::Up, 0.95),
        (&flat, 1.2, Reach::Up, 0.95),
        (&flat, -1.0, Reach::Down, 0.95),
    ] {
        let points: Vec<Observation> = points.iter().map(|&(x, y)| bracket(x, y, y)).collect();
        let now = points.last().unwrap().x;
        let profile =
            with_profile(&points, Model::OwnLines, |it| it.meets(limit, reach, now, confidence));
        let profile = profile.unwrap().unwrap();
        let fit = Segmented::fit(&points).unwrap();
        let (n, dof) = (f64::from(u8::try_from(fit.n).unwrap()), fit.dof);
        let z = normal_quantile(f64::midpoint(1.0, confidence)).unwrap();
        let t = (f64::from(u8::try_from(dof).unwrap()) * (z * z / n).exp_m1()).sqrt();
        let fieller = only(&fit).mean.meets(limit, reach, now, t);
        let what = format!("{limit}: {profile:?} is not {fieller:?}");
        for (a, b) in [(profile.low, fieller.low), (profile.high, fieller.high)] {
            assert_eq!(a.is_some(), b.is_some(), "{what}");
            assert!(a.zip(b).is_none_or(|(a, b)| (a - b).abs() < 1e-8 * b.abs()), "{what}");
        }
    }
}

/// Ranges of slope and level found with a general solver for linear programs (`HiGHS`).
#[test]
fn a_line_inside_every_bracket_is_said_with_its_exact_ranges() {
    let text = include_str!("../reference/interval_D6_degenerate.csv");
    let fit = Segmented::fit(&brackets(text)).unwrap();
    let segment = only(&fit);
    let inside = segment.inside.as_ref().unwrap();
    let (least, largest) = inside.rates();
    close("least slope", least, 0.001_911_764_705_882_353_5, 1e-14);
    close("largest slope", largest, 0.002_068_965_517_241_379_4, 1e-14);
    let (low, high) = inside.levels(0.0);
    close("lowest start", low, 0.40, 1e-12);
    close("highest start", high, 0.435_294_117_647_058_83, 1e-12);
    assert_eq!((fit.sigma, fit.sigma_se, fit.log_likelihood), (0.0, None, Some(0.0)));
    assert_eq!(segment.plain, None, "no standard error exists");

    let (first, last) = inside.meets(1.6, Reach::Up).unwrap();
    assert!(least < segment.mean.rate && segment.mean.rate < largest);
    let t = t_quantile(0.975, 4.0).unwrap();
    let honest = segment.mean.meets(1.6, Reach::Up, 400.0, t);
    assert!(honest.low.unwrap() < first && last.unwrap() < honest.high.unwrap());
    assert!(honest.estimate.is_some_and(|at| first < at && at < last.unwrap()));
}

/// The Norris data of NIST: certified values (first block), recomputed ones (second). Exact
/// readings make the fit ordinary least squares.
#[test]
fn exact_readings_give_the_certified_line_through_norris() {
    let points = rows(include_str!("../reference/nist_norris.csv"));
    assert_eq!(points.len(), 36);
    let fit = exact(points.iter().map(|row| (row[0], row[1])));
    let mean = only(&fit).mean;
    close("B0", mean.at(0.0), -0.262_323_073_774_029, 1e-11);
    close("B1", mean.rate, 1.002_116_818_020_45, 1e-13);
    close("sd(B0)", mean.se_at(0.0), 0.232_818_234_301_152, 1e-11);
    close("sd(B1)", mean.rate_var.sqrt(), 4.297_968_481_999_37e-4, 1e-11);
    close("residual sd", fit.spread, 0.884_796_396_144_373, 1e-11);
    assert_eq!(fit.dof, 34);

    close("cov(B0, B1)", covariance(&mean), -7.743_275_363_156_436e-5, 1e-11);
    close("mean at 500", mean.at(500.0), 500.796_085_936_453, 1e-13);
    close("its standard error", mean.se_at(500.0), 0.151_502_175_800_192_6, 1e-11);
    let reach = t_quantile(0.975, 34.0).unwrap() * mean.se_at(500.0);
    close("its lower end", mean.at(500.0) - reach, 500.488_196_471_53, 1e-13);
    close("its upper end", mean.at(500.0) + reach, 501.103_975_401_37, 1e-13);
    let reading = mean.with_scatter(fit.spread).se_at(500.0) * t_quantile(0.975, 34.0).unwrap();
    close("a reading, low", mean.at(500.0) - reading, 498.971_794_054_18, 1e-13);
    close("a reading, high", mean.at(500.0) + reading, 502.620_377_818_72, 1e-13);
}

/// Graybill and Iyer, Regression Analysis, 1994, p. 434: hours at which crystals weigh 5 g on
/// average, published as 9.93 [8.65, 11.05] at 90 %; and 8 g at 95 %, published in the vignette of
/// the R package `investr`. Full digits recomputed in closed form and by root finding.
#[test]
fn hours_to_a_limit_are_those_of_the_textbook() {
    let weights =
        [0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04];
    let hours = (1..).map(|step| f64::from(2 * step));
    let fit = exact(hours.zip(weights));
    for (limit, confidence, estimate, low, high) in [
        (5.0, 0.90, 9.929_057_888_762_767, 8.650_259_102_782_776, 11.047_896_516_465_336),
        (8.0, 0.95, 15.888_195_232_690_123, 14.658_958_704_349_859, 17.159_632_118_867_336),
    ] {
        let factor = t_quantile(f64::midpoint(1.0, confidence), 12.0).unwrap();
        let crossing = only(&fit).mean.meets(limit, Reach::Up, 28.0, factor);
        close("estimate", crossing.estimate.unwrap(), estimate, 1e-11);
        close("low", crossing.low.unwrap(), low, 1e-10);
        close("high", crossing.high.unwrap(), high, 1e-10);
    }
}

/// A rate that can hardly be told from none: g = t²·s²/(b²·Sxx) is 496. Recomputed by the closed
/// form: at y = 1.2 every hour is compatible, at y = 3.0 all before −6.907 h and after 10.132 h.
#[test]
fn a_rate_that_may_be_none_gives_hours_without_an_upper_end() {
    let fit = exact([1.0, 1.3, 0.8, 1.2, 1.1].into_iter().zip(0_u8..).map(|(y, x)| (x.into(), y)));
    let factor = t_quantile(0.975, 3.0).unwrap();
    let mean = only(&fit).mean;
    close("rate", mean.rate, 0.01, 1e-12);
    let near = mean.meets(1.2, Reach::Up, 4.0, factor);
    assert_eq!((near.low, near.high), (None, None), "the whole line");
    assert!(near.estimate.is_some());
    let far = mean.meets(3.0, Reach::Up, 4.0, factor);
    close("not before", far.low.unwrap(), 10.131_624_888_391, 1e-11);
    assert_eq!(far.high, None, "it could be never");
    let back = mean.meets(3.0, Reach::Down, 4.0, factor);
    assert_eq!(back.estimate, None, "it does not move that way");
}
