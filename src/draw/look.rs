//! How a view is shown, apart from what it shows.

use super::chains::chains_view;
use super::claw::claw_view;
use super::face::face_view;
use super::frame::{Frame, ViewKind};
use super::linkage::{linkage_view, swing_chart};
use super::map::phase_map;
use super::outcomes::{chance_chart, chart_cells, outcome_map};
use super::scene::Scene;
use super::track::track_view;
use super::unrolled::unrolled_view;
use crate::report::{Analysis, Pose};
use crate::ring::Side;
use crate::selector::Stroke;
use crate::shift::OutcomeMap;
use crate::units::DisplayUnits;

/// How a view is shown.
#[derive(Clone, Copy, Debug, Default)]
pub struct Look<'a> {
    /// The dog that is chosen.
    pub chosen: Option<(Side, usize)>,
    /// The units of its words.
    pub units: DisplayUnits,
    /// Where the rings stand while a shift is played; otherwise as in the design.
    pub pose: Option<Pose>,
    /// The outcome map, as far as it is worked out.
    pub outcomes: Option<&'a OutcomeMap>,
    /// A moment of a stroke of the pedal, by how much of it is done from 0 to 1; otherwise at rest.
    pub stroke: Option<(Stroke, f64)>,
}

impl Look<'_> {
    /// Where the rings are drawn.
    pub(super) fn pose(&self, analysis: &Analysis) -> Pose {
        self.pose.unwrap_or_else(|| analysis.pose())
    }
}

/// A view of a design.
pub fn view(kind: ViewKind, analysis: &Analysis, frame: &Frame, look: &Look) -> Scene {
    let mut scene = match kind {
        ViewKind::Face => face_view(analysis, frame, look),
        ViewKind::Unrolled => unrolled_view(analysis, frame, look),
        ViewKind::Map => phase_map(analysis, frame, look),
        ViewKind::Outcome => outcome_map(analysis, frame, look.units),
        ViewKind::Chance => chance_chart(analysis, frame),
        ViewKind::Linkage => linkage_view(analysis, frame, look.units, look.stroke),
        ViewKind::Swing => swing_chart(analysis, frame, look.units),
        ViewKind::Claw => claw_view(analysis, frame, look.units, look.stroke),
        ViewKind::Track => track_view(analysis, frame, look.units, look.stroke),
        ViewKind::Chains => chains_view(analysis, frame, look.units),
    };
    if let Some(map) = look.outcomes.filter(|_| kind.is_chart()) {
        let mut cells = chart_cells(kind, frame, map).items;
        cells.append(&mut scene.items);
        scene.items = cells;
    }
    scene.somewhere()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Claw, Depth, Design, Detent, Linkage, PedalBy, Track, example};
    use crate::draw::{Item, Shape};
    use crate::fields::Slot;
    use crate::ring::Point;

    fn inwards(by: PedalBy) -> Design {
        let mut design = example();
        design.selector.linkage = Some(Linkage::joined(by));
        design.selector.claw = Some(Claw::default());
        design.selector.detent = Some(Detent::default());
        design.selector.track = Some(Track::default());
        design.depth = Some(Depth::example());
        design
    }

    fn points(item: &Item) -> Vec<Point> {
        match &item.shape {
            Shape::Path { segments, .. } => {
                segments.iter().flat_map(|s| [s.from(), s.to()]).collect()
            }
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
        for kind in ViewKind::ALL.into_iter().filter(|kind| !kind.is_of_pair()) {
            let frame = Frame::of(kind, analysis, 340.0, kind.shape(), 12.0);
            let scene = view(kind, analysis, &frame, &Look { stroke: moment, ..Look::default() });
            assert!(!scene.items.is_empty(), "{kind:?} {slot:?}");
            for item in &scene.items {
                let at = points(item);
                assert!(at.iter().all(|p| p.x.is_finite() && p.y.is_finite()), "{item:?} {slot:?}");
                if matches!(item.shape, Shape::Text(_)) {
                    let on = |p: &Point| {
                        (scene.bounds.min.x..=scene.bounds.max.x).contains(&p.x)
                            && (scene.bounds.min.y..=scene.bounds.max.y).contains(&p.y)
                    };
                    assert!(at.iter().all(on), "{kind:?} {item:?} {slot:?} {:?}", scene.bounds);
                }
            }
        }
    }
}
