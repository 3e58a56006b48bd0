//! The smallest cut for a target: offers, reasons, and what was searched.

sentences! { "suggest":
    // ---- what is cut ----
    remove_dogs(dogs: List) = "Remove {dogs}.";
    shorten_dogs(dogs: List, to: Value) = "Shorten {dogs} to {to}.";
    narrow_dogs(flank: Flank, dogs: List, off: Value, diameter: Length) =
        "Remove {off}, measured at Ø{diameter}, from the {flank, select, drive {drive} other {coast}} flanks of {dogs}.";
    all_dogs(side: Side) = "all dogs of ring {side}";
    break_dogs(dogs: List, to: Value) = "Break the tip edges of {dogs} to {to}.";
    searched(step: Value) =
        "Searched: each dog on its own (shortened, removed, either flank narrowed, edges broken), and every second dog \
         alike, in steps of {step}. At least 1 mm of each dog is left, one of the tallest dogs of each ring keeps its \
         height, and edge breaks do not exceed the holding depth. Not searched: other flank angles.";

    // ---- what it costs ----
    price(figure: Label, before: Value, now: Value, by: Message) = "{figure}: {before} → {now} ({by})";
    price_crosses(figure: Label, before: Value, now: Value, by: Message, limit: Value) =
        "{figure}: {before} → {now} ({by}), past the limit of {limit}";
    price_is_past(figure: Label, before: Value, now: Value, by: Message, limit: Value) =
        "{figure}: {before} → {now} ({by}), already past the limit of {limit}";
    more_by(share: Share) = "+{share}";
    less_by(share: Share) = "−{share}";
    new() = "new";

    // ---- sizes that the target depends on ----
    window_hangs(window: Time, least: Time, greatest: Time) =
        "With all sizes at these limits the window time is {least} to {greatest}; the target is {window}. A narrowed \
         limit that is a step of 0.01 mm wider can miss it. Other limits are the tolerance itself.";
    lash_hangs(lash: Angle, least: Angle, greatest: Angle) =
        "With all sizes at these limits the lash is {least} to {greatest}; the target is {lash}. A narrowed limit that \
         is a step of 0.01 mm wider can miss it. Other limits are the tolerance itself.";
    both_hang(window: Time, least_ms: Time, most_ms: Time, lash: Angle, least: Angle, greatest: Angle) =
        "With all sizes at these limits the window time is {least_ms} to {most_ms} and the lash {least} to {greatest}; \
         the targets are {window} and {lash}. A narrowed limit that is a step of 0.01 mm wider can miss one. Other \
         limits are the tolerance itself.";
}
