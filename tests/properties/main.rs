//! What must hold for every design, tried on random ones.
//!
//! Every random number comes out of the one table of inputs ([`crenel::fields::FIELDS`]), so that a
//! new or changed input is tried without a change here. A failure prints its smallest case; make
//! that a plain test beside the code it breaks, then mend the code.

mod depth;
mod designs;
mod driveline;
mod files;
mod gauging;
mod gearsets;
mod indexing;
mod names;
mod nasty;
mod numbers;
mod oracle;
mod readers;
mod release;
mod rework;
mod selector;
mod soak;
mod solids;
mod suggested;
mod verdicts;
mod windows;

use proptest::test_runner::Config;

/// So many random cases, kept nowhere: see above for what becomes of a failure.
fn cases(cases: u32) -> Config {
    Config { cases, failure_persistence: None, max_global_rejects: 20_000, ..Config::default() }
}
