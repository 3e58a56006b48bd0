//! The table of readings.

sentences! { "page.measured":
    title() = "Measured";
    spread_equally() = "equally";
    spread_into_gaps() = "into the gaps";
    spread_by_uncertainty() = "by uncertainty";
    spread_not_at_all() = "not at all";
}
