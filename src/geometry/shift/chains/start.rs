//! The beginning of a chain: from a phase at tip level.

use std::f64::consts::TAU;

use super::slide::{Slide, SlideEnd};
use super::{Chains, HALVINGS, SAME_END_RAD, SAME_SHARE, UpTo, caught, float};
use crate::shift::attempt::{
    By, CLEAR_RAD, DirectedBlock, FallEnd, Part, STEP_RAD, Shifter, State, to_tip,
};
use crate::shift::outcome_bounds::OutcomeBounds;
use crate::shift::row::Ends;

/// Neighbouring phases with one outcome: where they end, and the bounds of the time.
type Stretch = (f64, OutcomeBounds);

impl Chains {
    /// How the shifts from all phases end at a slip in rad/s, in exact runs of phases.
    pub(in crate::shift) fn ends(&mut self, shifter: &Shifter, slip: f64) -> Ends {
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
        let (mut at, mut step) = (part.begin, STEP_RAD);
        while at < part.end {
            let inside = at + step.min((part.end - at) / 2.0);
            let mut begun = at;
            for (end, bounds) in self.stretches(shifter, part, inside, slip) {
                let end = if part.end - end < STEP_RAD { part.end } else { end.min(part.end) };
                ends.add(shifter, slip, [begun, end], &bounds);
                begun = end.max(begun);
            }
            // The step doubles where rounding decides, so that the loop always gets on.
            step = if begun - at > 2.0 * step { STEP_RAD } else { 2.0 * step };
            at = begun.max(inside);
        }
    }

    /// What the phases from a place on come to, as far as they share their first fall.
    fn stretches(&mut self, shifter: &Shifter, part: &Part, u: f64, slip: f64) -> Vec<Stretch> {
        let v = shifter.conditions.travel.start_speed_m_per_s;
        let from = State { u, x: 0.0, level: 0, v, slip, time: 0.0 };
        if part.is_land {
            let (bounds, more) = self.slides(shifter, &from);
            return vec![(u + more, bounds.after_rubbing())];
        }
        let end = shifter.fall(from);
        let own = shifter.same_fall(&from, &end, By::Phase, part.end - u);
        match &end {
            FallEnd::Top(at) => {
                let (bounds, more) = self.slides(shifter, at);
                vec![(u + own.min(more), bounds.after([at.time; 2]).after_rubbing())]
            }
            FallEnd::Wall(at, wall) if !shifter.holds(at.x, wall) => {
                if to_tip(at, wall) < 0.0 {
                    return self.under_tips(shifter, &from, own);
                }
                let (bounds, _) = self.thrown(shifter, at, wall);
                let soonest = (at.time - own / slip).max(0.0);
                vec![(u + own, bounds.after([soonest, at.time]).struck())]
            }
            _ => vec![(u + own, caught(shifter, &end))],
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

    /// A ring that a flank throws back: what it comes to, up to which square of its slip at the end of the
    /// land on the tip, and that square.
    fn thrown(
        &mut self,
        shifter: &Shifter,
        at: &State,
        wall: &DirectedBlock,
    ) -> (OutcomeBounds, [f64; 2]) {
        let back = State { time: 0.0, ..shifter.thrown_back(at, wall) };
        let slide = Slide::of(shifter, &back);
        let (reach, rest) = (slide.reach, slide.rest);
        let is_settled = matches!(slide.end, SlideEnd::Settled(_));
        let (bounds, to) = self.after(shifter, slide);
        if is_settled {
            return (bounds, [rest, to]);
        }
        let most = 2.0 * reach / (back.slip + rest.sqrt());
        (bounds.after([0.0, most]), [rest, to])
    }

    /// Rings that an undercut flank throws back from under its tip. The further on a ring starts, the less
    /// far below the tip it is struck, and the more it has to rub afterwards: so the last is the slowest
    /// then, and what holds for it holds backwards up to some slip.
    fn under_tips(&mut self, shifter: &Shifter, from: &State, own: f64) -> Vec<Stretch> {
        let struck = |u: f64| match shifter.fall(State { u, ..*from }) {
            FallEnd::Wall(at, wall) if !shifter.holds(at.x, wall) => Some((at, wall)),
            _ => None,
        };
        let slide = |u: f64| Slide::when_thrown(shifter, &State { u, ..*from });
        let mut stretches = Vec::new();
        let end = from.u + own;
        let clear = [STEP_RAD, 1e-9, CLEAR_RAD].map(|by| end - by.min(own / 2.0));
        let last = clear.into_iter().find(|u| struck(*u).is_some()).unwrap_or(from.u);
        let longest = struck(from.u).map_or(0.0, |(first, _)| first.time);
        let mut upper = end;
        let mut at = last.max(from.u);
        while let Some((state, wall)) = struck(at) {
            let (bounds, [own_rest, to]) = self.thrown(shifter, &state, wall);
            stretches.push((upper, bounds.after([0.0, longest]).struck()));
            // Each stretch is longer than rounding, so that the loop always gets on.
            let to = to.max(own_rest + own_rest.abs() * SAME_SHARE + f64::MIN_POSITIVE);
            let Some((_, own_end)) = slide(at) else { break };
            // Further below the tip it may be past a flank that is met here.
            let is_alike = |u: f64| {
                slide(u).is_some_and(|(there, end)| {
                    there.rest < to && (end - own_end).abs() < SAME_END_RAD
                })
            };
            if at <= from.u || is_alike(from.u) {
                break;
            }
            let (mut below, mut above) = (from.u, at);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(below, above);
                *if is_alike(middle) { &mut above } else { &mut below } = middle;
            }
            upper = above;
            at = below;
        }
        stretches.reverse();
        stretches
    }
}
