//! Getting in: the windows at tip level and down to the hold depth.

use super::{Better, Figure, GEOMETRY, Group, Shown, count, extremes};
use crate::fields::FieldId;
use crate::pair::Arc;
use crate::units::Quantity;

impl Shown<'_> {
    pub(super) fn entry(&self) -> Vec<Figure> {
        let entry = &self.meshed.entry;
        let (least, most) = extremes(entry);
        let (_, to_hold) = extremes(&self.meshed.to_hold);
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
            formula: "circle − union of all arcs [φᵢⱼ − b, φᵢⱼ + b],  b = ½(wᵢ + wⱼ)",
            working: self.list_windows(entry),
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
                    self.given(FieldId::HoldDepth),
                    self.mm(self.meshed.mesh.contact.mean_mm()),
                    self.list_windows(&self.meshed.to_hold),
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
