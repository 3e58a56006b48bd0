//! One stable sort for every list that is ordered by a number.

/// Sorts by a number, smallest first. Things with the same number keep their order. NaN sorts by its
/// sign, as in [`f64::total_cmp`].
///
/// The standard library's sort is compiled anew for every type that it sorts, which adds 3 kB to the
/// download each time. Here only pairs of key and place are sorted, as whole numbers; the list itself is then
/// put in order by swaps. Costs one list of pairs besides the sort, and nothing where the list is in order.
pub fn sort_by_number<T>(list: &mut [T], key: impl Fn(&T) -> f64) {
    if list.is_sorted_by(|a, b| rank(key(a)) <= rank(key(b))) {
        return;
    }
    let places = order(list.iter().map(|thing| rank(key(thing))).zip(0..).map(place).collect());
    for at in 0..list.len() {
        // An earlier swap may have moved that thing away: each place before `at` tells where to.
        let mut from = place_of(places[at]);
        while from < at {
            from = place_of(places[from]);
        }
        list.swap(at, from);
    }
}

/// A number as a whole number in the same order: negative floats are ordered by their bits backwards.
const fn rank(number: f64) -> u64 {
    let bits = number.to_bits();
    if bits >> 63 == 1 { !bits } else { bits | 1 << 63 }
}

/// A rank, and below it the place of its thing in the list.
const fn place((rank, at): (u64, u64)) -> u128 {
    (rank as u128) << 64 | at as u128
}

/// The place of a thing in the list before it was sorted.
fn place_of(place: u128) -> usize {
    usize::try_from(place & u128::from(u64::MAX)).unwrap_or_default()
}

/// Not compiled for each type that is sorted.
fn order(mut places: Vec<u128>) -> Vec<u128> {
    places.sort_unstable();
    places
}

/// The value that a share of a sorted list is at or below, between its neighbours; `None` of an empty list.
///
/// ```
/// use crenel_geometry::units::quantile;
/// assert_eq!(quantile(&[1.0, 2.0, 4.0], 0.75), Some(3.0));
/// assert_eq!(quantile(&[], 0.5), None);
/// ```
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)]
pub fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    let at = share * (sorted.len().checked_sub(1)? as f64);
    let below = at.floor() as usize;
    let above = (below + 1).min(sorted.len() - 1);
    Some(sorted[below] + (at - at.floor()) * (sorted[above] - sorted[below]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sorts_as_the_standard_library_does() {
        let mut seed = 7_u32;
        for length in (0..60).chain([300, 1000]) {
            let mut list: Vec<(i32, usize)> = (0..length)
                .map(|at| {
                    seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                    (i32::from((seed >> 24) as u8 % 11) - 5, at)
                })
                .collect();
            let mut want = list.clone();
            want.sort_by_key(|(number, _)| *number);
            sort_by_number(&mut list, |(number, _)| f64::from(*number));
            assert_eq!(list, want);
        }
        let mut odd = [f64::NAN, 1.0, f64::NEG_INFINITY, -0.0, 0.0];
        sort_by_number(&mut odd, |number| *number);
        assert_eq!(odd[..4], [f64::NEG_INFINITY, -0.0, 0.0, 1.0]);
        assert!(odd[4].is_nan());
    }
}
