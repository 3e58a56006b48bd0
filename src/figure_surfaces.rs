//! A figure that only tests have is looked for wherever figures are shown.

use crenel_words::Reader;

use crate::analysis::Analysis;
use crate::compare::{Comparison, changes};
use crate::design::{Design, RingPair, example};
use crate::export::{results_csv, results_tsv};
use crate::figures::{DUMMY, catalogue, figures};
use crate::report::{report_json, report_schema};

#[test]
fn one_row_is_on_every_surface() {
    let reader = Reader::default();
    let pair = RingPair { title: "Other".to_owned(), ..RingPair::default() };
    let design = Design { alternatives: vec![pair], ..example() };
    let analysis = Analysis::of(&design);

    let results = figures(&analysis);
    let dummy = results.iter().find(|result| *result.figure == DUMMY).expect("a result");
    assert_eq!(
        (dummy.shown(reader), dummy.working.show(reader)),
        ("12.5 mm".into(), "½·25 mm".into())
    );

    assert_eq!(report_json(&analysis)["figures"]["dummy_mm"], 12.5);
    let schema = report_schema();
    let of_schema = &schema["properties"]["figures"]["properties"]["dummy_mm"];
    let described = [&of_schema["title"], &of_schema["description"], &of_schema["x-unit"]];
    assert_eq!(described, [DUMMY.label, DUMMY.meaning, "mm"]);

    let comparison = Comparison::of(&design);
    let row = comparison.rows.iter().find(|row| *row.figure == DUMMY).expect("a row");
    assert_eq!(row.cells.len(), 2);
    assert!(row.cells.iter().all(|cell| cell.shown == Some(dummy.to_value())));

    assert!(changes(&analysis, &analysis).iter().any(|c| *c.figure == DUMMY));
    assert!(results_csv(&results, &results, reader).contains("dummy_mm,Dummy,12.5,mm,12.5"));
    assert!(results_tsv(&results, &results, reader).contains("\tdummy_mm\tDummy\t12.5\tmm"));
    assert!(catalogue().any(|figure| *figure == DUMMY), "the list of formulas reads the rows");
}
