//! Frozen shapes, one folder per format, and the step from each to the domain.
//!
//! The format is read first, and nothing else: a newer file is recognised without understanding
//! it. Then the whole text is read strictly into the shape of its format. Values always go out in
//! the newest format. Does not know paths.
//!
//! A shape never changes once a program that writes it was given away. What changes becomes a shape
//! of the next format, in a folder of its own, and says how a file of the format before becomes one.
//! So a file goes up step by step, and each step is a pure function that is written once.

mod v1;

use crate::{
    domain::{
        decide::CauseTable,
        heat::Lesson,
        log::Session,
        machine::{Shear, ShearId},
        shims::PackProblem,
        yard::Settings,
    },
    store::{
        seal,
        text::{self, Fault},
    },
};
use ron::{Options, extensions::Extensions, ser::PrettyConfig};
use serde::{Deserialize, Serialize, de::DeserializeOwned};
use std::cmp::Ordering;

/// The newest format we know.
pub(crate) const FORMAT: u64 = 1;

/// Why a text gives no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Unread {
    /// A newer program wrote it.
    Newer(u64),
    /// Something in it is wrong.
    Faulty(Fault),
}

/// Reads a session or a draft.
pub(crate) fn session(text: &str) -> Result<Session, Unread> {
    let file: v1::SessionFile = read(text)?;
    file.sum().map_or(Ok(()), |sum| seal::check(text, sum)).map_err(Unread::Faulty)?;
    Ok(Session::from(file))
}

/// Reads the description of the machine in the folder `id`.
pub(crate) fn shear(text: &str, id: ShearId) -> Result<Shear, Unread> {
    read::<v1::ShearFile>(text).map(|file| file.into_shear(id))
}

/// Reads what belongs to the yard as a whole.
pub(crate) fn settings(text: &str) -> Result<Settings, Unread> {
    read::<v1::SettingsFile>(text).map(Settings::from)
}

/// Reads a lesson.
pub(crate) fn lesson(text: &str) -> Result<Lesson, Unread> {
    read::<v1::LessonFile>(text).map(Lesson::from)
}

/// Reads a table of causes.
pub(crate) fn causes(text: &str) -> Result<CauseTable, Unread> {
    read::<v1::CausesFile>(text).map(CauseTable::from)
}

/// Reads a shim problem.
pub(crate) fn problem(text: &str) -> Result<PackProblem, Unread> {
    read::<v1::ProblemFile>(text).map(PackProblem::from)
}

/// A kind of file in the shape of one format.
trait Shape: DeserializeOwned {
    /// Its format.
    const FORMAT: u64;

    /// Reads a text of an older `format`, and brings it up to this one. A shape with one before it
    /// says `read_as::<Before>(text, format).map(Self::from)`; before the first there is none.
    fn from_older(text: &str, format: u64) -> Result<Self, Unread> {
        Err(unknown(text, format))
    }
}

impl Shape for v1::SessionFile {
    const FORMAT: u64 = 1;

    /// From a format that never was, so that the way up is tried before anybody needs it.
    #[cfg(test)]
    fn from_older(text: &str, format: u64) -> Result<Self, Unread> {
        read_as::<tests::SessionOfFormat0>(text, format).map(Self::from)
    }
}

impl Shape for v1::ShearFile {
    const FORMAT: u64 = 1;
}

impl Shape for v1::SettingsFile {
    const FORMAT: u64 = 1;
}

impl Shape for v1::LessonFile {
    const FORMAT: u64 = 1;
}

impl Shape for v1::CausesFile {
    const FORMAT: u64 = 1;
}

impl Shape for v1::ProblemFile {
    const FORMAT: u64 = 1;
}

/// Reads a text of any format up to that of `T`.
fn read<T: Shape>(text: &str) -> Result<T, Unread> {
    read_as(text, format(text)?)
}

fn read_as<T: Shape>(text: &str, format: u64) -> Result<T, Unread> {
    match format.cmp(&T::FORMAT) {
        Ordering::Less => T::from_older(text, format),
        Ordering::Equal => strictly(text),
        Ordering::Greater => Err(unknown(text, format)),
    }
}

/// The text of a signed session, with a sum that shows whether it was changed since.
pub(crate) fn signed_text(session: &Session) -> Result<String, Fault> {
    session_text(session).map(|text| seal::sealed(&text))
}

/// The text of a draft.
pub(crate) fn session_text(session: &Session) -> Result<String, Fault> {
    pretty(&v1::SessionFile::from(session))
}

/// The text of a machine's description.
pub(crate) fn shear_text(shear: &Shear) -> Result<String, Fault> {
    pretty(&v1::ShearFile::from(shear))
}

/// The text of what belongs to the yard as a whole.
pub(crate) fn settings_text(settings: &Settings) -> Result<String, Fault> {
    pretty(&v1::SettingsFile::from(settings))
}

/// A bare value stands for an optional one, so that nobody has to write `Some(…)` by hand.
fn options() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

pub(crate) fn pretty(file: &impl Serialize) -> Result<String, Fault> {
    let layout = PrettyConfig::new().new_line("\n").compact_arrays(true);
    options().to_string_pretty(file, layout).map(|text| text + "\n").map_err(|err| {
        Fault::new(format!("it cannot be written ({err})"), "change it and try again")
    })
}

pub(crate) fn strictly<T: DeserializeOwned>(text: &str) -> Result<T, Unread> {
    options().from_str(text).map_err(|err| Unread::Faulty(text::explain(text, &err)))
}

fn unknown(text: &str, format: u64) -> Unread {
    if FORMAT < format {
        return Unread::Newer(format);
    }
    let what = format!("format {format} never existed");
    let fault = Fault::new(what, format!("write format: {FORMAT} if this program made the file"));
    Unread::Faulty(fault.at(text, "format"))
}

/// Reads the format of a text and nothing else.
pub(crate) fn format(text: &str) -> Result<u64, Unread> {
    #[derive(Deserialize)]
    struct OnlyFormat {
        format: u64,
    }
    // Our own files begin with it; anything more unusual goes through the parser.
    if let Some(format) = leading_format(text) {
        return Ok(format);
    }
    let read: Result<OnlyFormat, _> = options().from_str(text);
    read.map(|it| it.format).map_err(|err| Unread::Faulty(text::explain(text, &err)))
}

fn leading_format(text: &str) -> Option<u64> {
    let rest = text.trim_start().strip_prefix('(')?.trim_start();
    let rest = rest.strip_prefix("format")?.trim_start().strip_prefix(':')?.trim_start();
    let (digits, after) = rest.split_at(rest.find(|c: char| !c.is_ascii_digit())?);
    after.starts_with([',', ')', ' ', '\n', '\r', '\t']).then(|| digits.parse().ok())?
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        domain::{
            gauge::Bracket,
            log::{Counters, Reading, SessionId},
            quantity::{Hours, Length},
        },
        store,
    };
    use chrono::DateTime;
    use std::{fs, path::Path};

    /// A session as it never was: whole hours, and the two leaves in micrometres.
    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    pub(super) struct SessionOfFormat0 {
        #[expect(dead_code, reason = "read before the rest")]
        format: u64,
        name: String,
        shear: String,
        taken: String,
        hours: i32,
        gaps_um: Vec<(String, i32, i32)>,
    }

    impl Shape for SessionOfFormat0 {
        const FORMAT: u64 = 0;
    }

    impl From<SessionOfFormat0> for v1::SessionFile {
        fn from(old: SessionOfFormat0) -> Self {
            let gap = |um: i32| Length::from_um(i64::from(um));
            let readings = old.gaps_um.iter().map(|(station, go, no_go)| Reading {
                station: station.parse().unwrap(),
                bracket: Bracket::new(gap(*go), Some(gap(*no_go))).unwrap(),
                blade_temp: None,
                leaves: None,
            });
            Self::from(&Session {
                id: SessionId::parse(&old.name).unwrap(),
                shear: ShearId::new(&old.shear).unwrap(),
                taken: DateTime::parse_from_rfc3339(&old.taken).unwrap().to_utc(),
                meter: Hours::from_whole(old.hours),
                by: String::new(),
                air_temp: None,
                jaw_temp: None,
                readings: readings.collect(),
                marks: vec![],
                findings: vec![],
                work: vec![],
                counters: Counters::default(),
                remarks: vec![],
                note: String::new(),
                amends: None,
            })
        }
    }

    const OLD: &str = r#"(format: 0, name: "2025-03-14T0705Z-7f3a", shear: "heron",
        taken: "2025-03-14T07:05:00Z", hours: 4000, gaps_um: [("P1", 550, 600)])"#;

    #[test]
    #[expect(clippy::disallowed_methods, reason = "an old program wrote this file")]
    fn an_older_file_opens_as_the_newest_and_stays_as_it_was() {
        let dir = tempfile::tempdir().unwrap();
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/sessions/format-1");
        for name in ["yard.ron", "shears/heron/shear.ron"] {
            fs::create_dir_all(dir.path().join("shears/heron/sessions")).unwrap();
            fs::copy(root.join(name), dir.path().join(name)).unwrap();
        }
        let path = dir.path().join("shears/heron/sessions/2025-03-14T0705Z-7f3a.ron");
        fs::write(&path, OLD).unwrap();
        let opened = store::open(dir.path()).unwrap();
        assert_eq!(opened.issues, []);
        let [old] = opened.yard.machines[0].sessions.as_slice() else { panic!("not there") };
        assert_eq!(old.meter, Hours::from_whole(4_000));
        let [reading] = old.readings.as_slice() else { panic!("no reading") };
        assert_eq!(reading.bracket.go(), Length::from_um(550));
        assert_eq!(fs::read_to_string(&path).unwrap(), OLD, "it was written over");
        // What is written from here on is of the newest format.
        assert!(session_text(old).unwrap().starts_with("(\n    format: 1,"));
        assert_eq!(session(&session_text(old).unwrap()).as_ref(), Ok(old));
    }

    #[test]
    fn a_fault_in_an_older_file_has_a_place_and_a_format_without_a_way_up_is_named() {
        let Err(Unread::Faulty(fault)) = session(&OLD.replace("hours", "ours")) else {
            panic!("a wrong field was read")
        };
        let said = fault.of(Path::new("old.ron")).to_string();
        assert!(said.contains(":2:") && said.contains("“ours” is no field"), "{said}");
        let Err(Unread::Faulty(fault)) = settings("(format: 0, name: \"Quay\")") else {
            panic!("a format that never was is read")
        };
        assert!(fault.of(Path::new("yard.ron")).to_string().contains("format 0 never existed"));
        assert_eq!(session("(format: 2)"), Err(Unread::Newer(2)));
    }
}
