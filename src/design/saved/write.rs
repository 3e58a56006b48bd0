//! From a design to its saved form.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

use super::super::{
    DepthSpec, Design, GearSpec, GearboxSpec, LinkSpec, RingPair, SelectorSpec, Trace, TrackSpec,
};
use super::words::{
    CARRIED, CHAINS, CLUTCHES, DRIVES, FORMS, GRADES, LOADS, NORMALIZED, PEDALS, SHAFTS, SHIFTS,
    SIZES, VERSION, WAYS,
};
use crate::design::variants::VariantWork;
use crate::design::{
    Column, Cut, DogSpec, EvenLayout, Layout, Operation, Plan, Readings, RingSpec, SPREADS, Variant,
};
use crate::fields::{FieldId, Slot};
use crate::ring::Side;
use crate::shop::indexing::Plates;
use crate::shop::tolerance::Limits;
use crate::units::set_of;

/// The saved form of a design.
pub fn save(design: &Design) -> Value {
    let mut map = Map::new();
    map.insert("crenel".to_owned(), json!(VERSION));
    for (key, text) in
        [("title", &design.title), ("initials", &design.initials), ("notes", &design.notes)]
    {
        if !text.is_empty() {
            map.insert(key.to_owned(), json!(text));
        }
    }
    put_rings(&mut map, [&design.a, &design.b]);
    if !design.variants.is_empty() {
        map.insert("variants".to_owned(), design.variants.iter().map(save_variant).collect());
    }
    put_numbers(&mut map, design.setting.all());
    put_word(&mut map, "travel_by", &DRIVES, design.setting.drive);
    put_word(&mut map, "shift", &SHIFTS, design.setting.from);
    put_word(&mut map, "carried_by", &CARRIED, design.setting.carried);
    put_word(&mut map, "load", &LOADS, design.setting.case);
    if let Some(gearbox) = &design.gearbox {
        map.insert("gearbox".to_owned(), Value::Object(save_gearbox(gearbox)));
    }
    if !design.alternatives.is_empty() {
        map.insert("beside".to_owned(), design.alternatives.iter().map(save_layout).collect());
    }
    put_word(&mut map, "held", &NORMALIZED, design.normalize);
    if let Some(held) = design.held_deg {
        map.insert("held_deg".to_owned(), number(held));
    }
    put_selector(&mut map, &design.selector);
    if let Some(depth) = &design.depth {
        map.insert("depth".to_owned(), Value::Object(save_depth(depth)));
    }
    put_trace(&mut map, &design.trace);
    if design.plates != Plates::default() {
        let circles = design.plates.iter().map(|plate| json!(plate.circles));
        map.insert("plates".to_owned(), circles.collect());
    }
    put_optional(&mut map, "limits", &design.limits.numbers);
    put_tolerances(&mut map, design);
    let paths = |slots: &mut dyn Iterator<Item = Slot>| -> Vec<_> {
        slots.map(|slot| json!(slot.path())).collect()
    };
    let given = paths(&mut design.given_defaults());
    let unknown = paths(&mut design.unknown.iter().copied().filter(|at| design.is_unknown(*at)));
    for (key, listed) in [("given", given), ("unknown", unknown)] {
        if !listed.is_empty() {
            map.insert(key.to_owned(), Value::Array(listed));
        }
    }
    if let Some(around) = &design.around {
        around.put_into(&mut map);
    }
    Value::Object(map)
}

pub(super) fn put_selector(map: &mut Map<String, Value>, selector: &SelectorSpec) {
    let SelectorSpec { linkage, claw, detent, track } = selector;
    if let Some(linkage) = linkage {
        let mut part = save_numbers(linkage.all());
        put_word(&mut part, "pedal_by", &PEDALS, linkage.by);
        map.insert("linkage".to_owned(), Value::Object(part));
    }
    if let Some(claw) = claw {
        let part = save_numbers(claw.all());
        map.insert("claw".to_owned(), Value::Object(part));
    }
    if let Some(detent) = detent {
        let part = save_numbers(detent.all());
        map.insert("detent".to_owned(), Value::Object(part));
    }
    if let Some(track) = track {
        let mut part = save_numbers(track.all());
        let point = |point: &[f64; 2]| {
            Value::Object(save_numbers(TrackSpec::POINT_FIELDS.into_iter().zip(*point)))
        };
        if !track.points.is_empty() {
            part.insert("points".to_owned(), track.points.iter().map(point).collect());
        }
        map.insert("track".to_owned(), Value::Object(part));
    }
}

fn save_depth(depth: &DepthSpec) -> Map<String, Value> {
    let mut map = save_numbers(depth.all());
    for (key, facing) in CHAINS {
        let links = &depth.chains[facing];
        if !links.is_empty() {
            map.insert(key.to_owned(), links.iter().map(save_link).collect());
        }
    }
    map
}

fn save_link(link: &LinkSpec) -> Value {
    let mut map = Map::new();
    if !link.name.is_empty() {
        map.insert("name".to_owned(), json!(link.name));
    }
    put_numbers(&mut map, link.all());
    put_word(&mut map, "way", &WAYS, link.opens);
    Value::Object(map)
}

fn put_trace(map: &mut Map<String, Value>, trace: &Trace) {
    if !trace.felt.is_empty() {
        map.insert("felt".to_owned(), trace.felt.iter().map(|s| json!(s.key)).collect());
    }
    put_optional(map, "measured", &trace.measured);
}

/// Puts the tolerances of sizes that the design has.
fn put_tolerances(map: &mut Map<String, Value>, design: &Design) {
    let beginnings = design.beginnings();
    let slots = set_of(beginnings.iter().flat_map(Design::tolerance_slots));
    let limits = |Limits { minus, plus }: Limits| {
        if minus == plus { number(plus) } else { json!([number(minus), number(plus)]) }
    };
    let tolerances = &design.tolerances;
    let planned = tolerances.all_planned().map(|(slot, given)| (slot, limits(given)));
    let measured = tolerances.all_measured().map(|(slot, given)| (slot, number(given)));
    let kept = |given: &mut dyn Iterator<Item = (Slot, Value)>| -> Map<String, Value> {
        let had = given.filter(|(slot, _)| slots.contains(slot));
        had.map(|(slot, value)| (slot.path(), value)).collect()
    };
    let mut part = Map::new();
    put_word(&mut part, "grade", &GRADES, tolerances.grade);
    let given = [("planned", kept(&mut { planned })), ("measured", kept(&mut { measured }))];
    for (key, given) in given.into_iter().filter(|(_, given)| !given.is_empty()) {
        part.insert(key.to_owned(), Value::Object(given));
    }
    if !part.is_empty() {
        map.insert("tolerances".to_owned(), Value::Object(part));
    }
}

/// Puts numbers that may be absent. Each is kept even if it equals the default of its field.
pub(super) fn put_optional(
    map: &mut Map<String, Value>,
    key: &str,
    numbers: &BTreeMap<FieldId, f64>,
) {
    if !numbers.is_empty() {
        let kept = |(id, value): (&FieldId, &f64)| (id.spec().key.to_owned(), number(*value));
        map.insert(key.to_owned(), Value::Object(numbers.iter().map(kept).collect()));
    }
}

/// The numbers of a part, without those that have their default.
pub(super) fn save_numbers(numbers: impl Iterator<Item = (FieldId, f64)>) -> Map<String, Value> {
    let mut map = Map::new();
    put_numbers(&mut map, numbers);
    map
}

pub(super) fn put_numbers(
    map: &mut Map<String, Value>,
    numbers: impl Iterator<Item = (FieldId, f64)>,
) {
    numbers.for_each(|(id, value)| put_number(map, id, value));
}

pub(super) fn save_gearbox(gearbox: &GearboxSpec) -> Map<String, Value> {
    let mut map = save_numbers(gearbox.all());
    put_word(&mut map, "clutch", &CLUTCHES, gearbox.clutch);
    map.insert("gears".to_owned(), gearbox.gears.iter().map(save_gear).collect());
    map
}

fn save_gear(gear: &GearSpec) -> Value {
    let mut map = save_numbers(gear.all());
    put_word(&mut map, "free_on", &SHAFTS, gear.free_on);
    Value::Object(map)
}

fn save_variant(variant: &Variant) -> Value {
    let mut map = Map::new();
    if !variant.name.is_empty() {
        map.insert("name".to_owned(), json!(variant.name));
    }
    if !variant.compared {
        map.insert("compared".to_owned(), json!(false));
    }
    match &variant.work {
        VariantWork::Current => drop(map.insert("current".to_owned(), json!(true))),
        VariantWork::Planned(plans) => {
            for (key, plan) in Side::BOTH.map(Side::key).into_iter().zip(plans) {
                let mut part = Map::new();
                save_plan(&mut part, plan);
                if !part.is_empty() {
                    map.insert(key.to_owned(), Value::Object(part));
                }
            }
        }
        VariantWork::Own(own) => {
            let mut part = Map::new();
            put_rings(&mut part, own.rings.each_ref().into_array());
            put_number(&mut part, FieldId::Overlap, own.overlap_mm);
            put_number(&mut part, FieldId::TipFriction, own.tip_friction);
            map.insert("rings".to_owned(), Value::Object(part));
        }
    }
    Value::Object(map)
}

fn save_layout(layout: &RingPair) -> Value {
    let mut map = Map::new();
    if !layout.title.is_empty() {
        map.insert("title".to_owned(), json!(layout.title));
    }
    put_rings(&mut map, [&layout.a, &layout.b]);
    Value::Object(map)
}

/// Puts the rings, without those that equal the rings of a new design.
fn put_rings(map: &mut Map<String, Value>, rings: [&RingSpec; 2]) {
    for (key, ring) in Side::BOTH.map(Side::key).into_iter().zip(rings) {
        let ring = save_ring(ring);
        if !ring.is_empty() {
            map.insert(key.to_owned(), Value::Object(ring));
        }
    }
}

/// The saved form as one line of JSON.
pub fn to_json(design: &Design) -> String {
    save(design).to_string()
}

fn save_ring(ring: &RingSpec) -> Map<String, Value> {
    let mut map = save_numbers(ring.all());
    put_word(&mut map, "flanks", &FORMS, ring.form);
    match &ring.layout {
        Layout::Even(even) => save_even(&mut map, even),
        Layout::Measured(dogs) => {
            map.insert(
                "dogs".to_owned(),
                dogs.iter().map(|d| Value::Object(save_dog(d))).collect(),
            );
        }
    }
    save_plan(&mut map, &ring.plan);
    if let Some(readings) = &ring.readings {
        map.insert("readings".to_owned(), Value::Object(save_readings(readings)));
    }
    map
}

fn save_readings(readings: &Readings) -> Map<String, Value> {
    let blank = Readings::new(readings.dogs);
    let mut map = Map::new();
    map.insert("dogs".to_owned(), json!(readings.dogs));
    if readings.datum.0 != 0 {
        map.insert("datum_dog".to_owned(), json!(readings.datum.0 + 1));
    }
    if readings.datum.1 != blank.datum.1 {
        map.insert("datum_flank".to_owned(), json!(readings.datum.1.name()));
    }
    let spread = SPREADS.iter().find(|row| row.1 == readings.spread);
    if let Some((word, ..)) = spread.filter(|_| readings.spread != blank.spread) {
        map.insert("spread".to_owned(), json!(word));
    }
    if readings.reach_mm != 0.0 {
        map.insert("reach_mm".to_owned(), number(readings.reach_mm));
    }
    if !readings.contact.is_empty() {
        let dogs = readings.contact.iter().map(|place| json!(place + 1));
        map.insert("contact".to_owned(), dogs.collect());
    }
    map.insert("columns".to_owned(), readings.columns.iter().map(save_column).collect());
    map
}

fn save_column(column: &Column) -> Value {
    let blank = Column::of(column.kind, 0);
    let mut map = Map::new();
    map.insert("gauge".to_owned(), json!(column.kind.key));
    if column.set_at != blank.set_at {
        map.insert("at".to_owned(), number(column.set_at));
    }
    if column.sigma != blank.sigma {
        map.insert("uncertainty".to_owned(), number(column.sigma));
    }
    let read = column.cells.iter().map(|read| read.map_or(Value::Null, number));
    map.insert("read".to_owned(), read.collect());
    Value::Object(map)
}

fn save_even(map: &mut Map<String, Value>, even: &EvenLayout) {
    put_numbers(map, even.all());
    put_word(map, "size_by", &SIZES, even.size_by);
    if even.heights != EvenLayout::default().heights {
        map.insert("heights".to_owned(), even.heights.iter().map(|&h| number(h)).collect());
    }
}

fn save_dog(dog: &DogSpec) -> Map<String, Value> {
    save_numbers(dog.all())
}

/// Puts the plan. Dogs that are removed and cut down in the order of their places are written dog by dog, which
/// is short. Any other plan is written as a list.
fn save_plan(map: &mut Map<String, Value>, plan: &Plan) {
    if plan.is_empty() {
        return;
    }
    let (key, value) = match plan.as_cuts() {
        Some(cuts) => {
            let cut = |(place, cut): (usize, Cut)| ((place + 1).to_string(), save_cut(cut));
            ("cuts", Value::Object(cuts.into_iter().map(cut).collect()))
        }
        None => ("plan", plan.operations.iter().map(save_operation).collect()),
    };
    map.insert(key.to_owned(), value);
}

fn save_operation(operation: &Operation) -> Value {
    let mut map = Map::new();
    map.insert("do".to_owned(), json!(operation.work.kind.key));
    if let Some((id, value)) = operation.work.number() {
        put_number(&mut map, id, value);
    }
    if !operation.work.kind.is_on_all {
        let dogs = operation.places.iter().map(|place| json!(place + 1)).collect();
        map.insert("dogs".to_owned(), dogs);
    }
    Value::Object(map)
}

fn save_cut(cut: Cut) -> Value {
    match cut {
        Cut::Remove => json!("remove"),
        Cut::Shorten(to) => number(to),
    }
}

fn put_number(map: &mut Map<String, Value>, id: FieldId, value: f64) {
    let field = id.spec();
    if value != field.default {
        map.insert(field.key.to_owned(), number(value));
    }
}

/// Whole numbers without a decimal point, which keeps links short.
pub(super) fn number(value: f64) -> Value {
    if value == value.round() && value.abs() < 1e9 {
        #[expect(clippy::cast_possible_truncation, reason = "whole and bounded")]
        let whole = value as i64;
        return json!(whole);
    }
    json!(value)
}

pub(super) fn put_word<T: PartialEq + Default + Copy>(
    map: &mut Map<String, Value>,
    key: &str,
    words: &[(&str, T)],
    value: T,
) {
    let word = words.iter().find(|(_, meaning)| *meaning == value);
    if let Some((word, _)) = word.filter(|_| value != T::default()) {
        map.insert(key.to_owned(), json!(word));
    }
}
