//! Layers and line types.

use crate::draw::{Item, Line, Role};

/// What to do with what is on a layer.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Layer {
    /// Edges of metal that stays as it is.
    Keep,
    /// Outlines that a tool follows, each at the level it cuts to.
    Cut,
    /// The section beside the part: nothing lies there to machine.
    Detail,
    /// The dogs unrolled beside the part, at true height: nothing lies there to machine.
    Elevation,
    /// Centre lines.
    Centre,
    /// Words, dimensions and whatever else is no edge of the part: nothing to machine.
    Note,
}

impl Layer {
    pub(super) const ALL: [Self; 6] =
        [Self::Keep, Self::Cut, Self::Detail, Self::Elevation, Self::Centre, Self::Note];

    /// The layer of an item: what is cut, by its level; all else by its role. A new role must choose
    /// here: there is no other place and no default.
    pub(super) const fn of(item: &Item) -> Self {
        if item.cut_to_mm.is_some() {
            return Self::Cut;
        }
        match item.role {
            Role::Tip | Role::ShortTip | Role::Root | Role::Rim => Self::Keep,
            Role::Section | Role::Removed => Self::Detail,
            Role::Elevation => Self::Elevation,
            Role::Centre => Self::Centre,
            // Hatching is no path for a tool.
            Role::Cut
            | Role::Hatching
            | Role::Datum
            | Role::Dimension
            | Role::Note
            | Role::Label
            | Role::Check
            | Role::OpenEntry
            | Role::OpenDeep
            | Role::Blocked
            | Role::Web
            | Role::Facet
            | Role::Level
            | Role::State
            | Role::Way
            | Role::StraightIn
            | Role::AfterRubbing
            | Role::AfterStrikes
            | Role::HalfIn
            | Role::Locked
            | Role::Ratcheting
            | Role::Grid
            | Role::Border
            | Role::Casing
            | Role::Band
            | Role::CurveA
            | Role::CurveB
            | Role::CurveC
            | Role::CurveD
            | Role::CurveE
            | Role::CurveF => Self::Note,
        }
    }

    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::Keep => "KEEP",
            Self::Cut => "CUT",
            Self::Detail => "DETAIL",
            Self::Elevation => "ELEVATION",
            Self::Centre => "CENTRE",
            Self::Note => "NOTE",
        }
    }

    /// Its colour by the colour index of DXF: black on white and white on black, red, blue, green, magenta, grey.
    pub(super) const fn colour(self) -> u8 {
        match self {
            Self::Keep => 7,
            Self::Cut => 1,
            Self::Detail => 5,
            Self::Elevation => 3,
            Self::Centre => 6,
            Self::Note => 8,
        }
    }

    /// The line of most that is on it.
    pub(super) const fn line(self) -> Line {
        match self {
            Self::Keep | Self::Detail | Self::Elevation => Line::Wide,
            Self::Cut => Line::DoubleChain,
            Self::Centre => Line::Chain,
            Self::Note => Line::Narrow,
        }
    }
}

/// A line type: its name, what it looks like, and its dashes (plus), gaps (minus) and dots (0), mm.
pub(super) type Pattern = (&'static str, &'static str, &'static [f64]);

const CONTINUOUS: Pattern = ("CONTINUOUS", "Solid", &[]);
// ISO 128-2 in widths of a narrow line, 0.25 mm: dashes of 12, long dashes of 24, gaps of 3.
const DASHED: Pattern = ("DASHED", "ISO 128 no. 02 _ _ _ _", &[3.0, -0.75]);
const CHAIN: Pattern = ("LONG-DASH-DOT", "ISO 128 no. 04 ___ . ___", &[6.0, -0.75, 0.0, -0.75]);
const DOUBLE_CHAIN: Pattern =
    ("LONG-DASH-DOUBLE-DOT", "ISO 128 no. 05 ___ . . ___", &[6.0, -0.75, 0.0, -0.75, 0.0, -0.75]);

pub(super) const PATTERNS: [Pattern; 6] =
    [("ByBlock", "", &[]), ("ByLayer", "", &[]), CONTINUOUS, DASHED, CHAIN, DOUBLE_CHAIN];

/// Line type and width, in hundredths of a mm.
pub(super) const fn pen(line: Line) -> (Pattern, u8) {
    match line {
        Line::Wide => (CONTINUOUS, 50),
        Line::Narrow | Line::None => (CONTINUOUS, 25),
        Line::Dashed => (DASHED, 25),
        Line::Chain => (CHAIN, 25),
        Line::DoubleChain => (DOUBLE_CHAIN, 25),
    }
}
