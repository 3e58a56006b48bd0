//! Balance quality of ISO 21940-11: how much unbalance a turning part may have.

use super::is_size;

/// Balance quality grades G, mm/s, finest first: ISO 21940-11, of which these are the ones in reach
/// of parts like gears, shafts and cranks.
pub const GRADES: [f64; 6] = [0.4, 1.0, 2.5, 6.3, 16.0, 40.0];

/// 30000/π, as ISO 21940-11 rounds it: turns a minute and mm/s to µm.
const FACTOR: f64 = 9549.0;

/// Permissible eccentricity of the centre of mass, µm, which is g·mm for each kg: `9549·G/n`, for G
/// in mm/s (G 6.3 at 3000 rpm: 20.05 µm). ISO 21940-11.
///
/// `None` where grade or speed is not above 0 or is not a number.
pub fn permissible_um(grade_mm_per_s: f64, rpm: f64) -> Option<f64> {
    (is_size(grade_mm_per_s) && is_size(rpm)).then(|| FACTOR * grade_mm_per_s / rpm)
}

/// Permissible unbalance, g·mm: `U_per = 9549·G·m/n` for a mass in kg and G in mm/s. ISO 21940-11.
///
/// `None` where one of the three is not above 0 or is not a number.
pub fn permissible_g_mm(grade_mm_per_s: f64, mass_kg: f64, rpm: f64) -> Option<f64> {
    let um = permissible_um(grade_mm_per_s, rpm)?;
    is_size(mass_kg).then_some(um * mass_kg)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_turn_has_no_limit() {
        for odd in [0.0, -3000.0, f64::NAN, f64::INFINITY] {
            assert_eq!(permissible_um(6.3, odd), None);
            assert_eq!(permissible_um(odd, 3000.0), None);
            assert_eq!(permissible_g_mm(6.3, odd, 3000.0), None);
        }
        assert!(GRADES.is_sorted());
    }
}
