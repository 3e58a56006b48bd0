//! Bytes as decimal digits, for QR codes: they hold ten bits in three digits, but six in a letter of the link's own
//! alphabet only as a whole byte.
//!
//! Seven bytes are seventeen digits, which wastes 1 % of the modules. The last block is filled with zero bytes: a
//! deflate stream ends by itself, so that digits which a text brings behind it do no harm either.

/// The bytes of a block, and its digits: 256⁷ is a little less than 10¹⁷.
const BYTES: usize = 7;
const DIGITS: usize = 17;

pub(super) fn write(bytes: &[u8]) -> String {
    bytes.chunks(BYTES).map(|block| format!("{:0DIGITS$}", number(block))).collect()
}

/// The bytes of whole blocks; what is left at the end is less than one. `None` if a block is no seven bytes.
pub(super) fn read(digits: &str) -> Option<Vec<u8>> {
    let blocks = digits.as_bytes().chunks_exact(DIGITS);
    let bytes = blocks.map(|block| {
        let number: u64 = std::str::from_utf8(block).ok()?.parse().ok()?;
        let [0, bytes @ ..] = number.to_be_bytes() else { return None };
        Some(bytes)
    });
    Some(bytes.collect::<Option<Vec<[u8; BYTES]>>>()?.concat())
}

/// A block as one number, the first byte weighing most, filled up with zeros.
fn number(block: &[u8]) -> u64 {
    let mut bytes = [0; size_of::<u64>()];
    bytes[1..=block.len()].copy_from_slice(block);
    u64::from_be_bytes(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bytes_come_back_with_zeros_to_the_end_of_the_block() {
        for length in 0..30_u8 {
            let bytes: Vec<u8> = (0..length).map(|at| at.wrapping_mul(37) ^ 0xff).collect();
            let digits = write(&bytes);
            assert!(digits.bytes().all(|digit| digit.is_ascii_digit()), "{digits}");
            let mut back = read(&digits).expect("our own digits");
            assert_eq!(back.len() % BYTES, 0);
            assert!(back.split_off(bytes.len()).iter().all(|byte| *byte == 0));
            assert_eq!(back, bytes);
        }
        assert_eq!(read(&"9".repeat(DIGITS)), None, "more than seven bytes");
        assert_eq!(read("12345"), Some(Vec::new()), "less than a block");
    }
}
