//! What is to be cut on a ring: operations, one after the other.

use std::collections::{BTreeMap, BTreeSet};

use super::dog::{Dog, FlankSide, PlanForm, Ring};
use crate::fields::FieldId;
use crate::units::Angle;

/// Most operations on one ring that are kept in a file.
pub const MOST_OPERATIONS: usize = 200;

/// What becomes of a whole dog.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// Cut off down to the web.
    Remove,
    /// Cut down to a height in mm.
    Shorten(f64),
}

/// One kind of work on some dogs of a ring. None of them adds metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Work {
    /// Dogs are removed or cut down to a height. The flanks stay where they are, and the edges of a
    /// dog that is cut down are broken again as they were found.
    Cut(Cut),
    /// So many mm come off a flank, at the mean radius: a radial flank stays radial, a parallel one
    /// parallel, and the angle stays what it is.
    Narrow(FlankSide, f64),
    /// A flank is cut to an angle in degrees, plus for undercut, and just so deep that nothing of the
    /// old flank is left: through its tip edge as it is by then, or further in through its old root.
    Recut(FlankSide, f64),
    /// The tips of all dogs are lapped on a plate, until so many mm are off the tallest.
    Lap(f64),
    /// The tip edges are broken to so many mm.
    Break(f64),
}

impl Work {
    /// The number it has, and which input that is.
    pub const fn number(self) -> Option<(FieldId, f64)> {
        Some(match self {
            Self::Cut(Cut::Remove) => return None,
            Self::Cut(Cut::Shorten(to)) => (FieldId::ShortenTo, to),
            Self::Narrow(_, stock) => (FieldId::FlankStock, stock),
            Self::Recut(_, angle) => (FieldId::RecutTo, angle),
            Self::Lap(stock) => (FieldId::LapStock, stock),
            Self::Break(to) => (FieldId::BreakTo, to),
        })
    }

    /// Its number, to change it.
    pub const fn number_mut(&mut self) -> Option<&mut f64> {
        match self {
            Self::Cut(Cut::Remove) => None,
            Self::Cut(Cut::Shorten(number))
            | Self::Narrow(_, number)
            | Self::Recut(_, number)
            | Self::Lap(number)
            | Self::Break(number) => Some(number),
        }
    }

    /// Whether it is done to all dogs at once, whichever are chosen.
    pub const fn is_on_all(self) -> bool {
        matches!(self, Self::Lap(_))
    }

    /// What it is called on the screen and on paper.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Cut(Cut::Remove) => "remove",
            Self::Cut(Cut::Shorten(_)) => "shorten",
            Self::Narrow(FlankSide::Drive, _) => "narrow the drive flank",
            Self::Narrow(FlankSide::Coast, _) => "narrow the coast flank",
            Self::Recut(FlankSide::Drive, _) => "re-cut the drive flank",
            Self::Recut(FlankSide::Coast, _) => "re-cut the coast flank",
            Self::Lap(_) => "lap the tips",
            Self::Break(_) => "break the edges",
        }
    }
}

/// Work on some dogs of a ring.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// What is done.
    pub work: Work,
    /// To the dogs at these places; what is done to all dogs at once does not look at it.
    pub places: BTreeSet<usize>,
}

impl Operation {
    /// Work that is done to all dogs at once.
    pub const fn on_all(work: Work) -> Self {
        Self { work, places: BTreeSet::new() }
    }

    /// Whether it is done to the dog at a place.
    pub fn is_on(&self, place: usize) -> bool {
        self.work.is_on_all() || self.places.contains(&place)
    }
}

/// The operations on one ring in their order.
///
/// ```
/// use crenel::ring::{Cut, Plan, RingSpec};
/// let mut ring = RingSpec::default();
/// ring.plan = Plan::of_cuts([(1, Cut::Remove), (3, Cut::Remove), (5, Cut::Shorten(2.5))]);
/// assert_eq!(ring.plan.operations.len(), 2);
/// assert_eq!(ring.as_cut().dogs.len(), 4);
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// First to last.
    pub operations: Vec<Operation>,
}

impl Plan {
    /// Dogs removed and cut down, those that are treated alike in one operation.
    pub fn of_cuts(cuts: impl IntoIterator<Item = (usize, Cut)>) -> Self {
        let mut plan = Self::default();
        let cuts: BTreeMap<usize, Cut> = cuts.into_iter().collect();
        cuts.into_iter().for_each(|(place, cut)| plan.add(place, Work::Cut(cut)));
        plan
    }

    /// The plan as dogs removed and cut down, if that is all that there is to it.
    pub fn as_cuts(&self) -> Option<BTreeMap<usize, Cut>> {
        let places = self.operations.iter().flat_map(|operation| &operation.places);
        let cuts = places.filter_map(|&place| Some((place, self.cut_of(place)?))).collect();
        (Self::of_cuts(BTreeMap::clone(&cuts)) == *self).then_some(cuts)
    }

    /// What becomes of the whole dog at a place: it is removed, cut down to the lowest height that is
    /// asked for, or neither. Lapping does not count.
    pub fn cut_of(&self, place: usize) -> Option<Cut> {
        let here = self.operations.iter().filter(|operation| operation.is_on(place));
        here.fold(None, |sofar, operation| match (sofar, operation.work) {
            (Some(Cut::Remove), _) | (_, Work::Cut(Cut::Remove)) => Some(Cut::Remove),
            (Some(Cut::Shorten(old)), Work::Cut(Cut::Shorten(new))) => {
                Some(Cut::Shorten(old.min(new)))
            }
            (None, Work::Cut(cut)) => Some(cut),
            (sofar, _) => sofar,
        })
    }

    /// Removes the dog at a place, cuts it down, or keeps it whole, in place of what was to become of
    /// it. Other work on it stays.
    pub fn set_cut(&mut self, place: usize, cut: Option<Cut>) {
        if self.cut_of(place) == cut {
            return;
        }
        if let Some(cut) = cut.filter(|_| self.cut_of(place).is_some()) {
            return self.replace_cut(place, cut);
        }
        let whole = self.operations.iter_mut().filter(|o| matches!(o.work, Work::Cut(_)));
        whole.for_each(|operation| {
            operation.places.remove(&place);
        });
        cut.into_iter().for_each(|cut| self.add(place, Work::Cut(cut)));
        self.drop_idle();
    }

    /// Gives a dog another cut where it has one already, so that the order of the work stays: alone in
    /// its operation it changes the operation, else it is parted from the others.
    fn replace_cut(&mut self, place: usize, cut: Cut) {
        let is_whole = |o: &Operation| matches!(o.work, Work::Cut(_)) && o.is_on(place);
        let Some(at) = self.operations.iter().position(is_whole) else { return };
        for operation in &mut self.operations {
            if matches!(operation.work, Work::Cut(_)) {
                operation.places.remove(&place);
            }
        }
        let twin = |o: &&mut Operation| o.work == Work::Cut(cut);
        let beside = at.saturating_sub(1)..(at + 2).min(self.operations.len());
        match self.operations[beside].iter_mut().find(twin) {
            Some(operation) => drop(operation.places.insert(place)),
            None => {
                let alone = Operation { work: Work::Cut(cut), places: BTreeSet::from([place]) };
                self.operations.insert(at + 1, alone);
            }
        }
        self.drop_idle();
    }

    /// Adds the dog at a place to the first operation that does just that, or to a new last one.
    pub fn add(&mut self, place: usize, work: Work) {
        match self.operations.iter_mut().find(|operation| operation.work == work) {
            Some(operation) => drop(operation.places.insert(place)),
            None => self.operations.push(Operation { work, places: BTreeSet::from([place]) }),
        }
    }

    /// Gives every place another number, or none where its dog is off the list.
    pub fn renumber(&mut self, number: impl Fn(usize) -> Option<usize>) {
        for operation in &mut self.operations {
            operation.places = operation.places.iter().filter_map(|&place| number(place)).collect();
        }
        self.drop_idle();
    }

    fn drop_idle(&mut self) {
        self.operations.retain(|o| o.work.is_on_all() || !o.places.is_empty());
    }

    /// Whether there is any work.
    pub const fn is_empty(&self) -> bool {
        self.operations.is_empty()
    }
}

impl Ring {
    /// The ring after an operation.
    #[must_use]
    pub fn after(mut self, operation: &Operation) -> Self {
        let form = self.form;
        let radii = [self.inner_radius_mm, self.mean_radius_mm(), self.outer_radius_mm];
        let tallest = self.tallest_mm();
        let here = |dog: &Dog| operation.is_on(dog.place);
        if operation.work == Work::Cut(Cut::Remove) {
            self.dogs.retain(|dog| !here(dog));
        }
        for dog in self.dogs.iter_mut().filter(|dog| here(dog)) {
            match operation.work {
                Work::Cut(Cut::Remove) => {}
                Work::Cut(Cut::Shorten(to)) => dog.cut_down_to(to),
                Work::Narrow(flank, stock) => *dog.narrowed_mm.of_mut(flank) += stock.max(0.0),
                Work::Recut(flank, angle) => {
                    dog.recut(flank, Angle::from_degrees(angle), form, radii);
                }
                Work::Lap(stock) => dog.cut_down_to(tallest - stock),
                Work::Break(to) => dog.edge_break_mm = dog.edge_break_mm.max(to),
            }
        }
        self.dogs.retain(|dog| dog.height_mm > 0.0);
        self
    }

    /// How much metal came off a flank since the dog was found, mm square to the flank, where it is
    /// most of the flank that is left. Between rings of the same radii and plan form.
    pub fn flank_stock_mm(&self, found: &Dog, now: &Dog, flank: FlankSide) -> f64 {
        let radii = [self.inner_radius_mm, self.outer_radius_mm];
        let levels = [0.0, now.height_mm].map(|depth| depth + now.cut_down_mm);
        let corners = radii.into_iter().flat_map(|r| levels.map(|level| (r, level)));
        let inset =
            |dog: &Dog, (r, level)| dog.inset_at(flank, level, self.form, r, self.mean_radius_mm());
        let off = corners.map(|at| inset(now, at) - inset(found, at)).fold(0.0, f64::max);
        off * found.back_cut.of(flank).cos()
    }
}

impl Dog {
    /// A cut never adds metal.
    fn cut_down_to(&mut self, height_mm: f64) {
        let height_mm = height_mm.max(0.0);
        if height_mm < self.height_mm {
            self.cut_down_mm += self.height_mm - height_mm;
            self.height_mm = height_mm;
        }
    }

    /// Cuts a flank to an angle, just so deep that the old flank is gone at all four of its corners,
    /// between which both are planes: turned about its tip edge it is gone there, and it is narrowed by
    /// what is then left of it at the root.
    ///
    /// What it leaned at the tip stays lean. Made into narrowing it would be an angle at another radius
    /// where rings meet, and the re-cut would move the tip edge that it does not touch.
    fn recut(&mut self, flank: FlankSide, angle: Angle, form: PlanForm, radii: [f64; 3]) {
        let [inner, mean, outer] = radii;
        let mut new = *self;
        *new.back_cut.of_mut(flank) = angle;
        let less = self.back_cut.of(flank).tan() - angle.tan();
        *new.lean_kept_mm.of_mut(flank) += self.cut_down_mm * less;
        let root = self.cut_down_mm + self.height_mm;
        let behind = [inner, outer].map(|r| {
            let inset = |dog: &Self| dog.inset_at(flank, root, form, r, mean);
            let per_mm = if form == PlanForm::Radial { r / mean } else { 1.0 };
            (inset(self) - inset(&new)) / per_mm
        });
        *new.narrowed_mm.of_mut(flank) += behind.into_iter().fold(0.0, f64::max);
        *self = new;
    }

    /// How far a flank stands inside the tip edge as found, mm: measured along the circle of a radius
    /// for radial flanks, square to the middle line for parallel ones.
    fn inset_at(
        &self,
        flank: FlankSide,
        level_mm: f64,
        form: PlanForm,
        radius_mm: f64,
        mean_mm: f64,
    ) -> f64 {
        let leaned = self.leaned_at_mm(flank, level_mm);
        let narrowed = self.narrowed_mm.of(flank);
        match form {
            PlanForm::Parallel => narrowed + leaned,
            PlanForm::Radial => {
                let ratio = (leaned / radius_mm).clamp(-1.0, 1.0);
                radius_mm * (narrowed / mean_mm + libm::asin(ratio))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{EvenLayout, Layout, RingSpec};
    use super::*;

    /// A ring of inner radius 20 and outer radius 30 mm with flanks of this angle, as found.
    fn ring(form: PlanForm, back_cut_deg: f64) -> Ring {
        let layout = Layout::Even(EvenLayout {
            back_cut_drive_deg: back_cut_deg,
            back_cut_coast_deg: back_cut_deg,
            ..EvenLayout::default()
        });
        let (inner_diameter_mm, outer_diameter_mm) = (40.0, 60.0);
        let spec =
            RingSpec { inner_diameter_mm, outer_diameter_mm, form, layout, ..RingSpec::default() };
        spec.as_found()
    }

    fn on_first(work: Work) -> Operation {
        Operation { work, places: BTreeSet::from([0]) }
    }

    #[test]
    fn what_comes_off_a_flank_is_measured_square_to_it() {
        let flank = FlankSide::Drive;
        for angle in [0.0, 12.0, -9.0] {
            let square = libm::cos(f64::to_radians(angle));
            // A parallel flank moves by the same at every radius, a radial one most at the outside.
            for (form, most) in [(PlanForm::Parallel, 0.4), (PlanForm::Radial, 0.4 * 30.0 / 25.0)] {
                let found = ring(form, angle);
                let now = found.clone().after(&on_first(Work::Narrow(flank, 0.4)));
                let off = |place: usize, side| {
                    now.flank_stock_mm(&found.dogs[place], &now.dogs[place], side)
                };
                assert!(
                    (off(0, flank) - most * square).abs() < 1e-12,
                    "{form:?} {angle}: {}",
                    off(0, flank)
                );
                assert_eq!([off(0, FlankSide::Coast), off(1, flank)], [0.0; 2]);
            }
        }
    }

    #[test]
    fn a_recut_turns_the_flank_about_its_tip_edge_or_goes_in_through_its_old_root() {
        let tan = |degrees: f64| libm::tan(degrees.to_radians());
        let recut = |from: f64, to: f64| {
            let found = ring(PlanForm::Parallel, from);
            let now = found.clone().after(&on_first(Work::Recut(FlankSide::Coast, to)));
            (
                now.dogs[0].narrowed_mm.coast,
                now.flank_stock_mm(&found.dogs[0], &now.dogs[0], FlankSide::Coast),
            )
        };
        // Steeper undercut: nothing at the tip, all of it at the root, 5 mm down.
        let (narrowed, stock) = recut(2.0, 6.0);
        assert_eq!(narrowed, 0.0);
        assert!(
            (stock - 5.0 * (tan(6.0) - tan(2.0)) * libm::cos(2_f64.to_radians())).abs() < 1e-12
        );
        // Flatter: the root stays, and the tip edge goes in by what the flank leaned.
        let (narrowed, stock) = recut(6.0, 2.0);
        assert!((narrowed - 5.0 * (tan(6.0) - tan(2.0))).abs() < 1e-12, "{narrowed}");
        assert!((stock - narrowed * libm::cos(6_f64.to_radians())).abs() < 1e-12);
    }

    #[test]
    fn lapping_is_reckoned_from_the_tallest_and_no_work_adds_metal() {
        let mut ring = ring(PlanForm::Radial, 0.0);
        ring.dogs[0].height_mm = 4.9;
        let lapped = ring.clone().after(&Operation::on_all(Work::Lap(0.25)));
        let heights: Vec<f64> = lapped.dogs.iter().map(|dog| dog.height_mm).collect();
        assert_eq!(heights, [4.75; 6]);
        assert!((lapped.dogs[0].cut_down_mm - 0.15).abs() < 1e-12);
        assert!((lapped.dogs[1].cut_down_mm - 0.25).abs() < 1e-12);
        let works =
            [Work::Cut(Cut::Shorten(6.0)), Work::Narrow(FlankSide::Drive, -1.0), Work::Break(0.0)];
        for work in works {
            assert_eq!(ring.clone().after(&on_first(work)), ring, "{work:?}");
        }
        let gone = ring.clone().after(&on_first(Work::Cut(Cut::Shorten(-1.0))));
        assert_eq!(gone.dogs.len(), 5);
    }

    #[test]
    fn another_cut_takes_the_place_of_the_one_before_and_keeps_its_turn() {
        let mut plan = Plan::of_cuts([(1, Cut::Shorten(2.5)), (3, Cut::Shorten(2.5))]);
        plan.operations.push(Operation::on_all(Work::Lap(0.1)));
        plan.set_cut(3, Some(Cut::Shorten(2.0)));
        let works: Vec<_> = plan.operations.iter().map(|o| o.work).collect();
        let short = |to| Work::Cut(Cut::Shorten(to));
        assert_eq!(works, [short(2.5), short(2.0), Work::Lap(0.1)]);
        // Alone in its operation it changes the operation; a twin beside it takes it in.
        plan.set_cut(3, Some(Cut::Shorten(2.5)));
        assert_eq!(plan.operations.len(), 2);
        assert_eq!(plan.operations[0].places, BTreeSet::from([1, 3]));
        plan.set_cut(1, None);
        plan.set_cut(3, None);
        assert_eq!(plan.operations, [Operation::on_all(Work::Lap(0.1))]);
        assert_eq!(plan.cut_of(3), None);
    }
}
