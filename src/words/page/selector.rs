//! Pedal, claw, detent and drum.

sentences! { "page.selector":
    title() = "Pedal to fork";
    nothing_entered() =
        "Nothing between pedal and fork is entered yet. With sizes of linkage, claw, detent and drum track you see where \
         travel is lost.";
    begin_all() = "Start with example sizes";
    picture_parts() = "Mechanism";

    // ---- linkage ----
    linkage() = "Linkage";
    linkage_why() = "Shows how far the pedal turns the selector shaft and where the linkage binds.";
    remove_linkage() = "Remove linkage";
    connected_by() = "Connected by";
    pedal_rod_above() = "rod, arm pointing up";
    pedal_rod_below() = "rod, arm pointing down";
    pedal_on_shaft() = "no rod: pedal on the shaft";

    // ---- claw ----
    claw_and_stop() = "Claw and stop";
    claw_why() = "Shows the gap left at the stop in each direction and where the drum ends up.";
    remove_claw() = "Remove claw";
    turn_eccentric(to: Angle) = "Turn the eccentric to {to}: equal gaps";
    eccentric_turned() = "Eccentric turned. Travel to the stop and the gaps are updated.";
    gaps_stay_unequal() = "The eccentric cannot make the gaps equal. The results show how much is missing.";

    // ---- detent ----
    detent() = "Detent";
    detent_why() = "Shows the torque that holds the drum and whether the roller pulls it home.";
    remove_detent() = "Remove detent";

    // ---- track ----
    track() = "Track";
    track_why() = "Shows how much overlap an error of the claw or the detent costs.";
    remove_track() = "Remove drum track";
    track_points() = "Points of the drum track";
    point() = "Point";
    add_point() = "Add point";
    list_points() = "Enter point by point";
    one_flank() = "Use one straight flank";
    remove_point(point: Nth) = "Remove point {point}";
    point_removed(point: Nth) = "Point {point} of the drum track removed.";

    // ---- pedal heights ----
    pedal_heights() = "Effect of pedal height";
    pedal_heights_how() =
        "The rod length sets the height; the [centring|centering] spring holds the shaft. Turns are of one rod end; \
            plus lengthens the rod.";
    peg() = "Peg";
    peg_higher(by: Length) = "{by} higher";
    peg_lower(by: Length) = "{by} lower";
    peg_unchanged() = "as it is";
    rod() = "Rod";
    turns() = "Turns";
    shaft_lifting() = "Shaft, lifting";
    shaft_pressing() = "Shaft, pressing";
    short_of_stop() = "Short of the stop, lifting / pressing";
    lifting_pressing(lift: Angle, press: Angle) = "{lift} / {press}";
    not_short() = "not short";
    worst_rod_angle() = "Worst rod-to-lever angle";
    out_of_reach() = "rod and arms do not reach";
    use_rod() = "Use";
    use_rod_for(peg: Message) = "Use this rod: peg {peg}";

    // ---- playing a stroke ----
    play_a_stroke() = "Play a stroke";
    stroke() = "Stroke";
    stroke_lift() = "lifting the pedal";
    stroke_press() = "pressing the pedal";
    play() = "Play stroke";
    to_stop() = "To the stop";
    at_rest() = "At rest";
    progress() = "Progress";
    turned(shaft: Angle, drum: Angle) = "Shaft {shaft}, drum {drum}.";
    claw_missing() = "Enter the claw sizes below to play a stroke.";
}
