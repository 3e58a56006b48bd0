//! Names and notes in exported files.

sentences! { "export":
}
