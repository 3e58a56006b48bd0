//! Index plates and their hole circles.

use std::fmt;

/// Most holes of a circle that is read.
const MOST_HOLES: u16 = 999;

/// Most circles of all plates together that are read.
const MOST_CIRCLES: usize = 200;

/// An index plate: circles of evenly spaced holes in which the pin of the crank drops.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plate {
    /// Holes of its circles; of both faces where the plate can be turned over.
    pub circles: Vec<u16>,
}

impl Plate {
    /// What it is called: its fewest and its most holes.
    pub fn name(&self) -> String {
        let circles = || self.circles.iter();
        match (circles().min(), circles().max()) {
            (Some(fewest), Some(most)) if fewest < most => format!("{fewest}–{most}"),
            (Some(only), _) => only.to_string(),
            _ => String::new(),
        }
    }
}

/// The plates of a shop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plates(Vec<Plate>);

/// The usual plates: a set of three, and one that is drilled on both faces.
/// US Army OD1644 for both; the set of three also in *Machinery's Handbook*.
const USUAL: [&[u16]; 4] = [
    &[15, 16, 17, 18, 19, 20],
    &[21, 23, 27, 29, 31, 33],
    &[37, 39, 41, 43, 47, 49],
    &[
        24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43, // one face
        46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66, // the other
    ],
];

impl Default for Plates {
    /// The usual ones.
    fn default() -> Self {
        Self(USUAL.map(|circles| Plate { circles: circles.to_vec() }).into())
    }
}

impl FromIterator<Plate> for Plates {
    fn from_iter<I: IntoIterator<Item = Plate>>(plates: I) -> Self {
        Self(plates.into_iter().collect())
    }
}

impl Plates {
    /// Plates with these circles; `None` where a circle has no holes or more than 999, a plate has no
    /// circles, or there are more than 200 circles.
    pub fn new(plates: Vec<Vec<u16>>) -> Option<Self> {
        let sound = |circles: &Vec<u16>| {
            !circles.is_empty() && circles.iter().all(|holes| (1..=MOST_HOLES).contains(holes))
        };
        let few = plates.iter().map(Vec::len).sum::<usize>() <= MOST_CIRCLES;
        let plates = (few && plates.iter().all(sound)).then_some(plates)?;
        Some(Self(plates.into_iter().map(|circles| Plate { circles }).collect()))
    }

    /// Reads what [`Display`](fmt::Display) writes: plates apart by `;` or on lines of their own, their
    /// circles by blanks or commas. An empty text is a shop without plates. `None` where a circle is not a
    /// number of holes.
    pub fn read(text: &str) -> Option<Self> {
        let circles = |plate: &str| -> Option<Vec<u16>> {
            let holes = plate.split([' ', ',', '\t']).filter(|holes| !holes.is_empty());
            holes.map(|holes| holes.parse().ok()).collect()
        };
        let plates = text.split([';', '\n', '\r']).filter(|plate| !plate.trim().is_empty());
        Self::new(plates.map(circles).collect::<Option<_>>()?)
    }

    /// The plates one by one.
    pub fn iter(&self) -> impl Iterator<Item = &Plate> {
        self.0.iter()
    }

    /// The first plate that has a circle.
    pub fn with_circle(&self, holes: u16) -> Option<&Plate> {
        self.iter().find(|plate| plate.circles.contains(&holes))
    }
}

impl fmt::Display for Plates {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        for (at, plate) in self.0.iter().enumerate() {
            f.write_str(if at > 0 { "; " } else { "" })?;
            for (at, holes) in plate.circles.iter().enumerate() {
                write!(f, "{}{holes}", if at > 0 { " " } else { "" })?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plates_are_written_as_they_are_read() {
        let usual = Plates::default();
        assert_eq!(Plates::read(&usual.to_string()), Some(usual.clone()));
        assert_eq!(Plates::read("15, 18\n 24;; "), Plates::new(vec![vec![15, 18], vec![24]]));
        let names: Vec<_> = usual.iter().map(Plate::name).collect();
        assert_eq!(names, ["15–20", "21–33", "37–49", "24–66"]);
        assert_eq!(usual.with_circle(66).map(Plate::name), Some("24–66".to_owned()));
        assert_eq!(Plates::read(" ").map(|none| none.iter().count()), Some(0));
    }

    #[test]
    fn what_is_no_plate_is_none() {
        for text in ["0", "15 x", "1000", "-3", "15.5", "99999", &"15 ".repeat(201)] {
            assert_eq!(Plates::read(text), None, "{text}");
        }
        assert_eq!(Plates::new(vec![vec![]]), None);
    }
}
