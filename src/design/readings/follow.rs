//! The dogs of a design that follow its readings.

use super::{COVERAGE, GaugedRing, Readings};
use crate::design::{Design, Layout, MOST_TOLERANCE, RingSpec, TOLERANCED};
use crate::fields::Slot;
use crate::gauging::Origin;
use crate::ring::Side;

impl Design {
    /// Changes the readings of a ring; where there are none, they begin empty for its dogs. Dogs that followed the
    /// readings follow them still.
    pub fn change_readings(&mut self, side: Side, change: impl FnOnce(&mut Readings)) {
        let ring = self.ring_mut(side);
        let followed = ring.follows_readings();
        let blank = ring.blank_readings();
        let mut readings = ring.readings.take().unwrap_or_else(|| blank.clone());
        change(&mut readings);
        ring.readings = (readings != blank).then_some(readings);
        if followed {
            self.use_readings(side);
        }
    }

    /// Makes a ring the one that its readings give, with [`COVERAGE`] times the uncertainty of each measured size
    /// for the ranges of figures. Returns whether there is one. Planned work stays with its dogs, in every variant.
    pub fn use_readings(&mut self, side: Side) -> bool {
        let ring = self.ring(side);
        let Some(gauged) = ring.gauged().filter(|ring| !ring.dogs.is_empty()) else { return false };
        let (places, standing) = (ring.places(), ring.standing());
        self.renumber(side, |old| standing.iter().position(|(place, _)| *place == old));
        self.ring_mut(side).layout = Layout::Measured(gauged.specs());
        if self.ring(side).places() != places {
            self.forget_uncertainties(side);
        }
        self.take_uncertainties(side, &gauged);
        true
    }

    /// Forgets the uncertainties of single dogs, which are others now.
    fn forget_uncertainties(&mut self, side: Side) {
        let of_dogs = |slot: &Slot| matches!(slot, Slot::Dog(of, ..) if *of == side);
        let slots: Vec<Slot> =
            self.tolerances.all_measured().map(|(slot, _)| slot).filter(of_dogs).collect();
        for slot in slots {
            self.tolerances.set_measured(slot, None);
        }
    }

    fn take_uncertainties(&mut self, side: Side, gauged: &GaugedRing) {
        for (place, dog) in gauged.dogs.iter().enumerate() {
            for &(id, fitted, origin) in &dog.sizes {
                if origin == Origin::Measured && TOLERANCED.contains(&id) && fitted.sigma > 0.0 {
                    let off = ((COVERAGE * fitted.sigma * 1e4).ceil() / 1e4).min(MOST_TOLERANCE);
                    self.tolerances.set_measured(Slot::Dog(side, place, id), Some(off));
                }
            }
        }
    }
}

impl RingSpec {
    /// Whether the dogs are those that the readings give, and something was read.
    pub fn follows_readings(&self) -> bool {
        let is_read = self.readings.as_ref().is_some_and(Readings::has_readings);
        let by_hand = || self.typed_by_hand();
        is_read && matches!(self.layout, Layout::Measured(_)) && !by_hand().contains(&true)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Column, Cut, DogSpec, GAUGES};
    use crate::fields::FieldId;

    fn dogs(design: &Design) -> Vec<DogSpec> {
        design.a.found_dogs()
    }

    /// Six dogs on a table, each 24° wide.
    fn on_table(readings: &mut Readings) {
        for (key, off) in [("drive_table", 0.0), ("coast_table", 24.0)] {
            let kind = GAUGES.iter().find(|kind| kind.key == key).expect("a gauge");
            let mut column = Column::of(kind, 6);
            column.cells = (0..6).map(|dog| Some(60.0 * f64::from(dog) + off)).collect();
            readings.columns.push(column);
        }
    }

    #[test]
    fn dogs_follow_once_the_readings_are_used() {
        let mut design = Design::default();
        let before = dogs(&design);
        design.change_readings(Side::A, on_table);
        assert_eq!(dogs(&design), before, "nothing is used before one says so");
        assert!(design.use_readings(Side::A) && design.a.follows_readings());
        design.change_readings(Side::A, |readings| readings.columns[1].cells[2] = Some(143.0));
        assert!((dogs(&design)[2].tip_width_deg - 23.0).abs() < 1e-3, "{:?}", dogs(&design)[2]);
        assert!(design.a.follows_readings());
        // A size typed by hand ends it.
        let height = Slot::Dog(Side::A, 1, FieldId::Centre);
        design.set(height, 70.0);
        assert!(!design.a.follows_readings());
        let typed = dogs(&design);
        design.change_readings(Side::A, |readings| readings.columns[1].cells[2] = Some(142.0));
        assert_eq!(dogs(&design), typed);
    }

    #[test]
    fn uncertainties_of_the_fit_are_those_of_the_ranges() {
        let mut design = Design::default();
        design.change_readings(Side::A, on_table);
        design.use_readings(Side::A);
        let width = design.tolerances.measured(Side::A, 3, FieldId::TipWidth);
        // A minute of arc at each flank, and twice that for the range.
        let expected = 2.0 * 2_f64.sqrt() / 60.0;
        assert!((width.expect("measured") - expected).abs() < 2e-4, "{width:?}, {expected}");
        assert_eq!(design.tolerances.measured(Side::A, 3, FieldId::Height), None, "not measured");
        assert_eq!(design.tolerances.measured(Side::B, 3, FieldId::TipWidth), None);
    }

    /// Pins and calliper rest below the edge break of an undercut flank, but say nothing of the undercut.
    #[test]
    fn readings_that_disagree_do_not_bend_what_they_do_not_measure() {
        let mut design = Design::default();
        for id in [FieldId::BackCutDrive, FieldId::BackCutCoast] {
            design.set(Slot::Ring(Side::A, id), 3.0);
        }
        design.set(Slot::Ring(Side::A, FieldId::EdgeBreak), 0.3);
        design.change_readings(Side::A, |readings| {
            on_table(readings);
            for (key, reads) in [("chord", 12.4), ("over_pins", 67.8)] {
                let kind = GAUGES.iter().find(|kind| kind.key == key).expect("a gauge");
                let mut column = Column::of(kind, 6);
                column.cells = vec![Some(reads); 6];
                readings.columns.push(column);
            }
            readings.columns[3].set_at = 16.0;
            readings.columns[0].cells[2] = Some(121.0);
        });
        assert!(design.use_readings(Side::A));
        for dog in dogs(&design) {
            assert_eq!((dog.back_cut_drive_deg, dog.edge_break_mm), (3.0, 0.3), "{dog:?}");
        }
    }

    #[test]
    fn work_stays_with_its_dogs_in_every_variant() {
        let mut design = Design::default();
        let removed = DogSpec { height_mm: 0.0, ..dogs(&design)[1] };
        let mut six = dogs(&design);
        six.insert(1, removed);
        design.a.layout = Layout::Measured(six);
        design.a.plan.set_cut(2, Some(Cut::Shorten(2.5)));
        assert!(design.add_variant("as found".to_owned(), "as planned".to_owned()));
        assert!(design.add_variant(String::new(), "again".to_owned()));
        design.change_readings(Side::A, on_table);
        assert!(design.use_readings(Side::A));
        let variants = (0..design.variants.len()).filter_map(|at| design.to_variant(at));
        let places = variants.flat_map(|design| design.a.plan.operations).map(|one| one.places);
        assert!(places.collect::<Vec<_>>().iter().all(|places| *places == [1].into()));
    }

    #[test]
    fn readings_that_are_taken_away_again_leave_no_trace() {
        let mut design = Design::default();
        design.change_readings(Side::A, on_table);
        design.change_readings(Side::A, |readings| readings.columns.clear());
        assert_eq!(design, Design::default());
        assert!(!design.use_readings(Side::B), "no readings");
    }
}
