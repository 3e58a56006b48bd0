//! Drawings: their titles, handles, zoom, and how to copy them.

sentences! { "page.drawing":
}
