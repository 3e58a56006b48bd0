//! What a cut costs: every figure that it makes worse.

use crenel_words::{Message, Value, compare, suggest as say};

use super::goal::Goal;
use crate::analysis::Analysis;
use crate::compare::{Change, Verdict, changes};
use crate::figures::{Figure, LASH, LASH_AT_MEAN_RADIUS, LASH_AT_TYRE, LASH_AT_WHEEL};
use crate::units::sort_by_number;

/// A figure that gets worse by this share or less does not count.
const OVERLOOKED: f64 = 0.02;

/// The lash at the dogs, and the figures that repeat it at another radius.
static LASHES: [&Figure; 4] = [&LASH, &LASH_AT_MEAN_RADIUS, &LASH_AT_WHEEL, &LASH_AT_TYRE];

/// One figure that gets worse.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// Which figure.
    pub figure: &'static Figure,
    /// The figure before and after, and the limit if it is past one.
    pub words: Message,
    /// Whether it is past its limit now and was not before.
    pub crossed: bool,
}

/// Every figure that gets worse by more than 2 %, or from 0. Figures that cross a limit come first, then those
/// that were past it already, then the largest change. The goal itself does not count.
pub(super) fn prices(now: &Analysis, after: &Analysis, goal: Goal) -> Vec<Price> {
    let wished = |figure: &Figure| goal == Goal::Lash && LASHES.contains(&figure);
    let share = |change: &Change| change.by.map_or(f64::INFINITY, f64::abs);
    let is_price = |change: &Change| {
        change.verdict == Some(Verdict::Worse)
            && share(change) > OVERLOOKED
            && !wished(change.figure)
    };
    let list = changes(now, after).into_iter().filter(is_price);
    let mut list: Vec<_> = list.map(|change| (past(&change, after), change)).collect();
    sort_by_number(&mut list, |(_, change)| -share(change));
    sort_by_number(&mut list, |(past, _)| f64::from(*past as u8));
    list.iter().map(|(past, change)| price(*past, change, after)).collect()
}

/// Where a figure is relative to its limit, in the order in which prices are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Past {
    Crossed,
    Already,
    Within,
}

fn past(change: &Change, after: &Analysis) -> Past {
    let figure = change.figure;
    let is_past = |value| figure.gauge(value, after).is_some_and(|gauge| gauge.is_past());
    match (change.is.is_some_and(is_past), change.was.is_some_and(is_past)) {
        (true, false) => Past::Crossed,
        (true, true) => Past::Already,
        (false, _) => Past::Within,
    }
}

fn price(past: Past, change: &Change, after: &Analysis) -> Price {
    let figure = change.figure;
    let shown = |value: &Option<Value>| value.clone().unwrap_or_else(|| compare::absent().into());
    let (name, before, now) = (figure.name(), shown(&change.before), shown(&change.after));
    let by = match change.by {
        Some(share) if share < 0.0 => say::less_by(-share),
        Some(share) => say::more_by(share),
        None => say::new(),
    };
    let gauge = change.is.and_then(|value| figure.gauge(value, after));
    let limit = gauge.map(|gauge| Value::Result(figure.quantity, gauge.limit));
    let words = match (past, limit) {
        (Past::Crossed, Some(limit)) => say::price_crosses(name, before, now, by, limit),
        (Past::Already, Some(limit)) => say::price_is_past(name, before, now, by, limit),
        _ => say::price(name, before, now, by),
    };
    Price { figure, words, crossed: past == Past::Crossed }
}
