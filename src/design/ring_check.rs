//! The findings about a ring by itself.

use crenel_words::finding as say;

use super::plan::Operation;
use super::ring_spec::{DogSpec, EvenLayout, Layout, RingSpec};
use super::work::Cut;
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::ring::{Dog, FlankSide, PlanForm, Ring, Side};

impl RingSpec {
    /// Everything that is wrong with the ring by itself.
    pub fn check(&self, side: Side) -> Vec<Finding> {
        let mut findings = self.check_limits(side);
        if findings.is_empty() {
            findings.extend(self.check_diameters(side));
            findings.extend(self.check_plan(side));
            findings.extend(self.check_dogs(side));
        }
        findings
    }

    fn check_limits(&self, side: Side) -> Vec<Finding> {
        let mut findings: Vec<_> =
            self.all().filter_map(|(id, value)| Slot::Ring(side, id).check(value)).collect();
        match &self.layout {
            Layout::Even(even) => findings.extend(even.check(side)),
            Layout::Measured(dogs) => findings.extend(check_measured(dogs, side)),
        }
        let works = self.plan.operations.iter().enumerate();
        findings.extend(works.filter_map(|(at, operation)| {
            let (id, number) = operation.work.number()?;
            Slot::Work(side, at, id).check(number)
        }));
        findings
    }

    fn check_diameters(&self, side: Side) -> Option<Finding> {
        let (inner, outer) = (self.inner_diameter_mm, self.outer_diameter_mm);
        let finding = || Finding::error(say::diameters_crossed(side, inner, outer));
        (inner >= outer).then(|| finding().at(Slot::Ring(side, FieldId::InnerDiameter)))
    }

    /// Findings about work on absent dogs, and about work that removes no metal.
    fn check_plan(&self, side: Side) -> Vec<Finding> {
        let mut findings = Vec::new();
        let mut ring = self.to_found();
        for (at, operation) in self.plan.operations.iter().enumerate() {
            findings.extend(self.check_places(side, at, operation));
            let after = operation.done_to(ring.clone());
            if after == ring && !findings.iter().any(|f| f.place == Some(slot(side, at, operation)))
            {
                findings.push(takes_nothing(side, at, operation, &ring));
            }
            ring = after;
        }
        findings
    }

    fn check_places(&self, side: Side, at: usize, operation: &Operation) -> Option<Finding> {
        if operation.work.kind.is_on_all {
            return None;
        }
        let missing: Vec<_> = operation.places.iter().filter(|&&p| p >= self.places()).collect();
        let dog = **missing.first()?;
        let work = operation.work.kind.label();
        let says = say::cut_without_dog(side, at, dog, work, self.places());
        Some(Finding::warning(says).at(slot(side, at, operation)))
    }

    /// Findings about the dogs that are left after the cuts.
    fn check_dogs(&self, side: Side) -> Vec<Finding> {
        let ring = self.to_cut();
        if ring.dogs.is_empty() {
            return vec![Finding::error(say::no_dogs(side))];
        }
        if self.inner_diameter_mm >= self.outer_diameter_mm {
            return Vec::new();
        }
        let mut findings: Vec<Finding> =
            ring.dogs.iter().filter_map(|dog| check_shape(&ring, dog, side)).collect();
        let mut spacing = check_spacing(&ring, side);
        // A finding about one dog of an even ring is true of all of them.
        if matches!(self.layout, Layout::Even(_)) {
            findings.truncate(1);
            spacing.truncate(1);
        }
        findings.extend(spacing);
        findings
    }
}

impl EvenLayout {
    fn check(&self, side: Side) -> Vec<Finding> {
        let value = |id| self.field(id).unwrap_or(f64::NAN);
        let mut findings: Vec<_> =
            self.fields().iter().filter_map(|&id| Slot::Ring(side, id).check(value(id))).collect();
        if self.heights.is_empty() || !self.heights.iter().all(|h| (0.0..=1.0).contains(h)) {
            let shown: Vec<_> = self.heights.iter().map(ToString::to_string).collect();
            let says = say::height_pattern(side, shown.join(" "));
            findings.push(Finding::error(says).at(Slot::Ring(side, FieldId::Height)));
        }
        if findings.is_empty() && self.dog_width_deg() <= 0.0 {
            let says = say::gap_takes_all(side, self.count, self.gap_deg, 360.0 / self.count);
            findings.push(Finding::error(says).at(Slot::Ring(side, FieldId::Gap)));
        }
        findings
    }
}

fn check_measured(dogs: &[DogSpec], side: Side) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (place, dog) in dogs.iter().enumerate() {
        let numbers = dog.all();
        findings.extend(numbers.filter_map(|(id, value)| Slot::Dog(side, place, id).check(value)));
    }
    findings.extend(too_many(dogs.len(), side));
    findings
}

fn too_many(dogs: usize, side: Side) -> Option<Finding> {
    let max = FieldId::Count.spec().max;
    let most = EvenLayout { count: max, ..EvenLayout::default() }.places();
    let finding = || Finding::error(say::too_many_dogs(side, dogs, max));
    (dogs > most).then(|| finding().at(Slot::Ring(side, FieldId::Count)))
}

/// The place of findings about an operation.
fn slot(side: Side, at: usize, operation: &Operation) -> Slot {
    let (id, _) = operation.work.number().unwrap_or((FieldId::ShortenTo, 0.0));
    Slot::Work(side, at, id)
}

fn takes_nothing(side: Side, at: usize, operation: &Operation, before: &Ring) -> Finding {
    let work = operation.work.kind.label();
    let standing = before.dogs.iter().filter(|dog| operation.is_on(dog.place));
    let tallest = standing.map(|dog| dog.height_mm).fold(0.0, f64::max);
    let says = match operation.work.to_cut() {
        Some(Cut::Shorten(to)) if tallest > 0.0 => say::cut_above_dog(side, at, to, tallest),
        _ => say::cut_takes_nothing(side, at, work),
    };
    Finding::warning(says).at(slot(side, at, operation))
}

/// Whether the shape of every dog of a ring is possible.
pub(crate) fn dogs_can_be(ring: &Ring, side: Side) -> bool {
    ring.dogs.iter().all(|dog| check_shape(ring, dog, side).is_none())
}

/// A finding if the shape of a dog is impossible.
fn check_shape(ring: &Ring, dog: &Dog, side: Side) -> Option<Finding> {
    let wide = ring.half_chord_mm(dog);
    if ring.form == PlanForm::Parallel && wide >= ring.inner_radius_mm {
        let bore = 2.0 * ring.inner_radius_mm;
        let says = say::wider_than_bore(side, dog.place, 2.0 * wide, bore);
        return Some(Finding::error(says).at(Slot::Ring(side, FieldId::TipWidth)));
    }
    if ring.root_outline(dog).is_none() {
        let cut: f64 = FlankSide::BOTH.map(|f| dog.leaned_mm(f, dog.height_mm)).iter().sum();
        let narrowed = dog.narrowed_mm.drive + dog.narrowed_mm.coast;
        let says = say::no_root_left(side, dog.place, cut + narrowed);
        return Some(Finding::error(says).at(Slot::Ring(side, FieldId::BackCutDrive)));
    }
    check_edges(ring, dog, side)
}

/// A finding if the edge breaks of a dog leave no tip face between them.
fn check_edges(ring: &Ring, dog: &Dog, side: Side) -> Option<Finding> {
    let leaned: f64 = FlankSide::BOTH.map(|flank| dog.leaned_mm(flank, 0.0)).iter().sum();
    let bore = ring.inner_radius_mm;
    let inner = ring.tip_width_at(dog, bore).radians() * bore - leaned;
    let limit = (inner / 2.0).min(dog.height_mm);
    let edge = dog.edge_break_mm;
    let finding = || Finding::error(say::edge_break_takes_all(side, dog.place, edge, limit));
    (edge >= limit).then(|| finding().at(Slot::Ring(side, FieldId::EdgeBreak)))
}

/// Findings about dogs that overlap each other, at the tips or at the roots.
fn check_spacing(ring: &Ring, side: Side) -> Vec<Finding> {
    let dogs = ring.by_centre();
    // Parallel and tapered flanks are closest to each other at the bore.
    let bore = ring.inner_radius_mm;
    let spread = |dog: &Dog, flank: FlankSide| {
        let grow = -dog.height_mm * dog.back_cut[flank].tan();
        let [at_bore, at_mean] =
            [bore, ring.mean_radius_mm()].map(|r| ring.half_width_at(dog, flank, r));
        let wider = at_bore - at_mean;
        wider.radians() + grow.max(0.0) / bore
    };
    let mut findings = Vec::new();
    for (at, gap) in ring.gaps().into_iter().enumerate() {
        let (this, next) = (&dogs[at], &dogs[(at + 1) % dogs.len()]);
        let room = gap - spread(this, FlankSide::Coast) - spread(next, FlankSide::Drive);
        if room < -1e-9 {
            let says = say::dogs_overlap(side, this.place, next.place, -room.to_degrees());
            findings.push(Finding::error(says).at(Slot::Ring(side, FieldId::TipWidth)));
        }
    }
    findings
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Six dogs of 5 mm on a bore of 22 mm and a mean radius of 26 mm, with room for 60° each.
    #[test]
    fn dogs_that_only_meet_at_the_bore_run_into_each_other() {
        let cases = [
            (PlanForm::Parallel, 50.0, 0.0, false), // 59.93° at the bore
            (PlanForm::Parallel, 50.2, 0.0, true),  // 60.18°
            (PlanForm::Radial, 59.9, 0.0, false),
            (PlanForm::Radial, 55.0, -10.0, false), // 2 · 2.30° more at the root
            (PlanForm::Radial, 55.0, -12.0, true),  // 2 · 2.77°, 2 · 2.34° at the mean radius
        ];
        for (form, tip_width_deg, back_cut, wanted) in cases {
            let layout = Layout::Even(EvenLayout {
                tip_width_deg,
                back_cut_drive_deg: back_cut,
                back_cut_coast_deg: back_cut,
                ..EvenLayout::default()
            });
            let ring = RingSpec { form, layout, ..RingSpec::default() };
            let told = ring.check(Side::A).iter().any(|f| f.code == "dogs_overlap");
            assert_eq!(told, wanted, "{form:?} {tip_width_deg}° {back_cut}°");
        }
    }
}
