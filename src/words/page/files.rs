//! Opening, saving, sharing, and copying.

sentences! { "page.files":
    share_title() = "Share this design";
}
