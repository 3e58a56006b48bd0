//! Sweeps: any figure over one input of a design, or over two.
//!
//! [`INPUTS`] is the catalogue of what can be swept. A [`Sweep`] works the design out once for each point, so that a
//! page can do it in slices; it holds no formula.

mod input;

use std::sync::Arc;

pub use input::{INPUTS, Input};

use crate::analysis::Analysis;
use crate::design::Design;
use crate::figures::{Figure, catalogue, some_figures};

/// Points along the first input, where it has no whole numbers.
const POINTS: usize = 61;

/// The most points along an input of whole numbers.
const MOST_WHOLE: usize = 96;

/// The most curves: values of the second input.
pub const MOST_CURVES: usize = 5;

/// Points along each side of a map, where its input has no whole numbers.
const MAP_POINTS: usize = 33;

/// The most whole numbers along a side of a map.
const MOST_WHOLE_OF_MAP: usize = 48;

/// An input and the values that it takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// The input.
    pub input: &'static Input,
    /// Its values, the least first.
    pub values: Vec<f64>,
}

/// A figure over one input, for each value of another where there is one.
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    /// The design that is swept.
    pub base: Arc<Design>,
    /// The figure.
    pub figure: &'static Figure,
    /// The input along the chart.
    pub along: Axis,
    /// The input that each curve has another value of, or the one up the side of a map.
    pub each: Option<Axis>,
    /// Whether it is a map: both inputs have many values.
    pub is_map: bool,
    /// What is known so far, curve by curve: `None` where the design has no such figure.
    pub values: Vec<Option<f64>>,
}

/// The figures that can be swept: those of the pair that are numbers.
pub fn sweepable() -> impl Iterator<Item = &'static Figure> {
    catalogue().filter(|figure| figure.is_of_pair() && figure.is_number())
}

impl Axis {
    /// Many values between two, or all whole numbers between them. They are brought within what the input takes.
    pub fn of(input: &'static Input, from: f64, to: f64) -> Self {
        Self { input, values: spread(input, from, to, POINTS, MOST_WHOLE) }
    }

    /// A few values between two.
    pub fn few(input: &'static Input, from: f64, to: f64) -> Self {
        Self { input, values: spread(input, from, to, MOST_CURVES, MOST_CURVES) }
    }

    /// The values of a side of a map: many, but not as many as of a curve, or all whole numbers.
    pub fn side(input: &'static Input, from: f64, to: f64) -> Self {
        Self { input, values: spread(input, from, to, MAP_POINTS, MOST_WHOLE_OF_MAP) }
    }

    /// The least and the greatest value.
    pub fn ends(&self) -> [f64; 2] {
        let end = |value: Option<&f64>| value.copied().unwrap_or_default();
        [end(self.values.first()), end(self.values.last())]
    }
}

/// Values evenly spread between two: no more than `most`, and whole ones where the input is counted.
fn spread(input: &Input, from: f64, to: f64, most: usize, most_whole: usize) -> Vec<f64> {
    let within =
        |value: f64| if value.is_finite() { input.within(value) } else { input.within(0.0) };
    let (from, to) = (within(from.min(to)), within(to.max(from)));
    let most = if input.is_whole() { most_whole } else { most };
    #[expect(clippy::cast_precision_loss, reason = "points are few")]
    let at = |nth: usize| from + (to - from) * nth as f64 / (most - 1) as f64;
    let mut values: Vec<f64> = (0..most).map(at).collect();
    if input.is_whole() {
        values.iter_mut().for_each(|value| *value = value.round());
    }
    values.dedup();
    values
}

impl Sweep {
    /// A sweep of which nothing is known yet.
    pub fn new(base: Design, figure: &'static Figure, along: Axis, each: Option<Axis>) -> Self {
        Self { base: Arc::new(base), figure, along, each, is_map: false, values: Vec::new() }
    }

    /// A map over two inputs of which nothing is known yet: one along its lower edge, one up its side.
    pub fn map(base: Design, figure: &'static Figure, along: Axis, up: Axis) -> Self {
        Self { is_map: true, ..Self::new(base, figure, along, Some(up)) }
    }

    /// How many points it has.
    pub fn points(&self) -> usize {
        self.along.values.len() * self.curves()
    }

    /// How many curves it has.
    pub fn curves(&self) -> usize {
        self.each.as_ref().map_or(1, |each| each.values.len())
    }

    /// Whether every point is known.
    pub fn is_done(&self) -> bool {
        self.values.len() >= self.points()
    }

    /// Works out the next point. Returns whether there is another.
    pub fn work_out_next(&mut self) -> bool {
        if !self.is_done() {
            let value = self.value_of(&self.design_at(self.values.len()));
            self.values.push(value);
        }
        !self.is_done()
    }

    /// The design of a point, counted curve by curve.
    pub fn design_at(&self, point: usize) -> Design {
        let across = self.along.values.len().max(1);
        let mut design = Design::clone(&self.base);
        let each =
            self.each.as_ref().and_then(|each| Some((each, each.values.get(point / across)?)));
        if let Some((each, value)) = each {
            each.input.put(&mut design, *value);
        }
        if let Some(value) = self.along.values.get(point % across) {
            self.along.input.put(&mut design, *value);
        }
        design
    }

    /// One curve, as far as it is known.
    pub fn curve(&self, nth: usize) -> &[Option<f64>] {
        let across = self.along.values.len();
        let end = self.values.len().min((nth + 1) * across);
        &self.values[end.min(nth * across)..end]
    }

    /// The design itself: its value of the input along the chart, and its figure.
    pub fn own(&self) -> Option<(f64, f64)> {
        Some((self.along.input.value(&self.base)?, self.value_of(&self.base)?))
    }

    /// The value that the design itself has of the second input.
    pub fn own_each(&self) -> Option<f64> {
        self.each.as_ref()?.input.value(&self.base)
    }

    /// The limit that the figure of the design is judged by, if it has one.
    pub fn limit(&self) -> Option<f64> {
        let analysis = Analysis::of(&self.base);
        let value = some_figures([self.figure], &analysis).first()?.value?;
        Some(self.figure.gauge(value, &analysis)?.limit)
    }

    fn value_of(&self, design: &Design) -> Option<f64> {
        some_figures([self.figure], &Analysis::of(design)).first()?.value
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{example, gallery};
    use crate::figures::{CLUNK, LASH, STRAIGHT_IN_LIMIT};
    use crate::model::ShiftCase;

    fn input(key: &str) -> &'static Input {
        INPUTS.iter().find(|input| input.key() == key).expect("an input")
    }

    fn done(mut sweep: Sweep) -> Sweep {
        while sweep.work_out_next() {}
        sweep
    }

    #[test]
    fn dogs_are_swept_one_by_one_and_the_limit_falls() {
        let along = Axis::of(input("count"), 2.0, 24.0);
        let sweep = done(Sweep::new(example(), &STRAIGHT_IN_LIMIT, along, None));
        assert_eq!(sweep.along.values.len(), 23);
        let at = |count: usize| sweep.values[count - 2];
        assert!((at(4).expect("open") - 875.26).abs() < 0.01);
        assert!((at(5).expect("open") - 515.26).abs() < 0.01);
        assert!(at(8).is_none(), "dogs of 24° leave no window");
        assert_eq!(sweep.own().map(|(count, _)| count), Some(6.0));
    }

    /// T + √(T² + 2·k·T·λ), for a lash that the width of the dogs gives.
    #[test]
    fn a_curve_follows_the_closed_form() {
        let lash = Axis::of(input("tip_width_deg"), 10.0, 25.0);
        let clunk = done(Sweep::new(example(), &CLUNK, lash.clone(), None));
        let lash = done(Sweep::new(example(), &LASH, lash, None));
        let case = ShiftCase::of(&example());
        let steady = case.clunk(&example(), case.throttle_nm).steady_nm();
        for (clunk, lash) in clunk.values.iter().zip(&lash.values) {
            let (clunk, lash) = (clunk.expect("a clunk"), lash.expect("a lash").to_radians());
            let peak = steady + (steady * steady + 2.0 * 2000.0 * steady * lash).sqrt();
            assert!((clunk - peak).abs() < 1e-6, "{clunk} {peak}");
        }
    }

    #[test]
    fn each_curve_has_its_own_value_of_the_second_input() {
        let along = Axis::of(input("slip_rpm"), 100.0, 800.0);
        let each = Axis::few(input("count"), 3.0, 6.0);
        assert_eq!(each.values, [3.0, 4.0, 5.0, 6.0]);
        let figure = sweepable().find(|figure| figure.key == "window_time_ms").expect("a figure");
        let sweep = done(Sweep::new(example(), figure, along, Some(each)));
        assert_eq!((sweep.curves(), sweep.values.len()), (4, 4 * 61));
        let last = |curve: usize| sweep.curve(curve).last().copied().flatten().expect("open");
        assert!(last(0) > last(1) && last(1) > last(2) && last(2) > last(3));
        // A window passes in half the time at twice the speed.
        let at = |rpm: f64| sweep.along.values.iter().position(|v| (v - rpm).abs() < 6.0);
        let (slow, fast) = (at(200.0).expect("a point"), at(400.0).expect("a point"));
        let [slow, fast] = [slow, fast].map(|at| (sweep.along.values[at], sweep.curve(0)[at]));
        let turned = |(rpm, ms): (f64, Option<f64>)| rpm * ms.expect("open");
        assert!((turned(slow) - turned(fast)).abs() < 1e-6);
    }

    /// A row of a map is the curve at its value, and a design on the grid has its own figure there.
    #[test]
    fn a_map_has_the_rows_of_its_curves() {
        let along = Axis::side(input("count"), 2.0, 24.0);
        let up = Axis::side(input("tip_friction"), 0.03, 0.25);
        assert_eq!((along.values.len(), up.values.len()), (23, 33));
        let figure = sweepable().find(|f| f.key == "straight_in_limit_rpm").expect("a figure");
        let map = done(Sweep::map(example(), figure, along.clone(), up.clone()));
        assert_eq!((map.points(), map.values.len()), (23 * 33, 23 * 33));
        for row in [0, 16, 32] {
            let mut base = example();
            input("tip_friction").put(&mut base, up.values[row]);
            let curve = done(Sweep::new(base, figure, along.clone(), None));
            assert_eq!(map.curve(row), curve.values, "{row}");
        }
        assert_eq!(map.own_each(), Some(0.1));
    }

    #[test]
    fn the_point_of_the_design_lies_on_its_curve() {
        for input in &INPUTS {
            let Some(own) = input.value(&example()) else { continue };
            let mut put = example();
            input.put(&mut put, own);
            for figure in sweepable() {
                let value = |design: &Design| {
                    some_figures([figure], &Analysis::of(design)).first().and_then(|f| f.value)
                };
                if let (Some(a), Some(b)) = (value(&example()), value(&put)) {
                    let off = (a - b).abs();
                    assert!(off <= 1e-6 * a.abs().max(1.0), "{} {figure:?}: {a} {b}", input.key());
                }
            }
        }
    }

    #[test]
    fn any_input_of_any_design_can_be_swept() {
        let designs = gallery().iter().map(|example| example.design());
        for base in designs.chain([Design::default(), Design::own_gear()]) {
            for input in &INPUTS {
                let [from, to] = input.usual(&base);
                assert!(from < to, "{}", input.key());
                for ends in [[from, to], [f64::NAN, f64::INFINITY], [to, from], [3.0, 3.0]] {
                    let axis =
                        Axis { values: Axis::of(input, ends[0], ends[1]).ends().to_vec(), input };
                    drop(done(Sweep::new(base.clone(), &CLUNK, axis, None)));
                }
            }
        }
    }
}
