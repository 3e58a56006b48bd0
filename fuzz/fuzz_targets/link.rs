//! The link decoder: any bytes keep what `tests/fuzzed/checks.rs` asks of it.

#![no_main]

#[path = "../../tests/fuzzed/checks.rs"]
mod checks;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| checks::link(bytes));
