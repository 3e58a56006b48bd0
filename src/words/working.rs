//! Formulas with the numbers of a design, where they need words.

sentences! { "working":
    /// Symbols and numbers, the same in every language.
    symbols(parts: List) = "{parts, list, each {}}";

    // ---- windows and lash ----
    windows(windows: List, more: Number) = "{windows, list, each {; }}{more, plural, =0 {} other {; and # more}}";
    windows_of_lower(all: Message, hold: Value, tallest: Message) =
        "{all}; dogs shorter by less than the holding depth of {hold} count too; between the tallest alone: \
         {tallest}";
    windows_to_hold(hold: Value, radius: Value, windows: Message) =
        "dogs that come level within {hold}, edge breaks counted as open at rm {radius}: {windows}";
    windows_passing(windows: Number, sizes: Message) =
        "{windows, plural, one {# window} other {# windows}}, {sizes}";
    no_window_open() = "no window is open";
    places(places: Number, widths: List) =
        "{places} {places, plural, one {place} other {places}}: {widths, list, each {, } last { and }}";
    no_window_at_depth() = "no window at full depth";
    window_held(depth: Value, window: Message, place: Pick, phase: Value) =
        "at {depth}, the window that {place, select, holds {contains} other {is nearest to}} the phase {phase}: \
         {window}";
    not_engaged() = "the rings are not engaged";
    not_going_in() = "the gear does not go in";
    jams_at(overlap: Value) = "the rings jam at an overlap of {overlap}";
    pairs_meeting(meeting: Number, pairs: Number) =
        "{meeting} of {pairs, plural, one {# possible pairing} other {# possible pairings}}";

    // ---- shift and shock ----
    edges(edges: Value, rounded: Value, friction: Value) =
        "largest edge breaks of A and B together {edges}; if rounded, {rounded} at μ {friction}";
    falls(to: Value, time: Value, turned: Value) = "drops to {to} in {time}, turning {turned}";
    rubs(at: Value, time: Value, turned: Value) = "rubs at {at} for {time}, turning {turned}";
    legs(legs: List, more: Number) =
        "{legs, list, each {; }}{more, plural, =0 {} one {; and # more leg} other {; and # more legs}}";
    spans(spans: Number, slip: Value) =
        "{spans, plural, one {# span} other {# spans}} of starting phases at {slip}";
    largest_of(steady: Value, shift: Value, clunk: Value) = "largest of {steady}, {shift}, {clunk}";
    no_clunk() = "no clunk";
    common_speed_unknown() =
        "needs gearbox data; with a typed-in inertia the output side is assumed to keep its speed";

    // ---- load and metal ----
    carrying(meeting: Number, rule: Pick) =
        "{meeting, plural, one {# pair meets} other {# pairs meet}}; {rule, select, half {all carry if 3 or fewer, \
         otherwise half} all {all carry} third {a third carries} other {shared by spacing, each dog a spring}}";
    beside_allowable(working: Message, allowable: Value) = "{working}; allowable {allowable}";
    no_dog_meets() = "no dog meets";
    edges_bear() = "all dogs that meet bear on their edges, caught by less than the holding depth";
    on_overrun(torque: Value, working: Message) = "[on the overrun|coasting], {torque}: {working}";
    off_flank(case: Value, off: Value, flank: Flank, dog: Nth) =
        "{case} − {off} off the {flank, select, drive {drive flank} other {coast flank}} of dog {dog}";

    // ---- pedal to fork ----
    at_rest(angle: Value, sizes: Message) = "{sizes}; at rest {angle}";
    pedal_on_shaft() = "the pedal is on the shaft";
    foot_moves(foot: Value, travel: Value, arm: Value, locks: Pick) =
        "foot travel {foot} of {travel} on an arm of {arm}{locks, select, locks {, where rod and lever are in line} \
         other {}}";
    foot_turns_back(foot: Value, travel: Value, arm: Value, locks: Pick, end: Value) =
        "foot travel {foot} of {travel} on an arm of {arm}, where the shaft turns back; {end} at the end of the \
         stroke{locks, select, locks {, where rod and lever are in line} other {}}";
    at_hook(sizes: Message, swing: Value) = "{sizes}; {swing} at the claw";
    hook_swings(shaft: Value, hook: Value, radius: Value, ended_by: Pick, drum: Pick) =
        "the claw swings {shaft}, {hook} at its radius of {radius}{ended_by, select, pedal {, where the pedal ends \
         the stroke} other {}}{drum, select, home {} other {; the gap counts the drum as home, which it is not}}";
    drum_pushed(pushed: Value, step: Value) = "drum pushed {pushed} of {step}";
    drum_pushed_by(stroke: Stroke, pushed: Value, step: Value) =
        "{stroke, select, lift {lifting} other {pressing}}: drum pushed {pushed} of {step}";
    eccentric_now(at: Value) = "now at {at}";
    eccentric_short(needed: Value, least: Value, most: Value) =
        "the stop has to move {needed}; it can move from {least} to {most}";
    mean_gap(mean: Value, target: Value) = "mean {mean}, target {target}";
    without_other_drag() = "[centring|centering] spring and drag of the forks not counted";
    no_detent() = "unknown: no detent is entered";

    // ---- depth ----
    stack_up(parts: Number, worst: Value, rss: Value) =
        "{parts, plural, one {# part} other {# parts}}; ± {worst} worst case, ± {rss} likely spread (root of the sum of squares)";
    off_middle(off: Value, step: Value) = "{off} off [centre|center], shim increment {step}";
}
