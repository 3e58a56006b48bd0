//! Forks over the turn of the drum: lets go, meets, and two gears at once.

use crenel::drum::{Change, Drum, Face, Fork, Gear, Play, Position};
use crenel::selector::Track;

use super::row::{DERIVED, Row};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    let after = two_forks([[4.0, 26.0], [34.0, 56.0]]);
    let change = after.changes(Play::Nominal)[0];
    let one = |name, value, wanted| Row::new(DERIVED, name, value, (wanted, 5e-3));
    let of = |value: fn(&Change) -> Option<f64>| value(&change);
    let mut rows = vec![
        one("Fork 5 mm over 4…26°, overlap 4.4 mm: lets go at, °", of(|c| c.lets_go_deg), 23.36),
        one("Fork 5 mm over 34…56°, clearance 0.6 mm: meets at, °", of(|c| c.meets_deg), 36.64),
        one("Both forks: empty angle between, °", of(Change::free_of_touch_deg), 13.28),
        one(
            "Both forks: margin against two gears at once, °",
            after.together(0, 1).margin_deg,
            13.28,
        ),
    ];
    let together = two_forks([[10.0, 50.0], [10.0, 50.0]]).together(0, 1);
    let span = together.spans.first();
    rows.extend([
        one("Both forks over 10…50°: meets at, °", span.map(|span| span.from_deg), 14.8),
        one("Both forks over 10…50°: lets go at, °", span.map(|span| span.to_deg), 45.2),
        one(
            "Both forks over 10…50°: two gears at once over, °",
            together.margin_deg.map(|deg| -deg),
            30.4,
        ),
    ]);
    rows
}

/// The first fork lets its gear out of 4.4 mm over the first angles, the second takes its own in.
fn two_forks(angles: [[f64; 2]; 2]) -> Drum {
    let fork = |[from, to]: [f64; 2], [starts, ends]: [f64; 2]| {
        Fork::plain(Track::through(vec![[from, starts], [to, ends]]).expect("it rises"))
    };
    let gear = |fork| Gear { fork, home_mm: 4.4, ..Gear::plain(Face::Higher, 0.6) };
    let positions = [(0.0, 0), (60.0, 1)].map(|(deg, gear)| Position { deg, gear: Some(gear) });
    Drum {
        forks: vec![fork(angles[0], [5.0, 0.0]), fork(angles[1], [0.0, 5.0])],
        shafts_mm: vec![0.0],
        gears: vec![gear(0), gear(1)],
        positions: positions.to_vec(),
        float_mm: 0.0,
        slack_deg: 0.0,
        stand_deg: 0.0,
    }
}
