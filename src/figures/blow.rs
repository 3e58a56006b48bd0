//! The blow: of the shift, and on opening the throttle.

use super::{Better, Figure, Group, Shown, if_finite};
use crate::design::SettingField;
use crate::ring::FlankSide;
use crate::units::{Quantity, rpm};

const IMPACT: &str = "Two inertias and a torsion spring, energy balance; for one fixed end and no torque it is Gere, Mechanics of Materials, problem 3.9-11. Bearings, teeth and oil take some of it.";

impl Shown<'_> {
    pub(super) fn blow(&self) -> Vec<Figure> {
        let torques = &self.pair.torques;
        let shift_case = &self.pair.shift_case;
        let blow = shift_case.blow(&self.analysis.design);
        let figure = if_finite(Group::Blow, IMPACT);
        let torque = |v: f64| self.show(Quantity::Torque, v);
        let j = self.show(Quantity::ShaftInertia, blow.reduced_kg_m2());
        let between = format!("J {j}, k {}", self.given(SettingField::Stiffness));
        let steady = torque(blow.steady_nm());
        let at = |slip: f64| {
            let speed = self.show(Quantity::Speed, rpm(slip.abs()));
            format!("{between}, T_s {steady}, Δω {speed}")
        };
        let left = self.pair.shift.as_ref().map_or(0.0, |s| s.attempt.slip_left);
        let lash = self.pair.held.map_or(0.0, |held| held.width.radians());
        let clunk = |steady_nm: f64| {
            let steady = shift_case.clunk(&self.analysis.design, steady_nm).steady_nm();
            format!("{between}, T_s {}, λ {}", torque(steady), self.deg(lash))
        };
        let common = shift_case
            .step
            .map(|step| blow.common_speed(step.dogs_rpm + step.slip_rpm, step.dogs_rpm));
        vec![
            figure(
                "blow_drawn_nm",
                "Blow of the shift as drawn",
                Quantity::Torque,
                torques.drawn_nm,
                Better::Less,
                "T = T_s + √(T_s² + k·J·Δω²), Δω what is left when a flank holds",
                if torques.drawn_nm.is_some() { at(left) } else { "it does not go in".to_owned() },
            ),
            figure(
                "blow_full_nm",
                "Blow at the whole speed difference",
                Quantity::Torque,
                Some(torques.shift_nm),
                Better::Less,
                "T = T_s + √(T_s² + k·J·Δω²)",
                at(shift_case.slip()),
            ),
            figure(
                "blow_energy_j",
                "Energy of the speed difference",
                Quantity::Energy,
                Some(blow.energy_j(shift_case.slip())),
                Better::Less,
                "½·J·Δω²",
                format!("J {j}, Δω {}", self.slip()),
            ),
            figure(
                "common_speed_rpm",
                "Speed at the dogs afterwards",
                Quantity::Speed,
                common,
                Better::Neither,
                "(J₁ω₁ + J₂ω₂)/(J₁ + J₂)",
                self.common_working(),
            ),
            figure(
                "clunk_nm",
                "Clunk on opening the throttle",
                Quantity::Torque,
                torques.clunk_nm,
                Better::Less,
                "T = T_s + √(T_s² + 2·k·T_s·λ), λ the lash",
                clunk(shift_case.throttle_nm),
            ),
            figure(
                "overrun_clunk_nm",
                "Clunk on shutting the throttle",
                Quantity::Torque,
                torques.overrun_clunk_nm,
                Better::Less,
                "T = T_s + √(T_s² + 2·k·T_s·λ), T_s of the engine braking",
                clunk(torques.overrun_nm),
            ),
            figure(
                "dog_torque_nm",
                "Largest torque at the dogs",
                Quantity::Torque,
                torques.clunk_nm.map(|_| torques.largest_nm(FlankSide::Drive)),
                Better::Less,
                "largest of: throttle open, blow of the shift, clunk",
                format!(
                    "largest of {}, {}, {}",
                    torque(torques.steady_nm),
                    torque(torques.shift_nm),
                    torques.clunk_nm.map_or_else(|| "no clunk".to_owned(), torque)
                ),
            ),
        ]
    }

    fn common_working(&self) -> String {
        let shift_case = &self.pair.shift_case;
        let Some(step) = shift_case.step else {
            return "only known where the shift comes from the gearbox; with a typed inertia the output side is taken to keep its speed".to_owned();
        };
        let inertia = |v| self.show(Quantity::ShaftInertia, v);
        let speed = |v| self.show(Quantity::Speed, v);
        format!(
            "J₁ {} at {}, J₂ {} at {}",
            inertia(shift_case.sides.input_kg_m2),
            speed(step.dogs_rpm + step.slip_rpm),
            inertia(shift_case.sides.output_kg_m2),
            speed(step.dogs_rpm)
        )
    }
}
