//! Words beside the numbers of a design, and in their place.

sentences! { "figure":
    none() = "no value";
    needs_speed() = "needs the speed difference";
    needs_ratios() = "needs the gearbox ratios";
    needs_shift_speed() = "needs the shift speed";
    needs_torque() = "needs the torque";
    needs_tip_friction() = "needs the tip friction";
    needs_friction() = "needs the friction";
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
