//! What a number measures on a drawing: a figure and its geometry are lit together.

/// Geometry on the drawings that figures measure or follow from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Measure {
    /// The window at tip level: what a dog has to fall into.
    Window,
    /// The play at full depth.
    Lash,
    /// How deep the dogs engage.
    Depth,
    /// The course of one shift.
    Path,
    /// What the dogs bear.
    Force,
}

/// A measure, its key, and the figures that are read off it or follow from it.
struct Row {
    measure: Measure,
    key: &'static str,
    figures: &'static [&'static str],
}

const ROWS: [Row; 5] = [
    Row {
        measure: Measure::Window,
        key: "window",
        figures: &[
            "free_angle_deg",
            "free_angle_narrowest_deg",
            "entry_windows",
            "open_share",
            "window_time_ms",
            "window_time_worst_place_ms",
            "straight_in_limit_rpm",
            "first_pass_straight_share",
            "straight_in_share",
            "passes_per_s",
            "mean_wait_ms",
            "worst_wait_ms",
        ],
    },
    Row {
        measure: Measure::Lash,
        key: "lash",
        figures: &[
            "lash_deg",
            "lash_mm",
            "lash_wheel_deg",
            "lash_tyre_mm",
            "lash_best_place_deg",
            "lash_worst_place_deg",
            "clunk_nm",
            "overrun_clunk_nm",
        ],
    },
    Row { measure: Measure::Depth, key: "depth", figures: &["full_depth_mm"] },
    Row {
        measure: Measure::Path,
        key: "path",
        figures: &[
            "travel_time_ms",
            "shift_ending",
            "shift_time_ms",
            "shift_strikes",
            "shift_slip_left_rpm",
        ],
    },
    Row {
        measure: Measure::Force,
        key: "force",
        figures: &["dog_torque_nm", "dog_force_n", "dogs_carrying", "flank_pressure_mpa"],
    },
];

impl Measure {
    /// What a figure is read off, by its key; `None` if no drawing shows it.
    pub fn of_figure(key: &str) -> Option<Self> {
        ROWS.iter().find(|row| row.figures.contains(&key)).map(|row| row.measure)
    }

    /// Its name in drawings, on the page and in files.
    pub const fn key(self) -> &'static str {
        ROWS[self as usize].key
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::catalogue;

    #[test]
    fn each_figure_is_in_the_catalogue_and_under_one_measure() {
        let mut keys: Vec<_> = ROWS.iter().flat_map(|row| row.figures).collect();
        for key in &keys {
            assert!(catalogue().any(|figure| figure.key == **key), "{key}");
        }
        let count = keys.len();
        keys.sort();
        keys.dedup();
        assert_eq!(keys.len(), count);
    }

    #[test]
    fn rows_stand_in_the_order_of_the_measures() {
        for (at, row) in ROWS.iter().enumerate() {
            assert_eq!(row.measure as usize, at);
            assert_eq!(Measure::of_figure(row.figures[0]).map(Measure::key), Some(row.key));
        }
        assert_eq!(Measure::of_figure("a_dogs_mass_g"), None);
    }
}
