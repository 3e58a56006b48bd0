//! The metal of the dogs.

use super::{Better, Figure, Group, Shown};
use crate::analysis::{allowed_unbalance_g_mm, case_left_mm, most_off_flank};
use crate::design::SettingField;
use crate::ring::Side;
use crate::units::Quantity;

impl Shown<'_> {
    pub(super) fn metal(&self) -> Vec<Figure> {
        let figures = |side| {
            let mut figures = self.ring_metal(side).to_vec();
            figures.extend(self.ring_cut(side));
            figures
        };
        Side::BOTH.into_iter().flat_map(figures).collect()
    }

    /// What a cut does to balance and case; nothing where nothing is cut.
    fn ring_cut(&self, side: Side) -> Vec<Figure> {
        let found = &self.analysis.found[side as usize];
        let cut = self.analysis.ring(side);
        if found == cut {
            return Vec::new();
        }
        let keys = match side {
            Side::A => ["a_unbalance_g_mm", "a_case_left_mm"],
            Side::B => ["b_unbalance_g_mm", "b_case_left_mm"],
        };
        let labels = match side {
            Side::A => {
                ["Ring A: unbalance of what is cut off", "Ring A: least case left on a flank"]
            }
            Side::B => {
                ["Ring B: unbalance of what is cut off", "Ring B: least case left on a flank"]
            }
        };
        let hard = self.setting(SettingField::CaseDepth) <= 0.0;
        let absent = if hard { "hardened through" } else { "no flank is cut" };
        let figure = |at: usize, quantity, value, better, formula, working, source| Figure {
            key: keys[at],
            group: Group::Metal,
            label: labels[at],
            quantity,
            value,
            words: None,
            absent,
            better,
            formula,
            working,
            source,
        };
        let off = found.metal().without(cut.metal());
        vec![
            figure(
                0,
                Quantity::Unbalance,
                Some(off.unbalance_g_mm()),
                Better::Less,
                "U = |Σ m·r·e^iθ|, set against U_per = 9549·G·m/n",
                self.balance_working(side),
                "ISO 21940-11 for U_per; the gear is taken as balanced before the cut.",
            ),
            figure(
                1,
                Quantity::Length,
                case_left_mm(self.analysis, side),
                Better::More,
                "case depth − stock off the flank, square to it",
                self.case_working(side),
                "Plain arithmetic; the case depth is as given.",
            ),
        ]
    }

    fn balance_working(&self, side: Side) -> String {
        let mass = self.show(Quantity::Mass, self.analysis.design.ring(side).gear_mass_kg);
        let allowed = allowed_unbalance_g_mm(self.analysis, side).map_or_else(
            || "no limit".to_owned(),
            |allowed| self.show(Quantity::Unbalance, allowed),
        );
        format!(
            "G {} for {mass} at {} allows {allowed}",
            self.given(SettingField::BalanceGrade),
            self.given(SettingField::BalanceSpeed)
        )
    }

    fn case_working(&self, side: Side) -> String {
        let case = self.given(SettingField::CaseDepth);
        match most_off_flank(self.analysis, side) {
            _ if self.setting(SettingField::CaseDepth) <= 0.0 => "hardened through".to_owned(),
            None => format!("{case}; no flank is cut"),
            Some((off, dog, flank)) => format!(
                "{case} − {} off the {} flank of dog {}",
                self.mm(off),
                flank.name(),
                dog.place + 1
            ),
        }
    }

    fn ring_metal(&self, side: Side) -> [Figure; 3] {
        let found = self.analysis.found[side as usize].metal();
        let cut = self.analysis.ring(side).metal();
        let keys = match side {
            Side::A => ["a_dogs_mass_g", "a_cut_off_mass_g", "a_dogs_inertia_kg_mm2"],
            Side::B => ["b_dogs_mass_g", "b_cut_off_mass_g", "b_dogs_inertia_kg_mm2"],
        };
        let labels = match side {
            Side::A => ["Ring A: mass of the dogs", "Ring A: cut off", "Ring A: inertia"],
            Side::B => ["Ring B: mass of the dogs", "Ring B: cut off", "Ring B: inertia"],
        };
        let volume = |v| self.show(Quantity::Volume, v);
        let figure = |at: usize, quantity, value, formula, working| Figure {
            key: keys[at],
            group: Group::Metal,
            label: labels[at],
            quantity,
            value: Some(value),
            words: None,
            absent: "none",
            better: Better::Neither,
            formula,
            working,
            source: "Exact section of lines and arcs; steel at 7.85 g/cm³, the usual figure.",
        };
        let off = found.volume_mm3 - cut.volume_mm3;
        [
            figure(
                0,
                Quantity::Grams,
                cut.mass_g(),
                "m = ρ·∫A ds, without fillets and edge breaks",
                format!("7.85 g/cm³ × {}", volume(cut.volume_mm3)),
            ),
            figure(
                1,
                Quantity::Grams,
                found.mass_g() - cut.mass_g(),
                "as found − as cut",
                format!("7.85 g/cm³ × {}", volume(off)),
            ),
            figure(
                2,
                Quantity::Inertia,
                cut.inertia_kg_mm2(),
                "J = ρ·∫∫r² dA ds about the shaft",
                format!("{} of metal", volume(cut.volume_mm3)),
            ),
        ]
    }
}
