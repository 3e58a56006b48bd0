//! A dimension chain along the shaft.

use libm::sqrt;

/// One dimension of a chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// Nominal size, mm.
    pub size_mm: f64,
    /// Tolerance to either side, mm.
    pub tolerance_mm: f64,
    /// Whether it opens the gap at the end of the chain, or takes from it.
    pub opens: bool,
}

impl Link {
    /// Its size with its direction, mm.
    pub fn step_mm(&self) -> f64 {
        if self.opens { self.size_mm } else { -self.size_mm }
    }
}

/// Dimensions end to end; what they leave is the gap.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chain {
    /// The dimensions in their order.
    pub links: Vec<Link>,
}

impl Chain {
    /// The nominal gap, mm; minus is overlap.
    pub fn gap_mm(&self) -> f64 {
        self.links.iter().map(Link::step_mm).sum()
    }

    /// How far the gap can be off with every dimension at its limit, mm: `Σ|a|·t` with a = ±1.
    pub fn worst_mm(&self) -> f64 {
        self.links.iter().map(|link| link.tolerance_mm).sum()
    }

    /// How far it is off at most in nearly all assemblies where sizes scatter independently, mm:
    /// `√Σ(a·t)²`. It holds with the confidence that the tolerances themselves have.
    pub fn rss_mm(&self) -> f64 {
        sqrt(self.links.iter().map(|link| link.tolerance_mm * link.tolerance_mm).sum())
    }

    /// Where each dimension starts and ends along the shaft, mm from the start of the chain.
    pub fn stations(&self) -> Vec<[f64; 2]> {
        let mut at = 0.0;
        let station = |link: &Link| {
            let from = at;
            at += link.step_mm();
            [from, at]
        };
        self.links.iter().map(station).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_stations_end_where_the_gap_does() {
        let link = |size_mm, opens| Link { size_mm, tolerance_mm: 0.1, opens };
        let chain = Chain { links: vec![link(30.0, true), link(18.0, false), link(10.5, false)] };
        assert_eq!(chain.stations(), [[0.0, 30.0], [30.0, 12.0], [12.0, 1.5]]);
        assert!((chain.gap_mm() - 1.5).abs() < 1e-12);
        assert!((chain.worst_mm() - 0.3).abs() < 1e-12);
        assert!((chain.rss_mm() - 0.1 * 3.0_f64.sqrt()).abs() < 1e-12);
        assert_eq!(Chain::default().gap_mm(), 0.0);
    }
}
