//! Charts, breaks, second opinions and comparisons against published examples and other programs.

use gapwright::domain::trend::{
    Answer, Comparison, Individuals, Observation, Piece, Set, TheilSen, Weighted, partitions,
    settled_deviation,
};

#[track_caller]
fn close(what: &str, value: f64, expected: f64, relative: f64) {
    assert!((value / expected - 1.0).abs() <= relative, "{what}: {value} is not {expected}");
}

fn rows(text: &str) -> Vec<Vec<f64>> {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| line.split(',').map(|word| word.parse().unwrap()).collect())
        .collect()
}

/// NIST/SEMATECH e-Handbook 6.3.2.4: λ 0.3, start 50, s 2.0539, three standard deviations. The
/// page prints two decimals, UCL 52.5884 and, with its factor cut off, LCL 47.4115; exact averages
/// and limits recomputed as fractions.
#[test]
fn weighted_averages_are_those_of_the_handbook() {
    let rows = rows(include_str!("../reference/nist_ewma.csv"));
    assert_eq!(rows.len(), 20);
    let told: Vec<(f64, f64)> = Weighted::of(0.3, 50.0, rows.iter().map(|row| row[1])).collect();
    for (row, (average, _)) in rows.iter().zip(&told) {
        assert!((average - row[2]).abs() <= 0.005, "printed {}: {average}", row[2]);
        close("average", *average, row[3], 1e-12);
    }
    let wide = 3.0 * 2.0539;
    close("UCL", 50.0 + wide * settled_deviation(0.3), 52.588_431_738_127, 1e-13);
    close("LCL", 50.0 - wide * settled_deviation(0.3), 47.411_568_261_873, 1e-13);
    for (place, limit) in
        [(2, 52.256_394_012_124), (3, 52.431_405_570_795), (5, 52.551_611_460_074)]
    {
        close("limit at the start", 50.0 + wide * told[place - 1].1, limit, 1e-13);
    }
}

/// NIST/SEMATECH e-Handbook 6.3.2.2: printed to four decimals with d2 = 1.128.
#[test]
fn individuals_have_the_limits_of_the_handbook() {
    let flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
    let chart = Individuals::of(&flow).unwrap();
    close("mean", chart.centre, 50.81, 1e-14);
    close("mean range", chart.mean_range, 16.9 / 9.0, 1e-13);
    let (low, high) = chart.limits();
    close("UCL", high, 55.804_089_835, 1e-10);
    close("LCL", low, 45.815_910_165, 1e-10);
    assert_eq!(Individuals::of(&[1.0]), None);
}

/// The Nile at Aswan, 1871 to 1970: Cobb, Biometrika 65 (1978) 243. Break, means, sums and BIC
/// recomputed by `strucchange` of R and by dynamic programming in numpy.
#[test]
fn the_nile_changed_after_1898() {
    let points: Vec<(f64, f64)> =
        rows(include_str!("../reference/nile.csv")).iter().map(|row| (row[0], row[1])).collect();
    let found = partitions(&points, Piece::Level, 15, 3, 0.0);
    let breaks: Vec<Vec<usize>> = found.iter().map(|it| it.breaks.clone()).collect();
    assert_eq!(breaks, [vec![], vec![28], vec![28, 83], vec![28, 68, 83]]);
    close("RSS", found[0].squares, 2_835_156.75, 1e-12);
    close("RSS", found[1].squares, 1_597_457.194_444_444, 1e-12);
    let bic = [1_318.241_806_876_2, 1_270.083_735_739_5, 1_276.466_700_755_4, 1_284.717_667_448_9];
    for (it, bic) in found.iter().zip(bic) {
        close("BIC", it.bic, bic, 1e-12);
    }
    let mean = |points: &[(f64, f64)]| {
        points.iter().map(|(_, y)| y).sum::<f64>() / f64::from(u8::try_from(points.len()).unwrap())
    };
    close("mean to 1898", mean(&points[..28]), 1_097.75, 1e-14);
    close("mean from 1899", mean(&points[28..]), 849.972_222_222, 1e-11);
    assert_eq!(points[28].0.to_bits(), 1_899.0_f64.to_bits());
    assert_eq!(partitions(&points, Piece::Level, 2, 2, 0.0)[2].breaks, [19, 28]);
}

/// Sen, J. Am. Stat. Assoc. 63 (1968) 1379, its seven points. The slope is published; the paper's
/// own interval is known to rest on mistakes in its list of slopes, so the exact ones were counted
/// anew from Kendall's distribution.
#[test]
fn the_line_of_sen_has_its_exact_intervals() {
    let points = [
        (1.0, 9.0),
        (2.0, 15.0),
        (3.0, 19.0),
        (4.0, 20.0),
        (10.0, 45.0),
        (12.0, 55.0),
        (18.0, 78.0),
    ];
    for (asked, sure, low, high) in
        [(0.93, 0.930_952, 3.75, 4.181_818_182), (0.95, 0.969_841, 3.714_285_714, 4.375)]
    {
        let line = TheilSen::of(&points, asked).unwrap();
        assert_eq!((line.rate, line.intercept, line.slopes), (4.0, 6.0, 21));
        close("low", line.low, low, 1e-9);
        close("high", line.high, high, 1e-9);
        close("confidence", line.confidence, sure, 1e-6);
    }
}

/// Drawn and tested anew by scipy, which climbs the likelihood with a simplex:
/// `tests/reference/compare.py`.
#[test]
fn equal_rates_have_the_p_value_of_another_program() {
    let text = include_str!("../reference/compare.csv");
    for (case, sets) in [("exact", 3), ("brackets", 2)] {
        let told = text.lines().find_map(|line| line.strip_prefix(&format!("# {case},"))).unwrap();
        let told: Vec<f64> = told.split(',').map(|word| word.parse().unwrap()).collect();
        let [rate, statistic, p] = told[..] else { panic!("three numbers") };
        let of = |set: usize| -> Set {
            let start = format!("{case},{set},");
            let points = text.lines().filter_map(|line| line.strip_prefix(&start)).map(|row| {
                let row: Vec<Option<f64>> = row.split(',').map(|it| it.parse().ok()).collect();
                let (x, low, high) = (row[0].unwrap(), row[1], row[2]);
                Observation { x, low, high, segment: 0, edge_age: None }
            });
            Set::Station(points.collect())
        };
        let sets: Vec<Set> = (0..sets).map(of).collect();
        let Answer::Tested(test) = Comparison::of(&sets).unwrap().answer else {
            panic!("{case} has scatter");
        };
        assert_eq!(test.dof, sets.len() - 1);
        close("common rate", test.common_rate, rate, 1e-5);
        close("statistic", test.statistic, statistic, 1e-6);
        close("p", test.p, p, 1e-6);
    }
}
