//! A plan of work in one line.

use crenel_words::{Message, Value, variant as say};

use crate::design::{Design, Operation, Work};
use crate::ring::{Ring, Side};

/// Which dogs of a ring work is done to.
#[derive(Clone, Debug, PartialEq)]
enum Dogs {
    All(Side),
    EverySecond(Side),
    AllOfBoth,
    EverySecondOfBoth,
    Listed(Vec<(Side, usize)>),
}

/// The plan of both rings in one line, as in “every second dog of both rings to 3.6 mm; drive flanks of all dogs of
/// ring A re-cut to 3°”.
///
/// ```
/// use crenel::{design::{Cut, Design, Plan}, rework::plan_summary};
/// let mut design = Design::default();
/// let second = || Plan::of_cuts([1, 3, 5].map(|place| (place, Cut::Shorten(3.6))));
/// (design.a.plan, design.b.plan) = (second(), second());
/// let told = plan_summary(&design).show(Default::default());
/// assert_eq!(told, "every second dog of both rings to 3.6 mm");
/// ```
pub fn plan_summary(design: &Design) -> Message {
    let mut parts: Vec<(Work, Dogs)> = Vec::new();
    for side in Side::BOTH {
        let found = design.ring(side).to_found();
        for operation in &design.ring(side).plan.operations {
            let Some(dogs) = dogs(&found, side, operation) else { continue };
            let joined = parts.iter().enumerate().find_map(|(at, (work, other))| {
                let same = *work == operation.work;
                Some((at, other.with(&dogs).filter(|_| same)?))
            });
            match joined {
                Some((at, both)) => parts[at].1 = both,
                None => parts.push((operation.work, dogs)),
            }
        }
    }
    if parts.is_empty() {
        return say::nothing_planned();
    }
    say::plan(parts.iter().map(|(work, dogs)| work.summary(dogs.words()).into()).collect())
}

/// The dogs of a ring as found that an operation is done to; `None` if it is done to none.
fn dogs(found: &Ring, side: Side, operation: &Operation) -> Option<Dogs> {
    let of_ring = found.dogs.iter().map(|dog| dog.place);
    let mut on: Vec<usize> = of_ring.filter(|place| operation.is_on(*place)).collect();
    let first = *on.first()?;
    let mut second = found.every_second(first);
    second.sort_unstable();
    on.sort_unstable();
    Some(if on.len() == found.dogs.len() {
        Dogs::All(side)
    } else if on.len() > 1 && on == second {
        Dogs::EverySecond(side)
    } else {
        Dogs::Listed(on.into_iter().map(|place| (side, place)).collect())
    })
}

impl Dogs {
    /// The same on both rings, if the two can be said together.
    fn with(&self, other: &Self) -> Option<Self> {
        match (self, other) {
            (Self::All(Side::A), Self::All(Side::B)) => Some(Self::AllOfBoth),
            (Self::EverySecond(Side::A), Self::EverySecond(Side::B)) => {
                Some(Self::EverySecondOfBoth)
            }
            (Self::Listed(these), Self::Listed(those)) => {
                Some(Self::Listed([these.as_slice(), those].concat()))
            }
            _ => None,
        }
    }

    fn words(&self) -> Message {
        let name = |(side, place): &(Side, usize)| {
            Value::Verbatim(format!("{}{}", side.letter(), place + 1))
        };
        match self {
            Self::All(side) => say::all_dogs(*side),
            Self::EverySecond(side) => say::every_second(*side),
            Self::AllOfBoth => say::all_of_both(),
            Self::EverySecondOfBoth => say::every_second_of_both(),
            Self::Listed(dogs) => say::dogs(dogs.iter().map(name).collect()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::open;
    use crenel_words::Reader;

    fn told(a: &str, b: &str) -> String {
        let text = format!(r#"{{ "crenel": 1, "a": {{ {a} }}, "b": {{ {b} }} }}"#);
        plan_summary(&open(&text).expect("it opens").design).show(Reader::default())
    }

    #[test]
    fn a_plan_is_told_in_one_line() {
        let cases = [
            ("", "", "no work planned"),
            (
                r#""cuts": { "1": 3.6, "3": 3.6, "5": 3.6 }"#,
                r#""cuts": { "2": 3.6, "4": 3.6, "6": 3.6 }"#,
                "every second dog of both rings to 3.6 mm",
            ),
            (
                r#""plan": [{ "do": "recut_drive", "recut_to_deg": 3, "dogs": [1, 2, 3, 4, 5, 6] }]"#,
                r#""cuts": { "2": "remove" }"#,
                "drive flanks of all dogs of ring A re-cut to 3°; B2 removed",
            ),
            (
                r#""plan": [{ "do": "break", "break_to_mm": 0.5, "dogs": [1, 2] }, { "do": "lap", "lap_stock_mm": 0.1 }]"#,
                r#""plan": [{ "do": "lap", "lap_stock_mm": 0.1 }, { "do": "break", "break_to_mm": 0.5, "dogs": [4] }]"#,
                "tip edges of A1, A2 and B4 broken to 0.5 mm; 0.1 mm lapped off the tips of all dogs of both rings",
            ),
            // A dog that is not there is not named.
            (r#""count": 3, "cuts": { "2": "remove", "5": "remove" }"#, "", "A2 removed"),
            (r#""count": 3, "cuts": { "5": "remove" }"#, "", "no work planned"),
            // Of two dogs one is named, not “every second”.
            (r#""count": 2, "cuts": { "2": 2.5 }"#, "", "A2 to 2.5 mm"),
        ];
        for (a, b, want) in cases {
            assert_eq!(told(a, b), want);
        }
    }
}
