//! What the handles of a view are made from: a design worked out, a frame, and the chosen dog.

use super::{DragMapping, Handle, HandleShape};
use crate::analysis::Analysis;
use crate::design::{Design, Need};
use crate::draw::frame::Frame;
use crate::fields::{FieldId, Slot};
use crate::ring::{Dog, Point, Side};

/// What the handles of a view are made from.
#[derive(Clone, Copy)]
pub(crate) struct HandleMaker<'a> {
    /// The design worked out.
    pub(crate) analysis: &'a Analysis,
    /// How the view lies.
    pub(crate) frame: &'a Frame,
    /// The ring that has handles.
    pub(crate) side: Side,
    /// The place of the dog that is chosen on it, from 0.
    pub(crate) place: usize,
}

impl<'a> HandleMaker<'a> {
    /// The design, as it was given.
    pub(crate) fn design(&self) -> &'a Design {
        &self.analysis.design
    }

    /// A handle on a number of the design; `None` where the design has no such number.
    pub(crate) fn handle(&self, slot: Slot, at: Point, mapping: DragMapping) -> Option<Handle> {
        let (min, max) = self.design().limits(slot);
        // A cut higher than its dog takes nothing off: its handle is at the dog's tip.
        let value = self.design().get(slot)?.min(max).max(min);
        let shape = HandleShape::of(slot, at, &mapping);
        Some(Handle { slot, at, shown: at, shape, from: None, value, min, max, mapping })
    }

    /// A handle on a number of a part between foot and fork.
    pub(crate) fn part(&self, id: FieldId, at: Point, mapping: DragMapping) -> Option<Handle> {
        self.handle(Slot::Part(id), at, mapping)
    }

    /// A handle on the phase in a view that runs round from left to right, at this height.
    pub(crate) fn phase_at_height(&self, y: f64) -> Option<Handle> {
        let x = self.frame.across(self.analysis.phase().wrapped().radians());
        let mapping = DragMapping::Across { from: 0.0, radius_mm: self.frame.radius_mm };
        self.handle(Slot::Setting(FieldId::Phase), Point::new(x, y), mapping)
    }

    /// The chosen dog or, where the work took it off, the first that is left.
    pub(crate) fn dog(&self) -> Option<&'a Dog> {
        let ring = self.analysis.ring(self.side);
        ring.at_place(self.place).or_else(|| ring.dogs.first())
    }

    /// The same dog before its cut: width and centre are given for the tip as found, and cutting
    /// down an undercut dog makes its tip narrower.
    pub(crate) fn dog_as_found(&self) -> Option<&'a Dog> {
        let place = self.dog()?.place;
        self.analysis.found[self.side].at_place(place)
    }

    /// The speed difference of the design, if it is typed and known: its sign, and how far along its axis it lies.
    pub(crate) fn typed_slip(&self) -> Option<(f64, f64)> {
        if self.design().way().is_some() || self.design().missing(Need::Speed).is_some() {
            return None;
        }
        let rpm = self.analysis.pair.as_ref()?.shift_case.slip_rpm;
        let sign = if rpm < 0.0 { -1.0 } else { 1.0 };
        Some((sign, self.frame.up(rpm.abs())))
    }

    /// A handle on the speed difference, which keeps its sign.
    pub(crate) fn slip(&self, at: Point, mapping: DragMapping, sign: f64) -> Option<Handle> {
        let mut handle = self.handle(Slot::Setting(FieldId::SlipSpeed), at, mapping)?;
        let bound = if sign < 0.0 { &mut handle.max } else { &mut handle.min };
        *bound = 0.0;
        Some(handle)
    }
}
