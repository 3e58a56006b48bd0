//! The searches on one pair of rings.

use super::super::goal::{Goal, shift_rpm};
use super::super::progress::Steps;
use super::super::step::Steps as ShopSteps;
use super::dog::{Most, Room};
use super::plan::DogCuts;
use super::rules::{Rules, kinds};
use super::walk::{Solution, Task, Walk};
use super::window::Layer;
use crate::analysis::Analysis;
use crate::design::SettingField;
use crate::pair::Mesh;
use crate::ring::Side;
use crate::units::{Angle, Seeded, rad_per_s, sort_by_number};

/// Work of each kind of search for the first look at every place, and for the walks from the best of them, in
/// units of [`Walk::effort`].
const LOOK: usize = 500_000;
const WALK: usize = 1_500_000;

/// So many of the best places are walked from in turn, each time with the same work in all: the better a cut is, the
/// longer the walk from it.
const WALKED: [usize; 3] = [12, 4, 1];

/// Reference heights of a ring that are tried, at most.
const REFERENCES: usize = 3;

/// What is known of a pair of rings for all searches.
pub(in super::super) struct Ground<'a> {
    now: &'a Analysis,
    mesh: &'a Mesh,
    rooms: Vec<Room<'a>>,
    count_a: usize,
    /// Lash at most, mm of arc.
    most_lash_mm: Option<f64>,
}

impl<'a> Ground<'a> {
    /// `None` if the rings do not meet.
    pub(in super::super) fn of(now: &'a Analysis, most_lash: Option<Angle>) -> Option<Self> {
        let mesh = &now.pair.as_ref()?.mesh;
        let room = |side| move |dog| Room::of(now, side, dog, &mesh.contact);
        let rooms = |side: Side| now.ring(side).dogs.iter().map(room(side));
        let rooms = Side::BOTH.into_iter().flat_map(rooms).collect();
        let most_lash_mm = most_lash.map(|most| most.radians() * mesh.contact.mean_mm());
        Some(Self { now, mesh, rooms, count_a: now.ring(Side::A).dogs.len(), most_lash_mm })
    }

    /// Cuts that reach a goal, for each kind of search a list with the lightest first.
    pub(in super::super) async fn cuts(
        &self,
        goal: Goal,
        wanted: f64,
        shop: ShopSteps,
        holds: bool,
        steps: &Steps,
    ) -> Vec<Vec<DogCuts>> {
        let Some(width_mm) = self.width_mm(goal, wanted) else { return Vec::new() };
        let kinds = kinds(shop, holds, goal == Goal::Window);
        steps.expect(kinds.len());
        let mut lightest: Vec<Solution> = Vec::new();
        let mut lists = Vec::new();
        for rules in kinds {
            // A cut that keeps stricter rules too is the lightest under them as well.
            if !lightest.iter().any(|one| self.keeps(one, &rules)) {
                let found = self.solutions(goal, width_mm, rules, steps).await;
                lists.push(found.iter().map(|one| DogCuts::of(&self.rooms, one)).collect());
                lightest.extend(found.into_iter().next());
            }
            steps.tried().await;
        }
        lists
    }

    /// Whether a cut keeps the rules.
    fn keeps(&self, solution: &Solution, rules: &Rules) -> bool {
        self.rooms.iter().zip(&solution.cuts).all(|(room, cuts)| room.keeps(cuts, rules))
    }

    /// The width of the window that a goal needs, mm of arc; `None` if no window is so wide.
    fn width_mm(&self, goal: Goal, wanted: f64) -> Option<f64> {
        let width = match goal {
            Goal::Lash => wanted.to_radians(),
            Goal::Window => wanted / 1000.0 * rad_per_s(shift_rpm(&self.now.design)).abs(),
        };
        (width < std::f64::consts::TAU).then(|| width * self.mesh.contact.mean_mm() + 1e-7)
    }

    async fn solutions(
        &self,
        goal: Goal,
        width_mm: f64,
        rules: Rules,
        steps: &Steps,
    ) -> Vec<Solution> {
        let mut random = Seeded::new(1);
        let hold = self.now.design.setting.get(SettingField::HoldDepth);
        let heights = self.reference_heights(rules);
        let mut seen: Vec<(usize, Solution)> = Vec::new();
        let references: Vec<_> = heights.iter().map(|tall| self.reference(goal, *tall)).collect();
        let most: Vec<_> = self.rooms.iter().map(|room| Most::of(room, &rules)).collect();
        let task = |at: usize| {
            let (low_mm, layer, depth) = &references[at];
            let phase = self.now.phase().radians() * self.mesh.contact.mean_mm();
            let ceiling = self.most_lash_mm.map(|most| (depth, phase, most));
            let held = (goal == Goal::Lash).then(|| (phase, self.outside_mm()));
            let rooms = &self.rooms;
            let (edges_mm, edges_now_mm, most) = (hold, self.edges_now_mm(), &most);
            Task {
                rooms,
                most,
                low_mm,
                layer,
                width_mm,
                rules,
                edges_mm,
                edges_now_mm,
                held,
                ceiling,
            }
        };
        let tasks: Vec<_> = (0..references.len()).map(task).collect();
        for (at, task) in tasks.iter().enumerate() {
            let lightest = seen.iter().map(|(_, one)| one.cost_g).fold(f64::INFINITY, f64::min);
            if task.least_g() >= lightest {
                continue;
            }
            let starts = self.starts(task, goal);
            let effort = Walk::new(task, 0.0).effort();
            // The tallest dogs keep their height in most of the lightest cuts.
            let share = if at == 0 { 2 } else { 2 * (tasks.len() - 1) };
            let most = LOOK / share / effort;
            let stride = starts.len().div_ceil(most.max(1)).max(1);
            for start in starts.into_iter().step_by(stride) {
                let mut walk = Walk::new(task, start);
                let found = (0..2).filter_map(|_| walk.first(&mut random));
                let best = found.reduce(|a, b| if b.cost_g < a.cost_g { b } else { a });
                seen.extend(best.map(|best| (at, best)));
                steps.pause().await;
            }
        }
        for walked in WALKED {
            lightest_first(&mut seen);
            let walked = seen.len().min(walked);
            for (at, solution) in &mut seen[..walked] {
                let mut walk = Walk::from(&tasks[*at], solution);
                let rounds = WALK / WALKED.len() / walked / walk.effort();
                walk.improve(solution, rounds, &mut random);
                steps.pause().await;
            }
        }
        lightest_first(&mut seen);
        seen.into_iter().map(|(_, one)| one).collect()
    }

    /// Where the window can begin.
    fn starts(&self, task: &Task, goal: Goal) -> Vec<f64> {
        let mut starts = task.layer.starts(task.width_mm, 0.0);
        if goal == Goal::Window && task.rules.eases {
            for eased_mm in self.eased_mm(task) {
                starts.extend(task.layer.starts(task.width_mm, eased_mm));
            }
            starts.sort_by(f64::total_cmp);
            starts.dedup_by(|a, b| *a - *b < 1e-6);
        }
        // Half way between two places, what is missing is shared by both ends of the window.
        let halves: Vec<_> = starts.windows(2).map(|two| f64::midpoint(two[0], two[1])).collect();
        starts.extend(halves);
        starts.retain(|start| task.may_start(*start));
        starts
    }

    /// How far edge breaks can open a window, mm: as large as they may be on both rings together, and for certain
    /// where one ring alone gets them.
    fn eased_mm(&self, task: &Task<'_>) -> [f64; 3] {
        let [a, b] = task.edges_now_mm;
        let free_mm = task.edges_mm - a - b;
        let alone = |side: Side| {
            let of_side = self.rooms.iter().filter(|room| room.side == side);
            let eased = of_side.map(|room| {
                let mut cuts = room.uncut();
                let most_mm = task.edges_now_mm[side as usize] + free_mm;
                room.ease(&mut cuts, task.edges_mm, most_mm, &task.rules);
                cuts.eased_mm
            });
            eased.fold(0.0, f64::max)
        };
        [task.edges_mm, alone(Side::A), alone(Side::B)]
    }

    /// The largest edge break of each ring.
    fn edges_now_mm(&self) -> [f64; 2] {
        Side::BOTH.map(|side| {
            let rooms = self.rooms.iter().filter(|room| room.side == side);
            rooms.map(|room| room.edge_mm).fold(0.0, f64::max)
        })
    }

    /// How far the phase lies outside the window that is nearest to it at full depth, mm of arc.
    fn outside_mm(&self) -> f64 {
        let held = self.now.pair.as_ref().and_then(|pair| pair.held);
        let outside = held.map_or(Angle::FULL, |held| held.distance(self.now.phase()));
        outside.radians() * self.mesh.contact.mean_mm()
    }

    /// The heights that the tallest dogs of both rings can have after the cut.
    fn reference_heights(&self, rules: Rules) -> Vec<[f64; 2]> {
        let of = |side: Side| {
            let dogs = self.now.ring(side).dogs.iter();
            let mut heights: Vec<_> = dogs.map(|dog| dog.height_mm).collect();
            sort_by_number(&mut heights, |height| -height);
            heights.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
            heights.truncate(if rules.lowers { REFERENCES } else { 1 });
            heights
        };
        let (a, b) = (of(Side::A), of(Side::B));
        a.iter().flat_map(|a| b.iter().map(|b| [*a, *b])).collect()
    }

    /// How low each dog is below its reference, the pairs that the goal is judged by, and those at full depth.
    fn reference(&self, goal: Goal, tall_mm: [f64; 2]) -> (Vec<f64>, Layer, Layer) {
        let now = self.now;
        let low = self.rooms.iter().map(|room| tall_mm[room.side as usize] - room.height_mm);
        let tallest = Side::BOTH.map(|side| now.ring(side).tallest_mm());
        let dropped = tallest[0] - tall_mm[0] + tallest[1] - tall_mm[1];
        let depth = (now.overlap_mm() - dropped).min(tall_mm[0]).min(tall_mm[1]);
        let at_depth = Layer::at_depth(self.mesh, self.count_a, depth, dropped);
        let layer = match goal {
            Goal::Lash => at_depth.clone(),
            Goal::Window => {
                let hold = now.design.setting.get(SettingField::HoldDepth);
                Layer::of_tips(self.mesh, self.count_a, hold)
            }
        };
        (low.collect(), layer, at_depth)
    }
}

/// Sorts cuts by their metal, and leaves one of those that weigh the same: they are the same cut at windows side by
/// side.
fn lightest_first(seen: &mut Vec<(usize, Solution)>) {
    sort_by_number(seen, |(_, one)| one.cost_g);
    seen.dedup_by(|(_, a), (_, b)| (a.cost_g - b.cost_g).abs() < 1e-9);
}
