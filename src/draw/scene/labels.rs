//! Labels that keep clear of each other.

use super::bounds::Bounds;
use super::item::Text;
use super::marks::words_width;
use crate::ring::Point;

/// Places moved apart so that each has so much room to itself, in the order they are given in, as near to
/// where they are wanted as that allows and, as far as they fit, between two ends. `wanted` ascends.
pub(crate) fn spread(wanted: &[f64], rooms: &[f64], [low, high]: [f64; 2]) -> Vec<f64> {
    let apart = |at: usize| (rooms[at] + rooms[at + 1]) / 2.0;
    let mut places = wanted.to_vec();
    for (at, place) in places.iter_mut().enumerate() {
        *place = place.min(high - rooms[at] / 2.0).max(low + rooms[at] / 2.0);
    }
    for at in 1..places.len() {
        places[at] = places[at].max(places[at - 1] + apart(at - 1));
    }
    if let Some(last) = places.len().checked_sub(1) {
        places[last] = places[last].min((high - rooms[last] / 2.0).max(low));
        for at in (0..last).rev() {
            places[at] = places[at].min(places[at + 1] - apart(at));
        }
    }
    places
}

/// Words in lines of at most so many letter heights, broken between words but not between a number and its unit.
pub(crate) fn wrapped(words: &str, room: f64) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match parts.last_mut() {
            Some(last) if last.ends_with(|c: char| c.is_ascii_digit()) => {
                last.push(' ');
                last.push_str(word);
            }
            _ => parts.push(word.to_owned()),
        }
    }
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        match lines.last_mut() {
            Some(line) if words_width(line) + words_width(&part) + words_width(" ") <= room => {
                line.push(' ');
                line.push_str(&part);
            }
            _ => lines.push(part),
        }
    }
    lines
}

/// As much of some words as fits in so many letter heights.
pub(crate) fn shortened(words: &str, room: f64) -> String {
    if words_width(words) <= room {
        return words.to_owned();
    }
    let mut kept = String::new();
    for letter in words.chars() {
        if words_width(&kept) + 2.0 * words_width("…") > room {
            break;
        }
        kept.push(letter);
    }
    kept.trim_end().to_owned() + "…"
}

impl Text {
    /// About what the letters cover.
    pub(crate) fn bounds(&self) -> Bounds {
        let wide = words_width(&self.words) * self.height;
        let left = self.anchor.left(self.at.x, wide);
        let half = 0.4 * self.height;
        Bounds {
            min: Point::new(left, self.at.y - half),
            max: Point::new(left + wide, self.at.y + half),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_keep_their_order_and_their_distance_and_stay_within_their_ends() {
        let rooms = [16.0, 32.0, 16.0];
        for wanted in [[0.0, 0.0, 0.0], [5.0, 50.0, 100.0], [99.0, 100.0, 100.0], [40.0; 3]] {
            let places = spread(&wanted, &rooms, [0.0, 100.0]);
            assert!(places[1] - places[0] >= 24.0 && places[2] - places[1] >= 24.0, "{places:?}");
            assert!(places[0] >= 8.0 && places[2] <= 92.0, "{places:?}");
        }
        assert_eq!(spread(&[20.0, 60.0], &[16.0; 2], [0.0, 100.0]), [20.0, 60.0]);
        assert!(spread(&[], &[], [0.0, 1.0]).is_empty());
    }

    #[test]
    fn words_are_broken_between_words_only() {
        assert_eq!(wrapped("straight in to 275 rpm", 8.0), ["straight in to", "275 rpm"]);
        assert_eq!(wrapped("full depth 4.5 mm", 8.5), ["full depth", "4.5 mm"]);
        assert_eq!(wrapped("straight", 1.0), ["straight"]);
        assert_eq!(shortened("a name that is long", 20.0), "a name that is long");
        assert_eq!(shortened("a name that is long", 5.0), "a name t…");
    }
}
