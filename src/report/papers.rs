//! What the shop needs on paper for one ring: the operations, where to index, which cutter and wheel,
//! what to measure afterwards, and what to mind.

use super::analysis::Analysis;
use super::steps::{PlanStep, plan_steps};
use crate::fields::FieldId;
use crate::ring::{Dog, FlankSide, Ring, Side, Work};
use crate::shop::cutter::{Range, Space, runs_across};
use crate::shop::indexing::{Dividing, IndexSheet, RotaryTable};
use crate::shop::{tolerance, wheel};
use crate::units::{Angle, DisplayUnits, Quantity};

/// Printed with every sheet. Common practice, no source, but for the standards named.
pub const CAUTIONS: [&str; 9] = [
    "This sheet is reckoned from the sizes given and does not know the gear. Keep to the engine maker's limits and local rules; have a qualified shop do or check the work.",
    "A gear that fails can lock the rear wheel at speed.",
    "Hardened gears are ground or spark-eroded, not sawn for preference. Guards on; shield eyes, lungs and hands; no loose sleeves.",
    "Before the wheel turns: rating and expiry date on the wheel, rating above the speed of the spindle, no chips, a test run behind the guard. No side load on a cut-off wheel.",
    "Keep the steel below its temper: straw colour means it passed about 220 °C and has gone softer. Short passes, and stop before it is too hot to hold; hardened faces show grinding burn only when etched (ISO 14104).",
    "After the work look for cracks by magnetic particles (ISO 9934) or dye, in the roots above all.",
    "Leave no sharp root and no sharp edge: keep the fillet, break every new edge by hand.",
    "Wash out all grit before the gear goes near a bearing.",
    "A sliding gear often has dogs on its other face too, for another gear: this plan says nothing about those. Cut the mating ring in step with this one.",
];

/// The set-up sheet of one ring.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUpSheet {
    /// Which ring.
    pub side: Side,
    /// The operations in their order.
    pub steps: Vec<PlanStep>,
    /// Where each of them is indexed to.
    pub index: IndexSheet,
    /// Number of the operation that each index position belongs to, from 1.
    pub operation: Vec<usize>,
    /// Cutter, wheel and stock: what it is, and the number with its limits.
    pub tools: Vec<(&'static str, String)>,
    /// What to measure once it is cut.
    pub inspection: Vec<Inspected>,
}

/// One dog as it ought to be measured once it is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Inspected {
    /// Its place, from 0.
    pub place: usize,
    /// Its sizes in the order of [`INSPECTED`], in the units of their fields.
    pub nominal: [f64; 6],
    /// Tolerance of each, plus or minus; `None` where the general tolerances have none.
    pub tolerance: [Option<f64>; 6],
}

/// What is measured on each dog.
pub const INSPECTED: [FieldId; 6] = [
    FieldId::Centre,
    FieldId::TipWidth,
    FieldId::Height,
    FieldId::BackCutDrive,
    FieldId::BackCutCoast,
    FieldId::EdgeBreak,
];

impl SetUpSheet {
    /// The sheet of one ring, in the units of the page.
    pub fn of(analysis: &Analysis, side: Side, units: DisplayUnits) -> Self {
        let (operation, positions): (Vec<_>, Vec<_>) =
            positions(analysis, side).into_iter().unzip();
        Self {
            side,
            steps: plan_steps(analysis, side, units),
            index: index_sheet(analysis, positions),
            operation,
            tools: tools(analysis, side, units),
            inspection: inspection(analysis.ring(side)),
        }
    }
}

/// Every position to be indexed to, by operation, with its name. What is done to all dogs at once or
/// by hand needs none.
fn positions(analysis: &Analysis, side: Side) -> Vec<(usize, (String, Angle))> {
    let plan = &analysis.design.ring(side).plan;
    let mut ring = analysis.found[side as usize].clone();
    let mut positions = Vec::new();
    for (at, operation) in plan.operations.iter().enumerate() {
        let after = ring.clone().after(operation);
        // A dog that goes is where it was; a flank that is cut is where it comes to lie.
        let stands = if matches!(operation.work, Work::Cut(_)) { &ring } else { &after };
        let here = stands.dogs.iter().filter(|dog| operation.is_on(dog.place));
        for dog in here {
            let name = format!("{}{}", side.letter(), dog.place + 1);
            match operation.work {
                Work::Cut(_) => positions.push((at + 1, (name, dog.centre.wrapped()))),
                Work::Narrow(flank, _) | Work::Recut(flank, _) => {
                    let edge = tip_edge(stands, dog, flank).wrapped();
                    positions.push((at + 1, (format!("{name} {}", flank.name()), edge)));
                }
                Work::Lap(_) | Work::Break(_) => {}
            }
        }
        ring = after;
    }
    positions
}

/// Positions on the dividing head and the rotary table of the design.
pub fn index_sheet(analysis: &Analysis, positions: Vec<(String, Angle)>) -> IndexSheet {
    let whole = |id: FieldId| {
        // Within the limits of its field, which are far below.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let whole = analysis.design.setting.of(id).clamp(0.0, 10_000.0) as u16;
        whole
    };
    let head = Dividing { ratio: whole(FieldId::DividingRatio), ..Dividing::default() };
    let table = RotaryTable { ratio: whole(FieldId::TableRatio) };
    IndexSheet::new(positions, Some(&head), Some(table))
}

/// Direction of a tip edge at the mean radius, from the datum.
pub fn tip_edge(ring: &Ring, dog: &Dog, flank: FlankSide) -> Angle {
    let mean = ring.mean_radius_mm();
    let half = ring.half_width_at(dog, flank, mean).radians();
    let turn = flank.sign() * (half - dog.leaned_mm(flank, 0.0) / mean);
    dog.centre + Angle::from_radians(turn)
}

/// The spaces between the dogs as found, which a cutter has to pass.
fn spaces(ring: &Ring) -> Vec<Space> {
    let (dogs, bore) = (ring.by_centre(), ring.inner_radius_mm);
    let edge = |dog: &Dog, flank: FlankSide| {
        dog.centre.radians() + flank.sign() * ring.half_width_at(dog, flank, bore).radians()
    };
    let pass = |dog: &Dog| match ring.form {
        crate::ring::PlanForm::Radial => 0.0,
        crate::ring::PlanForm::Parallel => ring.half_chord_mm(dog),
    };
    let next = dogs.iter().cycle().skip(1);
    dogs.iter()
        .zip(next)
        .map(|(this, next)| {
            let from = Angle::from_radians(edge(this, FlankSide::Coast));
            let to = Angle::from_radians(edge(next, FlankSide::Drive));
            let width = (to - from).wrapped();
            Space { from: from.wrapped(), width, flank_mm: pass(this).max(pass(next)) }
        })
        .collect()
}

fn tools(analysis: &Analysis, side: Side, units: DisplayUnits) -> Vec<(&'static str, String)> {
    let of = |id: FieldId| analysis.design.setting.of(id);
    let mm = |value: f64| Quantity::Length.show(value, units);
    let found = &analysis.found[side as usize];
    let (bore, rim) = (found.inner_radius_mm, found.outer_radius_mm);
    let as_found = spaces(found);
    let range = Range::of(&as_found, bore, rim);
    let width = of(FieldId::CutWidth);
    let or_none = |value: Option<f64>, none: &str| value.map_or(none.to_owned(), mm);
    let fits = match range.widest_mm {
        Some(widest) if width > widest => {
            format!("; the {} given does not fit: it would touch the next dog", mm(width))
        }
        _ => format!("; the {} given fits", mm(width)),
    };
    let rpm = wheel::most_rpm(of(FieldId::CutWheelSpeed), of(FieldId::CutWheelDiameter));
    let across = runs_across(&as_found, width, bore, rim);
    let off = found.metal().without(analysis.ring(side).metal());
    vec![
        (
            "Widest cutter between the dogs as found",
            or_none(range.widest_mm, "no limit") + &fits,
        ),
        (
            "Narrowest that clears a space in two passes",
            or_none(range.narrowest_mm, "two passes do not clear it"),
        ),
        (
            "Right across the ring",
            if across { "can be cut right across, two flanks in one pass" } else { "stop in the bore: a dog stands opposite" }.to_owned(),
        ),
        (
            "Cutting wheel",
            format!(
                "Ø{} rated {}: at most {}",
                mm(of(FieldId::CutWheelDiameter)),
                Quantity::Velocity.show(of(FieldId::CutWheelSpeed), units),
                rpm.map_or("no speed".to_owned(), |n| Quantity::Speed.show(n, units))
            ),
        ),
        (
            "Metal that comes off",
            format!(
                "{}, {}",
                Quantity::Volume.show(off.volume_mm3, units),
                Quantity::Grams.show(off.mass_g(), units)
            ),
        ),
        (
            "Time-outs",
            "after every pass of 0.1 mm, or sooner where the steel gets too hot to hold (common practice, no source)".to_owned(),
        ),
    ]
}

/// Every dog that stands once the ring is cut, with the general tolerances of ISO 2768-1 m.
fn inspection(ring: &Ring) -> Vec<Inspected> {
    let mean = ring.mean_radius_mm();
    let length = ring.outer_radius_mm - ring.inner_radius_mm;
    let angular = tolerance::angular(length).map(Angle::degrees);
    ring.dogs
        .iter()
        .map(|dog| {
            let [drive, coast] = FlankSide::BOTH.map(|flank| tip_edge(ring, dog, flank).degrees());
            let chord = ring.thickness_mm(dog, 0.0);
            let width = tolerance::linear_mm(chord).map(|mm| (mm / mean).to_degrees());
            let leg = tolerance::angular(dog.height_mm).map(Angle::degrees);
            Inspected {
                place: dog.place,
                nominal: [
                    f64::midpoint(drive, coast).rem_euclid(360.0),
                    coast - drive,
                    dog.height_mm,
                    dog.back_cut.drive.degrees(),
                    dog.back_cut.coast.degrees(),
                    dog.edge_break_mm,
                ],
                tolerance: [
                    angular,
                    width,
                    tolerance::linear_mm(dog.height_mm),
                    leg,
                    leg,
                    tolerance::linear_mm(dog.edge_break_mm),
                ],
            }
        })
        .collect()
}
