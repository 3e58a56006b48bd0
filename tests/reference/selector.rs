//! Linkage, claw, detent and drum track.

use crenel::analysis::Analysis;
use crenel::design::open;
use crenel::fields::FieldId;
use crenel::selector::{CRAMPED, Claw, Detent, FourBar, PerStroke, Star, Stroke};
use crenel::units::Angle;

use super::designs::figures;
use super::row::{ARITHMETIC, DERIVED, PRACTICE, Row, Source, row_from};

const COSINES: Source = Source::derived("law of cosines with the crank along the frame");

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [
        four_bar(),
        detents(),
        claws(),
        placed_pedals(),
        feet_on_the_detent(),
        tracks(),
        rules_of_practice(),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Frame 154.34, crank 63.5, coupler 165.5, rocker 114.0: the extremes of the transmission angle stand
/// where the crank lies along the frame.
fn four_bar() -> Vec<Row> {
    let bars = FourBar { arm_mm: 63.5, rod_mm: 165.5, lever_mm: 114.0, apart_mm: 154.34 };
    let at = |deg: f64| bars.transmission(deg.to_radians()).map(f64::to_degrees);
    let worst = |from: f64, turn: f64| {
        let angle = bars.worst_transmission(from.to_radians(), turn.to_radians());
        angle.map(f64::to_degrees)
    };
    vec![
        Row::new(
            COSINES,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: least transmission angle, °",
            at(0.0),
            (31.61, 5e-3),
        ),
        Row::new(
            COSINES,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: largest transmission angle, °",
            at(180.0),
            (100.80, 5e-3),
        ),
        Row::new(
            COSINES,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: worst over a whole turn, °",
            worst(10.0, 360.0),
            (31.61, 5e-3),
        ),
        Row::new(
            COSINES,
            "Bars of 154.34, 63.5, 165.5 and 114 mm: worst over a whole turn backwards, °",
            worst(10.0, -360.0),
            (31.61, 5e-3),
        ),
        Row::new(
            Source::from_memory(
                "Uicker, Pennock, Shigley, Theory of Machines and Mechanisms, from memory",
            ),
            "Transmission angle, at least, °",
            Some(CRAMPED[0]),
            (40.0, 0.0),
        ),
        Row::new(
            Source::from_memory(
                "Uicker, Pennock, Shigley, Theory of Machines and Mechanisms, from memory",
            ),
            "Transmission angle, better at least, °",
            Some(CRAMPED[1]),
            (45.0, 0.0),
        ),
        // A right triangle of 3, 4, 5: arm 0, so that the diagonal is the frame.
        Row::new(
            ARITHMETIC,
            "Rod of 3, lever of 4, diagonal of 5: transmission angle, °",
            square_corner(),
            (90.0, 1e-9),
        ),
    ]
}

fn square_corner() -> Option<f64> {
    let bars = FourBar { arm_mm: 1.0, rod_mm: 3.0, lever_mm: 4.0, apart_mm: 6.0 };
    // With the arm along the frame the diagonal is 5.
    bars.transmission(0.0).map(f64::to_degrees)
}

fn detents() -> Vec<Row> {
    let row = row_from(DERIVED);
    let detent =
        Detent { force_n: 30.0, radius_mm: 18.0, flank: Angle::from_degrees(35.0), friction: 0.12 };
    let smooth = Detent { friction: 0.0, ..detent };
    // tan(45° ± ρ) = (1 ± μ)/(1 ∓ μ): with μ = 0.5 three times and a third of 30 · 18.
    let half = Detent { flank: Angle::from_degrees(45.0), friction: 0.5, ..detent };
    // A flank as steep as its angle of friction, atan 0.2.
    let even = Detent { flank: Angle::from_degrees(11.309_932_474), friction: 0.2, ..detent };
    let star = Star { positions: 6.0, radius_mm: 18.0, crest_mm: 1.0, holds: false };
    vec![
        row(
            "Detent of 30 N at 18 mm, 35°, μ 0.12: lifts, N·mm",
            detent.hold_nmm().unwrap_or(f64::NAN),
            483.54,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 35°, μ 0.12: brings home, N·mm",
            detent.return_nmm(),
            289.03,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 35°, no friction: lifts, N·mm",
            smooth.hold_nmm().unwrap_or(f64::NAN),
            378.11,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 35°, no friction: brings home, N·mm",
            smooth.return_nmm(),
            378.11,
            5e-3,
        ),
        row(
            "Detent of 30 N at 18 mm, 45°, μ 0.5: lifts, N·mm",
            half.hold_nmm().unwrap_or(f64::NAN),
            1620.0,
            1e-9,
        ),
        row(
            "Detent of 30 N at 18 mm, 45°, μ 0.5: brings home, N·mm",
            half.return_nmm(),
            180.0,
            1e-9,
        ),
        row(
            "Detent as steep as its angle of friction: brings home, N·mm",
            even.return_nmm(),
            0.0,
            1e-6,
        ),
        row(
            "Star with a crest of 1 mm at 18 mm: roller can stand to either side, °",
            star.stand().degrees(),
            1.5915,
            5e-5,
        ),
    ]
}

/// Rows for figures of a design in its saved form.
fn figure_rows(source: Source, name: &str, text: &str, rows: &[(&str, f64, f64)]) -> Vec<Row> {
    figures(name, source, &open(text).expect("it opens").design, rows)
}

/// Six pins on a radius of 10, shaft at 46: half a step is seen from the shaft under
/// atan(5/(46 − 8.66025)) = 7.6270°, at a distance of 37.6730.
fn claws() -> Vec<Row> {
    let row = row_from(DERIVED);
    let claw = Claw {
        positions: 6.0,
        pin_radius_mm: 10.0,
        apart_mm: 46.0,
        play_mm: PerStroke::both(1.0),
        travel_mm: PerStroke { lift: 9.6, press: 10.4 },
        stop_radius_mm: 30.0,
        eccentric_mm: 0.8,
        eccentric_at: Angle::ZERO,
        wanted_mm: 1.0,
    };
    let PerStroke { lift, press } = claw.gaps_mm();
    let centred = claw.centred().map_or(f64::NAN, Angle::degrees);
    let straight = Claw { apart_mm: 1e7, ..claw };
    let home =
        claw.pushed(Stroke::Lift, Angle::from_degrees(15.2540 + 1.0_f64.to_degrees() / 37.6730));
    vec![
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: swing for a step, °",
            claw.swing().degrees(),
            15.2540,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: radius of the hook, mm",
            claw.hook_radius_mm(),
            37.6730,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: gap at the stop, lifting, mm",
            lift,
            10.0297 + 1.0 - 9.6,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: gap at the stop, pressing, mm",
            press,
            10.0297 + 1.0 - 10.4,
            1e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: drum after swing and play, °",
            home.degrees(),
            60.0,
            5e-3,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: eccentric for equal gaps, °",
            centred,
            23.4634,
            5e-4,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: stop thinner for a gap of 1 mm, mm",
            claw.stop_thinner_mm(),
            0.0471,
            5e-5,
        ),
        row(
            "Claw, six pins at 10 mm, shaft very far off: pull for a step, mm",
            straight.swing_mm(),
            10.0,
            1e-5,
        ),
        row(
            "Claw, six pins at 10 mm, shaft at 46 mm: one step of the drum, °",
            claw.step().degrees(),
            60.0,
            1e-12,
        ),
    ]
}

/// A parallelogram turns the shaft as far as the pedal: 36 mm on an arm of 130 are 15.8665°, which rod
/// and lever are off square then. On the shaft itself the pedal does the same without a rod.
fn placed_pedals() -> Vec<Row> {
    let parallel = r#"{ "crenel": 1, "linkage": {
        "shaft_ahead_mm": 125, "shaft_above_mm": 0, "pedal_arm_mm": 35, "rod_mm": 125, "shaft_lever_mm": 35
    } }"#;
    let on_shaft = r#"{ "crenel": 1, "linkage": { "pedal_by": "on_shaft" } }"#;
    let mut rows = figure_rows(
        DERIVED,
        "Pedal and lever of 35 mm on a parallelogram",
        parallel,
        &[
            ("shaft_swing_lift_deg", 15.8665, 5e-5),
            ("shaft_swing_press_deg", 15.8665, 5e-5),
            ("shaft_per_foot_deg", 0.440_737, 5e-7),
        ],
    );
    let worst = figure_rows(DERIVED, "", parallel, &[("transmission_worst_deg", 0.0, 0.0)]);
    let off = worst[0].computed.map(|angle| (angle - 90.0).abs());
    rows.push(Row::new(
        DERIVED,
        "Pedal and lever of 35 mm on a parallelogram: rod off square at worst, °",
        off,
        (15.8665, 5e-5),
    ));
    rows.extend(figure_rows(
        DERIVED,
        "Pedal on the selector shaft",
        on_shaft,
        &[("shaft_swing_lift_deg", 15.8665, 5e-5), ("shaft_per_foot_deg", 0.440_737, 5e-7)],
    ));
    rows
}

/// The pin half a step off moves at 30° + 7.6270° to the square of the hook's line, so that the drum
/// turns 37.6730/(10·cos 37.6270°) = 4.7567 for the shaft; 483.54 N·mm times that on 130 mm.
fn feet_on_the_detent() -> Vec<Row> {
    let text =
        r#"{ "crenel": 1, "linkage": { "pedal_by": "on_shaft" }, "claw": {}, "detent": {} }"#;
    figure_rows(
        DERIVED,
        "Pedal on the selector shaft, usual claw and detent",
        text,
        &[("foot_over_detent_n", 17.693, 5e-3)],
    )
}

/// A flank of 5.8 mm from 12° to 54°, 0.1381 mm for a degree: rocking by 20° takes the drum from 60° back
/// to 50°, 4° before the end of the flank; one of seven positions stands at 51.43°, 2.57° before it.
fn tracks() -> Vec<Row> {
    let track = r#""track": { "track_start_deg": 12, "track_end_deg": 54, "fork_throw_mm": 5.8 }"#;
    let six = format!(r#"{{ "crenel": 1, {track}, "detent": {{ "drum_slack_deg": 20 }} }}"#);
    let seven = format!(r#"{{ "crenel": 1, {track}, "claw": {{ "drum_positions": 7 }} }}"#);
    let mut rows = figure_rows(
        ARITHMETIC,
        "Track of 5.8 mm over 42°, six positions",
        &six,
        &[("fork_at_home_mm", 5.8, 1e-12), ("rocking_costs_mm", 0.5524, 5e-5)],
    );
    rows.extend(figure_rows(
        ARITHMETIC,
        "Track of 5.8 mm over 42°, seven positions",
        &seven,
        &[("fork_at_home_mm", 5.4449, 5e-5), ("overlap_per_degree_mm", 0.1381, 5e-5)],
    ));
    rows
}

/// The gap left at the stop where a design does not say, and the share of the dogs that ought to be
/// engaged: three quarters of 5 mm.
fn rules_of_practice() -> Vec<Row> {
    let text = r#"{ "crenel": 1, "depth": { "throw_this_mm": 3, "this": [{ "size_mm": 1, "way": "opens" }] } }"#;
    let findings = Analysis::of(&open(text).expect("it opens").design).findings;
    let shallow = findings.iter().find(|finding| finding.code == "engaged_too_little");
    let wanted = shallow.and_then(|finding| finding.numbers().get(2).map(|(_, mm)| *mm));
    let gap = FieldId::GapWanted.spec().default;
    vec![
        Row::new(PRACTICE, "Gap left at the stop of the claw, mm", Some(gap), (1.0, 0.0)),
        Row::new(PRACTICE, "Dogs of 5 mm ought to be engaged, at least, mm", wanted, (3.75, 1e-12)),
    ]
}
