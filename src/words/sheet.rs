//! Set-up sheets, inspection, indexing and cutters.

sentences! { "sheet":
    // ---- index positions ----
    flank(side: Side, dog: Nth, flank: Flank) = "{side}{dog} {flank, select, drive {drive} other {coast}}";
    flank_off_axis(side: Side, dog: Nth, flank: Flank, off: Length) =
        "{side}{dog} {flank, select, drive {drive} other {coast}}, flank {off} off the axis";
    in_operation(operation: Number, position: Verbatim) = "operation {operation}: {position}";

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
