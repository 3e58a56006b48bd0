//! The error of a file that cannot be made.

use std::error::Error;
use std::fmt::{self, Display, Formatter};

use crenel_words::{Reader, export as say};

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

impl From<ExportError> for Finding {
    fn from(error: ExportError) -> Self {
        match error {
            ExportError::NothingToIndex(side) => Self::error(say::nothing_to_index(side)),
            ExportError::NoChances => Self::error(say::no_chances()),
            ExportError::NoSolid(why) => why.into(),
        }
    }
}

impl Display for ExportError {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        f.write_str(&Finding::from(self.clone()).whole(Reader::default()))
    }
}

impl Error for ExportError {}
