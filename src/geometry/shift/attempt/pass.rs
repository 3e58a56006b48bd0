//! The result of the first pass.

/// The result of a shift that is given up when a flank throws the ring back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FirstPass {
    /// Caught in the first window.
    StraightIn,
    /// Caught after rubbing.
    AfterRubbing,
    /// Thrown back by a flank.
    Struck,
    /// Held by the tall dogs on top of a short one.
    HalfIn,
    /// Stopped tip on tip.
    Locked,
    /// None of these within the time allowed.
    Ratcheting,
}
