//! General tolerances of ISO 2768-1, class m (medium): what holds where a drawing gives none.

use crate::units::Angle;

/// Sizes up to this and their tolerance, both mm.
const LINEAR: [(f64, f64); 5] = [(3.0, 0.1), (6.0, 0.1), (30.0, 0.2), (120.0, 0.3), (400.0, 0.5)];

/// The smallest size the standard gives a tolerance for, mm.
const SMALLEST_MM: f64 = 0.5;

/// Lengths of the shorter leg up to this, mm, and the tolerance of the angle, minutes of arc.
const ANGULAR: [(f64, f64); 4] = [(10.0, 60.0), (50.0, 30.0), (120.0, 20.0), (400.0, 10.0)];

/// Plus or minus in mm on a linear size; a size on a border belongs to the range below it.
///
/// `None` below 0.5 mm, where the standard wants the tolerance beside the size, and above 400 mm,
/// where no ring of dogs is.
pub fn linear_mm(size_mm: f64) -> Option<f64> {
    if size_mm >= SMALLEST_MM { looked_up(&LINEAR, size_mm) } else { None }
}

/// Plus or minus on an angle, by the length of its shorter leg; a length on a border belongs to the
/// range below it.
///
/// `None` for a length that is not above 0, and above 400 mm.
pub fn angular(shorter_leg_mm: f64) -> Option<Angle> {
    let minutes = if shorter_leg_mm > 0.0 { looked_up(&ANGULAR, shorter_leg_mm) } else { None };
    minutes.map(|minutes| Angle::from_degrees(minutes / 60.0))
}

/// Chamfers and radii up to this and their tolerance, both mm (from memory).
const EDGES: [(f64, f64); 3] = [(3.0, 0.2), (6.0, 0.5), (400.0, 1.0)];

/// Plus or minus in mm on a chamfer or a radius of an edge; borders belong to the range below.
///
/// `None` below 0.5 mm and above 400 mm.
pub fn edge_mm(size_mm: f64) -> Option<f64> {
    if size_mm >= SMALLEST_MM { looked_up(&EDGES, size_mm) } else { None }
}

/// The tolerance of an edge broken by hand below the sizes of the standard, ± mm: common practice, no source.
const BY_HAND_MM: f64 = 0.1;

/// Plus or minus in mm on an edge that is broken by hand, to any size: that of [`edge_mm`] where it has one.
pub fn edge_by_hand_mm(size_mm: f64) -> f64 {
    edge_mm(size_mm).unwrap_or(BY_HAND_MM)
}

/// What an angle amounts to along the arc at a radius, mm.
pub const fn arc_mm(angle: Angle, radius_mm: f64) -> f64 {
    angle.radians() * radius_mm
}

fn looked_up(table: &[(f64, f64)], size: f64) -> Option<f64> {
    table.iter().find(|(up_to, _)| size <= *up_to).map(|(_, tolerance)| *tolerance)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn borders_belong_to_the_range_below() {
        let linear = [
            (0.49, None),
            (0.5, Some(0.1)),
            (6.0, Some(0.1)),
            (6.001, Some(0.2)),
            (30.0, Some(0.2)),
            (30.001, Some(0.3)),
            (120.001, Some(0.5)),
            (400.001, None),
            (f64::NAN, None),
        ];
        for (size, want) in linear {
            assert_eq!(linear_mm(size), want, "{size}");
        }
        let angles = [
            (0.0, None),
            (10.0, Some(60.0)),
            (10.001, Some(30.0)),
            (50.001, Some(20.0)),
            (120.001, Some(10.0)),
            (400.001, None),
            (f64::NAN, None),
        ];
        for (leg, want) in angles {
            let minutes = angular(leg).map(|angle| (angle.degrees() * 60.0).round());
            assert_eq!(minutes, want, "{leg}");
        }
    }
}
