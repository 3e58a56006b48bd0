//! Cutters between dogs: the widest and the narrowest that can be used.
//!
//! A cutter is modelled as a straight band of its width. One side of the band runs along a flank from the rim
//! to the bore, as with an end mill or a wheel set to depth. Two passes clear a space, one along each of its
//! flanks.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use super::is_size;
use crate::units::Angle;

/// Angles that differ by less are the same but for rounding, radians.
const HAIR: f64 = 1e-9;

/// The space between two neighbouring dogs, counter-clockwise, both flanks alike.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Space {
    /// The start of the space at the bore, from the datum.
    pub from: Angle,
    /// The width of the space at the bore. Between radial flanks it is the same at the rim.
    pub width: Angle,
    /// How far the plane of a flank passes the shaft axis, mm: 0 for radial flanks, half the chord
    /// for parallel ones.
    pub flank_mm: f64,
}

impl Space {
    /// A space between radial flanks.
    pub const fn radial(from: Angle, width: Angle) -> Self {
        Self { from, width, flank_mm: 0.0 }
    }

    /// Widest cutter, mm, that runs along one flank and clears the next dog, whose nearest point is
    /// its corner at the bore: `Ri·sin ψ` for radial flanks with a space of ψ.
    ///
    /// For flanks that pass the axis by `h`: `Ri·sin(ψ + ε) − h`, with `sin ε = h/Ri`, which is less.
    /// `None` if the next dog sets no limit: with ψ + ε of 90° or more its corner is level with the axis or
    /// behind it, where a pass that ends in the bore does not reach. 0 if there is no space.
    pub fn widest_mm(&self, bore_radius_mm: f64) -> Option<f64> {
        let to_corner = self.width.radians() + self.slant(bore_radius_mm);
        if to_corner >= FRAC_PI_2 - HAIR {
            return None;
        }
        Some((bore_radius_mm * libm::sin(to_corner) - self.flank_mm).max(0.0))
    }

    /// Narrowest cutter, mm, that clears the space in two passes, one along each flank. The last place that
    /// the passes reach is the middle at the rim: `Ro·sin(ψ/2)` for radial flanks with a space of ψ.
    ///
    /// For flanks that pass the axis by `h` with dogs `D` apart from middle to middle:
    /// `Ro·sin(D/2) − h`. Up to half a turn the passes may end in the bore. Beyond it each must run
    /// right across, which harms nothing, because the far side is space too; and then what only one
    /// of them reaches counts as well: up to `D − 180°` from the first flank. Radial: `Ro·sin(ψ/2)` up to
    /// 240°, `−Ro·sin ψ` up to 270°, `Ro` beyond; with parallel flanks it is a bound, wide enough.
    /// `None` where two passes cannot do it: behind a lone dog with parallel flanks a strip stays.
    /// `None` also for impossible radii and spaces.
    pub fn narrowest_mm(&self, bore_radius_mm: f64, rim_radius_mm: f64) -> Option<f64> {
        let slant = self.slant(bore_radius_mm);
        let apart = self.width.radians() + 2.0 * slant;
        let sizes = is_size(bore_radius_mm) && rim_radius_mm >= bore_radius_mm;
        if !sizes || !(0.0..=TAU - 2.0 * slant + HAIR).contains(&apart) {
            return None;
        }
        let both = libm::sin((apart / 2.0).min(PI));
        let alone = (apart - PI + slant).min(FRAC_PI_2);
        let reach = if apart > PI { both.max(libm::sin(alone)) } else { both };
        Some((rim_radius_mm * reach - self.flank_mm).max(0.0))
    }

    /// Angle at the axis between the middle of a dog and its flank at a radius.
    fn slant(&self, radius_mm: f64) -> f64 {
        bearing(self.flank_mm, radius_mm)
    }

    /// The middles of the dogs before and after.
    fn middles(&self, bore_radius_mm: f64) -> (f64, f64) {
        let slant = self.slant(bore_radius_mm);
        let from = self.from.radians();
        (from - slant, from + self.width.radians() + slant)
    }

    /// The space at a radius: where it begins, and how wide it is.
    fn at(&self, bore_radius_mm: f64, radius_mm: f64) -> (f64, f64) {
        let (before, after) = self.middles(bore_radius_mm);
        let slant = self.slant(radius_mm);
        (before + slant, after - before - 2.0 * slant)
    }
}

/// `asin(across/radius)`, limited to a quarter turn if a line at that distance misses the circle.
fn bearing(across_mm: f64, radius_mm: f64) -> f64 {
    libm::asin((across_mm / radius_mm).clamp(0.0, 1.0))
}

/// The cutters that can do every space of a ring in two passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The narrowest that clears the widest space, mm; `None` if two passes cannot do it.
    pub narrowest_mm: Option<f64>,
    /// The widest that clears the next dog in every space, mm; `None` without a limit.
    pub widest_mm: Option<f64>,
}

impl Range {
    /// The limits for all spaces of a ring, which can be unequal. The narrowest space limits the widest
    /// cutter, and the widest space the narrowest cutter.
    pub fn for_spaces(spaces: &[Space], bore_radius_mm: f64, rim_radius_mm: f64) -> Self {
        let narrow = |space: &Space| space.narrowest_mm(bore_radius_mm, rim_radius_mm);
        let narrowest_mm = spaces.iter().map(narrow).collect::<Option<Vec<_>>>();
        let widest = spaces.iter().filter_map(|space| space.widest_mm(bore_radius_mm));
        Self {
            narrowest_mm: narrowest_mm.map(|all| all.into_iter().fold(0.0, f64::max)),
            widest_mm: widest.reduce(f64::min),
        }
    }
}

/// Whether every pass, along each flank of each space, can run right across the ring and out on the
/// other side without touching a dog.
///
/// With equal teeth and spaces odd counts can, and each pass cuts two flanks; even counts cannot,
/// because a tooth is opposite each space (*Machinery's Handbook*, cutting clutch teeth). Here
/// spaces may be unequal; they are compared at the bore and at the rim. `false` without spaces and
/// for impossible numbers.
pub fn runs_across(
    spaces: &[Space],
    cutter_mm: f64,
    bore_radius_mm: f64,
    rim_radius_mm: f64,
) -> bool {
    let radii = [bore_radius_mm, rim_radius_mm];
    let sizes = is_size(cutter_mm) && radii.into_iter().all(is_size);
    let room = |space: &Space| {
        let near = space.widest_mm(bore_radius_mm).is_none_or(|w| cutter_mm <= w + HAIR);
        near && radii.into_iter().all(|radius| is_free(spaces, space, cutter_mm, radii[0], radius))
    };
    sizes && !spaces.is_empty() && spaces.iter().all(room)
}

/// Whether the far ends of both passes through a space lie in spaces at a radius.
fn is_free(spaces: &[Space], space: &Space, cutter_mm: f64, bore: f64, radius: f64) -> bool {
    let (before, after) = space.middles(bore);
    let near = bearing(space.flank_mm, radius);
    let far = bearing(space.flank_mm + cutter_mm, radius);
    let ends = [before + PI - far, after + PI + near];
    let inside = |start: f64| {
        spaces.iter().any(|other| {
            let (from, width) = other.at(bore, radius);
            // A start that is before the space only by rounding is at its beginning.
            let into = (start - from + HAIR).rem_euclid(TAU) - HAIR;
            into + far - near <= width + HAIR
        })
    };
    ends.into_iter().all(inside)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BORE: f64 = 22.0;
    const RIM: f64 = 30.0;

    fn radial(degrees: f64) -> Space {
        Space::radial(Angle::ZERO, Angle::from_degrees(degrees))
    }

    /// A grid of points of the space: radius, and angle from the middle of the dog before.
    fn points(space: &Space) -> Vec<(f64, f64)> {
        let radii = (0..=8).map(|at| BORE + f64::from(at) * (RIM - BORE) / 8.0);
        let on = |radius: f64| {
            let (from, width) = space.at(BORE, radius);
            let from = from - space.middles(BORE).0;
            (0..=720).map(move |at| (radius, from + width * f64::from(at) / 720.0))
        };
        radii.flat_map(on).collect()
    }

    /// Whether a band along a flank covers a point, tried in coordinates along and across it.
    fn covers(space: &Space, width: f64, across_axis: bool, radius: f64, turned: f64) -> bool {
        let (along, across) = (radius * libm::cos(turned), radius * libm::sin(turned));
        let slack = 1e-9;
        let band = space.flank_mm - slack..=space.flank_mm + width + slack;
        (across_axis || along >= -slack) && band.contains(&across)
    }

    fn cleared(space: &Space, width: f64) -> bool {
        let (before, after) = space.middles(BORE);
        let apart = after - before;
        let across = apart > PI;
        points(space).into_iter().all(|(radius, turned)| {
            covers(space, width, across, radius, turned)
                || covers(space, width, across, radius, apart - turned)
        })
    }

    #[test]
    fn two_passes_of_the_narrowest_clear_the_space_and_less_does_not() {
        for step in 1..72 {
            let space = radial(5.0 * f64::from(step));
            let width = space.narrowest_mm(BORE, RIM).unwrap();
            assert!(cleared(&space, width), "{space:?}: {width}");
            assert!(!cleared(&space, width * 0.99), "{space:?}: {width}");
        }
    }

    #[test]
    fn parallel_flanks_are_cleared_too() {
        for step in 1..72 {
            for flank_mm in [2.0, 5.0, 9.0] {
                let space = Space { flank_mm, ..radial(5.0 * f64::from(step)) };
                let Some(width) = space.narrowest_mm(BORE, RIM) else { continue };
                assert!(cleared(&space, width), "{space:?}: {width}");
                let half_turn = space.middles(BORE).1 - space.middles(BORE).0 <= PI;
                assert!(!half_turn || !cleared(&space, width - 0.01), "{space:?}: {width}");
            }
        }
        // All round a dog 10 mm wide: the strip behind it stays.
        let lone = 2.0 * libm::asin(5.0 / BORE);
        let width = Angle::from_radians(TAU - lone);
        let space = Space { from: Angle::ZERO, width, flank_mm: 5.0 };
        assert_eq!(space.narrowest_mm(BORE, RIM), None);
        assert!(!cleared(&space, 100.0));
    }

    /// Distance of the next dog from the plane of the flank, over its flank from bore to rim.
    fn nearest_of_next_dog(space: &Space) -> f64 {
        let across = (0..=100).map(|at| {
            let radius = BORE + (RIM - BORE) * f64::from(at) / 100.0;
            let (from, width) = space.at(BORE, radius);
            radius * libm::sin(from + width - space.middles(BORE).0) - space.flank_mm
        });
        across.fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn the_widest_just_touches_the_next_dog() {
        for flank_mm in [0.0, 2.0, 5.0] {
            for degrees in [1.0, 10.0, 30.0, 60.0, 74.0] {
                let space = Space { flank_mm, ..radial(degrees) };
                let width = space.widest_mm(BORE).unwrap();
                assert!((width - nearest_of_next_dog(&space)).abs() < 1e-9, "{space:?}");
                assert!(width <= radial(degrees).widest_mm(BORE).unwrap());
            }
        }
        assert_eq!(radial(90.0).widest_mm(BORE), None);
        assert_eq!(radial(-3.0).widest_mm(BORE), Some(0.0));
        assert_eq!(radial(f64::NAN).widest_mm(BORE), Some(0.0));
    }

    #[test]
    fn unequal_spaces_narrow_the_range_from_both_ends() {
        let range = Range::for_spaces(&[radial(30.0), radial(40.0)], BORE, RIM);
        assert_eq!(range.widest_mm, radial(30.0).widest_mm(BORE));
        assert_eq!(range.narrowest_mm, radial(40.0).narrowest_mm(BORE, RIM));
        assert!(range.narrowest_mm < range.widest_mm);
        let range = Range::for_spaces(&[radial(30.0), radial(60.0)], BORE, RIM);
        assert!(range.narrowest_mm > range.widest_mm, "no one cutter does both in two passes");
    }

    fn spaces(ends: &[(f64, f64)]) -> Vec<Space> {
        let space = |&(from, to)| Space { from: Angle::from_degrees(from), ..radial(to - from) };
        ends.iter().map(space).collect()
    }

    #[test]
    fn unequal_spaces_run_across_where_they_face_each_other() {
        let across = |ends: &[(f64, f64)], mm| runs_across(&spaces(ends), mm, BORE, RIM);
        // Even count: opposite each flank of two dogs close together lies the wide space.
        assert!(!across(&[(0.0, 40.0), (180.0, 220.0)], 10.0));
        assert!(across(&[(0.0, 30.0), (150.0, 340.0)], 10.0));
        assert!(!across(&[(0.0, 30.0), (150.0, 325.0)], 10.0), "from 150° it ends on a dog");
        // Three equal ones, one dog of which is moved.
        assert!(across(&[(0.0, 60.0), (120.0, 180.0), (240.0, 300.0)], 15.0));
        assert!(!across(&[(0.0, 60.0), (120.0, 175.0), (240.0, 300.0)], 15.0));
        assert!(!across(&[], 10.0) && !across(&[(0.0, 60.0)], f64::NAN));
    }

    #[test]
    fn slots_of_parallel_flanks_run_across_with_an_odd_count() {
        // Dogs of three, 10 mm wide, middle of the first at 0°.
        let slant = libm::asin(5.0 / BORE);
        let third = TAU / 3.0;
        let space = |at: u32| Space {
            from: Angle::from_radians(third * f64::from(at) + slant),
            width: Angle::from_radians(third - 2.0 * slant),
            flank_mm: 5.0,
        };
        let three: Vec<Space> = (0..3).map(space).collect();
        // The dog at 120° reaches to 133.1°: there the far end may begin, at 22·sin 46.9° − 5 = 11.05.
        assert!(runs_across(&three, 11.0, BORE, RIM));
        assert!(!runs_across(&three, 11.1, BORE, RIM));
    }
}
