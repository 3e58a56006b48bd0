//! Comparing layouts.

sentences! { "page.compare":
    every_second_lower() = "Every second dog at half height";
    all_tall() = "All dogs at full height";
    only_offered() = "Offered for comparison; not part of the design.";
    keep_layout() = "Keep this layout";
    title() = "Compare";
    compare_layouts() = "Compare layouts";
    side_by_side() = "Layouts side by side";
    same_conditions() =
        "All layouts use the shift conditions of the current design: speed difference, push, friction, overlap and \
         gearbox. Only the rings and the work on them differ.";

    // ---- adding one ----
    add_layout() = "Add a layout";
    full(most: Number) = "At most {most} layouts are added. Remove one to add another.";
    starting_ring() = "Layout to add";
    add_ring() = "Add this layout";
    file() = "File…";
    add_file() = "Add a design file";
    paste_link() = "Paste a link";
    link_to_add() = "Link of a design to add";
    add_link() = "Add from link";
    added(title: Given) = "“{title}” added.";
    added_with(findings: Verbatim) = "Layout added. {findings}";
    file_not_added(why: Verbatim) = "The file was not added. {why}";
    link_not_added(why: Verbatim) = "The link was not added. {why}";

    // ---- the layouts ----
    keep_equal() = "Keep equal";
    kept_at() = "Kept at";
    as_first() = "as layout 1";
    held_range(least: Value, most: Value) = "Possible in every layout: {least} to {most}.";
    no_held_range() = "No value is possible in every layout.";
    variants_shown() = "Variants compared";
    save_table() = "Save table as CSV";
    save_curves() = "Save curves as CSV";
    share() = "Share the comparison";
    print() = "Print";
    face_view_of(title: Given) = "Face view of {title}";
    is_current() = "current design";
    is_current_variant() = "current variant";
    make_current() = "Make current";

    // ---- the results ----
    chances_of_all() = "Chances of all layouts";
    chances_by_speed() = "In at the first pass, by speed difference";
    curves() =
        "Curves of the first-pass chance of every layout against speed difference. The table below gives the results \
         at the speed difference of the current design.";
    table_at(slip: Speed) = "The table is for a speed difference of {slip}.";
    all_results() = "All results";
    best() = "best";
    more_that_differ(count: Number) = "{count, plural, one {# more result that differs} other {# more results that differ}}";
    same_in_all(count: Number) = "{count, plural, one {# result that is} other {# results that are}} the same in every layout";
    all_shift_at(slip: Speed) = "All layouts shift at a speed difference of {slip}.";
    trade() = "Getting in against clunk";
    trade_chart() =
        "Chart of the clunk against the speed difference up to which each layout goes straight in. The table below gives \
         both.";

    guess_first() = "Guess first: how each shift ends is shown once it is played.";
    play_to_see() = "Which goes in first? Play the shift.";

    // ---- a sweep ----
    sweep() = "Sweep a figure";
    swept(figure: Label, along: Label) = "{figure} over {along, lower}";
    swept_for_each(figure: Label, along: Label, each: Label) = "{figure} over {along, lower}, for each {each, lower}";
    swept_over_both(figure: Label, along: Label, up: Label) = "{figure} over {along, lower} and {up, lower}";
    swept_over() = "Over";
    second_input() = "Second input";
    drawn_as() = "Drawn as";
    as_curves() = "a curve for each";
    as_map() = "a map";
    no_second_input() = "no second input";
    swept_from() = "From";
    swept_to() = "To";
    sweep_refining() = "working …";
    save_sweep() = "Save sweep as CSV";
    sweep_as_table() = "Sweep as a table";

    // ---- choices ----
    hold_nothing() = "nothing (each as drawn)";
    hold_dog_width() = "dog width";
    hold_free_angle() = "window width";
}
