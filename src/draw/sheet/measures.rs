//! Which dimensions the plan has.

use super::super::scene::{Role, Scene};
use super::{LETTER_MM, Sheet, deg, dimension, repeated};
use crate::ring::{Dog, FlankSide, PlanForm, Point};
use crate::units::Angle;

/// From the rim to the arcs of the angle dimensions.
const ANGLES_MM: f64 = 8.0;

impl Sheet<'_> {
    pub(super) fn dimensions(&self, scene: &mut Scene) {
        let sides = [-self.ring.outer_radius_mm, self.ring.outer_radius_mm];
        let [left, right] = sides.map(|x| Point::new(x, 0.0));
        let words = format!("Ø{}", self.mm(2.0 * self.ring.outer_radius_mm));
        dimension::across(scene, left, right, -self.outer - 18.0, &words);
        let dogs = self.ring.by_centre();
        let place = self.shown().map(|dog| dog.place);
        if let Some(first) = dogs.iter().position(|dog| Some(dog.place) == place) {
            self.width(scene, &dogs[first]);
            // The dog across the ring is clear of the dimension of the first.
            let pitch = (first + dogs.len() / 2) % dogs.len();
            self.pitch(scene, &dogs, pitch);
            self.bore(scene, &dogs, first, pitch);
        }
    }

    /// The dog that is dimensioned: the first that is not cut down.
    pub(super) fn shown(&self) -> Option<&Dog> {
        let dogs = &self.ring.dogs;
        dogs.iter().find(|dog| !self.is_cut_down(dog)).or_else(|| dogs.first())
    }

    /// How far a flank is from the middle of a dog, `depth_mm` below its tip. Cutting down
    /// leaves the flanks where they are.
    pub(super) fn aside_mm(&self, dog: &Dog, flank: FlankSide, depth_mm: f64) -> f64 {
        let ring = &self.ring;
        let half = match ring.form {
            PlanForm::Radial => {
                let mean = ring.mean_radius_mm();
                mean * ring.half_width_at(dog, flank, mean).sin()
            }
            PlanForm::Parallel => ring.half_chord_mm(dog) - dog.narrowed_mm[flank],
        };
        flank.sign() * (half - dog.leaned_mm(flank, depth_mm))
    }

    /// Directions of the tip edges at the mean radius.
    fn edges(&self, dog: &Dog) -> [f64; 2] {
        FlankSide::BOTH.map(|flank| self.ring.tip_edge(dog, flank).radians())
    }

    fn width(&self, scene: &mut Scene, dog: &Dog) {
        let wide = |[from, to]: [f64; 2]| (to - from).to_degrees();
        let all = self.ring.dogs.iter().map(|dog| wide(self.edges(dog)));
        let words = repeated(&deg(wide(self.edges(dog))), all);
        let [from, to] = self.edges(dog);
        // Parallel flanks have this angle at the mean radius only.
        let foot = match self.ring.form {
            PlanForm::Radial => self.outer,
            PlanForm::Parallel => self.ring.mean_radius_mm(),
        };
        let radius = self.outer + ANGLES_MM;
        dimension::Between { from, to, foot, radius, lines: Role::Dimension, words: &words }
            .draw(scene);
    }

    /// From the centre of a dog to the next one, where there are enough dogs to have one that is
    /// clear of the first.
    fn pitch(&self, scene: &mut Scene, dogs: &[Dog], at: usize) {
        if dogs.len() < 3 {
            return;
        }
        let turn = |at: usize| {
            let next = dogs[(at + 1) % dogs.len()].centre;
            (next - dogs[at].centre).wrapped()
        };
        let words =
            repeated(&deg(turn(at).degrees()), (0..dogs.len()).map(|at| turn(at).degrees()));
        let from = dogs[at].centre.radians();
        let to = from + turn(at).radians();
        let slim = 2.0 * self.ring.half_chord_mm(&dogs[at]) < 3.0 * LETTER_MM;
        let foot = if slim { self.outer } else { self.ring.inner_radius_mm - 2.0 };
        let radius = self.outer + ANGLES_MM;
        dimension::Between { from, to, foot, radius, lines: Role::Centre, words: &words }
            .draw(scene);
    }

    /// The inner diameter, shown through the gap nearest to the upper left that is away from the
    /// dimensions of the first dog and of the pitch.
    fn bore(&self, scene: &mut Scene, dogs: &[Dog], first: usize, pitch: usize) {
        let gaps = self.ring.gaps();
        let mean = self.ring.mean_radius_mm();
        let after = |at: usize| self.ring.half_width_at(&dogs[at], FlankSide::Coast, mean);
        let within = |at: usize, share: f64| {
            dogs[at].centre + after(at) + Angle::from_radians(gaps[at] * share)
        };
        let turned = |at: usize, from: Angle| (within(at, 0.5) - from).signed().radians().abs();
        let room = 14.0 / (self.outer + ANGLES_MM);
        let next = (dogs[(pitch + 1) % dogs.len()].centre - dogs[pitch].centre).wrapped() / 2.0;
        let near = |at: usize| {
            turned(at, dogs[first].centre) < dogs[first].tip_width.radians() / 2.0 + room
                || turned(at, dogs[pitch].centre + next) < next.radians() + room
        };
        let away = |at: usize| {
            let last_choice = if near(at) { 4.0 } else { 0.0 };
            turned(at, Angle::from_degrees(135.0)) + last_choice
        };
        let Some(at) = (0..dogs.len()).min_by(|&a, &b| away(a).total_cmp(&away(b))) else { return };
        let words = format!("Ø{}", self.mm(2.0 * self.ring.inner_radius_mm));
        // Not along a centre line.
        let axis = (within(at, 0.5) * 2.0).sin().abs() < 0.1;
        let direction = within(at, if axis { 0.35 } else { 0.5 }).radians();
        let inner = self.ring.inner_radius_mm;
        dimension::diameter(scene, inner, self.outer + 4.0, direction, &words);
    }
}
