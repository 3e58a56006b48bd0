//! Two masses with a spring between: the engine and the vehicle as the dogs feel them.

use super::course::{Complex, Course};

/// Engine side and vehicle side at the shaft of the dogs, and the spring with its damper between.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoMasses {
    /// Inertia of the engine side, kg·m².
    pub engine_kg_m2: f64,
    /// Inertia of the vehicle side, kg·m²; infinite for one so heavy that it keeps its speed.
    pub vehicle_kg_m2: f64,
    /// Torsional stiffness of everything between, in series, N·m/rad.
    pub stiffness_nm_per_rad: f64,
    /// Damping ratio, from 0 to below 1.
    pub damping: f64,
}

impl TwoMasses {
    /// The reduced inertia `J1·J2/(J1+J2)`, kg·m².
    pub fn reduced_kg_m2(&self) -> f64 {
        1.0 / (1.0 / self.engine_kg_m2 + 1.0 / self.vehicle_kg_m2)
    }

    /// Undamped frequency `√(k/J)`, rad/s.
    pub fn frequency(&self) -> f64 {
        (self.stiffness_nm_per_rad / self.reduced_kg_m2()).sqrt()
    }

    /// What a torque on the engine side is at the dogs once the swing has settled: `T·J2/(J1+J2)`, N·m.
    pub fn steady_nm(&self, engine_nm: f64) -> f64 {
        engine_nm * self.reduced_kg_m2() / self.engine_kg_m2
    }

    /// Time in which the spring alone relaxes on its damper, s.
    pub(super) fn relaxes_s(&self) -> f64 {
        2.0 * self.damping / self.frequency()
    }

    /// The twist of the spring, which begins with a twist and a speed and swings about a twist that itself moves evenly.
    pub(super) fn twist(&self, [twist, speed]: [f64; 2], [about, moves]: [f64; 2]) -> Course {
        let frequency = self.frequency();
        let damped = frequency * (1.0 - self.damping * self.damping).sqrt();
        let rate = Complex::new(-self.damping * frequency, damped);
        // It lags behind what moves by what the damper takes.
        let (x, v) = (twist - about + moves * self.relaxes_s(), speed - moves);
        let wave = Complex::new(x, (rate.re * x - v) / rate.im);
        Course::begun(twist, speed, wave, rate)
    }

    /// The torque of spring and damper together at a twist, N·m.
    pub(super) fn torque(&self, twist: &Course) -> Course {
        twist.with_slope(self.relaxes_s()).scaled(self.stiffness_nm_per_rad, 0.0)
    }
}
