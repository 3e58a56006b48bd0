//! The names under which a tab notes things for its next page.

/// The address that was left with changes that it does not hold yet.
pub(super) const LEFT: &str = "crenel.left";
/// The key of the work from before a link was opened, while it is offered.
pub(super) const EARLIER: &str = "crenel.earlier";
/// What is on the board of this tab, with its past and future.
pub(super) const HISTORY: &str = "crenel.history";
/// Noted once the reader was told that another tab is open.
pub(super) const TOLD: &str = "crenel.told";
