//! One attachment as a whole, and whether its description hangs together.

use crate::domain::{
    machine::{Blade, BladeId, Line, LineId, OwnIntervals, Station, StationId, Thermal},
    quantity::Length,
};
use std::{collections::BTreeSet, fmt};

/// The name of a shear's folder, such as `heron`: lower-case letters, digits and hyphens.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ShearId(String);

impl ShearId {
    /// From a folder name; `None` if it could leave the yard or surprise a file system.
    pub fn new(name: &str) -> Option<Self> {
        let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        let sound = !name.is_empty() && name.len() <= 40 && name.chars().all(fits);
        (sound && !name.starts_with('-')).then(|| Self(name.to_owned()))
    }

    /// The folder name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for ShearId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// The lower jaw as seen from above, for drawing it to scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Geometry {
    /// From the pivot to the outside of the tip.
    pub reach: Length,
    /// Clear width between the two cheeks.
    pub mouth: Length,
    /// Thickness of each cheek.
    pub cheek: Length,
    /// Width of the upper jaw's body behind the tip.
    pub upper_jaw: Length,
    /// Diameter of the pivot pin.
    pub pivot: Length,
    /// Distance of the guide pads from the pivot, the lever arm of side play.
    pub pads: Length,
}

/// A place to hold the jaw in while a group of stations is measured.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JawPosition {
    /// What to do, such as "close until the secondary blades overlap, before the tip enters".
    pub words: String,
}

/// One shear.
#[derive(Clone, Debug, PartialEq)]
pub struct Shear {
    /// Its folder.
    pub id: ShearId,
    /// What people call it.
    pub name: String,
    /// The carrier and place, such as "carrier 07, quay yard".
    pub carrier: String,
    /// The lower jaw to scale.
    pub geometry: Geometry,
    /// Jaw positions in walking order.
    pub positions: Vec<JawPosition>,
    /// Lines in the order they are shown.
    pub lines: Vec<Line>,
    /// Blades.
    pub blades: Vec<Blade>,
    /// The largest step allowed where the primary and the secondary blades meet.
    pub joint_step_max: Length,
    /// How often something is due, where that differs from its yard.
    pub intervals: OwnIntervals,
    /// What the heat model needs, if somebody wrote it down.
    pub thermal: Option<Thermal>,
}

/// Something in a shear's description that does not hang together.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ShearIssue {
    /// No line at all.
    #[error("no line is described, so nothing can be measured")]
    NoLines,
    /// Two lines with one letter.
    #[error("line {0} is described twice")]
    LineTwice(LineId),
    /// A line names a blade that is not there.
    #[error("line {line} names the blade “{blade}”, which is not among the blades")]
    UnknownBlade {
        /// The line.
        line: LineId,
        /// The name.
        blade: BladeId,
    },
    /// A line names a jaw position that is not there.
    #[error("line {0} names a jaw position that is not in the list")]
    UnknownPosition(LineId),
    /// A line without stations.
    #[error("line {0} has no station")]
    NoStations(LineId),
    /// A station with another line's letter, or numbers out of order.
    #[error("station {0} is not in order on its line: number them from 1 at the pivot outward")]
    StationOrder(StationId),
    /// A blade with no or too many edges.
    #[error("blade “{0}” must have 1 to 4 edges")]
    Edges(BladeId),
    /// A blade whose far end is not farther than its near end, or a face angle that cannot be.
    #[error("blade “{0}” has ends or a face angle that cannot be")]
    Shape(BladeId),
    /// A length that must be positive is not.
    #[error("the geometry has a length that is not above zero")]
    Geometry,
}

impl Shear {
    /// The line with this letter.
    pub fn line(&self, id: LineId) -> Option<&Line> {
        self.lines.iter().find(|line| line.id == id)
    }

    /// The blade with this name.
    pub fn blade(&self, id: &BladeId) -> Option<&Blade> {
        self.blades.iter().find(|blade| blade.id == *id)
    }

    /// The station with this name.
    pub fn station(&self, id: StationId) -> Option<&Station> {
        self.line(id.line)?.stations.iter().find(|station| station.id == id)
    }

    /// All stations in walking order: by jaw position, then line as listed, then outward.
    pub fn walk(&self) -> Vec<StationId> {
        let mut lines: Vec<&Line> = self.lines.iter().collect();
        lines.sort_by_key(|line| line.position);
        lines.into_iter().flat_map(|line| line.stations.iter().map(|it| it.id)).collect()
    }

    /// The jaw position in which a station is measured.
    pub fn position_of(&self, station: StationId) -> Option<usize> {
        self.line(station.line).map(|line| line.position)
    }

    /// Everything that does not hang together; empty means the shear can be used.
    pub fn check(&self) -> Vec<ShearIssue> {
        let mut issues = Vec::new();
        if self.lines.is_empty() {
            issues.push(ShearIssue::NoLines);
        }
        let g = &self.geometry;
        let sizes = [g.reach, g.mouth, g.cheek, g.upper_jaw, g.pivot, g.pads];
        if sizes.iter().any(|size| *size <= Length::ZERO) {
            issues.push(ShearIssue::Geometry);
        }
        let mut seen = BTreeSet::new();
        for line in &self.lines {
            if !seen.insert(line.id) {
                issues.push(ShearIssue::LineTwice(line.id));
            }
            for blade in [&line.moving, &line.fixed] {
                if self.blade(blade).is_none() {
                    issues.push(ShearIssue::UnknownBlade { line: line.id, blade: blade.clone() });
                }
            }
            if self.positions.get(line.position).is_none() {
                issues.push(ShearIssue::UnknownPosition(line.id));
            }
            if line.stations.is_empty() {
                issues.push(ShearIssue::NoStations(line.id));
            }
            for (station, number) in line.stations.iter().zip(1_u8..) {
                if station.id != (StationId { line: line.id, number }) {
                    issues.push(ShearIssue::StationOrder(station.id));
                }
            }
        }
        for blade in &self.blades {
            if !(1..=crate::domain::machine::EDGES_MOST).contains(&blade.edges) {
                issues.push(ShearIssue::Edges(blade.id.clone()));
            }
            let angle_fits = (0.0..=60.0).contains(&blade.face_angle_deg);
            if blade.far <= blade.near || blade.depth <= Length::ZERO || !angle_fits {
                issues.push(ShearIssue::Shape(blade.id.clone()));
            }
        }
        issues
    }
}

#[test]
fn folder_names_cannot_leave_the_yard() {
    assert!(ShearId::new("heron-2").is_some());
    for wrong in ["", "..", "a/b", "Heron", "-rf", "a b", "ä"] {
        assert_eq!(ShearId::new(wrong), None, "{wrong:?}");
    }
}
