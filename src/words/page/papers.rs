//! Set-up sheets, exports and inspection.

sentences! { "page.papers":
    // ---- choices ----
    paper_a4() = "A4";
    paper_letter() = "US letter";
}
