//! The track in the drum: the travel of the fork as a function of the drum angle.

use std::cmp::Ordering::Greater;

/// A track through points of drum angle, in degrees from the position that the drum leaves, and fork travel,
/// in mm towards the pair. It is straight between points, and level before the first and after the last.
#[derive(Clone, Debug, PartialEq)]
pub struct Track {
    points: Vec<[f64; 2]>,
}

/// What is wrong with the points of a track.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TrackFault {
    /// There are fewer than two.
    TooFew,
    /// The point of this number, from 0, is not behind the one before it.
    OutOfOrder(usize),
}

impl Track {
    /// A track through points.
    ///
    /// # Errors
    /// If there are fewer than two, or the angles do not rise.
    pub fn through(points: Vec<[f64; 2]>) -> Result<Self, TrackFault> {
        if points.len() < 2 {
            return Err(TrackFault::TooFew);
        }
        // Comparing with NaN gives `None`, so that NaN fails too.
        let rises = |at: usize| points[at][0].partial_cmp(&points[at - 1][0]) == Some(Greater);
        let fault = (1..points.len()).find(|&at| !rises(at));
        fault.map_or(Ok(Self { points }), |at| Err(TrackFault::OutOfOrder(at)))
    }

    /// A level track with one straight flank.
    ///
    /// # Errors
    /// If the flank does not end behind its start.
    pub fn flank(start_deg: f64, end_deg: f64, throw_mm: f64) -> Result<Self, TrackFault> {
        Self::through(vec![[start_deg, 0.0], [end_deg, throw_mm]])
    }

    /// Its points.
    pub fn points(&self) -> &[[f64; 2]] {
        &self.points
    }

    /// Fork travel at a drum angle, mm.
    pub fn travel_mm(&self, deg: f64) -> f64 {
        let [first, last] = [self.points[0], self.points[self.points.len() - 1]];
        if deg <= first[0] {
            return first[1];
        }
        let pair = self.points.windows(2).find(|pair| deg <= pair[1][0]);
        pair.map_or(last[1], |pair| {
            let [[from, low], [to, high]] = [pair[0], pair[1]];
            low + (high - low) * (deg - from) / (to - from)
        })
    }

    /// The steepest slope within `half_deg` on either side of a drum angle, mm for each degree,
    /// whichever way.
    pub fn steepest(&self, deg: f64, half_deg: f64) -> f64 {
        let pairs = self.points.windows(2);
        let near = pairs.filter(|pair| pair[1][0] > deg - half_deg && pair[0][0] < deg + half_deg);
        let slopes = near.map(|pair| ((pair[1][1] - pair[0][1]) / (pair[1][0] - pair[0][0])).abs());
        slopes.fold(0.0, f64::max)
    }

    /// The least fork travel within `half_deg` on either side of a drum angle, mm.
    pub fn least_near(&self, deg: f64, half_deg: f64) -> f64 {
        let (from, to) = (deg - half_deg, deg + half_deg);
        let ends = [from, to].map(|at| self.travel_mm(at));
        let between = self.points.iter().filter(|[at, _]| (from..=to).contains(at));
        between.map(|[_, mm]| *mm).chain(ends).fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flank_is_level_at_both_ends_and_straight_between() {
        let track = Track::flank(12.0, 52.0, 6.0).unwrap();
        for (deg, mm) in [(0.0, 0.0), (12.0, 0.0), (32.0, 3.0), (52.0, 6.0), (60.0, 6.0)] {
            assert!((track.travel_mm(deg) - mm).abs() < 1e-12, "{deg}");
        }
        assert!((track.steepest(55.0, 5.0) - 0.15).abs() < 1e-12);
        assert_eq!(track.steepest(58.0, 2.0), 0.0);
        assert!((track.least_near(54.0, 4.0) - 5.7).abs() < 1e-12);
    }

    #[test]
    fn points_out_of_order_are_told_by_their_number() {
        assert_eq!(Track::through(vec![[0.0, 0.0]]), Err(TrackFault::TooFew));
        let crossed = vec![[0.0, 0.0], [20.0, 1.0], [15.0, 2.0]];
        assert_eq!(Track::through(crossed), Err(TrackFault::OutOfOrder(2)));
        assert_eq!(Track::flank(f64::NAN, 3.0, 1.0), Err(TrackFault::OutOfOrder(1)));
    }

    #[test]
    fn the_least_near_a_place_sees_a_dip() {
        let dip = Track::through(vec![[0.0, 0.0], [40.0, 6.0], [45.0, 5.0], [50.0, 6.0]]).unwrap();
        assert_eq!(dip.least_near(46.0, 2.0), 5.0);
        assert!((dip.least_near(48.0, 1.0) - 5.4).abs() < 1e-12);
    }
}
