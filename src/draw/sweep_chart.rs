//! A figure over an input: a curve, or one for each value of a second input, with the point of the design.

use crenel_words::{Label, Reader, drawing as say};

use super::frame::{
    Axes, AxisNumber, Frame, LABEL, axis_number, cased, chance_frame, plot_of, ticks_between,
};
use super::scene::{Anchor, Bounds, Role, Scene};
use super::series::{box_at, marker, name_of_series, overlap};
use crate::ring::Point;
use crate::sweep::Sweep;
use crate::units::{DisplayUnits, Quantity};

/// Room past the greatest value, as a share of it.
const PAST: f64 = 1.08;

/// Most letters of a number along the lower edge.
const LETTERS: usize = 5;

/// How far a limit may be past the greatest value and still be in the chart.
const NEAR: f64 = 1.6;

/// The frame of a chart of a sweep. `shape` is its height over its width, `letter` the height of its letters as a share
/// of its width.
pub fn sweep_frame(shape: f64, letter: f64) -> Frame {
    chance_frame(1.0, shape, letter)
}

/// Between which values the chart goes, along and up, in the units shown.
struct Spans {
    along: [f64; 2],
    up: [f64; 2],
}

/// The chart of a sweep, as far as it is known. Where the design has no such figure its curve is broken.
pub fn sweep_chart(frame: &Frame, sweep: &Sweep, reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes::new(frame, plot_of(frame));
    let spans = Spans::of(sweep, reader.units);
    let own = sweep.own();
    let at = |x: f64, y: f64| spans.place(frame, sweep, reader.units, x, y);
    let numbers_along =
        spans.numbers(spans.along, axes.room_across(LETTERS), |share| frame.up(share));
    let numbers_up = spans.numbers(spans.up, axes.room_up(), |share| share * frame.share_mm);
    let shown = own.filter(|own| spans.shows(sweep, reader.units, *own));
    let point = shown.map(|(x, y)| at(x, y));
    let written = |quantity: Quantity, value: f64| quantity.format_result(value, reader.units);
    let own_along = shown.map(|(x, y)| (at(x, y).x, written(sweep.along.input.quantity(), x)));
    let own_up = shown.map(|(x, y)| (at(x, y).y, written(sweep.figure.quantity, y)));
    axes.below(&mut scene, &numbers_along, own_along);
    axes.grid(&mut scene, &numbers_up);
    axes.beside(&mut scene, &numbers_up, own_up);
    let title = |name: Label, quantity: Quantity| {
        let unit = quantity.suffix(reader.units).trim();
        let bare = || name.show(reader.language).into_owned();
        if unit.is_empty() { bare() } else { say::axis(name, unit.to_owned()).show(reader) }
    };
    axes.title_below(&mut scene, title(sweep.along.input.name(), sweep.along.input.quantity()));
    axes.title_beside(&mut scene, title(sweep.figure.name(), sweep.figure.quantity), 1.8);
    axes.outline(&mut scene);
    let limit = limit(&mut scene, frame, &axes, sweep, &spans, reader);
    let curves: Vec<Vec<Vec<Point>>> = (0..sweep.curves())
        .map(|nth| {
            let points = sweep.along.values.iter().zip(sweep.curve(nth));
            broken(points.map(|(x, y)| y.map(|y| at(*x, y))))
        })
        .collect();
    for (nth, (parts, role)) in curves.iter().zip(Role::CURVES).enumerate() {
        for part in parts {
            if part.len() > 1 {
                cased(&mut scene, role, part);
            }
            // Each number of dogs is a point of its own.
            let every = if sweep.along.input.is_whole() { 1 } else { (part.len() / 4).max(1) };
            let lone = part.len() == 1 || sweep.along.input.is_whole() || sweep.each.is_some();
            for middle in part.iter().step_by(every).filter(|_| lone) {
                marker(&mut scene, frame, *middle, nth);
            }
        }
    }
    if let Some(point) = point {
        axes.working_point(&mut scene, point);
    }
    names(&mut scene, frame, sweep, &curves, point, limit, reader);
    scene
}

impl Spans {
    fn of(sweep: &Sweep, units: DisplayUnits) -> Self {
        let scale = sweep.figure.quantity.scale(units);
        let own = sweep.own().map(|(_, value)| value);
        let known = || sweep.values.iter().flatten().copied().chain(own);
        let least = known().fold(0.0, f64::min) / scale;
        let most = known().fold(f64::NEG_INFINITY, f64::max) / scale;
        let most = if most.is_finite() { most } else { 1.0 };
        let limit = sweep.limit().map(|limit| limit / scale).filter(|limit| *limit <= most * NEAR);
        let top = limit.map_or(most, |limit| most.max(limit));
        let top = if top > least { least + (top - least) * PAST } else { least + 1.0 };
        let bottom = if least < 0.0 { least - (top - least) * (PAST - 1.0) } else { 0.0 };
        let along = sweep.along.ends().map(|end| end / sweep.along.input.quantity().scale(units));
        let along = if along[1] > along[0] { along } else { [along[0] - 0.5, along[0] + 0.5] };
        Self { along, up: [bottom, top] }
    }

    fn share([from, to]: [f64; 2], value: f64) -> f64 {
        (value - from) / (to - from)
    }

    fn place(&self, frame: &Frame, sweep: &Sweep, units: DisplayUnits, x: f64, y: f64) -> Point {
        let x = Self::share(self.along, x / sweep.along.input.quantity().scale(units));
        let y = Self::share(self.up, y / sweep.figure.quantity.scale(units));
        Point::new(frame.up(x), y * frame.share_mm)
    }

    /// Whether the chart has the place of a point.
    fn shows(&self, sweep: &Sweep, units: DisplayUnits, (x, _): (f64, f64)) -> bool {
        let share = Self::share(self.along, x / sweep.along.input.quantity().scale(units));
        (-1e-9..=1.0 + 1e-9).contains(&share)
    }

    fn numbers(&self, span: [f64; 2], room: u32, place: impl Fn(f64) -> f64) -> Vec<AxisNumber> {
        let all = ticks_between(span[0], span[1], room).into_iter();
        all.map(|value| (place(Self::share(span, value)), axis_number(value))).collect()
    }
}

/// The limit of the figure as a dashed line with its name, where it is in the chart, and the room that the name takes.
fn limit(
    scene: &mut Scene,
    frame: &Frame,
    axes: &Axes,
    sweep: &Sweep,
    spans: &Spans,
    reader: Reader,
) -> Option<Bounds> {
    let limit = sweep.limit()?;
    let share = Spans::share(spans.up, limit / sweep.figure.quantity.scale(reader.units));
    if !(0.0..1.0).contains(&share) {
        return None;
    }
    let y = share * frame.share_mm;
    axes.across(scene, y);
    let value = sweep.figure.quantity.show_result(limit, reader.units);
    let at = Point::new(axes.inside.max.x - 0.4 * axes.text, y + 0.8 * axes.text);
    let words = say::limit_of_sweep(value).show(reader);
    let wide = box_at(frame, &words, 0.0, 0.0).width();
    let room = box_at(frame, &words, at.x - wide, at.y);
    scene.text(Role::Note, at, axes.text, Anchor::End, words);
    Some(room)
}

/// The parts of a curve between the points that are not there.
fn broken(points: impl Iterator<Item = Option<Point>>) -> Vec<Vec<Point>> {
    let mut parts = vec![Vec::new()];
    for point in points {
        match (point, parts.last_mut()) {
            (Some(point), Some(part)) => part.push(point),
            (None, Some(part)) if !part.is_empty() => parts.push(Vec::new()),
            _ => {}
        }
    }
    parts.retain(|part| !part.is_empty());
    parts
}

/// Points along a chain of straight lines, so close that nothing of letters fits between two.
fn along(part: &[Point]) -> Vec<Point> {
    const EACH: u32 = 16;
    let between = |pair: &[Point]| {
        let (a, b) = (pair[0], pair[1]);
        (0..EACH).map(move |at| {
            let share = f64::from(at) / f64::from(EACH);
            Point::new(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share)
        })
    };
    part.windows(2).flat_map(between).chain(part.last().copied()).collect()
}

/// The value of the second input beside each curve, where nothing is in its way.
fn names(
    scene: &mut Scene,
    frame: &Frame,
    sweep: &Sweep,
    curves: &[Vec<Vec<Point>>],
    own: Option<Point>,
    limit: Option<Bounds>,
    reader: Reader,
) {
    let Some(each) = &sweep.each else { return };
    let text = frame.text_mm;
    let inside = plot_of(frame);
    let all: Vec<Point> = curves.iter().flatten().flat_map(|part| along(part)).collect();
    let around = |p: Point| Bounds {
        min: Point::new(p.x - 0.6 * text, p.y - 0.6 * text),
        max: Point::new(p.x + 0.6 * text, p.y + 0.6 * text),
    };
    let mut taken: Vec<Bounds> = own.into_iter().map(around).chain(limit).collect();
    for (nth, (parts, value)) in curves.iter().zip(&each.values).enumerate() {
        let value = each.input.quantity().show(*value, reader.units);
        let words = name_of_series(frame, &value, "");
        let wide = box_at(frame, &words, 0.0, 0.0).width();
        let is_free = |place: &Bounds| {
            let within = place.min.x >= inside.min.x
                && place.max.x <= inside.max.x
                && place.min.y >= inside.min.y
                && place.max.y <= inside.max.y;
            let touches = |p: &Point| {
                (place.min.x..=place.max.x).contains(&p.x)
                    && (place.min.y..=place.max.y).contains(&p.y)
            };
            within && !taken.iter().any(|other| overlap(place, other)) && !all.iter().any(touches)
        };
        let beside = |p: &Point| {
            let off = [(0.7, 0.0), (0.4, 1.0), (0.4, -1.0), (0.7, 1.6), (0.7, -1.6)];
            let right = off.map(|(x, y)| box_at(frame, &words, p.x + x * text, p.y + y * text));
            let left =
                off.map(|(x, y)| box_at(frame, &words, p.x - wide - x * text, p.y + y * text));
            right.into_iter().chain(left)
        };
        let places = parts.iter().flatten().rev().flat_map(beside);
        // Where the curves leave no room, in the upper right corner beside a marker of its own.
        let listed = || {
            let x = inside.max.x - wide - 0.5 * text;
            let row = |row: u32| {
                box_at(frame, &words, x, inside.max.y - (f64::from(row) * 1.4 + 1.0) * text)
            };
            (0..24).map(row).find(is_free).inspect(|place| {
                let middle = (place.min.y + place.max.y) / 2.0;
                marker(scene, frame, Point::new(place.min.x - 0.7 * text, middle), nth);
            })
        };
        if let Some(place) = places.into_iter().find(is_free).or_else(listed) {
            let start = Point::new(place.min.x, (place.min.y + place.max.y) / 2.0);
            scene.text(Role::Label, start, LABEL * text, Anchor::Start, words);
            taken.push(place);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::draw::scene::Shape;
    use crate::sweep::{Axis, INPUTS, Input, sweepable};
    use crenel_words::Reader;

    fn input(key: &str) -> &'static Input {
        INPUTS.iter().find(|input| input.key() == key).expect("an input")
    }

    fn swept(figure: &str, along: &str, each: Option<&str>) -> Sweep {
        let axis = |key: &str, few: bool| {
            let [from, to] = input(key).usual(&example());
            if few { Axis::few(input(key), from, to) } else { Axis::of(input(key), from, to) }
        };
        let figure = sweepable().find(|f| f.key == figure).expect("a figure");
        let each = each.map(|key| axis(key, true));
        let mut sweep = Sweep::new(example(), figure, axis(along, false), each);
        while sweep.work_out_next() {}
        sweep
    }

    const ASKED: [(&str, &str, Option<&str>); 5] = [
        ("straight_in_limit_rpm", "count", None),
        ("lash_deg", "tip_width_deg", None),
        ("pull_in_n", "back_cut_drive_deg", Some("flank_friction")),
        ("window_time_ms", "slip_rpm", Some("count")),
        ("first_pass_locked_share", "slip_rpm", Some("tip_friction")),
    ];

    /// No two words of a chart lie over each other, wide and on a phone.
    #[test]
    fn labels_do_not_overlap() {
        for (figure, along, each) in ASKED {
            let sweep = swept(figure, along, each);
            for (shape, px) in [(0.42, 620.0), (0.7, 330.0)] {
                let frame = sweep_frame(shape, 12.0 / px);
                let scene = sweep_chart(&frame, &sweep, Reader::default());
                let boxes: Vec<(String, Bounds)> = scene.items.iter().filter_map(words).collect();
                for (nth, (a, one)) in boxes.iter().enumerate() {
                    for (b, other) in &boxes[nth + 1..] {
                        assert!(!overlap(one, other), "{figure} over {along}: “{a}” on “{b}”");
                    }
                }
            }
        }
    }

    fn words(item: &crate::draw::Item) -> Option<(String, Bounds)> {
        let Shape::Text(text) = &item.shape else { return None };
        Some((text.words.clone(), text.bounds()))
    }

    #[test]
    fn a_curve_is_broken_where_there_is_no_figure() {
        let at = |x: f64| Some(Point::new(x, 0.0));
        let parts = broken([None, at(1.0), at(2.0), None, None, at(3.0)].into_iter());
        assert_eq!(parts.iter().map(Vec::len).collect::<Vec<_>>(), [2, 1]);
    }
}
