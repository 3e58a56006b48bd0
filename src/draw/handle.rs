//! Handles: where on a view a number can be taken hold of, and what a drag makes of it.
//!
//! A drag is plain arithmetic: [`Handle::value_at`] turns a point of the view into a number, with
//! no state, so that it is tested without a browser.

use std::f64::consts::TAU;

use super::claw::claw_handles;
use super::face::{Turn, dial_radius};
use super::frame::{Frame, ViewKind};
use super::linkage::linkage_handles;
use super::track::track_handles;
use super::unrolled::Strip;
use crate::design::{Cut, Layout, Operation, Work};
use crate::design::{Design, SettingField};
use crate::fields::{FieldId, Slot};
use crate::report::Analysis;
use crate::ring::{Dog, FlankSide, Point, Side};
use crate::selector::Pedal;
use crate::units::Angle;

/// By how much a back-cut is drawn larger at its lever, in letter heights for each degree.
const LEVER_LETTERS_PER_DEGREE: f64 = 0.35;

/// How far a lever stands off its flank, in letter heights, to leave room for the other handles.
const LEVER_CLEARANCE_LETTERS: f64 = 2.2;

/// Least thickness that a drag leaves of a dog, mm.
const LEAST_DOG_MM: f64 = 0.5;

/// One handle on one view.
#[derive(Clone, Debug, PartialEq)]
pub struct Handle {
    /// The number it holds.
    pub slot: Slot,
    /// The view it stands on.
    pub view: ViewKind,
    /// Where.
    pub at: Point,
    /// Where its leader line comes from, if it has one.
    pub from: Option<Point>,
    /// Its number now.
    pub value: f64,
    /// Smallest number it can be dragged or stepped to.
    pub min: f64,
    /// Largest number it can be dragged or stepped to.
    pub max: f64,
    grip: Grip,
}

/// What a point of the view means to a handle.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Grip {
    /// Twice the distance from the axis.
    Diameter,
    /// The direction, `sign·(direction − zero)·factor`.
    Direction { zero: f64, sign: f64, factor: f64 },
    /// Twice the angle to a middle, or a pitch less that.
    Width { middle: f64, pitch: Option<f64> },
    /// Distance across, as an angle.
    Across { radius_mm: f64 },
    /// Distance along the shaft from a level; negative factor for downwards.
    Along { zero: f64, factor: f64 },
    /// Distance across from the start of an axis.
    Axis { factor: f64 },
    /// The lever of a back-cut: distance across from the flank's corner.
    Lever { zero: f64, per_degree: f64 },
    /// Distance from a point.
    Far { from: Point, factor: f64 },
    /// Lean from straight up about a point, degrees to the left.
    Lean { about: Point },
    /// Direction from a point, degrees counter-clockwise from across.
    Bearing { about: Point },
    /// Turn about the origin from a direction, in lengths of arc, within half a turn of where it stands.
    Arc { zero: f64, factor: f64 },
    /// The rod that brings the peg of a pedal there, with the front to the left.
    Peg { pedal: Pedal },
}

impl Handle {
    /// The number that dragging the handle to a point gives, within its limits and rounded to
    /// what the drawing can resolve.
    pub fn value_at(&self, p: Point) -> f64 {
        let raw = match self.grip {
            Grip::Diameter => 2.0 * p.radius(),
            Grip::Direction { zero, sign, factor } => {
                let turned = Angle::from_radians(sign * (p.angle() - zero)).degrees();
                turned.rem_euclid(360.0) * factor
            }
            Grip::Width { middle, pitch } => {
                let half = Angle::from_radians(p.angle() - middle).signed().degrees().abs();
                pitch.map_or(2.0 * half, |pitch| pitch - 2.0 * half)
            }
            Grip::Across { radius_mm } => (p.x / radius_mm).to_degrees().rem_euclid(360.0),
            Grip::Along { zero, factor } => (p.y - zero) * factor,
            Grip::Axis { factor } => p.x * factor,
            Grip::Lever { zero, per_degree } => (p.x - zero) / per_degree,
            Grip::Far { from, factor } => factor * from.distance(p),
            Grip::Lean { about } => libm::atan2(about.x - p.x, p.y - about.y).to_degrees(),
            Grip::Bearing { about } => {
                Point::new(p.x - about.x, p.y - about.y).angle().to_degrees()
            }
            Grip::Arc { zero, factor } => {
                let stands = self.value / factor;
                let moved = Angle::from_radians(p.angle() - zero - stands).signed().radians();
                (stands + moved) * factor
            }
            Grip::Peg { ref pedal } => {
                pedal.rod_for_peg(Point::new(-p.x, p.y)).unwrap_or(self.value)
            }
        };
        let step = self.slot.field().spec().fine;
        self.clamp(in_steps((raw / step).round(), step))
    }

    /// A handle on a number of the design, which it must have.
    pub(super) fn at(
        design: &Design,
        view: ViewKind,
        slot: Slot,
        at: Point,
        grip: Grip,
    ) -> Option<Self> {
        let (min, max) = design.limits(slot);
        // A cut higher than its dog is one that takes nothing: it stands at the dog's tip.
        let value = design.get(slot)?.min(max).max(min);
        Some(Self { slot, view, at, from: None, value, min, max, grip })
    }

    /// A handle on a number of a part between foot and fork.
    pub(super) fn on_part(
        analysis: &Analysis,
        view: ViewKind,
        id: FieldId,
        at: Point,
        grip: Grip,
    ) -> Option<Self> {
        Self::at(&analysis.design, view, Slot::Part(id), at, grip)
    }

    fn is_somewhere(&self) -> bool {
        let ends = [Some(self.at), self.from].into_iter().flatten();
        ends.flat_map(|p| [p.x, p.y]).chain([self.value, self.min, self.max]).all(f64::is_finite)
            && self.value_at(self.at).is_finite()
    }

    /// A number brought within the handle's limits.
    pub const fn clamp(&self, value: f64) -> f64 {
        // Where the limits cross, the lower one holds.
        value.min(self.max).max(self.min)
    }

    /// The number after an arrow key: up or down by a fine or a coarse step. Phase runs round.
    pub fn stepped(&self, steps: f64, coarse: bool) -> f64 {
        let field = self.slot.field().spec();
        let step = if coarse { field.coarse } else { field.fine };
        // Rounded to a hundredth of a step, so that steps do not pile up rounding errors.
        let value = in_steps(((self.value + steps * step) / (step / 100.0)).round(), step / 100.0);
        if self.slot == Slot::Setting(FieldId::Phase) {
            return value.rem_euclid(360.0);
        }
        self.clamp(value)
    }
}

/// A whole number of steps. Steps below one are divided by, because 299 / 10 is 29.9 and 299 × 0.1
/// is not; round numbers keep links short.
fn in_steps(count: f64, step: f64) -> f64 {
    if step < 1.0 { count / (1.0 / step).round() } else { count * step }
}

/// The handles of a view for one ring and one dog of it.
pub fn handles(
    kind: ViewKind,
    analysis: &Analysis,
    frame: &Frame,
    side: Side,
    place: usize,
) -> Vec<Handle> {
    let maker = Maker { analysis, design: &analysis.design, frame, kind, side, place };
    let mut handles = match kind {
        ViewKind::Face => maker.face(),
        ViewKind::Unrolled => maker.unrolled(),
        ViewKind::Map => maker.map(),
        ViewKind::Outcome => maker.outcome(),
        ViewKind::Chance => maker.chance(),
        ViewKind::Linkage => linkage_handles(analysis, frame),
        ViewKind::Claw => claw_handles(analysis, frame),
        ViewKind::Track => track_handles(analysis, frame),
        ViewKind::Swing | ViewKind::Chains => Vec::new(),
    };
    // A number that is endless or none puts its handle nowhere.
    handles.retain(Handle::is_somewhere);
    handles
}

struct Maker<'a> {
    analysis: &'a Analysis,
    design: &'a Design,
    frame: &'a Frame,
    kind: ViewKind,
    side: Side,
    place: usize,
}

impl Maker<'_> {
    fn handle(&self, slot: Slot, at: Point, grip: Grip) -> Option<Handle> {
        Handle::at(self.design, self.kind, slot, at, grip)
    }

    /// The chosen dog or, where it does not stand, the first that does.
    fn dog(&self) -> Option<&Dog> {
        let ring = self.analysis.ring(self.side);
        ring.at_place(self.place).or_else(|| ring.dogs.first())
    }

    /// The same dog before its cut: width and centre are given for the tip as found, and cutting
    /// down a back-cut dog makes its tip narrower.
    fn dog_as_found(&self) -> Option<&Dog> {
        let place = self.dog()?.place;
        self.analysis.found[self.side as usize].at_place(place)
    }

    fn face(&self) -> Vec<Handle> {
        let ring = self.design.ring(self.side);
        // Across from the chosen dog, whose own handles need the room about it.
        let turn = Turn::at(self.analysis.phase());
        let ray = self.dog().map_or(0.0, |dog| turn.direction(self.side, dog.centre)) + TAU / 2.0;
        let diameter = |id, mm: f64| {
            self.handle(Slot::Ring(self.side, id), Point::polar(mm / 2.0, ray), Grip::Diameter)
        };
        let mut handles = vec![
            diameter(FieldId::InnerDiameter, ring.inner_diameter_mm),
            diameter(FieldId::OuterDiameter, ring.outer_diameter_mm),
        ];
        if let Some(dog) = self.dog_as_found() {
            handles.push(self.width(dog));
            handles.push(self.centre(dog));
        }
        handles.push(self.dial());
        handles.into_iter().flatten().collect()
    }

    fn width(&self, dog: &Dog) -> Option<Handle> {
        let turn = Turn::at(self.analysis.phase());
        let middle = turn.direction(self.side, dog.centre);
        let flank = middle + dog.tip_width.radians() / 2.0;
        let at = Point::polar(self.analysis.ring(self.side).mean_radius_mm(), flank);
        let even =
            |id, pitch| self.handle(Slot::Ring(self.side, id), at, Grip::Width { middle, pitch });
        match &self.design.ring(self.side).layout {
            Layout::Even(layout) => match layout.size_by {
                crate::design::SizeBy::Dog => even(FieldId::TipWidth, None),
                crate::design::SizeBy::Gap => even(FieldId::Gap, Some(360.0 / layout.count)),
            },
            Layout::Measured(_) => {
                let slot = Slot::Dog(self.side, dog.place, FieldId::TipWidth);
                self.handle(slot, at, Grip::Width { middle, pitch: None })
            }
        }
    }

    /// A measured dog can be moved round the ring, an even ring turned on its datum mark.
    fn centre(&self, dog: &Dog) -> Option<Handle> {
        let turn = Turn::at(self.analysis.phase());
        let ring = self.analysis.ring(self.side);
        let radius = 0.5 * ring.inner_radius_mm + 0.5 * ring.outer_radius_mm;
        let sign = if self.side == Side::A { 1.0 } else { -1.0 };
        let zero = turn.direction(self.side, Angle::ZERO);
        let at = Point::polar(radius, turn.direction(self.side, dog.centre));
        let grip = Grip::Direction { zero, sign, factor: 1.0 };
        self.handle(Slot::Dog(self.side, dog.place, FieldId::Centre), at, grip)
    }

    fn dial(&self) -> Option<Handle> {
        let at = Point::polar(dial_radius(self.frame, 2), self.analysis.phase().radians());
        let grip = Grip::Direction { zero: 0.0, sign: 1.0, factor: 1.0 };
        self.handle(Slot::Setting(FieldId::Phase), at, grip)
    }

    fn unrolled(&self) -> Vec<Handle> {
        let mut handles = vec![self.strip_phase(), self.strip_overlap()];
        if let Some(dog) = self.dog() {
            handles.push(self.height(dog));
            handles.extend(FlankSide::BOTH.map(|flank| self.back_cut(dog, flank)));
            handles.extend(FlankSide::BOTH.map(|flank| self.narrowing(dog, flank)));
        }
        handles.into_iter().flatten().collect()
    }

    fn strip(&self) -> Strip<'_> {
        Strip::at(self.analysis, self.frame, self.analysis.pose())
    }

    fn strip_phase(&self) -> Option<Handle> {
        let x = self.frame.across(self.analysis.phase().wrapped().radians());
        let y = self.frame.bounds.max.y - 0.8 * self.frame.text_mm;
        self.handle(Slot::Setting(FieldId::Phase), Point::new(x, y), self.across())
    }

    fn across(&self) -> Grip {
        Grip::Across { radius_mm: self.frame.radius_mm }
    }

    fn strip_overlap(&self) -> Option<Handle> {
        let strip = self.strip();
        let tallest = self.analysis.ring(Side::A).tallest_mm();
        let tip = strip.level(Side::A, tallest);
        let at = Point::new(self.frame.bounds.max.x - self.frame.text_mm, tip);
        // Dragged on from its own number, though the rings are drawn only as deep as they go.
        let tips_level = tip + self.design.setting.get(SettingField::Overlap) * self.frame.stretch;
        let grip = Grip::Along { zero: tips_level, factor: -1.0 / self.frame.stretch };
        self.handle(Slot::Setting(FieldId::Overlap), at, grip)
    }

    fn height(&self, dog: &Dog) -> Option<Handle> {
        let strip = self.strip();
        let ring = self.design.ring(self.side);
        let (slot, share) = match (&ring.layout, ring.plan.cut_of(dog.place)) {
            (_, Some(Cut::Shorten(_))) => {
                (Slot::Dog(self.side, dog.place, FieldId::ShortenTo), 1.0)
            }
            (Layout::Measured(_), _) => (Slot::Dog(self.side, dog.place, FieldId::Height), 1.0),
            (Layout::Even(even), _) => {
                (Slot::Ring(self.side, FieldId::Height), dog.height_mm / even.height_mm)
            }
        };
        let x = strip.middle(self.side, dog);
        let tallest = self.analysis.ring(self.side).tallest_mm();
        // The overlap holds A by its tallest tips, so that a change of their height moves its web.
        let moves_web = self.side == Side::A
            && (matches!(slot, Slot::Ring(..)) || tallest - dog.height_mm < 1e-9);
        let (zero, at, up, share) = if moves_web {
            let share = match (slot, &ring.layout) {
                (Slot::Ring(..), Layout::Even(even)) => tallest / even.height_mm,
                _ => 1.0,
            };
            (strip.level(Side::A, tallest), strip.level(Side::A, 0.0), 1.0, share)
        } else {
            let up = if self.side == Side::A { -1.0 } else { 1.0 };
            (strip.level(self.side, 0.0), strip.level(self.side, dog.height_mm), up, share)
        };
        let factor = up / (self.frame.stretch * share);
        self.handle(slot, Point::new(x, at), Grip::Along { zero, factor })
    }

    /// A lever that shows a back-cut larger than it is: the angle itself moves a flank by tenths of
    /// a millimetre, too little to take hold of.
    fn back_cut(&self, dog: &Dog, flank: FlankSide) -> Option<Handle> {
        let strip = self.strip();
        let id = match flank {
            FlankSide::Drive => FieldId::BackCutDrive,
            FlankSide::Coast => FieldId::BackCutCoast,
        };
        let slot = match self.design.ring(self.side).layout {
            Layout::Even(_) => Slot::Ring(self.side, id),
            Layout::Measured(_) => Slot::Dog(self.side, dog.place, id),
        };
        let value = self.design.get(slot)?;
        let corner = strip.flank(self.side, dog, flank, 0.0);
        let inward = -corner.signum();
        let letter = self.frame.text_mm;
        let per_degree = inward * LEVER_LETTERS_PER_DEGREE * letter;
        let flank = strip.middle(self.side, dog) + corner;
        let off = flank - inward * LEVER_CLEARANCE_LETTERS * letter;
        // A lever beyond one end of the turn stands beside the dog's drawing at the other.
        let turn = self.frame.across(TAU);
        let at = off + value * per_degree;
        let around = if at < 0.0 {
            turn
        } else if at > turn {
            -turn
        } else {
            0.0
        };
        let (flank, zero) = (flank + around, off + around);
        let away = if self.side == Side::A { 1.0 } else { -1.0 };
        let level = strip.level(self.side, 0.0) + away * LEVER_CLEARANCE_LETTERS / 2.0 * letter;
        let from = Point::new(flank, strip.level(self.side, dog.height_mm));
        let mut handle = self.handle(
            slot,
            Point::new(zero + value * per_degree, level),
            Grip::Lever { zero, per_degree },
        )?;
        handle.from = Some(from);
        Some(handle)
    }

    /// How much the last operation that narrows a flank of the dog takes off, taken hold of half way up
    /// that flank.
    fn narrowing(&self, dog: &Dog, flank: FlankSide) -> Option<Handle> {
        let operations = &self.design.ring(self.side).plan.operations;
        let narrows = |(at, operation): (usize, &Operation)| match operation.work {
            Work::Narrow(which, mm) if which == flank && operation.is_on(dog.place) => {
                Some((at, mm))
            }
            _ => None,
        };
        let (at, mm) = operations.iter().enumerate().rev().find_map(narrows)?;
        let strip = self.strip();
        let half_way = dog.height_mm / 2.0;
        let aside = strip.flank(self.side, dog, flank, half_way);
        let turn = self.frame.across(TAU);
        let x = (strip.middle(self.side, dog) + aside).rem_euclid(turn);
        // Inwards is more; the view is laid out at the radius of the frame.
        let ring = self.analysis.ring(self.side);
        let per_mm = -aside.signum() * self.frame.radius_mm / ring.mean_radius_mm();
        let grip = Grip::Lever { zero: x - per_mm * mm, per_degree: per_mm };
        let slot = Slot::Work(self.side, at, FieldId::FlankStock);
        let mut handle =
            self.handle(slot, Point::new(x, strip.level(self.side, half_way)), grip)?;
        // No further than leaves a sliver of the dog.
        let left = ring.thickness_mm(dog, 0.0).min(ring.thickness_mm(dog, dog.height_mm));
        handle.max = handle.max.min(mm + left - LEAST_DOG_MM).max(handle.min);
        Some(handle)
    }

    fn map(&self) -> Vec<Handle> {
        let (frame, bounds) = (self.frame, self.frame.bounds);
        let x = frame.across(self.analysis.phase().wrapped().radians());
        let y = frame.down(self.analysis.overlap_mm()).clamp(bounds.min.y, bounds.max.y);
        // An overlap beyond the paper stands at its edge and is dragged on from its own number.
        let zero = y + self.design.setting.get(SettingField::Overlap) * frame.stretch;
        let along = Grip::Along { zero, factor: -1.0 / frame.stretch };
        let phase = self.handle(
            Slot::Setting(FieldId::Phase),
            Point::new(x, bounds.max.y - 0.7 * frame.text_mm),
            self.across(),
        );
        let overlap = self.handle(
            Slot::Setting(FieldId::Overlap),
            Point::new(bounds.min.x + 0.8 * frame.text_mm, y),
            along,
        );
        [phase, overlap].into_iter().flatten().collect()
    }

    /// The speed difference of the design, if it is typed: which way it goes, and how far along its
    /// axis it stands.
    fn slip(&self) -> Option<(f64, f64)> {
        if self.design.way().is_some() {
            return None;
        }
        let rpm = self.analysis.meshed.as_ref()?.offered.slip_rpm;
        let sign = if rpm < 0.0 { -1.0 } else { 1.0 };
        Some((sign, self.frame.up(rpm.abs())))
    }

    /// A handle on the speed difference, which keeps its sign.
    fn slip_handle(&self, at: Point, grip: Grip, sign: f64) -> Option<Handle> {
        let mut handle = self.handle(Slot::Setting(FieldId::SlipSpeed), at, grip)?;
        let bound = if sign < 0.0 { &mut handle.max } else { &mut handle.min };
        *bound = 0.0;
        Some(handle)
    }

    fn outcome(&self) -> Vec<Handle> {
        let frame = self.frame;
        let x = frame.across(self.analysis.phase().wrapped().radians());
        let top = frame.up(frame.top_rpm);
        let phase = self.handle(
            Slot::Setting(FieldId::Phase),
            Point::new(x, top + 0.2 * frame.text_mm),
            self.across(),
        );
        let slip = self.slip().and_then(|(sign, y)| {
            // A speed difference beyond the chart stands at its edge and is dragged on from there.
            let shown = y.min(top);
            let grip = Grip::Along { zero: shown - y, factor: sign / frame.stretch };
            self.slip_handle(Point::new(0.8 * frame.text_mm, shown), grip, sign)
        });
        [phase, slip].into_iter().flatten().collect()
    }

    fn chance(&self) -> Vec<Handle> {
        let frame = self.frame;
        let slip = self.slip().and_then(|(sign, x)| {
            let at = Point::new(x, frame.share_mm / 2.0);
            self.slip_handle(at, Grip::Axis { factor: sign / frame.stretch }, sign)
        });
        slip.into_iter().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Claw, Depth, Detent, Linkage, PedalBy, Track, example};

    fn every_handle(design: &Design, side: Side, place: usize) -> Vec<Handle> {
        let analysis = Analysis::of(design);
        let views = ViewKind::ALL.into_iter();
        let of = |kind| {
            let frame = Frame::of(kind, &analysis, 600.0, 0.4, 12.0);
            handles(kind, &analysis, &frame, side, place)
        };
        views.flat_map(of).collect()
    }

    /// Designs with every kind of layout, and the dog that is chosen.
    fn designs() -> Vec<(Design, Side, usize)> {
        let mut listed = example();
        listed.list_dogs(Side::B);
        let mut listed_a = example();
        listed_a.list_dogs(Side::A);
        // Tallest by so much that it still is when it is dragged down by a step.
        listed_a.set(Slot::Dog(Side::A, 0, FieldId::Height), 6.0);
        let mut cut = example();
        cut.a.plan.set_cut(1, Some(Cut::Shorten(2.0)));
        let mut gaps = example();
        gaps.size_by(Side::A, crate::design::SizeBy::Gap);
        let mut narrowed = example();
        for (flank, mm) in FlankSide::BOTH.into_iter().zip([0.3, 0.8]) {
            let work = Work::Narrow(flank, mm);
            let operation = Operation { work, places: [0, 2, 4].into() };
            narrowed.b.plan.operations.push(operation);
        }
        let mut inwards = example();
        inwards.selector.linkage = Some(Linkage::default());
        inwards.selector.claw = Some(Claw::default());
        inwards.selector.detent = Some(Detent::default());
        inwards.selector.track = Some(Track::default());
        inwards.depth = Some(Depth::example());
        let mut below = inwards.clone();
        below.selector.linkage = Some(Linkage::joined(PedalBy::RodBelow));
        below.set(Slot::Part(FieldId::ShaftLeverAt), 170.0);
        below.selector.track.iter_mut().for_each(Track::list_points);
        let mut on_shaft = inwards.clone();
        on_shaft.selector.linkage = Some(Linkage::joined(PedalBy::OnShaft));
        let mut too_short = inwards.clone();
        too_short.set(Slot::Part(FieldId::RodLength), 20.0);
        vec![
            (inwards, Side::A, 0),
            (below, Side::A, 0),
            (on_shaft, Side::A, 0),
            (too_short, Side::A, 0),
            (narrowed, Side::B, 2),
            (example(), Side::A, 0),
            (example(), Side::B, 4),
            (listed, Side::B, 2),
            (listed_a, Side::A, 0),
            (cut, Side::A, 1),
            (gaps, Side::A, 3),
        ]
    }

    #[test]
    fn a_handle_stands_where_its_value_is() {
        let mut seen = 0;
        for (design, side, place) in designs() {
            for handle in every_handle(&design, side, place) {
                let back = handle.value_at(handle.at);
                let step = handle.slot.field().spec().fine;
                let apart = (back - handle.value).abs();
                // A centre may come back a whole turn away.
                let apart = apart.min((apart - 360.0).abs());
                assert!(apart <= step / 2.0 + 1e-9, "{handle:?}: {back}");
                seen += 1;
            }
        }
        assert!(seen >= 50, "{seen}");
    }

    #[test]
    fn dragging_moves_the_handle_under_the_hand() {
        let mut seen = 0;
        for (design, side, place) in designs() {
            let analysis = Analysis::of(&design);
            for kind in ViewKind::ALL {
                let frame = Frame::of(kind, &analysis, 600.0, 0.4, 12.0);
                for handle in handles(kind, &analysis, &frame, side, place) {
                    let step = handle.slot.field().spec().coarse;
                    // Small enough that no tip comes to a web, which would stop the ring it stands on.
                    let wanted = handle.clamp(handle.value - step);
                    let mut moved = design.clone();
                    assert!(moved.set(handle.slot, wanted), "{handle:?}");
                    // The frame is kept still during a drag.
                    let now = handles(kind, &Analysis::of(&moved), &frame, side, place);
                    let Some(same) = now.iter().find(|h| h.slot == handle.slot) else {
                        panic!("{handle:?} is gone")
                    };
                    let apart = (handle.value_at(same.at) - wanted).abs();
                    let apart = apart.min((apart - 360.0).abs());
                    assert!(
                        apart <= handle.slot.field().spec().fine,
                        "{handle:?} {same:?} {apart}"
                    );
                    seen += 1;
                }
            }
        }
        assert!(seen >= 50, "{seen}");
    }

    #[test]
    fn no_drag_leaves_the_limits() {
        for (design, side, place) in designs() {
            for handle in every_handle(&design, side, place) {
                for (x, y) in [(0.0, 0.0), (1e9, -1e9), (-1e9, 1e9), (1e-12, 0.0), (3.0, 4.0)] {
                    let value = handle.value_at(Point::new(x, y));
                    assert!((handle.min..=handle.max).contains(&value), "{handle:?}: {value}");
                    let mut moved = design.clone();
                    moved.set(handle.slot, value);
                    let _ = Analysis::of(&moved);
                }
            }
        }
    }

    #[test]
    fn the_end_of_the_foot_s_travel_goes_on_beyond_half_a_turn_of_the_pedal() {
        let (mut design, _, _) = designs().swap_remove(2);
        design.set(Slot::Part(FieldId::FootArm), 20.0);
        design.set(Slot::Part(FieldId::FootLift), 80.0);
        let handles = every_handle(&design, Side::A, 0);
        let end = handles.iter().find(|h| h.slot == Slot::Part(FieldId::FootLift)).unwrap();
        // Half a turn is 62.8 mm.
        assert!((end.value_at(end.at) - 80.0).abs() < 0.5, "{}", end.value_at(end.at));
    }

    #[test]
    fn keys_step_and_phase_runs_round() {
        let phase = every_handle(&example(), Side::A, 0)
            .into_iter()
            .find(|h| h.slot == Slot::Setting(FieldId::Phase));
        let mut phase = phase.expect("there is a phase handle");
        assert_eq!(phase.stepped(1.0, false), 30.5);
        assert_eq!(phase.stepped(-1.0, true), 25.0);
        phase.value = 359.5;
        assert_eq!(phase.stepped(1.0, false), 0.0);
    }
}
