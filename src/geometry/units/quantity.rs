//! What a number measures, and how it is written for the reader.

use super::writing::{decimal, dms};

/// Whether lengths are shown in millimetres or inches.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches of 25.4 mm exactly.
    Inch,
}

/// Whether angles are shown as decimal degrees or degrees, minutes and seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum AngleStyle {
    /// 12.5°
    #[default]
    Decimal,
    /// 12°30′00″
    Dms,
}

/// The units the user reads and types. The core itself always works in mm and degrees.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DisplayUnits {
    /// Unit of lengths, areas and volumes.
    pub length: LengthUnit,
    /// Style of angles.
    pub angle: AngleStyle,
}

/// What a number measures. Each has one unit at every boundary of the core.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Quantity {
    /// Length, mm.
    Length,
    /// Length along the road, mm.
    RoadLength,
    /// Plane angle, degrees.
    Angle,
    /// Rotational speed, rpm.
    Speed,
    /// Straight-line speed, m/s.
    Velocity,
    /// Force, N.
    Force,
    /// Mass of moving parts, kg.
    Mass,
    /// Mass of metal that is cut off or left, g.
    Grams,
    /// Unbalance, g·mm.
    Unbalance,
    /// Time, ms.
    Time,
    /// Area, mm².
    Area,
    /// Volume, mm³.
    Volume,
    /// Moment of inertia, kg·mm².
    Inertia,
    /// Moment of inertia felt at a shaft, kg·m².
    ShaftInertia,
    /// Torque, N·m.
    Torque,
    /// Torque of small parts, N·mm.
    FineTorque,
    /// Torsional stiffness, N·m/rad.
    Stiffness,
    /// Stress and pressure, MPa.
    Stress,
    /// Stiffness of a contact, N/µm.
    ContactStiffness,
    /// Energy, J.
    Energy,
    /// Events in a second, 1/s.
    Rate,
    /// A share of the whole; 1 is everything, shown in percent.
    Share,
    /// A whole number of things.
    Count,
    /// How many of several like parts, on average: a result between two whole numbers is written as both.
    Dogs,
    /// A plain ratio.
    Ratio,
}

/// Millimetres in an inch, exactly (international inch, 1959).
const MM_PER_INCH: f64 = 25.4;

impl Quantity {
    /// The unit's sign as it is written after the number.
    pub const fn unit(self, units: DisplayUnits) -> &'static str {
        let inch = matches!(units.length, LengthUnit::Inch);
        match self {
            Self::Length | Self::RoadLength if inch => "in",
            Self::Length | Self::RoadLength => "mm",
            Self::Area if inch => "in²",
            Self::Area => "mm²",
            Self::Volume if inch => "in³",
            Self::Volume => "mm³",
            Self::Angle => "°",
            Self::Speed => "rpm",
            Self::Velocity => "m/s",
            Self::Force => "N",
            Self::Mass => "kg",
            Self::Grams => "g",
            Self::Unbalance => "g·mm",
            Self::Time => "ms",
            Self::Inertia => "kg·mm²",
            Self::ShaftInertia => "kg·m²",
            Self::Torque => "N·m",
            Self::FineTorque => "N·mm",
            Self::Stiffness => "N·m/rad",
            Self::Energy => "J",
            Self::Stress => "MPa",
            Self::ContactStiffness => "N/µm",
            Self::Rate => "per s",
            Self::Share => "%",
            Self::Count | Self::Dogs | Self::Ratio => "",
        }
    }

    /// The unit's sign, unless the written number contains it already.
    pub fn suffix(self, units: DisplayUnits) -> &'static str {
        if self == Self::Angle && units.angle == AngleStyle::Dms { "" } else { self.unit(units) }
    }

    /// The size of the shown unit in the core's unit.
    pub const fn scale(self, units: DisplayUnits) -> f64 {
        let inch = matches!(units.length, LengthUnit::Inch);
        match self {
            Self::Length | Self::RoadLength if inch => MM_PER_INCH,
            Self::Area if inch => MM_PER_INCH * MM_PER_INCH,
            Self::Volume if inch => MM_PER_INCH * MM_PER_INCH * MM_PER_INCH,
            Self::Share => 0.01,
            _ => 1.0,
        }
    }

    /// Decimals worth showing.
    pub(super) const fn decimals(self, units: DisplayUnits) -> usize {
        match (self, units.length) {
            (Self::Length | Self::RoadLength | Self::Volume | Self::Area, LengthUnit::Inch) => 4,
            (Self::Length | Self::RoadLength | Self::Angle | Self::Time | Self::Grams, _) => 3,
            (Self::Ratio | Self::Dogs | Self::Velocity, _) => 4,
            (Self::ShaftInertia, _) => 6,
            (Self::Count, _) => 0,
            (
                Self::Speed
                | Self::Force
                | Self::Torque
                | Self::Stress
                | Self::Rate
                | Self::Unbalance
                | Self::Inertia
                | Self::Area
                | Self::Volume,
                _,
            ) => 2,
            (Self::Mass | Self::Energy, _) => 3,
            (Self::Share | Self::Stiffness | Self::ContactStiffness | Self::FineTorque, _) => 1,
        }
    }

    /// Writes the number without its unit, rounded to what is worth showing.
    ///
    /// ```
    /// use crenel_geometry::units::{AngleStyle, DisplayUnits, LengthUnit, Quantity};
    /// let metric = DisplayUnits::default();
    /// let shop = DisplayUnits { length: LengthUnit::Inch, angle: AngleStyle::Dms };
    /// assert_eq!(Quantity::Length.format(12.7, metric), "12.7");
    /// assert_eq!(Quantity::Length.format(12.7, shop), "0.5");
    /// assert_eq!(Quantity::Angle.format(11.5, shop), "11°30′00″");
    /// ```
    pub fn format(self, value: f64, units: DisplayUnits) -> String {
        self.written(value, units, self.decimals(units))
    }

    /// Writes the number with this many decimals, unless it is an angle in minutes.
    fn written(self, value: f64, units: DisplayUnits, decimals: usize) -> String {
        if self == Self::Angle && units.angle == AngleStyle::Dms {
            return dms(value);
        }
        decimal(value / self.scale(units), decimals)
    }

    /// Writes a number to which a shop works: as [`Quantity::format`] does, and with further digits if the number
    /// has them, down to a tenth of a micrometre.
    ///
    /// ```
    /// use crenel_geometry::units::{DisplayUnits, LengthUnit, Quantity};
    /// let [mm, inch] = [LengthUnit::Millimetre, LengthUnit::Inch]
    ///     .map(|length| DisplayUnits { length, ..DisplayUnits::default() });
    /// let texts = |value| [mm, inch].map(|units| Quantity::Length.format_kept(value, units));
    /// assert_eq!(texts(3.6068), ["3.6068", "0.142"]);
    /// assert_eq!(texts(2.5), ["2.5", "0.09843"]);
    /// ```
    pub fn format_kept(self, value: f64, units: DisplayUnits) -> String {
        let more = self.decimals(units) + usize::from(self == Self::Length);
        self.written(value, units, more)
    }

    /// [`Quantity::format_kept`] with the unit.
    pub fn show_kept(self, value: f64, units: DisplayUnits) -> String {
        self.with_unit(self.format_kept(value, units), units)
    }

    /// Writes the number with every digit it has and its unit, in mm and decimal degrees.
    ///
    /// ```
    /// use crenel_geometry::units::Quantity;
    /// assert_eq!(Quantity::Length.show_exact(50.00001), "50.00001 mm");
    /// assert_eq!(Quantity::Share.show_exact(0.5), "50 %");
    /// ```
    pub fn show_exact(self, value: f64) -> String {
        let units = DisplayUnits::default();
        let value = value / self.scale(units);
        if !value.is_finite() {
            return self.show(value, units);
        }
        let number = format!("{value:?}");
        let plain = number.strip_suffix(".0").unwrap_or(&number).to_owned();
        self.with_unit(plain, units)
    }

    /// Whether two different numbers look the same as shown, in mm or in inches.
    pub fn looks_like(self, value: f64, like: f64) -> bool {
        let alike = |length| {
            let units = DisplayUnits { length, ..DisplayUnits::default() };
            self.format(value, units) == self.format(like, units)
        };
        value != like && [LengthUnit::Millimetre, LengthUnit::Inch].into_iter().any(alike)
    }

    pub(super) fn with_unit(self, number: String, units: DisplayUnits) -> String {
        match (self, units.angle) {
            (Self::Angle, AngleStyle::Dms) | (Self::Count | Self::Dogs | Self::Ratio, _) => number,
            (Self::Angle, AngleStyle::Decimal) => number + "°",
            _ => format!("{number} {}", self.unit(units)),
        }
    }
}
