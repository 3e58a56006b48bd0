//! Findings as running text.

use crenel::finding::Finding;
use crenel::units::DisplayUnits;

/// Findings as running text.
pub(crate) fn sentences(findings: &[Finding]) -> String {
    let sentence = |f: &Finding| f.whole(DisplayUnits::default()) + " ";
    findings.iter().map(sentence).collect()
}
