//! Load and strength.

sentences! { "page.load":
    title() = "Load";
    tour() = "Load checks the strength of the dogs.";
    // ---- choices ----
    case_throttle() = "throttle open, steady";
    case_largest() = "largest of steady pull, shock and clunk";
    rule_half() = "all dogs if 3 or fewer, otherwise half";
    rule_all() = "all dogs that meet";
    rule_third() = "a third of them: ground by hand";
    rule_spacing() = "by the measured spacing";
}
