//! Words on drawings: titles, captions, dimensions and labels.

sentences! { "drawing":
}
