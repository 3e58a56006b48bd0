//! Arcs on the circle, and the windows between them.

use std::f64::consts::TAU;

use crate::units::{Angle, sort_by_number};

/// Windows narrower than this (radians; 0.03 µm at 30 mm) count as closed, so that rounding does not
/// open a window between arcs that only touch.
pub const ANGLE_TOLERANCE: f64 = 1e-9;

/// An arc counter-clockwise from `start`, at most one turn wide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Where it starts, in `[0, 2π)`.
    pub start: Angle,
    /// How far it reaches.
    pub width: Angle,
}

impl Arc {
    /// From two directions in radians, `end ≥ start`; more than a turn is cut to one.
    pub fn between(start: f64, end: f64) -> Self {
        Self {
            start: Angle::from_radians(start).wrapped(),
            width: Angle::from_radians((end - start).clamp(0.0, TAU)),
        }
    }

    /// Its middle direction.
    pub fn middle(&self) -> Angle {
        (self.start + self.width / 2.0).wrapped()
    }

    /// Where it ends, in `[0, 2π)`.
    pub fn end(&self) -> Angle {
        (self.start + self.width).wrapped()
    }

    /// Whether a direction lies in it, ends included.
    pub fn contains(&self, direction: Angle) -> bool {
        (direction - self.start).wrapped() <= self.width || direction.wrapped() == self.start
    }

    /// The shortest way from a direction to the arc; zero inside.
    pub fn distance(&self, direction: Angle) -> Angle {
        if self.contains(direction) {
            return Angle::ZERO;
        }
        let to_start = (self.start - direction).wrapped();
        let to_end = (direction - self.end()).wrapped();
        if to_start < to_end { to_start } else { to_end }
    }
}

/// The windows: the complement on the circle of the union of the arcs, in order of their starts.
///
/// Without arcs the answer is one window of a whole turn.
///
/// ```
/// use crenel_geometry::pair::{Arc, windows_between};
/// let arcs = [Arc::between(0.0, 1.0), Arc::between(0.5, 2.0)];
/// let open = windows_between(&arcs);
/// assert_eq!(open.len(), 1);
/// assert!((open[0].width.radians() - (std::f64::consts::TAU - 2.0)).abs() < 1e-12);
/// ```
pub fn windows_between(arcs: &[Arc]) -> Vec<Arc> {
    let starts = arcs.iter().map(|arc| arc.start.radians());
    let Some(origin) = starts.min_by(f64::total_cmp) else {
        return vec![Arc { start: Angle::ZERO, width: Angle::FULL }];
    };
    windows_beside(joined(arcs, origin), origin)
}

/// The windows beside spans: starts and ends measured from the first of them, in order.
fn windows_beside(spans: Vec<(f64, f64)>, origin: f64) -> Vec<Arc> {
    // Measured from the first arc's start, no window can cross the end of the turn.
    let mut reach = spans.iter().fold(0.0, |reach: f64, (_, end)| reach.max(end - TAU));
    let mut open = Vec::new();
    for (start, end) in spans {
        push_window(&mut open, origin, reach, start);
        reach = reach.max(end);
    }
    push_window(&mut open, origin, reach, TAU);
    sort_by_number(&mut open, |arc: &Arc| arc.start.radians());
    open
}

/// In how many parts of a turn arcs that begin there and overlap are joined, at most.
const MOST_PARTS: usize = 360;

/// Starts and ends of arcs, measured from an origin at or before all of them, in order. Rings of many dogs block the
/// same phases over and over: arcs that overlap and begin close together are one, so that few are left to sort.
fn joined(arcs: &[Arc], origin: f64) -> Vec<(f64, f64)> {
    let mut parts = vec![None; arcs.len().min(MOST_PARTS)];
    let mut apart = Vec::new();
    for arc in arcs {
        let start = arc.start.radians() - origin;
        let end = start + arc.width.radians();
        let part = part_of(start, parts.len());
        match &mut parts[part] {
            Some((first, last)) if start <= *last && *first <= end => {
                (*first, *last) = (start.min(*first), end.max(*last));
            }
            Some(_) => apart.push((start, end)),
            empty => *empty = Some((start, end)),
        }
    }
    let mut spans: Vec<_> = parts.into_iter().flatten().chain(apart).collect();
    sort_by_number(&mut spans, |span| span.0);
    spans
}

/// In which of so many equal parts of a turn an angle of at most a turn lies.
fn part_of(angle: f64, parts: usize) -> usize {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "of a turn")]
    let part = (angle / TAU * parts as f64) as usize;
    part.min(parts - 1)
}

/// Widths of the narrowest and of the widest window; `None` if the list is empty.
pub fn extremes(windows: &[Arc]) -> Option<(Angle, Angle)> {
    let widths = || windows.iter().map(|window| window.width);
    let order = |a: &Angle, b: &Angle| a.radians().total_cmp(&b.radians());
    Some((widths().min_by(order)?, widths().max_by(order)?))
}

fn push_window(open: &mut Vec<Arc>, origin: f64, from: f64, to: f64) {
    if to - from > ANGLE_TOLERANCE {
        open.push(Arc::between(origin + from, origin + to));
    }
}

/// An angle in radians brought into `[0, 2π)`. Faster than `rem_euclid`, which would take most of the time
/// of the loops that use it.
///
/// Whole turns are counted by a cast: `floor` is a call on processors that have no such instruction.
pub(crate) fn wrapped(angle: f64) -> f64 {
    let turns = angle * (1.0 / TAU);
    if turns.abs() >= MANY_TURNS || turns.is_nan() {
        return angle - TAU * turns.floor();
    }
    #[expect(clippy::cast_possible_truncation, reason = "bounded just above")]
    let whole = f64::from(turns as i32);
    let below = if whole > turns { whole - 1.0 } else { whole };
    // Without a sign on zero, as `floor` would leave it.
    angle - TAU * below + 0.0
}

/// More turns than this are not counted by a cast.
const MANY_TURNS: f64 = 1e9;

/// A length along a circle of this circumference, brought into `[0, circumference)`.
pub fn wrapped_mm(along_mm: f64, circumference_mm: f64) -> f64 {
    let within = along_mm - circumference_mm * (along_mm / circumference_mm).floor();
    if within < circumference_mm { within } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Seeded;

    /// Arcs as (start, end) in degrees, and the windows wanted the same way.
    type Case<'a> = (&'a [(f64, f64)], &'a [(f64, f64)]);

    #[test]
    fn complements() {
        let cases: &[Case] = &[
            (&[], &[(0.0, 360.0)]),
            (&[(10.0, 20.0)], &[(20.0, 370.0)]),
            (&[(350.0, 370.0)], &[(10.0, 350.0)]),
            (&[(350.0, 370.0), (5.0, 20.0)], &[(20.0, 350.0)]),
            (&[(0.0, 180.0), (180.0, 360.0)], &[]),
            (&[(0.0, 400.0)], &[]),
            (&[(300.0, 500.0), (10.0, 20.0)], &[(140.0, 300.0)]),
            (&[(0.0, 10.0), (2.0, 3.0), (90.0, 100.0)], &[(10.0, 90.0), (100.0, 360.0)]),
        ];
        for (arcs, want) in cases {
            let arcs: Vec<_> =
                arcs.iter().map(|(s, e)| Arc::between(s.to_radians(), e.to_radians())).collect();
            let got = windows_between(&arcs);
            assert_eq!(got.len(), want.len(), "{got:?}");
            for (got, (start, end)) in got.iter().zip(*want) {
                assert!((got.start.degrees() - start).abs() < 1e-9, "{got:?}");
                assert!((got.width.degrees() - (end - start)).abs() < 1e-9, "{got:?}");
            }
        }
    }

    /// The windows of arcs that are sorted one by one.
    fn windows_one_by_one(arcs: &[Arc]) -> Vec<Arc> {
        let mut arcs = arcs.to_vec();
        arcs.sort_by(|a, b| a.start.radians().total_cmp(&b.start.radians()));
        let origin = arcs[0].start.radians();
        let from_origin = |arc: &Arc| {
            let start = arc.start.radians() - origin;
            (start, start + arc.width.radians())
        };
        windows_beside(arcs.iter().map(from_origin).collect(), origin)
    }

    /// To the last bit, however many arcs begin together and however narrow they are.
    #[test]
    fn joined_arcs_leave_the_same_windows() {
        let mut random = Seeded::new(3);
        let mut windows = 0;
        for count in (1..2000).step_by(7) {
            let widest = random.share() * 20.0 / f64::from(count);
            let mut arc = || {
                let start = random.share() * TAU;
                Arc::between(start, start + random.share() * widest)
            };
            let arcs: Vec<_> = (0..count).map(|_| arc()).collect();
            let got = windows_between(&arcs);
            windows += got.len();
            assert_eq!(got, windows_one_by_one(&arcs), "{count}");
        }
        assert!(windows > 10_000, "{windows}");
    }

    #[test]
    fn dogs_alike_leave_one_arc_for_each_pitch_to_sort() {
        let at = |dog: u32| TAU / 64.0 * f64::from(dog);
        let arc = |phase: f64| Arc::between(phase - 0.04, phase + 0.04);
        let arcs: Vec<_> =
            (0..64).flat_map(|a| (0..64).map(move |b| arc(-at(a) - at(b)))).collect();
        let origin = arcs.iter().map(|arc| arc.start.radians()).fold(TAU, f64::min);
        let spans = joined(&arcs, origin).len();
        assert_eq!(arcs.len(), 4096);
        // Rounding puts some of them on either side of where a part begins.
        assert!((64..=128).contains(&spans), "{spans}");
    }

    #[test]
    fn an_angle_is_wrapped_to_the_same_bits_as_by_floor() {
        let same = |angle: f64| {
            let by_floor = angle - TAU * (angle * (1.0 / TAU)).floor();
            assert_eq!(wrapped(angle).to_bits(), by_floor.to_bits(), "{angle}");
        };
        let turns = (-40..=40).map(|turn| f64::from(turn) * TAU / 4.0);
        let close = |at: f64| [at.next_down(), at, at.next_up()];
        turns.flat_map(close).chain([-0.0, 1e9, -1e9, 1e12, f64::INFINITY]).for_each(same);
        let mut random = crate::units::Seeded::new(3);
        (0..1000).for_each(|_| same((random.share() - 0.5) * 300.0));
    }

    #[test]
    fn distance_takes_the_short_way() {
        let arc = Arc::between(350_f64.to_radians(), 370_f64.to_radians());
        for (direction, want) in [(0.0, 0.0), (30.0, 20.0), (340.0, 10.0), (180.0, 170.0)] {
            let got = arc.distance(Angle::from_degrees(direction)).degrees();
            assert!((got - want).abs() < 1e-9, "{direction}: {got}");
        }
    }
}
