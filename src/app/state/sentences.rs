//! Findings as running text.

use crenel::finding::Finding;
use crenel_words::Message;

use super::language::here;

/// What findings say, each followed by the next thing to do.
pub(crate) fn advice(findings: &[Finding]) -> Vec<Message> {
    findings.iter().flat_map(|found| [found.says.clone(), found.next.clone()]).collect()
}

/// Whole sentences, one after the other.
pub(crate) fn paragraph(sentences: impl IntoIterator<Item = Message>) -> String {
    sentences.into_iter().map(here).collect::<Vec<_>>().join(" ")
}
