//! A photograph that becomes readings.

sentences! { "page.photo":
    // ---- the way here ----
    from_photo() = "From a photograph";
    to_table() = "Close the photograph";
    how() =
        "Photograph the tips square on, from eight ring diameters or more, in even light; or lay the gear on a \
         flat-bed scanner. The picture stays in this browser.";
    choose() = "Choose picture";
    choose_file() = "Picture of the dogs";
    camera() = "Use camera";
    drop_here() = "Or drop a picture here, or paste one.";
    opening() = "Opening the picture.";
    measuring() = "Measuring.";

    // ---- what cannot be opened ----
    empty() =
        "The file is empty."
        next "Choose another picture.";
    heif() =
        "This browser cannot read HEIC pictures."
        next "Save the picture as JPEG, or set the camera to its most compatible format.";
    not_a_picture() =
        "This file is not a picture that the browser can read, or it is damaged."
        next "Save it as JPEG or PNG, and open that.";
    too_coarse(width: Number, height: Number) =
        "The picture has only {width} × {height} px."
        next "Use the original, with at least 600 px across the ring.";

    // ---- the picture in the file ----
    keep() = "Keep the picture in the file";
    keep_how(most: Number) = "Scaled to {most} px with its marks. The link never has it.";
    kept(size: Number) = "{size} kB more in the file: save it before you close the page. The link never has the picture.";
    open_kept(number: Number) = "Open kept picture {number}";
    kept_damaged() =
        "The picture in the file is damaged."
        next "Open the original.";
    marks_damaged() =
        "What was marked on this picture cannot be read."
        next "Check circles and flanks before you use them.";
    not_kept() =
        "The picture cannot be made small enough for the file."
        next "Keep the original beside the file.";
    kept_full(most: Number) =
        "The file has {most} pictures already, and no room for more."
        next "Open one of them and untick it.";

    // ---- the picture ----
    picture_of(side: Side) = "Picture of ring {side}";
    of_pixels(width: Number, height: Number) = "{width} × {height} px.";
    shrunk(width: Number, height: Number) = "Shrunk to {width} × {height} px.";
    middle() = "[Centre|Center] of both circles";
    to_the_right() = "Outer circle, right";
    upwards() = "Outer circle, top";
    inner() = "Inner circle";
    at_point(x: Number, y: Number) = "{x}, {y} px";
    lay_circles() =
        "Drag the circles onto the outer and inner ends of the tips: they snap to the edges. Arrow keys move a \
         handle by 1 px, a flank by a tenth.";

    // ---- what is known ----
    what_is_known() = "What is known";
    known() = "Known diameter";
    known_outer() = "Outer circle";
    known_inner() = "Inner circle";
    diameter() = "Diameter";
    tips_are() = "Tips are";
    tips_either() = "either";
    tips_bright() = "brighter than the gaps";
    tips_dark() = "darker than the gaps";
    other_circles() = "Circles off the tips";
    outer_height() = "Outer circle above the tips";
    inner_height() = "Inner circle above the tips";
    heights_how() =
        "For a circle on the rim or the bore in place of the ends of the tips: its height is needed, minus below \
         the tips. 5 mm that nobody entered cost 1.9° at 10° of tilt.";
    lowered_dogs() = "Dogs cut down";
    lowered_how() =
        "How far each tip is below the tall ones. The flanks are corrected for it, with ±0.2 mm of uncertainty.";
    below_of(dog: Nth) = "Dog {dog}, below the others";
    measure() = "Measure again";

    // ---- what was found ----
    found(dogs: Number) =
        "{dogs, plural, one {# dog} other {# dogs}} found.";
    expected(dogs: Number) =
        "The ring has {dogs, plural, one {# dog} other {# dogs}} in the table of readings: change one or the other.";
    tilt(tilt: Angle, cost: Angle) =
        "The camera was {tilt} off square: an edge 1 mm above or below the tips is read up to {cost} wrong.";
    lens(cost: Verbatim) =
        "A lens that bends by 1 % turns a flank by up to {cost}°: keep the ring in the middle of the picture.";
    lower(dogs: Verbatim) =
        "Off the circles of the others: {dogs}. Enter the height of a dog that was cut down.";
    diameters(outer: Length, inner: Length) = "Tips from Ø{inner} to Ø{outer}.";
    refused(cost: Angle) =
        "Too far off square: 1 mm of height costs {cost}, more than 0.5°."
        next "Take another picture: farther away, squarer, in even light, or on a flat-bed scanner.";
    unsure(flanks: Number) =
        "{flanks, plural, =0 {All flanks are sure.} one {# flank is unsure and left out until you place it.} other \
         {# flanks are unsure and left out until you place them.}}";
    no_heights() =
        "Heights and undercut are not in a picture of the tips: measure them, and add their columns.";

    add_heights() = "Add their columns";
    heights_added() = "Columns for height and undercut added.";

    // ---- why there is no ring ----
    no_diameter() =
        "No diameter is known."
        next "Enter the diameter of one circle.";
    too_small() =
        "The ring is less than 240 px across."
        next "Go nearer or zoom in, and use the original picture.";
    not_in_picture() =
        "The circles do not lie inside each other and in the picture."
        next "Drag the circles onto the tips.";
    no_dogs() =
        "Tips and gaps cannot be told apart."
        next "Drag the circles onto the tips, or use a picture in even light.";
    no_circle() =
        "The edges lie on no circles."
        next "Drag the circles onto the tips, or use a picture in even light.";

    // ---- flanks ----
    flanks_of(side: Side) = "Flanks of ring {side} in the picture";
    drive() = "Drive flank";
    coast() = "Coast flank";
    flank_of(dog: Nth, flank: Message) = "Dog {dog}, {flank, lower}";
    angle_of_flank(angle: Verbatim, off: Verbatim) = "{angle} ±{off}";
    choose_flank() = "Choose a flank in the picture or in the list, and drag or nudge it.";
    scatter(px: Verbatim) = "scatter {px} px";
    placed() = "placed by hand";
    left_out() = "left out";
    is_unsure() = "unsure";
    no_edge() = "no edge is seen";
    scattered() = "the circles along it disagree";
    two_edges() = "two edges are close together";
    faint() = "much fainter than the others";
    askew() = "does not run as the others do";
    off_circle() = "its dog is chipped or of another height";
    back() = "Turn clockwise by a tenth of a pixel";
    on() = "Turn counter-clockwise by a tenth of a pixel";
    use_it() = "Use it";
    leave_it() = "Leave it out";
    next_first() = "Start at the next dog";
    take() = "Take these angles";
    taken(flanks: Number) =
        "{flanks, plural, one {# flank} other {# flanks}} added to the readings. Undo reverses this.";
}
