//! The numbers of a design, each with its formula, its working and its source.
//!
//! `FIGURES` is the catalogue. A figure is one row in the file of its group: results, files, comparison,
//! the list of formulas and the schema of the report read the rows, and nothing else matches on a figure.
//! A figure that a sentence speaks of has a name of its own, so that no key is looked up.

mod blow;
mod context;
mod depth;
#[cfg(test)]
mod dummy;
mod entry;
mod figure;
mod lash;
mod metal;
mod moment;
mod selector;
mod shift;
mod strength;
mod time;

pub use blow::CLUNK;
#[cfg(test)]
pub(crate) use dummy::DUMMY;
pub use entry::{ENTRY_WINDOWS, FREE_ANGLE, WIDTH_TO_HOLD};
pub use figure::{Better, Figure, FigureValue, Group, needs};
pub use lash::{
    FULL_DEPTH, LASH, LASH_AT_MEAN_RADIUS, LASH_AT_TYRE, LASH_AT_WHEEL, PAIRS_MEETING_DRIVE,
};
pub use moment::moment_words;
pub use shift::{
    HALF_IN, HANGS, IN_AFTER_RUBBING, SHIFT_ENDING, SHIFT_TIME, STRAIGHT_IN, THROWN_BACK,
};
pub use strength::{
    FLANK_PRESSURE, HOLDING_FORCE, OVERRUN_COMBINED, OVERRUN_HOLDING, OVERRUN_PRESSURE, PULL_IN,
    PULL_OUT, ROOT_COMBINED, ROOT_SHEAR,
};
pub use time::{STRAIGHT_IN_LIMIT, TRAVEL_TIME, WINDOW_TIME};

use self::context::Context;
use crate::model::Worked;

/// Every figure there is, a list for each file, in the order of the headings.
static FIGURES: &[&[&Figure]] = &[
    entry::ROWS,
    lash::ROWS,
    time::ROWS,
    shift::ROWS,
    blow::ROWS,
    strength::ROWS,
    metal::ROWS,
    #[cfg(test)]
    dummy::ROWS,
    selector::ROWS,
    depth::ROWS,
];

const GEOMETRY: &str = "Plane geometry of the ring (derived).";

/// The catalogue: every figure that a design can have, in the order of the headings.
pub fn catalogue() -> impl Iterator<Item = &'static Figure> {
    FIGURES.iter().copied().flatten().copied()
}

/// Every figure that a design has, in the order of the headings. Figures of the pair are absent where an
/// error keeps it from being worked out, and those of other parts where these are not given.
pub fn figures(worked: &Worked) -> Vec<FigureValue> {
    let context = Context::new(worked);
    catalogue().filter_map(|figure| figure.value(&context)).collect()
}

/// Some figures of a design, in the order given, for those that it has.
pub fn some_figures(
    rows: impl IntoIterator<Item = &'static Figure>,
    worked: &Worked,
) -> Vec<FigureValue> {
    let context = Context::new(worked);
    rows.into_iter().filter_map(|figure| figure.value(&context)).collect()
}

/// Every figure that has a limit.
pub(crate) fn limited() -> impl Iterator<Item = &'static Figure> {
    catalogue().filter(|figure| figure.limit.is_some())
}

/// The numbers of some figures of a design, for those that it has.
pub(crate) fn numbers(
    figures: impl IntoIterator<Item = &'static Figure>,
    worked: &Worked,
) -> Vec<(&'static Figure, f64)> {
    let context = Context::new(worked);
    let number = |figure: &'static Figure| Some((figure, figure.value(&context)?.value?));
    figures.into_iter().filter_map(number).collect()
}

/// Every figure of the pair; empty where an error keeps it from being worked out.
pub(crate) fn pair_figures(worked: &Worked) -> Vec<FigureValue> {
    let context = Context::new(worked);
    let of_pair = catalogue().filter(|figure| figure.is_of_pair());
    of_pair.filter_map(|figure| figure.value(&context)).collect()
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
fn count(n: usize) -> f64 {
    n as f64
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::analysis::Analysis;
    use crate::design::gallery;

    #[test]
    fn keys_are_unique_and_figures_stand_in_the_order_of_the_headings() {
        let keys: BTreeSet<_> = catalogue().map(|figure| figure.key).collect();
        assert_eq!(keys.len(), catalogue().count());
        let place = |figure: &Figure| Group::ALL.iter().position(|group| *group == figure.group);
        let places: Vec<_> = catalogue().map(place).collect();
        assert!(places.is_sorted(), "{places:?}");
        let headings: BTreeSet<_> = places.into_iter().collect();
        assert_eq!(headings.len(), Group::ALL.len());
    }

    #[test]
    fn every_figure_is_one_of_a_design_of_the_gallery() {
        let mut given = BTreeSet::new();
        for example in gallery() {
            for value in figures(&Analysis::of(&example.design())) {
                let working = value.working.show(Default::default());
                assert!(!working.is_empty(), "{:?}", value.figure);
                let words = value.words.iter().all(|said| (value.figure.words)().contains(said));
                assert!(words, "{:?} says {:?}", value.figure, value.words);
                assert_eq!(value.words.is_some(), !(value.figure.words)().is_empty());
                given.insert(value.figure.key);
            }
        }
        let missing: Vec<_> = catalogue().filter(|f| !given.contains(f.key)).collect();
        assert!(missing.is_empty(), "{missing:?}");
    }

    #[test]
    fn every_figure_says_what_it_is_how_and_whence() {
        for figure in catalogue() {
            let told = [figure.label, figure.formula, figure.source, figure.meaning];
            assert!(told.iter().all(|text| !text.is_empty()), "{figure:?}: {told:?}");
            let length = figure.meaning.chars().count();
            assert!((40..=240).contains(&length), "{figure:?}: {length} characters");
            assert!(figure.meaning.ends_with('.'), "{figure:?}");
            assert!(figure.meaning.matches(". ").count() <= 1, "{figure:?}: over two sentences");
        }
    }

    /// Two rings have the same figures, and only those may share their words.
    #[test]
    fn no_two_figures_have_the_same_meaning() {
        let alike = |figure: &Figure| figure.key.trim_start_matches(['a', 'b']).to_owned();
        let mut seen = BTreeSet::new();
        let kinds: BTreeSet<_> = catalogue().map(|f| (alike(f), f.meaning)).collect();
        let twice: Vec<_> = kinds.into_iter().filter(|(_, words)| !seen.insert(*words)).collect();
        assert!(twice.is_empty(), "{twice:?}");
    }
}
