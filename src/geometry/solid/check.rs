//! Checks that a ring is one sound piece of metal.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::Body;
use super::error::SolidError;
use super::stand::{Level, Stand};
use crate::ring::Ring;
use crate::units::{Angle, sort_by_number};

/// Lengths of the web and of the dogs that can be made into a solid, mm.
const LEAST_MM: f64 = 0.1;
const MOST_MM: f64 = 1e4;

/// The least bore as a share of the inner radius of the dogs.
const LEAST_BORE: f64 = 0.2;

/// Metal or gaps thinner than this count as absent, mm.
const THINNEST_MM: f64 = 1e-4;

/// Shares of a height at which dogs are checked. Between two of them a flank is straight, except for the
/// distance of a circle from its chord over a quarter of the undercut.
const SHARES: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// Flanks nearer than this to running along the bore make slivers, radians; it is about 1°.
const LEAST_SHORT: f64 = 0.02;

/// Checks that the lengths leave a web and a bore.
pub(super) fn lengths(ring: &Ring, body: &Body) -> Result<(), SolidError> {
    let dogs = ring.outer_radius_mm - ring.inner_radius_mm;
    let fits = |mm: f64| (LEAST_MM..=MOST_MM).contains(&mm);
    let bad = [ring.inner_radius_mm, dogs, body.inside_mm, body.outside_mm, body.thickness_mm]
        .into_iter()
        .find(|&mm| !fits(mm));
    if let Some(mm) = bad {
        return Err(SolidError::Length { mm, limits_mm: [LEAST_MM, MOST_MM] });
    }
    let inside_mm = body.inside_mm;
    let radius_mm = ring.inner_radius_mm - inside_mm;
    let least_mm = LEAST_BORE * ring.inner_radius_mm;
    if radius_mm < least_mm {
        return Err(SolidError::BoreVanishes { inside_mm, radius_mm, least_mm });
    }
    Ok(())
}

/// The dogs in their order round the circle. There must be at least one, and each must have metal from root to
/// tip.
pub(super) fn standing(ring: &Ring) -> Result<Vec<Stand>, SolidError> {
    let stands = ring.dogs.iter().map(|dog| sound(ring, Stand::new(ring, dog), dog.place));
    let mut stands = stands.collect::<Result<Vec<_>, _>>()?;
    if stands.is_empty() {
        return Err(SolidError::NoDog);
    }
    sort_by_number(&mut stands, Stand::middle);
    Ok(stands)
}

fn sound(ring: &Ring, stand: Option<Stand>, place: usize) -> Result<Stand, SolidError> {
    let rootless = |thin_mm| SolidError::DogWithoutRoot { place, thin_mm, least_mm: THINNEST_MM };
    let missing = || rootless(0.0);
    let stand = stand.ok_or_else(missing)?;
    let height = stand.dog.height_mm;
    if !(THINNEST_MM..=MOST_MM).contains(&height) {
        return Err(rootless(height));
    }
    for share in SHARES {
        let level = stand.at(ring, share * height).ok_or_else(missing)?;
        let thin = narrowest(ring, level.ends());
        if thin < THINNEST_MM {
            return Err(rootless(thin));
        }
    }
    Ok(stand)
}

/// The smaller of the distances between two directions at the inner and at the outer ends, mm.
fn narrowest(ring: &Ring, [inner, outer]: [[f64; 2]; 2]) -> f64 {
    let wide = |[from, to]: [f64; 2], radius: f64| (to - from) * radius;
    wide(inner, ring.inner_radius_mm).min(wide(outer, ring.outer_radius_mm))
}

/// Checks that all dogs are clear of each other, from the web up to the lower of two tips.
///
/// A dog can touch the next one, and beyond that the next taller one, over the short ones between.
pub(super) fn apart(ring: &Ring, stands: &[Stand]) -> Result<(), SolidError> {
    for (at, this) in stands.iter().enumerate() {
        let mut tallest = 0.0;
        let following = stands.iter().map(|s| (s, 0.0)).skip(at + 1);
        let round = stands.iter().map(|s| (s, TAU)).take(at + 1);
        for (next, turn) in following.chain(round) {
            if next.dog.height_mm <= tallest {
                continue;
            }
            tallest = next.dog.height_mm;
            let gap = gap(ring, this, next, turn);
            if gap < THINNEST_MM {
                let places = [this, next].map(|stand| stand.dog.place);
                return Err(SolidError::DogsTouch { places, gap_mm: gap, least_mm: THINNEST_MM });
            }
            if tallest >= this.dog.height_mm {
                break;
            }
        }
    }
    Ok(())
}

/// The least gap from one dog to the next, mm.
fn gap(ring: &Ring, this: &Stand, next: &Stand, turn: f64) -> f64 {
    let height = this.dog.height_mm.min(next.dog.height_mm);
    let gap = |share: f64| {
        let [this, next] = [this, next].map(|stand| stand.at(ring, share * height));
        this.zip(next).map_or(0.0, |(this, next)| narrowest(ring, between(&this, &next, turn)))
    };
    SHARES.into_iter().map(gap).fold(f64::INFINITY, f64::min)
}

/// From the coast flank of one dog to the drive flank of the next, at both ends.
fn between(this: &Level, next: &Level, turn: f64) -> [[f64; 2]; 2] {
    [[this.inner[1], next.inner[0] + turn], [this.outer[1], next.outer[0] + turn]]
}

/// Checks that every flank runs across the ring, not along its bore.
pub(super) fn across(ring: &Ring, stands: &[Stand]) -> Result<(), SolidError> {
    let short = short_of_bore(ring, stands);
    if short >= LEAST_SHORT {
        return Ok(());
    }
    let [short, least] = [short, LEAST_SHORT].map(Angle::from_radians);
    Err(SolidError::FlankAlongBore { short, least })
}

/// The angle by which the steepest tip or root edge misses lying along the circle of the inner ends, radians.
pub(super) fn short_of_bore(ring: &Ring, stands: &[Stand]) -> f64 {
    let (ri, ro) = (ring.inner_radius_mm, ring.outer_radius_mm);
    let lean = |[inner, outer]: [f64; 2]| {
        let turn = outer - inner;
        libm::atan2((ro * libm::sin(turn)).abs(), ro * libm::cos(turn) - ri)
    };
    let levels = stands.iter().flat_map(|stand| [&stand.root, &stand.tip]);
    let flanks = levels.flat_map(|level| [0, 1].map(|flank| level.ends().map(|end| end[flank])));
    FRAC_PI_2 - flanks.map(lean).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ring::{EvenRing, PerFlank};
    use crate::solid::Solid;

    /// The name of the error, or nothing.
    fn told(even: EvenRing, change: impl Fn(&mut Ring, &mut Body)) -> &'static str {
        let (mut ring, mut body) = (even.to_ring(), Body::default());
        change(&mut ring, &mut body);
        match Solid::of(&ring, &body) {
            Ok(_) => "",
            Err(SolidError::Length { .. }) => "length",
            Err(SolidError::BoreVanishes { .. }) => "bore",
            Err(SolidError::NoDog) => "no dog",
            Err(SolidError::DogWithoutRoot { .. }) => "no root",
            Err(SolidError::DogsTouch { .. }) => "touching",
            Err(SolidError::FlankAlongBore { .. }) => "along the bore",
        }
    }

    fn wide(tip_width_deg: f64, back_cut: f64, heights: &[f64]) -> EvenRing<'_> {
        let back_cut_deg = PerFlank::both(back_cut);
        EvenRing { tip_width_deg, back_cut_deg, heights, ..EvenRing::default() }
    }

    #[test]
    fn what_is_no_sound_piece_is_told() {
        let plain = || wide(24.0, 0.0, &[1.0]);
        let keep = |_: &mut Ring, _: &mut Body| {};
        assert_eq!(told(plain(), keep), "");
        assert_eq!(told(plain(), |r, _| r.dogs.clear()), "no dog");
        assert_eq!(told(plain(), |r, _| r.dogs[1].height_mm = f64::NAN), "no root");
        assert_eq!(told(plain(), |r, _| r.dogs[1].height_mm = 0.0), "no root");
        assert_eq!(told(plain(), |r, _| r.outer_radius_mm = f64::INFINITY), "length");
        assert_eq!(told(plain(), |r, _| r.outer_radius_mm = 22.0), "length");
        assert_eq!(told(plain(), |_, b| b.outside_mm = 0.0), "length");
        assert_eq!(told(plain(), |_, b| b.thickness_mm = f64::NAN), "length");
        assert_eq!(told(plain(), |_, b| b.inside_mm = 17.5), "");
        assert_eq!(told(plain(), |_, b| b.inside_mm = 17.7), "bore");
        assert_eq!(told(wide(3.0, 20.0, &[1.0]), keep), "no root");
    }

    /// 60° for each dog. The root of 5 mm at 12° of taper is 2 · 2.77° wider at the bore.
    #[test]
    fn dogs_may_touch_at_any_height() {
        let keep = |_: &mut Ring, _: &mut Body| {};
        assert_eq!(told(wide(59.9, 0.0, &[1.0]), keep), "");
        assert_eq!(told(wide(60.0, 0.0, &[1.0]), keep), "touching", "all the way");
        assert_eq!(told(wide(60.0, 5.0, &[1.0]), keep), "touching", "at the tips");
        assert_eq!(told(wide(55.0, -12.0, &[1.0]), keep), "touching", "at the root");
        assert_eq!(told(wide(54.0, -12.0, &[1.0]), keep), "");
        let over = |ring: &mut Ring, _: &mut Body| {
            ring.dogs[1].tip_width = crate::units::Angle::from_degrees(1.0);
            for at in [0, 2] {
                ring.dogs[at].tip_width = crate::units::Angle::from_degrees(121.0);
            }
            ring.dogs.truncate(3);
        };
        let undercut = || wide(24.0, 20.0, &[1.0, 0.1]);
        assert_eq!(told(undercut(), over), "touching", "over a short one between them");
    }
}
