//! The whole gearbox worked out: its drum, every shift with the rings of its own gear, and what is wrong with it.
//!
//! A part that is impossible takes only its own gears away; the rest still answers.

mod cuts;
mod drum;
mod fault;
mod findings;
mod heat;
mod marks;
mod restore;
mod shifts;
mod sliding;
mod standing;
mod timed;

use std::sync::Arc;

use crenel_words::{Message, gearset as say};

use crate::analysis::Analysis;
use crate::design::{Design, GearsetSpec, SettingField, ShiftFrom};
use crate::drum::Drum;
use crate::finding::Finding;
use crate::model::{GearLash, GearShift, Worked, gear_lashes};
pub use cuts::{BeforeAfter, CutJob, GearCut, TwinCost, cut_jobs, cuts_first, ranked};
pub use fault::{FAULTS, FaultKind, FaultPart, FaultTrace, NextReading, Suspect, faults};
pub use heat::{HeatCell, HeatRow, heat};
pub use marks::{GearMark, Worst};
pub use restore::{Restored, ShimMargins, ShimPlace, before_shims, restore};
pub use shifts::{SetShift, shift_table};
pub use standing::{GearStanding, Meeting, SliderStanding};

/// A part of the gearbox, counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Part {
    /// A gear.
    Gear(usize),
    /// A slider.
    Slider(usize),
    /// A fork with its track.
    Fork(usize),
    /// A position of the detent.
    Position(usize),
    /// Claw, detent and drum.
    Selector,
}

impl Part {
    /// Its name in words.
    pub fn name(self) -> Message {
        match self {
            Self::Gear(at) => say::part_gear(at),
            Self::Slider(at) => say::part_slider(at),
            Self::Fork(at) => say::part_fork(at),
            Self::Position(at) => say::part_position(at),
            Self::Selector => say::part_selector(),
        }
    }

    /// Its word and its number from 1, for programs.
    pub fn key(self) -> (&'static str, usize) {
        match self {
            Self::Gear(at) => ("gear", at + 1),
            Self::Slider(at) => ("slider", at + 1),
            Self::Fork(at) => ("fork", at + 1),
            Self::Position(at) => ("position", at + 1),
            Self::Selector => ("selector", 1),
        }
    }
}

/// A finding at its place in the gearbox.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// The part that it is about.
    pub part: Part,
    /// The gears that it concerns, from 0.
    pub gears: Vec<usize>,
    /// What is found.
    pub finding: Finding,
}

impl Placed {
    /// A finding at a part, without the gears of the part.
    const fn at(part: Part, finding: Finding) -> Self {
        Self { part, gears: Vec::new(), finding }
    }
}

/// One gear with its own rings in this gearbox.
#[derive(Clone, Debug, PartialEq)]
pub struct SetGear {
    /// Which gear, from 0.
    pub gear: usize,
    /// Its pair worked out, with the gearbox around it.
    pub worked: Worked,
    /// The shifts into it, each with the share of phases that go in at last; `None` where the chance at the first
    /// pass is not known.
    pub shifts: Vec<(GearShift, Option<f64>)>,
    /// Its lash at the wheel; `None` if its ratio is not known.
    pub lash: Option<GearLash>,
}

/// A whole gearbox, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct GearsetAnalysis {
    /// What it was worked out from.
    pub gearset: GearsetSpec,
    /// The gears whose rings, wheels and ratios are known.
    pub gears: Vec<Arc<SetGear>>,
    /// The drum with the gears that it can move.
    pub drum: Drum,
    /// For each gear of the drum, which gear of the gearbox it is.
    pub on_drum: Vec<usize>,
    /// For each fork of the drum, which fork of the gearbox it is.
    pub forks_on_drum: Vec<usize>,
    /// Everything wrong or worth knowing, the gravest first.
    pub findings: Vec<Placed>,
}

impl GearsetAnalysis {
    /// Works a gearbox out. Never panics, whatever it holds.
    pub fn of(gearset: &GearsetSpec) -> Self {
        let designs = (0..gearset.gears.len()).map(|gear| design_in(gearset, gear)).collect();
        Gathering::of(gearset.clone(), designs, &[]).finish()
    }

    /// Works out the gearbox around a design, whose pair is one of its gears; `None` for a pair alone.
    pub fn around(design: &Design) -> Option<Self> {
        Some(Gathering::around(design, None)?.finish())
    }

    /// A gear of the gearbox.
    pub fn gear(&self, gear: usize) -> Option<&SetGear> {
        self.gears.iter().find(|own| own.gear == gear).map(|own| &**own)
    }
}

/// A gearbox that is being worked out, one gear after the other.
#[derive(Clone, Debug)]
pub struct Gathering {
    gearset: GearsetSpec,
    /// The designs of the gears, as far as rings and ratios are known.
    designs: Vec<Option<Design>>,
    /// What was worked out before.
    known: Vec<Arc<SetGear>>,
    gears: Vec<Arc<SetGear>>,
    next: usize,
    /// How many gears were worked out, and not taken over.
    worked_out: usize,
}

impl Gathering {
    fn of(gearset: GearsetSpec, designs: Vec<Option<Design>>, known: &[Arc<SetGear>]) -> Self {
        let (known, gears) = (known.to_vec(), Vec::new());
        Self { gearset, designs, known, gears, next: 0, worked_out: 0 }
    }

    /// Begins with the gearbox around a design; `None` for a pair alone. Gears that are as they were `before` are
    /// taken over.
    pub fn around(design: &Design, before: Option<&GearsetAnalysis>) -> Option<Self> {
        let gearset = design.to_gearset()?;
        let known = |gear: usize| gearset.ratio(gear).and_then(|_| design.of_gear(gear));
        let designs = (0..gearset.gears.len()).map(known).collect();
        Some(Self::of(gearset, designs, before.map_or(&[], |before| &before.gears)))
    }

    /// Works out the next gear. Returns whether any is left.
    pub fn step(&mut self) -> bool {
        let gear = self.next;
        self.next += 1;
        if let Some(design) = self.designs.get_mut(gear).and_then(Option::take) {
            let is_same = |own: &&Arc<SetGear>| own.gear == gear && own.worked.design == design;
            let known = self.known.iter().find(is_same).cloned();
            self.worked_out += usize::from(known.is_none());
            let own = known.unwrap_or_else(|| Arc::new(set_gear(&self.gearset, gear, &design)));
            self.gears.push(own);
        }
        self.next < self.designs.len()
    }

    /// How many gears were worked out so far, and not taken over.
    pub const fn worked_out(&self) -> usize {
        self.worked_out
    }

    /// Works out what is left: the other gears, the drum, and what is wrong.
    pub fn finish(mut self) -> GearsetAnalysis {
        while self.step() {}
        let Self { gearset, gears, .. } = self;
        let drum::LaidOut { drum, gears: on_drum, forks: forks_on_drum } =
            drum::laid_out(&gearset, &gears);
        let findings = Vec::new();
        let mut made = GearsetAnalysis { gearset, gears, drum, on_drum, forks_on_drum, findings };
        made.findings = findings::all(&made);
        made
    }
}

/// The design of the rings of a gear with the gearbox around it, shifted up into that gear; the first gear is
/// shifted down into.
fn design_in(gearset: &GearsetSpec, gear: usize) -> Option<Design> {
    let mut design = gearset.pair(gear)?.clone();
    gearset.ratio(gear)?;
    design.gearbox = Some(gearset.to_gearbox());
    design.setting.from = if gear == 0 { ShiftFrom::Down } else { ShiftFrom::Up };
    #[expect(clippy::cast_precision_loss, reason = "few")]
    design.setting.set(SettingField::Gear, (gear + 1) as f64);
    Some(design)
}

fn set_gear(gearset: &GearsetSpec, gear: usize, design: &Design) -> SetGear {
    let worked = Analysis::of(design).worked;
    let lash = gear_lashes(&worked).into_iter().find(|lash| lash.gear == gear);
    SetGear {
        gear,
        shifts: shifts::into(&worked, gear, |from| gearset.ratio(from).is_some()),
        lash,
        worked,
    }
}

#[cfg(test)]
mod tests;
