//! A figure over two inputs: bands of one ink with numbered lines between them, so that it reads without colour, too.

use crenel_words::{Label, Reader, drawing as say};

use super::contour::{Above, Field};
use super::frame::{
    Around, Axes, AxisNumber, BELOW, Canvas, Frame, LABEL, axis_number, cased, plot_of,
    speed_chart, ticks_between,
};
use super::scene::{Anchor, Bounds, Role, Scene, Shape};
use super::series::{box_at, overlap};
use crate::ring::Point;
use crate::sweep::{Axis, Sweep};
use crate::units::{DisplayUnits, Quantity, sort_by_number};

/// Room for the key below the axis, in letter heights: its title, its strip and its numbers, and the sign for no value.
const KEY: f64 = 5.8;

/// Most letters of a number along the lower edge.
const LETTERS: usize = 5;

/// Between which shares of all values the numbered lines lie: a few that are very large would leave no line for the
/// rest.
const MOST_OF_THEM: [f64; 2] = [0.02, 0.98];

/// The frame of a map of a sweep. `shape` is its height over its width, `letter` the height of its letters as a share
/// of its width.
pub fn sweep_map_frame(shape: f64, letter: f64) -> Frame {
    let canvas = Canvas { shape, letter, whole_shift: false };
    speed_chart(1.0, &canvas, Around { below: KEY, ..Around::default() })
}

/// The map of a sweep over two inputs, once it is all known; before that its axes alone.
pub fn sweep_map(frame: &Frame, sweep: &Sweep, reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Some(up) = &sweep.each else { return scene };
    let map = Map { frame, sweep, up, reader, axes: Axes::new(frame, plot_of(frame)) };
    if sweep.is_done() {
        map.fill(&mut scene);
    }
    map.axes(&mut scene);
    scene
}

/// What the pieces of a map share.
struct Map<'a> {
    frame: &'a Frame,
    sweep: &'a Sweep,
    up: &'a Axis,
    reader: Reader,
    axes: Axes,
}

/// A numbered line: its level, how it is drawn, and what is written on it.
struct Level {
    at: f64,
    role: Role,
    words: String,
}

impl Map<'_> {
    const fn units(&self) -> DisplayUnits {
        self.reader.units
    }

    fn fill(&self, scene: &mut Scene) {
        let field = self.field();
        let gaps = field.gaps();
        if !gaps.is_empty() {
            scene.add(Role::Blocked, Shape::Patches(gaps));
        }
        let levels = self.levels();
        let limit = self.limit();
        let band = |scene: &mut Scene, above: Above| {
            scene.add(Role::Band, Shape::Patches(above.patches));
            above.lines
        };
        band(scene, field.above(f64::NEG_INFINITY));
        let mut lines = Vec::new();
        for at in &levels {
            let words = axis_number(*at);
            lines.push((
                Level { at: *at, role: Role::Dimension, words },
                band(scene, field.above(*at)),
            ));
        }
        // A limit is no band, but a line of its own.
        if let Some(level) = limit {
            lines.retain(|(own, _)| (own.at - level.at).abs() > 1e-9 * level.at.abs());
            let above = field.above(level.at);
            lines.insert(0, (level, above.lines));
        }
        for (level, lines) in &lines {
            for line in lines {
                if level.role == Role::Level {
                    cased(scene, level.role, line);
                } else {
                    scene.line(level.role, line);
                }
            }
        }
        let own = self.own();
        let mut taken: Vec<Bounds> = own.iter().map(|(point, _)| self.around(*point)).collect();
        if let Some((point, words)) = own {
            self.axes.working_point(scene, point);
            self.name_own(scene, point, words, &mut taken);
        }
        for (level, lines) in lines {
            self.number(scene, level.words, &lines, &mut taken);
        }
        self.key(scene, &levels);
    }

    /// The values on a grid that lies on the paper; whole numbers reach half way to the next.
    fn field(&self) -> Field {
        let inside = self.axes.inside;
        let across = steps(&self.sweep.along);
        let upwards = steps(self.up);
        let scale = self.sweep.figure.quantity.scale(self.units());
        let value = |row: usize, column: usize| {
            let value = self.sweep.curve(row).get(column).copied().flatten();
            value.filter(|value| value.is_finite()).map(|value| value / scale)
        };
        let values = upwards
            .iter()
            .flat_map(|(row, _)| across.iter().map(|(column, _)| value(*row, *column)))
            .collect();
        let place = |steps: &[(usize, f64)], from: f64, size: f64| {
            steps.iter().map(|(_, share)| from + share * size).collect()
        };
        Field {
            xs: place(&across, inside.min.x, inside.width()),
            ys: place(&upwards, inside.min.y, inside.height()),
            values,
        }
    }

    /// Round numbers between most of the values, as many as the key has room for.
    fn levels(&self) -> Vec<f64> {
        let scale = self.sweep.figure.quantity.scale(self.units());
        let known = self.sweep.values.iter().flatten().filter(|value| value.is_finite());
        let mut known: Vec<f64> = known.map(|value| value / scale).collect();
        known.sort_by(f64::total_cmp);
        let [Some(low), Some(high)] = MOST_OF_THEM.map(|share| at_share(&known, share)) else {
            return Vec::new();
        };
        if high - low <= 1e-9 * high.abs().max(low.abs()) {
            return Vec::new();
        }
        let all = ticks_between(low, high, self.axes.room_across(LETTERS).saturating_sub(1));
        all.into_iter().filter(|level| *level > low && *level < high).collect()
    }

    fn limit(&self) -> Option<Level> {
        let limit = self.sweep.limit()?;
        let quantity = self.sweep.figure.quantity;
        let words = say::limit_of_sweep(quantity.show_result(limit, self.units()));
        Some(Level {
            at: limit / quantity.scale(self.units()),
            role: Role::Level,
            words: words.show(self.reader),
        })
    }

    /// Where the design itself is, if the map has it, and its figure.
    fn own(&self) -> Option<(Point, String)> {
        let (x, value) = self.sweep.own()?;
        let y = self.sweep.own_each()?;
        let [x, y] = [(&self.sweep.along, x), (self.up, y)].map(|(axis, value)| share(axis, value));
        let is_in = |share: f64| (-1e-9..=1.0 + 1e-9).contains(&share);
        let words = self.sweep.figure.quantity.show_result(value, self.units());
        (is_in(x) && is_in(y)).then(|| (self.place(x, y), words))
    }

    fn place(&self, x: f64, y: f64) -> Point {
        let inside = self.axes.inside;
        Point::new(inside.min.x + x * inside.width(), inside.min.y + y * inside.height())
    }

    fn around(&self, point: Point) -> Bounds {
        let half = 0.7 * self.frame.text_mm;
        Bounds {
            min: Point::new(point.x - half, point.y - half),
            max: Point::new(point.x + half, point.y + half),
        }
    }

    /// The figure of the design beside its point.
    fn name_own(&self, scene: &mut Scene, point: Point, words: String, taken: &mut Vec<Bounds>) {
        let text = self.frame.text_mm;
        let wide = box_at(self.frame, &words, 0.0, 0.0).width();
        let places = [(0.8 * text, 0.9), (-wide - 0.8 * text, 0.9), (0.8 * text, -0.9)]
            .map(|(x, y)| box_at(self.frame, &words, point.x + x, point.y + y * text));
        let Some(place) = places.into_iter().find(|place| self.is_free(place, &[])) else { return };
        let at = Point::new(place.min.x, (place.min.y + place.max.y) / 2.0);
        scene.text(Role::Label, at, LABEL * text, Anchor::Start, words);
        taken.push(place);
    }

    /// A number on its line: on the longest one, as near its middle as there is room.
    fn number(
        &self,
        scene: &mut Scene,
        words: String,
        lines: &[Vec<Point>],
        taken: &mut Vec<Bounds>,
    ) {
        let text = self.frame.text_mm;
        let wide = box_at(self.frame, &words, 0.0, 0.0).width();
        let mut longest: Vec<&Vec<Point>> = lines.iter().collect();
        sort_by_number(&mut longest, |line| -length(line));
        let places = longest.into_iter().flat_map(|line| outwards(line));
        let boxes = places.map(|p| box_at(self.frame, &words, p.x - wide / 2.0, p.y));
        let Some(place) = boxes.into_iter().find(|place| self.is_free(place, taken)) else {
            return;
        };
        let [x, y] = [(place.min.x + place.max.x) / 2.0, (place.min.y + place.max.y) / 2.0];
        scene.text(Role::Note, Point::new(x, y), text, Anchor::Middle, words);
        taken.push(place);
    }

    fn is_free(&self, place: &Bounds, taken: &[Bounds]) -> bool {
        let inside = self.axes.inside;
        let within = place.min.x >= inside.min.x
            && place.max.x <= inside.max.x
            && place.min.y >= inside.min.y
            && place.max.y <= inside.max.y;
        within && !taken.iter().any(|other| overlap(place, other))
    }

    fn axes(&self, scene: &mut Scene) {
        let numbers = |axis: &Axis, room: u32, place: &dyn Fn(f64) -> f64| -> Vec<AxisNumber> {
            let quantity = axis.input.quantity();
            let scale = quantity.scale(self.units());
            let [from, to] = axis.ends().map(|end| end / scale);
            let all = ticks_between(from, to, room).into_iter();
            let all = all.filter(|value| !axis.input.is_whole() || value.fract() == 0.0);
            all.map(|value| (place(share(axis, value * scale)), axis_number(value))).collect()
        };
        let across =
            numbers(&self.sweep.along, self.axes.room_across(LETTERS), &|x| self.place(x, 0.0).x);
        let upwards = numbers(self.up, self.axes.room_up(), &|y| self.place(0.0, y).y);
        let own = self.own().filter(|_| self.sweep.is_done()).map(|(point, _)| point);
        let written = |axis: &Axis| {
            let value = axis.input.value(&self.sweep.base).unwrap_or_default();
            axis.input.quantity().format_result(value, self.units())
        };
        self.axes.below(scene, &across, own.map(|point| (point.x, written(&self.sweep.along))));
        self.axes.beside(scene, &upwards, own.map(|point| (point.y, written(self.up))));
        let (along, up) = (self.sweep.along.input, self.up.input);
        self.axes.title_below(scene, self.title(along.name(), along.quantity()));
        self.axes.title_beside(scene, self.title(up.name(), up.quantity()), 1.8);
        self.axes.outline(scene);
    }

    /// A name with its unit.
    fn title(&self, name: Label, quantity: Quantity) -> String {
        let unit = quantity.suffix(self.units()).trim();
        if unit.is_empty() {
            return name.show(self.reader.language).into_owned();
        }
        say::axis(name, unit.to_owned()).show(self.reader)
    }

    /// What the bands mean: a strip of them with the numbers of the lines between, under the name of the figure.
    fn key(&self, scene: &mut Scene, levels: &[f64]) {
        let text = self.frame.text_mm;
        let (left, wide) = (self.axes.inside.min.x, self.axes.inside.width());
        let top = self.axes.inside.min.y - (BELOW + 1.6) * text;
        let title = self.title(self.sweep.figure.name(), self.sweep.figure.quantity);
        let above = Point::new(left, top + 0.8 * text);
        scene.text(Role::Note, above, text, Anchor::Start, title);
        let corners = |from: f64, to: f64, high: f64| {
            [(from, high - text), (to, high - text), (to, high), (from, high)]
                .map(|(x, y)| Point::new(x, y))
        };
        let bands = f64::from(u32::try_from(levels.len() + 1).unwrap_or(1));
        for (nth, level) in (0_u32..).zip([None].into_iter().chain(levels.iter().map(Some))) {
            let x = left + wide * f64::from(nth) / bands;
            let patch = corners(x, left + wide, top).to_vec();
            scene.add(Role::Band, Shape::Patches(vec![patch]));
            if let Some(level) = level {
                let ends = [0.0, 1.3].map(|down| Point::new(x, top - down * text));
                scene.line(Role::Dimension, &ends);
                let below = Point::new(x, top - 2.0 * text);
                scene.text(Role::Note, below, text, Anchor::Middle, axis_number(*level));
            }
        }
        scene.polygon(Role::Border, &corners(left, left + wide, top));
        if self.sweep.values.iter().any(Option::is_none) {
            let low = top - 2.8 * text;
            let swatch = corners(left, left + 1.6 * text, low);
            scene.add(Role::Blocked, Shape::Patches(vec![swatch.to_vec()]));
            scene.polygon(Role::Border, &swatch);
            let at = Point::new(left + 2.1 * text, low - 0.5 * text);
            scene.text(Role::Note, at, text, Anchor::Start, say::no_value().show(self.reader));
        }
    }
}

/// The places of the values of an axis with their shares of it. Whole numbers have two, half way to either neighbour.
fn steps(axis: &Axis) -> Vec<(usize, f64)> {
    let half = if axis.input.is_whole() { 0.5 } else { 0.0 };
    let both = if axis.input.is_whole() { vec![-half, half] } else { vec![0.0] };
    let places = axis.values.iter().enumerate();
    places.flat_map(|(at, v)| both.iter().map(move |by| (at, share(axis, v + by)))).collect()
}

/// Where a value lies along an axis, as a share of it.
fn share(axis: &Axis, value: f64) -> f64 {
    let [from, to] = axis.ends();
    let aside = if axis.input.is_whole() || to <= from { 0.5 } else { 0.0 };
    (value - from + aside) / (to - from + 2.0 * aside)
}

/// The number below which so large a share of sorted numbers lies.
fn at_share(sorted: &[f64], share: f64) -> Option<f64> {
    #[expect(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "points are few"
    )]
    let at = (share * sorted.len().saturating_sub(1) as f64).round() as usize;
    sorted.get(at).copied()
}

fn length(line: &[Point]) -> f64 {
    line.windows(2)
        .map(|pair| Point::new(pair[1].x - pair[0].x, pair[1].y - pair[0].y).radius())
        .sum()
}

/// The points of a line from its middle to its ends.
fn outwards(line: &[Point]) -> impl Iterator<Item = Point> {
    let middle = line.len() / 2;
    let after = line[middle..].iter();
    let before = line[..middle].iter().rev();
    let longer = after.len().max(before.len());
    let at =
        move |nth: usize| [line.get(middle + nth), middle.checked_sub(nth + 1).map(|at| &line[at])];
    (0..longer).flat_map(at).flatten().copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::sweep::{INPUTS, Input, sweepable};

    fn input(key: &str) -> &'static Input {
        INPUTS.iter().find(|input| input.key() == key).expect("an input")
    }

    fn swept(figure: &str, along: &str, up: &str) -> Sweep {
        let side = |key: &str| {
            let [from, to] = input(key).usual(&example());
            Axis::side(input(key), from, to)
        };
        let figure = sweepable().find(|f| f.key == figure).expect("a figure");
        let mut sweep = Sweep::map(example(), figure, side(along), side(up));
        while sweep.work_out_next() {}
        sweep
    }

    const ASKED: [(&str, &str, &str); 5] = [
        ("straight_in_limit_rpm", "count", "tip_width_deg"),
        ("lash_deg", "tip_width_deg", "count"),
        ("pull_in_n", "back_cut_drive_deg", "flank_friction"),
        ("window_time_ms", "slip_rpm", "tip_width_deg"),
        ("clunk_nm", "stiffness_nm_per_rad", "throttle_torque_nm"),
    ];

    fn texts(scene: &Scene) -> Vec<(String, Bounds)> {
        let one = |item: &crate::draw::Item| {
            let Shape::Text(text) = &item.shape else { return None };
            Some((text.words.clone(), text.bounds()))
        };
        scene.items.iter().filter_map(one).collect()
    }

    /// No two words of a map lie over each other or leave the paper, wide, on a phone and as figures of papers.
    #[test]
    fn labels_do_not_overlap() {
        for (figure, along, up) in ASKED {
            let sweep = swept(figure, along, up);
            for (shape, letter) in [(0.6, 12.0 / 620.0), (1.0, 12.0 / 330.0), (0.7, 4.2 / 85.0)] {
                let scene = sweep_map(&sweep_map_frame(shape, letter), &sweep, Reader::default());
                let boxes = texts(&scene);
                for (nth, (a, one)) in boxes.iter().enumerate() {
                    assert!(one.min.y > scene.bounds.min.y, "{figure}: “{a}” below the paper");
                    for (b, other) in &boxes[nth + 1..] {
                        assert!(!overlap(one, other), "{figure} over {along}: “{a}” on “{b}”");
                    }
                }
            }
        }
    }

    /// Each band of the key has its number, each number is on the map, and the design is marked with its figure.
    #[test]
    fn a_map_reads_without_its_colours() {
        let sweep = swept("straight_in_limit_rpm", "count", "tip_width_deg");
        let frame = sweep_map_frame(0.6, 12.0 / 620.0);
        let scene = sweep_map(&frame, &sweep, Reader::default());
        let words: Vec<String> = texts(&scene).into_iter().map(|(words, _)| words).collect();
        let own = sweep
            .own()
            .map(|(_, value)| sweep.figure.quantity.show_result(value, Default::default()));
        assert!(words.contains(&own.expect("a figure")), "{words:?}");
        let bands = scene.items.iter().filter(|item| item.role == Role::Band).count();
        // Each band is once on the map and once in the key.
        let levels = bands / 2 - 1;
        assert!(levels >= 3, "{levels}");
        let twice = |word: &&String| words.iter().filter(|other| other == word).count() >= 2;
        assert!(words.iter().filter(twice).count() >= 2 * levels, "{words:?}");
        assert!(words.iter().any(|word| word == "no value"), "{words:?}");
        assert!(scene.items.iter().any(|item| item.role == Role::Blocked));
    }

    /// Any two inputs of any kind can be mapped, also where nothing has a value or all values are one.
    #[test]
    fn a_map_of_nothing_has_axes() {
        let figure = sweepable().next().expect("a figure");
        let side = |key: &str, ends: [f64; 2]| Axis::side(input(key), ends[0], ends[1]);
        for (ends, value) in
            [([4.0, 4.0], None), ([2.0, 9.0], Some(3.0)), ([2.0, 9.0], Some(f64::NAN))]
        {
            let mut sweep =
                Sweep::map(example(), figure, side("count", ends), side("height_mm", ends));
            let frame = sweep_map_frame(0.6, 0.02);
            assert!(!texts(&sweep_map(&frame, &sweep, Reader::default())).is_empty());
            sweep.values = vec![value; sweep.points()];
            let scene = sweep_map(&frame, &sweep, Reader::default());
            assert!(scene.items.iter().all(|item| item.shape.is_within(f64::INFINITY)));
        }
    }
}
