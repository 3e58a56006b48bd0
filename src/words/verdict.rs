//! The verdict: one sentence on how a design stands, its short form, the figures of a stage, and what a change
//! did.
//!
//! A verdict has at most 36 words and 190 characters with its next step; its short form, in `…_short`, has
//! at most 13 words and 76 characters. Both are held by `tests/verdict.rs`.

sentences! { "verdict":
    // ---- cannot be computed ----
    gearbox_missing() =
        "The shift cannot be judged yet: the gearbox data is missing."
        next "Enter gearbox data under Shift, or type the speed difference.";
    gearbox_missing_short() = "Shift not judged yet: gearbox data missing.";
    impossible(place: Value, value: Value, min: Value, max: Value) =
        "{place}: {value} is outside the range {min} to {max}."
        next "The last drawing stays until this is corrected.";
    impossible_short(label: Value, value: Value, min: Value, max: Value) =
        "{label}: {value} is outside {min} to {max}.";
    dogs_do_not_fit(dogs: Number, width: Angle, most: Value) =
        "{dogs, plural, one {# dog of {width} does} other {# dogs of {width} do}} not fit on the ring; the limit is \
         {most} each."
        next "The last drawing stays until this is corrected.";
    dogs_do_not_fit_short(dogs: Number, width: Angle, most: Value) =
        "{dogs, plural, one {# dog of {width} does} other {# dogs of {width} do}} not fit; at most {most} each.";
    ring_impossible_short(side: Side) = "Ring {side} cannot be made as entered.";
    not_computed_short() = "Cannot be computed as entered.";

    // ---- blocked ----
    jams(short: Length, at: Length) =
        "The gears jam {short} short of full depth, at an overlap of {at}."
        next "Check width, height and position of every dog: one of them is in the way.";
    jams_short(short: Length) = "Jams {short} short of full depth.";
    no_window() =
        "No window is open: at every phase some dog is over another."
        next "Use fewer or narrower dogs, or remove the same dogs on both rings.";
    no_window_short() = "No window is open at any phase.";
    rings_apart(overlap: Value) =
        "The dogs do not reach each other: the overlap is {overlap}."
        next "Increase the overlap, or check whether the dogs are tall enough.";
    rings_apart_short(overlap: Value) = "The dogs do not reach each other: overlap {overlap}.";
    touch_in_neutral(facing: Value, least: Value) =
        "In neutral the dogs can touch: with every size at its limit the clearance to {facing, select, this {this \
         pair} other {the other pair}} is {least}."
        next "Shim the sliding gear away from that pair.";
    touch_in_neutral_short(least: Value) = "Dogs can touch in neutral: clearance {least} at worst.";

    // ---- a cut that must not be made ----
    case_gone(off: Value, case: Value) =
        "Do not make this cut: {off} comes off a hardened case of {case}, so the flank would run on soft core."
        next "Keep the cut well under {case}, or have the gear re-hardened.";
    case_gone_short(off: Value, case: Value) = "Do not make this cut: {off} off a {case} case.";

    // ---- does not hold in ----
    pushed_out(flank: Flank, force: Value, lean: Angle, least: Angle) =
        "{flank, select, drive {Under power} other {[On the overrun|When coasting]}} the flanks push the gears apart \
         with {force}: they lean {lean} the wrong way."
        next "Re-cut the {flank, select, drive {drive} other {coast}} flanks to at least {least} of undercut.";
    pushed_out_short(flank: Flank, force: Value, lean: Angle) =
        "{flank, select, drive {Pushed out under power} other {Pushed out [on the overrun|when coasting]}}: {force}, \
         flanks lean {lean} the wrong way.";
    only_edges(left: Value) =
        "At full depth some dogs bear only on their edge breaks: flank engagement is {left}."
        next "Increase the overlap or plan smaller edge breaks; on worn dogs, re-cut the flanks.";
    only_edges_short(left: Value) = "Some dogs bear only on their edge breaks: flank engagement {left}.";
    edge_contact(deep: Value, hold: Value) =
        "Some dogs overlap by only {deep}, less than the holding depth of {hold}: their edges bear the force."
        next "Shorten the short dogs until they stay clear, or let them overlap by {hold} or more.";
    edge_contact_short(deep: Value, hold: Value) = "Some dogs bear on edges only: {deep} deep, {hold} holds.";
    hold_in_edges(hold: Value, edges: Value) =
        "The holding depth is {hold}, but the edge breaks take {edges}: up to there the edges push the gears apart."
        next "Enter a holding depth of at least {edges}, or re-cut the flanks.";
    hold_in_edges_short(hold: Value, edges: Value) = "Holding depth {hold} is less than the edge breaks, {edges}.";

    // ---- does not go in ----
    hard_shift(engine: Value, from: Nth, to: Nth, slip: Value, limit: Value) =
        "At {engine}, {from}→{to} is the hardest shift: {slip} apart, and above {limit} none goes straight in.";
    hard_shift_elsewhere(engine: Value, from: Nth, to: Nth, slip: Value, limit: Value) =
        "If every gear has these dogs, {from}→{to} is hardest: {slip} apart at {engine}; none goes straight in \
         above {limit}.";
    hard_shift_short(from: Nth, to: Nth, slip: Value, limit: Value) =
        "{from}→{to} is hardest: {slip} apart, none straight in above {limit}.";
    too_fast(slip: Value, limit: Value) =
        "The speed difference is {slip}, and above {limit} none goes straight in.";
    too_fast_short(slip: Value, limit: Value) = "Speed difference {slip}, none straight in above {limit}.";
    widen_window(now: Value, needed: Value) =
        "Widen the window ({now} now, {needed} needed), or move the sliding gear faster.";
    no_window_so_wide(needed: Value) =
        "Move the sliding gear faster, or shift at a smaller speed difference: no window can be {needed} wide.";
    hangs(share: Value) =
        "From {share} of all starting phases the gear hangs on a tip instead of going fully in."
        next "Polish the tips, widen the windows, or shift at a larger speed difference.";
    hangs_short(share: Value) = "Hangs on a tip from {share} of all starting phases.";

    // ---- stress ----
    stress(figure: Label, value: Value, limit: Value) =
        "{figure} is {value}, above the allowable {limit}."
        next "Let more dogs carry, or engage them deeper.";
    stress_short(figure: Label, value: Value, limit: Value) = "{figure} {value}, allowable {limit}.";
    gain_with_price(before: Value, after: Value, figure: Label, value: Value, limit: Value) =
        "The windows stay open {after} instead of {before}, but at a cost. {figure} is {value}, above the allowable \
         {limit}."
        next "Shorten the dogs less, or let more of them carry.";
    gain_with_price_short(before: Value, after: Value, value: Value, limit: Value) =
        "Windows open {before} → {after}, but a stress of {value}, allowable {limit}.";

    // ---- fit ----
    too_shallow(gear: Count, pushed: Value, height: Value, wanted: Value) =
        "Gear {gear} engages only {pushed} of {height} dog height; the target is three quarters, {wanted}."
        next "Reduce the clearance, or replace the fork if it is bent or worn.";
    too_shallow_short(gear: Count, pushed: Value, height: Value, wanted: Value) =
        "Gear {gear} engages {pushed} of {height}; the target is {wanted}.";
    shim_towards(shim: Length) = "Shim the sliding gear {shim} towards this pair, then check the clearance in neutral.";
    stop_gaps(lift: Value, press: Value, target: Value) =
        "The gap at the stop is {lift} with the pedal lifted and {press} with it pressed; the target is {target}."
        next "File or build up one side of the stop, then measure again.";
    not_the_dogs(lift: Value, press: Value) =
        "Begin at the stop, not the dogs: its gap is {lift} with the pedal lifted and {press} with it pressed."
        next "File or build up one side of the stop, then measure again.";
    stop_gaps_short(lift: Value, press: Value) = "Gap at the stop: {lift} lifted, {press} pressed.";
    not_the_dogs_short(lift: Value, press: Value) =
        "Begin at the stop, not the dogs: gap {lift} lifted, {press} pressed.";
    turn_eccentric(at: Value) = "Turn the eccentric to {at}, then measure again.";
    stop_thinner(by: Value) = "Take {by} off the stop in small steps, then measure again.";
    stop_thicker(by: Value) = "Make the stop {by} thicker, then measure again.";
    rod_locks_short(stroke: Value) =
        "Rod and lever lock {stroke, select, lift {with the pedal lifted} other {with the pedal pressed}}.";
    rod_binds_short(stroke: Value, angle: Value, limit: Value) =
        "The rod binds {stroke, select, lift {with the pedal lifted} other {with the pedal pressed}}: {angle}, needs \
         {limit} from line.";
    rod_in_line_short() = "Pedal arm and rod are in line at rest.";
    rod_turns_back_short(stroke: Value) =
        "The shaft turns back before the pedal is fully {stroke, select, lift {lifted} other {pressed}}.";
    foot_short_short(stroke: Value, reaches: Value, missing: Value) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the foot {reaches, select, \
         short {is {missing} short of} other {never reaches}} the stop.";
    drum_short(stroke: Value, pushed: Value, step: Value) =
        "{stroke, select, lift {On lifting} other {On pressing}}, the claw turns the drum {pushed}; a step is {step}.";
    eccentric_short() = "The eccentric would reach over the shaft.";
    roller_stays_short(torque: Value) = "Friction holds the detent roller: returning torque {torque}.";
    crest_short(crest: Value, step: Value) = "Detent peaks {crest} wide leave no notch in a {step} pitch.";
    fork_short(by: Value) = "The fork is {by} thicker than its groove.";
    unbalance_short(side: Value, unbalance: Value, allowable: Value) =
        "Ring {side}: unbalance {unbalance}, grade allows {allowable}.";
    measured(check: Message, says: Message) =
        "{check}: {says, lower}"
        next "See Checks for the next step.";
    measured_short(check: Message, share: Value) = "{check}: {share} past the limit.";

    // ---- lash ----
    lash(lash: Value, most: Value, clunk: Value, times: Value) =
        "The gear goes in, but its lash of {lash} is over the {most} you accept: the clunk is {clunk}, {times} times \
         the steady torque."
        next "A new layout needs more dogs, narrower gaps or half-height dogs.";
    lash_alone(lash: Value, most: Value) =
        "The gear goes in, but its lash of {lash} is over the {most} you accept."
        next "A new layout needs more dogs, narrower gaps or half-height dogs.";
    lash_short(lash: Value, most: Value) = "Goes in, but lash is {lash}; you accept {most}.";
    clunk(lash: Value, clunk: Value, most: Value) =
        "The gear goes in, but {lash} of lash gives a clunk of {clunk} as the throttle opens; you accept {most}."
        next "A new layout needs more dogs, narrower gaps or half-height dogs.";
    clunk_short(lash: Value, clunk: Value, most: Value) =
        "Goes in, but clunk is {clunk} from {lash} of lash; you accept {most}.";

    // ---- gain ----
    one_ring_cut(side: Side, mate: Side, dogs: Number, list: List) =
        "Cutting ring {side} alone changes nothing: ring {mate} still has {dogs, plural, one {# full-height dog} other \
         {# full-height dogs}}."
        next "Make the same cut on {list, list, each {, } last { and }}.";
    one_ring_cut_short(side: Side, mate: Side, dogs: Number) =
        "Cutting {side} alone changes nothing: {mate} still has {dogs, plural, one {# full-height dog} other {# \
         full-height dogs}}.";
    cuts_gain_nothing(windows: Value, width: Value) =
        "The cuts on both rings change nothing: the windows stay at {windows} × {width}."
        next "Shorten the same dogs on both rings.";
    cuts_gain_nothing_short() = "The cuts on both rings change nothing.";
    windows_shrink_short(found: Value, cut: Value) = "The plan narrows the windows: {found} → {cut}.";
    windows_unequal_short(narrow: Value, wide: Value) = "The plan leaves unequal windows: {narrow} to {wide}.";
    mate_forgotten_short(side: Value, this: Value, mate: Value, other: Value) =
        "Flanks of ring {side} re-cut to {this}, those of ring {mate} still at {other}.";
    idle_operation_short(side: Value, operation: Value) = "Ring {side}, operation {operation} removes nothing.";
    no_such_dog_short(side: Value, operation: Value, dog: Value) =
        "Ring {side}, operation {operation}: there is no dog {dog}.";

    // ---- too little known ----
    shift_unknown(limit: Value) =
        "These dogs go straight in up to {limit}; whether that is enough depends on the shift."
        next "Enter the speed difference, or the gearbox.";
    gearbox_unknown(limit: Value, first: Message) =
        "These dogs go straight in up to {limit}; whether that is enough depends on the gearbox."
        next "Enter this first: {first, lower}.";
    shift_unknown_short(limit: Value) = "Straight in up to {limit}; the shift is not given yet.";

    // ---- no cause found yet ----
    not_diagnosed(open: Number, all: Number) =
        "Not diagnosed: {open} of {all, plural, one {# check} other {# checks}} open."
        next "Tick what the rider feels.";
    not_diagnosed_yet(open: Number, all: Number, first: Message) =
        "Not diagnosed: {open} of {all, plural, one {# check} other {# checks}} open."
        next "Check this first: {first, lower}.";
    not_diagnosed_short(open: Number, all: Number) =
        "Not diagnosed: {open} of {all, plural, one {# check} other {# checks}} open.";

    // ---- nothing past a limit ----
    /// Here and below `load` is `steady` where shift shock and clunk are not judged, or would be past a limit.
    within(load: Pick) =
        "Nothing is past its limit{load, select, steady { under steady torque} other {}}."
        next "You can stop here, or set this as the baseline.";
    within_short(load: Pick) = "Nothing is past its limit{load, select, steady { under steady torque} other {}}.";
    within_at_most(load: Pick, figure: Label, value: Value, limit: Value) =
        "Nothing is past its limit{load, select, steady { under steady torque} other {}}. The tightest margin \
         is {value} \
         of {limit} allowable ({figure, lower})."
        next "You can stop here, or set this as the baseline.";
    within_at_least(load: Pick, figure: Label, value: Value, limit: Value) =
        "Nothing is past its limit{load, select, steady { under steady torque} other {}}. The tightest margin \
         is {value} \
         where {limit} is needed ({figure, lower})."
        next "You can stop here, or set this as the baseline.";
    tightest_short(figure: Label, value: Value, limit: Value) =
        "Nothing past a limit: {value}, limit {limit} ({figure, lower}).";
    steady_short(value: Value, limit: Value) =
        "Nothing past a limit under steady torque: {value}, limit {limit}.";

    within_on_assumed(slip: Value, limit: Value, values: Number, first: Message) =
        "It should go in: the speed difference is {slip}, the straight-in limit {limit}. {values, plural, one {# value \
         behind this is} other {# values behind this are}} assumed."
        next "Check this first: {first, lower}.";
    within_on_assumed_short(slip: Value, limit: Value, values: Number) =
        "Should go in: {slip}, limit {limit} – on {values, plural, one {# assumed value} other {# assumed values}}.";
    tightest_on_assumed(load: Pick, figure: Label, value: Value, limit: Value, values: Number, first: Message) =
        "Nothing is past its limit{load, select, steady { under steady torque} other {}}. The tightest margin: \
         {value}, \
         limit {limit} ({figure, lower}). {values, plural, one {# value is} other {# values are}} assumed."
        next "Check this first: {first, lower}.";
    tightest_on_assumed_short(value: Value, limit: Value, values: Number) =
        "Nothing past a limit: {value}, limit {limit} – on {values, plural, one {# assumed value} other {# assumed \
         values}}.";
    steady_on_assumed_short(values: Number) =
        "Nothing past a limit under steady torque – on {values, plural, one {# assumed value} other {# assumed \
         values}}.";

    // ---- links ----
    friends_design(verdict: Message) = "{verdict} This design came by a link.";
    friends_design_short(verdict: Message) = "{verdict} From a link.";

    // ---- stages ----
    cause() = "Cause";
    pair() = "Pair";
    change() = "Change";
    make() = "Make";
    find_cause() = "Find the cause";
    see_pair() = "See the pair";
    change_it() = "Change it";
    make_it() = "Make it";

    // ---- the figures of a stage ----
    likely_cause() = "Most likely cause";
    past_its_limit() = "Past its limit by";
    checks_open() = "Open checks";
    metal_removed() = "Metal removed";
    worst_stress() = "Worst stress";
    operations() = "Operations";
    none_planned() = "no cut planned";
    tightest_tolerance() = "Tightest tolerance";
    cautions() = "Cautions";
    general_cautions() = "general ones only";
    no_cause() = "none yet";
    nothing_asked() = "no symptom ticked";
    needs(limit: Value) = "needs {limit}";
    needs_more(limit: Value) = "needs more than {limit}";
    not_below(limit: Value) = "must not be below {limit}";
    by_friction() = "held by friction alone";
    with_edge_breaks(width: Value) = "window {width} with edge breaks";
    limit(limit: Value) = "limit {limit}";
    steady(limit: Message) = "{limit}, steady pull";
    steady_only(limit: Message) = "{limit}, steady throttle only";
    target(target: Value) = "target {target}";
    out_of(all: Number) = "of {all}";
    plus_minus(tolerance: Value) = "± {tolerance}";

    // ---- what a change did ----
    slot_changed(place: Message, from: Value, to: Value) = "{place} {from} → {to}";
    slot_added(place: Message, to: Value) = "{place} {to}";
    slot_removed(place: Message) = "{place} removed";
    plan_changed() = "Plan changed";
    choice_changed() = "Choice changed";
    readings_changed() = "Readings changed";
    sizes_changed(sizes: Number) = "{sizes, plural, one {# value} other {# values}} changed";
    figure_moved(figure: Label, before: Value, after: Value) = "{figure} {before} → {after}";
    crossed(figure: Label, past: Pick) =
        "{figure} {past, select, past {is now past its limit} other {is within its limit again}}";
}
