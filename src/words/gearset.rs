//! The whole gearbox: what is worst about a shift.

sentences! { "gearset":
    too_fast(slip: Value, limit: Value) =
        "The speed difference of {slip} is above the straight-in limit of {limit}.";
    pushed_out(flank: Flank, force: Value) =
        "The {flank, select, drive {drive} other {coast}} flanks push the dogs apart with {force}.";
    too_shallow(by: Value) = "In its position the dogs can be {by} short of the holding depth.";
    hard_shift(from: Nth, to: Nth, reason: Message) = "{from}→{to} is the hard shift. {reason}";
    all_within(from: Nth, to: Nth) = "Nothing is past its limit. The tightest shift is {from}→{to}.";
    within() = "Nothing is past its limit.";
}
