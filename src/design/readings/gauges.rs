//! The catalogue of gauges.
//!
//! The usual uncertainties are common practice, no source. They are what a new column begins with; each column has
//! its own.

use crenel_words::{Phrase, measured as say};

use crate::gauging::gauges as gauge;
use crate::units::Quantity;

/// Usual uncertainty of a calliper and of a micrometer on worn flanks, mm.
const CALLIPER_MM: f64 = 0.02;
/// Of a size by gauge pins, and of a dial, mm.
const PIN_MM: f64 = 0.005;
/// Of a flank on a rotary table, degrees: a minute of arc.
const TABLE_DEG: f64 = 1.0 / 60.0;
/// Of a flank angle by a bevel protractor, degrees.
const BEVEL_DEG: f64 = 0.25;
/// Of a flank in a photograph, degrees: a pixel or less, and the wear of an edge.
const PHOTO_DEG: f64 = 0.06;
/// Of a radius by a radius gauge, mm.
const RADIUS_MM: f64 = 0.1;

/// What a gauge is set by, one number for the whole column.
#[derive(Clone, Copy)]
pub struct SetBy {
    /// Its name, which follows that of the gauge.
    pub name: Phrase,
    /// Its kind of number.
    pub quantity: Quantity,
    /// What a new column begins with.
    pub default: f64,
    /// Least and greatest.
    pub limits: (f64, f64),
}

/// A kind of gauge. Its row in [`GAUGES`] defines all of it.
pub struct GaugeKind {
    /// Its word in files. It never changes.
    pub key: &'static str,
    /// Its name, at the head of its column.
    pub name: Phrase,
    /// The kind of number that is read.
    pub quantity: Quantity,
    /// What it is set by; `None` for a gauge without such a number.
    pub set_by: Option<SetBy>,
    /// Usual standard uncertainty, in the unit of the reading.
    pub sigma: f64,
    /// After how much it begins anew, given what it is set by; 0 if it does not.
    pub period: fn(f64) -> f64,
    /// Least and greatest reading, given what it is set by.
    pub limits: fn(f64) -> (f64, f64),
    /// What it reads on a shape.
    pub(super) gauge: gauge::Gauge,
}

impl PartialEq for GaugeKind {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

impl std::fmt::Debug for GaugeKind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.key)
    }
}

const DIAMETER: SetBy = SetBy {
    name: say::at_diameter,
    quantity: Quantity::Length,
    default: 60.0,
    limits: (1.0, 1000.0),
};
const PIN: SetBy = SetBy { name: say::with_pin, default: 8.0, limits: (0.1, 100.0), ..DIAMETER };
const RADIUS: SetBy =
    SetBy { name: say::at_radius, default: 26.0, limits: (0.5, 500.0), ..DIAMETER };
const RATIO: SetBy =
    SetBy { name: say::by_ratio, quantity: Quantity::Ratio, default: 40.0, limits: (1.0, 1000.0) };
const WEB: SetBy = SetBy { name: say::web_below, default: 0.0, limits: (-50.0, 50.0), ..DIAMETER };

/// What most gauges have in common; a row gives what differs.
const BASE: GaugeKind = GaugeKind {
    key: "",
    name: say::chord,
    quantity: Quantity::Length,
    set_by: None,
    sigma: CALLIPER_MM,
    period: |_| 0.0,
    limits: |_| (0.01, 100.0),
    gauge: gauge::chord_mm,
};
const CHORD: GaugeKind =
    GaugeKind { set_by: Some(DIAMETER), limits: |diameter| (0.01, diameter), ..BASE };
const TABLE: GaugeKind = GaugeKind {
    quantity: Quantity::Angle,
    set_by: Some(DIAMETER),
    sigma: TABLE_DEG,
    period: |_| 360.0,
    limits: |_| (-720.0, 720.0),
    ..BASE
};
/// The crank of a dividing head; its uncertainty is that of the table at 40:1.
const CRANK: GaugeKind = GaugeKind {
    quantity: Quantity::Ratio,
    set_by: Some(RATIO),
    sigma: TABLE_DEG / 9.0,
    period: |ratio| ratio,
    limits: |ratio| (-2.0 * ratio, 2.0 * ratio),
    ..BASE
};
const DIAL: GaugeKind =
    GaugeKind { set_by: Some(RADIUS), sigma: PIN_MM, limits: |radius| (-radius, radius), ..BASE };
const ANGLE: GaugeKind =
    GaugeKind { quantity: Quantity::Angle, sigma: BEVEL_DEG, limits: |_| (-30.0, 30.0), ..BASE };
const PHOTO: GaugeKind = GaugeKind { set_by: None, sigma: PHOTO_DEG, ..TABLE };
const EDGE: GaugeKind = GaugeKind { sigma: RADIUS_MM, limits: |_| (0.0, 20.0), ..BASE };

/// Every kind of gauge, in the order of the menu.
pub static GAUGES: &[&GaugeKind] = &[
    &GaugeKind { key: "chord", name: say::chord, gauge: gauge::chord_mm, ..CHORD },
    &GaugeKind {
        key: "pin_radius",
        name: say::pin_radius,
        set_by: Some(PIN),
        sigma: PIN_MM,
        limits: |pin| (pin / 2.0, 500.0),
        gauge: gauge::pin_radius_mm,
        ..BASE
    },
    &GaugeKind {
        key: "over_pins",
        name: say::over_pins,
        set_by: Some(PIN),
        sigma: PIN_MM,
        limits: |pin| (2.0 * pin, 1000.0),
        gauge: gauge::over_pins_mm,
        ..BASE
    },
    &GaugeKind {
        key: "drive_table",
        name: say::drive_on_table,
        gauge: gauge::drive_on_table_deg,
        ..TABLE
    },
    &GaugeKind {
        key: "coast_table",
        name: say::coast_on_table,
        gauge: gauge::coast_on_table_deg,
        ..TABLE
    },
    &GaugeKind {
        key: "drive_crank",
        name: say::drive_by_crank,
        gauge: gauge::drive_by_crank_turns,
        ..CRANK
    },
    &GaugeKind {
        key: "coast_crank",
        name: say::coast_by_crank,
        gauge: gauge::coast_by_crank_turns,
        ..CRANK
    },
    &GaugeKind { key: "drive_dial", name: say::drive_dial, gauge: gauge::drive_dial_mm, ..DIAL },
    &GaugeKind { key: "coast_dial", name: say::coast_dial, gauge: gauge::coast_dial_mm, ..DIAL },
    &GaugeKind { key: "width", name: say::width, gauge: gauge::parallel_width_mm, ..BASE },
    &GaugeKind {
        key: "height",
        name: say::height_from_web,
        gauge: gauge::height_from_web_mm,
        ..BASE
    },
    &GaugeKind {
        key: "below_tallest",
        name: say::below_tallest,
        sigma: PIN_MM,
        limits: |_| (0.0, 50.0),
        gauge: gauge::below_tallest_mm,
        ..BASE
    },
    &GaugeKind {
        key: "height_from_face",
        name: say::height_from_face,
        set_by: Some(WEB),
        limits: |_| (-50.0, 100.0),
        gauge: gauge::height_from_face_mm,
        ..BASE
    },
    &GaugeKind {
        key: "drive_back_cut",
        name: say::drive_back_cut,
        gauge: gauge::drive_back_cut_deg,
        ..ANGLE
    },
    &GaugeKind {
        key: "coast_back_cut",
        name: say::coast_back_cut,
        gauge: gauge::coast_back_cut_deg,
        ..ANGLE
    },
    &GaugeKind { key: "root_chord", name: say::root_chord, gauge: gauge::root_chord_mm, ..CHORD },
    &GaugeKind { key: "edge_radius", name: say::edge_radius, gauge: gauge::edge_radius_mm, ..EDGE },
    &GaugeKind { key: "edge_pin", name: say::edge_pin, gauge: gauge::edge_pin_mm, ..EDGE },
    &GaugeKind {
        key: "drive_photo",
        name: say::drive_in_photo,
        gauge: gauge::drive_in_photo_deg,
        ..PHOTO
    },
    &GaugeKind {
        key: "coast_photo",
        name: say::coast_in_photo,
        gauge: gauge::coast_in_photo_deg,
        ..PHOTO
    },
    &GaugeKind { key: "root_fillet", name: say::root_fillet, gauge: gauge::root_fillet_mm, ..EDGE },
];
