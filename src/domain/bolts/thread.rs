//! Threads: metric coarse and fine (ISO 261), and inch coarse (UNC, ASME B1.1).
//!
//! Knows diameters, pitches, and how wide a head and its hole are. Does not know how strong a bolt
//! is.

use std::{f64::consts::PI, fmt, str::FromStr};

/// 1 in = 25.4 mm exactly.
const MM_PER_INCH: f64 = 25.4;

/// Which series a thread belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pitch {
    /// The usual metric pitch.
    MetricCoarse,
    /// A finer metric pitch.
    MetricFine,
    /// Unified coarse, in threads an inch.
    InchCoarse,
}

/// One thread with the bolt head that usually goes with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thread {
    series: Pitch,
    /// Nominal diameter in mm.
    d_mm: f64,
    /// Pitch in mm.
    p_mm: f64,
    /// Bearing diameter under the head in mm.
    head_mm: f64,
    /// Clearance hole in mm.
    hole_mm: f64,
}

/// Nominal diameter, coarse pitch, fine pitches, bearing diameter, clearance hole; all in mm.
///
/// Pitches are those of ISO 261. Bearing diameters are the smallest of ISO 4014 and holes the
/// medium ones of ISO 273, both from memory; those of M16 to M36 reproduce the published torques
/// for fine threads that the tests quote.
const METRIC: [(f64, f64, &[f64], f64, f64); 16] = [
    (8.0, 1.25, &[1.0], 11.63, 9.0),
    (10.0, 1.5, &[1.25, 1.0], 14.63, 11.0),
    (12.0, 1.75, &[1.5, 1.25], 16.63, 13.5),
    (14.0, 2.0, &[1.5], 19.64, 15.5),
    (16.0, 2.0, &[1.5], 22.49, 17.5),
    (18.0, 2.5, &[2.0, 1.5], 25.34, 20.0),
    (20.0, 2.5, &[2.0, 1.5], 28.19, 22.0),
    (22.0, 2.5, &[2.0, 1.5], 31.71, 24.0),
    (24.0, 3.0, &[2.0, 1.5], 33.61, 26.0),
    (27.0, 3.0, &[2.0, 1.5], 38.0, 30.0),
    (30.0, 3.5, &[2.0, 1.5], 42.75, 33.0),
    (33.0, 3.5, &[2.0, 1.5], 46.55, 36.0),
    (36.0, 4.0, &[3.0, 2.0, 1.5], 51.11, 39.0),
    (39.0, 4.0, &[3.0, 2.0, 1.5], 55.86, 42.0),
    (42.0, 4.5, &[3.0, 2.0, 1.5], 59.95, 45.0),
    (48.0, 5.0, &[3.0, 2.0, 1.5], 69.45, 52.0),
];

/// Nominal size in sixteenths of an inch, as it is written, threads an inch.
const INCH: [(u8, &str, f64); 14] = [
    (4, "1/4", 20.0),
    (5, "5/16", 18.0),
    (6, "3/8", 16.0),
    (7, "7/16", 14.0),
    (8, "1/2", 13.0),
    (9, "9/16", 12.0),
    (10, "5/8", 11.0),
    (12, "3/4", 10.0),
    (14, "7/8", 9.0),
    (16, "1", 8.0),
    (18, "1-1/8", 7.0),
    (20, "1-1/4", 7.0),
    (22, "1-3/8", 6.0),
    (24, "1-1/2", 6.0),
];

/// Text that names no thread in the tables.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "“{0}” is no thread in the tables; write M24, M24x2 or 1-1/4-7, or take the torque from the \
     machine's manual (known: M8 to M48, coarse and fine, and 1/4 to 1-1/2 UNC)"
)]
pub struct NotAThread(pub String);

impl Thread {
    /// The series it belongs to.
    pub const fn series(&self) -> Pitch {
        self.series
    }

    /// Whether it is measured in millimetres.
    pub fn is_metric(&self) -> bool {
        self.series != Pitch::InchCoarse
    }

    /// Nominal diameter, d.
    pub const fn diameter_mm(&self) -> f64 {
        self.d_mm
    }

    /// Pitch, P.
    pub const fn pitch_mm(&self) -> f64 {
        self.p_mm
    }

    /// Pitch diameter of the ISO and the unified profile, d₂ = d − 0.649519·P.
    pub fn pitch_diameter_mm(&self) -> f64 {
        0.649_519_f64.mul_add(-self.p_mm, self.d_mm)
    }

    /// Diameter of the stress cross-section, (d₂ + d₃)/2 with d₃ = d − 1.226869·P.
    pub fn stress_diameter_mm(&self) -> f64 {
        let root = 1.226_869_f64.mul_add(-self.p_mm, self.d_mm);
        f64::midpoint(self.pitch_diameter_mm(), root)
    }

    /// Stress area, Aₛ = π/4·((d₂ + d₃)/2)².
    pub fn stress_area_mm2(&self) -> f64 {
        PI / 4.0 * self.stress_diameter_mm().powi(2)
    }

    /// Stress area as tables print it, from which proof loads are calculated: three figures of a
    /// square millimetre (ISO 898-1), or three decimals of a square inch (SAE J429).
    pub fn printed_area_mm2(&self) -> f64 {
        if self.is_metric() {
            let area = self.stress_area_mm2();
            let step = if area < 100.0 { 0.1 } else { 1.0 };
            return (area / step).round() * step;
        }
        let (d_in, p_in) = (self.d_mm / MM_PER_INCH, self.p_mm / MM_PER_INCH);
        let area_in2 = PI / 4.0 * 0.9743_f64.mul_add(-p_in, d_in).powi(2);
        (area_in2 * 1e3).round() / 1e3 * MM_PER_INCH * MM_PER_INCH
    }

    /// Effective diameter of friction under the head, `D_Km`: halfway between bearing and hole.
    pub const fn head_friction_diameter_mm(&self) -> f64 {
        f64::midpoint(self.head_mm, self.hole_mm)
    }
}

impl FromStr for Thread {
    type Err = NotAThread;

    /// Reads what is stamped on a bolt or written in a file: `M24`, `M24x2`, `M 20 × 1.5`, `1-8`,
    /// `1 1/4-7 UNC`, `3/4"`.
    fn from_str(text: &str) -> Result<Self, NotAThread> {
        let typed: String = text
            .trim()
            .to_lowercase()
            .replace(['×', '*'], "x")
            .replace(',', ".")
            .replace("unc", "");
        let found = match typed.trim().strip_prefix('m') {
            Some(metric) => metric_thread(metric),
            None => inch_thread(&typed),
        };
        found.ok_or_else(|| NotAThread(text.trim().to_owned()))
    }
}

impl fmt::Display for Thread {
    /// As it is stamped: `M24`, `M24×2`, `1-1/4-7 UNC`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.series {
            Pitch::MetricCoarse => write!(f, "M{}", self.d_mm),
            Pitch::MetricFine => write!(f, "M{}×{}", self.d_mm, self.p_mm),
            Pitch::InchCoarse => {
                let is =
                    |sixteenths: u8| same(f64::from(sixteenths) * MM_PER_INCH / 16.0, self.d_mm);
                let name = INCH.iter().find(|it| is(it.0)).map_or("", |it| it.1);
                write!(f, "{name}-{} UNC", (MM_PER_INCH / self.p_mm).round())
            }
        }
    }
}

fn metric_thread(text: &str) -> Option<Thread> {
    let (d, pitch) = match text.split_once('x') {
        Some((d, pitch)) => (d, Some(pitch.trim().parse::<f64>().ok()?)),
        None => (text, None),
    };
    let d: f64 = d.trim().parse().ok()?;
    let (d_mm, coarse, fine, head_mm, hole_mm) = METRIC.into_iter().find(|row| same(row.0, d))?;
    let p_mm = pitch.unwrap_or(coarse);
    let series = if same(p_mm, coarse) {
        Pitch::MetricCoarse
    } else {
        fine.iter().any(|it| same(*it, p_mm)).then_some(Pitch::MetricFine)?
    };
    Some(Thread { series, d_mm, p_mm, head_mm, hole_mm })
}

/// The head of a hexagon bolt is 1½ diameters across its flats (ASME B18.2.1, from memory) and
/// bears on about 95 % of that; the hole is 1/16 in wider than the bolt. Only a torque from
/// friction uses them.
fn inch_thread(text: &str) -> Option<Thread> {
    let bare: String = text.replace(['"', '″'], "").replace("in", "");
    let bare = bare.trim().replace(' ', "-");
    let fits = |row: &&(u8, &str, f64)| bare == row.1 || bare == format!("{}-{}", row.1, row.2);
    let (sixteenths, _, per_inch) = *INCH.iter().find(fits)?;
    let d_mm = f64::from(sixteenths) * MM_PER_INCH / 16.0;
    Some(Thread {
        series: Pitch::InchCoarse,
        d_mm,
        p_mm: MM_PER_INCH / per_inch,
        head_mm: 1.5 * 0.95 * d_mm,
        hole_mm: d_mm + MM_PER_INCH / 16.0,
    })
}

/// Whether two tabulated sizes are one; tables go in steps of 0.01.
fn same(one: f64, other: f64) -> bool {
    (one - other).abs() < 1e-6
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_thread_is_read_as_it_is_stamped() {
        #[track_caller]
        fn check(text: &str, expected: &str) {
            let read = text.parse::<Thread>().map(|thread| thread.to_string());
            assert_eq!(read.as_deref(), Ok(expected), "{text:?}");
        }
        check("M24", "M24");
        check("m24x3", "M24");
        check(" M 20 × 1,5 ", "M20×1.5");
        check("1-8", "1-8 UNC");
        check("1\"", "1-8 UNC");
        check("1 1/4-7 UNC", "1-1/4-7 UNC");
        check("3/4", "3/4-10 UNC");
        for wrong in ["", "M", "M23", "M24x2.5", "24", "1-9", "Mx", "M-24", "MNaN", "G1/2"] {
            assert_eq!(wrong.parse::<Thread>(), Err(NotAThread(wrong.into())), "{wrong:?}");
        }
    }

    /// Aₛ of ISO 898-1 as suppliers print it: M16 157, M20 245, M24 353, M30 561, M36 817,
    /// M39 976 mm². SAE J429: 1-8 0.606 in², 1-1/2-6 1.405 in².
    #[test]
    fn stress_areas_are_those_of_the_tables() {
        let rows = [("M16", 157.0), ("M20", 245.0), ("M22", 303.0), ("M24", 353.0)];
        let more = [("M27", 459.0), ("M30", 561.0), ("M33", 694.0), ("M36", 817.0), ("M39", 976.0)];
        for (size, area) in rows.into_iter().chain(more) {
            let thread: Thread = size.parse().unwrap();
            assert!(same(thread.printed_area_mm2(), area), "{size}");
        }
        for (size, in2) in [("1-8", 0.606), ("1-1/2-6", 1.405)] {
            let thread: Thread = size.parse().unwrap();
            assert!(same(thread.printed_area_mm2() / 645.16, in2), "{size}");
        }
    }
}
