//! Findings that need the whole pair.

use crenel_words::{Value, finding as say};

use crate::design::{Need, SettingField};
use crate::fields::{FieldId, Slot};
use crate::finding::Finding;
use crate::gauge::Gauge;
use crate::limits::{self, STRESSES, StressLimit};
use crate::model::{PairAnalysis, Strength, Worked, hardest_shift};
use crate::pair::{ANGLE_TOLERANCE, Arc, DepthLimit, Edges, Mesh};
use crate::ring::{FlankSide, PerSide, Ring, Side};
use crate::shift::{Ending, Step, Way};
use crate::units::{Angle, Quantity};

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
        too_fast(worked, pair),
        hangs(worked),
        pair.strength.as_ref().and_then(|strength| pushed_out(worked, strength)),
        pair.overrun.as_ref().and_then(|strength| pushed_out(worked, strength)),
        nothing_engaged(pair),
        edge_contact(worked, pair),
        lash_over_limit(worked, pair),
        clunk_over_limit(worked, pair),
    ];
    let mut findings: Vec<_> = checks.into_iter().flatten().collect();
    findings.extend(over_allowed(worked, pair));
    findings
}

fn no_way_in(pair: &PairAnalysis) -> Option<Finding> {
    pair.at_tips.is_empty().then(|| {
        let edges = if pair.to_hold.is_empty() { "hold" } else { "pass" };
        Finding::warning(say::no_entry_window(edges))
    })
}

fn apart(pair: &PairAnalysis) -> Option<Finding> {
    let depth = pair.engagement.full_depth_mm;
    let finding = || Finding::warning(say::rings_apart(depth)).past(Gauge::more_than_zero(depth));
    (depth <= 0.0).then(|| finding().at(Slot::Setting(FieldId::Overlap)))
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
    (both_mixed && gap > 0.0).then(|| Finding::note(say::short_dogs_apart(gap)))
}

fn depth(pair: &PairAnalysis) -> Option<Finding> {
    let engagement = &pair.engagement;
    let at = Slot::Setting(FieldId::Overlap);
    let full = engagement.full_depth_mm;
    if let Some(jam) = engagement.jam {
        let says = || say::jams_before_full_depth(jam.overlap_mm, full);
        let gauge = Gauge::at_least(full, jam.overlap_mm).by(full);
        let finding = || Finding::warning(says()).past(gauge);
        return (!pair.at_tips.is_empty()).then(|| finding().at(at));
    }
    let DepthLimit::Web(web) = engagement.limit else { return None };
    Some(Finding::note(say::tip_meets_web(full, web.other(), web)).at(at))
}

fn phase_blocked(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let held = pair.held?;
    let phase = worked.phase();
    (!held.contains(phase)).then(|| {
        let [phase, middle] = [phase, held.middle()].map(Angle::degrees);
        Finding::note(say::phase_blocked(phase, middle)).at(Slot::Setting(FieldId::Phase))
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
    let cut = match (cut_a, cut_b) {
        (true, false) => "a",
        (false, true) => "b",
        _ => "both",
    };
    Some(Finding::warning(say::nothing_gained(cut, length(&pair.to_hold), width)))
}

/// Dogs a little lower than the tallest: they do not block at tip level, but a shift meets them at once.
fn uneven(pair: &PairAnalysis) -> Option<Finding> {
    let (at_tips, to_hold) = (length(&pair.at_tips), length(&pair.to_hold));
    let is_so = at_tips < to_hold && !pair.at_tips.is_empty();
    is_so.then(|| Finding::note(say::uneven_heights(at_tips, to_hold)))
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
    let finding = || say::fewer_on_one_ring(few, side, many, side.other(), windows);
    (few < many && windows == many).then(|| Finding::note(finding()))
}

fn same_windows(a: &[Arc], b: &[Arc]) -> bool {
    let close = |(a, b): (&Arc, &Arc)| (a.width - b.width).radians().abs() < ANGLE_TOLERANCE;
    a.len() == b.len() && a.iter().zip(b).all(close)
}

fn hold_depth(worked: &Worked) -> Option<Finding> {
    let edges = worked.edges_mm();
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    let gauge = Gauge::at_least(edges, hold);
    let finding = || Finding::warning(say::hold_depth_in_edges(hold, edges)).past(gauge);
    (hold < edges).then(|| finding().at(Slot::Setting(FieldId::HoldDepth)))
}

/// A gear that no phase of its hardest shift brings straight in is missed unless the tips rub it in.
fn too_fast(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let (_, widest) = pair.passing.extremes()?;
    let limit = crate::shift::straight_in_limit_rpm(widest, pair.travel_s);
    let gauge = limits::straight_in(worked, limit)?;
    let slip = gauge.limit;
    let own = pair.shift_case.slip_rpm.abs() >= slip;
    let never = own && pair.shift.as_ref().is_some_and(|s| s.shares.is_in() <= 0.0);
    let ways = if never { "never" } else { "rubs_in" };
    let finding = || Finding::warning(say::too_fast_to_drop_in(slip, ways, limit)).past(gauge);
    gauge.is_past().then(|| finding().at(slip_slot(worked)))
}

/// The number that sets the speed difference of the hardest shift.
fn slip_slot(worked: &Worked) -> Slot {
    let at = |step: Step| match step.way {
        Way::Up => FieldId::UpAt,
        Way::Down => FieldId::DownAt,
    };
    let step = hardest_shift(worked).and_then(|shift| shift.step);
    step.map_or(Slot::Setting(FieldId::SlipSpeed), |step| Slot::Gear(step.from, at(step)))
}

/// From this share of hanging phases on, gears are missed: our own bound.
const MOSTLY: f64 = 0.5;

/// The shift from the phase as drawn stops half way.
fn hangs(worked: &Worked) -> Option<Finding> {
    let shift = worked.shift()?;
    // A single phase that hangs is a note. If half of all phases hang, gears are missed.
    let hanging = shift.shares.locked + shift.shares.half_in;
    let finding = if hanging >= MOSTLY { Finding::warning } else { Finding::note };
    let conditions = &shift.conditions;
    let torque =
        conditions.friction * conditions.travel.force_n * conditions.friction_radius_mm / 1000.0;
    let says = match shift.attempt.ending {
        Ending::Locked if torque > 0.0 => say::hangs_half_way(torque),
        Ending::Locked => say::hangs_without_friction(),
        Ending::HalfIn => say::half_in(shift.attempt.rests_at.1),
        _ => return None,
    };
    let at = Slot::Setting(FieldId::TipFriction);
    Some(finding(says).past(Gauge::at_most(MOSTLY, hanging)).at(at))
}

/// Flanks that lean the wrong way push the rings apart.
fn pushed_out(worked: &Worked, strength: &Strength) -> Option<Finding> {
    let force = strength.hold.holding_n(strength.torque_nm);
    let is_known = worked.design.missing(Need::SlidingFriction).is_none();
    let friction = if is_known && strength.hold.kicks_out() { "loses" } else { "holds" };
    let says = match strength.flank {
        FlankSide::Drive => say::pushed_out,
        FlankSide::Coast => say::pushed_out_on_overrun,
    };
    let gauge = limits::holds(worked, strength.flank, force)?;
    let finding = || Finding::warning(says(-force, friction)).past(gauge);
    gauge.is_past().then(|| finding().at(flank_slot(worked, strength.flank)))
}

/// The angle of the flanks that lean most.
fn flank_slot(worked: &Worked, flank: FlankSide) -> Slot {
    let field = match flank {
        FlankSide::Drive => FieldId::BackCutDrive,
        FlankSide::Coast => FieldId::BackCutCoast,
    };
    let dogs = Side::BOTH.into_iter().flat_map(|side| {
        worked.ring(side).dogs.iter().map(move |dog| (side, dog.place, dog.back_cut[flank]))
    });
    let least = dogs.min_by(|(.., a), (.., b)| a.radians().total_cmp(&b.radians()));
    let (side, place) = least.map_or((Side::A, 0), |(side, place, _)| (side, place));
    let of_dog = Slot::Dog(side, place, field);
    if worked.design.get(of_dog).is_some() { of_dog } else { Slot::Ring(side, field) }
}

/// Flanks that end where their edge breaks do.
fn nothing_engaged(pair: &PairAnalysis) -> Option<Finding> {
    let strength = pair.strength.as_ref()?;
    let least =
        strength.pairs.iter().map(|pair| pair.roots.a.engaged_mm).fold(f64::INFINITY, f64::min);
    let finding =
        || Finding::warning(say::only_edges_engaged(least)).past(Gauge::more_than_zero(least));
    (least <= 0.0).then(|| finding().at(Slot::Setting(FieldId::Overlap)))
}

/// Dogs that meet under power or on the overrun by less than the holding depth: their tip edges bear, and
/// flank pressure does not describe them.
fn edge_contact(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let loads = [&pair.strength, &pair.overrun].into_iter().flatten();
    let on_edge: Vec<_> = loads.flat_map(|load| &load.pairs).filter(|pair| pair.on_edge).collect();
    let least = on_edge.iter().min_by(|a, b| a.deep_mm.total_cmp(&b.deep_mm))?;
    let hold = worked.design.setting.get(SettingField::HoldDepth);
    let PerSide { a, b } = least.places;
    let finding = Finding::warning(say::edge_contact(a, b, least.deep_mm, hold));
    Some(finding.past(Gauge::at_least(hold, least.deep_mm)).at(Slot::Setting(FieldId::HoldDepth)))
}

fn lash_over_limit(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    let gauge = limits::lash(worked, pair.held?.width.degrees())?;
    let finding = || Finding::warning(say::lash_over_limit(gauge.value, gauge.limit)).past(gauge);
    gauge.is_past().then(|| finding().at(Slot::Limit(FieldId::MostLash)))
}

fn clunk_over_limit(worked: &Worked, pair: &PairAnalysis) -> Option<Finding> {
    if worked.design.missing_of(&[Need::Torque, Need::Inertia]).is_some() {
        return None;
    }
    let gauge = limits::clunk(worked, pair.torques.clunk_nm?)?;
    let finding = || Finding::warning(say::clunk_over_limit(gauge.value, gauge.limit)).past(gauge);
    gauge.is_past().then(|| finding().at(Slot::Limit(FieldId::MostClunk)))
}

/// The value of a flank that has none.
const NONE: Value = Value::Pick("none");

/// Stresses above their limits, in one finding for both flanks.
fn over_allowed(worked: &Worked, pair: &PairAnalysis) -> Vec<Finding> {
    let over = |(stress, field, read): StressLimit| {
        let allowed = worked.design.setting.get(field);
        let most = |strength: &Option<Strength>| {
            let value = read(strength.as_ref()?)?;
            (value > allowed && value.is_finite()).then_some(value)
        };
        let gauge = |mpa: Option<f64>, other: Option<f64>| {
            let most = mpa.into_iter().chain(other).reduce(f64::max)?;
            limits::allowed(worked, field, most)
        };
        let stress_of = |mpa| Value::Number(Quantity::Stress, mpa);
        let [under_power, on_overrun] = [most(&pair.strength), most(&pair.overrun)];
        let (flanks, power, overrun) = match (under_power, on_overrun) {
            (None, None) => return None,
            (Some(power), None) => ("power", stress_of(power), NONE),
            (None, Some(overrun)) => ("overrun", NONE, stress_of(overrun)),
            (Some(power), Some(overrun)) => ("both", stress_of(power), stress_of(overrun)),
        };
        let finding = Finding::warning(say::over_allowed(stress, flanks, power, overrun, allowed));
        Some(finding.past(gauge(under_power, on_overrun)).at(Slot::Setting(field.id())))
    };
    STRESSES.into_iter().filter_map(over).collect()
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
fn length(windows: &[Arc]) -> f64 {
    windows.len() as f64
}
