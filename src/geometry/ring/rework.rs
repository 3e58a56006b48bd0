//! Work on the dogs of a ring. None of it adds metal.
//!
//! Each kind of work takes the places of the dogs that it is done to.

use super::dog::{Dog, FlankSide, PlanForm, Ring};
use crate::units::Angle;

impl Ring {
    /// Cuts dogs off down to the web.
    pub fn remove(&mut self, on: impl Fn(usize) -> bool) {
        self.dogs.retain(|dog| !on(dog.place));
    }

    /// Cuts dogs down to a height in mm. A dog that is lower already is unchanged, and a dog cut down to 0
    /// is removed. The flanks stay where they are, and the edges are broken again as they were found.
    pub fn shorten(&mut self, on: impl Fn(usize) -> bool, to_mm: f64) {
        self.each(on, |dog| dog.cut_down_to(to_mm));
        self.dogs.retain(|dog| dog.height_mm > 0.0);
    }

    /// Takes `stock_mm` off a flank at the mean radius. A radial flank stays radial, a parallel one
    /// parallel, and the angle is unchanged. A negative amount counts as 0.
    pub fn narrow(&mut self, on: impl Fn(usize) -> bool, flank: FlankSide, stock_mm: f64) {
        self.each(on, |dog| dog.narrowed_mm[flank] += stock_mm.max(0.0));
    }

    /// Cuts a flank to an angle (plus is undercut), just deep enough to remove the whole old flank. The new
    /// flank runs through the present tip edge, or further in through the old root.
    pub fn recut(&mut self, on: impl Fn(usize) -> bool, flank: FlankSide, to: Angle) {
        let radii = [self.inner_radius_mm, self.mean_radius_mm(), self.outer_radius_mm];
        let form = self.form;
        self.each(on, |dog| dog.recut(flank, to, form, radii));
    }

    /// Laps the tips of all dogs on a plate until the tallest has lost `stock_mm`.
    pub fn lap(&mut self, stock_mm: f64) {
        self.shorten(|_| true, self.tallest_mm() - stock_mm);
    }

    /// Breaks tip edges to `to_mm`; an edge that is broken further already is unchanged.
    pub fn break_edges(&mut self, on: impl Fn(usize) -> bool, to_mm: f64) {
        self.each(on, |dog| dog.edge_break_mm = dog.edge_break_mm.max(to_mm));
    }

    fn each(&mut self, on: impl Fn(usize) -> bool, work: impl Fn(&mut Dog)) {
        self.dogs.iter_mut().filter(|dog| on(dog.place)).for_each(work);
    }

    /// How much metal came off a flank since the dog was found, mm square to the flank, at the corner of
    /// the present flank that lost the most. Both dogs are of rings with the same radii and plan form.
    pub fn flank_stock_mm(&self, found: &Dog, now: &Dog, flank: FlankSide) -> f64 {
        let radii = [self.inner_radius_mm, self.outer_radius_mm];
        let levels = [0.0, now.height_mm].map(|depth| depth + now.cut_down_mm);
        let corners = radii.into_iter().flat_map(|r| levels.map(|level| (r, level)));
        let inset =
            |dog: &Dog, (r, level)| dog.inset_at(flank, level, self.form, r, self.mean_radius_mm());
        let off = corners.map(|at| inset(now, at) - inset(found, at)).fold(0.0, f64::max);
        off * found.back_cut[flank].cos()
    }
}

impl Dog {
    /// A dog that is lower than this already is unchanged.
    fn cut_down_to(&mut self, height_mm: f64) {
        let height_mm = height_mm.max(0.0);
        if height_mm < self.height_mm {
            self.cut_down_mm += self.height_mm - height_mm;
            self.height_mm = height_mm;
        }
    }

    /// Cuts a flank to an angle, just deep enough to remove the old flank at all four of its corners; both
    /// flanks are planes between them. The new flank is first turned about the tip edge. It is then moved
    /// in by whatever is left of the old flank at the root.
    ///
    /// The lean at the tip is kept as lean. As narrowing it would be an angle, which has another length at
    /// the radius where the rings meet, and the re-cut would move a tip edge that it does not touch.
    fn recut(&mut self, flank: FlankSide, angle: Angle, form: PlanForm, radii: [f64; 3]) {
        let [inner, mean, outer] = radii;
        let mut new = *self;
        new.back_cut[flank] = angle;
        let less = self.back_cut[flank].tan() - angle.tan();
        new.lean_kept_mm[flank] += self.cut_down_mm * less;
        let root = self.cut_down_mm + self.height_mm;
        let behind = [inner, outer].map(|r| {
            let inset = |dog: &Self| dog.inset_at(flank, root, form, r, mean);
            let per_mm = if form == PlanForm::Radial { r / mean } else { 1.0 };
            (inset(self) - inset(&new)) / per_mm
        });
        new.narrowed_mm[flank] += behind.into_iter().fold(0.0, f64::max);
        *self = new;
    }

    /// How far a flank lies inside the tip edge as found, mm: along the circle of the radius for radial
    /// flanks, square to the middle line for parallel ones.
    fn inset_at(
        &self,
        flank: FlankSide,
        level_mm: f64,
        form: PlanForm,
        radius_mm: f64,
        mean_mm: f64,
    ) -> f64 {
        let leaned = self.leaned_at_mm(flank, level_mm);
        let narrowed = self.narrowed_mm[flank];
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
    use super::super::{EvenRing, PerFlank};
    use super::*;

    /// A ring of inner radius 20 and outer radius 30 mm with flanks of this angle, as found.
    fn ring(form: PlanForm, back_cut_deg: f64) -> Ring {
        let (inner_diameter_mm, back_cut_deg) = (40.0, PerFlank::both(back_cut_deg));
        EvenRing { inner_diameter_mm, form, back_cut_deg, ..EvenRing::default() }.to_ring()
    }

    fn after(ring: &Ring, work: impl Fn(&mut Ring)) -> Ring {
        let mut after = ring.clone();
        work(&mut after);
        after
    }

    fn first(place: usize) -> bool {
        place == 0
    }

    #[test]
    fn what_comes_off_a_flank_is_measured_square_to_it() {
        let flank = FlankSide::Drive;
        for angle in [0.0, 12.0, -9.0] {
            let square = libm::cos(f64::to_radians(angle));
            // A parallel flank moves by the same at every radius, a radial one most at the outside.
            for (form, most) in [(PlanForm::Parallel, 0.4), (PlanForm::Radial, 0.4 * 30.0 / 25.0)] {
                let found = ring(form, angle);
                let now = after(&found, |ring| ring.narrow(first, flank, 0.4));
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
            let to = Angle::from_degrees(to);
            let now = after(&found, |ring| ring.recut(first, FlankSide::Coast, to));
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
    fn lapping_counts_from_the_tallest_and_no_work_adds_metal() {
        let mut ring = ring(PlanForm::Radial, 0.0);
        ring.dogs[0].height_mm = 4.9;
        let lapped = after(&ring, |ring| ring.lap(0.25));
        let heights: Vec<f64> = lapped.dogs.iter().map(|dog| dog.height_mm).collect();
        assert_eq!(heights, [4.75; 6]);
        assert!((lapped.dogs[0].cut_down_mm - 0.15).abs() < 1e-12);
        assert!((lapped.dogs[1].cut_down_mm - 0.25).abs() < 1e-12);
        assert_eq!(after(&ring, |ring| ring.shorten(first, 6.0)), ring);
        assert_eq!(after(&ring, |ring| ring.narrow(first, FlankSide::Drive, -1.0)), ring);
        assert_eq!(after(&ring, |ring| ring.break_edges(first, 0.0)), ring);
        for gone in
            [after(&ring, |ring| ring.shorten(first, -1.0)), after(&ring, |r| r.remove(first))]
        {
            assert_eq!(gone.dogs.len(), 5);
        }
    }
}
