//! A design worked out, with everything there is to say about it.

use std::ops::Deref;

use crate::design::Design;
use crate::finding::Finding;
use crate::findings;
use crate::model::Worked;

/// A design worked out, with its findings. It reads as the [`Worked`] in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Analysis {
    /// The working geometry and the numbers that follow from it.
    pub worked: Worked,
    /// Everything wrong or worth knowing, the gravest first.
    pub findings: Vec<Finding>,
}

impl Analysis {
    /// Works a design out. Never panics, whatever the design holds.
    pub fn of(design: &Design) -> Self {
        let (worked, laid_out) = Worked::of(design);
        let findings = findings::all(&worked, laid_out);
        Self { worked, findings }
    }
}

impl Deref for Analysis {
    type Target = Worked;

    fn deref(&self) -> &Worked {
        &self.worked
    }
}
