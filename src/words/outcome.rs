//! How a shift and a stroke of the pedal end.

sentences! { "outcome":
    shift(outcome: Outcome) =
        "{outcome, select, straight_in {Straight in} after_rubbing {In after rubbing} after_strikes {Thrown back, \
         then in} half_in {Stops halfway in} locked {Hangs tip on tip} other {Not in at the end}}";
    drum(ends: Ends) =
        "{ends, select, back {Falls back on pedal release} held {Stays where it was pushed} between {Stays between \
         positions: a false neutral} next {Reaches the next position} other {Overshoots the next position}}";

    // ---- one shift, played ----
    ended(outcome: Message, time: Value) = "{outcome} after {time}.";
    not_in_after(time: Value) = "Not in after {time}.";
    thrown_back_and_not_in_after(strikes: Number, time: Value) =
        "Thrown back {strikes, plural, one {once} other {# times}}, and not in after {time}.";
    ended_in_after_strikes(strikes: Number, time: Value) =
        "Thrown back {strikes, plural, one {once} other {# times}}, then in after {time}.";
    ended_after_strikes(strikes: Number, outcome: Message, time: Value) =
        "Thrown back {strikes, plural, one {once} other {# times}}; {outcome, lower} after {time}.";
    at_the_end(time: Value, ended: Message) = "{time}: {ended, lower}";
    at(time: Value, doing: Pick, overlap: Value, slip: Value, event: Nth, events: Number) =
        "{time}: {doing, select, slides {slides in along the flank} falls {falls in} lowered {rubs on a short dog} \
         other {rubs tip on tip}}, overlap {overlap}, speed difference {slip}. Event {event} of {events}.";
    at_after_strike(time: Value, doing: Pick, overlap: Value, slip: Value, event: Nth, events: Number) =
        "{time}: thrown back out, then {doing, select, slides {slides in along the flank} falls {falls in} lowered \
         {rubs on a short dog} other {rubs tip on tip}}, overlap {overlap}, speed difference {slip}. Event {event} of \
         {events}.";

    // ---- chances and gears ----
    speed_difference() = "Speed difference";
    in_at_first_pass() = "In at the first pass";
    in_later_too() = "In, later passes included";
    hardest(up: Pick, own: Pick, from: Nth, to: Nth, step: Ratio, engine: Speed, slip: Speed) =
        "Hardest {up, select, up {upshift} other {downshift}} {own, select, own {into these dogs} other {if \
         every gear has \
         these dogs}}: {from}→{to}. The ratio step is {step}; at an engine speed of {engine} the speed \
         difference is {slip}.";
    next_hardest(from: Nth, to: Nth, slip: Speed) = "Next is {from}→{to} with {slip}.";
    over_straight_in(from: Nth, to: Nth, limit: Speed) = "{from}→{to} is over the straight-in limit: no shift goes straight in above {limit}.";

    // ---- a stroke of the pedal ----
    gap_left(place: Pick, gap: Length) =
        "{place, select, before {At the end of the pedal travel, short of the stop,} other {At the stop}} a gap of \
         {gap} is left.";
    pin_past_home(place: Pick, by: Length) =
        "{place, select, before {At the end of the pedal travel, short of the stop,} other {At the stop}} the pin is \
         pushed {by} past its position.";
    drum_pushed(place: Pick, pushed: Angle, step: Angle) =
        "{place, select, before {At the end of the pedal travel, short of the stop,} other {At the stop}} the drum is \
         pushed {pushed} of its {step} step.";
    drum_after_stroke(drum: Message) = "The drum {drum, lower}.";
}
