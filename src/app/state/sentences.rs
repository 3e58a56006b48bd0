//! Findings as running text.

use crenel::finding::Finding;

use super::language::in_words;

/// Findings as running text.
pub(crate) fn sentences(findings: &[Finding]) -> String {
    let sentence = |f: &Finding| format!("{} {} ", in_words(&f.says), in_words(&f.next));
    findings.iter().map(sentence).collect()
}
