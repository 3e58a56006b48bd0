//! The whole gearbox worked out: its drum, every shift with the rings of its own gear, and what is wrong with it.
//!
//! A part that is impossible takes only its own gears away; the rest still answers.

mod drum;
mod findings;
mod shifts;

use crate::analysis::Analysis;
use crate::design::{Design, GearsetSpec, SettingField, ShiftFrom};
use crate::drum::Drum;
use crate::finding::Finding;
use crate::model::{GearLash, GearShift, Worked, gear_lashes};
pub use shifts::{SetShift, shift_table};

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
    /// What is found.
    pub finding: Finding,
}

/// One gear with its own rings in this gearbox.
#[derive(Clone, Debug, PartialEq)]
pub struct SetGear {
    /// Which gear, from 0.
    pub gear: usize,
    /// Its pair worked out, with the gearbox around it.
    pub worked: Worked,
    /// The shifts into it.
    pub shifts: Vec<GearShift>,
    /// Its lash at the wheel; `None` if its ratio is not known.
    pub lash: Option<GearLash>,
}

/// A whole gearbox, worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct GearsetAnalysis {
    /// What it was worked out from.
    pub gearset: GearsetSpec,
    /// The gears whose rings, wheels and ratios are known.
    pub gears: Vec<SetGear>,
    /// The drum with the gears that it can move.
    pub drum: Drum,
    /// For each gear of the drum, which gear of the gearbox it is.
    pub on_drum: Vec<usize>,
    /// Everything wrong or worth knowing, the gravest first.
    pub findings: Vec<Placed>,
}

impl GearsetAnalysis {
    /// Works a gearbox out. Never panics, whatever it holds.
    pub fn of(gearset: &GearsetSpec) -> Self {
        let gears: Vec<SetGear> =
            (0..gearset.gears.len()).filter_map(|gear| set_gear(gearset, gear)).collect();
        let (drum, on_drum) = drum::laid_out(gearset, &gears);
        let mut made =
            Self { gearset: gearset.clone(), gears, drum, on_drum, findings: Vec::new() };
        made.findings = findings::all(&made);
        made
    }

    /// A gear of the gearbox.
    pub fn gear(&self, gear: usize) -> Option<&SetGear> {
        self.gears.iter().find(|own| own.gear == gear)
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

fn set_gear(gearset: &GearsetSpec, gear: usize) -> Option<SetGear> {
    let worked = Analysis::of(&design_in(gearset, gear)?).worked;
    let lash = gear_lashes(&worked).into_iter().find(|lash| lash.gear == gear);
    Some(SetGear {
        gear,
        shifts: shifts::into(&worked, gear, |from| gearset.ratio(from).is_some()),
        lash,
        worked,
    })
}

#[cfg(test)]
mod tests;
