//! The variants of a design: plans of work with names, over the same pair, tolerances and conditions.
//!
//! The plan of the current variant is on the rings of the design, where everything else reads it; the list holds
//! those of the others. Sizes of the pair that are changed are changed for every variant that begins with it.
//! Only a variant that was left behind by rings as measured keeps rings of its own.

use super::{Design, Plan, RingSpec, SettingField};
use crate::fields::{FieldId, Slot};
use crate::ring::{PerSide, Side};

/// The most variants that a design holds.
pub const MOST_VARIANTS: usize = 12;

/// The longest name of a variant, in characters.
pub const VARIANT_NAME_LIMIT: usize = 60;

/// A plan of work with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// What it is called.
    pub name: String,
    /// Whether a comparison shows it.
    pub compared: bool,
    pub(in crate::design) work: VariantWork,
}

/// The work of a variant.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::design) enum VariantWork {
    /// It is the current one: its plan is on the rings of the design.
    Current,
    /// Plans for the rings of the design.
    Planned(PerSide<Plan>),
    /// Rings of its own.
    Own(Box<OwnRings>),
}

/// Rings with their plans, and what goes with them: the overlap counts from their tips as found, and so does the
/// friction of these tips.
#[derive(Clone, Debug, Default, PartialEq)]
pub(in crate::design) struct OwnRings {
    pub(in crate::design) rings: PerSide<RingSpec>,
    pub(in crate::design) overlap_mm: f64,
    pub(in crate::design) tip_friction: f64,
}

/// The variants of a design in their order; none, or exactly one of them is the current one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Variants {
    pub(in crate::design) list: Vec<Variant>,
}

impl Variant {
    fn of(name: String, work: VariantWork) -> Self {
        Self { name, compared: true, work }
    }
}

impl OwnRings {
    /// Whether both begin with the same rings, whatever is planned on them.
    fn begins_like(&self, other: &Self) -> bool {
        let found = |own: &Self| {
            let rings = own.rings.each_ref();
            rings.map(|ring| RingSpec { plan: Plan::default(), ..ring.clone() })
        };
        self.overlap_mm == other.overlap_mm
            && self.tip_friction == other.tip_friction
            && found(self) == found(other)
    }
}

impl Variants {
    /// Every variant, in their order.
    pub fn iter(&self) -> std::slice::Iter<'_, Variant> {
        self.list.iter()
    }

    /// How many there are.
    pub const fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether there is none.
    pub const fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether no further one is taken.
    pub const fn is_full(&self) -> bool {
        self.list.len() >= MOST_VARIANTS
    }

    /// The place of the current one; `None` if there are no variants.
    pub fn current(&self) -> Option<usize> {
        self.list.iter().position(|variant| variant.work == VariantWork::Current)
    }

    /// The name of a variant; empty if it has none.
    pub fn name(&self, at: usize) -> &str {
        self.list.get(at).map_or("", |variant| &variant.name)
    }

    /// Whether a variant begins with other rings than the current one.
    pub fn has_own_rings(&self, at: usize) -> bool {
        self.list.get(at).is_some_and(|variant| matches!(variant.work, VariantWork::Own(_)))
    }

    /// Changes the name of a variant.
    pub fn rename(&mut self, at: usize, name: String) {
        if let Some(variant) = self.list.get_mut(at) {
            variant.name = name;
        }
    }

    /// Sets whether a comparison shows a variant.
    pub fn set_compared(&mut self, at: usize, compared: bool) {
        if let Some(variant) = self.list.get_mut(at) {
            variant.compared = compared;
        }
    }
}

impl<'a> IntoIterator for &'a Variants {
    type Item = &'a Variant;
    type IntoIter = std::slice::Iter<'a, Variant>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl Design {
    /// Adds a variant with the current plan at the end, and makes it the current one. The first time, the plan as
    /// it is becomes a variant of its own before, called `first`. Returns whether there was room.
    ///
    /// ```
    /// use crenel::{design::{Cut, Design}, ring::Side};
    /// let mut design = Design::default();
    /// design.add_variant("As found".to_owned(), "half-height".to_owned());
    /// design.ring_mut(Side::A).plan.set_cut(1, Some(Cut::Shorten(2.5)));
    /// assert!(design.switch_variant(0) && !design.is_planned());
    /// assert!(design.switch_variant(1) && design.is_planned());
    /// ```
    pub fn add_variant(&mut self, first: String, name: String) -> bool {
        if self.variants.len() + 1 + usize::from(self.variants.is_empty()) > MOST_VARIANTS {
            return false;
        }
        if self.variants.is_empty() {
            self.variants.list.push(Variant::of(first, VariantWork::Current));
        }
        let plans = VariantWork::Planned(self.plans());
        self.variants.list.push(Variant::of(name, plans));
        self.switch_variant(self.variants.len() - 1)
    }

    /// Copies a variant; the copy comes after it and becomes the current one. Returns whether there was room.
    pub fn duplicate_variant(&mut self, at: usize, name: String) -> bool {
        let Some(copied) = self.variants.list.get(at).filter(|_| !self.variants.is_full()) else {
            return false;
        };
        let work = match &copied.work {
            VariantWork::Current => VariantWork::Planned(self.plans()),
            other => other.clone(),
        };
        self.variants.list.insert(at + 1, Variant::of(name, work));
        self.switch_variant(at + 1)
    }

    /// Removes a variant. If it is the current one, the next becomes current. Of the last one its plan stays.
    pub fn remove_variant(&mut self, at: usize) {
        if at >= self.variants.len() {
            return;
        }
        if self.variants.current() == Some(at) {
            let next = if at + 1 < self.variants.len() { at + 1 } else { at.saturating_sub(1) };
            self.switch_variant(next);
        }
        self.variants.list.remove(at);
    }

    /// Makes a variant the current one. Returns whether it was another one.
    pub fn switch_variant(&mut self, to: usize) -> bool {
        let from = self.variants.current().filter(|from| *from != to);
        let Some((from, next)) = from.zip(self.variants.list.get_mut(to)) else { return false };
        match std::mem::replace(&mut next.work, VariantWork::Current) {
            VariantWork::Planned(plans) => {
                let left = self.plans();
                (self.a.plan, self.b.plan) = (plans.a, plans.b);
                self.variants.list[from].work = VariantWork::Planned(left);
            }
            VariantWork::Own(own) => {
                let left = self.own_rings();
                self.keep_rings();
                self.put_own(*own);
                self.variants.list[from].work = VariantWork::Own(Box::new(left));
                self.share_rings();
            }
            // Only one is current.
            VariantWork::Current => return false,
        }
        true
    }

    /// The design with a variant as the current one; `None` if there is no such variant.
    pub fn to_variant(&self, at: usize) -> Option<Self> {
        self.variants.list.get(at)?;
        let mut design = self.clone();
        design.switch_variant(at);
        Some(design)
    }

    /// Goes on with the rings as measured. The plan as it is stays a variant with the rings that it was planned
    /// for, called `planned` if it has no name yet; a new one after it, called `measured`, becomes current.
    /// Returns whether there was room for it; the design is unchanged if not.
    pub fn go_on_measured(&mut self, measured: Self, planned: String, name: String) -> bool {
        if self.variants.is_full() {
            return false;
        }
        if self.variants.is_empty() {
            self.variants.list.push(Variant::of(planned, VariantWork::Current));
        }
        let left = VariantWork::Own(Box::new(self.own_rings()));
        self.keep_rings();
        let mut variants = std::mem::take(&mut self.variants);
        let at = variants.current().unwrap_or_default();
        variants.list[at].work = left;
        variants.list.insert(at + 1, Variant::of(name, VariantWork::Current));
        *self = Self { variants, ..measured };
        self.share_rings();
        true
    }

    /// Puts other rings in the place of those of the current variant. Every other variant keeps the rings that it
    /// begins with.
    pub fn replace_rings(&mut self, a: RingSpec, b: RingSpec) {
        self.keep_rings();
        (self.a, self.b) = (a, b);
        self.share_rings();
    }

    /// Gives every place of a ring its new number, in the plan of each variant that begins with the ring. Places
    /// for which `number` returns `None` leave the plans.
    pub fn renumber(&mut self, side: Side, number: impl Fn(usize) -> Option<usize>) {
        self.ring_mut(side).plan.renumber(&number);
        for variant in &mut self.variants.list {
            if let VariantWork::Planned(plans) = &mut variant.work {
                plans[side].renumber(&number);
            }
        }
    }

    /// The design itself, and for each variant with rings of its own the design with that variant as current.
    pub(in crate::design) fn beginnings(&self) -> Vec<Self> {
        let places = (0..self.variants.len()).filter(|at| self.variants.has_own_rings(*at));
        std::iter::once(self.clone()).chain(places.filter_map(|at| self.to_variant(at))).collect()
    }

    fn plans(&self) -> PerSide<Plan> {
        PerSide { a: self.a.plan.clone(), b: self.b.plan.clone() }
    }

    fn own_rings(&self) -> OwnRings {
        OwnRings {
            rings: PerSide { a: self.a.clone(), b: self.b.clone() },
            overlap_mm: self.setting.get(SettingField::Overlap),
            tip_friction: self.setting.get(SettingField::TipFriction),
        }
    }

    fn put_own(&mut self, own: OwnRings) {
        (self.a, self.b) = (own.rings.a, own.rings.b);
        self.set(Slot::Setting(FieldId::Overlap), own.overlap_mm);
        self.set(Slot::Setting(FieldId::TipFriction), own.tip_friction);
    }

    /// Gives every other variant that begins with the rings of the design these rings for its own.
    fn keep_rings(&mut self) {
        let current = self.own_rings();
        for variant in &mut self.variants.list {
            if let VariantWork::Planned(plans) = &variant.work {
                let mut own = current.clone();
                (own.rings.a.plan, own.rings.b.plan) = (plans.a.clone(), plans.b.clone());
                variant.work = VariantWork::Own(Box::new(own));
            }
        }
    }

    /// Lets every variant whose rings are those of the design begin with these.
    fn share_rings(&mut self) {
        let current = self.own_rings();
        for variant in &mut self.variants.list {
            if let VariantWork::Own(own) = &variant.work
                && own.begins_like(&current)
            {
                let plans = own.rings.each_ref().map(|ring| ring.plan.clone());
                variant.work = VariantWork::Planned(plans);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Cut, DogSpec, Layout, example};

    fn shorten(design: &mut Design, to_mm: f64) {
        design.a.plan = Plan::of_cuts([(1, Cut::Shorten(to_mm)), (3, Cut::Shorten(to_mm))]);
    }

    fn named(names: &[&str]) -> Design {
        let mut design = example();
        for name in &names[1..] {
            design.add_variant(names[0].to_owned(), (*name).to_owned());
        }
        design
    }

    fn names(design: &Design) -> Vec<&str> {
        design.variants.iter().map(|variant| variant.name.as_str()).collect()
    }

    /// The design with ring A as it was measured: lower, listed dog by dog, so the overlap is less.
    fn measured(design: &Design) -> Design {
        let mut measured = design.clone();
        let lower = |dog: DogSpec| DogSpec { height_mm: dog.height_mm - 0.25, ..dog };
        let dogs = design.a.found_dogs().into_iter().map(lower).collect();
        measured.a.layout = Layout::Measured(dogs);
        measured.a.plan = Plan::default();
        measured.set(Slot::Setting(FieldId::Overlap), 4.25);
        measured
    }

    #[test]
    fn edits_go_to_the_current_variant_and_sizes_to_all() {
        let mut design = named(&["as found", "low", "lower"]);
        shorten(&mut design, 2.0);
        assert!(design.switch_variant(1) && !design.is_planned());
        shorten(&mut design, 3.0);
        design.set(Slot::Ring(Side::A, FieldId::TipWidth), 23.5);
        for (at, cut) in [(0, None), (1, Some(Cut::Shorten(3.0))), (2, Some(Cut::Shorten(2.0)))] {
            let one = design.to_variant(at).expect("there are three");
            assert_eq!(one.a.plan.cut_of(1), cut);
            assert_eq!(one.get(Slot::Ring(Side::A, FieldId::TipWidth)), Some(23.5));
            assert_eq!(one.variants.current(), Some(at));
        }
        assert!(!design.switch_variant(1), "it is the current one");
        assert!(!design.switch_variant(3), "there is none");
        assert_eq!(design.to_variant(3), None);
    }

    #[test]
    fn a_copy_comes_after_what_it_copies_and_the_next_follows_what_is_removed() {
        let mut design = named(&["as found", "low"]);
        shorten(&mut design, 2.0);
        assert!(design.duplicate_variant(0, "copy".to_owned()));
        assert_eq!(
            (names(&design), design.variants.current()),
            (vec!["as found", "copy", "low"], Some(1))
        );
        assert!(!design.is_planned());
        design.remove_variant(1);
        assert_eq!((names(&design), design.variants.current()), (vec!["as found", "low"], Some(1)));
        assert!(design.is_planned());
        design.remove_variant(1);
        assert_eq!((names(&design), design.variants.current()), (vec!["as found"], Some(0)));
        assert!(!design.is_planned());
        shorten(&mut design, 2.0);
        design.remove_variant(0);
        assert!(design.variants.is_empty() && design.is_planned(), "the plan stays");
        design.remove_variant(0);
    }

    #[test]
    fn no_more_are_taken_than_a_design_holds() {
        let mut design = example();
        let add = |design: &mut Design| design.add_variant("first".to_owned(), "next".to_owned());
        assert_eq!(
            std::iter::from_fn(|| add(&mut design).then_some(())).count(),
            MOST_VARIANTS - 1
        );
        let before = design.clone();
        assert!(!design.duplicate_variant(0, "copy".to_owned()));
        assert!(!design.go_on_measured(measured(&before), String::new(), String::new()));
        assert_eq!(design, before);
    }

    #[test]
    fn a_measured_ring_leaves_the_plan_and_the_planned_ring_behind() {
        let mut design = example();
        shorten(&mut design, 2.0);
        let planned = design.clone();
        let taken = measured(&design);
        assert!(design.go_on_measured(taken.clone(), "planned".to_owned(), "got".to_owned()));
        assert_eq!(names(&design), ["planned", "got"]);
        assert_eq!(design.a, taken.a);
        assert!(design.variants.has_own_rings(0));
        assert!(design.switch_variant(0));
        assert_eq!((&design.a, &design.setting), (&planned.a, &planned.setting));
        // A further plan for the planned ring shares it with the one that was left.
        design.add_variant(String::new(), "other".to_owned());
        assert!(!design.variants.has_own_rings(0) && design.variants.has_own_rings(1));
        design.switch_variant(1);
        assert_eq!(design.a, taken.a);
        assert_eq!(design.setting.get(SettingField::Overlap), 4.25);
        assert!(design.variants.has_own_rings(0) && design.variants.has_own_rings(2));
        design.switch_variant(2);
        assert_eq!(design.a, planned.a);
    }

    #[test]
    fn other_rings_are_put_under_the_current_variant_alone() {
        let mut design = named(&["as found", "low"]);
        let found = design.a.clone();
        design.replace_rings(RingSpec { inner_diameter_mm: 40.0, ..found.clone() }, found.clone());
        design.switch_variant(0);
        assert_eq!(design.a, found);
        design.switch_variant(1);
        assert_eq!(design.a.inner_diameter_mm, 40.0);
    }

    #[test]
    fn plans_keep_to_their_dogs_when_places_are_numbered_anew() {
        let mut design = named(&["as found", "low"]);
        shorten(&mut design, 2.0);
        design.switch_variant(0);
        design.renumber(Side::A, |place| place.checked_sub(1));
        design.switch_variant(1);
        assert_eq!(design.a.plan, Plan::of_cuts([(0, Cut::Shorten(2.0)), (2, Cut::Shorten(2.0))]));
    }
}
