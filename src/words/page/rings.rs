//! The two rings and their dogs.

sentences! { "page.rings":
    tolerances() = "Tolerances";
    tolerances_how() =
        "Type ±0.1 or +0/−0.12, here for all dogs of a ring or behind a size, as in 24 ±0.1. Of dogs listed one by one \
         it is the uncertainty of measuring.";
    grade() = "General tolerance (ISO 2768-1)";
    grade_fine() = "f (fine)";
    grade_medium() = "m (medium)";
    grade_coarse() = "c (coarse)";
    grade_very_coarse() = "v (very coarse)";
    general_tolerance() = "general";
    title() = "Dogs";
    picture_pair() = "Together";
    picture_face() = "Face";
    picture_developed() = "Developed";
    picture_map() = "Phase map";

    // ---- one ring ----
    slides() = "The dogs of the sliding gear.";
    is_engaged() = "The dogs of the free gear, which the sliding gear engages.";
    start_from() = "Start from";
    unchanged() = "this ring, unchanged";
    copy_ring(side: Side) = "Copy ring {side}";
    flanks_in_plan() = "Flanks in plan view";
    flanks_radial() = "radial";
    flanks_parallel() = "parallel";

    // ---- dogs alike ----
    size_by() = "Sized by";
    by_dog() = "dog width";
    by_gap() = "gap or slot width";
    list_dogs() = "List each dog as measured";
    height_pattern() = "Height pattern";
    height_pattern_how() = "1 is full height. “1 0.5” alternates full and half height; 0 leaves a position empty.";
    height_pattern_wrong() = "Enter fractions of full height from 0 to 1, separated by spaces, at least one above 0.";

    // ---- dogs as measured ----
    dogs_as_measured(side: Side) = "Dogs of ring {side}, as measured";
    add_dog() = "Add dog";
    remove_dog(dog: Nth) = "Remove dog {dog} from the list";

    // ---- position and title block ----
    position() = "Position";
    more_elsewhere(area: Message) = "Speed difference, shift force, friction and gearbox: see {area}.";
    title_block() = "Title block";
    drawn_by() = "Drawn by (initials)";
    notes() = "Notes";
}
