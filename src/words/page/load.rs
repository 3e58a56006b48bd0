//! Load and strength.

sentences! { "page.load":
    title() = "Load";
    picture_forces() = "Forces";

    // ---- applied load ----
    applied_load() = "Applied load";
    torque() = "Torque";
    case_throttle() = "throttle open, steady";
    case_largest() = "largest of steady pull, shock and clunk";
    carried_by() = "Load sharing";
    rule_half() = "all dogs if 3 or fewer, otherwise half";
    rule_all() = "all dogs that meet";
    rule_third() = "a third (dogs ground by hand)";
    rule_spacing() = "from the measured spacing";
    shocks_count_twice(limits: Message) =
        "The suggested values under “{limits}” already allow for shocks (application factor 2). With shock or \
            clunk as the load, shocks are counted twice.";
    /// In place of a flank pressure, for dogs that meet by less than the holding depth.
    on_edge() = "edges only";
    where_from() =
        "With a gearbox entered, the torque at open throttle is calculated from it. As the throttle opens, the \
            clunk loads the drive flanks; as it closes, the coast flanks. The shock of a shift can load either. To \
            share the load by spacing, list each dog of the rings as measured.";

    // ---- limits ----
    allowable_stresses() = "Allowable stresses";
    typical_pressure() = "Typical pressure";
    typical_shear() = "Typical shear";
    core_yield() = "Core yield strength";
    empty_is_no_limit() = "Leave lash or clunk blank for no limit.";
    not_checked() =
        "These are starting points, not limits of your gears. Not checked: impact fatigue, stress concentration at \
            the root fillet, spalling of the case, existing cracks.";

    // ---- friction ----
    holding() = "Holding";
    friction_does_not_hold() =
        "Friction makes the gear harder to disengage under load. It does not count as holding, because vibration \
            reduces it.";

    // ---- tables ----
    steady_beside(steady: Value, clunk: Value) =
        "Under a steady {steady}. As the throttle opens, the clunk reaches {clunk}: it is not in these numbers.";
    steady_alone(steady: Value) = "Under a steady {steady}. Shift shock and clunk are not in these numbers.";
    dogs_under_load() = "Dogs under load";
    load_table(flank: Flank) =
        "{flank, select, drive {Dogs under load at full depth, under power} \
            other {Dogs under load at full depth, [on the overrun|while coasting]}}";
    nothing_carried() = "No dog carries load: the rings jam or are not engaged.";
    engaged_height() = "Flank engagement";
    flank_pressure() = "Flank pressure";
    root_of(side: Side) = "Root of {side}";
    shear() = "Shear";
    bending() = "Bending";
    combined() = "Combined";
    pair(a: Nth, b: Nth) = "A{a} on B{b}";
    pairs(pairs: Number) = "{pairs, plural, one {# pair} other {# pairs}}";
    listed(pairs: List) = "{pairs, list, each {, } last {, }}";
    limit() = "Limit";
    no_more_than(limit: Value) = "at most {limit}";
    /// What a limit comes from: words for the number, or the user.
    basis(limit: Value, name: Label) = "{limit}: {name}.";
    basis_entered(limit: Value) = "{limit}: as entered.";
    limits_from() = "Limits:";
    sources_of_limits() = "Sources of the limits";
    past() = "past the limit";
    combined_is() = "Combined stress is bending with the peak shear, which is 1.5 times the mean shear shown.";
    gear_table() = "Load on these dogs in each gear";
    torque_at_dogs() = "Torque at the dogs";
    peak_per_dog() = "Peak per dog";
    combined_stress() = "Combined root stress";
    combined_on_overrun() = "Combined, [overrun|coast]";
}
