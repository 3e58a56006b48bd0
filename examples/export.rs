//! Writes every file a design can be exported to.
//!
//! `cargo run --example export -- DESIGN.json FOLDER [LINK]`

use std::path::Path;
use std::process::ExitCode;

use crenel::design::{encode, open, save};
use crenel::draw::{Frame, ViewKind, face_view, phase_map, ring_drawing, unrolled_view};
use crenel::export::{dogs_csv, dxf, svg_file};
use crenel::report::{Analysis, report_json};
use crenel::ring::Side;

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).collect();
    let [path, folder, rest @ ..] = args.as_slice() else {
        eprintln!("Say which design and where to: export DESIGN.json FOLDER [LINK]");
        return ExitCode::from(2);
    };
    match write_all(path, Path::new(folder), rest.first()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(message) => {
            eprintln!("{message}");
            ExitCode::FAILURE
        }
    }
}

fn write_all(path: &str, folder: &Path, link: Option<&String>) -> Result<(), String> {
    let text = std::fs::read_to_string(path).map_err(|e| format!("{path} cannot be read: {e}."))?;
    let sentences = |findings: Vec<crenel::finding::Finding>| {
        let lines: Vec<_> = findings.iter().map(|f| f.text(Default::default())).collect();
        lines.join("\n")
    };
    let design = open(&text).map_err(sentences)?.design;
    let analysis = Analysis::of(&design);
    let link = link.cloned().unwrap_or_else(|| format!("#{}", encode(&design)));
    let mut files = vec![
        ("design.json".to_owned(), format!("{:#}", save(&design))),
        ("report.json".to_owned(), format!("{:#}", report_json(&analysis))),
        ("dogs.csv".to_owned(), dogs_csv(&analysis)),
    ];
    for side in Side::BOTH {
        let scene = ring_drawing(&analysis, side, &link);
        let name = side.letter().to_lowercase();
        files.push((format!("ring-{name}.svg"), svg_file(&scene, &design.title)));
        files.push((format!("ring-{name}.dxf"), dxf(&scene)));
    }
    let frame = |kind, shape| Frame::of(kind, &analysis, 600.0, shape, 12.0);
    let face = face_view(&analysis, &frame(ViewKind::Face, 1.0), None);
    let unrolled = unrolled_view(&analysis, &frame(ViewKind::Unrolled, 0.35), None);
    let map = phase_map(&analysis, &frame(ViewKind::Map, 0.4), Default::default());
    for (name, scene) in [("face", face), ("unrolled", unrolled), ("map", map)] {
        files.push((format!("{name}.svg"), svg_file(&scene, &design.title)));
    }
    std::fs::create_dir_all(folder).map_err(|e| e.to_string())?;
    for (name, text) in files {
        std::fs::write(folder.join(&name), text).map_err(|e| format!("{name}: {e}"))?;
    }
    Ok(())
}
