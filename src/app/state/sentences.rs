//! Findings as running text.

use crenel::finding::Finding;
use crenel_words::Message;

/// What findings say, each followed by the next thing to do.
pub(crate) fn advice(findings: &[Finding]) -> Vec<Message> {
    findings.iter().flat_map(|found| [found.says.clone(), found.next.clone()]).collect()
}
