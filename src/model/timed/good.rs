//! The speed differences at which enough shifts are in at the first pass.

/// What counts as the most, where what is asked for is never reached.
const NEARLY: f64 = 0.98;

/// At how many speed differences the share is looked at.
const LOOKS: u32 = 48;

/// Speed differences that are in often enough.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct GoodSpeeds {
    /// The share of shifts: the one asked for, or nearly the most that are ever in.
    pub(super) share: f64,
    /// The speed differences, rad/s, as spans from the slowest.
    spans: Vec<[f64; 2]>,
}

impl GoodSpeeds {
    /// Looks up to a speed difference in rad/s. `share` is that of the shifts that are in at one.
    pub(super) fn of(share: impl Fn(f64) -> f64, asked: f64, top: f64) -> Self {
        let at = |look: u32| top * f64::from(look) / f64::from(LOOKS);
        let seen: Vec<_> = (1..=LOOKS).map(|look| (at(look), share(at(look)))).collect();
        let most = seen.iter().map(|(_, share)| *share).fold(0.0, f64::max);
        let reached = if most < asked { NEARLY * most } else { asked };
        let spans =
            if reached > 0.0 { spans(&seen, |slip| share(slip) >= reached) } else { Vec::new() };
        Self { share: reached, spans }
    }

    /// Whether no shift is in at any speed difference.
    pub(super) const fn is_empty(&self) -> bool {
        self.spans.is_empty()
    }

    /// The fastest one that is no faster than a speed difference, rad/s; at one speed with `level` at or below 0, which is
    /// where the sides have come together. `None` where there is none.
    pub(super) fn below(&self, level: f64) -> Option<f64> {
        let below = self.spans.iter().filter(|[from, _]| *from <= level.max(0.0));
        let slow = below.map(|[_, to]| to.min(level)).fold(f64::NEG_INFINITY, f64::max);
        (slow.is_finite() || level <= 0.0).then_some(slow.max(0.0))
    }
}

/// The spans that are good, of speed differences with their shares from the slowest on.
fn spans(seen: &[(f64, f64)], is_good: impl Fn(f64) -> bool) -> Vec<[f64; 2]> {
    let first = seen.first().filter(|(slip, _)| is_good(*slip));
    let mut open = first.map(|(slip, _)| *slip);
    let mut spans: Vec<[f64; 2]> = Vec::new();
    for two in seen.windows(2) {
        let [low, high] = [two[0].0, two[1].0];
        if open.is_some() == is_good(high) {
            continue;
        }
        let edge = edge(low, high, &is_good);
        match open.take() {
            Some(from) => spans.push([from, edge]),
            None => open = Some(edge),
        }
    }
    spans.extend(open.zip(seen.last()).map(|(from, (top, _))| [from, *top]));
    spans
}

/// Between two speed differences of which one is in often enough, the one at which that changes; itself good.
fn edge(mut low: f64, mut high: f64, is_good: impl Fn(f64) -> bool) -> f64 {
    let low_is_good = is_good(low);
    for _ in 0..24 {
        let middle = f64::midpoint(low, high);
        if is_good(middle) == low_is_good {
            low = middle;
        } else {
            high = middle;
        }
    }
    if low_is_good { low } else { high }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// In at all speed differences from 10 to 20 rad/s and from 40 on.
    fn share(slip: f64) -> f64 {
        if (10.0..=20.0).contains(&slip) || slip >= 40.0 { 0.9 } else { 0.3 }
    }

    #[test]
    fn the_fastest_good_one_below_is_found() {
        let good = GoodSpeeds::of(share, 0.9, 96.0);
        let near = |level: f64, want: f64| {
            let got = good.below(level).expect("there is one");
            assert!((got - want).abs() < 1e-4, "{level}: {got} for {want}");
        };
        near(96.0, 96.0);
        near(39.0, 20.0);
        near(15.0, 15.0);
        near(-3.0, 0.0);
        assert_eq!(good.below(5.0), None);
        assert_eq!(good.share, 0.9);
    }

    #[test]
    fn nearly_the_most_is_settled_for() {
        let good = GoodSpeeds::of(share, 0.95, 96.0);
        assert!((good.share - 0.98 * 0.9).abs() < 1e-12);
        assert_eq!(GoodSpeeds::of(|_| 0.0, 0.5, 96.0).below(50.0), None);
    }
}
