//! Names and notes of exported files.

sentences! { "export":
    // ---- what a file holds ----
    machining_drawing_dxf() = "Machining drawing (DXF)";
    machining_drawing_svg() = "Machining drawing (SVG)";
    index_positions() = "Index positions (CSV)";
    index_program() = "Index positions for a rotary axis (ISO 6983)";
    solid_as_cut_step() = "Solid as cut (STEP)";
    as_cut_stl() = "As cut, for a printed trial gauge (STL)";
    as_found_stl() = "As found (STL)";
    dog_positions() = "Dog positions (CSV)";
    report() = "All numbers and findings (JSON)";
    chances() = "Chances over the speed difference (CSV)";
    results() = "Save as CSV";
    picture_of_solids() = "Picture of the solids (SVG)";
    svg() = "(SVG)";
    of_ring(side: Side, file: Message) = "Ring {side}, {file, lower}";
    of_view(view: Label, file: Message) = "{view} {file}";

    // ---- why there is no file ----
    nothing_to_index(side: Side) =
        "Nothing on ring {side} has to be indexed."
        next "Under Plan, add work on single dogs or flanks.";
    no_chances() =
        "There are no chances to export: the rings jam or are not engaged."
        next "The findings say what keeps the rings from engaging.";

    // ---- inside files ----
    nc_head(side: Side) = "Ring {side}: index positions in degrees for rotary axis A.";
    nc_direction() =
        "Positions count counter-clockwise from the datum seen from the dog side. Set A0 with the datum under the \
         cutter. Step a pointer round first: if the dogs come the wrong way, change every sign.";
    nc_by_hand() =
        "No feed and no spindle and no other axis. Cut by hand at each stop and retract before you go on: the axis \
         turns at rapid speed.";
    nc_datum() = "datum";
    part(title: Verbatim, side: Side) = "{title}, ring {side}";
    untitled_part(side: Side) = "Ring {side}";
    facets_as_cut(side: Side, title: Verbatim) = "Ring {side}, as cut. {title}";
    facets_as_found(side: Side, title: Verbatim) = "Ring {side}, as found. {title}";
    compared() = "Layouts under the same conditions; only the rings differ. Calculated only.";
    swept(figure: Label, input: Label) = "{figure}: {input, lower} swept. Calculated only.";
    swept_each(input: Label) = "A column for each value of: {input, lower}.";
    column_is(key: Verbatim, unit: Verbatim, name: Label, meaning: Label) = "{key} in {unit}: {name}. {meaning}";
    shift_in_time(from: Nth, to: Nth, speed: Speed) =
        "Shift from gear {from} to gear {to} at an engine speed of {speed}. Calculated only.";
    since_cut() = "time_ms in ms: time since the cut.";
    torque_at_old() = "torque_nm in N·m: torque at the old dogs; minus on the coast flanks.";
    overlap_left() = "overlap_mm in mm: overlap of the old dogs that is left.";
    since_begun() = "time_ms in ms: time since the cut or the blip began.";
    engine_speed() = "engine_rpm in rpm: engine speed; where dogs hold, that of the gear.";
    torque_at_holding() = "torque_nm in N·m: torque at the dogs that hold; minus on the coast flanks.";
    overlap_of_old() = "old_overlap_mm in mm: overlap of the old dogs.";
    overlap_of_new() = "new_overlap_mm in mm: overlap of the new dogs.";
    curves_speed() = "speed_difference_rpm in rpm: speed difference at the dogs.";
    curves_share() =
        "Every other column, no unit: the share of all start phases from 0 to 1 that is in at the first pass, in a layout.";
    without_unit() = "no unit";
    figure_of(what: Given, title: Given) = "{what}. {title}.";
    made_with(version: Verbatim) = "Calculated with Crenel {version}.";
    heading() = "heading";
    key() = "key";
    result() = "result";
    value() = "value";
    unit() = "unit";
    as_opened() = "as opened";
    verdict() = "verdict";
    unrounded() = "unrounded";
}
