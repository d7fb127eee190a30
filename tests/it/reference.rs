//! The sums against values that somebody else published.
//!
//! Each test names its source. "Certified" and "published" were read in the source or in a copy
//! that quotes it; "recomputed" was found independently at 40 or more digits.

use gapwright::domain::{
    statistics::t_quantile,
    trend::{LeastSquares, Reach},
};

#[track_caller]
fn close(what: &str, value: f64, expected: f64, relative: f64) {
    assert!((value / expected - 1.0).abs() <= relative, "{what}: {value} is not {expected}");
}

/// The `x,y` rows of a reference file, after its provenance and header.
fn pairs(text: &str) -> Vec<(f64, f64)> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| {
            let (x, y) = line.split_once(',').unwrap();
            (x.parse().unwrap(), y.parse().unwrap())
        })
        .collect()
}

/// The Norris data of NIST: certified values (first block), recomputed ones (second).
#[test]
fn a_straight_line_through_norris_is_the_certified_one() {
    let points = pairs(include_str!("../reference/nist_norris.csv"));
    assert_eq!(points.len(), 36);
    let fit = LeastSquares::fit(&points).unwrap();
    close("B0", fit.intercept, -0.262_323_073_774_029, 1e-12);
    close("B1", fit.slope, 1.002_116_818_020_45, 1e-12);
    close("sd(B0)", fit.intercept_se, 0.232_818_234_301_152, 1e-12);
    close("sd(B1)", fit.slope_se, 4.297_968_481_999_37e-4, 1e-12);
    close("residual sd", fit.residual_sd, 0.884_796_396_144_373, 1e-12);
    close("R²", fit.r_squared, 0.999_993_745_883_712, 1e-14);
    assert_eq!(fit.dof, 34);

    close("cov(B0, B1)", fit.covariance, -7.743_275_363_156_436e-5, 1e-12);
    close("mean at 500", fit.mean.at(500.0), 500.796_085_936_453, 1e-14);
    close("its standard error", fit.mean.se_at(500.0), 0.151_502_175_800_192_6, 1e-12);
    let reach = t_quantile(0.975, 34.0).unwrap() * fit.mean.se_at(500.0);
    close("its lower end", fit.mean.at(500.0) - reach, 500.488_196_471_53, 1e-13);
    close("its upper end", fit.mean.at(500.0) + reach, 501.103_975_401_37, 1e-13);
}

/// Graybill and Iyer, Regression Analysis, 1994, p. 434: hours at which crystals weigh 5 g on
/// average, published as 9.93 [8.65, 11.05] at 90 %; and 8 g at 95 %, published in the vignette of
/// the R package `investr`. Full digits recomputed in closed form and by root finding.
#[test]
fn hours_to_a_limit_are_those_of_the_textbook() {
    let weights =
        [0.08, 1.12, 4.43, 4.98, 4.92, 7.18, 5.57, 8.40, 8.81, 10.81, 11.16, 10.12, 13.12, 15.04];
    let hours = (1..).map(|step| f64::from(2 * step));
    let points: Vec<(f64, f64)> = hours.zip(weights).collect();
    let fit = LeastSquares::fit(&points).unwrap();
    for (limit, confidence, estimate, low, high) in [
        (5.0, 0.90, 9.929_057_888_762_767, 8.650_259_102_782_776, 11.047_896_516_465_336),
        (8.0, 0.95, 15.888_195_232_690_123, 14.658_958_704_349_859, 17.159_632_118_867_336),
    ] {
        let factor = t_quantile(f64::midpoint(1.0, confidence), 12.0).unwrap();
        let crossing = fit.mean.meets(limit, Reach::Up, 28.0, factor);
        close("estimate", crossing.estimate.unwrap(), estimate, 1e-12);
        close("low", crossing.low.unwrap(), low, 1e-11);
        close("high", crossing.high.unwrap(), high, 1e-11);
    }
}
