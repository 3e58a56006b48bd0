//! Handles by which somebody lays the circles over a picture.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use crate::measure::{Circle, Hints, Lowered, Measured};

/// A handle of the circles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Handle {
    /// The middle of both circles.
    Middle,
    /// The outer circle at its right.
    Right,
    /// The outer circle at its top.
    Top,
    /// The inner circle, away from the others.
    Inner,
}

impl Handle {
    /// All handles.
    pub const ALL: [Self; 4] = [Self::Middle, Self::Right, Self::Top, Self::Inner];
}

/// Where the inner circle has its handle.
const INNER_AT: f64 = 1.25 * PI;

/// Least and greatest size of the inner circle that is dragged, in sizes of the outer one.
const INNER: (f64, f64) = (0.1, 0.97);

impl Hints {
    /// Two round circles in the middle of a picture of a size.
    pub fn in_the_middle([width, height]: [f64; 2]) -> Self {
        let (middle, radius) = ([width / 2.0, height / 2.0], 0.35 * width.min(height));
        Self {
            outer: Circle::round(middle, radius, None),
            inner: Circle::round(middle, 0.73 * radius, None),
            dogs: None,
            bright: None,
            tips_mm: None,
            lowered: Vec::new(),
        }
    }

    /// Where a handle is, px.
    pub fn handle(&self, handle: Handle) -> [f64; 2] {
        match handle {
            Handle::Middle => self.outer.middle,
            Handle::Right => self.outer.at(0.0),
            Handle::Top => self.outer.at(FRAC_PI_2),
            Handle::Inner => self.inner.at(INNER_AT),
        }
    }

    /// The circles after a handle was dragged to a place. The outer circle takes the inner one with it.
    #[must_use]
    pub fn dragged(mut self, handle: Handle, to: [f64; 2]) -> Self {
        let from = self.outer.middle;
        let arm = [to[0] - from[0], to[1] - from[1]];
        let length = |v: [f64; 2]| libm::hypot(v[0], v[1]).max(1.0);
        match handle {
            Handle::Middle => {
                let inner = self.inner.middle;
                self.outer.middle = to;
                self.inner.middle = [inner[0] + arm[0], inner[1] + arm[1]];
            }
            Handle::Right | Handle::Top => {
                let at = usize::from(handle == Handle::Top);
                let share = length(self.inner.half[at]) / length(self.outer.half[at]);
                self.outer.half[at] = arm;
                self.inner.half[at] = arm.map(|x| x * share);
            }
            Handle::Inner => {
                let reach = length([0, 1].map(|i| self.outer.at(INNER_AT)[i] - from[i]));
                let share = (length(arm) / reach).clamp(INNER.0, INNER.1);
                self.inner.half = self.outer.half.map(|half| half.map(|x| x * share));
                self.inner.middle = from;
            }
        }
        self
    }

    /// The circles in the same picture made larger or smaller.
    #[must_use]
    pub fn scaled(mut self, by: f64) -> Self {
        for circle in [&mut self.outer, &mut self.inner] {
            circle.middle = circle.middle.map(|x| x * by);
            circle.half = circle.half.map(|half| half.map(|x| x * by));
        }
        self
    }

    /// Says how far the tip of the dog is below the others that reaches from one angle to another, mm; 0 for a tall
    /// one.
    pub fn lower(&mut self, from: f64, to: f64, below_mm: f64) {
        let wide = (to - from).rem_euclid(TAU);
        self.lowered.retain(|dog| (dog.angle - from).rem_euclid(TAU) > wide);
        if below_mm != 0.0 {
            self.lowered.push(Lowered { angle: from + wide / 2.0, below_mm });
        }
    }

    /// The circles where they were found in the plane of the tips.
    #[must_use]
    pub fn snapped(mut self, ring: &Measured) -> Self {
        for (circle, radius) in
            [(&mut self.outer, ring.outer_mm.0), (&mut self.inner, ring.inner_mm.0)]
        {
            if circle.height_mm == 0.0 {
                let [right, up] = [0.0, FRAC_PI_2].map(|turn| {
                    let ends = [turn, turn + PI].map(|angle| ring.view.polar(radius, angle, 0.0));
                    [0, 1].map(|i| (ends[0][i] - ends[1][i]) / 2.0)
                });
                let ends = [0.0, PI].map(|angle| ring.view.polar(radius, angle, 0.0));
                circle.middle = [0, 1].map(|i| (ends[0][i] + ends[1][i]) / 2.0);
                circle.half = [right, up];
            }
        }
        self
    }
}

impl Measured {
    /// Height of the tip of a dog above the plane of most tips, mm.
    fn height_of(&self, dog: usize) -> f64 {
        self.dogs.get(dog).map_or(0.0, |dog| -dog.below_mm)
    }

    /// The angle about the axis that is seen at a place of the picture on the tip of a dog, radians.
    pub fn angle_at(&self, dog: usize, place: [f64; 2]) -> f64 {
        let [x, y] = self.view.to_plane(place, self.height_of(dog));
        libm::atan2(y, x)
    }

    /// Where a flank of a dog is seen, at the inner, the mean and the outer radius of the tips.
    pub fn flank_at(&self, dog: usize, angle: f64) -> [[f64; 2]; 3] {
        [self.inner_mm.0, self.mean_mm(), self.outer_mm.0]
            .map(|radius| self.view.polar(radius, angle, self.height_of(dog)))
    }

    /// The ring in the same picture made larger or smaller.
    #[must_use]
    pub fn scaled(mut self, by: f64) -> Self {
        self.view.focal_px *= by;
        self.view.middle = self.view.middle.map(|x| x * by);
        self.off_px *= by;
        for dog in &mut self.dogs {
            dog.drive.scatter_px *= by;
            dog.coast.scatter_px *= by;
        }
        self
    }

    /// The angle of a pixel at the mean radius, radians.
    pub fn angle_of_px(&self) -> f64 {
        1.0 / (self.view.px_per_mm() * self.mean_mm())
    }

    /// Where a flank would be that is not seen, from the other flank of its dog and a dog with both; 0 is the drive flank.
    pub fn expected(&self, dog: usize, side: usize) -> Option<f64> {
        let both = |at: &crate::PhotoDog| Some(at.coast.angle? - at.drive.angle?);
        let wide = self.dogs.iter().find_map(both)?;
        let own = self.dogs.get(dog)?;
        if side == 0 { Some(own.coast.angle? - wide) } else { Some(own.drive.angle? + wide) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn handles_move_the_circles() {
        let hints = Hints::in_the_middle([1000.0, 800.0]);
        let right = hints.clone().dragged(Handle::Right, [850.0, 420.0]);
        assert_eq!(right.handle(Handle::Right), [850.0, 420.0]);
        assert_eq!(right.handle(Handle::Top), hints.handle(Handle::Top));
        let inner = right.clone().dragged(Handle::Inner, [400.0, 480.0]);
        let [x, y] = inner.handle(Handle::Inner);
        let off = libm::hypot(x - 500.0, y - 400.0) - libm::hypot(100.0, 80.0);
        assert!(off.abs() < 1e-9, "{x} {y}");
        let moved = inner.clone().dragged(Handle::Middle, [510.0, 390.0]);
        assert_eq!(moved.handle(Handle::Inner), [x + 10.0, y - 10.0]);
        // Twice as large, all is twice as far.
        let [x, y] = moved.handle(Handle::Inner);
        assert_eq!(moved.clone().scaled(2.0).handle(Handle::Inner), [2.0 * x, 2.0 * y]);
        // Dragged onto each other they still are circles, the one inside the other.
        let flat = hints.dragged(Handle::Inner, [5000.0, 0.0]);
        assert!(flat.inner.half[0][0] < flat.outer.half[0][0]);
    }

    #[test]
    fn a_dog_is_lowered_wherever_it_begins() {
        let mut hints = Hints::in_the_middle([900.0, 900.0]);
        hints.lower(6.1, 0.2, 2.5);
        hints.lower(1.0, 1.4, 1.0);
        assert_eq!(
            (hints.below(6.0, 0.3), hints.below(1.1, 1.3), hints.below(2.0, 2.4)),
            (2.5, 1.0, 0.0)
        );
        hints.lower(-0.2, 0.2, 0.0);
        assert_eq!((hints.below(6.0, 0.3), hints.lowered.len()), (0.0, 1));
    }
}
