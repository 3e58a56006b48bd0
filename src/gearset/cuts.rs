//! Where to cut first: the smallest cut of every gear, by what a rider gains for each gram.
//!
//! Every gear is a job of its own, in steps of a few milliseconds, so that a page can do one after the other and end them
//! all. A slider carries the ring A of up to two gears: what comes off one of them makes the slider lighter for both, and
//! adds to its unbalance.

use std::sync::Arc;

use crenel_words::{Message, Value, gearset as say};

use super::{GearsetAnalysis, SetGear};
use crate::analysis::Analysis;
use crate::design::{Design, SettingField, ShiftFrom};
use crate::limits;
use crate::load::Stress;
use crate::model::{GearShift, Worked, gear_shift};
use crate::ring::Side;
use crate::shift::Way;
use crate::suggest::{
    Goal, Search, SearchStep, Searching, Suggestion, proposed_window_ms, searching,
};
use crate::units::{DisplayUnits, Quantity, sort_by_number};

/// Grams in a kilogram.
const GRAMS: f64 = 1000.0;

/// A number before and after a cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeforeAfter {
    /// As it is planned now.
    pub before: f64,
    /// With the cut.
    pub after: f64,
}

/// What a cut does to the other gear on its slider.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwinCost {
    /// The other gear, from 0.
    pub gear: usize,
    /// Its largest speed difference for going straight in, over that of its hardest shift, with the slider lighter.
    pub reach: BeforeAfter,
}

/// A cut of one gear, with what it gains and costs.
#[derive(Clone, Debug, PartialEq)]
pub struct GearCut {
    /// The gear, from 0.
    pub gear: usize,
    /// The cut, its design, its cautions, and every figure that gets worse.
    pub cut: Suggestion,
    /// Share of shifts into the gear that go in at the first pass, over up and down; where that is not known, how
    /// much of the speed difference of each the straight-in limit reaches, 1 at most.
    pub goes_in: BeforeAfter,
    /// Metal off both rings, g.
    pub metal_g: f64,
    /// Metal off the slider, g.
    pub off_slider_g: f64,
    /// Lash at the dogs, degrees; `None` where no window holds.
    pub lash_deg: Option<BeforeAfter>,
    /// Lash at the tyre, mm.
    pub tyre_mm: Option<BeforeAfter>,
    /// The stress that uses most of its allowable, as a share of that; `None` if nothing is carried.
    pub strength: Option<BeforeAfter>,
    /// Unbalance of the slider by all that is cut off it, g·mm: nobody knows how the rings of its two faces lie to each
    /// other, so they are added up.
    pub unbalance_g_mm: BeforeAfter,
    /// The unbalance allowed to the slider, g·mm, if it has a grade.
    pub allowed_g_mm: Option<f64>,
    /// The other gear on the slider.
    pub twin: Option<TwinCost>,
}

impl GearCut {
    /// What a gram gains: share of shifts that go in, 1/g.
    pub fn gain_per_gram(&self) -> f64 {
        let gain = self.goes_in.after - self.goes_in.before;
        // A cut below a milligram is no cut.
        gain / self.metal_g.max(1e-3)
    }

    /// What it gains and costs, a sentence or more.
    pub fn says(&self) -> Vec<Message> {
        let of = |quantity, value| Value::Result(quantity, value);
        let share = |value| of(Quantity::Share, value);
        let BeforeAfter { before, after } = self.goes_in;
        let grams = of(Quantity::Grams, self.metal_g);
        let mut told = vec![say::cut_gains(self.gear, grams, share(before), share(after))];
        told.extend(self.tyre_mm.map(|BeforeAfter { before, after }| {
            let [before, after] = [before, after].map(|mm| of(Quantity::RoadLength, mm));
            say::cut_costs_lash(before, after)
        }));
        told.extend(self.strength.map(|BeforeAfter { before, after }| {
            say::cut_costs_strength(share(before), share(after))
        }));
        if self.off_slider_g > 0.0 {
            let off = of(Quantity::Grams, self.off_slider_g);
            let unbalance = of(Quantity::Unbalance, self.unbalance_g_mm.after);
            told.push(match self.twin {
                Some(twin) => say::cut_lightens_twin(off, twin.gear, unbalance),
                None => say::cut_lightens(off, unbalance),
            });
        }
        told
    }
}

/// The search for the cut of one gear.
pub struct CutJob {
    gear: usize,
    now: Arc<Analysis>,
    own: Arc<SetGear>,
    twin: Option<Arc<SetGear>>,
    search: Searching<Vec<Suggestion>>,
}

/// A job for every gear of a gearbox whose shifts do not all go straight in. Each takes the largest speed difference
/// of the shifts into its gear, and looks for the window that this needs.
pub fn cut_jobs(analysis: &GearsetAnalysis, units: DisplayUnits) -> Vec<CutJob> {
    analysis.gears.iter().filter_map(|own| CutJob::of(analysis, own, units)).collect()
}

/// The cuts of all gears, that which gains the most for each gram first; those that speak against themselves last.
pub fn cuts_first(analysis: &GearsetAnalysis, units: DisplayUnits) -> Vec<GearCut> {
    let done = cut_jobs(analysis, units).into_iter().filter_map(CutJob::finish);
    ranked(done.collect())
}

/// Cuts in the order in which they are worth making.
pub fn ranked(mut cuts: Vec<GearCut>) -> Vec<GearCut> {
    sort_by_number(&mut cuts, |cut| -cut.gain_per_gram());
    sort_by_number(&mut cuts, |cut| f64::from(u8::from(cut.cut.against.is_some())));
    cuts
}

impl CutJob {
    fn of(analysis: &GearsetAnalysis, own: &Arc<SetGear>, units: DisplayUnits) -> Option<Self> {
        let now = Arc::new(Analysis::of(&wishing(own)?));
        let slider = analysis.gearset.gears[own.gear].slider;
        let is_twin = |other: &&Arc<SetGear>| {
            other.gear != own.gear && analysis.gearset.gears[other.gear].slider == slider
        };
        let search = Search::new(Goal::Window, units);
        (!search.is_met(&now)).then(|| Self {
            gear: own.gear,
            own: Arc::clone(own),
            twin: analysis.gears.iter().find(is_twin).cloned(),
            search: searching(Arc::clone(&now), search),
            now,
        })
    }

    /// The gear that it is about, from 0.
    pub const fn gear(&self) -> usize {
        self.gear
    }

    /// Does a step of a few milliseconds. The last one has the cut, or nothing where none gains anything.
    pub fn step(&mut self) -> Option<Option<GearCut>> {
        match self.search.next() {
            Some(SearchStep::Tried(_)) => None,
            Some(SearchStep::Found(found)) => Some(self.best(found)),
            None => Some(None),
        }
    }

    /// Does all steps that are left.
    pub fn finish(mut self) -> Option<GearCut> {
        loop {
            if let Some(found) = self.step() {
                return found;
            }
        }
    }

    /// Of all cuts that reach the goal the one that gains the most for each gram, and advisable ones before others.
    fn best(&self, found: Vec<Suggestion>) -> Option<GearCut> {
        let cuts = found.into_iter().map(|cut| self.weighed(cut)).collect();
        ranked(cuts).into_iter().find(|cut| cut.gain_per_gram() > 0.0)
    }

    fn weighed(&self, cut: Suggestion) -> GearCut {
        let before = &self.now.worked;
        let off_slider_g = (cut_off_g(&self.after(&cut.design, 0.0).worked, Side::A)
            - cut_off_g(before, Side::A))
        .max(0.0);
        let after = self.after(&cut.design, off_slider_g);
        let both = |of: &dyn Fn(&Worked) -> f64| BeforeAfter {
            before: of(before),
            after: of(&after.worked),
        };
        let known = |of: &dyn Fn(&Worked) -> Option<f64>| {
            let (before, after) = (of(before)?, of(&after.worked)?);
            Some(BeforeAfter { before, after })
        };
        let lash_deg = known(&|worked| Some(worked.pair.as_ref()?.held?.width.degrees()));
        let per_deg = self.tyre_per_deg();
        let of_twin = self.twin.as_ref().map_or(0.0, |twin| unbalance_g_mm(&twin.worked));
        GearCut {
            gear: self.gear,
            goes_in: both(&|worked| self.goes_in(worked)),
            metal_g: cut.stock_g,
            off_slider_g,
            lash_deg,
            tyre_mm: lash_deg
                .zip(per_deg)
                .map(|(lash, by)| BeforeAfter { before: lash.before * by, after: lash.after * by }),
            strength: known(&used),
            unbalance_g_mm: both(&|worked| unbalance_g_mm(worked) + of_twin),
            allowed_g_mm: limits::unbalance(before, Side::A, 0.0).map(|gauge| gauge.limit),
            twin: self.twin.as_ref().map(|twin| twin_cost(twin, off_slider_g)),
            cut,
        }
    }

    /// The design with a cut, and with so much less to move.
    fn after(&self, cut: &Design, lighter_g: f64) -> Analysis {
        Analysis::of(&lighter(cut, lighter_g))
    }

    /// The mean over the shifts into the gear.
    fn goes_in(&self, worked: &Worked) -> f64 {
        let shifts = self.own.shifts.iter();
        let now: Vec<f64> = shifts
            .filter_map(|(shift, _)| gear_shift(worked, shift.step))
            .map(|shift| shift.chance.unwrap_or_else(|| reach(&shift).min(1.0)))
            .collect();
        #[expect(clippy::cast_precision_loss, reason = "two at most")]
        let count = now.len().max(1) as f64;
        now.iter().sum::<f64>() / count
    }

    /// Lash at the tyre for each degree at the dogs, mm.
    fn tyre_per_deg(&self) -> Option<f64> {
        let lash = self.own.worked.pair.as_ref()?.held?.width.degrees();
        Some(self.own.lash?.tyre_mm? / lash).filter(|by| by.is_finite())
    }
}

/// The design of a gear, shifted with the largest speed difference of all shifts into it, that wants the window which
/// that needs; `None` if no shift into it is known.
fn wishing(own: &SetGear) -> Option<Design> {
    let slip = |shift: &GearShift| shift.step.slip_rpm.abs();
    let shifts = own.shifts.iter().map(|(shift, _)| shift);
    let hardest = shifts.max_by(|a, b| slip(a).total_cmp(&slip(b)))?;
    let mut design = own.worked.design.clone();
    design.setting.from = match hardest.step.way {
        Way::Up => ShiftFrom::Up,
        Way::Down => ShiftFrom::Down,
    };
    let target = proposed_window_ms(&Analysis::of(&design))?.target;
    design.setting.set(SettingField::WishedWindow, target);
    Some(design)
}

/// A design whose shift has so much less to move, g.
fn lighter(design: &Design, by_g: f64) -> Design {
    let mut lighter = design.clone();
    let mass = design.setting.get(SettingField::MovingMass) - by_g / GRAMS;
    lighter
        .setting
        .set(SettingField::MovingMass, mass.max(SettingField::MovingMass.id().spec().min));
    lighter
}

/// How much of its speed difference the straight-in limit of a shift reaches.
fn reach(shift: &GearShift) -> f64 {
    shift.limit_rpm.unwrap_or(0.0) / shift.step.slip_rpm.abs().max(f64::MIN_POSITIVE)
}

fn twin_cost(twin: &SetGear, lighter_g: f64) -> TwinCost {
    let after = Analysis::of(&lighter(&twin.worked.design, lighter_g));
    let least = |worked: &Worked| {
        let shifts = twin.shifts.iter();
        let reaches = shifts.filter_map(|(shift, _)| Some(reach(&gear_shift(worked, shift.step)?)));
        reaches.fold(f64::INFINITY, f64::min)
    };
    TwinCost {
        gear: twin.gear,
        reach: BeforeAfter { before: least(&twin.worked), after: least(&after.worked) },
    }
}

/// What the plan cuts off a ring, g.
fn cut_off_g(worked: &Worked, side: Side) -> f64 {
    worked.found[side].metal().mass_g() - worked.ring(side).metal().mass_g()
}

/// The unbalance that the plan leaves in the slider, g·mm.
fn unbalance_g_mm(worked: &Worked) -> f64 {
    let off = worked.found[Side::A].metal().without(worked.ring(Side::A).metal());
    off.unbalance_g_mm()
}

/// The largest share of an allowable stress that is used, under power and on the overrun.
fn used(worked: &Worked) -> Option<f64> {
    let pair = worked.pair.as_ref()?;
    let strengths = [pair.strength.as_ref(), pair.overrun.as_ref()].into_iter().flatten();
    let shares = strengths.flat_map(|strength| {
        let pressure = strength.pressure_mpa().and_then(|mpa| limits::pressure(worked, mpa));
        let shear = limits::shear(worked, strength.most(|stress: &Stress| stress.shear_mpa));
        let combined = limits::combined(worked, strength.most(Stress::combined_mpa));
        [pressure, shear, combined].into_iter().flatten().map(|gauge| gauge.used())
    });
    shares.reduce(f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{GearsetSpec, LAYOUTS, PairOf};
    use crate::fields::FieldId;

    /// A six-speed whose third gear has dogs with hardly any window between them.
    fn tight_third() -> GearsetSpec {
        let six = LAYOUTS.iter().find(|layout| layout.key == "six-speed").expect("it is there");
        let mut set = six.to_gearset();
        let mut pair = set.pair(2).expect("it has one").clone();
        for side in Side::BOTH {
            let slot = crate::fields::Slot::Ring(side, FieldId::TipWidth);
            assert!(pair.set(slot, 30.0));
        }
        set.gears[2].pair = PairOf::Own(Box::new(pair));
        set
    }

    #[test]
    fn what_gains_the_most_for_each_gram_comes_first_and_says_what_it_costs() {
        let analysis = GearsetAnalysis::of(&tight_third());
        let found = cuts_first(&analysis, DisplayUnits::default());
        assert!(!found.is_empty());
        let speaks = |cut: &GearCut| cut.cut.against.is_some();
        let follows = |two: &[GearCut]| match (speaks(&two[0]), speaks(&two[1])) {
            (false, true) => true,
            (true, false) => false,
            _ => two[0].gain_per_gram() >= two[1].gain_per_gram(),
        };
        assert!(found.windows(2).all(follows));
        let third = found.iter().find(|cut| cut.gear == 2).expect("its windows are too short");
        assert!(third.goes_in.after > third.goes_in.before, "{third:?}");
        assert!(third.metal_g > 0.0 && third.metal_g >= third.off_slider_g - 1e-9);
        let twin = third.twin.expect("first is on the same slider");
        assert_eq!(twin.gear, 0);
        // A lighter slider is quicker: the other gear can only gain.
        assert!(twin.reach.after >= twin.reach.before, "{twin:?}");
        assert!(third.lash_deg.is_some_and(|lash| lash.after >= lash.before));
        assert!(third.says().len() >= 3);
    }

    #[test]
    fn jobs_in_steps_find_what_all_at_once_finds() {
        let analysis = GearsetAnalysis::of(&tight_third());
        let mut jobs = cut_jobs(&analysis, DisplayUnits::default());
        let mut found = Vec::new();
        while !jobs.is_empty() {
            // In turns, as a page does them.
            jobs.retain_mut(|job| job.step().map(|done| found.extend(done)).is_none());
        }
        let gears = |cuts: &[GearCut]| cuts.iter().map(|cut| cut.gear).collect::<Vec<_>>();
        let at_once = cuts_first(&analysis, DisplayUnits::default());
        assert_eq!(gears(&ranked(found)), gears(&at_once));
    }

    /// The other face of the slider is not cut, so that its unbalance is that of this cut alone.
    #[test]
    fn a_cut_evenly_round_the_ring_leaves_the_slider_in_balance() {
        let analysis = GearsetAnalysis::of(&tight_third());
        for cut in cuts_first(&analysis, DisplayUnits::default()) {
            let worked = Analysis::of(&cut.cut.design).worked;
            assert!((cut.unbalance_g_mm.after - unbalance_g_mm(&worked)).abs() < 1e-6, "{cut:?}");
            assert!(cut.unbalance_g_mm.before.abs() < 1e-9);
        }
    }
}
