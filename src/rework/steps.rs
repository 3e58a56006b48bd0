//! The operations of a plan one by one: what each takes off and what it leaves.

use crenel_words::{Message, Value, step as say};

use crate::analysis::Analysis;
use crate::design::{Operation, SettingField, Size};
use crate::ring::{DENSITY_G_PER_MM3, Ring, Side};
use crate::tolerance::{SizeLimits, size_limits};
use crate::units::Quantity;

/// One operation and its effect.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanStep {
    /// The instruction, with its number.
    pub words: Message,
    /// Whether it only breaks edges.
    pub edges_only: bool,
    /// The numbers of the dogs it is done to.
    pub dogs: Vec<usize>,
    /// Metal that it takes off, mm³. Edge breaks do not count.
    pub stock_mm3: f64,
    /// The same, g.
    pub stock_g: f64,
    /// By how much it lowers the inertia about the shaft, kg·mm².
    pub inertia_less_kg_mm2: f64,
    /// The most that this and all earlier operations take off its flank, on any dog it is done to, mm;
    /// 0 for work on other faces.
    pub off_flank_mm: f64,
    /// Depth of case left on that flank, mm; 0 if it is gone, `None` if no flank is cut or the dogs are
    /// hardened through.
    pub case_left_mm: Option<f64>,
}

impl PlanStep {
    /// Volume and mass that come off.
    pub fn stock_words(&self) -> Message {
        say::stock(self.stock_mm3, self.stock_g)
    }

    /// Depth of case left on the flank; `None` if it does not apply.
    pub fn case_left(&self) -> Option<Value> {
        self.case_left_mm.map(|left| Value::Number(Quantity::Length, left))
    }
}

/// Every operation on a ring, in order.
pub fn plan_steps(analysis: &Analysis, side: Side) -> Vec<PlanStep> {
    let case = analysis.design.setting.get(SettingField::CaseDepth);
    let found = &analysis.found[side];
    let mut ring = found.clone();
    let operations = &analysis.design.ring(side).plan.operations;
    let list = size_limits(analysis);
    let step = |operation: &Operation| {
        let before = std::mem::replace(&mut ring, found.clone());
        ring = operation.done_to(before.clone());
        let (was, is) = (before.metal(), ring.metal());
        let off_flank_mm = most_off(found, &ring, operation);
        let on_flank = operation.work.kind.flank().is_some();
        let volume = was.volume_mm3 - is.volume_mm3;
        PlanStep {
            words: limited(operation.work.instruction(&before), &list, side, operation),
            edges_only: operation.work.kind.size == Some(Size::Edge),
            dogs: before
                .dogs
                .iter()
                .filter(|dog| operation.is_on(dog.place))
                .map(|dog| dog.place + 1)
                .collect(),
            stock_mm3: volume,
            stock_g: volume * DENSITY_G_PER_MM3,
            inertia_less_kg_mm2: was.inertia_kg_mm2() - is.inertia_kg_mm2(),
            off_flank_mm,
            case_left_mm: (on_flank && case > 0.0).then(|| (case - off_flank_mm).max(0.0)),
        }
    };
    operations.iter().map(step).collect()
}

/// The most that is off the flank of an operation compared with the ring as found, mm; 0 for other work.
fn most_off(found: &Ring, now: &Ring, operation: &Operation) -> f64 {
    let Some(flank) = operation.work.kind.flank() else { return 0.0 };
    let dogs = now.dogs.iter().filter(|dog| operation.is_on(dog.place));
    let off =
        dogs.filter_map(|dog| Some(now.flank_stock_mm(found.at_place(dog.place)?, dog, flank)));
    off.fold(0.0, f64::max)
}

/// An instruction with the limits of the size that it makes, if a goal leaves less than its own tolerance.
fn limited(step: Message, list: &[SizeLimits], side: Side, operation: &Operation) -> Message {
    let Some(size @ (Size::Height | Size::Width)) = operation.work.kind.size else {
        return step;
    };
    let here = |one: &&SizeLimits| {
        (one.side(), one.size()) == (side, Some(size)) && operation.is_on(one.place())
    };
    let limits: Vec<_> = list.iter().filter(here).collect();
    if !limits.iter().any(|one| one.is_narrowed()) {
        return step;
    }
    let least =
        |of: fn(&SizeLimits) -> f64| limits.iter().map(|one| of(one)).fold(f64::MAX, f64::min);
    let (more, less) = (least(|one| one.limits.plus), least(|one| one.limits.minus));
    match size {
        // A width that comes out larger means that less came off the flank.
        Size::Width if more == 0.0 => say::only_larger(step, less),
        Size::Width => say::within(step, less, more),
        _ if more == 0.0 => say::only_smaller(step, less),
        _ => say::within(step, more, less),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Design;
    use crate::units::{DisplayUnits, LengthUnit};
    use crenel_words::Reader;

    /// Steps add up to what the whole plan takes off, and name the dogs that still stand.
    #[test]
    fn steps_add_up_to_the_plan() {
        let text = r#"{ "crenel": 1, "case_depth_mm": 0.5, "a": { "plan": [
            { "do": "remove", "dogs": [2, 4] },
            { "do": "narrow_coast", "flank_stock_mm": 0.3, "dogs": [1, 2, 3] },
            { "do": "lap", "lap_stock_mm": 0.05 } ] } }"#;
        let design: Design = crate::design::open(text).expect("it opens").design;
        let analysis = Analysis::of(&design);
        let steps = plan_steps(&analysis, Side::A);
        let sum: f64 = steps.iter().map(|step| step.stock_mm3).sum();
        let all = analysis.found.a.metal().volume_mm3 - analysis.cut.a.metal().volume_mm3;
        assert!((sum - all).abs() < 1e-9, "{sum} {all}");
        assert_eq!(steps[1].dogs, [1, 3], "dog 2 is gone by then");
        // At the outer end of a radial flank more comes off than at the mean diameter.
        let off = 0.3 * 30.0 / 26.0;
        assert!((steps[1].off_flank_mm - off).abs() < 1e-9, "{}", steps[1].off_flank_mm);
        assert!(steps[1].case_left_mm.is_some_and(|left| (left - (0.5 - off)).abs() < 1e-9));
        let inch = DisplayUnits { length: LengthUnit::Inch, ..DisplayUnits::default() };
        let readers = [Reader::default(), Reader { units: inch, ..Reader::default() }];
        // Two flanks of 5 mm lose 0.3 mm on 8 mm: 24 mm³ of steel at 7.85 g/cm³.
        let stock = readers.map(|reader| steps[1].stock_words().show(reader));
        assert_eq!(stock, ["24 mm³, 0.2 g", "0.0015 in³, 0.2 g"]);
        let case = readers.map(|reader| steps[1].case_left().map(|left| left.show(reader)));
        assert_eq!(case.map(Option::unwrap_or_default), ["0.15 mm", "0.006 in"]);
        assert_eq!(steps[0].case_left(), None);
        let size = |mm| Value::Size(Quantity::Length, mm);
        assert_eq!(steps[2].words, say::lap(size(4.95), size(0.05)));
    }
}
