//! How strong a bolt is.

use std::{fmt, str::FromStr};

/// A strength class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grade {
    /// Metric 8.8.
    G8_8,
    /// Metric 10.9.
    G10_9,
    /// Metric 12.9.
    G12_9,
    /// Inch grade 8.
    Sae8,
}

/// Text that names no strength class in the tables.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("“{0}” is no strength class in the tables; write 8.8, 10.9, 12.9, or 8 for an inch bolt")]
pub struct NotAGrade(pub String);

/// 1 psi = 0.006894757293168361 N/mm² (pound-force and inch by definition).
const MPA_PER_KSI: f64 = 6.894_757_293_168_361;

impl Grade {
    /// Whether it is a class of metric bolts.
    pub fn is_metric(self) -> bool {
        self != Self::Sae8
    }

    /// Yield strength Rₚ₀.₂ in N/mm² for a nominal diameter.
    ///
    /// ISO 898-1, table 3, as quoted with the torque tables of VDI 2230; grade 8 yields at 130 ksi
    /// (SAE J429, from memory).
    pub fn yield_mpa(self, d_mm: f64) -> f64 {
        match self {
            Self::G8_8 if d_mm <= 16.0 => 640.0,
            Self::G8_8 => 660.0,
            Self::G10_9 => 940.0,
            Self::G12_9 => 1_100.0,
            Self::Sae8 => 130.0 * MPA_PER_KSI,
        }
    }

    /// Proof stress Sₚ in N/mm² for a nominal diameter (ISO 898-1; SAE J429: 120 ksi).
    pub fn proof_mpa(self, d_mm: f64) -> f64 {
        match self {
            Self::G8_8 if d_mm <= 16.0 => 580.0,
            Self::G8_8 => 600.0,
            Self::G10_9 => 830.0,
            Self::G12_9 => 970.0,
            Self::Sae8 => 120.0 * MPA_PER_KSI,
        }
    }
}

impl FromStr for Grade {
    type Err = NotAGrade;

    fn from_str(text: &str) -> Result<Self, NotAGrade> {
        let typed = text.trim().to_lowercase().replace(',', ".");
        match typed.as_str() {
            "8.8" => Ok(Self::G8_8),
            "10.9" => Ok(Self::G10_9),
            "12.9" => Ok(Self::G12_9),
            "8" | "grade 8" | "gr 8" | "gr. 8" | "sae 8" | "sae grade 8" => Ok(Self::Sae8),
            _ => Err(NotAGrade(text.trim().to_owned())),
        }
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::G8_8 => "8.8",
            Self::G10_9 => "10.9",
            Self::G12_9 => "12.9",
            Self::Sae8 => "grade 8",
        })
    }
}

#[test]
fn a_class_is_read_as_it_is_stamped() {
    assert_eq!(" 10,9 ".parse(), Ok(Grade::G10_9));
    assert_eq!("Grade 8".parse(), Ok(Grade::Sae8));
    assert_eq!("5".parse::<Grade>(), Err(NotAGrade("5".into())));
}
