//! Any bytes as a session, a machine's description or `yard.ron`: read or named, and decided.
//!
//! The first byte says which file it is; the rest of the yard is the fixture of format 1.
#![no_main]

use gapwright::{domain::decide::decide, store};
use libfuzzer_sys::fuzz_target;
use std::{fs, path::Path, sync::LazyLock};
use tempfile::TempDir;

const FILES: [&str; 3] =
    ["shears/heron/sessions/2026-03-14T0705Z-7f3a.ron", "shears/heron/shear.ron", "yard.ron"];

static YARD: LazyLock<TempDir> = LazyLock::new(|| tempfile::tempdir().unwrap());

fuzz_target!(|bytes: &[u8]| {
    let Some((which, bytes)) = bytes.split_first() else { return };
    let fixture = Path::new(env!("CARGO_MANIFEST_DIR")).join("../sessions/format-1");
    let root = YARD.path();
    fs::create_dir_all(root.join("shears/heron/sessions")).unwrap();
    for name in FILES {
        fs::copy(fixture.join(name), root.join(name)).unwrap();
    }
    fs::write(root.join(FILES[usize::from(*which) % FILES.len()]), bytes).unwrap();
    let opened = store::open(root).expect("one file took the yard down");
    for machine in &opened.yard.machines {
        decide(machine, &opened.yard.settings);
    }
});
