//! Every figure there is, with its formula and source, for readers who want to know how it is computed.

use std::sync::OnceLock;

use super::{Figure, Group, figures};
use crate::analysis::Analysis;
use crate::design::gallery;

/// A figure of each key in the order of the headings, as the first design of the gallery that has it
/// gives it. Formula and source are those that stand with the figure on the page; the numbers are those
/// of that design.
pub fn handbook() -> &'static [Figure] {
    static ALL: OnceLock<Vec<Figure>> = OnceLock::new();
    ALL.get_or_init(|| {
        let mut all: Vec<Figure> = Vec::new();
        for exhibit in gallery() {
            let given = figures(&Analysis::of(&exhibit.design()), Default::default());
            all.extend(
                given
                    .into_iter()
                    .filter(|f| all.iter().all(|known| known.key != f.key))
                    .collect::<Vec<_>>(),
            );
        }
        let place = |group: Group| Group::ALL.iter().position(|known| *known == group);
        all.sort_by_key(|figure| place(figure.group));
        all
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figures::meaning;

    #[test]
    fn every_heading_has_figures_and_each_says_how_and_whence() {
        for group in Group::ALL {
            assert!(handbook().iter().any(|f| f.group == group), "{group:?}");
        }
        for figure in handbook() {
            let told = [meaning(figure.key), figure.formula, figure.source];
            assert!(told.iter().all(|text| !text.is_empty()), "{}: {told:?}", figure.key);
        }
    }
}
