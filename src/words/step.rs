//! Steps of the work, as a machinist reads them.

sentences! { "step":
    // ---- what is done ----
    named(work: Label) = "{work}";
    remove() = "Remove down to the web";
    shorten(to: Value) = "Shorten to {to}";
    narrow_drive(stock: Value, angle: Angle, diameter: Length) =
        "Narrow the drive flank by {stock} ({angle} at Ø{diameter})";
    narrow_coast(stock: Value, angle: Angle, diameter: Length) =
        "Narrow the coast flank by {stock} ({angle} at Ø{diameter})";
    recut_drive(to: Angle) = "Re-cut the drive flank to an undercut of {to}";
    recut_coast(to: Angle) = "Re-cut the coast flank to an undercut of {to}";
    lap(to: Value, stock: Value) = "Lap the tips on a plate to a height of {to}: {stock} off the tallest";
    break_edges(to: Value) = "Break the tip edges to {to}";
    only_larger(step: Message, by: Length) = "{step}, +{by}/−0";
    only_smaller(step: Message, by: Length) = "{step}, +0/−{by}";
    within(step: Message, plus: Length, minus: Length) = "{step}, +{plus}/−{minus}";

    // ---- what comes off, and what is left ----
    stock(volume: Volume, mass: Grams) = "{volume}, {mass}";
    done(works: List) = "Done and removed from the plan: {works}.";
    to_do(works: List) = "Left in the plan where a size is still too large: {works}.";
}
