//! Set-up sheets, inspection, indexing and cutters.

sentences! { "sheet":
    // ---- index positions ----
    flank(side: Side, dog: Nth, flank: Flank) = "{side}{dog} {flank, select, drive {drive} other {coast}}";
    flank_off_axis(side: Side, dog: Nth, flank: Flank, off: Length) =
        "{side}{dog} {flank, select, drive {drive} other {coast}}, flank {off} off the axis";
    in_operation(operation: Number, position: Verbatim) = "operation {operation}: {position}";

    // ---- setting up ----
    clock(run_out: Length, moved: Length, angle: Value, diameter: Length) =
        "Clock the bore to within {run_out}, full reading (common practice, no source). That much can move a dog by \
         {moved}, which is {angle} at Ø{diameter}.";
    pick_up(side: Side, dog: Nth, drive: Angle, coast: Angle, diameter: Length, middle: Angle) =
        "Pick up the datum from dog {side}{dog} as found, at Ø{diameter} and just below the tip: its drive flank at \
         {drive} and its coast flank at {coast}. The middle between them is {middle}.";
    bolt_hole() =
        "If the gear has a bolt hole, an oil hole or a keyway, note its angle first: ______°. It is still there when \
         the dog is cut.";
    set_datum() =
        "Set the datum mark under the cutter with crank and dial at 0; positions count counter-clockwise from it.";
    step_round() = "Before the first cut, step a pointer round and check that it meets the dogs named.";
    one_way() =
        "Count every position from the mark, so errors do not add up, and turn one way only, so backlash stays on one \
         side.";
    cut_whole() = "The position of a whole dog is its middle.";
    cut_radial(diameter: Length) =
        "The position of a flank is its new tip edge at Ø{diameter}: remove the metal beyond it, away from the middle \
         of the dog.";
    cut_parallel() = "The position of a flank is the middle of its dog: set the cutter over to the side named.";
    tilt_under(operation: Nth, angle: Angle, over: Length, drop: Length) =
        "Operation {operation}: tilt the head by {angle}, the end of the cutter under the dog. At the web its corner is \
         set over by {over} from the tip edge. The far corner of the end is {drop} lower: stop there, and finish the \
         root by hand.";
    tilt_out(operation: Nth, angle: Angle, over: Length, drop: Length) =
        "Operation {operation}: tilt the head by {angle}, the end of the cutter away from the dog. At the web its \
         corner is set over by {over} from the tip edge. The far corner of the end is {drop} higher.";
    tilt_clears(tilt: Message, width: Length, clear: Length) =
        "{tilt} A cutter {width} wide then clears the next dog by {clear}.";
    tilt_touches(tilt: Message, width: Length, by: Length) =
        "{tilt} A cutter {width} wide then cuts {by} into the next dog: use a narrower one.";
    tilt_free(tilt: Message) = "{tilt} No other dog is in the way.";

    // ---- faces and chords ----
    tallest_tip() = "Tallest tip as found";
    web_face() = "Web between the dogs";
    back_face() = "Back of the web";
    between(dog: Nth, next: Nth) = "{dog}–{next}";
    chord(side: Side, dogs: List, chord: Value) = "{dogs, list, each {, }} of ring {side}: {chord}";

    // ---- cutter, wheel and stock ----
    widest_cutter() = "Widest cutter, dogs as found, clear of the root fillets";
    narrowest_cutter() = "Narrowest cutter, two passes per space";
    size(size: Value) = "{size}.";
    no_limit() = "No limit.";
    two_passes_leave_some() = "Two passes cannot clear a space.";
    cutter_too_wide(width: Length) = "The entered width of {width} does not fit: the cutter would touch the next dog.";
    cutter_narrow(width: Length) = "The entered width of {width} fits, but needs more than two passes per space.";
    cutter_fits(width: Length) = "The entered width of {width} fits.";
    across() = "Cutting across the full diameter";
    right_across() = "Possible: two flanks in one pass.";
    not_across() = "Not possible: the cutter would touch a dog. Retract in the bore.";
    wheel() = "Cut-off wheel";
    wheel_speed(diameter: Length, marked: Velocity, most: Value) = "Ø{diameter}, marked {marked}: at most {most}.";
    wheel_without_speed(diameter: Length, marked: Velocity) =
        "Ø{diameter}, marked {marked}: no speed can be calculated, so do not run it.";
    metal_removed() = "Metal removed";
    cooling() = "Cooling breaks";
    cool_after(pass: Length) =
        "After every pass of {pass}, or sooner if the steel gets too hot to touch (common practice, no source).";
}
