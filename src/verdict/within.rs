//! Nothing past a limit: the tightest margin.

use crenel_words::{Message, verdict as say};

use super::said::result;
use crate::analysis::Analysis;
use crate::figures::{Figure, WINDOW_TIME, figure_value, limited};
use crate::gauge::{Allowed, Gauge};

/// The figure that is nearest to its limit, by the share of it that is used. A limit of 0 has no shares, and
/// the window time says what the straight-in limit says.
pub(super) fn tightest(analysis: &Analysis) -> Option<(&'static Figure, Gauge)> {
    let own = limited().filter(|figure| **figure != WINDOW_TIME);
    let gauges = own.filter_map(|figure| {
        let value = figure_value(figure, analysis)?;
        let gauge = figure.gauge(value, analysis).filter(|gauge| gauge.limit != 0.0)?;
        Some((figure, gauge))
    });
    gauges.max_by(|(_, a), (_, b)| a.used().total_cmp(&b.used()))
}

/// The sentences on the tightest margin: the fact, what to do next, and the fact in short.
pub(super) fn sentences(tightest: Option<(&'static Figure, Gauge)>) -> [Message; 3] {
    let Some((figure, gauge)) = tightest else {
        let advice = say::within();
        return [advice.says, advice.next, say::within_short()];
    };
    let [value, limit] = [gauge.value, gauge.limit].map(|v| result(figure.quantity, v));
    let short = say::tightest_short(figure.name(), value.clone(), limit.clone());
    let sentence = match gauge.allowed {
        Allowed::AtMost => say::within_at_most,
        Allowed::AtLeast | Allowed::MoreThan => say::within_at_least,
    };
    let advice = sentence(figure.name(), value, limit);
    [advice.says, advice.next, short]
}
