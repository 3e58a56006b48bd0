//! One stable sort for every list that is ordered by a number.

/// Sorts by a number, smallest first. Things with the same number keep their order. NaN sorts by its
/// sign, as in [`f64::total_cmp`].
///
/// The standard library's sort is compiled anew for every type that it sorts, which adds 3 kB to the
/// download each time. Here only pairs of key and place are sorted; the list itself is then put in
/// order by swaps. Costs one list of places besides the sort.
pub fn sort_by_number<T>(list: &mut [T], key: impl Fn(&T) -> f64) {
    let places = order(list.iter().map(key).collect());
    for at in 0..list.len() {
        // An earlier swap may have moved that thing away: each place before `at` tells where to.
        let mut from = places[at];
        while from < at {
            from = places[from];
        }
        list.swap(at, from);
    }
}

/// For each place in the sorted list, the place that its thing had before.
fn order(keys: Vec<f64>) -> Vec<usize> {
    let mut keyed: Vec<(f64, usize)> = keys.into_iter().zip(0..).collect();
    keyed.sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    keyed.into_iter().map(|(_, place)| place).collect()
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
        for length in 0..60 {
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
