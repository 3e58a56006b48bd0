//! A value beside its limit: what a bar shows, and how far past the limit the value is.

/// Which side of a limit is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowed {
    /// The limit and everything below it.
    AtMost,
    /// The limit and everything above it.
    AtLeast,
    /// Everything above the limit, but not the limit itself.
    MoreThan,
}

/// A value beside its limit, both in the same unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gauge {
    /// The value.
    pub value: f64,
    /// The limit.
    pub limit: f64,
    /// The side of the limit that is allowed.
    pub allowed: Allowed,
    /// The size by which a shortfall is divided where a share of the limit means nothing: more than 0.
    pub usual: f64,
}

impl Gauge {
    /// A value that must not exceed a limit.
    pub const fn at_most(limit: f64, value: f64) -> Self {
        Self { value, limit, allowed: Allowed::AtMost, usual: 1.0 }.by(limit)
    }

    /// A value that must reach a limit.
    pub const fn at_least(limit: f64, value: f64) -> Self {
        Self { allowed: Allowed::AtLeast, ..Self::at_most(limit, value) }
    }

    /// A value that must be more than 0.
    pub const fn more_than_zero(value: f64) -> Self {
        Self { allowed: Allowed::MoreThan, ..Self::at_most(0.0, value) }
    }

    /// Sets the usual size. One that is not more than 0 is ignored.
    #[must_use]
    pub const fn by(self, usual: f64) -> Self {
        if usual > 0.0 { Self { usual, ..self } } else { self }
    }

    /// Whether the value is past its limit.
    pub fn is_past(&self) -> bool {
        match self.allowed {
            Allowed::AtMost => self.value > self.limit,
            Allowed::AtLeast => self.value < self.limit,
            Allowed::MoreThan => self.value <= self.limit,
        }
    }

    /// The share of the limit that is used: 1 at the limit, more past it. It is value ÷ limit for the most
    /// that is allowed and limit ÷ value for the least. Where the limit is 0 or the value is not above 0, it
    /// is 1 and the shortfall over the usual size.
    pub fn used(&self) -> f64 {
        let (value, limit) = (self.value, self.limit);
        match self.allowed {
            Allowed::AtMost if limit > 0.0 => value / limit,
            Allowed::AtMost => 1.0 + (value - limit) / self.usual,
            Allowed::AtLeast | Allowed::MoreThan if limit > 0.0 && value > 0.0 => limit / value,
            Allowed::AtLeast | Allowed::MoreThan => 1.0 + (limit - value) / self.usual,
        }
    }

    /// By which share the value is past its limit, always finite; 0 within it.
    pub fn excess(&self) -> f64 {
        if self.is_past() { (self.used() - 1.0).clamp(0.0, f64::MAX) } else { 0.0 }
    }

    /// The end of a bar that shows both: one and a half times the larger of value and limit.
    pub fn scale(&self) -> f64 {
        1.5 * self.value.abs().max(self.limit.abs())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_share_past_the_limit_is_counted_from_the_side_that_is_allowed() {
        let is = |gauge: Gauge, past: bool, excess: f64| {
            assert_eq!(gauge.is_past(), past, "{gauge:?}");
            assert!((gauge.excess() - excess).abs() < 1e-12, "{gauge:?}: {}", gauge.excess());
        };
        is(Gauge::at_most(80.0, 80.0), false, 0.0);
        is(Gauge::at_most(80.0, 120.0), true, 0.5);
        is(Gauge::at_least(750.0, 750.0), false, 0.0);
        is(Gauge::at_least(750.0, 250.0), true, 2.0);
        // At 0 and below a share of the limit means nothing.
        is(Gauge::at_least(3.0, -1.5), true, 1.5);
        is(Gauge::at_least(0.0, -50.0).by(200.0), true, 0.25);
        is(Gauge::more_than_zero(0.0).by(0.5), true, 0.0);
        is(Gauge::more_than_zero(-0.25).by(0.5), true, 0.5);
        is(Gauge::more_than_zero(0.1), false, 0.0);
    }

    #[test]
    fn a_bar_has_room_for_value_and_limit() {
        assert_eq!(Gauge::at_most(80.0, 120.0).scale(), 180.0);
        assert_eq!(Gauge::at_least(80.0, 20.0).scale(), 120.0);
        assert_eq!(Gauge::at_least(0.0, -20.0).scale(), 30.0);
    }
}
