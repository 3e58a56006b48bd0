//! The metal of the dogs.

use super::{Better, Figure, Group, Shown};
use crate::ring::Side;
use crate::units::Quantity;

impl Shown<'_> {
    pub(super) fn metal(&self) -> Vec<Figure> {
        Side::BOTH.into_iter().flat_map(|side| self.ring_metal(side)).collect()
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
