//! The beginning of a chain: from a phase at tip level.

use std::f64::consts::TAU;
use std::iter;

use super::slide::{Slide, SlideEnd, Thrown, thrown_to};
use super::{Chains, HALVINGS, SAME_END_RAD, SAME_SHARE, UpTo, caught, float};
use crate::shift::attempt::{
    Beside, By, CLEAR_RAD, DirectedBlock, FallEnd, Part, STEP_RAD, Shifter, State, to_tip,
};
use crate::shift::outcome_bounds::OutcomeBounds;
use crate::shift::row::Ends;

/// Neighbouring phases with one outcome: where they end, and the bounds of the time.
type Stretch = (f64, OutcomeBounds);

/// One stretch or, seldom, more that share their first fall.
struct Stretches {
    first: Stretch,
    more: Vec<Stretch>,
}

impl Stretches {
    const fn one(end: f64, bounds: OutcomeBounds) -> Self {
        Self { first: (end, bounds), more: Vec::new() }
    }

    /// A stretch and those after it, given from the last to the first.
    fn with(first: Stretch, mut more: Vec<Stretch>) -> Self {
        more.reverse();
        Self { first, more }
    }
}

/// What is known of the first falls from the next phases.
enum Known {
    Nothing,
    /// Up to this phase, rad, to within rounding, they land on this level.
    Landing {
        level: usize,
        until: f64,
    },
    /// They can meet nothing but these.
    Beside(Beside),
}

impl Known {
    /// The level on which the fall from a phase lands, if that is known, clear of whatever lies further on.
    fn landing(&self, u: f64) -> Option<usize> {
        match *self {
            Self::Landing { level, until } if u < until - CLEAR_RAD => Some(level),
            _ => None,
        }
    }

    fn fall<'a>(&self, shifter: &'a Shifter, from: State) -> FallEnd<'a> {
        if let Some(level) = self.landing(from.u) {
            return shifter.fall_on_top(&from, level);
        }
        match self {
            Self::Beside(beside) if from.u < beside.until => shifter.fall_beside(from, beside),
            _ => shifter.fall(from),
        }
    }
}

impl Chains {
    /// How the shifts from all phases end at a slip in rad/s, in exact runs of phases.
    pub(in crate::shift) fn ends(&mut self, shifter: &Shifter, slip: f64) -> Ends {
        shifter.prepare();
        let parts = shifter.parts();
        let repeats = if parts.len().is_multiple_of(self.repeats) { self.repeats } else { 1 };
        let first = &parts[..parts.len() / repeats];
        let origin = first.first().map_or(0.0, |part| part.begin);
        let mut ends = Ends::from(origin);
        for part in first {
            self.along(shifter, part, slip, &mut ends);
        }
        ends.repeated(repeats, TAU / float(repeats));
        ends
    }

    /// The runs along a part of the circle, one after the other.
    fn along(&mut self, shifter: &Shifter, part: &Part, slip: f64, ends: &mut Ends) {
        let (mut at, mut step, mut known) = (part.begin, STEP_RAD, Known::Nothing);
        while at < part.end {
            let inside = at + step.min((part.end - at) / 2.0);
            let mut begun = at;
            let Stretches { first, more } =
                self.stretches(shifter, part, [inside, slip], &mut known);
            for (end, bounds) in iter::once(first).chain(more) {
                let end = if part.end - end < STEP_RAD { part.end } else { end.min(part.end) };
                ends.add(shifter, slip, [begun, end], &bounds);
                begun = end.max(begun);
            }
            // The step doubles where rounding decides, so that the loop always gets on.
            step = if begun - at > 2.0 * step { STEP_RAD } else { 2.0 * step };
            at = begun.max(inside);
        }
    }

    /// What the phases from a place on come to, as far as they share their first fall. `known` is brought up to date.
    fn stretches(
        &mut self,
        shifter: &Shifter,
        part: &Part,
        [u, slip]: [f64; 2],
        known: &mut Known,
    ) -> Stretches {
        let from = shifter.start(u, slip);
        if part.is_land {
            let (bounds, more) = self.slides(shifter, &from);
            return Stretches::one(u + more, bounds.after_rubbing());
        }
        let end = known.fall(shifter, from);
        if let FallEnd::Top(at) = &end {
            let (bounds, more) = self.slides(shifter, at);
            let bounds = bounds.after([at.time; 2]).after_rubbing();
            if known.landing(u + more).is_some() {
                return Stretches::one(u + more, bounds);
            }
            let own = shifter.same_fall(&from, &end, By::Phase, part.end - u);
            *known = Known::Landing { level: at.level, until: u + own };
            return Stretches::one(u + own.min(more), bounds);
        }
        let (own, beside) = shifter.same_fall_beside(&from, &end, part.end - u);
        *known = beside.map_or(Known::Nothing, Known::Beside);
        match &end {
            FallEnd::Wall(at, wall) if !shifter.holds(at.x, wall) => {
                let thrown = Thrown::by(shifter, at, wall);
                if to_tip(at, wall) < 0.0 {
                    return self.under_tips(shifter, &from, wall, &thrown, own);
                }
                let (bounds, _) = self.thrown(shifter, &thrown);
                let soonest = (at.time - own / slip).max(0.0);
                Stretches::one(u + own, bounds.after([soonest, at.time]).struck())
            }
            _ => Stretches::one(u + own, caught(shifter, &end)),
        }
    }

    /// A ring that lies on a land, and how much further on, rad, it comes to the same.
    fn slides(&mut self, shifter: &Shifter, from: &State) -> UpTo {
        let slide = Slide::of(shifter, from);
        let (reach, rest) = (slide.reach, slide.rest);
        let is_settled = matches!(slide.end, SlideEnd::Settled(_));
        let (bounds, to) = self.after(shifter, slide);
        let more = if self.per_rad > 0.0 { (to - rest) / self.per_rad } else { f64::INFINITY };
        if is_settled {
            return (bounds, more);
        }
        let most = 2.0 * reach / (from.slip + rest.sqrt());
        let least = 2.0 * (reach - more).max(0.0) / (from.slip + to.sqrt());
        let least = if least.is_finite() { least.min(most) } else { 0.0 };
        (bounds.after([least, most]), more)
    }

    /// A ring that a flank throws back: what it comes to, and up to which square of its slip at the end of the
    /// land on the tip.
    fn thrown(&mut self, shifter: &Shifter, thrown: &Thrown<'_>) -> UpTo {
        let Slide { reach, rest, .. } = thrown.slide;
        let is_settled = matches!(thrown.slide.end, SlideEnd::Settled(_));
        let (bounds, to) = self.after(shifter, thrown.slide);
        if is_settled {
            return (bounds, to);
        }
        let most = 2.0 * reach / (thrown.slip + rest.sqrt());
        (bounds.after([0.0, most]), to)
    }

    /// Rings that an undercut flank throws back from under its tip. The further on a ring starts, the less
    /// far below the tip it is struck, and the more it has to rub afterwards: so the last is the slowest
    /// then, and what holds for it holds backwards up to some slip.
    fn under_tips(
        &mut self,
        shifter: &Shifter,
        from: &State,
        wall: &DirectedBlock,
        first: &Thrown<'_>,
        own: f64,
    ) -> Stretches {
        let end = from.u + own;
        let onto = shifter.onto(from, wall);
        let fall = |u: f64| onto.fall(State { u, ..*from });
        let thrown = |u: f64| Thrown::after(shifter, &fall(u));
        let clear = [STEP_RAD, 1e-9, CLEAR_RAD].map(|by| end - by.min(own / 2.0));
        let last = clear.into_iter().find_map(|u| Some((u, thrown(u)?)));
        let mut upper = end;
        let (mut at, mut ring) = last.unwrap_or((from.u, *first));
        let mut after = Vec::new();
        loop {
            let (bounds, to) = self.thrown(shifter, &ring);
            let stretch = (upper, bounds.after([0.0, first.struck_s]).struck());
            // Each stretch is longer than rounding, so that the loop always gets on.
            let own_rest = ring.slide.rest;
            let to = to.max(own_rest + own_rest.abs() * SAME_SHARE + f64::MIN_POSITIVE);
            // Further below the tip it may be past a flank that is met here.
            let above_to = |(end, rest): (f64, f64)| {
                let is_same = (end - ring.end).abs() < SAME_END_RAD;
                is_same.then_some(rest - to)
            };
            let first = above_to((first.end, first.slide.rest));
            if at <= from.u || first.is_some_and(|above| above < 0.0) {
                return Stretches::with(stretch, after);
            }
            let ends = [(from.u, first), (at, above_to((ring.end, own_rest)))];
            let [below, above] = narrowed(ends, |u| above_to(thrown_to(shifter, &fall(u))?));
            upper = above;
            let Some(next) = thrown(below) else { return Stretches::with(stretch, after) };
            after.push(stretch);
            (at, ring) = (below, next);
        }
    }
}

/// Narrows a stretch down to where a falling number becomes negative; there may be none before some place. The chord
/// between both ends tells where to look next, and an end that stays counts half (the Illinois method).
fn narrowed(
    [mut below, mut above]: [(f64, Option<f64>); 2],
    number: impl Fn(f64) -> Option<f64>,
) -> [f64; 2] {
    for _ in 0..2 * HALVINGS {
        let width = above.0 - below.0;
        if width <= STEP_RAD {
            break;
        }
        let share = match (below.1, above.1) {
            (Some(most), Some(least)) => most / (most - least),
            _ => 0.5,
        };
        let clear = STEP_RAD / 2.0;
        let at = below.0 + (share * width).clamp(clear, width - clear);
        let half = |end: (f64, Option<f64>)| (end.0, end.1.map(|number| number / 2.0));
        match number(at) {
            found @ Some(..0.0) => (below, above) = (half(below), (at, found)),
            found => (below, above) = ((at, found), half(above)),
        }
    }
    [below.0, above.0]
}
