//! The smallest cut for a target: offers, reasons, and what was searched.

sentences! { "suggest":
    // ---- what is cut ----
    remove_on_both(a: List, b: List) = "Remove every second dog of both rings ({a} and {b}).";
    remove_on_one(side: Side, dogs: List) = "Remove every second dog of ring {side} ({dogs}).";
    shorten_on_both(a: List, b: List, to: Value) =
        "Cut every second dog of both rings ({a} and {b}) down to {to}.";
    shorten_on_both_apart(a: List, b: List, to_a: Value, to_b: Value) =
        "Cut every second dog of both rings down: {a} to {to_a}, {b} to {to_b}.";
    shorten_on_one(side: Side, dogs: List, to: Value) =
        "Cut every second dog of ring {side} ({dogs}) down to {to}.";
    narrow_on_both(dogs: Pick, off: Value, diameter: Length) =
        "Remove {off}, measured at Ø{diameter}, from the coast flanks of {dogs, select, tallest {the tallest dogs} \
         left {the remaining dogs} other {all dogs}} of both rings.";
    narrow_on_one(side: Side, dogs: Pick, off: Value, diameter: Length) =
        "Remove {off}, measured at Ø{diameter}, from the coast flanks of {dogs, select, tallest {the tallest dogs} \
         left {the remaining dogs} other {all dogs}} of ring {side}.";

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
    window_hangs(window: Time) =
        "Where one limit is 0, keep to it: past it, the target window time of {window} is missed.";
    lash_hangs(lash: Angle) = "Where one limit is 0, keep to it: past it, the target lash of {lash} is missed.";
    both_hang(window: Time, lash: Angle) =
        "Where one limit is 0, keep to it: past it, the target window time of {window} or the target lash of {lash} is \
         missed.";
}
