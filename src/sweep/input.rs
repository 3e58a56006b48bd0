//! What can be swept.

use crenel_words::Label;

use crate::design::Design;
use crate::fields::{FieldId, Slot};
use crate::model::ShiftCase;
use crate::ring::Side;
use crate::shift::Way;
use crate::units::Quantity;

/// An input of a sweep: a number of the setting, or the same number of both rings.
#[derive(Debug, PartialEq)]
pub struct Input {
    field: FieldId,
    /// Whether both rings have it.
    of_rings: bool,
    /// Between which values it is swept; without them between half and twice its own.
    usual: Option<[f64; 2]>,
}

/// Every input, those of the rings first.
pub static INPUTS: [Input; 22] = [
    Input::of_rings(FieldId::Count, Some([2.0, 24.0])),
    Input::of_rings(FieldId::TipWidth, None),
    Input::of_rings(FieldId::Height, None),
    Input::of_rings(FieldId::BackCutDrive, Some([-4.0, 15.0])),
    Input::of_rings(FieldId::BackCutCoast, Some([-4.0, 15.0])),
    Input::of_rings(FieldId::EdgeBreak, Some([0.0, 1.5])),
    Input::of_setting(FieldId::SlipSpeed, Some([20.0, 1500.0])),
    Input::of_setting(FieldId::Phase, Some([0.0, 360.0])),
    Input::of_setting(FieldId::Overlap, Some([0.5, 6.0])),
    Input::of_setting(FieldId::HoldDepth, None),
    Input::of_setting(FieldId::ShiftForce, None),
    Input::of_setting(FieldId::MovingMass, None),
    Input::of_setting(FieldId::DrumSpeed, None),
    Input::of_setting(FieldId::TipFriction, Some([0.03, 0.25])),
    Input::of_setting(FieldId::Inertia, None),
    Input::of_setting(FieldId::StrikeLoss, Some([0.0, 1.0])),
    Input::of_setting(FieldId::ThrottleTorque, None),
    Input::of_setting(FieldId::Stiffness, None),
    Input::of_setting(FieldId::LoadFactor, Some([1.0, 3.0])),
    Input::of_setting(FieldId::FlankFriction, Some([0.0, 0.25])),
    Input::of_setting(FieldId::SplineFriction, Some([0.0, 0.25])),
    Input::of_setting(FieldId::SplineDiameter, None),
];

impl Input {
    const fn of_rings(field: FieldId, usual: Option<[f64; 2]>) -> Self {
        Self { field, of_rings: true, usual }
    }

    const fn of_setting(field: FieldId, usual: Option<[f64; 2]>) -> Self {
        Self { field, of_rings: false, usual }
    }

    /// Its key in files.
    pub fn key(&self) -> &'static str {
        self.field.spec().key
    }

    /// Its name.
    pub fn name(&self) -> Label {
        self.field.spec().name()
    }

    /// What it means.
    pub fn explanation(&self) -> Label {
        self.field.spec().explanation()
    }

    /// What it measures.
    pub fn quantity(&self) -> Quantity {
        self.field.spec().quantity
    }

    /// Whether it counts things.
    pub fn is_whole(&self) -> bool {
        self.quantity() == Quantity::Count
    }

    /// A value brought within what the input takes.
    pub fn within(&self, value: f64) -> f64 {
        let field = self.field.spec();
        value.max(field.min).min(field.max)
    }

    /// The value of a design: that of ring A where both rings have one. `None` if the dogs are listed one by one, and
    /// where the gearbox gives the number and nothing of it alone would change it.
    pub fn value(&self, design: &Design) -> Option<f64> {
        if self.of_rings {
            return design.get(Slot::Ring(Side::A, self.field));
        }
        let case = ShiftCase::of(design);
        match (self.field, case.step) {
            (FieldId::SlipSpeed, _) => Some(case.slip_rpm.abs()),
            (FieldId::ThrottleTorque, Some(_)) => Some(case.throttle_nm),
            (FieldId::Inertia, Some(_)) => None,
            _ => design.get(Slot::Setting(self.field)),
        }
    }

    /// Gives a design a value. A speed difference keeps its sign. What the gearbox gives is changed by the speed at
    /// which the gears are shifted, and by the torque of the engine.
    pub fn put(&self, design: &mut Design, value: f64) {
        if self.of_rings {
            for side in Side::BOTH {
                design.set_given(Slot::Ring(side, self.field), value);
            }
            return;
        }
        match self.behind(design) {
            Some((slot, now, own)) => {
                design.set_given(slot, now * value / own);
            }
            None => {
                let is_slip = self.field == FieldId::SlipSpeed;
                let sign = if is_slip { ShiftCase::of(design).slip_rpm.signum() } else { 1.0 };
                design.set_given(Slot::Setting(self.field), value * sign);
            }
        }
    }

    /// The number of the gearbox behind this one, what it is, and what this one is with it: they grow together.
    fn behind(&self, design: &Design) -> Option<(Slot, f64, f64)> {
        let case = ShiftCase::of(design);
        let step = case.step?;
        let (slot, own) = match self.field {
            FieldId::SlipSpeed => {
                let at = if step.way == Way::Up { FieldId::UpAt } else { FieldId::DownAt };
                (Slot::Gear(step.from, at), case.slip_rpm.abs())
            }
            FieldId::ThrottleTorque => (Slot::Gearbox(FieldId::EngineTorque), case.throttle_nm),
            _ => return None,
        };
        Some((slot, design.get(slot)?, own)).filter(|(_, _, own)| *own > 0.0)
    }

    /// Between which values it is swept before somebody says otherwise.
    pub fn usual(&self, design: &Design) -> [f64; 2] {
        let half_to_twice = || {
            let own = self.value(design).unwrap_or_else(|| self.field.spec().default);
            let own = if own > 0.0 { own } else { self.field.spec().coarse };
            [own / 2.0, own * 2.0]
        };
        let [from, to] = self.usual.unwrap_or_else(half_to_twice).map(|value| self.within(value));
        if from < to { [from, to] } else { [self.field.spec().min, self.field.spec().max] }
    }
}
