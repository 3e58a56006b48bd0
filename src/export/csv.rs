//! Dog positions and chances as CSV (RFC 4180).

use crate::report::{Analysis, tip_edge};
use crate::ring::{Dog, FlankSide, Ring, Side};
use crate::shift::{Outcome, OutcomeMap};
use crate::units::{AngleStyle, DisplayUnits, Quantity, decimal, rpm};

const HEAD: &str = "ring,dog,do,centre_deg,centre_dms,drive_edge_deg,coast_edge_deg,tip_width_deg,chord_mm,found_height_mm,height_mm,back_cut_drive_deg,back_cut_coast_deg,edge_break_mm,root_fillet_mm,cut_drive_edge_deg,cut_coast_edge_deg,cut_back_cut_drive_deg,cut_back_cut_coast_deg,cut_edge_break_mm";

/// Every dog place of both rings: what to do with it and where it is, counter-clockwise from the
/// datum mark looking at the dogs of its ring. Only numbers and our own words stand in it, so that
/// no cell can begin a formula by way of somebody's text.
pub fn dogs_csv(analysis: &Analysis) -> String {
    let mut lines = vec![HEAD.to_owned()];
    for side in Side::BOTH {
        lines.extend(ring_lines(analysis, side));
    }
    lines.join("\r\n") + "\r\n"
}

fn ring_lines(analysis: &Analysis, side: Side) -> Vec<String> {
    let spec = analysis.design.ring(side);
    let (found, cut) = (&analysis.found[side as usize], analysis.ring(side));
    let dms = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
    let line = |dog: &Dog| {
        let now = cut.dogs.iter().find(|now| now.place == dog.place);
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
        let (decimal_centre, dms) =
            (decimal(centre.degrees(), 6), Quantity::Angle.format(centre.degrees(), dms));
        let cut = now.map_or(",,,,".to_owned(), |now| cut_cells(cut, now));
        format!("{},{place},{order},{decimal_centre},{dms},{numbers},{cut}", side.letter())
    };
    found.dogs.iter().map(line).collect()
}

/// Tip edges, flank angles and edge break of a dog once it is cut.
fn cut_cells(ring: &Ring, dog: &Dog) -> String {
    let edge = |flank: FlankSide| tip_edge(ring, dog, flank).wrapped().degrees();
    let [drive, coast] = FlankSide::BOTH.map(edge);
    let back_cut = FlankSide::BOTH.map(|flank| dog.back_cut.of(flank).degrees());
    let numbers = [drive, coast, back_cut[0], back_cut[1], dog.edge_break_mm];
    numbers.map(|v| decimal(v, 6)).join(",")
}

/// The chances over the speed difference: a row for each row of the map, shares of all phases from 0
/// to 1 by outcome.
pub fn chances_csv(map: &OutcomeMap) -> String {
    let heads = Outcome::ALL.map(|outcome| outcome.words().replace([' ', ','], "_"));
    let mut lines = vec![format!("speed_difference_rpm,{}", heads.join(","))];
    for row in 0..map.rows() {
        let speed = decimal(rpm(map.slip(row)), 3);
        let shares = map.shares(row).map(|share| decimal(share, 6)).join(",");
        lines.push(format!("{speed},{shares}"));
    }
    lines.join("\r\n") + "\r\n"
}
