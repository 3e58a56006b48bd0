//! The worst case of a window or of the lash, one pivot of a programme after the other.

use std::f64::consts::TAU;

use super::bounds::{Level, Range, Windows};
use super::programme::{Pivoted, Programme};
use super::spread::Spread;
use crate::analysis::Analysis;
use crate::design::SettingField;
use crate::pair::Arc;
use crate::suggest::Goal;

/// The windows that bound the number of a goal.
pub(super) struct Bounded<'a> {
    pub(super) windows: Windows<'a>,
    pub(super) list: &'a [Arc],
    /// The number for each radian of a window.
    by: f64,
}

impl<'a> Bounded<'a> {
    pub(super) fn of(analysis: &'a Analysis, spread: &Spread, goal: Goal) -> Option<Self> {
        let pair = analysis.pair.as_ref()?;
        let held = pair.held.as_ref()?;
        let hold = || analysis.design.setting.get(SettingField::HoldDepth);
        let (level, list, by) = match goal {
            Goal::Lash => {
                let full = Level::Depth(pair.engagement.full_depth_mm);
                (full, std::slice::from_ref(held), 1_f64.to_degrees())
            }
            // The time of one radian.
            Goal::Window => {
                let by = pair.passing.seconds_open(1.0) * 1000.0;
                (Level::Hold(hold()), &pair.to_hold[..], by)
            }
        };
        let windows = Windows::new(&analysis.cut, &pair.mesh, spread, level);
        Some(Self { windows, list, by })
    }

    /// A range of windows in radians as that of the number.
    pub(super) fn told(&self, range: Range) -> Range {
        Range { least: range.least * self.by, greatest: range.greatest * self.by }
    }
}

/// The window that stays widest counts.
pub(super) fn widest(a: Range, b: Range) -> Range {
    Range { least: a.least.max(b.least), greatest: a.greatest.max(b.greatest) }
}

/// The worst case of the number of a goal, while it is being worked out.
pub(super) struct Narrowing<'a> {
    bounded: Bounded<'a>,
    /// The window that is looked at, and the programme of its greatest width.
    at: usize,
    programme: Option<(Programme, f64)>,
    range: Option<Range>,
}

impl<'a> Narrowing<'a> {
    pub(super) fn of(analysis: &'a Analysis, spread: &Spread, goal: Goal) -> Option<Self> {
        let bounded = Bounded::of(analysis, spread, goal)?;
        Some(Self { bounded, at: 0, programme: None, range: None })
    }

    /// Begins with a window or takes one pivot on, and returns whether anything was left to do.
    pub(super) fn step(&mut self) -> bool {
        let Some(window) = self.bounded.list.get(self.at) else { return false };
        match self.programme.as_mut() {
            None => {
                self.programme = self.bounded.windows.programme(window);
                if self.programme.is_none() {
                    self.has(TAU);
                }
            }
            Some((programme, beside)) => {
                if let Pivoted::Over(largest) = programme.pivot() {
                    let greatest = largest.map_or(TAU, |largest| largest + *beside);
                    self.has(greatest.min(TAU));
                }
            }
        }
        true
    }

    /// The window has its range.
    fn has(&mut self, greatest: f64) {
        let least = self.bounded.windows.least(&self.bounded.list[self.at]);
        let own = Range { least, greatest };
        self.range = Some(self.range.map_or(own, |range| widest(range, own)));
        self.programme = None;
        self.at += 1;
    }

    /// The range, once all is done; `None` without a window.
    pub(super) fn to_range(&self) -> Option<Range> {
        self.range.map(|range| self.bounded.told(range))
    }
}
