//! Remarks about earlier sessions in format 1.
//!
//! Came into the format before it was first released: a file without them reads as one that says
//! nothing, and so do the counters beside the hour meter.

use crate::{
    domain::log::Remark,
    store::wire::v1::units::{LineName, SessionName, StationName},
};
use serde::{Deserialize, Serialize};

#[derive(Debug, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
pub(crate) enum RemarkFields {
    SetAside { session: SessionName, station: StationName, reason: String },
    CountAgain { session: SessionName, station: StationName },
    Moved { session: SessionName, line: LineName, reason: String },
    NotMoved { session: SessionName, line: LineName },
}

impl From<Remark> for RemarkFields {
    fn from(remark: Remark) -> Self {
        match remark {
            Remark::SetAside { session, station, reason } => Self::SetAside {
                session: SessionName(session),
                station: StationName(station),
                reason,
            },
            Remark::CountAgain { session, station } => {
                Self::CountAgain { session: SessionName(session), station: StationName(station) }
            }
            Remark::Moved { session, line, reason } => {
                Self::Moved { session: SessionName(session), line: LineName(line), reason }
            }
            Remark::NotMoved { session, line } => {
                Self::NotMoved { session: SessionName(session), line: LineName(line) }
            }
        }
    }
}

impl From<RemarkFields> for Remark {
    fn from(fields: RemarkFields) -> Self {
        match fields {
            RemarkFields::SetAside { session, station, reason } => {
                Self::SetAside { session: session.0, station: station.0, reason }
            }
            RemarkFields::CountAgain { session, station } => {
                Self::CountAgain { session: session.0, station: station.0 }
            }
            RemarkFields::Moved { session, line, reason } => {
                Self::Moved { session: session.0, line: line.0, reason }
            }
            RemarkFields::NotMoved { session, line } => {
                Self::NotMoved { session: session.0, line: line.0 }
            }
        }
    }
}
