//! A gear selected at rest: why it does not go in, and what rolling the machine does.

sentences! { "page.rest":
    title() = "At rest";
    lacks() = "Enter the gearbox first: how far a roll turns the dogs follows from it.";
    nothing_turns(gear: Nth, once: Share, roll: Value, rolled: Share) =
        "Gear {gear}, nothing turning: {once} go straight in; rolled {roll}, {rolled}.";
    sure(roll: Value) = "A roll of {roll} always brings a gap.";
    never() = "No gap is open: it cannot go in.";
    after_rubbing(roll: Value, freed: Share) =
        "After tips have rubbed to a standstill, every try begins tip on tip: rolling {roll} frees {freed} of them.";
    ease() =
        "Ease the foot while rolling: pressed tips take the free input shaft along, and no gap comes.";
    idling(slip: Value, first: Share) =
        "Engine idling, clutch pulled: the dogs meet at {slip}, and {first} go in at the first pass.";
    turns_on(clutch: Value, tips: Value) =
        "The clutch drags harder than the tips rub ({clutch} against {tips}): the input shaft turns on until a gap comes, \
         grinding until then.";
    stops(clutch: Value, tips: Value, locked: Share) =
        "The tips rub harder than the clutch drags ({tips} against {clutch}): {locked} stop tip on tip. Let the clutch out a \
         little, or roll.";
    gear() = "Gear";
    once() = "Straight in";
    rolled() = "Rolled";
    from_tips() = "Rolled, from tip on tip";
    always() = "Always after";
    slip() = "Idling: speed difference";
    first() = "In at the first pass";
    locked() = "Stop tip on tip";
    meaning() =
        "Straight in: share of all positions with nothing turning. Rolled: with the motorcycle rolled forward or back; a slack chain \
         takes its part of it first. Idling: the clutch pulled but dragging.";
}
