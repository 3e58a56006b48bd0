//! Lash with the places of the dogs off by their tolerance.

use crenel::analysis::Analysis;
use crenel::design::open;
use crenel::ring::Side;
use crenel::suggest::Goal;
use crenel::tolerance::{DogSpread, Limits, Size, Spread, shares, worst_case};

use super::row::{Row, Source};

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    const RANGE: Source = Source::derived("the mean range of six numbers, L0 − 2d·(N−1)/(N+1)");
    const BOTH: Source = Source::derived("by sampling with 10⁶ parts, apart from the core");
    let now = Analysis::of(&open(r#"{ "crenel": 1 }"#).expect("it opens").design);
    let position = DogSpread::default().with(Size::Position, Limits::both(0.1));
    let both = Spread::alike(&now.cut, position);
    let mut one = both.clone();
    one.dogs[Side::B].fill(DogSpread::default());
    let least = |spread| worst_case(&now, spread, Goal::Lash).map(|range| range.least);
    let greatest = |spread| worst_case(&now, spread, Goal::Lash).map(|range| range.greatest);
    let [on_one, on_both] = [&one, &both].map(|spread| shares(&now, spread, Goal::Lash, 20_000, 1));
    let name =
        |rings: &str, what: &str| format!("Lash of six on six, places of {rings} ±0.1°: {what}, °");
    vec![
        Row::new(RANGE, &name("one ring", "least"), least(&one), (11.8, 1e-9)),
        Row::new(RANGE, &name("one ring", "greatest"), greatest(&one), (12.0, 1e-9)),
        Row::new(RANGE, &name("one ring", "mean"), on_one.map(|s| s.mean), (11.857_143, 1e-3)),
        Row::new(RANGE, &name("both rings", "least"), least(&both), (11.6, 1e-9)),
        Row::new(BOTH, &name("both rings", "mean"), on_both.map(|s| s.mean), (11.7929, 1e-3)),
        Row::new(BOTH, &name("both rings", "5 % below"), on_both.map(|s| s.p05), (11.698, 2e-3)),
        Row::new(BOTH, &name("both rings", "95 % below"), on_both.map(|s| s.p95), (11.876, 2e-3)),
    ]
}
