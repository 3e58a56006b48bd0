//! The chance of a shift over the speed difference, and the map behind it.

use crenel_words::{Message, Value, outcome as say};

use super::pair::PairAnalysis;
use super::shift::{Shares, ShiftAnalysis};
use super::shift_case::ratios;
use super::worked::Worked;
use crate::design::{Design, Need};
use crate::shift::{Outcome, OutcomeMap, Shifter, Step, phase_sense, straight_in_limit_rpm};
use crate::units::{Quantity, rad_per_s, rpm};

/// Everything that the outcome map of a design is worked out from.
#[derive(Clone, Debug)]
pub struct Chances {
    shifter: Shifter,
    /// Speed difference at the end of the map, rpm, without its sign.
    pub top_rpm: f64,
}

/// Speed differences at which the kind of shift changes, rpm, without sign.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Below this speed a land can stop the slip: `ω_1 = √(2·(μ·F·r + drag)·L/J)` of the widest land.
    pub lock_rpm: f64,
    /// Up to this speed a ring that rests on a face drops into the widest window: `ω_cap = b/τ(v₀ = 0)`.
    pub drop_in_rpm: f64,
    /// Up to this speed the widest window can be entered straight: `b/τ`.
    pub straight_in_rpm: f64,
}

impl Limits {
    /// The limits of a pair; `None` if no window is open.
    pub fn of(pair: &PairAnalysis) -> Option<Self> {
        let conditions = &pair.shift.as_ref()?.conditions;
        let (_, widest) = pair.passing.extremes()?;
        let land = pair.passing.widest_land();
        let rest_s = conditions.travel.seconds_from_rest(conditions.hold_mm);
        Some(Self {
            lock_rpm: rpm((2.0 * conditions.slip_deceleration() * land).sqrt()),
            drop_in_rpm: straight_in_limit_rpm(widest, rest_s),
            straight_in_rpm: straight_in_limit_rpm(widest, pair.travel_s),
        })
    }
}

impl Chances {
    /// The chances of a design; `None` if the rings jam or do not reach each other, or if nobody knows what
    /// rubbing depends on.
    pub fn of(worked: &Worked) -> Option<Self> {
        if worked.design.missing_of(&[Need::TipFriction, Need::Inertia]).is_some() {
            return None;
        }
        let pair = worked.pair.as_ref()?;
        let ShiftAnalysis { conditions, .. } = pair.shift.as_ref()?;
        let sense = phase_sense(pair.shift_case.slip_rpm);
        let shifter = Shifter::new(&pair.mesh, *conditions, sense);
        Some(Self { shifter, top_rpm: chance_top_rpm(worked) })
    }

    /// The outcomes of the first pass at a speed difference in rpm.
    pub fn first_pass(&self, slip_rpm: f64) -> Shares {
        Shares::of(&self.shifter, rad_per_s(slip_rpm.abs()))
    }

    /// An empty map, to be filled by [`next_row`](Self::next_row). If the rings repeat round the circle, each
    /// repeat gets a whole number of cells: any other number would show patterns that are not there (moiré).
    pub fn begin(&self, phases: usize, speeds: usize) -> OutcomeMap {
        let repeats = self.shifter.repeats();
        let fits = repeats <= 2 * phases;
        let phases = if fits { (phases / repeats).max(1) * repeats } else { phases };
        OutcomeMap::empty(phases, speeds, rad_per_s(self.top_rpm))
    }

    /// Works out one more row of a map. Returns whether there was one left.
    pub fn next_row(&self, map: &mut OutcomeMap) -> bool {
        map.next_row(&self.shifter)
    }

    /// The same chances, up to another speed difference in rpm.
    #[must_use]
    pub fn up_to(self, top_rpm: f64) -> Self {
        Self { top_rpm, ..self }
    }

    /// The whole map.
    pub fn map(&self, phases: usize, speeds: usize) -> OutcomeMap {
        let mut map = self.begin(phases, speeds);
        while self.next_row(&mut map) {}
        map
    }
}

/// The shortest axis of speed differences, rpm.
const LEAST_TOP_RPM: f64 = 100.0;

/// Every shift of a design's gearbox whose speed difference is known, up first.
pub fn gear_steps(design: &Design) -> Vec<Step> {
    let steps = ratios(design).map(|ratios| ratios.steps()).unwrap_or_default();
    steps.into_iter().filter(|step| design.knows_step(*step)).collect()
}

/// A round speed difference for the end of the axis, rpm. It leaves room for the shift of the design, for the
/// steps of the gearbox, and for the limits unless they are far beyond both.
pub fn chance_top_rpm(worked: &Worked) -> f64 {
    let Some(pair) = &worked.pair else { return LEAST_TOP_RPM };
    let is_known = worked.design.missing(Need::Speed).is_none();
    let shift_case = if is_known { pair.shift_case.slip_rpm.abs() } else { 0.0 };
    let hardest = gear_steps(&worked.design).iter().map(|s| s.slip_rpm.abs()).fold(0.0, f64::max);
    let limits = Limits::of(pair);
    let lock = limits.map_or(0.0, |l| l.lock_rpm);
    let straight = limits.map_or(0.0, |l| l.straight_in_rpm);
    let near = 4.0 * shift_case.max(lock).max(LEAST_TOP_RPM);
    let wanted = [2.0 * shift_case, 1.5 * lock, 1.15 * hardest, (1.15 * straight).min(near)];
    round_up(wanted.into_iter().fold(LEAST_TOP_RPM, f64::max))
}

/// The next of 1, 1.5, 2, 3, 4, 5, 6, 8 times a power of ten.
fn round_up(value: f64) -> f64 {
    let mut decade = 1.0;
    while decade * 10.0 <= value {
        decade *= 10.0;
    }
    let steps = [1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];
    steps.into_iter().map(|step| step * decade).find(|step| *step >= value).unwrap_or(value)
}

/// The chances as a table.
#[derive(Clone, Debug, PartialEq)]
pub struct ChanceTable {
    /// Column headings.
    pub heads: Vec<Message>,
    /// Rows, the slowest first: a speed difference, then a share for each heading after the first.
    pub rows: Vec<Vec<Value>>,
}

/// The chances at about `rows` speed differences, evenly spread over those of the map.
pub fn chance_table(map: &OutcomeMap, rows: usize) -> ChanceTable {
    let mut heads = vec![say::speed_difference(), say::in_at_first_pass(), say::in_later_too()];
    heads.extend(Outcome::ALL.map(say::shift));
    let step = map.rows().div_ceil(rows.max(1)).max(1);
    let row = |at: usize| {
        let shares = map.shares(at);
        let end = Outcome::ALL.into_iter().zip(shares).filter(|(o, _)| o.is_in());
        let sums = [shares[0] + shares[1], end.map(|(_, share)| share).sum()];
        let speed = Value::Number(Quantity::Speed, rpm(map.slip(at)).round());
        std::iter::once(speed).chain(sums.into_iter().chain(shares).map(tenth_of_percent)).collect()
    };
    ChanceTable { heads, rows: (0..map.rows()).step_by(step).map(row).collect() }
}

fn tenth_of_percent(share: f64) -> Value {
    Value::Number(Quantity::Share, (share * 1000.0).round() / 1000.0)
}
