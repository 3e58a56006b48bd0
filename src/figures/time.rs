//! Against the clock: windows passing by, and the travel into one.

use super::{Better, Figure, Group, KINEMATICS, Shown, if_finite};
use crate::analysis::Limits;
use crate::design::SettingField;
use crate::shift::{Drive, rounded_hold_mm, straight_in_limit_rpm};
use crate::units::Quantity;

impl Shown<'_> {
    pub(super) fn time(&self) -> Vec<Figure> {
        let passing = &self.pair.passing;
        let slip = self.slip();
        let widest = passing.extremes().map(|(_, most)| most);
        let travel = self.pair.travel_s;
        let closed = || "no window is open".to_owned();
        let open = |text: String| if widest.is_some() { text } else { closed() };
        let travel_text = self.show(Quantity::Time, travel * 1000.0);
        let width_text = widest.map_or_else(closed, |w| self.deg(w));
        let figure = if_finite(Group::Time, KINEMATICS);
        let limits = Limits::of(self.pair);
        let lands: Vec<_> = passing.lands.iter().take(8).map(|l| self.deg(*l)).collect();
        let lands = lands.join(", ");
        vec![
            figure(
                "window_time_ms",
                "Window time",
                Quantity::Time,
                widest.map(|w| passing.seconds_open(w) * 1000.0),
                Better::More,
                "t = b/Δω, b the free angle to the hold depth",
                format!("{width_text} at {slip}"),
            ),
            figure(
                "travel_time_ms",
                "Travel to the hold depth",
                Quantity::Time,
                Some(travel * 1000.0),
                Better::Less,
                self.travel_formula(),
                self.travel_working(),
            ),
            figure(
                "straight_in_limit_rpm",
                "Straight-in limit",
                Quantity::Speed,
                widest.map(|w| straight_in_limit_rpm(w, travel)),
                Better::More,
                "Δn_max = b/τ",
                format!("{width_text} in {travel_text}"),
            ),
            figure(
                "drop_in_limit_rpm",
                "Drop-in limit, from rest on a face",
                Quantity::Speed,
                limits.map(|l| l.drop_in_rpm),
                Better::More,
                "ω_cap = b/τ with v₀ = 0",
                width_text.clone(),
            ),
            figure(
                "lock_limit_rpm",
                "Below this, faces can rub to a stop",
                Quantity::Speed,
                limits.map(|l| l.lock_rpm),
                Better::Less,
                "ω₁ = √(2·(μ·F·r + drag)·L/J), widest land",
                self.lock_working(),
            ),
            figure(
                "edge_hold_depth_mm",
                "Overlap that the edges need to hold",
                Quantity::Length,
                Some(self.analysis.edges_mm()),
                Better::Less,
                "chamfers h ≥ c₁ + c₂; rounded edges h ≥ (R₁ + R₂)(1 − sin ρ), tan ρ = μ",
                self.edges_working(),
            ),
            figure(
                "straight_in_share",
                "Straight in at most, by window and travel",
                Quantity::Share,
                Some(passing.straight_in_share(travel)),
                Better::More,
                "Σ max(0, b − Δω·τ) / 360°, every phase equally likely",
                open(format!("{} windows at {slip}, τ {travel_text}", passing.windows.len())),
            ),
            figure(
                "passes_per_s",
                "Windows passing",
                Quantity::Rate,
                Some(passing.per_second()),
                Better::Neither,
                "Δn·N/60",
                open(format!("{slip} × {} / 60", passing.windows.len())),
            ),
            figure(
                "mean_wait_ms",
                "Mean wait, faces rubbing",
                Quantity::Time,
                widest.map(|_| passing.mean_wait() * 1000.0),
                Better::Less,
                "Σ L²/(2·360°·Δω)",
                open(format!("lands {lands} at {slip}")),
            ),
            figure(
                "worst_wait_ms",
                "Longest wait, faces rubbing",
                Quantity::Time,
                widest.map(|_| passing.worst_wait() * 1000.0),
                Better::Less,
                "L/Δω, widest land",
                open(format!("lands {lands} at {slip}")),
            ),
        ]
    }

    fn lock_working(&self) -> String {
        let Some(shift) = &self.pair.shift else {
            return "the rings do not go in".to_owned();
        };
        let land = self.pair.passing.widest_land();
        let conditions = &shift.conditions;
        format!(
            "μ {}, F {}, r {}, drag {}, L {}, J {}",
            self.show(Quantity::Ratio, conditions.friction),
            self.given(SettingField::ShiftForce),
            self.mm(conditions.friction_radius_mm),
            self.given(SettingField::Drag),
            self.deg(land),
            self.show(Quantity::ShaftInertia, conditions.inertia_kg_m2)
        )
    }

    fn edges_working(&self) -> String {
        let (edges, friction) = (self.analysis.edges_mm(), self.setting(SettingField::TipFriction));
        let rounded = rounded_hold_mm(edges, friction);
        format!(
            "largest edge breaks together {}; if they are rounded {} at μ {}",
            self.mm(edges),
            self.mm(rounded),
            self.given(SettingField::TipFriction)
        )
    }

    fn travel_formula(&self) -> &'static str {
        match self.analysis.design.setting.drive {
            Drive::Force => "τ = (−v₀ + √(v₀² + 2ah))/a,  a = F/m",
            Drive::Drum => "τ = h/v",
            Drive::Both => "as by force, speed capped at the drum's:  a = F/m, v ≤ v_drum",
        }
    }

    fn travel_working(&self) -> String {
        let h = self.given(SettingField::HoldDepth);
        let push = format!(
            "h {h}, F {}, m {}, v₀ {}",
            self.given(SettingField::ShiftForce),
            self.given(SettingField::MovingMass),
            self.given(SettingField::StartSpeed)
        );
        let drum = self.given(SettingField::DrumSpeed);
        match self.analysis.design.setting.drive {
            Drive::Force => push,
            Drive::Drum => format!("{h} / {drum}"),
            Drive::Both => format!("{push}, drum {drum}"),
        }
    }
}
