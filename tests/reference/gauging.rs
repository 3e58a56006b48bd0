//! Sizes from chords, pins and dials.

use crenel::gauging::gauges::{
    Gauge, below_tallest_mm, chord_mm, drive_dial_mm, height_from_web_mm, over_pins_mm,
    pin_radius_mm, root_chord_mm,
};
use crenel::gauging::{Reading, Shape, Size, Spread, fit};

use super::row::{Row, Source};

const DERIVED: Source = Source::derived("by hand from the triangle of chord, pin or dial");

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    vec![
        Row::new(
            DERIVED,
            "Chord of 12.4 mm over a dog at Ø60: tip width, °",
            fitted(Size::Width, &[(chord_mm, 0, 60.0, 12.4)]),
            (23.854_163, 5e-7),
        ),
        Row::new(
            DERIVED,
            "Pin of 8 mm between radial flanks, its centre at 26 mm: gap, °",
            fitted(Size::Gap, &[(pin_radius_mm, 0, 8.0, 26.0)]),
            (17.699_766, 5e-7),
        ),
        Row::new(
            DERIVED,
            "60 mm over two pins of 8 mm in six gaps that are alike: gap, °",
            fitted(Size::Gap, &[(over_pins_mm, 0, 8.0, 60.0)]),
            (17.699_766, 5e-7),
        ),
        Row::new(
            DERIVED,
            "Size over two pins of 8 mm, five gaps, pin centres at 26 mm, mm",
            Some(over_pins_mm(&five(), 0, 8.0)),
            (57.4549, 5e-5),
        ),
        Row::new(
            DERIVED,
            "Dial of 0.25 mm at a radius of 26 mm: flank off its place, °",
            off_by_dial(),
            (0.550_921, 5e-7),
        ),
        Row::new(
            DERIVED,
            "5.2 mm from the web, and a tip 0.35 mm below: height, mm",
            height(),
            (4.85, 1e-9),
        ),
        Row::new(
            DERIVED,
            "Tip chord 12.4 mm and root chord 11.6 mm at Ø60, 5 mm high: back-cut of both flanks, °",
            back_cut(),
            (4.667_723, 5e-7),
        ),
    ]
}

type Read = (Gauge, usize, f64, f64);

fn fit_of(read: &[Read]) -> Option<crenel::gauging::Fit> {
    let readings =
        read.iter().map(|&(gauge, place, at, value)| Reading::new(gauge, place, at, value, 0.01));
    fit(&Shape::even(6, 26.0), &readings.collect::<Vec<_>>()).ok()
}

/// A size of the first of six dogs, degrees.
fn fitted(size: Size, read: &[Read]) -> Option<f64> {
    Some(fit_of(read)?.size(size, 0, Spread::NotAtAll).value.to_degrees())
}

/// Five gaps in which an 8 mm pin has its centre at 26 mm.
fn five() -> Shape {
    let gap = 2.0 * libm::asin(4.0 / 26.0);
    let width = std::f64::consts::TAU / 5.0 - gap;
    (0..5).fold(Shape::even(5, 26.0), |shape, place| {
        shape.with(Size::Gap, place, gap).with(Size::Width, place, width)
    })
}

/// How far the drive flank of the second of six dogs is from 60°.
fn off_by_dial() -> Option<f64> {
    let fit = fit_of(&[(chord_mm, 0, 60.0, 12.4), (drive_dial_mm, 1, 26.0, 0.25)])?;
    let width = fit.size(Size::Width, 1, Spread::NotAtAll).value;
    Some((fit.centre(1, Spread::NotAtAll).value - width / 2.0).to_degrees() - 60.0)
}

fn height() -> Option<f64> {
    let read: [Read; 3] = [
        (height_from_web_mm, 0, 0.0, 5.2),
        (below_tallest_mm, 0, 0.0, 0.0),
        (below_tallest_mm, 1, 0.0, 0.35),
    ];
    Some(fit_of(&read)?.size(Size::Height, 1, Spread::NotAtAll).value)
}

/// `r·sin(asin(6.2/30) − asin(5.8/30)) = 0.40824…` in 5 mm of height.
fn back_cut() -> Option<f64> {
    let read: [Read; 3] = [
        (chord_mm, 0, 60.0, 12.4),
        (root_chord_mm, 0, 60.0, 11.6),
        (height_from_web_mm, 0, 0.0, 5.0),
    ];
    fitted(Size::BackCutDrive, &read)
}
