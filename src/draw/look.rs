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
        ViewKind::Linkage => linkage_view(analysis, frame, look.units),
        ViewKind::Swing => swing_chart(analysis, frame, look.units),
        ViewKind::Claw => claw_view(analysis, frame, look.units, look.stroke),
        ViewKind::Track => track_view(analysis, frame, look.units),
        ViewKind::Chains => chains_view(analysis, frame, look.units),
    };
    if let Some(map) = look.outcomes.filter(|_| kind.is_chart()) {
        let mut cells = chart_cells(kind, frame, map).items;
        cells.append(&mut scene.items);
        scene.items = cells;
    }
    scene
}
