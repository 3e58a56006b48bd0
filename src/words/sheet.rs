//! Set-up sheets, inspection, indexing and cutters.

sentences! { "sheet":
    // ---- index positions ----
    flank(side: Side, dog: Nth, flank: Flank) = "{side}{dog} {flank, select, drive {drive} other {coast}}";
    flank_off_axis(side: Side, dog: Nth, flank: Flank, off: Length) =
        "{side}{dog} {flank, select, drive {drive} other {coast}}, flank {off} off the axis";
    in_operation(operation: Number, position: Verbatim) = "operation {operation}: {position}";

    // ---- cutter, wheel and stock ----
    widest_cutter() = "Widest cutter between the dogs as found, leaving the root fillets";
    narrowest_cutter() = "Narrowest cutter that clears a space in two passes";
    size(size: Value) = "{size}.";
    no_limit() = "No limit.";
    two_passes_leave_some() = "Two passes do not clear a space.";
    cutter_too_wide(width: Length) = "The {width} entered does not fit: it would touch the next dog.";
    cutter_narrow(width: Length) = "The {width} entered fits, but needs more than two passes for a space.";
    cutter_fits(width: Length) = "The {width} entered fits.";
    across() = "Cutting across the ring";
    right_across() = "Across the full diameter: two flanks in one pass.";
    not_across() = "Not across the full diameter: retract in the bore, because a dog is opposite.";
    wheel() = "Cut-off wheel";
    wheel_speed(diameter: Length, marked: Velocity, most: Value) = "Ø{diameter}, marked {marked}: at most {most}.";
    wheel_without_speed(diameter: Length, marked: Velocity) = "Ø{diameter}, marked {marked}: do not run it.";
    metal_removed() = "Metal removed";
    cooling() = "Cooling breaks";
    cool_after(pass: Length) =
        "After every pass of {pass}, or sooner if the steel gets too hot to touch (common practice, no source).";
}
