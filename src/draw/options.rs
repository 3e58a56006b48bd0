//! How a view is shown, apart from what it shows.

use crenel_words::Reader;

use crate::analysis::Analysis;

use crate::model::Pose;
use crate::ring::Side;
use crate::selector::Stroke;
use crate::shift::OutcomeMap;

/// How far a stroke of the pedal has come: which stroke, and how much of it is done, from 0 to 1.
pub type StrokeMoment = (Stroke, f64);

/// How a view is shown.
#[derive(Clone, Copy, Debug, Default)]
pub struct ViewOptions<'a> {
    /// The dog that is chosen.
    pub chosen: Option<(Side, usize)>,
    /// Who reads its words.
    pub reader: Reader,
    /// Where the rings are while a shift is played; otherwise they are as in the design.
    pub pose: Option<Pose>,
    /// The outcome map, as far as it is worked out.
    pub outcomes: Option<&'a OutcomeMap>,
    /// The moment of a stroke that is played; otherwise the pedal is at rest.
    pub stroke: Option<StrokeMoment>,
}

impl ViewOptions<'_> {
    /// Where the rings are drawn.
    pub(crate) fn pose(&self, analysis: &Analysis) -> Pose {
        self.pose.unwrap_or_else(|| analysis.pose())
    }
}
