//! Whether the dogs draw in, hold, or jump out.

/// What holds the sliding gear along the shaft, under load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Tangent of the flank angle where the dogs meet: plus is undercut.
    pub undercut: f64,
    /// Friction coefficient of flank on flank.
    pub flank_friction: f64,
    /// Friction coefficient of the splines on which the gear slides.
    pub spline_friction: f64,
    /// Radius of those splines, mm.
    pub spline_radius_mm: f64,
    /// Mean radius of the dogs, mm.
    pub mean_radius_mm: f64,
}

impl Hold {
    /// Force in N that draws the rings together under a torque in N·m, against friction:
    /// `F_t·tan(α − ρ) − μ_s·T/r_s`. Minus: the rings do not draw in by themselves.
    pub fn pull_in_n(&self, torque_nm: f64) -> f64 {
        self.along(torque_nm, -self.flank_friction) - self.spline_n(torque_nm)
    }

    /// Force in N that is needed to pull the rings apart under load: `F_t·tan(α + ρ) + μ_s·T/r_s`.
    /// Minus: they come apart by themselves in spite of friction.
    pub fn pull_out_n(&self, torque_nm: f64) -> f64 {
        self.along(torque_nm, self.flank_friction) + self.spline_n(torque_nm)
    }

    /// Force in N with which the flanks hold, `F_t·tan α`. Friction is not counted, because vibration
    /// removes it. Minus: the flanks push each other out.
    pub fn holding_n(&self, torque_nm: f64) -> f64 {
        self.along(torque_nm, 0.0)
    }

    /// Whether worn flanks kick out against their friction: they are tapered by more than ρ.
    pub fn kicks_out(&self) -> bool {
        -self.undercut > self.flank_friction
    }

    /// `F_t·tan(α + ρ)` for `tan ρ = friction`, by the sum of tangents.
    fn along(&self, torque_nm: f64, friction: f64) -> f64 {
        let force = torque_nm * 1000.0 / self.mean_radius_mm;
        force * (self.undercut + friction) / (1.0 - self.undercut * friction)
    }

    fn spline_n(&self, torque_nm: f64) -> f64 {
        self.spline_friction * torque_nm * 1000.0 / self.spline_radius_mm
    }
}
