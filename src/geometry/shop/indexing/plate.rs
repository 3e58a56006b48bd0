//! Index plates and their hole circles.

/// An index plate: circles of evenly spaced holes in which the pin of the crank drops.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Plate {
    /// What it is called: its fewest and its most holes.
    pub name: &'static str,
    /// Holes of its circles, fewest first; of both faces where the plate can be turned over.
    pub circles: &'static [u16],
}

/// The usual plates: a set of three, and one that is drilled on both faces.
/// US Army OD1644 for both; the set of three also in *Machinery's Handbook*.
pub const PLATES: [Plate; 4] = [
    Plate { name: "15–20", circles: &[15, 16, 17, 18, 19, 20] },
    Plate { name: "21–33", circles: &[21, 23, 27, 29, 31, 33] },
    Plate { name: "37–49", circles: &[37, 39, 41, 43, 47, 49] },
    Plate {
        name: "24–66",
        circles: &[
            24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43, // one face
            46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66, // the other
        ],
    },
];
