//! Getting in: the windows between all tips that come level before the hold depth.
//!
//! The free angle is that of §2 of the engagement model, just past tip level, wherever tips are equal.
//! Dogs that are lower by a few hundredths, from wear or from a cut, do not open anything: a shift meets
//! them before any flank can hold. So every dog counts that comes level before the hold depth, to its own tip.

use super::{Better, Figure, GEOMETRY, Group, Shown, count};
use crate::design::SettingField;
use crate::pair::{Arc, extremes};
use crate::units::Quantity;

/// The narrowest and the widest of some windows, rad.
fn widths(windows: &[Arc]) -> Option<(f64, f64)> {
    extremes(windows).map(|(narrowest, widest)| (narrowest.radians(), widest.radians()))
}

impl Shown<'_> {
    pub(super) fn entry(&self) -> Vec<Figure> {
        let entry = &self.pair.entry;
        let (least, most) = widths(entry).unzip();
        let to_hold = widths(&self.pair.to_hold).map(|(_, widest)| widest);
        let total: f64 = entry.iter().map(|w| w.width.radians()).sum();
        let figure = |key, label, quantity, value, better| Figure {
            key,
            group: Group::Entry,
            label,
            quantity,
            value,
            words: None,
            absent: "none",
            better,
            formula: "circle − union of all arcs [φᵢⱼ − b, φᵢⱼ + b],  b = ½(wᵢ + wⱼ), of dogs that come level before the hold depth",
            working: self.entry_working(),
            source: GEOMETRY,
        };
        vec![
            figure(
                "entry_windows",
                "Windows",
                Quantity::Count,
                Some(count(entry.len())),
                Better::Neither,
            ),
            figure(
                "free_angle_deg",
                "Free angle",
                Quantity::Angle,
                most.map(f64::to_degrees),
                Better::More,
            ),
            figure(
                "free_angle_narrowest_deg",
                "Narrowest window",
                Quantity::Angle,
                least.map(f64::to_degrees),
                Better::More,
            ),
            Figure {
                formula: "open share = Σ windows / 360°",
                working: format!("{} / {}", self.deg(total), self.deg(std::f64::consts::TAU)),
                ..figure(
                    "open_share",
                    "Open share of the circle",
                    Quantity::Share,
                    Some(total / std::f64::consts::TAU),
                    Better::More,
                )
            },
            Figure {
                formula: "window that leads down to the hold depth, + (eA + eB)/rm at each edge",
                working: format!(
                    "dogs that come level within {}; edge breaks at rm {}: {}",
                    self.given(SettingField::HoldDepth),
                    self.mm(self.pair.mesh.contact.mean_mm()),
                    self.list_windows(&self.pair.to_hold),
                ),
                ..figure(
                    "free_angle_to_hold_deg",
                    "Free angle to the hold depth",
                    Quantity::Angle,
                    to_hold.map(f64::to_degrees),
                    Better::More,
                )
            },
        ]
    }

    /// The windows and, where lower dogs narrow them before the hold depth, what the tallest leave.
    fn entry_working(&self) -> String {
        let [entry, at_tips] = [&self.pair.entry, &self.pair.at_tips].map(|w| self.list_windows(w));
        if entry == at_tips {
            return entry;
        }
        format!(
            "{entry}; dogs lower by less than the hold depth {} count: between the tallest alone {at_tips}",
            self.given(SettingField::HoldDepth)
        )
    }

    fn list_windows(&self, windows: &[Arc]) -> String {
        if windows.is_empty() {
            return "no window is open: every phase is blocked".to_owned();
        }
        let shown = windows.iter().take(12).map(|w| {
            let from = w.start.radians();
            let (from, to) = (self.deg(from), self.deg(from + w.width.radians()));
            format!("{from}…{to} = {}", self.deg(w.width.radians()))
        });
        let more = windows.len().saturating_sub(12);
        let tail = if more > 0 { format!("; and {more} more") } else { String::new() };
        shown.collect::<Vec<_>>().join("; ") + &tail
    }
}

#[cfg(test)]
mod tests {
    use crate::analysis::Analysis;
    use crate::design::open;
    use crate::figures::figures;

    /// Free angle, windows and their working where one dog of six on either ring is as high as it was
    /// and the others are lower.
    fn worn(lower_mm: f64) -> (f64, f64, String) {
        let dog = |at: i32| {
            let height = if at == 0 { 5.0 } else { 5.0 - lower_mm };
            format!(r#"{{ "centre_deg": {}, "height_mm": {height} }}"#, 60 * at)
        };
        let dogs: Vec<_> = (0..6).map(dog).collect();
        let ring = format!(r#"{{ "dogs": [{}] }}"#, dogs.join(","));
        let saved = format!(r#"{{ "crenel": 1, "a": {ring}, "b": {ring} }}"#);
        let figures =
            figures(&Analysis::of(&open(&saved).expect("it opens").design), Default::default());
        let one = |key: &str| figures.iter().find(|f| f.key == key).expect("it is there");
        let number = |key| one(key).value.expect("a number");
        (number("free_angle_deg"), number("entry_windows"), one("free_angle_deg").working.clone())
    }

    #[test]
    fn wear_of_hundredths_opens_nothing() {
        // Two dogs of 24° every 60° leave 12°; the tallest pair alone would leave 360° − 48°.
        for lower in [0.0, 0.001, 0.03, 0.49] {
            let (free, windows, working) = worn(lower);
            assert!((free - 12.0).abs() < 1e-9 && windows == 6.0, "{lower}: {free} {windows}");
            assert_eq!(working.contains("between the tallest alone"), lower > 0.0, "{working}");
            assert_eq!(working.contains("312°"), lower > 0.0, "{working}");
        }
        // From the hold depth of 1 mm on a lower dog leaves the window to the tall ones.
        let (free, windows, _) = worn(1.2);
        assert!((free - 312.0).abs() < 1e-9 && windows == 1.0, "{free} {windows}");
    }
}
