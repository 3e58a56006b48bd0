//! Sizes as they came out, and what is checked on the bench.

sentences! { "inspection":
    // ---- one size ----
    good() = "good";
    take_another(by: Value, side: Side, dog: Nth) = "over: take another {by} off {side}{dog}";
    take_another_angle(by: Value, along: Length, side: Side, dog: Nth) =
        "over: take another {by} off {side}{dog}, {along} at the mean diameter";
    under(by: Value) = "under by {by}";
    aside(by: Value, way: Pick) = "{by} too far {way, select, plus {counter-clockwise} other {clockwise}}";

    // ---- spacing ----
    spacing(carrying: Number, meeting: Number, torque: Torque, off: Value, angle: Value, force: Force) =
        "For {carrying} of the {meeting} dogs that meet to share {torque}, keep the flanks that carry within ±{off} \
         (±{angle}) of their planned places on each ring. At these limits the first dog to meet carries up to {force}.";

    carrying_flank(side: Side, dog: Nth, flank: Flank, angle: Value, off: Value) =
        "{side}{dog} {flank, select, drive {drive} other {coast}}: {angle} ±{off}";

    // ---- on the bench ----
    neutral() = "Neutral";
    in_gear() = "This pair in gear";
    at_stop() = "At the stop";
    feeler() = "Feeler gauge";
    depth_gauge() = "Depth gauge";
    expected(size: Value) = "{size}";
    between(least: Value, most: Value) = "{least} to {most}";
    no_less(least: Value) = "at least {least}";
    below(by: Value) = "{by} too small";
    above(by: Value) = "{by} too large";
    link(name: Given, size: Length, tolerance: Length, way: Pick) =
        "{name}: {size} ±{tolerance}, {way, select, opens {opens the clearance} other {takes from it}}";
    nameless(size: Length, tolerance: Length, way: Pick) =
        "No name: {size} ±{tolerance}, {way, select, opens {opens the clearance} other {takes from it}}";
}
