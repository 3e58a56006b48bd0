//! The list to work from: every dog with its name, its position and how to get there.

use super::head::{Dividing, Job};
use super::on_circle;
use super::table::{RotaryTable, TableJob};
use crate::units::Angle;

/// Positions of one ring on the machines chosen.
#[derive(Clone, Debug, PartialEq)]
pub struct IndexSheet {
    /// Name and position of each dog, in `[0°, 360°)` from the datum.
    pub dogs: Vec<(String, Angle)>,
    /// On the dividing head, if one is chosen and can do it; a step for each dog.
    pub head: Option<Job>,
    /// On the rotary table, if one is chosen and can do it; a dial for each dog.
    pub table: Option<TableJob>,
}

impl IndexSheet {
    /// Works out the dogs on the head and on the table, in the order given.
    pub fn new(
        dogs: Vec<(String, Angle)>,
        head: Option<&Dividing>,
        table: Option<RotaryTable>,
    ) -> Self {
        let dogs: Vec<_> = dogs.into_iter().map(|(name, at)| (name, on_circle(at))).collect();
        let positions: Vec<Angle> = dogs.iter().map(|(_, position)| *position).collect();
        let head = head.and_then(|head| head.job(&positions));
        let table = table.and_then(|table| table.job(&positions));
        Self { dogs, head, table }
    }
}
