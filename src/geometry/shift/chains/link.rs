//! A link of a chain: from the end of one land to the end of the next.

use super::slide::{Slide, thrown_to};
use super::{Chains, HALVINGS, SAME_END_RAD, UpTo, falls_alike_to};
use crate::shift::attempt::{DirectedBlock, FallEnd, Shifter, State, to_tip};

/// How often the place where an overhanging tip is met is worked out anew.
const TURNS: usize = 24;

/// Slips that differ by less than this share are the same.
const SAME_SHARE: f64 = 1e-14;

/// How a ring came from the end of one land to its way along the next.
#[derive(Clone, Copy, Debug)]
enum By<'a> {
    /// It fell on a top, after a time, s.
    Fall { seconds: f64 },
    /// A flank of a fall, unless it stands on the land, threw it back from under its tip by so much, rad, after a
    /// time, s.
    Strike { wall: Option<&'a DirectedBlock>, under: f64, seconds: f64 },
}

/// The square of the slip up to which the falls from the end of a land meet the same.
#[derive(Clone, Copy, Debug)]
pub(super) enum Own {
    Exactly(f64),
    /// It is above this, clear of rounding.
    AtLeast(f64),
}

impl Own {
    /// The square itself, for a fall and its end.
    pub(super) fn exactly(self, shifter: &Shifter, from: &State, end: &FallEnd<'_>) -> f64 {
        match self {
            Self::Exactly(square) => square,
            Self::AtLeast(_) => {
                let slip = falls_alike_to(shifter, from, end);
                slip * slip
            }
        }
    }

    /// A square up to which they surely do.
    const fn least(self) -> f64 {
        let (Self::Exactly(square) | Self::AtLeast(square)) = self;
        square
    }
}

/// The square of the slip at the end of a land, as a function of that at the end of the land before.
#[derive(Clone, Copy, Debug)]
pub(super) struct Link<'a> {
    /// The land before, if what was found is to be kept for it.
    pub(super) key: Option<usize>,
    /// The square of the slip at its end.
    pub(super) entry: f64,
    /// The square up to which the link is of this kind.
    own: Own,
    from: State,
    by: By<'a>,
    /// The slip with which the ring begins to rub along the next land.
    out_slip: f64,
    /// How far it rubs, rad, to which place, and the square of its slip then.
    reach: f64,
    end: f64,
    rest: f64,
}

impl<'a> Link<'a> {
    const fn new(from: State, own: Own, by: By<'a>) -> Self {
        let entry = from.slip * from.slip;
        Self { key: None, entry, own, from, by, out_slip: 0.0, reach: 0.0, end: 0.0, rest: 0.0 }
    }

    /// A ring that fell on a top.
    pub(super) const fn to_top(from: &State, at: &State, own: Own) -> Self {
        Self::new(*from, own, By::Fall { seconds: at.time - from.time })
    }

    /// A ring that a flank threw back from a fall.
    pub(super) fn struck(from: &State, at: &State, wall: &'a DirectedBlock, own: Own) -> Self {
        let under = (-to_tip(at, wall)).max(0.0);
        Self::new(*from, own, By::Strike { wall: Some(wall), under, seconds: at.time - from.time })
    }

    /// A ring that a flank on its land threw back.
    pub(super) fn from_wall(slide: &Slide<'_>) -> Self {
        let slip = slide.rest.sqrt();
        let from = State { u: 0.0, x: 0.0, level: 0, v: 0.0, slip, time: 0.0 };
        Self::new(
            from,
            Own::Exactly(f64::INFINITY),
            By::Strike { wall: None, under: 0.0, seconds: 0.0 },
        )
    }

    /// The same, with what is found to be kept for the land before.
    pub(super) const fn kept_for(self, key: usize) -> Self {
        Self { key: Some(key), ..self }
    }

    /// The same, with its way along the next land.
    pub(super) const fn on(self, begin: &State, slide: &Slide<'_>) -> Self {
        let Slide { reach, rest, .. } = *slide;
        Self { out_slip: begin.slip, reach, end: begin.u + reach, rest, ..self }
    }

    /// What was found for the end of the next land, for the end of the land before.
    pub(super) fn back(&self, found: UpTo, shifter: &'a Shifter, chains: &Chains) -> UpTo {
        let (bounds, to) = found;
        let entry_to = match self.by {
            By::Fall { seconds } => self.past_top(to, seconds, chains.per_rad),
            By::Strike { under, .. } => self.past_strike(to, under, shifter, chains),
        };
        let own = match self.own {
            Own::AtLeast(least) if entry_to >= least => {
                return self.with_own(shifter).back(found, shifter, chains);
            }
            own => own.least(),
        };
        let end = own.min(entry_to).max(self.entry);
        let bounds = bounds.after(self.rubs(end, to, chains.kept)).after_rubbing();
        match self.by {
            By::Fall { seconds } => (bounds.after([seconds; 2]), end),
            By::Strike { seconds, .. } => {
                // At a faster slip the flank comes sooner, by as much at least.
                let soonest =
                    if end.is_finite() { seconds * self.from.slip / end.sqrt() } else { 0.0 };
                (bounds.after([soonest.min(seconds), seconds]).struck(), end)
            }
        }
    }

    /// The same, with the square up to which it is of this kind worked out.
    fn with_own(&self, shifter: &'a Shifter) -> Self {
        let end = self.falls(shifter)(self.from.slip);
        Self { own: Own::Exactly(self.own.exactly(shifter, &self.from, &end)), ..*self }
    }

    /// A faster ring falls further on a top and has less to rub: the slip Δω with which it leaves the land
    /// before solves Δω² − k·(reach − (Δω − slip)·t) = q.
    fn past_top(&self, to: f64, seconds: f64, per_rad: f64) -> f64 {
        let half = per_rad * seconds / 2.0;
        let whole = per_rad * (self.reach + self.from.slip * seconds);
        let slip = (half * half + whole + to).sqrt() - half;
        slip * slip
    }

    /// The slip at a strike from that at the end of the land on the tip. A ring that is struck from under a
    /// tip has less to rub, and the faster it is, the less far below the tip it is struck. Where that hangs on the
    /// square up to which the link is of its kind, and that is not known exactly, the answer is some square above.
    fn past_strike(&self, to: f64, under: f64, shifter: &'a Shifter, chains: &Chains) -> f64 {
        let Chains { kept, per_rad, .. } = *chains;
        if kept <= 0.0 {
            return f64::INFINITY;
        }
        if to.is_infinite() {
            return match self.own {
                Own::Exactly(own) if under > 0.0 => {
                    self.alike_to(own, shifter, self.falls(shifter))
                }
                _ => to,
            };
        }
        let before = |reach: f64| (to + per_rad * reach) / (kept * kept);
        let whole = self.reach + under;
        let mut square = before(self.reach);
        if under <= 0.0 {
            return square;
        }
        let fall = self.falls(shifter);
        for _ in 0..TURNS {
            if square >= self.own.least() {
                break;
            }
            let slip = square.sqrt();
            let FallEnd::Wall(at, wall) = fall(slip) else { break };
            let next = before(whole - (-to_tip(&at, wall)).clamp(0.0, under));
            let is_same = next <= square * (1.0 + SAME_SHARE);
            square = square.max(next);
            if is_same {
                break;
            }
        }
        match self.own {
            Own::AtLeast(least) if square >= least => square,
            own => self.alike_to(square.min(own.least()), shifter, fall),
        }
    }

    /// The falls of rings that leave the land before with any slip that the link is for: all meet the same flank.
    fn falls(&self, shifter: &'a Shifter) -> impl Fn(f64) -> FallEnd<'a> {
        let onto = match self.by {
            By::Strike { wall: Some(wall), .. } => Some(shifter.onto(&self.from, wall)),
            _ => None,
        };
        let from = self.from;
        move |slip: f64| {
            let from = State { slip, ..from };
            onto.as_ref().map_or_else(|| shifter.fall(from), |onto| onto.fall(from))
        }
    }

    /// The square of the slip, up to a most, to which a ring that is struck from under a tip slides to the same
    /// end: less far below the tip it may meet a flank that it is past otherwise.
    fn alike_to(&self, most: f64, shifter: &'a Shifter, fall: impl Fn(f64) -> FallEnd<'a>) -> f64 {
        let is_alike = |slip: f64| {
            let thrown = thrown_to(shifter, &fall(slip));
            thrown.is_some_and(|(end, _)| (self.end - end).abs() < SAME_END_RAD)
        };
        let (mut low, mut high) = (self.from.slip, most.sqrt() * (1.0 - SAME_SHARE));
        if is_alike(high) {
            return most;
        }
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            *if is_alike(middle) { &mut low } else { &mut high } = middle;
        }
        high * high
    }

    /// Least and most time of rubbing, s, for rings up to a slip.
    fn rubs(&self, entry_to: f64, to: f64, kept: f64) -> [f64; 2] {
        let (whole, kept) = match self.by {
            By::Fall { .. } => (self.reach, 1.0),
            By::Strike { under, .. } => (self.reach + under, kept),
        };
        let most =
            if self.rest > 0.0 { 2.0 * whole / (self.out_slip + self.rest.sqrt()) } else { 0.0 };
        let fastest = entry_to.sqrt();
        let left = match self.by {
            By::Fall { seconds } => self.reach - (fastest - self.from.slip) * seconds,
            By::Strike { .. } => self.reach,
        };
        let both = fastest * kept + to.max(0.0).sqrt();
        let least = if both.is_finite() && both > 0.0 { 2.0 * left.max(0.0) / both } else { 0.0 };
        [if self.rest > 0.0 { least.min(most) } else { 0.0 }, most]
    }
}
