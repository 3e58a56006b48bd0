//! Faults of our own: each must make a test fail.

use std::path::Path;

use crate::embed::{Change, Kind};
use crate::{Mutant, path};

/// A fault: the file, a text that stands in it once, what is put there, and what goes wrong then.
struct Fault {
    file: &'static str,
    text: &'static str,
    fault: &'static str,
    what: &'static str,
}

const fn fault(
    file: &'static str,
    text: &'static str,
    fault: &'static str,
    what: &'static str,
) -> Fault {
    Fault { file, text, fault, what }
}

/// Those that no test found once, and others in every part of the core.
const FAULTS: &[Fault] = &[
    fault(
        "src/report/judge.rs",
        "few < many && windows == many",
        "few <= many && windows == many",
        "fewer dogs on one ring, said of equal rings",
    ),
    fault(
        "src/report/judge.rs",
        "tallest - d.height_mm < hold",
        "tallest - d.height_mm <= hold",
        "a dog lower by the hold depth counts as tall",
    ),
    fault(
        "src/report/judge.rs",
        "(both_mixed && gap > 0.0)",
        "(both_mixed && gap >= 0.0)",
        "short dogs that just reach each other are said to miss",
    ),
    fault(
        "src/report/judge.rs",
        "low(*side) > hold",
        "low(*side) >= hold",
        "dogs lower by the hold depth count as short",
    ),
    fault(
        "src/report/judge.rs",
        "(hold < edges)",
        "(hold <= edges)",
        "a hold depth of just both edge breaks is warned of",
    ),
    fault(
        "src/report/judge.rs",
        "value > allowed && value.is_finite()",
        "value >= allowed && value.is_finite()",
        "a stress at its number is said to be over it",
    ),
    fault(
        "src/geometry/solid/boundary.rs",
        "if flank == 0 { outward } else { -outward }",
        "outward",
        "normals of coast flanks point into the metal",
    ),
    fault(
        "src/geometry/solid/boundary.rs",
        "middle(levels[0][end]) + PI",
        "middle(levels[0][end])",
        "the seam of a dog's ends runs through them",
    ),
    fault(
        "src/geometry/solid/boundary.rs",
        "if half == 0 { -FRAC_PI_2 } else { FRAC_PI_2 }",
        "if half == 0 { FRAC_PI_2 } else { -FRAC_PI_2 }",
        "the seam of bore and rim runs through each half",
    ),
    fault(
        "src/export/dxf.rs",
        "Shape::Text(text) => text.height > 0.0",
        "Shape::Text(text) => text.height > 3.0",
        "texts of 3 mm are left out of a DXF file",
    ),
    fault(
        "src/geometry/ring/rework.rs",
        "off * found.back_cut.of(flank).cos()",
        "off",
        "stock off a flank is not measured square to it",
    ),
    fault(
        "src/geometry/selector/claw.rs",
        "if off(&one) <= off(&other) { one } else { other }",
        "if off(&one) <= f64::INFINITY { one } else { other }",
        "the first place of the eccentric is taken, not the nearer",
    ),
    fault(
        "src/geometry/shift/attempt/run.rs",
        "let end = State { v: 0.0, ..end };",
        "let end = State { v: 0.0, ..end };\n        let bent = State { time: at.time + (bend - at.x) / (x - at.x) * (end.time - at.time), ..bent };",
        "a ring slides down its chamfers at an even speed",
    ),
    fault(
        "src/geometry/load/stress.rs",
        "self.engaged_mm.max(0.0)",
        "self.engaged_mm",
        "where nothing is engaged the pressure is minus",
    ),
    fault(
        "src/geometry/load/stress.rs",
        "self.thickness_mm.max(0.0)",
        "self.thickness_mm",
        "a root that is less than nothing bends as a thick one",
    ),
    fault(
        "src/geometry/load/hold.rs",
        "1.0 - self.undercut * friction",
        "1.0 + self.undercut * friction",
        "tangents of flank and friction are added wrongly",
    ),
    fault(
        "src/geometry/load/share.rs",
        "(meeting / 3.0).max(1.0)",
        "(meeting / 2.0).max(1.0)",
        "half of hand-ground dogs carry, not a third",
    ),
    fault(
        "src/geometry/ring/outline.rs",
        "libm::cos(start) - libm::cos(end)",
        "libm::cos(end) - libm::cos(start)",
        "the centre of mass of an arc lies on its other side",
    ),
    fault(
        "src/geometry/ring/cutaway.rs",
        "[0, 2]\n",
        "[0, 1]\n",
        "what comes off a flank is drawn along an end",
    ),
    fault(
        "src/geometry/pair/block.rs",
        "a.undercut[side as usize].min(b.undercut[side as usize])",
        "a.undercut[side as usize].max(b.undercut[side as usize])",
        "flanks meet at the larger of two angles",
    ),
    fault(
        "src/geometry/pair/circle.rs",
        "if to_start < to_end { to_start } else { to_end }",
        "if to_start > to_end { to_start } else { to_end }",
        "a window is as far as its further end",
    ),
    fault(
        "src/geometry/pair/depth.rs",
        "if next.0 < least.0 { next } else { least }",
        "if next.0 <= least.0 { next } else { least }",
        "the web is said to limit a depth that was asked for",
    ),
    fault(
        "src/geometry/shift/travel.rs",
        "(cap - start) / self.push() + (distance - to_cap) / cap",
        "(cap - start) / self.push() + distance / cap",
        "the way to the drum's speed is counted twice",
    ),
    fault(
        "src/geometry/shift/blow.rs",
        "2.0 * k * steady.max(0.0) * lash",
        "2.0 * k * steady * lash",
        "a torque that opens the lash softens the blow",
    ),
    fault(
        "src/geometry/selector/detent.rs",
        "self.flank.radians() - atan(self.friction)",
        "self.flank.radians() + atan(self.friction)",
        "friction helps the drum home",
    ),
    fault(
        "src/geometry/selector/four_bar.rs",
        "Assembly::Left => back - inside",
        "Assembly::Left => back + inside",
        "a linkage is put together the other way",
    ),
    fault(
        "src/geometry/stack/depth.rs",
        "(clear(Facing::Other)? - clear(Facing::This)?) / 2.0",
        "clear(Facing::Other)? - clear(Facing::This)?",
        "a sliding gear is said to be off centre by twice as much",
    ),
    fault(
        "src/geometry/shop/cutter.rs",
        "(apart - PI + slant).min(FRAC_PI_2)",
        "(apart - PI).min(FRAC_PI_2)",
        "a cutter in a wide space is let be too narrow",
    ),
    fault(
        "src/geometry/shop/wheel.rs",
        "(rpm / STEP_RPM).floor()",
        "(rpm / STEP_RPM).ceil()",
        "a cutting wheel is let turn faster than its rim may",
    ),
    fault(
        "src/geometry/shop/tolerance.rs",
        "size <= *up_to",
        "size < *up_to",
        "a size at the end of a row has the tolerance of the next",
    ),
    fault(
        "src/geometry/units/angle.rs",
        "if turned >= TAU / 2.0 { turned - TAU } else { turned }",
        "if turned >= TAU { turned - TAU } else { turned }",
        "the short way round is the long one",
    ),
    fault(
        "src/design/history.rs",
        "        self.future.clear();\n",
        "",
        "what was undone comes back after another change",
    ),
    fault(
        "src/report/analysis.rs",
        "|f| -f64::from(f.severity as u8)",
        "|f| f64::from(f.severity as u8)",
        "the gravest findings stand last",
    ),
    fault(
        "src/report/rework.rs",
        "(Better::More, true) | (Better::Less, false) => Self::Better",
        "(Better::More, true) | (Better::Less, true) => Self::Better",
        "more of what ought to be less is called better",
    ),
    fault(
        "src/report/chances.rs",
        "conditions.travel.seconds_from_rest(conditions.hold_mm)",
        "conditions.travel.seconds_to(conditions.hold_mm)",
        "a ring at rest is let drop in with the speed of one that falls",
    ),
    fault(
        "src/draw/hatch.rs",
        "apart * std::f64::consts::SQRT_2",
        "apart",
        "hatching is too close by the root of two",
    ),
    fault(
        "src/draw/face.rs",
        "sweep: if side == Side::A { sweep } else { -sweep }",
        "sweep",
        "ends of the dogs of B are drawn the wrong way round",
    ),
    fault(
        "src/export/stl.rs",
        "(b - a).cross(c - a).unit()",
        "(c - a).cross(b - a).unit()",
        "normals of facets point into the metal",
    ),
];

/// The faults as changes of the tree.
///
/// # Errors
/// If a text does not stand in its file exactly once: the code moved on, and the fault must too.
pub fn listed(root: &Path) -> Result<Vec<Mutant>, String> {
    let mut lost = Vec::new();
    let mut mutants = Vec::new();
    for Fault { file, text, fault, what } in FAULTS {
        let source = std::fs::read_to_string(path(root, file)).unwrap_or_default();
        let found: Vec<usize> = source.match_indices(text).map(|(at, _)| at).collect();
        let [at] = found[..] else {
            lost.push(format!("{file}: “{text}” stands there {} times, not once: the fault “{what}” must follow the code.", found.len()));
            continue;
        };
        let range = at..at + text.len();
        let replacement = (*fault).to_owned();
        mutants.push(Mutant {
            file: (*file).to_owned(),
            name: format!("{file}: {what}"),
            change: Change {
                id: 0,
                kind: Kind::Fault { range: range.clone(), replacement: replacement.clone() },
            },
            range,
            replacement,
            is_ours: true,
        });
    }
    if lost.is_empty() { Ok(mutants) } else { Err(lost.join("\n")) }
}
