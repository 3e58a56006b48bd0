//! Findings that need the whole pair.

use crate::design::SettingField;
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::load::Stress;
use crate::model::{PairAnalysis, Strength, Worked};
use crate::pair::{ANGLE_TOLERANCE, Arc, DepthLimit, Edges, Mesh};
use crate::ring::{FlankSide, Ring, Side};
use crate::shift::Ending;
use crate::units::Quantity;

/// All findings about the pair.
pub(super) fn findings(worked: &Worked) -> Vec<Finding> {
    let Some(pair) = &worked.pair else { return Vec::new() };
    let checks = [
        no_way_in(pair),
        apart(pair),
        depth(pair),
        short_dogs_apart(worked, pair),
        phase_blocked(worked, pair),
        one_ring_cut(worked, pair),
        uneven(pair),
        hold_depth(worked),
        too_fast(pair),
        hangs(pair),
        pair.strength.as_ref().and_then(pushed_out),
        pair.overrun.as_ref().and_then(pushed_out),
        nothing_engaged(pair),
    ];
    let mut findings: Vec<_> = checks.into_iter().flatten().collect();
    findings.extend(over_allowed(worked, pair));
    findings
}

fn no_way_in(pair: &PairAnalysis) -> Option<Finding> {
    pair.at_tips.is_empty().then(|| {
        let edges = if pair.to_hold.is_empty() {
            ""
        } else {
            " Only the edge breaks let the tips begin to pass."
        };
        Finding::warning("no_entry_window")
            .says(
                format!(
                    "No window is open at tip level: whatever the phase, some dog stands on \
                     another.{edges}"
                ),
                &[],
            )
            .hint("Make the dogs narrower, or use fewer tall ones on both rings.")
    })
}

fn apart(pair: &PairAnalysis) -> Option<Finding> {
    let depth = pair.engagement.full_depth_mm;
    (depth <= 0.0).then(|| {
        Finding::warning("rings_apart")
            .at(Slot::Setting(FieldId::Overlap))
            .says(
                "At an overlap of {} the rings stand apart: there is no lash, and nothing is \
                 carried.",
                &[(Quantity::Length, depth)],
            )
            .hint("Give the overlap that the rings have when the gear is in.")
    })
}

/// Short dogs of both rings that do not reach each other: the tall dogs carry alone on one side of each
/// window.
fn short_dogs_apart(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let depth = pair.engagement.full_depth_mm;
    pair.held?;
    let low = |side: Side| {
        let ring = worked.ring(side);
        let heights = ring.dogs.iter().map(|d| d.height_mm);
        ring.tallest_mm() - heights.fold(f64::INFINITY, f64::min)
    };
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    let both_mixed = Side::BOTH.iter().all(|side| low(*side) > hold);
    let gap = low(Side::A) + low(Side::B) - depth;
    (both_mixed && gap > 0.0).then(|| {
        Finding::note("short_dogs_apart")
            .says("The short dogs of the two rings miss each other by {} at full depth. On one \
                   side of each window only tall dogs meet.", &[(Quantity::Length, gap)])
            .hint("Leave the short dogs higher by half of that, or more, if they are to carry on both sides.")
    })
}

fn depth(pair: &PairAnalysis) -> Option<Finding> {
    let engagement = &pair.engagement;
    if let Some(jam) = engagement.jam {
        let numbers = [jam.overlap_mm, engagement.full_depth_mm].map(|v| (Quantity::Length, v));
        return (!pair.at_tips.is_empty()).then(|| {
            Finding::warning("jams_before_full_depth")
                .at(Slot::Setting(FieldId::Overlap))
                .says(
                    "The rings jam at an overlap of {}: no window stays open down to {}.",
                    &numbers,
                )
                .hint("Look at the short dogs, and at flanks that are wider at the root.")
        });
    }
    let DepthLimit::Web(side) = engagement.limit else { return None };
    let numbers = [engagement.full_depth_mm].map(|v| (Quantity::Length, v));
    Some(
        Finding::note("tip_meets_web")
            .at(Slot::Setting(FieldId::Overlap))
            .says(
                format!("At an overlap of {{}} the tips of {} meet the web of {}; that is the full \
                         depth.", side.other().lower_name(), side.lower_name()),
                &numbers,
            )
            .hint("Common practice keeps tips clear of the web; the depth belongs to a stop or a shoulder."),
    )
}

fn phase_blocked(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let held = pair.held?;
    let phase = worked.phase();
    (!held.contains(phase)).then(|| {
        let numbers = [phase, held.middle()].map(|a| (Quantity::Angle, a.degrees()));
        Finding::note("phase_blocked")
            .at(Slot::Setting(FieldId::Phase))
            .says(
                "At phase {} a dog is in the way at full depth; lash is that of the nearest \
                 window, about {}.",
                &numbers,
            )
            .hint("Turn ring A until the mark on the phase map stands in an open strip.")
    })
}

/// Cutting one ring only, or having few dogs on one ring only, opens no window.
fn one_ring_cut(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let whole_dogs = |side: Side| {
        let places = 0..worked.design.ring(side).places();
        let plan = &worked.design.ring(side).plan;
        worked.cut[side] != worked.found[side]
            && places.into_iter().any(|place| plan.cut_of(place).is_some())
    };
    let [cut_a, cut_b] = Side::BOTH.map(whole_dogs);
    if !(cut_a || cut_b) {
        return fewer_on_one(worked, pair);
    }
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    let before = Mesh::new(&worked.found.a, &worked.found.b).ok()?;
    if !same_windows(&before.windows_down_to(hold, Edges::Broken), &pair.to_hold) {
        return None;
    }
    let width = pair.to_hold.first().map_or(0.0, |w| w.width.degrees());
    let message = match (cut_a, cut_b) {
        (true, true) => {
            "Both rings are cut, but the windows are as before: {} × {}. Nothing is gained."
                .to_owned()
        }
        _ => {
            let side = if cut_a { Side::A } else { Side::B };
            format!(
                "Only {} is cut, and the windows are as before: {{}} × {{}}. Nothing is gained.",
                side.lower_name()
            )
        }
    };
    Some(
        Finding::warning("nothing_gained")
            .says(message, &[(Quantity::Count, length(&pair.to_hold)), (Quantity::Angle, width)])
            .hint(
                "Every full-height dog of one ring still meets every one of the other. Cut the \
                 mating ring too, in step with this one.",
            ),
    )
}

/// Dogs a little lower than the tallest: they do not block at tip level, but a shift meets them at once.
fn uneven(pair: &PairAnalysis) -> Option<Finding> {
    let (at_tips, to_hold) = (length(&pair.at_tips), length(&pair.to_hold));
    (at_tips < to_hold && !pair.at_tips.is_empty()).then(|| {
        Finding::note("uneven_heights")
            .says(
                "The dogs are not all of one height: {} windows at tip level become {} before \
                 the hold depth.",
                &[at_tips, to_hold].map(|n| (Quantity::Count, n)),
            )
            .hint("Free angle and times use the windows that lead down to the hold depth.")
    })
}

fn fewer_on_one(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    let tall = |ring: &Ring| {
        let tallest = ring.tallest_mm();
        ring.dogs.iter().filter(|d| tallest - d.height_mm < hold).count()
    };
    let [a, b] = [tall(&worked.cut.a), tall(&worked.cut.b)];
    let (few, many, side) = if a < b { (a, b, Side::A) } else { (b, a, Side::B) };
    let windows = pair.to_hold.len();
    (few < many && windows == many).then(|| {
        Finding::note("fewer_on_one_ring")
            .says(
                format!(
                    "{} has {few} tall dogs to {many} on {}, and the pair still has {{}} windows, \
                     as if both had {many}.",
                    side.name(),
                    side.other().lower_name()
                ),
                &[(Quantity::Count, length(&pair.to_hold))],
            )
            .hint("Wide entry needs few tall dogs on both rings.")
    })
}

fn same_windows(a: &[Arc], b: &[Arc]) -> bool {
    let close = |(a, b): (&Arc, &Arc)| (a.width - b.width).radians().abs() < ANGLE_TOLERANCE;
    a.len() == b.len() && a.iter().zip(b).all(close)
}

fn hold_depth(worked: &Worked) -> Option<Finding> {
    let edges = worked.edges_mm();
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    (hold < edges).then(|| {
        Finding::warning("hold_depth_in_edges")
            .at(Slot::Setting(FieldId::HoldDepth))
            .says(
                "The hold depth {} is less than the two edge breaks together, {}: there only the \
                 chamfers touch, and they push the dogs apart.",
                &[hold, edges].map(|v| (Quantity::Length, v)),
            )
            .hint("Give a hold depth of at least the sum of the edge breaks.")
    })
}

fn too_fast(pair: &PairAnalysis) -> Option<Finding> {
    let share = pair.passing.straight_in_share(pair.travel_s);
    let never = pair.shift.as_ref().is_some_and(|s| s.shares.is_in() <= 0.0);
    let (_, widest) = pair.passing.extremes()?;
    let limit = crate::shift::straight_in_limit_rpm(widest, pair.travel_s);
    (share <= 0.0).then(|| {
        let slip = pair.shift_case.slip_rpm.abs();
        let numbers = [slip, limit].map(|v| (Quantity::Speed, v));
        let (finding, ways) = match never {
            true => (
                Finding::warning("too_fast_to_drop_in"),
                "goes in at the first pass, straight or after rubbing",
            ),
            false => (Finding::note("too_fast_to_drop_in"), "goes straight in"),
        };
        finding
            .at(Slot::Setting(FieldId::SlipSpeed))
            .says(format!("At {{}} no phase {ways}: the limit for straight in is {{}}."), &numbers)
            .hint(
                "The dogs ratchet until the speeds come closer. Wider windows, a quicker or \
                 harder push or less hold depth raise the limit.",
            )
    })
}

/// The shift from the phase as drawn stops half way.
fn hangs(pair: &PairAnalysis) -> Option<Finding> {
    let shift = pair.shift.as_ref()?;
    // A single phase that hangs is a note. If half of all phases hang, gears are missed.
    let mostly = shift.shares.locked + shift.shares.half_in >= 0.5;
    let finding = if mostly { Finding::warning } else { Finding::note };
    let conditions = &shift.conditions;
    let torque =
        conditions.friction * conditions.travel.force_n * conditions.friction_radius_mm / 1000.0;
    let overlap = (Quantity::Length, shift.attempt.rests_at.1);
    match shift.attempt.ending {
        Ending::Locked if torque > 0.0 => Some(
            finding("hangs_half_way")
                .says("From the phase as drawn the tips rub to a standstill: the shift hangs half \
                       way until more than {} turns them apart.", &[(Quantity::Torque, torque)])
                .hint("A harder push on the pedal locks them harder. Smoother faces, wider windows \
                       or more speed difference help."),
        ),
        Ending::Locked => Some(
            finding("hangs_half_way")
                .says("From the phase as drawn the slip is gone with tip on tip: the shift hangs \
                       half way until something turns the rings.", &[])
                .hint("More speed difference or wider windows help."),
        ),
        Ending::HalfIn => Some(
            finding("half_in")
                .says("From the phase as drawn the ring stops at an overlap of {}, on top of a \
                       short dog: only the tall dogs carry.", &[overlap])
                .hint("Look at the height of the short dogs, and at how deep the tall ones are in by then."),
        ),
        _ => None,
    }
}

/// Flanks that lean the wrong way push the rings apart.
fn pushed_out(strength: &Strength) -> Option<Finding> {
    let force = strength.hold.holding_n(strength.torque_nm);
    let (code, start) = match strength.flank {
        FlankSide::Drive => ("pushed_out", "Under power the drive"),
        FlankSide::Coast => ("pushed_out_on_overrun", "On the over-run the coast"),
    };
    (force < 0.0 && strength.torque_nm > 0.0).then(|| {
        let words = if strength.hold.kicks_out() {
            "more than their friction can hold: it jumps out"
        } else {
            "and only friction holds them, which vibration takes away"
        };
        Finding::warning(code)
            .says(
                format!("{start} flanks push the rings apart with {{}}, {words}."),
                &[(Quantity::Force, -force)],
            )
            .hint("Flanks that are worn or tapered have to be cut back until they are undercut.")
    })
}

/// Flanks that end where their edge breaks do.
fn nothing_engaged(pair: &PairAnalysis) -> Option<Finding> {
    let strength = pair.strength.as_ref()?;
    let least =
        strength.pairs.iter().map(|pair| pair.roots.a.engaged_mm).fold(f64::INFINITY, f64::min);
    (least <= 0.0).then(|| {
        Finding::warning("only_edges_engaged")
            .at(Slot::Setting(FieldId::Overlap))
            .says(
                "At full depth some dogs that meet are on their edge breaks only: {} of flank is \
                 left.",
                &[(Quantity::Length, least)],
            )
            .hint("More overlap, or less off the edges.")
    })
}

/// Stresses above their limits, in one finding for both flanks.
fn over_allowed(worked: &Worked, pair: &PairAnalysis) -> Vec<Finding> {
    type Check = (&'static str, SettingField, fn(&Stress) -> f64);
    let checks: [Check; 3] = [
        ("Flank pressure", SettingField::AllowedPressure, |s| s.pressure_mpa),
        ("Shear at the root", SettingField::AllowedShear, |s| s.shear_mpa),
        ("Bending and shear at the root", SettingField::AllowedStress, Stress::combined_mpa),
    ];
    let over = |(words, field, read): Check| {
        let allowed = worked.design.setting.get(field);
        let most = |strength: &Option<Strength>| {
            let value = strength.as_ref()?.most(read);
            (value > allowed && value.is_finite()).then_some(value)
        };
        let (says, values) = match (most(&pair.strength), most(&pair.overrun)) {
            (None, None) => return None,
            (Some(power), None) => (format!("{words} comes to {{}}"), vec![power]),
            (None, Some(coast)) => (format!("On the over-run: {words} comes to {{}}"), vec![coast]),
            (Some(power), Some(coast)) => (
                format!("{words} comes to {{}} under power and to {{}} on the over-run"),
                vec![power, coast],
            ),
        };
        let numbers: Vec<_> =
            values.into_iter().chain([allowed]).map(|v| (Quantity::Stress, v)).collect();
        let finding = Finding::warning("over_allowed")
            .at(Slot::Setting(field.id()))
            .says(format!("{says}, over the {{}} it is set against."), &numbers)
            .hint(
                "That number is a starting point, with its source under Load. More dogs that \
                 carry, more overlap or less torque lower the stress.",
            );
        Some(finding)
    };
    checks.into_iter().filter_map(over).collect()
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
fn length(windows: &[Arc]) -> f64 {
    windows.len() as f64
}
