//! What the page itself says, by part of the page.

pub mod common;
pub mod compare;
pub mod cut;
pub mod depth;
pub mod designs;
pub mod drawing;
pub mod figure;
pub mod files;
pub mod find;
pub mod frame;
pub mod help;
pub mod learn;
pub mod load;
pub mod measured;
pub mod papers;
pub mod photo;
pub mod rest;
pub mod results;
pub mod rework;
pub mod rings;
pub mod selector;
pub mod shift;
pub mod start;
pub mod trace;
pub mod variants;
pub mod whole;
