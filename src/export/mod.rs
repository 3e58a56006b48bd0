//! Exported files, each made from a [`crate::draw::Scene`] or a report. Nothing here computes a result.
//!
//! [`EXPORTS`] lists every kind of file. A row there, with the function that makes the file, is all
//! that a new kind needs: the page, the command line and the tests follow.

mod archive;
mod cite;
mod compared;
mod csv;
mod cuts;
mod dxf;
mod error;
mod figure;
mod in_time;
mod kind;
mod letters;
mod name;
mod nc;
mod qr;
mod results;
mod step;
mod stl;
mod svg;
mod swept;

pub use archive::{archive, gear_files, gearset_file};
pub use cite::Cited;
pub use compared::{comparison_csv, curves_csv};
pub use csv::{chances_csv, dogs_csv, index_csv};
pub use cuts::cuts_csv;
pub use dxf::dxf;
pub use error::ExportError;
pub use figure::{FigureStyle, Ink, figure_caption, figure_svg};
pub use in_time::{line_csv, release_csv};
pub use kind::{Cautions, Detail, Export, ExportFile, ExportInput, ExportKind, Place};
pub use letters::Letters;
pub use name::file_name;
pub use nc::index_nc;
pub use qr::{Qr, qr};
pub use results::{results_csv, results_tsv};
pub use step::step;
pub use stl::stl;
pub use svg::{
    HATCHES, HatchBar, SvgHatch, SvgMark, SvgSize, svg_file, svg_mark, svg_markup, svg_tag,
    svg_turn,
};
pub use swept::sweep_csv;

use crenel_words::{Message, Reader, export as say};

use crate::draw::{Turn3, ViewOptions, picture};
use crate::figures::figures;
use crate::report::{SetUpSheet, report_json};
use crate::ring::Side;
use crate::shop::indexing::IndexSheet;
use crate::solid::Solid;
use kind::{FileResult, Make};

/// Every kind of file that can be exported, in the order of the menu. The design itself is saved by
/// [`crate::design::save`] and is not listed.
pub static EXPORTS: &[ExportKind] = &[
    ExportKind {
        label: say::machining_drawing_dxf,
        ending: ".dxf",
        media_type: "image/vnd.dxf",
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Ring(|input, side| text(dxf(&input.ring_drawing(side)))),
    },
    ExportKind {
        label: say::machining_drawing_svg,
        ending: ".svg",
        media_type: SVG,
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Ring(|input, side| text(svg_file(&input.ring_drawing(side), input.title()))),
    },
    ExportKind {
        label: say::index_positions,
        ending: "-index.csv",
        media_type: CSV,
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Ring(|input, side| text(index_csv(&indexed(input, side, input.reader)?))),
    },
    ExportKind {
        label: say::index_program,
        ending: "-index.nc",
        media_type: "text/plain",
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Ring(|input, side| {
            let sheet = indexed(input, side, Reader::default())?;
            text(index_nc(&sheet, side, input.title()))
        }),
    },
    ExportKind {
        label: say::solid_as_cut_step,
        ending: ".step",
        media_type: "model/step",
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Ring(|input, side| {
            let name = match input.title() {
                "" => say::untitled_part(side),
                title => say::part(title.to_owned(), side),
            };
            text(step(&input.solid_as_cut(side)?, &name.show(input.reader), input.time))
        }),
    },
    ExportKind {
        label: say::as_cut_stl,
        ending: "-cut.stl",
        media_type: "model/stl",
        place: Place::Menu,
        cautions: Cautions::Line,
        make: Make::Ring(|input, side| {
            facets(input, side, say::facets_as_cut, &input.solid_as_cut(side)?)
        }),
    },
    ExportKind {
        label: say::as_found_stl,
        ending: "-found.stl",
        media_type: "model/stl",
        place: Place::Menu,
        cautions: Cautions::Line,
        make: Make::Ring(|input, side| {
            facets(input, side, say::facets_as_found, &input.solid_as_found(side)?)
        }),
    },
    ExportKind {
        label: say::dog_positions,
        ending: "dogs.csv",
        media_type: CSV,
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Design(|input| text(dogs_csv(input.analysis))),
    },
    ExportKind {
        label: say::report,
        ending: "report.json",
        media_type: "application/json",
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Design(|input| text(format!("{:#}", report_json(input.analysis)))),
    },
    ExportKind {
        label: say::chances,
        ending: "chances.csv",
        media_type: CSV,
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::Design(|input| {
            let map = input.outcomes().ok_or(ExportError::NoChances)?;
            text(chances_csv(&map))
        }),
    },
    ExportKind {
        label: say::results,
        ending: "results.csv",
        media_type: CSV,
        place: Place::Results,
        cautions: Cautions::Absent,
        make: Make::Design(|input| {
            let [now, before] = [input.analysis, input.before].map(|a| figures(a));
            text(results_csv(&now, &before, input.reader))
        }),
    },
    ExportKind {
        label: say::picture_of_solids,
        ending: "solid.svg",
        media_type: SVG,
        place: Place::CommandLine,
        cautions: Cautions::Short,
        make: Make::Design(|input| {
            let (analysis, options) = (input.analysis, ViewOptions::default());
            let scene = picture(analysis, &analysis.body(), &Turn3::default(), &options);
            text(svg_file(&scene, input.title()))
        }),
    },
    ExportKind {
        label: say::svg,
        ending: ".svg",
        media_type: SVG,
        place: Place::Menu,
        cautions: Cautions::Short,
        make: Make::View(svg_file),
    },
];

const SVG: &str = "image/svg+xml";
const CSV: &str = "text/csv";

#[expect(clippy::unnecessary_wraps, reason = "it ends functions that can fail")]
fn text(text: String) -> FileResult {
    Ok(text.into_bytes())
}

fn facets(
    input: &ExportInput,
    side: Side,
    says: fn(Side, String) -> Message,
    solid: &Solid,
) -> FileResult {
    let words = says(side, input.title().to_owned()).show(input.reader);
    Ok(stl(&solid.facets(input.detail.facets_mm), &words))
}

/// The index positions of a ring, named by operation for a reader.
fn indexed(input: &ExportInput, side: Side, reader: Reader) -> Result<IndexSheet, ExportError> {
    let sheet = SetUpSheet::of(input.analysis, side, reader);
    if sheet.operation.is_empty() {
        return Err(ExportError::NothingToIndex(side));
    }
    Ok(sheet.named_by_operation(reader))
}
