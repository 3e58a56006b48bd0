//! The sources that formulas, limits and files follow, as lines of a list of references.

use crenel_words::{Message, reference as say};

/// A source.
#[derive(Clone, Copy)]
pub struct Reference {
    /// How texts of the program name it.
    pub cites: &'static str,
    /// Its authors, title and year, as they stand in a list of references, in the language that it is written in.
    pub full: &'static str,
    /// The address of its page, where it has one that stays.
    pub address: Option<&'static str>,
    /// What follows it.
    pub used_for: fn() -> Message,
}

const fn book(cites: &'static str, full: &'static str, used_for: fn() -> Message) -> Reference {
    Reference { cites, full, address: None, used_for }
}

const fn page(
    cites: &'static str,
    full: &'static str,
    address: &'static str,
    used_for: fn() -> Message,
) -> Reference {
    Reference { cites, full, address: Some(address), used_for }
}

/// Every source, by its first letter. What the program only knows from memory says so where it is used.
pub static REFERENCES: [Reference; 16] = [
    book(
        "DIN 17210",
        "DIN 17210:1986-09. Einsatzstähle; Technische Lieferbedingungen. Withdrawn.",
        say::yield_strength,
    ),
    book(
        "Dudley",
        "Dudley, D. W. When Splines Need Stress Control. Product Engineering, 1957. As in Machinery's Handbook, \
         Industrial Press.",
        say::splines,
    ),
    book(
        "FEPA",
        "FEPA 43. Grain sizes for coated abrasives. Federation of European Producers of Abrasives.",
        say::grits,
    ),
    book("Gere", "Gere, J. M. Mechanics of Materials. Problem 3.9-11.", say::shock),
    page(
        "ISO 128",
        "ISO 128-2:2022. Technical product documentation – General principles of representation – Part 2: Basic \
         conventions for lines.",
        "https://www.iso.org/standard/83355.html",
        say::lines,
    ),
    page(
        "ISO 129-1",
        "ISO 129-1:2018. Technical product documentation – Presentation of dimensions and tolerances – Part 1: General \
         principles.",
        "https://www.iso.org/standard/64007.html",
        say::dimensions,
    ),
    page(
        "ISO 2768-1",
        "ISO 2768-1:1989. General tolerances – Part 1: Tolerances for linear and angular dimensions without individual \
         tolerance indications.",
        "https://www.iso.org/standard/7748.html",
        say::general_tolerances,
    ),
    book(
        "ISO 6344",
        "ISO 6344-3. Coated abrasives – Determination and designation of grain size distribution – Part 3.",
        say::grits,
    ),
    page(
        "ISO 6983",
        "ISO 6983-1:2009. Automation systems and integration – Numerical control of machines – Program format and \
         definitions of address words – Part 1.",
        "https://www.iso.org/standard/34608.html",
        say::index_program,
    ),
    book(
        "ISO 9934",
        "ISO 9934-1. Non-destructive testing – Magnetic particle testing – Part 1: General principles.",
        say::cracks,
    ),
    page(
        "ISO 10303",
        "ISO 10303-21:2016. Industrial automation systems and integration – Product data representation and exchange – \
         Part 21: Clear text encoding of the exchange structure.",
        "https://www.iso.org/standard/63141.html",
        say::step_file,
    ),
    book(
        "ISO 13715",
        "ISO 13715. Technical product documentation – Edges of undefined shape – Indication and dimensioning.",
        say::edges,
    ),
    book(
        "ISO 14104",
        "ISO 14104. Gears – Surface temper etch inspection after grinding, chemical method.",
        say::grinding_burn,
    ),
    page(
        "ISO 21940-11",
        "ISO 21940-11:2016. Mechanical vibration – Rotor balancing – Part 11: Procedures and tolerances for rotors with \
         rigid behaviour.",
        "https://www.iso.org/standard/54074.html",
        say::balance,
    ),
    page(
        "RFC 4180",
        "Shafranovich, Y. Common Format and MIME Type for Comma-Separated Values (CSV) Files. RFC 4180, 2005.",
        "https://doi.org/10.17487/RFC4180",
        say::tables,
    ),
    book(
        "Uicker, Pennock, Shigley",
        "Uicker, J. J., Pennock, G. R., Shigley, J. E. Theory of Machines and Mechanisms. Oxford University Press.",
        say::linkage,
    ),
];

/// All of them as text, one on each line, for a list of references.
pub fn list_of_references() -> String {
    let line = |source: &Reference| {
        let address = source.address.map_or(String::new(), |address| format!(" {address}"));
        format!("{}{address}\n", source.full)
    };
    REFERENCES.iter().map(line).collect()
}
