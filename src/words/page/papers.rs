//! Set-up sheets and inspection.

sentences! { "page.papers":
    title() = "Sheets";
    no_sheets() = "No sheets: the design cannot be computed. The findings in the other areas say why.";
    paper() = "Paper";
    print() = "Print the sheets";
    print_at_full_size() =
        "Print at 100 % (“actual size”): the square on each drawing must measure 10 mm. Values typed into the \
         inspection table are printed too; the button below the table puts them into the design.";
    shop_equipment() = "Shop equipment";
    plates() = "Index plates";
    plates_how() =
        "Holes of the circles of each plate, plates apart by a semicolon, such as 15 16 17; 21 23. Both rings are \
         indexed on one plate.";
    plates_wrong() =
        "This is not a list of hole circles, so the old plates stay. Write whole numbers from 1 to 999, with a \
         semicolon between plates.";

    // ---- the head of a sheet ----
    sheet_of(side: Side) = "Set-up sheet of ring {side}";
    sheet_head(title: Given, side: Side) = "{title} – Ring {side}";
    drawn_by(who: Given) = "Set-up sheet for the dogs. Drawn by {who}.";
    made_by() = "Made by ______________ on __________.";
    checked_by() = "Checked by ______________.";
    cover() = "Cover sheet";
    every_gear() = "Every gear";
    of_gear(title: Given, gear: Nth) = "{title}, gear {gear}";
    sheet_of_gear(side: Side, gear: Nth) = "Set-up sheet of ring {side}, gear {gear}";
    cover_head(title: Given) = "{title} – What goes where";
    cover_why() =
        "One row for each gear, in order. Ring A is on the sliding gear, ring B on the free wheel. Mark every ring with gear \
         and letter before you take it off: rings of one size fit each other's place.";
    cover_table() = "Gears, rings and sheets";
    cover_gear() = "Gear";
    cover_teeth() = "Teeth, driving / driven";
    cover_moved() = "Sliding gear / fork";
    cover_notch() = "Notch";
    cover_rings() = "Rings";
    cover_ring(side: Side) = "Ring {side}: sheet";
    own_rings() = "own";
    rings_of(gear: Nth) = "same as gear {gear}";
    cuts(sheet: Number, dogs: Number, cuts: Number) =
        "{sheet}: {dogs} dogs, {cuts, plural, =0 {no cut} one {# cut} other {# cuts}}";
    cover_shims() = "End float and shims";
    cover_shaft(shaft: Message, float: Length, shim: Length) = "{shaft}: end float {float}, shim {shim}";
    whole_archive() = "All rings as files (ZIP)";
    whole_archive_why() =
        "The archive has a folder for each gear with drawings, index positions, STEP and STL of both rings and its \
         report, and the whole gearbox as JSON.";
    making_archive(gear: Nth) = "Making the files of gear {gear} …";
    no_archive() = "The archive could not be made.";
    scan() = "Scan with a phone to open this design";
    check_first() = "Check this first";

    // ---- the drawing ----
    true_size(side: Side) = "Ring {side} at true size";
    drawing_of(side: Side) = "Machining drawing of ring {side}";
    drawing_key() =
        "Seen from the dog side; angles counter-clockwise from the datum. Hatched: metal to remove. Thick lines: tips. \
         Dashed lines: roots. Sizes are to sharp corners. An asterisk beside a number: that dog is shortened.";

    // ---- setting up ----
    set_up() = "Setting up";
    depths() = "Depth of cut";
    depths_of(side: Side) = "Depth of cut on ring {side}";
    depths_from() = "Depths from";
    from_own_tip() = "From its own tip";
    from_face(face: Message) = "From: {face, lower}";
    left_over_web() = "Left over the web";
    cautions_of_cut() = "Cautions of this cut";

    // ---- operations ----
    operations() = "Operations";
    nothing_planned() = "No cut planned on this ring.";
    go_to_plan() = "Go to Plan";
    in_this_order() = "Operations, in this order";
    operations_on(side: Side) = "Operations on ring {side}";
    number() = "No.";
    work() = "Work";
    dogs() = "Dogs";
    removed() = "Metal removed";
    case_left() = "Case left";
    done() = "Done";

    // ---- the index table ----
    index_table() = "Index table";
    index_table_of(side: Side) = "Index table of ring {side}";
    no_head() = "No dividing-head setting was found for these positions.";
    head_exact(ratio: Number, circle: Number, plate: Verbatim) =
        "Dividing head {ratio}:1, {circle}-hole circle, plate {plate}: every position falls on a hole.";
    head_near(ratio: Number, circle: Number, plate: Verbatim, error: Verbatim, rim: Length) =
        "Dividing head {ratio}:1, {circle}-hole circle, plate {plate}: nearest holes, off by at most {error}′, which \
         is {rim} at the rim.";
    rotary_table(ratio: Number) = "Rotary table {ratio}:1.";
    turn_clockwise() = "Turn the work clockwise, seen from its dog side.";
    operation() = "Op.";
    index_to() = "Dog or flank";
    position() = "Position";
    crank() = "Crank: turns + holes";
    from_last() = "Crank: from previous";
    error() = "Error";
    dial() = "Table: turns + dial";

    // ---- tools ----
    tools() = "Cutter, wheel and stock";
    grit() = "Lapping grit";
    grits(list: Verbatim) =
        "Finest first: {list} (median grain size to FEPA, ISO 6344). CAMI grits finer than 220 carry the same \
         numbers but differ in size.";

    // ---- inspection ----
    inspection() = "Inspection after cutting";
    inspection_of(side: Side) = "Inspection of ring {side}";
    how_to_inspect(grade: Verbatim) =
        "Nominal sizes with their own tolerances, or those of ISO 2768-1 {grade}, and space for what you measure. \
         [Centres|Centers] and widths are those of the tip at the mean diameter. The general tolerance of a \
         [centre|center] is far too coarse for dogs that share a load.";
    measured(side: Side, dog: Nth, size: Label) = "Dog {side}{dog}: measured {size, lower}";
    use_measured(side: Side) = "Use measured sizes, ring {side}";
    taken(side: Side, dogs: Number) =
        "Ring {side} now has the measured sizes: its {dogs, plural, one {# dog is} other {# dogs are}} listed under \
         Dogs, numbered from 1. Blank cells count as nominal, and the overlap is corrected for the measured height. \
         Undo reverses this.";
    taken_with_plan(side: Side, dogs: Number, plan: List) =
        "Ring {side} now has the measured sizes: its {dogs, plural, one {# dog is} other {# dogs are}} listed under \
         Dogs, numbered from 1. Blank cells count as nominal, and the overlap is corrected for the measured height. \
         {plan, list, each { }} Undo reverses this.";

    chords_at(diameter: Length) =
        "Chord over each dog at Ø{diameter}, where a calliper over the rim reaches, just below the edge break:";
    gaps_at(diameter: Length) = "Chord over each gap between dogs at Ø{diameter}, at the same depth:";
    carrying_flanks(diameter: Length) = "Flanks that carry, at the tip and Ø{diameter}, from the datum:";
    figures_as_got(side: Side) = "Figures with ring {side} as measured";
    planned() = "as planned";
    got() = "as measured";

    // ---- the bench check ----
    bench() = "Bench check";
    bench_head(title: Given) = "{title} – Bench check";
    measured_by() = "Measured by ______________ on __________.";
    bench_measures() = "With the case open";
    how_to_bench() =
        "Turn the drum to each position, let it settle, and measure. What is typed here is also on Symptoms, and every \
         check there uses it. Limits are worst case over the tolerances of the stack-up.";
    detent() = "Drum";
    measure() = "Measure";
    gauge() = "Gauge";
    expected() = "Expected";
    limits() = "Limits";
    judgement() = "Result";
    parts_in_order(facing: Facing) =
        "Shims, washers and circlips in order, {facing, select, this {to this pair} other {to the other pair}}";

    // ---- choices ----
    paper_a4() = "A4";
    paper_letter() = "US letter";
}
