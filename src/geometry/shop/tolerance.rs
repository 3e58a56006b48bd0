//! General tolerances of ISO 2768-1, which hold where a drawing gives none, and limits of a size.

use crate::units::Angle;

/// A grade (tolerance class) of ISO 2768-1.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Grade {
    /// f
    Fine,
    /// m
    #[default]
    Medium,
    /// c
    Coarse,
    /// v
    VeryCoarse,
}

/// A row of a table: sizes up to this, mm, and what each grade has for them, the finest first.
type Row = (f64, [Option<f64>; 4]);

/// Tolerances of linear sizes, ± mm: ISO 2768-1:1989, table 1.
const LINEAR: [Row; 5] = [
    (3.0, [Some(0.05), Some(0.1), Some(0.2), None]),
    (6.0, [Some(0.05), Some(0.1), Some(0.3), Some(0.5)]),
    (30.0, [Some(0.1), Some(0.2), Some(0.5), Some(1.0)]),
    (120.0, [Some(0.15), Some(0.3), Some(0.8), Some(1.5)]),
    (400.0, [Some(0.2), Some(0.5), Some(1.2), Some(2.5)]),
];

/// Tolerances of chamfers and of radii of edges, ± mm: ISO 2768-1:1989, table 2.
const EDGES: [Row; 3] = [
    (3.0, [Some(0.2), Some(0.2), Some(0.4), Some(0.4)]),
    (6.0, [Some(0.5), Some(0.5), Some(1.0), Some(1.0)]),
    (400.0, [Some(1.0), Some(1.0), Some(2.0), Some(2.0)]),
];

/// Tolerances of angles by the length of the shorter leg, ± minutes of arc: ISO 2768-1:1989, table 3.
const ANGULAR: [Row; 4] = [
    (10.0, [Some(60.0), Some(60.0), Some(90.0), Some(180.0)]),
    (50.0, [Some(30.0), Some(30.0), Some(60.0), Some(120.0)]),
    (120.0, [Some(20.0), Some(20.0), Some(30.0), Some(60.0)]),
    (400.0, [Some(10.0), Some(10.0), Some(15.0), Some(30.0)]),
];

/// The smallest size the standard gives a tolerance for, mm.
const SMALLEST_MM: f64 = 0.5;

/// The tolerance of an edge broken by hand below the sizes of the standard, ± mm: common practice, no source.
const BY_HAND_MM: f64 = 0.1;

impl Grade {
    /// All of them, the finest first.
    pub const ALL: [Self; 4] = [Self::Fine, Self::Medium, Self::Coarse, Self::VeryCoarse];

    /// Its letter in the standard and in files.
    pub const fn letter(self) -> &'static str {
        ["f", "m", "c", "v"][self as usize]
    }

    /// Plus or minus in mm on a linear size; a size on a border belongs to the range below it.
    ///
    /// `None` below 0.5 mm, where the standard wants the tolerance beside the size, above 400 mm, where no ring
    /// of dogs is, and where the grade has no tolerance: v up to 3 mm.
    pub fn linear_mm(self, size_mm: f64) -> Option<f64> {
        if size_mm >= SMALLEST_MM { self.looked_up(&LINEAR, size_mm) } else { None }
    }

    /// Plus or minus on an angle, by the length of its shorter leg; a length on a border belongs to the
    /// range below it.
    ///
    /// `None` for a length that is not above 0, and above 400 mm.
    pub fn angular(self, shorter_leg_mm: f64) -> Option<Angle> {
        let above = shorter_leg_mm > 0.0;
        let minutes = if above { self.looked_up(&ANGULAR, shorter_leg_mm) } else { None };
        minutes.map(|minutes| Angle::from_degrees(minutes / 60.0))
    }

    /// Plus or minus in mm on a chamfer or a radius of an edge; borders belong to the range below.
    ///
    /// `None` below 0.5 mm and above 400 mm.
    pub fn edge_mm(self, size_mm: f64) -> Option<f64> {
        if size_mm >= SMALLEST_MM { self.looked_up(&EDGES, size_mm) } else { None }
    }

    /// Plus or minus in mm on an edge that is broken by hand, to any size: that of [`Self::edge_mm`] where it
    /// has one.
    pub fn edge_by_hand_mm(self, size_mm: f64) -> f64 {
        self.edge_mm(size_mm).unwrap_or(BY_HAND_MM)
    }

    fn looked_up(self, table: &[Row], size: f64) -> Option<f64> {
        table.iter().find(|(up_to, _)| size <= *up_to)?.1[self as usize]
    }
}

/// How far a size may be off to either side, both in its unit and not negative.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Limits {
    /// Below the nominal size.
    pub minus: f64,
    /// Above it.
    pub plus: f64,
}

impl Limits {
    /// The same to both sides.
    pub const fn both(plus_or_minus: f64) -> Self {
        Self { minus: plus_or_minus, plus: plus_or_minus }
    }

    /// From both sides to a number between: −1 is the lower limit, +1 the upper one.
    pub fn at(self, share: f64) -> f64 {
        if share < 0.0 { share * self.minus } else { share * self.plus }
    }

    /// All of it.
    pub fn width(self) -> f64 {
        self.minus + self.plus
    }
}

/// What an angle amounts to along the arc at a radius, mm.
pub const fn arc_mm(angle: Angle, radius_mm: f64) -> f64 {
    angle.radians() * radius_mm
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 2768-1:1989, tables 1 to 3, a row of each.
    #[test]
    fn each_grade_has_its_column() {
        let column = |of: fn(Grade) -> Option<f64>| Grade::ALL.map(of);
        assert_eq!(column(|g| g.linear_mm(2.0)), [Some(0.05), Some(0.1), Some(0.2), None]);
        assert_eq!(column(|g| g.linear_mm(10.8)), [0.1, 0.2, 0.5, 1.0].map(Some));
        assert_eq!(column(|g| g.edge_mm(0.8)), [0.2, 0.2, 0.4, 0.4].map(Some));
        let minutes = |g: Grade| g.angular(8.0).map(|angle| (angle.degrees() * 60.0).round());
        assert_eq!(column(minutes), [60.0, 60.0, 90.0, 180.0].map(Some));
        assert_eq!(Grade::ALL.map(Grade::letter), ["f", "m", "c", "v"]);
    }

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
            assert_eq!(Grade::Medium.linear_mm(size), want, "{size}");
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
            let minutes = Grade::Medium.angular(leg).map(|angle| (angle.degrees() * 60.0).round());
            assert_eq!(minutes, want, "{leg}");
        }
    }
}
