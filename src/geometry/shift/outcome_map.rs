//! How shifts end over all phases and speed differences.

use std::f64::consts::TAU;

use super::attempt::Shifter;
use super::endings::Endings;
use super::outcome::Outcome;
use super::row::Row;

/// Outcomes on a grid: a row for each speed difference, a cell for each phase.
#[derive(Clone, Debug, PartialEq)]
pub struct OutcomeMap {
    /// Cells in a row; each represents the phase in its middle.
    pub phases: usize,
    /// Rows; each represents the speed difference in its middle.
    pub speeds: usize,
    /// Speed difference at the end of the last row, rad/s.
    pub top: f64,
    /// The cells, row by row from the slowest; fewer than `phases·speeds` while it is being worked out.
    pub cells: Vec<Outcome>,
    /// Shares of the phases of each row by outcome, in the order of [`Outcome::ALL`].
    ///
    /// They are exact, whatever the cells show.
    pub row_shares: Vec<[f64; 6]>,
    /// Prepared tables that give whole rows at once; only present while the map is being worked out.
    endings: Option<Endings>,
}

impl OutcomeMap {
    /// A map without any row worked out yet.
    pub const fn empty(phases: usize, speeds: usize, top: f64) -> Self {
        Self { phases, speeds, top, cells: Vec::new(), row_shares: Vec::new(), endings: None }
    }

    /// Works out the whole map.
    ///
    /// This costs one step for each run of phases with the same course, not one for each cell.
    pub fn new(shifter: &Shifter, phases: usize, speeds: usize, top: f64) -> Self {
        let mut map = Self::empty(phases, speeds, top);
        while map.next_row(shifter) {}
        map
    }

    /// Works out the next row and returns whether there was one left. Every row of a map needs the same
    /// shifter.
    pub fn next_row(&mut self, shifter: &Shifter) -> bool {
        let row = self.rows();
        if row == self.speeds {
            self.endings = None;
            return false;
        }
        let slip = self.slip(row);
        let endings = self.endings.get_or_insert_with(|| Endings::of(shifter));
        let Row { cells, shares } = endings.ends(shifter, slip).row(self.phases, shifter);
        self.cells.extend(cells);
        self.row_shares.push(shares);
        true
    }

    /// How many rows are worked out.
    pub fn rows(&self) -> usize {
        self.cells.len() / self.phases.max(1)
    }

    /// Phase of the cells at a place in their rows, radians.
    pub fn phase(&self, at: usize) -> f64 {
        middle(at, self.phases) * TAU
    }

    /// Speed difference of a row, rad/s.
    pub fn slip(&self, row: usize) -> f64 {
        middle(row, self.speeds) * self.top
    }

    /// One row; empty if it is not worked out.
    pub fn row(&self, row: usize) -> &[Outcome] {
        let start = row * self.phases;
        self.cells.get(start..start + self.phases).unwrap_or_default()
    }

    /// Shares of the phases of a row by outcome, in the order of [`Outcome::ALL`]; they sum to 1.
    /// All are 0 if the row is not worked out.
    pub fn shares(&self, row: usize) -> [f64; 6] {
        self.row_shares.get(row).copied().unwrap_or_default()
    }

    /// Shares at a speed difference, rad/s: between two rows as the straight line between theirs.
    /// `None` where the map has no row on both sides yet.
    pub fn shares_at(&self, slip: f64) -> Option<[f64; 6]> {
        let last = self.rows().checked_sub(1)?;
        if !(self.slip(0)..=self.slip(last)).contains(&slip) {
            let end = if slip < self.slip(0) { 0 } else { last };
            let is_near = (slip - self.slip(end)).abs() <= self.slip(0) * 1.000_001;
            return is_near.then(|| self.shares(end));
        }
        let above = (0..last).find(|row| self.slip(row + 1) >= slip)?;
        let [low, high] = [self.slip(above), self.slip(above + 1)];
        let share = (slip - low) / (high - low);
        let [from, to] = [self.shares(above), self.shares(above + 1)];
        Some(std::array::from_fn(|at| from[at] + share * (to[at] - from[at])))
    }

    /// The outcome at a phase (radians, any) and a speed difference (rad/s), if it is on the map.
    pub fn at(&self, phase: f64, slip: f64) -> Option<Outcome> {
        let turn = (phase / TAU).rem_euclid(1.0);
        let cell = index(turn, self.phases)?;
        self.row(index(slip / self.top, self.speeds)?).get(cell).copied()
    }
}

#[expect(clippy::cast_precision_loss, reason = "grids are far smaller than a float can count")]
fn middle(at: usize, of: usize) -> f64 {
    (at as f64 + 0.5) / of as f64
}

#[expect(clippy::cast_precision_loss, reason = "grids are far smaller than a float can count")]
fn index(share: f64, of: usize) -> Option<usize> {
    if !(0.0..1.0).contains(&share) {
        return None;
    }
    // Bounded just above.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let at = (share * of as f64) as usize;
    Some(at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pair::Mesh;
    use crate::ring::EvenRing;
    use crate::shift::attempt::SEARCHED;
    use crate::shift::{Conditions, Drive, Travel};
    use crate::units::Angle;

    /// What a fall meets first is searched for once where its phase or its slip alone differs. Without that this map
    /// takes 22 000 searches.
    #[test]
    fn a_map_of_measured_leaning_dogs_takes_a_search_for_few_of_its_falls() {
        let mut ring = EvenRing::default().to_ring();
        for (dog, wobble) in ring.dogs.iter_mut().zip([0.0, 0.29, 0.59, 0.88, 0.18, 0.47]) {
            dog.centre = dog.centre + Angle::from_degrees(wobble);
            dog.height_mm -= 0.3 * wobble;
            dog.back_cut.drive = Angle::from_degrees(3.0 - wobble);
        }
        let mesh = Mesh::new(&ring, &ring).expect("one band");
        let usual = Conditions::of_tests(Drive::Both);
        let travel = Travel { drum_speed_m_per_s: 0.12, ..usual.travel };
        let conditions = Conditions { travel, strike_loss: 0.0, drag_nm: 0.0, ..usual };
        let shifter = Shifter::new(&mesh, conditions, -1.0);
        SEARCHED.set(0);
        let map = OutcomeMap::new(&shifter, 360, 240, 60.0);
        assert_eq!(map.cells.len(), 360 * 240);
        let searched = SEARCHED.get();
        assert!(searched < 3000, "{searched}");
    }
}
