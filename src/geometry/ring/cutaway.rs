//! What comes off a dog, seen on its tip.

use super::dog::{Dog, Ring};
use super::outline::{Outline, Segment};

/// A tip cut down by less than this was only lapped, which is not drawn, mm.
const LAPPED_MM: f64 = 0.1;

/// Strips thinner than this are not worth drawing, mm.
const HAIR_MM: f64 = 1e-6;

impl Dog {
    /// Whether the tip was cut down by more than lapping takes, 0.1 mm.
    pub fn is_cut_down(&self) -> bool {
        self.cut_down_mm > LAPPED_MM
    }
}

impl Ring {
    /// Outlines of the metal that comes off the dog at a place, looking at the tips. They are the whole
    /// tip if the dog is removed or cut down by more than lapping takes, and otherwise a strip along each
    /// flank that is moved. `self` is the ring as found, `now` the ring as cut.
    pub fn cut_away(&self, now: &Self, place: usize) -> Vec<Outline> {
        let Some(old) = self.at_place(place) else { return Vec::new() };
        match now.at_place(place) {
            Some(dog) if !dog.is_cut_down() => self.strips(now, old, dog),
            _ => self.tip_outline(old).into_iter().collect(),
        }
    }

    fn strips(&self, now: &Self, old: &Dog, dog: &Dog) -> Vec<Outline> {
        let Some((was, is)) = self.tip_outline(old).zip(now.tip_outline(dog)) else {
            return Vec::new();
        };
        // Of each outline the flanks are the first piece, outwards, and the third, inwards.
        [0, 2]
            .into_iter()
            .filter_map(|piece| strip(was.segments[piece], is.segments[piece]))
            .collect()
    }
}

/// The strip between two flanks; `None` if they are the same.
fn strip(was: Segment, is: Segment) -> Option<Outline> {
    let apart = was.from().distance(is.from()).max(was.to().distance(is.to()));
    let along = |from: Segment, to: Segment, end: fn(&Segment) -> super::Point| {
        let (start, stop) = (end(&from), end(&to));
        Segment::Arc { radius: start.radius(), start: start.angle(), sweep: turn(start, stop) }
    };
    let back = Segment::Line { from: is.to(), to: is.from() };
    (apart > HAIR_MM).then(|| Outline {
        segments: vec![was, along(was, is, Segment::to), back, along(is, was, Segment::from)],
    })
}

/// How far the direction turns from one point to another, the short way round.
fn turn(from: super::Point, to: super::Point) -> f64 {
    crate::units::Angle::from_radians(to.angle() - from.angle()).signed().radians()
}

impl Outline {
    /// Points along the outline, arcs in steps of about a twentieth of a radian.
    pub fn points(&self) -> Vec<super::Point> {
        const STEP: f64 = 0.05;
        let piece = |segment: &Segment| match *segment {
            Segment::Line { from, .. } => vec![from],
            Segment::Arc { radius, start, sweep } => {
                // At most a few hundred: a turn has 126 steps.
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
                let steps = (sweep.abs() / STEP).ceil().clamp(1.0, 500.0) as u32;
                let at = |step: u32| start + sweep * f64::from(step) / f64::from(steps);
                (0..steps).map(|step| super::Point::polar(radius, at(step))).collect()
            }
        };
        self.segments.iter().flat_map(piece).collect()
    }
}

#[cfg(test)]
mod tests {
    use crate::ring::{EvenRing, FlankSide};

    /// A strip of 0.5 mm at the mean radius of 26 mm along 8 mm of a radial flank: 4 mm².
    #[test]
    fn strips_and_whole_tips_have_their_area() {
        let found = EvenRing::default().to_ring();
        let mut cut = found.clone();
        cut.narrow(|place| place == 0, FlankSide::Coast, 0.5);
        cut.remove(|place| place == 1);
        cut.shorten(|place| place == 2, 2.0);
        let area = |place| -> f64 {
            found.cut_away(&cut, place).iter().map(|part| part.moments().area.abs()).sum()
        };
        assert!((area(0) - 4.0).abs() < 1e-9, "{}", area(0));
        let tip = 0.5 * 24_f64.to_radians() * (900.0 - 484.0);
        assert!((area(1) - tip).abs() < 1e-9);
        assert!((area(2) - tip).abs() < 1e-9);
        assert_eq!(area(3), 0.0);
        assert_eq!(area(99), 0.0);
    }
}
