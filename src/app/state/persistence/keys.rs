//! The keys under which a tab stores notes for its next page.

/// The address that was left with changes that it does not hold yet.
pub(super) const LEFT: &str = "crenel.left";
/// The key of the work from before a link was opened, while it is offered.
pub(super) const EARLIER: &str = "crenel.earlier";
/// The current draft of this tab, with its history.
pub(super) const HISTORY: &str = "crenel.history";
/// Set in the browser once somebody has begun here.
pub(super) const MET: &str = "crenel.met";
/// Set once the reader was told that another tab is open.
pub(super) const TOLD: &str = "crenel.told";
