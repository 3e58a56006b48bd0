//! Never two gears at once: by how much, and where.

use super::course::{Course, Level, Span, crossing, in_both};
use super::layout::Drum;
use super::overlap::Play;

/// Two gears over the turn of the drum, with the play and tolerance that bring them nearest to being in together.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// Where both touch; empty if they never do.
    pub spans: Vec<Span>,
    /// How much deeper both would have to be to touch at one drum angle, mm; minus is by how much both
    /// do.
    pub margin_mm: f64,
    /// The drum angle of that, degrees.
    pub at_deg: f64,
    /// How far the drum turns from where one touches to where the other does, degrees; minus is over how
    /// much both do. `None` if one of them never touches, or if the play that they share keeps them apart.
    pub margin_deg: Option<f64>,
}

/// The old gear held in by torque, and another one.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// How deep the old gear stays in, mm.
    pub held_mm: f64,
    /// How far the drum can turn until its track stands against the pin of the fork that is held: at both
    /// ends the fork of the old gear holds the drum.
    pub stands: Span,
    /// Old and new gear together.
    pub together: Together,
}

impl Drum {
    /// How near two gears come to being in together, over the whole turn and with all play and tolerance.
    pub fn together(&self, one: usize, other: usize) -> Together {
        let [a, b] = [one, other].map(|gear| self.overlap(gear, Play::Most));
        meet(&a, Level::Above(0.0), &b, self.opposed_mm(one, other))
    }

    /// The same with the old gear held in by torque as deep as it goes: its slider does not move, the fork
    /// pulls, and the drum turns until all play is used up. `None` if the detent has no position for the old
    /// gear, or if it is not in there.
    pub fn held(&self, old: usize, new: usize) -> Option<Held> {
        let at_deg = self.position_deg(old)?;
        let [a, b] = [old, new].map(|gear| self.overlap(gear, Play::Most));
        let held_mm = self.gears[old].home_mm.min(a.at_mm(at_deg));
        if held_mm <= 0.0 {
            return None;
        }
        let here = a.spans(Level::From(held_mm)).into_iter().find(|span| span.contains(at_deg));
        let stands = here.unwrap_or(Span { from_deg: at_deg, to_deg: at_deg });
        let beyond = a.raised(-held_mm);
        let together = meet(&beyond, Level::From(0.0), &b, self.opposed_mm(old, new));
        Some(Held { held_mm, stands, together })
    }
}

/// Two courses above zero at once. Play that they share moves one up as it moves the other down, by `shared`
/// at most, so that both are above zero at once only if their mean is above `shared` as well.
fn meet(a: &Course, level: Level, b: &Course, shared: f64) -> Together {
    let mean = a.with(b, |a, b| (a + b) / 2.0 - shared);
    let apart = in_both(&a.spans(level), &b.spans(Level::Above(0.0)));
    let spans = in_both(&apart, &mean.spans(Level::Above(0.0)));
    let [at_deg, most] = highest(a, b, shared);
    let widest = spans.iter().map(Span::width_deg).fold(0.0, f64::max);
    let margin_deg = if spans.is_empty() { least_apart(a, b, shared) } else { Some(-widest) };
    Together { spans, margin_mm: -most, at_deg, margin_deg }
}

/// Where the least of both courses and of their mean less `shared` is the greatest, and that length.
fn highest(a: &Course, b: &Course, shared: f64) -> [f64; 2] {
    let least = |deg: f64| {
        let (a, b) = (a.at_mm(deg), b.at_mm(deg));
        a.min(b).min((a + b) / 2.0 - shared)
    };
    // Between points all three are straight: the least of them turns where two of them cross.
    let difference = a.with(b, |a, b| a - b);
    let crossings = difference.pieces().flat_map(|[from, to]| {
        [0.0, 2.0 * shared, -2.0 * shared].into_iter().filter_map(move |mm| {
            let is_between = (from[1] - mm) * (to[1] - mm) < 0.0;
            is_between.then(|| crossing(from, to, mm))
        })
    });
    let angles = difference.points().iter().map(|[deg, _]| *deg).chain(crossings);
    let best =
        |best: [f64; 2], deg: f64| if least(deg) > best[1] { [deg, least(deg)] } else { best };
    angles.fold([0.0, f64::NEG_INFINITY], best)
}

/// The least distance of two drum angles at which the one and the other course can be at zero or above with
/// the same play, degrees.
fn least_apart(a: &Course, b: &Course, shared: f64) -> Option<f64> {
    let pieces = |course: &Course| course.pieces().filter_map(above_zero).collect::<Vec<_>>();
    let (of_a, of_b) = (pieces(a), pieces(b));
    let cells = of_a.iter().flat_map(|one| of_b.iter().map(move |other| (one, other)));
    let corners = cells.flat_map(|(one, other)| corners(*one, *other, 2.0 * shared));
    corners.map(|[one, other]| (one - other).abs()).reduce(f64::min)
}

/// The part of a straight piece at zero or above.
fn above_zero([from, to]: [[f64; 2]; 2]) -> Option<[[f64; 2]; 2]> {
    let end = |own: [f64; 2]| if own[1] >= 0.0 { own } else { [crossing(from, to, 0.0), 0.0] };
    (from[1] >= 0.0 || to[1] >= 0.0).then(|| [end(from), end(to)])
}

/// The corners of the region of two angles, each on its piece, where both lengths together are at least `sum`.
fn corners(one: [[f64; 2]; 2], other: [[f64; 2]; 2], sum: f64) -> Vec<[f64; 2]> {
    let [p, q] = one;
    let [r, s] = other;
    let round = [[p, r], [q, r], [q, s], [p, s]];
    let over = |[a, b]: [[f64; 2]; 2]| a[1] + b[1] - sum;
    let angles = |[a, b]: [[f64; 2]; 2]| [a[0], b[0]];
    let mut found = Vec::new();
    for (at, corner) in round.into_iter().enumerate() {
        let next = round[(at + 1) % round.len()];
        let [here, there] = [over(corner), over(next)];
        if here >= 0.0 {
            found.push(angles(corner));
        }
        if here * there < 0.0 {
            let share = here / (here - there);
            let ([a, b], [c, d]) = (angles(corner), angles(next));
            found.push([a + (c - a) * share, b + (d - b) * share]);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drum::{Face, Fork, Gear, Position};
    use crate::selector::Track;

    fn fork(points: &[[f64; 2]]) -> Fork {
        Fork::plain(Track::through(points.to_vec()).expect("it rises"))
    }

    fn two(tracks: [&[[f64; 2]]; 2], faces: [Face; 2]) -> Drum {
        let gear = |fork: usize| Gear { fork, home_mm: 4.4, ..Gear::plain(faces[fork], 0.6) };
        Drum {
            forks: tracks.map(fork).to_vec(),
            shafts_mm: vec![0.0],
            gears: vec![gear(0), gear(1)],
            positions: vec![
                Position { deg: 0.0, gear: Some(0) },
                Position { deg: 60.0, gear: Some(1) },
            ],
            float_mm: 0.0,
            slack_deg: 0.0,
            stand_deg: 0.0,
        }
    }

    const AFTER: [&[[f64; 2]]; 2] = [&[[4.0, 5.0], [26.0, 0.0]], &[[34.0, 0.0], [56.0, 5.0]]];

    #[test]
    fn one_fork_after_the_other_leaves_the_empty_angle_as_margin() {
        let together = two(AFTER, [Face::Higher; 2]).together(0, 1);
        assert_eq!(together.spans, []);
        assert!((together.margin_deg.unwrap() - 13.28).abs() < 1e-9, "{together:?}");
        assert!((together.margin_mm - 0.6).abs() < 1e-12, "{together:?}");
    }

    #[test]
    fn two_forks_over_the_same_angles_are_caught() {
        let tracks: [&[[f64; 2]]; 2] = [&[[10.0, 5.0], [50.0, 0.0]], &[[10.0, 0.0], [50.0, 5.0]]];
        let together = two(tracks, [Face::Higher; 2]).together(0, 1);
        let [span] = together.spans[..] else { panic!("{together:?}") };
        assert!((span.from_deg - 14.8).abs() < 1e-9 && (span.to_deg - 45.2).abs() < 1e-9);
        assert!((together.margin_deg.unwrap() + 30.4).abs() < 1e-9);
        assert!((together.margin_mm + 1.9).abs() < 1e-12 && (together.at_deg - 30.0).abs() < 1e-9);
    }

    #[test]
    fn play_eats_a_margin_of_one_degree() {
        // One lets go at 23.36°, the other meets at 24.36°; both ramps have 5 mm over 22°.
        let tracks: [&[[f64; 2]]; 2] = [&[[4.0, 5.0], [26.0, 0.0]], &[[21.72, 0.0], [43.72, 5.0]]];
        let mut drum = two(tracks, [Face::Higher; 2]);
        assert!((drum.together(0, 1).margin_deg.unwrap() - 1.0).abs() < 1e-9);
        for fork in &mut drum.forks {
            fork.groove_play_mm = 0.2;
        }
        let eaten = 1.0 - 2.0 * 0.1 * 22.0 / 5.0;
        assert!((drum.together(0, 1).margin_deg.unwrap() - eaten).abs() < 1e-9);
        drum.forks[0].pin_play_mm = 0.2;
        let over = drum.together(0, 1);
        assert!(
            (over.margin_deg.unwrap() + 0.32).abs() < 1e-9 && over.spans.len() == 1,
            "{over:?}"
        );
    }

    #[test]
    fn the_faces_of_one_slider_are_never_in_together_whatever_its_play() {
        let points: &[[f64; 2]] = &[[4.0, -5.0], [26.0, 0.0], [34.0, 0.0], [56.0, 5.0]];
        let mut drum = two([points, points], [Face::Lower, Face::Higher]);
        drum.gears[1].fork = 0;
        drum.forks[0].groove_play_mm = 3.0;
        drum.shafts_mm[0] = 2.0;
        let together = drum.together(0, 1);
        assert_eq!(together.spans, []);
        assert!((together.margin_mm - 0.6).abs() < 1e-12, "{together:?}");
        // With play the first touches over the whole dwell; what is left to the second is 1.2 mm of ramp.
        assert!((together.margin_deg.unwrap() - 1.2 * 4.4).abs() < 1e-9, "{together:?}");
    }

    #[test]
    fn a_shaft_that_both_share_cannot_be_at_both_ends_of_its_float() {
        let mut drum = two(AFTER, [Face::Higher; 2]);
        drum.forks[1] = fork(&[[34.0, 0.0], [56.0, -5.0]]);
        drum.gears[1].face = Face::Lower;
        drum.shafts_mm[0] = 1.0;
        let margin = |drum: &Drum| drum.together(0, 1).margin_deg.unwrap();
        // As one lets go later, the other meets later by the same.
        assert!((margin(&drum) - 13.28).abs() < 1e-9, "{}", margin(&drum));
        drum.shafts_mm.push(1.0);
        drum.gears[1].shaft = 1;
        assert!((margin(&drum) - (13.28 - 4.4)).abs() < 1e-9, "{}", margin(&drum));
        // In neutral of the second, with the first well in, its float alone brings it nearer.
        assert!((drum.together(0, 1).margin_mm - 0.1).abs() < 1e-12);
    }

    #[test]
    fn dogs_that_stay_in_let_the_drum_turn_by_the_play_alone() {
        let mut drum = two(AFTER, [Face::Higher; 2]);
        let held = drum.held(0, 1).unwrap();
        assert_eq!((held.held_mm, held.stands), (4.4, Span { from_deg: 0.0, to_deg: 4.0 }));
        assert!((held.together.margin_deg.unwrap() - (36.64 - 4.0)).abs() < 1e-9, "{held:?}");
        drum.forks[0].groove_play_mm = 0.5;
        let held = drum.held(0, 1).unwrap();
        assert!((held.stands.to_deg - (4.0 + 0.25 * 22.0 / 5.0)).abs() < 1e-9, "{held:?}");
        drum.positions.remove(0);
        assert_eq!(drum.held(0, 1), None);
    }
}
