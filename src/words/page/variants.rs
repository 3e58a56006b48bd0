//! Variants: plans of work with names.

sentences! { "page.variants":
    title() = "Variants";
    about() =
        "Each variant is a plan of work on the same pair. Sizes, tolerances and conditions are shared; what you cut goes \
         into the current variant.";
    none_yet() = "There is one plan so far. Add a variant to keep it and try another beside it.";
    add() = "Add a variant";
    full(most: Number) = "A design holds at most {most} variants. Remove one first.";
    switch() = "Switch";
    current() = "Current";
    switch_to(name: Given) = "Switch to {name}";
    is_current(name: Given) = "{name} is the current variant";
    name_of(variant: Nth) = "Name of variant {variant}";
    copy() = "Copy";
    copy_this(name: Given) = "Copy {name}";
    remove(name: Given) = "Remove {name}";
    has_own_rings() = "Begins with other rings than the current variant.";
    menu() = "Current variant";

    // ---- what is said ----
    added(name: Given) = "Variant {name} added. It is the current one.";
    removed(name: Given) = "Variant {name} removed. Undo brings it back.";
    switched(name: Given) = "Current variant: {name}.";

    // ---- names of new ones ----
    untitled(variant: Nth) = "Variant {variant}";
    as_found() = "As found";
    as_planned() = "As planned";
    copy_of(name: Given) = "{name}, copy";
    as_measured(side: Side) = "{side} as measured";
    named_as_measured(name: Given, side: Side) = "{name}, {side} as measured";
    planned_is_kept(name: Given, measured: Given) =
        "The plan and the ring that it was made for are kept as variant “{name}”; the current one is “{measured}”.";
}
