//! Fault finding.

sentences! { "page.trace":
}
