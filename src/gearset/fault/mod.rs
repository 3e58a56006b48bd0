//! Which part of a gearbox is at fault, from what was read on its gears and forks.
//!
//! A fault of one gear (its shims, its track, its notch, its dogs) shifts readings of that gear alone, a bent or worn fork
//! those of both its gears, claw and detent those of all: that is what tells them apart, so it takes readings of more
//! than one gear. What is told is how probable each is, and what to read next where two are left.

mod condition;
mod kinds;
mod square;
mod weigh;

use condition::{Condition, ON_FORKS, ON_GEARS, ReadingKind};
use kinds::Over;
pub use kinds::{FAULTS, FaultKind, FaultPart};
use weigh::{Cause, Explanation, Taken, Weighed};

use super::GearsetAnalysis;
use crate::fields::{BoxPart, Slot};
use crate::units::sort_by_number;
use crenel_words::{Advice, Message, Value, gearset as say};

/// A part is said to be at fault if that is at least so probable: of 2000 sound gearboxes drawn at random none is blamed
/// then, and of those with a fault nine in ten are.
const BLAMED: f64 = 0.97;

/// And if it is off by at least this share of its limit: a size is known no better.
const PAST: f64 = 0.7;

/// Suspects less probable than this are not worth a line.
const WORTH_A_LINE: f64 = 0.005;

/// An explanation at least so probable is worth a reading that rules it out.
const WORTH_A_READING: f64 = 0.05;

/// A gearbox is said to be sound if that is at least so probable.
const SOUND: f64 = 0.5;

/// A reading so many standard deviations off what all others say is worth taking again.
const ODD: f64 = 4.0;

/// A part that may be at fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// The part.
    pub part: FaultPart,
    /// What is wrong with it, most probably.
    pub kind: &'static FaultKind,
    /// By how much, in the quantity of the kind.
    pub size: f64,
    /// Standard deviation of the size.
    pub deviation: f64,
    /// How probable it is that the part is at fault, alone or with another one.
    pub share: f64,
    /// The gears that it disturbs, from 0.
    pub gears: Vec<usize>,
    /// Whether the readings are enough to say so.
    pub is_blamed: bool,
    /// What is wrong, and the next thing to do.
    pub says: Advice,
}

/// A reading that tells the first two explanations apart.
#[derive(Clone, Debug, PartialEq)]
pub struct NextReading {
    /// Which reading.
    pub slot: Slot,
    /// The parts that the one and the other explanation blame.
    pub parts: [Vec<FaultPart>; 2],
    /// What each of them expects.
    pub expects: [f64; 2],
    /// How far apart these are, in standard deviations of what will be read.
    pub apart: f64,
    /// Whether it was taken already.
    pub is_again: bool,
}

impl NextReading {
    /// What to read, and what each explanation expects there.
    pub fn says(&self) -> Message {
        let names = |parts: &[FaultPart]| -> Vec<Value> {
            let sound = || vec![Value::Message(Box::new(say::no_fault()))];
            let named = |part: &FaultPart| Value::Message(Box::new(part.name()));
            if parts.is_empty() { sound() } else { parts.iter().map(named).collect() }
        };
        let quantity = self.slot.field().spec().quantity;
        let [one, other] = self.parts.each_ref().map(|parts| names(parts));
        let [first, second] = self.expects.map(|value| Value::Result(quantity, value));
        say::next_reading(self.slot.words(), one, first, other, second)
    }
}

/// What the readings of a gearbox say.
#[derive(Clone, Debug, PartialEq)]
pub struct FaultTrace {
    /// How many readings count.
    pub readings: usize,
    /// How probable it is that no part is at fault.
    pub sound: f64,
    /// The parts that may be at fault, the most probable first.
    pub suspects: Vec<Suspect>,
    /// What to read next; `None` where nothing would tell more.
    pub next: Option<NextReading>,
    /// A reading that fits nothing else, and by how many standard deviations: take it again.
    pub odd: Option<(Slot, f64)>,
}

impl FaultTrace {
    /// What else there is to say beside the suspects: that nothing is at fault, what to read next, and what to read
    /// again.
    pub fn says(&self) -> Vec<Message> {
        let sound = (self.sound >= SOUND).then(say::no_part_at_fault);
        let next = self.next.as_ref().map(NextReading::says);
        let odd = self.odd.map(|(slot, _)| say::odd_reading(slot.words()));
        [sound, next, odd].into_iter().flatten().collect()
    }
}

/// A reading that a gearbox can have.
struct Reading {
    slot: Slot,
    kind: &'static ReadingKind,
    /// The gear or fork of the drum.
    at: usize,
    taken: Option<f64>,
}

/// A fault that may be there, before its size is known.
struct Candidate {
    kind: &'static FaultKind,
    /// The gear, fork or shaft of the drum.
    at: usize,
    part: FaultPart,
    /// The gear, fork or shaft of the gearbox.
    number: usize,
}

/// What the readings of a gearbox say; `None` if there are none.
pub fn faults(analysis: &GearsetAnalysis) -> Option<FaultTrace> {
    let given = Condition::of(analysis);
    let readings = readings(analysis);
    let expected: Vec<Option<f64>> =
        readings.iter().map(|reading| (reading.kind.expected)(&given, reading.at)).collect();
    let off =
        |(at, reading): (usize, &Reading)| Some(Taken { at, off: reading.taken? - expected[at]? });
    let taken: Vec<Taken> = readings.iter().enumerate().filter_map(off).collect();
    let sigmas: Vec<f64> = readings.iter().map(|reading| reading.kind.sigma).collect();
    let candidates = candidates(analysis, &given);
    let traced = Traced { given, readings, expected, candidates };
    // A first look, at faults as large as their limits, tells about how large each would have to be.
    let first = traced.causes(&vec![None; traced.candidates.len()]);
    let sizes = Weighed::of(&first, &sigmas, &taken)?.sizes();
    let causes = traced.causes(&sizes);
    let weighed = Weighed::of(&causes, &sigmas, &taken)?;
    Some(traced.told(analysis, &weighed, taken.len()))
}

fn readings(analysis: &GearsetAnalysis) -> Vec<Reading> {
    let set = &analysis.gearset;
    let of = |part: BoxPart, at: usize, kind: &'static ReadingKind| Reading {
        slot: Slot::Box(part, kind.id),
        kind,
        at,
        taken: set.number(part, kind.id).filter(|value| value.is_finite()),
    };
    let gears = analysis.on_drum.iter().enumerate();
    let gears = gears.flat_map(|(at, gear)| {
        ON_GEARS.iter().map(move |kind| (BoxPart::SeenGear(*gear), at, kind))
    });
    let forks = analysis.forks_on_drum.iter().enumerate();
    let forks = forks.flat_map(|(at, fork)| {
        ON_FORKS.iter().map(move |kind| (BoxPart::SeenFork(*fork), at, kind))
    });
    gears.chain(forks).map(|(part, at, kind)| of(part, at, kind)).collect()
}

fn candidates(analysis: &GearsetAnalysis, given: &Condition) -> Vec<Candidate> {
    let shafts: Vec<usize> = (0..given.drum.shafts_mm.len()).collect();
    let of = |kind: &'static FaultKind| {
        let numbers: &[usize] = match kind.over {
            Over::Gears => &analysis.on_drum,
            Over::Forks => &analysis.forks_on_drum,
            Over::Shafts => &shafts,
            Over::All => &[0],
        };
        let numbers = numbers.iter().enumerate();
        numbers.map(move |(at, number)| Candidate {
            kind,
            at,
            part: (kind.part)(*number),
            number: *number,
        })
    };
    FAULTS.iter().flat_map(of).collect::<Vec<_>>()
}

/// Everything that can be read and everything that can be wrong.
struct Traced {
    given: Condition,
    readings: Vec<Reading>,
    expected: Vec<Option<f64>>,
    candidates: Vec<Candidate>,
}

impl Traced {
    /// What each fault does to the readings, taken at about its size: most only bend where a track does.
    fn causes(&self, sizes: &[Option<f64>]) -> Vec<Cause> {
        let parts: Vec<FaultPart> =
            self.candidates.iter().map(|candidate| candidate.part).collect();
        let cause = |(candidate, size): (&Candidate, &Option<f64>)| {
            let limit = candidate.kind.limit;
            let size = size.unwrap_or(limit);
            let least = if candidate.kind.is_wear { 0.5 * limit } else { -4.0 * limit };
            let size = size.clamp(least, 4.0 * limit);
            let size = if size.abs() < 0.5 * limit { (0.5 * limit).copysign(size) } else { size };
            Cause {
                part: parts.iter().position(|part| *part == candidate.part).unwrap_or_default(),
                ways: parts.iter().filter(|part| **part == candidate.part).count(),
                limit,
                is_wear: candidate.kind.is_wear,
                shifts: self.shifts(candidate, size),
            }
        };
        self.candidates.iter().zip(sizes).map(cause).collect()
    }

    fn shifts(&self, candidate: &Candidate, size: f64) -> Vec<f64> {
        let mut faulty = self.given.clone();
        if !(candidate.kind.put)(&mut faulty, candidate.at, size) {
            return vec![0.0; self.readings.len()];
        }
        let shift = |(reading, expected): (&Reading, &Option<f64>)| {
            let then = (reading.kind.expected)(&faulty, reading.at);
            then.zip(*expected).map_or(0.0, |(then, now)| (then - now) / size)
        };
        self.readings.iter().zip(&self.expected).map(shift).collect()
    }

    fn told(&self, analysis: &GearsetAnalysis, weighed: &Weighed, readings: usize) -> FaultTrace {
        let explanations = weighed.explanations();
        let none = explanations.iter().find(|one| one.causes.is_empty());
        let odd = weighed.oddest(&explanations[0]).filter(|(_, by)| by.abs() > ODD);
        FaultTrace {
            readings,
            sound: none.map_or(0.0, |one| one.share),
            suspects: self.suspects(analysis, &explanations),
            next: self.next(weighed, &explanations),
            odd: odd.map(|(at, by)| (self.readings[at].slot, by)),
        }
    }

    fn suspects(&self, analysis: &GearsetAnalysis, explanations: &[Explanation]) -> Vec<Suspect> {
        let mut parts: Vec<FaultPart> = self.candidates.iter().map(|own| own.part).collect();
        parts.sort_unstable();
        parts.dedup();
        let in_part = |part: FaultPart, one: &Explanation| {
            one.causes.iter().copied().find(|(at, ..)| self.candidates[*at].part == part)
        };
        let suspect = |part: FaultPart| {
            let with = || explanations.iter().filter(|one| in_part(part, one).is_some());
            let share: f64 = with().map(|one| one.share).sum();
            let (at, size, deviation) = in_part(part, with().next()?)?;
            let Candidate { kind, number, .. } = self.candidates[at];
            let by = Value::Result(kind.quantity, size.abs());
            Some(Suspect {
                part,
                kind,
                size,
                deviation,
                share,
                gears: part.gears(analysis),
                is_blamed: share >= BLAMED && size.abs() >= PAST * kind.limit,
                says: (kind.says)(number, size, by),
            })
        };
        let mut suspects: Vec<Suspect> = parts.into_iter().filter_map(suspect).collect();
        suspects.retain(|suspect| suspect.share >= WORTH_A_LINE);
        sort_by_number(&mut suspects, |suspect| -suspect.share);
        suspects
    }

    fn parts_of(&self, explanation: &Explanation) -> Vec<FaultPart> {
        let mut parts: Vec<FaultPart> =
            explanation.causes.iter().map(|(at, ..)| self.candidates[*at].part).collect();
        parts.sort_unstable();
        parts
    }

    /// The reading by which the first explanation and the next one that blames other parts are the furthest apart.
    fn next(&self, weighed: &Weighed, explanations: &[Explanation]) -> Option<NextReading> {
        let first = explanations.first()?;
        let other = explanations.iter().find(|one| self.parts_of(one) != self.parts_of(first));
        let other = other.filter(|one| one.share >= WORTH_A_READING)?;
        let next = |at: usize| {
            let expected = self.expected[at]?;
            let [[one, deviation], [two, _]] = [first, other].map(|own| weighed.foretold(own, at));
            let reading = &self.readings[at];
            Some(NextReading {
                slot: reading.slot,
                parts: [first, other].map(|own| self.parts_of(own)),
                expects: [one, two].map(|off| expected + off),
                apart: (one - two).abs() / deviation,
                is_again: reading.taken.is_some(),
            })
        };
        let all = (0..self.readings.len()).filter_map(next);
        let best =
            all.filter(|next| next.apart.is_finite()).max_by(|a, b| a.apart.total_cmp(&b.apart));
        best.filter(|next| next.apart > 1.0)
    }
}

#[cfg(test)]
mod tests;
