//! Rows of the outcome map, worked out by runs of phases with the same outcome.
//!
//! This needs straight flanks with sharp edges, and something that slows the slip. It is the quicker way for
//! these; all others go by chains. Where the bounds of the time do not tell whether the time allowed is
//! enough, single attempts find the phase at which it runs out.

mod divide;
mod fall;
mod gap_tree;
mod outcome_table;
mod times;

use gap_tree::GapPart;
use outcome_table::OutcomeTable;

use super::attempt::{STEP_RAD, Shifter};
use super::row::Ends;

/// With more strikes than this the tables would cost more than they save.
const MOST_STRIKES: f64 = 5000.0;

/// Prepared tables for all shifts of a shifter.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Runs {
    outcomes: OutcomeTable,
}

impl Runs {
    /// `None` if rows have to be worked out differently.
    pub(super) fn of(shifter: &Shifter) -> Option<Self> {
        Some(Self { outcomes: OutcomeTable::of(shifter)? })
    }

    /// How the shifts from all phases end at a slip in rad/s, in exact runs of phases. `None` if the row has
    /// to be worked out differently.
    pub(super) fn ends(&mut self, shifter: &Shifter, slip: f64) -> Option<Ends> {
        if slip <= 0.0 || self.outcomes.most_strikes(slip) >= MOST_STRIKES {
            return None;
        }
        let mut ends = Ends::from(self.outcomes.rings.origin);
        for at in 0..self.outcomes.rings.circle.len() {
            let part = self.outcomes.rings.circle[at];
            self.along(&part, shifter, slip, &mut ends);
        }
        Some(ends)
    }

    /// The runs of a part of the circle, one after the other.
    fn along(&mut self, part: &GapPart, shifter: &Shifter, slip: f64, ends: &mut Ends) {
        let (mut at, mut step) = (part.from, STEP_RAD);
        while at < part.to {
            let inside = at + step.min((part.to - at) / 2.0);
            let (bounds, further) = self.outcomes.at_start(part, inside, slip);
            let to = (inside + further.max(0.0)).min(part.to);
            ends.add(shifter, slip, [at, to].map(|place| ends.origin + place), &bounds);
            // The step doubles where rounding decides, so that the loop always gets on.
            step = if to - at > 2.0 * step { STEP_RAD } else { 2.0 * step };
            at = to;
        }
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use super::*;
    use crate::pair::Mesh;
    use crate::ring::EvenRing;
    use crate::shift::outcome_bounds::OutcomeBounds;
    use crate::shift::{Attempt, Conditions, Drive, Outcome, Travel};

    fn shifter(heights: &[f64], width: f64, conditions: Conditions, direction: f64) -> Shifter {
        let (first_dog_deg, tip_width_deg) = (7.0, width);
        let even = EvenRing { heights, tip_width_deg, first_dog_deg, ..EvenRing::default() };
        let ring = even.to_ring();
        Shifter::new(&Mesh::new(&ring, &ring).expect("one band"), conditions, direction)
    }

    /// Every run of a row with the attempts at its start and at its end.
    fn each_run(shifter: &Shifter, slip: f64, mut see: impl FnMut(&OutcomeBounds, [Attempt; 2])) {
        let mut runs = Runs::of(shifter).expect("straight flanks with sharp edges");
        for part in runs.outcomes.rings.circle.clone() {
            let mut place = part.from + 1e-7;
            while place < part.to {
                let (bounds, further) = runs.outcomes.at_start(&part, place, slip);
                let end = (place + further - 1e-9).clamp(place, part.to - 1e-9);
                let attempts = [place, end].map(|place| {
                    shifter.attempt(shifter.direction * (runs.outcomes.rings.origin + place), slip)
                });
                see(&bounds, attempts);
                place += further.max(0.0) + 1e-7;
            }
        }
    }

    /// Rings and conditions of several kinds, each with a slip.
    fn cases() -> Vec<(Shifter, f64)> {
        let rings: [(&[f64], f64); 4] =
            [(&[1.0], 24.0), (&[1.0], 15.0), (&[1.0, 0.9, 0.7], 20.0), (&[1.0, 0.5], 24.0)];
        let drum = Travel { drive: Drive::Both, ..Conditions::of_tests(Drive::Force).travel };
        let hard = Conditions {
            hold_mm: 0.3,
            strike_loss: 0.4,
            drag_nm: 0.1,
            ..Conditions::of_tests(Drive::Force)
        };
        let mut cases = Vec::new();
        for (heights, width) in rings {
            for given in [
                Conditions::of_tests(Drive::Force),
                Conditions { travel: drum, ..Conditions::of_tests(Drive::Force) },
                hard,
            ] {
                for (direction, slip) in [(1.0, 7.0), (-1.0, 31.0), (1.0, 55.0), (1.0, 140.0)] {
                    cases.push((shifter(heights, width, given, direction), slip));
                }
            }
        }
        cases
    }

    #[test]
    fn a_run_comes_to_the_same_at_both_ends_within_the_bounds_of_its_time() {
        let mut seen = 0;
        for (shifter, slip) in cases() {
            each_run(&shifter, slip, |bounds, [begin, end]| {
                let [least, most] = bounds.seconds;
                for attempt in [&begin, &end] {
                    assert_eq!(
                        Outcome::from_attempt(attempt),
                        bounds.outcome,
                        "{bounds:?} {attempt:?}"
                    );
                    let within = attempt.time_s > least - 1e-6 && attempt.time_s < most + 1e-6;
                    assert!(within, "{bounds:?} {attempt:?}");
                }
                seen += 1;
            });
        }
        assert!(seen > 1000, "{seen}");
    }

    #[test]
    fn a_row_goes_once_round() {
        for (shifter, slip) in cases() {
            let ends = Runs::of(&shifter).expect("straight flanks").ends(&shifter, slip);
            let round = ends.expect("few strikes").runs.last().map_or(0.0, |run| run.to);
            assert!((round - TAU).abs() < 1e-9, "{round}");
        }
        let still = shifter(&[1.0], 24.0, Conditions::of_tests(Drive::Force), 1.0);
        let mut runs = Runs::of(&still).expect("straight flanks");
        assert!(runs.ends(&still, 0.0).is_none());
    }

    #[test]
    fn steps_in_a_gap_are_divided_from_either_side() {
        let stairs = [1.0, 0.85, 0.7, 0.5];
        for (count, heights) in [(1, &[1.0][..]), (2, &[1.0, 0.75])] {
            let steps =
                EvenRing { count: 8, tip_width_deg: 14.0, heights: &stairs, ..EvenRing::default() };
            let few = EvenRing { count, tip_width_deg: 16.0, heights, ..EvenRing::default() };
            let mesh = Mesh::new(&steps.to_ring(), &few.to_ring()).expect("one band");
            for direction in [1.0, -1.0] {
                let shifter = Shifter::new(&mesh, Conditions::of_tests(Drive::Force), direction);
                let runs = Runs::of(&shifter).expect("straight flanks with sharp edges");
                let rings = &runs.outcomes.rings;
                assert!(rings.segments.len() > 4, "{count} {direction}");
                // A land that begins where its gap does has no gap before it.
                assert!(rings.gaps.iter().all(|gap| gap.width > 1e-6), "{count} {direction}");
            }
        }
    }
}
