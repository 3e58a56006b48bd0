//! The dimension chains along the shaft, as the user gives them.

use super::numbers::{numbered, place};
use crate::fields::FieldId;
use crate::stack::{self, Chain, Facing, PerFacing};

/// Most dimensions in one chain.
pub const MOST_LINKS: usize = 24;

/// Longest name of a dimension, in characters.
pub const LINK_NAME_LIMIT: usize = 40;

/// The name of a shim that was fitted by its button.
const SHIM: &str = "shim";

/// One dimension of a chain.
#[derive(Clone, Debug, PartialEq)]
pub struct LinkSpec {
    /// What it is, in the user's words.
    pub name: String,
    /// Whether it opens the clearance or takes from it.
    pub opens: bool,
    numbers: [f64; LinkField::COUNT],
}

numbered!(LinkField of LinkSpec: LinkSize, LinkTolerance);

impl Default for LinkSpec {
    fn default() -> Self {
        Self { name: String::new(), opens: true, numbers: LinkField::defaults() }
    }
}

impl LinkSpec {
    /// A dimension with a name, a size and a tolerance in mm, and its direction.
    pub fn new(name: &str, size_mm: f64, tolerance_mm: f64, opens: bool) -> Self {
        let mut link = Self { name: name.to_owned(), opens, ..Self::default() };
        link.set(LinkField::LinkSize, size_mm);
        link.set(LinkField::LinkTolerance, tolerance_mm);
        link
    }

    /// Its size with its direction, mm.
    fn step_mm(&self) -> f64 {
        self.working().step_mm()
    }

    fn working(&self) -> stack::Link {
        stack::Link {
            size_mm: self.get(LinkField::LinkSize),
            tolerance_mm: self.get(LinkField::LinkTolerance),
            opens: self.opens,
        }
    }
}

/// Chains to both sides of the sliding gear, and what moves it.
#[derive(Clone, Debug, PartialEq)]
pub struct DepthSpec {
    /// The dimensions that leave the clearance in neutral, to this pair and to the other.
    pub chains: PerFacing<Vec<LinkSpec>>,
    numbers: [f64; DepthField::COUNT],
}

numbered!(DepthField of DepthSpec: ThrowThis, ThrowOther, ForkThickness, GrooveWidth, ShimStep);

impl Default for DepthSpec {
    /// No dimensions yet.
    fn default() -> Self {
        Self { chains: Default::default(), numbers: DepthField::defaults() }
    }
}

impl DepthSpec {
    /// Invented sizes to start from.
    pub fn example() -> Self {
        let shared = |opens| LinkSpec::new("wall to fork, in neutral", 20.0, 0.05, opens);
        let this = vec![
            LinkSpec::new("wall to tips of ring B", 31.4, 0.05, true),
            shared(false),
            LinkSpec::new("groove to tips of ring A", 10.2, 0.03, false),
        ];
        let other = vec![
            shared(true),
            LinkSpec::new("groove to tips on the other side", 10.1, 0.03, false),
            LinkSpec::new("wall to tips of the other gear", 8.5, 0.05, false),
        ];
        Self { chains: PerFacing { this, other }, ..Self::default() }
    }

    /// The working geometry.
    pub fn working(&self) -> stack::Depth {
        let chain =
            |links: &Vec<LinkSpec>| Chain { links: links.iter().map(LinkSpec::working).collect() };
        stack::Depth {
            chains: self.chains.each_ref().map(chain),
            throw_mm: PerFacing::from([DepthField::ThrowThis, DepthField::ThrowOther])
                .map(|field| self.get(field)),
            play_mm: self.get(DepthField::GrooveWidth) - self.get(DepthField::ForkThickness),
            shim_step_mm: self.get(DepthField::ShimStep),
        }
    }

    /// Fits a shim that moves the sliding gear away from this pair by so many mm; minus is towards it.
    ///
    /// A shim that was fitted before is changed by that amount, and removed where it becomes 0. Returns
    /// whether the shim could be fitted: a full chain has no room for one.
    pub fn fit_shim(&mut self, mm: f64) -> bool {
        let before = self.fitted_shim();
        let full = self.chains.iter().any(|links| links.len() >= MOST_LINKS);
        if full && before.is_none() {
            return false;
        }
        // Rounded to 1e-9 mm, so that rounding errors do not add up from step to step.
        let mm = ((mm + before.map_or(0.0, |(_, mm)| mm)) * 1e9).round() / 1e9;
        let places = before.map_or(self.chains.each_ref().map(Vec::len), |(places, _)| places);
        for ((links, at), opens) in self.chains.iter_mut().zip(places).zip([mm > 0.0, mm < 0.0]) {
            if before.is_some() {
                links.remove(at);
            }
            if mm != 0.0 {
                links.insert(at, LinkSpec::new(SHIM, mm.abs(), 0.0, opens));
            }
        }
        true
    }

    /// The places in both chains of the shim that was fitted, and how far it moves the sliding gear
    /// away from this pair, mm.
    fn fitted_shim(&self) -> Option<(PerFacing<usize>, f64)> {
        let place = |links: &Vec<LinkSpec>| links.iter().rposition(|link| link.name == SHIM);
        let PerFacing { this, other } = self.chains.each_ref().map(place);
        let places = PerFacing { this: this?, other: other? };
        let [this, other] =
            Facing::BOTH.map(|facing| self.chains[facing][places[facing]].step_mm());
        // A fitted shim opens one chain by as much as it takes from the other. Any other pair of
        // dimensions with its name was typed by the user.
        (this == -other).then_some((places, this))
    }

    /// One dimension.
    pub fn link(&self, facing: Facing, at: usize) -> Option<&LinkSpec> {
        self.chains[facing].get(at)
    }

    /// One dimension, to change it.
    pub fn link_mut(&mut self, facing: Facing, at: usize) -> Option<&mut LinkSpec> {
        self.chains[facing].get_mut(at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_shim_changes_the_first_and_none_is_left_of_one_taken_back() {
        let begun = DepthSpec::example();
        let mut depth = begun.clone();
        for (by, total) in [(0.1, 0.1), (0.05, 0.15), (-0.25, -0.1)] {
            assert!(depth.fit_shim(by));
            for (links, opens) in depth.chains.iter().zip([total > 0.0, total < 0.0]) {
                assert_eq!(links.len(), 4, "{by}");
                assert_eq!(links[3], LinkSpec::new(SHIM, f64::abs(total), 0.0, opens), "{by}");
            }
        }
        assert!(depth.fit_shim(0.1));
        assert_eq!(depth, begun);
    }

    #[test]
    fn a_full_chain_takes_no_shim() {
        let mut depth = DepthSpec::example();
        depth.chains.this.resize(MOST_LINKS, LinkSpec::default());
        let full = depth.clone();
        assert!(!depth.fit_shim(0.1));
        assert_eq!(depth, full);
    }
}
