//! Set-up sheets, inspection, indexing and cutters.

sentences! { "sheet":
}
