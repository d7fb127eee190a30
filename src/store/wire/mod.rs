//! Frozen shapes, one folder per format, and the step from each to the domain.
//!
//! The format is read first, and nothing else: a newer file is recognised without understanding
//! it. Then the whole text is read strictly into the shape of its format. Values always go out in
//! the newest format. Does not know paths.

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
    match format(text)? {
        1 => {
            let file = strictly::<v1::SessionFile>(text)?;
            file.sum().map_or(Ok(()), |sum| seal::check(text, sum)).map_err(Unread::Faulty)?;
            Ok(Session::from(file))
        }
        other => Err(unknown(text, other)),
    }
}

/// Reads the description of the machine in the folder `id`.
pub(crate) fn shear(text: &str, id: ShearId) -> Result<Shear, Unread> {
    match format(text)? {
        1 => strictly::<v1::ShearFile>(text).map(|file| file.into_shear(id)),
        other => Err(unknown(text, other)),
    }
}

/// Reads what belongs to the yard as a whole.
pub(crate) fn settings(text: &str) -> Result<Settings, Unread> {
    match format(text)? {
        1 => strictly::<v1::SettingsFile>(text).map(Settings::from),
        other => Err(unknown(text, other)),
    }
}

/// Reads a lesson.
pub(crate) fn lesson(text: &str) -> Result<Lesson, Unread> {
    match format(text)? {
        1 => strictly::<v1::LessonFile>(text).map(Lesson::from),
        other => Err(unknown(text, other)),
    }
}

/// Reads a table of causes.
pub(crate) fn causes(text: &str) -> Result<CauseTable, Unread> {
    match format(text)? {
        1 => strictly::<v1::CausesFile>(text).map(CauseTable::from),
        other => Err(unknown(text, other)),
    }
}

/// Reads a shim problem.
pub(crate) fn problem(text: &str) -> Result<PackProblem, Unread> {
    match format(text)? {
        1 => strictly::<v1::ProblemFile>(text).map(PackProblem::from),
        other => Err(unknown(text, other)),
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

fn pretty(file: &impl Serialize) -> Result<String, Fault> {
    let layout = PrettyConfig::new().new_line("\n").compact_arrays(true);
    options().to_string_pretty(file, layout).map(|text| text + "\n").map_err(|err| {
        Fault::new(format!("it cannot be written ({err})"), "change it and try again")
    })
}

fn strictly<T: DeserializeOwned>(text: &str) -> Result<T, Unread> {
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
