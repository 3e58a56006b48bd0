//! The shift: gears, push, faces, film and charts.

sentences! { "page.shift":
    title() = "Shift";
    tour() = "Shift plays one shift and shows the odds.";
    hint_phase() = "Drag the phase to change the starting position.";
    hint_play() = "Choose a shift below and play it: the three drawings move together.";

    // ---- choices ----
    clutch_pulled() = "lever pulled: engine free";
    clutch_gripping() = "lever released: engine joined";
    source_typed() = "typed here";
    source_up() = "upshift of the gearbox";
    source_down() = "downshift of the gearbox";
    drive_both() = "force, up to drum speed";
    drive_force() = "force";
    drive_drum() = "drum speed";
}
