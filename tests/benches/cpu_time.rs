//! Time that this process spent on a processor, for criterion.
//!
//! The clock on the wall also counts what other programs do in between. Knows nothing about what
//! is measured.

use criterion::measurement::{Measurement, ValueFormatter, WallTime};
use rustix::time::{ClockId, clock_gettime};
use std::time::Duration;

/// Written like wall time, read from the clock of the process.
#[derive(Debug)]
pub(crate) struct CpuTime;

fn now() -> Duration {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    // The kernel keeps both parts at zero or above, and the second below a thousand million.
    Duration::new(time.tv_sec.unsigned_abs(), u32::try_from(time.tv_nsec).unwrap_or_default())
}

impl Measurement for CpuTime {
    type Intermediate = Duration;
    type Value = Duration;

    fn start(&self) -> Duration {
        now()
    }

    fn end(&self, start: Duration) -> Duration {
        now().saturating_sub(start)
    }

    fn add(&self, one: &Duration, other: &Duration) -> Duration {
        *one + *other
    }

    fn zero(&self) -> Duration {
        Duration::ZERO
    }

    fn to_f64(&self, value: &Duration) -> f64 {
        WallTime.to_f64(value)
    }

    fn formatter(&self) -> &dyn ValueFormatter {
        WallTime.formatter()
    }
}
