//! How sure a reading is, against values that somebody else published or that chance gives.
//!
//! Each test names its source: "published" was read in the source or in a copy that quotes it,
//! "recomputed" was found independently at 40 digits, and "from memory" says that nobody read it.

use gapwright::domain::statistics::{normal_cdf, normal_quantile, t_quantile};

/// NIST Technical Note 1297, Table B.1: every printed cell but the misprinted one, within half a
/// unit of its last digit.
#[test]
fn coverage_factors_are_those_of_the_printed_table() {
    // The middle columns are shares within whole deviations, so they are not 0.6827 and so on.
    let within = |deviations: f64| 1.0 - 2.0 * normal_cdf(-deviations);
    let shares = [within(1.0), 0.90, 0.95, within(2.0), 0.99, within(3.0)];
    let text = include_str!("../reference/tn1297_table_b1.csv");
    let (mut held, mut misprints) = (0, 0);
    for row in text.lines().filter(|line| !line.starts_with('#')).skip(1) {
        let (dof, cells) = row.split_once(',').unwrap();
        for (cell, share) in cells.split(',').zip(shares) {
            let upper = f64::midpoint(1.0, share);
            let factor = match dof {
                "inf" => normal_quantile(upper).unwrap(),
                dof => t_quantile(upper, dof.parse().unwrap()).unwrap(),
            };
            let places = cell.split_once('.').map_or(0, |(_, decimals)| decimals.len());
            let half_unit = 0.5 * 0.1_f64.powi(i32::try_from(places).unwrap());
            let printed: f64 = cell.parse().unwrap();
            // A hair more, for what was rounded on a tie.
            if (factor - printed).abs() <= half_unit + 1e-9 {
                held += 1;
            } else {
                assert_eq!((dof, cell), ("35", "1.70"), "{factor}");
                misprints += 1;
            }
        }
    }
    assert_eq!((held, misprints), (167, 1));
}
