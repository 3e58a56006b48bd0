//! Findings as running text.

use crenel::finding::Finding;

/// Findings as running text.
pub(crate) fn sentences(findings: &[Finding]) -> String {
    let sentence = |f: &Finding| format!("{} {} ", f.text(DisplayUnits::default()), f.hint);
    findings.iter().map(sentence).collect()
}
