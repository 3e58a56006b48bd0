//! Gauges, what is wrong with a reading, and what contact marks say.

sentences! { "measured":
    // ---- gauges ----
    chord() = "Chord over dog";
    root_chord() = "Chord over root";
    width() = "Parallel width";
    pin_radius() = "Pin [centre|center] radius, gap after dog";
    over_pins() = "Size over two pins, gap after dog and opposite";
    drive_on_table() = "Drive flank on table";
    coast_on_table() = "Coast flank on table";
    drive_by_crank() = "Drive flank by dividing head";
    coast_by_crank() = "Coast flank by dividing head";
    drive_dial() = "Dial on drive flank";
    coast_dial() = "Dial on coast flank";
    height_from_web() = "Height from web";
    below_tallest() = "Below tallest tip";
    height_from_face() = "Height from gear face";
    drive_back_cut() = "Undercut of drive flank";
    coast_back_cut() = "Undercut of coast flank";
    edge_radius() = "Edge radius, by radius gauge";
    edge_pin() = "Edge, diameter of matching pin";
    drive_in_photo() = "Drive flank in photograph";
    coast_in_photo() = "Coast flank in photograph";
    root_fillet() = "Root fillet, by radius gauge";

    // ---- what a gauge is set by ----
    at_diameter() = "at diameter";
    with_pin() = "pin diameter";
    at_radius() = "at radius";
    by_ratio() = "worm ratio";
    web_below() = "web below gear face";

    // ---- what is wrong with a reading ----
    reading_out_of_range(dog: Nth, value: Value, least: Value, most: Value) =
        "Dog {dog}: {value} is outside {least} to {most}."
        next "Measure again, or check the diameter, pin or ratio of the column.";
    set_out_of_range(value: Value, least: Value, most: Value) =
        "{value} is outside {least} to {most}."
        next "Enter the diameter, pin or ratio that was used.";
    bad_uncertainty(value: Value) =
        "An uncertainty of {value} is not above 0."
        next "Enter the uncertainty as one standard deviation.";
    reach_out_of_range(value: Value, least: Value, most: Value) =
        "{value} is outside {least} to {most}."
        next "Enter how far below the tips the pin or the jaws reached.";
    out_of_reach() =
        "No ring comes near these readings."
        next "Check that each pin fits its gap, and that each diameter is the one that was used.";
    gross_error(dog: Nth, off: Value, sigma: Value) =
        "Dog {dog}: {off} away from what the other readings say; that is more than three times {sigma}."
        next "Measure this one again.";
    closing_error(off: Angle, sigma: Angle) =
        "Dogs and gaps together miss 360° by {off}; that is more than three times {sigma}."
        next "Measure again: one reading is wrong, and none of the others shows which.";

    // ---- contact marks ----
    all_carry() = "All dogs carry.";
    stands_out(dog: Nth) = "Dog {dog} carries alone: it is out of its place. Check its index.";
    stands_back(dog: Nth) = "Dog {dog} alone does not carry: it is out of its place. Check its index.";
    one_side(toward: Angle) =
        "Only the dogs on one side carry, about {toward} from the datum, once a turn: check for a bent shaft, \
         run-out or a tilted gear before any dog is cut.";
    scattered() = "Dogs in several places carry: the spacing is uneven.";
}
