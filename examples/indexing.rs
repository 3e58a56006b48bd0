//! Prints how to set each angle on a dividing head and on a rotary table.
//!
//! `cargo run --example indexing -- [--csv] [--plates NAMES] RATIO ANGLE…`
//!
//! RATIO is the turns of the crank or handwheel for one turn of the work, such as 40. Angles count from the
//! datum: `60`, `11.5`, `11°30′`, `11:30`; `NAME=ANGLE` gives a dog a name instead of its number.
//! `--plates 15-20,21-33` names the plates at hand; without it, all known plates are used.
//!
//! Each line is a JSON object. The first describes the job: `ratio`, the `circle` chosen for all
//! angles, whether it is `exact`, `largest_error_min` in minutes of arc. One follows for each angle:
//! `dog`, `position_deg`; `turns` and `holes` from the datum with `error_min` (minus is short);
//! `move_turns` and `move_holes` from the previous angle; `table_turns` of the handwheel and `table_dial`;
//! and `alone`, the circle that suits this one angle best, with its `turns`, `holes` and `error_min`.
//! With `--csv` the same list is printed as the app exports it. Input that cannot be read exits with 1
//! and a sentence on standard error.

mod shell;

use std::process::ExitCode;

use crenel::export::index_csv;
use crenel::shop::indexing::{Dial, Dividing, Fit, IndexSheet, Job, Plates, RotaryTable, Step};
use crenel::units::{Angle, AngleStyle, DisplayUnits, Quantity};
use serde_json::{Value, json};

fn main() -> ExitCode {
    shell::run_on_words(answer)
}

fn answer(mut arguments: &[String]) -> Result<String, String> {
    let (mut csv, mut plates) = (false, Plates::default());
    loop {
        match arguments {
            [flag, rest @ ..] if flag == "--csv" => (csv, arguments) = (true, rest),
            [flag, names, rest @ ..] if flag == "--plates" => {
                (plates, arguments) = (plates_named(names)?, rest);
            }
            _ => break,
        }
    }
    let [ratio, angles @ ..] = arguments else {
        return Err("Give a ratio and at least one angle: indexing 40 0 60 120".to_owned());
    };
    let head = Dividing { ratio: ratio_of(ratio)?, plates };
    let table = RotaryTable { ratio: head.ratio };
    let dogs = (1..).zip(angles).map(|(number, typed)| dog(number, typed));
    let sheet = IndexSheet::new(dogs.collect::<Result<_, _>>()?, Some(&head), Some(table));
    if csv { Ok(index_csv(&sheet)) } else { lines(&head, &sheet) }
}

fn plates_named(names: &str) -> Result<Plates, String> {
    let usual = Plates::default();
    let named = |name: &str| {
        let plate = usual.iter().find(|plate| plate.name().replace('–', "-") == name).cloned();
        plate.ok_or_else(|| {
            format!("There is no plate “{name}”. Name known ones, such as 15-20,21-33.")
        })
    };
    names.split(',').map(named).collect()
}

fn ratio_of(typed: &str) -> Result<u16, String> {
    let ratio = typed.parse().ok().filter(|ratio| *ratio > 0);
    ratio.ok_or_else(|| format!("“{typed}” is not a ratio. Type a whole number such as 40."))
}

fn dog(number: usize, typed: &str) -> Result<(String, Angle), String> {
    let (name, angle) = match typed.rsplit_once('=') {
        Some((name, angle)) => (name.to_owned(), angle),
        None => (number.to_string(), typed),
    };
    let units = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
    let degrees = Quantity::Angle.parse(angle, units).map_err(|e| e.to_string())?;
    Ok((name, Angle::from_degrees(degrees)))
}

fn lines(head: &Dividing, sheet: &IndexSheet) -> Result<String, String> {
    let (Some(job), Some(table)) = (&sheet.head, &sheet.table) else {
        return Err("No setting was found for these angles.".to_owned());
    };
    let rows = sheet.dogs.iter().zip(job.steps.iter().zip(&table.dials));
    let rows = rows.map(|((name, _), (step, dial))| row(head, name, step, dial));
    Ok(std::iter::once(first(job)).chain(rows).map(|line| format!("{line}\n")).collect())
}

fn first(job: &Job) -> Value {
    json!({
        "ratio": job.ratio,
        "circle": job.circle,
        "exact": job.is_exact(),
        "largest_error_min": job.largest_error_min(),
    })
}

fn row(head: &Dividing, name: &str, step: &Step, dial: &Dial) -> Value {
    json!({
        "dog": name,
        "position_deg": step.position.degrees(),
        "turns": step.fit.crank.turns,
        "holes": step.fit.crank.holes,
        "error_min": step.fit.error_min,
        "move_turns": step.on.turns,
        "move_holes": step.on.holes,
        "table_turns": dial.turns,
        "table_dial": dial.reading(),
        "alone": head.nearest(step.position).map(|fit| alone(&fit)),
    })
}

fn alone(fit: &Fit) -> Value {
    let crank = fit.crank;
    json!({
        "circle": crank.circle,
        "turns": crank.turns,
        "holes": crank.holes,
        "error_min": fit.error_min,
        "exact": fit.is_exact(),
    })
}
