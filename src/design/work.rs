//! Work on the dogs of a ring: what a kind of work is, and one piece of it with its number.

use crenel_words::{Label, Message, Phrase};

use super::remeasured::Remeasured;
use crate::fields::FieldId;
use crate::ring::{FlankSide, Ring};

/// A cut that changes the whole dog.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cut {
    /// Cut off down to the web.
    Remove,
    /// Cut down to a height in mm.
    Shorten(f64),
}

/// One kind of work with its number. No work adds metal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Work {
    /// The kind.
    pub kind: &'static WorkKind,
    /// Its number in the unit of the kind's field; 0 where the kind has none.
    pub number: f64,
}

/// A kind of work. Its row in [`WORKS`](super::WORKS) defines all of it: files, forms, sheets, drawings and
/// tests read the row.
pub struct WorkKind {
    /// Its word in files. It never changes.
    pub key: &'static str,
    /// Its name on the screen and on paper.
    pub name: &'static str,
    /// The field of its number; `None` for a kind without one.
    pub number: Option<FieldId>,
    /// Where it cuts, which decides where it is indexed.
    pub region: Region,
    /// Whether it is done to all dogs at once, whichever are chosen.
    pub is_on_all: bool,
    /// The size that it makes, if it makes one.
    pub size: Option<Size>,
    /// What it leaves of the faces of the tips.
    pub tips: Tips,
    /// Cautions of this very work, the gravest first; those of heat and case belong to every cut.
    pub cautions: &'static [Phrase],
    /// The cut of the whole dog, given the number; `None` for work that leaves its height unchanged.
    pub(crate) cut: Option<fn(f64) -> Cut>,
    /// The number that new work on a ring as found begins with; otherwise the default of its field.
    pub(crate) first_number: Option<fn(&Ring) -> f64>,
    /// Does the work to the dogs at some places.
    pub(crate) apply: fn(f64, &mut Ring, &dyn Fn(usize) -> bool),
    /// What the set-up sheet says, given the ring before the work.
    pub(crate) instruction: fn(&Work, &Ring) -> Message,
    /// What a summary of the plan says, given the words for the dogs.
    pub(crate) summary: fn(&Work, Message) -> Message,
    /// The work that is left once the ring was measured: its number, and which of the dogs it was planned for
    /// still need it.
    pub(crate) remainder: Remainder,
}

/// From a number and places to the number and the places that are left, if any are.
pub(crate) type Remainder = fn(f64, &mut Remeasured, Vec<usize>) -> Option<(f64, Vec<usize>)>;

/// Where work cuts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Region {
    /// The whole dog, which is indexed at its centre.
    Dog,
    /// A flank, which is indexed where it lies after the cut.
    Flank(FlankSide),
    /// The tip or its edges, on a plate or by hand: nothing is indexed.
    Tip,
}

/// A size that is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Size {
    /// Height of a dog.
    Height,
    /// Width of a dog.
    Width,
    /// Edge break.
    Edge,
}

impl Size {
    /// The input that it is of one dog.
    pub const fn field(self) -> FieldId {
        match self {
            Self::Height => FieldId::Height,
            Self::Width => FieldId::TipWidth,
            Self::Edge => FieldId::EdgeBreak,
        }
    }
}

/// What work leaves of the faces of the tips.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tips {
    /// They are unchanged.
    Unchanged,
    /// They are cut, and rub as given.
    Fresh,
    /// They are lapped, and rub less.
    Lapped,
}

impl WorkKind {
    /// Its name, as a text of the catalogue.
    pub const fn label(&self) -> Label {
        Label { key: ["work", self.key, "name"], english: self.name }
    }

    /// New work of this kind on a ring as found.
    pub fn begin(&'static self, found: &Ring) -> Work {
        let default = || self.number.map_or(0.0, |id| id.spec().default);
        Work { kind: self, number: self.first_number.map_or_else(default, |first| first(found)) }
    }

    /// The flank that it cuts, if it cuts one.
    pub const fn flank(&self) -> Option<FlankSide> {
        match self.region {
            Region::Flank(flank) => Some(flank),
            Region::Dog | Region::Tip => None,
        }
    }
}

impl Work {
    /// The field of its number, and the number; `None` for a kind without one.
    pub fn number(&self) -> Option<(FieldId, f64)> {
        self.kind.number.map(|id| (id, self.number))
    }

    /// Its number, to change it.
    pub const fn number_mut(&mut self) -> Option<&mut f64> {
        if self.kind.number.is_some() { Some(&mut self.number) } else { None }
    }

    /// The cut of the whole dog; `None` for work that leaves its height unchanged.
    pub fn to_cut(self) -> Option<Cut> {
        self.kind.cut.map(|cut| cut(self.number))
    }

    /// How much it narrows a flank, mm at the mean radius; `None` for other work.
    pub fn narrowing_mm(&self, flank: FlankSide) -> Option<f64> {
        let narrows = self.kind.size == Some(Size::Width) && self.kind.flank() == Some(flank);
        narrows.then_some(self.number)
    }

    /// What the set-up sheet says, given the ring before the work.
    pub fn instruction(&self, before: &Ring) -> Message {
        (self.kind.instruction)(self, before)
    }

    /// What a summary of the plan says, given the words for the dogs it is done to.
    pub fn summary(&self, dogs: Message) -> Message {
        (self.kind.summary)(self, dogs)
    }
}

impl std::fmt::Debug for WorkKind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.key)
    }
}

impl PartialEq for WorkKind {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

impl Eq for WorkKind {}
