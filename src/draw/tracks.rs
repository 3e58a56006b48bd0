//! The tracks of the drum developed, for whoever mills or measures a drum.

use crenel_words::{Reader, drawing as say};

use super::scene::{Anchor, Bounds, Role, Scene, wrapped};
use crate::design::{ForkField, ForkSpec, PositionField};
use crate::gearset::GearsetAnalysis;
use crate::ring::Point;

/// Type of 3.5 mm: a size of ISO 3098.
const LETTER_MM: f64 = 3.5;

/// Room between one track and the next, mm.
const BETWEEN_MM: f64 = 8.0;

/// Sharper corners of the walls are cut off at so many widths.
const SHARPEST: f64 = 4.0;

/// The track of every fork over the turn of the drum, at true size on a drum of this diameter in mm; without one, or with one
/// that is none, 1 mm for each degree, and no walls. A fork without a sound track is left out.
pub fn tracks_developed(
    analysis: &GearsetAnalysis,
    diameter_mm: Option<f64>,
    reader: Reader,
) -> Scene {
    let diameter_mm = diameter_mm.filter(|mm| *mm > 0.0 && mm.is_finite());
    let per_deg = diameter_mm.map_or(1.0, |mm| mm.to_radians() / 2.0);
    let origin = Point::default();
    let mut scene = Scene::new(Bounds { min: origin, max: origin });
    let (mut low, mut wide) = (0.0_f64, 0.0_f64);
    for (at, fork) in analysis.forks_on_drum.iter().enumerate() {
        let Some(spec) = analysis.gearset.forks.get(*fork) else { continue };
        let points = analysis.drum.forks[at].track.points();
        let half = diameter_mm.map_or(0.0, |_| half_width(spec));
        let far = points.iter().map(|[_, mm]| mm.abs()).fold(half, f64::max) + half;
        let middle = low - BETWEEN_MM - far;
        let line: Vec<Point> =
            points.iter().map(|[deg, mm]| Point::new(deg * per_deg, middle + mm)).collect();
        wide = line.iter().map(|p| p.x).fold(wide, f64::max);
        if half > 0.0 {
            let mut wall = beside(&line, half);
            wall.extend(beside(&line, -half).into_iter().rev());
            scene.polygon(Role::Section, &wall);
        }
        scene.line(Role::Centre, &line);
        let name = say::fork(*fork).show(reader);
        scene.text(Role::Note, Point::new(-LETTER_MM, middle), LETTER_MM, Anchor::End, name);
        low = middle - far;
    }
    low -= BETWEEN_MM;
    positions(&mut scene, analysis, low, per_deg);
    let scale = diameter_mm.map_or_else(say::tracks_in_degrees, say::tracks_on);
    let room = wide.max(80.0) / LETTER_MM;
    let mut y = low - LETTER_MM;
    for words in
        [scale, say::tracks_apart()].iter().flat_map(|note| wrapped(&note.show(reader), room))
    {
        scene.text(Role::Note, Point::new(0.0, y), LETTER_MM, Anchor::Start, words);
        y -= 1.5 * LETTER_MM;
    }
    scene.bounds = Bounds {
        min: Point::new(-8.0 * LETTER_MM, y),
        max: Point::new(wide.max(80.0) + 2.0 * LETTER_MM, 3.0 * LETTER_MM),
    };
    scene.retain_finite()
}

/// Half the width of a track, mm.
fn half_width(fork: &ForkSpec) -> f64 {
    let half = fork.get(ForkField::TrackWidth) / 2.0;
    if half.is_finite() { half.max(0.0) } else { 0.0 }
}

/// The positions of the detent across all tracks, each with what is in there.
fn positions(scene: &mut Scene, analysis: &GearsetAnalysis, low: f64, per_deg: f64) {
    for position in &analysis.gearset.drum.positions {
        let x = position.get(PositionField::PositionAngle) * per_deg;
        scene.line(Role::Dimension, &[Point::new(x, low), Point::new(x, LETTER_MM / 2.0)]);
        let name = position.gear.map_or_else(|| "N".to_owned(), |gear| (gear + 1).to_string());
        scene.text(Role::Note, Point::new(x, 1.3 * LETTER_MM), LETTER_MM, Anchor::Middle, name);
    }
}

/// The line at a distance beside a chain of lines, on the left where that is above zero, with mitred corners.
fn beside(line: &[Point], by: f64) -> Vec<Point> {
    let left = |pair: &[Point]| {
        let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
        let long = libm::hypot(dx, dy);
        if long > 0.0 { Point::new(-dy / long, dx / long) } else { Point::new(0.0, 1.0) }
    };
    let sides: Vec<Point> = line.windows(2).map(left).collect();
    let moved = |(at, p): (usize, &Point)| {
        let before = sides.get(at.saturating_sub(1)).or(sides.first());
        let after = sides.get(at).or(sides.last());
        let (Some(a), Some(b)) = (before, after) else { return *p };
        let (x, y) = (a.x + b.x, a.y + b.y);
        let mitre = 2.0 / (x * x + y * y).max(4.0 / (SHARPEST * SHARPEST));
        Point::new(p.x + by * x * mitre, p.y + by * y * mitre)
    };
    line.iter().enumerate().map(moved).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::LAYOUTS;
    use crate::draw::Shape;

    fn tracks(diameter: Option<f64>) -> Scene {
        let set = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there");
        tracks_developed(&GearsetAnalysis::of(&set.to_gearset()), diameter, Reader::default())
    }

    fn lines(scene: &Scene, role: Role) -> Vec<Vec<Point>> {
        let own = scene.items.iter().filter(|item| item.role == role);
        let paths = own.filter_map(|item| match &item.shape {
            Shape::Path { segments, .. } => Some(segments),
            _ => None,
        });
        let corners = |segments: &Vec<crate::ring::Segment>| {
            let from = segments.iter().map(|segment| segment.from());
            from.chain(segments.last().map(|last| last.to())).collect()
        };
        paths.map(corners).collect()
    }

    #[test]
    fn a_turn_of_the_drum_is_as_long_as_its_circumference() {
        let (of, diameter) = (tracks(Some(40.0)), 40.0);
        let line = &lines(&of, Role::Centre)[0];
        let set = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there");
        let track = &set.to_gearset().forks[0].track;
        let [first, last] = [track[0], track[track.len() - 1]];
        let share = (last[0] - first[0]) / 360.0;
        let long = line[line.len() - 1].x - line[0].x;
        assert!((long - std::f64::consts::PI * diameter * share).abs() < 1e-9, "{long}");
        assert!((line[line.len() - 1].y - line[0].y - (last[1] - first[1])).abs() < 1e-9);
    }

    #[test]
    fn walls_are_half_a_width_from_the_centre_line_all_along() {
        let of = tracks(Some(40.0));
        let (walls, lines) = (lines(&of, Role::Section), lines(&of, Role::Centre));
        assert_eq!((walls.len(), lines.len()), (3, 3));
        let set = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there");
        let half = set.to_gearset().forks[0].get(ForkField::TrackWidth) / 2.0;
        for (wall, line) in walls.iter().zip(&lines) {
            // Half way along each piece of the centre line the wall beside it is parallel to it.
            for (at, pair) in line.windows(2).enumerate() {
                let (dx, dy) = (pair[1].x - pair[0].x, pair[1].y - pair[0].y);
                let off = |p: Point| {
                    (dx * (p.y - pair[0].y) - dy * (p.x - pair[0].x)) / libm::hypot(dx, dy)
                };
                assert!(
                    (off(wall[at]) - half).abs() < 1e-9 && (off(wall[at + 1]) - half).abs() < 1e-9
                );
            }
        }
    }

    #[test]
    fn without_a_diameter_a_millimetre_is_a_degree() {
        for none in [None, Some(0.0), Some(f64::NAN)] {
            let of = tracks(none);
            assert!(lines(&of, Role::Section).is_empty());
            let line = &lines(&of, Role::Centre)[0];
            assert!(line[line.len() - 1].x - line[0].x > 200.0);
        }
    }
}
