//! Words beside the numbers of a design, and in their place.

sentences! { "figure":
    none() = "no value";
    hardened_through() = "through-hardened";
    no_flank_cut() = "no flank is cut";

    force() = "Force";
    force_if_carrying(carrying: Value, meeting: Number) = "Force if carrying ({carrying} of {meeting})";
    some_carry(meeting: Number, force: Value, carrying: Value, each: Value) =
        "{meeting} pairs meet, but only {carrying} count as carrying: {each} each, {force} in all. Which ones carry is \
         not known, so each row shows the force on its pair if it is one of them.";

    // ---- headings ----
    getting_in() = "Getting in";
    once_in() = "Once in";
    time() = "Timing";
    does_it_go_in() = "Does it go in?";
    engagement_shock() = "Engagement shock";
    will_it_hold() = "Will it hold?";
    metal() = "Metal";
    pedal_to_fork() = "From the pedal to the fork";
    depth_along_shaft() = "Depth along the shaft";
}
