//! The input of figures: a design worked out, and the units in which workings are written.

use crate::design::SettingField;
use crate::fields::{FieldId, Slot};
use crate::model::{PairAnalysis, SelectorAnalysis, Worked};
use crate::ring::{Metal, PerSide, Ring};
use crate::units::{Angle, DisplayUnits, Quantity};

/// The input of the figures of one design.
pub(super) struct Context<'a> {
    /// The pair of rings; `None` if an error keeps it from being worked out.
    pub(super) pair: Option<PairContext<'a>>,
    /// The parts between foot and dogs.
    pub(super) parts: PartsContext<'a>,
}

impl<'a> Context<'a> {
    pub(super) fn new(worked: &'a Worked, units: DisplayUnits) -> Self {
        let metals = |rings: &PerSide<Ring>| rings.each_ref().map(Ring::metal);
        let pair = worked.pair.as_ref().map(|pair| PairContext {
            worked,
            pair,
            found_metal: metals(&worked.found),
            cut_metal: metals(&worked.cut),
            units,
        });
        let parts = PartsContext { worked, selector: &worked.selector, units };
        Self { pair, parts }
    }
}

/// The input of the figures of the pair.
pub(super) struct PairContext<'a> {
    pub(super) worked: &'a Worked,
    pub(super) pair: &'a PairAnalysis,
    /// The metal of the dogs as found, A first.
    pub(super) found_metal: PerSide<Metal>,
    /// The metal of the dogs as cut, A first.
    pub(super) cut_metal: PerSide<Metal>,
    pub(super) units: DisplayUnits,
}

impl PairContext<'_> {
    /// An angle in radians, as text.
    pub(super) fn deg(&self, radians: f64) -> String {
        self.show(Quantity::Angle, radians.to_degrees())
    }

    /// A length, as text.
    pub(super) fn mm(&self, mm: f64) -> String {
        self.show(Quantity::Length, mm)
    }

    /// A number with its unit.
    pub(super) fn show(&self, quantity: Quantity, value: f64) -> String {
        quantity.show_working(value, self.units)
    }

    /// A number of the design.
    pub(super) fn setting(&self, field: SettingField) -> f64 {
        self.worked.design.setting.get(field)
    }

    /// A number of the design, with its unit.
    pub(super) fn given(&self, field: SettingField) -> String {
        self.show(field.id().spec().quantity, self.setting(field))
    }

    /// The speed difference without its sign, as text.
    pub(super) fn slip(&self) -> String {
        self.show(Quantity::Speed, self.pair.shift_case.slip_rpm.abs())
    }

    /// A moment of inertia about the shaft, as text.
    pub(super) fn inertia(&self, kg_m2: f64) -> String {
        self.show(Quantity::ShaftInertia, kg_m2)
    }

    /// A torque, as text.
    pub(super) fn torque(&self, nm: f64) -> String {
        self.show(Quantity::Torque, nm)
    }
}

/// The input of the figures of the parts between foot and dogs.
pub(super) struct PartsContext<'a> {
    worked: &'a Worked,
    pub(super) selector: &'a SelectorAnalysis,
    units: DisplayUnits,
}

impl PartsContext<'_> {
    /// A length, as text.
    pub(super) fn mm(&self, mm: f64) -> String {
        Quantity::Length.show_working(mm, self.units)
    }

    /// An angle, as text.
    pub(super) fn deg(&self, angle: Angle) -> String {
        Quantity::Angle.show_working(angle.degrees(), self.units)
    }

    /// A number of the parts, with its unit; empty if its part is not given.
    pub(super) fn given(&self, id: FieldId) -> String {
        let value = self.worked.design.get(Slot::Part(id));
        value.map_or_else(String::new, |value| id.spec().quantity.show(value, self.units))
    }
}
