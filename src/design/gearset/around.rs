//! The whole gearbox around the pair that is open.
//!
//! The design on the board is one pair; a gearbox has one for each gear. The rings, plan, setting and stack-up of the
//! gear that is open are those of the design, where everything else reads them; [`BoxAround`] holds those of the
//! other gears, and the parts that no pair has. What all gears share – title, teeth, drive, linkage, claw, detent,
//! limits, index plates – is in the design alone and stays when another gear is opened.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{
    DrumSpec, ForkSpec, GearsetSpec, PairOf, PlainLayout, PositionSpec, SetGearField, SetGearSpec,
    ShaftSpec, WheelField,
};
use crate::design::gearbox::GearField;
use crate::design::{
    ClawSpec, Design, DetentSpec, GearboxSpec, LinkageSpec, SelectorSpec, SetLimits, SettingField,
    ShiftFrom, TrackSpec,
};
use crate::fields::{BoxPart, FieldId, Slot};
use crate::shop::indexing::Plates;

/// The gearbox around the pair of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct BoxAround {
    /// Without what the design has. The gear that is open has no rings here, or those of the gears that were the
    /// same as it when it was opened.
    set: GearsetSpec,
    open: usize,
}

impl BoxAround {
    /// The gearbox around one of its gears, without what the design of that gear has.
    pub(in crate::design) fn of(mut set: GearsetSpec, open: usize) -> Self {
        set.title.clear();
        set.drive = GearboxSpec::with_gears(Vec::new());
        set.selector = SelectorSpec::default();
        for at in 0..set.gears.len() {
            for (place, _) in set.wheels_of(at) {
                set.put_teeth(place, FieldId::WheelTeeth.spec().default);
            }
            let gear = &mut set.gears[at];
            for field in [SetGearField::UpAt, SetGearField::DownAt] {
                gear.set(field, field.id().spec().default);
            }
            if let PairOf::Own(pair) = &mut gear.pair {
                **pair = pair.of_its_gear();
            }
        }
        vacate(&mut set, open);
        Self { set, open }
    }

    /// Which gear is open, from 0.
    pub const fn open(&self) -> usize {
        self.open
    }

    /// How many gears there are.
    pub const fn gears(&self) -> usize {
        self.set.gears.len()
    }

    /// The parts that no pair has: shafts, sliders, forks, drum.
    pub const fn parts(&self) -> &GearsetSpec {
        &self.set
    }

    /// A number of one of its parts, to change it; `None` if there is no such number.
    pub(in crate::design) fn number_mut(&mut self, part: BoxPart, id: FieldId) -> Option<&mut f64> {
        let set = &mut self.set;
        match part {
            BoxPart::Shaft(at) => set.shafts.get_mut(at)?.field_mut(id),
            BoxPart::Wheel(shaft, at) => {
                let shaft = set.shafts.get_mut(usize::from(shaft))?;
                let wheel = shaft.wheels.get_mut(usize::from(at))?;
                OF_WHEEL.contains(&id).then(|| wheel.field_mut(id))?
            }
            BoxPart::Fork(at) => set.forks.get_mut(at)?.field_mut(id),
            BoxPart::Drum => set.drum.field_mut(id),
            BoxPart::Position(at) => set.drum.positions.get_mut(at)?.field_mut(id),
            BoxPart::Gear(at) => {
                OF_GEAR.contains(&id).then(|| set.gears.get_mut(at)?.field_mut(id))?
            }
            BoxPart::SeenGear(_) | BoxPart::SeenFork(_) => None,
            BoxPart::TrackPoint(fork, at) => set
                .forks
                .get_mut(usize::from(fork))?
                .track
                .get_mut(usize::from(at))?
                .get_mut(of_point(id)?),
        }
    }

    /// What was read on one of its parts, to change it; `None` if that cannot be read there.
    pub(in crate::design) fn seen_mut(
        &mut self,
        part: BoxPart,
        id: FieldId,
    ) -> Option<&mut BTreeMap<FieldId, f64>> {
        match part {
            BoxPart::SeenGear(at) if SetGearSpec::SEEN.contains(&id) => {
                Some(&mut self.set.gears.get_mut(at)?.seen)
            }
            BoxPart::SeenFork(at) if ForkSpec::SEEN.contains(&id) => {
                Some(&mut self.set.forks.get_mut(at)?.seen)
            }
            _ => None,
        }
    }
}

/// The numbers of a wheel that the design does not have: its teeth are those of the ratios.
const OF_WHEEL: [FieldId; 7] = [
    FieldId::FaceWidth,
    FieldId::MeshOffset,
    FieldId::LeastMesh,
    FieldId::HubSpline,
    FieldId::SplineBefore,
    FieldId::SplineBehind,
    FieldId::LeastSpline,
];

/// A wheel by its place; nobody has a gearbox with more than a slot can name.
fn wheel_at(shaft: usize, at: usize) -> Option<BoxPart> {
    Some(BoxPart::Wheel(shaft.try_into().ok()?, at.try_into().ok()?))
}

/// The numbers of a gear that the design does not have.
const OF_GEAR: [FieldId; 1] = [FieldId::NeutralClearance];

/// Which number of a point of a track it is: drum angle, or place of the fork.
fn of_point(id: FieldId) -> Option<usize> {
    TrackSpec::POINT_FIELDS.iter().position(|own| *own == id)
}

/// Takes the rings of a gear out. Gears that have the same keep them.
fn vacate(set: &mut GearsetSpec, open: usize) {
    let Some(PairOf::Own(_)) = set.gears.get(open).map(|gear| &gear.pair) else { return };
    let of_others = 0..set.gears.len();
    let same: Vec<usize> =
        of_others.filter(|gear| *gear != open && set.owner(*gear) == Some(open)).collect();
    let pair = std::mem::take(&mut set.gears[open].pair);
    if let Some((first, others)) = same.split_first() {
        set.gears[*first].pair = pair;
        for gear in others.iter().chain([&open]) {
            set.gears[*gear].pair = PairOf::SameAs(*first);
        }
    }
}

/// Whether a number belongs to all gears, and not to the pair of one of them.
fn is_of_all(slot: Slot) -> bool {
    let parts: [&[FieldId]; 3] = [&LinkageSpec::FIELDS, &ClawSpec::FIELDS, &DetentSpec::FIELDS];
    match slot {
        Slot::Gearbox(_) | Slot::Gear(..) | Slot::Limit(_) => true,
        // Which gear it is, no pair knows.
        Slot::Setting(id) => id == FieldId::Gear,
        Slot::Part(id) => parts.iter().any(|ids| ids.contains(&id)),
        _ => false,
    }
}

impl Design {
    /// A gearbox with one of its gears open; the first, if it has not so many.
    pub fn in_box(set: &GearsetSpec, open: usize) -> Self {
        let open = if open < set.gears.len() { open } else { 0 };
        let mut design =
            if set.gears.is_empty() { None } else { set.pair(open).cloned() }.unwrap_or_default();
        if !set.title.is_empty() {
            design.title.clone_from(&set.title);
        }
        design.gearbox = Some(set.to_gearbox());
        design.selector = SelectorSpec { track: design.selector.track, ..set.selector.clone() };
        // What was given of a gearbox that the pair had is none of this one.
        design.given.retain(|slot| !is_of_all(*slot));
        design.unknown.retain(|slot| !is_of_all(*slot));
        design.shift_into(open);
        design.around = Some(Arc::new(BoxAround::of(set.clone(), open)));
        design
    }

    /// The design as a gearbox of a plain layout: every gear has these rings until they are changed. The gear that the
    /// design was shifted into is open, as far as the layout has it, and what is known of the gearbox stays.
    #[must_use]
    pub fn to_box(&self, layout: &PlainLayout) -> Self {
        let mut set = layout.to_gearset();
        let mut pair = self.clone();
        pair.around = None;
        set.gears[0].pair = PairOf::Own(Box::new(pair));
        let open = self.gear().filter(|gear| *gear < set.gears.len()).unwrap_or(0);
        let mut made = Self::in_box(&set, open);
        made.gearbox = Some(self.gearbox_with(set.to_gearbox()));
        let SelectorSpec { linkage, claw, detent, .. } = self.selector.clone();
        let of_layout = &mut made.selector;
        of_layout.linkage = linkage;
        of_layout.claw = claw.or(of_layout.claw.take());
        of_layout.detent = detent.or(of_layout.detent.take());
        made
    }

    /// What is known of the gearbox, with the gears of another one: their teeth too, unless there are as many gears
    /// as are known.
    fn gearbox_with(&self, other: GearboxSpec) -> GearboxSpec {
        let Some(mut known) = self.gearbox.clone() else { return other };
        if known.gears.len() == other.gears.len() {
            for (gear, of_layout) in known.gears.iter_mut().zip(&other.gears) {
                gear.free_on = of_layout.free_on;
            }
        } else {
            known.gears = other.gears;
        }
        known
    }

    /// The whole gearbox, with the pair of the gear that is open as it is now; `None` for a pair alone.
    pub fn to_gearset(&self) -> Option<GearsetSpec> {
        let mut set = self.around_with_own_pair()?;
        set.title.clone_from(&self.title);
        set.selector = SelectorSpec { track: None, ..self.selector.clone() };
        let Some(gearbox) = &self.gearbox else { return Some(set) };
        set.drive = gearbox.clone();
        set.drive.gears.clear();
        for (at, given) in gearbox.gears.iter().enumerate().take(set.gears.len()) {
            for (place, field) in set.wheels_of(at) {
                set.put_teeth(place, given.get(field));
            }
            set.gears[at].set(SetGearField::UpAt, given.get(GearField::UpAt));
            set.gears[at].set(SetGearField::DownAt, given.get(GearField::DownAt));
        }
        Some(set)
    }

    fn around_with_own_pair(&self) -> Option<GearsetSpec> {
        let around = self.around.as_ref()?;
        let mut set = around.set.clone();
        let pair = self.of_its_gear();
        let is_same = matches!(set.gears.get(around.open)?.pair, PairOf::SameAs(_))
            && set.pair(around.open) == Some(&pair);
        if !is_same {
            set.gears[around.open].pair = PairOf::Own(Box::new(pair));
        }
        Some(set)
    }

    /// The gear of the gearbox that is open, from 0; `None` for a pair alone.
    pub fn gear_open(&self) -> Option<usize> {
        Some(self.around.as_ref()?.open)
    }

    /// Opens the pair of another gear. What all gears share stays. Returns whether there was another gear to open.
    ///
    /// ```
    /// use crenel::design::{Design, LAYOUTS};
    /// let mut design = Design::in_box(&LAYOUTS[0].to_gearset(), 0);
    /// design.title = "Mine".to_owned();
    /// design.notes = "First gear".to_owned();
    /// assert!(design.open_gear(2) && design.notes.is_empty() && design.title == "Mine");
    /// assert!(design.open_gear(0) && design.notes == "First gear");
    /// ```
    pub fn open_gear(&mut self, gear: usize) -> bool {
        let open = self.gear_open();
        let Some(mut set) = self.around_with_own_pair() else { return false };
        if open == Some(gear) || gear >= set.gears.len() {
            return false;
        }
        let pair = set.pair(gear).cloned().unwrap_or_default();
        vacate(&mut set, gear);
        self.take_pair(pair, gear);
        self.around = Some(Arc::new(BoxAround { set, open: gear }));
        true
    }

    /// The design of one gear as it is when it is opened, without the gearbox around it, shifted up into that gear;
    /// the first gear is shifted down into. `None` if there is no such gear, or no rings for it.
    pub fn of_gear(&self, gear: usize) -> Option<Self> {
        let around = self.around.as_ref()?;
        let mut design = self.clone();
        design.around = None;
        if around.open != gear {
            around.set.gears.get(gear)?;
            design.take_pair(around.set.pair(gear)?.clone(), gear);
        }
        design.shift_into(gear);
        Some(design)
    }

    /// Changes the parts that no pair has. Returns whether there is a gearbox.
    pub fn edit_box(&mut self, edit: impl FnOnce(&mut GearsetSpec)) -> bool {
        let Some(around) = &mut self.around else { return false };
        let around = Arc::make_mut(around);
        edit(&mut around.set);
        true
    }

    /// Every number of the parts that no pair has.
    pub fn box_slots(&self) -> Vec<Slot> {
        let Some(set) = self.around.as_ref().map(|around| &around.set) else { return Vec::new() };
        let of = |part: BoxPart, ids: &[FieldId]| {
            ids.iter().map(move |id| Slot::Box(part, *id)).collect::<Vec<_>>()
        };
        let shafts = (0..set.shafts.len()).map(|at| of(BoxPart::Shaft(at), &ShaftSpec::FIELDS));
        let wheels = set.shafts.iter().enumerate().flat_map(|(shaft, own)| {
            (0..own.wheels.len()).filter_map(move |at| wheel_at(shaft, at))
        });
        let wheels = wheels.map(|part| of(part, &OF_WHEEL));
        let forks = (0..set.forks.len()).map(|at| of(BoxPart::Fork(at), &ForkSpec::FIELDS));
        let positions = (0..set.drum.positions.len())
            .map(|at| of(BoxPart::Position(at), &PositionSpec::FIELDS));
        let gears = (0..set.gears.len()).map(|at| of(BoxPart::Gear(at), &OF_GEAR));
        let drum = [of(BoxPart::Drum, &DrumSpec::FIELDS)].into_iter();
        let points = set.forks.iter().enumerate().flat_map(|(fork, own)| {
            let points = 0..own.track.len();
            points.map(move |at| of(BoxPart::track_point(fork, at), &TrackSpec::POINT_FIELDS))
        });
        let read = (0..set.gears.len()).map(BoxPart::SeenGear);
        let read = read.chain((0..set.forks.len()).map(BoxPart::SeenFork)).map(|part| {
            let ids: Vec<FieldId> =
                set.seen(part).into_iter().flat_map(|all| all.keys().copied()).collect();
            of(part, &ids)
        });
        let numbers = shafts.chain(wheels).chain(forks).chain(points).chain(drum);
        numbers.chain(positions).chain(gears).chain(read).flatten().collect()
    }

    /// The pair alone, without the gearbox around it.
    #[must_use]
    pub fn without_box(&self) -> Self {
        Self { around: None, ..self.clone() }
    }

    /// Takes the pair of a gear in place of its own, and keeps what belongs to all gears.
    fn take_pair(&mut self, pair: Self, gear: usize) {
        let before = std::mem::replace(self, pair);
        self.title = before.title;
        self.initials = before.initials;
        self.gearbox = before.gearbox;
        self.selector = SelectorSpec { track: self.selector.track.take(), ..before.selector };
        self.plates = before.plates;
        self.limits = before.limits;
        self.given.extend(before.given.into_iter().filter(|slot| is_of_all(*slot)));
        self.unknown.extend(before.unknown.into_iter().filter(|slot| is_of_all(*slot)));
        self.shift_into(gear);
    }

    /// What of the design belongs to its gear alone.
    fn of_its_gear(&self) -> Self {
        let mut pair = self.clone();
        pair.around = None;
        pair.title.clear();
        pair.initials.clear();
        pair.gearbox = None;
        pair.selector = SelectorSpec { track: pair.selector.track, ..SelectorSpec::default() };
        pair.plates = Plates::default();
        pair.limits = SetLimits::default();
        pair.given.retain(|slot| !is_of_all(*slot));
        pair.unknown.retain(|slot| !is_of_all(*slot));
        pair.setting.set(SettingField::Gear, FieldId::Gear.spec().default);
        // Which of its shifts is looked at is no matter of its rings.
        pair.setting.from = ShiftFrom::default();
        pair
    }

    /// Shifts up into a gear of the gearbox, and down into the first.
    fn shift_into(&mut self, gear: usize) {
        self.setting.from = if gear == 0 { ShiftFrom::Down } else { ShiftFrom::Up };
        #[expect(clippy::cast_precision_loss, reason = "few")]
        self.setting.set(SettingField::Gear, (gear + 1) as f64);
        // It follows from the gear that is open: nobody gives it.
        let slot = Slot::Setting(FieldId::Gear);
        self.given.remove(&slot);
        self.unknown.remove(&slot);
    }
}

impl GearsetSpec {
    /// A number of one of its parts; `None` if there is no such number.
    pub fn number(&self, part: BoxPart, id: FieldId) -> Option<f64> {
        match part {
            BoxPart::Shaft(at) => self.shafts.get(at)?.field(id),
            BoxPart::Wheel(shaft, at) => {
                self.shafts.get(usize::from(shaft))?.wheels.get(usize::from(at))?.field(id)
            }
            BoxPart::Fork(at) => self.forks.get(at)?.field(id),
            BoxPart::Drum => self.drum.field(id),
            BoxPart::Position(at) => self.drum.positions.get(at)?.field(id),
            BoxPart::Gear(at) => self.gears.get(at)?.field(id),
            BoxPart::SeenGear(_) | BoxPart::SeenFork(_) => self.seen(part)?.get(&id).copied(),
            BoxPart::TrackPoint(fork, at) => self
                .forks
                .get(usize::from(fork))?
                .track
                .get(usize::from(at))?
                .get(of_point(id)?)
                .copied(),
        }
    }

    /// The wheels of a gear that are there, each with the number of teeth of it in a gearbox of ratios.
    fn wheels_of(&self, gear: usize) -> Vec<(super::Place, GearField)> {
        let own = &self.gears[gear];
        let both = [(own.driving, GearField::GearDriving), (own.driven, GearField::GearDriven)];
        both.into_iter().filter(|(at, _)| self.wheel(*at).is_some()).collect()
    }

    fn put_teeth(&mut self, at: super::Place, teeth: f64) {
        self.shafts[at.shaft].wheels[at.wheel].set(WheelField::WheelTeeth, teeth);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{LAYOUTS, Plan, example};
    use crate::ring::Side;

    fn six_speed() -> Design {
        let six = LAYOUTS.iter().find(|layout| layout.key == "six-speed");
        Design::in_box(&six.expect("it is one of them").to_gearset(), 0)
    }

    #[test]
    fn a_gearbox_is_the_same_whichever_gear_is_open() {
        for layout in LAYOUTS {
            let set = layout.to_gearset();
            let mut design = Design::in_box(&set, 0);
            let whole = design.to_gearset();
            for gear in (0..set.gears.len()).rev() {
                design.open_gear(gear);
                assert_eq!(design.gear_open(), Some(gear));
                assert_eq!(design.gear(), Some(gear), "its shift is one into that gear");
                let now = design.to_gearset().expect("it has one");
                assert_eq!(now.to_gearbox(), set.to_gearbox());
                for each in 0..set.gears.len() {
                    let before = whole.as_ref().and_then(|all| all.pair(each));
                    assert!(now.pair(each) == before, "{}: {gear} {each}", layout.key);
                }
            }
        }
    }

    #[test]
    fn gears_that_are_the_same_part_when_one_is_changed() {
        let mut design = six_speed();
        design.ring_mut(Side::A).outer_diameter_mm = 61.0;
        let sizes = |design: &Design| {
            let set = design.to_gearset().expect("it has one");
            (0..6).map(|gear| set.pair(gear).unwrap().a.outer_diameter_mm).collect::<Vec<_>>()
        };
        let usual = six_speed().a.outer_diameter_mm;
        let mut wanted = vec![usual; 6];
        wanted[0] = 61.0;
        assert_eq!(sizes(&design), wanted);
        assert!(design.open_gear(3));
        assert_eq!(sizes(&design), wanted);
        design.ring_mut(Side::A).outer_diameter_mm = 62.0;
        wanted[3] = 62.0;
        assert_eq!(sizes(&design), wanted);
        let set = design.to_gearset().expect("it has one");
        let shared = set.gears.iter().filter(|gear| matches!(gear.pair, PairOf::SameAs(_)));
        assert_eq!(shared.count(), 3, "the other four have one pair of rings");
    }

    #[test]
    fn what_all_gears_share_is_changed_for_all() {
        let mut design = six_speed();
        design.initials = "KM".to_owned();
        design.set_given(Slot::Gear(4, FieldId::GearDriven), 27.0);
        design.set_given(Slot::Part(FieldId::DrumSlack), 1.25);
        design.set(Slot::Limit(crate::design::SetLimits::FIELDS[0]), 3.0);
        assert!(design.open_gear(4));
        assert_eq!(design.get(Slot::Gear(4, FieldId::GearDriven)), Some(27.0));
        assert_eq!((design.initials.as_str(), design.limits.numbers.len()), ("KM", 1));
        assert!(design.given.contains(&Slot::Part(FieldId::DrumSlack)));
        assert_eq!(design.to_gearset().and_then(|set| set.ratio(4)), Some(27.0 / 24.0));
    }

    #[test]
    fn a_pair_becomes_every_gear_of_a_layout_and_keeps_its_own() {
        let mut pair = example();
        pair.add_gearbox();
        pair.a.plan = Plan::default();
        let five = LAYOUTS.iter().find(|layout| layout.key == "five-speed").unwrap();
        let made = pair.to_box(five);
        let set = made.to_gearset().expect("it has one");
        assert_eq!(set.gears.len(), 5);
        assert_eq!(made.gear_open(), pair.gear());
        assert_eq!((&made.a, &made.b), (&pair.a, &pair.b));
        assert!((0..5).all(|gear| set.pair(gear).unwrap().a == pair.a));
        assert_eq!(made.title, pair.title);
    }

    #[test]
    fn every_number_of_a_part_is_read_and_set_at_its_place() {
        let mut design = six_speed();
        let slots = design.box_slots();
        // Two shafts with fifteen wheels, three forks with their tracks, the drum with seven positions, six gears.
        let points: usize =
            design.around.iter().flat_map(|a| &a.set.forks).map(|f| f.track.len()).sum();
        assert_eq!(slots.len(), 2 * 2 + 15 * 7 + 3 * 5 + 2 * points + 1 + 7 + 6);
        let paths: std::collections::BTreeSet<_> = slots.iter().map(|slot| slot.path()).collect();
        assert_eq!(paths.len(), slots.len());
        for slot in slots {
            let was = design.get(slot).expect("it is there");
            assert!(design.set_given(slot, was + 0.25));
            assert_eq!(design.get(slot), Some(was + 0.25), "{slot:?}");
            assert!(!design.given.contains(&slot));
        }
        let fork = Slot::Box(BoxPart::Fork(1), FieldId::ForkOffset);
        design.set(fork, 99.0);
        let found = design.check();
        assert_eq!(found.iter().filter_map(|f| f.place).collect::<Vec<_>>(), [fork]);
        assert_eq!(example().get(fork), None);
    }

    #[test]
    fn one_gear_alone_is_what_is_opened() {
        let mut design = six_speed();
        for gear in 0..6 {
            let alone = design.of_gear(gear).expect("it is there");
            design.open_gear(gear);
            assert_eq!(design.without_box(), alone, "{gear}");
        }
        assert_eq!(design.of_gear(6), None);
        assert!(!design.open_gear(6) && !design.open_gear(5));
        assert!(!example().open_gear(0));
    }
}
