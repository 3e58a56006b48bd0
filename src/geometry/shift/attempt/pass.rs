//! What the first pass comes to.

/// What a shift comes to that is given up where a flank throws it back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FirstPass {
    /// Into the first window and caught.
    StraightIn,
    /// Caught after rubbing.
    AfterRubbing,
    /// Thrown back by a flank.
    Struck,
    /// Held by the tall dogs on top of a short one.
    HalfIn,
    /// Hangs tip on tip.
    Locked,
    /// None of these within the time allowed.
    Ratcheting,
}
