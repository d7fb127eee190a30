//! The command `heat`: its CSV and its JSON, and a sentence for what cannot be calculated.

use crate::cli::{sample, told};
use gapwright::{
    domain::{
        machine::{Material, MaterialTable},
        yard::Machine,
    },
    store,
};
use serde_json::Value;
use std::{fs, path::Path, sync::Arc};
use tempfile::TempDir;

fn run(args: &[&str]) -> crate::cli::Told {
    let home = TempDir::new().unwrap();
    let sample = sample();
    let all = [&["heat", sample.to_str().unwrap(), "--shear", "heron"], args].concat();
    told(home.path(), &all)
}

#[test]
fn csv_gives_time_temperatures_gaps_and_colours() {
    let told = run(&["--line", "G", "--cold-gap-mm", "0.25", "--air-c", "20", "--csv"]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    let mut rows = told.out.lines();
    assert_eq!(
        rows.next().unwrap(),
        "time_h,station,moving_c,fixed_c,upper_jaw_c,lower_jaw_c,face_c,colour,hot_gap_mm,\
         side_force_kn,face_low_c,face_high_c,hot_gap_low_mm,hot_gap_high_mm"
    );
    let last: Vec<&str> = rows.last().unwrap().split(',').collect();
    assert_eq!((last[0], last[1], last[7]), ("8", "G3", "blue"));
    let face: f64 = last[6].parse().unwrap();
    assert!((face - 305.0).abs() < 1.0, "{face}");
    let number = |column: usize| -> f64 { last[column].parse().unwrap() };
    assert!(number(10) < face && face < number(11), "low and high lie around it: {last:?}");
    assert!(number(12) < number(8) && number(8) < number(13), "{last:?}");
    let force: f64 = last[9].parse().unwrap();
    let gap: f64 = last[8].parse().unwrap();
    assert!((force - (400.0 - 570.0 * gap)).abs() < 1e-9, "thrust less what flexes the jaw");
}

#[test]
fn json_echoes_every_parameter_and_the_loop() {
    let told = run(&["--line", "g", "--cold-gap-mm", "0.4", "--json"]);
    assert!(!told.out.contains("NaN"));
    let value: Value = serde_json::from_str(&told.out).unwrap();
    assert!((value["beta"].as_f64().unwrap() - 0.41).abs() < 0.005);
    assert_eq!(value["settles"], true);
    assert_eq!(value["parameters"]["side_thrust_n"], 500_000.0);
    assert_eq!(value["parts"].as_array().unwrap().len(), 4);
    assert!(value["parts"][0]["settled_c"].as_f64().unwrap() > 100.0);
    let band = &value["band"];
    assert_eq!(band["draws"], 200);
    assert_eq!(band["stations"][0]["face_high_c"].as_array().unwrap().len(), 81);
    assert_eq!(value["force_along"][0]["station"], "P1");
    let balance = value["heat_made_j"].as_f64().unwrap()
        - value["heat_lost_j"].as_f64().unwrap()
        - value["heat_stored_j"].as_f64().unwrap();
    assert!(balance.abs() <= 1e-9 * value["heat_made_j"].as_f64().unwrap(), "{balance}");
    let whole: Value = serde_json::from_str(&run(&["--json"]).out).unwrap();
    assert_eq!(whole["spread"].as_array().unwrap().len(), 8, "P1 to S4");
    let first = whole["events"].as_array().unwrap().iter().find(|it| it["event"] == "blue");
    assert_eq!(first.unwrap()["station"], "G2");
}

/// The machine's file with one number changed.
fn changed(from: &str, to: &str, args: &[&str]) -> crate::cli::Told {
    changed_after("", from, to, args)
}

/// The same with the first such number after some other text.
fn changed_after(after: &str, from: &str, to: &str, args: &[&str]) -> crate::cli::Told {
    let home = TempDir::new().unwrap();
    let yard = home.path().join("yard");
    copy(&sample(), &yard);
    let file = yard.join("shears/heron/shear.ron");
    let text = fs::read_to_string(&file).unwrap();
    let (head, tail) = text.split_at(text.find(after).unwrap());
    assert!(tail.contains(from), "{from}");
    #[expect(clippy::disallowed_methods, reason = "breaking a file on purpose")]
    fs::write(&file, head.to_owned() + &tail.replacen(from, to, 1)).unwrap();
    told(home.path(), &[&["heat", yard.to_str().unwrap(), "--shear", "heron"], args].concat())
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).unwrap();
    for entry in fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).unwrap();
        }
    }
}

#[test]
fn what_cannot_be_calculated_has_a_sentence() {
    #[track_caller]
    fn check(told: &crate::cli::Told, code: i32, says: &str) {
        assert_eq!(told.code, code, "{}{}", told.out, told.err);
        let said = if code == 0 { &told.out } else { &told.err };
        assert!(said.contains(says), "{said}");
        assert!(!told.out.contains("NaN") && !told.out.contains("inf"), "{}", told.out);
    }
    check(
        &changed("capacity_kj_per_k: 21.6", "capacity_kj_per_k: 0.0", &[]),
        1,
        "no heat capacity",
    );
    check(
        &changed("conductance_w_per_k: 12.0", "conductance_w_per_k: -12.0", &[]),
        1,
        "negative conductance",
    );
    check(&changed("line: \"G\"", "line: \"Q\"", &["--csv"]), 1, "line Q");
    let constant = "Constant(\n                ppm_per_k: 12.0,\n            )";
    let table = |rows: &str| format!("Table((source: \"a sheet\", mean_ppm_per_k: [{rows}]))");
    let good = changed(constant, &table("(93.0, 10.4), (204.0, 11.3)"), &["--json"]);
    check(&good, 0, "a sheet");
    check(&run(&["--air-c", "-60"]), 0, "air −60");
    check(
        &run(&["--air-c", "-61"]),
        1,
        "The air temperature is −61\u{a0}°C, and a shift can be followed from −60 to 60\u{a0}°C; \
         write a number between these.",
    );
    check(&run(&["--cold-gap-mm", "-0.1"]), 0, "Closed already when cold");
    check(&run(&["--cold-gap-mm", "NaN"]), 1, "cannot be");
    check(
        &run(&["--cuts-per-minute", "-3"]),
        1,
        "The number of cuts a minute is −3, and a shift can be followed from 0 to 60",
    );
    check(&run(&["--hours", "49"]), 1, "length of the shift");
    check(&run(&["--break-h", "soon"]), 2, "such as 4-4.5");
    check(&run(&["--break-h", "4.5-4"]), 1, "end of a break, which comes after its start, is 4 h");
    check(&run(&["--working-share", "1.5"]), 1, "share of the time");
    check(&run(&["--hours", "0"]), 0, "0 h 00".replace(' ', "\u{a0}").as_str());
    check(
        &changed("area_mm2: 14000.0", "area_mm2: 0.0", &[]),
        1,
        "The streak's area at P1 is 0 m², and it must be above zero; mend it under “thermal”",
    );
    check(&run(&["--line", "Q"]), 1, "it has P, S, T, F, G, J");
    // Three times as busy: the loop's gain passes 1.
    let busy = run(&["--line", "G", "--cold-gap-mm", "0.1", "--cuts-per-minute", "18"]);
    check(&busy, 0, "It never settles");
    check(&busy, 0, "passes 600\u{a0}°C after");
    // A slot that is long for its tip opens the gap, but late: the lower jaw takes hours to warm.
    let args = ["--line", "G", "--cold-gap-mm", "0.3", "--cuts-per-minute", "24"];
    let slot = ["length_mm: 160.0", "length_mm: 600.0"];
    let late = |args: &[&str]| changed_after("letter: \"G\"", slot[0], slot[1], args);
    check(&late(&args), 0, "swing ever wider");
    let json: Value = serde_json::from_str(&late(&[&args[..], &["--json"]].concat()).out).unwrap();
    assert!(1.0 < json["beta"].as_f64().unwrap(), "{}", json["beta"]);
    assert!(json["steady_gain"].as_f64().unwrap() < 1.0, "a steady gain alone says it settles");
    assert_eq!((&json["swings"], &json["settles"]), (&Value::Bool(true), &Value::Bool(false)));
}

/// A machine's own table of a steel's expansion, on the disk and back, and one out of order.
#[test]
fn a_material_table_is_kept_and_a_wrong_one_is_named_with_its_place() {
    let rows = vec![(93.0, 10.4), (204.0, 11.3)];
    let table = Arc::new(MaterialTable::new("a data sheet".into(), rows).unwrap());
    let mut shear = crate::quay::heron();
    for link in &mut shear.lines[0].chain.0 {
        link.material = Material::Table(Arc::clone(&table));
    }
    let mut yard = crate::quay::yard(vec![]);
    yard.machines = vec![Machine::new(shear.clone(), vec![])];
    let home = TempDir::new().unwrap();
    let root = home.path().join("yard");
    store::create_yard(&root, &yard).unwrap();
    assert_eq!(store::open(&root).unwrap().yard.machines[0].shear, shear);
    let file = root.join("shears/heron/shear.ron");
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains("(93.0, 10.4)"), "{text}");
    #[expect(clippy::disallowed_methods, reason = "breaking a file on purpose")]
    fs::write(&file, text.replacen("(93.0, 10.4)", "(293.0, 10.4)", 1)).unwrap();
    let told = told(home.path(), &["check", root.to_str().unwrap()]);
    assert_eq!(told.code, 1);
    assert!(told.out.contains("row at 204 °C of a material table"), "{}{}", told.out, told.err);
    assert!(told.out.contains("shear.ron:"), "with its line: {}", told.out);
}

#[test]
fn words_tell_low_and_high_and_the_force_along_the_jaw() {
    let told = run(&["--plate-mm", "12", "--break-h", "4-4.5", "--start-c", "5"]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    for says in ["plate 12 mm", "8 times in 10 between", "Force along the jaw", "opens with"] {
        assert!(told.out.contains(says), "{says}: {}", told.out);
    }
}

/// A machine that never cuts does not rub, and nothing is warm before the first cut.
#[test]
fn nothing_rubs_before_the_first_cut_and_in_a_shift_without_one() {
    for args in [&["--break-h", "0-8"][..], &["--hours", "0"], &["--cuts-per-minute", "0"]] {
        let told = run(args);
        assert_eq!(told.code, 0, "{}", told.err);
        assert!(!told.out.to_lowercase().contains("faces rub"), "{args:?}: {}", told.out);
    }
    let csv = run(&["--csv", "--air-c", "7"]).out;
    let mut first = csv.lines().skip(1).take_while(|row| row.starts_with("0,")).peekable();
    assert!(first.peek().is_some());
    for row in first {
        let cells: Vec<&str> = row.split(',').collect();
        assert_eq!((cells[6], cells[9]), ("7", "0"), "as cold as the start: {row}");
    }
    assert!(run(&[]).out.contains("Faces rub from 0\u{a0}h\u{a0}00"));
}

/// 40 mm take 250 N/mm² · 500 mm · 40 mm = 5 000 kN, and the jaw has 2 613 kN at 900 mm: the shift is
/// not followed as if it had been cut.
#[test]
fn a_plate_that_stalls_the_jaw_is_said_and_makes_no_heat() {
    let told = run(&["--plate-mm", "40", "--air-c", "20"]);
    assert_eq!((told.code, told.err.as_str()), (0, ""));
    let plain = told.out.replace('\u{a0}', " ");
    for says in [
        "A plate of 40 mm stalls the jaw at 900 mm from the pivot: it takes 5 000 kN, and 2 613 kN are",
        "It is cut as far out as P3 (410 mm)",
        "The thickest at 900 mm is 20 mm",
        "no cut is completed",
    ] {
        assert!(plain.contains(says), "{says}: {plain}");
    }
    assert!(!plain.contains("Set at least") && !plain.contains("aces rub"), "{plain}");
    let json: Value = serde_json::from_str(&run(&["--plate-mm", "40", "--json"]).out).unwrap();
    assert_eq!(json["parameters"]["stalls"], true);
    assert!(json["stalled"].as_str().unwrap().contains("stalls the jaw"));
    assert_eq!(json["heat_made_j"], 0.0);
    assert_eq!(json["parameters"]["cuts_per_minute"], 6.0, "as it was asked for");
    // The thickest that is cut is told rounded down, so that it is cut.
    let cut: Value = serde_json::from_str(&run(&["--plate-mm", "20", "--json"]).out).unwrap();
    assert_eq!(
        (&cut["parameters"]["stalls"], &cut["stalled"]),
        (&Value::Bool(false), &Value::Null)
    );
    assert!(0.0 < cut["heat_made_j"].as_f64().unwrap());
}

/// Pads cut nothing: text and JSON list the same places along the cutting side.
#[test]
fn stock_is_cut_at_the_same_places_in_words_and_in_json() {
    let json: Value = serde_json::from_str(&run(&["--json"]).out).unwrap();
    let rows = json["force_along"].as_array().unwrap();
    let listed: Vec<&str> = rows.iter().map(|it| it["station"].as_str().unwrap()).collect();
    assert_eq!(listed, ["P1", "P2", "P3", "P4", "S1", "S2", "S3", "S4", "T1", "T2"]);
    let text = run(&[]).out;
    let told = text.lines().filter(|row| row.contains("closes with"));
    let told: Vec<&str> = told.map(|row| row.split_whitespace().next().unwrap()).collect();
    assert_eq!(told, listed);
}
