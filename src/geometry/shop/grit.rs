//! Grit for lapping.

/// A grit of the P series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grit {
    /// The name on the paper or the tin.
    pub name: &'static str,
    /// Median size of its grains, µm.
    pub median_um: f64,
}

/// Grits used for lapping tips, coarse to fine: FEPA, ISO 6344. Grits of the CAMI series have the
/// same numbers and other sizes above 220.
pub const GRITS: [Grit; 3] = [
    Grit { name: "P220", median_um: 68.0 },
    Grit { name: "P400", median_um: 35.0 },
    Grit { name: "P800", median_um: 21.8 },
];
