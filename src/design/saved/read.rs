//! From a saved form to a design, with findings about everything that is wrong with the form.

use std::collections::BTreeSet;

use serde_json::{Map, Value};

use super::super::numbers::Numbered;
use super::super::{
    DepthSpec, Design, GearSpec, GearboxSpec, LinkSpec, LinkageSpec, MOST_BESIDE, MOST_GEARS,
    MOST_LINKS, MOST_TRACK_POINTS, RingPair, SelectorSpec, Setting, Trace, TrackSpec,
};
use super::repeated::repeated_keys;
use super::words::{
    CARRIED, CHAINS, CLUTCHES, DRIVES, FORMS, HOLDS, LOADS, PEDALS, SHAFTS, SHIFTS, SIZES, VERSION,
    WAYS,
};
use crate::design::{
    Cut, DogSpec, EvenLayout, Layout, MOST_OPERATIONS, Operation, Plan, RingSpec, SYMPTOMS,
    Symptom, WORKS, Work,
};
use crate::fields::{FieldId, Slot};
use crate::finding::{Finding, any_error};
use crate::ring::Side;
use crate::stack::Facing;
use crate::units::cited;

/// The largest number of dogs that is read from a file, well above the number that is computed.
const DOGS_READ: usize = 200;

/// A design as opened, with findings about the form that it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The design.
    pub design: Design,
    /// Findings about parts that were left out or looked strange. None of them is an error.
    pub findings: Vec<Finding>,
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
            reader.error(
                "not_a_design",
                "This is JSON, but not a design: it does not begin with “{”.",
                NOT_OURS,
            );
            Design::default()
        }
        Err(e) => {
            reader.error("not_json", &format!("This is not JSON: {e}."), NOT_OURS);
            Design::default()
        }
    };
    let findings = reader.findings;
    if any_error(&findings) { Err(findings) } else { Ok(Opened { design, findings }) }
}

/// Opens JSON that is parsed already and was written by this program; `None` if it is not a design.
pub(in crate::design) fn open_value(saved: Value) -> Option<Design> {
    let Value::Object(map) = saved else { return None };
    let mut reader = Reader::default();
    let design = reader.design(map);
    (!any_error(&reader.findings)).then_some(design)
}

const NOT_OURS: &str = "Open a file that was saved here, or copy the whole link again.";

/// Puts a number in its place, if there is one.
fn fill(place: Option<&mut f64>, value: f64) {
    place.into_iter().for_each(|place| *place = value);
}

/// Reads a saved form and collects findings about everything that is wrong with it.
#[derive(Default)]
struct Reader {
    findings: Vec<Finding>,
}

impl Reader {
    fn error(&mut self, code: &'static str, message: &str, hint: &str) {
        // Braces in a user's text are not placeholders for numbers.
        let message = message.replace("{}", "{ }");
        self.findings.push(Finding::error(code).says(message, &[]).hint(hint));
    }

    fn design(&mut self, mut map: Map<String, Value>) -> Design {
        if !self.version(map.shift_remove("crenel").as_ref()) {
            return Design::default();
        }
        let mut design = Design {
            title: self.text(&mut map, "title"),
            initials: self.text(&mut map, "initials"),
            notes: self.text(&mut map, "notes"),
            a: self.ring(&mut map, "a", Side::A),
            b: self.ring(&mut map, "b", Side::B),
            ..Design::default()
        };
        design.setting.drive = self.word(&mut map, "travel_by", &DRIVES);
        design.setting.from = self.word(&mut map, "shift", &SHIFTS);
        design.setting.carried = self.word(&mut map, "carried_by", &CARRIED);
        design.setting.case = self.word(&mut map, "load", &LOADS);
        design.gearbox = self.gearbox(&mut map);
        design.beside = self.beside(&mut map);
        design.held = self.word(&mut map, "held", &HOLDS);
        design.selector = self.selector(&mut map);
        design.depth = self.depth(&mut map);
        design.trace = self.trace(&mut map);
        let put = |id, value| fill(design.setting.field_mut(id), value);
        self.numbers(&mut map, &Setting::FIELDS, Slot::Setting, put);
        self.unknown(&map, "");
        design
    }

    fn version(&mut self, version: Option<&Value>) -> bool {
        match version.map(Value::as_u64) {
            Some(Some(VERSION)) => return true,
            Some(Some(newer)) if newer > VERSION => self.error(
                "newer_version",
                &format!(
                    "This design has version {newer}; this app reads up to version {VERSION}. \
                     It was saved by a newer app."
                ),
                "Reload the page to get the newest app.",
            ),
            _ => self.error(
                "not_a_design",
                "This is JSON, but not a design: the key “crenel” with \
                 the version is missing.",
                NOT_OURS,
            ),
        }
        false
    }

    fn text(&mut self, map: &mut Map<String, Value>, key: &str) -> String {
        match map.shift_remove(key) {
            None => String::new(),
            Some(Value::String(text)) => text,
            Some(_) => {
                self.error(
                    "wrong_kind",
                    &format!("“{key}” is not a text."),
                    "Put it in quotation marks.",
                );
                String::new()
            }
        }
    }

    fn number(&mut self, map: &mut Map<String, Value>, slot: Slot) -> f64 {
        let field = slot.field().spec();
        let Some(value) = map.shift_remove(field.key) else { return field.default };
        value.as_f64().filter(|v| v.is_finite()).unwrap_or_else(|| {
            let message = format!("“{}” ({}) is not a number.", field.key, slot.words());
            self.error("wrong_kind", &message, "Write a plain number with a decimal point.");
            field.default
        })
    }

    fn word<T: Copy + Default>(
        &mut self,
        map: &mut Map<String, Value>,
        key: &str,
        words: &[(&str, T)],
    ) -> T {
        let Some(value) = map.shift_remove(key) else { return T::default() };
        let known = words.iter().find(|(word, _)| value.as_str() == Some(word));
        if known.is_none() {
            let names: Vec<_> = words.iter().map(|(word, _)| *word).collect();
            self.error(
                "unknown_word",
                &format!("“{key}” cannot be {}.", cited(&value.to_string())),
                &format!("Use one of: {}.", names.join(", ")),
            );
        }
        known.map(|(_, meaning)| *meaning).unwrap_or_default()
    }

    fn ring(&mut self, map: &mut Map<String, Value>, key: &str, side: Side) -> RingSpec {
        let mut map = match map.shift_remove(key) {
            None => return RingSpec::default(),
            Some(Value::Object(map)) => map,
            Some(_) => {
                self.error(
                    "wrong_kind",
                    &format!("“{key}” is not a ring."),
                    "A ring stands in { and }.",
                );
                return RingSpec::default();
            }
        };
        let mut ring = RingSpec {
            form: self.word(&mut map, "flanks", &FORMS),
            layout: self.layout(&mut map, side),
            plan: Plan::of_cuts(self.cuts(&mut map, side)),
            ..RingSpec::default()
        };
        let put = |id, value| fill(ring.field_mut(id), value);
        self.numbers(&mut map, &RingSpec::FIELDS, |id| Slot::Ring(side, id), put);
        let listed = self.list(&mut map, "plan", MOST_OPERATIONS).into_iter().enumerate();
        let listed = listed.filter_map(|(at, work)| self.operation(work, side, at));
        ring.plan.operations.extend(listed);
        let work = ring.plan.operations.len();
        if work > MOST_OPERATIONS {
            let message = format!(
                "{}: “cuts” and “plan” together are {work} operations; at most {MOST_OPERATIONS} are kept.",
                side.name()
            );
            self.error(
                "too_much_work",
                &message,
                "Leave operations out, or put dogs that are treated alike in one.",
            );
        }
        self.unknown(&map, &format!("{key}."));
        ring
    }

    fn operation(
        &mut self,
        mut map: Map<String, Value>,
        side: Side,
        at: usize,
    ) -> Option<Operation> {
        let path = format!("{}.plan[{at}]", side.letter().to_ascii_lowercase());
        let word = map.shift_remove("do").unwrap_or_default();
        let Some(kind) = WORKS.iter().find(|kind| word.as_str() == Some(kind.key)) else {
            let names: Vec<_> = WORKS.iter().map(|kind| kind.key).collect();
            let hint = format!("Use one of: {}.", names.join(", "));
            self.error(
                "unknown_word",
                &format!("“{path}.do” cannot be {}.", cited(&word.to_string())),
                &hint,
            );
            return None;
        };
        let number = kind.number.map(|id| self.number(&mut map, Slot::Work(side, at, id)));
        let work = Work { kind, number: number.unwrap_or_default() };
        let dogs = match map.shift_remove("dogs") {
            None => Some(BTreeSet::new()),
            Some(Value::Array(dogs)) => dogs.iter().map(place_of).collect(),
            Some(_) => None,
        };
        let places = dogs.unwrap_or_else(|| {
            let message = format!("“{path}.dogs” is not a list of dogs by their numbers.");
            self.error("wrong_kind", &message, "For example [2, 4, 6]; dogs are counted from 1.");
            BTreeSet::new()
        });
        self.unknown(&map, &format!("{path}."));
        // The named dogs do not matter to work on all dogs, and are not kept.
        let places = if kind.is_on_all { BTreeSet::new() } else { places };
        Some(Operation { work, places })
    }

    /// The list under a key; empty if it is not a list or too long.
    fn list(
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
            let message = format!("“{key}” is not a list of at most {most}.");
            self.error("wrong_kind", &message, "A list stands in [ and ], each part in { and }.");
            Vec::new()
        })
    }

    /// The part under a key, if it is given.
    fn part(&mut self, map: &mut Map<String, Value>, key: &str) -> Option<Map<String, Value>> {
        match map.shift_remove(key)? {
            Value::Object(map) => Some(map),
            _ => {
                let message = format!("“{key}” is not a set of numbers.");
                self.error("wrong_kind", &message, "It stands in { and }.");
                None
            }
        }
    }

    /// Reads the numbers of a part. Each is put in its place by `put`.
    fn numbers(
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
    fn numbered<P: Numbered>(
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
                trace.felt = felt.iter().filter_map(|word| self.symptom(word)).collect();
            }
            Some(_) => {
                let hint = "For example [\"hangs\"].";
                self.error("wrong_kind", "“felt” is not a list of words.", hint);
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
            let hint = format!("Use one of: {}.", keys.join(", "));
            self.error(
                "unknown_word",
                &format!("“felt” cannot have {}.", cited(&word.to_string())),
                &hint,
            );
        }
        known
    }

    fn gearbox(&mut self, map: &mut Map<String, Value>) -> Option<GearboxSpec> {
        let mut map = self.part(map, "gearbox")?;
        let gears = self.list(&mut map, "gears", MOST_GEARS).into_iter().enumerate();
        let mut gearbox =
            GearboxSpec::with_gears(gears.map(|(at, gear)| self.gear(gear, at)).collect());
        let put = |id, value| fill(gearbox.field_mut(id), value);
        self.numbers(&mut map, &GearboxSpec::FIELDS, Slot::Gearbox, put);
        gearbox.clutch = self.word(&mut map, "clutch", &CLUTCHES);
        self.unknown(&map, "gearbox.");
        Some(gearbox)
    }

    fn gear(&mut self, mut map: Map<String, Value>, at: usize) -> GearSpec {
        let mut gear = GearSpec::on(self.word(&mut map, "free_on", &SHAFTS));
        let put = |id, value| fill(gear.field_mut(id), value);
        self.numbers(&mut map, &GearSpec::FIELDS, |id| Slot::Gear(at, id), put);
        self.unknown(&map, &format!("gearbox.gears[{at}]."));
        gear
    }

    fn beside(&mut self, map: &mut Map<String, Value>) -> Vec<RingPair> {
        let list = self.list(map, "beside", MOST_BESIDE).into_iter().enumerate();
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
                let message =
                    format!("{}: “dogs” is not a list of at most {DOGS_READ} dogs.", side.name());
                self.error(
                    "wrong_kind",
                    &message,
                    "A list stands in [ and ], each dog in { and }.",
                );
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
                let message = format!(
                    "{}: “heights” has {} numbers; at most {DOGS_READ} are read.",
                    side.name(),
                    shares.len()
                );
                let hint = "Give the heights of one round; they repeat by themselves.";
                self.error("too_long", &message, hint);
            }
            None => {
                let message = format!("{}: “heights” is not a list of numbers.", side.name());
                self.error("wrong_kind", &message, "For example [1, 0.5].");
            }
        }
        EvenLayout::default().heights
    }

    fn dog(&mut self, value: Value, side: Side, place: usize) -> DogSpec {
        let mut map = match value {
            Value::Object(map) => map,
            _ => {
                let message = format!("{}: dog {} is not a dog.", side.name(), place + 1);
                self.error("wrong_kind", &message, "Each dog stands in { and }.");
                Map::new()
            }
        };
        let mut dog = EvenLayout::default().dogs()[0];
        let put = |id, value| fill(dog.field_mut(id), value);
        self.numbers(&mut map, &DogSpec::FIELDS, |id| Slot::Dog(side, place, id), put);
        self.unknown(&map, &format!("{}.dogs[{place}].", side.letter().to_ascii_lowercase()));
        dog
    }

    fn cuts(&mut self, map: &mut Map<String, Value>, side: Side) -> Vec<(usize, Cut)> {
        let cuts = match map.shift_remove("cuts") {
            None => return Vec::new(),
            Some(Value::Object(cuts)) => cuts,
            Some(_) => {
                let message = format!("{}: “cuts” is not a list of cuts by dog.", side.name());
                self.error(
                    "wrong_kind",
                    &message,
                    "For example { \"2\": \"remove\", \"4\": 2.5 }.",
                );
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
            let message = format!(
                "{}: the cut “{}”: {} is not a dog's number with “remove” or a height.",
                side.name(),
                cited(dog),
                cited(&cut.to_string())
            );
            self.error(
                "wrong_kind",
                &message,
                "For example \"2\": \"remove\" or \"4\": 2.5; dogs are counted from 1.",
            );
            return None;
        };
        Some((number - 1, cut))
    }

    fn unknown(&mut self, map: &Map<String, Value>, path: &str) {
        for key in map.keys() {
            let message = format!("“{path}{}” is not known here and is left out.", cited(key))
                .replace("{}", "{ }");
            let finding = Finding::warning("unknown_key").says(message, &[]);
            self.findings.push(finding.hint("It may be misspelt, or come from a newer app."));
        }
    }
}
