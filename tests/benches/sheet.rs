//! The job sheet by the clock, from decisions to bytes. Refuses to pass above its limit.
#![expect(clippy::unwrap_used, reason = "a sheet that failed must stop the clock")]
#![expect(clippy::print_stdout, reason = "a bench tells its worst run")]

#[path = "cpu_time.rs"]
mod cpu_time;

use cpu_time::CpuTime;
use criterion::measurement::Measurement as _;
use gapwright::{
    brief::{Numbers, sheet},
    domain::decide::decide,
    report::{Paper, pdf},
    store,
};
use std::{hint::black_box, path::Path, time::Duration};

const LIMIT: Duration = Duration::from_millis(150);

fn main() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-sessions");
    let yard = store::open(&folder).unwrap().yard;
    let mut worst = Duration::ZERO;
    for machine in yard.machines.iter().cycle().take(30) {
        let start = CpuTime.start();
        let decision = decide(machine, &yard.settings);
        let told = sheet::tell(machine, &decision, &yard.settings, Numbers::default(), "bench");
        black_box(pdf(&told, Paper::A4).unwrap());
        worst = worst.max(CpuTime.end(start));
    }
    println!("job sheet of a machine, decided and written: worst of 30 {worst:?}");
    assert!(worst <= LIMIT, "the sheet took longer than {LIMIT:?}");
}
