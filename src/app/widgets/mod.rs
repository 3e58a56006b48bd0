//! Parts that several areas of the page are made of.

pub(crate) mod area_button;
pub(crate) mod change_table;
pub(crate) mod choose;
pub(crate) mod clipboard;
pub(crate) mod cutting;
pub(crate) mod designs;
pub(crate) mod dialog;
pub(crate) mod drawing;
pub(crate) mod estimate;
pub(crate) mod files;
pub(crate) mod findings;
pub(crate) mod focus;
pub(crate) mod header;
pub(crate) mod in_words;
pub(crate) mod link_code;
pub(crate) mod number_field;
pub(crate) mod offline;
pub(crate) mod optional_parts;
pub(crate) mod pair_board;
pub(crate) mod play_bar;
pub(crate) mod pointer;
pub(crate) mod results;
pub(crate) mod scene_marks;
pub(crate) mod share;
pub(crate) mod tour;
pub(crate) mod zoom;
