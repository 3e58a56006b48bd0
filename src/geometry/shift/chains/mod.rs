//! How shifts end that are followed past every strike, from every phase, on any rings.
//!
//! A ring that leaves the end of a land starts from rest at a place that is always the same, whatever came
//! before: only its slip tells shifts apart. So a shift is a chain of links from land to land, each of which
//! makes the square of the slip at the end of one land from that at the end of the land before. What holds
//! for the slips from here to there at the end of a chain is carried back link by link to its beginning. The
//! ends of spans are thus known in closed form, or by halving where an undercut flank throws a ring back
//! from under its tip. Nothing is sampled.
//!
//! What was found for a land is kept, so that later chains end where they reach a known slip.

mod link;
mod slide;
mod start;

use std::collections::BTreeMap;
use std::f64::consts::TAU;

use link::{Link, Own};
use slide::{Slide, SlideEnd};

use super::attempt::{By, CLEAR_RAD, FallEnd, MOST_EVENTS, Met, SAME_MM, Shifter, State};
use super::outcome::Outcome;
use super::outcome_bounds::OutcomeBounds;

/// An outcome, and the square of the slip at the end of a land up to which it is unchanged.
type UpTo = (OutcomeBounds, f64);

/// Lands whose ends are closer than this (rad) are the same.
const SAME_END_RAD: f64 = 1e-8;

/// How often a stretch is halved to find an end.
const HALVINGS: usize = 50;

/// Squares of slips that differ by less than this share are the same.
const SAME_SHARE: f64 = 1e-9;

/// The end of a land: its level and its place on the circle.
type Key = (usize, i64);

/// Squares of slips at the end of one land that lead to one outcome.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Piece {
    from: f64,
    to: f64,
    bounds: OutcomeBounds,
}

/// What the falls from the end of one land meet.
#[derive(Clone, Copy, Debug, PartialEq)]
struct KnownFall {
    met: Met,
    /// The slips at which they do, rad/s, clear of the end of the range.
    from: f64,
    to: f64,
}

/// What is known of the shifts that leave one land.
#[derive(Clone, Debug, Default, PartialEq)]
struct KnownLand {
    /// What they come to, in order of the slip.
    pieces: Vec<Piece>,
    falls: Vec<KnownFall>,
}

impl KnownLand {
    /// Keeps what a fall meets. What was known of faster ones that meet the same is joined to it.
    fn keep_fall(&mut self, fall: KnownFall) {
        let joins = |known: &&mut KnownFall| {
            known.met == fall.met && fall.from <= known.from && known.from <= fall.to
        };
        match self.falls.iter_mut().find(joins) {
            Some(known) => (known.from, known.to) = (fall.from, known.to.max(fall.to)),
            None => self.falls.push(fall),
        }
    }
}

/// What is known of the shifts of a pair of rings.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Chains {
    /// How often the rings repeat in a turn.
    repeats: usize,
    origin: f64,
    /// Twice the slip lost in a second: the square of the slip falls by so much in a radian.
    per_rad: f64,
    /// The share of the slip that is left after a strike.
    kept: f64,
    lands: Vec<KnownLand>,
    /// The index of each of them by its end.
    numbers: BTreeMap<Key, usize>,
    /// The same by the level and the index of a land there, once a ring came to its end.
    ends: Vec<Vec<Option<usize>>>,
}

impl Chains {
    pub(super) fn of(shifter: &Shifter) -> Self {
        Self {
            repeats: shifter.repeats(),
            origin: shifter.levels.first().map_or(0.0, |level| level.lands.origin),
            per_rad: 2.0 * shifter.conditions.slip_deceleration(),
            kept: 1.0 - shifter.conditions.strike_loss,
            lands: Vec::new(),
            numbers: BTreeMap::new(),
            ends: shifter.levels.iter().map(|level| vec![None; level.lands.spans.len()]).collect(),
        }
    }

    /// What a slide along a land comes to, up to a square of the slip at its end.
    fn after<'a>(&mut self, shifter: &'a Shifter, first: Slide<'a>) -> UpTo {
        let mut links: Vec<Link<'_>> = Vec::new();
        let mut slide = first;
        let mut found = loop {
            let (begin, entry) = match slide.end {
                SlideEnd::Settled(bounds) => break (bounds, slide.settled_to()),
                SlideEnd::Wall(at, wall) => {
                    let link = Link::from_wall(&slide);
                    (shifter.thrown_back(&at, wall), link)
                }
                SlideEnd::Edge(at, land) => {
                    let at = self.folded(&at);
                    let key = self.number(&at, land);
                    if let Some(piece) = self.known(key, slide.rest) {
                        break (piece.bounds, piece.to);
                    }
                    if links.len() >= MOST_EVENTS || self.goes_round(&links, key, slide.rest) {
                        break (OutcomeBounds::never(), f64::INFINITY);
                    }
                    match self.fall(shifter, key, &at) {
                        Fallen::Ends(bounds, to) => {
                            self.keep(key, Piece { from: slide.rest, to, bounds });
                            break (bounds, to);
                        }
                        Fallen::On(begin, link) => (begin, link.kept_for(key)),
                    }
                }
            };
            slide = Slide::of(shifter, &begin);
            links.push(entry.on(&begin, &slide));
        };
        for link in links.iter().rev() {
            found = link.back(found, shifter, self);
            if let Some(key) = link.key {
                let (bounds, to) = found;
                self.keep(key, Piece { from: link.entry, to, bounds });
            }
        }
        found
    }

    /// Whether a chain is back where it was: without friction and loss it goes round for ever.
    fn goes_round(&self, links: &[Link<'_>], key: usize, entry: f64) -> bool {
        let same = |link: &Link<'_>| {
            link.key == Some(key) && (link.entry - entry).abs() <= SAME_SHARE * entry
        };
        self.per_rad <= 0.0 && links.iter().any(same)
    }

    /// The same place on the first of the equal parts of the circle.
    fn folded(&self, at: &State) -> State {
        let period = TAU / float(self.repeats);
        let turned = (at.u - self.origin).rem_euclid(period);
        State { u: self.origin + turned, v: 0.0, time: 0.0, ..*at }
    }

    /// A fall from the end of a land.
    fn fall<'a>(&mut self, shifter: &'a Shifter, key: usize, from: &State) -> Fallen<'a> {
        let (end, own) = self.falls(shifter, key, from);
        match &end {
            FallEnd::Top(at) => Fallen::On(*at, Link::to_top(from, at, own)),
            FallEnd::Wall(at, wall) if !shifter.holds(at.x, wall) => {
                let back = shifter.thrown_back(at, wall);
                Fallen::On(back, Link::struck(from, at, wall, own))
            }
            _ => Fallen::Ends(
                caught(shifter, &end).after_rubbing(),
                own.exactly(shifter, from, &end),
            ),
        }
    }

    /// The end of a fall from the end of a land, and up to which slips it is alike. What a fall meets is worked out
    /// once for a range of slips.
    fn falls<'a>(&mut self, shifter: &'a Shifter, key: usize, from: &State) -> (FallEnd<'a>, Own) {
        let land = &mut self.lands[key];
        let is_within = |fall: &&KnownFall| (fall.from..fall.to).contains(&from.slip);
        if let Some(known) = land.falls.iter().find(is_within) {
            return (shifter.fall_again(*from, known.met), Own::AtLeast(known.to * known.to));
        }
        let end = shifter.fall(*from);
        let to = falls_alike_to(shifter, from, &end);
        let clear = CLEAR_RAD / (end.state().time - from.time);
        land.keep_fall(KnownFall { met: shifter.met(&end), from: from.slip, to: to - clear });
        (end, Own::Exactly(to * to))
    }

    /// The index of what is known of a land, by a ring at its end and, if that is known, by its own index.
    fn number(&mut self, at: &State, land: Option<usize>) -> usize {
        let known = land.and_then(|land| self.ends[at.level][land]);
        known.unwrap_or_else(|| {
            let number = *self.numbers.entry(key(at)).or_insert(self.lands.len());
            if number == self.lands.len() {
                self.lands.push(KnownLand::default());
            }
            if let Some(land) = land {
                self.ends[at.level][land] = Some(number);
            }
            number
        })
    }

    fn known(&self, key: usize, square: f64) -> Option<Piece> {
        let pieces = &self.lands[key].pieces;
        let before = pieces.partition_point(|piece| piece.from <= square);
        pieces[..before].last().filter(|piece| square < piece.to).copied()
    }

    /// Keeps a piece, as far as nothing is known yet of its slips.
    fn keep(&mut self, key: usize, piece: Piece) {
        let pieces = &mut self.lands[key].pieces;
        let at = pieces.partition_point(|known| known.from < piece.from);
        let to = pieces.get(at).map_or(piece.to, |next| piece.to.min(next.from));
        if to > piece.from {
            pieces.insert(at, Piece { to, ..piece });
        }
    }
}

/// What a fall from the end of a land comes to.
enum Fallen<'a> {
    Ends(OutcomeBounds, f64),
    /// The ring lies on a land again, and how it came there.
    On(State, Link<'a>),
}

/// The slip up to which a fall from the end of a land meets the same, rad/s.
fn falls_alike_to(shifter: &Shifter, from: &State, end: &FallEnd<'_>) -> f64 {
    from.slip + shifter.same_fall(from, end, By::Slip, from.slip.max(1.0))
}

/// A fall that ends at full depth or at a flank which holds.
fn caught(shifter: &Shifter, end: &FallEnd<'_>) -> OutcomeBounds {
    let at = match end {
        FallEnd::Wall(at, wall) => shifter.guided(at, wall),
        FallEnd::Full(at) | FallEnd::Top(at) => *at,
    };
    let deep = at.x >= shifter.conditions.full_mm - SAME_MM;
    OutcomeBounds::last(if deep { Outcome::StraightIn } else { Outcome::HalfIn }, at.time)
}

#[expect(clippy::cast_possible_truncation, reason = "at most a turn in steps of 1e-8")]
fn key(at: &State) -> Key {
    (at.level, (at.u / SAME_END_RAD).round() as i64)
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
const fn float(number: usize) -> f64 {
    number as f64
}
