//! A shift as a table: one row for each station and tenth of an hour.
//!
//! Knows columns. Low and high stand last, so that whoever reads the plain case by place still can.

use crate::{
    brief,
    cli::heat::Asked,
    domain::{
        heat::{AtContact, Contact, Sample, colour_at},
        machine::{LineId, StationId},
    },
};
use std::fmt::Write as _;

/// The table, header first.
pub(super) fn csv(asked: &Asked<'_>) -> String {
    let mut out = String::from(
        "time_h,station,moving_c,fixed_c,upper_jaw_c,lower_jaw_c,face_c,colour,hot_gap_mm,\
         side_force_kn,face_low_c,face_high_c,hot_gap_low_mm,hot_gap_high_mm\n",
    );
    for (time, sample) in asked.shift.samples.iter().enumerate() {
        for row in rows(asked, time, sample) {
            let cell = |value: Option<f64>| value.map_or_else(String::new, |it| it.to_string());
            // Writing to a text cannot fail.
            let _done = writeln!(
                out,
                "{},{},{},{},{},{},{},{},{},{},{},{},{},{}",
                sample.hour,
                row.station,
                cell(row.moving_c),
                cell(row.fixed_c),
                cell(row.upper_jaw_c),
                cell(row.lower_jaw_c),
                row.face_c,
                row.colour,
                row.hot_gap_mm,
                row.side_force_kn,
                cell(row.face_c_between.map(|it| it.0)),
                cell(row.face_c_between.map(|it| it.1)),
                cell(row.gap_mm_between.map(|it| it.0)),
                cell(row.gap_mm_between.map(|it| it.1))
            );
        }
    }
    out
}

struct Row {
    station: StationId,
    moving_c: Option<f64>,
    fixed_c: Option<f64>,
    upper_jaw_c: Option<f64>,
    lower_jaw_c: Option<f64>,
    face_c: f64,
    colour: &'static str,
    hot_gap_mm: f64,
    /// Of the whole line: what presses the part against its neighbour.
    side_force_kn: f64,
    /// Low and high.
    face_c_between: Option<(f64, f64)>,
    gap_mm_between: Option<(f64, f64)>,
}

fn rows(asked: &Asked<'_>, time: usize, sample: &Sample) -> Vec<Row> {
    let (upper_jaw_c, lower_jaw_c) = asked.model.jaws_c(sample);
    let contacts = &asked.model.network.contacts;
    let force = |line: LineId| {
        let here = sample.contacts.iter().filter(|at| at.station.line == line);
        here.map(|at| at.force_n).sum::<f64>() / 1e3
    };
    let part = |place: usize| sample.parts_c.get(place).copied();
    let row = |(place, (at, contact)): (usize, (&AtContact, &Contact))| {
        let between = |of: &[Vec<(f64, f64)>]| of.get(place)?.get(time).copied();
        Row {
            station: at.station,
            moving_c: part(contact.moving),
            fixed_c: part(contact.fixed),
            upper_jaw_c,
            lower_jaw_c,
            face_c: at.face_c,
            colour: colour_at(at.hottest_so_far_c)
                .map_or("none", |it| brief::heat::colour(Some(it))),
            hot_gap_mm: asked.model.hot_gap_mm(sample, place),
            side_force_kn: force(at.station.line),
            face_c_between: between(&asked.band.face_c),
            gap_mm_between: between(&asked.band.gap_mm),
        }
    };
    sample.contacts.iter().zip(contacts).enumerate().map(row).collect()
}
