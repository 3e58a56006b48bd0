//! The shift: gears, push, faces, film and charts.

sentences! { "page.shift":
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
