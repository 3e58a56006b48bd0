//! Prints the table of all shifts of a whole gearbox, everything that is wrong with it, the shims that bring it back, and
//! where something was read on its gears and forks, which part is at fault and what to read next. `--cuts` before it
//! adds the smallest cut of each gear, those first that gain the most for each gram.
//!
//! `cargo run --example box -- GEARBOX.json`; `-` reads standard input. `--json` before it prints all of it as JSON, and
//! `--schema` alone prints the JSON Schema of that. `--faults` reads a gearbox from each line of standard input and
//! prints a line of JSON with its faults. A file that is no gearbox exits with 1. `--section DEGREES` prints the section
//! along the shafts with the drum at that angle as DXF, `--tracks MM` the tracks developed on a drum of that diameter.
//! `--layout KEY` prints the file of a plain invented gearbox to start from: `two-speed`, `four-speed`, `five-speed`,
//! `six-speed`, `eight-speed`, `four-speed-direct` or `five-speed-direct`.

mod shell;

use std::ffi::{OsStr, OsString};
use std::process::ExitCode;
use std::slice;

use crenel::design::{LAYOUTS, OpenedGearset, open_gearset, read_gearset, save_gearset};
use crenel::draw::{ShaftSection, tracks_developed};
use crenel::export::dxf;
use crenel::gearset::{
    FaultTrace, GearCut, GearsetAnalysis, Placed, Restored, SetShift, Suspect, before_shims,
    cuts_first, faults, restore, shift_table,
};
use crenel::report::{fault_report, gearset_report, gearset_schema};
use crenel::units::{DisplayUnits, Quantity};
use crenel_words::{Message, Reader};
use serde_json::json;
use shell::Failure;

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let table = |as_json, with_cuts| Wanted::Table { as_json, with_cuts };
    let (wanted, path) = match arguments {
        [option] if option == "--faults" => return each_line(),
        [option] if option == "--schema" => return Ok(format!("{:#}\n", gearset_schema())),
        [path] => (table(false, false), path),
        [option, path] if option == "--json" => (table(true, false), path),
        [option, path] if option == "--cuts" => (table(false, true), path),
        [one, other, path] if one == "--json" && other == "--cuts" => (table(true, true), path),
        [option, key] if option == "--layout" => return layout(key),
        [option, deg, path] if option == "--section" => (Wanted::Section(number(deg)?), path),
        [option, mm, path] if option == "--tracks" => (Wanted::Tracks(number(mm)?), path),
        _ => {
            return Err(Failure::Call(
                "Give a gearbox: box [--json] [--cuts] GEARBOX.json, or - for standard input."
                    .to_owned(),
            ));
        }
    };
    let bytes =
        shell::bytes(path).map_err(|e| format!("{} cannot be read: {e}.", path.display()))?;
    let opened = read_gearset(&bytes).map_err(|findings| shell::sentences(&findings))?;
    let OpenedGearset { gearset, findings } = opened;
    eprint!("{}", shell::sentences(&findings));
    let analysis = GearsetAnalysis::of(&gearset);
    Ok(match wanted {
        Wanted::Table { as_json, with_cuts } => told(&analysis, as_json, with_cuts),
        Wanted::Section(deg) => dxf(&ShaftSection::at(&analysis, deg).paper(Reader::default())),
        Wanted::Tracks(mm) => dxf(&tracks_developed(&analysis, Some(mm), Reader::default())),
    })
}

/// What is printed.
enum Wanted {
    Table {
        as_json: bool,
        with_cuts: bool,
    },
    /// With the drum at an angle, degrees.
    Section(f64),
    /// On a drum of this diameter, mm.
    Tracks(f64),
}

fn number(text: &OsStr) -> Result<f64, Failure> {
    let read = text.to_str().and_then(|text| text.parse().ok()).filter(|n: &f64| n.is_finite());
    read.ok_or_else(|| Failure::Call(format!("“{}” is not a number.", text.display())))
}

/// All that is known of a gearbox.
fn told(analysis: &GearsetAnalysis, as_json: bool, with_cuts: bool) -> String {
    let cuts = if with_cuts { cuts_first(analysis, DisplayUnits::default()) } else { Vec::new() };
    if as_json {
        return format!("{:#}\n", gearset_report(analysis, &cuts));
    }
    let rows = shift_table(analysis);
    let traced = faults(analysis);
    let shims = restore(analysis);
    let found: String = analysis.findings.iter().map(line).collect();
    let first: String =
        before_shims(analysis).iter().map(|says| sentences(slice::from_ref(says))).collect();
    let shims = first + &shims.iter().map(shims_line).collect::<String>();
    let traced = traced.map_or_else(String::new, |traced| lines_of(&traced));
    let cut = |cut: &GearCut| sentences(&cut.says());
    let cuts: String = cuts.iter().map(cut).collect();
    table(&rows) + &found + &shims + &traced + &cuts
}

/// The faults of the gearbox on each line of standard input.
fn each_line() -> Result<String, Failure> {
    let text = std::io::read_to_string(std::io::stdin());
    let text = text.map_err(|e| format!("Standard input cannot be read: {e}."))?;
    let lines = text.lines().filter(|line| !line.trim().is_empty());
    let one = |line: &str| -> Result<String, Failure> {
        let opened = open_gearset(line).map_err(|findings| shell::sentences(&findings))?;
        eprint!("{}", shell::sentences(&opened.findings));
        let traced = faults(&GearsetAnalysis::of(&opened.gearset));
        Ok(format!("{}\n", json!(traced.as_ref().map(fault_report))))
    };
    lines.map(one).collect()
}

/// The file of a plain layout.
fn layout(key: &OsStr) -> Result<String, Failure> {
    let keys: Vec<_> = LAYOUTS.iter().map(|layout| layout.key).collect();
    let unknown =
        || format!("There is no layout “{}”. Use one of: {}.", key.display(), keys.join(", "));
    let found = LAYOUTS.iter().find(|layout| key == layout.key).ok_or_else(unknown)?;
    Ok(format!("{:#}\n", save_gearset(&found.to_gearset())))
}

/// What the readings say, the most probable first.
fn lines_of(traced: &FaultTrace) -> String {
    let reader = Reader::default();
    let suspect = |suspect: &Suspect| {
        let says = &suspect.says;
        format!(
            "{:>3.0} %  {} {}\n",
            100.0 * suspect.share,
            says.says.show(reader),
            says.next.show(reader)
        )
    };
    let suspects: String = traced.suspects.iter().map(suspect).collect();
    let line = |says: &Message| format!("{}\n", says.show(reader));
    suspects + &traced.says().iter().map(line).collect::<String>()
}

fn shims_line(found: &Restored) -> String {
    let does = found.shims.iter().map(|(place, mm)| place.says(*mm));
    sentences(&does.chain(found.says()).collect::<Vec<_>>())
}

fn sentences(says: &[Message]) -> String {
    let shown: Vec<_> = says.iter().map(|says| says.show(Reader::default())).collect();
    shown.join(" ") + "\n"
}

const HEADS: [&str; 11] = [
    "shift",
    "difference",
    "window",
    "limit",
    "chance",
    "in the end",
    "blow",
    "hold",
    "overrun",
    "depth left",
    "tyre",
];

/// The table, the worst shift first, each with its reason.
fn table(rows: &[SetShift]) -> String {
    let reader = Reader::default();
    let cell = |quantity: Quantity, value: Option<f64>| {
        let shown = value.map(|value| crenel_words::Value::Result(quantity, value));
        shown.map_or_else(|| "–".to_owned(), |value| value.show(reader))
    };
    let line = |row: &SetShift| {
        let of = &row.shift;
        let cells = [
            format!("{}→{}", of.step.from + 1, of.step.to + 1),
            cell(Quantity::Speed, Some(of.step.slip_rpm)),
            cell(Quantity::Time, of.window_ms),
            cell(Quantity::Speed, of.limit_rpm),
            cell(Quantity::Share, of.chance),
            cell(Quantity::Share, row.end_chance),
            cell(Quantity::Torque, of.blow_nm),
            cell(Quantity::Force, row.hold_n[0]),
            cell(Quantity::Force, row.hold_n[1]),
            cell(Quantity::Length, row.depth_left_mm),
            cell(Quantity::RoadLength, row.tyre_mm),
        ];
        format!("{}  {}\n", padded(&cells), row.reason.show(reader))
    };
    padded(&HEADS.map(str::to_owned)) + "\n" + &rows.iter().map(line).collect::<String>()
}

fn padded(cells: &[String]) -> String {
    cells.iter().map(|cell| format!("{cell:>12}")).collect()
}

fn line(placed: &Placed) -> String {
    let (part, number) = placed.part.key();
    let finding = &placed.finding;
    format!("{part} {number}, {}: {}\n", finding.class().name(), finding.whole(Reader::default()))
}
