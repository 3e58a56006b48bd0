//! What holds for every view.

use super::VIEWS;
use crate::analysis::Analysis;
use crate::design::{
    ClawSpec, Cut, DepthSpec, Design, DetentSpec, LinkageSpec, Operation, PedalBy, TrackSpec, Work,
    example,
};
use crate::draw::{Handle, Item, Shape, View, ViewOptions};
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
        let work = Work::Narrow(flank, mm);
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
                // Small enough that no tip comes to a web, which would stop the ring it stands on.
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
