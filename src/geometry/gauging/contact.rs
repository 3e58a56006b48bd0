//! What blue or polish on some dogs says: spacing, one dog out of place, or a shaft that is bent.

use std::f64::consts::TAU;

/// What the marks or the measured flanks look like.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contact {
    /// All dogs carry.
    All,
    /// One dog carries alone, or stands back alone: it is out of its place. The dog, and whether it
    /// carries.
    OneDog {
        /// The dog, from 0.
        place: usize,
        /// Whether it stands out, and not back.
        stands_out: bool,
    },
    /// The dogs on one side carry: the shaft is bent, or the gear tilts or runs out. Once a turn.
    OneSide {
        /// Middle of that side, radians.
        toward: f64,
    },
    /// Dogs in several places carry: the spacing is uneven.
    Scattered,
}

/// What the marks say. For each dog the angle of its middle, radians, and whether it shows contact. `None` without
/// any mark, and below three dogs, where one side is one dog.
pub fn contact(dogs: &[(f64, bool)]) -> Option<Contact> {
    let marked = dogs.iter().filter(|dog| dog.1).count();
    if marked == 0 || dogs.len() < 3 {
        return None;
    }
    let alone = |stands_out: bool| {
        let place = dogs.iter().position(|dog| dog.1 == stands_out)?;
        Some(Contact::OneDog { place, stands_out })
    };
    if marked == dogs.len() {
        return Some(Contact::All);
    }
    if marked == 1 {
        return alone(true);
    }
    if marked + 1 == dogs.len() {
        return alone(false);
    }
    Some(one_side(dogs).unwrap_or(Contact::Scattered))
}

/// One run of dogs, within half a turn.
fn one_side(dogs: &[(f64, bool)]) -> Option<Contact> {
    let mut order: Vec<(f64, bool)> = dogs.to_vec();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let n = order.len();
    let begins: Vec<usize> =
        (0..n).filter(|at| order[*at].1 && !order[(at + n - 1) % n].1).collect();
    let &[first] = begins.as_slice() else { return None };
    let count = order.iter().filter(|dog| dog.1).count();
    let from = order[first].0;
    let wide = (order[(first + count - 1) % n].0 - from).rem_euclid(TAU);
    let toward = (from + wide / 2.0).rem_euclid(TAU);
    (wide <= TAU / 2.0 + 1e-9).then_some(Contact::OneSide { toward })
}

/// What measured flanks say. For each dog where it is, radians, and how far its flank is from its place in an
/// even ring, radians; `sigma` is the uncertainty of these.
///
/// Three models are compared by what they leave over: nothing wrong, once a turn (`a·cos θ + b·sin θ`), and one dog
/// out of place. `None` below four dogs, which either model meets. [`Contact::All`] if no flank is off by more than
/// 3σ.
pub fn contact_by_spacing(dogs: &[(f64, f64)], sigma: f64) -> Option<Contact> {
    if dogs.len() < 4 {
        return None;
    }
    let middle = median(dogs.iter().map(|dog| dog.1));
    let off: Vec<(f64, f64)> = dogs.iter().map(|(at, off)| (*at, off - middle)).collect();
    if off.iter().all(|(_, off)| off.abs() <= 3.0 * sigma) {
        return Some(Contact::All);
    }
    let (place, left_by_dog) = one_dog(&off);
    let (toward, left_by_turn) = once_a_turn(dogs);
    // One dog costs two numbers, once a turn three: the remainders are compared by degrees of freedom.
    let n = dogs.len() as f64;
    let [by_dog, by_turn] = [left_by_dog / (n - 2.0), left_by_turn / (n - 3.0)];
    let all: f64 = off.iter().map(|(_, off)| off * off).sum::<f64>() / (n - 1.0);
    if by_dog.min(by_turn) > all / 2.0 {
        return Some(Contact::Scattered);
    }
    // The drive flank is on the clockwise side: it stands out where it is further clockwise.
    let stands_out = off[place].1 < 0.0;
    let dog = Contact::OneDog { place, stands_out };
    Some(if by_dog <= by_turn { dog } else { Contact::OneSide { toward } })
}

fn median(values: impl Iterator<Item = f64>) -> f64 {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    let at = values.len() / 2;
    if values.len() % 2 == 1 { values[at] } else { (values[at - 1] + values[at]) / 2.0 }
}

/// The dog without which the others are most alike, and the squares that they leave.
fn one_dog(dogs: &[(f64, f64)]) -> (usize, f64) {
    let left = |out: usize| {
        let others = || dogs.iter().enumerate().filter(|(at, _)| *at != out).map(|(_, dog)| dog.1);
        let mean = others().sum::<f64>() / (dogs.len() - 1) as f64;
        others().map(|off| (off - mean) * (off - mean)).sum::<f64>()
    };
    let each = (0..dogs.len()).map(|out| (out, left(out)));
    each.min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or((0, 0.0))
}

/// Where the wave that fits is furthest clockwise, and the squares that it leaves. For dogs that are nearly even.
fn once_a_turn(dogs: &[(f64, f64)]) -> (f64, f64) {
    let n = dogs.len() as f64;
    let mean = dogs.iter().map(|dog| dog.1).sum::<f64>() / n;
    let by = |wave: fn(f64) -> f64| {
        dogs.iter().map(|(at, off)| (off - mean) * wave(*at)).sum::<f64>() * 2.0 / n
    };
    let (a, b) = (by(libm::cos), by(libm::sin));
    let left = |(at, off): &(f64, f64)| {
        let left = off - mean - a * libm::cos(*at) - b * libm::sin(*at);
        left * left
    };
    (libm::atan2(-b, -a).rem_euclid(TAU), dogs.iter().map(left).sum())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marked(marks: &[u8]) -> Option<Contact> {
        let n = marks.len() as f64;
        let dogs: Vec<_> =
            marks.iter().enumerate().map(|(at, mark)| (TAU * at as f64 / n, *mark == 1)).collect();
        contact(&dogs)
    }

    #[test]
    fn blue_on_one_side_is_no_wrong_index() {
        let one = |place, stands_out| Some(Contact::OneDog { place, stands_out });
        assert_eq!(marked(&[0, 0, 1, 0, 0, 0]), one(2, true));
        assert_eq!(marked(&[1, 1, 1, 0, 1, 1]), one(3, false));
        assert_eq!(marked(&[1, 0, 1, 0, 1, 0]), Some(Contact::Scattered));
        assert_eq!(marked(&[1; 6]), Some(Contact::All));
        assert_eq!(marked(&[0; 6]), None);
        assert_eq!(marked(&[1, 0]), None);
        // Dogs 6, 1 and 2, across the datum.
        let Some(Contact::OneSide { toward }) = marked(&[1, 1, 0, 0, 0, 1]) else { panic!() };
        assert!(toward.min(TAU - toward) < 1e-12, "{toward}");
    }

    #[test]
    fn a_wave_is_a_bent_shaft_and_a_step_is_a_wrong_index() {
        let even = |off: &dyn Fn(f64, usize) -> f64| {
            let dogs = (0..8).map(|at| (TAU * at as f64 / 8.0, at));
            dogs.map(|(angle, at)| (angle, off(angle, at))).collect::<Vec<_>>()
        };
        // The flank is furthest clockwise, at −0.01, where the wave has its least: at 1 + π.
        let bent = even(&|angle, _| 0.01 * libm::cos(angle - 1.0));
        let Some(Contact::OneSide { toward }) = contact_by_spacing(&bent, 3e-4) else { panic!() };
        assert!((toward - 1.0 - TAU / 2.0).abs() < 1e-9, "{toward}");
        let wrong = even(&|_, at| if at == 3 { -0.004 } else { 0.0 });
        let told = contact_by_spacing(&wrong, 3e-4);
        assert_eq!(told, Some(Contact::OneDog { place: 3, stands_out: true }));
        assert_eq!(contact_by_spacing(&even(&|_, _| 1e-4), 3e-4), Some(Contact::All));
        let twice = even(&|angle, _| 0.01 * libm::cos(2.0 * angle));
        assert_eq!(contact_by_spacing(&twice, 3e-4), Some(Contact::Scattered));
    }
}
