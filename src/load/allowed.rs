//! Starting points for what a steel takes, each with its source. They are no limits of a real gear:
//! whoever knows better numbers puts them in their place.

/// A steel and what its core yields at, by size of section.
#[derive(Debug)]
pub struct Steel {
    /// Stable name.
    pub key: &'static str,
    /// Words for it.
    pub words: &'static str,
    /// Diameter of the section in mm, up to which it is so, and yield strength of the core in MPa.
    pub core_yield: &'static [(f64, f64)],
    /// Where the numbers come from.
    pub source: &'static str,
}

/// The steels.
pub static STEELS: [Steel; 1] = [Steel {
    key: "8620",
    words: "case-hardening steel of the 8620 class (21NiCrMo2)",
    core_yield: &[(11.0, 785.0), (30.0, 590.0), (63.0, 490.0)],
    source: "Core of 21NiCrMo2 by the former DIN 17210, mill data.",
}];

impl Steel {
    /// Yield strength of the core in a section of that diameter, MPa: of the next size listed, as the
    /// core of a larger section is softer; `None` beyond the largest.
    pub fn core_yield_mpa(&self, section_mm: f64) -> Option<f64> {
        self.core_yield.iter().find(|(size, _)| section_mm <= *size).map(|(_, mpa)| *mpa)
    }
}

const DUDLEY_SHEAR_MPA: f64 = 345.0;
const DUDLEY_COMPRESSION_MPA: f64 = 34.5;

/// Life factor for so many cycles of torque in one direction: 1000, 10⁴, 10⁵, 10⁶ and 10⁷ cycles give
/// 1.8, 1.0, 0.5, 0.4 and 0.3; between them the next larger number of cycles counts.
///
/// Dudley, "When Splines Need Stress Control", 1957, as in *Machinery's Handbook*.
pub fn life_factor(cycles: f64) -> f64 {
    let table = [(1e3, 1.8), (1e4, 1.0), (1e5, 0.5), (1e6, 0.4)];
    table.into_iter().find(|(most, _)| cycles <= *most).map_or(0.3, |(_, factor)| factor)
}

/// Shear that case-hardened splines of 58 to 63 HRC take, `345·L_f/K_a`, MPa. Dudley, as above.
pub fn spline_shear_mpa(application: f64, cycles: f64) -> f64 {
    DUDLEY_SHEAR_MPA * life_factor(cycles) / application
}

/// Pressure that such splines take where the flanks are straight: sliding ones 34.5, fixed ones nine
/// times that, here `9·34.5·L_f/K_a`, MPa. Dudley, as above.
pub fn spline_compression_mpa(application: f64, cycles: f64) -> f64 {
    9.0 * DUDLEY_COMPRESSION_MPA * life_factor(cycles) / application
}
