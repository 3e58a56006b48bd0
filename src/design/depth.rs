//! The dimension chains along the shaft, as the user gives them.

use super::numbers::{Numbers, numbered};
use crate::fields::FieldId;
use crate::stack::{self, Chain, Facing};

/// Most dimensions in one chain.
pub const MOST_LINKS: usize = 24;

/// Longest name of a dimension, in characters.
pub const LINK_NAME_LIMIT: usize = 40;

/// One dimension of a chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Link {
    /// What it is, in the user's words.
    pub name: String,
    /// Whether it opens the clearance or takes from it.
    pub opens: bool,
    numbers: Numbers<2>,
}

numbered!(Link, 2, [LinkSize, LinkTolerance]);

impl Default for Link {
    fn default() -> Self {
        Self { name: String::new(), opens: true, numbers: Numbers::new(&Self::FIELDS) }
    }
}

impl Link {
    /// A dimension with a name, a size and a tolerance in mm, and its direction.
    pub fn new(name: &str, size_mm: f64, tolerance_mm: f64, opens: bool) -> Self {
        let mut link = Self { name: name.to_owned(), opens, ..Self::default() };
        for (id, value) in Self::FIELDS.into_iter().zip([size_mm, tolerance_mm]) {
            link.numbers.get_mut(id).into_iter().for_each(|place| *place = value);
        }
        link
    }

    fn working(&self) -> stack::Link {
        stack::Link {
            size_mm: self.number(FieldId::LinkSize),
            tolerance_mm: self.number(FieldId::LinkTolerance),
            opens: self.opens,
        }
    }
}

/// Chains to both sides of the sliding gear, and what moves it.
#[derive(Clone, Debug, PartialEq)]
pub struct Depth {
    /// The dimensions that leave the clearance in neutral, to this pair and to the other.
    pub chains: [Vec<Link>; 2],
    numbers: Numbers<5>,
}

numbered!(Depth, 5, [ThrowThis, ThrowOther, ForkThickness, GrooveWidth, ShimStep]);

impl Default for Depth {
    /// No dimensions yet.
    fn default() -> Self {
        Self { chains: Default::default(), numbers: Numbers::new(&Self::FIELDS) }
    }
}

impl Depth {
    /// Invented sizes to start from.
    pub fn example() -> Self {
        let shared = |opens| Link::new("wall to fork, in neutral", 20.0, 0.05, opens);
        let this = vec![
            Link::new("wall to tips of ring B", 31.4, 0.05, true),
            shared(false),
            Link::new("groove to tips of ring A", 10.2, 0.03, false),
        ];
        let other = vec![
            shared(true),
            Link::new("groove to tips on the other side", 10.1, 0.03, false),
            Link::new("wall to tips of the other gear", 8.5, 0.05, false),
        ];
        Self { chains: [this, other], ..Self::default() }
    }

    /// Its geometry.
    pub fn working(&self) -> stack::Depth {
        let chain = |links: &Vec<Link>| Chain { links: links.iter().map(Link::working).collect() };
        stack::Depth {
            chains: self.chains.each_ref().map(chain),
            throw_mm: [FieldId::ThrowThis, FieldId::ThrowOther].map(|id| self.number(id)),
            play_mm: self.number(FieldId::GrooveWidth) - self.number(FieldId::ForkThickness),
            shim_step_mm: self.number(FieldId::ShimStep),
        }
    }

    /// Fits a shim that moves the sliding gear away from this pair by so many mm; minus is towards it.
    pub fn fit_shim(&mut self, mm: f64) {
        // A chain that is full already takes none.
        if self.chains.iter().any(|links| links.len() >= MOST_LINKS) {
            return;
        }
        for (links, opens) in self.chains.iter_mut().zip([mm > 0.0, mm < 0.0]) {
            links.push(Link::new("shim", mm.abs(), 0.0, opens));
        }
    }

    /// One dimension.
    pub fn link(&self, facing: Facing, at: usize) -> Option<&Link> {
        self.chains[facing as usize].get(at)
    }

    /// One dimension, to change it.
    pub fn link_mut(&mut self, facing: Facing, at: usize) -> Option<&mut Link> {
        self.chains[facing as usize].get_mut(at)
    }
}
