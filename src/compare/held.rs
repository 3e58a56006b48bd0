//! Making one quantity equal in all layouts, and how far that goes.

use crenel_words::{Message, compare as say};

use super::column::jam_mm;
use crate::analysis::Analysis;
use crate::design::{Design, Layout, Normalize, RingSpec, SettingField, SizeBy};
use crate::finding::any_error;
use crate::model::LaidOut;
use crate::pair::Edges;
use crate::ring::{Dog, PerSide, Ring, Side};

/// A layout after the quantity that is held was made equal.
pub(super) struct Normalized {
    pub(super) analysis: Analysis,
    pub(super) note: Option<Message>,
    pub(super) not_normalized: bool,
    /// The least and the greatest that the quantity can be in this layout, degrees.
    pub(super) range_deg: Option<(f64, f64)>,
}

/// Makes the quantity that is held equal to a value in degrees, if possible.
pub(super) fn normalize(given: &Design, basis: Normalize, want: Option<f64>) -> Normalized {
    let as_given = Analysis::of(given);
    let have = of_basis(basis).and_then(|read| read(&as_given));
    let range_deg = have.map(|have| feasible(&as_given, basis, have));
    let cannot = |analysis: Analysis, why: Message| Normalized {
        analysis,
        note: Some(why),
        not_normalized: true,
        range_deg,
    };
    let (want, have) = match (basis, want.zip(have)) {
        (Normalize::AsDrawn, _) => {
            return Normalized { analysis: as_given, note: None, not_normalized: false, range_deg };
        }
        (_, None) => return cannot(as_given, say::nothing_to_hold()),
        (_, Some(both)) => both,
    };
    // A window narrows by as much as the dogs of both rings grow together.
    let by = if basis == Normalize::FreeAngle { (have - want) / 2.0 } else { want - have };
    let wider = widened(given, by);
    let would = width_deg(&as_given).unwrap_or_default() + by;
    if would < LEAST_DEG {
        return cannot(as_given, say::held_no_dog());
    }
    let analysis = Analysis::of(&wider);
    if any_error(&analysis.findings) {
        return cannot(as_given, say::held_too_wide(would));
    }
    if let Some(jam) = jam_mm(&analysis).filter(|_| jam_mm(&as_given).is_none()) {
        return cannot(as_given, say::held_jams(would, jam));
    }
    let reached = of_basis(basis).and_then(|read| read(&analysis));
    if !reached.is_some_and(|have| (want - have).abs() < SAME_DEG) {
        return cannot(as_given, say::held_out_of_reach(would));
    }
    let changed = if by > 0.0 { say::widened } else { say::narrowed };
    let note = (by.abs() > 1e-9).then(|| changed(by.abs()));
    Normalized { analysis, note, not_normalized: false, range_deg }
}

/// Values closer than this are the same, degrees; a dog narrower than that is none.
const SAME_DEG: f64 = 1e-6;
const LEAST_DEG: f64 = 1e-6;

/// How wide a change of the dogs is tried, degrees, and how often it is halved: to some thousandths.
const WIDEST_DEG: f64 = 180.0;
const HALVINGS: u32 = 16;

/// What reads the quantity that is held.
pub(super) fn of_basis(basis: Normalize) -> Option<fn(&Analysis) -> Option<f64>> {
    match basis {
        Normalize::AsDrawn => None,
        Normalize::DogWidth => Some(width_deg),
        Normalize::FreeAngle => Some(free_deg),
    }
}

fn widened(given: &Design, by_deg: f64) -> Design {
    let mut wider = given.clone();
    for side in Side::BOTH {
        widen(wider.ring_mut(side), by_deg);
    }
    wider
}

/// Makes all dogs of a ring wider by an angle, degrees; narrower if it is negative.
fn widen(ring: &mut RingSpec, by_deg: f64) {
    match &mut ring.layout {
        Layout::Even(even) => {
            even.tip_width_deg = even.dog_width_deg() + by_deg;
            even.size_by = SizeBy::Dog;
        }
        Layout::Measured(dogs) => dogs.iter_mut().for_each(|dog| dog.tip_width_deg += by_deg),
    }
}

/// The least and the greatest of the quantity with which the layout can be worked out, does not come to jam, and
/// takes the value: found by halving, from the value that it has, degrees.
fn feasible(analysis: &Analysis, basis: Normalize, have: f64) -> (f64, f64) {
    let given = &analysis.design;
    let jams = jam_mm(analysis).is_some();
    let is_free = basis == Normalize::FreeAngle;
    let value = |by: f64| if is_free { have - 2.0 * by } else { have + by };
    let fits = |by: f64| {
        let laid = LaidOut::of(&widened(given, by));
        let Some((mesh, engagement)) = laid.engaged() else { return false };
        let hold = given.setting.get(SettingField::HoldDepth);
        let entry = || mesh.windows_down_to(hold, Edges::Sharp);
        let widest = || entry().iter().map(|w| w.width.degrees()).reduce(f64::max);
        let is = if is_free { widest() } else { mean_width_deg(laid.cut()) };
        (jams || engagement.jam.is_none()) && is.is_some_and(|is| (is - value(by)).abs() < SAME_DEG)
    };
    let end = |sign: f64| {
        let halve = |(can, cannot): (f64, f64), _| {
            let middle = f64::midpoint(can, cannot);
            if fits(sign * middle) { (middle, cannot) } else { (can, middle) }
        };
        value(sign * (0..HALVINGS).fold((0.0, WIDEST_DEG), halve).0)
    };
    let ends = [end(-1.0), end(1.0)];
    (ends[0].min(ends[1]), ends[0].max(ends[1]))
}

/// Mean dog width of the two rings, over all dogs that are left, degrees.
pub(super) fn width_deg(analysis: &Analysis) -> Option<f64> {
    mean_width_deg(&analysis.cut)
}

fn mean_width_deg(rings: &PerSide<Ring>) -> Option<f64> {
    let mean = |ring: &Ring| {
        let width = |dog: &Dog| ring.tip_width_at(dog, ring.mean_radius_mm()).degrees();
        let total: f64 = ring.dogs.iter().map(width).sum();
        let count = u32::try_from(ring.dogs.len()).unwrap_or(u32::MAX);
        (count > 0).then(|| total / f64::from(count))
    };
    let means: Vec<f64> = rings.iter().map(mean).collect::<Option<_>>()?;
    Some(means.iter().sum::<f64>() / 2.0)
}

/// Free angle of the widest entry window, degrees.
pub(super) fn free_deg(analysis: &Analysis) -> Option<f64> {
    let widths = analysis.pair.as_ref()?.entry.iter().map(|w| w.width.degrees());
    widths.reduce(f64::max)
}
