//! What somebody who reads the log says about it afterwards.
//!
//! A signed session is never edited and a reading never deleted. A remark stands in a later session
//! and names what it is about; the newest one about a thing counts, so that each can be taken back.

use crate::domain::{
    log::{Session, SessionId},
    machine::{LineId, StationId},
};
use std::collections::BTreeMap;

/// One remark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Remark {
    /// A reading does not count for growth. It stays in the log and on the plot.
    SetAside {
        /// The session that holds it.
        session: SessionId,
        /// Its station.
        station: StationId,
        /// Why.
        reason: String,
    },
    /// A reading that was set aside counts again.
    CountAgain {
        /// The session that holds it.
        session: SessionId,
        /// Its station.
        station: StationId,
    },
    /// A line's gaps moved between this session and the one before it, and nobody wrote down why:
    /// growth begins anew here.
    Moved {
        /// The first session behind it.
        session: SessionId,
        /// The line.
        line: LineId,
        /// What is known or supposed.
        reason: String,
    },
    /// They did not, after all.
    NotMoved {
        /// The session named before.
        session: SessionId,
        /// The line.
        line: LineId,
    },
}

impl Remark {
    /// The session it is about. A correction of that session is another one, and counts afresh.
    pub const fn about(&self) -> &SessionId {
        match self {
            Self::SetAside { session, .. }
            | Self::CountAgain { session, .. }
            | Self::Moved { session, .. }
            | Self::NotMoved { session, .. } => session,
        }
    }

    /// The line it is about.
    pub const fn line(&self) -> LineId {
        match self {
            Self::SetAside { station, .. } | Self::CountAgain { station, .. } => station.line,
            Self::Moved { line, .. } | Self::NotMoved { line, .. } => *line,
        }
    }

    /// The station it is about, if it is about one.
    pub const fn station(&self) -> Option<StationId> {
        match self {
            Self::SetAside { station, .. } | Self::CountAgain { station, .. } => Some(*station),
            Self::Moved { .. } | Self::NotMoved { .. } => None,
        }
    }
}

/// The remarks that count, by what they are about.
#[derive(Clone, Debug, Default)]
pub(crate) struct Remarks<'a> {
    aside: BTreeMap<(&'a SessionId, StationId), &'a str>,
    moved: BTreeMap<(&'a SessionId, LineId), &'a str>,
}

impl<'a> Remarks<'a> {
    /// Of sessions in order, the newest remark about each thing.
    pub(crate) fn of(sessions: &'a [Session]) -> Self {
        let mut all = Self::default();
        for remark in sessions.iter().flat_map(|session| &session.remarks) {
            match remark {
                Remark::SetAside { session, station, reason } => {
                    all.aside.insert((session, *station), reason);
                }
                Remark::CountAgain { session, station } => {
                    all.aside.remove(&(session, *station));
                }
                Remark::Moved { session, line, reason } => {
                    all.moved.insert((session, *line), reason);
                }
                Remark::NotMoved { session, line } => {
                    all.moved.remove(&(session, *line));
                }
            }
        }
        all
    }

    /// Why a reading was set aside, if it was.
    pub(crate) fn set_aside(&self, session: &SessionId, station: StationId) -> Option<&'a str> {
        self.aside.get(&(session, station)).copied()
    }

    /// The lines that moved before a session, with what is supposed.
    pub(crate) fn moved(&self, session: &SessionId) -> Vec<(LineId, &'a str)> {
        let lines = self.moved.iter().filter(|((named, _), _)| *named == session);
        lines.map(|((_, line), reason)| (*line, *reason)).collect()
    }
}
