//! The browser's stores of text, and which tabs are open.

pub(crate) mod store;
pub(crate) mod tab_storage;
pub(crate) mod tabs;
