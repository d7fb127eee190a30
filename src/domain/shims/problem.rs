//! A shim problem by itself: seats with names, and the shelf they draw on.

use crate::domain::{quantity::Length, shims::Seat, yard::ShelfItem};

/// A seat as people call it.
#[derive(Clone, Debug, PartialEq)]
pub struct NamedSeat {
    /// The blade.
    pub blade: String,
    /// Its first and last bolt; `None` for the full length of a part without numbered bolts.
    pub bolts: Option<(u8, u8)>,
    /// The stations, in the order of the goals.
    pub stations: Vec<String>,
    /// The seat itself.
    pub seat: Seat,
}

/// Seats that draw on one shelf.
#[derive(Clone, Debug, PartialEq)]
pub struct PackProblem {
    /// What lies on the shelf.
    pub shelf: Vec<ShelfItem>,
    /// What needs a pack.
    pub seats: Vec<NamedSeat>,
}

/// Something in a problem that cannot be.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ProblemFault {
    /// Nothing needs a pack.
    #[error("no blade is named; write at least one under blades")]
    NoSeat,
    /// No station in front of a blade.
    #[error("the {0} has no station; write the gaps measured in front of it")]
    NoStation(String),
    /// Limits that contradict each other.
    #[error(
        "{station}: the smallest gap allowed stands above the largest; check set range and hot gap"
    )]
    Limits {
        /// The station.
        station: String,
    },
    /// A target outside the limits.
    #[error("{station}: the target lies outside its limits; leave it out for the middle")]
    Target {
        /// The station.
        station: String,
    },
    /// Bolts that cannot be.
    #[error("the {0} has no bolt from its first to its last; number them from 1 at the pivot")]
    Bolts(String),
    /// A face angle that leaves nothing to close.
    #[error("the {0} has a face angle that cannot be; write degrees from 0 to 60")]
    Angle(String),
}

impl PackProblem {
    /// Everything that cannot be; empty means the problem can be solved or shown to have no answer.
    pub fn check(&self) -> Vec<ProblemFault> {
        let mut faults = Vec::new();
        if self.seats.is_empty() {
            faults.push(ProblemFault::NoSeat);
        }
        for NamedSeat { blade, bolts, stations, seat } in &self.seats {
            if seat.goals.is_empty() {
                faults.push(ProblemFault::NoStation(blade.clone()));
            }
            if bolts.is_some_and(|(first, last)| first < 1 || last < first) {
                faults.push(ProblemFault::Bolts(blade.clone()));
            }
            if !(0.5 - 1e-9 <= seat.closes && seat.closes <= 1.0) {
                faults.push(ProblemFault::Angle(blade.clone()));
            }
            for (station, goal) in stations.iter().zip(&seat.goals) {
                let station = station.clone();
                if goal.max < goal.min || goal.min < Length::ZERO {
                    faults.push(ProblemFault::Limits { station });
                } else if goal.target < goal.min || goal.max < goal.target {
                    faults.push(ProblemFault::Target { station });
                }
            }
        }
        faults
    }
}
