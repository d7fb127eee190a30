//! A shim problem in format 1. Frozen: what changes becomes a new format.

use crate::{
    domain::{
        machine::PackRules,
        quantity::Length,
        shims::{Goal, NamedSeat, PackProblem, Seat},
        yard::ShelfItem,
    },
    store::wire::v1::{
        settings::ShelfFields,
        units::{Mm, Plain, ThickMm},
    },
};
use serde::Deserialize;

/// A file with one shim problem.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct ProblemFile {
    #[expect(dead_code, reason = "read before the rest")]
    format: u64,
    shelf: Vec<ShelfFields>,
    blades: Vec<SeatFields>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct SeatFields {
    blade: String,
    /// First and last bolt of the pack; several packs behind one blade are several entries.
    #[serde(default)]
    bolts: Option<(u8, u8)>,
    #[serde(default)]
    face_angle_deg: Option<Plain>,
    most_shims: u8,
    thickest_mm: ThickMm,
    /// The most its pack may differ from the one of the entry before, where that names the same
    /// blade.
    #[serde(default)]
    step_mm: Option<ThickMm>,
    #[serde(default)]
    pack_mm: Vec<ThickMm>,
    set_min_mm: Mm,
    set_max_mm: Mm,
    #[serde(default)]
    target_mm: Option<Mm>,
    /// The smallest gap hot, and how far the gap closes until then.
    #[serde(default)]
    hot: Option<HotFields>,
    stations: Vec<StationFields>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct HotFields {
    min_mm: Mm,
    closes_mm: Mm,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct StationFields {
    station: String,
    gap_mm: Mm,
    /// The length of blade it speaks for; stations without it weigh alike.
    #[serde(default)]
    span_mm: Option<ThickMm>,
}

impl From<ProblemFile> for PackProblem {
    fn from(file: ProblemFile) -> Self {
        let mut seats: Vec<NamedSeat> = file.blades.into_iter().map(NamedSeat::from).collect();
        let mut before: Option<String> = None;
        for named in &mut seats {
            if before.as_ref() != Some(&named.blade) {
                named.seat.step = None;
            }
            before = Some(named.blade.clone());
        }
        Self { shelf: file.shelf.into_iter().map(ShelfItem::from).collect(), seats }
    }
}

impl From<SeatFields> for NamedSeat {
    fn from(fields: SeatFields) -> Self {
        let least_hot = fields.hot.map(|hot| hot.min_mm.0 + hot.closes_mm.0);
        let min = least_hot.map_or(fields.set_min_mm.0, |hot| hot.max(fields.set_min_mm.0));
        let max = fields.set_max_mm.0;
        let goal = |station: &StationFields| {
            let usual = Goal::within(station.gap_mm.0, min, max);
            Goal {
                target: fields.target_mm.map_or(usual.target, |it| it.0),
                span: station.span_mm.map_or(usual.span, |it| it.0),
                ..usual
            }
        };
        let angle_deg = fields.face_angle_deg.map_or(0.0, |it| it.0);
        let step = fields.step_mm.map(|it| it.0);
        let seat = Seat {
            goals: fields.stations.iter().map(goal).collect(),
            closes: angle_deg.to_radians().cos(),
            pack: fields.pack_mm.iter().map(|it| it.0).collect::<Vec<Length>>(),
            rules: PackRules {
                most_shims: fields.most_shims,
                thickest: fields.thickest_mm.0,
                step,
            },
            step,
        };
        Self {
            blade: fields.blade,
            bolts: fields.bolts,
            stations: fields.stations.into_iter().map(|it| it.station).collect(),
            seat,
        }
    }
}
