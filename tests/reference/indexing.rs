//! Dividing heads and rotary tables.

use crenel::shop::indexing::{Dividing, Fit, Plates, TABLES};
use crenel::units::Angle;

use super::row::{ARITHMETIC, Row, Source};

const HANDBOOK: Source = Source::published("Machinery's Handbook, 1916, indexing for angles");
const ARMY: Source = Source::published("US Army OD1644, plain and angular indexing");

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [divisions(), angles_on_circles(), nearest_hole(), rotary_tables()]
        .into_iter()
        .flatten()
        .collect()
}

/// What a head of 40:1 with all plates does for an angle, on one circle.
fn on_circle(degrees: f64, circle: u16) -> Option<Fit> {
    let fits = Dividing::default().fits(Angle::from_degrees(degrees));
    fits.into_iter().find(|fit| fit.crank.circle == circle)
}

/// Turns and holes on one circle, and that they are exact.
fn exact_rows(source: Source, name: &str, degrees: f64, crank: (u32, u16, u16)) -> Vec<Row> {
    let (turns, holes, circle) = crank;
    let fit = on_circle(degrees, circle);
    let name = |what| format!("{name} on a head of 40:1, circle of {circle} holes: {what}");
    let turns_got = fit.map(|fit| f64::from(fit.crank.turns));
    let holes_got = fit.map(|fit| f64::from(fit.crank.holes));
    let error = fit.map(|fit| fit.error_min);
    vec![
        Row::new(source, &name("whole turns"), turns_got, (turns.into(), 0.0)),
        Row::new(source, &name("holes on"), holes_got, (holes.into(), 0.0)),
        Row::new(source, &name("error, minutes"), error, (0.0, 1e-9)),
    ]
}

fn divisions() -> Vec<Row> {
    let table = [
        (6, (6, 12, 18)),
        (6, (6, 26, 39)),
        (8, (5, 0, 15)),
        (14, (2, 18, 21)), // 2 6/7
        (42, (0, 20, 21)),
    ];
    let row = |(count, crank)| {
        exact_rows(ARMY, &format!("{count} divisions"), 360.0 / f64::from(count), crank)
    };
    table.into_iter().flat_map(row).collect()
}

fn angles_on_circles() -> Vec<Row> {
    let mut rows = exact_rows(HANDBOOK, "35°", 35.0, (3, 16, 18));
    rows.extend(exact_rows(HANDBOOK, "11°30′", 11.5, (1, 5, 18)));
    rows.extend(exact_rows(ARMY, "54′", 0.9, (0, 2, 20)));
    rows
}

/// 24′: no circle has it; and the circle chosen for it by the set of three plates and by all.
fn nearest_hole() -> Vec<Row> {
    let three = Dividing { ratio: 40, plates: Plates::default().iter().take(3).cloned().collect() };
    let mut rows = Vec::new();
    for (name, head) in [("three plates", three), ("all plates", Dividing::default())] {
        let fit = head.nearest(Angle::from_degrees(0.4));
        let circle = fit.map(|fit| f64::from(fit.crank.circle));
        let holes = fit.map(|fit| f64::from(fit.crank.holes));
        let error = fit.map(|fit| fit.error_min);
        let name = |what| format!("24′ on a head of 40:1 with {name}: {what}");
        rows.push(Row::new(ARMY, &name("holes of the nearest circle"), circle, (23.0, 0.0)));
        rows.push(Row::new(ARMY, &name("holes on"), holes, (1.0, 0.0)));
        rows.push(Row::new(ARITHMETIC, &name("error, minutes"), error, (-0.522, 5e-4)));
    }
    rows
}

/// 60° by handle and dial.
fn rotary_tables() -> Vec<Row> {
    let table =
        [(40, 6.0, 6.0), (60, 10.0, 0.0), (72, 12.0, 0.0), (80, 13.0, 1.5), (90, 15.0, 0.0)];
    let rows = table.into_iter().flat_map(|(ratio, turns, rest)| {
        let usual = TABLES.into_iter().find(|table| table.ratio == ratio);
        let dial = usual.and_then(|table| table.dial(Angle::from_degrees(60.0)));
        let name = |what| format!("60° on a rotary table of {ratio}:1: {what}");
        [
            Row::new(
                ARITHMETIC,
                &name("turns of the handle"),
                dial.map(|d| f64::from(d.turns)),
                (turns, 0.0),
            ),
            Row::new(
                ARITHMETIC,
                &name("rest on the dial, °"),
                dial.map(|d| d.rest.degrees()),
                (rest, 1e-12),
            ),
        ]
    });
    rows.collect()
}
