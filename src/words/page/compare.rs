//! Comparing layouts.

sentences! { "page.compare":
    // ---- choices ----
    hold_nothing() = "nothing: each as drawn";
    hold_dog_width() = "dog width";
    hold_free_angle() = "free angle";
}
