//! Words on drawings: captions, dimensions and labels. Titles of views are in their rows.

sentences! { "drawing":
    // ---- in place of a drawing ----
    outside_limits() = "A number is outside its limits; the findings name it.";
    no_linkage() = "No linkage has been entered yet.";
    no_claw() = "Neither claw nor detent has been entered yet.";
    no_whole_gearbox() = "This is a pair alone, without a gearbox around it.";
    no_track() = "No drum track has been entered yet.";
    no_stack_up() = "No stack-up has been entered yet.";
    rod_out_of_reach() = "The rod does not reach: the circles do not meet.";
    no_swing() = "The rod does not reach: there is no swing to show.";

    // ---- maps and charts ----
    tips_level() = "tips level";
    full_depth(depth: Length) = "full depth {depth}";
    hang_limit(limit: Speed) = "tips can hang below {limit}";
    drop_in_limit(limit: Speed) = "drops in below {limit}";
    straight_in_limit(limit: Speed) = "straight in below {limit}";
    speed_axis() = "Speed difference (rpm)";
    start_phase_axis() = "Start phase (°)";
    phase_axis() = "Ring A turned (°)";
    share_axis() = "Share of phases (%)";
    first_pass_axis() = "In at the first pass (%)";
    time_axis() = "Time since the cut (ms)";
    dog_torque_axis() = "Torque at the old dogs (N·m)";
    begins_to_move(time: Value) = "begins to move {time}";
    unloaded(time: Value) = "unloaded {time}";
    coast_strikes(time: Value) = "coast flanks strike {time}";
    dogs_out(time: Value) = "out {time}";
    sensor_signals(time: Value) = "signal {time}";
    fork_pushes(time: Value) = "fork pushes {time}";
    other_flanks_strike(time: Value) = "other flanks strike {time}";
    new_tips_level(time: Value) = "tips level {time}";
    dogs_in(time: Value) = "in {time}";
    tyre_slips(time: Value) = "[tyre|tire] slips {time}";
    tyre_grips(time: Value) = "[tyre|tire] grips {time}";
    clutch_slips(time: Value) = "clutch slips {time}";
    cush_at_its_stop(time: Value) = "cush drive at its stop {time}";
    mark_tyre() = "[tyre|tire]";
    line_time_axis(manner: Pick) =
        "Since {manner, select, cut {the cut} blip {the blip} throttle {the throttle shuts} other {the clutch}} (ms)";
    engine_axis(manner: Pick) =
        "{manner, select, clutch_up {Input side} clutch_down {Input side} other {Engine}} (rpm)";
    torque_axis() = "Torque at the dogs (N·m)";
    overlap_axis() = "Overlap (mm)";
    speed_of_gear(gear: Nth) = "speed of gear {gear}";
    overlap_left(from: Value) = "dashed: overlap, from {from} to 0";
    straight_in_axis() = "Straight in up to (rpm)";
    clunk_axis() = "Clunk (N·m)";
    axis(name: Label, unit: Verbatim) = "{name} ({unit})";
    limit_of_sweep(limit: Verbatim) = "limit {limit}";
    no_value() = "no value";
    overlap_is(value: Verbatim) = "overlap {value}";
    better_here() = "better this way ↘";
    depth_axis(unit: Verbatim) = "Overlap ({unit})";
    first_pass() = "first pass";
    last_pass() = "last pass";
    blocked() = "blocked";
    open_at_tips() = "open at tips";
    open_at_depth() = "open at depth";
    path_of_shift() = "shift path";
    toe_axis(unit: Verbatim) = "Foot travel ({unit})";
    shaft_axis() = "Shaft rotation (°)";
    rod_axis() = "Rod to lever (°)";
    drum_axis() = "Drum angle (°)";
    fork(number: Nth) = "fork {number}";
    fork_axis(unit: Verbatim) = "Fork travel ({unit})";
    opens(width: Angle) = "window {width}";
    gap_less_dog(gap: Angle, dog: Angle, width: Angle) = "gap {gap} − dog {dog} = window {width}";
    between_sharp_tips() = "(sharp tips)";
    lash(width: Angle) = "lash {width}";
    true_proportions() = "to scale";
    outcome_at(phase: Angle, speed: Speed, outcome: Message) = "Phase {phase}, {speed}: {outcome, lower}";
    share_of(outcome: Message, share: Value) = "{outcome, lower} {share}";
    shares_at(speed: Speed, shares: List) = "{speed}: {shares}";

    // ---- forces ----
    force_each(force: Value) = "{force} each";
    force_if(force: Value, carrying: Value, meeting: Number) = "{force} each, if {carrying} of {meeting} carry";
    pressure_of(pressure: Value, limit: Value) = "pressure {pressure} of {limit}";

    // ---- pedal, claw and drum ----
    pivot() = "pivot";
    shaft() = "shaft";
    peg() = "peg";
    front() = "← front";
    stop() = "stop";
    binds_below(limit: Angle) = "binds below {limit}";
    stop_lifting(angle: Angle) = "stop, lifting: {angle}";
    stop_pressing(angle: Angle) = "stop, pressing: {angle}";
    locks() = "locks";
    turns_back() = "turns back";
    drum_at(drum: Angle) = "Drum at {drum}.";
    shafts_to_scale() =
        "To scale: along the shafts dogs, clearances, grooves, fork pads, pins and tracks; diameters of the dogs.";
    shafts_not_to_scale() =
        "Not to scale: diameters of shafts and wheels, widths of wheels, sliding gears, forks and drum.";
    tip_clearances() = "Numbers beyond the drum: clearance from tip to tip; minus is overlap.";
    tracks_on(diameter: Length) = "Tracks developed on a drum of Ø{diameter}, in mm.";
    tracks_in_degrees() = "Tracks developed: 1 mm across is 1° of the drum.";
    tracks_apart() =
        "Each track is drawn for itself: across is the angle of the drum, up is where the fork is. How far the tracks \
         are apart is not to scale.";
    drum_turned(drum: Angle, step: Angle) = "drum {drum} of {step}";
    gap_at_stop(gap: Length) = "gap at the stop {gap}";
    gap_short_of_stop(gap: Length) = "gap {gap}, short of the stop";
    pushed_past(by: Length) = "pin pushed {by} past home";
    short_of_stop() = "short of the stop";
    at_stop() = "at the stop";
    left() = "start";
    halfway() = "halfway";
    home() = "home";
    play_costs(overlap: Length) = "free play costs {overlap} of overlap";

    // ---- stack-up ----
    to_this_pair() = "To this pair";
    to_other_pair() = "To the other pair";
    no_sizes() = "No sizes yet, so the clearance is unknown.";
    clearance(gap: Verbatim, worst: Verbatim) = "Clearance {gap} ±{worst}";
    clearance_with_rss(gap: Verbatim, worst: Verbatim, rss: Verbatim) = "Clearance {gap} ±{worst}, likely ±{rss}";

    // ---- machining drawing ----
    untitled() = "Untitled";
    title_with_initials(title: Value, initials: Given) = "{title} – {initials}";
    looking_at(side: Side) = "Ring {side}, looking at its dogs. Angles counter-clockwise from the datum.";
    all_in_millimetres() = "All lengths in [millimetres|millimeters], scale 1:1. The square measures 10 mm.";
    true_size() = "Scale 1:1. The square measures 10 mm.";
    reduced(scale: Verbatim) =
        "Scale {scale}: the ring is too large for this paper at true size. The square still measures 10 mm.";
    levels() =
        "Z is the lowest level cut at a dog; Z0 is the tallest tip as found. In the DXF, everything that is cut is on \
         layer CUT, each outline at its own level: tips shortened or with broken edges, flanks at tip and root. Layer \
         KEEP is not machined; the section is on layer DETAIL.";
    outlines() =
        "Outlines are drawn to sharp corners. Thick lines: tips. Dashed: roots on the web. Dogs marked * are cut down.";
    outlines_and_removed() =
        "Outlines are drawn to sharp corners. Thick lines: tips. Dashed: roots on the web. Dogs marked * are cut down. \
         Long-dashed double-dotted: metal to remove.";
    operation(number: Nth, step: Message, dogs: List) = "Op. {number}: {step}. Dogs {dogs, list, each {, }}.";
    design_link() = "Design:";
    datum() = "datum 0°";
    drive() = "drive";
    coast() = "coast";
    elevation(diameter: Verbatim) =
        "Elevation at Ø{diameter}, unrolled counter-clockwise from the datum, seen from outside";
    section(dog: Nth, diameter: Verbatim) = "Dog {dog} at Ø{diameter}, seen from outside";
    section_cut(dog: Nth, diameter: Verbatim, from: Verbatim, to: Verbatim) =
        "Dog {dog} at Ø{diameter}, seen from outside, cut down from {from} to {to}";
    undercuts(drive: Angle, coast: Angle) = "Undercut: drive {drive}, coast {coast}";

    // ---- its list of dogs ----
    dog() = "dog";
    centre() = "[centre|center]";
    width() = "width";
    height() = "height";
    drive_undercut() = "drive undercut";
    coast_undercut() = "coast undercut";
    edge_break() = "edge break";
    root_fillet() = "root fillet";
    work() = "work";
    cut_to() = "cut to";
    remove() = "remove";
    keep() = "keep";
    shorten_from(height: Verbatim) = "shorten from {height}";
    op(number: Nth) = "op. {number}";
    flanks(form: Pick, diameter: Verbatim) =
        "Flanks {form, select, radial {radial} other {parallel}} in plan; widths are tip angles at Ø{diameter}, as \
         found.";
    all_dogs(traits: List) = "All dogs as found: {traits}.";
    trait_drive_undercut(value: Verbatim) = "drive undercut {value}°";
    trait_coast_undercut(value: Verbatim) = "coast undercut {value}°";
    trait_edge_break(value: Verbatim) = "edge break {value}";
    trait_root_fillet(value: Verbatim) = "root fillet R{value}";
}
