//! The saved form of a whole gearbox, version 1: a file of its own, or the `box` of a design.
//!
//! ```json
//! {
//!   "crenel_gearbox": 1,
//!   "title": "Invented two-speed",
//!   "drive": { "clutch": "gripping" },
//!   "shafts": [
//!     { "is": "input", "wheels": [ { "teeth": 15 }, { "teeth": 20 } ] },
//!     { "wheels": [ { "is": "free", "teeth": 34 }, { "is": "sliding" }, { "is": "free", "teeth": 27 } ] }
//!   ],
//!   "sliders": [[2, 2]],
//!   "forks": [ { "slider": 1, "track": [[0, -5.1], [60, 0], [120, 5.1]] } ],
//!   "drum": { "positions": [ { "gear": 1, "position_deg": 20 }, { "position_deg": 60 }, { "gear": 2 } ] },
//!   "gears": [
//!     { "driving": [1, 1], "driven": [2, 1], "slider": 1, "pair": { "overlap_mm": 4.2 } },
//!     { "driving": [1, 2], "driven": [2, 3], "slider": 1, "same_as": 1 }
//!   ]
//! }
//! ```
//!
//! - Numbers are under the keys of the table of inputs, as in a design; a missing one has its default.
//! - Shafts, wheels, sliders, forks and gears are counted from 1. A place is `[shaft, wheel]`.
//! - A `pair` is a design of [`super`] without its version; `same_as` names the gear whose rings a gear has.
//! - `measured` of a gear or a fork is what was read on it in the gearbox; what was not read is absent.
//! - A position without `gear` is neutral. `claw` and `detent` are those of a design.
//!
//! The `box` of a design has the same parts, without what the design itself has: title, drive, teeth, shift speeds,
//! claw, detent, and the rings of the gear that is `open`.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde_json::{Map, Value, json};

use crenel_words::file as say;

use super::bytes::{check_size, text_of};
use super::read::Reader;
use super::repeated::repeated_keys;
use super::words::{GEARBOX, SHAFTS, WHEELS};
use super::write::{
    number, put_numbers, put_optional, put_selector, put_word, save, save_gearbox, save_numbers,
};
use crate::design::numbers::Numbered;
use crate::design::{
    BoxAround, ClawSpec, DetentSpec, DrumSpec, ForkSpec, GearboxSpec, GearsetSpec, MOST_GEARS,
    MOST_PARTS, MOST_TRACK_POINTS, PairOf, Place, PositionSpec, SelectorSpec, SetGearSpec,
    ShaftSpec, WheelKind, WheelSpec,
};
use crate::fields::{FieldId, Slot};
use crate::finding::{Finding, any_error};
use crate::shift::Shaft;

/// The version of a whole gearbox that is written.
pub const GEARSET_VERSION: u64 = 1;

/// The key of the gearbox in the saved form of a design.
const BOX: &str = "box";

/// The key of what was read on a gear or a fork.
const MEASURED: &str = "measured";

/// A whole gearbox as opened, with findings about the form that it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenedGearset {
    /// The gearbox.
    pub gearset: GearsetSpec,
    /// Findings about parts that were left out or looked strange. None of them is an error.
    pub findings: Vec<Finding>,
}

/// Opens the saved form of a whole gearbox, or of a design that has one around it.
///
/// # Errors
/// All findings, if the text is not JSON, not a gearbox, of a newer version, or a value is of the wrong kind.
pub fn open_gearset(text: &str) -> Result<OpenedGearset, Vec<Finding>> {
    let mut reader = Reader::default();
    let gearset = match serde_json::from_str::<Value>(text) {
        Ok(Value::Object(map)) => {
            reader.findings.extend(repeated_keys(text));
            if map.contains_key(BOX) && !map.contains_key(GEARBOX) {
                reader.design(map).to_gearset().unwrap_or_default()
            } else {
                reader.gearset(map)
            }
        }
        Ok(_) => {
            reader.error(say::not_a_gearbox());
            GearsetSpec::default()
        }
        Err(e) => {
            reader.error(say::not_json(e.to_string()));
            GearsetSpec::default()
        }
    };
    let findings = reader.findings;
    if any_error(&findings) { Err(findings) } else { Ok(OpenedGearset { gearset, findings }) }
}

/// Opens the bytes of a file that holds a whole gearbox.
///
/// # Errors
/// As [`open_gearset`], and if there are too many bytes.
pub fn read_gearset(bytes: &[u8]) -> Result<OpenedGearset, Vec<Finding>> {
    check_size(bytes.len())?;
    let (text, damaged) = text_of(bytes);
    let mut opened = open_gearset(&text)?;
    opened
        .findings
        .extend(damaged.then(|| Finding::warning(crenel_words::finding::damaged_text())));
    Ok(opened)
}

/// The saved form of a whole gearbox as one line of JSON.
pub fn gearset_to_json(gearset: &GearsetSpec) -> String {
    save_gearset(gearset).to_string()
}

/// A number that counts from 1 in files.
fn counted(value: &Value) -> Option<usize> {
    usize::try_from(value.as_u64()?).ok()?.checked_sub(1)
}

fn place_of(value: &Value) -> Option<Place> {
    match value.as_array()?.as_slice() {
        [shaft, wheel] => Some(Place { shaft: counted(shaft)?, wheel: counted(wheel)? }),
        _ => None,
    }
}

impl Reader {
    pub(super) fn gearset(&mut self, mut map: Map<String, Value>) -> GearsetSpec {
        match map.shift_remove(GEARBOX).as_ref().map(Value::as_u64) {
            Some(Some(GEARSET_VERSION)) => {}
            Some(Some(newer)) if newer > GEARSET_VERSION => {
                self.error(say::newer_version(newer.to_string(), GEARSET_VERSION.to_string()));
                return GearsetSpec::default();
            }
            _ => {
                self.error(say::not_a_gearbox());
                return GearsetSpec::default();
            }
        }
        let gearset = GearsetSpec {
            title: self.text(&mut map, "title"),
            drive: self
                .gearbox_at(&mut map, "drive")
                .unwrap_or_else(|| GearboxSpec::with_gears(Vec::new())),
            selector: SelectorSpec {
                claw: self.numbered::<ClawSpec>(&mut map, "claw"),
                detent: self.numbered::<DetentSpec>(&mut map, "detent"),
                ..SelectorSpec::default()
            },
            ..self.box_parts(&mut map)
        };
        self.unknown(&map, "");
        gearset
    }

    /// The parts that a design has not.
    fn box_parts(&mut self, map: &mut Map<String, Value>) -> GearsetSpec {
        GearsetSpec {
            notes: self.text(map, "notes"),
            shafts: self.parts(map, "shafts", MOST_PARTS, Self::shaft),
            sliders: self.sliders(map),
            forks: self.parts(map, "forks", MOST_PARTS, Self::fork),
            drum: self.drum(map),
            gears: self.parts(map, "gears", MOST_GEARS, Self::set_gear),
            ..GearsetSpec::default()
        }
    }

    /// The gearbox around a design.
    pub(super) fn around(&mut self, map: &mut Map<String, Value>) -> Option<Arc<BoxAround>> {
        let mut map = self.part(map, BOX)?;
        let outer = self.enter("box.");
        let open = self.counted(&mut map, "", "open").unwrap_or_default();
        let set =
            GearsetSpec { drive: GearboxSpec::with_gears(Vec::new()), ..self.box_parts(&mut map) };
        self.unknown(&map, "");
        if open >= set.gears.len() {
            self.error(say::not_a_count("box.open".to_owned(), (open + 1).to_string()));
            self.path = outer;
            return None;
        }
        self.path = outer;
        Some(Arc::new(BoxAround::of(set, open)))
    }

    /// The parts under a key, each read by the same function, which gets its path.
    fn parts<P>(
        &mut self,
        map: &mut Map<String, Value>,
        key: &str,
        most: usize,
        read: fn(&mut Self, &mut Map<String, Value>, &str) -> P,
    ) -> Vec<P> {
        let listed = self.list(map, key, most).into_iter().enumerate();
        let one = |(at, mut map): (usize, Map<String, Value>)| {
            let path = format!("{key}[{at}].");
            let part = read(self, &mut map, &path);
            self.unknown(&map, &path);
            part
        };
        listed.map(one).collect()
    }

    /// Goes into a part, and returns the path to come back to.
    fn enter(&mut self, path: &str) -> String {
        let inner = format!("{}{path}", self.path);
        std::mem::replace(&mut self.path, inner)
    }

    /// Reads the numbers of a part of a gearbox into it.
    fn numbers_of<P: Numbered>(&mut self, map: &mut Map<String, Value>, part: &mut P) {
        self.numbers(map, P::NUMBERS, Slot::Part, |id, value| part.put(id, value));
    }

    fn shaft(&mut self, map: &mut Map<String, Value>, path: &str) -> ShaftSpec {
        let is = self.word(map, "is", &SHAFTS);
        let outer = self.enter(path);
        let wheels = self.parts(map, "wheels", MOST_PARTS, Self::wheel);
        self.path = outer;
        let mut shaft = ShaftSpec::with(is, wheels);
        self.numbers_of(map, &mut shaft);
        shaft
    }

    fn wheel(&mut self, map: &mut Map<String, Value>, _: &str) -> WheelSpec {
        let mut wheel = WheelSpec::of(self.word::<WheelKind>(map, "is", &WHEELS));
        self.numbers_of(map, &mut wheel);
        wheel
    }

    fn sliders(&mut self, map: &mut Map<String, Value>) -> Vec<Place> {
        let Some(value) = map.shift_remove("sliders") else { return Vec::new() };
        let listed = value.as_array().filter(|listed| listed.len() <= MOST_PARTS);
        let places = listed.and_then(|listed| listed.iter().map(place_of).collect());
        places.unwrap_or_else(|| {
            self.error(say::not_places("sliders".to_owned()));
            Vec::new()
        })
    }

    fn fork(&mut self, map: &mut Map<String, Value>, path: &str) -> ForkSpec {
        let slider = self.counted(map, path, "slider").unwrap_or_default();
        let mut fork = ForkSpec::with(slider, self.drum_track(map, path));
        fork.seen = self.seen(map, path, &ForkSpec::SEEN);
        self.numbers_of(map, &mut fork);
        fork
    }

    fn drum_track(&mut self, map: &mut Map<String, Value>, path: &str) -> Vec<[f64; 2]> {
        let Some(value) = map.shift_remove("track") else { return Vec::new() };
        let points: Option<Vec<[f64; 2]>> = serde_json::from_value(value).ok();
        points.filter(|points| points.len() <= MOST_TRACK_POINTS).unwrap_or_else(|| {
            self.error(say::not_a_track(format!("{path}track"), MOST_TRACK_POINTS));
            Vec::new()
        })
    }

    fn drum(&mut self, map: &mut Map<String, Value>) -> DrumSpec {
        let Some(mut map) = self.part(map, "drum") else { return DrumSpec::default() };
        let outer = self.enter("drum.");
        let positions = self.parts(&mut map, "positions", 2 * MOST_PARTS, Self::position);
        let mut drum = DrumSpec::with(positions);
        self.numbers_of(&mut map, &mut drum);
        self.unknown(&map, "");
        self.path = outer;
        drum
    }

    fn position(&mut self, map: &mut Map<String, Value>, path: &str) -> PositionSpec {
        let gear = self.counted(map, path, "gear");
        let mut position = PositionSpec::at(0.0, gear);
        self.numbers_of(map, &mut position);
        position
    }

    fn set_gear(&mut self, map: &mut Map<String, Value>, path: &str) -> SetGearSpec {
        let [driving, driven] = ["driving", "driven"].map(|key| self.place(map, path, key));
        let slider = self.counted(map, path, "slider").unwrap_or_default();
        let mut gear = SetGearSpec::with(driving, driven, slider, self.pair_of(map, path));
        gear.seen = self.seen(map, path, &SetGearSpec::SEEN);
        self.numbers_of(map, &mut gear);
        gear
    }

    /// What was read on a part.
    fn seen(
        &mut self,
        map: &mut Map<String, Value>,
        path: &str,
        ids: &[FieldId],
    ) -> BTreeMap<FieldId, f64> {
        let Some(mut map) = self.part(map, MEASURED) else { return BTreeMap::new() };
        let outer = self.enter(path);
        let given: Vec<FieldId> =
            ids.iter().copied().filter(|id| map.contains_key(id.spec().key)).collect();
        let mut seen = BTreeMap::new();
        let put = |id, value| {
            seen.insert(id, value);
        };
        self.numbers(&mut map, &given, Slot::Seen, put);
        self.unknown(&map, "measured.");
        self.path = outer;
        seen
    }

    fn pair_of(&mut self, map: &mut Map<String, Value>, path: &str) -> PairOf {
        if let Some(other) = self.counted(map, path, "same_as") {
            return PairOf::SameAs(other);
        }
        let Some(pair) = self.part(map, "pair") else { return PairOf::default() };
        let outer = self.enter(&format!("{path}pair."));
        let design = self.body(pair);
        self.path = outer;
        PairOf::Own(Box::new(design))
    }

    /// A number that counts from 1.
    fn counted(&mut self, map: &mut Map<String, Value>, path: &str, key: &str) -> Option<usize> {
        let value = map.shift_remove(key)?;
        let at = counted(&value);
        if at.is_none() {
            self.error(say::not_a_count(format!("{path}{key}"), value.to_string()));
        }
        at
    }

    fn place(&mut self, map: &mut Map<String, Value>, path: &str, key: &str) -> Place {
        let Some(value) = map.shift_remove(key) else { return Place::default() };
        place_of(&value).unwrap_or_else(|| {
            self.error(say::not_places(format!("{path}{key}")));
            Place::default()
        })
    }
}

/// The saved form of a whole gearbox.
pub fn save_gearset(gearset: &GearsetSpec) -> Value {
    let mut map = Map::new();
    map.insert(GEARBOX.to_owned(), json!(GEARSET_VERSION));
    for (key, text) in [("title", &gearset.title), ("notes", &gearset.notes)] {
        if !text.is_empty() {
            map.insert(key.to_owned(), json!(text));
        }
    }
    let mut drive = save_gearbox(&gearset.drive);
    drive.shift_remove("gears");
    put_part(&mut map, "drive", drive);
    put_parts(&mut map, gearset);
    put_selector(&mut map, &gearset.selector);
    Value::Object(map)
}

/// Puts the parts that a design has not.
fn put_parts(map: &mut Map<String, Value>, gearset: &GearsetSpec) {
    put_list(map, "shafts", gearset.shafts.iter().map(save_shaft));
    put_list(map, "sliders", gearset.sliders.iter().copied().map(save_place));
    put_list(map, "forks", gearset.forks.iter().map(save_fork));
    let mut drum = save_numbers(gearset.drum.all());
    put_list(&mut drum, "positions", gearset.drum.positions.iter().map(save_position));
    put_part(map, "drum", drum);
    put_list(map, "gears", gearset.gears.iter().map(save_set_gear));
}

impl BoxAround {
    /// Puts it into the saved form of its design.
    pub(super) fn put_into(&self, map: &mut Map<String, Value>) {
        let mut part = Map::new();
        if self.open() > 0 {
            part.insert("open".to_owned(), json!(self.open() + 1));
        }
        if !self.parts().notes.is_empty() {
            part.insert("notes".to_owned(), json!(self.parts().notes));
        }
        put_parts(&mut part, self.parts());
        map.insert(BOX.to_owned(), Value::Object(part));
    }
}

fn put_part(map: &mut Map<String, Value>, key: &str, part: Map<String, Value>) {
    if !part.is_empty() {
        map.insert(key.to_owned(), Value::Object(part));
    }
}

fn put_list(map: &mut Map<String, Value>, key: &str, parts: impl ExactSizeIterator<Item = Value>) {
    if parts.len() > 0 {
        map.insert(key.to_owned(), parts.collect());
    }
}

fn save_shaft(shaft: &ShaftSpec) -> Value {
    let mut map = Map::new();
    put_word::<Shaft>(&mut map, "is", &SHAFTS, shaft.is);
    put_list(&mut map, "wheels", shaft.wheels.iter().map(save_wheel));
    put_numbers(&mut map, shaft.all());
    Value::Object(map)
}

fn save_wheel(wheel: &WheelSpec) -> Value {
    let mut map = save_numbers(wheel.all());
    put_word(&mut map, "is", &WHEELS, wheel.kind);
    Value::Object(map)
}

fn save_place(place: Place) -> Value {
    json!([place.shaft + 1, place.wheel + 1])
}

fn save_fork(fork: &ForkSpec) -> Value {
    let mut map = save_numbers(fork.all());
    map.insert("slider".to_owned(), json!(fork.slider + 1));
    put_optional(&mut map, MEASURED, &fork.seen);
    put_list(&mut map, "track", fork.track.iter().map(|point| json!(point.map(number))));
    Value::Object(map)
}

fn save_position(position: &PositionSpec) -> Value {
    let mut map = save_numbers(position.all());
    if let Some(gear) = position.gear {
        map.insert("gear".to_owned(), json!(gear + 1));
    }
    Value::Object(map)
}

fn save_set_gear(gear: &SetGearSpec) -> Value {
    let mut map = save_numbers(gear.all());
    map.insert("driving".to_owned(), save_place(gear.driving));
    map.insert("driven".to_owned(), save_place(gear.driven));
    map.insert("slider".to_owned(), json!(gear.slider + 1));
    put_optional(&mut map, MEASURED, &gear.seen);
    match &gear.pair {
        PairOf::SameAs(other) => {
            map.insert("same_as".to_owned(), json!(other + 1));
        }
        PairOf::Own(design) => {
            let mut pair = match save(design) {
                Value::Object(pair) => pair,
                _ => Map::new(),
            };
            pair.shift_remove("crenel");
            put_part(&mut map, "pair", pair);
        }
    }
    Value::Object(map)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, LAYOUTS, open, to_json};

    #[test]
    fn every_layout_is_opened_as_it_was_saved() {
        for layout in LAYOUTS {
            let set = layout.to_gearset();
            let opened = open_gearset(&gearset_to_json(&set)).expect("it opens");
            assert_eq!(opened, OpenedGearset { gearset: set, findings: Vec::new() });
        }
    }

    #[test]
    fn a_pair_alone_is_no_gearbox_and_a_gearbox_opens_as_a_design() {
        let codes = |findings: Vec<Finding>| findings.iter().map(|f| f.code).collect::<Vec<_>>();
        assert_eq!(codes(open_gearset(r#"{ "crenel": 1 }"#).unwrap_err()), ["not_a_gearbox"]);
        assert_eq!(codes(open_gearset("[]").unwrap_err()), ["not_a_gearbox"]);
        assert_eq!(
            codes(open_gearset(r#"{ "crenel_gearbox": 9 }"#).unwrap_err()),
            ["newer_version"]
        );
        let set = LAYOUTS[0].to_gearset();
        let opened = open(&gearset_to_json(&set)).expect("it opens");
        assert_eq!(opened.design, Design::in_box(&set, 0));
        assert_eq!(opened.findings, []);
    }

    #[test]
    fn a_design_keeps_the_gearbox_around_it() {
        for layout in LAYOUTS {
            let mut design = Design::in_box(&layout.to_gearset(), 1);
            design.title = "Mine".to_owned();
            design.a.outer_diameter_mm += 1.0;
            let text = to_json(&design);
            let opened = open(&text).expect("it opens");
            assert_eq!((&opened.design, opened.findings.as_slice()), (&design, [].as_slice()));
            let set = open_gearset(&text).expect("it has one").gearset;
            assert_eq!(Some(set), design.to_gearset());
        }
        let far = open(r#"{ "crenel": 1, "box": { "open": 3, "gears": [{}] } }"#).unwrap_err();
        assert_eq!(far[0].code, "not_a_count");
        let strange = open(r#"{ "crenel": 1, "box": { "gears": [{ "pair": { "zap": 1 } }] } }"#);
        let told = strange.expect("it opens").findings[0].text(crenel_words::Reader::default());
        assert!(told.contains("box.gears[0].pair.zap"), "{told}");
    }

    #[test]
    fn what_is_strange_is_told_with_the_place_where_it_is() {
        let opened = open_gearset(
            r#"{ "crenel_gearbox": 1, "gears": [{ "pair": { "a": { "colour": 1 } }, "zap": 2 }],
                "shafts": [{ "wheels": [{ "is": "free", "size": 3 }] }], "drum": { "spin": 1 } }"#,
        );
        let findings = opened.expect("it opens").findings;
        let told: Vec<String> =
            findings.iter().map(|f| f.text(crenel_words::Reader::default())).collect();
        for key in
            ["gears[0].pair.a.colour", "gears[0].zap", "shafts[0].wheels[0].size", "drum.spin"]
        {
            assert!(told.iter().any(|text| text.contains(&format!("“{key}”"))), "{key}: {told:?}");
        }
    }

    #[test]
    fn what_was_read_on_gears_and_forks_is_opened_as_it_was_saved() {
        use crate::fields::BoxPart;
        let mut design = Design::in_box(&LAYOUTS[0].to_gearset(), 1);
        for (part, id) in [
            (BoxPart::SeenGear(2), FieldId::SeenOverlap),
            (BoxPart::SeenGear(1), FieldId::SeenMeetsUp),
            (BoxPart::SeenFork(0), FieldId::SeenForkPlay),
        ] {
            let slot = Slot::Box(part, id);
            assert!(design.get(slot).is_none() && design.set_given(slot, 1.25), "{slot:?}");
        }
        let opened = open(&to_json(&design)).expect("it opens");
        assert_eq!((&opened.design, opened.findings.as_slice()), (&design, [].as_slice()));
        assert_eq!(design.box_slots().iter().filter(|slot| slot.may_be_absent()).count(), 3);
        assert!(design.clear(Slot::Box(BoxPart::SeenGear(2), FieldId::SeenOverlap)));
        assert!(!design.clear(Slot::Box(BoxPart::SeenGear(2), FieldId::SeenOverlap)));
        for (part, id) in [
            (BoxPart::SeenGear(9), FieldId::SeenOverlap),
            (BoxPart::SeenGear(1), FieldId::SeenForkPlay),
            (BoxPart::SeenFork(0), FieldId::SeenOverlap),
        ] {
            assert!(!design.set(Slot::Box(part, id), 1.0), "{part:?}");
        }
        let strange = open_gearset(
            r#"{ "crenel_gearbox": 1, "gears": [{}, { "measured": { "zap": 1, "measured_lash_deg": "x" } }] }"#,
        );
        let told = strange.unwrap_err();
        let texts: Vec<String> =
            told.iter().map(|f| f.text(crenel_words::Reader::default())).collect();
        for place in ["gears[1].measured.zap", "measured_lash_deg"] {
            assert!(texts.iter().any(|text| text.contains(place)), "{texts:?}");
        }
    }

    #[test]
    fn what_is_of_the_wrong_kind_is_refused() {
        for (part, code) in [
            (r#""sliders": [[2]]"#, "not_places"),
            (r#""sliders": 3"#, "not_places"),
            (r#""gears": [{ "slider": 0 }]"#, "not_a_count"),
            (r#""gears": [{ "driving": [0, 1] }]"#, "not_places"),
            (r#""forks": [{ "track": [[1, "x"]] }]"#, "not_a_track"),
            (r#""drum": []"#, "not_a_part"),
            (r#""shafts": [{ "wheels": [{ "is": "loose" }] }]"#, "unknown_word"),
        ] {
            let refused =
                open_gearset(&format!(r#"{{ "crenel_gearbox": 1, {part} }}"#)).unwrap_err();
            assert_eq!(refused[0].code, code, "{part}");
        }
    }
}
