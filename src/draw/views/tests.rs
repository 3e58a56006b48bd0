//! What holds for every view.

use std::collections::HashSet;

use super::{FACE, VIEWS};
use crate::analysis::Analysis;
use crate::design::{
    ClawSpec, Cut, DepthSpec, Design, DetentSpec, LinkageSpec, Operation, PedalBy, TrackSpec, Work,
    example,
};
use crate::draw::frame::Frame;
use crate::draw::{
    Bounds, Handle, HandleShape, Item, RingState, Role, Scene, Shape, View, ViewOptions,
};
use crate::export::{svg_file, svg_markup};
use crate::fields::{FieldId, Slot};
use crate::ring::{FlankSide, Point, Side};
use crate::selector::Stroke;

fn every_handle(design: &Design, side: Side, place: usize) -> Vec<Handle> {
    let analysis = Analysis::of(design);
    let of = |view: &View| {
        let frame = view.frame(&analysis, 600.0, 0.4, 12.0);
        view.handles(&analysis, &frame, side, place)
    };
    VIEWS.into_iter().flat_map(of).collect()
}

/// Designs with every kind of layout, and the dog that is chosen.
fn designs() -> Vec<(Design, Side, usize)> {
    let mut listed = example();
    listed.list_dogs(Side::B);
    let mut listed_a = example();
    listed_a.list_dogs(Side::A);
    // Tallest by so much that it still is when it is dragged down by a step.
    listed_a.set(Slot::Dog(Side::A, 0, FieldId::Height), 6.0);
    let mut cut = example();
    cut.a.plan.set_cut(1, Some(Cut::Shorten(2.0)));
    let mut gaps = example();
    gaps.size_by(Side::A, crate::design::SizeBy::Gap);
    let mut narrowed = example();
    for (flank, mm) in FlankSide::BOTH.into_iter().zip([0.3, 0.8]) {
        let work = Work::narrow(flank, mm);
        let operation = Operation { work, places: [0, 2, 4].into() };
        narrowed.b.plan.operations.push(operation);
    }
    let mut inwards = example();
    inwards.selector.linkage = Some(LinkageSpec::default());
    inwards.selector.claw = Some(ClawSpec::default());
    inwards.selector.detent = Some(DetentSpec::default());
    inwards.selector.track = Some(TrackSpec::default());
    inwards.depth = Some(DepthSpec::example());
    let mut below = inwards.clone();
    below.selector.linkage = Some(LinkageSpec::joined(PedalBy::RodBelow));
    below.set(Slot::Part(FieldId::ShaftLeverAt), 170.0);
    below.selector.track.iter_mut().for_each(TrackSpec::list_points);
    let mut on_shaft = inwards.clone();
    on_shaft.selector.linkage = Some(LinkageSpec::joined(PedalBy::OnShaft));
    let mut too_short = inwards.clone();
    too_short.set(Slot::Part(FieldId::RodLength), 20.0);
    vec![
        (inwards, Side::A, 0),
        (below, Side::A, 0),
        (on_shaft, Side::A, 0),
        (too_short, Side::A, 0),
        (narrowed, Side::B, 2),
        (example(), Side::A, 0),
        (example(), Side::B, 4),
        (listed, Side::B, 2),
        (listed_a, Side::A, 0),
        (cut, Side::A, 1),
        (gaps, Side::A, 3),
    ]
}

#[test]
fn a_handle_stands_where_its_value_is() {
    let mut seen = 0;
    for (design, side, place) in designs() {
        for handle in every_handle(&design, side, place) {
            let back = handle.value_at(handle.at);
            let step = handle.slot.field().spec().fine;
            let apart = (back - handle.value).abs();
            // A centre may come back a whole turn away.
            let apart = apart.min((apart - 360.0).abs());
            assert!(apart <= step / 2.0 + 1e-9, "{handle:?}: {back}");
            seen += 1;
        }
    }
    assert!(seen >= 50, "{seen}");
}

#[test]
fn dragging_moves_the_handle_under_the_hand() {
    let mut seen = 0;
    for (design, side, place) in designs() {
        let analysis = Analysis::of(&design);
        for view in VIEWS {
            let frame = view.frame(&analysis, 600.0, 0.4, 12.0);
            for handle in view.handles(&analysis, &frame, side, place) {
                let step = handle.slot.field().spec().coarse;
                // Small enough that no tip reaches a web, which would stop its ring.
                let wanted = handle.clamp(handle.value - step);
                let mut moved = design.clone();
                assert!(moved.set(handle.slot, wanted), "{handle:?}");
                // The frame is kept still during a drag.
                let now = view.handles(&Analysis::of(&moved), &frame, side, place);
                let Some(same) = now.iter().find(|h| h.slot == handle.slot) else {
                    panic!("{handle:?} is gone")
                };
                let apart = (handle.value_at(same.at) - wanted).abs();
                let apart = apart.min((apart - 360.0).abs());
                assert!(apart <= handle.slot.field().spec().fine, "{handle:?} {same:?} {apart}");
                seen += 1;
            }
        }
    }
    assert!(seen >= 50, "{seen}");
}

/// What is missing at the distance that a finger needs, at the sides that a phone takes for itself, and at top and foot.
#[test]
fn handles_are_apart_and_off_the_edge_of_the_screen() {
    let mut seen = 0;
    for (design, side, place) in designs() {
        let analysis = Analysis::of(&design);
        for view in VIEWS {
            for px in [292.0, 370.0, 540.0, 684.0, 1052.0] {
                let usual = view.screen_shape[usize::from(px < 440.0)];
                // On a phone, and above its keypad.
                let flat = (view == &FACE).then_some([0.73, 0.6]).into_iter().flatten();
                for shape in flat.chain([usual]) {
                    let frame = view.frame(&analysis, px, shape, 12.0);
                    let handles = view.handles(&analysis, &frame, side, place);
                    seen += far_apart(&handles, &frame, px, &format!("{view:?} {px} {shape}"));
                }
            }
        }
    }
    assert!(seen > 500, "{seen}");
}

/// How many pairs of handles were seen.
fn far_apart(handles: &[Handle], frame: &Frame, px: f64, case: &str) -> usize {
    let mm_per_px = frame.bounds.width() / px;
    let Bounds { min, max } = frame.bounds;
    let mut seen = 0;
    for (at, handle) in handles.iter().enumerate() {
        let (p, slot) = (handle.shown, handle.slot);
        let (aside, above) = ((p.x - min.x).min(max.x - p.x), (p.y - min.y).min(max.y - p.y));
        let (aside, above) = (aside / mm_per_px, above / mm_per_px);
        assert!(aside >= 23.9 && above >= 11.9, "{case} {slot:?}: {aside} {above}");
        for other in &handles[at + 1..] {
            let apart = p.distance(other.shown) / mm_per_px;
            assert!(apart >= 47.0, "{case} {slot:?} {:?}: {apart}", other.slot);
            seen += 1;
        }
    }
    seen
}

#[test]
fn a_handle_looks_like_what_it_moves() {
    let shapes: Vec<_> = every_handle(&designs().swap_remove(7).0, Side::B, 2)
        .into_iter()
        .map(|handle| (handle.slot, handle.shape))
        .collect();
    let shape = |slot| shapes.iter().find(|(own, _)| *own == slot).map(|(_, shape)| *shape);
    let dog = |id| Slot::Dog(Side::B, 2, id);
    assert_eq!(shape(Slot::Ring(Side::B, FieldId::OuterDiameter)), Some(HandleShape::Ring));
    assert!(matches!(shape(dog(FieldId::TipWidth)), Some(HandleShape::Bar(_))));
    assert!(matches!(shape(dog(FieldId::Centre)), Some(HandleShape::Arc(_))));
    assert_eq!(shape(dog(FieldId::BackCutDrive)), Some(HandleShape::Triangle));
    let phase = shape(Slot::Setting(FieldId::Phase));
    assert!(matches!(phase, Some(HandleShape::Arc(_))), "on the face view, which comes first");
}

#[test]
fn no_drag_leaves_the_limits() {
    for (design, side, place) in designs() {
        for handle in every_handle(&design, side, place) {
            for (x, y) in [(0.0, 0.0), (1e9, -1e9), (-1e9, 1e9), (1e-12, 0.0), (3.0, 4.0)] {
                let value = handle.value_at(Point::new(x, y));
                assert!((handle.min..=handle.max).contains(&value), "{handle:?}: {value}");
                let mut moved = design.clone();
                moved.set(handle.slot, value);
                let _ = Analysis::of(&moved);
            }
        }
    }
}

#[test]
fn the_end_of_the_foot_s_travel_goes_on_beyond_half_a_turn_of_the_pedal() {
    let (mut design, _, _) = designs().swap_remove(2);
    design.set(Slot::Part(FieldId::FootArm), 20.0);
    design.set(Slot::Part(FieldId::FootLift), 80.0);
    let handles = every_handle(&design, Side::A, 0);
    let end = handles.iter().find(|h| h.slot == Slot::Part(FieldId::FootLift)).unwrap();
    // Half a turn is 62.8 mm.
    assert!((end.value_at(end.at) - 80.0).abs() < 0.5, "{}", end.value_at(end.at));
}

#[test]
fn keys_step_and_phase_runs_round() {
    let phase = every_handle(&example(), Side::A, 0)
        .into_iter()
        .find(|h| h.slot == Slot::Setting(FieldId::Phase));
    let mut phase = phase.expect("there is a phase handle");
    assert_eq!(phase.stepped(1.0, false), 30.5);
    assert_eq!(phase.stepped(-1.0, true), 25.0);
    phase.value = 359.5;
    assert_eq!(phase.stepped(1.0, false), 0.0);
}

fn inwards(by: PedalBy) -> Design {
    let mut design = example();
    design.selector.linkage = Some(LinkageSpec::joined(by));
    design.selector.claw = Some(ClawSpec::default());
    design.selector.detent = Some(DetentSpec::default());
    design.selector.track = Some(TrackSpec::default());
    design.depth = Some(DepthSpec::example());
    design
}

fn points(item: &Item) -> Vec<Point> {
    match &item.shape {
        Shape::Path { segments, .. } => segments.iter().flat_map(|s| [s.from(), s.to()]).collect(),
        Shape::Patches(patches) => patches.concat(),
        Shape::Strokes(strokes) => strokes.concat(),
        Shape::Circle { radius } => vec![Point::new(*radius, 0.0)],
        Shape::Text(text) => vec![text.at],
    }
}

#[test]
fn views_between_foot_and_dogs_survive_every_limit() {
    for by in [PedalBy::RodAbove, PedalBy::RodBelow, PedalBy::OnShaft] {
        let design = inwards(by);
        for slot in design.slots().into_iter().filter(|slot| matches!(slot, Slot::Part(_))) {
            let field = slot.field().spec();
            for value in [field.min, field.max] {
                let mut design = design.clone();
                design.set(slot, value);
                drawn_whole(&Analysis::of(&design), slot);
            }
        }
    }
}

/// Every view says something, in numbers, with its words starting on the sheet.
fn drawn_whole(analysis: &Analysis, slot: Slot) {
    let moment = Some((Stroke::Press, 1.0));
    for view in VIEWS.into_iter().filter(|view| !view.is_of_pair()) {
        let frame = view.frame(analysis, 340.0, view.shape, 12.0);
        let options = ViewOptions { stroke: moment, ..ViewOptions::default() };
        let scene = view.draw(analysis, &frame, &options);
        assert!(!scene.items.is_empty(), "{view:?} {slot:?}");
        for item in &scene.items {
            let at = points(item);
            assert!(at.iter().all(|p| p.x.is_finite() && p.y.is_finite()), "{item:?} {slot:?}");
            if matches!(item.shape, Shape::Text(_)) {
                let on = |p: &Point| {
                    (scene.bounds.min.x..=scene.bounds.max.x).contains(&p.x)
                        && (scene.bounds.min.y..=scene.bounds.max.y).contains(&p.y)
                };
                assert!(at.iter().all(on), "{view:?} {item:?} {slot:?} {:?}", scene.bounds);
            }
        }
    }
}

/// A view that is not in the catalogue: a circle with the phase as its handle.
static DUMMY: View = View {
    key: "dummy",
    file_name: "dummy-view",
    title: "Dummy",
    caption: "A circle.",
    frame: |_, canvas| Frame::plain(canvas),
    draw: |_, frame, options| {
        let mut scene = Scene::new(frame.bounds);
        let radius = frame.bounds.width() / 4.0;
        scene.add(Role::Rim, Shape::Circle { radius }).dog(Side::A, 0);
        scene.choose(options.chosen);
        scene
    },
    handles: |maker| maker.phase_at_height(1.0).into_iter().collect(),
    ..View::BASE
};

/// One file is a view: its row alone brings its frame, its drawing, its handles, its file
/// and its names.
#[test]
fn a_row_is_all_that_a_view_takes() {
    let analysis = Analysis::of(&example());
    let frame = DUMMY.frame(&analysis, 400.0, DUMMY.shape, 12.0);
    assert_eq!((frame.bounds.width(), frame.bounds.height()), (160.0, 80.0));
    let options = ViewOptions { chosen: Some((Side::A, 0)), ..ViewOptions::default() };
    let scene = DUMMY.draw(&analysis, &frame, &options);
    assert!(scene.items.iter().all(|item| item.chosen));
    let circle = r#"<circle class="rim ring-a chosen" cx="0" cy="80" data-dog="A1" r="40"/>"#;
    assert!(svg_markup(&scene).contains(circle), "{}", svg_markup(&scene));
    assert!(svg_file(&scene, DUMMY.title).contains(circle));
    let handles = DUMMY.handles(&analysis, &frame, Side::A, 0);
    assert_eq!(handles.iter().map(|h| h.slot).collect::<Vec<_>>(), [Slot::Setting(FieldId::Phase)]);
    assert!(DUMMY.is_of_pair() && !DUMMY.is_chart() && DUMMY.absent(&analysis.design).is_none());
}

#[test]
fn no_two_views_have_the_same_name_and_none_lacks_words() {
    let all = || VIEWS.into_iter().chain([&DUMMY]);
    let names: [fn(&View) -> &str; 3] = [|view| view.key, |view| view.file_name, |view| view.title];
    for name in names {
        let names: HashSet<_> = all().map(name).collect();
        assert_eq!(names.len(), VIEWS.len() + 1, "{names:?}");
    }
    assert!(all().all(|view| view.caption.ends_with('.')));
}

/// Dragging the phase leaves the shapes of ring A as they are: only its turn and its words move.
#[test]
fn a_dragged_phase_turns_ring_a_as_a_whole() {
    let face = |phase_deg: f64| {
        let mut design = example();
        design.set(Slot::Setting(FieldId::Phase), phase_deg);
        let analysis = Analysis::of(&design);
        let frame = FACE.frame(&analysis, 600.0, 1.0, 12.0);
        FACE.draw(&analysis, &frame, &ViewOptions::default())
    };
    let (before, after) = (face(10.0), face(11.0));
    assert_eq!(before.keys(), after.keys());
    assert_eq!(before.keys().into_iter().collect::<HashSet<_>>().len(), before.items.len());
    let pairs = || before.items.iter().zip(&after.items);
    let moved = pairs().filter(|(old, new)| old.shape != new.shape);
    assert!(moved.clone().count() > 0);
    for (old, _) in moved {
        assert!(matches!(old.shape, Shape::Text(_)) && old.side == Some(Side::A), "{old:?}");
    }
    let turned = pairs().filter(|(old, new)| old.turned != new.turned);
    assert_eq!(turned.count(), 13, "six tips, six roots and the datum mark");
}

#[test]
fn a_view_of_the_rings_marks_what_goes_only_where_both_states_are_shown() {
    let mut design = example();
    for place in [0, 2, 4] {
        design.a.plan.set_cut(place, Some(Cut::Remove));
        design.b.plan.set_cut(place + 1, Some(Cut::Shorten(2.0)));
    }
    let [cut, found] = [design.clone(), design.to_found()].map(|design| Analysis::of(&design));
    for view in VIEWS.into_iter().filter(|view| view.shows_states) {
        let frame = view.frame(&cut, 600.0, view.shape, 12.0);
        let removed = |state| {
            let options = ViewOptions { state, found: Some(&found), ..ViewOptions::default() };
            let items = view.draw(&cut, &frame, &options).items;
            items.iter().filter(|item| item.role == Role::Removed).count()
        };
        assert_eq!(removed(RingState::AsCut), 0, "{view:?}");
        assert!(removed(RingState::Both) > 0, "{view:?}");
    }
    assert_eq!(VIEWS.into_iter().filter(|view| view.shows_states).count(), 3);
}
