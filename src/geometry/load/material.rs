//! Case-hardening steels: the yield of their core by the size of the section.

/// A steel and the yield of its core.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CoreSteel {
    /// Its name in EN 10084 and the former DIN 17210.
    pub name: &'static str,
    /// Largest section, mm, and least yield of the core there, MPa; thin sections first.
    pub yields: [(f64, f64); 3],
    /// Where the numbers come from.
    pub source: &'static str,
}

const MEMORY: &str = "former DIN 17210, from memory";

/// Steels that gears of gearboxes are often made of. They are starting points: ask for the certificate
/// of the steel, or have the hardness of the core measured.
pub const CORE_STEELS: [CoreSteel; 5] = [
    CoreSteel {
        name: "21NiCrMo2 (8620 class)",
        yields: [(11.0, 785.0), (30.0, 590.0), (63.0, 490.0)],
        source: MEMORY,
    },
    CoreSteel {
        name: "16MnCr5",
        yields: [(11.0, 635.0), (30.0, 590.0), (63.0, 440.0)],
        source: MEMORY,
    },
    CoreSteel {
        name: "20MnCr5",
        yields: [(11.0, 735.0), (30.0, 685.0), (63.0, 540.0)],
        source: MEMORY,
    },
    CoreSteel {
        name: "15CrNi6",
        yields: [(11.0, 685.0), (30.0, 635.0), (63.0, 540.0)],
        source: MEMORY,
    },
    CoreSteel {
        name: "18CrNi8",
        yields: [(11.0, 835.0), (30.0, 785.0), (63.0, 685.0)],
        source: MEMORY,
    },
];
