//! The figures of every gear beside each other: which gear is the worst in what.

use crenel_words::page::{shift, whole};
use crenel_words::{Message, Phrase};

use super::SetShift;
use crate::units::Quantity;

/// How many steps of shading there are: 0 is the best of the gears, the last the worst.
const HEAT_STEPS: u8 = 5;

/// One figure of one gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatCell {
    /// The worst value of all shifts into the gear.
    pub value: f64,
    /// How it stands among the gears, from 0, the best, to 4, the worst.
    pub step: u8,
    /// Whether it is past its limit.
    pub is_past: bool,
}

/// One figure of all gears.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatRow {
    /// Its name.
    pub name: Message,
    /// What it is measured in.
    pub quantity: Quantity,
    /// The gears, first gear first; `None` where it is not known.
    pub cells: Vec<Option<HeatCell>>,
}

/// Gears whose values are nearer to each other than this share of them are alike.
const ALIKE: f64 = 0.02;

/// A figure of a shift, which way is worse, and whether it is past a limit.
struct Figure {
    name: Phrase,
    quantity: Quantity,
    more_is_worse: bool,
    value: fn(&SetShift) -> Option<f64>,
    is_past: fn(&SetShift) -> bool,
}

static FIGURES: &[Figure] = &[
    Figure {
        name: shift::speed_difference,
        quantity: Quantity::Speed,
        more_is_worse: true,
        value: |row| Some(row.shift.step.slip_rpm.abs()),
        is_past: |row| {
            let slip = row.shift.step.slip_rpm.abs();
            row.shift.limit_rpm.is_some_and(|limit| slip > limit)
        },
    },
    Figure {
        name: shift::straight_in_limit,
        quantity: Quantity::Speed,
        more_is_worse: false,
        value: |row| row.shift.limit_rpm,
        is_past: |_| false,
    },
    Figure {
        name: shift::window_time,
        quantity: Quantity::Time,
        more_is_worse: false,
        value: |row| row.shift.window_ms,
        is_past: |_| false,
    },
    Figure {
        name: shift::first_pass,
        quantity: Quantity::Share,
        more_is_worse: false,
        value: |row| row.shift.chance,
        is_past: |_| false,
    },
    Figure {
        name: whole::in_the_end,
        quantity: Quantity::Share,
        more_is_worse: false,
        value: |row| row.end_chance,
        is_past: |_| false,
    },
    Figure {
        name: shift::shock,
        quantity: Quantity::Torque,
        more_is_worse: true,
        value: |row| row.shift.blow_nm,
        is_past: |_| false,
    },
    Figure {
        name: whole::depth_left,
        quantity: Quantity::Length,
        more_is_worse: false,
        value: |row| row.depth_left_mm,
        is_past: |row| row.depth_left_mm.is_some_and(|left| left < 0.0),
    },
    Figure {
        name: whole::lash_at_tyre,
        quantity: Quantity::RoadLength,
        more_is_worse: true,
        value: |row| row.tyre_mm,
        is_past: |_| false,
    },
];

/// The figures of so many gears, each the worst of the shifts into its gear.
pub fn heat(shifts: &[SetShift], gears: usize) -> Vec<HeatRow> {
    FIGURES.iter().map(|figure| figure.row(shifts, gears)).collect()
}

impl Figure {
    fn row(&self, shifts: &[SetShift], gears: usize) -> HeatRow {
        let worse = if self.more_is_worse { f64::max } else { f64::min };
        let known = |gear: usize| {
            let own = shifts.iter().filter(move |row| row.shift.step.to == gear);
            let value =
                own.clone().filter_map(self.value).filter(|v| v.is_finite()).reduce(worse)?;
            Some((value, own.into_iter().any(self.is_past)))
        };
        let all: Vec<Option<(f64, bool)>> = (0..gears).map(known).collect();
        let values = || all.iter().flatten().map(|(value, _)| *value);
        let (least, most) =
            (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
        let cell = |(value, is_past): (f64, bool)| {
            let share = match (value - least) / (most - least) {
                _ if most - least <= ALIKE * most.abs().max(least.abs()) => 0.0,
                share if self.more_is_worse => share,
                share => 1.0 - share,
            };
            HeatCell { value, step: step(share), is_past }
        };
        let cells = all.iter().map(|known| known.map(cell)).collect();
        HeatRow { name: (self.name)(), quantity: self.quantity, cells }
    }
}

/// The step of a share from 0 to 1.
fn step(share: f64) -> u8 {
    let last = f64::from(HEAT_STEPS - 1);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 0 to 4")]
    let step = (share * last).round().clamp(0.0, last) as u8;
    step
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::LAYOUTS;
    use crate::gearset::{GearsetAnalysis, shift_table};

    #[test]
    fn the_worst_gear_of_each_figure_is_the_darkest() {
        for layout in LAYOUTS {
            let of = GearsetAnalysis::of(&layout.to_gearset());
            let shifts = shift_table(&of);
            let rows = heat(&shifts, layout.gears());
            assert_eq!(rows.len(), FIGURES.len());
            for (row, figure) in rows.iter().zip(FIGURES) {
                assert_eq!(row.cells.len(), layout.gears());
                let all: Vec<&HeatCell> = row.cells.iter().flatten().collect();
                let worst = all.iter().max_by_key(|cell| cell.step).expect("they are known");
                let beyond = |cell: &&HeatCell| {
                    let by = cell.value - worst.value;
                    if figure.more_is_worse { by > 1e-9 } else { by < -1e-9 }
                };
                // Values that are rounded to the same step can be a little worse.
                assert!(!all.iter().any(|cell| beyond(cell) && cell.step < worst.step));
                assert!(all.iter().all(|cell| cell.step < HEAT_STEPS));
            }
        }
    }

    #[test]
    fn what_is_past_its_limit_is_told_and_alike_gears_are_not_shaded() {
        let set = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there");
        let of = GearsetAnalysis::of(&set.to_gearset());
        let shifts = shift_table(&of);
        let rows = heat(&shifts, 6);
        let past = shifts.iter().filter(|row| {
            row.shift.limit_rpm.is_some_and(|limit| row.shift.step.slip_rpm.abs() > limit)
        });
        let gears: std::collections::BTreeSet<usize> = past.map(|row| row.shift.step.to).collect();
        let told = (0..6).filter(|gear| rows[0].cells[*gear].is_some_and(|cell| cell.is_past));
        assert_eq!(told.collect::<Vec<_>>(), gears.into_iter().collect::<Vec<_>>());
        // The rings are the same in every gear, and so is the depth that is left.
        assert!(rows[6].cells.iter().flatten().all(|cell| cell.step == 0));
    }
}
