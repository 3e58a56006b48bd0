//! Every number of the table of inputs at its limits, just beyond them, at nothing, tiny, huge, the wrong
//! way round, equal to another, or none at all, each in a design that is otherwise as random as ever.

use std::sync::atomic::{AtomicUsize, Ordering};

use crenel::analysis::Analysis;
use crenel_words::{Language, Reader, Value as Shown};

use crenel::compare::{Comparison, changes, verdict_words};
use crenel::design::{
    ClawSpec, Cut, DepthSpec, Design, DetentSpec, GearboxSpec, LinkageSpec, Operation, PedalBy,
    RingPair, START_RINGS, SYMPTOMS, SetLimits, Trace, TrackSpec, Work, is_of_gearset, open,
    to_json,
};
use crenel::diagnosis::diagnose;
use crenel::draw::views::VIEWS;
use crenel::draw::{Frame, Turn3, ViewOptions, paper_drawing, picture, ring_drawing};
use crenel::fields::{FIELDS, Field, FieldId, Slot};
use crenel::figures::figures;
use crenel::finding::{Finding, Severity};
use crenel::model::{Chances, chance_table, hardest_words};
use crenel::report::{SetUpSheet, report_json};
use crenel::rework::plan_steps;
use crenel::ring::{FlankSide, Side};
use crenel::selector::Stroke;
use crenel::shift::Way;
use crenel::suggest::{Goal, Search, suggestions};
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit, ParseError, Quantity};
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use serde_json::Value;

use crate::designs::{design, sound_pair, within};
use crate::readers::{numbers_of, tells_no_number, words_of};
use crate::soak;

const METRIC: DisplayUnits =
    DisplayUnits { length: LengthUnit::Millimetre, angle: AngleStyle::Decimal };
const SHOP: DisplayUnits = DisplayUnits { length: LengthUnit::Inch, angle: AngleStyle::Dms };

/// What an estimate or a shop sum is made from is in no design.
const ELSEWHERE: [FieldId; 4] =
    [FieldId::DiscMass, FieldId::DiscDiameter, FieldId::ShaftDiameter, FieldId::ShaftLength];

/// Whether designs of one pair have the input.
fn is_of_a_design(id: FieldId) -> bool {
    !ELSEWHERE.contains(&id) && !is_of_gearset(id)
}

/// The findings about a number outside the limits of its input.
const OUTSIDE: [&str; 3] = ["out_of_limits", "not_a_number", "not_whole"];

// ---- designs with every number in them ----

/// One operation of every kind that has a number, on the first dogs.
fn every_work() -> Vec<Operation> {
    let works = [
        Work::cut(Cut::Shorten(4.0)),
        Work::narrow(FlankSide::Drive, 0.05),
        Work::recut(FlankSide::Coast, 1.0),
        Work::lap(0.02),
        Work::break_edges(0.2),
    ];
    let on = |work: Work| match work.kind.is_on_all {
        true => Operation::on_all(work),
        false => Operation { work, places: [0, 1].into() },
    };
    works.map(on).to_vec()
}

/// A random design with every part in it: ring A measured, ring B even, and work on both.
fn whole(start: usize) -> impl Strategy<Value = Design> {
    (design(within), sound_pair(), any::<bool>()).prop_map(move |(mut design, [a, _], swap)| {
        design.title = "Invented".to_owned();
        (design.initials, design.notes) = (String::new(), String::new());
        design.alternatives = vec![RingPair { title: String::new(), a: a.clone(), b: a.clone() }];
        let selector = &mut design.selector;
        selector.linkage.get_or_insert_with(|| LinkageSpec::joined(PedalBy::RodBelow));
        selector.claw.get_or_insert_with(ClawSpec::default);
        selector.detent.get_or_insert_with(DetentSpec::default);
        let track = selector.track.get_or_insert_with(TrackSpec::default);
        if track.points.len() < 2 {
            track.points = vec![[0.0, 0.0], [20.0, 1.0], [40.0, 6.0]];
        }
        if design.depth.as_ref().is_none_or(|depth| depth.chains.iter().any(Vec::is_empty)) {
            design.depth = Some(DepthSpec::example());
        }
        for link in design.depth.iter_mut().flat_map(|depth| depth.chains.iter_mut().flatten()) {
            link.name = "part".to_owned();
        }
        if design.gearbox.as_ref().is_none_or(|gearbox| gearbox.gears.len() < 2) {
            design.gearbox = Some(GearboxSpec::default());
        }
        let measured = Trace::FIELDS.iter().map(|&id| (id, id.spec().default)).collect();
        design.trace = Trace { felt: SYMPTOMS.iter().copied().collect(), measured };
        design.limits.numbers =
            SetLimits::FIELDS.iter().map(|&id| (id, id.spec().default)).collect();
        // What was given of rings that are replaced names numbers that are gone.
        design.given.clear();
        design.a = a;
        design.b = START_RINGS[start % START_RINGS.len()].ring();
        (design.a.plan.operations, design.b.plan.operations) = (every_work(), every_work());
        if swap {
            // The even ring may be on either side.
            std::mem::swap(&mut design.a, &mut design.b);
        }
        design
    })
}

fn numbered(number: usize, start: usize) -> Design {
    let mut seed = [7; 32];
    seed[..8].copy_from_slice(&number.to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &seed);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    whole(start).new_tree(&mut runner).expect("designs are made without end").current()
}

/// A random design that has the field, and where.
fn with_field(id: FieldId, number: usize) -> (Design, Slot) {
    // Slots have gaps for their dogs, the other even rings dogs for their gaps.
    let start = if id == FieldId::Gap { 5 } else { number % 5 };
    let design = numbered(number, start);
    let slots: Vec<Slot> = design.slots().into_iter().filter(|slot| slot.field() == id).collect();
    assert!(!slots.is_empty(), "no design has {id:?}");
    (design, slots[number % slots.len()])
}

// ---- numbers ----

/// What is put into a field: its limits, a hair and more beyond, and what nobody measures.
fn numbers(field: &Field, equal: f64) -> Vec<f64> {
    let (min, max) = (field.min, field.max);
    vec![
        min,
        max,
        min.next_down(),
        max.next_up(),
        min - 1e-9,
        max + 1e-9,
        min - field.coarse,
        max + field.coarse,
        0.0,
        -0.0,
        f64::from_bits(1),
        1e-12,
        1e-300,
        -field.default,
        -max,
        -1.0,
        equal,
        min + field.fine / 3.0,
        1e9,
        1e300,
        f64::MAX,
        f64::MIN,
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
    ]
}

/// The number of another input of the design that measures the same.
fn like_another(design: &Design, slot: Slot) -> f64 {
    let quantity = slot.field().spec().quantity;
    let alike = |other: &Slot| *other != slot && other.field().spec().quantity == quantity;
    let other = design.slots().into_iter().find(alike);
    other.and_then(|other| design.get(other)).unwrap_or(slot.field().spec().default)
}

fn is_within(field: &Field, value: f64) -> bool {
    let whole = field.quantity != Quantity::Count || value.fract() == 0.0;
    (field.min..=field.max).contains(&value) && whole
}

/// A number outside is told of at its place, with itself and both limits.
fn is_told(analysis: &Analysis, slot: Slot, value: f64) -> Result<(), String> {
    let field = slot.field().spec();
    let mut here = analysis.findings.iter().filter(|f| f.place == Some(slot));
    let Some(finding) = here.find(|f| OUTSIDE.contains(&f.code)) else {
        return Err(format!(
            "nothing is told of {value:e} in {}",
            slot.words().show(Default::default())
        ));
    };
    for units in [METRIC, SHOP] {
        let reader = Reader { units, ..Reader::default() };
        let text = finding.text(reader);
        let shown = [field.min, field.max].map(|limit| field.quantity.show(limit, units));
        let itself = [field.quantity.show(value, units), field.quantity.show_exact(value)];
        let itself = itself.into_iter().chain([format!("{value:?}")]);
        let has_itself = !value.is_finite() || itself.into_iter().any(|it| text.contains(&it));
        let looks_right = shown.iter().any(|limit| text.contains(&format!(": {limit} is ")));
        if !shown.iter().all(|limit| text.contains(limit)) || !has_itself || looks_right {
            return Err(format!("{value:e}: {text}"));
        }
        if finding.severity != Severity::Error || !finding.hint(reader).ends_with('.') {
            return Err(format!("{finding:?}"));
        }
    }
    Ok(())
}

// ---- everything that is said and drawn ----

/// Every sentence the core makes of a design.
fn sentences(analysis: &Analysis, units: DisplayUnits) -> Vec<String> {
    let reader = Reader { units, ..Reader::default() };
    let mut all = Vec::new();
    for finding in &analysis.findings {
        all.extend([finding.text(reader), finding.hint(reader)]);
    }
    for figure in figures(analysis) {
        all.extend([figure.shown(reader), figure.working.show(reader)]);
    }
    let diagnosis = diagnose(analysis);
    let said = diagnosis.checks.iter().flat_map(|check| check.says.iter().chain(&check.next));
    all.extend(said.chain(&diagnosis.verdict()).map(|message| message.show(reader)));
    for side in Side::BOTH {
        all.extend(plan_steps(analysis, side).iter().map(|step| step.words.show(reader)));
        let sheet = SetUpSheet::of(analysis, side, reader);
        all.extend(sheet.tools.iter().flat_map(|(_, says)| says).map(|m| m.show(reader)));
    }
    for way in [Way::Up, Way::Down] {
        all.extend(hardest_words(analysis, way).iter().map(|words| words.show(reader)));
    }
    let found = Analysis::of(&analysis.design.to_found());
    let verdicts = verdict_words(&changes(&found, analysis)).into_iter().flatten();
    all.extend(verdicts.map(|words| words.show(reader)));
    if let Some(chances) = Chances::of(analysis) {
        let cells = chance_table(&chances.map(4, 3), 3).rows.into_iter().flatten();
        all.extend(cells.map(|cell| cell.show(reader)));
    }
    all
}

/// Sentences that take another analysis each.
fn compared(analysis: &Analysis, units: DisplayUnits) -> Vec<String> {
    let comparison = Comparison::of(&analysis.design);
    let mut told = comparison.differences.concat();
    told.push(comparison.normalized);
    told.extend(comparison.columns.into_iter().filter_map(|column| column.note));
    // A search takes its time: one goal or the other for each design.
    let is_even = analysis.design.a.places().is_multiple_of(2);
    let goal = if is_even { Goal::Window } else { Goal::Lash };
    told.extend(suggestions(analysis, &Search::new(goal, units)).into_iter().flat_map(|s| s.words));
    let cells = comparison.rows.into_iter().flat_map(|row| row.cells);
    let cells = cells.filter_map(|cell| cell.shown);
    let reader = Reader { units, ..Reader::default() };
    told.into_iter().map(Shown::from).chain(cells).map(|value| value.show(reader)).collect()
}

fn strings_in(value: &Value, all: &mut Vec<String>) {
    match value {
        Value::String(text) => all.push(text.clone()),
        Value::Array(list) => list.iter().for_each(|value| strings_in(value, all)),
        Value::Object(map) => map.values().for_each(|value| strings_in(value, all)),
        _ => {}
    }
}

/// No sentence has a number that is none, nor a place where one is missing.
fn says_numbers(analysis: &Analysis, more: bool) -> Result<(), String> {
    for units in [METRIC, SHOP] {
        let mut all = sentences(analysis, units);
        strings_in(&report_json(analysis), &mut all);
        if more {
            all.extend(compared(analysis, units));
        }
        let bad = all.iter().find(|text| tells_no_number(text) || text.contains("{}"));
        if let Some(bad) = bad {
            return Err(format!("it says: {bad}"));
        }
    }
    let figures = figures(analysis);
    match figures.iter().find(|figure| figure.value.is_some_and(|value| !value.is_finite())) {
        Some(figure) => Err(format!("{} is {:?}", figure.figure.key, figure.value)),
        None => Ok(()),
    }
}

/// Every drawing, every frame and every handle is somewhere.
fn draws_somewhere(analysis: &Analysis) -> Result<(), String> {
    for view in VIEWS {
        for (units, wide, stroke) in
            [(METRIC, 700.0, None), (SHOP, 320.0, Some((Stroke::Press, 0.5)))]
        {
            let frame = view.frame(analysis, wide, view.shape, 12.0);
            let Frame { bounds, stretch, radius_mm, text_mm, top_rpm, share_mm, axes } = frame;
            let corners = [bounds.min.x, bounds.min.y, bounds.max.x, bounds.max.y];
            let mut numbers = [&corners[..], axes.as_flattened()].concat();
            numbers.extend([stretch, radius_mm, text_mm, top_rpm, share_mm]);
            if !numbers.iter().all(|number| number.is_finite()) {
                return Err(format!("{view:?}: {frame:?}"));
            }
            let reader = Reader { units, ..Reader::default() };
            let options = ViewOptions { reader, stroke, ..ViewOptions::default() };
            is_drawn(&format!("{view:?}"), &view.draw(analysis, &frame, &options))?;
            for handle in Side::BOTH.into_iter().flat_map(|s| view.handles(analysis, &frame, s, 1))
            {
                let at = handle.value_at(handle.at);
                let from = handle.from.unwrap_or(handle.at);
                let numbers = [handle.at.x, handle.at.y, from.x, from.y, handle.value, at];
                if !numbers.into_iter().all(f64::is_finite) {
                    return Err(format!("{handle:?} gives {at}"));
                }
            }
        }
    }
    for side in Side::BOTH {
        is_drawn("sheet", &ring_drawing(analysis, side, "link", Language::British))?;
        is_drawn("paper", &paper_drawing(analysis, side, 1.0, Language::British))?;
    }
    let body = analysis.body();
    is_drawn("solid", &picture(analysis, &body, &Turn3::default(), &ViewOptions::default()))
}

fn is_drawn(name: &str, scene: &crenel::draw::Scene) -> Result<(), String> {
    if let Some(bad) = words_of(scene).find(|text| tells_no_number(text)) {
        return Err(format!("{name} says: {bad}"));
    }
    let mut numbers = numbers_of(scene);
    numbers.retain(|number| !number.is_finite());
    if numbers.is_empty() { Ok(()) } else { Err(format!("{name} is drawn at {numbers:?}")) }
}

/// One number in one design.
fn try_one(id: FieldId, which: usize) -> Result<(), String> {
    let (mut design, slot) = with_field(id, id as usize * 31 + which);
    let field = id.spec();
    let wanted = numbers(field, like_another(&design, slot))[which];
    design.set(slot, wanted);
    let value = design.get(slot).ok_or("the number is lost")?;
    // What the eccentric turns to is rounded, and a number that is none does not turn it.
    let near =
        (value - wanted).abs() <= 1e-4_f64.max(1e-12 * wanted.abs()) && id == FieldId::EccentricAt;
    let kept = value == wanted || near || !wanted.is_finite();
    let at = |why| format!("{} = {value:e}: {why}", slot.words().show(Default::default()));
    if !kept {
        return Err(at("another number is kept".to_owned()));
    }
    let analysis = Analysis::of(&design);
    if !is_within(field, value) {
        is_told(&analysis, slot, value).map_err(at)?;
    }
    // All that is said and drawn takes a hundred times as long as the number itself.
    let turn = id as usize + which;
    if !soak::is_long() && !turn.is_multiple_of(2) {
        return Ok(());
    }
    let more = if soak::is_long() { which.is_multiple_of(4) } else { turn.is_multiple_of(16) };
    says_numbers(&analysis, more).map_err(at)?;
    draws_somewhere(&analysis).map_err(at)
}

#[test]
fn every_number_is_taken_or_told_of_at_its_limits_and_beyond() {
    let fields = FIELDS.iter().filter(|field| is_of_a_design(field.id));
    let kinds = numbers(&FIELDS[0], 0.0).len();
    let cases: Vec<_> =
        fields.flat_map(|field| (0..kinds).map(|which| (field.id, which))).collect();
    let next = AtomicUsize::new(0);
    let failures = std::sync::Mutex::new(Vec::new());
    let work = || {
        while let Some(&(id, which)) = cases.get(next.fetch_add(1, Ordering::Relaxed)) {
            let tried = std::panic::catch_unwind(|| try_one(id, which));
            let told = tried.unwrap_or_else(|_| Err("it panics".to_owned()));
            if let Err(why) = told {
                let why: String = why.chars().take(400).collect();
                failures.lock().expect("no thread dies").push(format!("{id:?} {which}: {why}"));
            }
        }
    };
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| (0..cores).for_each(|_| drop(scope.spawn(work))));
    let failures = failures.into_inner().expect("no thread dies");
    assert!(cases.len() > 2500, "{}", cases.len());
    assert!(failures.is_empty(), "{} of {} fail: {failures:#?}", failures.len(), cases.len());
}

// ---- typed ----

/// What is typed by mistake, by another keyboard or to see what happens.
const TYPED: [&str; 16] = [
    "NaN", "nan", "inf", "-inf", "infinity", "1e999", "-1e999", "--", "--3", "٣", "٣٫٥", "１２",
    "½", "1/0", "1_000", "12;5",
];

#[test]
fn what_is_no_number_is_said_back_and_never_taken() {
    for field in FIELDS {
        for units in [METRIC, SHOP] {
            for typed in TYPED {
                let read = field.quantity.parse(typed, units);
                let told = Finding::from(read.expect_err(typed)).text(Reader::default());
                assert!(told.ends_with('.') && told.contains(typed), "{}: {told}", field.key);
            }
            for blank in ["", " ", "\t\n"] {
                assert_eq!(field.quantity.parse(blank, units), Err(ParseError::Empty));
            }
        }
    }
}

/// Numbers outside their limits that can be typed: they are read as they are, kept in the design, in its
/// file and in its link, and told of.
#[test]
fn a_typed_number_beyond_its_limits_is_kept_and_told_of() {
    for field in FIELDS.iter().filter(|field| is_of_a_design(field.id)) {
        let (design, slot) = with_field(field.id, field.id as usize);
        for typed in ["1e300", "-1e300", "123456789", "-99999", "1e-300"] {
            let value = field.quantity.parse(typed, METRIC).expect(typed);
            let mut design = design.clone();
            design.set(slot, value);
            // Turning the eccentric rounds what it turns to.
            let value = design.get(slot).expect("the number is there");
            let opened = open(&to_json(&design)).expect("it opens").design;
            assert_eq!(opened.get(slot), Some(value), "{}", slot.words().show(Default::default()));
            let told = slot.check(value).is_some();
            assert_eq!(
                told,
                !is_within(field, value),
                "{} {value:e}",
                slot.words().show(Default::default())
            );
            let found = opened.check();
            let here = found.iter().any(|f| f.place == Some(slot) && OUTSIDE.contains(&f.code));
            assert_eq!(here, told, "{} {value:e}", slot.words().show(Default::default()));
        }
    }
}
