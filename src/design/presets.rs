//! Numbers that a mechanic knows by words, each with its source.

use crenel_words::Label;

use super::Design;
use crate::design::Layout;
use crate::ring::Side;

/// A state of the metal in words, and its number.
#[derive(Debug)]
pub struct Preset {
    /// Its stable name among all presets.
    pub key: &'static str,
    /// The words for users.
    pub(crate) words: &'static str,
    /// The number.
    pub value: f64,
    /// The source of the number.
    pub(crate) source: &'static str,
}

impl Preset {
    /// Its words, as a text of the catalogue.
    pub const fn name(&self) -> Label {
        Label { key: ["preset", self.key, "words"], english: self.words }
    }

    /// The source of its number, as a text of the catalogue.
    pub const fn from_where(&self) -> Label {
        Label { key: ["preset", self.key, "source"], english: self.source }
    }
}

/// Every table of presets.
pub static PRESETS: [&[Preset]; 5] =
    [&TIP_FACES, &TIP_EDGES, &CORE_YIELDS, &SPLINE_PRESSURES, &SPLINE_SHEARS];

const TABLES: &str = "General tables give 0.04 to 0.25 for greased steel sliding on steel; the choice within that \
                      range is common practice, no source.";

/// Tip faces, by their friction coefficient tip on tip.
pub static TIP_FACES: [Preset; 6] = [
    Preset { key: "polished", words: "Polished and oiled", value: 0.05, source: TABLES },
    Preset { key: "ground", words: "Ground or lapped, oiled", value: 0.08, source: TABLES },
    Preset { key: "machined", words: "As machined, oiled", value: 0.10, source: TABLES },
    Preset { key: "rough", words: "Rough or pitted, oiled", value: 0.15, source: TABLES },
    Preset { key: "burred", words: "Burred or galled, oiled", value: 0.22, source: TABLES },
    Preset {
        key: "dry",
        words: "Dry",
        value: 0.42,
        source: "Many tables give 0.42 for dry steel sliding on steel; others give 0.1 to 0.5.",
    },
];

const EDGE_SIZES: &str = "Edge size from the ISO 13715 series (from memory); its description here is \
                          common practice, no source.";

/// Tip edges, by the size of their chamfer or rounding in mm.
pub static TIP_EDGES: [Preset; 5] = [
    Preset {
        key: "sharp",
        words: "Sharp, as cut",
        value: 0.0,
        source: "Zero by definition: the edge is not broken.",
    },
    Preset { key: "Stoned", words: "Broken with a stone", value: 0.1, source: EDGE_SIZES },
    Preset { key: "broken_by_hand", words: "Broken by hand", value: 0.3, source: EDGE_SIZES },
    Preset { key: "worn", words: "Rounded by wear", value: 0.5, source: EDGE_SIZES },
    Preset { key: "badly_worn", words: "Badly rounded", value: 1.0, source: EDGE_SIZES },
];

const CORE: &str =
    "Core yield strength to the former DIN 17210, from memory. Fatigue is not covered.";

/// Yield of the core of case-hardening steels, by steel and size of the section, MPa: the table
/// [`crate::load::CORE_STEELS`], with those of the same yield in one.
pub static CORE_YIELDS: [Preset; 9] = [
    Preset { key: "core_440", words: "16MnCr5, section up to 63 mm", value: 440.0, source: CORE },
    Preset {
        key: "core_490",
        words: "21NiCrMo2 (8620 class), section up to 63 mm",
        value: 490.0,
        source: CORE,
    },
    Preset {
        key: "core_540",
        words: "20MnCr5 or 15CrNi6, section up to 63 mm",
        value: 540.0,
        source: CORE,
    },
    Preset {
        key: "core_590",
        words: "21NiCrMo2 (8620 class) or 16MnCr5, section up to 30 mm",
        value: 590.0,
        source: CORE,
    },
    Preset {
        key: "core_635",
        words: "16MnCr5, section up to 11 mm, or 15CrNi6, up to 30 mm",
        value: 635.0,
        source: CORE,
    },
    Preset {
        key: "core_685",
        words: "15CrNi6, section up to 11 mm, 20MnCr5, up to 30 mm, or 18CrNi8, up to 63 mm",
        value: 685.0,
        source: CORE,
    },
    Preset { key: "core_735", words: "20MnCr5, section up to 11 mm", value: 735.0, source: CORE },
    Preset {
        key: "core_785",
        words: "21NiCrMo2 (8620 class), section up to 11 mm, or 18CrNi8, up to 30 mm",
        value: 785.0,
        source: CORE,
    },
    Preset { key: "core_835", words: "18CrNi8, section up to 11 mm", value: 835.0, source: CORE },
];

const FIXED: &str = "Dudley, “When Splines Need Stress Control”, 1957, as in Machinery's Handbook: fixed, uncrowned, \
                     case-hardened splines, 58 to 63 HRC; application factor 2, cycles in one direction.";

const SHEAR: &str = "Dudley, “When Splines Need Stress Control”, 1957, as in Machinery's Handbook: case-hardened \
                     splines, 58 to 63 HRC; application factor 2, cycles in one direction.";

/// Flank pressure that case-hardened splines take, by cycles of torque one way, MPa.
pub static SPLINE_PRESSURES: [Preset; 5] = [
    Preset { key: "pressure_1e7", words: "Splines, 10 million cycles", value: 46.6, source: FIXED },
    Preset { key: "pressure_1e6", words: "Splines, 1 million cycles", value: 62.1, source: FIXED },
    Preset { key: "pressure_1e5", words: "Splines, 100 000 cycles", value: 77.6, source: FIXED },
    Preset { key: "pressure_1e4", words: "Splines, 10 000 cycles", value: 155.3, source: FIXED },
    Preset { key: "pressure_1e3", words: "Splines, 1 000 cycles", value: 279.5, source: FIXED },
];

/// Shear that case-hardened splines take, by cycles of torque one way, MPa.
pub static SPLINE_SHEARS: [Preset; 5] = [
    Preset { key: "shear_1e7", words: "Splines, 10 million cycles", value: 51.8, source: SHEAR },
    Preset { key: "shear_1e6", words: "Splines, 1 million cycles", value: 69.0, source: SHEAR },
    Preset { key: "shear_1e5", words: "Splines, 100 000 cycles", value: 86.2, source: SHEAR },
    Preset { key: "shear_1e4", words: "Splines, 10 000 cycles", value: 172.5, source: SHEAR },
    Preset { key: "shear_1e3", words: "Splines, 1 000 cycles", value: 310.5, source: SHEAR },
];

impl Design {
    /// The edge break of every dog of both rings, mm, if it is the same on all.
    pub fn common_edge_mm(&self) -> Option<f64> {
        let edges = |side: Side| match &self.ring(side).layout {
            Layout::Even(even) => vec![even.edge_break_mm],
            Layout::Measured(dogs) => dogs.iter().map(|dog| dog.edge_break_mm).collect(),
        };
        let mut all = Side::BOTH.into_iter().flat_map(edges);
        let first = all.next()?;
        all.all(|edge| edge == first).then_some(first)
    }

    /// Gives every dog of both rings the same edge break, mm.
    pub fn break_edges(&mut self, edge_mm: f64) {
        for side in Side::BOTH {
            match &mut self.ring_mut(side).layout {
                Layout::Even(even) => even.edge_break_mm = edge_mm,
                Layout::Measured(dogs) => {
                    dogs.iter_mut().for_each(|dog| dog.edge_break_mm = edge_mm);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::fields::FieldId;
    use crate::load;

    #[test]
    fn every_wording_is_a_number_that_its_field_takes() {
        let tables: [(&[Preset], FieldId); 5] = [
            (&TIP_FACES, FieldId::TipFriction),
            (&TIP_EDGES, FieldId::EdgeBreak),
            (&CORE_YIELDS, FieldId::AllowedStress),
            (&SPLINE_PRESSURES, FieldId::AllowedPressure),
            (&SPLINE_SHEARS, FieldId::AllowedShear),
        ];
        assert!(tables.iter().zip(PRESETS).all(|((presets, _), all)| presets.len() == all.len()));
        let keys: BTreeSet<_> = PRESETS.iter().flat_map(|all| all.iter().map(|w| w.key)).collect();
        assert_eq!(keys.len(), PRESETS.iter().map(|all| all.len()).sum::<usize>());
        for (presets, id) in tables {
            let (min, max) = (id.spec().min, id.spec().max);
            assert!(presets.iter().all(|w| (min..=max).contains(&w.value)));
            assert!(presets.windows(2).all(|w| w[0].value < w[1].value), "in order");
            assert!(presets.iter().all(|w| w.source.ends_with('.')));
        }
    }

    #[test]
    fn numbers_for_splines_and_steels_are_those_of_their_source() {
        let cycles = [1e7, 1e6, 1e5, 1e4, 1e3];
        for (at, cycles) in cycles.into_iter().enumerate() {
            let pressure = load::spline_compression_mpa(2.0, cycles);
            assert!((SPLINE_PRESSURES[at].value - pressure).abs() < 0.06, "{cycles}");
            let shear = load::spline_shear_mpa(2.0, cycles);
            assert!((SPLINE_SHEARS[at].value - shear).abs() < 0.06, "{cycles}");
        }
        let told = |mpa: f64| CORE_YIELDS.iter().find(|preset| preset.value == mpa);
        let mut values = Vec::new();
        for steel in load::CORE_STEELS {
            for (section, mpa) in steel.yields {
                let words = told(mpa).map_or("", |preset| preset.words);
                assert!(words.contains(steel.name), "{} at {mpa}: “{words}”", steel.name);
                assert!(words.contains(&format!("up to {section} mm")), "{mpa}: “{words}”");
                values.push(mpa);
            }
        }
        assert!(CORE_YIELDS.iter().all(|preset| values.contains(&preset.value)));
    }

    #[test]
    fn edges_are_broken_on_every_dog() {
        let mut design = crate::design::example();
        design.list_dogs(Side::B);
        design.break_edges(0.5);
        assert_eq!(design.common_edge_mm(), Some(0.5));
        if let Layout::Measured(dogs) = &mut design.b.layout {
            dogs[2].edge_break_mm = 0.1;
        }
        assert_eq!(design.common_edge_mm(), None);
    }
}
