//! Opening, saving, sharing, and copying.

sentences! { "page.files":
}
