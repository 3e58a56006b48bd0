//! The order of findings.

use crate::finding::Finding;
use crate::units::sort_by_number;

/// Sorts findings by their class, and in a class by how far past the limit they are; notes come last.
pub(super) fn sort_by_gravity(findings: &mut [Finding]) {
    sort_by_number(findings, |finding| -finding.excess());
    sort_by_number(findings, |finding| finding.class().place());
}

#[cfg(test)]
mod tests {
    use crenel_words::{CATALOGUE, Value, finding as say};

    use super::*;
    use crate::finding::CLASSES;
    use crate::ring::Side;
    use crate::units::Quantity;

    #[test]
    fn a_missed_gear_comes_before_a_stress_and_a_note_last() {
        let (two, none) = (Value::Number(Quantity::Stress, 2.0), Value::Pick("none"));
        let mut findings = vec![
            Finding::note(say::half_in(1.0)),
            Finding::warning(say::windows_unequal(1.0, 2.0)),
            Finding::warning(say::over_allowed("shear", "power", two, none, 1.0)),
            Finding::warning(say::too_fast_to_drop_in(500.0, "never", 100.0)),
            Finding::warning(say::pushed_out(1.0, "holds")),
            Finding::error(say::no_common_band(Side::B, 70.0, Side::A, 60.0)),
        ];
        sort_by_gravity(&mut findings);
        let codes: Vec<_> = findings.iter().map(|finding| finding.code).collect();
        let want = [
            "no_common_band",
            "pushed_out",
            "too_fast_to_drop_in",
            "over_allowed",
            "windows_unequal",
            "half_in",
        ];
        assert_eq!(codes, want);
    }

    #[test]
    fn every_code_in_the_order_is_one_of_the_catalogue() {
        let keys: Vec<_> =
            CATALOGUE.iter().copied().flatten().map(|entry| entry.text.key).collect();
        let listed = CLASSES.iter().flat_map(|(_, codes)| *codes);
        for code in listed {
            assert!(keys.contains(&&*format!("finding.{code}")), "{code}");
        }
    }
}
