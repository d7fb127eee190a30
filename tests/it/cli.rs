//! The command line: what is printed where, in which form, and how it exits.

use serde_json::Value;
use std::{
    path::{Path, PathBuf},
    process::{Command, Output},
};
use tempfile::TempDir;

pub(crate) fn sample() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions")
}

/// Runs the real program with a home of its own and no display.
fn gapwright(home: &Path, args: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_gapwright"))
        .args(args)
        .env_clear()
        .env("HOME", home)
        .output()
        .unwrap()
}

/// How a command ended and what it printed.
pub(crate) struct Told {
    pub(crate) code: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs the real program and takes its words apart.
pub(crate) fn told(home: &Path, args: &[&str]) -> Told {
    let output = gapwright(home, args);
    Told {
        code: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}

/// What was printed, as JSON.
pub(crate) fn json(told: &Told) -> Value {
    assert!(!told.out.contains("NaN"), "no number is NaN");
    serde_json::from_str(&told.out).unwrap()
}

#[test]
fn decide_tells_all_five_actions_of_the_sample_yard() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let told = told(home.path(), &["decide", sample.to_str().unwrap(), "--json"]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    let value = json(&told);
    let shears = value["shears"].as_array().unwrap();
    let heron = shears.iter().find(|it| it["shear"] == "heron").unwrap();
    let mut actions: Vec<&str> = heron["lines"]
        .as_array()
        .unwrap()
        .iter()
        .map(|it| it["action"].as_str().unwrap())
        .collect();
    actions.dedup();
    assert_eq!(actions, ["stop", "replace", "rotate", "shim", "leave"], "most severe first");
    for line in shears.iter().flat_map(|it| it["lines"].as_array().unwrap()) {
        assert!(!line["reasons"].as_array().unwrap().is_empty(), "{line}");
        for reason in line["reasons"].as_array().unwrap() {
            assert!(!reason["text"].as_str().unwrap().contains("**"));
            assert!(!reason["source"].as_str().unwrap().is_empty());
        }
        for station in line["stations"].as_array().unwrap() {
            for key in ["station", "go_mm", "no_go_mm", "cold_gap_mm", "u_mm", "hot_gap_mm"] {
                assert!(station.get(key).is_some(), "{key} is missing: {station}");
            }
            let chances = ["p_below", "p_within", "p_above"].map(|key| station[key].as_f64());
            let [Some(below), Some(within), Some(above)] = chances else {
                assert!(station["cold_gap_mm"].is_null(), "only an open end has none: {station}");
                continue;
            };
            assert!((below + within + above - 1.0).abs() < 1e-9, "{station}");
        }
    }
}

/// Every object of the value has these keys, and what is absent is `null`.
#[track_caller]
fn has(value: &Value, keys: &[&str]) {
    for key in keys {
        assert!(value.get(*key).is_some(), "{key} is missing: {value}");
    }
}

/// What scripts rely on, key by key.
#[test]
fn json_keeps_every_key_of_the_contract() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let yard = sample.to_str().unwrap();
    let decided = json(&told(home.path(), &["decide", yard, "--json"]));
    let shears = decided["shears"].as_array().unwrap();
    for shear in shears {
        has(shear, &["shear", "meter_h", "lines"]);
        for line in shear["lines"].as_array().unwrap() {
            has(line, &["line", "action", "headline", "recipe", "reasons", "stations"]);
            has(line, &["hours_to_working_limit"]);
            for entry in line["recipe"].as_array().unwrap() {
                has(entry, &["blade", "bolts", "put_in_mm", "take_out_mm"]);
            }
            for reason in line["reasons"].as_array().unwrap() {
                has(reason, &["text", "value_mm", "limit_mm", "source"]);
            }
            for station in line["stations"].as_array().unwrap() {
                has(station, &["station", "go_mm", "no_go_mm", "cold_gap_mm", "u_mm"]);
                has(station, &["hot_gap_mm", "verdict", "p_within", "after_mm"]);
            }
            if !line["hours_to_working_limit"].is_null() {
                let hours = &line["hours_to_working_limit"];
                has(hours, &["estimate_h", "low_h", "high_h", "confidence"]);
            }
        }
    }
    let trends = json(&told(home.path(), &["trend", yard, "--shear", "heron", "--json"]));
    for trend in trends.as_array().unwrap() {
        has(trend, &["shear", "station", "observations", "model", "rate_mm_per_h"]);
        has(trend, &["rate_se_mm_per_h", "sigma_mm", "log_likelihood", "segments", "hours_to"]);
        has(trend, &["signals", "degenerate", "rate_low_mm_per_h", "rate_high_mm_per_h"]);
        for segment in trend["segments"].as_array().unwrap() {
            has(segment, &["from_h", "to_h", "intercept_mm", "intercept_se_mm", "rate_mm_per_h"]);
        }
        for hours in trend["hours_to"].as_array().unwrap() {
            has(hours, &["limit", "limit_mm", "estimate_h", "low_h", "high_h", "confidence"]);
            has(hours, &["method", "bounded", "passed"]);
        }
    }
}

#[test]
fn wrong_usage_and_wrong_data_exit_apart() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let yard = sample.to_str().unwrap();
    let code = |args: &[&str]| told(home.path(), args).code;
    assert_eq!(code(&["trend", yard]), 2, "no machine named");
    for limit in ["nan", "inf", "wide"] {
        let asked = ["trend", yard, "--shear", "heron", "--limit-mm", limit];
        assert_eq!(code(&asked), 2, "{limit}");
    }
    assert_eq!(code(&["trend", yard, "--shear", "heron", "--confidence", "1"]), 2);
    for (name, value, next) in [
        ("--limit-mm", "-5", "write millimetres, such as 1.25"),
        ("--confidence", "-1", "write a number between 0 and 1, such as 0.80"),
    ] {
        let refused = told(home.path(), &["trend", yard, "--shear", "heron", name, value]);
        assert_eq!(refused.code, 2);
        assert!(refused.err.contains(next), "{}", refused.err);
    }
    let sure = ["trend", yard, "--shear", "heron", "--confidence", "0.999", "--bootstrap", "20"];
    let sure = told(home.path(), &sure).out;
    assert!(sure.contains("99.9\u{a0}% intervals"), "{sure}");
    assert!(sure.contains("drawn again 20 times: none of them ever meets it"), "{sure}");
    assert_eq!(code(&["decide", yard, "--at", "yesterday"]), 2);
    assert_eq!(code(&["trend", yard, "--shear", "nobody"]), 1);
    assert_eq!(code(&["trend", yard, "--shear", "heron", "--station", "X9"]), 1);
    assert_eq!(code(&["decide", "/nowhere"]), 1);
    assert_eq!(code(&["check", "/nowhere"]), 1);
}

/// `gapwright decide | head -1` once ended in a panic.
#[test]
fn a_reader_that_has_seen_enough_is_no_fault() {
    let home = TempDir::new().unwrap();
    let mut child = Command::new(env!("CARGO_BIN_EXE_gapwright"))
        .args(["decide", sample().to_str().unwrap(), "--json"])
        .env_clear()
        .env("HOME", home.path())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
    assert_eq!(output.status.code(), Some(0));
}

#[test]
fn decide_names_a_leaf_set_whose_calibration_is_over() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let args = ["decide", sample.to_str().unwrap(), "--at", "2026-11-24T15:00:00Z"];
    let told = told(home.path(), &args);
    let notice = "The leaf set “Inch, ten leaves” was due for calibration on 20 Oct 2026.";
    assert!(told.out.contains(notice) && !told.out.contains("“Metric"), "{}", told.out);
}

#[test]
fn decide_looks_back_to_the_time_that_was_asked_for() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let meter = |at: &str| {
        let args = ["decide", sample.to_str().unwrap(), "--shear", "heron", "--at", at, "--json"];
        json(&told(home.path(), &args))["shears"][0]["meter_h"].as_f64().unwrap()
    };
    let now = meter("2026-11-25T00:00:00Z");
    let before = meter("2026-11-20T00:00:00Z");
    assert!(before < now, "{before} then {now}");
}

#[test]
fn trend_tells_growth_with_its_interval() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let yard = sample.to_str().unwrap();
    let args =
        ["trend", yard, "--shear", "heron", "--station", "S4", "--limit-mm", "1.4", "--json"];
    let value = json(&told(home.path(), &args));
    let rate = value["rate_mm_per_h"].as_f64().unwrap();
    assert!((0.004..0.007).contains(&rate), "{rate}");
    assert!(value["rate_low_mm_per_h"].as_f64().unwrap() < rate);
    assert!(0.0 < value["rate_se_mm_per_h"].as_f64().unwrap());
    for key in ["sigma_mm", "log_likelihood", "rate_profile_low_mm_per_h", "spread_mm"] {
        assert!(value[key].is_f64(), "{key}: {}", value[key]);
    }
    assert_eq!(value["degenerate"], false);
    assert!(value["signals"].is_array() && value["second_opinion"]["agrees"].is_boolean());
    let chosen = value["models"].as_array().unwrap().iter().filter(|it| it["chosen"] == true);
    assert_eq!(chosen.count(), 1);
    let wider = json(&told(home.path(), &[&args[..], &["--with-reading-u"]].concat()));
    assert!(value["sigma_mm"].as_f64().unwrap() < wider["sigma_mm"].as_f64().unwrap());
    assert_eq!(value["rate_mm_per_h"], wider["rate_mm_per_h"], "a rate is a difference");
    let asked = &value["hours_to"][0];
    assert_eq!((asked["limit"].as_str(), asked["limit_mm"].as_f64()), (Some("asked"), Some(1.4)));
    let all = json(&told(home.path(), &["trend", yard, "--shear", "heron", "--json"]));
    assert_eq!(all.as_array().unwrap().len(), 17, "every station");
}

#[test]
fn trend_counts_growth_against_tonnes_or_cuts_and_names_its_keys_so() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let args = ["trend", sample.to_str().unwrap(), "--shear", "heron", "--station", "S4"];
    let ask = |more: &[&str]| json(&told(home.path(), &[&args[..], more, &["--json"]].concat()));
    let (hours, tonnes) = (ask(&[]), ask(&["--per", "tonnes"]));
    let rate = |value: &Value, key: &str| value[key].as_f64().unwrap();
    let per_hour = rate(&hours, "rate_mm_per_h") / rate(&tonnes, "rate_mm_per_t");
    assert!((4.0..7.0).contains(&per_hour), "{per_hour} tonnes an hour");
    assert_eq!(tonnes["rate_mm_per_h"], Value::Null);
    assert!(tonnes["hours_to"][1].get("estimate_t").is_some(), "{tonnes}");
    let words = told(home.path(), &[&args[..], &["--per", "cuts"]].concat()).out;
    assert!(words.contains("µm/1000"), "{words}");
}

#[test]
fn trend_compares_stations_lines_machines_and_times() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let args = ["trend", sample.to_str().unwrap(), "--shear", "heron", "--compare"];
    let value = json(&told(home.path(), &[&args[..], &["--json"]].concat()));
    let all = value["comparisons"].as_array().unwrap();
    for what in ["stations", "segments", "lines", "shears"] {
        let of = all.iter().filter(|it| it["what"] == what);
        assert!(of.clone().count() > 0, "{what}");
        for it in of {
            let chance = it["p"].as_f64();
            assert_eq!(chance.is_some(), it["answer"] == "tested", "{it}");
            assert!(chance.is_none_or(|p| (0.0..=1.0).contains(&p)), "{it}");
        }
    }
    let lines = all.iter().find(|it| it["what"] == "lines").unwrap();
    assert!(lines["p"].as_f64().unwrap() < 1e-6, "pads wear less than blades: {lines}");
    let pads = all.iter().find(|it| it["what"] == "stations" && it["line"] == "J").unwrap();
    assert!(pads["p"].is_null() && pads["answer"] == "overlap", "nothing scatters there: {pads}");
    let trend =
        ["trend", sample.to_str().unwrap(), "--shear", "heron", "--station", "S4", "--json"];
    let trend = json(&told(home.path(), &trend));
    let blades = all.iter().find(|it| it["what"] == "stations" && it["line"] == "S").unwrap();
    let set = blades["sets"].as_array().unwrap().iter().find(|it| it["set"] == "S4").unwrap();
    for key in ["rate_mm_per_h", "readings"] {
        let grown = if key == "readings" { "rate_readings" } else { key };
        assert_eq!(set[key], trend[grown], "as the growth table has it");
    }
    let words = told(home.path(), &args).out;
    assert!(words.contains("The lines of Heron do not grow alike"), "{words}");
}

#[test]
fn trend_draws_the_readings_again_on_request() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let yard = sample.to_str().unwrap();
    let args =
        ["trend", yard, "--shear", "heron", "--station", "S4", "--bootstrap", "60", "--json"];
    let value = json(&told(home.path(), &args));
    let to = &value["hours_to"][1];
    let drawn = &to["bootstrap"];
    assert_eq!((to["limit"].as_str(), drawn["draws"].as_u64()), (Some("working_max"), Some(60)));
    let (low, high) = (drawn["low_h"].as_f64().unwrap(), drawn["high_h"].as_f64().unwrap());
    assert!(low < to["high_h"].as_f64().unwrap() && to["low_h"].as_f64().unwrap() < high, "{to}");
    assert!((0.0..=1.0).contains(&to["chance_passed_at_next_look"].as_f64().unwrap()));
}

#[test]
fn with_no_yard_and_no_display_a_copy_of_the_sample_is_decided() {
    let home = TempDir::new().unwrap();
    let told = told(home.path(), &[]);
    assert_eq!(told.code, 0);
    assert!(told.err.contains("no display"), "{}", told.err);
    assert!(told.out.contains("Stop") && told.out.contains("Heron"), "{}", told.out);
    let copy = home.path().join(".local/share/gapwright/sample-yard/yard.ron");
    assert!(copy.exists(), "the copy lies in the user's data folder");
    assert!(told.out.contains(copy.parent().unwrap().to_str().unwrap()), "and that is said");
}

#[test]
fn sample_writes_a_yard_that_check_finds_sound() {
    let home = TempDir::new().unwrap();
    let dir = home.path().join("new-yard");
    let dir = dir.to_str().unwrap();
    let args = ["sample", dir, "--shears", "2", "--sessions", "5", "--seed", "9"];
    assert_eq!(told(home.path(), &args).code, 0);
    let check = told(home.path(), &["check", dir]);
    assert_eq!((check.code, check.err.as_str()), (0, ""), "{}", check.out);
    let again = told(home.path(), &args);
    assert_eq!(again.code, 1, "a yard is never written over");
    assert!(again.err.starts_with("gapwright: "), "{}", again.err);
}

#[test]
fn a_broken_file_is_named_and_everything_else_is_decided() {
    let home = TempDir::new().unwrap();
    let dir = home.path().join("yard");
    let args = ["sample", dir.to_str().unwrap(), "--sessions", "4"];
    assert_eq!(told(home.path(), &args).code, 0);
    let sessions = dir.join("shears/heron/sessions");
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(&sessions).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    let broken = files.last().unwrap();
    let text = std::fs::read_to_string(broken).unwrap();
    #[expect(clippy::disallowed_methods, reason = "breaking a file on purpose")]
    std::fs::write(broken, &text[..text.len() / 2]).unwrap();
    let check = told(home.path(), &["check", dir.to_str().unwrap()]);
    assert_eq!(check.code, 1);
    assert!(check.out.contains(broken.to_str().unwrap()), "{}", check.out);
    let decide = told(home.path(), &["decide", dir.to_str().unwrap()]);
    assert_eq!(decide.code, 1, "something is wrong with the data");
    assert!(decide.out.contains("Dunlin") && decide.err.contains(".ron"));
}

#[test]
fn wrong_names_and_wrong_usage_have_a_sentence_and_a_code() {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let yard = sample.to_str().unwrap();
    #[track_caller]
    fn check(home: &Path, args: &[&str], code: i32, says: &str) {
        let told = told(home, args);
        assert_eq!(told.code, code, "{}", told.err);
        assert!(told.err.contains(says), "{}", told.err);
    }
    check(home.path(), &["trend", yard, "--shear", "robin"], 1, "it has dunlin, heron, wren");
    check(home.path(), &["trend", yard, "--shear", "heron", "--station", "Q9"], 1, "no station Q9");
    check(home.path(), &["trend", yard, "--shear", "heron", "--station", "nine"], 1, "no station");
    check(home.path(), &["decide", "/nowhere"], 1, "/nowhere");
    check(home.path(), &["decide", yard, "--at", "yesterday"], 2, "2026-03-14T07:05:00Z");
    check(home.path(), &["decide", "--fly"], 2, "--fly");
    check(home.path(), &["fly"], 1, "fly");
}
