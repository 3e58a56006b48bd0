//! How the old dogs let go: torque and overlap over the time since the cut, with what happens at its time.

use crenel_words::{Message, Reader, Value, drawing as say};

use super::frame::{
    Around, Axes, Canvas, Frame, LABEL, TITLE, axis_number, cased, labels_above, plot_of,
    speed_chart, ticks,
};
use super::scene::{Anchor, Role, Scene, shortened};
use crate::ring::Point;
use crate::shift::{Release, ReleaseEvent, ReleaseStep};
use crate::units::{Quantity, sort_by_number};

/// Rows of words above the chart.
const ROWS: usize = 4;

/// Room past the last moment.
const PAST: f64 = 1.08;

/// A sentence with a time.
type Timed = fn(Value) -> Message;

/// The events that are named, each once: when it first happens.
fn named(release: &Release) -> Vec<(&ReleaseEvent, Message)> {
    let first = |what| release.events.iter().find(|event| event.what == what);
    let words: [(ReleaseStep, Timed); ROWS] = [
        (ReleaseStep::Moves, say::begins_to_move),
        (ReleaseStep::Unloaded, say::unloaded),
        (ReleaseStep::CoastStrikes, say::coast_strikes),
        (ReleaseStep::Out, say::dogs_out),
    ];
    let tell = |(what, words): (ReleaseStep, Timed)| {
        let event = first(what)?;
        Some((event, words(Value::Number(Quantity::Time, event.time_s * 1000.0))))
    };
    let mut named: Vec<_> = words.into_iter().filter_map(tell).collect();
    sort_by_number(&mut named, |(event, _)| event.time_s);
    named
}

/// The frame of the chart. `shape` is its height over its width, `letter` the height of its letters as a share of its
/// width.
pub fn release_frame(release: &Release, shape: f64, letter: f64) -> Frame {
    let lasts = release.moments.last().map_or(1e-3, |last| last.time_s);
    let canvas = Canvas { shape, letter, whole_shift: false };
    let rows = named(release).iter().map(|_| super::frame::LABEL_ROW).sum();
    speed_chart(
        (lasts * 1000.0 * PAST).max(1e-3),
        &canvas,
        Around { above: rows, ..Around::default() },
    )
}

/// Torque at the dogs as one line, the overlap that is left as another, each from its least to its greatest.
pub fn release_chart(frame: &Frame, release: &Release, reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes::new(frame, plot_of(frame));
    let torques = || release.moments.iter().map(|m| m.torque_nm);
    let (least, most) = (torques().fold(0.0, f64::min), torques().fold(1.0, f64::max));
    let up = |nm: f64| (nm - least) / (most - least) * frame.share_mm;
    let both = ticks(most, axes.room_up() / 2)
        .into_iter()
        .chain(ticks(-least, axes.room_up() / 2).into_iter().skip(1).map(|nm| -nm))
        .filter(|nm| (least..=most).contains(nm));
    let numbers: Vec<_> = both.map(|nm| (up(nm), axis_number(nm))).collect();
    let times = ticks(frame.top_rpm, axes.room_across(4)).into_iter();
    let times: Vec<_> = times.map(|ms| (frame.up(ms), axis_number(ms))).collect();
    axes.below(&mut scene, &times, None);
    axes.grid(&mut scene, &numbers);
    axes.beside(&mut scene, &numbers, None);
    axes.title_below(&mut scene, say::time_axis().show(reader));
    axes.title_beside(&mut scene, say::dog_torque_axis().show(reader), 1.8);
    let labels: Vec<_> = named(release)
        .into_iter()
        .map(|(event, words)| (frame.up(event.time_s * 1000.0), words.show(reader)))
        .collect();
    labels_above(&mut scene, frame, &labels, TITLE);
    axes.outline(&mut scene);
    let at = |time_s: f64, y: f64| Point::new(frame.up(time_s * 1000.0), y);
    let torque: Vec<_> = release.moments.iter().map(|m| at(m.time_s, up(m.torque_nm))).collect();
    let whole = release.moments.first().map_or(1.0, |first| first.overlap_m).max(1e-9);
    let left = release.moments.iter();
    let left: Vec<_> =
        left.map(|m| at(m.time_s, m.overlap_m / whole * 0.94 * frame.share_mm)).collect();
    cased(&mut scene, Role::CurveB, &left);
    cased(&mut scene, Role::CurveA, &torque);
    let overlap = say::overlap_left(Value::Number(Quantity::Length, whole * 1000.0)).show(reader);
    let text = frame.text_mm;
    let overlap = shortened(&overlap, plot_of(frame).width() / (LABEL * text) - 1.0);
    let below = 0.94 * frame.share_mm - 1.1 * text;
    let place = Point::new(plot_of(frame).max.x - 0.5 * text, below);
    scene.text(Role::Note, place, LABEL * text, Anchor::End, overlap);
    scene
}
