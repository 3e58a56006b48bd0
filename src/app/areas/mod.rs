//! The parts of the job, one file or folder each.

pub(crate) mod compare;
pub(crate) mod depth;
pub(crate) mod help;
pub(crate) mod load;
pub(crate) mod papers;
pub(crate) mod rework;
pub(crate) mod rings;
pub(crate) mod selector;
pub(crate) mod shift;
pub(crate) mod trace;
