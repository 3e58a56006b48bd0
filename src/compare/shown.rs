//! Which layouts a comparison shows, and in which order.

use crate::design::{Design, Variants};

/// The most columns of a comparison.
pub const MOST_COLUMNS: usize = 6;

/// What a column of a comparison shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// The rings of the first variant, or of the design, before any work.
    FirstState,
    /// The design as it is, without variants.
    Current,
    /// A variant, by its place.
    Variant(usize),
    /// A layout kept beside the design, by its place.
    Layout(usize),
}

impl Shown {
    /// Whether it is the design that is being worked on.
    pub fn is_current(self, design: &Design) -> bool {
        match self {
            Self::Current => true,
            Self::Variant(at) => design.variants.current() == Some(at),
            Self::FirstState | Self::Layout(_) => false,
        }
    }
}

/// The columns of a comparison. The first is one's own first state: the rings as found, before any work. Then come the
/// variants that are compared, as far as there is room, and the layouts kept beside the design.
pub fn shown(design: &Design) -> Vec<Shown> {
    let first = first(design);
    let layouts = (0..design.alternatives.len()).map(Shown::Layout);
    let room = MOST_COLUMNS - 1 - layouts.len();
    let mut own: Vec<_> = if design.variants.is_empty() {
        vec![Shown::Current]
    } else {
        let variants = design.variants.iter().enumerate();
        variants.filter(|(_, one)| one.compared).map(|(at, _)| Shown::Variant(at)).collect()
    };
    own.retain(|one| *one != first);
    own.truncate(room);
    std::iter::once(first).chain(own).chain(layouts).collect()
}

fn first(design: &Design) -> Shown {
    if design.variants.is_empty() {
        return if design.is_planned() { Shown::FirstState } else { Shown::Current };
    }
    let state = first_state(design);
    let is_it = |at: &usize| {
        design.to_variant(*at).is_some_and(|one| !one.is_planned() && alone(one) == state)
    };
    (0..design.variants.len()).find(is_it).map_or(Shown::FirstState, Shown::Variant)
}

/// The design that a column shows, for itself alone.
pub(super) fn design_of(design: &Design, shown: Shown) -> Design {
    match shown {
        Shown::FirstState => first_state(design),
        Shown::Current => alone(design.clone()),
        Shown::Variant(at) => design.to_variant(at).map_or_else(Design::default, alone),
        Shown::Layout(at) => {
            let pair = design.alternatives.get(at).cloned().unwrap_or_default();
            Design { title: pair.title, a: pair.a, b: pair.b, ..alone(design.clone()) }
        }
    }
}

fn first_state(design: &Design) -> Design {
    let first = design.to_variant(0);
    alone(first.as_ref().unwrap_or(design).to_found())
}

fn alone(design: Design) -> Design {
    Design { alternatives: Vec::new(), variants: Variants::default(), ..design }
}
