//! Planning a cut.

sentences! { "page.rework":
    title() = "Plan";
    picture_drawing() = "Drawing";
    picture_solid() = "Solid";

    // ---- the plan ----
    work_on(side: Side) = "Work on ring {side}";
    plan_rules() =
        "Operations run in this order and only remove metal. All results assume that every operation is complete.";
    nothing_planned() =
        "Nothing is planned yet. Select a dog to cut it, or add work here.";
    earlier(side: Side, operation: Nth) = "Earlier: operation {operation} on ring {side}";
    later(side: Side, operation: Nth) = "Later: operation {operation} on ring {side}";
    delete(side: Side, operation: Nth) = "Delete operation {operation} on ring {side}";
    dogs_of(side: Side, operation: Nth) = "Dogs of operation {operation} on ring {side}";
    moved(from: Nth, to: Nth) = "Operation {from} is now number {to}.";
    deleted(operation: Nth) = "Operation {operation} deleted.";
    removes(mass: Grams, volume: Volume) = "Removes {mass} ({volume}).";
    removes_edges() = "Breaks edges only.";
    removes_nothing() = "Removes nothing more.";
    no_dog_left() = "No remaining dog is affected.";
    case_left(off: Length, left: Length) = "At most {off} off the flank; case left {left}.";
    plan_full(most: Number) = "A plan holds at most {most} operations on a ring.";
    added(side: Side) = "Added to the work on ring {side}.";
    add_work_on(side: Side) = "Add work on ring {side}";
    add_work() = "Add this work";
    work() = "Work";
    on() = "Dogs";
    case_and_balance() = "Case and balance";

    // ---- the smallest cut ----
    smallest_cut() = "Smallest cut for a target";
    increase() = "Increase";
    use_needed(target: Value, needed: Value) = "Use {target}: {needed} needed and 10 % more";
    find() = "Find the smallest cut";
    cannot_be_computed() = "The design cannot be computed; the findings say why.";
    target_met() = "Nothing needs cutting: the target is already met.";
    nothing_within() = "No cut stays within these ceilings. Raise one of them.";
    nearest_within() = "No cut reaches the target within these ceilings. These come nearest:";
    nearest() = "No cut reaches the target. These come nearest:";
    least_metal_first() = "Cuts that hold over their tolerances first, and the least metal first.";
    searching() = "Searching for the smallest cut";
    ways_tried(tried: Number, of: Number) = "{tried} of {of} ways of cutting tried";
    cancel_search() = "Cancel the search";
    search_ended() = "Search ended: the design or the target changed.";
    lash_at_most() = "Lash, at most";
    metal_at_most() = "Metal removed, at most";
    no_limit_crossed() = "No limit crossed";
    met_over_tolerance() = "Still meets the target at worst sizes";
    shop_step() = "Smallest step my machine can cut";
    step(step: Value) = "{step}";
    flank_step() = "Feed on a radial flank";
    flank_by_length() = "the same step";
    flank_by_minutes(minutes: Number) = "{minutes}′ on the rotary table";
    flank_by_hole(circle: Number, angle: Value) = "1 hole of {circle} on the dividing head, {angle}";
    offers() = "Offers";
    not_advisable_cuts() = "Cuts that are not advisable";
    not_advisable(cuts: Number) = "Not advisable ({cuts})";
    cut() = "Cut";
    window_time() = "Window time";
    metal_removed() = "Metal";
    lash() = "Lash";
    worst_stress() = "Worst stress";
    gets_worse() = "Gets worse";
    and_more(prices: Number) = "and {prices} more";
    details() = "Details";
    tolerance_holds(grade: Verbatim) =
        "The target is still met if every new size is off by its own tolerance, or by that of ISO 2768-1 {grade} where \
         it has none.";
    no_tolerance() = "No tolerance to spare: a size within its tolerance can still miss the target.";
    add_to_plan() = "Add to the plan";
    added_to_plan() = "Added to the plan.";

    // ---- before and after ----
    found_and_cut() = "As found and as cut";
    plan_to_compare() =
        "Plan some work to see every result as found and as cut, and whether it gets better or worse.";

    // ---- solids ----
    solids() = "Solids";
    solids_hint() =
        "Both rings with sharp corners, on a plain web. Drag or use the arrow keys to turn them; the phase turns ring \
         A.";
    solids_label() = "Both rings as solids; arrow keys turn them";
    not_drawn(side: Side) = "Ring {side} is not drawn.";
    turned(yaw: Count, pitch: Count) = "Turned {yaw}°, tilted {pitch}°.";
    pose_three_quarter() = "Three-quarter view";
    pose_side() = "Side view";
    pose_dogs_a() = "Dogs of A, face on";
    pose_dogs_b() = "Dogs of B, face on";
    separation() = "Separation";
    apart_by(gap: Length) = "{gap} apart";
    web_of_solids() = "Web of the solids (STEP, STL)";

    // ---- choices ----
    which_second() = "every second dog, from the selected one";
    which_all() = "all dogs";
    which_selected() = "the selected dog";
    which_others() = "all but the selected dog";
    goal_window() = "window time";
    goal_lash() = "lash";
}
