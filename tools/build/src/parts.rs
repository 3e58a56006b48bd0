//! Files whose names hold a hash of their content.

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256, Sha384};

/// Sixteen hexadecimal digits that change when the content does.
pub(crate) fn hash(contents: &[&[u8]]) -> String {
    let mut digest = Sha256::new();
    contents.iter().for_each(|content| digest.update(content));
    digest.finalize().iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

/// What a page writes into `integrity`, so that a browser refuses any other content.
pub(crate) fn integrity(content: &[u8]) -> String {
    format!("sha384-{}", STANDARD.encode(Sha384::digest(content)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4 gives the digest of "abc".
    #[test]
    fn hashes_are_those_of_the_standard() {
        assert_eq!(hash(&[b"a", b"bc"]), "ba7816bf8f01cfea");
        assert_eq!(
            integrity(b"abc"),
            "sha384-ywB1P0WjXou1oD1pmsZQBycsMqsO3tFjGotgWkP/W+2AhgcroefMI1i67KE0yCWn"
        );
    }
}
