//! How a view is shown, apart from what it shows.

use crenel_words::{Phrase, Reader, page::common};

use crate::analysis::Analysis;

use crate::model::Pose;
use crate::ring::Side;
use crate::selector::Stroke;
use crate::shift::OutcomeMap;

/// How far a stroke of the pedal has come: which stroke, and how much of it is done, from 0 to 1.
pub type StrokeMoment = (Stroke, f64);

/// Which state of the rings a drawing shows, once work is planned. Without a plan all three are the same.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum RingState {
    /// Before any cut.
    AsFound,
    /// With all cuts made.
    AsCut,
    /// As cut, with the metal that goes hatched both ways inside its outline as found.
    #[default]
    Both,
}

impl RingState {
    /// Every state, in the order of the work.
    pub const ALL: [Self; 3] = [Self::AsFound, Self::AsCut, Self::Both];

    /// Its name on a button.
    pub const fn label(self) -> Phrase {
        match self {
            Self::AsFound => common::as_found,
            Self::AsCut => common::as_cut,
            Self::Both => common::found_and_cut,
        }
    }
}

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
    /// Which state of the rings is shown.
    pub state: RingState,
    /// The design as found, for a view that draws its outline beside that of the design as cut.
    pub found: Option<&'a Analysis>,
}

impl ViewOptions<'_> {
    /// Where the rings are drawn.
    pub(crate) fn pose(&self, analysis: &Analysis) -> Pose {
        self.pose.unwrap_or_else(|| analysis.pose())
    }
}
