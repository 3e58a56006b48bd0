//! What the page knows, and how it outlives a reload.

pub(crate) mod app_state;
pub(crate) mod persistence;
pub(crate) mod unfinished;
