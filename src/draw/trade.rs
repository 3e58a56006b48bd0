//! What several layouts cost for what they give: the clunk as the throttle opens over the speed difference that goes
//! straight in.

use crenel_words::{Reader, drawing as say};

use super::frame::{Axes, Frame, LABEL, plot_of, speeds_across, ticks};
use super::scene::{Anchor, Bounds, Role, Scene};
use super::series::{box_at, marker, name_of_series, number, overlap};
use crate::ring::Point;

/// One layout of the chart.
#[derive(Clone, Debug, PartialEq)]
pub struct Trade {
    /// The number of the layout, from 1.
    pub number: usize,
    /// The name of the layout.
    pub name: String,
    /// The speed difference up to which it goes straight in, rpm.
    pub straight_in_rpm: f64,
    /// The torque of the blow as the lash is taken up, N·m.
    pub clunk_nm: f64,
}

/// Room past the farthest layout, as a share of its value.
const PAST: f64 = 1.15;

/// The greatest speed difference of a chart of layouts, rpm.
pub fn top_of(trades: &[Trade]) -> f64 {
    (PAST * trades.iter().map(|t| t.straight_in_rpm).fold(0.0, f64::max)).max(1.0)
}

/// A marker with its name for each layout. Better is farther right and farther down, which the chart says in its
/// corner.
pub fn trade_chart(frame: &Frame, trades: &[Trade], reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes::new(frame, plot_of(frame));
    let top_nm = (PAST * trades.iter().map(|t| t.clunk_nm).fold(0.0, f64::max)).max(1.0);
    let up = |nm: f64| nm / top_nm * frame.share_mm;
    let blows: Vec<_> =
        ticks(top_nm, axes.room_up()).into_iter().map(|nm| (up(nm), format!("{nm}"))).collect();
    axes.below(&mut scene, &speeds_across(frame), None);
    axes.grid(&mut scene, &blows);
    axes.beside(&mut scene, &blows, None);
    axes.title_below(&mut scene, say::straight_in_axis().show(reader));
    axes.title_beside(&mut scene, say::clunk_axis().show(reader), 1.8);
    axes.outline(&mut scene);
    let places: Vec<_> =
        trades.iter().map(|t| Point::new(frame.up(t.straight_in_rpm), up(t.clunk_nm))).collect();
    let mut taken = vec![better(&mut scene, frame, reader)];
    taken.extend(places.iter().map(|at| around(frame, *at)));
    for (series, (trade, at)) in trades.iter().zip(&places).enumerate() {
        marker(&mut scene, frame, *at, series);
        let words = name_of_series(frame, &trade.number.to_string(), &trade.name);
        let place = free_place(frame, &words, *at, &taken);
        taken.push(place);
        let start = Point::new(place.min.x, (place.min.y + place.max.y) / 2.0);
        scene.text(Role::Label, start, LABEL * frame.text_mm, Anchor::Start, words);
    }
    scene
}

/// Says in the lower right corner that this is where the better ones are, and gives the room that it takes.
fn better(scene: &mut Scene, frame: &Frame, reader: Reader) -> Bounds {
    let text = frame.text_mm;
    let words = say::better_here().show(reader);
    let end = Point::new(plot_of(frame).max.x - 0.5 * text, 0.9 * text);
    let wide = box_at(frame, &words, 0.0, 0.0).width();
    let room = box_at(frame, &words, end.x - wide, end.y);
    scene.text(Role::Note, end, text, Anchor::End, words);
    room
}

/// The room of a marker.
fn around(frame: &Frame, at: Point) -> Bounds {
    let half = 0.45 * frame.text_mm;
    Bounds { min: Point::new(at.x - half, at.y - half), max: Point::new(at.x + half, at.y + half) }
}

/// A place for words beside a marker, above or below it, inside the chart where nothing else is. Where all is full it
/// goes up from the marker until there is room.
fn free_place(frame: &Frame, words: &str, at: Point, taken: &[Bounds]) -> Bounds {
    let text = frame.text_mm;
    let inside = plot_of(frame);
    let wide = box_at(frame, words, 0.0, 0.0).width();
    let across = [at.x + 0.7 * text, at.x - wide - 0.7 * text, at.x - wide / 2.0];
    let rows = (0..24).flat_map(|row| {
        let off = number(row) * 0.7 * text;
        [at.y + off, at.y - off]
    });
    let mut places =
        rows.flat_map(|y| across.map(|x| box_at(frame, words, x, y))).filter(|place: &Bounds| {
            place.min.x >= inside.min.x
                && place.max.x <= inside.max.x
                && place.min.y >= inside.min.y
                && place.max.y <= inside.max.y
        });
    let is_free = |place: &Bounds| !taken.iter().any(|other| overlap(place, other));
    places
        .find(is_free)
        .unwrap_or_else(|| box_at(frame, words, inside.min.x + 0.3 * text, inside.max.y - text))
}
