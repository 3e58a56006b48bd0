//! What must hold for any bytes at all. The fuzz targets in `fuzz` try it on bytes they make up; the
//! test beside this file tries it on the corpus they left.

// Each fuzz target takes one of the three.
#![allow(dead_code)]

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use crenel::analysis::Analysis;
use crenel::design::{
    Design, LINK_LIMIT, LinkError, Opened, UNPACKED_LIMIT, decode, encode, open, read, save,
    to_json,
};
use crenel::fields::FIELDS;
use crenel::finding::{Finding, any_error};
use crenel::report::report_json;
use crenel::ring::Side;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit, Quantity};
use crenel_words::Reader;
use miniz_oxide::deflate::compress_to_vec;

// ---- links ----

/// Any bytes: as a link, as the packed part of one, and as what is packed.
pub(crate) fn link(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    for link in [text.to_string(), packed_link(bytes)] {
        drop(read_link(&link));
    }
    let link = packed_link(&compress_to_vec(bytes, 1));
    let read = read_link(&link);
    if link.len() <= LINK_LIMIT
        && bytes.len() <= UNPACKED_LIMIT
        && std::str::from_utf8(bytes).is_ok()
    {
        let file = open(&text).map_err(LinkError::Unreadable);
        assert_eq!(read, file, "a link says the same as the file in it");
    }
    let followed = link + &text;
    if followed.len() <= LINK_LIMIT {
        assert_eq!(read_link(&followed), read, "what stands behind a link is no part of it");
    }
}

fn packed_link(packed: &[u8]) -> String {
    format!("1.{}", URL_SAFE_NO_PAD.encode(packed))
}

/// A link is a design that survives, or is refused in a sentence.
fn read_link(link: &str) -> Result<Opened, LinkError> {
    let read = decode(link);
    match &read {
        Ok(opened) => survives(opened),
        Err(why) => assert!(why.to_string().ends_with(['.', '!']), "{why}"),
    }
    read
}

// ---- files ----

/// Most dogs of one ring times those of the other for which a design is worked out here, so that a
/// fuzzer tries many in a second.
const MOST_PAIRS: usize = 40;

/// Any bytes as a file: a design that survives and can be worked out, or refused with reasons.
pub(crate) fn file(bytes: &[u8]) {
    match read(bytes) {
        Ok(opened) => {
            survives(&opened);
            work_out(&opened.design);
        }
        Err(findings) => {
            assert!(any_error(&findings), "refused without a reason: {bytes:?}");
            findings.iter().for_each(speaks);
        }
    }
}

/// A finding is a whole sentence with its next thing to do.
fn speaks(finding: &Finding) {
    let text = finding.text(Reader::default());
    let has_all = |name: &str| !text.contains(&format!("{{{name}}}"));
    assert!(text.ends_with('.'), "{text}");
    assert!(finding.says.values().iter().all(|(name, _)| has_all(name)), "{text}");
    assert!(finding.hint(Reader::default()).ends_with('.'), "{text} {finding:?}");
}

/// What opens holds only numbers, saves, and opens again as it is, from a file and from a link.
fn survives(opened: &Opened) {
    assert!(!any_error(&opened.findings), "{:?}", opened.findings);
    opened.findings.iter().for_each(speaks);
    let design = &opened.design;
    for slot in design.slots() {
        assert!(
            design.get(slot).is_some_and(f64::is_finite),
            "{}",
            slot.words().show(Default::default())
        );
    }
    let saved = to_json(design);
    for form in [saved.clone(), format!("{:#}", save(design))] {
        let again = open(&form).unwrap_or_else(|why| panic!("{form} does not open: {why:?}"));
        assert_eq!(again.findings, [], "{form}");
        assert_eq!(again.design, *design, "{form}");
        assert_eq!(to_json(&again.design), saved);
    }
    let link = encode(design);
    match decode(&link) {
        Ok(again) => assert_eq!(again.design, *design, "{link}"),
        Err(why) => assert!(matches!(why, LinkError::TooLong(_) | LinkError::TooLarge), "{why}"),
    }
}

/// Works a design out, unless that takes long, and tells everything about it.
fn work_out(design: &Design) {
    let [a, b] = Side::BOTH.map(|side| design.ring(side).found_dogs().len());
    if a * b > MOST_PAIRS {
        return;
    }
    let analysis = Analysis::of(design);
    analysis.findings.iter().for_each(speaks);
    let report = report_json(&analysis).to_string();
    assert!(report.contains("crenel_report"));
}

// ---- typed numbers ----

/// The largest number of which everything that is shown is worth showing.
const SHOWN_WHOLE: f64 = 1e8;

/// Any bytes as something typed: the first two choose what is asked for, and in which units.
pub(crate) fn number(bytes: &[u8]) {
    let [which, units, typed @ ..] = bytes else { return };
    let quantity = FIELDS[usize::from(*which) % FIELDS.len()].quantity;
    let length = if units & 1 == 0 { LengthUnit::Millimetre } else { LengthUnit::Inch };
    let angle = if units & 2 == 0 { AngleStyle::Decimal } else { AngleStyle::Dms };
    let units = DisplayUnits { length, angle };
    let typed = String::from_utf8_lossy(typed);
    match quantity.parse(&typed, units) {
        Ok(value) => reads_back(quantity, value, units, &typed),
        Err(why) => speaks(&Finding::from(why)),
    }
}

/// A number that was read is finite, and is read again from what is shown of it.
fn reads_back(quantity: Quantity, value: f64, units: DisplayUnits, typed: &str) {
    assert!(value.is_finite(), "“{typed}” is read as {value}");
    let read = |text: &str, units| {
        quantity.parse(text, units).unwrap_or_else(|why| panic!("“{typed}”, {value}: {why}"))
    };
    // With every digit it has, in the unit the core works in.
    let metric = DisplayUnits::default();
    let share = quantity == Quantity::Share;
    let in_unit = if share { value * 100.0 } else { value };
    let exact = format!("{in_unit:?} {}", quantity.unit(metric));
    let again = read(&exact, units);
    let near = |other: f64| (other - value).abs() <= value.abs() * 4.0 * f64::EPSILON;
    assert!(again == value || share && near(again), "“{exact}” is read as {again}");
    // As it is shown, with fewer digits, it shows the same again.
    if value.abs() < SHOWN_WHOLE {
        let shown = quantity.format(value, units);
        assert_eq!(quantity.format(read(&shown, units), units), shown, "“{typed}”, {value}");
        let with_unit = quantity.show(value, units);
        // “< 1 %” says what is worth saying of a share, and is no number.
        if with_unit.starts_with(['<', '>']) {
            return;
        }
        assert_eq!(quantity.show(read(&with_unit, metric), units), with_unit, "{value}");
    }
}
