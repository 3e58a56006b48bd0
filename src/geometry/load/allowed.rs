//! Starting points for the stresses that case-hardened splines bear, with their source. They are not the
//! limits of a real gear: replace them wherever better numbers are known.

const DUDLEY_SHEAR_MPA: f64 = 345.0;
const DUDLEY_COMPRESSION_MPA: f64 = 34.5;

/// Life factor for a number of cycles of torque in one direction: 1000, 10⁴, 10⁵, 10⁶ and 10⁷ cycles give
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
