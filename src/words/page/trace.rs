//! Fault finding.

sentences! { "page.trace":
    title() = "Trace";
    tour() = "Trace finds the cause of what the rider feels.";
}
