//! Depth, shims and stack-ups.

sentences! { "page.depth":
    title() = "Depth";
    tour() = "Depth adds up the sizes along the shaft.";
    as_drawn() = "As drawn";
    by_stack_up() = "By the stack-up";
    caption_developed() = "The pair as drawn. Heights are drawn to a larger scale than widths.";

    // ---- choices ----
    overlap_pushed() = "pushed by the fork";
    overlap_drawn_in() = "drawn in by the undercut";
    overlap_shimmed() = "with the shim that [centres|centers] it";
    overlap_least_rss() = "shallow, by the RSS tolerance";
    overlap_least() = "shallow, all sizes at their limits";
    overlap_most() = "deep, all sizes at their limits";
}
