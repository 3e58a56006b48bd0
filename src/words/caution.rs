//! Cautions, where metal is removed and on every sheet.

sentences! { "caution":
}
