//! Checks: from a symptom to its cause.

sentences! { "page.trace":
    title() = "Checks";
    print_report() = "Print inspection report";
    as_found_only() = "The checks use the rings as found, without the planned work.";
    inspected_by(initials: Value) = "Inspection report. Inspected by {initials} on ______. Checked by ______.";

    // ---- step by step ----
    all_checks() = "All checks";
    steps() = "Checks, one by one";
    known_of(known: Number, all: Number) = "{known} of {all} known";
    back() = "Back";
    skip() = "Skip";
    next_check() = "Next check";
    most_likely() = "Most likely:";
    check_first() = "Check first:";
    not_known_yet() = "not known yet";
    nothing_asked() = "nothing asked yet: tick what the rider feels";
    of_its_limit(used: Value) = "{used} of its limit";
    where_to_measure() = "Where to measure";

    // ---- symptoms and verdict ----
    what_rider_feels() = "What does the rider feel?";
    when_it_happens() = "When does it happen?";
    checks_cleared(count: Number) =
        "{count, plural, one {# check is left out: its fault} other {# checks are left out: their faults}} would not show in this way.";
    what_to_tick() = "Tick one or more to see only the checks for them. With none ticked, all checks are shown.";
    show_checks() = "Show the checks for these";
    causes() = "Causes";
    verdict() = "Verdict";
    may_cause() = "Can cause:";

    // ---- measurements into the design ----
    apply_measurements() = "Apply the dog measurements";
    measurements_applied() = "The design now has the dog measurements.";
    polish_alone() = "What if only tips are polished?";
    polished_alone(others: Number) =
        "The tips of both rings are lapped and nothing else changes: rings as found, tip friction as \
            measured.{others, plural, =0 {} one { The other operation of the plan is removed; Undo restores it.} \
            other { The # other operations of the plan are removed; Undo restores them.}}";
    what_is_applied(shift: Message, load: Message, rework: Message) =
        "Overlap, friction, edges and flank angles are then used in {shift}, {load} and {rework}. Undo reverses this.";

    // ---- checks ----
    measured() = "Measured.";
    worked_out() = "Calculated from the other areas.";
    next() = "Next:";
    faces_look() = "Condition of tip faces";
    edges_look(side: Side) = "Condition of edges, ring {side}";
}
