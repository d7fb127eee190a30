//! Any bytes as a table of readings, of work, of wear marks or of a gauge study: taken or named.
#![no_main]

use gapwright::{
    domain::yard::{Settings, Yard},
    exchange::{
        read_study,
        visits::{Create, Tables, plan},
    },
};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let yard = Yard { settings: Settings::usual("Quay".to_owned()), machines: Vec::new() };
    let tables = Tables { readings: Some(bytes), work: Some(bytes), marks: Some(bytes) };
    let _ = plan(&yard, tables, Create::WhatIsMissing);
    let _ = read_study(bytes);
});
