//! What a session must have before it is signed for good.
//!
//! A signed session is never edited, so a meter that runs backwards or a clock that is wrong is
//! caught here, while it can still be typed again.

use crate::domain::{
    log::{Session, Work},
    quantity::{Hours, NumberError, float},
};
use chrono::{DateTime, Duration, Utc};

/// Why a visit cannot be signed yet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SignFault {
    /// Nothing was measured or seen.
    Empty,
    /// The hour meter was not typed or is no number.
    Meter(NumberError),
    /// The hour meter runs backwards.
    MeterBackwards {
        /// As typed.
        typed: Hours,
        /// In the last session.
        last: Hours,
    },
    /// The hour meter jumps ahead by more than the clock allows.
    MeterLeaps {
        /// As typed.
        typed: Hours,
        /// In the last session.
        last: Hours,
        /// Hours on the clock since then.
        clock_h: i64,
    },
    /// Nobody's initials.
    NoInitials,
    /// The clock stands before the last session: one of the two dates is wrong.
    ClockBehind {
        /// The last session's time.
        last: DateTime<Utc>,
    },
}

/// Whether a session may be signed at `now`, with the hour meter as typed; answers the meter.
///
/// # Errors
///
/// [`SignFault`] if something is missing, or a meter or a clock contradicts the last session.
pub fn may_sign(
    session: &Session,
    meter_text: &str,
    last: Option<&Session>,
    now: DateTime<Utc>,
) -> Result<Hours, SignFault> {
    if session.readings.is_empty() && session.findings.is_empty() && session.work.is_empty() {
        return Err(SignFault::Empty);
    }
    let meter = Hours::parse(meter_text).map_err(SignFault::Meter)?;
    if let Some(last) = last {
        if now < last.taken {
            return Err(SignFault::ClockBehind { last: last.taken });
        }
        let stood_at = last.meter_after();
        if meter < stood_at {
            return Err(SignFault::MeterBackwards { typed: meter, last: stood_at });
        }
        // An hour of grace for clocks and meters that do not agree. Since when a new meter has been
        // counting nobody knows, so its hours are not held against the clock.
        let new_meter = last.work.iter().any(|work| matches!(work, Work::MeterChanged { .. }));
        let clock_h = now.signed_duration_since(last.taken).num_hours() + 1;
        let leaps =
            !new_meter && Hours::from_h(float(clock_h)).is_some_and(|most| most < meter - stood_at);
        if leaps {
            return Err(SignFault::MeterLeaps { typed: meter, last: stood_at, clock_h });
        }
    }
    if now + Duration::minutes(5) < session.taken {
        return Err(SignFault::ClockBehind { last: session.taken });
    }
    if session.by.trim().is_empty() {
        return Err(SignFault::NoInitials);
    }
    Ok(meter)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        log::{Finding, FindingKind, SessionId},
        machine::ShearId,
    };
    use chrono::TimeDelta;

    fn session(hour: i64, meter: i32) -> Session {
        let taken = DateTime::UNIX_EPOCH + TimeDelta::hours(hour);
        let kind = FindingKind::Jam;
        Session {
            id: SessionId::new(taken, 1),
            shear: ShearId::new("heron").unwrap(),
            taken,
            meter: Hours::from_whole(meter),
            by: "MR".into(),
            air_temp: None,
            jaw_temp: None,
            readings: vec![],
            findings: vec![Finding {
                kind,
                line: None,
                station: None,
                size: None,
                note: String::new(),
            }],
            work: vec![],
            note: String::new(),
            amends: None,
        }
    }

    #[test]
    fn a_meter_or_a_clock_that_contradicts_the_last_session_is_caught() {
        let last = session(100, 4_000);
        let next = session(110, 4_000);
        let now = |hour| DateTime::UNIX_EPOCH + TimeDelta::hours(hour);
        let try_meter = |text: &str| may_sign(&next, text, Some(&last), now(110));
        assert_eq!(try_meter("4008"), Ok(Hours::from_whole(4_008)));
        assert_eq!(try_meter("4000"), Ok(Hours::from_whole(4_000)), "standing still is possible");
        assert!(matches!(try_meter("3999"), Err(SignFault::MeterBackwards { .. })));
        assert!(matches!(try_meter("4012"), Err(SignFault::MeterLeaps { clock_h: 11, .. })));
        assert_eq!(try_meter(""), Err(SignFault::Meter(NumberError::Empty)));
        assert!(matches!(try_meter("lots"), Err(SignFault::Meter(NumberError::NotANumber(_)))));
        let early = may_sign(&next, "4008", Some(&last), now(99));
        assert!(matches!(early, Err(SignFault::ClockBehind { .. })));
        let nobody = Session { by: "  ".into(), ..next.clone() };
        assert_eq!(may_sign(&nobody, "4008", Some(&last), now(110)), Err(SignFault::NoInitials));
        let nothing = Session { findings: vec![], ..next };
        assert_eq!(may_sign(&nothing, "4008", None, now(110)), Err(SignFault::Empty));
    }
}
