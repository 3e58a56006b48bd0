//! The set-up sheet of one ring: operations, index positions, cutter and wheel, inspection, cautions.

use std::collections::BTreeMap;

use crenel_words::{Message, Phrase, Reader, Value, inspection, place, sheet as say, step};

use super::set_up::{self, CutDepth};
use crate::analysis::Analysis;
use crate::design::{
    Design, DogSpec, Layout, Operation, Plan, Region, SettingField, Size, TOLERANCED, Tips,
};
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::model::{SpacingNeed, Strength};
use crate::rework::{PlanStep, left, plan_steps};
use crate::ring::{Dog, FlankSide, PerSide, PlanForm, Ring, Side};
use crate::shop::cutter::{Range, Space, runs_across};
use crate::shop::indexing::{Dividing, IndexSheet, RotaryTable};
use crate::shop::tolerance::Limits;
use crate::shop::wheel;
use crate::suggest::plan_cautions;
use crate::tolerance::{INDEXED_DEG, SizeLimits, limits_words, size_limits};
use crate::units::{Angle, DisplayUnits, Quantity};

/// The set-up sheet of one ring.
#[derive(Clone, Debug, PartialEq)]
pub struct SetUpSheet {
    /// Which ring.
    pub side: Side,
    /// The operations in order.
    pub steps: Vec<PlanStep>,
    /// The index positions of the operations, with the one plate of the shop that serves both rings best.
    pub index: IndexSheet,
    /// Radius at which errors of the positions are told in mm: that of the rim.
    pub rim_radius_mm: f64,
    /// Number of the operation that each index position belongs to, from 1.
    pub operation: Vec<usize>,
    /// Cutter, wheel and stock: a label, and sentences with the number and its limits.
    pub tools: Vec<(Phrase, Vec<Message>)>,
    /// How to set up the work, in order.
    pub set_up: Vec<Message>,
    /// How deep each operation cuts.
    pub depths: Vec<CutDepth>,
    /// What to measure once it is cut.
    pub inspection: Vec<Inspected>,
    /// The chord over each dog at the rim.
    pub chords: Vec<Message>,
    /// The chord over each gap between dogs at the rim.
    pub gaps: Vec<Message>,
    /// What to mind in this very cut; empty if no metal comes off.
    pub cautions: Vec<Message>,
    /// The goals for which limits are narrowed, with the figures at both ends; `None` if no limit is.
    pub hangs: Option<Message>,
    /// How evenly the dogs must be spaced to share the load; `None` if one dog carries alone, or nothing does.
    pub spacing: Option<Message>,
    /// Where the flank of each dog has to be for that, with its limits; empty where nothing is shared.
    pub carrying: Vec<Message>,
}

/// The sizes that one dog should have once it is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Inspected {
    /// Its place, from 0.
    pub place: usize,
    /// Its sizes in the order of [`INSPECTED`], in the units of their fields.
    pub nominal: [f64; 6],
    /// The tolerance of each, in the units of their fields; `None` for what a plan leaves as found, and where
    /// neither the design nor its grade gives one.
    pub allowed: [Option<Allowed>; 6],
    /// Radius at which its angles are measured, mm.
    pub mean_radius_mm: f64,
}

/// The limits of a size: its own tolerance, or what is left of it so that every goal that the plan reaches is
/// still met with all sizes at their limits at once.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Allowed {
    /// The most by which it may be larger.
    pub plus: f64,
    /// The most by which it may be smaller.
    pub minus: f64,
}

impl Allowed {
    /// The text behind a size: “±0.1” or “+0/−0.1”.
    pub fn words(self, quantity: Quantity, units: DisplayUnits) -> String {
        let show = |value: f64| match value {
            0.0 => "0".to_owned(),
            _ => quantity.tolerance_at_most(value, units),
        };
        let (plus, minus) = (show(self.plus), show(self.minus));
        if plus == minus { format!("±{plus}") } else { format!("+{plus}/−{minus}") }
    }
}

/// What is measured on each dog: every size that may be off.
pub const INSPECTED: [FieldId; 6] = TOLERANCED;

impl SetUpSheet {
    /// The sheet of one ring, its index positions named for a reader.
    pub fn of(analysis: &Analysis, side: Side, reader: Reader) -> Self {
        let listed = PerSide::from_fn(|side| positions(analysis, side, reader));
        let angles = |side: Side| listed[side].iter().map(|(_, (_, angle))| *angle).collect();
        let head = dividing_head(analysis).on_one_plate(&Side::BOTH.map(angles));
        let (operation, positions): (Vec<_>, Vec<_>) = listed[side].iter().cloned().unzip();
        let list = size_limits(analysis);
        Self {
            side,
            steps: plan_steps(analysis, side),
            index: IndexSheet::new(positions, Some(&head), Some(rotary_table(analysis))),
            rim_radius_mm: analysis.found[side].outer_radius_mm,
            operation,
            set_up: set_up::set_up(analysis, side),
            depths: set_up::depths(analysis, side),
            tools: tools(analysis, side),
            inspection: inspection(analysis, side, &list),
            chords: set_up::chords(analysis, side),
            gaps: set_up::gaps(analysis, side),
            cautions: plan_cautions(analysis, side),
            hangs: limits_words(analysis, &list, side),
            spacing: spacing(analysis),
            carrying: carrying(analysis, side),
        }
    }
}

impl SetUpSheet {
    /// The index positions with the number of the operation in each name, for use without the sheet.
    pub fn named_by_operation(&self, reader: Reader) -> IndexSheet {
        let mut index = self.index.clone();
        for ((name, _), operation) in index.dogs.iter_mut().zip(&self.operation) {
            *name = say::in_operation(*operation, std::mem::take(name)).show(reader);
        }
        index
    }
}

/// A limit of a place, rounded down to a tenth of a micron or a ten-thousandth of a degree.
fn at_most(quantity: Quantity, value: f64) -> Value {
    Value::Size(quantity, (value * 1e4).floor() / 1e4)
}

/// What sharing the load under power asks of the spacing of the dogs.
fn spacing_need(analysis: &Analysis) -> Option<(&Strength, SpacingNeed)> {
    let pair = analysis.pair.as_ref()?;
    let strength = pair.strength.as_ref()?;
    Some((strength, strength.spacing_need(&analysis.design, &pair.mesh)?))
}

/// How evenly the dogs must be spaced to share the load under power.
fn spacing(analysis: &Analysis) -> Option<Message> {
    let (strength, need) = spacing_need(analysis)?;
    Some(inspection::spacing(
        need.carrying,
        need.meeting,
        strength.torque_nm,
        at_most(Quantity::Length, need.off_mm),
        at_most(Quantity::Angle, need.off.degrees()),
        need.hardest_n,
    ))
}

/// Where each flank of a ring that carries has to be for that, by dog.
fn carrying(analysis: &Analysis, side: Side) -> Vec<Message> {
    let Some((strength, need)) = spacing_need(analysis) else { return Vec::new() };
    let ring = analysis.ring(side);
    let meets = |dog: &&Dog| strength.pairs.iter().any(|pair| pair.places[side] == dog.place);
    let told = |dog: &Dog| {
        let at = ring.tip_edge(dog, strength.flank).wrapped().degrees();
        let at = Value::Size(Quantity::Angle, (at * 1e4).round() / 1e4);
        let off = at_most(Quantity::Angle, need.off.degrees());
        inspection::carrying_flank(side, dog.place, strength.flank, at, off)
    };
    ring.dogs.iter().filter(meets).map(told).collect()
}

/// Every index position, by operation, with its name. Work on all dogs at once or by hand has none.
fn positions(analysis: &Analysis, side: Side, reader: Reader) -> Vec<(usize, (String, Angle))> {
    let plan = &analysis.design.ring(side).plan;
    let mut ring = analysis.found[side].clone();
    let mut positions = Vec::new();
    for (at, operation) in plan.operations.iter().enumerate() {
        let after = operation.done_to(ring.clone());
        // A dog that is removed is indexed where it was; a flank where it lies after the cut.
        let stands = if operation.work.kind.region == Region::Dog { &ring } else { &after };
        let here = stands.dogs.iter().filter(|dog| operation.is_on(dog.place));
        for dog in here {
            match operation.work.kind.region {
                Region::Dog => {
                    let name = format!("{}{}", side.letter(), dog.place + 1);
                    positions.push((at + 1, (name, dog.centre.wrapped())));
                }
                Region::Flank(flank) => {
                    let (name, angle) = flank_position(stands, side, dog, flank);
                    positions.push((at + 1, (name.show(reader), angle)));
                }
                Region::Tip => {}
            }
        }
        ring = after;
    }
    positions
}

/// Where a flank is cut: a radial one at its tip edge, through the shaft axis; a parallel one at the
/// middle of its dog, with the cutter set over to one side of the axis.
fn flank_position(ring: &Ring, side: Side, dog: &Dog, flank: FlankSide) -> (Message, Angle) {
    match ring.form {
        PlanForm::Radial => {
            (say::flank(side, dog.place, flank), ring.tip_edge(dog, flank).wrapped())
        }
        PlanForm::Parallel => {
            let off = ring.half_chord_mm(dog) - dog.narrowed_mm[flank] - dog.leaned_mm(flank, 0.0);
            (say::flank_off_axis(side, dog.place, flank, off), dog.centre.wrapped())
        }
    }
}

/// The dividing head of the shop with all its plates.
fn dividing_head(analysis: &Analysis) -> Dividing {
    let plates = analysis.design.plates.clone();
    Dividing { ratio: whole(analysis, SettingField::DividingRatio), plates }
}

/// The rotary table of the shop.
fn rotary_table(analysis: &Analysis) -> RotaryTable {
    RotaryTable { ratio: whole(analysis, SettingField::TableRatio) }
}

/// A setting that is a whole number. The limits of its field are far below 10,000.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
fn whole(analysis: &Analysis, field: SettingField) -> u16 {
    analysis.design.setting.get(field).clamp(0.0, 10_000.0) as u16
}

/// The spaces between the dogs as found, which a cutter has to pass: at tip or web, whichever is
/// narrower, less the root fillets.
fn spaces(ring: &Ring) -> Vec<Space> {
    let (dogs, bore) = (ring.by_centre(), ring.inner_radius_mm);
    let edge = |dog: &Dog, flank: FlankSide| {
        let half = ring.half_width_at(dog, flank, bore).radians();
        let wider = (-dog.leaned_mm(flank, dog.height_mm)).max(0.0) + dog.root_fillet_mm;
        dog.centre.radians() + flank.sign() * (half + wider / bore)
    };
    let pass = |dog: &Dog| match ring.form {
        PlanForm::Radial => 0.0,
        PlanForm::Parallel => ring.half_chord_mm(dog),
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

/// The depth of a pass after which the work cools, mm (common practice, no source).
const PASS_MM: f64 = 0.1;

fn tools(analysis: &Analysis, side: Side) -> Vec<(Phrase, Vec<Message>)> {
    let of = |field| analysis.design.setting.get(field);
    let found = &analysis.found[side];
    let (bore, rim) = (found.inner_radius_mm, found.outer_radius_mm);
    let as_found = spaces(found);
    let range = Range::for_spaces(&as_found, bore, rim);
    let width = of(SettingField::CutWidth);
    let at_most = |mm| say::size(Value::AtMost(Quantity::Length, mm));
    let at_least = |mm| say::size(Value::AtLeast(Quantity::Length, mm));
    let widest = range.widest_mm.map_or_else(say::no_limit, at_most);
    let narrowest = range.narrowest_mm.map_or_else(say::two_passes_leave_some, at_least);
    let across = runs_across(&as_found, width, bore, rim);
    let off = found.metal().without(analysis.ring(side).metal());
    vec![
        (say::widest_cutter, vec![widest, fits(&range, width)]),
        (say::narrowest_cutter, vec![narrowest]),
        (say::across, vec![if across { say::right_across() } else { say::not_across() }]),
        (say::wheel, vec![wheel_limit(analysis)]),
        (say::metal_removed, vec![step::stock(off.volume_mm3, off.mass_g())]),
        (say::cooling, vec![say::cool_after(PASS_MM)]),
    ]
}

/// Whether a cutter of this width, mm, fits between the dogs.
fn fits(range: &Range, width: f64) -> Message {
    if range.widest_mm.is_some_and(|widest| width > widest) {
        say::cutter_too_wide(width)
    } else if range.narrowest_mm.is_some_and(|narrowest| width < narrowest) {
        say::cutter_narrow(width)
    } else {
        say::cutter_fits(width)
    }
}

/// How fast the cut-off wheel of the design may turn.
fn wheel_limit(analysis: &Analysis) -> Message {
    let of = |field| analysis.design.setting.get(field);
    let (diameter, marked) = (of(SettingField::CutWheelDiameter), of(SettingField::CutWheelSpeed));
    match wheel::most_rpm(marked, diameter) {
        Some(most) => say::wheel_speed(diameter, marked, Value::AtMost(Quantity::Speed, most)),
        None => say::wheel_without_speed(diameter, marked),
    }
}

/// Every dog that is left once the ring is cut. Sizes that the plan makes have their limits; without a plan every
/// size has its own tolerance.
fn inspection(analysis: &Analysis, side: Side, list: &[SizeLimits]) -> Vec<Inspected> {
    let ring = analysis.ring(side);
    let inspected = |dog: &Dog| {
        let [drive, coast] = FlankSide::BOTH.map(|flank| ring.tip_edge(dog, flank).degrees());
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
            mean_radius_mm: ring.mean_radius_mm(),
            allowed: if analysis.design.ring(side).plan.is_empty() {
                own_tolerances(analysis, side, dog)
            } else {
                limits_made(analysis, side, dog, list)
            },
        }
    };
    ring.dogs.iter().map(inspected).collect()
}

/// The tolerances of a dog that is made as it is given, in the order of [`INSPECTED`].
fn own_tolerances(analysis: &Analysis, side: Side, dog: &Dog) -> [Option<Allowed>; 6] {
    let (ring, tolerances) = (analysis.ring(side), &analysis.design.tolerances);
    let grade = tolerances.grade;
    let width = grade.linear_mm(ring.thickness_mm(dog, 0.0));
    let leg = grade.angular(dog.height_mm).map(Angle::degrees);
    let general = [
        Some(INDEXED_DEG),
        width.map(|mm| (mm / ring.mean_radius_mm()).to_degrees()),
        grade.linear_mm(dog.height_mm),
        leg,
        leg,
        grade.edge_mm(dog.edge_break_mm),
    ];
    let mut allowed = general.map(|by| by.map(|by| Allowed { plus: by, minus: by }));
    for (allowed, id) in allowed.iter_mut().zip(INSPECTED) {
        let given = tolerances.planned(side, dog.place, id);
        *allowed = given.map(|Limits { minus, plus }| Allowed { plus, minus }).or(*allowed);
    }
    allowed
}

/// The limits of what a plan makes of a dog, and of its place as measured, in the order of [`INSPECTED`].
///
/// A flank is cut in its place: half of what the width may be off is what the middle of the dog may be off as well, so
/// that no flank is further out than the width says. The place of a dog that is not narrowed is as found: it has
/// limits where a goal leaves less than its uncertainty.
fn limits_made(
    analysis: &Analysis,
    side: Side,
    dog: &Dog,
    list: &[SizeLimits],
) -> [Option<Allowed>; 6] {
    let ring = analysis.ring(side);
    let find = |size: Option<Size>| {
        let here =
            |one: &&SizeLimits| (one.side(), one.place(), one.size()) == (side, dog.place, size);
        list.iter().find(here)
    };
    let limits = |size: Size| find(Some(size)).map(|one| one.limits);
    let degrees = |mm: f64| (mm / ring.mean_radius_mm()).to_degrees();
    let width = limits(Size::Width)
        .map(|Limits { minus, plus }| Allowed { plus: degrees(plus), minus: degrees(minus) });
    let half = width.map_or(0.0, |width| width.plus.min(width.minus) / 2.0);
    let place = find(None);
    let is_limited = width.is_some() || place.is_some_and(SizeLimits::is_narrowed);
    let Limits { minus, plus } = place.map(|one| one.limits).unwrap_or_default();
    let centre = is_limited.then_some(Allowed { plus: half + plus, minus: half + minus });
    let [_, _, _, drive, coast, _] = own_tolerances(analysis, side, dog);
    let found = analysis.found[side].at_place(dog.place);
    let recut =
        |flank: FlankSide| found.is_some_and(|was| was.back_cut[flank] != dog.back_cut[flank]);
    [
        centre,
        width,
        limits(Size::Height).map(|Limits { minus, plus }| Allowed { plus, minus }),
        drive.filter(|_| recut(FlankSide::Drive)),
        coast.filter(|_| recut(FlankSide::Coast)),
        // More metal is a smaller edge break.
        limits(Size::Edge).map(|Limits { minus, plus }| Allowed { plus: minus, minus: plus }),
    ]
}

/// A design with a ring as it was measured after the work.
#[derive(Clone, Debug, PartialEq)]
pub struct Retyped {
    /// The design.
    pub design: Design,
    /// Sentences on what became of the plan of the ring; empty if there was no plan.
    pub says: Vec<Message>,
}

/// The design with a ring as it was measured after the work.
///
/// `typed` holds the text for each dog, by place and column of [`INSPECTED`]; sizes without a text are
/// nominal. What came off the tallest tip also comes off the overlap, because the stop of the sliding gear
/// stays where it is. The friction of lapped tips is kept
/// if both rings were lapped.
///
/// Work that is not done stays in the plan: work to a size takes only what is still too large, and stock
/// that is off already is not taken twice.
///
/// # Errors
/// A finding for each text that is not a number or is outside the limits of its field.
pub fn retyped(
    analysis: &Analysis,
    side: Side,
    typed: &BTreeMap<(usize, usize), String>,
    units: DisplayUnits,
) -> Result<Retyped, Vec<Finding>> {
    let dogs = measured_dogs(analysis, side, typed, units)?;
    let ring = analysis.ring(side);
    let mut design = analysis.design.clone();
    let friction = design.tip_friction();
    if design.ring(side).plan.is_empty() {
        // Other variants go on with this ring, and their work keeps to its dogs.
        design.list_dogs(side);
    }
    let spec = design.ring_mut(side);
    let plan = std::mem::take(&mut spec.plan);
    spec.layout = Layout::Measured(dogs);
    let measured = spec.to_found();
    let left = left(&plan, ring, &measured);
    let says = left.words();
    let is_lap = |operation: &&Operation| operation.work.kind.tips == Tips::Lapped;
    let laps = |plan: &Plan| plan.operations.iter().filter(is_lap).count();
    let lapped = laps(&left.plan) < laps(&plan);
    spec.plan = left.plan;
    let lower = analysis.found[side].tallest_mm() - measured.tallest_mm();
    let overlap = design.setting.get(SettingField::Overlap) - lower;
    design.set(Slot::Setting(FieldId::Overlap), overlap);
    if lapped {
        design.set(Slot::Setting(FieldId::TipFriction), friction);
    }
    Ok(Retyped { design, says })
}

/// The design with a ring as it came out and nothing left to do on it: what the figures are if it goes in like
/// this. Texts are read as by [`retyped`].
///
/// # Errors
/// A finding for each text that is not a number or is outside the limits of its field.
pub fn as_got(
    analysis: &Analysis,
    side: Side,
    typed: &BTreeMap<(usize, usize), String>,
    units: DisplayUnits,
) -> Result<Design, Vec<Finding>> {
    let mut design = retyped(analysis, side, typed, units)?.design;
    design.ring_mut(side).plan = Plan::default();
    Ok(design)
}

/// The dogs of a ring with the sizes typed for them.
fn measured_dogs(
    analysis: &Analysis,
    side: Side,
    typed: &BTreeMap<(usize, usize), String>,
    units: DisplayUnits,
) -> Result<Vec<DogSpec>, Vec<Finding>> {
    let ring = analysis.ring(side);
    let mut wrong = Vec::new();
    let mut dogs = Vec::new();
    for (dog, inspected) in ring.dogs.iter().zip(inspection(analysis, side, &[])) {
        let mut values = inspected.nominal;
        for (at, id) in INSPECTED.into_iter().enumerate() {
            let Some(text) = typed.get(&(inspected.place, at)) else { continue };
            let slot = Slot::Dog(side, inspected.place, id);
            match read(slot, text, units) {
                Ok(value) => values[at] = value,
                Err(why) => wrong.push(why),
            }
        }
        let [centre_deg, tip_width_deg, height_mm, drive, coast, edge_break_mm] = values;
        dogs.push(DogSpec {
            centre_deg,
            tip_width_deg,
            height_mm,
            back_cut_drive_deg: drive,
            back_cut_coast_deg: coast,
            edge_break_mm,
            root_fillet_mm: dog.root_fillet_mm,
        });
    }
    if wrong.is_empty() { Ok(dogs) } else { Err(wrong) }
}

/// Reads the number typed for a slot.
pub(super) fn read(slot: Slot, text: &str, units: DisplayUnits) -> Result<f64, Finding> {
    let value = slot.field().spec().quantity.parse(text, units).map_err(|wrong| {
        let finding = Finding::from(wrong).at(slot);
        Finding { says: place::typed(slot.words(), finding.says.clone()), ..finding }
    })?;
    slot.check(value).map_or(Ok(value), Err)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;
    use crate::design::{Cut, Work};
    use crate::pair::Edges;
    use crate::suggest::{Goal, reach_with};

    fn cut_down() -> Design {
        let text = r#"{ "crenel": 1, "a": { "back_cut_drive_deg": 4, "plan": [
            { "do": "shorten", "shorten_to_mm": 2.5, "dogs": [2, 4, 6] },
            { "do": "narrow_coast", "flank_stock_mm": 0.4, "dogs": [1, 3, 5] },
            { "do": "lap", "lap_stock_mm": 0.02 }, { "do": "break", "break_to_mm": 0.2, "dogs": [1] } ] } }"#;
        open(text).expect("it opens").design
    }

    #[test]
    fn every_indexed_operation_has_its_positions() {
        let sheet = SetUpSheet::of(&Analysis::of(&cut_down()), Side::A, Reader::default());
        assert_eq!(sheet.steps.len(), 4);
        assert_eq!(sheet.operation, [1, 1, 1, 2, 2, 2]);
        let names: Vec<_> = sheet.index.dogs.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ["A2", "A4", "A6", "A1 coast", "A3 coast", "A5 coast"]);
        // Half of 24°, less 0.4 mm at 26 mm.
        let coast = sheet.index.dogs[3].1.degrees();
        assert!((coast - (12.0 - (0.4_f64 / 26.0).to_degrees())).abs() < 1e-9, "{coast}");
        assert_eq!(sheet.index.head.map(|job| job.steps.len()), Some(6));
        assert_eq!(sheet.inspection.len(), 6);
    }

    /// Between six radial dogs of 24° on a bore of 22 mm the widest is `22·sin 36°`, 12.931 mm; on a rim of
    /// 30 mm the narrowest is `30·sin 18°`, 9.271 mm.
    #[test]
    fn a_cutter_that_is_given_fits_between_the_narrowest_and_the_widest() {
        let said = |width: f64| {
            let text = r#"{ "crenel": 1, "a": { "root_fillet_mm": 0 } }"#;
            let mut design = open(text).expect("it opens").design;
            *design.setting.field_mut(FieldId::CutWidth).expect("a field") = width;
            tools(&Analysis::of(&design), Side::A)[0].1.clone()
        };
        let widest = 22.0 * libm::sin(36_f64.to_radians());
        let check = |width: f64, fits: Message| {
            let [size, said] = &said(width)[..] else { panic!("{width}") };
            let (_, shown) = size.numbers().next().expect("a size");
            assert!((shown - widest).abs() < 1e-9, "{shown}");
            assert_eq!(said, &fits);
        };
        check(9.2, say::cutter_narrow(9.2));
        check(9.3, say::cutter_fits(9.3));
        check(12.9, say::cutter_fits(12.9));
        check(13.0, say::cutter_too_wide(13.0));
    }

    /// Six dogs of which half carry: two of them may lead by `F/(k·2)` before the third carries, which both rings
    /// share, to either side.
    #[test]
    fn the_spacing_that_sharing_needs_is_told() {
        let analysis = Analysis::of(&Design::default());
        let sheet = SetUpSheet::of(&analysis, Side::A, Reader::default());
        let strength = analysis.pair.as_ref().and_then(|pair| pair.strength.as_ref());
        let force = strength.expect("it carries").force_n;
        let stiffness = analysis.design.setting.get(SettingField::DogStiffness);
        let off = force / stiffness / 2.0 / 1000.0 / 4.0;
        let said = sheet.spacing.expect("dogs share the load");
        let shown: Vec<_> = said.numbers().map(|(_, number)| number).collect();
        assert_eq!(shown[..2], [3.0, 6.0]);
        assert!((shown[3] - off).abs() < 1e-4 && shown[3] <= off, "{shown:?} {off}");
        assert!((shown[5] / force - (1.0 + 5.0 / 2.0) / 6.0).abs() < 1e-9, "{shown:?}");
        // One dog has nothing to share with.
        let mut alone = Design::default();
        for side in Side::BOTH {
            alone.set(Slot::Ring(side, FieldId::Count), 1.0);
        }
        assert_eq!(SetUpSheet::of(&Analysis::of(&alone), Side::A, Reader::default()).spacing, None);
    }

    /// Every dog has limits for the flank that carries: those of the sentence.
    #[test]
    fn sharing_gives_each_dog_limits() {
        let analysis = Analysis::of(&Design::default());
        let sheet = SetUpSheet::of(&analysis, Side::B, Reader::default());
        let off = sheet.spacing.expect("dogs share the load").numbers().nth(4).expect("an angle").1;
        assert_eq!(sheet.carrying.len(), 6);
        for (place, flank) in sheet.carrying.iter().enumerate() {
            let numbers: Vec<_> = flank.numbers().map(|(_, number)| number).collect();
            let dog = analysis.ring(Side::B).at_place(place).expect("a dog");
            let edge = analysis.ring(Side::B).tip_edge(dog, FlankSide::Drive).wrapped().degrees();
            assert!(
                (numbers[1] - edge).abs() < 1e-4 && numbers[2] == off,
                "{numbers:?} {edge} {off}"
            );
        }
        let words = sheet.carrying[1].show(Reader::default());
        assert!(words.starts_with("B2 drive: 48° ±0.0"), "{words}");
    }

    /// A place that a goal hangs on has limits within its uncertainty, also on a dog that is not cut.
    #[test]
    fn a_measured_place_that_the_target_hangs_on_has_limits() {
        let text = include_str!("../../tests/fixtures/worn-pair.json");
        let mut design = open(text).expect("it opens").design;
        for place in design.a.to_found().every_second(1) {
            design.a.plan.set_cut(place, Some(Cut::Shorten(3.5)));
        }
        let has = reach_with(&Analysis::of(&design), &Analysis::of(&design).cut, Goal::Lash);
        let has = has.expect("it goes in");
        let places = |wanted: f64| {
            let mut design = design.clone();
            design.set(Slot::Setting(FieldId::WishedLash), wanted);
            let sheet = SetUpSheet::of(&Analysis::of(&design), Side::A, Reader::default());
            sheet.inspection.iter().filter_map(|dog| dog.allowed[0]).collect::<Vec<_>>()
        };
        assert!(places(0.9 * has).is_empty(), "nothing hangs on places that are as found");
        let hang = places(has - 0.03);
        assert!(!hang.is_empty(), "two dogs may be off by 1′ each way, on either ring");
        assert!(hang.iter().any(|of| of.plus != of.minus), "to one side: {hang:?}");
    }

    /// 3.6 mm clear a holding depth of 1.4 mm by 0.02 mm: a tenth more and the window is gone. 3.5 mm clear it
    /// by more than their tolerance.
    #[test]
    fn a_size_that_the_target_hangs_on_has_a_limit_to_one_side() {
        let text = include_str!("../../tests/fixtures/worn-pair.json");
        let units = DisplayUnits::default();
        let sheet = |to: f64| {
            let mut design = open(text).expect("it opens").design;
            for side in Side::BOTH {
                for place in design.ring(side).to_found().every_second(1) {
                    design.ring_mut(side).plan.set_cut(place, Some(Cut::Shorten(to)));
                }
            }
            SetUpSheet::of(&Analysis::of(&design), Side::A, Reader::default())
        };
        let heights = |sheet: &SetUpSheet| {
            let allowed = sheet.inspection.iter().filter_map(|dog| dog.allowed[2]);
            allowed.map(|allowed| allowed.words(Quantity::Length, units)).collect::<Vec<_>>()
        };
        let hangs = sheet(3.6);
        assert_eq!(heights(&hangs), ["+0.05/−0.1", "+0.02/−0.1", "+0.03/−0.1"]);
        let shorten = |mm: f64| step::shorten(Value::Size(Quantity::Length, mm));
        assert_eq!(hangs.hangs.as_ref().map(Message::key), Some("suggest.window_hangs"));
        assert_eq!(hangs.steps[0].words, step::within(shorten(3.6), 0.02, 0.1));
        let holds = sheet(3.5);
        assert_eq!(heights(&holds), ["±0.1"; 3], "what is as found has no limit");
        assert_eq!((holds.hangs, &holds.steps[0].words), (None, &shorten(3.5)));
    }

    /// A dog that came out 0.5 mm too high is left so: its plan would take it down.
    #[test]
    fn figures_as_got_are_those_without_more_work() {
        let analysis = Analysis::of(&cut_down());
        let typed = BTreeMap::from([((1, 2), "3".to_owned())]);
        let got = as_got(&analysis, Side::A, &typed, DisplayUnits::default()).expect("it is read");
        let got = Analysis::of(&got);
        assert_eq!(got.ring(Side::A).dogs[1].height_mm, 3.0);
        assert_eq!(got.cut.a, got.found.a);
        let planned = as_got(&analysis, Side::A, &BTreeMap::new(), DisplayUnits::default());
        let planned = Analysis::of(&planned.expect("nothing is typed"));
        assert!((planned.ring(Side::A).dogs[1].height_mm - 2.5).abs() < 1e-12);
        assert!((planned.overlap_mm() - analysis.overlap_mm()).abs() < 1e-9);
    }

    /// A ring measured to be what was planned meshes as the one that was planned.
    #[test]
    fn the_nominal_sizes_typed_back_make_the_same_windows() {
        let design = cut_down();
        let analysis = Analysis::of(&design);
        let typed = BTreeMap::from([((0, 2), "4.98 mm".to_owned())]);
        let measured =
            retyped(&analysis, Side::A, &typed, DisplayUnits::default()).expect("it is read");
        let told: Vec<_> = measured.says.iter().map(|one| one.show(Reader::default())).collect();
        assert_eq!(
            told,
            [
                "Done and removed from the plan: Narrow coast flank, Lap tips.",
                "Left in the plan where a size is still too large: Shorten, Break edges.",
            ]
        );
        let measured = measured.design;
        let after = Analysis::of(&measured);
        assert_eq!(after.found.a.metal(), after.cut.a.metal(), "nothing comes off twice");
        let full = |design: &Design| Analysis::of(design).overlap_mm();
        assert!((full(&design) - full(&measured)).abs() < 1e-9, "the stop stays where it is");
        let windows = |design: &Design| {
            let pair = Analysis::of(design).worked.pair.expect("it meshes");
            pair.mesh.windows_at(full(design), Edges::Broken)
        };
        let (planned, typed) = (windows(&design), windows(&measured));
        assert!(!planned.is_empty() && planned.len() == typed.len(), "{planned:?} {typed:?}");
        for (was, is) in planned.iter().zip(&typed) {
            assert!((was.width - is.width).radians().abs() < 2e-4, "{was:?} {is:?}");
        }
    }

    /// Half of the work: dogs 2 and 4 are down, 2.56 mm within its tolerance, dog 6 is not; dog 1 is
    /// narrowed, 3 and 5 are not.
    #[test]
    fn what_is_not_done_stays_in_the_plan() {
        let analysis = Analysis::of(&cut_down());
        let wide = [(2, 120.0), (4, 240.0)].into_iter().flat_map(|(place, centre)| {
            [((place, 0), format!("{centre}")), ((place, 1), "24".to_owned())]
        });
        let high = [((1, 2), "2.56".to_owned()), ((5, 2), "5".to_owned())];
        let typed = wide.chain(high).collect();
        let taken = retyped(&analysis, Side::A, &typed, DisplayUnits::default()).expect("read");
        let plan = &taken.design.a.plan.operations;
        let on = |at: usize| (plan[at].work, plan[at].places.iter().copied().collect::<Vec<_>>());
        assert_eq!(on(0), (Work::cut(Cut::Shorten(2.5)), vec![1, 3, 5]));
        assert_eq!(on(1), (Work::narrow(FlankSide::Coast, 0.4), vec![2, 4]));
        // With dog 6 down too, 2.56 mm is what it came out at, and nothing more comes off.
        let typed = BTreeMap::from([((1, 2), "2.56".to_owned())]);
        let taken = retyped(&analysis, Side::A, &typed, DisplayUnits::default()).expect("read");
        let shorten = taken.design.a.plan.operations[0].work;
        assert_eq!(shorten, Work::cut(Cut::Shorten(2.56)));
        assert_eq!(Analysis::of(&taken.design).ring(Side::A).dogs[1].height_mm, 2.56);
    }

    #[test]
    fn what_cannot_be_read_is_all_told_at_once() {
        let typed = BTreeMap::from([
            ((0, 1), "wide".to_owned()),
            ((2, 2), "80".to_owned()),
            ((3, 0), "180.2".to_owned()),
        ]);
        let analysis = Analysis::of(&cut_down());
        let wrong = retyped(&analysis, Side::A, &typed, DisplayUnits::default()).unwrap_err();
        assert_eq!(wrong.len(), 2, "{wrong:?}");
        let codes: Vec<_> = wrong.iter().map(|one| one.code).collect();
        assert_eq!(codes, ["typed_no_number", "out_of_limits"]);
        let first = wrong[0].text(Reader::default());
        assert!(first.starts_with("Ring A, dog 1, "), "{first}");
    }
}
