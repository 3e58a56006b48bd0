//! Depth, shims and stack-ups.

sentences! { "page.depth":
    // ---- choices ----
    overlap_pushed() = "pushed by the fork";
    overlap_drawn_in() = "drawn in by the undercut";
    overlap_shimmed() = "with the shim that [centres|centers] it";
    overlap_least_rss() = "shallow, by the RSS tolerance";
    overlap_least() = "shallow, all sizes at their limits";
    overlap_most() = "deep, all sizes at their limits";
}
