//! What each gauge reads on a ring of a given shape.
//!
//! Each takes the shape, the dog, and the one number by which the gauge is set: a diameter, a radius, a ratio.
//! Lengths are mm, angles degrees, as they are read.

use std::f64::consts::TAU;

use super::shape::{Shape, Size};
use crate::ring::{FlankSide, PlanForm};

/// A gauge: what it reads on a dog.
pub type Gauge = fn(&Shape, usize, f64) -> f64;

/// Chord over a dog at a diameter, mm: `c = D·sin(w/2)` between radial flanks.
pub fn chord_mm(shape: &Shape, place: usize, diameter_mm: f64) -> f64 {
    let half = FlankSide::BOTH
        .map(|flank| shape.half_width(place, diameter_mm / 2.0, shape.touched_mm(place, flank)));
    diameter_mm * libm::sin((half[0] + half[1]) / 2.0)
}

/// Chord over the root of a dog at a diameter, mm, where the flanks meet the web.
pub fn root_chord_mm(shape: &Shape, place: usize, diameter_mm: f64) -> f64 {
    let half = FlankSide::BOTH.map(|flank| {
        let lean = shape.size(Size::Height, place) * libm::tan(shape.back_cut(place, flank));
        shape.half_width(place, diameter_mm / 2.0, -lean)
    });
    diameter_mm * libm::sin((half[0] + half[1]) / 2.0)
}

/// Width of a dog square to its middle line, mm, as a micrometer reads it between parallel flanks. Between
/// radial ones it is the chord at the mean diameter.
pub fn parallel_width_mm(shape: &Shape, place: usize, _: f64) -> f64 {
    let outside = FlankSide::BOTH.map(|flank| shape.touched_mm(place, flank));
    2.0 * shape.half_chord_mm(place) + outside[0] + outside[1]
}

/// Radius at the centre of a pin in the gap after a dog, mm: `r = d/(2·sin(g/2))` between radial flanks.
///
/// The pin touches two lines: rays from the axis at the angle `P` between them for radial flanks, lines that pass
/// the axis for parallel ones. With the centre `a` and `b` from the rays, `r = √(a² + b² + 2ab·cos P)/sin P`.
/// NaN where a pin does not rest: in a gap of half a turn or more.
pub fn pin_radius_mm(shape: &Shape, place: usize, pin_mm: f64) -> f64 {
    pin(shape, place, pin_mm).0
}

/// Size over two pins of the same diameter, mm: one in the gap after a dog, the other in the gap opposite, which
/// is the nearer one of two for an odd count. `M = 2r + d` for even counts of gaps that are alike, and
/// `M = 2r·cos(90°/N) + d` for odd ones.
pub fn over_pins_mm(shape: &Shape, place: usize, pin_mm: f64) -> f64 {
    let [(r1, at1), (r2, at2)] =
        [place, opposite(shape.dogs(), place)].map(|place| pin(shape, place, pin_mm));
    let square = r1 * r1 + r2 * r2 - 2.0 * r1 * r2 * libm::cos(at2 - at1);
    square.sqrt() + pin_mm
}

/// The gap that is opposite the gap after a dog.
pub(super) const fn opposite(dogs: usize, place: usize) -> usize {
    (place + dogs / 2) % dogs
}

/// Radius and angle of a pin in the gap after a dog.
fn pin(shape: &Shape, place: usize, pin_mm: f64) -> (f64, f64) {
    let next = (place + 1) % shape.dogs();
    let outside = |place: usize, flank| pin_mm / 2.0 + shape.touched_mm(place, flank);
    let (mut a, mut b) = (outside(place, FlankSide::Coast), outside(next, FlankSide::Drive));
    let [half, half_next] = [place, next].map(|place| shape.size(Size::Width, place) / 2.0);
    let (mut between, mut ray) = (shape.size(Size::Gap, place), shape.middle(place) + half);
    if shape.form == PlanForm::Parallel {
        (a, b) = (a + shape.half_chord_mm(place), b + shape.half_chord_mm(next));
        (between, ray) = (between + half + half_next, shape.middle(place));
    }
    let (sin, cos) = (libm::sin(between), libm::cos(between));
    if sin <= 0.0 || between <= 0.0 || between >= TAU / 2.0 {
        return (f64::NAN, f64::NAN);
    }
    let radius = (a * a + b * b + 2.0 * a * b * cos).sqrt() / sin;
    (radius, ray + libm::atan2(a * sin, b + a * cos))
}

/// Place of the drive flank on a rotary table, degrees, touched at a diameter.
pub fn drive_on_table_deg(shape: &Shape, place: usize, diameter_mm: f64) -> f64 {
    on_table(shape, place, FlankSide::Drive, diameter_mm / 2.0)
}

/// Place of the coast flank on a rotary table, degrees, touched at a diameter.
pub fn coast_on_table_deg(shape: &Shape, place: usize, diameter_mm: f64) -> f64 {
    on_table(shape, place, FlankSide::Coast, diameter_mm / 2.0)
}

/// Place of the tip edge of the drive flank in a photograph of the tips, degrees, at the mean radius. Photographs have a
/// zero of their own.
pub fn drive_in_photo_deg(shape: &Shape, place: usize, _: f64) -> f64 {
    in_photo(shape, place, FlankSide::Drive)
}

/// Place of the tip edge of the coast flank in a photograph, as [`drive_in_photo_deg`].
pub fn coast_in_photo_deg(shape: &Shape, place: usize, _: f64) -> f64 {
    in_photo(shape, place, FlankSide::Coast)
}

fn in_photo(shape: &Shape, place: usize, flank: FlankSide) -> f64 {
    (shape.edge(place, flank) - shape.edge(shape.datum.0, shape.datum.1)).to_degrees()
        + shape.photo_zero_deg()
}

/// Place of the drive flank in turns of the crank of a dividing head with a ratio, touched at the mean diameter.
pub fn drive_by_crank_turns(shape: &Shape, place: usize, ratio: f64) -> f64 {
    on_table(shape, place, FlankSide::Drive, shape.mean_radius_mm) * ratio / 360.0
}

/// Place of the coast flank in turns of the crank, touched at the mean diameter.
pub fn coast_by_crank_turns(shape: &Shape, place: usize, ratio: f64) -> f64 {
    on_table(shape, place, FlankSide::Coast, shape.mean_radius_mm) * ratio / 360.0
}

fn on_table(shape: &Shape, place: usize, flank: FlankSide, radius_mm: f64) -> f64 {
    shape.flank(place, flank, radius_mm).to_degrees() + shape.table_zero_deg()
}

/// Dial on the drive flank at a radius, mm, zeroed on that of the datum dog, with the ring turned on from it by
/// whole pitches of `360°/N`: `s = r·δ`. Plus is further counter-clockwise.
pub fn drive_dial_mm(shape: &Shape, place: usize, radius_mm: f64) -> f64 {
    dial(shape, place, FlankSide::Drive, radius_mm)
}

/// Dial on the coast flank at a radius, mm, as [`drive_dial_mm`].
pub fn coast_dial_mm(shape: &Shape, place: usize, radius_mm: f64) -> f64 {
    dial(shape, place, FlankSide::Coast, radius_mm)
}

fn dial(shape: &Shape, place: usize, flank: FlankSide, radius_mm: f64) -> f64 {
    let datum = shape.datum.0;
    let apart = shape.flank(place, flank, radius_mm) - shape.flank(datum, flank, radius_mm);
    let pitches = (place as f64 - datum as f64) / shape.dogs() as f64;
    let off = apart - pitches * TAU;
    radius_mm * (off - TAU * (off / TAU).round())
}

/// Height from the web, mm.
pub fn height_from_web_mm(shape: &Shape, place: usize, _: f64) -> f64 {
    shape.size(Size::Height, place)
}

/// How far a tip is below the tallest one, mm: a dial zeroed on that.
pub fn below_tallest_mm(shape: &Shape, place: usize, _: f64) -> f64 {
    shape.tallest_mm() - shape.size(Size::Height, place)
}

/// Height of a tip above the gear face, mm, with the web so far below that face.
pub fn height_from_face_mm(shape: &Shape, place: usize, web_below_mm: f64) -> f64 {
    shape.size(Size::Height, place) - web_below_mm
}

/// Angle of the drive flank from the shaft axis, degrees; plus is undercut.
pub fn drive_back_cut_deg(shape: &Shape, place: usize, _: f64) -> f64 {
    shape.size(Size::BackCutDrive, place).to_degrees()
}

/// Angle of the coast flank from the shaft axis, degrees; plus is undercut.
pub fn coast_back_cut_deg(shape: &Shape, place: usize, _: f64) -> f64 {
    shape.size(Size::BackCutCoast, place).to_degrees()
}

/// Radius on the tip edge, mm, by a radius gauge.
pub fn edge_radius_mm(shape: &Shape, place: usize, _: f64) -> f64 {
    shape.size(Size::EdgeBreak, place)
}

/// Diameter of the pin that is as round as the tip edge, mm.
pub fn edge_pin_mm(shape: &Shape, place: usize, _: f64) -> f64 {
    2.0 * shape.size(Size::EdgeBreak, place)
}

/// Radius where flank meets web, mm, by a radius gauge.
pub fn root_fillet_mm(shape: &Shape, place: usize, _: f64) -> f64 {
    shape.size(Size::RootFillet, place)
}
