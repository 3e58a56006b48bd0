//! Dog positions, chances and index positions as CSV (RFC 4180).
//!
//! The cautions are lines that begin with `#`, above the heading. Many readers skip them with an option such
//! as `comment="#"`. They contain no comma, so that each is one cell.

use crenel_words::Reader;

use crate::analysis::Analysis;
use crate::report::cautions_short;
use crate::ring::{Dog, FlankSide, Ring, Side};
use crate::shift::{Outcome, OutcomeMap};
use crate::shop::indexing::{Dial, IndexSheet, Step, to_the_second};
use crate::units::{Angle, AngleStyle, DisplayUnits, Quantity, decimal, rpm};

const HEAD: &str = "ring,dog,do,centre_deg,centre_dms,drive_edge_deg,coast_edge_deg,tip_width_deg,chord_mm,\
    found_height_mm,height_mm,back_cut_drive_deg,back_cut_coast_deg,edge_break_mm,root_fillet_mm,\
    cut_drive_edge_deg,cut_coast_edge_deg,cut_back_cut_drive_deg,cut_back_cut_coast_deg,cut_edge_break_mm";

/// The cautions, and the heading of the columns below them.
fn head(columns: &str) -> Vec<String> {
    let cautions =
        cautions_short(Reader::default()).into_iter().map(|caution| format!("# {caution}"));
    cautions.chain([columns.to_owned()]).collect()
}

/// Every dog place of both rings, with its work and its angles, counter-clockwise from the datum mark looking
/// at the dogs of its ring. It has only numbers and our own words, so that no text of a user can begin a
/// formula in a cell.
pub fn dogs_csv(analysis: &Analysis) -> String {
    let mut lines = head(HEAD);
    for side in Side::BOTH {
        lines.extend(ring_lines(analysis, side));
    }
    lines.join("\r\n") + "\r\n"
}

fn ring_lines(analysis: &Analysis, side: Side) -> Vec<String> {
    let spec = analysis.design.ring(side);
    let (found, cut) = (&analysis.found[side], analysis.ring(side));
    let line = |dog: &Dog| {
        let now = cut.at_place(dog.place);
        let order = match (spec.plan.cut_of(dog.place), now) {
            (_, None) => "remove",
            (Some(_), _) => "shorten",
            (None, Some(now)) if now == dog => "keep",
            (None, Some(_)) => "rework",
        };
        let height = now.map_or(0.0, |now| now.height_mm);
        let centre = dog.centre.wrapped();
        let half = dog.tip_width / 2.0;
        let numbers = [
            (centre - half).wrapped().degrees(),
            (centre + half).wrapped().degrees(),
            dog.tip_width.degrees(),
            2.0 * found.half_chord_mm(dog),
            dog.height_mm,
            height,
            dog.back_cut.drive.degrees(),
            dog.back_cut.coast.degrees(),
            dog.edge_break_mm,
            dog.root_fillet_mm,
        ];
        let numbers = numbers.map(|v| decimal(v, 6)).join(",");
        let place = dog.place + 1;
        let (decimal_centre, dms) = (decimal(centre.degrees(), 6), dms(centre));
        let cut = now.map_or(",,,,".to_owned(), |now| cut_cells(cut, now));
        format!("{},{place},{order},{decimal_centre},{dms},{numbers},{cut}", side.letter())
    };
    found.dogs.iter().map(line).collect()
}

/// Tip edges, flank angles and edge break of a dog once it is cut.
fn cut_cells(ring: &Ring, dog: &Dog) -> String {
    let edge = |flank: FlankSide| ring.tip_edge(dog, flank).wrapped().degrees();
    let [drive, coast] = FlankSide::BOTH.map(edge);
    let back_cut = FlankSide::BOTH.map(|flank| dog.back_cut[flank].degrees());
    let numbers = [drive, coast, back_cut[0], back_cut[1], dog.edge_break_mm];
    numbers.map(|v| decimal(v, 6)).join(",")
}

/// The chances over the speed difference: a row for each row of the map, with the share of all phases, 0 to
/// 1, for each outcome.
pub fn chances_csv(map: &OutcomeMap) -> String {
    let heads = Outcome::ALL.map(Outcome::key);
    let mut lines = head(&format!("speed_difference_rpm,{}", heads.join(",")));
    for row in 0..map.rows() {
        let speed = decimal(rpm(map.slip(row)), 3);
        let shares = map.shares(row).map(|share| decimal(share, 6)).join(",");
        lines.push(format!("{speed},{shares}"));
    }
    lines.join("\r\n") + "\r\n"
}

const INDEX_HEAD: &str = "dog,position_deg,position_dms,head_ratio,circle_holes,datum_turns,datum_holes,\
    error_arcmin,move_turns,move_holes,table_ratio,handle_turns,dial_dms";

/// A row for each dog of the sheet: its position from the datum; the crank of the dividing head from
/// the datum with its error (minus is short), and from the position before; handle and dial of the
/// rotary table from the datum. Cells of a tool that is not chosen, or that cannot do it, are empty.
///
/// Names are text of a user: they are in quotation marks, with an apostrophe before a name that would begin a
/// formula.
pub fn index_csv(sheet: &IndexSheet) -> String {
    let steps = sheet.head.iter().flat_map(|job| job.steps.iter().map(|s| (job.ratio, s)));
    let mut heads = steps.map(|(ratio, step)| head_cells(ratio, step));
    let dials = sheet.table.iter().flat_map(|job| job.dials.iter().map(|d| (job.ratio, d)));
    let mut tables = dials.map(|(ratio, dial)| table_cells(ratio, dial));
    let mut lines = head(INDEX_HEAD);
    for (name, position) in &sheet.dogs {
        let head = heads.next().unwrap_or_else(|| ",".repeat(6));
        let table = tables.next().unwrap_or_else(|| ",".repeat(2));
        let (name, degrees) = (text_cell(name), decimal(position.degrees(), 6));
        lines.push(format!("{name},{degrees},{},{head},{table}", dms(to_the_second(*position))));
    }
    lines.join("\r\n") + "\r\n"
}

fn head_cells(ratio: u16, step: &Step) -> String {
    let (crank, on) = (step.fit.crank, step.on);
    let error = decimal(step.fit.error_min, 3);
    let to_here = format!("{},{},{}", crank.circle, crank.turns, crank.holes);
    format!("{ratio},{to_here},{error},{},{}", on.turns, on.holes)
}

fn table_cells(ratio: u16, dial: &Dial) -> String {
    format!("{ratio},{},{}", dial.turns, dial.reading())
}

fn dms(angle: Angle) -> String {
    let units = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
    Quantity::Angle.format(angle.degrees(), units)
}

/// Signs with which a cell begins a formula in one spreadsheet or another, narrow and wide
/// (OWASP, CSV injection).
const FORMULA: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];

/// Text of a user as a cell of one line.
pub(super) fn text_cell(text: &str) -> String {
    let plain: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let guard = if plain.trim_start().starts_with(FORMULA) { "'" } else { "" };
    format!("\"{guard}{}\"", plain.replace('"', "\"\""))
}

/// A line above the heading, one cell in programs that do not know such lines: without commas and line breaks.
pub(super) fn remark(line: &str) -> String {
    format!("# {}", line.replace(',', ";").replace(['\r', '\n'], " "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::shop::indexing::{Dividing, RotaryTable};

    fn sheet(names: &[&str], table: Option<RotaryTable>) -> String {
        let dogs = names.iter().zip(0..);
        let dogs =
            dogs.map(|(&name, at)| (name.to_owned(), Angle::from_degrees(54.0 * f64::from(at))));
        index_csv(&IndexSheet::new(dogs.collect(), Some(&Dividing::default()), table))
    }

    /// The table below the cautions, which are lines of one cell each.
    fn table(text: &str) -> &str {
        cautions_short(Reader::default()).iter().fold(text, |text, caution| {
            let (line, rest) = text.split_once("\r\n").expect("a line for each");
            assert_eq!(line, format!("# {caution}"));
            assert!(!line.contains([',', '"']), "{line}");
            rest
        })
    }

    #[test]
    fn an_index_sheet_is_read_across() {
        let text = sheet(&["A 1", "A 2"], Some(RotaryTable { ratio: 80 }));
        let lines: Vec<&str> = table(&text).split("\r\n").collect();
        assert_eq!(lines[0], INDEX_HEAD);
        assert_eq!(lines[1], "\"A 1\",0,0°00′00″,40,15,0,0,0,0,0,80,0,0°00′00″");
        assert_eq!(lines[2], "\"A 2\",54,54°00′00″,40,15,6,0,0,6,0,80,12,0°00′00″");
        assert_eq!(lines[3..], [""]);
    }

    #[test]
    fn every_row_has_the_cells_of_the_heading() {
        let wanted = INDEX_HEAD.matches(',').count();
        for text in [sheet(&["a"], None), sheet(&["a"], Some(RotaryTable { ratio: 90 }))] {
            let lines = table(&text).lines();
            assert!(lines.clone().all(|line| line.matches(',').count() == wanted), "{text}");
        }
    }

    #[test]
    fn no_name_begins_a_formula_or_a_cell() {
        let cases = [
            ("=1+1", "\"'=1+1\""),
            (" \t@SUM(A1)", "\"'  @SUM(A1)\""),
            ("－1", "\"'－1\""),
            ("a\",=1\r\n=2", "\"a\"\",=1  =2\""),
            ("A-1", "\"A-1\""),
            ("", "\"\""),
        ];
        for (name, want) in cases {
            assert_eq!(text_cell(name), want);
        }
    }
}
