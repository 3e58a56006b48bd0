//! Dogs and rings as working geometry.

use std::f64::consts::TAU;

use crate::per::per;
use crate::units::{Angle, sort_by_number};

/// Which flank of a dog.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FlankSide {
    /// Carries power; on the clockwise side, looking at the dogs.
    Drive,
    /// Carries the overrun; on the counter-clockwise side.
    Coast,
}

impl FlankSide {
    /// Both flanks, drive first.
    pub const BOTH: [Self; 2] = [Self::Drive, Self::Coast];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Drive => "drive",
            Self::Coast => "coast",
        }
    }

    /// −1 for the clockwise (drive) side, +1 for the counter-clockwise (coast) side.
    pub const fn sign(self) -> f64 {
        match self {
            Self::Drive => -1.0,
            Self::Coast => 1.0,
        }
    }
}

per! {
    /// Something for each flank of a dog.
    PerFlank of FlankSide: drive is Drive, coast is Coast
}

/// How the flanks run in plan.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum PlanForm {
    /// Both tip edges point at the shaft axis: the same angle at every radius.
    #[default]
    Radial,
    /// Both tip edges are parallel: the same width in mm at every radius.
    Parallel,
}

/// One dog.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dog {
    /// Its place in the design, from 0.
    pub place: usize,
    /// Middle of the tip as found, counter-clockwise from the datum mark, looking at the dogs.
    pub centre: Angle,
    /// Angle of the tip face as found, at the mean radius of the ring.
    pub tip_width: Angle,
    /// Tip plane to web.
    pub height_mm: f64,
    /// How much the tip was cut down, mm. The flanks stay where they are, so that the tip face of an
    /// undercut dog becomes narrower than it was found.
    pub cut_down_mm: f64,
    /// How far each flank was moved in since it was found, mm at the mean radius. A radial flank moves by
    /// the angle that this length subtends there, a parallel flank square to itself.
    pub narrowed_mm: PerFlank<f64>,
    /// How much further in each flank lies than its present angle alone would put it, mm. A re-cut turns
    /// a flank about its present tip edge, so the lean above that edge remains.
    pub lean_kept_mm: PerFlank<f64>,
    /// Flank angle from the shaft axis; plus is undercut.
    pub back_cut: PerFlank<Angle>,
    /// Chamfer or radius on the tip edges of the flanks.
    pub edge_break_mm: f64,
    /// Radius where flank meets web.
    pub root_fillet_mm: f64,
}

impl Dog {
    /// A dog as found, with straight flanks, sharp tip edges and no root fillet.
    pub fn straight(place: usize, centre: Angle, tip_width: Angle, height_mm: f64) -> Self {
        Self {
            place,
            centre,
            tip_width,
            height_mm,
            cut_down_mm: 0.0,
            narrowed_mm: PerFlank::default(),
            lean_kept_mm: PerFlank::default(),
            back_cut: PerFlank::both(Angle::ZERO),
            edge_break_mm: 0.0,
            root_fillet_mm: 0.0,
        }
    }

    /// How far a flank lies inside its tip edge as found, mm, at `depth_mm` below the tip as it is now:
    /// `kept + (cut down + depth)·tan α`. Plus is inwards.
    pub fn leaned_mm(&self, flank: FlankSide, depth_mm: f64) -> f64 {
        self.leaned_at_mm(flank, self.cut_down_mm + depth_mm)
    }

    fn scaled(&self, by: f64) -> Self {
        let both = |mm: PerFlank<f64>| mm.map(|mm| mm * by);
        Self {
            height_mm: self.height_mm * by,
            cut_down_mm: self.cut_down_mm * by,
            narrowed_mm: both(self.narrowed_mm),
            lean_kept_mm: both(self.lean_kept_mm),
            edge_break_mm: self.edge_break_mm * by,
            root_fillet_mm: self.root_fillet_mm * by,
            ..*self
        }
    }

    /// The same, at a level counted down from the tip as found, mm.
    pub(super) fn leaned_at_mm(&self, flank: FlankSide, level_mm: f64) -> f64 {
        self.lean_kept_mm[flank] + level_mm * self.back_cut[flank].tan()
    }
}

/// A ring of dogs.
#[derive(Clone, Debug, PartialEq)]
pub struct Ring {
    /// Radius at the inner ends of the dogs.
    pub inner_radius_mm: f64,
    /// Radius at the outer ends of the dogs.
    pub outer_radius_mm: f64,
    /// How the flanks run in plan.
    pub form: PlanForm,
    /// The dogs that are present; empty places are not listed.
    pub dogs: Vec<Dog>,
}

impl Ring {
    /// `rm = (Ri + Ro)/2`.
    pub fn mean_radius_mm(&self) -> f64 {
        (self.inner_radius_mm + self.outer_radius_mm) / 2.0
    }

    /// The dog at a place, if there is one.
    pub fn at_place(&self, place: usize) -> Option<&Dog> {
        self.dogs.iter().find(|dog| dog.place == place)
    }

    /// Height of the tallest dog, 0 without dogs.
    pub fn tallest_mm(&self) -> f64 {
        self.dogs.iter().map(|d| d.height_mm).fold(0.0, f64::max)
    }

    /// The ring with every length multiplied by a factor; angles are unchanged.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        let dogs = self.dogs.iter().map(|dog| dog.scaled(by)).collect();
        let radii = [self.inner_radius_mm, self.outer_radius_mm].map(|mm| mm * by);
        Self { inner_radius_mm: radii[0], outer_radius_mm: radii[1], form: self.form, dogs }
    }

    /// Half the tip width in mm, measured square to the middle line: `rm·sin(w/2)`.
    pub fn half_chord_mm(&self, dog: &Dog) -> f64 {
        self.mean_radius_mm() * (dog.tip_width / 2.0).sin()
    }

    /// Angle from the middle of the dog to a flank at a radius, at the height of the tip as found, without
    /// the lean of the flank: constant for radial flanks, `asin(W/2r)` for parallel ones, less what was
    /// narrowed.
    ///
    /// A quarter turn where a parallel dog is wider than the circle.
    pub fn half_width_at(&self, dog: &Dog, flank: FlankSide, radius_mm: f64) -> Angle {
        let narrowed = dog.narrowed_mm[flank];
        match self.form {
            PlanForm::Radial => {
                dog.tip_width / 2.0 - Angle::from_radians(narrowed / self.mean_radius_mm())
            }
            PlanForm::Parallel => {
                let ratio = (self.half_chord_mm(dog) - narrowed) / radius_mm;
                Angle::from_radians(libm::asin(ratio.clamp(-1.0, 1.0)))
            }
        }
    }

    /// Angle of the dog at a radius without the lean of its flanks, less what was narrowed.
    pub fn tip_width_at(&self, dog: &Dog, radius_mm: f64) -> Angle {
        let [drive, coast] = FlankSide::BOTH.map(|flank| self.half_width_at(dog, flank, radius_mm));
        drive + coast
    }

    /// Thickness of the dog at the mean radius, `depth_mm` below its tip, mm along the circle.
    pub fn thickness_mm(&self, dog: &Dog, depth_mm: f64) -> f64 {
        let mean = self.mean_radius_mm();
        let leans = FlankSide::BOTH.map(|flank| dog.leaned_mm(flank, depth_mm));
        self.tip_width_at(dog, mean).radians() * mean - leans[0] - leans[1]
    }

    /// Width of the tip at the mean radius as a calliper measures it across, mm: `D·sin(w/2)`, not along the arc.
    ///
    /// ```
    /// use crenel_geometry::{ring::{Dog, PlanForm, Ring}, units::Angle};
    /// let dog = Dog::straight(0, Angle::ZERO, Angle::from_degrees(24.0), 5.0);
    /// let form = PlanForm::Radial;
    /// let ring = Ring { inner_radius_mm: 22.0, outer_radius_mm: 30.0, form, dogs: vec![dog] };
    /// assert!((ring.across_mm(&ring.dogs[0]) - 10.811).abs() < 1e-3);
    /// ```
    pub fn across_mm(&self, dog: &Dog) -> f64 {
        let diameter = 2.0 * self.mean_radius_mm();
        diameter * Angle::from_radians(self.thickness_mm(dog, 0.0) / diameter).sin()
    }

    /// The dogs in the order of their centres round the circle.
    pub fn by_centre(&self) -> Vec<Dog> {
        let mut dogs = self.dogs.clone();
        sort_by_number(&mut dogs, |dog| dog.centre.wrapped().radians());
        dogs
    }

    /// The places of every second dog, counted in the order of their centres round the circle. The count
    /// begins with the dog at a place, or with the first dog if that place is empty. With an odd number of
    /// dogs the last of them is a neighbour of the first.
    pub fn every_second(&self, from: usize) -> Vec<usize> {
        let mut places: Vec<_> = self.by_centre().iter().map(|dog| dog.place).collect();
        let first = places.iter().position(|place| *place == from).unwrap_or_default();
        places.rotate_left(first);
        places.into_iter().step_by(2).collect()
    }

    /// Gap in radians after each dog of [`Ring::by_centre`] up to the next one, at the tips.
    /// A negative gap means that the two dogs run into each other.
    pub fn gaps(&self) -> Vec<f64> {
        let dogs = self.by_centre();
        let next = dogs.iter().cycle().skip(1);
        dogs.iter()
            .zip(next)
            .map(|(this, next)| {
                let apart = (next.centre - this.centre).wrapped().radians();
                let apart = if dogs.len() == 1 { TAU } else { apart };
                let mean = self.mean_radius_mm();
                let half = |dog: &Dog, flank: FlankSide| {
                    let found = self.half_width_at(dog, flank, mean).radians();
                    found - dog.leaned_mm(flank, 0.0) / mean
                };
                apart - half(this, FlankSide::Coast) - half(next, FlankSide::Drive)
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A list may go round the ring in any order and begin anywhere.
    #[test]
    fn every_second_dog_goes_by_the_circle_and_not_by_the_list() {
        let centres = [0.0, 180.0, 61.0, 239.0, 121.0, 300.0].map(Angle::from_degrees);
        let width = Angle::from_degrees(20.0);
        let dogs =
            (0..).zip(centres).map(|(place, centre)| Dog::straight(place, centre, width, 5.0));
        let mut ring = Ring {
            inner_radius_mm: 22.0,
            outer_radius_mm: 30.0,
            form: PlanForm::Radial,
            dogs: dogs.collect(),
        };
        assert_eq!(ring.every_second(0), [0, 4, 3]);
        assert_eq!(ring.every_second(1), [1, 5, 2], "on round the circle");
        // A removed dog is not counted.
        ring.dogs.retain(|dog| dog.place != 4);
        assert_eq!(ring.every_second(0), [0, 1, 5], "of five the last is beside the first");
        assert_eq!(ring.every_second(4), ring.every_second(0), "from the first where none stands");
        ring.dogs.clear();
        assert!(ring.every_second(0).is_empty());
    }
}
