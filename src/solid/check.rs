//! What keeps a ring from being one sound piece of metal.

use std::f64::consts::{FRAC_PI_2, TAU};

use super::Body;
use super::stand::{Level, Stand};
use crate::finding::Finding;
use crate::ring::Ring;
use crate::units::{Quantity, sort_by_number};

/// Lengths of the web and of the dogs that can be made into a solid, mm.
const LEAST_MM: f64 = 0.1;
const MOST_MM: f64 = 1e4;

/// The least bore as a share of the inner radius of the dogs.
const LEAST_BORE: f64 = 0.2;

/// Metal or air thinner than this counts as none, mm.
const THINNEST_MM: f64 = 1e-4;

/// Shares of a height at which dogs are looked at. Between two of them flanks are straight but for
/// what a circle departs from its chord over a quarter of the back-cut.
const SHARES: [f64; 5] = [0.0, 0.25, 0.5, 0.75, 1.0];

/// Flanks that come nearer than this to running along the bore, radians, make slivers; it is about 1°.
const LEAST_SHORT: f64 = 0.02;

/// Lengths that leave no web or no bore.
pub(super) fn lengths(ring: &Ring, body: &Body) -> Result<(), Finding> {
    let dogs = ring.outer_radius_mm - ring.inner_radius_mm;
    let fits = |mm: f64| (LEAST_MM..=MOST_MM).contains(&mm);
    let bad = [ring.inner_radius_mm, dogs, body.inside_mm, body.outside_mm, body.thickness_mm]
        .into_iter()
        .find(|&mm| !fits(mm));
    if let Some(mm) = bad {
        return Err(length(mm));
    }
    let bore = ring.inner_radius_mm - body.inside_mm;
    let least = LEAST_BORE * ring.inner_radius_mm;
    if bore < least { Err(vanished(body.inside_mm, bore, least)) } else { Ok(()) }
}

fn length(mm: f64) -> Finding {
    Finding::error("solid_length")
        .says(
            "No solid: radii, radial length of the dogs and web need from {} to {}, and one is {}.",
            &[LEAST_MM, MOST_MM, mm].map(|mm| (Quantity::Length, mm)),
        )
        .hint("Give the web something to reach inside and outside the dogs, and a thickness.")
}

fn vanished(inside: f64, bore: f64, least: f64) -> Finding {
    Finding::error("bore_vanishes")
        .says(
            "No solid: a web that reaches {} inside the dogs leaves a bore of radius {}, less than {}.",
            &[inside, bore, least].map(|mm| (Quantity::Length, mm)),
        )
        .hint("Let the web reach less far inside the dogs.")
}

/// The dogs in their order round the circle, if there is one and each has metal from root to tip.
pub(super) fn standing(ring: &Ring) -> Result<Vec<Stand>, Finding> {
    let stands = ring.dogs.iter().map(|dog| sound(ring, Stand::of(ring, dog), dog.place));
    let mut stands = stands.collect::<Result<Vec<_>, _>>()?;
    if stands.is_empty() {
        return Err(Finding::error("solid_without_dog")
            .says("No solid: no dog stands on this ring.", &[])
            .hint("Keep at least one dog."));
    }
    sort_by_number(&mut stands, Stand::middle);
    Ok(stands)
}

fn sound(ring: &Ring, stand: Option<Stand>, place: usize) -> Result<Stand, Finding> {
    let missing = || rootless(place, 0.0);
    let stand = stand.ok_or_else(missing)?;
    let height = stand.dog.height_mm;
    if !(THINNEST_MM..=MOST_MM).contains(&height) {
        return Err(rootless(place, height));
    }
    for share in SHARES {
        let level = stand.at(ring, share * height).ok_or_else(missing)?;
        let thin = narrowest(ring, level.ends());
        if thin < THINNEST_MM {
            return Err(rootless(place, thin));
        }
    }
    Ok(stand)
}

fn rootless(place: usize, thin: f64) -> Finding {
    Finding::error("solid_dog_without_root")
        .says(
            format!("No solid: dog {} comes down to {{}}, less than {{}}.", place + 1),
            &[(Quantity::Length, thin), (Quantity::Length, THINNEST_MM)],
        )
        .hint("Use less back-cut, a wider dog or a lower one.")
}

/// The narrower of what lies between two directions at the inner and the outer ends, mm.
fn narrowest(ring: &Ring, [inner, outer]: [[f64; 2]; 2]) -> f64 {
    let wide = |[from, to]: [f64; 2], radius: f64| (to - from) * radius;
    wide(inner, ring.inner_radius_mm).min(wide(outer, ring.outer_radius_mm))
}

/// Whether all dogs stand clear of each other, from the web to as high as both reach.
///
/// A dog can touch the next one, and beyond that the next taller one, over the short ones between.
pub(super) fn apart(ring: &Ring, stands: &[Stand]) -> Result<(), Finding> {
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
                return Err(touching(this, next, gap));
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

fn touching(this: &Stand, next: &Stand, gap: f64) -> Finding {
    let (this, next) = (this.dog.place + 1, next.dog.place + 1);
    Finding::error("solid_dogs_touch")
        .says(
            format!("No solid: the gap from dog {this} to dog {next} is {{}}, less than {{}}."),
            &[(Quantity::Length, gap), (Quantity::Length, THINNEST_MM)],
        )
        .hint("Use fewer or narrower dogs, or less taper.")
}

/// Whether every flank runs across the ring, not along its bore.
pub(super) fn across(ring: &Ring, stands: &[Stand]) -> Result<(), Finding> {
    let short = short_of_bore(ring, stands);
    if short >= LEAST_SHORT {
        return Ok(());
    }
    Err(Finding::error("solid_flank_along_bore")
        .says(
            "No solid: a flank comes within {} of running along the bore where it meets it; {} are needed.",
            &[short, LEAST_SHORT].map(|angle| (Quantity::Angle, angle.to_degrees())),
        )
        .hint("Use a narrower dog or a larger inner diameter."))
}

/// How much the steepest tip or root edge is short of lying along the circle of the inner ends, radians.
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
    use crate::ring::{EvenLayout, Layout, RingSpec};
    use crate::solid::Solid;
    use crate::units::DisplayUnits;

    fn told(even: EvenLayout, change: impl Fn(&mut Ring, &mut Body)) -> &'static str {
        let spec = RingSpec { layout: Layout::Even(even), ..RingSpec::default() };
        let (mut ring, mut body) = (spec.as_cut(), Body::default());
        change(&mut ring, &mut body);
        match Solid::of(&ring, &body) {
            Ok(_) => "",
            Err(finding) => {
                assert!(!finding.text(DisplayUnits::default()).contains("{}"), "{finding:?}");
                assert!(!finding.hint.is_empty());
                finding.code
            }
        }
    }

    fn wide(tip_width_deg: f64, back_cut: f64, heights: &[f64]) -> EvenLayout {
        EvenLayout {
            tip_width_deg,
            back_cut_drive_deg: back_cut,
            back_cut_coast_deg: back_cut,
            heights: heights.to_vec(),
            ..EvenLayout::default()
        }
    }

    #[test]
    fn what_is_no_sound_piece_is_told() {
        let plain = || wide(24.0, 0.0, &[1.0]);
        let keep = |_: &mut Ring, _: &mut Body| {};
        assert_eq!(told(plain(), keep), "");
        assert_eq!(told(plain(), |r, _| r.dogs.clear()), "solid_without_dog");
        assert_eq!(told(plain(), |r, _| r.dogs[1].height_mm = f64::NAN), "solid_dog_without_root");
        assert_eq!(told(plain(), |r, _| r.dogs[1].height_mm = 0.0), "solid_dog_without_root");
        assert_eq!(told(plain(), |r, _| r.outer_radius_mm = f64::INFINITY), "solid_length");
        assert_eq!(told(plain(), |r, _| r.outer_radius_mm = 22.0), "solid_length");
        assert_eq!(told(plain(), |_, b| b.outside_mm = 0.0), "solid_length");
        assert_eq!(told(plain(), |_, b| b.thickness_mm = f64::NAN), "solid_length");
        assert_eq!(told(plain(), |_, b| b.inside_mm = 17.5), "");
        assert_eq!(told(plain(), |_, b| b.inside_mm = 17.7), "bore_vanishes");
        assert_eq!(told(wide(3.0, 20.0, &[1.0]), keep), "solid_dog_without_root");
    }

    /// 60° for each dog. The root of 5 mm at 12° of taper is 2 · 2.77° wider at the bore.
    #[test]
    fn dogs_may_touch_at_any_height() {
        let keep = |_: &mut Ring, _: &mut Body| {};
        assert_eq!(told(wide(59.9, 0.0, &[1.0]), keep), "");
        assert_eq!(told(wide(60.0, 0.0, &[1.0]), keep), "solid_dogs_touch", "all the way");
        assert_eq!(told(wide(60.0, 5.0, &[1.0]), keep), "solid_dogs_touch", "at the tips");
        assert_eq!(told(wide(55.0, -12.0, &[1.0]), keep), "solid_dogs_touch", "at the root");
        assert_eq!(told(wide(54.0, -12.0, &[1.0]), keep), "");
        let over = |ring: &mut Ring, _: &mut Body| {
            ring.dogs[1].tip_width = crate::units::Angle::from_degrees(1.0);
            for at in [0, 2] {
                ring.dogs[at].tip_width = crate::units::Angle::from_degrees(121.0);
            }
            ring.dogs.truncate(3);
        };
        let undercut = || wide(24.0, 20.0, &[1.0, 0.1]);
        assert_eq!(told(undercut(), over), "solid_dogs_touch", "over a short one between them");
    }
}
