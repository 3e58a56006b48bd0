//! The results beside the drawings, and the findings above them.

sentences! { "page.results":
}
