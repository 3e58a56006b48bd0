//! The input of figures: a design worked out, and its numbers as values of a working.

use crenel_words::{Message, Value, working as say};

use crate::design::SettingField;
use crate::fields::{FieldId, Slot};
use crate::model::{PairAnalysis, SelectorAnalysis, Worked};
use crate::ring::{Metal, PerSide, Ring};
use crate::units::Quantity;

/// The input of the figures of one design.
pub(super) struct Context<'a> {
    /// The pair of rings; `None` if an error keeps it from being worked out.
    pub(super) pair: Option<PairContext<'a>>,
    /// The parts between foot and dogs.
    pub(super) parts: PartsContext<'a>,
}

impl<'a> Context<'a> {
    pub(super) fn new(worked: &'a Worked) -> Self {
        let pair = worked.pair.as_ref().map(|pair| {
            let found_metal = worked.found.each_ref().map(Ring::metal);
            let cut_metal = PerSide::from_fn(|side| match worked.ring(side) {
                cut if *cut == worked.found[side] => found_metal[side],
                cut => cut.metal(),
            });
            PairContext { worked, pair, found_metal, cut_metal }
        });
        let parts = PartsContext { worked, selector: &worked.selector };
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
}

impl PairContext<'_> {
    /// A number of the design.
    pub(super) fn setting(&self, field: SettingField) -> f64 {
        self.worked.design.setting.get(field)
    }

    /// A number of the design, in a working.
    pub(super) fn given(&self, field: SettingField) -> Value {
        Value::Working(field.id().spec().quantity, self.setting(field))
    }

    /// The speed difference without its sign, in a working.
    pub(super) fn slip(&self) -> Value {
        Value::Working(Quantity::Speed, self.pair.shift_case.slip_rpm.abs())
    }
}

/// A line of symbols and numbers, the same in every language: each `{}` is the next value.
pub(super) fn formula<const N: usize>(line: &str, values: [Value; N]) -> Message {
    let mut values = values.into_iter();
    let mut parts = Vec::new();
    for (at, symbols) in line.split("{}").enumerate() {
        if at > 0 {
            parts.extend(values.next());
        }
        parts.push(Value::Verbatim(symbols.to_owned()));
    }
    say::symbols(parts)
}

/// A length in a working.
pub(super) const fn mm(mm: f64) -> Value {
    Value::Working(Quantity::Length, mm)
}

/// An angle in a working.
pub(super) const fn deg(degrees: f64) -> Value {
    Value::Working(Quantity::Angle, degrees)
}

/// A time in a working.
pub(super) const fn ms(ms: f64) -> Value {
    Value::Working(Quantity::Time, ms)
}

/// A moment of inertia about the shaft in a working.
pub(super) const fn inertia(kg_m2: f64) -> Value {
    Value::Working(Quantity::ShaftInertia, kg_m2)
}

/// A torque in a working.
pub(super) const fn torque(nm: f64) -> Value {
    Value::Working(Quantity::Torque, nm)
}

/// The input of the figures of the parts between foot and dogs.
pub(super) struct PartsContext<'a> {
    worked: &'a Worked,
    pub(super) selector: &'a SelectorAnalysis,
}

impl PartsContext<'_> {
    /// A number of the parts, in a working.
    pub(super) fn given(&self, id: FieldId) -> Value {
        let value = self.worked.design.get(Slot::Part(id));
        Value::Working(id.spec().quantity, value.unwrap_or(f64::NAN))
    }
}
