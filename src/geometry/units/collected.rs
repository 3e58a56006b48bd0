//! Sets and maps of things that are put in one by one.
//!
//! The standard library's `collect` and `from` sort the things first, and that sort is compiled anew for every type:
//! 4 kB of download each time. The sets of a design are small.

use std::collections::{BTreeMap, BTreeSet};

/// The set of some things.
///
/// ```
/// use crenel_geometry::units::set_of;
/// assert!(set_of([3, 1, 3]).iter().eq(&[1, 3]));
/// ```
pub fn set_of<T: Ord>(things: impl IntoIterator<Item = T>) -> BTreeSet<T> {
    let mut set = BTreeSet::new();
    set.extend(things);
    set
}

/// The map of some things by their keys. Of two with the same key the later one stays.
///
/// ```
/// use crenel_geometry::units::map_of;
/// assert!(map_of([(2, 'b'), (1, 'a'), (2, 'c')]).values().eq(&['a', 'c']));
/// ```
pub fn map_of<K: Ord, T>(things: impl IntoIterator<Item = (K, T)>) -> BTreeMap<K, T> {
    let mut map = BTreeMap::new();
    map.extend(things);
    map
}
