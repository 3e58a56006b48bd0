//! The kinds of work on a ring.

use crenel_words::{Message, Value, caution, step as say, variant};

use super::remeasured::Remeasured;
use super::work::{Cut, Region, Size, Tips, Work, WorkKind};
use crate::fields::FieldId;
use crate::ring::{FlankSide, Ring};
use crate::shop::tolerance::Grade;
use crate::units::{Angle, Quantity};

/// Every kind of work, in the order of the form.
pub static WORKS: &[&WorkKind] =
    &[&REMOVE, &SHORTEN, &NARROW_DRIVE, &NARROW_COAST, &RECUT_DRIVE, &RECUT_COAST, &LAP, &BREAK];

/// What most kinds have in common; a row gives what differs.
const BASE: WorkKind = WorkKind {
    key: "",
    name: "",
    number: None,
    region: Region::Dog,
    is_on_all: false,
    size: None,
    tips: Tips::Unchanged,
    cautions: &[],
    cut: None,
    first_number: None,
    apply: |_, _, _| {},
    instruction: |work, _| say::named(work.kind.label()),
    summary: |work, dogs| variant::named(work.kind.label(), dogs),
    remainder: |_, _, _| None,
};

/// Dogs are cut off down to the web.
static REMOVE: WorkKind = WorkKind {
    key: "remove",
    name: "Remove",
    cautions: &[caution::fewer_dogs, caution::cut_off_wheel],
    cut: Some(|_| Cut::Remove),
    apply: |_, ring, on| ring.remove(on),
    instruction: |_, _| say::remove(),
    summary: |_, dogs| variant::removed(dogs),
    ..BASE
};

/// Dogs are cut down to a height. The flanks stay where they are, and the edges are broken again as they
/// were found.
static SHORTEN: WorkKind = WorkKind {
    key: "shorten",
    name: "Shorten",
    number: Some(FieldId::ShortenTo),
    size: Some(Size::Height),
    tips: Tips::Fresh,
    cautions: &[caution::cut_off_wheel],
    cut: Some(Cut::Shorten),
    // Half the height of the tallest.
    first_number: Some(|found| (found.tallest_mm() / 2.0).max(FieldId::ShortenTo.spec().min)),
    apply: |to_mm, ring, on| ring.shorten(on, to_mm),
    instruction: |work, _| say::shorten(size(work.number)),
    summary: |work, dogs| variant::shortened(dogs, size(work.number)),
    remainder: |to_mm, ring, here| {
        let tolerance = Grade::Medium.linear_mm(to_mm);
        Some((ring.size_made(to_mm, tolerance, &here, |dog| dog.height_mm), here))
    },
    ..BASE
};

/// So many mm come off a flank, at the mean radius: a radial flank stays radial, a parallel one parallel,
/// and its angle is unchanged.
const NARROW: WorkKind =
    WorkKind { number: Some(FieldId::FlankStock), size: Some(Size::Width), ..BASE };

static NARROW_DRIVE: WorkKind = WorkKind {
    key: "narrow_drive",
    name: "Narrow drive flank",
    region: Region::Flank(FlankSide::Drive),
    instruction: |work, before| narrowing(work, before, say::narrow_drive),
    summary: |work, dogs| variant::drive_narrowed(dogs, size(work.number)),
    apply: |stock_mm, ring, on| ring.narrow(on, FlankSide::Drive, stock_mm),
    remainder: |stock_mm, ring, here| still_wide(stock_mm, ring, here, FlankSide::Drive),
    ..NARROW
};

static NARROW_COAST: WorkKind = WorkKind {
    key: "narrow_coast",
    name: "Narrow coast flank",
    region: Region::Flank(FlankSide::Coast),
    instruction: |work, before| narrowing(work, before, say::narrow_coast),
    summary: |work, dogs| variant::coast_narrowed(dogs, size(work.number)),
    apply: |stock_mm, ring, on| ring.narrow(on, FlankSide::Coast, stock_mm),
    remainder: |stock_mm, ring, here| still_wide(stock_mm, ring, here, FlankSide::Coast),
    ..NARROW
};

/// A flank is cut to an angle in degrees, plus for undercut, and just so deep that nothing of the old
/// flank is left: through its tip edge as it is by then, or further in through its old root.
const RECUT: WorkKind = WorkKind { number: Some(FieldId::RecutTo), ..BASE };

static RECUT_DRIVE: WorkKind = WorkKind {
    key: "recut_drive",
    name: "Re-cut drive flank",
    region: Region::Flank(FlankSide::Drive),
    instruction: |work, _| say::recut_drive(work.number),
    summary: |work, dogs| variant::drive_recut(dogs, work.number),
    apply: |to_deg, ring, on| ring.recut(on, FlankSide::Drive, Angle::from_degrees(to_deg)),
    remainder: |to_deg, ring, here| still_off_angle(to_deg, ring, here, FlankSide::Drive),
    ..RECUT
};

static RECUT_COAST: WorkKind = WorkKind {
    key: "recut_coast",
    name: "Re-cut coast flank",
    region: Region::Flank(FlankSide::Coast),
    instruction: |work, _| say::recut_coast(work.number),
    summary: |work, dogs| variant::coast_recut(dogs, work.number),
    apply: |to_deg, ring, on| ring.recut(on, FlankSide::Coast, Angle::from_degrees(to_deg)),
    remainder: |to_deg, ring, here| still_off_angle(to_deg, ring, here, FlankSide::Coast),
    ..RECUT
};

/// The tips of all dogs are lapped on a plate, until so many mm are off the tallest.
static LAP: WorkKind = WorkKind {
    key: "lap",
    name: "Lap tips",
    number: Some(FieldId::LapStock),
    region: Region::Tip,
    is_on_all: true,
    tips: Tips::Lapped,
    cautions: &[caution::lapped],
    apply: |stock_mm, ring, _| ring.lap(stock_mm),
    instruction: |work, before| {
        say::lap(size((before.tallest_mm() - work.number).max(0.0)), size(work.number))
    },
    summary: |work, dogs| variant::lapped(dogs, size(work.number)),
    remainder: |stock_mm, ring, here| {
        let is_left = ring.higher_mm > stock_mm / 2.0;
        ring.higher_mm -= if is_left { stock_mm } else { 0.0 };
        is_left.then_some((stock_mm, here))
    },
    ..BASE
};

/// The tip edges are broken to so many mm.
static BREAK: WorkKind = WorkKind {
    key: "break",
    name: "Break edges",
    number: Some(FieldId::BreakTo),
    region: Region::Tip,
    size: Some(Size::Edge),
    cautions: &[caution::broken_edges],
    apply: |to_mm, ring, on| ring.break_edges(on, to_mm),
    instruction: |work, _| say::break_edges(size(work.number)),
    summary: |work, dogs| variant::edges_broken(dogs, size(work.number)),
    remainder: |to_mm, ring, here| {
        let tolerance = Some(Grade::Medium.edge_by_hand_mm(to_mm));
        // A smaller break is the larger size.
        let made = ring.size_made(-to_mm, tolerance, &here, |dog| -dog.edge_break_mm);
        Some((-made, here))
    },
    ..BASE
};

impl Work {
    /// Removes dogs or cuts them down.
    pub fn cut(cut: Cut) -> Self {
        match cut {
            Cut::Remove => Self { kind: &REMOVE, number: 0.0 },
            Cut::Shorten(to_mm) => Self { kind: &SHORTEN, number: to_mm },
        }
    }

    /// Takes so many mm off a flank, at the mean radius.
    pub fn narrow(flank: FlankSide, stock_mm: f64) -> Self {
        let kind = match flank {
            FlankSide::Drive => &NARROW_DRIVE,
            FlankSide::Coast => &NARROW_COAST,
        };
        Self { kind, number: stock_mm }
    }

    /// Cuts a flank to an angle in degrees, plus for undercut.
    pub fn recut(flank: FlankSide, to_deg: f64) -> Self {
        let kind = match flank {
            FlankSide::Drive => &RECUT_DRIVE,
            FlankSide::Coast => &RECUT_COAST,
        };
        Self { kind, number: to_deg }
    }

    /// Laps the tips of all dogs, until so many mm are off the tallest.
    pub fn lap(stock_mm: f64) -> Self {
        Self { kind: &LAP, number: stock_mm }
    }

    /// Breaks the tip edges to so many mm.
    pub fn break_edges(to_mm: f64) -> Self {
        Self { kind: &BREAK, number: to_mm }
    }
}

/// A length with all the digits that were given.
const fn size(mm: f64) -> Value {
    Value::Size(Quantity::Length, mm)
}

/// The stock of a flank, with the angle that it is at the mean diameter.
fn narrowing(work: &Work, before: &Ring, says: fn(Value, f64, f64) -> Message) -> Message {
    let (stock, mean) = (work.number, before.mean_radius_mm());
    says(size(stock), (stock / mean).to_degrees(), 2.0 * mean)
}

/// The dogs of which a flank is measured nearer to its place without the stock than with it.
fn still_wide(
    stock_mm: f64,
    ring: &mut Remeasured,
    mut here: Vec<usize>,
    flank: FlankSide,
) -> Option<(f64, Vec<usize>)> {
    here.retain(|at| ring.over_mm[*at][flank] > stock_mm / 2.0);
    here.iter().for_each(|at| ring.over_mm[*at][flank] -= stock_mm);
    (!here.is_empty()).then_some((stock_mm, here))
}

/// The dogs of which a flank is measured off its angle by more than the general tolerance.
fn still_off_angle(
    to_deg: f64,
    ring: &mut Remeasured,
    mut here: Vec<usize>,
    flank: FlankSide,
) -> Option<(f64, Vec<usize>)> {
    here.retain(|at| {
        let dog = ring.dogs[*at].1;
        let allowed = Grade::Medium.angular(dog.height_mm).map_or(0.0, Angle::degrees);
        (dog.back_cut[flank].degrees() - to_deg).abs() > allowed
    });
    (!here.is_empty()).then_some((to_deg, here))
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use serde_json::json;

    use super::*;
    use crate::analysis::Analysis;
    use crate::design::{Design, Operation, open, save, to_json};
    use crate::fields::Slot;
    use crate::report::{SetUpSheet, report_json};
    use crate::rework::plan_summary;
    use crate::ring::Side;

    /// A kind that nothing outside this test knows.
    static DUMMY: WorkKind = WorkKind {
        key: "dummy",
        name: "chamfer the drive flank",
        number: Some(FieldId::BreakTo),
        region: Region::Flank(FlankSide::Drive),
        apply: |to_mm, ring, on| ring.break_edges(on, to_mm),
        ..BASE
    };

    fn on_two_dogs(kind: &'static WorkKind) -> Design {
        let mut design = Design::default();
        let work = kind.begin(&design.a.to_found());
        design.a.plan.operations.push(Operation { work, places: BTreeSet::from([0, 2]) });
        design
    }

    #[test]
    fn a_row_is_all_that_a_kind_needs() {
        let mut design = on_two_dogs(&DUMMY);
        let slot = Slot::Work(Side::A, 0, FieldId::BreakTo);
        assert!(design.slots().contains(&slot), "its number has a field");
        design.set(slot, 0.75);
        let saved = save(&design)["a"]["plan"][0].clone();
        assert_eq!(saved, json!({ "do": "dummy", "break_to_mm": 0.75, "dogs": [1, 3] }));
        let cut = design.a.to_cut();
        assert_eq!(cut.dogs.iter().filter(|dog| dog.edge_break_mm == 0.75).count(), 2);
        let analysis = Analysis::of(&design);
        let told = plan_summary(&design).show(Default::default());
        assert_eq!(told, "chamfer the drive flank: A1 and A3");
        let sheet = SetUpSheet::of(&analysis, Side::A, Default::default());
        assert_eq!(sheet.steps[0].words, say::named(DUMMY.label()));
        assert_eq!(sheet.steps[0].dogs, [1, 3]);
        let indexed: Vec<_> = sheet.index.dogs.iter().map(|(name, _)| name.as_str()).collect();
        assert_eq!(indexed, ["A1 drive", "A3 drive"]);
        let report = report_json(&analysis);
        assert_eq!(report["rings"]["a"]["plan"][0]["words"], DUMMY.name);
    }

    #[test]
    fn the_sheet_says_how_far_down_a_dog_is_removed() {
        let sheet =
            SetUpSheet::of(&Analysis::of(&on_two_dogs(&REMOVE)), Side::A, Default::default());
        assert_eq!(sheet.steps[0].words, say::remove());
    }

    #[test]
    fn every_kind_comes_back_from_a_file() {
        for &kind in WORKS {
            let mut design = on_two_dogs(kind);
            if kind.is_on_all {
                design.a.plan.operations[0].places.clear();
            }
            let opened = open(&to_json(&design)).expect("it opens");
            assert_eq!((&opened.design, opened.findings.len()), (&design, 0), "{kind:?}");
        }
    }

    #[test]
    fn keys_and_names_are_unique() {
        let words = |word: fn(&WorkKind) -> &'static str| {
            WORKS.iter().map(|kind| word(kind)).collect::<BTreeSet<_>>().len()
        };
        assert_eq!([words(|kind| kind.key), words(|kind| kind.name)], [WORKS.len(); 2]);
    }
}
