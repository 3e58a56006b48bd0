//! Writes every file a design can be exported to.
//!
//! `cargo run --example export -- DESIGN.json FOLDER [LINK]`

mod shell;

use std::ffi::OsString;
use std::path::Path;
use std::process::ExitCode;

use crenel::design::{Design, encode, save};
use crenel::draw::views::VIEWS;
use crenel::draw::{Turn3, ViewOptions, picture, ring_drawing};
use crenel::export::{chances_csv, dogs_csv, dxf, index_csv, step, stl, svg_file};
use crenel::finding::Finding;
use crenel::report::{Analysis, Chances, SetUpSheet, report_json};
use crenel::ring::{Ring, Side};
use crenel::solid::{Solid, SolidError};
use serde_json::{Value, json};
use shell::Failure;

/// How far the facets of an STL file may be from the cylinders, mm.
const STL_TOLERANCE_MM: f64 = 0.01;

/// The time that STEP files tell: none, so that the same design gives the same files.
const NO_TIME: &str = "1970-01-01T00:00:00";

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let [path, folder, rest @ ..] = arguments else {
        let usage = "Say which design and where to: export DESIGN.json FOLDER [LINK]";
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
    let mut files = vec![
        ("design.json".to_owned(), format!("{:#}", save(design))),
        ("report.json".to_owned(), format!("{:#}", report_json(&analysis))),
        ("dogs.csv".to_owned(), dogs_csv(&analysis)),
    ];
    for side in Side::BOTH {
        let scene = ring_drawing(&analysis, side, &link);
        let name = side.letter().to_lowercase();
        files.push((format!("ring-{name}.svg"), svg_file(&scene, &design.title)));
        files.push((format!("ring-{name}.dxf"), dxf(&scene)));
        let sheet = SetUpSheet::of(&analysis, side, Default::default());
        if !sheet.operation.is_empty() {
            let index = index_csv(&sheet.named_by_operation());
            files.push((format!("ring-{name}-index.csv"), index));
        }
    }
    let chances = Chances::of(&analysis).map(|chances| chances.map(120, 80));
    if let Some(map) = &chances {
        files.push(("chances.csv".to_owned(), chances_csv(map)));
    }
    let options = ViewOptions { outcomes: chances.as_ref(), ..ViewOptions::default() };
    for view in VIEWS {
        let frame = view.frame(&analysis, 600.0, view.shape, 12.0);
        let scene = view.draw(&analysis, &frame, &options);
        files.push((format!("{}.svg", view.file_name), svg_file(&scene, &design.title)));
    }
    let scene = picture(&analysis, &analysis.body(), &Turn3::default(), &ViewOptions::default());
    files.push(("solid.svg".to_owned(), svg_file(&scene, &design.title)));
    std::fs::create_dir_all(folder)
        .map_err(|e| format!("{} cannot be made: {e}.", folder.display()))?;
    for (name, text) in files {
        shell::write_whole(&folder.join(name), text.as_bytes())?;
    }
    write_solids(&analysis, folder)
}

/// Both rings as found and as cut in STL, as cut in STEP, and what they amount to. Of a ring of which
/// no solid can be made, `solid.json` says why.
fn write_solids(analysis: &Analysis, folder: &Path) -> Result<(), Failure> {
    let write = |name: &str, bytes: &[u8]| shell::write_whole(&folder.join(name), bytes);
    let mut told = serde_json::Map::new();
    for side in Side::BOTH {
        let rings = [("found", &analysis.found[side as usize]), ("cut", analysis.ring(side))];
        for (state, ring) in rings {
            let name = format!("ring-{}-{state}", side.letter().to_lowercase());
            let solid = Solid::of(ring, &analysis.body());
            told.insert(name.clone(), tell(ring, &solid));
            let Ok(solid) = solid else { continue };
            let words = format!("{} as {state}. {}", side.name(), analysis.design.title);
            write(&format!("{name}.stl"), &stl(&solid.facets(STL_TOLERANCE_MM), &words))?;
            if state == "cut" {
                let file = format!("ring-{}.step", side.letter().to_lowercase());
                write(&file, step(&solid, &words, NO_TIME).as_bytes())?;
            }
        }
    }
    write("solid.json", format!("{:#}", Value::from(told)).as_bytes())
}

fn tell(ring: &Ring, solid: &Result<Solid, SolidError>) -> Value {
    let solid = match solid {
        Ok(solid) => solid,
        Err(error) => {
            let finding = Finding::from(*error);
            return json!({ "code": finding.code, "why": finding.text(Default::default()) });
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
        "tolerance_mm": STL_TOLERANCE_MM,
    })
}
