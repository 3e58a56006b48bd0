//! The smallest cut of each kind for what is asked.

use std::cmp::Ordering;

use super::asked::{Ceilings, Search};
use super::cover::{DogCuts, Ground};
use super::goal::{Goal, reaches, wanted};
use super::new_sizes::reach_at_worst;
use super::offer::{Suggestion, mass_g};
use super::progress::Steps;
use super::step::Steps as ShopSteps;
use super::strategy::{CutStrategy, Size, Sizes, can_be_planned};
use crate::analysis::Analysis;
use crate::design::Design;
use crate::ring::Ring;

/// Differences below this are rounding, ms or degrees.
pub(super) const SAME: f64 = 1e-9;

/// How many heights are tried to see how much a strategy can give.
const TRIED: usize = 16;

/// How many cuts dog by dog of one kind are worked out exactly, and how many of those are kept.
const TRIED_CUTS: usize = 40;
const KEPT_CUTS: usize = 12;

/// What is asked, the value wanted, the value that the design has, and the metal of both rings before the
/// cut, g.
pub(super) struct Wished {
    search: Search,
    goal: Goal,
    wanted: f64,
    has: f64,
    before_g: f64,
}

/// A cut that was found: the smallest of one strategy, or one dog by dog.
pub(super) struct Least {
    pub(super) design: Design,
    reached: bool,
    /// Whether the goal is reached with every size off by its tolerance.
    holds: bool,
    reaches: f64,
    /// Metal that comes off both rings, g.
    stock_g: f64,
}

impl Wished {
    pub(super) fn of(now: &Analysis, search: &Search) -> Self {
        let goal = search.goal;
        Self {
            search: *search,
            goal,
            wanted: wanted(&now.design, goal),
            has: reaches(&now.design, goal).unwrap_or(0.0),
            before_g: now.cut.iter().map(Ring::mass_with_edges_g).sum(),
        }
    }

    /// Of cuts of one kind, the one that removes the least metal and, if that is not advisable, the advisable
    /// one that removes the least. At most `tried` are worked out for it.
    pub(super) async fn best_of(
        &self,
        mut list: Vec<Least>,
        now: &Analysis,
        tried: usize,
        steps: &Steps,
    ) -> Vec<Suggestion> {
        list.sort_by(Least::order);
        let mut best: Vec<Suggestion> = Vec::new();
        let Some(reached) = list.first().map(|least| least.reached) else { return best };
        for least in list.into_iter().filter(|least| least.reached == reached).take(tried) {
            steps.pause().await;
            let Some(told) = Suggestion::of(now, &self.search, least.design) else { continue };
            let crosses = told.prices.iter().any(|price| price.crossed);
            if self.search.ceilings.within_limits && (crosses || told.against.is_some()) {
                continue;
            }
            let advisable = told.against.is_none();
            if advisable || best.is_empty() {
                best.push(told);
            }
            if advisable {
                break;
            }
        }
        best
    }

    /// Cuts dog by dog, a list for each kind of search: those that hold over their tolerances, or, if there are
    /// none, those that reach the goal at their nominal sizes.
    pub(super) async fn dog_by_dog(&self, now: &Analysis, steps: &Steps) -> Vec<Vec<Least>> {
        let Some(ground) = Ground::of(now, self.search.ceilings.lash) else { return Vec::new() };
        let (shop, holds) = (self.search.steps(), self.search.holds);
        let ways = [(shop, true), (shop, false), (shop.fine(), false)];
        for (shop, holds) in ways.into_iter().skip(usize::from(!holds)) {
            let mut kinds = Vec::new();
            for cuts in ground.cuts(self.goal, self.wanted, shop, holds, steps).await {
                let mut exact = Vec::new();
                for cuts in cuts.iter().take(TRIED_CUTS) {
                    exact.extend(self.exact(now, cuts, holds));
                    steps.pause().await;
                    if exact.len() == KEPT_CUTS {
                        break;
                    }
                }
                kinds.push(exact);
            }
            kinds.retain(|exact| !exact.is_empty());
            if !kinds.is_empty() {
                return kinds;
            }
        }
        Vec::new()
    }

    /// A cut dog by dog worked out exactly; `None` if it does not reach the goal, or exceeds a ceiling.
    fn exact(&self, now: &Analysis, cuts: &DogCuts, holds: bool) -> Option<Least> {
        let design = cuts.on(&now.design);
        let enough = |has: Option<f64>| has.filter(|has| *has >= self.wanted);
        can_be_planned(&design).then_some(())?;
        let reaches = enough(reaches(&design, self.goal))?;
        if holds {
            enough(reach_at_worst(&design, &now.cut, self.goal))?;
        }
        let stock_g = self.before_g - mass_g(&design);
        let least = Least { design, reached: true, holds, reaches, stock_g };
        self.is_within(&least).then_some(least)
    }

    /// Whether a cut keeps the ceilings that can be seen without working the design out.
    fn is_within(&self, least: &Least) -> bool {
        let Ceilings { lash, metal_g, .. } = self.search.ceilings;
        let light = metal_g.is_none_or(|most| least.stock_g <= most + SAME);
        light
            && lash.is_none_or(|most| {
                reaches(&least.design, Goal::Lash).is_some_and(|lash| lash <= most.degrees() + SAME)
            })
    }

    /// The smallest cut of a strategy that reaches the goal at the worst of its tolerances. If there is no
    /// such cut, the smallest that reaches the goal at its nominal sizes, in finer steps where the usual
    /// ones are too coarse. Failing that, the largest that leaves rings that go in.
    ///
    /// `None` if the strategy cannot be applied, gives no more than a simpler one, or exceeds a ceiling.
    pub(super) fn least(&self, now: &Analysis, way: CutStrategy) -> Option<Least> {
        let steps = self.search.steps();
        let holding = || self.sized(now, way, steps, true).filter(|least| least.holds);
        let holding = self.search.holds.then(holding).flatten();
        let least = holding.or_else(|| {
            let plain = self.sized(now, way, steps, false);
            let finer = || self.sized(now, way, steps.fine(), false).filter(|least| least.reached);
            if plain.as_ref().is_some_and(|least| least.reached) {
                plain
            } else {
                finer().or(plain)
            }
        });
        least.filter(|least| self.is_within(least))
    }

    /// The same in steps of one kind, at the worst of the tolerances (`spare`) or at the nominal sizes.
    fn sized(
        &self,
        now: &Analysis,
        way: CutStrategy,
        steps: ShopSteps,
        spare: bool,
    ) -> Option<Least> {
        let reach = |size: Size| {
            let cut = way.on(&now.design, size)?;
            if spare { reach_at_worst(&cut, &now.cut, self.goal) } else { reaches(&cut, self.goal) }
        };
        let Sizes { lowers_mm, most_flank_steps } = way.sizes(now, steps)?;
        let lower_only =
            |at: usize| reach(Size { steps, lower_mm: *lowers_mm.get(at)?, flank_steps: 0 });
        // Every second dog is cut first, no lower than is of use; the flanks give what is still missing.
        let mut lower_mm = 0.0;
        if way.treats_seconds() {
            let last = lowers_mm.len() - 1;
            let tried = (0..=TRIED.min(last)).map(|nth| last * nth / TRIED.min(last).max(1));
            let best = tried.filter_map(lower_only).reduce(f64::max)?;
            if way.narrows() && (best >= self.wanted || best <= self.has + SAME) {
                return None;
            }
            let enough = (best - SAME).min(self.wanted);
            lower_mm = lowers_mm[smallest(lower_only, lowers_mm.len(), enough)];
        }
        let flank_only =
            |count: usize| reach(Size { steps, lower_mm, flank_steps: u32::try_from(count).ok()? });
        let flank_steps = smallest(flank_only, most_flank_steps as usize + 1, self.wanted);
        let size = Size { steps, lower_mm, flank_steps: u32::try_from(flank_steps).ok()? };
        let design = way.on(&now.design, size).filter(|cut| way.cuts(&now.design, cut, size))?;
        let holds = reach(size).is_some_and(|has| spare && has >= self.wanted);
        let reaches = reaches(&design, self.goal).filter(|has| *has > self.has + SAME)?;
        let (reached, stock_g) = (reaches >= self.wanted, self.before_g - mass_g(&design));
        Some(Least { design, reached, holds: holds && reached, reaches, stock_g })
    }
}

/// The first of `count` sizes whose `reach` is at least `wanted`. If there is no such size, the last one
/// for which `reach` has a value.
fn smallest(reach: impl Fn(usize) -> Option<f64>, count: usize, wanted: f64) -> usize {
    let enough = |at: usize| reach(at).is_some_and(|has| has >= wanted);
    if count <= 1 || enough(0) {
        return 0;
    }
    // `small` is too small; `large` is large enough, or more than the dogs can take.
    let (mut small, mut large) = (0, count);
    while large - small > 1 {
        let middle = usize::midpoint(small, large);
        match reach(middle) {
            Some(has) if has < wanted => small = middle,
            _ => large = middle,
        }
    }
    if large < count && enough(large) { large } else { small }
}

impl Least {
    /// The better cut first: of two that reach the goal the one that removes less metal, of two that miss
    /// it the one that comes nearer.
    fn order(&self, other: &Self) -> Ordering {
        other.reached.cmp(&self.reached).then_with(|| match self.reached {
            true => self.stock_g.total_cmp(&other.stock_g),
            false => other.reaches.total_cmp(&self.reaches),
        })
    }
}
