//! Once in: lash, depth, and how many dogs meet.

use super::{Better, Figure, GEOMETRY, Group, Shown, count};
use crate::design::SettingField;
use crate::ring::FlankSide;
use crate::units::Quantity;

impl Shown<'_> {
    pub(super) fn lash(&self) -> Vec<Figure> {
        let pair = self.pair;
        let radius = pair.mesh.contact.mean_mm();
        let lash = pair.held.map(|w| w.width.radians());
        let ratio = pair.shift_case.ratio_to_wheel;
        let ratio_text = self.show(Quantity::Ratio, ratio);
        let tyre = self.setting(SettingField::WheelDiameter) / 2.0;
        let none = || "no window at full depth".to_owned();
        let figure = |key, label, quantity, value, formula, working| Figure {
            key,
            group: Group::Lash,
            label,
            quantity,
            value,
            words: None,
            absent: "none",
            better: Better::Less,
            formula,
            working,
            source: GEOMETRY,
        };
        let lash_text = lash.map_or_else(none, |l| self.deg(l));
        vec![
            figure(
                "lash_deg",
                "Lash at the dogs",
                Quantity::Angle,
                lash.map(f64::to_degrees),
                "λ = width of the window that holds the phase, at full depth",
                self.held_working(),
            ),
            figure(
                "lash_mm",
                "Lash at the mean radius",
                Quantity::Length,
                lash.map(|l| l * radius),
                "λ·rm",
                format!("{lash_text} × {}", self.mm(radius)),
            ),
            figure(
                "lash_wheel_deg",
                "Lash at the rear wheel",
                Quantity::Angle,
                lash.map(|l| l.to_degrees() / ratio),
                "λ / i",
                format!("{lash_text} / {}", ratio_text),
            ),
            figure(
                "lash_tyre_mm",
                "Lash at the tyre",
                Quantity::Length,
                lash.map(|l| l / ratio * tyre),
                "λ / i · D/2",
                format!("{lash_text} / {} × {}", ratio_text, self.mm(tyre)),
            ),
            self.depth(),
            self.pairs(FlankSide::Drive),
            self.pairs(FlankSide::Coast),
        ]
    }

    fn held_working(&self) -> String {
        let engagement = &self.pair.engagement;
        let Some(held) = self.pair.held else {
            if engagement.full_depth_mm <= 0.0 {
                return "the rings stand apart".to_owned();
            }
            let jam = engagement.jam.map_or(0.0, |jam| jam.overlap_mm);
            return format!("jams at an overlap of {}", self.mm(jam));
        };
        let phase = self.analysis.phase();
        let place = if held.contains(phase) { "holds" } else { "is nearest to" };
        let (from, width) = (held.start.radians(), held.width.radians());
        format!(
            "at {} the window {}…{} {place} the phase {}: {}",
            self.mm(engagement.full_depth_mm),
            self.deg(from),
            self.deg(from + width),
            self.deg(phase.radians()),
            self.deg(width)
        )
    }

    fn depth(&self) -> Figure {
        let [a, b] = self.pair.mesh.tallest_mm;
        let engagement = &self.pair.engagement;
        Figure {
            key: "full_depth_mm",
            group: Group::Lash,
            label: "Full depth",
            quantity: Quantity::Length,
            value: (engagement.jam.is_none() && engagement.full_depth_mm > 0.0)
                .then_some(engagement.full_depth_mm),
            words: None,
            absent: "none",
            better: Better::More,
            formula: "least of: overlap asked for, tallest dog of A, tallest dog of B",
            working: format!(
                "least of {}, {}, {}{}",
                self.given(SettingField::Overlap),
                self.mm(a),
                self.mm(b),
                engagement
                    .jam
                    .map_or(String::new(), |jam| format!("; jams at {}", self.mm(jam.overlap_mm)))
            ),
            source: GEOMETRY,
        }
    }

    /// How many pairs of dogs meet at once when that flank takes the load.
    fn pairs(&self, side: FlankSide) -> Figure {
        const TOGETHER_MM: f64 = 0.01;
        let pair = self.pair;
        let meeting = pair.held.map(|held| {
            let end = match side {
                FlankSide::Drive => held.start,
                FlankSide::Coast => held.end(),
            };
            pair.mesh.meeting_at(side, end, pair.engagement.full_depth_mm, TOGETHER_MM).len()
        });
        let (key, label) = match side {
            FlankSide::Drive => ("pairs_meeting_drive", "Dog pairs that meet under power"),
            FlankSide::Coast => ("pairs_meeting_coast", "Dog pairs that meet on the over-run"),
        };
        Figure {
            key,
            group: Group::Lash,
            label,
            quantity: Quantity::Count,
            value: meeting.map(count),
            words: None,
            absent: "none",
            better: Better::More,
            formula: "pairs whose flanks meet within 0.01 mm of the first, rigid rings",
            working: meeting.map_or("no window at full depth".to_owned(), |n| {
                format!("{n} of {} pairs", pair.mesh.blocks.len())
            }),
            source: "Common practice, no source; load closes small spacing errors.",
        }
    }
}
