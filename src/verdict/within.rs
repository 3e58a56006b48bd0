//! Nothing past a limit: the tightest margin.

use crenel_words::verdict as say;

use super::said::{Said, result};
use crate::analysis::Analysis;
use crate::fields::Slot;
use crate::figures::{Figure, STRAIGHT_IN_LIMIT, WINDOW_TIME, limited, numbers};
use crate::gauge::{Allowed, Gauge};

/// The figure that is nearest to its limit, by the share of it that is used. A limit of 0 has no shares, and
/// the window time says what the straight-in limit says.
pub(super) fn tightest(analysis: &Analysis) -> Option<(&'static Figure, Gauge)> {
    let own = limited().filter(|figure| **figure != WINDOW_TIME);
    let gauges = numbers(own, analysis).into_iter().filter_map(|(figure, value)| {
        let gauge = figure.gauge(value, analysis).filter(|gauge| gauge.limit != 0.0)?;
        Some((figure, gauge))
    });
    gauges.max_by(|(_, a), (_, b)| a.used().total_cmp(&b.used()))
}

/// The sentences on the tightest margin, for which load that is, and on how many numbers nobody gave.
pub(super) fn said(
    tightest: Option<(&'static Figure, Gauge)>,
    assumed: &[Slot],
    load: &'static str,
) -> Said {
    let Some((figure, gauge)) = tightest else {
        return Said::new(say::within(load), say::within_short(load));
    };
    let is_steady = load == "steady";
    let shown = |number: f64| result(figure.quantity, number);
    let (name, value, limit) = (figure.name(), || shown(gauge.value), || shown(gauge.limit));
    let values = assumed.len();
    match assumed.first().map(|slot| slot.words()) {
        None => {
            let sentence = match gauge.allowed {
                Allowed::AtMost => say::within_at_most,
                Allowed::AtLeast | Allowed::MoreThan => say::within_at_least,
            };
            let short = if is_steady {
                say::steady_short(value(), limit())
            } else {
                say::tightest_short(name, value(), limit())
            };
            Said::new(sentence(load, name, value(), limit()), short)
        }
        // What is needed is the speed difference, and what is reached is its limit.
        Some(first) if *figure == STRAIGHT_IN_LIMIT => Said::new(
            say::within_on_assumed(limit(), value(), values, first),
            say::within_on_assumed_short(limit(), value(), values),
        ),
        Some(first) => {
            let short = if is_steady {
                say::steady_on_assumed_short(values)
            } else {
                say::tightest_on_assumed_short(value(), limit(), values)
            };
            Said::new(say::tightest_on_assumed(load, name, value(), limit(), values, first), short)
        }
    }
}
