//! The search: everything is cut as far as it may be, then each size is given back as far as the window allows.
//!
//! The order in which sizes are given back decides which cut is left. The search tries many orders, the dearest
//! metal first more often than not. From the best cut it goes on: it opens some sizes again, or moves the
//! window, and keeps what is lighter.

use super::dog::{Cuts, Most, Room};
use super::rules::Rules;
use super::window::{Layer, Need};
use crate::ring::{FlankSide, PerFlank, Side};
use crate::units::{Seeded, sort_by_number};

/// Lash above a ceiling costs so many g for each mm of arc, more than any ring weighs.
const OVER_CEILING_G: f64 = 1e6;

/// How often the edges of all dogs are opened again.
const ALL_EDGES: f64 = 0.3;

/// Logarithm of the random factor, at most, on the price by which sizes are ordered: up to eight times the price, and
/// down to an eighth.
const DISORDER: f64 = 3.0 * std::f64::consts::LN_2;

/// One window on one pair of rings, with the rules of a search.
pub(super) struct Task<'a> {
    pub(super) rooms: &'a [Room<'a>],
    /// How far each dog is cut at most.
    pub(super) most: &'a [Most],
    /// How much lower than the reference height of its ring each dog is; negative for one that is higher, mm.
    pub(super) low_mm: &'a [f64],
    pub(super) layer: &'a Layer,
    pub(super) width_mm: f64,
    pub(super) rules: Rules,
    /// Edge breaks of both rings together at most, mm.
    pub(super) edges_mm: f64,
    /// The largest edge break that each ring has now, mm.
    pub(super) edges_now_mm: [f64; 2],
    /// The phase that the window has to hold, and how far it may lie outside, mm of arc.
    pub(super) held: Option<(f64, f64)>,
    /// The window at full depth that must not become wider than this, with the phase it holds, mm of arc.
    pub(super) ceiling: Option<(&'a Layer, f64, f64)>,
}

impl Task<'_> {
    /// About the metal that dogs above the reference heights lose in any case, g.
    pub(super) fn least_g(&self) -> f64 {
        let over = self.rooms.iter().zip(self.low_mm);
        over.map(|(room, low)| room.tip_g * (-low).max(0.0)).sum()
    }

    /// Whether a window that begins there holds the phase that it has to.
    pub(super) fn may_start(&self, start_mm: f64) -> bool {
        self.held.is_none_or(|(phase, outside)| {
            let from_start = self.layer.ahead_mm(start_mm - outside, phase);
            from_start <= self.width_mm + 2.0 * outside
        })
    }
}

/// A cut that opens the window, in sizes that a shop works to.
#[derive(Clone, Debug)]
pub(super) struct Solution {
    pub(super) start_mm: f64,
    pub(super) cuts: Vec<Cuts>,
    pub(super) cost_g: f64,
}

/// One size of a dog.
#[derive(Clone, Copy, Debug)]
enum Size {
    Tip,
    Flank(FlankSide),
    Edge,
}

const SIZES: [Size; 4] =
    [Size::Tip, Size::Flank(FlankSide::Drive), Size::Flank(FlankSide::Coast), Size::Edge];

/// A walk from cut to cut at one window.
pub(super) struct Walk<'a> {
    task: &'a Task<'a>,
    start_mm: f64,
    needs: Vec<Need>,
    /// About what each size of each dog costs by the mm that it opens, as a logarithm.
    prices: Vec<[f64; 4]>,
    /// The needs that each dog is part of.
    touching: Vec<Vec<usize>>,
    cuts: Vec<Cuts>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(task: &'a Task<'a>, start_mm: f64) -> Self {
        let cuts = task.rooms.iter().map(Room::uncut).collect();
        let prices = task.rooms.iter().map(|room| prices(room, task.layer.clear_mm)).collect();
        let (needs, touching) = (Vec::new(), Vec::new());
        let mut walk = Self { task, start_mm, needs, prices, touching, cuts };
        walk.move_to(start_mm);
        walk
    }

    /// Goes on from a cut that was found.
    pub(super) fn from(task: &'a Task<'a>, solution: &Solution) -> Self {
        Self { cuts: solution.cuts.clone(), ..Self::new(task, solution.start_mm) }
    }

    /// How much work one try is, about.
    pub(super) fn effort(&self) -> usize {
        40 + 8 * self.task.rooms.len() + 4 * self.needs.len()
    }

    fn move_to(&mut self, start_mm: f64) {
        let Task { rooms, layer, width_mm, .. } = self.task;
        self.start_mm = start_mm;
        self.needs = layer.needs(start_mm, *width_mm, rooms);
        self.touching = vec![Vec::new(); rooms.len()];
        for (at, need) in self.needs.iter().enumerate() {
            need.dogs.iter().for_each(|dog| self.touching[*dog].push(at));
        }
    }

    /// The first cut at this window, from everything open; `None` if even that does not do.
    pub(super) fn first(&mut self, random: &mut Seeded) -> Option<Solution> {
        let dogs: Vec<_> = (0..self.cuts.len()).collect();
        self.open(&dogs, random);
        self.give_back(random)
    }

    /// Tries other cuts near the best for so many rounds.
    pub(super) fn improve(&mut self, best: &mut Solution, rounds: usize, random: &mut Seeded) {
        for _ in 0..rounds {
            self.cuts.clone_from(&best.cuts);
            if self.start_mm != best.start_mm {
                self.move_to(best.start_mm);
            }
            if self.needs.is_empty() {
                return;
            }
            if random.share() < 0.25 {
                self.slide(random);
            }
            let dogs = self.chosen(random);
            self.open(&dogs, random);
            if let Some(next) = self.give_back(random)
                && next.cost_g < best.cost_g - 1e-12
            {
                *best = next;
            }
        }
    }

    /// Moves the window so that it begins or ends at the flanks of some pair, as they are now or were before,
    /// or somewhere on the way there.
    fn slide(&mut self, random: &mut Seeded) {
        let need = self.needs[random.below(self.needs.len())];
        let flank = FlankSide::BOTH[random.below(2)];
        let left = need.left_mm(flank, self.task.rooms, &self.cuts);
        let by = match random.below(3) {
            0 => need.mm[flank],
            1 => left,
            _ => need.mm[flank] * random.share(),
        };
        // At the start of a window drive flank meets drive flank.
        self.move_to(self.start_mm - flank.sign() * by);
    }

    /// The dogs whose sizes are opened again: those of some pairs, some at random, or all.
    fn chosen(&self, random: &mut Seeded) -> Vec<usize> {
        let (count, what) = (self.cuts.len(), random.share());
        if what < 0.1 || self.needs.is_empty() {
            return (0..count).collect();
        }
        if what < 0.5 {
            let pairs = 1 + random.below(3);
            let pair = |_| self.needs[random.below(self.needs.len())].dogs;
            return (0..pairs).flat_map(pair).collect();
        }
        let share = 0.1 + 0.5 * random.share();
        (0..count).filter(|_| random.share() < share).collect()
    }

    /// Cuts dogs as far as the rules allow. One dog of each ring keeps the reference height.
    fn open(&mut self, dogs: &[usize], random: &mut Seeded) {
        let Task { rooms, most, low_mm, rules, edges_mm, edges_now_mm, .. } = self.task;
        let kept = self.kept(random);
        let share = [0.0, 0.25, 0.5, 0.75, 1.0][random.below(5)];
        let free = (edges_mm - edges_now_mm[0] - edges_now_mm[1]).max(0.0);
        for &dog in dogs {
            most[dog].open(&mut self.cuts[dog], rules, kept.contains(&dog));
        }
        // What edges one ring may break depends on those of the other, so that all of them are opened at once.
        let eased =
            if random.share() < ALL_EDGES { (0..rooms.len()).collect() } else { dogs.to_vec() };
        for dog in eased.into_iter().filter(|_| rules.eases && self.task.layer.eases) {
            let room = &rooms[dog];
            let share = if room.side == Side::A { share } else { 1.0 - share };
            let most = edges_now_mm[room.side as usize] + share * free;
            room.ease(&mut self.cuts[dog], *edges_mm, most, rules);
        }
        for dog in kept {
            rooms[dog].lower(&mut self.cuts[dog], -low_mm[dog], f64::INFINITY, rules);
        }
    }

    /// A dog of each ring that keeps the reference height: more often one that does already.
    fn kept(&self, random: &mut Seeded) -> [usize; 2] {
        let Task { rooms, low_mm, .. } = self.task;
        Side::BOTH.map(|side| {
            let dogs = (0..rooms.len()).filter(|dog| rooms[*dog].side == side);
            let able: Vec<_> = dogs.filter(|dog| low_mm[*dog].abs() < 1e-9).collect();
            let uncut: Vec<_> =
                able.iter().copied().filter(|dog| self.cuts[*dog].lower_mm == 0.0).collect();
            let among = if random.share() < 0.8 && !uncut.is_empty() { uncut } else { able };
            among.get(random.below(among.len())).copied().unwrap_or_default()
        })
    }

    /// Gives each size back as far as the others allow. `None` if the cut then is none.
    fn give_back(&mut self, random: &mut Seeded) -> Option<Solution> {
        let rooms = self.task.rooms;
        let mut order = Vec::with_capacity(4 * rooms.len());
        for (dog, cuts) in self.cuts.iter().enumerate() {
            for (size, price) in SIZES.into_iter().zip(self.prices[dog]) {
                if is_cut(cuts, size) {
                    order.push((price + DISORDER * (2.0 * random.share() - 1.0), dog, size));
                }
            }
        }
        sort_by_number(&mut order, |(price, ..)| -price);
        for (_, dog, size) in order {
            match size {
                Size::Tip => self.give_back_tip(dog)?,
                Size::Flank(flank) => {
                    let arc = self.needed_mm(dog, &[flank], |cuts| cuts.arc_mm[flank]);
                    let Task { most, rules, .. } = self.task;
                    let most = most[dog].stock_mm[flank];
                    rooms[dog].narrow(&mut self.cuts[dog], flank, arc, most, rules);
                }
                Size::Edge => {
                    let by = self.needed_mm(dog, &FlankSide::BOTH, |cuts| cuts.eased_mm);
                    let most = self.cuts[dog].edge_mm;
                    rooms[dog].ease(&mut self.cuts[dog], by, most, &self.task.rules);
                }
            }
        }
        self.solution()
    }

    fn give_back_tip(&mut self, dog: usize) -> Option<()> {
        let Task { rooms, low_mm, layer, rules, .. } = self.task;
        let before = self.cuts[dog];
        let (room, mut needed) = (&rooms[dog], -low_mm[dog]);
        room.lower(&mut self.cuts[dog], 0.0, f64::INFINITY, rules);
        for &at in &self.touching[dog] {
            let need = &self.needs[at];
            let other = need.dogs[1 - need.place_of(dog)];
            let missing =
                layer.clear_mm - low_mm[dog] - low_mm[other] - self.cuts[other].lowered_mm;
            if missing > needed && !need.is_narrow(rooms, &self.cuts) {
                needed = missing;
            }
        }
        if needed <= 1e-9 {
            return Some(());
        }
        let most =
            if rules.keeps_case && !rules.removes { room.tip_case_mm } else { f64::INFINITY };
        if !room.lower(&mut self.cuts[dog], needed, most, rules) {
            self.cuts[dog] = before;
        }
        Some(())
    }

    /// The most that one size of a dog has to give, if the others give what they do now.
    fn needed_mm(&self, dog: usize, flanks: &[FlankSide], gives: impl Fn(&Cuts) -> f64) -> f64 {
        let gives = gives(&self.cuts[dog]);
        let mut needed: f64 = 0.0;
        for &at in &self.touching[dog] {
            let need = &self.needs[at];
            if !self.is_clear(need) {
                for flank in flanks {
                    needed = needed.max(gives + need.left_mm(*flank, self.task.rooms, &self.cuts));
                }
            }
        }
        if needed < 1e-9 { 0.0 } else { needed }
    }

    /// Whether the tips of a pair are out of the way.
    fn is_clear(&self, need: &Need) -> bool {
        let Task { low_mm, layer, .. } = self.task;
        let lower = need.dogs.map(|dog| low_mm[dog] + self.cuts[dog].lowered_mm);
        lower[0] + lower[1] >= layer.clear_mm - 1e-9
    }

    /// The cut as it is now, if it opens the window and keeps the rules.
    fn solution(&self) -> Option<Solution> {
        let Task { rooms, low_mm, ceiling, edges_mm, .. } = self.task;
        let is_open = |need: &Need| self.is_clear(need) || need.is_narrow(rooms, &self.cuts);
        let thick = |(room, cuts): (&Room<'_>, &Cuts)| {
            let flanks = cuts.stock_mm.map(|mm| f64::from(u8::from(mm > 0.0)));
            let spare = room.spare_mm(&self.task.rules, flanks.drive + flanks.coast);
            cuts.stock_mm.drive + cuts.stock_mm.coast <= spare.max(0.0) + 1e-9
        };
        let low_enough = |(dog, low): (usize, &f64)| *low + self.cuts[dog].lowered_mm >= -1e-9;
        let does = self.task.may_start(self.start_mm)
            && self.needs.iter().all(is_open)
            && rooms.iter().zip(&self.cuts).all(thick)
            && low_mm.iter().enumerate().all(low_enough)
            && (!self.is_eased() || self.edges_mm() <= edges_mm + 1e-9);
        if !does {
            return None;
        }
        let mut cost_g = rooms.iter().zip(&self.cuts).map(|(room, cuts)| room.cost_g(cuts)).sum();
        if let Some((layer, phase, most)) = ceiling
            && let Some(held) = layer.held_mm(*phase, rooms, low_mm, &self.cuts)
        {
            cost_g += OVER_CEILING_G * (held - most).max(0.0);
        }
        Some(Solution { start_mm: self.start_mm, cuts: self.cuts.clone(), cost_g })
    }

    fn is_eased(&self) -> bool {
        self.cuts.iter().any(|cuts| cuts.eased_mm > 0.0)
    }

    /// The largest edge breaks of both rings together.
    fn edges_mm(&self) -> f64 {
        let mut most = [0.0_f64; 2];
        for (room, cuts) in self.task.rooms.iter().zip(&self.cuts) {
            if cuts.lower_mm.is_finite() {
                let most = &mut most[room.side as usize];
                *most = most.max(cuts.edge_mm);
            }
        }
        most[0] + most[1]
    }
}

/// About what each of the [`SIZES`] costs for each mm that it opens, as a logarithm.
fn prices(room: &Room<'_>, clear_mm: f64) -> [f64; 4] {
    let PerFlank { drive, coast } = room.flank_g;
    [room.tip_g * clear_mm, drive, coast, room.edge_price_g()].map(libm::log)
}

fn is_cut(cuts: &Cuts, size: Size) -> bool {
    match size {
        Size::Tip => cuts.lower_mm > 0.0,
        Size::Flank(flank) => cuts.stock_mm[flank] > 0.0,
        Size::Edge => cuts.eased_mm > 0.0,
    }
}
