//! DXF R2000.

use crate::draw::Scene;

/// The drawing as a DXF R2000 file.
pub fn dxf(scene: &Scene) -> String {
    format!("{:?}", scene.bounds)
}
