//! Set-up sheets, exports and inspection.

sentences! { "page.papers":
    title() = "Papers";
    tour() = "Papers are for the machinist.";
    // ---- choices ----
    paper_a4() = "A4";
    paper_letter() = "US letter";
}
