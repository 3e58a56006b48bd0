//! The cut that removes the least metal, dog by dog.
//!
//! A window of a certain width is open where every pair of dogs that reaches into it is out of the way: its
//! tips are lowered until they no longer meet, or its flanks are moved out of the window, by narrowing or by
//! edge breaks. How far each pair reaches into a window is known exactly, and so are the places where a window
//! can begin so that an arc ends where it does; [`window`] lists them. For each place [`walk`] looks for the
//! lightest way to clear all pairs. It works in whole steps of the shop, at the worst of the tolerances.

mod dog;
mod ground;
mod plan;
mod rules;
mod walk;
mod window;

pub(super) use ground::Ground;
pub(super) use plan::DogCuts;
