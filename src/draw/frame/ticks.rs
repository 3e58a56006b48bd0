//! Which numbers are written along an axis.

/// Most numbers along an axis, the one at its start included.
const MOST: u32 = 7;

/// Steps within a decade.
const STEPS: [f64; 4] = [1.0, 2.0, 2.5, 5.0];

/// Steps of angles, degrees.
const ANGLES_DEG: [f64; 5] = [30.0, 45.0, 60.0, 90.0, 180.0];

/// The smallest step of 1, 2, 2.5 or 5 times a power of ten that makes at most `most` numbers from 0 to `top`.
pub(crate) fn step(top: f64, most: u32) -> f64 {
    let spaces = spaces(most);
    let mut decade = 1e-6;
    while decade * 10.0 * spaces <= top {
        decade *= 10.0;
    }
    let steps = [1.0, 10.0].into_iter().flat_map(|more| STEPS.map(|step| step * decade * more));
    steps.into_iter().find(|step| step * spaces >= top * (1.0 - 1e-9)).unwrap_or(top)
}

/// Numbers from 0 to `top`, at most as many as there is room for and never more than seven.
pub(crate) fn ticks(top: f64, room: u32) -> Vec<f64> {
    each(top, step(top, room.clamp(2, MOST)))
}

/// Round numbers between two, as many as there is room for.
pub(crate) fn ticks_between(from: f64, to: f64, room: u32) -> Vec<f64> {
    let step = step(to - from, room.clamp(2, MOST));
    let first = (from / step - 1e-9).ceil();
    let at = |nth: u32| (first + f64::from(nth)) * step;
    (0..=MOST).map(at).take_while(|value| *value <= to + 1e-9 * step).collect()
}

/// A round number of an axis in digits; what only its step has made of it is left out.
pub(crate) fn axis_number(value: f64) -> String {
    // Adding 0 takes the sign of −0 away.
    let tidy = (value * 1e6).round() / 1e6 + 0.0;
    format!("{tidy}").replace('-', "−")
}

/// The same for degrees: steps of 30, 45, 60 or 90, and below a right angle those of other numbers.
pub(crate) fn angle_ticks_deg(top: f64, room: u32) -> Vec<f64> {
    let spaces = spaces(room.clamp(2, MOST));
    let fits = |step: &f64| step * spaces >= top * (1.0 - 1e-9);
    if top < 60.0 {
        return ticks(top, room);
    }
    each(top, ANGLES_DEG.into_iter().find(fits).unwrap_or(360.0))
}

/// Degrees between two angles at which numbers have room: steps of parts of a right angle.
pub(crate) fn angle_ticks_between_deg(from: f64, to: f64, room: u32) -> Vec<f64> {
    /// Steps of angles where only a part of a turn is shown, degrees.
    const PARTS_DEG: [f64; 9] = [0.5, 1.0, 2.0, 5.0, 10.0, 15.0, 30.0, 60.0, 90.0];
    let spaces = spaces(room.clamp(2, MOST));
    let step = PARTS_DEG.into_iter().find(|step| step * spaces >= to - from).unwrap_or(180.0);
    let first = (from / step).ceil();
    let at = |nth: u32| (first + f64::from(nth)) * step;
    (0..=MOST).map(at).take_while(|deg| *deg <= to + 1e-9).collect()
}

fn spaces(numbers: u32) -> f64 {
    f64::from(numbers.max(2) - 1)
}

fn each(top: f64, step: f64) -> Vec<f64> {
    let within = |at: &f64| *at <= top * (1.0 + 1e-9);
    (0..=MOST).map(|at| f64::from(at) * step).take_while(within).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_has_four_to_seven_round_numbers() {
        let mut top = 0.05;
        while top < 1e5 {
            let all = ticks(top, MOST);
            assert!((3..=7).contains(&all.len()), "{top}: {all:?}");
            assert!(top - all[all.len() - 1] <= all[1] + 1e-9, "{top}: {all:?}");
            top *= 1.07;
        }
        assert_eq!(ticks(1500.0, 7), [0.0, 250.0, 500.0, 750.0, 1000.0, 1250.0, 1500.0]);
        assert_eq!(ticks(1500.0, 4), [0.0, 500.0, 1000.0, 1500.0]);
        assert_eq!(ticks(100.0, 7), [0.0, 20.0, 40.0, 60.0, 80.0, 100.0]);
        assert_eq!(ticks(4.5, 7), [0.0, 1.0, 2.0, 3.0, 4.0]);
    }

    #[test]
    fn numbers_between_two_are_round_and_within() {
        assert_eq!(ticks_between(-4.0, 15.0, 7), [0.0, 5.0, 10.0, 15.0]);
        assert_eq!(ticks_between(2.0, 24.0, 7), [5.0, 10.0, 15.0, 20.0]);
        assert_eq!(ticks_between(12.0, 48.0, 7), [20.0, 30.0, 40.0]);
        assert_eq!(ticks_between(0.0, 1.0, 3), [0.0, 0.5, 1.0]);
    }

    #[test]
    fn angles_go_by_parts_of_a_right_angle() {
        assert_eq!(angle_ticks_deg(360.0, 7)[1], 60.0);
        assert_eq!(angle_ticks_deg(360.0, 5)[1], 90.0);
        assert_eq!(angle_ticks_deg(90.0, 7), [0.0, 30.0, 60.0, 90.0]);
        assert_eq!(angle_ticks_deg(270.0, 7)[1], 45.0);
        assert_eq!(angle_ticks_deg(20.0, 7)[1], 5.0);
    }
}
