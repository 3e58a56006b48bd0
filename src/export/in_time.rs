//! Charts over time as CSV (RFC 4180): how the old dogs let go, and a whole shift.
//!
//! What the columns mean, and under which conditions, is in lines that begin with `#`, above the heading.

use crenel_words::{Message, Reader, export as say};

use super::csv::remark;
use crate::analysis::Analysis;
use crate::compare::conditions;
use crate::model::{TimeLine, TimedShift};
use crate::units::decimal;

/// Torque at the old dogs and the overlap that is left, over the time since the cut.
pub fn release_csv(shift: &TimedShift, analysis: &Analysis, reader: Reader) -> String {
    let columns = [say::since_cut(), say::torque_at_old(), say::overlap_left()];
    let release = shift.lets_go(shift.step.engine_rpm);
    let moments = release.moments.iter();
    let rows = moments.map(|m| [m.time_s * 1000.0, m.torque_nm, m.overlap_m * 1000.0]);
    file(shift, analysis, reader, &columns, "time_ms,torque_nm,overlap_mm", rows)
}

/// Engine speed, torque at the dogs that hold, and the overlap of old and new dogs, over the time since the signal.
pub fn line_csv(
    shift: &TimedShift,
    line: &TimeLine,
    analysis: &Analysis,
    reader: Reader,
) -> String {
    let columns = [
        say::since_begun(),
        say::engine_speed(),
        say::torque_at_holding(),
        say::overlap_of_old(),
        say::overlap_of_new(),
    ];
    let rows = line
        .moments
        .iter()
        .map(|m| [m.time_s * 1000.0, m.engine_rpm, m.torque_nm, m.old_mm, m.new_mm]);
    let heading = "time_ms,engine_rpm,torque_nm,old_overlap_mm,new_overlap_mm";
    file(shift, analysis, reader, &columns, heading, rows)
}

fn file<const COLUMNS: usize>(
    shift: &TimedShift,
    analysis: &Analysis,
    reader: Reader,
    columns: &[Message],
    heading: &str,
    rows: impl Iterator<Item = [f64; COLUMNS]>,
) -> String {
    let step = shift.step;
    let first = say::shift_in_time(step.from, step.to, step.engine_rpm.round());
    let said = [first].into_iter().chain(columns.iter().cloned()).chain(conditions(analysis));
    let said = said.map(|line| remark(&line.show(reader)));
    let title = remark(&analysis.design.title);
    let rows = rows.map(|row| row.map(|number| decimal(number, 6)).join(","));
    let lines = [title].into_iter().chain(said).chain([heading.to_owned()]).chain(rows);
    lines.map(|line| line + "\r\n").collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::example;
    use crate::model::{Manner, timed_shifts};

    /// The lines that begin with #, the heading, and the rows as numbers.
    fn parts(text: &str) -> (Vec<&str>, &str, Vec<Vec<f64>>) {
        let (head, rest): (Vec<&str>, Vec<&str>) =
            text.lines().partition(|line| line.starts_with('#'));
        let numbers = |row: &&str| row.split(',').map(|c| c.parse().expect("a number")).collect();
        (head, rest[0], rest[1..].iter().map(numbers).collect())
    }

    #[test]
    fn a_shift_in_time_has_every_moment_and_says_what_its_columns_are() {
        let analysis = Analysis::of(&example());
        let shifts = timed_shifts(&analysis, Manner::Cut);
        let shift = shifts.first().expect("a shift");
        let reader = Reader::default();
        let release = shift.lets_go(shift.step.engine_rpm);
        let line = TimeLine::of(shift, shift.step.engine_rpm).expect("it goes in");
        let files = [
            (release_csv(shift, &analysis, reader), release.moments.len()),
            (line_csv(shift, &line, &analysis, reader), line.moments.len()),
        ];
        for (text, moments) in files {
            let (head, heading, rows) = parts(&text);
            assert_eq!(rows.len(), moments);
            for column in heading.split(',') {
                let is_told = head.iter().any(|line| line.starts_with(&format!("# {column} in ")));
                assert!(is_told, "{column}: {head:?}");
                assert!(rows.iter().all(|row| row.len() == heading.split(',').count()));
            }
            assert!(head.iter().all(|line| !line.contains(',')), "{head:?}");
            assert!(head.iter().any(|line| line.contains("Tip friction: 0.1")), "{head:?}");
            assert!(rows.is_sorted_by_key(|row| row[0]));
        }
        let (_, _, rows) = parts(&line_csv(shift, &line, &analysis, reader));
        let last = rows.last().expect("a row");
        assert!((last[1] - line.target_rpm).abs() < 1.0, "the engine has the speed of the gear");
    }
}
