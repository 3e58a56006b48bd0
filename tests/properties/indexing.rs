//! Indexing: one circle, the best one, and everything carried; and the workshop answers any number.

use crenel::shop::balance::permissible_g_mm;
use crenel::shop::cutter::{Range, Space, runs_across};
use crenel::shop::indexing::{
    Crank, Dividing, EXACT_MIN, IndexSheet, Job, Plate, Plates, RotaryTable, TABLES, to_the_second,
};
use crenel::shop::tolerance::Grade;
use crenel::shop::wheel::most_rpm;
use crenel::units::Angle;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{select, subsequence};

use crate::cases;

fn head() -> impl Strategy<Value = Dividing> {
    let ratio = select(vec![1_u16, 5, 40, 60, 72, 80, 90, 120, u16::MAX]);
    let plates = subsequence(Plates::default().iter().cloned().collect::<Vec<_>>(), 1..=4);
    (ratio, plates)
        .prop_map(|(ratio, plates)| Dividing { ratio, plates: plates.into_iter().collect() })
}

/// Angles on purpose near holes, seconds and full turns, and anywhere else.
fn degrees() -> impl Strategy<Value = f64> {
    let hair = select(vec![0.0, 1e-13, -1e-13, 1e-7, -1e-7, 1.3e-4, -1.3e-4]);
    let even = (0..400_i32, 1..100_i32).prop_map(|(at, of)| 360.0 * f64::from(at) / f64::from(of));
    let full = select(vec![0.0, 360.0, -360.0, 720.0]);
    let seconds = (-2_000_000..2_000_000_i32).prop_map(|s| f64::from(s) / 3600.0);
    let base = prop_oneof![even, full, seconds, -800.0..800.0_f64];
    (base, hair).prop_map(|(base, hair)| base + hair)
}

fn angles(degrees: &[f64]) -> Vec<Angle> {
    degrees.iter().map(|&d| Angle::from_degrees(d)).collect()
}

fn spaces(crank: Crank) -> u64 {
    u64::from(crank.turns) * u64::from(crank.circle) + u64::from(crank.holes)
}

/// Minutes of arc of so many spaces.
fn minutes(job: &Job, spaces: u64) -> f64 {
    let round = u64::from(job.ratio) * u64::from(job.circle);
    // Few enough for a float to hold exactly.
    #[expect(clippy::cast_precision_loss)]
    let part = spaces as f64 / round as f64;
    part * 21_600.0
}

/// The short way from one direction to the other, minutes of arc.
fn apart_min(from: f64, to: f64) -> f64 {
    (to - from + 10_800.0).rem_euclid(21_600.0) - 10_800.0
}

proptest! {
    #![proptest_config(cases(2000))]

    #[test]
    fn the_crank_is_where_the_error_says(head in head(), given in vec(degrees(), 0..12)) {
        let job = head.job(&angles(&given)).expect("plates and numbers are there");
        let half_space = minutes(&job, 1) / 2.0;
        for (step, asked) in job.steps.iter().zip(&given) {
            let crank = step.fit.crank;
            prop_assert!(crank.circle == job.circle && crank.holes < job.circle);
            prop_assert!(crank.turns < u32::from(head.ratio), "{crank:?}");
            let off = apart_min(asked * 60.0, minutes(&job, spaces(crank)));
            prop_assert!((off - step.fit.error_min).abs() < 1e-4, "{off} {step:?}");
            prop_assert!(step.fit.error_min.abs() <= half_space + 1e-6, "{step:?}");
            prop_assert!((0.0..360.0).contains(&step.position.degrees()));
        }
    }

    #[test]
    fn moves_lead_from_each_position_to_the_next(head in head(), given in vec(degrees(), 0..12)) {
        let job = head.job(&angles(&given)).expect("plates and numbers are there");
        let round = u64::from(job.ratio) * u64::from(job.circle);
        let mut stands = 0;
        for step in &job.steps {
            stands = (stands + spaces(step.on)) % round;
            prop_assert_eq!(stands, spaces(step.fit.crank));
        }
    }

    /// Each circle by itself is a head with one plate: none of them beats the one chosen.
    #[test]
    fn no_circle_is_better(head in head(), given in vec(degrees(), 1..8)) {
        let given = angles(&given);
        let chosen = head.job(&given).expect("plates and numbers are there");
        for circle in head.circles() {
            let one = Plate { circles: vec![circle] };
            let alone = Dividing { plates: [one].into_iter().collect(), ..head.clone() };
            let other = alone.job(&given).expect("one circle is there");
            let (this, that) = (chosen.largest_error_min(), other.largest_error_min());
            if chosen.is_exact() {
                prop_assert!(chosen.circle <= circle || that >= EXACT_MIN);
            } else {
                prop_assert!(this <= that + 2e-6, "{circle}: {that} is less than {this}");
            }
        }
    }

    #[test]
    fn handle_and_dial_add_up_to_the_position(ratio in 1..500_u16, asked in degrees()) {
        let asked = Angle::from_degrees(asked);
        let dial = RotaryTable { ratio }.dial(asked).expect("it is a number");
        let turn = 360.0 / f64::from(ratio);
        let back = f64::from(dial.turns) * turn + dial.rest.degrees();
        prop_assert!((back - to_the_second(asked).degrees()).abs() < 1e-9);
        prop_assert!(apart_min(asked.degrees() * 60.0, back * 60.0).abs() < 0.500_01 / 60.0);
        prop_assert!(dial.turns < u32::from(ratio));
        prop_assert!((0.0..turn).contains(&dial.rest.degrees()), "{dial:?}");
        let reading = dial.reading();
        prop_assert!(!reading.contains("60′") && !reading.contains("60″"), "{reading}");
    }

    #[test]
    fn any_number_is_answered(numbers in vec(any::<f64>(), 4), ratio in any::<u16>()) {
        let given: Vec<Angle> = numbers.iter().map(|&n| Angle::from_radians(n)).collect();
        let head = Dividing { ratio, ..Dividing::default() };
        for angle in &given {
            prop_assert!(head.fits(*angle).iter().all(|fit| fit.error_min.is_finite()));
        }
        let dogs = given.iter().map(|angle| (String::new(), *angle)).collect();
        let sheet = IndexSheet::new(dogs, Some(&head), Some(TABLES[0]));
        let finite = numbers.iter().all(|n| n.is_finite());
        prop_assert_eq!(sheet.head.is_some(), finite && ratio > 0);
        prop_assert_eq!(sheet.table.is_some(), finite);
        let [a, b, c, d] = numbers[..] else { unreachable!("four are asked for") };
        let space = Space { from: given[0], width: given[1], flank_mm: c };
        let range = Range::for_spaces(&[space], a, b);
        let answers = [
            range.narrowest_mm,
            range.widest_mm,
            most_rpm(a, b),
            permissible_g_mm(a, b, c),
            Grade::Medium.linear_mm(a),
            Grade::Medium.angular(a).map(Angle::degrees),
        ];
        prop_assert!(answers.into_iter().flatten().all(|n| n >= 0.0), "{answers:?}");
        let _ = runs_across(&[space], d, a, b);
    }
}
