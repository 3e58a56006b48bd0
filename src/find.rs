//! Finding a number, a result, a word of the trade or an example by a few letters of its name.
//!
//! Every word that is typed must occur in the name, in any order. A number at the end is a value to set:
//! `width a1 24`.

use crenel_words::{Reader, Words};

use crate::design::{Design, Example, Layout, SYMPTOMS, Symptom, gallery};
use crate::fields::Slot;
use crate::figures::{Figure, catalogue};
use crate::glossary::{TERMS, Term};

/// How many are listed of each kind.
const MOST: usize = 6;

/// What was found.
#[derive(Clone, Copy)]
pub enum Target {
    /// A number of the design.
    Number(Slot),
    /// A result.
    Result(&'static Figure),
    /// A word of the trade.
    Term(&'static Term),
    /// What a rider feels.
    Symptom(&'static Symptom),
    /// An invented design.
    Example(&'static Example),
}

/// One thing that was found.
#[derive(Clone)]
pub struct Found {
    /// What it is.
    pub target: Target,
    /// Its name in the reader’s language.
    pub name: String,
    /// The value that was typed after the name of a number, in the unit of its field.
    pub value: Option<f64>,
}

/// Everything in a design whose name has all words of the query, the best of each kind first. An empty query
/// finds nothing.
///
/// ```
/// use crenel::{design::example, fields::{FieldId, Slot}, find::{Target, find}, ring::Side};
/// let found = find(&example(), Default::default(), "width a1 24");
/// assert!(matches!(found[0].target, Target::Number(Slot::Ring(Side::A, FieldId::TipWidth))));
/// assert_eq!(found[0].value, Some(24.0));
/// ```
pub fn find(design: &Design, reader: Reader, query: &str) -> Vec<Found> {
    if query.trim().is_empty() {
        return Vec::new();
    }
    let slots = design.slots().into_iter().filter(|slot| design.get(*slot).is_some());
    let numbers = slots.filter_map(|slot| number(design, reader, query, slot));
    let named = |target: Target, name: String| {
        Some((closeness(query, &name)?, Found { target, name, value: None }))
    };
    let results = catalogue()
        .filter_map(|figure| named(Target::Result(figure), said(&figure.name(), reader)));
    let terms = TERMS.iter().filter_map(|term| {
        let also = term.synonyms().map(|also| said(&also, reader)).unwrap_or_default();
        let (close, found) =
            named(Target::Term(term), format!("{} {also}", said(&term.word(), reader)))?;
        Some((close, Found { name: said(&term.word(), reader), ..found }))
    });
    let symptoms = SYMPTOMS.iter().filter_map(|symptom| {
        let name = said(&symptom.label(), reader);
        let known = format!("{name} {}", said(&symptom.synonyms(), reader));
        let (close, found) = named(Target::Symptom(symptom), known)?;
        Some((close, Found { name, ..found }))
    });
    let examples = gallery()
        .iter()
        .filter_map(|example| named(Target::Example(example), said(&example.name(), reader)));
    [best(numbers), best(results), best(symptoms), best(terms), best(examples)].concat()
}

fn said(words: &impl Words, reader: Reader) -> String {
    words.words(reader).into_owned()
}

/// A number of the design, if it is meant. Its own name may end in a number, so that is tried first.
fn number(design: &Design, reader: Reader, query: &str, slot: Slot) -> Option<(u32, Found)> {
    let name = slot.words().show(reader);
    let names = format!("{name} {}", short_names(design, slot));
    let found =
        |close, value| (close, Found { target: Target::Number(slot), name: name.clone(), value });
    if let Some(close) = closeness(query, &names) {
        return Some(found(close, None));
    }
    let (words, typed) = query.trim().rsplit_once(' ')?;
    let close = closeness(words, &names)?;
    let value = slot.read(typed, reader.units).ok()?;
    Some(found(close, Some(value)))
}

/// What a builder calls the place of a number: A3, or any dog of a ring whose dogs are alike.
fn short_names(design: &Design, slot: Slot) -> String {
    match slot {
        Slot::Ring(side, _) if matches!(design.ring(side).layout, Layout::Even(_)) => {
            let dogs = 1..=design.ring(side).places();
            dogs.map(|dog| format!("{}{dog} ", side.letter())).collect()
        }
        Slot::Dog(side, place, _) => format!("{}{}", side.letter(), place + 1),
        _ => String::new(),
    }
}

/// The best of them, the closest first and otherwise in their order.
fn best(found: impl Iterator<Item = (u32, Found)>) -> Vec<Found> {
    let mut found: Vec<_> = found.collect();
    found.sort_by_key(|(close, _)| std::cmp::Reverse(*close));
    found.into_iter().take(MOST).map(|(_, found)| found).collect()
}

/// How well a name fits what is typed; `None` if a word of it is missing. A word that is whole counts most,
/// then the beginning of one, then letters within one.
pub fn closeness(query: &str, name: &str) -> Option<u32> {
    let name = name.to_lowercase();
    let words: Vec<_> = name.split(|c: char| !(c.is_alphanumeric() || c == '-')).collect();
    let of = |typed: &str| {
        if words.contains(&typed) {
            Some(4)
        } else if words.iter().any(|word| word.starts_with(typed)) {
            Some(2)
        } else if typed.chars().count() > 2 && name.contains(typed) {
            Some(1)
        } else {
            None
        }
    };
    let query = query.to_lowercase();
    let typed =
        query.split_whitespace().map(|word| word.trim_matches(|c: char| !c.is_alphanumeric()));
    typed.filter(|word| !word.is_empty()).map(of).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::fields::FieldId;
    use crate::ring::Side;
    use crate::units::{DisplayUnits, LengthUnit};

    fn first(query: &str) -> Found {
        find(&example(), Reader::default(), query).into_iter().next().expect("something is found")
    }

    #[test]
    fn what_a_rider_says_finds_the_symptom() {
        for (query, symptom) in [
            ("slow", Symptom::SLOW),
            ("stiff", Symptom::SLOW),
            ("won’t go in", Symptom::WILL_NOT),
            ("will not go in", Symptom::WILL_NOT),
            ("grinds", Symptom::GRINDS),
            ("graunches", Symptom::GRINDS),
            ("cold", Symptom::ONLY_COLD),
            ("only hot", Symptom::ONLY_HOT),
            ("shakes", Symptom::DUMMY),
        ] {
            let found = find(&example(), Reader::default(), query);
            let meant =
                found.iter().any(|f| matches!(f.target, Target::Symptom(s) if *s == symptom));
            assert!(meant, "{query}");
        }
    }

    #[test]
    fn words_are_found_in_any_order_and_the_whole_word_first() {
        for query in ["dog width ring a", "a1 width", "WIDTH A"] {
            let found = first(query);
            let meant =
                matches!(found.target, Target::Number(Slot::Ring(Side::A, FieldId::TipWidth)));
            assert!(meant, "{query}: {}", found.name);
            assert_eq!(found.value, None);
        }
    }

    #[test]
    fn other_words_for_the_cut_of_a_shift_find_it() {
        for query in ["ignition cut", "cut length", "quickshifter"] {
            let found = find(&example(), Reader::default(), query);
            let is_meant =
                |f: &Found| matches!(f.target, Target::Term(term) if term.name == "ignition cut");
            assert!(found.iter().any(is_meant), "{query}");
        }
    }

    #[test]
    fn a_number_after_the_name_is_read_in_the_units_of_the_reader() {
        let units = DisplayUnits { length: LengthUnit::Inch, ..DisplayUnits::default() };
        let reader = Reader { units, ..Reader::default() };
        let found = find(&example(), reader, "overlap 1/8");
        let value = found[0].value.expect("a value");
        assert!((value - 3.175).abs() < 1e-9, "{value}");
    }

    #[test]
    fn a_value_past_its_limit_finds_nothing_to_set() {
        assert!(find(&example(), Reader::default(), "overlap 5000").is_empty());
    }

    #[test]
    fn the_dogs_of_a_measured_ring_are_found_one_by_one() {
        let mut design = example();
        design.list_dogs(Side::B);
        let found = find(&design, Reader::default(), "width b3 20.5");
        assert!(matches!(
            found[0].target,
            Target::Number(Slot::Dog(Side::B, 2, FieldId::TipWidth))
        ));
        assert_eq!(found[0].value, Some(20.5));
    }

    #[test]
    fn results_words_and_examples_are_found_too() {
        let all = |query| find(&example(), Reader::default(), query);
        assert!(
            all("lash")
                .iter()
                .any(|f| matches!(f.target, Target::Result(f) if f.key == "lash_deg"))
        );
        assert!(all("undercut").iter().any(|f| matches!(f.target, Target::Term(_))));
        assert!(all("half height").iter().any(|f| matches!(f.target, Target::Example(_))));
        assert!(all("  ").is_empty() && all("no such thing").is_empty());
    }

    #[test]
    fn every_number_and_every_result_is_found_by_its_whole_name() {
        let design = example();
        let reader = Reader::default();
        for slot in design.slots().into_iter().filter(|slot| design.get(*slot).is_some()) {
            let found = find(&design, reader, &slot.words().show(reader));
            let has = found.iter().any(|f| matches!(f.target, Target::Number(of) if of == slot));
            assert!(has, "{slot:?}");
        }
        for figure in catalogue() {
            let found = find(&design, reader, &said(&figure.name(), reader));
            let has = found.iter().any(|f| matches!(f.target, Target::Result(of) if of == figure));
            assert!(has, "{figure:?}");
        }
    }
}
