//! The error of a file that cannot be made.

use crenel_words::Reader;

use std::error::Error;
use std::fmt::{self, Display, Formatter};

use crate::finding::Finding;
use crate::ring::Side;
use crate::solid::SolidError;

/// Why a file cannot be made.
#[derive(Clone, Debug, PartialEq)]
pub enum ExportError {
    /// No operation on the ring is indexed.
    NothingToIndex(Side),
    /// There is no outcome map, because the rings jam or do not touch.
    NoChances,
    /// The ring is not a solid.
    NoSolid(SolidError),
}

impl Display for ExportError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::NothingToIndex(side) => write!(
                f,
                "Nothing on {} has to be indexed: plan some work on single dogs or flanks under Rework.",
                side.lower_name()
            ),
            Self::NoChances => {
                f.write_str("There are no chances to export: the rings jam or stand apart.")
            }
            Self::NoSolid(why) => {
                let finding = Finding::from(*why);
                f.write_str(&finding.whole(Reader::default()))
            }
        }
    }
}

impl Error for ExportError {}
