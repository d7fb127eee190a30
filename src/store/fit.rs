//! Whether what reads well also belongs where it stands.
//!
//! Knows names: of files, machines, stations, blades. Does not know how a file was found.

use crate::{
    domain::{
        log::{Remark, Session, SessionId},
        machine::{BladeId, LineId, Shear, ShearIssue, StationId},
    },
    store::text::Fault,
};
use std::path::Path;

/// What keeps a session that reads well from belonging where it stands, with the name in its text.
pub(crate) fn misfit(path: &Path, session: &Session, shear: &Shear) -> Option<(Fault, String)> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    if SessionId::parse(&stem).as_ref() != Some(&session.id) {
        let what = format!("the session inside is named “{}”, the file is not", session.id);
        let next = "give the file back the name of its session";
        return Some((Fault::new(what, next), session.id.to_string()));
    }
    if session.shear != shear.id {
        let what = format!("this session belongs to the machine “{}”", session.shear);
        let next = format!("move it to shears/{}", session.shear);
        return Some((Fault::new(what, next), session.shear.to_string()));
    }
    let unknown = |what: String, name: String| {
        let next = format!("correct it, or add it to shear.ron of “{}”", shear.id);
        Some((Fault::new(what, next), name))
    };
    if let Some(station) = stations_of(session).find(|it| shear.station(*it).is_none()) {
        return unknown(format!("{station} is no station of this machine"), station.to_string());
    }
    if let Some(line) = lines_of(session).find(|it| shear.line(*it).is_none()) {
        return unknown(format!("{line} is no line of this machine"), line.to_string());
    }
    if let Some(blade) = blades_of(session).find(|it| shear.blade(it).is_none()) {
        return unknown(format!("“{blade}” is no blade of this machine"), blade.to_string());
    }
    None
}

fn stations_of(session: &Session) -> impl Iterator<Item = StationId> {
    let seen = session.findings.iter().filter_map(|finding| {
        finding.line.zip(finding.station).map(|(line, number)| StationId { line, number })
    });
    let said = session.remarks.iter().filter_map(Remark::station);
    session.readings.iter().map(|reading| reading.station).chain(seen).chain(said)
}

fn lines_of(session: &Session) -> impl Iterator<Item = LineId> {
    let said = session.remarks.iter().map(Remark::line);
    session.findings.iter().filter_map(|finding| finding.line).chain(said)
}

fn blades_of(session: &Session) -> impl Iterator<Item = &BladeId> {
    let worked = session.work.iter();
    let worked = worked.flat_map(|work| work.blade().into_iter().chain(work.other_blade()));
    worked.chain(session.marks.iter().map(|mark| &mark.blade))
}

/// The words in the file by which a fault of a machine's description can be found.
pub(crate) fn words_of(fault: &ShearIssue) -> String {
    match fault {
        ShearIssue::NoLines => "lines".to_owned(),
        ShearIssue::Geometry => "geometry".to_owned(),
        ShearIssue::LineTwice(line)
        | ShearIssue::UnknownPosition(line)
        | ShearIssue::NoStations(line) => format!("\"{line}\""),
        ShearIssue::UnknownBlade { blade, .. } => format!("\"{blade}\""),
        ShearIssue::Edges(blade) | ShearIssue::Shape(blade) => format!("id: \"{blade}\""),
        ShearIssue::StationOrder(station) => format!("\"{station}\""),
    }
}

/// Whether a signed session holds everything that a draft of it does.
pub(crate) fn keeps_all_of(signed: &Session, draft: &Session) -> bool {
    draft.readings.iter().all(|it| signed.readings.contains(it))
        && draft.marks.iter().all(|it| signed.marks.contains(it))
        && draft.findings.iter().all(|it| signed.findings.contains(it))
        && draft.work.iter().all(|it| signed.work.contains(it))
        && draft.remarks.iter().all(|it| signed.remarks.contains(it))
}
