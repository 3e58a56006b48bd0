//! What the page knows, and how it outlives a reload.

mod app_state;
mod kinds;
pub(crate) mod persistence;
mod playback;
mod sentences;
mod unfinished;

pub(crate) use app_state::{AppState, Area, use_app_state};
pub(crate) use kinds::{Dialog, Measured, Newer, Notice, Offer, Tour};
pub(crate) use playback::Player;
pub(crate) use sentences::sentences;
