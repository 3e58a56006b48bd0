//! Help.

sentences! { "page.help":
    title() = "Help";
}
