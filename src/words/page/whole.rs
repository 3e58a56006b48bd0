//! The whole gearbox: its gears, all shifts, what is wrong with it, and the drum.

sentences! { "page.whole":
    title() = "Box";
    gears() = "Gears of the gearbox";
    gear(gear: Nth) = "Gear {gear}";
    gear_stands(gear: Nth, past: Number) =
        "Gear {gear}{past, plural, =0 {, nothing past a limit} one {, # past a limit} other {, # past a limit}}";
    gear_opened(gear: Nth) = "Gear {gear} is open.";
    all_gears() = "The whole gearbox";
    working_out() = "Working out every gear …";

    // ---- from a pair to a box ----
    make_box() = "Make this a whole gearbox";
    make_box_why() =
        "A gearbox has a set of dogs for each gear, a track for each fork, and one drum. It begins with your pair in \
         every gear and invented shafts, forks and drum: then measure gear by gear.";
    layout(gears: Number) = "{gears} gears";
    box_made(gears: Number) =
        "A gearbox of {gears} gears, your pair in each. Your pair alone is kept; Undo returns to it.";

    // ---- parts ----
    forks() = "Forks";
    fork_of_gears(fork: Nth, gears: Verbatim) = "Fork {fork}, gears {gears}";
    shafts() = "Shafts and shims";
    input_shaft() = "Input shaft";
    output_shaft() = "Output shaft";
    clearance_why() = "Clearance of each gear in neutral, where its stack-up under Depth is not known.";
    notches() = "Drum notches";
    neutral() = "Neutral";

    // ---- what was read, and what to do ----
    readings() = "Readings";
    readings_why() = "Enter what you have measured; leave the rest empty. Two or three readings of a gear tell most.";
    cure() = "Fault and cure";
    at_fault() = "Part at fault";
    nothing_read() = "Nothing has been read on a gear or a fork yet.";
    enter_readings() = "Enter readings";
    how_probable(share: Value) = "at fault with a probability of {share}";
    shims() = "Shims that bring it back";
    cuts_first() = "Where to cut first";
    cuts_first_why() =
        "The smallest cut that lets each gear go straight in, those first that gain most for each gram. Each is worked out \
         for its own dogs.";
    find_cuts() = "Work out the cuts";
    gears_left(gears: Number) = "{gears, plural, one {# gear} other {# gears}} to go …";
    no_cuts() = "No cut of one pair gains anything.";

    // ---- worst ----
    verdict() = "Verdict on the gearbox";
    show_gear(gear: Nth) = "Open gear {gear}";
    show_part(part: Message) = "Show {part, lower}";

    // ---- all shifts ----
    shifts() = "All shifts";
    table_of_shifts() = "Table of all shifts, the worst first";
    in_the_end() = "In at the end";
    depth_left() = "Depth left";
    lash_at_tyre() = "Lash at the [tyre|tire]";
    reason() = "What is worst";
    no_shifts() = "No shift can be worked out: see what is wrong below.";
    open_shift(from: Nth, to: Nth) = "Open shift {from}→{to}";

    // ---- findings ----
    findings() = "What is wrong with the gearbox";
    nothing_wrong() = "Forks, drum and dogs: nothing is past a limit.";
    never_two() = "Two gears at once: never, with all play.";

    // ---- drum ----
    drum() = "Drum";
    drum_drawing() = "Drum development";
    drum_caption() =
        "A line for each fork, with its play as a band; dashed: the track of a bent fork. Below, a bar for each gear: \
         pale where the dogs meet, green where they hold, thin where play alone can bring them together; crossed where \
         two gears can be in at once. Numbers on top: positions of the detent.";
    drum_angle() = "Drum angle";
    at_angle(angle: Angle, gears: List) = "{angle}: {gears, list, each {; }}";
    none_in(angle: Angle) = "{angle}: no gear touches.";
    holds(gear: Nth, deep: Value) = "gear {gear} holds, {deep} deep";
    meets(gear: Nth, deep: Value) = "gear {gear} touches, {deep} deep, and does not hold";
    save_drum() = "Save drawing (SVG)";
    move_points() = "Move track points";
    track_points(points: Number) = "Track, {points, plural, one {# point} other {# points}}";
    runs_back(point: Nth) =
        "Track runs back: the drum reaches point {point} no later than the one before. Enter the points by rising angle.";
    stroke_up() = "Stroke up";
    stroke_down() = "Stroke down";
    section() = "Section along the shafts";
    section_caption() =
        "At the drum angle of the cursor; in its notch a gear is drawn home, as under torque. Outer half of each shaft \
         cut, inner half from outside. Pale: dogs that touch; green: dogs that hold; crossed: two gears at once, or a pad \
         that carries thrust. Thin dashed: how far play can move the dogs. Numbers beyond the drum: clearance from tip to \
         tip, minus is overlap. Dogs, clearances, grooves, pads and pins are to scale; shafts, wheels and drum are not. \
         Press a pair to open its dogs.";
    save_section_svg() = "Save section (SVG)";
    save_section_dxf() = "Save section (DXF)";
    save_tracks() = "Save tracks developed (DXF)";
    drum_diameter() = "Drum diameter, mm (blank: in degrees)";
    drum_files() = "Drawings as files";
    standing() = "Forks and dogs at this angle";
    fork_room(fork: Nth, low: Value, high: Value) = "Fork {fork}: {low} and {high} free in its groove";
    fork_carries(fork: Nth) = "Fork {fork} bears on its groove and carries the thrust";
    is_clear(by: Value) = "clear by {by}";
    is_touching(deep: Value) = "touches, {deep} deep, and does not hold";
    is_holding(deep: Value) = "holds, {deep} deep";
    is_home(deep: Value) = "holds, drawn home, {deep} deep";
    in_short(difference: Value, limit: Value, chance: Value) = "{difference}, limit {limit}, in at first {chance}";
    heat() = "Gears side by side";
    heat_caption() =
        "Each figure is the worst of the shifts into the gear. The darker, the worse among these gears; ▲ is past its limit.";
    heat_gear() = "Gear";
    past_limit() = "past its limit:";
}
