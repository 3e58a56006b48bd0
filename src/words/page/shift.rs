//! The shift: gears, push, faces, film and charts.

sentences! { "page.shift":
    title() = "Shift";
    picture_film() = "Film";
    picture_shifts() = "All shifts";

    // ---- the shift ----
    conditions() = "Shift conditions";
    conditions_from() = "Conditions from";
    not_computed() = "This shift cannot be computed; the findings say why.";
    from_gear_to_gear(from: Nth, to: Nth, engine: Speed) = "Gear {from} to {to} at {engine} engine speed.";
    of_gearbox(shift: Message, faster: Message, slip: Speed, inertia: ShaftInertia, throttle: Torque, ratio: Ratio) =
        "{shift} {faster} Speed difference {slip}, reflected inertia {inertia}, torque as the throttle opens \
         {throttle}, ratio to the wheel {ratio}.";
    faster_side(flank: Flank) =
        "{flank, select, drive {The input side is faster: drive flank meets drive flank.} other {The output side is \
         faster: coast flank meets coast flank.}}";

    // ---- push, faces and edges ----
    push() = "Push";
    pushed_by() = "Pushed by";
    faces() = "Tips and edges";
    tip_faces() = "Tip faces";
    tip_edges() = "Tip edges";
    every_edge() = "Applies to every dog of both rings. Set single dogs under Dogs.";

    // ---- the gearbox ----
    gearbox() = "Gearbox";
    gearbox_why() =
        "With tooth counts and shift speeds, each shift has its own speed difference, and lash is shown at the wheel \
         in every gear.";
    gearbox_example() = "It starts with five invented gears. Replace them with your own.";
    enter_gearbox() = "Enter gearbox data";
    remove_gearbox() = "Remove gearbox";
    gears() = "Gears";
    add_gear() = "Add a gear";
    remove_gear(gear: Nth) = "Remove gear {gear}";
    free_gear_on() = "Free gear on";
    free_gear_of(gear: Nth) = "Gear {gear}: shaft of the free gear";
    shaft_input() = "input";
    shaft_output() = "output";
    clutch() = "Clutch";

    // ---- every shift ----
    every_shift() = "Every shift with these dogs";
    table_of_shifts() = "Table of shifts";
    shift() = "Shift";
    speed_difference() = "Speed difference";
    contact() = "Contact";
    window_time() = "Window time";
    straight_in_limit() = "Straight-in limit";
    first_pass() = "In at the first pass";
    shock() = "Shock torque at full speed difference";
    limit_brief() = "Limit";
    first_pass_brief() = "First pass";
    window_brief() = "Window";
    shock_brief() = "Shock";
    show() = "Show";
    shown() = "Shown";
    show_shift(from: Nth, to: Nth) = "Show shift {from}→{to}";
    shown_shift(from: Nth, to: Nth) = "Shown: shift {from}→{to}";
    contact_on(flank: Flank) = "{flank, select, drive {drive flank} other {coast flank}}";
    limit_exceeded(over: Value) = "{over} over";
    below(limit: Value) = "below {limit}";
    input_faster(slip: Value) = "{slip}, input faster";
    input_slower(slip: Value) = "{slip}, input slower";
    filmed_shift() = "Shift that is filmed";
    pick(from: Nth, to: Nth, slip: Value, chance: Value) = "{from}→{to}: {slip} apart, {chance} in at the first pass";
    pick_without_chance(from: Nth, to: Nth, slip: Value) = "{from}→{to}: {slip} apart";
    if_other_gears() = "What if other gears had these dogs";

    // ---- lash in every gear ----
    same_lash(wheel: Value, road: Value) = "Lash in every gear: {wheel} at the wheel, {road} at the [tyre|tire].";
    lash_in_gears() = "Lash in every gear";
    ratio() = "Ratio";
    lash_at_wheel() = "Lash at the wheel";
    lash_at_tyre() = "Lash at the [tyre|tire]";

    // ---- chances ----
    chances() = "Chances";
    chances_as_table() = "Chances as a table";
    table_of_chances() = "Table of chances";
    counted_over(phases: Number) =
        "Share of all starting phases at each speed difference. The first pass is exact. With undercut flanks or \
         broken edges, the outcome after a throw-back is counted over {phases} phases. For every row, export the \
         chances.";

    // ---- choices ----
    clutch_pulled() = "disengaged (lever pulled)";
    clutch_gripping() = "engaged (lever released)";
    source_typed() = "typed here";
    source_up() = "gearbox upshift";
    source_down() = "gearbox downshift";
    drive_both() = "force, up to drum speed";
    drive_force() = "force";
    drive_drum() = "drum speed";
}
