//! The course of an attempt, from event to event.

use std::f64::consts::TAU;
use std::sync::OnceLock;

use super::around::{Around, BlockId, Near};
use super::directed_block::DirectedBlock;
use super::lands::SAME_RAD;
use super::level::Level;
use super::state::{Descent, State};
use super::walls::Walls;
use super::ways::Way;
use super::{Attempt, Conditions, Ending, Leg, MOST_EVENTS, SAME_MM};
use crate::pair::{Block, Mesh};
use crate::shift::travel::Motion;

/// Times closer than this (s) are the same.
const SAME_S: f64 = 1e-12;

/// A pair of rings prepared for attempts in one direction of slip.
#[derive(Clone, Debug)]
pub struct Shifter {
    /// The levels, from the highest tops down.
    pub(in crate::shift) levels: Vec<Level>,
    /// Its blocks by their place on the circle, sorted when a fall first asks.
    around: OnceLock<Around>,
    /// The walls on the lands of each level.
    pub(super) walls: Vec<Walls>,
    /// The motions of falls from rest, as a shift starts, and at the speed of the drum, by their speeds, m/s.
    motions: [(f64, Motion); 3],
    /// The ways of falls from the start of a shift past every block, once a map asks for them.
    ways: OnceLock<Vec<Vec<Way>>>,
    /// The descents from the start of a shift to each level.
    descents: Vec<Descent>,
    pub(in crate::shift) conditions: Conditions,
    /// +1 if the phase of ring A grows, −1 if it decreases.
    pub(in crate::shift) direction: f64,
}

impl PartialEq for Shifter {
    /// What is found as it is asked for follows from the rest, and so do the descents.
    fn eq(&self, other: &Self) -> bool {
        let Self {
            levels,
            around: _,
            walls: _,
            motions: _,
            ways: _,
            descents: _,
            conditions,
            direction,
        } = self;
        (levels, conditions, direction) == (&other.levels, &other.conditions, &other.direction)
    }
}

#[cfg(test)]
thread_local! {
    /// How many falls were searched for among all blocks.
    pub(in crate::shift) static SEARCHED: std::cell::Cell<usize> =
        const { std::cell::Cell::new(0) };
}

/// How a fall ends.
pub(in crate::shift) enum FallEnd<'a> {
    /// The ring meets a wall.
    Wall(State, &'a DirectedBlock),
    /// The ring lands on a top.
    Top(State),
    /// The ring reaches full depth.
    Full(State),
}

/// Falls that are known to meet one flank before anything else.
pub(in crate::shift) struct Onto<'a> {
    shifter: &'a Shifter,
    wall: &'a DirectedBlock,
    /// The overlap at which they come level with it, mm, if they begin above, and their way there.
    descent: Option<(f64, Descent)>,
    way: Way,
}

impl<'a> Onto<'a> {
    /// The fall from a state.
    pub(in crate::shift) fn fall(&self, from: State) -> FallEnd<'a> {
        let begins = self.descent.map_or(from, |(x, descent)| from.descended(x, descent));
        let met = self.way.meets(&begins);
        met.map_or_else(|| self.shifter.fall(from), |at| FallEnd::Wall(at, self.wall))
    }
}

/// What ends a fall, whatever its slip and its place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::shift) enum Met {
    /// A wall: the level at which its block begins, and its index there.
    Wall { level: usize, block: usize },
    /// The top of a level.
    Top { level: usize },
    /// Full depth.
    Full,
}

impl Shifter {
    /// Prepares a mesh. `direction` is the sign of the slip, which is that of the change of phase of ring A.
    pub fn new(mesh: &Mesh, conditions: Conditions, direction: f64) -> Self {
        let in_play = |b: &&Block| b.starts_mm < conditions.full_mm - SAME_MM;
        let direction = if direction < 0.0 { -1.0 } else { 1.0 };
        let in_play = mesh.blocks.iter().filter(in_play).collect();
        let levels = Level::sorted(in_play, direction, conditions.full_mm);
        let travel = &conditions.travel;
        let speeds = [0.0, travel.start_speed_m_per_s, travel.drum_speed_m_per_s];
        let motions = speeds.map(|speed| (speed, Motion::of(travel, speed)));
        let [_, (_, from_start), _] = &motions;
        let descents = levels.iter().map(|level| Descent::by(from_start, level.depth_mm)).collect();
        let walls = levels.iter().map(Walls::of).collect();
        let (around, ways) = (OnceLock::new(), OnceLock::new());
        Self { levels, around, walls, motions, ways, descents, conditions, direction }
    }

    /// The number of equal parts that the rings repeat in one turn.
    pub fn repeats(&self) -> usize {
        let count = self.levels.first().map_or(1, |level| level.blocks.len());
        let all = |times: &usize| self.levels.iter().all(|level| level.repeats(*times));
        (2..=count).rev().filter(|times| count.is_multiple_of(*times)).find(all).unwrap_or(1)
    }

    /// One shift from a phase, at a slip in rad/s (its size; the direction is the shifter's).
    pub fn attempt(&self, phase: f64, slip: f64) -> Attempt {
        Run::new(self).follow(phase, slip, Until::TheEnd)
    }

    /// The same shift with its path recorded, leg by leg.
    pub fn trace(&self, phase: f64, slip: f64) -> Attempt {
        Run::recording(self).follow(phase, slip, Until::TheEnd)
    }

    /// The same shift given up at its first strike: the first pass.
    pub fn first_pass(&self, phase: f64, slip: f64) -> Attempt {
        Run::new(self).follow(phase, slip, Until::FirstStrike)
    }

    pub(super) fn block(&self, near: &Near) -> &DirectedBlock {
        &self.levels[near.level].blocks[near.block]
    }
}

enum Next {
    Fall(State),
    Rub(State),
    End(State, Ending),
}

/// How far an attempt is followed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Until {
    TheEnd,
    FirstStrike,
}

/// An attempt in progress.
struct Run<'a> {
    shifter: &'a Shifter,
    rubbed: bool,
    strikes: u32,
    /// The path so far, if it is recorded.
    legs: Option<Vec<Leg>>,
}

impl<'a> Run<'a> {
    const fn new(shifter: &'a Shifter) -> Self {
        Self { shifter, rubbed: false, strikes: 0, legs: None }
    }

    const fn recording(shifter: &'a Shifter) -> Self {
        Self { shifter, rubbed: false, strikes: 0, legs: Some(Vec::new()) }
    }

    fn follow(mut self, phase: f64, slip: f64, until: Until) -> Attempt {
        let Shifter { levels, conditions, direction, .. } = self.shifter;
        let v = conditions.travel.start_speed_m_per_s;
        let u = direction * phase;
        let mut state = State { u, x: 0.0, level: 0, v, slip: slip.abs(), time: 0.0 };
        let mut falling = levels.first().is_none_or(|top| top.lands.under(u).is_none());
        for _ in 0..MOST_EVENTS {
            let given_up = until == Until::FirstStrike && self.strikes > 0;
            if state.time > conditions.allowed_s || given_up {
                break;
            }
            let next = if falling { self.fall(state) } else { self.rub(state) };
            match next {
                Next::Fall(at) => (state, falling) = (at, true),
                Next::Rub(at) => (state, falling) = (at, false),
                Next::End(at, ending) => return self.end(at, ending),
            }
        }
        self.end(state, Ending::Ratcheting)
    }

    fn end(self, at: State, ending: Ending) -> Attempt {
        let direction = self.shifter.direction;
        let late = at.time > self.shifter.conditions.allowed_s;
        let ending = if late { Ending::Ratcheting } else { ending };
        Attempt {
            ending,
            strikes: self.strikes,
            time_s: at.time,
            rests_at: (direction * at.u, at.x),
            slip_left: direction * at.slip,
            legs: self.legs.unwrap_or_default(),
        }
    }

    fn leg(&mut self, from: &State, to: &State) {
        if let Some(legs) = &mut self.legs {
            let d = self.shifter.direction;
            legs.push(Leg {
                start_s: from.time,
                lasts_s: to.time - from.time,
                phase: [d * from.u, d * to.u],
                overlap_mm: [from.x, to.x],
                speed_m_per_s: self.shifter.conditions.travel.motion_from(from.v).0,
                slip: [d * from.slip, d * to.slip],
            });
        }
    }

    fn inside(&self) -> Ending {
        if self.rubbed || self.strikes > 0 { Ending::AfterRubbing } else { Ending::StraightIn }
    }

    fn fall(&mut self, from: State) -> Next {
        let hold = self.shifter.conditions.hold_mm;
        match self.shifter.fall(from) {
            FallEnd::Full(at) => {
                self.leg(&from, &at);
                Next::End(at, self.inside())
            }
            FallEnd::Top(at) => {
                self.leg(&from, &at);
                Next::Rub(at)
            }
            FallEnd::Wall(at, wall) if at.x - wall.starts_mm >= hold - SAME_MM => {
                self.leg(&from, &at);
                self.caught(at, wall)
            }
            FallEnd::Wall(at, wall) => {
                self.leg(&from, &at);
                Next::Rub(self.strike(at, wall))
            }
        }
    }

    /// A flank holds, and the ring slides down along it to full depth or onto the top of a short dog.
    fn caught(&mut self, at: State, wall: &DirectedBlock) -> Next {
        let end = self.shifter.guided(&at, wall);
        // The flank has stopped the slip. From here on it only guides, past the bend of its chamfer.
        let bend = (wall.starts_mm + wall.near.edge_end_mm).clamp(at.x, end.x);
        let bent = State { u: along(&at, wall, bend), ..self.shifter.fallen(&at, bend) };
        let guided = |state: State| State { slip: 0.0, ..state };
        for (from, to) in [(at, bent), (bent, end)] {
            if to.x > from.x {
                self.leg(&guided(from), &guided(to));
            }
        }
        let deep = end.x >= self.shifter.conditions.full_mm - SAME_MM;
        Next::End(end, if deep { self.inside() } else { Ending::HalfIn })
    }

    /// A flank that is met at too little depth throws the ring back onto the tip.
    fn strike(&mut self, at: State, wall: &DirectedBlock) -> State {
        self.strikes += 1;
        self.shifter.thrown_back(&at, wall)
    }

    fn rub(&mut self, from: State) -> Next {
        self.rubbed = true;
        let shifter = self.shifter;
        let slip_deceleration = shifter.conditions.slip_deceleration();
        let Some(under) = shifter.land(&from) else {
            return Next::Fall(from);
        };
        let (land, wall) = (under.ahead, under.wall);
        let reach = wall.map_or(land, |(ahead, _)| ahead.min(land));
        let left = from.slip * from.slip - 2.0 * slip_deceleration * reach;
        if left <= 0.0 || reach >= TAU {
            if slip_deceleration <= 0.0 && from.slip > 0.0 {
                return Next::End(from, Ending::Ratcheting);
            }
            let slide = if from.slip > 0.0 {
                from.slip * from.slip / (2.0 * slip_deceleration)
            } else {
                0.0
            };
            let stopped = rubbed_for(&from, slide, 0.0, slip_deceleration);
            self.leg(&from, &stopped);
            let ending = if from.x > SAME_MM { Ending::HalfIn } else { Ending::Locked };
            return Next::End(stopped, ending);
        }
        let at = rubbed_for(&from, reach, left.sqrt(), slip_deceleration);
        self.leg(&from, &at);
        match wall {
            Some((_, wall)) => {
                if from.x - wall.starts_mm >= shifter.conditions.hold_mm - SAME_MM {
                    return Next::End(at, Ending::HalfIn);
                }
                Next::Rub(self.strike(at, wall))
            }
            None => Next::Fall(at),
        }
    }
}

/// The angle of a ring at an overlap, if it slides along a flank.
fn along(at: &State, wall: &DirectedBlock, x: f64) -> f64 {
    at.u + shortest(wall.to_near(at.u, x))
}

/// The shorter way to an angle ahead; negative if that is backwards.
pub(super) fn shortest(ahead: f64) -> f64 {
    if ahead > TAU / 2.0 { ahead - TAU } else { ahead }
}

/// How far ahead of a ring the tip of a flank begins; negative if the tip overhangs the ring.
pub(in crate::shift) fn to_tip(at: &State, wall: &DirectedBlock) -> f64 {
    shortest(wall.to_near(at.u, wall.starts_mm))
}

/// The state after rubbing over `angle` down to `slip`.
pub(in crate::shift) fn rubbed_for(
    from: &State,
    angle: f64,
    slip: f64,
    slip_deceleration: f64,
) -> State {
    if angle == 0.0 {
        return State { v: 0.0, slip, ..*from };
    }
    let mean = (from.slip + slip) / 2.0;
    // Without friction the slip is constant, and so is the time for the angle.
    let lasts =
        if slip_deceleration > 0.0 { (from.slip - slip) / slip_deceleration } else { angle / mean };
    State { u: from.u + angle, v: 0.0, slip, time: from.time + lasts, ..*from }
}

impl FallEnd<'_> {
    pub(in crate::shift) const fn state(&self) -> &State {
        match self {
            Self::Wall(at, _) | Self::Top(at) | Self::Full(at) => at,
        }
    }

    /// Whether this event comes before the one that the same fall meets at taller dogs.
    ///
    /// Flush flanks are met at the same time, to within rounding. The dogs hold if any of their flanks lies
    /// deep enough below its own tip, so the flank of the taller dogs decides for all.
    fn is_sooner(&self, than: &Self) -> bool {
        let (at, other) = (self.state(), than.state());
        at.time < other.time - SAME_S.max(SAME_RAD / at.slip)
    }
}

impl Shifter {
    /// The state of a ring on the tip of a flank that threw it back.
    pub(in crate::shift) fn thrown_back(&self, at: &State, wall: &DirectedBlock) -> State {
        let slip = at.slip * (1.0 - self.conditions.strike_loss);
        // A tapered tip edge lies a little further on than its flank.
        let u = at.u + to_tip(at, wall).max(0.0);
        let level = wall.level;
        State { u, x: self.levels[level].depth_mm, level, v: 0.0, slip, ..*at }
    }

    /// Where a ring ends that slides down along a flank which holds: at full depth or on the top of
    /// a short dog.
    pub(in crate::shift) fn guided(&self, at: &State, wall: &DirectedBlock) -> State {
        let mut below = self.levels.iter().filter(|level| level.depth_mm > at.x + SAME_MM);
        let top = below.find(|level| level.lands.are_beside(along(at, wall, level.depth_mm)));
        let x = top.map_or(self.conditions.full_mm, |level| level.depth_mm);
        State { u: along(at, wall, x), v: 0.0, ..self.fallen(at, x) }
    }

    /// Falls from a state over a window until the ring meets something.
    pub(in crate::shift) fn fall(&self, from: State) -> FallEnd<'_> {
        #[cfg(test)]
        SEARCHED.set(SEARCHED.get() + 1);
        let bottom = self.fallen(&from, self.conditions.full_mm);
        self.fall_among(&self.on_the_way(&from, bottom.u - from.u), from)
    }

    /// What a fall has met.
    pub(in crate::shift) fn met(&self, end: &FallEnd<'_>) -> Met {
        match end {
            FallEnd::Full(_) => Met::Full,
            FallEnd::Top(at) => Met::Top { level: at.level },
            FallEnd::Wall(_, wall) => {
                let level = wall.level;
                let mut blocks = self.levels[level].blocks.iter();
                let block = blocks.position(|block| block == *wall);
                block.map_or(Met::Full, |block| Met::Wall { level, block })
            }
        }
    }

    /// A fall of which is known what it meets before anything else.
    pub(in crate::shift) fn fall_again(&self, from: State, met: Met) -> FallEnd<'_> {
        match met {
            Met::Wall { level, block } => self.fall_onto(from, &self.levels[level].blocks[block]),
            Met::Top { level } => self.fall_on_top(&from, level),
            Met::Full => self.fall(from),
        }
    }

    /// A fall that is known to meet a flank before anything else.
    pub(in crate::shift) fn fall_onto<'a>(
        &'a self,
        from: State,
        wall: &'a DirectedBlock,
    ) -> FallEnd<'a> {
        let begins = self.level_with(&from, wall.level);
        let met = self.meets(&from, &begins, wall);
        met.map_or_else(|| self.fall(from), |at| FallEnd::Wall(at, wall))
    }

    /// Falls like one that is known to meet a flank before anything else: they differ in phase and slip alone.
    pub(in crate::shift) fn onto<'a>(&'a self, from: &State, wall: &'a DirectedBlock) -> Onto<'a> {
        let level = wall.level;
        let (motion, is_below) = (self.motion(from), level > from.level);
        let descent =
            is_below.then(|| (self.levels[level].depth_mm, self.descent_to(from, &motion, level)));
        let begins = self.level_with(from, level);
        let known = self.known_way(from, wall).copied();
        let way = known.unwrap_or_else(|| self.way(&begins, wall));
        Onto { shifter: self, wall, descent, way }
    }

    /// A fall that is known to land on a level before it meets anything else.
    pub(in crate::shift) fn fall_on_top(&self, from: &State, level: usize) -> FallEnd<'_> {
        let at = self.fallen_to(from, &self.motion(from), level);
        FallEnd::Top(State { v: 0.0, level, ..at })
    }

    /// Falls to what a ring meets first of some blocks, or to full depth.
    pub(super) fn fall_among(&self, blocks: &[BlockId], from: State) -> FallEnd<'_> {
        let mut first: Option<FallEnd<'_>> = None;
        let motion = self.motion(&from);
        for alike in blocks.chunk_by(|[a, _], [b, _]| a == b) {
            let at = alike[0][0];
            let level = &self.levels[at];
            let below = at > from.level;
            let begins = if below { self.fallen_to(&from, &motion, at) } else { from };
            if first.as_ref().is_some_and(|first| first.state().time <= begins.time) {
                break;
            }
            if below && level.lands.under(begins.u).is_some() {
                let top = self.fall_on_top(&from, at);
                return first.filter(|first| !top.is_sooner(first)).unwrap_or(top);
            }
            for block in alike.iter().map(|[_, index]| &level.blocks[*index]) {
                if first.as_ref().is_some_and(|first| begins.is_before(block, first.state().time)) {
                    continue;
                }
                let wall = self.meets(&from, &begins, block).map(|at| FallEnd::Wall(at, block));
                let is_first =
                    |wall: &FallEnd<'_>| first.as_ref().is_none_or(|f| wall.is_sooner(f));
                first = wall.filter(is_first).or(first);
            }
        }
        first.unwrap_or_else(|| {
            FallEnd::Full(self.cleared(self.fallen(&from, self.conditions.full_mm)))
        })
    }

    /// The blocks that a ring is on or meets further on.
    pub(super) fn ahead(&self, u: f64) -> impl Iterator<Item = Near> {
        self.around.get_or_init(|| Around::of(&self.levels)).ahead(u)
    }

    /// The blocks that a fall which turns by at most `sweep` can meet before it ends, from the highest level down.
    fn on_the_way(&self, from: &State, mut sweep: f64) -> Vec<BlockId> {
        // Seldom more are met.
        let mut near = Vec::with_capacity(8);
        let motion = self.motion(from);
        for one in self.ahead(from.u) {
            if one.begins > sweep {
                break;
            }
            let level = &self.levels[one.level];
            let block = &level.blocks[one.block];
            let ends = if one.level > from.level {
                let turned = self.fallen_to(from, &motion, one.level).u - from.u;
                block.stops_by(turned - one.begins)
            } else {
                block.met_by(-one.begins, from.x)
            };
            sweep = sweep.min(one.begins + ends);
            near.push(one.id());
        }
        near.sort_unstable();
        near.dedup();
        near
    }

    /// Moves the end of a fall clear of every chamfer and tapered flank that lies behind the ring and
    /// pushes it forward. The small slip that such a push adds is ignored.
    fn cleared(&self, at: State) -> State {
        let mut u = at.u;
        // Each push clears one flank at least; no more flanks can lie behind than there are.
        let walls = || self.levels.iter().flat_map(|level| &level.blocks);
        for _ in walls() {
            let on = self.ahead(u).take_while(|near| near.begins <= 0.0);
            let push = on.filter_map(|near| self.block(&near).to_far(u, at.x)).fold(0.0, f64::max);
            if push <= 1e-9 {
                break;
            }
            u += push;
        }
        State { u, ..at }
    }

    /// The state of a fall from `at` when it reaches an overlap.
    pub(in crate::shift) fn fallen(&self, at: &State, x: f64) -> State {
        self.fallen_by(at, &self.motion(at), x)
    }

    /// The same with the motion of the fall, where that is known.
    pub(super) fn fallen_by(&self, at: &State, motion: &Motion, x: f64) -> State {
        at.descended(x, Descent::by(motion, x - at.x))
    }

    /// The state of a fall from `at` when it comes level with a level below.
    pub(super) fn fallen_to(&self, at: &State, motion: &Motion, level: usize) -> State {
        at.descended(self.levels[level].depth_mm, self.descent_to(at, motion, level))
    }

    /// The way along the shaft of a fall from `at` to a level below.
    fn descent_to(&self, at: &State, motion: &Motion, level: usize) -> Descent {
        if at.x == 0.0 && at.v == self.conditions.travel.start_speed_m_per_s {
            return self.descents[level];
        }
        Descent::by(motion, self.levels[level].depth_mm - at.x)
    }

    /// The motion of a fall from a state.
    pub(super) fn motion(&self, from: &State) -> Motion {
        let known = self.motions.iter().find(|(v, _)| *v == from.v);
        known.map_or_else(|| Motion::of(&self.conditions.travel, from.v), |(_, motion)| *motion)
    }

    /// The state of a fall when it comes level with a level, unless it is below it already.
    pub(super) fn level_with(&self, from: &State, level: usize) -> State {
        if level > from.level { self.fallen_to(from, &self.motion(from), level) } else { *from }
    }

    /// The state in which a fall meets a wall on the way to full depth, with the state in which it comes level with
    /// the wall. `None` if it misses the wall.
    fn meets(&self, from: &State, begins: &State, wall: &DirectedBlock) -> Option<State> {
        match self.known_way(from, wall) {
            Some(way) => way.meets(begins),
            None => self.way(begins, wall).meets(begins),
        }
    }

    fn known_way(&self, from: &State, wall: &DirectedBlock) -> Option<&Way> {
        let known = if self.is_at_start(from) { self.ways.get() } else { None };
        known?.get(wall.level)?.get(wall.index)
    }

    /// Whether a fall is one from the start of a shift.
    fn is_at_start(&self, from: &State) -> bool {
        let starts = self.conditions.travel.start_speed_m_per_s;
        from.level == 0 && from.x == 0.0 && from.v == starts && from.time == 0.0
    }

    /// Works out the ways of all falls from the start of a shift, for as many of them as a map has.
    pub(in crate::shift) fn prepare(&self) {
        self.ways.get_or_init(|| self.ways_from_start());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::{EvenRing, PerFlank, Ring};
    use crate::shift::Drive;
    use crate::units::{Angle, Seeded};

    /// Leaning dogs with broken edges, no two alike.
    fn ring(random: &mut Seeded) -> Ring {
        let mut any = |from: f64, to: f64| from + random.share() * (to - from);
        let heights: Vec<f64> = (0..6).map(|_| any(0.3, 1.0)).collect();
        let (lean, edge) = ([any(-4.0, 6.0), any(-4.0, 6.0)], any(-0.4, 0.4).max(0.0));
        let even =
            EvenRing { heights: &heights, tip_width_deg: any(8.0, 26.0), ..EvenRing::default() };
        let mut ring = even.to_ring();
        for dog in &mut ring.dogs {
            dog.centre = dog.centre + Angle::from_degrees(any(0.0, 4.0));
            dog.back_cut = PerFlank { drive: lean[0], coast: lean[1] }.map(Angle::from_degrees);
            dog.edge_break_mm = edge;
        }
        ring
    }

    #[test]
    fn a_fall_meets_what_it_would_meet_first_of_all_blocks_and_again_what_it_met() {
        let mut random = Seeded::new(5);
        let mut walls = 0;
        for (pair, shifter) in shifters(4).into_iter().enumerate() {
            let all: Vec<_> = (0..shifter.levels.len())
                .flat_map(|level| {
                    (0..shifter.levels[level].blocks.len()).map(move |block| [level, block])
                })
                .collect();
            for _ in 0..200 {
                let from = start(&mut random);
                let from = State { u: 2.0 * from.u - TAU, ..from };
                let [met, of_all] = [shifter.fall(from), shifter.fall_among(&all, from)];
                let [a, b] =
                    [met.state(), of_all.state()].map(|at| (at.u, at.x, at.time, at.level));
                assert_eq!(a, b, "{pair}: {from:?}");
                let again = shifter.fall_again(from, shifter.met(&met));
                let again = again.state();
                assert_eq!(a, (again.u, again.x, again.time, again.level), "{pair}: {from:?}");
                walls += usize::from(matches!(met, FallEnd::Wall(..)));
            }
        }
        assert!((2000..10_000).contains(&walls), "{walls}");
    }

    /// The start of a fall from the tips, anywhere.
    fn start(random: &mut Seeded) -> State {
        let [u, v, slip] = [TAU, 0.3, 200.0].map(|most| random.share() * most);
        State { u, x: 0.0, level: 0, v, slip, time: 0.0 }
    }

    /// Pairs of rings, each ready for falls of one kind in one direction.
    fn shifters(seed: u64) -> Vec<Shifter> {
        let mut random = Seeded::new(seed);
        let pair = |pair: usize| {
            let [a, b] = [ring(&mut random), ring(&mut random)];
            let drive = [Drive::Force, Drive::Drum, Drive::Both][pair % 3];
            let direction = if pair.is_multiple_of(2) { 1.0 } else { -1.0 };
            let mesh = Mesh::new(&a, &b).expect("one band");
            Shifter::new(&mesh, Conditions::of_tests(drive), direction)
        };
        (0..60).map(pair).collect()
    }

    #[test]
    fn a_fall_a_little_further_on_than_those_alike_meets_one_of_the_blocks_beside_them() {
        let mut random = Seeded::new(6);
        let (mut alike, mut other) = (0, 0);
        for shifter in shifters(7) {
            for _ in 0..200 {
                let from = start(&mut random);
                let (u, first) = (from.u, shifter.fall(from));
                let lands = &shifter.levels[0].lands;
                if lands.under(u).is_some() {
                    continue;
                }
                let limit = lands.to_next(u);
                let (more, beside) = shifter.same_fall_beside(&from, &first, limit);
                let Some(beside) = beside else { continue };
                for past in [-1e-7, -1e-11, 0.0, 1e-11, 4e-11, 1e-8, 4e-7] {
                    let from = State { u: u + (more + past).max(0.0), ..from };
                    let [want, got] = [shifter.fall(from), shifter.fall_beside(from, &beside)];
                    let [a, b] = [&want, &got].map(|end| (end.state().u, end.state().x));
                    let [a, b] = [(a, shifter.met(&want)), (b, shifter.met(&got))];
                    assert_eq!(a, b, "{past}: {from:?}");
                    let is_alike = shifter.met(&want) == shifter.met(&first);
                    *if is_alike { &mut alike } else { &mut other } += 1;
                }
            }
        }
        assert!(alike > 10_000 && other > 10_000, "{alike} {other}");
    }

    #[test]
    fn the_wall_that_is_kept_for_a_land_is_the_one_that_is_searched_for() {
        let mut random = Seeded::new(8);
        let (mut walls, mut ends) = (0, 0);
        for shifter in shifters(9) {
            for _ in 0..50 {
                let u = random.share() * TAU;
                for (level, Level { depth_mm, .. }) in shifter.levels.iter().enumerate() {
                    let from = State { u, x: *depth_mm, level, v: 0.0, slip: 9.0, time: 0.0 };
                    let Some(under) = shifter.land(&from) else { continue };
                    assert_eq!(under.wall, shifter.wall(&from, under.ahead), "{from:?}");
                    *if under.wall.is_some() { &mut walls } else { &mut ends } += 1;
                }
            }
        }
        assert!(walls > 300 && ends > 5000, "{walls} {ends}");
    }
}
