//! From a saved form to a design, with findings about everything that is wrong with the form.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Map, Value};

use crenel_words::{Advice, file as say};

use super::super::numbers::Numbered;
use super::super::{
    DepthSpec, Design, GearSpec, GearboxSpec, LinkSpec, LinkageSpec, MOST_ALTERNATIVES, MOST_GEARS,
    MOST_LINKS, MOST_TOLERANCE, MOST_TRACK_POINTS, RingPair, SelectorSpec, SetLimits, Setting,
    Trace, TrackSpec,
};
use super::repeated::repeated_keys;
use super::words::{
    CARRIED, CHAINS, CLUTCHES, DRIVES, FORMS, GEARBOX, GRADES, LOADS, NORMALIZED, PEDALS, SHAFTS,
    SHIFTS, SIZES, VERSION, WAYS,
};
use crate::design::variants::{OwnRings, VariantWork};
use crate::design::{
    Column, Cut, DogSpec, EvenLayout, GAUGES, Layout, MOST_COLUMNS, MOST_OPERATIONS, MOST_VARIANTS,
    Operation, Plan, Readings, RingSpec, SPREADS, SYMPTOMS, Symptom, Variant, Variants, WORKS,
    Work,
};
use crate::fields::{FieldId, Slot};
use crate::finding::{Finding, any_error};
use crate::ring::{FlankSide, PerSide, Side};
use crate::shop::indexing::Plates;
use crate::shop::tolerance::Limits;
use crate::stack::Facing;
use crate::units::{map_of, sanitize_quote, set_of};

/// The largest number of dogs that is read from a file, well above the number that is computed.
const DOGS_READ: usize = crate::design::MOST_READ_DOGS;

/// A design as opened, with findings about the form that it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The design.
    pub design: Design,
    /// Findings about parts that were left out or looked strange. None of them is an error.
    pub findings: Vec<Finding>,
    /// The pictures of its rings that the file carries, as they are saved.
    pub photos: Vec<Value>,
}

/// The place of a dog, from its number in the file.
fn place_of(number: &Value) -> Option<usize> {
    let number = usize::try_from(number.as_u64()?).ok()?;
    (1..=DOGS_READ).contains(&number).then(|| number - 1)
}

/// Opens a saved form.
///
/// # Errors
/// All findings, if the text is not JSON, not a design, of a newer version, or a value is of the
/// wrong kind. Numbers outside their limits are no reason to refuse: they are kept, and
/// [`Design::check`] tells of them.
pub fn open(text: &str) -> Result<Opened, Vec<Finding>> {
    let mut reader = Reader::default();
    let design = match serde_json::from_str::<Value>(text) {
        Ok(Value::Object(map)) => {
            reader.findings.extend(repeated_keys(text));
            reader.design(map)
        }
        Ok(_) => {
            reader.error(say::no_object());
            Design::default()
        }
        Err(e) => {
            reader.error(say::not_json(e.to_string()));
            Design::default()
        }
    };
    let Reader { findings, photos, .. } = reader;
    if any_error(&findings) { Err(findings) } else { Ok(Opened { design, findings, photos }) }
}

/// Opens JSON that is parsed already and was written by this program; `None` if it is not a design.
pub(in crate::design) fn open_value(saved: Value) -> Option<Design> {
    let Value::Object(map) = saved else { return None };
    let mut reader = Reader::default();
    let design = reader.design(map);
    (!any_error(&reader.findings)).then_some(design)
}

/// Limits as saved: a number for both sides, or that below and that above.
fn limits(saved: &Value) -> Option<Limits> {
    match saved.as_array().map(Vec::as_slice) {
        Some([minus, plus]) => Some(Limits { minus: minus.as_f64()?, plus: plus.as_f64()? }),
        _ => saved.as_f64().map(Limits::both),
    }
}

/// The places of numbers by their paths, of the design and of variants with rings of their own.
fn places(design: &Design, slots: fn(&Design) -> Vec<Slot>) -> BTreeMap<String, Slot> {
    let all = design.beginnings().into_iter().flat_map(|design| slots(&design));
    map_of(all.map(|slot| (slot.path(), slot)))
}

/// Puts a number in its place, if there is one.
fn fill(place: Option<&mut f64>, value: f64) {
    place.into_iter().for_each(|place| *place = value);
}

/// Reads a saved form and collects findings about everything that is wrong with it.
#[derive(Default)]
pub(super) struct Reader {
    pub(super) findings: Vec<Finding>,
    /// Where in the file the design begins that is read, for the keys of findings.
    pub(super) path: String,
    /// The pictures beside the design.
    pub(super) photos: Vec<Value>,
}

impl Reader {
    pub(super) fn error(&mut self, says: Advice) {
        self.findings.push(Finding::error(says));
    }

    fn warning(&mut self, says: Advice) {
        self.findings.push(Finding::warning(says));
    }

    pub(super) fn design(&mut self, mut map: Map<String, Value>) -> Design {
        self.photos(&mut map);
        if map.contains_key(GEARBOX) {
            return Design::in_box(&self.gearset(map), 0);
        }
        if self.version(map.shift_remove("crenel").as_ref()) {
            let around = self.around(&mut map);
            Design { around, ..self.body(map) }
        } else {
            Design::default()
        }
    }

    /// A design apart from its version.
    pub(super) fn body(&mut self, mut map: Map<String, Value>) -> Design {
        let mut design = Design {
            title: self.text(&mut map, "title"),
            initials: self.text(&mut map, "initials"),
            notes: self.text(&mut map, "notes"),
            a: self.ring(&mut map, "a", Side::A),
            b: self.ring(&mut map, "b", Side::B),
            ..Design::default()
        };
        design.variants = self.variants(&mut map);
        design.setting.drive = self.word(&mut map, "travel_by", &DRIVES);
        design.setting.from = self.word(&mut map, "shift", &SHIFTS);
        design.setting.carried = self.word(&mut map, "carried_by", &CARRIED);
        design.setting.case = self.word(&mut map, "load", &LOADS);
        design.gearbox = self.gearbox(&mut map);
        design.alternatives = self.alternatives(&mut map);
        design.normalize = self.word(&mut map, "held", &NORMALIZED);
        if map.contains_key("held_deg") {
            design.held_deg = Some(self.plain(&mut map, "", "held_deg", 0.0));
        }
        design.selector = self.selector(&mut map);
        design.depth = self.depth(&mut map);
        design.trace = self.trace(&mut map);
        design.plates = self.plates(&mut map);
        let put = |id, value| fill(design.setting.field_mut(id), value);
        self.numbers(&mut map, &Setting::FIELDS, Slot::Setting, put);
        design.limits = self.set_limits(&mut map);
        self.tolerances(&mut map, &mut design);
        design.given = self.listed(&mut map, "given", &design, |_| true);
        design.unknown = self.listed(&mut map, "unknown", &design, |slot| {
            let is_default = design.get(slot) == Some(slot.field().spec().default);
            slot.can_be_unknown() && is_default && !design.given.contains(&slot)
        });
        self.unknown(&map, "");
        design
    }

    fn plates(&mut self, map: &mut Map<String, Value>) -> Plates {
        let Some(value) = map.shift_remove("plates") else { return Plates::default() };
        let listed: Option<Vec<Vec<u16>>> = serde_json::from_value(value).ok();
        listed.and_then(Plates::new).unwrap_or_else(|| {
            self.error(say::not_plates());
            Plates::default()
        })
    }

    fn set_limits(&mut self, map: &mut Map<String, Value>) -> SetLimits {
        let mut limits = SetLimits::default();
        let Some(mut map) = self.part(map, "limits") else { return limits };
        for id in SetLimits::FIELDS {
            if map.contains_key(id.spec().key) {
                limits.numbers.insert(id, self.number(&mut map, Slot::Limit(id)));
            }
        }
        self.unknown(&map, "limits.");
        limits
    }

    fn tolerances(&mut self, map: &mut Map<String, Value>, design: &mut Design) {
        let Some(mut map) = self.part(map, "tolerances") else { return };
        design.tolerances.grade = self.word(&mut map, "grade", &GRADES);
        let slots = places(design, Design::tolerance_slots);
        let tolerances = &mut design.tolerances;
        self.tolerances_in(&mut map, "planned", &slots, |slot, value| {
            limits(value).is_some_and(|limits| tolerances.set_planned(slot, Some(limits)))
        });
        self.tolerances_in(&mut map, "measured", &slots, |slot, value| {
            value.as_f64().is_some_and(|number| tolerances.set_measured(slot, Some(number)))
        });
        self.unknown(&map, "tolerances.");
    }

    /// Puts what stands beside each place under a key. What cannot be put is left out and told.
    fn tolerances_in(
        &mut self,
        map: &mut Map<String, Value>,
        key: &'static str,
        slots: &BTreeMap<String, Slot>,
        mut put: impl FnMut(Slot, &Value) -> bool,
    ) {
        for (path, value) in self.part(map, key).unwrap_or_default() {
            match slots.get(&path).copied() {
                None => {
                    self.unknown_key(format!("tolerances.{key}.{}", sanitize_quote(&path)));
                }
                Some(slot) if put(slot, &value) => {}
                Some(slot) => {
                    let most =
                        crenel_words::Value::Number(slot.field().spec().quantity, MOST_TOLERANCE);
                    let given = sanitize_quote(&value.to_string());
                    let says = crenel_words::finding::tolerance_ignored(slot.words(), given, most);
                    self.findings.push(Finding::warning(says));
                }
            }
        }
    }

    /// Numbers of a design that are listed by their places: those that were given although they equal their
    /// default, or those that nobody knows.
    fn listed(
        &mut self,
        map: &mut Map<String, Value>,
        key: &'static str,
        design: &Design,
        can_be: impl Fn(Slot) -> bool,
    ) -> BTreeSet<Slot> {
        let listed = match map.shift_remove(key) {
            None => return BTreeSet::new(),
            Some(Value::Array(listed)) => listed,
            Some(_) => {
                self.error(say::not_a_list_of_words(key.to_owned(), "overlap_mm".to_owned()));
                return BTreeSet::new();
            }
        };
        let slots = places(design, Design::slots);
        let mut found = BTreeSet::new();
        for place in listed {
            let slot = place.as_str().and_then(|place| slots.get(place)).copied();
            match slot.filter(|slot| can_be(*slot)) {
                Some(slot) => drop(found.insert(slot)),
                None => self.unknown_key(format!("{key} {}", sanitize_quote(&place.to_string()))),
            }
        }
        found
    }

    pub(super) fn version(&mut self, version: Option<&Value>) -> bool {
        match version.map(Value::as_u64) {
            Some(Some(VERSION)) => return true,
            Some(Some(newer)) if newer > VERSION => {
                self.error(say::newer_version(newer.to_string(), VERSION.to_string()));
            }
            _ => self.error(say::not_a_design()),
        }
        false
    }

    pub(super) fn text(&mut self, map: &mut Map<String, Value>, key: &str) -> String {
        match map.shift_remove(key) {
            None => String::new(),
            Some(Value::String(text)) => text,
            Some(_) => {
                self.error(say::not_a_text(key.to_owned()));
                String::new()
            }
        }
    }

    pub(super) fn number(&mut self, map: &mut Map<String, Value>, slot: Slot) -> f64 {
        let field = slot.field().spec();
        let Some(value) = map.shift_remove(field.key) else { return field.default };
        value.as_f64().filter(|v| v.is_finite()).unwrap_or_else(|| {
            self.error(say::not_a_plain_number(field.key.to_owned(), slot.words()));
            field.default
        })
    }

    pub(super) fn word<T: Copy + Default>(
        &mut self,
        map: &mut Map<String, Value>,
        key: &str,
        words: &[(&str, T)],
    ) -> T {
        let Some(value) = map.shift_remove(key) else { return T::default() };
        let known = words.iter().find(|(word, _)| value.as_str() == Some(word));
        if known.is_none() {
            let names: Vec<_> = words.iter().map(|(word, _)| *word).collect();
            self.error(say::unknown_word(key.to_owned(), value.to_string(), names.join(", ")));
        }
        known.map(|(_, meaning)| *meaning).unwrap_or_default()
    }

    fn ring(&mut self, map: &mut Map<String, Value>, key: &str, side: Side) -> RingSpec {
        let mut map = match map.shift_remove(key) {
            None => return RingSpec::default(),
            Some(Value::Object(map)) => map,
            Some(_) => {
                self.error(say::not_a_ring(key.to_owned()));
                return RingSpec::default();
            }
        };
        let mut ring = RingSpec {
            form: self.word(&mut map, "flanks", &FORMS),
            layout: self.layout(&mut map, side),
            plan: self.plan(&mut map, side),
            readings: self.readings(&mut map, side),
            ..RingSpec::default()
        };
        let put = |id, value| fill(ring.field_mut(id), value);
        self.numbers(&mut map, &RingSpec::FIELDS, |id| Slot::Ring(side, id), put);
        self.unknown(&map, &format!("{key}."));
        ring
    }

    fn plan(&mut self, map: &mut Map<String, Value>, side: Side) -> Plan {
        let mut plan = Plan::of_cuts(self.cuts(map, side));
        let listed = self.list(map, "plan", MOST_OPERATIONS).into_iter().enumerate();
        let listed = listed.filter_map(|(at, work)| self.operation(work, side, at));
        plan.operations.extend(listed);
        let work = plan.operations.len();
        if work > MOST_OPERATIONS {
            self.error(say::too_much_work(side, work, MOST_OPERATIONS));
        }
        plan
    }

    /// Reads the variants, of which exactly one is the current one.
    fn variants(&mut self, map: &mut Map<String, Value>) -> Variants {
        let list = self.list(map, "variants", MOST_VARIANTS).into_iter().enumerate();
        let list: Vec<_> = list.map(|(at, variant)| self.variant(variant, at)).collect();
        let is_current = |variant: &&Variant| variant.work == VariantWork::Current;
        let current = list.iter().filter(is_current).count();
        if current != 1 && !list.is_empty() {
            self.error(say::not_one_current(list.len(), current));
        }
        Variants { list }
    }

    fn variant(&mut self, mut map: Map<String, Value>, at: usize) -> Variant {
        let name = self.text(&mut map, "name");
        let compared = self.yes_or_no(&mut map, "compared", true);
        let work = if self.yes_or_no(&mut map, "current", false) {
            VariantWork::Current
        } else if let Some(mut rings) = self.part(&mut map, "rings") {
            let own = OwnRings {
                rings: PerSide {
                    a: self.ring(&mut rings, "a", Side::A),
                    b: self.ring(&mut rings, "b", Side::B),
                },
                overlap_mm: self.number(&mut rings, Slot::Setting(FieldId::Overlap)),
                tip_friction: self.number(&mut rings, Slot::Setting(FieldId::TipFriction)),
            };
            self.unknown(&rings, &format!("variants[{at}].rings."));
            VariantWork::Own(Box::new(own))
        } else {
            let mut plan = |key, side, path: String| {
                let mut part = self.part(&mut map, key).unwrap_or_default();
                let plan = self.plan(&mut part, side);
                self.unknown(&part, &path);
                plan
            };
            VariantWork::Planned(PerSide {
                a: plan("a", Side::A, format!("variants[{at}].a.")),
                b: plan("b", Side::B, format!("variants[{at}].b.")),
            })
        };
        self.unknown(&map, &format!("variants[{at}]."));
        Variant { name, compared, work }
    }

    fn yes_or_no(&mut self, map: &mut Map<String, Value>, key: &str, or: bool) -> bool {
        let Some(value) = map.shift_remove(key) else { return or };
        value.as_bool().unwrap_or_else(|| {
            let known = "true, false".to_owned();
            self.error(say::unknown_word(key.to_owned(), value.to_string(), known));
            or
        })
    }

    fn readings(&mut self, map: &mut Map<String, Value>, side: Side) -> Option<Readings> {
        let mut map = self.part(map, "readings")?;
        let path = format!("{}.readings", side.key());
        let last = map.shift_remove("dogs").as_ref().and_then(place_of);
        let Some(dogs) = last.map(|place| place + 1) else {
            self.error(say::not_readings(side, DOGS_READ));
            return None;
        };
        let mut readings = Readings::new(dogs);
        if let Some(dog) = map.shift_remove("datum_dog") {
            let key = format!("{path}.datum_dog");
            readings.datum.0 = self.dog_of(&dog, dogs, key).unwrap_or_default();
        }
        if let Some(word) = map.shift_remove("datum_flank") {
            readings.datum.1 = self.flank(&word, format!("{path}.datum_flank"));
        }
        let spreads = SPREADS.map(|(word, spread, _)| (word, spread));
        readings.spread = self.word(&mut map, "spread", &spreads);
        readings.reach_mm = self.plain(&mut map, &path, "reach_mm", 0.0);
        let key = format!("{path}.contact");
        let contact = match map.shift_remove("contact") {
            Some(Value::Array(list)) => list,
            alone => alone.into_iter().collect(),
        };
        readings.contact =
            set_of(contact.iter().filter_map(|dog| self.dog_of(dog, dogs, key.clone())));
        let columns = self.list(&mut map, "columns", MOST_COLUMNS);
        readings.columns =
            columns.into_iter().filter_map(|column| self.column(column, &path, dogs)).collect();
        self.unknown(&map, &format!("{path}."));
        Some(readings)
    }

    fn column(&mut self, mut map: Map<String, Value>, path: &str, dogs: usize) -> Option<Column> {
        let word = map.shift_remove("gauge").unwrap_or_default();
        let Some(kind) = GAUGES.iter().find(|kind| word.as_str() == Some(kind.key)) else {
            let names: Vec<_> = GAUGES.iter().map(|kind| kind.key).collect();
            let key = format!("{path}.gauge");
            self.error(say::unknown_word(key, word.to_string(), names.join(", ")));
            return None;
        };
        let mut column = Column::of(kind, dogs);
        column.set_at = self.plain(&mut map, path, "at", column.set_at);
        column.sigma = self.plain(&mut map, path, "uncertainty", column.sigma);
        let read = match map.shift_remove("read") {
            Some(Value::Array(list)) => list,
            alone => alone.into_iter().collect(),
        };
        for (dog, read) in read.into_iter().enumerate().filter(|(_, read)| !read.is_null()) {
            let number = read.as_f64().filter(|read| read.is_finite());
            match (column.cells.get_mut(dog), number) {
                (Some(cell), Some(_)) => *cell = number,
                (Some(_), None) => {
                    let key = format!("{path}.{}", kind.key);
                    self.warning(say::reading_ignored(key, read.to_string()));
                }
                (None, _) => {
                    let key = format!("{path}.{}", kind.key);
                    self.warning(say::no_dog_of_ring(key, (dog + 1).to_string(), dogs));
                }
            }
        }
        self.unknown(&map, &format!("{path}."));
        Some(column)
    }

    /// A dog of a ring by its number from 1. One that the ring does not have is told.
    fn dog_of(&mut self, saved: &Value, dogs: usize, key: String) -> Option<usize> {
        let place = place_of(saved).filter(|place| *place < dogs);
        if place.is_none() {
            self.warning(say::no_dog_of_ring(key, saved.to_string(), dogs));
        }
        place
    }

    /// A flank by its word. Another word is told, and means the drive flank.
    fn flank(&mut self, saved: &Value, key: String) -> FlankSide {
        let known = FlankSide::BOTH.into_iter().find(|flank| saved.as_str() == Some(flank.name()));
        known.unwrap_or_else(|| {
            let names = FlankSide::BOTH.map(FlankSide::name).join(", ");
            self.warning(say::word_ignored(key, saved.to_string(), names));
            FlankSide::Drive
        })
    }

    /// A number that is in no table of inputs.
    fn plain(&mut self, map: &mut Map<String, Value>, path: &str, key: &str, or: f64) -> f64 {
        let Some(value) = map.shift_remove(key) else { return or };
        value.as_f64().filter(|value| value.is_finite()).unwrap_or_else(|| {
            let place = if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
            self.error(say::not_a_reading(place, value.to_string()));
            or
        })
    }

    fn operation(
        &mut self,
        mut map: Map<String, Value>,
        side: Side,
        at: usize,
    ) -> Option<Operation> {
        let path = format!("{}.plan[{at}]", side.key());
        let word = map.shift_remove("do").unwrap_or_default();
        let Some(kind) = WORKS.iter().find(|kind| word.as_str() == Some(kind.key)) else {
            let names: Vec<_> = WORKS.iter().map(|kind| kind.key).collect();
            let key = format!("{path}.do");
            self.error(say::unknown_word(key, word.to_string(), names.join(", ")));
            return None;
        };
        let number = kind.number.map(|id| self.number(&mut map, Slot::Work(side, at, id)));
        let work = Work { kind, number: number.unwrap_or_default() };
        let dogs = match map.shift_remove("dogs") {
            None => Some(BTreeSet::new()),
            Some(Value::Array(dogs)) => {
                let places: Option<Vec<_>> = dogs.iter().map(place_of).collect();
                places.map(set_of)
            }
            Some(_) => None,
        };
        let places = dogs.unwrap_or_else(|| {
            self.error(say::not_a_list_of_places(format!("{path}.dogs")));
            BTreeSet::new()
        });
        self.unknown(&map, &format!("{path}."));
        // The named dogs do not matter to work on all dogs, and are not kept.
        let places = if kind.is_on_all { BTreeSet::new() } else { places };
        Some(Operation { work, places })
    }

    /// The list under a key; empty if it is not a list or too long.
    pub(super) fn list(
        &mut self,
        map: &mut Map<String, Value>,
        key: &str,
        most: usize,
    ) -> Vec<Map<String, Value>> {
        let list = match map.shift_remove(key) {
            None => return Vec::new(),
            Some(Value::Array(list)) if list.len() <= most => list,
            Some(_) => Vec::from([Value::Null]),
        };
        let maps = list.into_iter().map(|value| match value {
            Value::Object(map) => Some(map),
            _ => None,
        });
        maps.collect::<Option<_>>().unwrap_or_else(|| {
            self.error(say::not_a_list(key.to_owned(), most));
            Vec::new()
        })
    }

    /// The part under a key, if it is given.
    pub(super) fn part(
        &mut self,
        map: &mut Map<String, Value>,
        key: &str,
    ) -> Option<Map<String, Value>> {
        match map.shift_remove(key)? {
            Value::Object(map) => Some(map),
            _ => {
                self.error(say::not_a_part(key.to_owned()));
                None
            }
        }
    }

    /// Reads the numbers of a part. Each is put in its place by `put`.
    pub(super) fn numbers(
        &mut self,
        map: &mut Map<String, Value>,
        ids: &[FieldId],
        slot: impl Fn(FieldId) -> Slot,
        mut put: impl FnMut(FieldId, f64),
    ) {
        for &id in ids {
            put(id, self.number(map, slot(id)));
        }
    }

    fn selector(&mut self, map: &mut Map<String, Value>) -> SelectorSpec {
        SelectorSpec {
            linkage: self.linkage(map),
            claw: self.numbered(map, "claw"),
            detent: self.numbered(map, "detent"),
            track: self.track(map),
        }
    }

    fn linkage(&mut self, map: &mut Map<String, Value>) -> Option<LinkageSpec> {
        let mut map = self.part(map, "linkage")?;
        let by = self.word(&mut map, "pedal_by", &PEDALS);
        let mut linkage = LinkageSpec::joined(by);
        let put = |id, value| fill(linkage.field_mut(id), value);
        self.numbers(&mut map, &LinkageSpec::FIELDS, Slot::Part, put);
        self.unknown(&map, "linkage.");
        Some(linkage)
    }

    /// Reads a part that consists of its numbers alone.
    pub(super) fn numbered<P: Numbered>(
        &mut self,
        map: &mut Map<String, Value>,
        key: &'static str,
    ) -> Option<P> {
        let mut map = self.part(map, key)?;
        let mut part = P::default();
        self.numbers(&mut map, P::NUMBERS, Slot::Part, |id, value| part.put(id, value));
        self.unknown(&map, &format!("{key}."));
        Some(part)
    }

    fn track(&mut self, map: &mut Map<String, Value>) -> Option<TrackSpec> {
        let mut map = self.part(map, "track")?;
        let mut track = TrackSpec::default();
        let put = |id, value| fill(track.field_mut(id), value);
        self.numbers(&mut map, &TrackSpec::FIELDS, Slot::Part, put);
        let points = self.list(&mut map, "points", MOST_TRACK_POINTS);
        for (at, mut point) in points.into_iter().enumerate() {
            track.points.push([0.0; 2]);
            let put = |id, value| fill(track.point_mut(at, id), value);
            self.numbers(&mut point, &TrackSpec::POINT_FIELDS, |id| Slot::TrackPoint(at, id), put);
            self.unknown(&point, &format!("track.points[{at}]."));
        }
        self.unknown(&map, "track.");
        Some(track)
    }

    fn depth(&mut self, map: &mut Map<String, Value>) -> Option<DepthSpec> {
        let mut map = self.part(map, "depth")?;
        let mut depth = DepthSpec::default();
        let put = |id, value| fill(depth.field_mut(id), value);
        self.numbers(&mut map, &DepthSpec::FIELDS, Slot::Part, put);
        for (key, facing) in CHAINS {
            let links = self.list(&mut map, key, MOST_LINKS).into_iter().enumerate();
            let links = links.map(|(at, link)| self.link(link, key, facing, at));
            depth.chains[facing] = links.collect();
        }
        self.unknown(&map, "depth.");
        Some(depth)
    }

    fn link(
        &mut self,
        mut map: Map<String, Value>,
        key: &str,
        facing: Facing,
        at: usize,
    ) -> LinkSpec {
        let name = self.text(&mut map, "name");
        let opens = self.word(&mut map, "way", &WAYS);
        let mut link = LinkSpec::new(&name, 0.0, 0.0, opens);
        let put = |id, value| fill(link.field_mut(id), value);
        self.numbers(&mut map, &LinkSpec::FIELDS, |id| Slot::Link(facing, at, id), put);
        self.unknown(&map, &format!("depth.{key}[{at}]."));
        link
    }

    fn trace(&mut self, map: &mut Map<String, Value>) -> Trace {
        let mut trace = Trace::default();
        match map.shift_remove("felt") {
            None => {}
            Some(Value::Array(felt)) => {
                trace.felt = set_of(felt.iter().filter_map(|word| self.symptom(word)));
            }
            Some(_) => {
                self.error(say::not_a_list_of_words("felt".to_owned(), "hangs".to_owned()));
            }
        }
        if let Some(mut map) = self.part(map, "measured") {
            for &id in Trace::FIELDS {
                if map.contains_key(id.spec().key) {
                    let value = self.number(&mut map, Slot::Seen(id));
                    trace.measured.insert(id, value);
                }
            }
            self.unknown(&map, "measured.");
        }
        trace
    }

    fn symptom(&mut self, word: &Value) -> Option<Symptom> {
        let known = SYMPTOMS.iter().copied().find(|symptom| word.as_str() == Some(symptom.key));
        if known.is_none() {
            let keys: Vec<_> = SYMPTOMS.iter().map(|symptom| symptom.key).collect();
            self.error(say::unknown_symptom(word.to_string(), keys.join(", ")));
        }
        known
    }

    fn gearbox(&mut self, map: &mut Map<String, Value>) -> Option<GearboxSpec> {
        self.gearbox_at(map, "gearbox")
    }

    /// The gearbox under a key.
    pub(super) fn gearbox_at(
        &mut self,
        map: &mut Map<String, Value>,
        key: &'static str,
    ) -> Option<GearboxSpec> {
        let mut map = self.part(map, key)?;
        let gears = self.list(&mut map, "gears", MOST_GEARS).into_iter().enumerate();
        let mut gearbox =
            GearboxSpec::with_gears(gears.map(|(at, gear)| self.gear(gear, at)).collect());
        let put = |id, value| fill(gearbox.field_mut(id), value);
        self.numbers(&mut map, &GearboxSpec::FIELDS, Slot::Gearbox, put);
        gearbox.clutch = self.word(&mut map, "clutch", &CLUTCHES);
        self.unknown(&map, &format!("{key}."));
        Some(gearbox)
    }

    fn gear(&mut self, mut map: Map<String, Value>, at: usize) -> GearSpec {
        let mut gear = GearSpec::on(self.word(&mut map, "free_on", &SHAFTS));
        let put = |id, value| fill(gear.field_mut(id), value);
        self.numbers(&mut map, &GearSpec::FIELDS, |id| Slot::Gear(at, id), put);
        self.unknown(&map, &format!("gearbox.gears[{at}]."));
        gear
    }

    fn alternatives(&mut self, map: &mut Map<String, Value>) -> Vec<RingPair> {
        let list = self.list(map, "beside", MOST_ALTERNATIVES).into_iter().enumerate();
        list.map(|(at, mut map)| {
            let pair = RingPair {
                title: self.text(&mut map, "title"),
                a: self.ring(&mut map, "a", Side::A),
                b: self.ring(&mut map, "b", Side::B),
            };
            self.unknown(&map, &format!("beside[{at}]."));
            pair
        })
        .collect()
    }

    fn layout(&mut self, map: &mut Map<String, Value>, side: Side) -> Layout {
        match map.shift_remove("dogs") {
            None => Layout::Even(self.even(map, side)),
            Some(Value::Array(dogs)) if dogs.len() <= DOGS_READ => {
                let dogs = dogs.into_iter().enumerate();
                Layout::Measured(dogs.map(|(place, dog)| self.dog(dog, side, place)).collect())
            }
            Some(_) => {
                self.error(say::not_a_list_of_dogs(side, DOGS_READ));
                Layout::Measured(Vec::new())
            }
        }
    }

    fn even(&mut self, map: &mut Map<String, Value>, side: Side) -> EvenLayout {
        let mut even = EvenLayout {
            size_by: self.word(map, "size_by", &SIZES),
            heights: self.heights(map, side),
            ..EvenLayout::default()
        };
        let put = |id, value| fill(even.field_mut(id), value);
        self.numbers(map, &EvenLayout::FIELDS, |id| Slot::Ring(side, id), put);
        even
    }

    fn heights(&mut self, map: &mut Map<String, Value>, side: Side) -> Vec<f64> {
        let Some(value) = map.shift_remove("heights") else { return EvenLayout::default().heights };
        let list = value.as_array();
        let shares =
            list.and_then(|list| list.iter().map(Value::as_f64).collect::<Option<Vec<_>>>());
        match shares {
            Some(shares) if shares.len() <= DOGS_READ => return shares,
            Some(shares) => {
                self.error(say::too_many_heights(side, shares.len(), DOGS_READ));
            }
            None => {
                self.error(say::not_heights(side));
            }
        }
        EvenLayout::default().heights
    }

    fn dog(&mut self, value: Value, side: Side, place: usize) -> DogSpec {
        let mut map = match value {
            Value::Object(map) => map,
            _ => {
                self.error(say::not_a_dog(side, place));
                Map::new()
            }
        };
        let mut dog = EvenLayout::default().dogs()[0];
        let put = |id, value| fill(dog.field_mut(id), value);
        self.numbers(&mut map, &DogSpec::FIELDS, |id| Slot::Dog(side, place, id), put);
        self.unknown(&map, &format!("{}.dogs[{place}].", side.key()));
        dog
    }

    fn cuts(&mut self, map: &mut Map<String, Value>, side: Side) -> Vec<(usize, Cut)> {
        let cuts = match map.shift_remove("cuts") {
            None => return Vec::new(),
            Some(Value::Object(cuts)) => cuts,
            Some(_) => {
                let example = "{ \"2\": \"remove\", \"4\": 2.5 }".to_owned();
                self.error(say::not_cuts(side, example));
                return Vec::new();
            }
        };
        cuts.into_iter().filter_map(|(dog, cut)| self.cut(&dog, &cut, side)).collect()
    }

    fn cut(&mut self, dog: &str, cut: &Value, side: Side) -> Option<(usize, Cut)> {
        let place = dog.parse::<usize>().ok().filter(|number| (1..=DOGS_READ).contains(number));
        let meaning = match cut {
            Value::String(word) if word == "remove" => Some(Cut::Remove),
            other => other.as_f64().map(Cut::Shorten),
        };
        let (Some(number), Some(cut)) = (place, meaning) else {
            self.error(say::not_a_cut(side, dog.to_owned(), cut.to_string()));
            return None;
        };
        Some((number - 1, cut))
    }

    pub(super) fn unknown(&mut self, map: &Map<String, Value>, path: &str) {
        for key in map.keys() {
            self.unknown_key(format!("{path}{}", sanitize_quote(key)));
        }
    }

    pub(super) fn unknown_key(&mut self, mut key: String) {
        key.insert_str(0, &self.path);
        self.findings.push(Finding::warning(crenel_words::finding::unknown_key(key)));
    }
}
