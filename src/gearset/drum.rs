//! From what the user gave to the drum with everything that it moves.

use std::sync::Arc;

use super::SetGear;
use crate::design::{
    DetentField, DrumField, ForkField, ForkSpec, GearsetSpec, PositionField, SetGearField,
    SettingField, ShaftField,
};
use crate::drum::{Drum, Face, Fork, Gear, Position};
use crate::fields::FieldId;
use crate::selector::Track;
use crate::stack::Facing;

/// The face by which a gear is engaged: the gear with the lower number of the two of a slider is on its lower face.
pub(super) fn face(gearset: &GearsetSpec, gear: usize) -> Face {
    let slider = gearset.gears[gear].slider;
    let has_lower = gearset.gears[..gear].iter().any(|own| own.slider == slider);
    let has_higher = gearset.gears[gear + 1..].iter().any(|own| own.slider == slider);
    if has_higher && !has_lower { Face::Lower } else { Face::Higher }
}

/// Whether the free wheel of a gear sits behind its slider on a shaft that both are on, side by side; `None` if it
/// does not.
pub(super) fn is_behind(gearset: &GearsetSpec, gear: usize) -> Option<bool> {
    let free = gearset.free_wheel(gear)?;
    let slider = gearset.sliders.get(gearset.gears[gear].slider)?;
    let is_beside = free.shaft == slider.shaft && free.wheel.abs_diff(slider.wheel) == 1;
    is_beside.then_some(free.wheel > slider.wheel)
}

/// The fork that moves the slider of a gear, and its track, if nothing is wrong with it.
fn fork_of(gearset: &GearsetSpec, gear: usize) -> Option<(usize, Track)> {
    let slider = gearset.gears[gear].slider;
    let at = gearset.forks.iter().position(|fork| fork.slider == slider)?;
    Some((at, Track::through(gearset.forks[at].track.clone()).ok()?))
}

/// A drum, and what its gears and forks are in the gearbox.
pub(super) struct LaidOut {
    pub(super) drum: Drum,
    /// For each gear of the drum, which gear of the gearbox it is.
    pub(super) gears: Vec<usize>,
    /// For each fork of the drum, which fork of the gearbox it is.
    pub(super) forks: Vec<usize>,
}

/// The drum of a gearbox. Gears without rings, slider, fork or a sound track are left out.
pub(super) fn laid_out(gearset: &GearsetSpec, gears: &[Arc<SetGear>]) -> LaidOut {
    let detent = gearset.selector.detent.as_ref();
    let star = detent.map(|detent| detent.star(FieldId::DrumPositions.spec().default));
    let mut drum = Drum {
        forks: Vec::new(),
        shafts_mm: gearset.shafts.iter().map(|shaft| shaft.get(ShaftField::EndFloat)).collect(),
        gears: Vec::new(),
        positions: Vec::new(),
        float_mm: gearset.drum.get(DrumField::DrumFloat),
        slack_deg: detent.map_or(0.0, |detent| detent.get(DetentField::DrumSlack)),
        stand_deg: star.map_or(0.0, |star| star.stand().degrees()),
    };
    let (mut on_drum, mut forks) = (Vec::new(), Vec::new());
    let mut at_fork = vec![None; gearset.forks.len()];
    for own in gears {
        let Some((fork, track)) = fork_of(gearset, own.gear) else { continue };
        let Some(is_behind) = is_behind(gearset, own.gear) else { continue };
        let at = *at_fork[fork].get_or_insert_with(|| {
            let is_turned = is_behind != (face(gearset, own.gear) == Face::Higher);
            forks.push(fork);
            drum.forks.push(working(&gearset.forks[fork], track, is_turned));
            drum.forks.len() - 1
        });
        let is_turned = drum.forks[at].is_turned;
        drum.gears.extend(gear(gearset, own, at, is_turned));
        on_drum.push(own.gear);
    }
    let on = |gear: usize| on_drum.iter().position(|own| *own == gear);
    let position = |spec: &crate::design::PositionSpec| Position {
        deg: spec.get(PositionField::PositionAngle),
        gear: spec.gear.and_then(on),
    };
    drum.positions = gearset.drum.positions.iter().map(position).collect();
    LaidOut { drum, gears: on_drum, forks }
}

fn working(fork: &ForkSpec, track: Track, is_turned: bool) -> Fork {
    let of = |field| fork.get(field);
    Fork {
        track,
        offset_mm: of(ForkField::ForkOffset),
        groove_play_mm: of(ForkField::GrooveWidth) - of(ForkField::ForkThickness),
        pin_play_mm: of(ForkField::TrackWidth) - of(ForkField::PinDiameter),
        is_turned,
    }
}

fn gear(gearset: &GearsetSpec, own: &SetGear, fork: usize, is_turned: bool) -> Option<Gear> {
    let spec = &gearset.gears[own.gear];
    let shaft = gearset.free_wheel(own.gear)?.shaft;
    let face = face(gearset, own.gear);
    let stack = own.worked.selector.depth.as_ref().and_then(|depth| depth.given(Facing::This));
    let clearance = stack
        .map_or(spec.get(SetGearField::NeutralClearance), |depth| depth.clearance_mm(Facing::This));
    // Shims move the free wheel with its shaft: away from the slider, if that is the way its face looks.
    let along = face.sign() * if is_turned { -1.0 } else { 1.0 };
    let shim_mm = along * gearset.shafts[shaft].get(ShaftField::ShaftShim);
    let full = own.worked.pair.as_ref().map(|pair| pair.engagement.full_depth_mm);
    Some(Gear {
        fork,
        shaft,
        face,
        clearance_mm: clearance + shim_mm,
        tolerance_mm: stack.map_or(0.0, |depth| depth.chain(Facing::This).worst_mm()),
        hold_mm: own.worked.design.setting.get(SettingField::HoldDepth),
        home_mm: full.filter(|full| *full > 0.0).unwrap_or(f64::INFINITY),
    })
}
