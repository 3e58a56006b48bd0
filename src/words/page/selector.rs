//! Pedal, claw, detent and drum.

sentences! { "page.selector":
    title() = "Selector";
    tour() = "Selector follows the movement from the foot to the fork.";
    // ---- choices ----
    pedal_rod_above() = "a rod, arm pointing up";
    pedal_rod_below() = "a rod, arm pointing down";
    pedal_on_shaft() = "nothing: it sits on the shaft";
    stroke_lift() = "lifting the pedal";
    stroke_press() = "pressing the pedal";
}
