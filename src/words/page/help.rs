//! Help.

sentences! { "page.help":
}
