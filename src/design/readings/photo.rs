//! The flanks that were read from a photograph, as columns of readings.

use super::{Column, GAUGES, GaugeKind, MOST_COLUMNS, Readings};

/// The gauges of a photograph: drive flank, coast flank.
const KEYS: [&str; 2] = ["drive_photo", "coast_photo"];

/// A flank that was read from a photograph.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PhotoFlank {
    /// Its angle, degrees counter-clockwise looking at the dogs, from anywhere.
    pub deg: f64,
    /// Its standard uncertainty, degrees.
    pub sigma_deg: f64,
}

/// A flank whose uncertainty is so many times the usual one of its photograph stands in a column of its own.
const APART: f64 = 1.2;

/// Drive and coast flank of each dog.
type Flanks = Vec<[Option<PhotoFlank>; 2]>;

impl PhotoFlank {
    /// How many columns of readings these flanks take.
    pub fn columns_of(dogs: &[[Option<Self>; 2]]) -> usize {
        let [_, apart] = parted(dogs);
        KEYS.len() + (0..KEYS.len()).filter(|side| has_side(&apart, *side)).count()
    }
}

impl Readings {
    /// Adds the flanks of a photograph as two columns, and returns whether there was room for them; `dogs` has drive
    /// and coast flank of each dog. Those that are much less certain, as of a dog that was cut down or placed by hand,
    /// have two more, as each column has one uncertainty. A further photograph of the same ring is turned as a whole to
    /// where the ones before it are, so that the fit averages them by their uncertainties.
    pub fn add_photo(&mut self, dogs: &[[Option<PhotoFlank>; 2]]) -> bool {
        let kinds = KEYS.map(|key| GAUGES.iter().copied().find(|kind| kind.key == key));
        let [Some(drive), Some(coast)] = kinds else { return false };
        if dogs.is_empty() || self.columns.len() + PhotoFlank::columns_of(dogs) > MOST_COLUMNS {
            return false;
        }
        self.resize(dogs.len());
        let turn = self.turn_of(dogs);
        let [usual, apart] = parted(dogs);
        for (side, kind) in [drive, coast].into_iter().enumerate() {
            self.columns.push(column(kind, &usual, side, turn));
        }
        for (side, kind) in [drive, coast].into_iter().enumerate() {
            if has_side(&apart, side) {
                self.columns.push(column(kind, &apart, side, turn));
            }
        }
        true
    }

    /// How far a photograph is turned, degrees: from those before it, or from its own first flank.
    fn turn_of(&self, dogs: &[[Option<PhotoFlank>; 2]]) -> f64 {
        let of_side = |side: usize| {
            let before = self.columns.iter().filter(move |column| column.kind.key == KEYS[side]);
            before.flat_map(move |column| {
                let both = column.cells.iter().zip(dogs);
                both.filter_map(move |(read, dog)| Some(dog[side]?.deg - (*read)?))
            })
        };
        let offs: Vec<f64> = (0..KEYS.len()).flat_map(of_side).collect();
        let Some(first) = offs.first().copied() else {
            return dogs.iter().flatten().flatten().next().map_or(0.0, |flank| flank.deg);
        };
        let around = offs.iter().map(|off| (off - first + 180.0).rem_euclid(360.0) - 180.0);
        first + around.sum::<f64>() / offs.len() as f64
    }
}

/// The flanks of usual uncertainty, and those that are much less certain.
fn parted(dogs: &[[Option<PhotoFlank>; 2]]) -> [Flanks; 2] {
    let mut sigmas: Vec<f64> = dogs.iter().flatten().flatten().map(|f| f.sigma_deg).collect();
    sigmas.sort_by(f64::total_cmp);
    let usual = sigmas.get(sigmas.len().saturating_sub(1) / 2).copied().unwrap_or_default();
    [false, true].map(|is_apart| {
        let of = |flank: &PhotoFlank| (flank.sigma_deg > APART * usual) == is_apart;
        dogs.iter().map(|dog| dog.map(|flank| flank.filter(of))).collect()
    })
}

fn has_side(dogs: &Flanks, side: usize) -> bool {
    dogs.iter().any(|dog| dog[side].is_some())
}

fn column(
    kind: &'static GaugeKind,
    dogs: &[[Option<PhotoFlank>; 2]],
    side: usize,
    turn: f64,
) -> Column {
    let mut column = Column::of(kind, dogs.len());
    let rounded = |deg: f64| (deg * 1e3).round() / 1e3;
    // From a little below 0, so that the datum flank is not read as 359.999°.
    let around = |deg: f64| rounded((deg - turn + 1.0).rem_euclid(360.0) - 1.0);
    column.cells = dogs.iter().map(|dog| dog[side].map(|flank| around(flank.deg))).collect();
    let squares: Vec<f64> =
        dogs.iter().filter_map(|dog| Some(dog[side]?.sigma_deg)).map(|s| s * s).collect();
    if !squares.is_empty() {
        let mean = squares.iter().sum::<f64>() / squares.len() as f64;
        column.sigma = rounded(mean.sqrt()).max(1e-3);
    }
    column
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Design;
    use crate::fields::{FieldId, Slot};
    use crate::ring::Side;

    /// Six dogs of 24° with the first one a little wide, turned as a picture may be.
    fn picture(turn: f64, off: f64, sigma_deg: f64) -> Vec<[Option<PhotoFlank>; 2]> {
        (0..6)
            .map(|dog| {
                let from = turn + 60.0 * f64::from(dog);
                let wide = if dog == 0 { 25.0 } else { 24.0 };
                [from, from + wide + off].map(|deg| Some(PhotoFlank { deg, sigma_deg }))
            })
            .collect()
    }

    #[test]
    fn two_pictures_are_averaged_by_their_uncertainties() {
        let mut design = Design::default();
        design.change_readings(Side::A, |readings| {
            assert!(readings.add_photo(&picture(77.0, 0.0, 0.1)));
            assert!(readings.add_photo(&picture(-12.5, 0.25, 0.05)));
        });
        let readings = design.a.readings.clone().expect("readings");
        assert_eq!(
            readings.columns.iter().map(|c| c.kind.key).collect::<Vec<_>>(),
            [KEYS, KEYS].concat()
        );
        assert_eq!(readings.columns[0].cells[..2], [Some(0.0), Some(60.0)]);
        assert!(design.use_readings(Side::A));
        let width = design.a.found_dogs()[0].tip_width_deg;
        // Four to one for the better picture: 25 + 0.25 · 4/5.
        assert!((width - 25.2).abs() < 2e-3, "{width}");
        let sigma = design.tolerances.measured(Side::A, 0, FieldId::TipWidth).expect("measured");
        let expected = 2.0 * (2.0 / (1.0 / 0.01 + 1.0 / 0.0025_f64)).sqrt();
        assert!((sigma - expected).abs() < 2e-3, "{sigma} {expected}");
    }

    #[test]
    fn a_picture_agrees_with_the_table_and_the_calliper() {
        let mut design = Design::default();
        design.set(Slot::Ring(Side::A, FieldId::EdgeBreak), 0.0);
        design.change_readings(Side::A, |readings| {
            let find =
                |key: &str| GAUGES.iter().copied().find(|kind| kind.key == key).expect("a gauge");
            for (key, first, step) in [("chord", 12.475, 0.0), ("drive_table", 17.0, 60.0)] {
                let mut column = Column::of(find(key), 6);
                column.cells = (0..6).map(|dog| Some(first + step * f64::from(dog))).collect();
                readings.columns.push(column);
            }
            let mut flanks = picture(200.0, 0.0, 0.06);
            flanks[0][1] = None;
            flanks[3] = [None; 2];
            assert!(readings.add_photo(&flanks));
            assert_eq!(readings.columns[3].cells[0], None);
        });
        let gauged = design.a.gauged().expect("a ring");
        assert!(gauged.faults.is_empty(), "{:?}", gauged.faults);
        assert!(gauged.dogs.iter().all(|dog| (dog.spec.tip_width_deg - 24.0).abs() < 0.02));
    }

    #[test]
    fn flanks_that_are_less_certain_stand_apart() {
        let mut design = Design::default();
        design.change_readings(Side::A, |readings| {
            let mut flanks = picture(40.0, 0.0, 0.05);
            // Dog 2 was cut down; the coast flank of dog 4 was placed by hand.
            flanks[1].iter_mut().flatten().for_each(|flank| flank.sigma_deg = 0.07);
            flanks[3][1].iter_mut().for_each(|flank| flank.sigma_deg = 0.2);
            assert_eq!(PhotoFlank::columns_of(&flanks), 4);
            assert!(readings.add_photo(&flanks));
            let filled = |at: usize| readings.columns[at].cells.iter().flatten().count();
            assert_eq!([0, 1, 2, 3].map(filled), [5, 4, 1, 2]);
            assert_eq!(readings.columns[2].sigma, 0.07);
        });
        assert!(design.use_readings(Side::A));
        let width = |dog: usize| {
            let sigma = design.tolerances.measured(Side::A, dog, FieldId::TipWidth);
            (design.a.found_dogs()[dog].tip_width_deg, sigma.expect("measured"))
        };
        assert!((1..6).all(|dog| (width(dog).0 - 24.0).abs() < 2e-3));
        assert!(width(1).1 > 1.2 * width(2).1 && width(3).1 > 1.5 * width(2).1);
    }

    #[test]
    fn a_full_table_takes_no_picture() {
        let mut readings = Readings::new(6);
        assert!((0..MOST_COLUMNS / 2).all(|_| readings.add_photo(&picture(0.0, 0.0, 0.1))));
        assert!(!readings.add_photo(&picture(0.0, 0.0, 0.1)));
        assert!(!Readings::new(3).add_photo(&[]));
    }
}
