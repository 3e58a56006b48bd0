//! How shifts end that are followed to their end, over all phases, in exact spans.

use super::attempt::Shifter;
use super::chains::Chains;
use super::outcome::Outcome;
use super::row::{Ends, PhaseRun};
use super::runs::Runs;

/// Neighbouring phases whose shifts end alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EndSpan {
    /// Where the span begins, rad, as an angle in the direction of slip, like
    /// [`Span::begin`](super::Span::begin).
    pub begin: f64,
    /// The width of the span, rad.
    pub width: f64,
    /// How the shifts end.
    pub outcome: Outcome,
}

/// What is known of the shifts of one shifter: it grows with each speed difference that is asked for, and
/// makes the next one quicker.
#[derive(Clone, Debug, PartialEq)]
pub struct Endings {
    runs: Option<Runs>,
    chains: Chains,
}

impl Endings {
    /// Prepares a shifter. All that is asked must be asked with the same one.
    pub fn of(shifter: &Shifter) -> Self {
        Self { runs: Runs::of(shifter), chains: Chains::of(shifter) }
    }

    /// How the shifts from all phases end at a slip in rad/s, run by run.
    pub(super) fn ends(&mut self, shifter: &Shifter, slip: f64) -> Ends {
        let known = self.runs.as_mut().and_then(|runs| runs.ends(shifter, slip));
        known.unwrap_or_else(|| self.chains.ends(shifter, slip))
    }

    /// Shares of all phases by how the shifts end at a slip in rad/s, in the order of [`Outcome::ALL`].
    pub fn shares(&mut self, shifter: &Shifter, slip: f64) -> [f64; 6] {
        self.ends(shifter, slip.abs()).shares()
    }

    /// How the shifts from all phases end at a slip in rad/s, as spans once round the circle in the direction
    /// of slip. Nothing is sampled: the ends are known in closed form or by halving, to 1e-9 rad.
    pub fn spans(&mut self, shifter: &Shifter, slip: f64) -> Vec<EndSpan> {
        let Ends { origin, runs } = self.ends(shifter, slip.abs());
        let mut from = 0.0;
        let span = |run: PhaseRun| {
            let (begin, width) = (origin + from, run.to - from);
            from = run.to;
            EndSpan { begin, width, outcome: run.outcome }
        };
        runs.into_iter().map(span).collect()
    }
}
