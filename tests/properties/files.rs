//! Saved forms and links: what is saved opens as it was, and nothing that is opened panics.

use base64::Engine as _;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use crenel::analysis::Analysis;
use crenel::compare::{Comparison, MOST_COLUMNS, shown};
use crenel::design::{Design, LINK_LIMIT, LinkError, decode, encode, example, open, to_json};
use crenel::draw::ViewOptions;
use crenel::draw::views::VIEWS;
use crenel::export::svg_markup;
use crenel::fields::FIELDS;
use crenel::figures::figures;
use crenel::model::{Chances, hardest_words};
use crenel::report::report_json;
use crenel::shift::Way;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit};
use crenel_words::Reader;
use miniz_oxide::deflate::compress_to_vec;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::sample::{Index, select};
use serde_json::{Map, Value, json};

use crate::cases;
use crate::designs::{any_number, design, finite, within};

/// Works a design out and writes everything the core can write of it.
fn tell_all(design: &Design) -> Analysis {
    let analysis = Analysis::of(design);
    let shop = DisplayUnits { length: LengthUnit::Inch, angle: AngleStyle::Dms };
    let shop = Reader { units: shop, ..Reader::default() };
    for reader in [Reader::default(), shop] {
        figures(&analysis);
        for finding in &analysis.findings {
            let text = finding.text(reader);
            let has_all = |name: &str| !text.contains(&format!("{{{name}}}"));
            assert!(finding.says.values().iter().all(|(name, _)| has_all(name)), "{text}");
            assert!(!finding.hint(reader).is_empty(), "{finding:?} lacks a hint");
        }
    }
    assert_eq!(report_json(&analysis)["computed"], analysis.pair.is_some());
    for way in [Way::Up, Way::Down] {
        hardest_words(&analysis, way).iter().for_each(|words| drop(words.show(shop)));
    }
    draw_all(&analysis, shop);
    analysis
}

/// Draws every view, the charts with a small map, and the layouts beside the design.
fn draw_all(analysis: &Analysis, reader: Reader) {
    let map = Chances::of(analysis).map(|chances| chances.map(5, 4));
    if let Some(map) = &map {
        let sum: f64 = map.shares(2).iter().sum();
        assert!((sum - 1.0).abs() < 1e-9, "the shares come to {sum}");
    }
    for view in VIEWS {
        let frame = view.frame(analysis, 600.0, view.shape, 12.0);
        let options = ViewOptions { reader, outcomes: map.as_ref(), ..ViewOptions::default() };
        let _ = svg_markup(&view.draw(analysis, &frame, &options));
    }
    if shown(&analysis.design).len() > 1 {
        let comparison = Comparison::of(&analysis.design);
        assert!(comparison.columns.len() <= MOST_COLUMNS);
    }
}

/// Opens a text and tells everything about the design, if it is one.
fn try_open(text: &str) {
    match open(text) {
        Ok(opened) => drop(tell_all(&opened.design)),
        Err(findings) => assert!(!findings.is_empty(), "refused without a reason: {text}"),
    }
}

// ---- saved forms that are nearly right ----

/// Characters that links meet on their road, and those that links are made of.
const ON_THE_ROAD: [char; 27] = [
    '.', ',', ';', ':', '!', '?', '*', '_', '-', '~', '<', '>', '(', ')', '"', '\'', '#', '%', '&',
    '=', '+', '/', ' ', '\n', '2', 'A', 'z',
];

/// Every key a saved form can have, and one it cannot.
fn key() -> impl Strategy<Value = String> {
    let words = ["crenel", "title", "initials", "notes", "a", "b", "travel_by", "flanks"];
    let ring = ["dogs", "cuts", "size_by", "heights", "1", "2", "0", "x"];
    let fields = FIELDS.iter().map(|f| f.key);
    select(words.into_iter().chain(ring).chain(fields).map(str::to_owned).collect::<Vec<_>>())
}

fn json_tree() -> impl Strategy<Value = Value> {
    let word = select(vec!["remove", "gap", "drum", "parallel", "{}", ""]);
    let leaf = prop_oneof![
        1 => Just(Value::Null),
        1 => any::<bool>().prop_map(Value::from),
        3 => any::<f64>().prop_map(Value::from),
        3 => (-2_i64..8).prop_map(Value::from),
        1 => any::<u64>().prop_map(Value::from),
        2 => word.prop_map(Value::from),
        1 => any::<String>().prop_map(Value::from),
    ];
    leaf.prop_recursive(4, 40, 8, |inner| {
        let object = vec((key(), inner.clone()), 0..8)
            .prop_map(|pairs| Value::Object(pairs.into_iter().collect::<Map<_, _>>()));
        prop_oneof![2 => object, 1 => vec(inner, 0..5).prop_map(Value::from)]
    })
}

/// An object under the version's key, so that it is read as a design.
fn nearly_a_design() -> impl Strategy<Value = Value> {
    vec((key(), json_tree()), 0..8).prop_map(|pairs| {
        let mut map: Map<String, Value> = pairs.into_iter().collect();
        map.insert("crenel".to_owned(), json!(1));
        Value::Object(map)
    })
}

proptest! {
    #![proptest_config(cases(600))]

    #[test]
    fn what_is_saved_opens_as_it_was(design in design(finite)) {
        let opened = open(&to_json(&design)).expect("our own file opens");
        prop_assert_eq!(&opened.design, &design);
        prop_assert_eq!(opened.findings, vec![]);
        let link = encode(&design);
        if link.len() <= LINK_LIMIT {
            prop_assert_eq!(decode(&link).expect("our own link opens").design, design);
        }
    }

    #[test]
    fn a_design_within_its_limits_has_finite_figures(design in design(within)) {
        let analysis = tell_all(&design);
        for figure in figures(&analysis) {
            let finite = figure.value.is_none_or(f64::is_finite);
            prop_assert!(finite, "{}: {:?}", figure.figure.key, figure.value);
            prop_assert!(!figure.working.show(Reader::default()).is_empty(), "{} shows no working", figure.figure.key);
        }
    }

    #[test]
    fn no_design_panics(design in design(any_number)) {
        tell_all(&design);
    }

    #[test]
    fn no_json_panics(tree in nearly_a_design()) {
        try_open(&tree.to_string());
        let packed = compress_to_vec(tree.to_string().as_bytes(), 1);
        let _ = decode(&format!("1.{}", URL_SAFE_NO_PAD.encode(packed)));
    }
}

proptest! {
    #![proptest_config(cases(10_000))]

    /// A mail or a messenger hangs something on, or does not bring all of it.
    #[test]
    fn a_link_ends_where_its_design_does(
        design in design(finite),
        behind in prop_oneof![
            vec(any::<u8>().prop_map(char::from), 0..=8),
            vec(select(ON_THE_ROAD.to_vec()), 0..=8),
        ],
        cut in any::<Index>(),
    ) {
        let link = encode(&design);
        let behind: String = behind.into_iter().collect();
        if link.len() + behind.len() <= LINK_LIMIT {
            let opened = decode(&(link.clone() + &behind)).map(|opened| opened.design);
            prop_assert_eq!(opened, Ok(design), "{:?}", behind);
            let at = 2 + cut.index(link.len() - 2);
            prop_assert_eq!(decode(&link[..at]), Err(LinkError::CutShort(at)));
        }
    }
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn every_cut_of_a_link_says_how_much_arrived(design in design(finite)) {
        let link = encode(&design);
        for at in 2..link.len().min(LINK_LIMIT) {
            prop_assert_eq!(decode(&link[..at]), Err(LinkError::CutShort(at)));
        }
    }
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn no_text_panics(text in any::<String>(), number in any::<f64>()) {
        try_open(&text);
        try_open(&format!("{{\"crenel\":1,{text}}}"));
        try_open(&format!("{{\"crenel\":{number:e}}}"));
        let _ = decode(&text);
        let _ = decode(&format!("1.{text}"));
    }

    #[test]
    fn no_bytes_panic(bytes in vec(any::<u8>(), 0..400)) {
        try_open(&String::from_utf8_lossy(&bytes));
        let _ = decode(&String::from_utf8_lossy(&bytes));
        // As the packed part, and as what is packed.
        let _ = decode(&format!("1.{}", URL_SAFE_NO_PAD.encode(&bytes)));
        let _ = decode(&format!("1.{}", URL_SAFE_NO_PAD.encode(compress_to_vec(&bytes, 1))));
    }

    #[test]
    fn no_damaged_link_panics(at in any::<Index>(), byte in any::<u8>(), cut in any::<Index>()) {
        let link = encode(&example());
        let packed = URL_SAFE_NO_PAD.decode(&link[2..]).expect("our own coding");
        let mut changed = packed.clone();
        changed[at.index(packed.len())] = byte;
        changed.truncate(cut.index(packed.len()) + 1);
        if let Ok(opened) = decode(&format!("1.{}", URL_SAFE_NO_PAD.encode(&changed))) {
            tell_all(&opened.design);
        }
    }
}
