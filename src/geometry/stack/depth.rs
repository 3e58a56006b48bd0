//! The sliding gear between its two neighbours.

use super::chain::Chain;
use crate::per::per;

per! {
    /// Something for each side of the sliding gear.
    PerFacing of Facing: this is This, other is Other
}

/// On which side of the sliding gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Facing {
    /// The pair of the design.
    This,
    /// The pair on its other side.
    Other,
}

impl Facing {
    /// Both, this one first.
    pub const BOTH: [Self; 2] = [Self::This, Self::Other];
}

/// A sliding gear with a pair of dogs on each side, moved by a fork in its groove.
///
/// The chains give the clearance from tip to tip in neutral, with the fork in the middle of its groove.
#[derive(Clone, Debug, PartialEq)]
pub struct Depth {
    /// The dimensions that leave the clearance in neutral, to this pair and to the other.
    pub chains: PerFacing<Chain>,
    /// Travel of the fork from neutral, to this pair and to the other, mm.
    pub throw_mm: PerFacing<f64>,
    /// Width of the groove less thickness of the fork, mm.
    pub play_mm: f64,
    /// The step in which shims are sold, mm.
    pub shim_step_mm: f64,
}

impl Depth {
    /// The chain on one side.
    pub fn chain(&self, facing: Facing) -> &Chain {
        &self.chains[facing]
    }

    /// This depth, if the chain to that pair has sizes. The clearance of an empty chain is unknown.
    pub fn given(&self, facing: Facing) -> Option<&Self> {
        (!self.chain(facing).links.is_empty()).then_some(self)
    }

    /// Nominal clearance from tip to tip in neutral, mm.
    pub fn clearance_mm(&self, facing: Facing) -> f64 {
        self.chain(facing).gap_mm()
    }

    /// The least clearance in neutral, mm: with every size at its limit and the gear as far towards the
    /// pair as the groove lets it.
    pub fn least_clearance_mm(&self, facing: Facing) -> f64 {
        let chain = self.chain(facing);
        chain.gap_mm() - chain.worst_mm() - self.play_mm / 2.0
    }

    /// How far the fork pushes the dogs into each other, mm: throw less clearance, less the half of the
    /// play that the fork takes up first.
    pub fn pushed_in_mm(&self, facing: Facing) -> f64 {
        self.throw_mm[facing] - self.clearance_mm(facing) - self.play_mm / 2.0
    }

    /// How far undercut dogs can draw themselves in until the groove comes up against the fork, mm.
    pub fn drawn_in_mm(&self, facing: Facing) -> f64 {
        self.pushed_in_mm(facing) + self.play_mm
    }

    /// How far the sliding gear must move away from this pair to be in the middle, mm; minus is towards
    /// this pair. `None` unless both chains have sizes.
    pub fn off_centre_mm(&self) -> Option<f64> {
        let clear = |facing| Some(self.given(facing)?.clearance_mm(facing));
        Some((clear(Facing::Other)? - clear(Facing::This)?) / 2.0)
    }

    /// The shim that centres the sliding gear, rounded down to the shim step, mm, with the sign of
    /// [`Self::off_centre_mm`]. `None` unless both chains have sizes.
    pub fn shim_mm(&self) -> Option<f64> {
        let off = self.off_centre_mm()?;
        // Where the steps divide evenly, rounding must not lose one of them.
        let steps = (off.abs() / self.shim_step_mm + 1e-9).floor();
        Some((steps * self.shim_step_mm).copysign(off) + 0.0)
    }

    /// The same depth with the sliding gear moved away from this pair by a shim.
    #[must_use]
    pub fn shimmed(&self, shim_mm: f64) -> Self {
        let mut moved = self.clone();
        for (chain, opens) in moved.chains.iter_mut().zip([true, false]) {
            chain.links.push(super::Link { size_mm: shim_mm, tolerance_mm: 0.0, opens });
        }
        moved
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::stack::Link;

    fn depth(this: f64, other: f64) -> Depth {
        let chain = |gap: f64| Chain {
            links: vec![
                Link { size_mm: 20.0 + gap, tolerance_mm: 0.05, opens: true },
                Link { size_mm: 20.0, tolerance_mm: 0.05, opens: false },
            ],
        };
        Depth {
            chains: PerFacing { this: chain(this), other: chain(other) },
            throw_mm: PerFacing::both(5.8),
            play_mm: 0.2,
            shim_step_mm: 0.05,
        }
    }

    #[test]
    fn what_one_side_gains_the_other_loses() {
        let found = depth(1.2, 1.4);
        let shimmed = found.shimmed(found.shim_mm().expect("both chains are given"));
        for facing in Facing::BOTH {
            assert!((shimmed.clearance_mm(facing) - 1.3).abs() < 1e-12, "{facing:?}");
            assert!((shimmed.pushed_in_mm(facing) - 4.4).abs() < 1e-12, "{facing:?}");
        }
        assert!((found.pushed_in_mm(Facing::This) - 4.5).abs() < 1e-12);
        assert!((found.drawn_in_mm(Facing::This) - 4.7).abs() < 1e-12);
        assert!((found.least_clearance_mm(Facing::This) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn shims_are_rounded_down_to_their_step_either_way() {
        for (this, other, shim) in [
            (1.2, 1.4, 0.1),
            (1.4, 1.2, -0.1),
            (1.2, 1.33, 0.05),
            (1.33, 1.2, -0.05),
            (1.2, 1.25, 0.0),
            (1.0, 1.0, 0.0),
        ] {
            let got = depth(this, other).shim_mm().expect("both chains are given");
            assert!((got - shim).abs() < 1e-12, "{this} {other}: {got}");
        }
    }

    #[test]
    fn a_chain_without_sizes_says_nothing_of_the_middle() {
        for facing in Facing::BOTH {
            let mut half = depth(1.2, 1.4);
            half.chains[facing].links.clear();
            assert_eq!((half.off_centre_mm(), half.shim_mm()), (None, None), "{facing:?}");
            assert!(half.given(facing).is_none());
        }
    }
}
