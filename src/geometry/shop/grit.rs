//! Grit for lapping.

/// A grit of the P series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grit {
    /// The name on the paper or the tin.
    pub name: &'static str,
    /// Median size of its grains, µm.
    pub median_um: f64,
}

/// Grits to lap tips with, the finest first: the first is the finish, the last the coarsest to begin with
/// (common practice, no source). Median sizes are those of FEPA and ISO 6344-3. Grits of the CAMI series have
/// the same numbers and other sizes above 220.
pub const GRITS: [Grit; 3] = [
    Grit { name: "P1200", median_um: 15.3 },
    Grit { name: "P600", median_um: 25.8 },
    Grit { name: "P240", median_um: 58.5 },
];
