//! What can end a piece: each falls below 0 then, and is looked for within a step.

use super::parts::Kind;
use super::system::{Contact, State, System, Vector, stiffness_about};
use super::taylor::{Polynomial, Series, slope, value};
use super::{JOINTS, Joint};

/// What ends a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum End {
    Parts,
    Crosses,
    Returns,
    Stops(i8),
    LeavesStop,
    /// A spring on its own has relaxed from its stop.
    Relaxes,
    Slips(i8),
    SlipOver,
}

/// Torque that holds nothing together, N·m.
const LEAST_NM: f64 = 1e-9;

/// Angle that is nothing, rad.
const LEAST_ANGLE: f64 = 1e-12;

/// Speed that is nothing, rad/s.
const LEAST_SPEED: f64 = 1e-9;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Quantity {
    Torque,
    Across,
    Slip,
    /// The twist of a spring that relaxes on its own.
    Left,
    /// That twist less the angle across.
    Gap,
}

/// `sign·quantity + offset`, of a joint.
#[derive(Clone, Copy, Debug)]
pub(super) struct Guard {
    pub(super) joint: usize,
    pub(super) end: End,
    quantity: Quantity,
    sign: f64,
    offset: f64,
}

/// A spring whose flanks are apart: its twist goes from where it is to where it would carry nothing.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Relaxing {
    to: f64,
    gone: f64,
    rate: f64,
}

impl Relaxing {
    pub(super) fn all(kinds: &[Kind; JOINTS], state: &State) -> [Self; JOINTS] {
        let mut all = [Self::default(); JOINTS];
        for joint in 0..JOINTS {
            let (Kind::Elastic(elastic), Contact::Apart { zone, .. }) =
                (kinds[joint], state.contacts[joint])
            else {
                continue;
            };
            let left = state.left[joint];
            let [stiffness, to] = stiffness_about(&elastic, zone);
            let damping = elastic.damping_nm_s_per_rad;
            all[joint] = if damping > 0.0 {
                Self { to, gone: left - to, rate: stiffness / damping }
            } else {
                Self { to: left, ..Self::default() }
            };
        }
        all
    }

    /// The twist at a time, rad, and how fast it changes, rad/s.
    pub(super) fn at(&self, time_s: f64) -> [f64; 2] {
        if self.gone == 0.0 {
            return [self.to, 0.0];
        }
        let rest = self.gone * libm::exp(-self.rate * time_s);
        [self.to + rest, -self.rate * rest]
    }
}

/// Everything that is looked at, at one time.
pub(super) struct Point {
    pub(super) vector: Vector,
    pub(super) torques: [f64; JOINTS],
    pub(super) changes: Vector,
    pub(super) torques_change: [f64; JOINTS],
    /// How fast the changes change.
    pub(super) bends: Vector,
    left: [[f64; 2]; JOINTS],
}

impl Point {
    pub(super) fn of(
        system: &System,
        vector: Vector,
        relaxing: &[Relaxing; JOINTS],
        time_s: f64,
    ) -> Self {
        let torques = system.torques(&vector, 1.0);
        let changes = system.change(&vector, &torques, 1.0);
        let torques_change = system.torques(&changes, 0.0);
        let bends = system.change(&changes, &torques_change, 0.0);
        let left = relaxing.map(|relaxing| relaxing.at(time_s));
        Self { vector, torques, changes, torques_change, bends, left }
    }
}

impl Guard {
    /// All that can end a piece with these contacts.
    pub(super) fn all(kinds: &[Kind; JOINTS], contacts: &[Contact; JOINTS]) -> Vec<Self> {
        let mut all = Vec::with_capacity(2 * JOINTS);
        for (joint, (kind, contact)) in kinds.iter().zip(contacts).enumerate() {
            let mut add = |end, quantity, sign, offset| {
                all.push(Self { joint, end, quantity, sign, offset });
            };
            match *kind {
                Kind::Rigid => {}
                Kind::Slips(most_nm) => slipping(most_nm, *contact, &mut add),
                Kind::Elastic(elastic) => {
                    flanks(elastic.lash, *contact, &mut add);
                    if let Some(stop) = elastic.stop {
                        stops(stop.travel, elastic.lash, *contact, &mut add);
                    }
                }
            }
        }
        all
    }

    /// Its value and how fast it changes.
    fn seen(&self, point: &Point) -> [f64; 2] {
        let joint = self.joint;
        let [left, relaxes] = point.left[joint];
        let (across, slip) = (point.vector.across(joint), point.vector.slip(joint));
        let [value, change] = match self.quantity {
            Quantity::Torque => [point.torques[joint], point.torques_change[joint]],
            Quantity::Across => [across, slip],
            Quantity::Slip => [slip, point.changes.slip(joint)],
            Quantity::Left => [left, relaxes],
            Quantity::Gap => [left - across, relaxes - slip],
        };
        [self.sign * value + self.offset, self.sign * change]
    }

    pub(super) fn is_past(&self, point: &Point) -> bool {
        self.seen(point)[0] < 0.0
    }

    /// Whether it may fall below 0 in a step between two points.
    pub(super) fn may_fall(&self, [here, there]: [&Point; 2], step_s: f64) -> bool {
        let [before, falls] = self.seen(here);
        let [after, rises] = self.seen(there);
        let dips = falls < 0.0 && rises > 0.0;
        after < 0.0 || dips && (before + falls * step_s < 0.0 || after - rises * step_s < 0.0)
    }

    /// When it falls below 0 in a step of a series, if it does.
    pub(super) fn falls(&self, step: &Step) -> Option<f64> {
        let (polynomial, relaxing) = self.course(step);
        let left = |time_s: f64| relaxing.map_or([0.0; 2], |r| r.at(step.begins_s + time_s));
        let at =
            |time_s: f64| self.sign * (value(&polynomial, time_s) + left(time_s)[0]) + self.offset;
        let rises = |time_s: f64| self.sign * (slope(&polynomial, time_s) + left(time_s)[1]);
        let mut high = step.lasts_s;
        if at(high) >= 0.0 {
            // It can only dip: where it is lowest.
            high = crossing(high, |time_s| -rises(time_s));
            if at(high) >= 0.0 {
                return None;
            }
        }
        Some(crossing(high, at))
    }

    fn course(&self, step: &Step) -> (Polynomial, Option<Relaxing>) {
        let (series, joint) = (step.series, self.joint);
        let relaxing = Some(step.relaxing[joint]);
        match self.quantity {
            Quantity::Torque => (series.torque(joint), None),
            Quantity::Across => (series.across(joint), None),
            Quantity::Slip => (series.slip(joint), None),
            Quantity::Left => (Polynomial::default(), relaxing),
            Quantity::Gap => (series.across(joint).map(|term| -term), relaxing),
        }
    }
}

/// A step in which something may happen.
pub(super) struct Step<'a> {
    pub(super) series: &'a Series,
    pub(super) relaxing: &'a [Relaxing; JOINTS],
    /// Time since springs began to relax, s.
    pub(super) begins_s: f64,
    pub(super) lasts_s: f64,
}

/// A crossing is known to this share of the time in which it is looked for.
const CLOSE: f64 = 1e-14;

/// Tries after which every third one, in the middle, has come so close.
const MOST_TRIES: u32 = 150;

/// The time up to `lasts_s` at which a value falls below 0 that does not at 0, s; `lasts_s`, if it never falls.
pub(super) fn crossing(lasts_s: f64, of: impl Fn(f64) -> f64) -> f64 {
    let close_s = CLOSE * lasts_s;
    let mut bracket = Bracket { low: [0.0, of(0.0)], high: [lasts_s, of(lasts_s)], fell: None };
    for tries in 1..=MOST_TRIES {
        let width_s = bracket.width_s();
        if width_s <= close_s {
            break;
        }
        let secant_s = bracket.secant_s().filter(|_| tries % 3 != 0);
        // An end that is the crossing but for rounding is gone past, so that the other comes near as well.
        let inside_s = secant_s.unwrap_or(0.5 * width_s).max(0.5 * close_s);
        let time_s = bracket.low[0] + inside_s.min(width_s - 0.5 * close_s);
        bracket.narrow(time_s, of(time_s));
    }
    bracket.high[0]
}

/// Two times, s, between which a value falls below 0, with the value at each.
struct Bracket {
    low: [f64; 2],
    high: [f64; 2],
    /// Whether the value was below 0 where it was last looked at.
    fell: Option<bool>,
}

impl Bracket {
    fn width_s(&self) -> f64 {
        self.high[0] - self.low[0]
    }

    /// Where the straight line between both ends is 0, s from the lower one.
    fn secant_s(&self) -> Option<f64> {
        let share = self.low[1] / (self.low[1] - self.high[1]);
        (0.0..=1.0).contains(&share).then(|| share * self.width_s())
    }

    /// Goes on with a time between; an end that is kept twice counts half from then on (the Illinois rule).
    fn narrow(&mut self, time_s: f64, value: f64) {
        let falls = value < 0.0;
        let [moved, kept] =
            if falls { [&mut self.high, &mut self.low] } else { [&mut self.low, &mut self.high] };
        *moved = [time_s, value];
        if self.fell == Some(falls) {
            kept[1] *= 0.5;
        }
        self.fell = Some(falls);
    }
}

fn slipping(most_nm: f64, contact: Contact, add: &mut impl FnMut(End, Quantity, f64, f64)) {
    match contact {
        Contact::Grips => {
            add(End::Slips(1), Quantity::Torque, -1.0, most_nm + LEAST_NM);
            add(End::Slips(-1), Quantity::Torque, 1.0, most_nm + LEAST_NM);
        }
        Contact::Slips { side } => {
            add(End::SlipOver, Quantity::Slip, f64::from(side), LEAST_SPEED);
        }
        Contact::Rigid | Contact::Touches { .. } | Contact::Apart { .. } => {}
    }
}

fn flanks(lash: f64, contact: Contact, add: &mut impl FnMut(End, Quantity, f64, f64)) {
    match contact {
        Contact::Touches { side, .. } if lash > 0.0 => {
            add(End::Parts, Quantity::Torque, f64::from(side), LEAST_NM);
        }
        Contact::Apart { side, .. } => {
            let sign = f64::from(side);
            let touching = sign * Contact::offset(side, lash);
            add(End::Returns, Quantity::Gap, sign, touching + LEAST_ANGLE);
            add(End::Crosses, Quantity::Gap, -sign, lash - touching + LEAST_ANGLE);
        }
        _ => {}
    }
}

fn stops(travel: f64, lash: f64, contact: Contact, add: &mut impl FnMut(End, Quantity, f64, f64)) {
    match contact {
        Contact::Touches { side, zone: 0 } => {
            let offset = Contact::offset(side, lash);
            add(End::Stops(1), Quantity::Across, -1.0, travel + offset + LEAST_ANGLE);
            add(End::Stops(-1), Quantity::Across, 1.0, travel - offset + LEAST_ANGLE);
        }
        Contact::Touches { side, zone } => {
            let (sign, offset) = (f64::from(zone), Contact::offset(side, lash));
            add(End::LeavesStop, Quantity::Across, sign, LEAST_ANGLE - travel - sign * offset);
        }
        Contact::Apart { zone, .. } if zone != 0 => {
            add(End::Relaxes, Quantity::Left, f64::from(zone), LEAST_ANGLE - travel);
        }
        _ => {}
    }
}

/// The joint of a place in the order.
pub(super) const fn joint(place: usize) -> Joint {
    Joint::ALL[place]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crossing_is_found_to_its_last_digits_in_few_tries() {
        type Course = fn(f64) -> f64;
        let courses: [(Course, f64, usize); 5] = [
            (|t| 0.3 - t, 0.3, 8),
            (|t| 1e-9 - 4e5 * t, 2.5e-15, 20),
            (|t| libm::exp(-40.0 * t) - 0.5, std::f64::consts::LN_2 / 40.0, 30),
            (|t| 0.125 - t * t * t, 0.5, 25),
            (|t| if t < 0.7 { 1.0 } else { -1e-9 }, 0.7, 150),
        ];
        for (course, want, most) in courses {
            let tries = std::cell::Cell::new(0);
            let found = crossing(1.0, |time_s| {
                tries.set(tries.get() + 1);
                course(time_s)
            });
            assert!((found - want).abs() < 2e-14, "{found} for {want}");
            assert!(tries.get() <= most, "{} tries for {want}", tries.get());
        }
    }

    #[test]
    fn what_never_falls_is_looked_for_up_to_the_end() {
        for lasts_s in [0.0, 1e-320, 1.0] {
            assert!((crossing(lasts_s, |_| 1.0) - lasts_s).abs() <= CLOSE * lasts_s);
        }
        assert!(crossing(1.0, |_| f64::NAN) >= 0.0);
    }
}
