//! Claw, drum and detent along the drum, at rest or in a stroke.

mod plate;
mod star;

use crenel_words::{Reader, drawing as say, outcome};

use self::plate::Plate;
use self::star::{TALLEST_TOOTH, draw_star};
use crate::analysis::Analysis;
use crate::design::Design;
use crate::draw::frame::{Canvas, Frame, empty_scene};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::options::{StrokeMoment, ViewOptions};
use crate::draw::scene::{
    Anchor, Bounds, Role, Scene, arrow_head, bar, circle, cross, words_width,
};
use crate::draw::view::{Follows, Subject, View};
use crate::fields::FieldId;
use crate::model::ClawStrokes;
use crate::ring::Point;
use crate::selector::{Claw, Ends, Star, Stroke};
use crate::units::Quantity;

/// The drawing of claw, drum and detent.
pub static CLAW: View = View {
    key: "claw",
    file_name: "claw",
    title: "Claw, drum and detent",
    caption: "Looking along the drum: pins, claw, stop, detent wheel and roller.",
    shape: 0.42,
    screen_shape: [0.42; 2],
    subject: Subject::Part { is_given, absent: say::no_claw },
    follows: Follows::Stroke,
    keeps_handles: false,
    frame,
    draw,
    handles,
    ..View::BASE
};

/// How far off the stop the handle of its eccentric is, in letter heights.
const ECCENTRIC_LETTERS: f64 = 1.4;

const fn is_given(design: &Design) -> bool {
    design.selector.claw.is_some() || design.selector.detent.is_some()
}

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    Frame::around(&extent(analysis), canvas)
}

/// Every point that the drawing has to hold.
fn extent(analysis: &Analysis) -> Vec<Point> {
    let selector = &analysis.selector;
    let mut points = Vec::new();
    let mut around = |x: f64, radius: f64| {
        points.extend(
            [(-1.0, -1.0), (1.0, 1.0)].map(|(dx, dy)| Point::new(x + dx * radius, dy * radius)),
        );
    };
    if let Some(star) = &selector.star {
        around(0.0, star.radius_mm * (1.0 + TALLEST_TOOTH / 2.0));
    }
    let claw = claw(analysis);
    if let Some(claw) = &claw {
        around(0.0, claw.pin_radius_mm * 1.25);
        around(claw.apart_mm, claw.stop_radius_mm * 0.4);
        around(claw.apart_mm + claw.stop_radius_mm, claw.eccentric_mm + 3.0);
        // Room for the word beside the stop.
        points.push(Point::new(claw.apart_mm + 1.3 * claw.stop_radius_mm, 0.0));
    }
    points.extend(selector.star.map(|star| Point::new(-1.9 * star.radius_mm, 0.0)));
    points.extend(claw.iter().flat_map(|claw| swept(claw, selector.strokes())));
    points
}

/// The places that hooks and prongs reach, at rest and at the ends of the strokes.
fn swept(claw: &Claw, strokes: Option<&ClawStrokes>) -> Vec<Point> {
    let ends = strokes.into_iter().flat_map(|strokes| {
        Stroke::BOTH.map(|stroke| stroke.sign() * strokes.strokes[stroke].shaft.radians())
    });
    let at = |shaft: f64| {
        let plate = Plate { claw, shaft };
        Stroke::BOTH.into_iter().flat_map(move |stroke| {
            let hook = plate.hook(stroke);
            hook.into_iter().chain([plate.prong(stroke)[1]])
        })
    };
    [0.0].into_iter().chain(ends).flat_map(at).collect()
}

/// The claw, whether it can turn the drum or not.
fn claw(analysis: &Analysis) -> Option<Claw> {
    analysis.selector.claw.as_ref()?;
    analysis.design.selector.claw.as_ref().map(crate::design::ClawSpec::working)
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let selector = &analysis.selector;
    let claw = claw(analysis);
    if claw.is_none() && selector.star.is_none() {
        let given = is_given(&analysis.design);
        let why = if given { say::outside_limits } else { say::no_claw };
        return empty_scene(frame, why, options.reader);
    }
    let mut scene = Scene::new(frame.bounds);
    cross(&mut scene, Point::default(), 1.2 * frame.text_mm);
    let strokes = selector.strokes();
    let (shaft, drum) = turned(strokes, selector.star.as_ref(), options.stroke);
    if let (Some(star), Some(detent)) = (&selector.star, &selector.detent) {
        draw_star(&mut scene, star, detent, drum);
    }
    if let Some(claw) = claw {
        let plate = Plate { claw: &claw, shaft };
        let drawn = Drawn { frame, claw: &claw, plate, drum, reader: options.reader };
        drawn.pins(&mut scene);
        drawn.stop(&mut scene);
        drawn.plate(&mut scene);
        if let (Some(strokes), Some((stroke, share))) = (strokes, options.stroke) {
            drawn.told(&mut scene, strokes, stroke, share);
        }
    }
    scene
}

/// How far shaft and drum have turned, counter-clockwise in the drawing, radians.
fn turned(
    strokes: Option<&ClawStrokes>,
    star: Option<&Star>,
    moment: Option<StrokeMoment>,
) -> (f64, f64) {
    let Some((strokes, (stroke, share))) = strokes.zip(moment) else { return (0.0, 0.0) };
    let (shaft, drum) = strokes.at(stroke, share, star);
    // Lifting draws the upper hook down: the claw turns one way and the drum the other.
    (stroke.sign() * shaft.radians(), -stroke.sign() * drum.radians())
}

struct Drawn<'a> {
    frame: &'a Frame,
    claw: &'a Claw,
    plate: Plate<'a>,
    drum: f64,
    reader: Reader,
}

impl Drawn<'_> {
    fn pins(&self, scene: &mut Scene) {
        circle(scene, Role::Rim, Point::default(), self.claw.pin_radius_mm);
        let step = self.claw.step().radians();
        let mut at = step / 2.0;
        while at < std::f64::consts::TAU + step / 4.0 {
            circle(scene, Role::Tip, self.claw.pin(at + self.drum), self.plate.pin_size());
            at += step;
        }
    }

    /// The plate with its two hooks, and what strikes the stop on its other side.
    fn plate(&self, scene: &mut Scene) {
        let (plate, text) = (&self.plate, self.frame.text_mm);
        for stroke in Stroke::BOTH {
            scene.polygon(Role::Tip, &plate.hook(stroke));
            let [from, to] = plate.prong(stroke);
            bar(scene, Role::Tip, from, to, 0.8 * plate.pin_size());
        }
        let middle = Point::new(self.claw.apart_mm, 0.0);
        circle(scene, Role::Tip, middle, plate.hub_mm());
        cross(scene, middle, 1.2 * text);
        let words = Point::new(middle.x, -plate.hub_mm().max(1.2 * text) - 0.9 * text);
        scene.text(Role::Label, words, text, Anchor::Middle, say::shaft().show(self.reader));
    }

    fn stop(&self, scene: &mut Scene) {
        let (text, size) = (self.frame.text_mm, self.plate.stop_size());
        let axis = Point::new(self.claw.apart_mm + self.claw.stop_radius_mm, 0.0);
        cross(scene, axis, 0.8 * text);
        // Off the axis that it is turned about, which stays in the case.
        let off = Point::polar(self.claw.eccentric_mm, self.claw.eccentric_at.radians());
        circle(scene, Role::Tip, Point::new(axis.x + off.x, axis.y + off.y), size);
        if self.claw.eccentric_mm > 0.0 {
            circle(scene, Role::Root, axis, size * 0.4);
        }
        let words = Point::new(axis.x + size.max(ECCENTRIC_LETTERS * text) + 0.7 * text, axis.y);
        scene.text(Role::Label, words, text, Anchor::Start, say::stop().show(self.reader));
    }

    /// How the stroke ends, written in the margins that nothing swings into.
    fn told(&self, scene: &mut Scene, strokes: &ClawStrokes, stroke: Stroke, share: f64) {
        let end = &strokes.strokes[stroke];
        let text = self.frame.text_mm;
        let Bounds { min, max } = self.frame.bounds;
        let (step, drum) = (self.claw.step().degrees(), self.drum.abs().to_degrees());
        let at = Point::new(min.x + 0.5 * text, max.y - text);
        let turned = say::drum_turned(drum, step).show(self.reader);
        scene.text(Role::Note, at, text, Anchor::Start, turned.clone());
        if share < 1.0 {
            return;
        }
        let gap = end.gap_mm;
        let words = match (end.ends, end.gap_mm >= 0.0, end.before_stop) {
            (Ends::Next, true, false) => say::gap_at_stop(gap),
            (Ends::Next, true, true) => say::gap_short_of_stop(gap),
            (Ends::Next, false, _) => say::pushed_past(-gap),
            (_, _, true) => say::short_of_stop(),
            (_, _, false) => say::at_stop(),
        };
        let words = words.show(self.reader);
        // On a narrow drawing the words of both corners need a row each.
        let beside = words_width(&turned) + words_width(&words) + 2.0 < (max.x - min.x) / text;
        let row = if beside { 1.0 } else { 2.4 };
        let at = Point::new(max.x - 0.5 * text, max.y - row * text);
        scene.text(Role::Note, at, text, Anchor::End, words);
        let at = Point::new(min.x + 0.5 * text, min.y + text);
        let drum = outcome::drum(end.ends).show(self.reader);
        scene.text(Role::Note, at, text, Anchor::Start, drum);
        if end.gap_mm > 0.0 && end.ends == Ends::Next {
            self.gap(scene, stroke, &Quantity::Length.show(gap, self.reader.units));
        }
    }

    /// The gap between the hook and its pin, which is at home: arrows from outside, and the number.
    fn gap(&self, scene: &mut Scene, stroke: Stroke, words: &str) {
        let (reach, pin, sign) = (self.claw.hook_radius_mm(), self.plate.pin_size(), stroke.sign());
        // Angles from the line to the drum, counted as the hook that pulls counts them; the shaft is turned.
        let swung = self.plate.shaft * sign;
        let half = self.claw.swing().radians() / 2.0;
        let ends = [(-half + pin / reach, -1.0), (self.plate.face(stroke) - swung, 1.0)];
        let still = Plate { shaft: 0.0, ..self.plate };
        let text = self.frame.text_mm;
        let level = (reach - 2.5 * pin - 0.6 * text).max(0.5 * reach);
        for (angle, out) in ends {
            let at = |angle: f64, radius: f64| still.on(sign * angle, radius);
            let line = [at(angle, reach), at(angle, level - 0.4 * text)];
            scene.line(Role::Dimension, &line);
            let (tail, tip) = (at(angle + out * 1.4 * text / level, level), at(angle, level));
            scene.line(Role::Dimension, &[tail, tip]);
            arrow_head(scene, Role::Dimension, tail, tip, 0.5 * text);
        }
        // On a small drawing the number would lie on the other hook. It is in the corner as well.
        if !self.frame.is_narrow() {
            let at = still.on(sign * (ends[0].0 - 2.2 * text / level), level);
            scene.text(Role::Note, at, text, Anchor::Middle, words);
        }
    }
}

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let out = DragMapping::Far { from: Point::default(), factor: 1.0 };
    let mut handles = Vec::new();
    if let Some(claw) = claw(maker.analysis) {
        let away = claw.step().radians() * 1.5;
        let zero = claw.apart_mm;
        handles.extend([
            maker.part(FieldId::PinRadius, claw.pin(away), out.clone()),
            maker.part(
                FieldId::ShaftToDrum,
                Point::new(zero, 3.0 * maker.frame.text_mm),
                DragMapping::Axis { factor: 1.0 },
            ),
            maker.part(
                FieldId::StopRadius,
                Point::new(zero + claw.stop_radius_mm, 3.6 * maker.frame.text_mm),
                DragMapping::Lever { zero, per_unit: 1.0 },
            ),
        ]);
        // A fixed stop has nothing to turn.
        if claw.eccentric_mm > 0.0 {
            let about = Point::new(zero + claw.stop_radius_mm, 0.0);
            let out =
                Point::polar(ECCENTRIC_LETTERS * maker.frame.text_mm, claw.eccentric_at.radians());
            let at = Point::new(about.x + out.x, out.y);
            handles.push(maker.part(FieldId::EccentricAt, at, DragMapping::Bearing { about }));
        }
    }
    if let Some(star) = &maker.analysis.selector.star {
        let at = Point::polar(star.radius_mm, -2.0);
        handles.push(maker.part(FieldId::StarRadius, at, out));
    }
    handles.into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{self, example};
    use crate::fields::Slot;
    use crate::units::Angle;
    use crenel_words::Message;

    /// How far the drum is at shares of lifting with the hook to its stop after so many mm, degrees.
    fn drum(travel_mm: f64) -> Vec<f64> {
        let mut design = example();
        design.selector.claw = Some(design::ClawSpec::default());
        design.selector.detent = Some(design::DetentSpec::default());
        design.set(Slot::Part(FieldId::ClawLift), travel_mm);
        let selector = Analysis::of(&design).worked.selector;
        let strokes = selector.strokes().expect("the claw turns the drum");
        let at = |step: u8| {
            let share = f64::from(step) / 100.0;
            strokes.at(Stroke::Lift, share, selector.star.as_ref()).1.degrees()
        };
        (0..=100).map(at).collect()
    }

    #[test]
    fn the_roller_draws_the_drum_home_once_it_is_over_the_crest() {
        let over = drum(9.6);
        assert!(over[0].abs() < 1e-9);
        assert!(over.is_sorted() && (over[100] - 60.0).abs() < 1e-9, "{over:?}");
        let crest = FieldId::StarCrest.spec().default / FieldId::StarRadius.spec().default;
        let highest = 30.0 + (crest / 2.0).to_degrees();
        assert!(over.iter().all(|deg| *deg <= highest + 1e-9 || (deg - 60.0).abs() < 1e-9));
    }

    #[test]
    fn a_drum_short_of_the_crest_stays_where_it_is_pushed() {
        let short = drum(4.0);
        assert!(short.is_sorted() && (1.0..30.0).contains(&short[100]), "{}", short[100]);
    }

    #[test]
    fn a_drum_whose_roller_sticks_is_drawn_where_the_claw_leaves_it() {
        let mut design = example();
        design.selector.claw = Some(design::ClawSpec::default());
        design.selector.detent = Some(design::DetentSpec::default());
        design.set(Slot::Part(FieldId::StarFlank), 10.0);
        design.set(Slot::Part(FieldId::RollerFriction), 0.5);
        let selector = Analysis::of(&design).worked.selector;
        let strokes = selector.strokes().expect("the claw turns the drum");
        for stroke in Stroke::BOTH {
            let end = &strokes.strokes[stroke];
            let (_, drum) = strokes.at(stroke, 1.0, selector.star.as_ref());
            assert_eq!((end.ends, drum), (Ends::Held, end.pushed), "{stroke:?}");
            assert!((40.0..60.0).contains(&drum.degrees()));
        }
    }

    #[test]
    fn as_many_pins_are_drawn_as_the_drum_has_and_none_in_line_with_the_shaft() {
        let mut design = example();
        design.selector.claw = Some(design::ClawSpec::default());
        let analysis = Analysis::of(&design);
        let frame = CLAW.frame(&analysis, 600.0, 0.4, 12.0);
        let claw = claw(&analysis).expect("it is given");
        let mut scene = Scene::new(frame.bounds);
        let (plate, reader) = (Plate { claw: &claw, shaft: 0.0 }, Reader::default());
        Drawn { frame: &frame, claw: &claw, plate, drum: 0.0, reader }.pins(&mut scene);
        let pins = scene.items.iter().filter(|item| item.role == Role::Tip).count();
        assert_eq!(pins, 6);
        let mut first = Scene::new(frame.bounds);
        let at = claw.pin(claw.step().radians() / 2.0);
        circle(&mut first, Role::Tip, at, Plate { claw: &claw, shaft: 0.0 }.pin_size());
        let first = format!("{:?}", first.items[0]);
        assert!(scene.items.iter().any(|item| format!("{item:?}") == first), "{first}");
    }

    #[test]
    fn a_claw_or_a_detent_alone_is_drawn() {
        let says_none = |claw: Option<design::ClawSpec>, detent: Option<design::DetentSpec>| {
            let mut design = example();
            (design.selector.claw, design.selector.detent) = (claw, detent);
            let analysis = Analysis::of(&design);
            let frame = CLAW.frame(&analysis, 600.0, 0.4, 12.0);
            let scene = CLAW.draw(&analysis, &frame, &ViewOptions::default());
            let drawn = format!("{:?}", scene.items);
            let says = |message: Message| drawn.contains(&message.show(Reader::default()));
            assert!(!says(say::outside_limits()), "{drawn}");
            says(say::no_claw())
        };
        let (claw, detent) =
            (Some(design::ClawSpec::default()), Some(design::DetentSpec::default()));
        assert!(!says_none(claw, None) && !says_none(None, detent));
        assert!(!says_none(claw, detent) && says_none(None, None));
    }

    #[test]
    fn turning_the_eccentric_moves_the_stop_and_leaves_the_claw() {
        let mut design = example();
        design.selector.claw = Some(design::ClawSpec::default());
        let before = claw(&Analysis::of(&design)).expect("it is given");
        let after = before.turned_to(Angle::from_degrees(40.0));
        let moved = |claw: &Claw| Plate { claw, shaft: 0.0 }.stop_at() * claw.stop_radius_mm;
        assert!((moved(&after) - 0.8 * Angle::from_degrees(40.0).sin()).abs() < 1e-12);
        assert_eq!(moved(&before), 0.0);
        for stroke in Stroke::BOTH {
            let prong = |claw: &Claw| Plate { claw, shaft: 0.0 }.prong(stroke)[1];
            assert!(prong(&before).distance(prong(&after)) < 1e-9, "{stroke:?}");
        }
    }

    #[test]
    fn the_dimension_of_the_gap_is_as_long_as_the_gap() {
        let mut design = example();
        design.selector.claw = Some(design::ClawSpec::default());
        let selector = Analysis::of(&design).worked.selector;
        let strokes = selector.strokes().expect("the claw turns the drum");
        for stroke in Stroke::BOTH {
            let end = &strokes.strokes[stroke];
            let plate = Plate { claw: &strokes.claw, shaft: stroke.sign() * end.shaft.radians() };
            let reach = strokes.claw.hook_radius_mm();
            let face = plate.face(stroke) - end.shaft.radians();
            let pin = plate.pin_size() / reach - strokes.claw.swing().radians() / 2.0;
            assert!(((face - pin) * reach - end.gap_mm).abs() < 1e-9, "{stroke:?}");
        }
    }
}
