//! The result of the first pass from every phase, in exact spans.

use std::f64::consts::TAU;

use super::course::Course;
use super::pass::FirstPass;
use super::run::Shifter;

/// Neighbouring phases from which the first pass has the same result.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Where the span begins, rad, as an angle in the direction of slip: the phase if the phase grows with
    /// the slip, and its negative otherwise.
    pub begin: f64,
    /// The width of the span, rad.
    pub width: f64,
    /// The result of the first pass.
    pub what: FirstPass,
}

/// An attempt starts this far (rad) past the beginning of a span, to be clear of whatever lies exactly
/// there. The ends of spans are known to this precision.
pub(in crate::shift) const STEP_RAD: f64 = 1e-11;

/// An attempt this far (rad) before the end of a span is clear of whatever lies exactly there. Single
/// shifts treat overlaps within 1e-9 mm as equal, which along a land can amount to nearly this angle.
pub(in crate::shift) const CLEAR_RAD: f64 = 1e-6;

/// How often a stretch is halved to find where the time allowed runs out.
const HALVINGS: usize = 60;

/// A land or a window at the tips, in the direction of slip.
#[derive(Clone, Copy)]
pub(in crate::shift) struct Part {
    pub(in crate::shift) begin: f64,
    pub(in crate::shift) end: f64,
    pub(in crate::shift) is_land: bool,
}

impl Shifter {
    /// The results of the first pass from every phase at a slip in rad/s, as spans once round the circle in
    /// the direction of slip. Nothing is sampled: each span costs one attempt, and its ends are known to
    /// 1e-11 rad.
    pub fn first_passes(&self, slip: f64) -> Vec<Span> {
        let mut spans: Vec<Span> = Vec::new();
        for part in self.parts() {
            self.along(&part, slip.abs(), &mut spans);
        }
        spans
    }

    /// The circle at tip level, from where the first land begins.
    pub(in crate::shift) fn parts(&self) -> Vec<Part> {
        let Some(lands) = self.levels.first().map(|level| &level.lands) else {
            return vec![Part { begin: 0.0, end: TAU, is_land: false }];
        };
        let mut parts = Vec::with_capacity(2 * lands.spans.len() + 1);
        let mut done = 0.0;
        for [from, to] in lands.spans.iter().map(|span| span.map(|end| end.min(TAU))) {
            parts.push(Part { begin: done, end: from, is_land: false });
            parts.push(Part { begin: from, end: to, is_land: true });
            done = to;
        }
        parts.push(Part { begin: done, end: TAU, is_land: false });
        parts.retain(|part| part.end - part.begin > STEP_RAD);
        let from_origin = |part: Part| {
            let (begin, end) = (part.begin + lands.origin, part.end + lands.origin);
            Part { begin, end, ..part }
        };
        parts.into_iter().map(from_origin).collect()
    }

    /// The spans along a part, one after the other.
    fn along(&self, part: &Part, slip: f64, spans: &mut Vec<Span>) {
        let course = |u: f64| match part.is_land {
            true => self.over_land(u, slip),
            false => self.over_window(u, slip, part.end - u),
        };
        let (mut at, mut step) = (part.begin, STEP_RAD);
        while at < part.end {
            let inside = at + step.min((part.end - at) / 2.0);
            let found = course(inside);
            let end = (inside + found.more).min(part.end);
            let end = if part.end - end < STEP_RAD { part.end } else { end };
            let in_time = self.in_time_from([inside, end], &found, course);
            add(spans, at, in_time, FirstPass::Ratcheting);
            add(spans, in_time.max(at), end, found.what);
            // The step doubles where rounding decides, so that the loop always gets on.
            step = if end - at > 2.0 * step { STEP_RAD } else { 2.0 * step };
            at = end;
        }
    }

    /// The place between two phases of the same course from which on the course ends within the time
    /// allowed. Courses that start further on end sooner.
    fn in_time_from(
        &self,
        [begin, end]: [f64; 2],
        found: &Course,
        course: impl Fn(f64) -> Course,
    ) -> f64 {
        let allowed = self.conditions.allowed_s;
        if found.time <= allowed {
            return f64::NEG_INFINITY;
        }
        let (mut late, mut in_time) = (begin, end);
        let last = course(end - CLEAR_RAD.min((end - begin) / 2.0));
        if last.time > allowed || last.what != found.what {
            return end;
        }
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(late, in_time);
            let is_late = course(middle).time > allowed;
            *if is_late { &mut late } else { &mut in_time } = middle;
        }
        in_time
    }
}

/// Adds a span. It extends the last span if that has the same result.
fn add(spans: &mut Vec<Span>, begin: f64, end: f64, what: FirstPass) {
    if end <= begin {
        return;
    }
    match spans.last_mut() {
        Some(last) if last.what == what => last.width = end - last.begin,
        _ => spans.push(Span { begin, width: end - begin, what }),
    }
}
