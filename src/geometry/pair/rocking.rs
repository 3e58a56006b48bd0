//! Tips that stand still on each other, and what turning one ring slowly does for them.

use std::f64::consts::TAU;

use super::circle::Arc;

/// The lands between the windows of a pair: where tip stands on tip.
#[derive(Clone, Debug, PartialEq)]
pub struct TipsOnTips {
    /// The width of each land, rad, in order round the circle; none where nothing blocks.
    pub lands: Vec<f64>,
}

impl TipsOnTips {
    /// Between windows in the order of their starts.
    ///
    /// ```
    /// use crenel_geometry::pair::{Arc, TipsOnTips};
    /// let windows = [0.0, 2.0].map(|start| Arc::between(start, start + 0.5));
    /// let tips = TipsOnTips::between(&windows);
    /// assert_eq!(tips.lands.len(), 2);
    /// assert!((tips.in_at_once() - 1.0 / std::f64::consts::TAU).abs() < 1e-12);
    /// ```
    pub fn between(windows: &[Arc]) -> Self {
        let starts = || windows.iter().map(|window| window.start.radians());
        let next = starts().skip(1).chain(starts().next().map(|first| first + TAU));
        let land =
            |(window, next): (&Arc, f64)| next - window.start.radians() - window.width.radians();
        let lands: Vec<_> = windows.iter().zip(next).map(land).collect();
        Self { lands: if windows.is_empty() { vec![TAU] } else { lands } }
    }

    fn blocked(&self) -> f64 {
        self.lands.iter().sum()
    }

    /// The share of all phases at which a pair that stands still is in at once.
    pub fn in_at_once(&self) -> f64 {
        (1.0 - self.blocked() / TAU).max(0.0)
    }

    /// The share of the phases with tip on tip that meet a window while one ring is turned one way by an angle in rad:
    /// of a land `b` that is `min(b, angle)`. After tips have rubbed to a standstill every phase is one of these; 1
    /// where nothing blocks.
    pub fn freed(&self, turned: f64) -> f64 {
        if self.is_closed() {
            return 0.0;
        }
        let blocked = self.blocked();
        let freed: f64 = self.lands.iter().map(|land| land.min(turned.max(0.0))).sum();
        if blocked > 0.0 { freed / blocked } else { 1.0 }
    }

    /// The share of all phases that are in at once or meet a window while one ring is turned one way by an angle in
    /// rad.
    pub fn in_after(&self, turned: f64) -> f64 {
        let at_once = self.in_at_once();
        at_once + (1.0 - at_once) * self.freed(turned)
    }

    /// The angle after which every phase has met a window, rad; `None` where no window is open.
    pub fn sure(&self) -> Option<f64> {
        let widest = self.lands.iter().copied().fold(0.0, f64::max);
        (!self.is_closed()).then_some(widest)
    }

    /// Whether no window is open anywhere.
    fn is_closed(&self) -> bool {
        self.in_at_once() <= 0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arcs(windows: &[(f64, f64)]) -> Vec<Arc> {
        let arc = |(from, to): &(f64, f64)| Arc::between(from.to_radians(), to.to_radians());
        windows.iter().map(arc).collect()
    }

    /// Windows of 30°, 10° and 20°; the last land goes over the end of the turn.
    fn uneven() -> TipsOnTips {
        TipsOnTips::between(&arcs(&[(10.0, 40.0), (100.0, 110.0), (200.0, 220.0)]))
    }

    #[test]
    fn lands_are_what_the_windows_leave() {
        let lands: Vec<_> = uneven().lands.iter().map(|land| land.to_degrees().round()).collect();
        assert_eq!(lands, [60.0, 90.0, 150.0]);
        assert!((uneven().in_at_once() - 60.0 / 360.0).abs() < 1e-12);
    }

    #[test]
    fn turning_frees_each_land_up_to_its_width() {
        let tips = uneven();
        for (turned, freed) in
            [(0.0, 0.0), (30.0, 90.0), (80.0, 220.0), (150.0, 300.0), (200.0, 300.0)]
        {
            let turned = f64::to_radians(turned);
            assert!((tips.freed(turned) - freed / 300.0).abs() < 1e-12, "{turned}");
            assert!((tips.in_after(turned) - (60.0 + freed) / 360.0).abs() < 1e-12, "{turned}");
        }
        assert!((tips.sure().expect("it opens") - 150_f64.to_radians()).abs() < 1e-12);
    }

    #[test]
    fn without_a_window_no_turn_helps_and_without_dogs_none_is_needed() {
        let closed = TipsOnTips::between(&[]);
        assert_eq!((closed.in_at_once(), closed.freed(1.0), closed.sure()), (0.0, 0.0, None));
        let open = TipsOnTips::between(&[Arc::between(0.0, TAU)]);
        assert_eq!((open.in_at_once(), open.freed(0.0), open.sure()), (1.0, 1.0, Some(0.0)));
    }
}
