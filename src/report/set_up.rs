//! How the work is set up: datum, tilt of the head, depths of cut, and chords to check.

use crenel_words::{Message, Phrase, Value, sheet as say};

use crate::analysis::Analysis;
use crate::design::{Operation, Region, SettingField, Size};
use crate::ring::{Dog, FlankSide, PlanForm, Ring, Side};
use crate::shop::tilt::Tilt;
use crate::units::{Angle, Quantity};

/// Lengths that differ by less are the same but for rounding, mm.
const HAIR_MM: f64 = 1e-9;

/// Run-out of the bore that is allowed when the work is clocked, mm, full reading: common practice, no source.
const RUN_OUT_MM: f64 = 0.02;

/// How to set up the work on a ring, in order.
pub(super) fn set_up(analysis: &Analysis, side: Side) -> Vec<Message> {
    let found = &analysis.found[side];
    let mean = found.mean_radius_mm();
    let moved = RUN_OUT_MM / 2.0;
    let angle = Value::Working(Quantity::Angle, (moved / mean).to_degrees());
    let mut steps = vec![say::clock(RUN_OUT_MM, moved, angle, 2.0 * mean)];
    steps.extend(found.dogs.first().map(|dog| pick_up(found, side, dog)));
    steps.extend([say::bolt_hole(), say::set_datum(), say::step_round(), say::one_way()]);
    let operations = &analysis.design.ring(side).plan.operations;
    let does = |region: fn(&Region) -> bool| operations.iter().any(|o| region(&o.work.kind.region));
    if does(|region| matches!(region, Region::Dog)) {
        steps.push(say::cut_whole());
    }
    if does(|region| matches!(region, Region::Flank(_))) {
        steps.push(match found.form {
            PlanForm::Radial => say::cut_radial(2.0 * mean),
            PlanForm::Parallel => say::cut_parallel(),
        });
    }
    steps.extend(tilts(analysis, side));
    steps
}

/// The flanks of the dog that the datum is picked up from.
fn pick_up(found: &Ring, side: Side, dog: &Dog) -> Message {
    let [drive, coast] = FlankSide::BOTH.map(|flank| found.tip_edge(dog, flank));
    let half_way = drive + (coast - drive) / 2.0;
    let degrees = |angle: Angle| angle.wrapped().degrees();
    let mean = 2.0 * found.mean_radius_mm();
    say::pick_up(side, dog.place, degrees(drive), degrees(coast), mean, degrees(half_way))
}

/// How the head is tilted for each operation on flanks that lean.
fn tilts(analysis: &Analysis, side: Side) -> Vec<Message> {
    let cutter_mm = analysis.design.setting.get(SettingField::CutWidth);
    let mut told = Vec::new();
    for (at, cut) in passes(analysis, side).into_iter().enumerate() {
        let Some(flank) = cut.operation.work.kind.flank() else { continue };
        let on = |dog: &&Dog| cut.operation.is_on(dog.place) && dog.back_cut[flank] != Angle::ZERO;
        let mut angles: Vec<Angle> = Vec::new();
        for dog in cut.after.dogs.iter().filter(on) {
            if !angles.contains(&dog.back_cut[flank]) {
                angles.push(dog.back_cut[flank]);
            }
        }
        for angle in angles {
            let dogs = cut.after.dogs.iter().filter(on).filter(|dog| dog.back_cut[flank] == angle);
            let clear =
                dogs.clone().filter_map(|dog| clearance_mm(&cut.after, dog, flank, cutter_mm));
            let height = dogs.map(|dog| dog.height_mm).fold(0.0, f64::max);
            let tilt = Tilt { angle, height_mm: height, cutter_mm };
            told.push(tilted(at, &tilt, clear.reduce(f64::min)));
        }
    }
    told
}

/// The head, the set-over and the room to the next dog.
fn tilted(operation: usize, tilt: &Tilt, clear_mm: Option<f64>) -> Message {
    let (angle, over, drop) = (tilt.angle.degrees(), tilt.set_over_mm(), tilt.end_drop_mm());
    let head = if over > 0.0 {
        say::tilt_under(operation, angle, over, drop)
    } else {
        say::tilt_out(operation, -angle, -over, drop)
    };
    match clear_mm {
        Some(clear) if clear > 0.0 => say::tilt_clears(head, tilt.cutter_mm, clear),
        Some(clear) => say::tilt_touches(head, tilt.cutter_mm, -clear),
        None => say::tilt_free(head),
    }
}

/// Room between a cutter along a flank, as it is after the cut, and the dog that it faces, mm; minus cuts into
/// that dog. `None` where there is no other dog, or it is too far round to be reached.
fn clearance_mm(ring: &Ring, dog: &Dog, flank: FlankSide, cutter_mm: f64) -> Option<f64> {
    let dogs = ring.by_centre();
    let at = dogs.iter().position(|other| other.place == dog.place)?;
    let step = if flank == FlankSide::Coast { 1 } else { dogs.len() - 1 };
    let next = &dogs[(at + step) % dogs.len()];
    if next.place == dog.place {
        return None;
    }
    let facing = if flank == FlankSide::Coast { FlankSide::Drive } else { FlankSide::Coast };
    let apart = flank.sign() * (next.centre - dog.centre).radians();
    let apart = Angle::from_radians(apart).wrapped();
    let distance =
        |depth: f64| across_mm(ring, dog, flank, apart - flank_angle(ring, next, facing, depth));
    let web = [0.0, distance(next.height_mm)?];
    let tip = [next.height_mm, distance(0.0)?];
    Tilt { angle: dog.back_cut[flank], height_mm: dog.height_mm, cutter_mm }.clearance_mm(web, tip)
}

/// How far a corner at the bore, so far round from the middle of a dog, is from the tip edge of a flank, mm square
/// to that flank; `None` from a quarter turn on, where it is behind the end of the pass.
fn across_mm(ring: &Ring, dog: &Dog, flank: FlankSide, round: Angle) -> Option<f64> {
    let lean = dog.leaned_mm(flank, 0.0);
    let (along, edge) = match ring.form {
        PlanForm::Radial => (round - ring.half_width_at(dog, flank, ring.inner_radius_mm), -lean),
        PlanForm::Parallel => (round, ring.half_chord_mm(dog) - dog.narrowed_mm[flank] - lean),
    };
    let near = along < Angle::FULL / 4.0;
    near.then(|| ring.inner_radius_mm * along.sin() - edge)
}

/// Angle from the middle of a dog to a flank at the bore, `depth_mm` below its tip, with the lean of the flank.
fn flank_angle(ring: &Ring, dog: &Dog, flank: FlankSide, depth_mm: f64) -> Angle {
    angle_at(ring, dog, flank, ring.inner_radius_mm, depth_mm)
}

fn angle_at(ring: &Ring, dog: &Dog, flank: FlankSide, radius_mm: f64, depth_mm: f64) -> Angle {
    let lean = dog.leaned_mm(flank, depth_mm);
    let asin = |mm: f64| Angle::from_radians(libm::asin((mm / radius_mm).clamp(-1.0, 1.0)));
    match ring.form {
        PlanForm::Radial => ring.half_width_at(dog, flank, radius_mm) - asin(lean),
        PlanForm::Parallel => asin(ring.half_chord_mm(dog) - dog.narrowed_mm[flank] - lean),
    }
}

// ---- depths ----

/// A face that depths of cut are counted from.
pub struct Face {
    /// Its name.
    pub label: Phrase,
    /// Its height over the web, mm.
    over_web_mm: fn(&Analysis, Side) -> f64,
}

/// The faces that a shop can set its depth from, the usual one first.
pub static FACES: [Face; 3] = [
    Face {
        label: say::tallest_tip,
        over_web_mm: |analysis, side| analysis.found[side].tallest_mm(),
    },
    Face { label: say::web_face, over_web_mm: |_, _| 0.0 },
    Face { label: say::back_face, over_web_mm: |analysis, _| -analysis.body().thickness_mm },
];

/// How deep an operation cuts on dogs that are alike.
#[derive(Clone, Debug, PartialEq)]
pub struct CutDepth {
    /// Number of the operation, from 1.
    pub operation: usize,
    /// The numbers of the dogs.
    pub dogs: Vec<usize>,
    /// From the tip of each as it is before the cut, mm.
    pub from_tip_mm: f64,
    /// What the cut leaves over the web, mm.
    pub over_web_mm: f64,
}

impl CutDepth {
    /// From a face of the ring to the floor of the cut, mm, whichever is higher.
    pub fn from_face_mm(&self, face: &Face, analysis: &Analysis, side: Side) -> f64 {
        ((face.over_web_mm)(analysis, side) - self.over_web_mm).abs()
    }
}

/// The depth of every cut on a ring, by operation, dogs that are alike together.
pub(super) fn depths(analysis: &Analysis, side: Side) -> Vec<CutDepth> {
    let mut depths: Vec<CutDepth> = Vec::new();
    for (at, cut) in passes(analysis, side).into_iter().enumerate() {
        for dog in cut.before.dogs.iter().filter(|dog| cut.operation.is_on(dog.place)) {
            let over_web_mm = floor_mm(&cut, dog);
            let from_tip_mm = dog.height_mm - over_web_mm;
            if from_tip_mm < HAIR_MM {
                continue;
            }
            let alike = |one: &&mut CutDepth| {
                one.operation == at + 1
                    && (one.over_web_mm - over_web_mm).abs() < HAIR_MM
                    && (one.from_tip_mm - from_tip_mm).abs() < HAIR_MM
            };
            match depths.iter_mut().find(alike) {
                Some(one) => one.dogs.push(dog.place + 1),
                None => depths.push(CutDepth {
                    operation: at + 1,
                    dogs: vec![dog.place + 1],
                    from_tip_mm,
                    over_web_mm,
                }),
            }
        }
    }
    depths
}

/// How high over the web a cut ends on a dog, mm.
fn floor_mm(cut: &Pass, dog: &Dog) -> f64 {
    let kind = cut.operation.work.kind;
    let after = cut.after.at_place(dog.place);
    match (kind.region, after) {
        (Region::Flank(_), _) | (_, None) => 0.0,
        (_, Some(after)) if kind.size == Some(Size::Edge) => {
            // An edge that is broken far enough already is not touched.
            let is_cut = after.edge_break_mm > dog.edge_break_mm;
            after.height_mm - if is_cut { after.edge_break_mm } else { 0.0 }
        }
        (_, Some(after)) => after.height_mm,
    }
}

/// An operation with the ring before and after it.
struct Pass<'a> {
    operation: &'a Operation,
    before: Ring,
    after: Ring,
}

fn passes(analysis: &Analysis, side: Side) -> Vec<Pass<'_>> {
    let mut ring = analysis.found[side].clone();
    let pass = |operation| {
        let after = Operation::done_to(operation, ring.clone());
        let before = std::mem::replace(&mut ring, after.clone());
        Pass { operation, before, after }
    };
    analysis.design.ring(side).plan.operations.iter().map(pass).collect()
}

// ---- chords ----

/// The chord that a calliper over the rim reads on each dog as cut, dogs that are alike together.
pub(super) fn chords(analysis: &Analysis, side: Side) -> Vec<Message> {
    let ring = analysis.ring(side);
    let mut chords: Vec<(Vec<Value>, f64)> = Vec::new();
    for dog in &ring.dogs {
        let chord = chord_mm(ring, dog);
        let number = Value::how_many(dog.place + 1);
        match chords.iter_mut().find(|(_, mm)| (mm - chord).abs() < HAIR_MM) {
            Some((dogs, _)) => dogs.push(number),
            None => chords.push((vec![number], chord)),
        }
    }
    let told = |(dogs, mm)| say::chord(side, dogs, Value::Working(Quantity::Length, mm));
    chords.into_iter().map(told).collect()
}

/// The chord between the two flanks of a dog at the rim, just below its edge break, mm.
fn chord_mm(ring: &Ring, dog: &Dog) -> f64 {
    let rim = ring.outer_radius_mm;
    let at = |flank| angle_at(ring, dog, flank, rim, dog.edge_break_mm);
    let [drive, coast] = FlankSide::BOTH.map(at);
    2.0 * rim * ((drive + coast) / 2.0).sin()
}

/// The chord that the jaws of a calliper read in each gap between dogs as cut, at the rim, gaps that are alike
/// together. A ring with one dog has none.
pub(super) fn gaps(analysis: &Analysis, side: Side) -> Vec<Message> {
    let ring = analysis.ring(side);
    let dogs = ring.by_centre();
    let mut gaps: Vec<(Vec<Value>, f64)> = Vec::new();
    let next = dogs.iter().cycle().skip(1);
    for (dog, next) in dogs.iter().zip(next).filter(|(dog, next)| dog.place != next.place) {
        let chord = gap_mm(ring, dog, next);
        let between = Value::from(say::between(dog.place, next.place));
        match gaps.iter_mut().find(|(_, mm)| (mm - chord).abs() < HAIR_MM) {
            Some((between_dogs, _)) => between_dogs.push(between),
            None => gaps.push((vec![between], chord)),
        }
    }
    let told = |(dogs, mm)| say::chord(side, dogs, Value::Working(Quantity::Length, mm));
    gaps.into_iter().map(told).collect()
}

/// The chord at the rim from the coast flank of a dog to the drive flank of the next, just below their edge breaks,
/// mm.
fn gap_mm(ring: &Ring, dog: &Dog, next: &Dog) -> f64 {
    let rim = ring.outer_radius_mm;
    let to_flank = |dog: &Dog, flank| angle_at(ring, dog, flank, rim, dog.edge_break_mm);
    let apart = (next.centre - dog.centre).wrapped();
    let gap = apart - to_flank(dog, FlankSide::Coast) - to_flank(next, FlankSide::Drive);
    2.0 * rim * (gap / 2.0).sin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;
    use crenel_words::Reader;

    fn worked(ring: &str) -> Analysis {
        Analysis::of(&open(&format!(r#"{{ "crenel": 1, "a": {ring} }}"#)).expect("it opens").design)
    }

    const PLAN: &str = r#"{ "plan": [ { "do": "shorten", "shorten_to_mm": 2.5, "dogs": [2, 4] },
        { "do": "narrow_coast", "flank_stock_mm": 0.4, "dogs": [1] }, { "do": "lap", "lap_stock_mm": 0.05 },
        { "do": "remove", "dogs": [4] }, { "do": "break", "break_to_mm": 0.3, "dogs": [1] } ],
        "heights": [1, 0.8] }"#;

    /// Tall dogs of 5 mm and low ones of 4 mm: from its own tip a low one loses 1.5 mm, from the tallest 2.5 mm.
    #[test]
    fn a_depth_counts_from_the_own_tip_and_from_a_face() {
        let analysis = worked(PLAN);
        let depths = depths(&analysis, Side::A);
        let told: Vec<_> = depths
            .iter()
            .map(|depth| {
                let faces =
                    FACES.each_ref().map(|face| depth.from_face_mm(face, &analysis, Side::A));
                (depth.operation, depth.dogs.clone(), depth.from_tip_mm, faces)
            })
            .collect();
        let web = analysis.body().thickness_mm;
        let near = |one: f64, other: f64| (one - other).abs() < 1e-9;
        let want = [
            (1, vec![2, 4], 1.5, [2.5, 2.5, web + 2.5]),
            (2, vec![1], 5.0, [5.0, 0.0, web]),
            (3, vec![1, 3, 5], 0.05, [0.05, 4.95, web + 4.95]),
            (4, vec![4], 2.5, [5.0, 0.0, web]),
            (5, vec![1], 0.3, [0.35, 4.65, web + 4.65]),
        ];
        assert_eq!(told.len(), want.len(), "{told:?}");
        for (told, want) in told.iter().zip(want) {
            assert_eq!((told.0, &told.1), (want.0, &want.1));
            assert!(near(told.2, want.2), "{told:?}");
            assert!(told.3.iter().zip(want.3).all(|(told, want)| near(*told, want)), "{told:?}");
        }
    }

    /// The corners of a dog in the plane, from its flanks as half planes, without the formulas above.
    fn corner(ring: &Ring, dog: &Dog, flank: FlankSide, depth: f64, radius: f64) -> (f64, f64) {
        let half = dog.tip_width.radians() / 2.0;
        let narrowed = dog.narrowed_mm[flank];
        let (direction, inside) = match ring.form {
            PlanForm::Radial => (half - narrowed / ring.mean_radius_mm(), 0.0),
            PlanForm::Parallel => (0.0, narrowed - ring.mean_radius_mm() * libm::sin(half)),
        };
        let inside = inside + dog.leaned_mm(flank, depth);
        // Along the flank from the foot of the perpendicular from the axis.
        let along = libm::sqrt(radius * radius - inside * inside);
        let (sin, cos) = (libm::sin(direction), libm::cos(direction));
        (along * cos + inside * sin, along * sin - inside * cos)
    }

    #[test]
    fn a_chord_is_what_lies_between_the_corners_at_the_rim() {
        for form in ["radial", "parallel"] {
            for (undercut, edge) in [(0.0, 0.0), (5.0, 0.3), (-4.0, 0.5)] {
                let analysis = worked(&format!(
                    r#"{{ "flanks": "{form}", "back_cut_drive_deg": {undercut}, "edge_break_mm": {edge},
                        "plan": [{{ "do": "narrow_coast", "flank_stock_mm": 0.4, "dogs": [1] }}] }}"#
                ));
                let ring = analysis.ring(Side::A);
                for dog in &ring.dogs {
                    let at = |flank| corner(ring, dog, flank, edge, ring.outer_radius_mm);
                    let [drive, coast] = FlankSide::BOTH.map(at);
                    // The drive flank is the mirror image of a coast flank.
                    let apart = libm::hypot(drive.0 - coast.0, drive.1 + coast.1);
                    let chord = chord_mm(ring, dog);
                    assert!((chord - apart).abs() < 1e-9, "{form} {undercut}: {chord} {apart}");
                }
                assert_eq!(chords(&analysis, Side::A).len(), 2, "dog 1 and the other five");
            }
        }
    }

    /// Six dogs of 24°: gaps of 36° at Ø60 read 60·sin 18°, a dog that lost 0.4 mm of its flank leaves more.
    #[test]
    fn a_gap_is_what_lies_between_the_corners_at_the_rim() {
        let chord = 60.0 * libm::sin(18_f64.to_radians());
        let plain = worked(r#"{ "edge_break_mm": 0 }"#);
        let told = gaps(&plain, Side::A);
        assert_eq!(told.len(), 1, "all are alike");
        let (_, shown) = told[0].numbers().next().expect("a chord");
        assert!((shown - chord).abs() < 1e-9, "{shown} {chord}");
        assert!(
            told[0]
                .show(Reader::default())
                .starts_with("1–2, 2–3, 3–4, 4–5, 5–6, 6–1 of ring A: 18.54")
        );
        let narrowed = r#"{ "edge_break_mm": 0.3, "back_cut_coast_deg": 4,
            "plan": [{ "do": "narrow_coast", "flank_stock_mm": 0.4, "dogs": [1] }] }"#;
        let analysis = worked(narrowed);
        let ring = analysis.ring(Side::A);
        let [dog, next] = [0, 1].map(|place| ring.at_place(place).expect("a dog"));
        let from = corner(ring, dog, FlankSide::Coast, 0.3, 30.0);
        let to = corner(ring, next, FlankSide::Drive, 0.3, 30.0);
        // Mirrored into the drive flank, and turned to the next dog.
        let turn = (next.centre - dog.centre).radians();
        let (sin, cos) = (libm::sin(turn), libm::cos(turn));
        let to = (to.0 * cos + to.1 * sin, to.0 * sin - to.1 * cos);
        let apart = libm::hypot(to.0 - from.0, to.1 - from.1);
        assert!((gap_mm(ring, dog, next) - apart).abs() < 1e-9, "{apart}");
        assert_eq!(gaps(&analysis, Side::A).len(), 2, "the gap after dog 1 and the other five");
        assert!(gaps(&worked(r#"{ "count": 1 }"#), Side::A).is_empty());
    }

    #[test]
    fn room_beside_a_tilted_cutter_is_that_of_the_corners_in_the_plane() {
        for form in ["radial", "parallel"] {
            for undercut in [-4.0_f64, 3.0, 8.0] {
                let analysis = worked(&format!(
                    r#"{{ "flanks": "{form}", "back_cut_drive_deg": 2, "plan": [
                        {{ "do": "recut_coast", "recut_to_deg": {undercut}, "dogs": [1] }}] }}"#
                ));
                let Some(dog) = analysis.ring(Side::A).at_place(0) else { panic!("{form}") };
                let ring = analysis.ring(Side::A);
                let cutter = 8.0;
                let told =
                    clearance_mm(ring, dog, FlankSide::Coast, cutter).expect("it is reached");
                let next = ring.at_place(1).expect("a dog");
                let turn = (next.centre - dog.centre).radians();
                let own = corner(ring, dog, FlankSide::Coast, 0.0, ring.inner_radius_mm);
                let far = corner(ring, dog, FlankSide::Coast, 0.0, ring.outer_radius_mm);
                let length = libm::hypot(far.0 - own.0, far.1 - own.1);
                let along = ((far.0 - own.0) / length, (far.1 - own.1) / length);
                let least = (0..=50).map(|step| {
                    let depth = next.height_mm * f64::from(step) / 50.0;
                    let (x, y) = corner(ring, next, FlankSide::Drive, depth, ring.inner_radius_mm);
                    // Mirrored into the drive flank, and turned to the next dog.
                    let (sin, cos) = (libm::sin(turn), libm::cos(turn));
                    let (x, y) = (x * cos + y * sin, x * sin - y * cos);
                    let across = along.0 * (y - own.1) - along.1 * (x - own.0);
                    let tan = libm::tan(undercut.to_radians());
                    let side = cutter / libm::cos(undercut.to_radians());
                    across - (side - (dog.height_mm - (next.height_mm - depth)) * tan)
                });
                let least = least.fold(f64::INFINITY, f64::min);
                assert!((told - least).abs() < 0.02, "{form} {undercut}: {told} {least}");
            }
        }
    }

    /// The instructions for a parallel ring speak of its dogs, and one that is only lapped has no tilt.
    #[test]
    fn the_set_up_names_the_datum_and_every_tilt() {
        let told = |ring: &str| {
            let steps = set_up(&worked(ring), Side::A);
            steps.iter().map(|step| step.show(Reader::default())).collect::<Vec<_>>().join("\n")
        };
        let recut = told(
            r#"{ "plan": [{ "do": "lap", "lap_stock_mm": 0.05 },
                { "do": "recut_drive", "recut_to_deg": 3, "dogs": [1, 2] }] }"#,
        );
        assert!(recut.contains("drive flank at 348° and its coast flank at 12°"), "{recut}");
        // 4.95 mm · tan 3° = 0.26 mm; the flat end of 8 mm drops by 8·sin 3° = 0.42 mm.
        for words in
            ["Operation 2: tilt the head by 3°", "0.26 mm", "0.42 mm", "clears the next dog by"]
        {
            assert!(recut.contains(words), "{words}: {recut}");
        }
        let plain = told(r#"{ "plan": [{ "do": "shorten", "shorten_to_mm": 2.5, "dogs": [2] }] }"#);
        assert!(!plain.contains("tilt") && plain.contains("bolt hole"), "{plain}");
        let wide = told(
            r#"{ "tip_width_deg": 48, "back_cut_drive_deg": 4,
                "plan": [{ "do": "narrow_drive", "flank_stock_mm": 0.1, "dogs": [1] }] }"#,
        );
        assert!(wide.contains("into the next dog"), "{wide}");
    }
}
