//! The lands of one level: the phases at which tips lie on tips. Lands that overlap are joined.

use std::f64::consts::TAU;

use crate::pair::wrapped;
use crate::units::sort_by_number;

/// Angles closer than this (rad) are the same.
pub(in crate::shift) const SAME_RAD: f64 = 1e-12;

/// The lands of a level in order, as angles ahead of the start of the first.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::shift) struct Lands {
    pub(in crate::shift) origin: f64,
    /// The start and the end of each land. The end of a land all round is infinite.
    pub(in crate::shift) spans: Vec<[f64; 2]>,
}

impl Lands {
    /// Joins arcs that are given by their start and their width.
    pub(in crate::shift) fn joined(arcs: impl Iterator<Item = (f64, f64)>) -> Self {
        let mut arcs: Vec<_> =
            arcs.filter(|arc| arc.1 > 0.0).map(|a| (wrapped(a.0), a.1)).collect();
        sort_by_number(&mut arcs, |arc| arc.0);
        let mut spans: Vec<[f64; 2]> = Vec::with_capacity(arcs.len());
        for (near, width) in arcs {
            match spans.last_mut() {
                Some(last) if near <= last[1] + SAME_RAD => last[1] = last[1].max(near + width),
                _ => spans.push([near, near + width]),
            }
        }
        Self::closed(spans)
    }

    /// Joins the last lands with the first where they overlap, and counts angles from the start of the
    /// first.
    fn closed(mut spans: Vec<[f64; 2]>) -> Self {
        let round = |spans: &[[f64; 2]]| match *spans {
            [first, .., last] => last[1] + SAME_RAD >= first[0] + TAU,
            _ => false,
        };
        while round(&spans) {
            // What the last runs over is part of it; a land further on may be reached then.
            let first = spans.remove(0);
            if let Some(last) = spans.last_mut() {
                last[1] = last[1].max(first[1] + TAU);
            }
        }
        let origin = spans.first().map_or(0.0, |first| first[0]);
        let from_origin = |[from, to]: [f64; 2]| {
            let all_round = to - from >= TAU - SAME_RAD;
            [from - origin, if all_round { f64::INFINITY } else { to - origin }]
        };
        Self { origin, spans: spans.into_iter().map(from_origin).collect() }
    }

    /// How far the land under `u` extends ahead; `None` over a window. Rounding must not let a ring at the
    /// very edge of a land miss it.
    pub(in crate::shift) fn under(&self, u: f64) -> Option<f64> {
        self.span_under(u).map(|(_, ahead)| ahead)
    }

    /// The same with the index of the land.
    pub(super) fn span_under(&self, u: f64) -> Option<(usize, f64)> {
        let past = wrapped(u - self.origin + SAME_RAD);
        let at = self.begun(past).checked_sub(1)?;
        let end = self.spans[at][1];
        (past <= end + 2.0 * SAME_RAD).then(|| (at, (end + SAME_RAD - past).max(0.0)))
    }

    /// How far ahead of `u` the land under it ends or, over a window, the next one begins.
    pub(in crate::shift) fn to_next(&self, u: f64) -> f64 {
        let past = wrapped(u - self.origin + SAME_RAD);
        let (before, after) = self.spans.split_at(self.begun(past));
        match before.last() {
            Some(&[_, end]) if past <= end + 2.0 * SAME_RAD => {
                (end + SAME_RAD - past).max(0.0) + 2.0 * SAME_RAD
            }
            // After one turn the first land begins again.
            Some(_) => after.first().map_or(TAU, |next| next[0]) - past,
            None => after.first().map_or(f64::INFINITY, |next| next[0]) - past,
        }
    }

    /// How many lands begin up to so far past the origin.
    fn begun(&self, past: f64) -> usize {
        self.spans.partition_point(|span| span[0] <= past)
    }

    /// Whether a land blocks a ring that slides down along a flank at `u`. A land that only begins there is
    /// flush with the flank and lets the ring pass.
    pub(in crate::shift) fn are_beside(&self, u: f64) -> bool {
        self.under(u - 2.0 * SAME_RAD).is_some()
    }
}
