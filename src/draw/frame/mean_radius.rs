//! The radius at which the views that run round lay out their angles.

use super::drawable;
use crate::analysis::Analysis;
use crate::ring::Side;

/// Mean radius of the common band, or of the two rings where they have no band in common, mm.
pub(crate) fn mean_radius(analysis: &Analysis) -> f64 {
    let common = analysis.pair.as_ref().map(|m| m.mesh.contact.mean_mm());
    let radii = || Side::BOTH.map(|s| analysis.ring(s).mean_radius_mm());
    drawable(common.unwrap_or_else(|| radii().into_iter().sum::<f64>() / 2.0), 0.5)
}
