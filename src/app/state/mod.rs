//! The state of the page, and how it survives a reload.

mod app_state;
mod area;
mod boxed;
mod cut_search;
mod figure_spans;
mod kinds;
mod language;
mod layout;
mod outcomes;
pub(crate) mod persistence;
mod photos;
mod playback;
mod sentences;
mod unfinished;

pub(crate) use app_state::{AppState, Start, use_app_state};
pub(crate) use area::{Area, AreaKey, Areas, Content, Home, Panel, Picture};
pub(crate) use boxed::Boxed;
pub(crate) use cut_search::CutSearch;
pub(crate) use kinds::{Dialog, Measured, Newer, Notice, Offer, Printing};
pub(crate) use language::{
    choose_language, here, language, languages, open_language, remove_language, with_language,
};
pub(crate) use layout::{AboveKeypad, Inspected, Part};
pub(crate) use outcomes::{is_whole, watch_outcomes};
pub(crate) use playback::{Player, Reel};
pub(crate) use sentences::advice;
