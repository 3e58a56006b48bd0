//! The whole gearbox: what is worst about a shift.

sentences! { "gearset":
    too_fast(slip: Value, limit: Value) =
        "The speed difference of {slip} is above the straight-in limit of {limit}.";
    pushed_out(flank: Flank, force: Value) =
        "The {flank, select, drive {drive} other {coast}} flanks push the dogs apart with {force}.";
    too_shallow(by: Value) = "In its position the dogs can be {by} short of the holding depth.";
    stressed(stress: Pick, value: Value, allowable: Value) =
        "{stress, select, pressure {Flank pressure} shear {Shear at the root} other {Combined stress at the root}} is \
         {value}; the allowable is {allowable}.";
    hard_gear(gear: Nth, reason: Message) = "Gear {gear} carries too much. {reason}";
    hard_shift(from: Nth, to: Nth, reason: Message) = "{from}→{to} is the hard shift. {reason}";
    /// `load` is `steady` where shift shock and clunk are not judged.
    all_within(load: Pick, from: Nth, to: Nth) =
        "Nothing is past its limit{load, select, steady { under steady torque} other {}}. The tightest shift is \
         {from}→{to}.";
    two_gears_short(one: Value, other: Value) = "Gears {one} and {other} can be in at once. Do not run it.";
    one_with_many(gear: Nth, others: List) =
        "Gear {gear} can be in at once with gears {others, list, each {, }}: that locks the gearbox and the rear wheel.";
    one_with_many_short(gear: Nth, others: List) =
        "Gear {gear} can be in at once with gears {others, list, each {, }}. Do not run it.";
    held_gears_short(old: Value, new: Value) = "Gear {new} can come in while torque holds gear {old} in.";
    thrust_short(gear: Value) = "Gear {gear}: its fork carries the thrust.";
    within() = "Nothing is past its limit.";
    can_lock() = "The gearbox can lock: do not run it.";
    fault_in_shim(gear: Nth) = "Shims of gear {gear}";
    fault_in_shaft(shaft: Nth) = "Shims of shaft {shaft}";
    fault_in_fork(fork: Nth) = "Bent fork {fork}";
    fault_in_pads(fork: Nth) = "Pads and groove of fork {fork}";
    fault_in_pin(fork: Nth) = "Pin and track of fork {fork}";
    fault_in_track(gear: Nth) = "Track of gear {gear}";
    fault_in_claw() = "Claw and stop";
    fault_in_detent() = "Detent";
    fault_in_notch(gear: Nth) = "Notch of gear {gear}";
    fault_in_dogs(gear: Nth) = "Dogs of gear {gear}";
    stop_off_centre(by: Value, stroke: Pick) =
        "The stop is off [centre|center] by {by}: the gap is larger when {stroke, select, lift {lifting} other {pressing}}."
        next "[Centre|Center] the stop until both gaps are the same.";
    claw_off(by: Value, way: Pick) =
        "The claw is {by} too {way, select, short {short} other {long}} both ways, in every gear."
        next "Compare the hooks of the claw and the pins of the drum with new ones.";
    star_turned(by: Value, way: Pick) =
        "The detent holds the drum {by} too far {way, select, up {up} other {down}} in every gear."
        next "Check the dowel of the detent star and the pivot of the roller arm.";
    detent_worn(by: Value) = "The drum rocks {by} more than it should in every gear."
        next "Check roller, roller arm and spring before the detent star.";
    notch_worn(gear: Nth, by: Value) = "The drum rocks {by} more than it should in gear {gear} alone."
        next "Look for wear in that notch of the detent star.";
    fork_bent(fork: Nth, by: Value, way: Pick) =
        "Fork {fork} is bent by {by} towards its {way, select, higher {higher} other {lower}} gear."
        next "Lay it on the surface plate, and replace it: a fork that was bent bends again.";
    pad_worn(fork: Nth, by: Value, way: Pick) =
        "The pads of fork {fork} are worn by {by} on the side of its {way, select, higher {higher} other {lower}} gear."
        next "Measure the pads, replace the fork, and find what pressed it there.";
    groove_worn(fork: Nth, by: Value) = "Fork {fork} has {by} more play in its groove than it should."
        next "Measure pads and groove, and replace the one that is worn.";
    pin_worn(fork: Nth, by: Value) = "The pin of fork {fork} has {by} more play in its track than it should."
        next "Measure pin and track width, and replace the one that is worn.";
    track_off(gear: Nth, by: Value, way: Pick) =
        "The track takes gear {gear} in and out {by} too {way, select, late {late} other {early}} as the drum turns up."
        next "Inspect the flanks of the track beside that gear.";
    shaft_off(shaft: Nth, by: Value, way: Pick) =
        "Shaft {shaft} stands {by} too near to the {way, select, end {end} other {beginning}} of its list."
        next "Move its shims from one end to the other.";
    wheel_off(gear: Nth, by: Value, way: Pick) =
        "The free wheel of gear {gear} stands {by} too {way, select, near {near to} other {far from}} its sliding gear."
        next "Change its shim, and measure its overlap again.";
    edges_worn(gear: Nth, by: Value, side: Side) = "The edges of ring {side} in gear {gear} are rounded by {by} more than given."
        next "Enter the edges as measured, and check its holding depth.";
    flanks_worn(gear: Nth, by: Value, flank: Flank) =
        "The {flank, select, drive {drive} other {coast}} flanks of gear {gear} have lost {by} of undercut."
        next "Enter the flanks as measured, and check what holds it in.";
    lash_grown(gear: Nth, by: Value) = "The dogs of gear {gear} have {by} more lash than their sizes give."
        next "Measure its dogs one by one.";
    no_fault() = "No fault";
    no_part_at_fault() = "No part is off by more than its limit.";
    odd_reading(place: Message) = "{place}: this reading fits none of the others. Take it again.";
    next_reading(place: Message, one: List, first: Value, other: List, second: Value) =
        "To tell them apart, read next: {place, lower}. {one, list, each {, } last { and }}: about {first}. {other, list, each {, } last { and }}: about {second}.";
    shim_wheel(gear: Nth, by: Value, way: Pick) =
        "Move the free wheel of gear {gear} by {by} {way, select, away {away from} other {towards}} its sliding gear.";
    part_gear(number: Nth) = "Gear {number}";
    part_slider(number: Nth) = "Sliding gear {number}";
    part_fork(number: Nth) = "Fork {number}";
    part_position(number: Nth) = "Drum position {number}";
    part_selector() = "Claw and detent";
    bent_before_shims(fork: Nth, by: Value) =
        "Fork {fork} is bent by {by}. Fit a straight one and measure again before any shim is chosen: shims do not cure a bent \
         fork.";
    shim_fork(fork: Nth, by: Value, way: Pick) =
        "Move fork {fork} by {by} towards its {way, select, higher {higher} other {lower}} gear.";
    shim_shaft(shaft: Nth, by: Value, way: Pick) =
        "Move shaft {shaft} by {by} towards the {way, select, end {end} other {beginning}} of its list.";
    shims_are_not_enough() = "Shims alone do not bring it back.";
    margin_apart(one: Nth, other: Nth, before: Value, after: Value) =
        "Never two at once: {before} → {after} (gears {one} and {other}).";
    margin_room(gear: Nth, before: Value, after: Value) = "Fork free in gear: {before} → {after} (gear {gear}).";
    margin_hold(gear: Nth, before: Value, after: Value) = "Depth left to hold: {before} → {after} (gear {gear}).";
    cut_gains(gear: Nth, grams: Value, before: Value, after: Value) =
        "Gear {gear}: {grams} off its dogs, and {after} of the shifts into it go in at the first pass, {before} now.";
    cut_costs_lash(before: Value, after: Value) = "Lash at the [tyre|tire] {before} → {after}.";
    cut_costs_strength(before: Value, after: Value) = "Of the allowable stress {before} → {after} is used.";
    cut_lightens(off: Value, unbalance: Value) =
        "The sliding gear loses {off}; its cuts can leave it out of balance by {unbalance}.";
    cut_lightens_twin(off: Value, twin: Nth, unbalance: Value) =
        "The sliding gear that it shares with gear {twin} loses {off}; the cuts of both can leave it out of balance by \
         {unbalance}.";
}
