//! What the items of a drawing are for, and the line that follows from it.

use crate::shift::Outcome;

/// Line types of ISO 128-2, by the number the standard gives them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Line {
    /// 01.2 continuous wide: visible outlines.
    Wide,
    /// 01.1 continuous narrow: dimensions, projections.
    Narrow,
    /// 02.1 dashed narrow: hidden outlines.
    Dashed,
    /// 04.1 long-dashed dotted narrow: centre lines.
    Chain,
    /// 05.1 long-dashed double-dotted narrow: outlines before cutting, adjacent parts.
    DoubleChain,
    /// No line: fills and text.
    None,
}

/// What an item is for; how it looks follows from that.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Edge of a tip face.
    Tip,
    /// Edge of the tip face of a dog that is lower than the others.
    ShortTip,
    /// Where the flanks of a dog meet the web.
    Root,
    /// Inner and outer ends of the dogs, all round.
    Rim,
    /// What was there before a cut.
    Removed,
    /// Hatching of metal that comes off.
    Cut,
    /// Hatching of a cut face.
    Hatching,
    /// A section of metal in the unrolled view.
    Section,
    /// The dogs of a ring unrolled at the mean diameter, at true height.
    Elevation,
    /// Centre line.
    Centre,
    /// Datum mark.
    Datum,
    /// Dimension, extension and leader lines, and arrows.
    Dimension,
    /// Words on the drawing.
    Note,
    /// The name of a dog.
    Label,
    /// The square that proves the scale.
    Check,
    /// A window at tip level.
    OpenEntry,
    /// A window at full depth.
    OpenDeep,
    /// Phases and overlaps at which a dog is in the way.
    Blocked,
    /// Where the tips would be in the web.
    Web,
    /// A flat piece of a solid in space.
    Facet,
    /// A level that matters: tip on tip, full depth.
    Level,
    /// The phase and overlap of the rings now.
    State,
    /// The way one shift takes.
    Way,
    /// Shifts that go straight in.
    StraightIn,
    /// Shifts that are in after rubbing.
    AfterRubbing,
    /// Shifts that are in after being thrown back.
    AfterStrikes,
    /// Shifts that stop half in.
    HalfIn,
    /// Shifts that hang tip on tip.
    Locked,
    /// Shifts that still ratchet.
    Ratcheting,
    /// A line at a number of an axis, and other help for the eye.
    Grid,
    /// The edge of a chart with the marks at its numbers, and leaders to labels.
    Border,
    /// Paper under a line, so that it is seen on any fill.
    Casing,
    /// Where a map is above a level. Each band lies on those below it and makes them stronger.
    Band,
    /// The curve of the first layout of a comparison.
    CurveA,
    /// The curve of the second.
    CurveB,
    /// The curve of the third.
    CurveC,
    /// The curve of the fourth.
    CurveD,
    /// The curve of the fifth.
    CurveE,
    /// The curve of the sixth.
    CurveF,
}

impl Role {
    /// Every role.
    pub const ALL: [Self; 39] = [
        Self::Tip,
        Self::ShortTip,
        Self::Root,
        Self::Rim,
        Self::Removed,
        Self::Cut,
        Self::Hatching,
        Self::Section,
        Self::Elevation,
        Self::Centre,
        Self::Datum,
        Self::Dimension,
        Self::Note,
        Self::Label,
        Self::Check,
        Self::OpenEntry,
        Self::OpenDeep,
        Self::Blocked,
        Self::Web,
        Self::Facet,
        Self::Level,
        Self::State,
        Self::Way,
        Self::StraightIn,
        Self::AfterRubbing,
        Self::AfterStrikes,
        Self::HalfIn,
        Self::Locked,
        Self::Ratcheting,
        Self::Grid,
        Self::Border,
        Self::Casing,
        Self::Band,
        Self::CurveA,
        Self::CurveB,
        Self::CurveC,
        Self::CurveD,
        Self::CurveE,
        Self::CurveF,
    ];

    /// The curves of a comparison, each with a line type of its own.
    pub const CURVES: [Self; 6] =
        [Self::CurveA, Self::CurveB, Self::CurveC, Self::CurveD, Self::CurveE, Self::CurveF];

    /// The role that an outcome of a shift is drawn in.
    pub const fn for_outcome(outcome: Outcome) -> Self {
        match outcome {
            Outcome::StraightIn => Self::StraightIn,
            Outcome::AfterRubbing => Self::AfterRubbing,
            Outcome::AfterStrikes => Self::AfterStrikes,
            Outcome::HalfIn => Self::HalfIn,
            Outcome::Locked => Self::Locked,
            Outcome::Ratcheting => Self::Ratcheting,
        }
    }

    /// Its name, for layers and style sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Tip => "tip",
            Self::ShortTip => "short-tip",
            Self::Root => "root",
            Self::Rim => "rim",
            Self::Removed => "removed",
            Self::Cut => "cut",
            Self::Hatching => "hatching",
            Self::Section => "section",
            Self::Elevation => "elevation",
            Self::Centre => "centre",
            Self::Datum => "datum",
            Self::Dimension => "dimension",
            Self::Note => "note",
            Self::Label => "label",
            Self::Check => "check",
            Self::OpenEntry => "open-entry",
            Self::OpenDeep => "open-deep",
            Self::Blocked => "blocked",
            Self::Web => "web",
            Self::Facet => "facet",
            Self::Level => "level",
            Self::State => "state",
            Self::Way => "way",
            Self::StraightIn => "straight-in",
            Self::AfterRubbing => "after-rubbing",
            Self::AfterStrikes => "after-strikes",
            Self::HalfIn => "half-in",
            Self::Locked => "locked",
            Self::Ratcheting => "ratcheting",
            Self::Grid => "grid",
            Self::Border => "border",
            Self::Casing => "casing",
            Self::Band => "band",
            Self::CurveA => "curve-a",
            Self::CurveB => "curve-b",
            Self::CurveC => "curve-c",
            Self::CurveD => "curve-d",
            Self::CurveE => "curve-e",
            Self::CurveF => "curve-f",
        }
    }

    /// The line it is drawn with.
    pub const fn line(self) -> Line {
        match self {
            Self::Tip
            | Self::Section
            | Self::Elevation
            | Self::OpenEntry
            | Self::OpenDeep
            | Self::State
            | Self::Way
            | Self::CurveA => Line::Wide,
            Self::Rim
            | Self::Cut
            | Self::Hatching
            | Self::Datum
            | Self::Dimension
            | Self::Check
            | Self::Grid
            | Self::Border => Line::Narrow,
            Self::ShortTip | Self::Root | Self::Level | Self::CurveB | Self::CurveE => Line::Dashed,
            Self::Centre | Self::CurveC | Self::CurveF => Line::Chain,
            Self::Removed | Self::CurveD => Line::DoubleChain,
            Self::Note
            | Self::Label
            | Self::Blocked
            | Self::Web
            | Self::Facet
            | Self::Casing
            | Self::Band
            | Self::StraightIn
            | Self::AfterRubbing
            | Self::AfterStrikes
            | Self::HalfIn
            | Self::Locked
            | Self::Ratcheting => Line::None,
        }
    }
}
