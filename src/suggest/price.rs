//! What a cut costs: every figure that it makes worse.

use crenel_words::Language;

use super::goal::Goal;
use crate::analysis::Analysis;
use crate::compare::{Change, Verdict, changes};
use crate::figures::{Better, Figure, LASH, LASH_AT_MEAN_RADIUS, LASH_AT_TYRE, LASH_AT_WHEEL};
use crate::units::{DisplayUnits, sort_by_number};

/// A figure that gets worse by this share or less does not count.
const OVERLOOKED: f64 = 0.02;

/// The lash at the dogs, and the figures that repeat it at another radius.
static LASHES: [&Figure; 4] = [&LASH, &LASH_AT_MEAN_RADIUS, &LASH_AT_WHEEL, &LASH_AT_TYRE];

/// One figure that gets worse.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// The figure before and after, the change, and the limit if it is past one.
    pub words: String,
    /// Whether it is past its limit now and was not before.
    pub crossed: bool,
}

/// Every figure that gets worse by more than 2 %, or from 0. Figures that cross a limit come first, then those
/// that were past it already, then the largest change. The goal itself does not count.
pub(super) fn prices(
    now: &Analysis,
    after: &Analysis,
    goal: Goal,
    units: DisplayUnits,
) -> Vec<Price> {
    let wished = |figure: &Figure| goal == Goal::Lash && LASHES.contains(&figure);
    let share = |change: &Change| change.by.map_or(f64::INFINITY, f64::abs);
    let is_price = |change: &Change| {
        change.verdict == Some(Verdict::Worse)
            && share(change) > OVERLOOKED
            && !wished(change.figure)
    };
    let list = changes(now, after, units).into_iter().filter(is_price);
    let mut list: Vec<_> = list.map(|change| (past(&change, after), change)).collect();
    sort_by_number(&mut list, |(_, change)| -share(change));
    sort_by_number(&mut list, |(past, _)| f64::from(*past as u8));
    list.iter().map(|(past, change)| price(*past, change, after, units)).collect()
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
    let (Some(limit), Some(value)) = (figure.limit_in(after), change.is) else {
        return Past::Within;
    };
    let is_past = |value: f64| match figure.better {
        Better::More => value < limit,
        Better::Less | Better::Neither => value > limit,
    };
    match (is_past(value), change.was.is_some_and(is_past)) {
        (true, false) => Past::Crossed,
        (true, true) => Past::Already,
        (false, _) => Past::Within,
    }
}

fn price(past: Past, change: &Change, after: &Analysis, units: DisplayUnits) -> Price {
    let figure = change.figure;
    let before = change.before.as_deref().unwrap_or("none");
    let now = change.after.as_deref().unwrap_or("none");
    let by = change.by.map_or(String::new(), |share| {
        format!(" ({}{:.0} %)", if share < 0.0 { "−" } else { "+" }, share.abs() * 100.0)
    });
    let limit = figure.limit_in(after).map(|limit| figure.quantity.show_result(limit, units));
    let against = match (past, limit) {
        (Past::Crossed, Some(limit)) => format!(", past its limit of {limit}"),
        (Past::Already, Some(limit)) => format!(", already past its limit of {limit}"),
        _ => String::new(),
    };
    let words = format!("{} {before} → {now}{by}{against}", figure.name().show(Language::British));
    Price { words, crossed: past == Past::Crossed }
}
