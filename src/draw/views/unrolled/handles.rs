//! The handles of the unrolled view.

use std::f64::consts::TAU;

use super::strip::Strip;
use crate::design::{Cut, Layout, Operation, SettingField};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::fields::{FieldId, Slot};
use crate::ring::{Dog, FlankSide, Point, Side};

/// By how much an undercut is drawn larger at its lever, in letter heights for each degree.
const LEVER_LETTERS_PER_DEGREE: f64 = 0.35;

/// How far a lever is from its flank, in letter heights, to leave room for the other handles.
const LEVER_CLEARANCE_LETTERS: f64 = 2.2;

/// Least thickness that a drag leaves of a dog, mm.
const LEAST_DRAGGED_MM: f64 = 0.5;

pub(super) fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let strip = Strip::at(maker.analysis, maker.frame, maker.analysis.pose());
    let phase = maker.phase_at_height(strip.level(Side::A, 0.0) + 1.1 * maker.frame.text_mm);
    let mut handles = vec![phase, overlap(maker, &strip)];
    if let Some(dog) = maker.dog() {
        handles.push(height(maker, &strip, dog));
        handles.extend(FlankSide::BOTH.map(|flank| back_cut(maker, &strip, dog, flank)));
        handles.extend(FlankSide::BOTH.map(|flank| narrowing(maker, &strip, dog, flank)));
    }
    handles.into_iter().flatten().collect()
}

fn overlap(maker: &HandleMaker, strip: &Strip) -> Option<Handle> {
    let (frame, ring) = (maker.frame, maker.analysis.ring(Side::A));
    let tip = strip.level(Side::A, ring.tallest_mm());
    let at = Point::new(frame.across(TAU) - frame.text_mm, tip);
    // Dragged on from its own number, though the rings are drawn only as deep as they go.
    let tips_level = tip + maker.design().setting.get(SettingField::Overlap) * frame.stretch;
    let mapping = DragMapping::Along { zero: tips_level, factor: -1.0 / frame.stretch };
    maker.handle(Slot::Setting(FieldId::Overlap), at, mapping)
}

/// The number that a dog's height follows from: its own where it is cut down or measured, else that of
/// the whole ring.
fn height_slot(maker: &HandleMaker, dog: &Dog) -> Slot {
    let (side, ring) = (maker.side, maker.design().ring(maker.side));
    match (&ring.layout, ring.plan.cut_of(dog.place)) {
        (_, Some(Cut::Shorten(_))) => Slot::Dog(side, dog.place, FieldId::ShortenTo),
        (Layout::Measured(_), _) => Slot::Dog(side, dog.place, FieldId::Height),
        (Layout::Even(_), _) => Slot::Ring(side, FieldId::Height),
    }
}

/// The height of a dog, at its tip or at its web: at whichever of them moves when the number changes.
fn height(maker: &HandleMaker, strip: &Strip, dog: &Dog) -> Option<Handle> {
    let side = maker.side;
    let slot = height_slot(maker, dog);
    let tallest = maker.analysis.ring(side).tallest_mm();
    let is_tallest = matches!(slot, Slot::Ring(..)) || tallest - dog.height_mm < 1e-9;
    // The overlap holds A by its tallest tips, so that a change of their height moves its web.
    let moves_web = side == Side::A && is_tallest;
    let (still, moved, upwards, height_mm) = if moves_web {
        (strip.level(side, tallest), strip.level(side, 0.0), 1.0, tallest)
    } else {
        let upwards = if side == Side::A { -1.0 } else { 1.0 };
        (strip.level(side, 0.0), strip.level(side, dog.height_mm), upwards, dog.height_mm)
    };
    // How much of the height one unit of the number makes.
    let share = match (slot, &maker.design().ring(side).layout) {
        (Slot::Ring(..), Layout::Even(even)) => height_mm / even.height_mm,
        _ => 1.0,
    };
    let factor = upwards / (maker.frame.stretch * share);
    let at = Point::new(strip.middle(side, dog), moved);
    maker.handle(slot, at, DragMapping::Along { zero: still, factor })
}

/// A lever that shows an undercut larger than it is: the angle itself moves a flank by tenths of
/// a millimetre, too little to take hold of.
fn back_cut(maker: &HandleMaker, strip: &Strip, dog: &Dog, flank: FlankSide) -> Option<Handle> {
    let side = maker.side;
    let id = match flank {
        FlankSide::Drive => FieldId::BackCutDrive,
        FlankSide::Coast => FieldId::BackCutCoast,
    };
    let slot = match maker.design().ring(side).layout {
        Layout::Even(_) => Slot::Ring(side, id),
        Layout::Measured(_) => Slot::Dog(side, dog.place, id),
    };
    let value = maker.design().get(slot)?;
    let letter = maker.frame.text_mm;
    let corner = strip.flank(side, dog, flank, 0.0);
    let inward = -corner.signum();
    let per_unit = inward * LEVER_LETTERS_PER_DEGREE * letter;
    let edge = strip.middle(side, dog) + corner;
    let zero = edge - inward * LEVER_CLEARANCE_LETTERS * letter;
    let around = turn_back(zero + value * per_unit, maker.frame.across(TAU));
    let (edge, zero) = (edge + around, zero + around);
    let away = if side == Side::A { 1.0 } else { -1.0 };
    let level = strip.level(side, 0.0) + away * LEVER_CLEARANCE_LETTERS / 2.0 * letter;
    let at = Point::new(zero + value * per_unit, level);
    let mut handle = maker.handle(slot, at, DragMapping::Lever { zero, per_unit })?;
    handle.from = Some(Point::new(edge, strip.level(side, dog.height_mm)));
    Some(handle)
}

/// What brings a place beyond one end of the turn to the other end, where the dog is drawn too.
fn turn_back(x: f64, turn: f64) -> f64 {
    if x < 0.0 {
        turn
    } else if x > turn {
        -turn
    } else {
        0.0
    }
}

/// How much the last operation that narrows a flank of the dog takes off, taken hold of half way up
/// that flank.
fn narrowing(maker: &HandleMaker, strip: &Strip, dog: &Dog, flank: FlankSide) -> Option<Handle> {
    let side = maker.side;
    let operations = &maker.design().ring(side).plan.operations;
    let narrows = |(at, operation): (usize, &Operation)| {
        let mm = operation.work.narrowing_mm(flank)?;
        operation.is_on(dog.place).then_some((at, mm))
    };
    let (at, mm) = operations.iter().enumerate().rev().find_map(narrows)?;
    let half_way = dog.height_mm / 2.0;
    let aside = strip.flank(side, dog, flank, half_way);
    let x = (strip.middle(side, dog) + aside).rem_euclid(maker.frame.across(TAU));
    // Inwards is more; the view is laid out at the radius of the frame.
    let ring = maker.analysis.ring(side);
    let per_unit = -aside.signum() * maker.frame.radius_mm / ring.mean_radius_mm();
    let mapping = DragMapping::Lever { zero: x - per_unit * mm, per_unit };
    let place = Point::new(x, strip.level(side, half_way));
    let mut handle = maker.handle(Slot::Work(side, at, FieldId::FlankStock), place, mapping)?;
    // No further than leaves a sliver of the dog.
    let left = ring.thickness_mm(dog, 0.0).min(ring.thickness_mm(dog, dog.height_mm));
    handle.max = handle.max.min(mm + left - LEAST_DRAGGED_MM).max(handle.min);
    Some(handle)
}
