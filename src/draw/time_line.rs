//! A whole shift on one time axis: engine speed, torque at the dogs that hold, and the overlap of old and new dogs.

use crenel_words::{Message, Reader, Value, drawing as say};

use super::frame::{
    Around, Axes, Canvas, Frame, LABEL, LABEL_ROW, TITLE, axis_number, cased, labels_above,
    plot_of, speed_chart, ticks_between,
};
use super::scene::{Anchor, Bounds, Role, Scene, words_width};
use crate::driveline::{Joint, JointStep};
use crate::model::{LineMoment, LineStep, Manner, TimeLine, WholeCatch};
use crate::ring::Point;
use crate::units::{Quantity, sort_by_number};

/// Room past the last moment.
const PAST: f64 = 1.04;

/// Room between two bands, in letter heights: the title of the lower one and air.
const BETWEEN: f64 = 2.8;

/// Heights of the bands from the top, as shares of what is left without that room.
const BANDS: [f64; 3] = [0.3, 0.4, 0.3];

/// Least height of the whole chart in letter heights, so that each band can be read.
const LEAST: f64 = 34.0;

/// What a curve shows of a moment.
type Of = fn(&LineMoment) -> f64;

/// A sentence with a time.
type Timed = fn(Value) -> Message;

/// The events that have a name on the chart.
fn named(line: &TimeLine) -> Vec<(f64, Message)> {
    let words = |step: LineStep| -> Option<Timed> {
        Some(match step {
            LineStep::Signals => say::sensor_signals,
            LineStep::Pushes => say::fork_pushes,
            LineStep::Strikes => say::other_flanks_strike,
            LineStep::Out => say::dogs_out,
            LineStep::Level => say::new_tips_level,
            LineStep::In => say::dogs_in,
            LineStep::Hooks
            | LineStep::Acts
            | LineStep::Moves
            | LineStep::Ready
            | LineStep::Peak => return None,
        })
    };
    let told = line.events.iter().filter_map(|(time_s, step)| Some((*time_s, words(*step)?)));
    let mut told: Vec<_> = told.chain(of_driveline(line)).collect();
    sort_by_number(&mut told, |(time_s, _)| *time_s);
    let says = |(time_s, words): (f64, Timed)| {
        (time_s, words(Value::Number(Quantity::Time, time_s * 1000.0)))
    };
    told.into_iter().map(says).collect()
}

/// What first happens at clutch, cush drive and tyre once the new dogs catch.
fn of_driveline(line: &TimeLine) -> impl Iterator<Item = (f64, Timed)> {
    let whole = caught(line);
    let named: [(Joint, JointStep, Timed); 4] = [
        (Joint::Clutch, JointStep::Slips, say::clutch_slips),
        (Joint::Cush, JointStep::Stops, say::cush_at_its_stop),
        (Joint::Tyre, JointStep::Slips, say::tyre_slips),
        (Joint::Tyre, JointStep::Grips, say::tyre_grips),
    ];
    named.into_iter().filter_map(move |(joint, what, words)| {
        let whole = whole?;
        Some((whole.begins_s + whole.run.first_s(joint, what)?, words))
    })
}

/// The catch with the whole driveline, where it is known.
fn caught(line: &TimeLine) -> Option<&WholeCatch> {
    line.whole.as_ref()?.as_ref().ok()
}

/// A shift in time, and the same shift of another layout beside it.
#[derive(Clone, Copy)]
pub struct TimeLines<'a> {
    /// The shift that is told.
    pub line: &'a TimeLine,
    /// That of the other layout.
    pub beside: Option<&'a TimeLine>,
    /// The gear that is entered, first gear is 0.
    pub to: usize,
    /// How it is shifted.
    pub manner: Manner,
}

impl<'a> TimeLines<'a> {
    fn all(&self) -> impl Iterator<Item = &'a TimeLine> + use<'a> {
        [Some(self.line), self.beside].into_iter().flatten()
    }

    /// From the first moment to the last, ms since the cut.
    fn span_ms(&self) -> [f64; 2] {
        let begins = self.all().map(TimeLine::begins_s).fold(0.0, f64::min);
        let lasts = self.all().map(TimeLine::lasts_s).fold(0.0, f64::max);
        [begins * 1000.0, (lasts * 1000.0).max(1e-3)]
    }

    /// Every moment of both.
    fn moments(&self) -> impl Iterator<Item = &'a LineMoment> + use<'a> {
        self.all().flat_map(|line| &line.moments)
    }
}

/// The frame of the chart. `shape` is its height over its width, `letter` the height of its letters as a share of its
/// width.
pub fn time_line_frame(lines: &TimeLines, shape: f64, letter: f64) -> Frame {
    let rows: f64 = named(lines.line).iter().map(|_| LABEL_ROW).sum();
    let canvas = Canvas { shape: shape.max((LEAST + rows) * letter), letter, whole_shift: false };
    let [begins_ms, lasts_ms] = lines.span_ms();
    let lasts_ms = lasts_ms * PAST - begins_ms;
    speed_chart(lasts_ms, &canvas, Around { above: rows, ..Around::default() })
}

/// One of the charts above each other.
struct Band {
    axes: Axes,
    low: f64,
    high: f64,
}

impl Band {
    /// The band so many from the top, for values between two.
    fn new(frame: &Frame, number: usize, low: f64, high: f64) -> Self {
        let all = plot_of(frame);
        let gap = BETWEEN * frame.text_mm;
        let room = all.height() - 2.0 * gap;
        let above: f64 = BANDS.iter().take(number).map(|share| share * room + gap).sum();
        let top = all.max.y - above;
        let min = Point::new(all.min.x, top - BANDS[number] * room);
        let inside = Bounds { min, max: Point::new(all.max.x, top) };
        Self { axes: Axes::new(frame, inside), low, high: high.max(low + 1e-9) }
    }

    fn up(&self, value: f64) -> f64 {
        let inside = &self.axes.inside;
        inside.min.y + (value - self.low) / (self.high - self.low) * inside.height()
    }

    /// Numbers, lines and title at the left.
    fn begin(&self, scene: &mut Scene, title: String) {
        let values = ticks_between(self.low, self.high, self.axes.room_up().min(5)).into_iter();
        let numbers: Vec<_> = values.map(|value| (self.up(value), axis_number(value))).collect();
        self.axes.grid(scene, &numbers);
        self.axes.beside(scene, &numbers, None);
        self.axes.title_beside(scene, title, 0.9);
        self.axes.outline(scene);
    }

    /// Words near a line at a time, on the side of it that has room.
    fn note(&self, scene: &mut Scene, x: f64, value: f64, anchor: Anchor, words: String) {
        let (inside, text) = (&self.axes.inside, self.axes.text);
        let y = self.up(value);
        let above = y + 1.6 * text < inside.max.y;
        let y = if above { y + 0.8 * text } else { y - 0.9 * text };
        let width = words_width(&words) * LABEL * text;
        let x = match anchor {
            Anchor::End => x.max(inside.min.x + width + 0.4 * text),
            _ => x.min(inside.max.x - width - 0.4 * text),
        };
        scene.text(Role::Note, Point::new(x, y), LABEL * text, anchor, words);
    }
}

/// The chart; `now_s` is the moment that is read out, if one is.
pub fn time_line_chart(
    frame: &Frame,
    lines: &TimeLines,
    now_s: Option<f64>,
    reader: Reader,
) -> Scene {
    let line = lines.line;
    let chart = Chart::new(frame, lines);
    let mut scene = Scene::new(frame.bounds);
    let labels: Vec<_> = named(line)
        .into_iter()
        .map(|(time_s, words)| (chart.x(time_s), words.show(reader)))
        .collect();
    labels_above(&mut scene, frame, &labels, TITLE);
    let right = plot_of(frame).max.x - 0.4 * frame.text_mm;
    let [speeds, torques, depths] = &chart.bands;
    speeds.begin(&mut scene, say::engine_axis(lines.manner.key()).show(reader));
    speeds.axes.across(&mut scene, speeds.up(line.target_rpm));
    torques.begin(&mut scene, say::torque_axis().show(reader));
    depths.begin(&mut scene, say::overlap_axis().show(reader));
    if let Some(beside) = lines.beside {
        chart.beside(&mut scene, beside);
    }
    cased(&mut scene, Role::CurveC, &chart.path(0, &line.moments, |m| m.engine_rpm));
    let target = say::speed_of_gear(lines.to).show(reader);
    speeds.note(&mut scene, right, line.target_rpm, Anchor::End, target);
    chart.torques(&mut scene, line, reader);
    let (old, rest) = parted(line);
    cased(&mut scene, Role::CurveB, &chart.path(2, old, |m| m.old_mm));
    cased(&mut scene, Role::CurveA, &chart.path(2, rest, |m| m.new_mm));
    chart.spread(&mut scene, line);
    let [from, until] = lines.span_ms();
    let times = ticks_between(from, until * PAST, depths.axes.room_across(4)).into_iter();
    let times: Vec<_> = times.map(|ms| (chart.x(ms / 1000.0), axis_number(ms))).collect();
    depths.axes.below(&mut scene, &times, None);
    depths.axes.title_below(&mut scene, say::line_time_axis(lines.manner.key()).show(reader));
    if let Some(now) = now_s {
        let all = plot_of(frame);
        let ends = [all.min.y, all.max.y].map(|y| Point::new(chart.x(now), y));
        cased(&mut scene, Role::Dimension, &ends);
    }
    scene
}

/// The moments until the old dogs are out, and the rest.
fn parted(line: &TimeLine) -> (&[LineMoment], &[LineMoment]) {
    let out = line.moments.iter().position(|m| m.old_mm <= 0.0).unwrap_or(line.moments.len());
    line.moments.split_at(out)
}

/// The three bands with the times across them: speed, torque and overlap.
struct Chart<'a> {
    frame: &'a Frame,
    begins_ms: f64,
    bands: [Band; 3],
}

impl<'a> Chart<'a> {
    fn new(frame: &'a Frame, lines: &TimeLines) -> Self {
        let deepest = lines.moments().map(|m| m.old_mm.max(m.new_mm)).fold(1e-3, f64::max);
        let depths = Band::new(frame, 2, 0.0, 1.08 * deepest);
        let [begins_ms, _] = lines.span_ms();
        let bands = [speed_band(frame, lines), torque_band(frame, lines), depths];
        Self { frame, begins_ms, bands }
    }

    fn x(&self, time_s: f64) -> f64 {
        self.frame.up(time_s * 1000.0 - self.begins_ms)
    }

    fn path(&self, band: usize, moments: &[LineMoment], of: Of) -> Vec<Point> {
        let up = |m: &LineMoment| Point::new(self.x(m.time_s), self.bands[band].up(of(m)));
        moments.iter().map(up).collect()
    }

    /// Another layout, in chain lines: its rigid bound, its speed and its overlaps.
    fn beside(&self, scene: &mut Scene, line: &TimeLine) {
        let (old, rest) = parted(line);
        let lines: [(usize, &[LineMoment], Of); 4] = [
            (0, &line.moments, |m| m.engine_rpm),
            (1, &line.moments, |m| m.torque_nm),
            (2, old, |m| m.old_mm),
            (2, rest, |m| m.new_mm),
        ];
        for (band, moments, of) in lines {
            scene.line(Role::CurveF, &self.path(band, moments, of));
        }
    }

    fn torques(&self, scene: &mut Scene, line: &TimeLine, reader: Reader) {
        let (old, rest) = parted(line);
        cased(scene, Role::CurveB, &self.path(1, old, |m| m.torque_nm));
        let bound = if caught(line).is_some() { Role::CurveE } else { Role::CurveA };
        cased(scene, bound, &self.path(1, rest, |m| m.torque_nm));
        let Some(whole) = caught(line) else { return };
        let band = &self.bands[1];
        let at = |joint: Joint| -> Vec<Point> {
            let moments = torques_at(whole, joint);
            moments.map(|(time_s, nm)| Point::new(self.x(time_s), band.up(nm))).collect()
        };
        cased(scene, Role::CurveD, &at(Joint::Tyre));
        cased(scene, Role::CurveA, &at(Joint::Dogs));
        let hardest =
            torques_at(whole, Joint::Tyre).max_by(|(_, a), (_, b)| a.abs().total_cmp(&b.abs()));
        if let Some((time_s, nm)) = hardest {
            let at = self.x(time_s) - 0.4 * self.frame.text_mm;
            band.note(scene, at, nm, Anchor::End, say::mark_tyre().show(reader));
        }
    }

    /// From when to when the old dogs are out and the new ones hold, in 5 to 95 % of the shifts: a bar with ends at the
    /// foot of the overlaps.
    fn spread(&self, scene: &mut Scene, line: &TimeLine) {
        let text = self.frame.text_mm;
        let foot = self.bands[2].axes.inside.min.y;
        for ([from, _, to], y) in [(line.spread.out_s, 0.45), (line.spread.in_s, 0.9)] {
            let [from, to] = [from, to].map(|time_s| self.x(time_s));
            let y = foot + y * text;
            let stroke = |x: f64| [Point::new(x, y - 0.25 * text), Point::new(x, y + 0.25 * text)];
            cased(scene, Role::Dimension, &[Point::new(from, y), Point::new(to, y)]);
            for x in [from, to] {
                scene.line(Role::Dimension, &stroke(x));
            }
        }
    }
}

/// Engine speed with some room; it does not begin at 0.
fn speed_band(frame: &Frame, lines: &TimeLines) -> Band {
    let speeds = || lines.moments().map(|m| m.engine_rpm).chain([lines.line.target_rpm]);
    let (least, most) = (speeds().fold(f64::INFINITY, f64::min), speeds().fold(0.0, f64::max));
    let room = (0.15 * (most - least)).max(0.01 * most);
    Band::new(frame, 0, least - room, most + room)
}

/// Torque at a joint over the time of the line.
fn torques_at(whole: &WholeCatch, joint: Joint) -> impl Iterator<Item = (f64, f64)> {
    let moments = whole.run.moments.iter();
    moments.map(move |m| (whole.begins_s + m.time_s, m.torques_nm[joint.place()]))
}

fn torque_band(frame: &Frame, lines: &TimeLines) -> Band {
    let whole = || {
        let joints = [Joint::Dogs, Joint::Tyre].into_iter();
        caught(lines.line).into_iter().flat_map(move |whole| {
            joints.clone().flat_map(move |joint| torques_at(whole, joint).map(|(_, nm)| nm))
        })
    };
    let torques = || lines.moments().map(|m| m.torque_nm).chain(whole());
    let (least, most) = (torques().fold(0.0, f64::min), torques().fold(0.0, f64::max));
    let room = 0.06 * (most - least).max(1.0);
    Band::new(frame, 1, least - room, most + room)
}
