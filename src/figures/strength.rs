//! Will it hold: what the dogs carry, and whether they stay in.

use super::{Better, Figure, Group, Shown};
use crate::analysis::Strength;
use crate::design::SettingField;
use crate::load::{Carried, Stress};
use crate::units::Quantity;

const NOMINAL: &str = "Nominal stress of a short cantilever, strength of materials; impact fatigue, the notch of the fillet and spalling are not checked.";
const FRICTION: &str = "Inclined plane with friction; common practice, no source. Vibration takes friction away, so that it is not counted on to hold.";

impl Shown<'_> {
    pub(super) fn strength(&self) -> Vec<Figure> {
        let Some(strength) = &self.pair.strength else { return Vec::new() };
        let mut figures = self.carried(strength).to_vec();
        figures.extend(self.stresses(strength));
        figures.extend(self.holding(strength));
        figures.extend(self.pair.overrun.iter().flat_map(|overrun| self.overrun(overrun)));
        figures
    }

    /// The same on the over-run, where the coast flanks carry.
    fn overrun(&self, strength: &Strength) -> [Figure; 4] {
        let torque = self.show(Quantity::Torque, strength.torque_nm);
        let stresses = self.stresses(strength);
        let [holding, _, pull_out] = self.holding(strength);
        let [pressure, .., combined] = stresses;
        let on_overrun = |figure: Figure, key, label| Figure {
            key,
            label,
            working: format!("on the over-run, {torque}: {}", figure.working),
            ..figure
        };
        [
            on_overrun(pressure, "overrun_pressure_mpa", "Over-run: flank pressure"),
            on_overrun(combined, "overrun_combined_mpa", "Over-run: bending and shear together"),
            on_overrun(
                holding,
                "overrun_holding_n",
                "Over-run: force that holds it in, no friction",
            ),
            on_overrun(
                pull_out,
                "overrun_pull_out_n",
                "Over-run: force to shift it out under load",
            ),
        ]
    }

    fn carried(&self, strength: &Strength) -> [Figure; 2] {
        let figure = |key, label, quantity, value, better, formula, working| Figure {
            key,
            group: Group::Strength,
            label,
            quantity,
            value: Some(value),
            words: None,
            absent: "none",
            better,
            formula,
            working,
            source: "All dogs up to three, half of more: the factor built into Dudley's shear formula for splines, 1957. A third for hand-ground dogs: common practice, no source.",
        };
        let most = strength.pairs.iter().map(|pair| pair.force_n).fold(0.0, f64::max);
        let force = self.show(Quantity::Force, strength.force_n);
        let rule = match self.analysis.design.setting.carried {
            Carried::HalfAboveThree => "all up to three, half of more",
            Carried::All => "all carry",
            Carried::Third => "a third carries",
            Carried::Spacing => "as the spacing says, each dog a spring",
        };
        [
            figure(
                "dogs_carrying",
                "Dogs that carry",
                Quantity::Ratio,
                strength.carrying,
                Better::More,
                "n_L, by rule or from the spacing",
                format!("{} pairs meet; {rule}", strength.meeting),
            ),
            figure(
                "dog_force_n",
                "Most force on one dog",
                Quantity::Force,
                most,
                Better::Less,
                "F = T·K/(n_L·rm)",
                format!(
                    "{} with the load factor: {force} / {}",
                    self.show(Quantity::Torque, strength.torque_nm),
                    self.show(Quantity::Ratio, strength.carrying)
                ),
            ),
        ]
    }

    fn stresses(&self, strength: &Strength) -> [Figure; 4] {
        let one = |key, label, formula, read: fn(&Stress) -> f64, allowed: Option<SettingField>| {
            let worst = strength.worst(read);
            let value = worst.map(|(pair, side)| read(&pair.stresses[side as usize]));
            Figure {
                key,
                group: Group::Strength,
                label,
                quantity: Quantity::Stress,
                value: value.filter(|v| v.is_finite()),
                words: None,
                absent: "none",
                better: Better::Less,
                formula,
                working: self.dog_working(strength, read, allowed),
                source: NOMINAL,
            }
        };
        [
            one(
                "flank_pressure_mpa",
                "Flank pressure",
                "p = F/(b·h_e)",
                |s| s.pressure_mpa,
                Some(SettingField::AllowedPressure),
            ),
            one(
                "root_shear_mpa",
                "Shear at the root",
                "τ = F/A, its peak 1.5 times that",
                |s| s.shear_mpa,
                Some(SettingField::AllowedShear),
            ),
            one(
                "root_bending_mpa",
                "Bending at the root",
                "σ = 6·F·a/(b·t²)",
                |s| s.bending_mpa,
                None,
            ),
            one(
                "root_combined_mpa",
                "Bending and shear together",
                "√(σ² + 3·(1.5·τ)²)",
                Stress::combined_mpa,
                Some(SettingField::AllowedStress),
            ),
        ]
    }

    /// The numbers of the dog in which a stress is the largest.
    fn dog_working(
        &self,
        strength: &Strength,
        read: fn(&Stress) -> f64,
        allowed: Option<SettingField>,
    ) -> String {
        let Some((pair, side)) = strength.worst(read) else { return "no dog meets".to_owned() };
        let root = &pair.roots[side as usize];
        let dog = format!("{}{}", side.letter(), pair.places[side as usize] + 1);
        let against = allowed.map_or(String::new(), |field| {
            format!("; the number to set against it is {}", self.given(field))
        });
        format!(
            "dog {dog}: F {}, b {}, h_e {}, t {}, A {}, a {}{against}",
            self.show(Quantity::Force, pair.force_n),
            self.mm(root.length_mm),
            self.mm(root.engaged_mm),
            self.mm(root.thickness_mm),
            self.show(Quantity::Area, root.area_mm2),
            self.mm(root.arm_mm)
        )
    }

    fn holding(&self, strength: &Strength) -> [Figure; 3] {
        let hold = &strength.hold;
        let angle = self.deg(libm::atan(hold.undercut));
        let figure = |key, label, value, better, formula, working| Figure {
            key,
            group: Group::Strength,
            label,
            quantity: Quantity::Force,
            value: Some(value),
            words: None,
            absent: "none",
            better,
            formula,
            working,
            source: FRICTION,
        };
        let torque = self.show(Quantity::Torque, strength.torque_nm);
        let sides = |sign: &str| {
            format!(
                "{torque} at {}, α {angle} {sign} ρ of μ {}; splines μ {} at Ø {}",
                self.mm(hold.mean_radius_mm),
                self.given(SettingField::FlankFriction),
                self.given(SettingField::SplineFriction),
                self.given(SettingField::SplineDiameter)
            )
        };
        [
            figure(
                "holding_n",
                "Force that holds it in, no friction",
                hold.holding_n(strength.torque_nm),
                Better::More,
                "F_t·tan α; minus pushes out",
                format!("{torque} at {}, α {angle}", self.mm(hold.mean_radius_mm)),
            ),
            figure(
                "pull_in_n",
                "Force that draws it in, past friction",
                hold.pull_in_n(strength.torque_nm),
                Better::More,
                "F_t·tan(α − ρ) − μ_s·T/r_s; minus does not draw in",
                sides("−"),
            ),
            figure(
                "pull_out_n",
                "Force to shift it out under load",
                hold.pull_out_n(strength.torque_nm),
                Better::Neither,
                "F_t·tan(α + ρ) + μ_s·T/r_s; minus comes out by itself",
                sides("+"),
            ),
        ]
    }
}
