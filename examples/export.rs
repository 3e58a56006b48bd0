//! Writes every file a design can be exported to.
//!
//! `cargo run --example export -- DESIGN.json FOLDER [LINK]`

use std::path::Path;
use std::process::ExitCode;

use crenel::design::{encode, open, save};
use crenel::draw::{Frame, Look, ViewKind, ring_drawing, view};
use crenel::export::{chances_csv, dogs_csv, dxf, svg_file};
use crenel::report::{Analysis, Chances, report_json};
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
    let chances = Chances::of(&analysis).map(|chances| chances.map(120, 80));
    if let Some(map) = &chances {
        files.push(("chances.csv".to_owned(), chances_csv(map)));
    }
    let look = Look { outcomes: chances.as_ref(), ..Look::default() };
    for kind in ViewKind::ALL {
        let frame = Frame::of(kind, &analysis, 600.0, kind.shape(), 12.0);
        let scene = view(kind, &analysis, &frame, &look);
        files.push((format!("{}.svg", kind.name()), svg_file(&scene, &design.title)));
    }
    std::fs::create_dir_all(folder).map_err(|e| e.to_string())?;
    for (name, text) in files {
        std::fs::write(folder.join(&name), text).map_err(|e| format!("{name}: {e}"))?;
    }
    Ok(())
}
