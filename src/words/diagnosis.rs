//! Checks from the pedal inwards, what they find, and the verdict.

sentences! { "diagnosis":
    // ---- stations, from the outside in ----
    clutch() = "Clutch";
    linkage() = "Pedal linkage";
    claw() = "Claw, stop and detent";
    depth() = "Depth and shims";
    faces() = "Tips, edges and flanks";
    layout() = "Dog layout";

    // ---- results ----
    within_limits() = "within limits";
    out_of_limits() = "out of limits";
    not_known() = "not measured";

    // ---- titles of checks ----
    clutch_release() = "Clutch drag";
    rod_angle() = "Angle between rod and lever";
    pedal_reach() = "Pedal travel to the stop";
    stop_gap() = "Gap at the stop";
    equal_gaps() = "Difference between the gaps";
    detent_return() = "Detent return";
    drum_play() = "Drum free play";
    neutral_clearance() = "Clearance in neutral";
    engaged_depth() = "Overlap in gear";
    fork_play() = "Fork play in its groove";
    tip_faces() = "Tip faces";
    tip_edges() = "Tip edges";
    drive_flanks() = "Drive flanks";
    coast_flanks() = "Coast flanks";
    entry_time() = "Time to engage";
    lash() = "Lash";
    clunk() = "Clunk on opening the throttle";

    // ---- next steps ----
    free_clutch() =
        "Cure the clutch drag: set the free play, bleed the release, then look for bent plates, a notched basket, and \
         oil that is too thick when cold.";
    turn_lever() =
        "Turn the lever on its splines, or change rod and arms, until rod and lever are square at mid-stroke.";
    more_travel() =
        "Give the pedal more travel, or turn the shaft farther for the same foot movement with a longer rod arm or a \
         shorter shaft lever.";
    shorter_foot_arm() =
        "Give the pedal more travel. With the pedal on the shaft, only a shorter foot arm turns it farther for the \
         same foot movement.";
    set_gaps() =
        "Turn the eccentric until both gaps are the same. Then make the stop thinner if they are too large, or thicker \
         if they are too small.";
    even_gaps() =
        "Turn the eccentric, or file one side of a fixed stop. File in small steps and measure after each: a drum that \
         overshoots can select the wrong gear.";
    free_roller() =
        "Free the roller on its pin, polish the detent wheel or fit a stronger spring. Find what drags on the drum and \
         the forks.";
    new_roller() =
        "Fit a new roller and pin, or a detent wheel without worn notches. Check the drum bearing for play.";
    shim_to_middle() =
        "Shim the sliding gear to the middle (Depth). Grind the tips only if shims are not enough.";
    check_fork() = "Check fork, groove and drum track for wear, then shim (Depth).";
    new_fork() = "Fit a new fork, or have its pads built up by a qualified shop. Check the fork for bending.";
    lap_tips() =
        "Lap the tips of both rings, then wash out all grit. “What if only tips are polished?” shows the effect of \
         that alone.";
    recut_edges() =
        "Re-cut the flanks until the rounding is gone, and enter the new edge break (Dogs); or enter a larger \
         holding depth and check the shift (Shift).";
    recut_to_undercut() =
        "Re-cut the flanks of both rings to a positive undercut (Plan): 3° to 7° is common practice, no source.";
    open_windows() =
        "Use fewer or narrower tall dogs for longer windows (Plan, target window time), or move the sliding gear \
         faster.";
    less_lash() =
        "Less lash takes a new layout: more dogs, narrower gaps, or half-height dogs between the tall ones (Dogs). A \
         cut only widens gaps.";
    lower_shock() =
        "Less lash takes a new layout: more dogs, narrower gaps, or half-height dogs between the tall ones (Dogs). A \
         cut only widens gaps. A softer driveline also lowers the clunk (Shift).";
    worn_or_other_rings() =
        "Flanks or splines are worn, or the drawing does not match these rings: list the dogs as measured.";

    // ---- clutch ----
    measure_clutch(limit: Speed) =
        "Measure it with the engine idling and the lever pulled. The dogs go straight in only below {limit}.";
    clutch_leaves(speed: Speed, limit: Speed) =
        "With the lever pulled the clutch still turns the dogs at {speed}; they go straight in only below {limit}.";
    /// Of a clutch that drags, measured at the wheel.
    at_the_wheel(wheel: Value, ratio: Ratio) =
        "That is {wheel} at the rear wheel in first gear, whose ratio from the dogs to the wheel is {ratio}.";

    // ---- what the design lacks ----
    needs(what: Message) = "Enter this first: {what, lower}.";

    // ---- linkage ----
    measure_rod_angle() =
        "Measure it, or enter the linkage under Pedal to fork. A pedal on the shaft has no rod to check.";
    rod_and_lever(angle: Angle, off: Angle, least: Angle, near: Angle) =
        "At the worst end of the stroke the angle is {angle}, {off} from line. The linkage binds within {least} of \
         line; stay {near} away.";
    measure_travel() = "Measure both ways, or enter linkage and claw under Pedal to fork.";
    travel_to_spare(stroke: Stroke, spare: Length) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, {spare} of foot travel is left \
         at the stop.";
    travel_short(stroke: Stroke, short: Length) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the foot is {short} short of \
         the stop.";
    stop_out_of_reach(stroke: Stroke) =
        "However far the pedal is {stroke, select, lift {lifted} other {pressed}}, the shaft does not reach its stop.";

    // ---- claw, stop and detent ----
    measure_gaps() = "Measure both ways, or enter the claw under Pedal to fork.";
    gap(stroke: Stroke, gap: Length) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the gap is {gap}.";
    gap_target(target: Length, least: Length, most: Length) =
        "The target is {target}; {least} to {most} is accepted (our own bounds).";
    both_gaps_missing() = "Measure the gaps of both strokes first.";
    gaps_differ(apart: Length, same: Length) =
        "The gaps differ by {apart}; up to {same} counts as equal (our own bound).";
    eccentric_evens(at: Angle) = "With the eccentric at {at} they are equal.";
    enter_detent() = "Enter the detent under Pedal to fork.";
    roller_stays(torque: FineTorque) =
        "Friction holds the roller where it is: the torque returning the drum is {torque}.";
    measure_drag() = "Hold the roller off and measure the torque that turns the drum.";
    roller_returns(torque: FineTorque, drag: FineTorque) =
        "The detent returns the drum with {torque}; turning the drum takes {drag}.";
    measure_drum_play() = "Measure it, or enter the detent under Pedal to fork.";
    enter_track() = "Enter the drum track under Pedal to fork: the overlap lost to free play depends on it.";
    drum_play_costs(play: Angle, cost: Length, left: Length, target: Length) =
        "Free play of {play} costs up to {cost} of overlap and leaves {left}; the target is {target}.";

    // ---- depth ----
    measure_clearance() = "Measure both sides, or enter the sizes under Depth.";
    clearance(facing: Facing, clear: Length) =
        "Towards {facing, select, this {this pair} other {the other pair}} the least clearance is {clear}.";
    clearance_limit() = "It must be greater than zero.";
    measure_overlap() = "Measure it, or enter the sizes under Depth.";
    engaged(engaged: Length, height: Length, target: Length) =
        "{engaged} is engaged on dogs {height} high; the target is three quarters of that, {target}.";
    measure_fork_play() = "Measure it, or enter fork and groove under Depth.";
    overlap_missing() = "Measure the overlap too, or enter the sizes under Depth.";
    fork_play_costs(play: Length, cost: Length, engaged: Length, without: Length, target: Length) =
        "Play of {play} costs {cost} of overlap: {engaged} is engaged; without play it would be {without}. The target \
         is {target}.";

    // ---- faces, edges and flanks ----
    rate_faces() = "Enter how the tips look, in words or as a number.";
    rings_do_not_engage() = "The rings jam or do not engage: see the findings.";
    shifts_that_stick(friction: Ratio, now: Share, slip: Speed, lapped: Share) =
        "With a tip friction of {friction}, {now} of all shifts at {slip} rub to a standstill or stop halfway in. With \
         both rings lapped it would be {lapped}.";
    faces_slip(lock: Value) = "At this speed difference the shift cannot hang tip on tip; below {lock} it can.";
    measure_edges() = "Measure both rings.";
    edges(a: Length, b: Length, from: Length, hold: Length) =
        "Edges rounded by {a} and {b} hold only from an overlap of {from}; the holding depth is {hold}.";
    measure_flank() = "Measure it; the drawing may show a new ring.";
    flank_draws_in(angle: Angle, force: Force, each: Force) =
        "An undercut of {angle} draws the gears together with {force} for each {each} on the flank.";
    flank_pushes_out(angle: Angle, force: Force, each: Force) =
        "The flank leans {angle} the wrong way and pushes the gears apart with {force} for each {each} on it. Do not \
         count on friction to hold them.";
    straight_flanks() =
        "Straight flanks neither draw in nor push out: only friction and the detent hold the gear in.";

    // ---- layout ----
    pair_unknown() = "The pair cannot be calculated: see the findings.";
    speed_difference(slip: Speed, limit: Speed) =
        "The shift of the design has a speed difference of {slip}; the dogs go straight in only below {limit}.";
    speed_difference_low(from: Nth, to: Nth, slip: Speed, limit: Speed) =
        "From gear {from} to {to} the speed difference is {slip}; the dogs go straight in only below {limit}.";
    no_lash_drawn() = "No window is open at full depth, so the drawing has no lash to compare with.";
    measure_lash() = "Measure it at the dogs.";
    lash_measured(measured: Angle, drawn: Angle, wide: Pick, same: Angle, limit: Angle) =
        "{measured} measured, {drawn} as drawn{wide, select, wide {, which is wide already} other {}}. Up to {same} \
         more counts as equal, and a lash of up to {limit} is not felt as a clunk (our own bounds).";
    lash_drawn(drawn: Angle, limit: Angle) =
        "{drawn} as drawn, a wide layout. A lash of up to {limit} is not felt as a clunk (our own bound).";
    no_load_carried() = "No load is carried: the rings jam or do not engage.";
    clunk_stress(lash: Angle, torque: Torque, stress: Stress, allowable: Stress) =
        "Opening the throttle takes up a lash of {lash}: the clunk torque is {torque} and the root stress {stress}. \
         The allowable stress under Load is {allowable}.";

    // ---- verdict ----
    nothing_measured() = "Nothing is measured yet, so there is no verdict.";
    nothing_explains() = "No check done so far explains the symptoms.";
    all_within_limits() = "All checks done so far are within limits.";
    some_out_of_limits(checks: Number, outermost: Message) =
        "{checks, plural, one {“{outermost}” is out of limits.} other {# checks are out of limits; the outermost is \
         “{outermost}”.}} Tick what the rider feels to see which checks explain it.";
    furthest_and_outermost(cause: Message) =
        "Furthest out of limits: “{cause}”. It is also the outermost: begin there.";
    furthest(cause: Message, outermost: Message) =
        "Furthest out of limits: “{cause}”. Work from the outside in: begin with “{outermost}”.";
    still_open(checks: Number) = "{checks, plural, one {One check is} other {# checks are}} still open.";
}
