//! The list of the dogs, and what they have alike.

use crenel_words::{Message, Phrase, Reader, Value, drawing as say};

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
    head: Phrase,
    /// The number in a sentence on all dogs.
    says: fn(String) -> Message,
    /// Its unit in the column.
    unit: &'static str,
    /// The number.
    of: fn(&DogSpec) -> f64,
}

/// Traits that have a column only where dogs differ in them.
static TRAITS: [Trait; 4] = [
    Trait {
        head: say::drive_undercut,
        says: say::trait_drive_undercut,
        unit: "°",
        of: |dog| dog.back_cut_drive_deg,
    },
    Trait {
        head: say::coast_undercut,
        says: say::trait_coast_undercut,
        unit: "°",
        of: |dog| dog.back_cut_coast_deg,
    },
    Trait {
        head: say::edge_break,
        says: say::trait_edge_break,
        unit: "",
        of: |dog| dog.edge_break_mm,
    },
    Trait {
        head: say::root_fillet,
        says: say::trait_root_fillet,
        unit: "",
        of: |dog| dog.root_fillet_mm,
    },
];

impl Trait {
    fn differs(&self, dogs: &[Listed]) -> bool {
        dogs.windows(2).any(|two| (self.of)(two[0].1) != (self.of)(two[1].1))
    }
}

/// The list of the dogs: what each is to be, and what to do with it.
pub(super) fn columns(spec: &RingSpec, dogs: &[Listed], reader: Reader) -> Vec<Column> {
    let all = |of: &dyn Fn(&Listed) -> f64| dogs.iter().map(of).collect::<Vec<_>>();
    let ring = spec.to_cut();
    let left = |&(place, _): &Listed| ring.at_place(place).map_or(0.0, |dog| dog.height_mm);
    let numbers = dogs.iter().map(|(place, _)| (place + 1) as f64).collect::<Vec<_>>();
    let column =
        |head: Phrase, values: &[f64], unit| Column::numbers(head().show(reader), values, unit);
    let mut columns = vec![
        column(say::dog, &numbers, ""),
        column(say::centre, &all(&|(_, d)| d.centre_deg.rem_euclid(360.0)), "°"),
        column(say::width, &all(&|(_, d)| d.tip_width_deg), "°"),
        column(say::height, &all(&left), ""),
    ];
    for own in TRAITS.iter().filter(|own| own.differs(dogs)) {
        columns.push(column(own.head, &all(&|(_, d)| (own.of)(d)), own.unit));
    }
    let orders = dogs.iter().map(|&(place, dog)| order(spec, place, dog).show(reader)).collect();
    columns.push(Column::words(say::work().show(reader), orders));
    columns
}

/// The lowest levels that are cut.
pub(super) fn levels(cells: Vec<String>, reader: Reader) -> Column {
    Column::words(say::cut_to().show(reader), cells)
}

/// What is done to a dog: removed or cut down in words, other work by the number of its operation.
fn order(spec: &RingSpec, place: usize, dog: &DogSpec) -> Value {
    let operations = spec.plan.operations.iter().enumerate();
    let others = operations.filter(|(_, o)| o.is_on(place) && o.work.to_cut().is_none());
    let mut works: Vec<Value> = others.map(|(at, _)| say::op(at).into()).collect();
    match spec.plan.cut_of(place) {
        Some(Cut::Remove) => return say::remove().into(),
        Some(Cut::Shorten(_)) => works.insert(0, say::shorten_from(mm(dog.height_mm)).into()),
        None if works.is_empty() => return say::keep().into(),
        None => {}
    }
    Value::List(works)
}

/// What all dogs have alike.
pub(super) fn alike(spec: &RingSpec, dogs: &[Listed], reader: Reader) -> String {
    let form = match spec.form {
        PlanForm::Radial => "radial",
        PlanForm::Parallel => "parallel",
    };
    let mean = mm((spec.inner_diameter_mm + spec.outer_diameter_mm) / 2.0);
    let flanks = say::flanks(form, mean).show(reader);
    let alike = TRAITS.iter().filter(|own| !own.differs(dogs));
    let told = alike.zip(dogs.first().into_iter().cycle());
    let told: Vec<_> = told.map(|(own, (_, dog))| (own.says)(mm((own.of)(dog))).into()).collect();
    if told.is_empty() {
        return flanks;
    }
    // Two sentences of one paragraph.
    flanks + " " + &say::all_dogs(told).show(reader)
}
