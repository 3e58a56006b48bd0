//! Names and notes of exported files.

sentences! { "export":
    // ---- what a file holds ----
    machining_drawing_dxf() = "Machining drawing (DXF)";
    machining_drawing_svg() = "Machining drawing (SVG)";
    index_positions() = "Index positions (CSV)";
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
    part(title: Verbatim, side: Side) = "{title}, ring {side}";
    untitled_part(side: Side) = "Ring {side}";
    facets_as_cut(side: Side, title: Verbatim) = "Ring {side}, as cut. {title}";
    facets_as_found(side: Side, title: Verbatim) = "Ring {side}, as found. {title}";
    heading() = "heading";
    key() = "key";
    result() = "result";
    value() = "value";
    unit() = "unit";
    as_opened() = "as opened";
    verdict() = "verdict";
    unrounded() = "unrounded";
}
