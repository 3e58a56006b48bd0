//! The bench check: what is measured with the case open, in each position of the drum, and what it should be.

use crenel_words::{Message, Phrase, Value, inspection as say};

use crate::analysis::Analysis;
use crate::design::{DepthSpec, LinkSpec};
use crate::fields::{FieldId, Slot};
use crate::limits::{gap_bounds_mm, wanted_depth_mm};
use crate::stack::Facing;
use crate::units::Quantity;

/// One thing to measure. Its row in [`BENCH`] defines all of it.
pub struct BenchCheck {
    /// The position of the drum.
    pub detent: Phrase,
    /// The gauge.
    pub gauge: Phrase,
    /// The number that is measured, which says how.
    pub field: FieldId,
    /// The function that gives what is expected, from what is known of the gearbox.
    of: fn(&Analysis) -> Expected,
}

/// What a measurement should be, mm, as far as it is known.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Expected {
    /// At the sizes given.
    pub nominal: Option<f64>,
    /// Least that is good.
    pub least: Option<f64>,
    /// Most that is good.
    pub most: Option<f64>,
}

/// Everything that is measured on the bench, by the position of the drum.
pub static BENCH: [BenchCheck; 6] = [
    BenchCheck {
        detent: say::neutral,
        gauge: say::feeler,
        field: FieldId::SeenClearanceThis,
        of: |analysis| clearance(analysis, Facing::This),
    },
    BenchCheck {
        detent: say::neutral,
        gauge: say::feeler,
        field: FieldId::SeenClearanceOther,
        of: |analysis| clearance(analysis, Facing::Other),
    },
    BenchCheck {
        detent: say::in_gear,
        gauge: say::depth_gauge,
        field: FieldId::SeenOverlap,
        of: |analysis| Expected {
            nominal: analysis
                .selector
                .depth
                .as_ref()
                .and_then(|depth| depth.given(Facing::This))
                .map(|depth| depth.pushed_in_mm(Facing::This)),
            least: Some(wanted_depth_mm(analysis)),
            most: None,
        },
    },
    BenchCheck {
        detent: say::in_gear,
        gauge: say::feeler,
        field: FieldId::SeenForkPlay,
        of: |analysis| Expected {
            nominal: analysis.selector.depth.as_ref().map(|depth| depth.play_mm),
            ..Expected::default()
        },
    },
    BenchCheck {
        detent: say::at_stop,
        gauge: say::feeler,
        field: FieldId::SeenGapLift,
        of: stop_gap,
    },
    BenchCheck {
        detent: say::at_stop,
        gauge: say::feeler,
        field: FieldId::SeenGapPress,
        of: stop_gap,
    },
];

/// The clearance in neutral with the gear pushed towards a pair: as the chain has it, worst case, and never 0.
fn clearance(analysis: &Analysis, facing: Facing) -> Expected {
    let depth = analysis.selector.depth.as_ref();
    let Some(depth) = depth.and_then(|depth| depth.given(facing)) else {
        return Expected { least: Some(0.0), ..Expected::default() };
    };
    let nominal = depth.clearance_mm(facing) - depth.play_mm / 2.0;
    let most = nominal + depth.chain(facing).worst_mm();
    let least = depth.least_clearance_mm(facing).max(0.0);
    Expected { nominal: Some(nominal), least: Some(least), most: Some(most.max(least)) }
}

fn stop_gap(analysis: &Analysis) -> Expected {
    let Some(strokes) = analysis.selector.strokes() else { return Expected::default() };
    let [least, most] = gap_bounds_mm(strokes.claw.wanted_mm);
    Expected { nominal: Some(strokes.claw.wanted_mm), least: Some(least), most: Some(most) }
}

impl BenchCheck {
    /// What it should be.
    pub fn expected(&self, analysis: &Analysis) -> Expected {
        (self.of)(analysis)
    }

    /// Where the measured number is kept.
    pub const fn slot(&self) -> Slot {
        Slot::Seen(self.field)
    }
}

impl Expected {
    /// The nominal number; `None` if nothing is known.
    pub fn nominal_words(self) -> Option<Message> {
        Some(say::expected(Value::Result(Quantity::Length, self.nominal?)))
    }

    /// Its limits.
    pub fn limit_words(self) -> Option<Message> {
        let least = self.least.map(|mm| Value::AtLeast(Quantity::Length, mm));
        let most = self.most.map(|mm| Value::AtMost(Quantity::Length, mm));
        match (least, most) {
            (Some(least), Some(most)) => Some(say::between(least, most)),
            (Some(least), None) => Some(say::no_less(least)),
            _ => None,
        }
    }

    /// Whether a measured number is good, and by how much it is not; `None` if no limit is known.
    pub fn judge(self, got_mm: f64) -> Option<(bool, Message)> {
        let by = |mm: f64| Value::Result(Quantity::Length, mm);
        match (self.least, self.most) {
            (Some(least), _) if got_mm < least => Some((false, say::below(by(least - got_mm)))),
            (_, Some(most)) if got_mm > most => Some((false, say::above(by(got_mm - most)))),
            (None, None) => None,
            _ => Some((true, say::good())),
        }
    }
}

/// The parts along the shaft on one side of the sliding gear, in the order in which they are given.
pub fn parts_in_order(depth: &DepthSpec, facing: Facing) -> Vec<Message> {
    depth.chains[facing].iter().map(part).collect()
}

fn part(link: &LinkSpec) -> Message {
    let [size, tolerance] =
        [FieldId::LinkSize, FieldId::LinkTolerance].map(|id| link.field(id).unwrap_or_default());
    let way = if link.opens { "opens" } else { "takes" };
    match link.name.trim() {
        "" => say::nameless(size, tolerance, way),
        name => say::link(name.to_owned(), size, tolerance, way),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, Trace};
    use crenel_words::Reader;

    fn known() -> Analysis {
        Analysis::of(&Design { depth: Some(DepthSpec::example()), ..Design::default() })
    }

    /// 31.4 − 20 − 10.2 is 1.2 mm, less half of 0.2 mm of play; worst case ±0.13 mm.
    #[test]
    fn limits_are_those_of_the_chain_worst_case() {
        let expected = BENCH[0].expected(&known());
        let near = |one: Option<f64>, want: f64| one.is_some_and(|mm| (mm - want).abs() < 1e-9);
        assert!(near(expected.nominal, 1.1) && near(expected.least, 0.97), "{expected:?}");
        assert!(near(expected.most, 1.23), "{expected:?}");
        let overlap = BENCH[2].expected(&known());
        assert!(near(overlap.nominal, 5.8 - 1.2 - 0.1) && near(overlap.least, 3.75), "{overlap:?}");
    }

    #[test]
    fn a_measured_number_is_good_or_off_by_so_much() {
        let expected = Expected { nominal: None, least: Some(0.9), most: Some(1.2) };
        let told = |mm: f64| {
            let (good, words) = expected.judge(mm).expect("limits are known");
            (good, words.show(Reader::default()))
        };
        assert_eq!(told(1.0), (true, "good".to_owned()));
        assert_eq!(told(0.7), (false, "0.2 mm too small".to_owned()));
        assert_eq!(told(1.3), (false, "0.1 mm too large".to_owned()));
        assert_eq!(Expected::default().judge(1.0), None);
    }

    #[test]
    fn every_check_has_a_number_that_can_be_typed_back_and_says_how() {
        for check in &BENCH {
            assert!(Trace::FIELDS.contains(&check.field));
            assert_eq!(check.slot(), Slot::Seen(check.field));
            let nothing = check.expected(&Analysis::of(&Design::default()));
            assert_eq!(nothing.nominal, None, "{:?}: nothing is made up", check.field);
        }
    }

    #[test]
    fn parts_keep_the_order_in_which_they_are_given() {
        let mut depth = DepthSpec::example();
        depth.chains[Facing::This].push(LinkSpec::new("", 0.5, 0.01, false));
        let told: Vec<_> = parts_in_order(&depth, Facing::This)
            .iter()
            .map(|part| part.show(Reader::default()))
            .collect();
        assert_eq!(
            told,
            [
                "wall to tips of ring B: 31.4 mm ±0.05 mm, opens the clearance",
                "wall to fork, in neutral: 20 mm ±0.05 mm, takes from it",
                "groove to tips of ring A: 10.2 mm ±0.03 mm, takes from it",
                "No name: 0.5 mm ±0.01 mm, takes from it",
            ]
        );
    }
}
