//! Shares of starting phases by how a shift ends, and how far they move with what nobody knows for sure.

use super::chances::gear_steps;
use super::pair::PairAnalysis;
use super::shift::{Shares, conditions};
use super::shift_case::{ShiftCase, ratios};
use super::worked::Worked;
use crate::design::Need;
use crate::shift::{Conditions, Endings, Outcome, Shifter, Step, phase_sense};

/// Coefficients of friction tip on tip that the bands are taken over: oiled steel on steel, common practice,
/// no source.
pub const BAND_FRICTIONS: [f64; 5] = [0.05, 0.075, 0.1, 0.125, 0.15];

/// Shares of the speed difference lost in a strike that the bands are taken over: from none to all of it.
pub const BAND_LOSSES: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// With more pairs of dogs than this, shares in the end are only told where they are asked for on the map.
const MOST_PAIRS: usize = 400;

/// The least and the greatest of a share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// The least.
    pub least: f64,
    /// The greatest.
    pub greatest: f64,
}

/// Shares of the starting phases of one shift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShiftShares {
    /// Shares by the outcome of the first pass.
    pub first: Shares,
    /// Shares by how the shift ends, strikes and all, in the order of [`Outcome::ALL`].
    pub ends: [f64; 6],
    /// Share in at the first pass, over [`BAND_FRICTIONS`] and the friction of the design.
    pub first_in: Band,
    /// Share in at last, over [`BAND_FRICTIONS`] and [`BAND_LOSSES`] and what the design has.
    pub ends_in: Band,
}

impl Band {
    const fn of(share: f64) -> Self {
        Self { least: share, greatest: share }
    }

    const fn with(self, share: f64) -> Self {
        Self { least: self.least.min(share), greatest: self.greatest.max(share) }
    }
}

impl ShiftShares {
    /// The share that is in at last, at whichever pass.
    pub fn ends_in(&self) -> f64 {
        sum_in(&self.ends)
    }

    fn of(pair: &PairAnalysis, given: Conditions, slip: f64) -> Self {
        let first = |given| Shares::of(&Shifter::new(&pair.mesh, given, phase_sense(slip)), slip);
        let ends = |given| {
            let shifter = Shifter::new(&pair.mesh, given, phase_sense(slip));
            Endings::of(&shifter).shares(&shifter, slip)
        };
        let (nominal, end) = (first(given), ends(given));
        let mut told = Self {
            first: nominal,
            ends: end,
            first_in: Band::of(nominal.is_in()),
            ends_in: Band::of(sum_in(&end)),
        };
        for friction in BAND_FRICTIONS {
            let rubbed = Conditions { friction, ..given };
            told.first_in = told.first_in.with(first(rubbed).is_in());
            for strike_loss in BAND_LOSSES {
                let shares = ends(Conditions { strike_loss, ..rubbed });
                told.ends_in = told.ends_in.with(sum_in(&shares));
            }
        }
        told
    }
}

fn sum_in(shares: &[f64; 6]) -> f64 {
    Outcome::ALL
        .into_iter()
        .zip(shares)
        .filter(|(end, _)| end.is_in())
        .map(|(_, share)| share)
        .sum()
}

/// The shares of the shift of a design. `None` if the rings jam or do not reach each other, if nobody knows
/// what rubbing depends on, or if there are over 400 pairs of dogs.
pub fn drawn_shares(worked: &Worked) -> Option<ShiftShares> {
    let needs = [Need::Speed, Need::TipFriction, Need::Inertia];
    if worked.design.missing_of(&needs).is_some() {
        return None;
    }
    let pair = shiftable(worked)?;
    Some(ShiftShares::of(pair, pair.shift.as_ref()?.conditions, pair.shift_case.slip()))
}

/// The shares of every shift of the gearbox, in the order of [`gear_shifts`](super::gear_shifts).
pub fn gear_shares(worked: &Worked) -> Vec<(Step, Option<ShiftShares>)> {
    let steps = gear_steps(&worked.design).into_iter();
    steps.map(|step| (step, of_step(worked, step))).collect()
}

/// The shares of one shift of the gearbox.
fn of_step(worked: &Worked, step: Step) -> Option<ShiftShares> {
    let design = &worked.design;
    let is_known = design.missing(Need::TipFriction).is_none() && design.knows_inertia(step.to);
    let pair = shiftable(worked).filter(|_| is_known)?;
    let shift_case = ShiftCase::of_step(design.gearbox.as_ref()?, &ratios(design)?, step)?;
    let given = conditions(design, &pair.mesh, pair.engagement.full_depth_mm, &shift_case);
    Some(ShiftShares::of(pair, given, shift_case.slip()))
}

fn shiftable(worked: &Worked) -> Option<&PairAnalysis> {
    let pair = worked.pair.as_ref()?;
    let few = pair.mesh.blocks.len() <= MOST_PAIRS;
    (few && pair.shift.is_some()).then_some(pair)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::{SettingField, example, gallery};

    #[test]
    fn a_band_has_the_share_of_the_design_between_its_ends() {
        let mut wide = 0;
        for design in gallery().iter().map(|example| example.design()) {
            let analysis = Analysis::of(&design);
            let steps = gear_shares(&analysis).into_iter().filter_map(|(_, shares)| shares);
            for shares in steps.chain(drawn_shares(&analysis)) {
                let has = |band: &Band, share: f64| band.least <= share && share <= band.greatest;
                assert!(has(&shares.first_in, shares.first.is_in()), "{shares:?}");
                assert!(has(&shares.ends_in, shares.ends_in()), "{shares:?}");
                assert!((shares.ends.iter().sum::<f64>() - 1.0).abs() < 1e-9, "{shares:?}");
                assert!(shares.ends_in() >= shares.first.is_in() - 1e-9, "{shares:?}");
                wide += usize::from(shares.first_in.greatest > shares.first_in.least + 0.05);
            }
        }
        assert!(wide > 10, "{wide}");
    }

    /// With all speed lost in a strike, a ring that is thrown back stays on the tip: what is in at last is
    /// what is in at the first pass, so the band in the end reaches down to that.
    #[test]
    fn strikes_that_take_all_leave_the_first_pass() {
        let mut design = example();
        design.setting.set(SettingField::StrikeLoss, 1.0);
        let shares = drawn_shares(&Analysis::of(&design)).expect("the example can be shifted");
        assert!((shares.ends_in() - shares.first.is_in()).abs() < 1e-9, "{shares:?}");
        assert!(shares.first.struck > 0.01 && shares.ends_in.greatest > shares.ends_in());
        assert!(shares.ends_in.least <= shares.first_in.least + 1e-9, "{shares:?}");
    }
}
