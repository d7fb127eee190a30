//! One reading on the command line: by itself, and at a station of a yard.

use crate::cli::{json, told};
use serde_json::Value;
use tempfile::TempDir;

/// 0.55 goes and 0.60 does not, by one leaf of ± 6 µm each and a hand of 6 µm.
#[test]
fn reading_tells_its_budget_its_chances_and_the_leaf_to_try_next() {
    let home = TempDir::new().unwrap();
    let args = "reading --go 0.55 --no-go 0.60 --leaf-tol-mm 0.006 --sigma-mm 0.006 \
                --min 0.30 --max 0.575 --json";
    let typed: Vec<&str> = args.split_whitespace().collect();
    let told_json = told(home.path(), &typed);
    assert_eq!((told_json.code, told_json.err.as_str()), (0, ""));
    let value = json(&told_json);
    let float = |key: &str| value[key].as_f64().unwrap();
    let near = |key: &str, expected: f64| {
        assert!((float(key) - expected).abs() < 1e-12, "{key}: {}", float(key));
    };
    near("value_mm", 0.575);
    let squares = [0.05_f64.powi(2) / 12.0, 0.006_f64.powi(2) / 3.0, 0.006_f64.powi(2)];
    near("u_mm", squares.iter().sum::<f64>().sqrt());
    let terms = value["terms"].as_array().unwrap();
    let sum: f64 = terms.iter().map(|it| it["u_mm"].as_f64().unwrap().powi(2)).sum();
    assert!((sum.sqrt() - float("u_mm")).abs() < 1e-15);
    assert_eq!(terms[0]["name"], "place between the two leaves");
    assert_eq!(value["largest"], terms[0]["name"]);
    near("p_within", 0.5);
    assert!((float("p_below") + float("p_within") + float("p_above") - 1.0).abs() < 1e-12);
    assert_eq!(value["verdict"], "undecided");
    let next = float("next_leaf_mm");
    assert!(0.55 < next && next < 0.60, "{next}");

    let settled = args.replace("0.575", "0.70");
    let typed: Vec<&str> = settled.split_whitespace().collect();
    let value = json(&told(home.path(), &typed));
    assert_eq!(
        (value["verdict"].as_str(), value["next_leaf_mm"].is_null()),
        (Some("working"), true)
    );
}

#[test]
fn a_reading_with_an_open_end_has_no_chances_and_a_contradiction_is_named() {
    let home = TempDir::new().unwrap();
    let run = |args: &str| told(home.path(), &args.split_whitespace().collect::<Vec<_>>());
    let open = json(&run("reading --go 1.00 --min 0.20 --max 1.25 --json"));
    for key in ["u_mm", "p_below", "p_within", "p_above", "value_mm"] {
        assert!(open.get(key).is_some_and(Value::is_null), "{key}: {open}");
    }
    assert_eq!(
        (open["verdict"].as_str(), open["next_leaf_mm"].as_f64()),
        (Some("undecided"), Some(1.25))
    );
    let wide = json(&run("reading --go 1.30 --min 0.20 --max 1.25 --json"));
    assert_eq!((wide["verdict"].as_str(), wide["p_above"].as_f64()), (Some("too_wide"), Some(1.0)));
    let reversed = run("reading --go 0.60 --no-go 0.55 --min 0.20 --max 1.25");
    assert_eq!(reversed.code, 1);
    assert!(reversed.err.contains("check which stack stuck"), "{}", reversed.err);
    let text = run("reading --go 0.55 --no-go 0.60 --min 0.20 --max 1.25");
    assert!(text.out.contains("likely inside the working limits"), "{}", text.out);
    for wrong in ["--go wide", "--go 0.55 --sigma-mm NaN", "--go 0.55 --conformity 0.4", ""] {
        assert_eq!(run(&format!("reading {wrong} --min 0.20 --max 1.25")).code, 2, "{wrong}");
    }
}

/// Heron's guide blade between warm blades: the gap next morning is wider, and what was assumed
/// about the jaws is said and counted.
#[test]
fn a_reading_between_warm_blades_is_carried_to_20_degrees() {
    let home = TempDir::new().unwrap();
    let run = |args: &str| told(home.path(), &args.split_whitespace().collect::<Vec<_>>());
    let at = "reading --yard sample-sessions --shear heron --station G1 --go 0.40 --no-go 0.45";
    let number = |args: &str, key: &str| {
        let value = json(&run(&format!("{at} {args} --json")));
        value[key].as_f64().unwrap_or_else(|| panic!("{key}: {value}"))
    };
    let cold = number("--blade-c 20 --jaw-c 20", "value_mm");
    assert!((cold - 0.425).abs() < 1e-9, "{cold}");
    let warm = "--blade-c 60 --jaw-c 25";
    assert!(cold + 0.01 < number(warm, "value_mm"));
    assert!((number(warm, "value_mm") - cold - number(warm, "moved_mm")).abs() < 1e-9);
    let (taken, assumed) = ("--blade-c 60 --jaw-c 40", "--blade-c 60 --air-c 20");
    assert!((number(taken, "value_mm") - number(assumed, "value_mm")).abs() < 1e-9);
    assert!(number(taken, "u_mm") < number(assumed, "u_mm"));

    let text = run(&format!("{at} {assumed}")).out.replace('\u{a0}', " ");
    for said in ["Jaws taken as 40 °C, halfway", "jaw temperature, assumed", "to 20 °C."] {
        assert!(text.contains(said), "{said}: {text}");
    }
    assert!(run(at).out.contains("Nobody took the blades' temperature"));
}

#[test]
fn what_a_station_already_says_cannot_be_said_again_and_strangers_are_named() {
    let home = TempDir::new().unwrap();
    let run = |args: &str| told(home.path(), &args.split_whitespace().collect::<Vec<_>>());
    let yard = "reading --go 0.40 --yard sample-sessions";
    let stranger = run(&format!("{yard} --shear heron --station G9"));
    assert_eq!(stranger.code, 1);
    assert!(stranger.err.contains("No station G9") && stranger.err.contains("G3"));
    for twice in ["--shear heron", "--station G1", "--shear heron --station G1 --max 0.5"] {
        assert_eq!(run(&format!("{yard} {twice}")).code, 2, "{twice}");
    }
    let alone = run("reading --go 0.40 --min 0.2 --max 1.2 --blade-c 40");
    assert_eq!(alone.code, 2, "without a yard nobody knows the steel");
    let cold = run(&format!("{yard} --shear heron --station G1 --blade-c -300"));
    assert_eq!(cold.code, 2);
}
