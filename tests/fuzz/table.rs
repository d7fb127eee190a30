//! Any bytes as a table of readings, of work or of a gauge study: taken or named.
#![no_main]

use gapwright::{
    domain::yard::{Settings, Yard},
    exchange::{
        read_study,
        visits::{Create, plan},
    },
};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let yard = Yard { settings: Settings::usual("Quay".to_owned()), machines: Vec::new() };
    let _ = plan(&yard, Some(bytes), Some(bytes), Create::WhatIsMissing);
    let _ = read_study(bytes);
});
