//! Writes every file that a design can be exported to.
//!
//! `cargo run --example export -- DESIGN.json FOLDER [LINK]`

mod shell;

use std::ffi::OsString;
use std::path::Path;
use std::process::ExitCode;

use crenel::analysis::Analysis;
use crenel::design::{Design, encode, save};
use crenel::export::{Detail, EXPORTS, Export, ExportInput};
use crenel::finding::Finding;
use crenel::ring::{Ring, Side};
use crenel::solid::{Solid, SolidError};
use crenel_words::Reader;
use serde_json::{Value, json};
use shell::Failure;

/// The time in the header of STEP files: always the same, so that the same design gives the same files.
const NO_TIME: &str = "1970-01-01T00:00:00";

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let [path, folder, rest @ ..] = arguments else {
        let usage = "Give a design and a folder: export DESIGN.json FOLDER [LINK]";
        return Err(Failure::Call(usage.to_owned()));
    };
    let design = shell::design(path)?.design;
    let link = rest.first().map(|link| link.to_string_lossy().into_owned());
    write_all(&design, Path::new(folder), link)?;
    Ok(String::new())
}

fn write_all(design: &Design, folder: &Path, link: Option<String>) -> Result<(), Failure> {
    let analysis = Analysis::of(design);
    let link = link.unwrap_or_else(|| format!("#{}", encode(design)));
    std::fs::create_dir_all(folder)
        .map_err(|e| format!("{} cannot be created: {e}.", folder.display()))?;
    let write = |name: &str, bytes: &[u8]| shell::write_whole(&folder.join(name), bytes);
    write("design.json", format!("{:#}", save(design)).as_bytes())?;
    let input = ExportInput {
        analysis: &analysis,
        before: &analysis,
        reader: Reader::default(),
        link: &link,
        time: NO_TIME,
        detail: Detail::default(),
    };
    for export in Export::all(EXPORTS) {
        // A design without work on single dogs has no index positions, and the like.
        let Ok(file) = export.make(&input) else { continue };
        write(&file.name, &file.bytes)?;
    }
    write("solid.json", format!("{:#}", solids(&analysis)).as_bytes())
}

/// What the solids of both rings as found and as cut amount to, for readers of the files to check
/// against; for a ring of which no solid can be made, why.
fn solids(analysis: &Analysis) -> Value {
    let mut told = serde_json::Map::new();
    for side in Side::BOTH {
        let rings = [("found", &analysis.found[side]), ("cut", analysis.ring(side))];
        for (state, ring) in rings {
            let name = format!("ring-{}-{state}", side.letter().to_lowercase());
            told.insert(name, tell(ring, &Solid::of(ring, &analysis.body())));
        }
    }
    Value::from(told)
}

fn tell(ring: &Ring, solid: &Result<Solid, SolidError>) -> Value {
    let solid = match solid {
        Ok(solid) => solid,
        Err(error) => {
            let finding = Finding::from(*error);
            return json!({ "code": finding.code, "why": finding.text(Reader::default()) });
        }
    };
    let metal = solid.metal();
    json!({
        "volume_mm3": metal.volume_mm3,
        "first_moment_mm4": [metal.first_moment_mm4.0, metal.first_moment_mm4.1],
        "second_moment_mm5": metal.second_moment_mm5,
        "dogs": ring.dogs.len(),
        "bore_mm": solid.bore_mm(),
        "rim_mm": solid.rim_mm(),
        "thickness_mm": solid.thickness_mm(),
        "tallest_mm": solid.tallest_mm(),
        "tolerance_mm": Detail::default().facets_mm,
    })
}
