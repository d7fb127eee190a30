//! Visits as tables: what goes out comes back, and what is wrong is named by its place.

use crate::{
    cli::{sample, told},
    quay::{any_session, full_session, yard},
};
use gapwright::{
    domain::{
        log::{Counters, Session, Work},
        quantity::Hours,
    },
    exchange::visits::{
        Create, Fate, Plan, Table, Tables, marks_table, plan, readings_table, work_table,
    },
    store,
};
use proptest::prelude::*;
use std::{fs, path::Path};
use tempfile::TempDir;

/// What the tables can carry of a session: they know no findings, and no white space at the ends.
fn carried(session: &Session) -> Session {
    let trimmed = |text: &str| text.trim().to_owned();
    let work = session.work.iter().cloned().map(|work| match work {
        Work::Welded { part, place, consumable, cooled_slowly, template_checked } => Work::Welded {
            part,
            place: trimmed(&place),
            consumable: trimmed(&consumable),
            cooled_slowly,
            template_checked,
        },
        other => other,
    });
    let (mut air_temp, mut jaw_temp, mut note) =
        (session.air_temp, session.jaw_temp, trimmed(&session.note));
    let mut counters = session.counters;
    if session.readings.is_empty() {
        (air_temp, jaw_temp, counters) = (None, None, Counters::default());
        if session.marks.is_empty() {
            note.clear();
        }
    }
    Session {
        by: trimmed(&session.by),
        work: work.collect(),
        findings: vec![],
        counters,
        remarks: vec![],
        amends: None,
        air_temp,
        jaw_temp,
        note,
        ..session.clone()
    }
}

fn tables(sessions: Vec<Session>) -> [String; 3] {
    let yard = yard(sessions);
    [readings_table(&yard.machines), work_table(&yard.machines), marks_table(&yard.machines)]
}

fn bytes([readings, work, marks]: &[String; 3]) -> Tables<'_> {
    Tables {
        readings: Some(readings.as_bytes()),
        work: Some(work.as_bytes()),
        marks: Some(marks.as_bytes()),
    }
}

const fn alone(readings: &str) -> Tables<'_> {
    Tables { readings: Some(readings.as_bytes()), work: None, marks: None }
}

fn into_empty(tables: &[String; 3]) -> Plan {
    plan(&yard(vec![]), bytes(tables), Create::Nothing)
}

/// Whether a table has a row of it; a visit with findings alone is in none that is read back.
fn has_rows(session: &Session) -> bool {
    !(session.readings.is_empty() && session.work.is_empty() && session.marks.is_empty())
}

fn sessions(plan: Plan) -> Vec<Session> {
    plan.changes.into_iter().map(|it| it.session).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]
    /// Readings, work and wear marks survive a spreadsheet to the nanometre, with points and with commas.
    #[test]
    fn what_goes_out_comes_back(all in proptest::collection::vec(any_session(), 0..4)) {
        let expected = yard(all.clone()).machines[0].history.sessions.clone();
        let expected: Vec<Session> = expected
            .iter()
            .filter(|it| has_rows(it))
            .map(carried)
            .collect();
        let found = into_empty(&tables(all));
        prop_assert_eq!(&found.issues, &[]);
        prop_assert_eq!(sessions(found), expected);
    }
}

#[test]
fn a_table_imported_twice_changes_nothing() {
    let full = Session { amends: None, ..full_session(7) };
    let all = tables(vec![full.clone()]);
    let there = yard(vec![full]);
    let again = plan(&there, bytes(&all), Create::Nothing);
    assert_eq!((again.issues.len(), again.changes[0].fate), (0, Fate::There));
    // Without the names of visits, machine and time find them; readings alone are enough.
    let cut: String = all[0]
        .lines()
        .map(|row| {
            let cells: Vec<&str> = row.split(',').collect();
            cells[..7].join(",") + "\n"
        })
        .collect();
    let again = plan(&there, alone(&cut), Create::Nothing);
    assert_eq!((again.issues.len(), again.changes[0].fate), (0, Fate::There));
    let other = plan(&there, alone(&cut.replace("0.55", "0.5")), Create::Nothing);
    assert_eq!(
        other.issues[0].issue.to_string(),
        "2: the visit “2026-03-14T0705Z-7f3a” is signed already and reads otherwise; sign a \
         correction in the window, or remove its rows"
    );
}

#[test]
fn formulas_are_text_to_a_spreadsheet() {
    let by = "=cmd|' /C calc'!A0";
    let nasty = Session { by: by.into(), note: "@SUM(1)".into(), amends: None, ..full_session(7) };
    let all = tables(vec![nasty.clone()]);
    for table in &all[..2] {
        assert!(table.contains("'=cmd|"), "{table}");
        for cell in table.split([',', '\n']) {
            let number = cell.parse::<f64>().is_ok();
            let first = cell.trim_start_matches('"');
            assert!(number || !first.starts_with(['=', '+', '-', '@']), "{cell}");
        }
    }
    assert_eq!(sessions(into_empty(&all)), [carried(&nasty)]);
}

const HEADER: &str = "shear,station,taken,meter_h,go_mm,no_go_mm,blade_temp_c\n";
const AT: &str = "2026-03-14T07:05:00Z";

#[test]
fn faults_are_named_by_line_and_column() {
    #[track_caller]
    fn check(rows: &str, expected: &[&str]) {
        let text = format!("{HEADER}{rows}");
        let found = plan(&yard(vec![]), alone(&text), Create::Nothing);
        let said: Vec<String> = found.issues.iter().map(|it| it.issue.to_string()).collect();
        assert_eq!(said, expected);
    }
    check(
        &format!("heron,P1,{AT},4812.5,0.55,0.6,\nheron,P1,{AT},4812.5,0.6,0.55,\n"),
        &["3:6: a stack that goes cannot be thicker than one that does not go; compare with the \
         paper, and write both as felt"],
    );
    check(
        &format!("heron,P1,{AT},4812.5,,,41\nheron,P2,{AT},4812.5,wide,0.6,\n"),
        &[
            "2:5: “go_mm” and “no_go_mm” are both empty, so nothing was measured; write what went and \
         what did not, or remove the row",
            "3:5: “go_mm” is “wide”; write millimetres such as 0.55",
        ],
    );
    check(
        "heron,P1,14.03.2026 07:05,4812.5,0.5,0.6,\n",
        &["2:3: “taken” is “14.03.2026 07:05”; write a time such as 2026-03-14T07:05:00Z"],
    );
    check(
        &format!("heron,P9,{AT},1,0.5,0.6,\ncrane,P1,{AT},1,0.5,0.6,\n../x,P1,{AT},1,1,1,\n"),
        &[
            "2:2: P9 is no station of the machine “heron”; correct it, describe it in shear.ron, or \
         import with --create",
            "3:2: “crane” is no machine of this yard; correct it, describe it in shear.ron, or import \
         with --create",
            "4:1: “shear” is “../x”; write a machine's folder, such as heron",
        ],
    );
    check(
        &format!("heron,P1,{AT},,0.5,0.6,\nheron,P1,{AT},inf,0.5,0.6,\n"),
        &[
            "2:4: “meter_h” is missing; write hours such as 4812.5",
            "3:4: “meter_h” is “inf”; write hours such as 4812.5",
        ],
    );
    check(
        &format!("heron,P1,{AT},1,0.5,0.6,\nheron,P2,{AT},2,0.5,0.6,\n"),
        &[
            "3:4: “meter_h” reads otherwise than in an earlier row of this visit; write the same in \
         both, or give each visit its time",
        ],
    );
    check(
        &format!("heron,P1,{AT},1,0,55,0,6,\n"),
        &["2:8: this row has 9 cells, the header 7; with decimal commas, separate the cells by \
         semicolons"],
    );
    check(
        &format!("heron;P1;{AT};1;0,55;0,6;\nheron,P1,{AT},1,0.5,0.6,\n"),
        &["2: the cells of this row are not separated as those of the header are; separate the \
         cells of both by the same: commas, semicolons or tabs"],
    );
}

#[test]
fn a_header_that_is_no_table_of_readings_says_what_it_must_be() {
    let said = |text: &str| {
        let found = plan(&yard(vec![]), alone(text), Create::Nothing);
        found.issues[0].issue.to_string()
    };
    let next = HEADER.trim_end();
    assert_eq!(
        said("shear,station,taken,meter_h,go_mm,no_go_mm\n"),
        format!("1: the header has no column “blade_temp_c”; start the file with the line {next}")
    );
    assert_eq!(
        said(&format!("note,note,{HEADER}")),
        "1:1: two columns are called “note”; rename one of them"
    );
    assert_eq!(
        said(&HEADER.replace(',', "|")),
        "1: the header is a single cell; separate the cells by commas, semicolons or tabs"
    );
    assert!(said("").contains("this file is empty"));
}

/// A radius in a spreadsheet of its own, without readings: the visit is made of it alone.
#[test]
fn marks_alone_make_a_visit_and_their_faults_are_named() {
    let header = "shear,blade,kind,taken,meter_h,value_mm\n";
    let read = |rows: &str| {
        let text = format!("{header}{rows}");
        let marks = Some(text.as_bytes());
        plan(&yard(vec![]), Tables { marks, ..Tables::default() }, Create::Nothing)
    };
    let found = read(&format!("heron,lower-secondary,Edge radius,{AT},4812.5,\"1,4\"\n"));
    assert_eq!(found.issues, []);
    let [session] = &sessions(found)[..] else { panic!("one visit") };
    assert!(session.readings.is_empty());
    assert_eq!(session.meter, Hours::from_h(4812.5).unwrap());
    let [mark] = &session.marks[..] else { panic!("one mark") };
    assert_eq!((mark.blade.0.as_str(), mark.value.mm()), ("lower-secondary", 1.4));
    let said = |cells: &str| {
        let found = read(&format!("heron,{cells}\n"));
        (found.issues[0].table, found.issues[0].issue.to_string())
    };
    assert_eq!(
        said(&format!("lower-secondary,shine,{AT},4812.5,1.4")),
        (
            Table::Marks,
            "2:3: “kind” is “shine”; write one of edge_radius, thickness, tip_wear".to_owned()
        )
    );
    let (_, nothing) = said(&format!("lower-secondary,thickness,{AT},4812.5,0"));
    assert_eq!(nothing, "2:6: nothing was measured; write millimetres above zero, such as 1.4");
    let (_, nobody) = said(&format!("spare,thickness,{AT},4812.5,40"));
    assert!(nobody.starts_with("2:2: “spare” is no blade of the machine “heron”"), "{nobody}");
}

fn put(path: &Path, text: &str) {
    #[expect(clippy::disallowed_methods, reason = "a table as another program leaves it")]
    fs::write(path, text).unwrap();
}

/// The way of a crew that comes from a spreadsheet: look first, then take, then take again.
#[test]
fn a_spreadsheet_becomes_a_yard() {
    let home = TempDir::new().unwrap();
    let at = |name: &str| home.path().join(name).to_str().unwrap().to_owned();
    let (folder, readings, work) = (at("my-yard"), at("readings.csv"), at("work.csv"));
    put(
        Path::new(&readings),
        "\u{feff}taken;shear;station;meter_h;go_mm;no_go_mm;blade_temp_c\r\n\
         2026-03-14T08:05:00+01:00;crane;P1;100,5;0,55;0,6;\r\n\
         2026-03-14T08:05:00+01:00;crane;P2;100,5;;0,05;41,5\r\n\
         2026-03-15T07:05:00Z;crane;P1;108;0,6;;\r\n",
    );
    put(
        Path::new(&work),
        "shear;line;at;meter_h;kind;put_in_mm;take_out_mm;edge\n\
         crane;P;2026-03-15T07:05:00Z;108;shims;0,5 0,25;;\n",
    );
    let refused = told(home.path(), &["import", &folder, &readings]);
    assert_eq!(refused.code, 1);
    assert!(!Path::new(&folder).exists() && refused.err.contains("there is nothing here"));
    let all = ["import", &folder, &readings, "--work", &work, "--create"];
    let look = told(home.path(), &[&all[..], &["--dry-run"]].concat());
    assert_eq!((look.code, look.err.as_str()), (0, ""));
    assert_eq!(
        look.out,
        "machine crane: new, with wide-open demonstration limits\n\
         machine  visit                      meter h  readings  work  marks  change\n\
         crane    2026-03-14T0705Z-6db2        100.5         2     0      0  new\n\
         crane    2026-03-15T0705Z-290a          108         1     1      0  new\n\
         2 new visits, 0 there already. Nothing was written: this was a dry run.\n"
    );
    assert!(!Path::new(&folder).exists());
    let taken = told(home.path(), &all);
    assert_eq!((taken.code, taken.out.as_str()), (0, "2 new visits, 0 there already.\n"));
    let opened = store::open(Path::new(&folder)).unwrap();
    assert_eq!(opened.issues, []);
    let crane = &opened.yard.machines[0];
    assert_eq!(crane.history.readings.len(), 2);
    assert_eq!(crane.history.cuts.len(), 1, "the shims moved line P");
    let again = told(home.path(), &["import", &readings, "--yard", &folder, "--work", &work]);
    assert_eq!((again.code, again.out.as_str()), (0, "0 new visits, 2 there already.\n"));
    for command in ["decide", "check"] {
        let told = told(home.path(), &[command, &folder]);
        assert_eq!((told.code, told.err.as_str()), (0, ""), "{command}");
    }
    let wrong = readings.replace("readings", "wrong");
    put(Path::new(&wrong), &format!("{HEADER}crane,P1,{AT},101,0.5,0.7,\ncrane,P1,{AT},x,0,1,\n"));
    let refused = told(home.path(), &["import", &folder, &wrong]);
    assert_eq!((refused.code, refused.out.as_str()), (1, "Nothing was imported.\n"));
    assert_eq!(refused.err.lines().count(), 2, "{}", refused.err);
}

#[test]
fn the_sample_yard_goes_out_and_into_an_empty_yard_whole() {
    let home = TempDir::new().unwrap();
    let at = |name: &str| home.path().join(name).to_str().unwrap().to_owned();
    let (to, copy) = (at("out"), at("copy"));
    let from = sample();
    let out = told(home.path(), &["export", from.to_str().unwrap(), "--csv", &to]);
    assert_eq!((out.code, out.err.as_str()), (0, ""));
    let (readings, work) = (format!("{to}/readings.csv"), format!("{to}/work.csv"));
    let taken = told(home.path(), &["import", &copy, &readings, "--work", &work, "--create"]);
    assert_eq!((taken.code, taken.err.as_str()), (0, ""));
    let (before, after) =
        (store::open(&from).unwrap().yard, store::open(Path::new(&copy)).unwrap().yard);
    for (one, other) in before.machines.iter().zip(&after.machines) {
        assert_eq!(one.history.readings.len(), other.history.readings.len());
        let count = |it: &gapwright::domain::yard::Machine| -> usize {
            it.history.readings.values().map(Vec::len).sum()
        };
        assert_eq!(count(one), count(other), "{}", one.shear.id);
        let kept: Vec<_> =
            one.history.sessions.iter().filter(|it| has_rows(it)).map(carried).collect();
        assert_eq!(kept, other.sessions);
    }
    let findings = fs::read_to_string(format!("{to}/findings.csv")).unwrap();
    let seen =
        before.machines.iter().flat_map(|it| &it.history.sessions).map(|it| it.findings.len());
    assert_eq!(findings.lines().count(), 1 + seen.sum::<usize>());
    let streak = "heron,G,G2,";
    assert!(findings.lines().any(|it| it.starts_with(streak) && it.contains(",blue streak,")));
    let file = told(home.path(), &["export", &copy, "--csv", &at("one.csv")]);
    assert_eq!(file.code, 0);
    let text = |path: String| fs::read_to_string(path).unwrap();
    assert!(text(at("one-work.csv")) == text(work), "the copy has other work");
}
