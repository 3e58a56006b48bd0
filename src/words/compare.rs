//! The comparison of layouts in words.

sentences! { "compare":
    untitled() = "Untitled";
    first_state() = "As found";
    untitled_variant(variant: Nth) = "Variant {variant}";

    at_speed_difference(speed: Speed) = "Speed difference: {speed}";
    condition(name: Label, value: Value) = "{name}: {value}";

    // ---- which way a number went ----
    better() = "better";
    worse() = "worse";
    more() = "more";
    less() = "less";
    absent() = "none";
    change(figure: Label, before: Value, after: Value) = "{figure} {before} → {after}";
    gets_better(changes: List) = "Better: {changes, list, each {; }}.";
    gets_better_with_more(changes: List, others: Number) =
        "Better: {changes, list, each {; }}; and {others, plural, one {# other} other {# others}}.";
    gets_worse(changes: List) = "Worse: {changes, list, each {; }}.";
    gets_worse_with_more(changes: List, others: Number) =
        "Worse: {changes, list, each {; }}; and {others, plural, one {# other} other {# others}}.";

    // ---- what is held ----
    nothing_to_hold() = "Nothing can be kept equal: this layout has no window. It is shown as drawn.";
    held_too_wide(would: Angle) =
        "It cannot be kept equal: the dogs would have to be {would} wide. The layout is shown as drawn.";
    held_no_dog() =
        "It cannot be kept equal: nothing would be left of its dogs. The layout is shown as drawn.";
    held_jams(would: Angle, jam: Length) =
        "It cannot be kept equal: with dogs {would} wide the layout jams at an overlap of {jam}. It is shown as drawn.";
    held_out_of_reach(would: Angle) =
        "It cannot be kept equal: dogs {would} wide do not give the same value. The layout is shown as drawn.";
    widened(by: Angle) = "Its dogs are {by} wider than drawn.";
    narrowed(by: Angle) = "Its dogs are {by} narrower than drawn.";
    width_held(width: Angle) = "Dog width is kept at {width} in every layout. Window width follows from it.";
    width_held_except(width: Angle, layouts: List) =
        "Dog width is kept at {width} in every layout except {layouts, list, each {, } last { and }}. Window width \
         follows from it.";
    free_held(free: Angle) = "Window width is kept at {free} in every layout. Dog width follows from it.";
    free_held_except(free: Angle, layouts: List) =
        "Window width is kept at {free} in every layout except {layouts, list, each {, } last { and }}. Dog width \
         follows from it.";
    first_has_nothing_to_hold() =
        "Nothing is kept equal: the first layout has no window. Each layout is shown as drawn.";
    as_drawn() = "Each layout is shown as drawn.";
    as_drawn_both_same(width: Angle, free: Angle) =
        "Each layout is shown as drawn. All have a dog width of {width} and windows of {free}.";
    as_drawn_width_same(width: Angle) =
        "Each layout is shown as drawn. All have a dog width of {width}; their windows differ.";
    as_drawn_free_same(free: Angle) =
        "Each layout is shown as drawn. All have windows of {free}; their dog widths differ.";
    as_drawn_none_same() =
        "Each layout is shown as drawn. Dog width and window width both differ, and cause part of every difference \
         below.";

    // ---- how a layout differs from the first ----
    cannot_be_computed(number: Number, title: Value, why: Message) =
        "Layout {number} ({title}) cannot be computed. {why}";
    nothing_to_compare(number: Number, title: Value) =
        "Layout {number} ({title}) cannot be compared: the first layout cannot be computed.";
    same_results(number: Number, title: Value, first: Number) =
        "Layout {number} ({title}) gives the same results as layout {first}.";
    same_windows(number: Number, title: Value, first: Number) =
        "Layout {number} ({title}) has the same windows as layout {first}.";
    jams(number: Number, title: Value, overlap: Length) =
        "Layout {number} ({title}) jams at an overlap of {overlap}, short of full depth.";
    number_of_windows(number: Number, title: Value, windows: Count, was: Count, first: Number) =
        "Layout {number} ({title}) has {windows, plural, one {# window} other {# windows}} instead of {was}, each as \
         wide as in layout {first}.";
    easier(number: Number, title: Value, windows: Count, wide: Value, windows_were: Count, wide_was: Value) =
        "Layout {number} ({title}) is easier to engage: its windows are {windows} × {wide} instead of {windows_were} × \
         {wide_was}.";
    harder(number: Number, title: Value, windows: Count, wide: Value, windows_were: Count, wide_was: Value) =
        "Layout {number} ({title}) is harder to engage: its windows are {windows} × {wide} instead of {windows_were} × \
         {wide_was}.";
    window_open(time: Value, was: Value) = "Each window stays open for {time} instead of {was}.";
    window_open_and_travel(time: Value, was: Value, travel: Value) =
        "Each window stays open for {time} instead of {was}; travel to the holding depth takes {travel}.";
    first_pass(more: Pick, share: Value, was: Value) =
        "It goes in at the first pass {more, select, more {more} other {less}} often: from {share} of all phases \
         instead of {was}.";
    thrown_back(share: Value, was: Value) = "It is thrown back from {share} of all phases instead of {was}.";
    hangs(more: Pick, share: Value, was: Value, face: Value, face_was: Value) =
        "It hangs tip on tip {more, select, more {more} other {less}} often, from {share} of all phases instead of \
         {was}: its widest blocked angle is {face} instead of {face_was}.";
    stops_halfway(share: Value, was: Value) =
        "It stops halfway in, on a short dog, from {share} of all phases instead of {was}.";
    clunk(more: Pick, lash: Value, lash_was: Value, torque: Value, torque_was: Value) =
        "The clunk as the throttle opens is {more, select, more {harder} other {softer}}: the lash is {lash} instead \
         of {lash_was}, the clunk torque {torque} instead of {torque_was}.";
    depth(depth: Value, was: Value) = "Its full depth is {depth} instead of {was}.";
    pairs_meeting(pairs: Count, was: Count) =
        "Under power {pairs, plural, one {# pair of dogs meets} other {# pairs of dogs meet}} instead of {was}.";
    pressure(pressure: Value, was: Value) = "Flank pressure is {pressure} instead of {was}.";
    less_often(at: Speed, share: Value, was: Value) =
        "At every speed difference it goes in less often at the first pass: at {at} from {share} of all phases instead \
         of {was}.";
    less_often_below(below: Speed, at: Speed, share: Value, was: Value) =
        "Below {below} it goes in less often at the first pass: at {at} from {share} of all phases instead of {was}.";
    less_often_above(above: Speed, at: Speed, share: Value, was: Value) =
        "Above {above} it goes in less often at the first pass: at {at} from {share} of all phases instead of {was}.";
    less_often_between(above: Speed, below: Speed, at: Speed, share: Value, was: Value) =
        "Between {above} and {below} it goes in less often at the first pass: at {at} from {share} of all phases \
         instead of {was}.";
    overrun_pressure_rises(pressure: Value, was: Value) =
        "Flank pressure [on the overrun|when coasting] rises from {was} to {pressure}.";
    root_stress_rises(stress: Value, was: Value) = "Root stress rises from {was} to {stress}.";
    overrun_root_stress_rises(stress: Value, was: Value) =
        "Root stress [on the overrun|when coasting] rises from {was} to {stress}.";
    overrun_holding_falls(force: Value, was: Value) =
        "Retaining force [on the overrun|when coasting] falls from {was} to {force}.";
}
