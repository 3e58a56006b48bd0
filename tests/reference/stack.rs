//! Dimension chains along the shaft.

use crenel::design::{Design, open};
use crenel::stack::{Chain, Link};

use super::designs::figures;
use super::row::{DERIVED, Row, Source, row_from};

const TOLERANCES: Source =
    Source::derived("sum of the tolerances, and root of the sum of squares, by hand");

/// Every row of this subject.
pub(crate) fn rows() -> Vec<Row> {
    [chains(), depth_of_a_design()].into_iter().flatten().collect()
}

fn chain_of(sizes: &[(f64, f64, bool)]) -> Chain {
    let link = |&(size_mm, tolerance_mm, opens)| Link { size_mm, tolerance_mm, opens };
    Chain { links: sizes.iter().map(link).collect() }
}

fn chains() -> Vec<Row> {
    let row = row_from(TOLERANCES);
    let chain = chain_of(&[
        (4.020, 0.005, true),
        (2.000, 0.005, false),
        (1.500, 0.003, false),
        (0.500, 0.002, false),
    ]);
    vec![
        row("Three parts in a housing of 4.02 mm: gap, mm", chain.gap_mm(), 0.020, 1e-12),
        row(
            "Three parts in a housing of 4.02 mm: gap at worst, ± mm",
            chain.worst_mm(),
            0.015,
            1e-12,
        ),
        row("Three parts in a housing of 4.02 mm: gap by RSS, ± mm", chain.rss_mm(), 0.00794, 5e-6),
    ]
}

/// The same sizes through a design: clearance, and the overlap that a throw of 5 with a play of 0.2 gives.
fn depth_of_a_design() -> Vec<Row> {
    let wanted = [
        ("clearance_this_mm", 0.020, 1e-12),
        ("least_clearance_this_mm", 0.020 - 0.015 - 0.1, 1e-12),
        ("pushed_in_this_mm", 5.0 - 0.020 - 0.1, 1e-12),
        ("drawn_in_this_mm", 5.0 - 0.020 + 0.1, 1e-12),
        ("clearance_other_mm", 0.27, 1e-12),
        ("shim_mm", 0.1, 1e-12),
    ];
    figures("Sliding gear between two pairs", DERIVED, &stacked(), &wanted)
}

fn stacked() -> Design {
    let text = r#"{ "crenel": 1, "depth": {
        "throw_this_mm": 5, "fork_thickness_mm": 5.8, "groove_width_mm": 6, "shim_step_mm": 0.05,
        "this": [
            { "size_mm": 4.02, "tolerance_mm": 0.005, "way": "opens" }, { "size_mm": 2, "tolerance_mm": 0.005 },
            { "size_mm": 1.5, "tolerance_mm": 0.003 }, { "size_mm": 0.5, "tolerance_mm": 0.002 }
        ],
        "other": [{ "size_mm": 0.27, "tolerance_mm": 0, "way": "opens" }]
    } }"#;
    open(text).expect("it opens").design
}
