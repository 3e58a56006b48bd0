//! The order of findings.

use crate::finding::{Finding, Severity};
use crate::units::sort_by_number;

/// Codes of warnings by the harm that they announce, the gravest first: two gears or none at once, a gear that
/// jumps out, a missed gear, parts that break. All others follow in their order, from the dogs outwards.
const GRAVEST: [&str; 16] = [
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
    use super::*;

    #[test]
    fn a_missed_gear_comes_before_a_stress_and_a_note_last() {
        let mut findings = vec![
            Finding::note("half_in"),
            Finding::warning("windows_unequal"),
            Finding::warning("over_allowed"),
            Finding::warning("too_fast_to_drop_in"),
            Finding::warning("pushed_out"),
            Finding::error("no_common_band"),
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
}
