//! Where the ring may be: where light repeats as often round a circle as there are dogs.

use std::f64::consts::TAU;
use std::sync::LazyLock;

use crate::picture::Grey;

/// Middles tried along the shorter side, radii tried for each, and samples round each circle.
const MIDDLES: usize = 25;
const RADII: usize = 28;
const AROUND: usize = 128;

/// Smallest and largest radius, in shorter sides of the picture.
const LEAST: f64 = 0.10;
const MOST: f64 = 0.55;

/// Steps of the finer search, each over the places next to the best one.
const FINER: usize = 5;

/// Fewer levels are no pattern.
const LEAST_LEVELS: f64 = 2.0;

/// The tips reach as far as light repeats by this share of its most.
const SHARE: f64 = 0.5;

/// Middle, outer and inner radius of the tips, px, as the picture suggests; `None` where light repeats nowhere.
pub fn propose(grey: &Grey, dogs: usize) -> Option<([f64; 2], f64, f64)> {
    let [width, height] = grey.size();
    let side = width.min(height);
    let step = side / MIDDLES as f64;
    let radius = |at: usize| side * (LEAST + (MOST - LEAST) * at as f64 / RADII as f64);
    let radii: Vec<f64> = (0..=RADII).map(radius).collect();
    let mut best = (0.0, [0.0; 2], 0.0);
    let mut y = step / 2.0;
    while y < height {
        let mut x = step / 2.0;
        while x < width {
            best = better(grey, dogs, [x, y], &radii, best);
            x += step;
        }
        y += step;
    }
    let mut near = step;
    for _ in 0..FINER {
        near /= 2.0;
        let [x, y] = best.1;
        let around: Vec<f64> = (-2..=2).map(|by| best.2 + f64::from(by) * near / 2.0).collect();
        for (right, down) in [(0.0, 0.0), (near, 0.0), (-near, 0.0), (0.0, near), (0.0, -near)] {
            best = better(grey, dogs, [x + right, y + down], &around, best);
        }
    }
    let (power, middle, radius) = best;
    (power > 0.0).then(|| {
        let reach = |by: f64| {
            let is_ring = |r: &f64| {
                repeats(grey, dogs, middle, *r).is_some_and(|(own, _)| own > SHARE * power / radius)
            };
            let out = (1..120).map(|at| radius * (1.0 + by * f64::from(at) * 0.005));
            out.take_while(is_ring).last().unwrap_or(radius)
        };
        (middle, reach(1.0), reach(-1.0))
    })
}

/// The better of a place and the best one up to now: how much light repeats, by the radius, and where.
fn better(
    grey: &Grey,
    dogs: usize,
    middle: [f64; 2],
    radii: &[f64],
    best: (f64, [f64; 2], f64),
) -> (f64, [f64; 2], f64) {
    radii.iter().fold(best, |best, radius| match repeats(grey, dogs, middle, *radius) {
        // What repeats more often than the dogs, or once a turn, is another pattern or light from the side.
        Some((own, others)) if own > others.max(LEAST_LEVELS) && own * radius > best.0 => {
            (own * radius, middle, *radius)
        }
        _ => best,
    })
}

/// Sine and cosine of each sample's angle.
static TURNS: LazyLock<[(f64, f64); AROUND]> =
    LazyLock::new(|| std::array::from_fn(|at| libm::sincos(TAU * at as f64 / AROUND as f64)));

/// Levels by which light repeats with the dogs round a circle, and by which it does with fewer repeats; `None` where the
/// circle leaves the picture.
fn repeats(grey: &Grey, dogs: usize, [x, y]: [f64; 2], radius: f64) -> Option<(f64, f64)> {
    let mut light = [0.0; AROUND];
    for (light, (sin, cos)) in light.iter_mut().zip(TURNS.iter()) {
        *light = grey.at([x + radius * cos, y + radius * sin])?;
    }
    let strength = |times: usize| {
        let (mut even, mut odd) = (0.0, 0.0);
        for (at, light) in light.iter().enumerate() {
            let (sin, cos) = TURNS[(times * at) % AROUND];
            even += light * cos;
            odd += light * sin;
        }
        libm::hypot(even, odd) / AROUND as f64
    };
    Some((strength(dogs), strength(dogs.saturating_sub(1)).max(strength(dogs + 1))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ring_is_found_in_a_picture() {
        let [x0, y0] = [330.0, 250.0];
        let light = |at: usize| {
            let (x, y) = ((at % 640) as f64 - x0, (at / 640) as f64 - y0);
            let (r, turn) = (libm::hypot(x, y), libm::atan2(y, x).rem_euclid(TAU / 6.0));
            if (110.0..150.0).contains(&r) && turn < 0.42 { 200 } else { 70 }
        };
        let grey = Grey::new(640, 480, (0..640 * 480).map(light).collect()).expect("a picture");
        let ([x, y], outer, inner) = propose(&grey, 6).expect("a ring");
        assert!((x - x0).abs() < 4.0 && (y - y0).abs() < 4.0, "{x} {y}");
        assert!((outer - 150.0).abs() < 6.0 && (inner - 110.0).abs() < 6.0, "{outer} {inner}");
        let flat = Grey::new(64, 64, vec![90; 4096]).expect("a picture");
        assert_eq!(propose(&flat, 6), None);
    }
}
