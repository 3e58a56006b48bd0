//! Cautions about one cut: what may happen, to whom, and what to do first.

use crenel_words::{Message, caution as say};

use crate::analysis::Analysis;
use crate::design::{Operation, SettingField};
use crate::ring::{Dog, FlankSide, Ring, Side};

/// Stock below this is rounding, mm³ or mm.
const SAME: f64 = 1e-9;

/// At most so many cautions are under an offer; all are on the sheet.
const MOST: usize = 3;

/// The cautions about the work that `after` plans beyond `now`, three at most; empty if that removes no metal.
/// Heat and case come first, of flanks and of tips, then those of the kinds of work. They are common practice, no
/// source; the depth of case is that of the design.
pub(super) fn cut_cautions(now: &Analysis, after: &Analysis) -> Vec<Message> {
    let cuts = Side::BOTH.map(|side| Cut {
        was: &now.cut[side],
        done: &now.design.ring(side).plan.operations,
        after,
        side,
    });
    let mut cautions = cautions_of(&cuts);
    cautions.truncate(MOST);
    cautions
}

/// All cautions about the plan of one ring, from the ring as found.
pub(crate) fn plan_cautions(analysis: &Analysis, side: Side) -> Vec<Message> {
    cautions_of(&[Cut { was: &analysis.found[side], done: &[], after: analysis, side }])
}

/// The work on a ring beyond what was done to it before.
struct Cut<'a> {
    /// The ring before.
    was: &'a Ring,
    /// The operations that made it so.
    done: &'a [Operation],
    after: &'a Analysis,
    side: Side,
}

fn cautions_of(cuts: &[Cut]) -> Vec<Message> {
    if !cuts.iter().any(Cut::removes_metal) {
        return Vec::new();
    }
    let case =
        cuts.first().map_or(0.0, |cut| cut.after.design.setting.get(SettingField::CaseDepth));
    // A flank that has lost all its case has a finding, which also speaks against the cut.
    let thin = cuts.iter().filter_map(Cut::most_off_flank_mm).reduce(f64::max);
    let thin = thin.map(|off| (off, case - off));
    let thin = thin.filter(|(_, left)| *left > SAME).map(|(off, left)| say::thin_case(off, left));
    let soft = cuts.iter().filter_map(Cut::most_off_tip_mm).reduce(f64::max);
    let soft = soft.filter(|off| case > 0.0 && *off >= case);
    let soft = soft.map(|off| say::core_tips(off, case));
    let mut cautions = vec![say::heat()];
    cautions.extend(thin.into_iter().chain(soft));
    for caution in cuts.iter().flat_map(Cut::of_kinds) {
        if !cautions.contains(&caution) {
            cautions.push(caution);
        }
    }
    cautions
}

impl Cut<'_> {
    fn is(&self) -> &Ring {
        &self.after.cut[self.side]
    }

    fn removes_metal(&self) -> bool {
        self.was.metal().volume_mm3 - self.is().metal().volume_mm3 > SAME
    }

    /// The most that is off a tip which the work cuts down, mm since the ring was found.
    fn most_off_tip_mm(&self) -> Option<f64> {
        let off = |dog: &Dog| {
            let was = self.was.at_place(dog.place)?;
            (dog.cut_down_mm - was.cut_down_mm > SAME).then_some(dog.cut_down_mm)
        };
        self.is().dogs.iter().filter_map(off).reduce(f64::max)
    }

    /// The most that is off a flank which the work cuts, mm since the ring was found; `None` if it cuts no
    /// flank.
    fn most_off_flank_mm(&self) -> Option<f64> {
        let off = |dog: &Dog, flank: FlankSide| {
            let found = self.after.found[self.side].at_place(dog.place)?;
            let off = |ring: &Ring| {
                let here = ring.at_place(dog.place);
                here.map_or(0.0, |dog| ring.flank_stock_mm(found, dog, flank))
            };
            let (was, is) = (off(self.was), off(self.is()));
            (is - was > SAME).then_some(is)
        };
        let dogs = self.is().dogs.iter();
        dogs.flat_map(|dog| FlankSide::BOTH.map(|flank| off(dog, flank))).flatten().reduce(f64::max)
    }

    /// The cautions of the kinds of work.
    fn of_kinds(&self) -> impl Iterator<Item = Message> {
        let operations = &self.after.design.ring(self.side).plan.operations;
        let is_new = |operation: &&Operation| !self.done.contains(operation);
        let kinds = operations.iter().filter(is_new).map(|operation| operation.work.kind);
        kinds.flat_map(|kind| kind.cautions).map(|caution| caution())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;

    /// Key and numbers of each caution about a plan on ring A, beyond another plan.
    fn beyond(now: &str, after: &str) -> Vec<(&'static str, Vec<f64>)> {
        let worked = |plan: &str| {
            let text =
                format!(r#"{{ "crenel": 1, "case_depth_mm": 0.8, "a": {{ "plan": [{plan}] }} }}"#);
            Analysis::of(&open(&text).expect("it opens").design)
        };
        let list = cut_cautions(&worked(now), &worked(after));
        list.iter()
            .map(|m| (m.key(), m.numbers().map(|(_, mm)| (mm * 100.0).round() / 100.0).collect()))
            .collect()
    }

    const LOWER: &str = r#"{ "do": "shorten", "shorten_to_mm": 2.5, "dogs": [2, 4, 6] }"#;
    const NARROW: &str = r#"{ "do": "narrow_coast", "flank_stock_mm": 0.3, "dogs": [1, 3] }"#;

    #[test]
    fn a_cut_has_the_cautions_of_what_it_cuts() {
        let heat = ("caution.heat", Vec::new());
        let wheel = ("caution.cut_off_wheel", Vec::new());
        // Half of 5 mm is more than a case of 0.8 mm.
        let soft = ("caution.core_tips", vec![2.5, 0.8]);
        assert_eq!(beyond("", LOWER), [heat.clone(), soft.clone(), wheel.clone()]);
        // 0.3 mm at Ø52 are 0.35 mm at Ø60, of 0.8 mm.
        let thin = ("caution.thin_case", vec![0.35, 0.45]);
        assert_eq!(beyond("", NARROW), [heat.clone(), thin.clone()]);
        assert_eq!(beyond(LOWER, &format!("{LOWER}, {NARROW}")), [heat.clone(), thin]);
        assert_eq!(
            beyond(NARROW, &format!("{NARROW}, {LOWER}")),
            [heat, soft, wheel],
            "the flank is cut already"
        );
    }

    #[test]
    fn dogs_that_are_removed_and_tips_that_are_lapped_have_cautions_of_their_own() {
        let keys =
            |plan: &str| beyond("", plan).into_iter().map(|(key, _)| key).collect::<Vec<_>>();
        let remove = r#"{ "do": "remove", "dogs": [2, 4, 6] }"#;
        let removed = ["caution.heat", "caution.fewer_dogs", "caution.cut_off_wheel"];
        assert_eq!(keys(remove), removed);
        let lap = r#"{ "do": "lap", "lap_stock_mm": 0.1 }"#;
        assert_eq!(keys(lap), ["caution.heat", "caution.lapped"]);
        // Three at most, and none twice.
        assert_eq!(keys(&format!("{remove}, {remove}, {lap}")), removed);
    }

    #[test]
    fn no_metal_removed_is_nothing_to_caution_about() {
        assert_eq!(beyond(LOWER, LOWER), []);
        assert_eq!(beyond("", r#"{ "do": "shorten", "shorten_to_mm": 5, "dogs": [2] }"#), []);
    }

    /// 0.9 mm at Ø60 is more than the case: a finding says so.
    #[test]
    fn a_case_that_is_gone_is_left_to_its_finding() {
        let deep = NARROW.replace("0.3", "0.8");
        assert_eq!(beyond("", &deep), [("caution.heat", Vec::new())]);
    }
}
