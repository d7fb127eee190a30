//! What a session must have before it is signed for good.
//!
//! A signed session is never edited, so a meter that runs backwards or a clock that is wrong is
//! caught here, while it can still be typed again.

use crate::domain::{
    log::{Counted, Session, Work},
    machine::StationId,
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
    /// What was typed for a counter is no whole number.
    Counter {
        /// Which counter.
        counted: Counted,
        /// As typed.
        typed: String,
    },
    /// A counter reads less than when it was last read, and nobody said that it is a new one.
    CounterBackwards {
        /// Which counter.
        counted: Counted,
        /// As typed.
        typed: u64,
        /// When it was last read.
        last: u64,
    },
    /// Something is in hand at a station and not saved.
    Unfinished {
        /// Where.
        station: StationId,
    },
    /// Nobody's initials.
    NoInitials,
    /// The clock stands before the last session: one of the two dates is wrong.
    ClockBehind {
        /// The last session's time.
        last: DateTime<Utc>,
    },
}

/// Which date is believed where the last session is dated after now.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dated {
    /// Neither, so nothing is signed until somebody has looked.
    ByTheClock,
    /// Somebody has looked: this clock is right, and the last session's ran ahead. The session is
    /// dated just after that one, so that the order of the log is the order of the work.
    AfterTheLast,
}

/// Whether a session may be signed at `now`, with the hour meter as typed; answers the meter.
///
/// `log` holds the sessions before it, oldest first. A jam or work is logged at the meter that was
/// last read, so the clock counts from when the meter was first seen to stand there.
///
/// # Errors
///
/// [`SignFault`] if something is missing, or a meter or a clock contradicts the last session.
pub fn may_sign(
    session: &Session,
    meter_text: &str,
    log: &[Session],
    now: DateTime<Utc>,
    dated: Dated,
) -> Result<Hours, SignFault> {
    let by_the_clock = dated == Dated::ByTheClock;
    let measured = !(session.readings.is_empty() && session.marks.is_empty());
    if !measured && session.findings.is_empty() && session.work.is_empty() {
        return Err(SignFault::Empty);
    }
    let meter = Hours::parse(meter_text).map_err(SignFault::Meter)?;
    if let Some(last) = log.last() {
        if by_the_clock && now < last.taken {
            return Err(SignFault::ClockBehind { last: last.taken });
        }
        let stood_at = last.meter_after();
        if meter < stood_at {
            return Err(SignFault::MeterBackwards { typed: meter, last: stood_at });
        }
        // An hour of grace for clocks and meters that do not agree.
        let (since, worked) = last_read(log).unwrap_or((last.taken, Hours::ZERO));
        let clock_h = now.signed_duration_since(since).num_hours() + 1;
        let worked = worked + meter - stood_at;
        // From a date that is still to come no clock has run.
        let leaps = since <= now && Hours::from_h(float(clock_h)).is_some_and(|most| most < worked);
        if leaps {
            return Err(SignFault::MeterLeaps { typed: meter, last: stood_at, clock_h });
        }
    }
    if by_the_clock && now + Duration::minutes(5) < session.taken {
        return Err(SignFault::ClockBehind { last: session.taken });
    }
    if session.by.trim().is_empty() {
        return Err(SignFault::NoInitials);
    }
    Ok(meter)
}

/// What a counter shows, as typed: a whole number, or nothing where nobody read it.
///
/// # Errors
///
/// [`SignFault::Counter`] if it is no whole number that can be kept.
pub fn read_counter(counted: Counted, typed: &str) -> Result<Option<u64>, SignFault> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    // Beyond this no sum of them would be exact.
    const MOST: u64 = 1_000_000_000_000;
    let shows = typed.trim().parse().ok().filter(|shows| *shows <= MOST);
    shows.map(Some).ok_or_else(|| SignFault::Counter { counted, typed: typed.trim().to_owned() })
}

/// When the meter was first seen to stand where it stands at the end of the log, and the hours
/// worked since on a meter that is gone.
fn last_read(log: &[Session]) -> Option<(DateTime<Utc>, Hours)> {
    let (last, before) = log.split_last()?;
    let changed = last.work.iter().find_map(|work| match work {
        Work::MeterChanged { old, .. } => Some(*old),
        _ => None,
    });
    if let (Some(old), Some(previous)) = (changed, before.last()) {
        let (since, worked) = last_read(before)?;
        return Some((since, worked + (old - previous.meter_after()).max(Hours::ZERO)));
    }
    let stood = log.iter().rev().take_while(|it| it.meter_after() == last.meter_after());
    stood.last().map(|session| (session.taken, Hours::ZERO))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::{
        log::{Counters, Finding, FindingKind, SessionId},
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
            counters: Counters::default(),
            marks: vec![],
            remarks: vec![],
            note: String::new(),
            amends: None,
        }
    }

    #[test]
    fn a_meter_or_a_clock_that_contradicts_the_last_session_is_caught() {
        let log = [session(100, 4_000)];
        let next = session(110, 4_000);
        let now = |hour| DateTime::UNIX_EPOCH + TimeDelta::hours(hour);
        let try_meter = |text: &str| may_sign(&next, text, &log, now(110), Dated::ByTheClock);
        assert_eq!(try_meter("4008"), Ok(Hours::from_whole(4_008)));
        assert_eq!(try_meter("4000"), Ok(Hours::from_whole(4_000)), "standing still is possible");
        assert!(matches!(try_meter("3999"), Err(SignFault::MeterBackwards { .. })));
        assert!(matches!(try_meter("4012"), Err(SignFault::MeterLeaps { clock_h: 11, .. })));
        assert_eq!(try_meter(""), Err(SignFault::Meter(NumberError::Empty)));
        assert!(matches!(try_meter("lots"), Err(SignFault::Meter(NumberError::NotANumber(_)))));
        // A jam at noon is logged at the meter of the morning.
        let jam = [session(100, 4_000), session(109, 4_000)];
        assert_eq!(
            may_sign(&next, "4008", &jam, now(110), Dated::ByTheClock),
            Ok(Hours::from_whole(4_008))
        );
        // The old meter ran on to 4 006 before it went at hour 109; the new one began at 12.
        let mut change = session(109, 4_000);
        change.work =
            vec![Work::MeterChanged { old: Hours::from_whole(4_006), new: Hours::from_whole(12) }];
        let log_with_change = [session(100, 4_000), change];
        let on_new =
            |text: &str| may_sign(&next, text, &log_with_change, now(110), Dated::ByTheClock);
        assert_eq!(on_new("15"), Ok(Hours::from_whole(15)));
        assert!(matches!(on_new("19"), Err(SignFault::MeterLeaps { .. })), "13 h in 10");
        let early = may_sign(&next, "4008", &log, now(99), Dated::ByTheClock);
        assert!(matches!(early, Err(SignFault::ClockBehind { .. })));
        // Signed by a tablet a year ahead; this one's clock is right.
        let ahead = [session(100, 4_000), session(8_860, 4_004)];
        let after = |text: &str| may_sign(&next, text, &ahead, now(110), Dated::AfterTheLast);
        assert_eq!(after("4008"), Ok(Hours::from_whole(4_008)));
        assert!(matches!(after("4003"), Err(SignFault::MeterBackwards { .. })));
        let nobody = Session { by: "  ".into(), ..next.clone() };
        assert_eq!(
            may_sign(&nobody, "4008", &log, now(110), Dated::ByTheClock),
            Err(SignFault::NoInitials)
        );
        let nothing = Session { findings: vec![], ..next };
        assert_eq!(
            may_sign(&nothing, "4008", &[], now(110), Dated::ByTheClock),
            Err(SignFault::Empty)
        );
    }
}
