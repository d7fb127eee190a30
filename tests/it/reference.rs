//! The sums against values that somebody else published.
//!
//! Each test names its source. "Certified" and "published" were read in the source or in a copy
//! that quotes it; "recomputed" was found independently at 40 or more digits.

use gapwright::domain::{
    gauge::study::{FactorSource, Span, Study, StudyReading, Table, Term},
    quantity::Length,
};

#[track_caller]
fn close(what: &str, value: f64, expected: f64, relative: f64) {
    assert!((value / expected - 1.0).abs() <= relative, "{what}: {value} is not {expected}");
}

/// The study of ten parts, three people and three trials in the AIAG manual.
fn manual_study() -> Study {
    let text = include_str!("../reference/aiag_msa_grr.csv");
    let rows = text.lines().filter(|line| !line.starts_with('#')).skip(1);
    let readings: Vec<StudyReading> = rows
        .map(|line| {
            let words: Vec<&str> = line.split(',').collect();
            let at = Length::from_mm(words[3].parse().unwrap()).unwrap();
            StudyReading {
                part: words[0].into(),
                person: words[1].into(),
                trial: words[2].into(),
                value: Span::new(at, at),
            }
        })
        .collect();
    assert_eq!(readings.len(), 90);
    Study::of(&Table::balanced(&readings).0.unwrap())
}

#[track_caller]
fn printed(what: &str, value: Option<f64>, printed: f64, within: f64) {
    let value = value.unwrap();
    assert!((value - printed).abs() <= within, "{what}: {value} is not printed {printed}");
}

/// AIAG, Measurement Systems Analysis, average and range method. EV, AV, GRR and ndc as published;
/// PV, TV and the percentages are from memory. Full digits recomputed. The manual rounds its means
/// to four digits first, hence 1e-4.
#[test]
fn averages_and_ranges_are_those_of_the_manual() {
    let ranges = manual_study().ranges;
    let c = ranges.components;
    for (what, value, published, recomputed) in [
        ("EV", c.ev, 0.201_88, 0.201_856_67),
        ("AV", c.av, 0.229_63, 0.229_667_03),
        ("GRR", c.grr, 0.305_75, 0.305_766_35),
        ("PV", c.pv, 1.104_56, 1.104_595_56),
        ("TV", c.tv, 1.146_10, 1.146_134_55),
    ] {
        printed(what, value, published, 1e-4);
        close(what, value.unwrap(), recomputed, 1e-7);
    }
    for (what, sigma, percent, recomputed) in [
        ("%EV", c.ev, 17.62, 17.6120),
        ("%AV", c.av, 20.04, 20.0384),
        ("%GRR", c.grr, 26.68, 26.6780),
        ("%PV", c.pv, 96.38, 96.3757),
    ] {
        printed(what, c.share(sigma).map(|it| it * 100.0), percent, 0.01);
        printed(what, c.share(sigma).map(|it| it * 100.0), recomputed, 5e-5);
    }
    close("ndc", c.categories().unwrap(), 5.093_692, 1e-7);
    assert_eq!(c.ndc(), Some(5));
    close("mean range", ranges.mean_range.unwrap(), 0.341_666_666_7, 1e-9);
    close("people", ranges.people_apart.unwrap(), 0.444_666_666_7, 1e-9);
    close("parts", ranges.parts_apart.unwrap(), 3.511_111_111_1, 1e-9);
    for (range, expected) in ranges.by_person.iter().zip([0.184, 0.513, 0.328]) {
        close("mean range of a person", *range, expected, 1e-12);
    }
    assert!(ranges.factors.iter().all(|it| it.unwrap().source == FactorSource::Manual));
}

/// AIAG, Measurement Systems Analysis, analysis of variance, published with the interaction pooled
/// (78 degrees of freedom); sums of squares and F against repeatability to the digits printed.
/// Full digits recomputed.
#[test]
fn the_analysis_of_variance_is_that_of_the_manual() {
    let anova = manual_study().anova;
    let unpooled = &anova.unpooled;
    let repeat = unpooled.source(Term::Repeatability).unwrap();
    for (term, dof, sum, mean, recomputed, against_repeat) in [
        (Term::Part, 9, 88.3619, 9.817_992_716, 88.361_934_444, 213.517_143),
        (Term::Person, 2, 3.1673, 1.583_631_111, 3.167_262_222, 34.440_073),
        (Term::Interaction, 18, 0.3590, 0.019_943_457, 0.358_982_222, 0.433_721),
        (Term::Repeatability, 60, 2.7589, 0.045_982_222, 2.758_933_333, 1.0),
    ] {
        let source = unpooled.source(term).unwrap();
        assert_eq!(source.dof, dof, "{term:?}");
        printed("SS", Some(source.sum), sum, 5.1e-5);
        close("SS", source.sum, recomputed, 2e-9);
        close("MS", source.mean, mean, 5e-8);
        close("F against repeatability", source.mean / repeat.mean, against_repeat, 2e-6);
    }
    let total: f64 = unpooled.sources.iter().map(|it| it.sum).sum();
    close("total", total, 94.647_112_222, 1e-9);
    let f = |term| unpooled.source(term).unwrap().test.unwrap().f;
    close("F of parts", f(Term::Part), 492.291_423, 1e-8);
    close("F of people", f(Term::Person), 79.406_049, 1e-8);
    let interaction = anova.interaction_test().unwrap();
    close("F of the interaction", interaction.f, 0.433_721, 2e-6);
    printed("its p", Some(interaction.p), 0.974_106, 1e-6);

    assert!(anova.pools());
    let pooled = anova.chosen();
    let c = pooled.components;
    for (what, value, published, recomputed) in [
        ("EV", c.ev, 0.199_933, 0.199_933_179_721),
        ("AV", c.av, 0.226_838, 0.226_837_521_496),
        ("GRR", c.grr, 0.302_373, 0.302_371_522_323),
        ("PV", c.pv, 1.042_327, 1.042_327_493_838),
    ] {
        printed(what, value, published, 2e-6);
        close(what, value.unwrap(), recomputed, 1e-9);
    }
    printed("TV", c.tv, 1.085, 5e-4);
    close("TV", c.tv.unwrap(), 1.085_299_563_219, 1e-9);
    for (what, sigma, contribution, share) in [
        ("EV", c.ev, 3.4, 18.42),
        ("AV", c.av, 4.4, 20.90),
        ("GRR", c.grr, 7.8, 27.86),
        ("PV", c.pv, 92.2, 96.04),
    ] {
        let part = c.share(sigma).unwrap();
        printed(what, Some(part * part * 100.0), contribution, 0.05);
        printed(what, Some(part * 100.0), share, 0.005);
    }
    close("ndc", c.categories().unwrap(), 4.860_516, 1e-7);
    assert_eq!(c.ndc(), Some(4), "truncated, where averages and ranges give 5");
    let rest = pooled.source(Term::Rest).unwrap();
    assert_eq!(rest.dof, 78);
    close("pooled MS", rest.mean, 0.039_973_276_353, 1e-9);
    let f = |term| pooled.source(term).unwrap().test.unwrap().f;
    close("F of parts", f(Term::Part), 245.613_910, 1e-8);
    close("F of people", f(Term::Person), 39.617_246, 1e-8);
}

/// The same data with the interaction kept apart: recomputed, not published.
#[test]
fn an_unpooled_interaction_below_zero_is_set_to_zero_and_said() {
    let anova = manual_study().anova;
    let c = anova.unpooled.components;
    assert_eq!(anova.unpooled.set_to_zero, [Term::Interaction]);
    assert_eq!(c.interaction, Some(0.0));
    for (what, value, recomputed) in [
        ("EV", c.ev, 0.214_434_657_232),
        ("AV", c.av, 0.228_304_449_827),
        ("GRR", c.grr, 0.313_217_406_976),
        ("PV", c.pv, 1.043_394_527_452),
        ("TV", c.tv, 1.089_393_080_550),
    ] {
        close(what, value.unwrap(), recomputed, 1e-9);
    }
    printed("ndc", c.categories(), 4.697, 5e-4);
}
