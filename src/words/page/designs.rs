//! The list of designs that are kept.

sentences! { "page.designs":
    title() = "Designs";
}
