//! The dogs under load, looking along the shaft: which pairs bear, and with what force.

use crenel_words::{Message, Value, drawing as say};

use super::{NamesLie, centre_lines, frame, is_taken, names, outline, rims};
use crate::analysis::Analysis;
use crate::draw::frame::{Frame, LABEL, RingTurn};
use crate::draw::options::ViewOptions;
use crate::draw::scene::{Anchor, Role, Scene, arrow_head};
use crate::draw::view::View;
use crate::limits;
use crate::measure::Measure;
use crate::model::{Loaded, Strength};
use crate::ring::{Point, Side};
use crate::units::Quantity;

/// The forces on the dogs.
pub static FORCES: View = View {
    key: "forces",
    file_name: "forces",
    title: "Forces under power",
    caption: "Looking along the shaft at the dogs of ring A, turned until the flanks bear at full depth. Each arrow is the \
              force of a dog of A on a dog of B, with its length to scale. Dogs drawn thin carry nothing. Where no dog \
              carries under power, the view shows [the overrun|coasting].",
    shape: 1.0,
    screen_shape: [1.0, 0.75],
    frame,
    draw,
    ..View::BASE
};

/// The longest arrow, as a share of the mean radius.
const LONGEST: f64 = 0.4;

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let pair = analysis.pair.as_ref();
    let strength = pair.and_then(|pair| pair.strength.as_ref().or(pair.overrun.as_ref()));
    let phase = strength.map_or_else(|| analysis.phase(), |strength| strength.phase);
    for side in Side::BOTH {
        rims(&mut scene, analysis.ring(side), side);
    }
    centre_lines(&mut scene, frame);
    let bears = |side: Side, place: usize| {
        strength.is_some_and(|s| s.pairs.iter().any(|pair| pair.places[side] == place))
    };
    for side in Side::BOTH {
        let ring = analysis.ring(side);
        for dog in &ring.dogs {
            let role = if bears(side, dog.place) { Role::Tip } else { Role::Root };
            if let Some(tip) = ring.tip_outline(dog) {
                outline(&mut scene, role, &tip, phase, side).dog(side, dog.place);
            }
        }
        names(&mut scene, analysis, phase, side, frame, NamesLie::AsOnAll);
    }
    if let Some(strength) = strength {
        arrows(&mut scene, analysis, strength, frame, options);
    }
    scene.choose(options.chosen);
    scene
}

/// An arrow for each pair that bears, and the two numbers that judge them in the corners of the paper.
fn arrows(
    scene: &mut Scene,
    analysis: &Analysis,
    strength: &Strength,
    frame: &Frame,
    options: &ViewOptions,
) {
    let most = strength.pairs.iter().map(|pair| pair.force_n).fold(0.0, f64::max);
    let ring = analysis.ring(Side::A);
    // Outside the names of the dogs of B.
    let radius = 0.3 * ring.inner_radius_mm + 0.7 * ring.outer_radius_mm;
    let alike = strength.alike().len() == 1;
    for pair in strength.pairs.iter().filter(|_| most > 0.0) {
        let long = LONGEST * ring.mean_radius_mm() * pair.force_n / most;
        let Some((foot, head)) = arrow(analysis, strength, pair, radius, long) else { continue };
        scene.line(Role::Casing, &[foot, head]);
        let force = Some(Measure::Force);
        scene.line(Role::Way, &[foot, head]).measures(force);
        arrow_head(scene, Role::Way, foot, head, 0.6 * frame.text_mm).measures(force);
        if !alike && strength.pairs.len() <= 12 {
            let at = Point::polar(frame.radius_mm + 1.2 * frame.text_mm, foot.angle());
            let words = Value::Result(Quantity::Force, pair.force_n).show(options.reader);
            if is_taken(scene, at, &words, frame.text_mm) {
                continue;
            }
            let text = LABEL * frame.text_mm;
            scene.text(Role::Note, at, text, Anchor::Middle, words).measures(force);
        }
    }
    let force = Value::Result(Quantity::Force, most);
    let upper = match strength.idle() {
        Some((carrying, meeting)) => Some(say::force_if(force, carrying, meeting)),
        None => alike.then(|| say::force_each(force)),
    };
    let pressure = strength.pressure_mpa().and_then(|mpa| limits::pressure(analysis, mpa));
    let lower = pressure.map(|gauge| {
        let [value, limit] =
            [gauge.value, gauge.limit].map(|mpa| Value::Result(Quantity::Stress, mpa));
        say::pressure_of(value, limit)
    });
    for (words, up) in [(upper, 1.0), (lower, -1.0)] {
        let Some(words) = words else { continue };
        corner(scene, frame, &words, up, options);
    }
}

/// Words in the upper or the lower corner on the right.
fn corner(scene: &mut Scene, frame: &Frame, words: &Message, up: f64, options: &ViewOptions) {
    let (text, corner) = (frame.text_mm, frame.bounds.max);
    let at = Point::new(corner.x - 0.4 * text, up * (corner.y - 0.9 * text));
    let words = words.show(options.reader);
    let label = scene.text(Role::Note, at, LABEL * text, Anchor::End, words);
    label.measures(Some(Measure::Force));
}

/// From the tip edge of the dog of A, square to the radius, the way A pushes.
fn arrow(
    analysis: &Analysis,
    strength: &Strength,
    pair: &Loaded,
    radius: f64,
    long: f64,
) -> Option<(Point, Point)> {
    let ring = analysis.ring(Side::A);
    let edge = ring.tip_edge(ring.at_place(pair.places.a)?, strength.flank);
    let direction = RingTurn::at(strength.phase).direction(Side::A, edge);
    let foot = Point::polar(radius, direction);
    let push = Point::polar(long, direction + strength.flank.sign() * std::f64::consts::FRAC_PI_2);
    Some((foot, Point::new(foot.x + push.x, foot.y + push.y)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;
    use crate::draw::scene::{Item, Shape};

    fn items(saved: &str) -> Vec<Item> {
        let analysis = Analysis::of(&open(saved).expect("it opens").design);
        let frame = FORCES.frame(&analysis, 560.0, 1.0, 12.0);
        FORCES.draw(&analysis, &frame, &ViewOptions::default()).items
    }

    /// The lines of arrows without their heads: two points each.
    fn shafts(items: &[Item]) -> Vec<[Point; 2]> {
        let shaft = |item: &Item| match &item.shape {
            Shape::Path { segments, .. } if item.role == Role::Way && segments.len() == 1 => {
                match segments[0] {
                    crate::ring::Segment::Line { from, to } => Some([from, to]),
                    crate::ring::Segment::Arc { .. } => None,
                }
            }
            _ => None,
        };
        items.iter().filter_map(shaft).collect()
    }

    #[test]
    fn each_pair_that_bears_has_an_arrow_clockwise_as_long_as_its_force() {
        let all = shafts(&items(r#"{ "crenel": 1 }"#));
        assert_eq!(all.len(), 6);
        for [from, to] in all {
            // Under power A turns clockwise, looking at its dogs.
            assert!(from.x * to.y - from.y * to.x < 0.0, "{from:?} {to:?}");
            let long = libm::hypot(to.x - from.x, to.y - from.y);
            assert!((long - LONGEST * 26.0).abs() < 1e-9, "{long}");
        }
    }

    #[test]
    fn dogs_that_carry_nothing_are_thin_and_have_no_arrow() {
        // At 26 mm half a degree is 227 µm: one dog of six is far behind the others.
        let dog = |at: i32| {
            let width = if at == 2 { 23.0 } else { 24.0 };
            format!(r#"{{ "centre_deg": {}, "tip_width_deg": {width} }}"#, 60 * at)
        };
        let dogs: Vec<_> = (0..6).map(dog).collect();
        let saved = format!(
            r#"{{ "crenel": 1, "a": {{ "dogs": [{}] }}, "carried_by": "spacing" }}"#,
            dogs.join(",")
        );
        let items = items(&saved);
        assert_eq!(shafts(&items).len(), 5);
        let thin = |item: &&Item| item.role == Role::Root && item.side == Some(Side::A);
        let thin: Vec<_> = items.iter().filter(thin).filter_map(|item| item.place).collect();
        assert_eq!(thin, [2]);
    }

    #[test]
    fn nothing_is_drawn_of_forces_where_nothing_bears() {
        assert!(shafts(&items(r#"{ "crenel": 1, "overlap_mm": -1 }"#)).is_empty());
    }
}
