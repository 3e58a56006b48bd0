//! The order of findings.

use crate::finding::{Finding, Severity};
use crate::units::sort_by_number;

/// Codes of warnings by the harm that they announce, the gravest first: two gears or none at once, a gear that
/// jumps out, a missed gear, parts that break. All others follow in their order, from the dogs outwards.
const GRAVEST: [&str; 17] = [
    "dogs_touch_in_neutral",
    "no_entry_window",
    "jams_before_full_depth",
    "rings_apart",
    "pushed_out",
    "pushed_out_on_overrun",
    "only_edges_engaged",
    "hold_depth_in_edges",
    "too_fast_to_drop_in",
    "hangs_half_way",
    "hangs_without_friction",
    "half_in",
    "linkage_locks",
    "engaged_too_little",
    "case_gone",
    "over_allowed",
    "unbalance_over_grade",
];

/// Sorts findings: errors first, then warnings by the harm that they announce, then notes.
pub(super) fn sort_by_gravity(findings: &mut [Finding]) {
    #[expect(clippy::cast_precision_loss, reason = "a place in a short list")]
    let place = |code: &str| {
        GRAVEST.iter().position(|grave| *grave == code).unwrap_or(GRAVEST.len()) as f64
    };
    sort_by_number(findings, |finding| match finding.severity {
        Severity::Error => 0.0,
        Severity::Warning => 100.0 + place(finding.code),
        Severity::Note => 200.0,
    });
}

#[cfg(test)]
mod tests {
    use crenel_words::{CATALOGUE, Value, finding as say};

    use super::*;
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
        for code in GRAVEST {
            assert!(keys.contains(&&*format!("finding.{code}")), "{code}");
        }
    }
}
