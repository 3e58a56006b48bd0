//! The workshop without a dividing head: balance, cutters, wheels, grit, tolerances.

use crenel::shop::balance::{permissible_g_mm, permissible_um};
use crenel::shop::cutter::{Range, Space, runs_across};
use crenel::shop::grit::GRITS;
use crenel::shop::tolerance::{Grade, arc_mm};
use crenel::shop::wheel::most_rpm;
use crenel::units::Angle;

use super::row::{ARITHMETIC, DERIVED, Row, Source};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [unbalance_allowed(), cutters(), cut_off_wheel(), grits(), general_tolerances()]
        .into_iter()
        .flatten()
        .collect()
}

fn unbalance_allowed() -> Vec<Row> {
    const WORKED: Source = Source::derived("by hand with the formula of ISO 21940-11");
    const ISO: Source = Source::derived("by hand with the formula of ISO 21940-11");
    let (allowed, eccentric) = (permissible_g_mm(6.3, 2.0, 10_000.0), permissible_um(6.3, 3000.0));
    vec![
        Row::new(
            WORKED,
            "Unbalance allowed, 2 kg, G 6.3, 10 000 rpm, g·mm",
            allowed,
            (12.03, 5e-3),
        ),
        Row::new(
            WORKED,
            "Unbalance allowed, 2 kg, G 6.3, 10 000 rpm, rounded to a whole number, g·mm",
            allowed.map(f64::round),
            (12.0, 0.0),
        ),
        Row::new(ISO, "Offset of the mass allowed, G 6.3, 3000 rpm, µm", eccentric, (20.05, 5e-3)),
    ]
}

/// Spaces of a ring with as much space as tooth.
fn equal_spaces(count: u32) -> Vec<Space> {
    let step = Angle::FULL / f64::from(count);
    (0..count).map(|at| Space::radial(step * f64::from(at), step / 2.0)).collect()
}

/// N 6, Ri 22, Ro 30, tooth and space equal; and which counts can be cut right across.
fn cutters() -> Vec<Row> {
    const CLUTCH: Source =
        Source::from_memory("Machinery's Handbook, cutting clutch teeth, from memory");
    let range = Range::for_spaces(&equal_spaces(6), 22.0, 30.0);
    let mut rows = vec![
        Row::new(
            DERIVED,
            "6 equal teeth and spaces, radii 22 and 30 mm: narrowest cutter in two passes, mm",
            range.narrowest_mm,
            (7.765, 5e-4),
        ),
        Row::new(
            DERIVED,
            "6 equal teeth and spaces, radii 22 and 30 mm: widest cutter past the next dog, mm",
            range.widest_mm,
            (11.0, 1e-9),
        ),
    ];
    for count in 3..=8 {
        let across = runs_across(&equal_spaces(count), 7.0, 22.0, 30.0);
        let expected = f64::from(count % 2);
        let name = format!("{count} equal teeth and spaces: cutter can run right across, 1 is yes");
        rows.push(Row::new(CLUTCH, &name, Some(f64::from(across)), (expected, 0.0)));
    }
    rows
}

fn cut_off_wheel() -> Vec<Row> {
    const RATING: Source =
        Source::practice("speed marked on cut-off wheels of 125 mm; common practice, no source");
    vec![
        Row::new(
            RATING,
            "Cut-off wheel of 125 mm for 80 m/s: most, rpm",
            most_rpm(80.0, 125.0),
            (12_200.0, 0.0),
        ),
        // 12 200 rpm of 125 mm are 79.85 m/s at the rim.
        Row::new(
            ARITHMETIC,
            "Cut-off wheel of 125 mm for 79.85 m/s: most, rpm",
            most_rpm(79.85, 125.0),
            (12_200.0, 0.0),
        ),
        Row::new(
            ARITHMETIC,
            "Cut-off wheel of 125 mm for 79.84 m/s: most, rpm",
            most_rpm(79.84, 125.0),
            (12_100.0, 0.0),
        ),
    ]
}

fn grits() -> Vec<Row> {
    let row = |(name, expected): (&str, f64)| {
        let grit = GRITS.iter().find(|grit| grit.name == name).map(|grit| grit.median_um);
        Row::new(
            Source::from_memory("FEPA 43-GB and ISO 6344-3, median grain sizes, from memory"),
            &format!("Grit {name}: middle size of grain, µm"),
            grit,
            (expected, 0.0),
        )
    };
    [("P1200", 15.3), ("P600", 25.8), ("P240", 58.5)].map(row).into()
}

fn general_tolerances() -> Vec<Row> {
    const ISO: Source = Source::published("ISO 2768-1, class m");
    let linear = [(2.0, 0.1), (5.0, 0.1), (22.0, 0.2), (60.0, 0.3), (200.0, 0.5)];
    let angles = [(8.0, 60.0), (22.0, 30.0), (60.0, 20.0), (200.0, 10.0)];
    let mut rows: Vec<Row> = linear
        .iter()
        .map(|&(size, tolerance)| {
            Row::new(
                ISO,
                &format!("General tolerance of a length of {size} mm, ± mm"),
                Grade::Medium.linear_mm(size),
                (tolerance, 0.0),
            )
        })
        .collect();
    rows.extend(angles.iter().map(|&(leg, minutes)| {
        let computed = Grade::Medium.angular(leg).map(|angle| angle.degrees() * 60.0);
        Row::new(
            ISO,
            &format!("General tolerance of an angle with a leg of {leg} mm, ± minutes"),
            computed,
            (minutes, 1e-9),
        )
    }));
    let flank = Grade::Medium.angular(22.0).map(|angle| arc_mm(angle, 26.0));
    rows.push(Row::new(
        ISO,
        "General tolerance of a flank of 22 mm at a radius of 26 mm, ± mm",
        flank,
        (0.23, 5e-3),
    ));
    rows
}
