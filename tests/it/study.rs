//! A gauge study from a file to words and numbers, on the command line.

use crate::cli::{json, told};
use chrono::NaiveDate;
use gapwright::{domain::quantity::Length, sample, store};
use std::fs;
use tempfile::TempDir;

const MANUAL: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/reference/aiag_msa_grr.csv");

#[expect(clippy::disallowed_methods, reason = "somebody else's program wrote this file")]
fn put(dir: &TempDir, text: &str) -> String {
    let path = dir.path().join("study.csv");
    fs::write(&path, text).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn the_manuals_study_is_printed_with_one_plain_conclusion() {
    let home = TempDir::new().unwrap();
    let told = told(home.path(), &["study", MANUAL]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    let text = told.out.replace('\u{a0}', " ");
    for line in [
        "10 stations × 3 people × 3 times",
        "Your measuring takes 28 % of the spread; you can tell 4 groups of gaps apart. A change \
         of less than 0.838 mm between two readings may be only the hand.",
        "GRR  all of measuring         0.306 mm    27 %       0.302 mm    28 %",
        "ndc  groups told apart               5    5.09              4    4.86",
    ] {
        assert!(text.lines().any(|it| it == line), "{line}\n{text}");
    }
}

#[test]
fn the_manuals_study_is_full_of_numbers_as_json() {
    let home = TempDir::new().unwrap();
    let told = told(home.path(), &["study", MANUAL, "--json"]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    let value = json(&told);
    for (path, expected) in [
        ("/ranges/ev", 0.201_856_67),
        ("/ranges/av", 0.229_667_03),
        ("/ranges/grr", 0.305_766_35),
        ("/ranges/pv", 1.104_595_56),
        ("/ranges/tv", 1.146_134_55),
        ("/anova/ev", 0.199_933_179_721),
        ("/anova/av", 0.226_837_521_496),
        ("/anova/grr", 0.302_371_522_323),
        ("/anova/pv", 1.042_327_493_838),
        ("/anova/tv", 1.085_299_563_219),
        ("/anova/if_unpooled/ev", 0.214_434_657_232),
        ("/ranges/share/grr", 0.266_780_498),
    ] {
        let found = value.pointer(path).unwrap().as_f64().unwrap();
        assert!((found / expected - 1.0).abs() < 1e-6, "{path}: {found} is not {expected}");
    }
    assert_eq!((&value["ranges"]["ndc"], &value["anova"]["ndc"]), (&5.into(), &4.into()));
    assert_eq!(value["anova"]["pooled"], true);
    assert_eq!(value["anova"]["interaction"], serde_json::Value::Null, "it is in the hand");
}

#[test]
fn what_is_wrong_goes_apart_by_line_and_the_rest_is_studied() {
    let home = TempDir::new().unwrap();
    let mut text = fs::read_to_string(MANUAL).unwrap();
    text = text.replacen("2,B,2,-1.22", "2,B,2,thick", 1);
    let file = put(&home, &text);
    let found = told(home.path(), &["study", &file, "--json"]);
    assert_eq!(found.code, 1);
    assert_eq!(
        found.err,
        format!(
            "{file}:18: “thick” is not a reading in millimetres; write a number such as 0.55\n\
             {file}:14: part “2” is not complete and is left out of the study; complete it, and \
             study again\n"
        )
    );
    let value = json(&found);
    assert_eq!((&value["parts"], &value["issues"][0]["line"]), (&9.into(), &18.into()));
    assert!(value["anova"]["grr"].as_f64().is_some());

    let one_person: Vec<&str> =
        text.lines().filter(|line| line.starts_with("part") || line.contains(",A,")).collect();
    let file = put(&home, &one_person.join("\n"));
    let found = told(home.path(), &["study", &file, "--json"]);
    assert_eq!(found.code, 1);
    assert!(found.err.starts_with(&format!("{file}:2: all readings are by one person, “A”")));
    let value = json(&found);
    assert_eq!(value["anova"]["av"], serde_json::Value::Null);
    assert_eq!(value["anova"]["grr"], value["anova"]["ev"]);

    let nothing = told(home.path(), &["study", &put(&home, "P1,kw,1,0.5\n"), "--json"]);
    assert_eq!((nothing.code, nothing.out.as_str()), (1, ""));
    assert!(nothing.err.contains(":1: the header has no column “part”"), "{}", nothing.err);
    let absent = told(home.path(), &["study", "nowhere.csv"]);
    assert_eq!(absent.code, 1);
    assert!(absent.err.contains("nowhere.csv: this cannot be read"), "{}", absent.err);
}

#[test]
fn a_yard_takes_the_crews_scatter_over_and_names_the_study() {
    let home = TempDir::new().unwrap();
    let yard = home.path().join("yard");
    store::unpack(&yard, sample::files()).unwrap();
    let used = told(home.path(), &["study", MANUAL, "--use", yard.to_str().unwrap()]);
    assert_eq!((used.code, used.err.as_str()), (0, ""));
    assert!(used.out.contains("now count with a scatter of 0.302"), "{}", used.out);
    let kept = store::open(&yard).unwrap().yard.settings.repeatability.unwrap();
    assert_eq!(kept.sigma, Length::from_nm(302_372));
    assert_eq!(kept.from, "aiag_msa_grr.csv, 10 stations × 3 people × 3 times");
    assert!(NaiveDate::from_ymd_opt(2025, 1, 1).unwrap() < kept.taken);

    let single = put(&home, "part,person,trial,value_mm\nP1,kw,1,0.5\n");
    let refused = told(home.path(), &["study", &single, "--use", yard.to_str().unwrap()]);
    assert_eq!(refused.code, 1);
    assert!(refused.err.contains("the yard was left as it is"), "{}", refused.err);
    let still = store::open(&yard).unwrap().yard.settings.repeatability.unwrap();
    assert_eq!(still.sigma, kept.sigma);
}
