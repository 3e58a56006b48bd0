//! Binary STL: triangles with their normals. The format has no units; numbers are mm.
//!
//! 80 bytes of header, the number of triangles, and for each a normal, three corners and two bytes of
//! zero, all little-endian, numbers in single precision.

use crate::report::CAUTION_LINE;
use crate::solid::{Facets, Vec3};

/// Bytes of the header.
const HEADER: usize = 80;

/// The facets as a binary STL file. The header holds “Crenel, mm”, then as much of `words` as fits, then the
/// shortest caution. Characters outside ASCII become question marks.
pub fn stl(facets: &Facets, words: &str) -> Vec<u8> {
    let triangles: Vec<_> = facets.triangles().collect();
    let mut file = header(words);
    // Thousands of facets at most: their number is far below four billion.
    let count = u32::try_from(triangles.len()).unwrap_or(u32::MAX);
    file.extend(count.to_le_bytes());
    for triangle in &triangles {
        let [a, b, c] = triangle.corners.map(|corner| facets.points[corner]);
        let normal = (b - a).cross(c - a).unit();
        [normal, a, b, c].into_iter().for_each(|vector| write(&mut file, vector));
        file.extend([0; 2]);
    }
    file
}

/// It must not begin with “solid”: readers would take the file for text.
fn header(words: &str) -> Vec<u8> {
    let room = HEADER - CAUTION_LINE.len() - 1;
    let plain = |c: char| if matches!(c, ' '..='~') { c } else { '?' };
    let words: String = format!("Crenel, mm. {words}").chars().map(plain).take(room).collect();
    format!("{words:room$} {CAUTION_LINE}").into_bytes()
}

fn write(file: &mut Vec<u8>, vector: Vec3) {
    // Single precision is what the format holds.
    #[expect(clippy::cast_possible_truncation)]
    let numbers = [vector.x, vector.y, vector.z].map(|number| number as f32);
    numbers.into_iter().for_each(|number| file.extend(number.to_le_bytes()));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_header_is_eighty_bytes_of_ascii_whatever_the_words() {
        for words in ["", "Ring A as cut", "Ä😀\n\u{0}", &"word ".repeat(99)] {
            let file = stl(&Facets::default(), words);
            assert_eq!(file.len(), HEADER + 4, "{words:?}");
            assert!(file.starts_with(b"Crenel, mm. "), "{words:?}");
            assert!(file[..HEADER].ends_with(CAUTION_LINE.as_bytes()), "{words:?}");
            assert!(file[..HEADER].iter().all(|byte| matches!(byte, b' '..=b'~')), "{words:?}");
            assert_eq!(file[HEADER..], [0; 4]);
        }
    }

    #[test]
    fn normals_are_those_of_corners_that_run_counter_clockwise() {
        let ring = crate::design::RingSpec::default().to_cut();
        let solid = crate::solid::Solid::of(&ring, &crate::solid::Body::default()).expect("sound");
        let file = stl(&solid.facets(0.5), "");
        for triangle in file[HEADER + 4..].chunks_exact(50) {
            let number = |at: usize| {
                let bytes = [0, 1, 2, 3].map(|byte| triangle[4 * at + byte]);
                f64::from(f32::from_le_bytes(bytes))
            };
            let [normal, a, b, c] =
                [0, 3, 6, 9].map(|at| Vec3::new(number(at), number(at + 1), number(at + 2)));
            assert!((c - b).cross(a - b).unit().dot(normal) > 0.999, "{normal:?}");
        }
    }
}
