//! The two rings and their dogs.

sentences! { "page.rings":
    title() = "Rings";
    // ---- choices ----
    flanks_radial() = "radial";
    flanks_parallel() = "parallel";
    by_dog() = "dog width";
    by_gap() = "gap or slot";
}
