//! The list of the dogs, and what they have alike.

use super::mm;
use super::notes::Column;
use crate::design::{Cut, DogSpec, RingSpec};
use crate::ring::PlanForm;

/// A dog as found, with its place.
pub(super) type Listed<'a> = (usize, &'a DogSpec);

/// The dogs that are there to be cut or kept: empty places of an even ring are not.
pub(super) fn listed(found: &[DogSpec]) -> Vec<Listed<'_>> {
    found.iter().enumerate().filter(|(_, dog)| dog.height_mm > 0.0).collect()
}

/// What a dog may have of its own.
struct Trait {
    /// Head of its column.
    head: &'static str,
    /// What goes before and after the number in a sentence.
    words: [&'static str; 2],
    /// The number.
    of: fn(&DogSpec) -> f64,
}

/// Traits that have a column only where dogs differ in them.
static TRAITS: [Trait; 4] = [
    Trait { head: "drive cut", words: ["drive back-cut ", "°"], of: |dog| dog.back_cut_drive_deg },
    Trait { head: "coast cut", words: ["coast back-cut ", "°"], of: |dog| dog.back_cut_coast_deg },
    Trait { head: "edge", words: ["edge break ", ""], of: |dog| dog.edge_break_mm },
    Trait { head: "fillet", words: ["root fillet R", ""], of: |dog| dog.root_fillet_mm },
];

impl Trait {
    fn differs(&self, dogs: &[Listed]) -> bool {
        dogs.windows(2).any(|two| (self.of)(two[0].1) != (self.of)(two[1].1))
    }
}

/// The list of the dogs: what each is to be, and what to do with it.
pub(super) fn columns(spec: &RingSpec, dogs: &[Listed]) -> Vec<Column> {
    let all = |of: &dyn Fn(&Listed) -> f64| dogs.iter().map(of).collect::<Vec<_>>();
    let ring = spec.to_cut();
    let left = |&(place, _): &Listed| ring.at_place(place).map_or(0.0, |dog| dog.height_mm);
    let numbers = dogs.iter().map(|(place, _)| (place + 1) as f64).collect::<Vec<_>>();
    let mut columns = vec![
        Column::numbers("dog", &numbers, ""),
        Column::numbers("centre", &all(&|(_, d)| d.centre_deg.rem_euclid(360.0)), "°"),
        Column::numbers("width", &all(&|(_, d)| d.tip_width_deg), "°"),
        Column::numbers("height", &all(&left), ""),
    ];
    for own in TRAITS.iter().filter(|own| own.differs(dogs)) {
        columns.push(Column::numbers(own.head, &all(&|(_, d)| (own.of)(d)), own.words[1]));
    }
    let orders = dogs.iter().map(|&(place, dog)| order(spec, place, dog)).collect();
    columns.push(Column::words("do", orders));
    columns
}

/// The lowest levels that are cut.
pub(super) const fn levels(cells: Vec<String>) -> Column {
    Column::words("cut to", cells)
}

/// What is done to a dog: removed or cut down in words, other work by the number of its operation.
fn order(spec: &RingSpec, place: usize, dog: &DogSpec) -> String {
    let operations = spec.plan.operations.iter().enumerate();
    let others = operations.filter(|(_, o)| o.is_on(place) && o.work.to_cut().is_none());
    let others: Vec<String> = others.map(|(at, _)| format!("op. {}", at + 1)).collect();
    let mut words = match spec.plan.cut_of(place) {
        Some(Cut::Remove) => return "remove".to_owned(),
        Some(Cut::Shorten(_)) => vec![format!("shorten from {}", mm(dog.height_mm))],
        None if others.is_empty() => return "keep".to_owned(),
        None => Vec::new(),
    };
    words.extend(others);
    words.join(", ")
}

/// What all dogs have alike, in a sentence.
pub(super) fn alike(spec: &RingSpec, dogs: &[Listed]) -> String {
    let flanks = match spec.form {
        PlanForm::Radial => "radial",
        PlanForm::Parallel => "parallel",
    };
    let mean = mm((spec.inner_diameter_mm + spec.outer_diameter_mm) / 2.0);
    let alike = TRAITS.iter().filter(|own| !own.differs(dogs));
    let list: Vec<String> = alike
        .zip(dogs.first().into_iter().cycle())
        .map(|(Trait { words: [before, after], of, .. }, (_, dog))| {
            format!("{before}{}{after}", mm(of(dog)))
        })
        .collect();
    let all = if list.is_empty() {
        String::new()
    } else {
        format!(" All dogs as found: {}.", list.join(", "))
    };
    format!("Flanks {flanks} in plan; widths are tip angles at Ø{mean}, as found.{all}")
}
