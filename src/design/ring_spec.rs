//! A ring as the user gives it, even or measured dog by dog, and the work planned on it.

use super::numbers::numbered_fields;
use super::plan::Plan;
use super::readings::Readings;
use crate::fields::FieldId;
use crate::ring::{Dog, PerFlank, PlanForm, Ring, height_share};
use crate::units::Angle;

/// Whether an even ring is given by its dogs or by its gaps.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SizeBy {
    /// The dog width is held; the gap is the rest of the pitch.
    #[default]
    Dog,
    /// The gap or slot is held; the dog is the web between.
    Gap,
}

/// A ring of dogs all the same angle apart.
#[derive(Clone, Debug, PartialEq)]
pub struct EvenLayout {
    /// How many places.
    pub count: f64,
    /// Which of the next two numbers is given.
    pub size_by: SizeBy,
    /// Tip width, degrees.
    pub tip_width_deg: f64,
    /// Gap, degrees.
    pub gap_deg: f64,
    /// Full height, mm.
    pub height_mm: f64,
    /// Share of the full height of each place in turn, repeated round the ring; 0 leaves a place empty.
    pub heights: Vec<f64>,
    /// Back-cut of the drive flank, degrees.
    pub back_cut_drive_deg: f64,
    /// Back-cut of the coast flank, degrees.
    pub back_cut_coast_deg: f64,
    /// Edge break, mm.
    pub edge_break_mm: f64,
    /// Root fillet, mm.
    pub root_fillet_mm: f64,
    /// Centre of the first dog, degrees.
    pub first_dog_deg: f64,
}

impl Default for EvenLayout {
    fn default() -> Self {
        let default = |id: FieldId| id.spec().default;
        Self {
            count: default(FieldId::Count),
            size_by: SizeBy::Dog,
            tip_width_deg: default(FieldId::TipWidth),
            gap_deg: default(FieldId::Gap),
            height_mm: default(FieldId::Height),
            heights: vec![1.0],
            back_cut_drive_deg: default(FieldId::BackCutDrive),
            back_cut_coast_deg: default(FieldId::BackCutCoast),
            edge_break_mm: default(FieldId::EdgeBreak),
            root_fillet_mm: default(FieldId::RootFillet),
            first_dog_deg: default(FieldId::FirstDog),
        }
    }
}

impl EvenLayout {
    /// The width of a dog, degrees, whether the dog or the gap was given.
    pub fn dog_width_deg(&self) -> f64 {
        match self.size_by {
            SizeBy::Dog => self.tip_width_deg,
            SizeBy::Gap => 360.0 / self.count - self.gap_deg,
        }
    }

    /// The number of places as an index.
    pub fn places(&self) -> usize {
        let max = FieldId::Count.spec().max;
        // Clamped to the table's limits first; NaN becomes 0.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let places = self.count.clamp(0.0, max) as usize;
        places
    }

    /// The dogs one by one, empty places as dogs of height 0.
    pub fn dogs(&self) -> Vec<DogSpec> {
        let pitch = 360.0 / self.count;
        (0..self.places())
            .zip(0_u32..)
            .map(|(place, nth)| DogSpec {
                centre_deg: self.first_dog_deg + pitch * f64::from(nth),
                tip_width_deg: self.dog_width_deg(),
                height_mm: self.height_mm * height_share(&self.heights, place),
                back_cut_drive_deg: self.back_cut_drive_deg,
                back_cut_coast_deg: self.back_cut_coast_deg,
                edge_break_mm: self.edge_break_mm,
                root_fillet_mm: self.root_fillet_mm,
            })
            .collect()
    }
}

/// One dog as measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DogSpec {
    /// Centre, degrees from the datum mark.
    pub centre_deg: f64,
    /// Tip width, degrees.
    pub tip_width_deg: f64,
    /// Height, mm; 0 for an empty place of an even ring.
    pub height_mm: f64,
    /// Back-cut of the drive flank, degrees.
    pub back_cut_drive_deg: f64,
    /// Back-cut of the coast flank, degrees.
    pub back_cut_coast_deg: f64,
    /// Edge break, mm.
    pub edge_break_mm: f64,
    /// Root fillet, mm.
    pub root_fillet_mm: f64,
}

impl DogSpec {
    fn dog(&self, place: usize) -> Dog {
        Dog {
            back_cut: PerFlank {
                drive: Angle::from_degrees(self.back_cut_drive_deg),
                coast: Angle::from_degrees(self.back_cut_coast_deg),
            },
            edge_break_mm: self.edge_break_mm,
            root_fillet_mm: self.root_fillet_mm,
            ..Dog::straight(
                place,
                Angle::from_degrees(self.centre_deg),
                Angle::from_degrees(self.tip_width_deg),
                self.height_mm,
            )
        }
    }
}

/// How the dogs of a ring are given.
#[derive(Clone, Debug, PartialEq)]
pub enum Layout {
    /// All alike and evenly spaced.
    Even(EvenLayout),
    /// One by one, as measured.
    Measured(Vec<DogSpec>),
}

/// A ring as the user gives it.
#[derive(Clone, Debug, PartialEq)]
pub struct RingSpec {
    /// Across the inner ends, mm.
    pub inner_diameter_mm: f64,
    /// Across the outer ends, mm.
    pub outer_diameter_mm: f64,
    /// How the flanks run in plan.
    pub form: PlanForm,
    /// The dogs as found.
    pub layout: Layout,
    /// Mass of the gear that carries the ring, kg.
    pub gear_mass_kg: f64,
    /// The planned work.
    pub plan: Plan,
    /// What was read on it, if its dogs were measured one by one.
    pub readings: Option<Readings>,
}

impl Default for RingSpec {
    fn default() -> Self {
        Self {
            inner_diameter_mm: FieldId::InnerDiameter.spec().default,
            outer_diameter_mm: FieldId::OuterDiameter.spec().default,
            form: PlanForm::Radial,
            layout: Layout::Even(EvenLayout::default()),
            gear_mass_kg: FieldId::GearMass.spec().default,
            plan: Plan::default(),
            readings: None,
        }
    }
}

impl RingSpec {
    /// The dogs as found, one for each place.
    pub fn found_dogs(&self) -> Vec<DogSpec> {
        match &self.layout {
            Layout::Even(even) => even.dogs(),
            Layout::Measured(dogs) => dogs.clone(),
        }
    }

    /// How many places there are.
    pub fn places(&self) -> usize {
        match &self.layout {
            Layout::Even(even) => even.places(),
            Layout::Measured(dogs) => dogs.len(),
        }
    }

    /// The ring as found, before any cut.
    pub fn to_found(&self) -> Ring {
        let found = self.found_dogs();
        let dogs = found.iter().enumerate().map(|(place, spec)| spec.dog(place));
        Ring {
            inner_radius_mm: self.inner_diameter_mm / 2.0,
            outer_radius_mm: self.outer_diameter_mm / 2.0,
            form: self.form,
            dogs: dogs.filter(|dog| dog.height_mm > 0.0).collect(),
        }
    }

    /// The ring with all its work done.
    pub fn to_cut(&self) -> Ring {
        let works = &self.plan.operations;
        works.iter().fold(self.to_found(), |ring, operation| operation.done_to(ring))
    }
}

numbered_fields!(RingSpec:
    InnerDiameter => inner_diameter_mm,
    OuterDiameter => outer_diameter_mm,
    GearMass => gear_mass_kg,
);

numbered_fields!(EvenLayout:
    Count => count,
    TipWidth => tip_width_deg,
    Gap => gap_deg,
    Height => height_mm,
    BackCutDrive => back_cut_drive_deg,
    BackCutCoast => back_cut_coast_deg,
    EdgeBreak => edge_break_mm,
    RootFillet => root_fillet_mm,
    FirstDog => first_dog_deg,
);

numbered_fields!(DogSpec:
    Centre => centre_deg,
    TipWidth => tip_width_deg,
    Height => height_mm,
    BackCutDrive => back_cut_drive_deg,
    BackCutCoast => back_cut_coast_deg,
    EdgeBreak => edge_break_mm,
    RootFillet => root_fillet_mm,
);

impl EvenLayout {
    /// The fields in use: of dog width and gap only the one that is given.
    pub fn fields(&self) -> Vec<FieldId> {
        let idle = match self.size_by {
            SizeBy::Dog => FieldId::Gap,
            SizeBy::Gap => FieldId::TipWidth,
        };
        Self::FIELDS.into_iter().filter(|id| *id != idle).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Cut;
    use crate::pair::{Edges, Mesh};

    #[test]
    fn a_place_of_no_height_has_no_dog() {
        let even = EvenLayout { heights: vec![1.0, 1.0, 0.0], ..EvenLayout::default() };
        let spec = RingSpec { layout: Layout::Even(even), ..RingSpec::default() };
        let places: Vec<_> = spec.to_found().dogs.iter().map(|dog| dog.place).collect();
        assert_eq!((spec.places(), places), (6, vec![0, 1, 3, 4]));
    }

    /// Cutting every second dog to half height leaves the others in place: nothing changes at full depth.
    #[test]
    fn shortened_dogs_keep_their_flanks() {
        let even = EvenLayout {
            back_cut_drive_deg: 3.0,
            back_cut_coast_deg: 5.0,
            ..EvenLayout::default()
        };
        let plan = Plan::of_cuts([1, 3, 5].map(|place| (place, Cut::Shorten(2.5))));
        let spec = RingSpec { layout: Layout::Even(even), plan, ..RingSpec::default() };
        let lash = |ring: Ring| {
            let mesh = Mesh::new(&ring, &ring).expect("a ring fits itself");
            mesh.windows_at(4.5, Edges::Sharp)
        };
        let (cut, found) = (lash(spec.to_cut()), lash(spec.to_found()));
        assert_eq!(cut.len(), 6);
        for (cut, found) in cut.iter().zip(&found) {
            assert!((cut.width - found.width).radians().abs() < 1e-12, "{cut:?} {found:?}");
        }
    }
}
