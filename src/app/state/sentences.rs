//! Findings as running text.

use crenel::finding::Finding;

use super::language::here;

/// Findings as running text.
pub(crate) fn sentences(findings: &[Finding]) -> String {
    let sentence = |f: &Finding| format!("{} {} ", here(f.says.clone()), here(f.next.clone()));
    findings.iter().map(sentence).collect()
}
