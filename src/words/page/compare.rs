//! Comparing layouts.

sentences! { "page.compare":
    title() = "Compare";
    tour() = "Compare puts layouts side by side.";
    odds_of_all() = "Chances of all layouts";

    // ---- choices ----
    hold_nothing() = "nothing: each as drawn";
    hold_dog_width() = "dog width";
    hold_free_angle() = "free angle";
}
