//! A design: what the user gives, how it is kept, undone and sent.

mod delta;
mod depth;
mod draft;
mod gallery;
mod gearbox;
mod gearset;
mod given;
mod history;
mod limits;
mod link;
mod numbers;
mod plan;
mod presets;
mod readings;
mod remeasured;
mod ring_check;
mod ring_spec;
mod saved;
mod selector;
mod set_limits;
mod setting;
mod starts;
mod symptom;
mod tolerances;
mod tracing;
mod typed_limits;
mod unknown;
mod variants;
mod work;
mod works;

pub use depth::{DepthSpec, LINK_NAME_LIMIT, LinkSpec, MOST_LINKS};
pub use draft::Draft;
pub use gallery::{Example, gallery, is_invented};
pub use gearbox::{Clutch, GearSpec, GearboxSpec, MOST_GEARS};
pub use gearset::{
    BoxAround, DrumField, DrumSpec, ForkField, ForkSpec, GearsetSpec, LAYOUTS, MOST_PARTS, PairOf,
    Place, PlainLayout, PositionField, PositionSpec, SetGearField, SetGearSpec, ShaftField,
    ShaftSpec, WheelField, WheelKind, WheelSpec, is_of_gearset,
};
pub use history::History;
pub use link::{LINK_LIMIT, LinkError, UNPACKED_LIMIT, decode, encode, encode_digits};
pub use plan::{MOST_OPERATIONS, Operation, Plan};
pub use presets::{
    CORE_YIELDS, PRESETS, Preset, SPLINE_PRESSURES, SPLINE_SHEARS, TIP_EDGES, TIP_FACES,
};
pub use readings::{
    COVERAGE, CellFault, Column, GAUGES, GaugeKind, GaugedDog, GaugedRing, MOST_COLUMNS,
    MOST_READ_DOGS, Pasted, PhotoFlank, Readings, SPREADS, SetBy, UnreadCell, Wrong, contact_words,
    sheet_cells,
};
pub(crate) use remeasured::Remeasured;
pub(crate) use ring_check::dogs_can_be;
pub use ring_spec::{DogSpec, EvenLayout, Layout, RingSpec, SizeBy};
pub use saved::{
    FILE_LIMIT, GEARSET_VERSION, MOST_PHOTOS, Opened, OpenedGearset, PHOTO_LIMIT, VERSION,
    check_size, gearset_to_json, open, open_gearset, read, read_gearset, save, save_gearset,
    save_with_photos, text_of, to_json,
};
pub use selector::{
    ClawSpec, DetentField, DetentSpec, LinkageSpec, MOST_TRACK_POINTS, PedalBy, SelectorSpec,
    TrackSpec,
};
pub use set_limits::SetLimits;
pub use setting::{LoadCase, Setting, SettingField, ShiftFrom};
pub use starts::{START_RINGS, StartRing, example};
pub use symptom::{SYMPTOMS, Symptom};
pub use tolerances::{MOST_TOLERANCE, TOLERANCED, Tolerances};
pub use tracing::Trace;
pub use typed_limits::{read_limits, show_limits, split_limits};
pub use unknown::Need;
pub use variants::{MOST_VARIANTS, VARIANT_NAME_LIMIT, Variant, Variants};
pub use work::{Cut, Region, Size, Tips, Work, WorkKind};
pub use works::WORKS;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crenel_words::finding as say;

use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::ring::{PerSide, Ring, Side};
use crate::shift::Way;
use crate::shop::indexing::Plates;
use crate::stack::Facing;
use crate::units::Angle;

/// Longest title, author's initials and notes, in characters.
pub const TEXT_LIMITS: [(&str, usize); 3] = [("title", 120), ("initials", 8), ("notes", 4000)];

/// Least difference of the diameters that a step or a drag leaves, mm.
const LEAST_RING_MM: f64 = 0.5;

/// Everything the user gave.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Design {
    /// What it is called.
    pub title: String,
    /// Who drew it.
    pub initials: String,
    /// Notes for the next reader.
    pub notes: String,
    /// Ring A, the one that is turned and pushed.
    pub a: RingSpec,
    /// Ring B, which it goes into.
    pub b: RingSpec,
    /// Other plans for the rings, with names.
    pub variants: Variants,
    /// The position of the rings and how they are shifted.
    pub setting: Setting,
    /// The gearbox they work in, if it is known.
    pub gearbox: Option<GearboxSpec>,
    /// Other rings to compare with, under the same conditions.
    pub alternatives: Vec<RingPair>,
    /// What is held equal in the comparison.
    pub normalize: Normalize,
    /// The value at which it is held, degrees; that of the first layout if none is typed.
    pub held_deg: Option<f64>,
    /// The parts between foot and fork, as far as they are known.
    pub selector: SelectorSpec,
    /// The dimension chains along the shaft, if they are known.
    pub depth: Option<DepthSpec>,
    /// What the rider feels and what was measured.
    pub trace: Trace,
    /// The index plates of the shop.
    pub plates: Plates,
    /// The limits that the user sets.
    pub limits: SetLimits,
    /// How far sizes may be off.
    pub tolerances: Tolerances,
    /// Numbers that somebody gave although they equal their default. What differs need not be here.
    pub given: BTreeSet<Slot>,
    /// Numbers that nobody knows: nothing is worked out with the default in their place.
    pub unknown: BTreeSet<Slot>,
    /// The whole gearbox around the pair, if it is known.
    pub around: Option<Arc<BoxAround>>,
}

/// Most pairs of rings that a design can be compared with.
pub const MOST_ALTERNATIVES: usize = 3;

/// Two rings to compare with.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RingPair {
    /// What they are called.
    pub title: String,
    /// Ring A.
    pub a: RingSpec,
    /// Ring B.
    pub b: RingSpec,
}

/// What is made equal in all layouts of a comparison, so that it is not the cause of a difference.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Normalize {
    /// Nothing: each layout as it is drawn.
    #[default]
    AsDrawn,
    /// The width of the dogs of the current design.
    DogWidth,
    /// The free angle of the current design.
    FreeAngle,
}

impl Design {
    /// Whether work is planned on a ring.
    pub fn is_planned(&self) -> bool {
        !(self.a.plan.is_empty() && self.b.plan.is_empty())
    }

    /// The title, or “Untitled” for a design without one.
    pub fn name(&self) -> &str {
        if self.title.is_empty() { "Untitled" } else { &self.title }
    }

    /// One of the rings.
    pub const fn ring(&self, side: Side) -> &RingSpec {
        match side {
            Side::A => &self.a,
            Side::B => &self.b,
        }
    }

    /// One of the rings, to change it.
    pub const fn ring_mut(&mut self, side: Side) -> &mut RingSpec {
        match side {
            Side::A => &mut self.a,
            Side::B => &mut self.b,
        }
    }

    /// The number at a slot; `None` if the design has no such number.
    pub fn get(&self, slot: Slot) -> Option<f64> {
        match slot {
            Slot::Setting(id) => self.setting.field(id),
            Slot::Ring(side, id) => {
                let ring = self.ring(side);
                ring.field(id).or_else(|| match &ring.layout {
                    Layout::Even(even) => even.field(id),
                    Layout::Measured(_) => None,
                })
            }
            Slot::Dog(side, place, FieldId::ShortenTo) => {
                match self.ring(side).plan.cut_of(place) {
                    Some(Cut::Shorten(to)) => Some(to),
                    _ => None,
                }
            }
            Slot::Dog(side, place, id) => match &self.ring(side).layout {
                Layout::Measured(dogs) => dogs.get(place)?.field(id),
                Layout::Even(_) => None,
            },
            Slot::Gearbox(id) => self.gearbox.as_ref()?.field(id),
            Slot::Gear(at, id) => self.gearbox.as_ref()?.gears.get(at)?.field(id),
            Slot::Work(side, at, id) => {
                let number = self.ring(side).plan.operations.get(at)?.work.number();
                number.filter(|(of, _)| *of == id).map(|(_, number)| number)
            }
            Slot::Part(id) => self.selector.field(id).or_else(|| self.depth.as_ref()?.field(id)),
            Slot::TrackPoint(at, id) => {
                let which = TrackSpec::POINT_FIELDS.iter().position(|field| *field == id)?;
                self.selector.track.as_ref()?.points.get(at)?.get(which).copied()
            }
            Slot::Link(facing, at, id) => self.depth.as_ref()?.link(facing, at)?.field(id),
            Slot::Seen(id) => self.trace.seen(id),
            Slot::Limit(id) => self.limits.get(id),
            Slot::Box(part, id) => self.around.as_ref()?.parts().number(part, id),
        }
    }

    /// Puts a number at a slot, and returns whether the design has such a number.
    ///
    /// If the eccentric of the stop is turned, the travel to the stop changes with it. A dog of an even ring
    /// has no numbers of its own, except for the height it is cut to.
    pub fn set(&mut self, slot: Slot, value: f64) -> bool {
        if let Slot::Dog(side, place, FieldId::ShortenTo) = slot {
            self.ring_mut(side).plan.set_cut(place, Some(Cut::Shorten(value)));
            return true;
        }
        if let (Slot::Part(FieldId::EccentricAt), Some(claw)) = (slot, &mut self.selector.claw) {
            claw.turn_eccentric(Angle::from_degrees(value));
            return true;
        }
        if let Some(numbers) = self.optional_mut(slot) {
            numbers.insert(slot.field(), value);
            return true;
        }
        let place = self.get_mut(slot);
        let found = place.is_some();
        if let Some(place) = place {
            *place = value;
        }
        found
    }

    /// Removes the number at a slot that may be absent: a measurement, or a limit that is set. Returns whether
    /// there was one.
    pub fn clear(&mut self, slot: Slot) -> bool {
        self.optional_mut(slot).is_some_and(|numbers| numbers.remove(&slot.field()).is_some())
    }

    /// The numbers of the kind of a slot that may be absent.
    fn optional_mut(&mut self, slot: Slot) -> Option<&mut BTreeMap<FieldId, f64>> {
        match slot {
            Slot::Seen(_) => Some(&mut self.trace.measured),
            Slot::Limit(_) => Some(&mut self.limits.numbers),
            Slot::Box(part, id) if slot.may_be_absent() => {
                Arc::make_mut(self.around.as_mut()?).seen_mut(part, id)
            }
            _ => None,
        }
    }

    fn get_mut(&mut self, slot: Slot) -> Option<&mut f64> {
        match slot {
            Slot::Setting(id) => self.setting.field_mut(id),
            Slot::Ring(side, id) => {
                let ring = self.ring_mut(side);
                if RingSpec::FIELDS.contains(&id) {
                    return ring.field_mut(id);
                }
                match &mut ring.layout {
                    Layout::Even(even) => even.field_mut(id),
                    Layout::Measured(_) => None,
                }
            }
            Slot::Dog(side, place, id) => match &mut self.ring_mut(side).layout {
                Layout::Measured(dogs) => dogs.get_mut(place)?.field_mut(id),
                Layout::Even(_) => None,
            },
            Slot::Gearbox(id) => self.gearbox.as_mut()?.field_mut(id),
            Slot::Gear(at, id) => self.gearbox.as_mut()?.gears.get_mut(at)?.field_mut(id),
            Slot::Work(side, at, id) => {
                let work = &mut self.ring_mut(side).plan.operations.get_mut(at)?.work;
                work.number().is_some_and(|(of, _)| of == id).then(|| work.number_mut())?
            }
            Slot::Part(id) => {
                let depth = &mut self.depth;
                let selector = self.selector.field_mut(id);
                selector.or_else(|| depth.as_mut()?.field_mut(id))
            }
            Slot::TrackPoint(at, id) => self.selector.track.as_mut()?.point_mut(at, id),
            Slot::Link(facing, at, id) => self.depth.as_mut()?.link_mut(facing, at)?.field_mut(id),
            Slot::Box(part, id) => Arc::make_mut(self.around.as_mut()?).number_mut(part, id),
            Slot::Seen(_) | Slot::Limit(_) => None,
        }
    }

    /// The limits of the number at a slot. They are those of its field, narrowed so that a step or a
    /// drag cannot make an impossible ring.
    pub fn limits(&self, slot: Slot) -> (f64, f64) {
        let field = slot.field().spec();
        let (min, max) = (field.min, field.max);
        let (Slot::Ring(side, _) | Slot::Dog(side, ..)) = slot else { return (min, max) };
        let ring = self.ring(side);
        match (slot, &ring.layout) {
            (Slot::Ring(_, FieldId::InnerDiameter), _) => {
                (min, max.min(ring.outer_diameter_mm - LEAST_RING_MM))
            }
            (Slot::Ring(_, FieldId::OuterDiameter), _) => {
                (min.max(ring.inner_diameter_mm + LEAST_RING_MM), max)
            }
            (Slot::Ring(_, FieldId::TipWidth | FieldId::Gap), Layout::Even(even)) => {
                (min, max.min(360.0 / even.count - min))
            }
            (Slot::Dog(_, place, FieldId::ShortenTo), _) => {
                let found = ring.found_dogs().get(place).map_or(max, |d| d.height_mm);
                (min, max.min(found))
            }
            _ => (min, max),
        }
    }

    /// Every number the design has, ring by ring, in the order of the forms.
    pub fn slots(&self) -> Vec<Slot> {
        let rings = Side::BOTH.into_iter().flat_map(|side| self.ring_slots(side));
        rings.chain(Setting::FIELDS.map(Slot::Setting)).chain(self.other_slots()).collect()
    }

    /// Every number outside the rings and their setting.
    fn other_slots(&self) -> Vec<Slot> {
        let mut slots = self.gearbox_slots();
        slots.extend(self.selector_slots());
        slots.extend(self.depth_slots());
        slots.extend(self.trace.measured.keys().map(|id| Slot::Seen(*id)));
        slots.extend(self.limits.numbers.keys().map(|id| Slot::Limit(*id)));
        slots
    }

    /// Every number of the parts between foot and fork that are given.
    pub fn selector_slots(&self) -> Vec<Slot> {
        let mut slots: Vec<_> = self.selector.fields().into_iter().map(Slot::Part).collect();
        let points = self.selector.track.as_ref().map_or(0, |track| track.points.len());
        slots.extend(
            (0..points).flat_map(|at| TrackSpec::POINT_FIELDS.map(|id| Slot::TrackPoint(at, id))),
        );
        slots
    }

    /// Every number of the dimension chains, if they are given.
    pub fn depth_slots(&self) -> Vec<Slot> {
        let Some(depth) = &self.depth else { return Vec::new() };
        let links = Facing::BOTH.into_iter().flat_map(|facing| {
            let links = 0..depth.chains[facing].len();
            links.flat_map(move |at| LinkSpec::FIELDS.map(|id| Slot::Link(facing, at, id)))
        });
        DepthSpec::FIELDS.map(Slot::Part).into_iter().chain(links).collect()
    }

    /// Every number of the gearbox, if there is one.
    pub fn gearbox_slots(&self) -> Vec<Slot> {
        let Some(gearbox) = &self.gearbox else { return Vec::new() };
        let gears =
            (0..gearbox.gears.len()).flat_map(|at| GearSpec::FIELDS.map(|id| Slot::Gear(at, id)));
        GearboxSpec::FIELDS.map(Slot::Gearbox).into_iter().chain(gears).collect()
    }

    /// Every number of one ring.
    pub fn ring_slots(&self, side: Side) -> Vec<Slot> {
        let mut slots = RingSpec::FIELDS.map(|id| Slot::Ring(side, id)).to_vec();
        match &self.ring(side).layout {
            Layout::Even(even) => {
                slots.extend(even.fields().into_iter().map(|id| Slot::Ring(side, id)));
            }
            Layout::Measured(dogs) => {
                let places = 0..dogs.len();
                let fields = DogSpec::FIELDS;
                slots.extend(places.flat_map(|p| fields.map(|id| Slot::Dog(side, p, id))));
            }
        }
        let works = self.ring(side).plan.operations.iter().enumerate();
        let number = |(at, operation): (usize, &Operation)| {
            operation.work.number().map(|(id, _)| Slot::Work(side, at, id))
        };
        slots.extend(works.filter_map(number));
        slots
    }

    /// Turns an even ring into one listed dog by dog, so that single dogs can be given as measured.
    /// Empty places of the pattern are left out; cuts stay with their dogs.
    pub fn list_dogs(&mut self, side: Side) {
        let ring = self.ring_mut(side);
        if matches!(ring.layout, Layout::Measured(_)) {
            return;
        }
        let found = ring.found_dogs();
        let standing: Vec<usize> = (0..found.len()).filter(|&p| found[p].height_mm > 0.0).collect();
        let turned =
            |dog: &DogSpec| DogSpec { centre_deg: dog.centre_deg.rem_euclid(360.0), ..*dog };
        ring.layout = Layout::Measured(standing.iter().map(|&p| turned(&found[p])).collect());
        self.renumber(side, |old| standing.iter().position(|&place| place == old));
    }

    /// Changes whether dogs or gaps are held on an even ring, keeping its shape as far as the
    /// limits of both allow.
    pub fn size_by(&mut self, side: Side, by: SizeBy) {
        if let Layout::Even(even) = &mut self.ring_mut(side).layout {
            let width = even.dog_width_deg();
            let within = |id: FieldId, value: f64| value.clamp(id.spec().min, id.spec().max);
            even.tip_width_deg = within(FieldId::TipWidth, width);
            even.gap_deg = within(FieldId::Gap, 360.0 / even.count - width);
            even.size_by = by;
        }
    }

    /// Friction coefficient tip on tip with all work done. It is that of lapped tips if the tips of both rings
    /// are lapped after all shortening, and otherwise as given: one rough face is enough for rubbing.
    pub fn tip_friction(&self) -> f64 {
        // Tips that are cut down after lapping are rough again.
        let lapped = |side: Side| {
            let operations = &self.ring(side).plan.operations;
            let last = |tips| operations.iter().rposition(|o| o.work.kind.tips == tips);
            let lap = last(Tips::Lapped);
            lap.is_some() && lap > last(Tips::Fresh)
        };
        let both = Side::BOTH.into_iter().all(lapped);
        self.setting.get(if both {
            SettingField::LappedFriction
        } else {
            SettingField::TipFriction
        })
    }

    /// Both rings as found, before any cut.
    pub fn to_found_rings(&self) -> PerSide<Ring> {
        PerSide { a: self.a.to_found(), b: self.b.to_found() }
    }

    /// Both rings with all their work done.
    pub fn to_cut_rings(&self) -> PerSide<Ring> {
        PerSide { a: self.a.to_cut(), b: self.b.to_cut() }
    }

    /// The design as found: without any work on its rings.
    #[must_use]
    pub fn to_found(&self) -> Self {
        let mut found = self.clone();
        for side in Side::BOTH {
            found.ring_mut(side).plan = Plan::default();
        }
        found
    }

    /// Everything that is wrong with the design as given, all at once.
    pub fn check(&self) -> Vec<Finding> {
        let mut findings: Vec<_> =
            Side::BOTH.into_iter().flat_map(|side| self.ring(side).check(side)).collect();
        let others = Setting::FIELDS.map(Slot::Setting).into_iter().chain(self.other_slots());
        let others = others.chain(self.box_slots());
        findings.extend(others.filter_map(|slot| slot.check(self.get(slot).unwrap_or(f64::NAN))));
        findings.extend(self.check_shift());
        findings.extend(self.check_texts());
        findings
    }

    /// The finding that the shift is not one of the gearbox.
    fn check_shift(&self) -> Option<Finding> {
        let way = self.way()?;
        let Some(gearbox) = &self.gearbox else {
            return Some(Finding::error(say::no_gearbox()).at(Slot::Setting(FieldId::Gear)));
        };
        let into = self.setting.get(SettingField::Gear);
        let gears = gearbox.gears.len();
        self.gear().and_then(|to| gearbox.working(1.0).step(to, way)).is_none().then(|| {
            let way = if way == Way::Up { "up" } else { "down" };
            Finding::error(say::no_such_shift(way, into, gears)).at(Slot::Setting(FieldId::Gear))
        })
    }

    /// Whether the gearbox is shifted up or down, if the shift comes from the gearbox.
    pub const fn way(&self) -> Option<Way> {
        match self.setting.from {
            ShiftFrom::Typed => None,
            ShiftFrom::Up => Some(Way::Up),
            ShiftFrom::Down => Some(Way::Down),
        }
    }

    /// The gear to which the dogs belong; first gear is 0.
    pub fn gear(&self) -> Option<usize> {
        let number = self.setting.get(SettingField::Gear);
        (0..MOST_GEARS).zip(1_u32..).find(|(_, nth)| f64::from(*nth) == number).map(|(at, _)| at)
    }

    fn check_texts(&self) -> Vec<Finding> {
        let texts = TEXT_LIMITS.into_iter().zip([&self.title, &self.initials, &self.notes]);
        let titles = self.alternatives.iter().map(|pair| (TEXT_LIMITS[0], &pair.title));
        let links = self.depth.iter().flat_map(|depth| depth.chains.iter().flatten());
        let names = links.map(|link| (("dimension", LINK_NAME_LIMIT), &link.name));
        let variants = self.variants.iter();
        let variants = variants.map(|variant| (("variant", VARIANT_NAME_LIMIT), &variant.name));
        let too_long = |((name, limit), text): ((&'static str, usize), &String)| {
            let length = text.chars().count();
            (length > limit).then(|| Finding::error(say::text_too_long(name, length, limit)))
        };
        texts.chain(titles).chain(names).chain(variants).filter_map(too_long).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bore_and_rim_keep_their_distance() {
        let design = Design::default();
        let ring = design.ring(Side::A);
        let limits = |id| design.limits(Slot::Ring(Side::A, id));
        let [bore, rim] = [FieldId::InnerDiameter, FieldId::OuterDiameter].map(limits);
        assert_eq!(bore.1, ring.outer_diameter_mm - LEAST_RING_MM);
        assert_eq!(rim.0, ring.inner_diameter_mm + LEAST_RING_MM);
    }
}
