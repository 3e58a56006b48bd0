//! Keeps the work in the page's address and in the browser's store, and finds it again.

mod address;
mod autosave;
mod keys;
mod place;
mod start;
mod watch;

pub(crate) use address::{code_link_to, link_here, link_to, link_to_place};
pub(crate) use autosave::keep;
pub(crate) use place::go_to_start;
pub(crate) use start::{Beginning, beginning, forget_earlier, fresh, note_met, sent, start};
pub(crate) use watch::watch;
