//! A ring as a list of sizes, each of which may be unknown.

use std::f64::consts::TAU;

use crate::ring::{FlankSide, PlanForm};

/// A size of a dog, or of the gap after it.
///
/// Where readings leave sizes undetermined, the later ones of this list are assumed and not the earlier ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Size {
    /// Gap from the coast flank to the drive flank of the next dog, radians at the mean radius.
    Gap,
    /// Tip width, radians at the mean radius.
    Width,
    /// Angle of the drive flank from the shaft axis, radians; plus is undercut.
    BackCutDrive,
    /// The same of the coast flank.
    BackCutCoast,
    /// Tip plane to web, mm.
    Height,
    /// Chamfer or radius on the tip edges, mm.
    EdgeBreak,
    /// Radius where flank meets web, mm.
    RootFillet,
}

impl Size {
    /// All sizes.
    pub const ALL: [Self; 7] = [
        Self::Gap,
        Self::Width,
        Self::BackCutDrive,
        Self::BackCutCoast,
        Self::Height,
        Self::EdgeBreak,
        Self::RootFillet,
    ];

    /// Whether it is a part of the circle.
    pub const fn is_spacing(self) -> bool {
        matches!(self, Self::Gap | Self::Width)
    }
}

/// Values that are not of a dog: what gauges are set to by themselves.
const OWN: usize = 3;

/// A ring of dogs one after the other, counter-clockwise looking at the dogs, beginning with dog 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Mean radius, mm.
    pub mean_radius_mm: f64,
    /// How the flanks run in plan.
    pub form: PlanForm,
    /// How deep pins and jaws reach below the tips, mm. Tapered flanks are touched there.
    pub reach_mm: f64,
    /// The flank that angles are counted from.
    pub datum: (usize, FlankSide),
    pub(super) values: Vec<f64>,
    /// Drive edge of each dog from that of dog 0, radians.
    starts: Vec<f64>,
}

impl Shape {
    /// Dogs and gaps all of the same angle, 5 mm high, with straight flanks and sharp edges. The datum is the
    /// drive flank of dog 0.
    pub fn even(dogs: usize, mean_radius_mm: f64) -> Self {
        let mut shape = Self {
            mean_radius_mm,
            form: PlanForm::Radial,
            reach_mm: 0.0,
            datum: (0, FlankSide::Drive),
            values: vec![0.0; dogs * Size::ALL.len() + OWN],
            starts: Vec::new(),
        };
        for place in 0..dogs {
            shape.put(Size::Gap, place, TAU / 2.0 / dogs as f64);
            shape.put(Size::Width, place, TAU / 2.0 / dogs as f64);
            shape.put(Size::Height, place, 5.0);
        }
        shape.settle();
        shape
    }

    /// How many dogs.
    pub const fn dogs(&self) -> usize {
        (self.values.len() - OWN) / Size::ALL.len()
    }

    /// A size of a dog; that of the first dog again after the last one.
    pub fn size(&self, size: Size, place: usize) -> f64 {
        self.values[self.index(size, place)]
    }

    /// The same shape with another size.
    #[must_use]
    pub fn with(mut self, size: Size, place: usize, value: f64) -> Self {
        self.put(size, place, value);
        self.settle();
        self
    }

    /// The reading of the table with the datum flank on the mark, degrees.
    pub(super) fn table_zero_deg(&self) -> f64 {
        self.values[self.values.len() - 1]
    }

    /// Where the datum flank is in a photograph, degrees.
    pub(super) fn photo_zero_deg(&self) -> f64 {
        self.values[self.values.len() - 2]
    }

    /// Height of the tip on which the dial was zeroed, mm.
    pub(super) fn tallest_mm(&self) -> f64 {
        self.values[self.values.len() - OWN]
    }

    /// All values, with the tallest tip where the heights put it.
    pub(super) fn to_values(&self) -> Vec<f64> {
        let mut values = self.values.clone();
        let heights = (0..self.dogs()).map(|place| self.size(Size::Height, place));
        let at = values.len() - OWN;
        values[at] = heights.fold(0.0, f64::max);
        values
    }

    /// The same shape with all its values replaced.
    pub(super) fn with_values(&self, values: Vec<f64>) -> Self {
        let mut shape = Self { values, starts: Vec::new(), ..*self };
        shape.settle();
        shape
    }

    pub(super) const fn index(&self, size: Size, place: usize) -> usize {
        let dogs = self.dogs();
        size as usize * dogs + place % dogs
    }

    fn put(&mut self, size: Size, place: usize, value: f64) {
        let at = self.index(size, place);
        self.values[at] = value;
    }

    fn settle(&mut self) {
        let mut start = 0.0;
        self.starts = (0..self.dogs())
            .map(|place| {
                let here = start;
                start += self.size(Size::Width, place) + self.size(Size::Gap, place);
                here
            })
            .collect();
    }

    /// Middle of a dog from the datum flank, radians, at the mean radius.
    pub fn centre(&self, place: usize) -> f64 {
        self.middle(place) - self.edge(self.datum.0, self.datum.1)
    }

    /// Middle of a dog from the drive edge of dog 0.
    pub(super) fn middle(&self, place: usize) -> f64 {
        self.starts[place % self.dogs()] + self.size(Size::Width, place) / 2.0
    }

    /// Tip edge at the mean radius from the drive edge of dog 0.
    pub(super) fn edge(&self, place: usize, flank: FlankSide) -> f64 {
        self.middle(place) + flank.sign() * self.size(Size::Width, place) / 2.0
    }

    /// Back-cut of a flank, radians.
    pub(super) fn back_cut(&self, place: usize, flank: FlankSide) -> f64 {
        self.size(
            match flank {
                FlankSide::Drive => Size::BackCutDrive,
                FlankSide::Coast => Size::BackCutCoast,
            },
            place,
        )
    }

    /// How far outside its tip edge a flank is touched, mm: an undercut one just below the edge break, a tapered
    /// one at the end of the pin or the jaw.
    pub(super) fn touched_mm(&self, place: usize, flank: FlankSide) -> f64 {
        let back_cut = self.back_cut(place, flank);
        let edge = self.size(Size::EdgeBreak, place);
        let depth = if back_cut >= 0.0 { edge } else { self.reach_mm.max(edge) };
        -depth * libm::tan(back_cut)
    }

    /// Angle at a radius from the middle of a dog to a line that runs along a flank, `outside_mm` outside its tip
    /// edge.
    pub(super) fn half_width(&self, place: usize, radius_mm: f64, outside_mm: f64) -> f64 {
        let half = self.size(Size::Width, place) / 2.0;
        let ratio = |mm: f64| libm::asin((mm / radius_mm).clamp(-1.0, 1.0));
        match self.form {
            PlanForm::Radial => half + ratio(outside_mm),
            PlanForm::Parallel => ratio(self.half_chord_mm(place) + outside_mm),
        }
    }

    /// Half the tip width square to the middle line at the mean radius, mm.
    pub(super) fn half_chord_mm(&self, place: usize) -> f64 {
        self.mean_radius_mm * libm::sin(self.size(Size::Width, place) / 2.0)
    }

    /// A flank where it is touched, at a radius, from the datum flank, radians.
    pub(super) fn flank(&self, place: usize, flank: FlankSide, radius_mm: f64) -> f64 {
        let here = |place: usize, flank: FlankSide| {
            let outside = self.touched_mm(place, flank);
            self.middle(place) + flank.sign() * self.half_width(place, radius_mm, outside)
        };
        here(place, flank) - here(self.datum.0, self.datum.1)
    }
}
