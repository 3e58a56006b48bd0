//! A length over the turn of the drum, straight between points.

use crate::selector::Track;

/// A whole turn, degrees.
pub const TURN_DEG: f64 = 360.0;

/// A range of drum angles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Where it begins, degrees.
    pub from_deg: f64,
    /// Where it ends, degrees.
    pub to_deg: f64,
}

impl Span {
    /// Its width, degrees.
    pub fn width_deg(&self) -> f64 {
        self.to_deg - self.from_deg
    }

    /// Whether a drum angle is in it, its ends included.
    pub fn contains(&self, deg: f64) -> bool {
        (self.from_deg..=self.to_deg).contains(&deg)
    }

    /// What two spans have in common, if that is more than one angle.
    fn common(&self, other: &Self) -> Option<Self> {
        let from_deg = self.from_deg.max(other.from_deg);
        let to_deg = self.to_deg.min(other.to_deg);
        (from_deg < to_deg).then_some(Self { from_deg, to_deg })
    }
}

/// What of a course counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Level {
    /// More than this, mm.
    Above(f64),
    /// This or more, mm.
    From(f64),
}

impl Level {
    /// The length, mm.
    const fn mm(self) -> f64 {
        match self {
            Self::Above(mm) | Self::From(mm) => mm,
        }
    }

    fn holds(self, mm: f64) -> bool {
        match self {
            Self::Above(level) => mm > level,
            Self::From(level) => mm >= level,
        }
    }
}

/// A length over one turn of the drum.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Drum angle and length; the angles rise from 0 to 360.
    points: Vec<[f64; 2]>,
}

impl Course {
    /// What becomes of the travel in a track, over the whole turn.
    pub fn of(track: &Track, to: impl Fn(f64) -> f64) -> Self {
        let inside =
            track.points().iter().copied().filter(|[deg, _]| *deg > 0.0 && *deg < TURN_DEG);
        let end = |deg| [deg, track.travel_mm(deg)];
        let points = [end(0.0)].into_iter().chain(inside).chain([end(TURN_DEG)]);
        Self { points: points.map(|[deg, mm]| [deg, to(mm)]).collect() }
    }

    /// Its points: drum angle in degrees and length in mm.
    pub fn points(&self) -> &[[f64; 2]] {
        &self.points
    }

    /// The straight pieces, each from its first to its last point.
    pub(super) fn pieces(&self) -> impl Iterator<Item = [[f64; 2]; 2]> {
        self.points.windows(2).map(|pair| [pair[0], pair[1]])
    }

    /// The length at a drum angle, mm.
    pub fn at_mm(&self, deg: f64) -> f64 {
        let piece = self.pieces().find(|[_, to]| deg <= to[0]);
        let [from, to] = piece.unwrap_or([self.points[self.points.len() - 1]; 2]);
        if deg <= from[0] {
            return from[1];
        }
        from[1] + (to[1] - from[1]) * ((deg - from[0]) / (to[0] - from[0])).min(1.0)
    }

    /// The same, longer by so much, mm.
    #[must_use]
    pub fn raised(&self, by_mm: f64) -> Self {
        Self { points: self.points.iter().map(|[deg, mm]| [*deg, mm + by_mm]).collect() }
    }

    /// What becomes of two lengths at every angle. Both are straight between the angles of either.
    pub(super) fn with(&self, other: &Self, to: impl Fn(f64, f64) -> f64) -> Self {
        let mut angles: Vec<f64> =
            self.points.iter().chain(&other.points).map(|[deg, _]| *deg).collect();
        angles.sort_by(f64::total_cmp);
        angles.dedup();
        let point = |deg| [deg, to(self.at_mm(deg), other.at_mm(deg))];
        Self { points: angles.into_iter().map(point).collect() }
    }

    /// The least and the greatest length so far to either side of an angle, mm.
    pub fn range_near(&self, deg: f64, half_deg: f64) -> [f64; 2] {
        let ends = [deg - half_deg, deg + half_deg];
        let between = self.points.iter().filter(|[at, _]| (ends[0]..=ends[1]).contains(at));
        let lengths = between.map(|[_, mm]| *mm).chain(ends.map(|at| self.at_mm(at)));
        lengths.fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], mm| {
            [least.min(mm), most.max(mm)]
        })
    }

    /// Where it is beyond a level, in order. Each end is exact: where a straight piece crosses the level.
    pub fn spans(&self, level: Level) -> Vec<Span> {
        let mut spans: Vec<Span> = Vec::new();
        for [from, to] in self.pieces() {
            let [starts, ends] = [from, to].map(|[_, mm]| level.holds(mm));
            if !starts && !ends {
                continue;
            }
            let from_deg = if starts { from[0] } else { crossing(from, to, level.mm()) };
            let to_deg = if ends { to[0] } else { crossing(from, to, level.mm()) };
            match spans.last_mut() {
                Some(last) if starts && last.to_deg == from_deg => last.to_deg = to_deg,
                _ => spans.push(Span { from_deg, to_deg }),
            }
        }
        spans.retain(|span| span.width_deg() > 0.0);
        spans
    }
}

/// Where a straight piece has this length, degrees.
pub(super) fn crossing([a, low]: [f64; 2], [b, high]: [f64; 2], mm: f64) -> f64 {
    a + (b - a) * ((mm - low) / (high - low))
}

/// The spans that two lists of spans have in common.
pub(super) fn in_both(one: &[Span], other: &[Span]) -> Vec<Span> {
    one.iter().flat_map(|a| other.iter().filter_map(|b| a.common(b))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn course(points: &[[f64; 2]]) -> Course {
        let track = Track::through(points.to_vec()).expect("it rises");
        Course::of(&track, |mm| mm)
    }

    #[test]
    fn a_course_is_level_to_both_ends_of_the_turn() {
        let course = course(&[[30.0, 0.0], [60.0, 6.0], [400.0, 40.0]]);
        assert_eq!(course.at_mm(-5.0), 0.0);
        assert_eq!(course.at_mm(45.0), 3.0);
        assert!((course.at_mm(360.0) - 36.0).abs() < 1e-12);
        assert_eq!(course.at_mm(500.0), course.at_mm(360.0));
        let last = course.points()[course.points().len() - 1];
        assert_eq!(last[0], TURN_DEG);
    }

    #[test]
    fn spans_end_where_the_pieces_cross_the_level() {
        let hill = course(&[[10.0, 0.0], [30.0, 5.0], [50.0, 5.0], [70.0, 0.0]]);
        let span = |from_deg, to_deg| vec![Span { from_deg, to_deg }];
        assert_eq!(hill.spans(Level::Above(2.5)), span(20.0, 60.0));
        assert_eq!(hill.spans(Level::Above(5.0)), []);
        assert_eq!(hill.spans(Level::From(5.0)), span(30.0, 50.0));
        assert_eq!(hill.spans(Level::From(0.0)), span(0.0, 360.0));
        assert_eq!(hill.spans(Level::Above(0.0)), span(10.0, 70.0));
    }

    #[test]
    fn a_dip_to_the_level_parts_what_is_above_it_and_not_what_touches_it() {
        let dip = course(&[[10.0, 0.0], [20.0, 4.0], [30.0, 2.0], [40.0, 4.0], [50.0, 0.0]]);
        assert_eq!(dip.spans(Level::Above(2.0)).len(), 2);
        assert_eq!(dip.spans(Level::From(2.0)).len(), 1);
    }

    #[test]
    fn the_range_near_an_angle_sees_a_peak_between_its_ends() {
        let hill = course(&[[10.0, 0.0], [30.0, 5.0], [50.0, 0.0]]);
        assert_eq!(hill.range_near(28.0, 4.0), [3.5, 5.0]);
        assert_eq!(hill.range_near(28.0, 0.0), [4.5, 4.5]);
    }
}
