//! Chances of several layouts in one chart.

use crenel_words::{Reader, drawing as say};

use super::frame::{Axes, Frame, LABEL, cased, plot_of, shares, speeds_across};
use super::scene::{Anchor, Bounds, Role, Scene};
use super::series::{box_at, marker, name_of_series, number, overlap};
use crate::ring::Point;
use crate::shift::OutcomeMap;
use crate::units::{rad_per_s, sort_by_number};

/// One curve: its number and name, and the map that it is read from.
pub struct Curve<'a> {
    /// The number of the layout, from 1.
    pub number: usize,
    /// The name of the layout.
    pub name: String,
    /// The map of the layout.
    pub map: &'a OutcomeMap,
}

/// How many speed differences a curve is drawn through.
const SAMPLES: u32 = 240;

/// Curves that differ by less everywhere are labelled as one.
const EQUAL: f64 = 0.004;

/// How far equal curves are drawn apart, in letter heights: 2 px.
const APART: f64 = 2.0 / 12.0;

/// How many markers there are on a curve.
const MARKERS: usize = 5;

/// Chances at the first pass of several layouts over the speed difference, each with a line and a marker of its
/// own and its name where the others are farthest.
pub fn chance_curves(frame: &Frame, curves: &[Curve], reader: Reader) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let axes = Axes::new(frame, plot_of(frame));
    axes.below(&mut scene, &speeds_across(frame), None);
    axes.grid(&mut scene, &shares(frame));
    axes.beside(&mut scene, &shares(frame), None);
    axes.title_below(&mut scene, say::speed_axis().show(reader));
    axes.title_beside(&mut scene, say::first_pass_axis().show(reader), 1.8);
    axes.outline(&mut scene);
    let all: Vec<Vec<Point>> = curves.iter().map(|curve| points(frame, curve.map)).collect();
    let groups = groups(frame, &all);
    let drawn: Vec<Vec<Point>> =
        (0..all.len()).map(|at| moved(frame, &all[at], nth(&groups, at))).collect();
    for (at, (points, role)) in drawn.iter().zip(Role::CURVES).enumerate() {
        cased(&mut scene, role, points);
        markers(&mut scene, frame, points, at);
    }
    labels(&mut scene, frame, curves, &groups, &all);
    scene
}

/// The chance at the first pass at evenly spaced speed differences, as far as the map goes.
fn points(frame: &Frame, map: &OutcomeMap) -> Vec<Point> {
    let speed = |at: u32| frame.top_rpm * f64::from(at) / f64::from(SAMPLES);
    let share = |rpm: f64| {
        let [straight, rubbed, ..] = map.shares_at(rad_per_s(rpm))?;
        Some(Point::new(frame.up(rpm), (straight + rubbed) * frame.share_mm))
    };
    (0..=SAMPLES).filter_map(|at| share(speed(at))).collect()
}

/// The curves that are equal, by their places.
fn groups(frame: &Frame, all: &[Vec<Point>]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (at, curve) in all.iter().enumerate() {
        let like = |group: &&mut Vec<usize>| {
            let other = &all[group[0]];
            let near = |(a, b): (&Point, &Point)| (a.y - b.y).abs() < EQUAL * frame.share_mm;
            other.len() == curve.len() && other.iter().zip(curve).all(near)
        };
        match groups.iter_mut().find(like) {
            Some(group) => group.push(at),
            None => groups.push(vec![at]),
        }
    }
    groups
}

/// Which of its group a curve is, counted about the middle of the group.
fn nth(groups: &[Vec<usize>], curve: usize) -> f64 {
    let in_group = groups.iter().find_map(|group| {
        let nth = group.iter().position(|at| *at == curve)?;
        Some(number(nth) - (number(group.len()) - 1.0) / 2.0)
    });
    in_group.unwrap_or(0.0)
}

/// Aside by so many widths, square to a line that falls.
fn moved(frame: &Frame, points: &[Point], nth: f64) -> Vec<Point> {
    let off = nth * APART * frame.text_mm;
    points.iter().map(|p| Point::new(p.x + off, p.y + off)).collect()
}

/// Markers along a curve, at other places than those of the other curves.
fn markers(scene: &mut Scene, frame: &Frame, points: &[Point], series: usize) {
    let each = points.len() / MARKERS;
    let first = each * (2 * series + 1) / 12;
    for middle in points.iter().skip(first).step_by(each.max(1)).take(MARKERS) {
        marker(scene, frame, *middle, series);
    }
}

/// The name of each curve or of several equal ones, where the others are farthest and nothing is in its way.
fn labels(
    scene: &mut Scene,
    frame: &Frame,
    curves: &[Curve],
    groups: &[Vec<usize>],
    all: &[Vec<Point>],
) {
    let mut taken: Vec<Bounds> = Vec::new();
    for group in groups {
        let words = name(frame, curves, group);
        let at = free_place(frame, all, group, &words, &taken)
            .unwrap_or_else(|| corner(frame, &words, &taken));
        taken.push(at);
        let start = Point::new(at.min.x, (at.min.y + at.max.y) / 2.0);
        scene.text(Role::Label, start, LABEL * frame.text_mm, Anchor::Start, words);
    }
}

fn name(frame: &Frame, curves: &[Curve], group: &[usize]) -> String {
    let numbers: Vec<_> = group.iter().map(|at| curves[*at].number.to_string()).collect();
    let names: Vec<_> = group.iter().map(|at| curves[*at].name.as_str()).collect();
    let same = names.windows(2).all(|pair| pair[0] == pair[1]);
    let name = if same { names[0] } else { "" };
    name_of_series(frame, &numbers.join(" = "), name)
}

/// The upper right corner, in the first row that is free.
fn corner(frame: &Frame, words: &str, taken: &[Bounds]) -> Bounds {
    let Bounds { max, .. } = plot_of(frame);
    let wide = box_at(frame, words, 0.0, 0.0).width();
    let x = (max.x - wide - 0.5 * frame.text_mm).max(0.0);
    let row =
        |row: usize| box_at(frame, words, x, max.y - (number(row) * 1.4 + 1.0) * frame.text_mm);
    let is_free = |at: &Bounds| !taken.iter().any(|other| overlap(at, other));
    (0..).map(row).take(2 * taken.len() + 1).find(is_free).unwrap_or_else(|| row(0))
}

fn free_place(
    frame: &Frame,
    all: &[Vec<Point>],
    group: &[usize],
    words: &str,
    taken: &[Bounds],
) -> Option<Bounds> {
    let own = &all[group[0]];
    let mut places: Vec<_> = own.iter().map(|p| (apart(all, group, p, frame), p)).collect();
    sort_by_number(&mut places, |(apart, _)| -apart);
    let inside = plot_of(frame);
    let is_free = |at: &Bounds| {
        let within = at.min.x >= inside.min.x
            && at.max.x <= inside.max.x
            && at.min.y >= inside.min.y
            && at.max.y <= inside.max.y;
        let touches = |p: &Point| {
            (at.min.x..=at.max.x).contains(&p.x) && (at.min.y..=at.max.y).contains(&p.y)
        };
        within
            && !taken.iter().any(|other| overlap(at, other))
            && !all.iter().flatten().any(touches)
    };
    let text = frame.text_mm;
    let wide = box_at(frame, words, 0.0, 0.0).width();
    places.into_iter().step_by(3).find_map(|(_, p)| {
        let beside = [
            (p.x + 0.7 * text, p.y),
            (p.x + 0.3 * text, p.y + 0.9 * text),
            (p.x - wide - 0.7 * text, p.y),
            (p.x - wide - 0.3 * text, p.y - 0.9 * text),
        ];
        beside.map(|(x, y)| box_at(frame, words, x, y)).into_iter().find(&is_free)
    })
}

/// How far the nearest curve of another group is from a point, straight up or down. A curve alone is labelled
/// half way down.
fn apart(all: &[Vec<Point>], group: &[usize], p: &Point, frame: &Frame) -> f64 {
    let others = all.iter().enumerate().filter(|(at, _)| !group.contains(at));
    let nearest = |curve: &Vec<Point>| {
        let at = curve.iter().find(|q| q.x >= p.x).or(curve.last())?;
        Some((at.y - p.y).abs())
    };
    let nearest = others.filter_map(|(_, curve)| nearest(curve)).fold(f64::INFINITY, f64::min);
    let half_way = frame.share_mm / 2.0 - (p.y - frame.share_mm / 2.0).abs();
    if nearest.is_finite() { nearest } else { half_way }
}
