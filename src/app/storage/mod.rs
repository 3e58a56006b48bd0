//! The browser's stores of text, the works kept in them, and which tabs are open.

pub(crate) mod room;
pub(crate) mod saved_session;
pub(crate) mod store;
pub(crate) mod tab_storage;
mod tabs;
pub(crate) mod work_key;
