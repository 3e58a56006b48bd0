//! A target that follows from the shift.

use crate::analysis::Analysis;
use crate::figures::WINDOW_TIME;

/// What a target has more than is needed, so that a shift that is a little harder still goes in: our own reserve.
const RESERVE: f64 = 1.1;

/// A target with what it is for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Proposed {
    /// What is needed.
    pub needed: f64,
    /// The same with the reserve, rounded up to a tenth.
    pub target: f64,
}

/// The window time in ms that a shift needs to go straight in, and a target for it; `None` where the pair cannot be
/// computed.
pub fn proposed_window_ms(analysis: &Analysis) -> Option<Proposed> {
    let needed = WINDOW_TIME.gauge(0.0, analysis)?.limit;
    Some(Proposed { needed, target: (needed * RESERVE * 10.0).ceil() / 10.0 })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;

    #[test]
    fn the_target_is_what_is_needed_and_a_tenth() {
        let proposed = proposed_window_ms(&Analysis::of(&example())).expect("a pair");
        // 4 mm at 0.48 m/s.
        assert!((proposed.needed - 8.33).abs() < 0.01, "{proposed:?}");
        assert_eq!(proposed.target, 9.2);
    }
}
