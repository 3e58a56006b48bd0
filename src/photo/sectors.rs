//! Which parts of a circle are dogs, by their light.

use std::f64::consts::TAU;

use crate::small::median;

/// Samples round the circle, and how many next to each other are taken together.
pub(crate) const SAMPLES: usize = 1440;
const SMOOTHED: usize = 3;

/// Thresholds that are tried, and the least width of a dog or of a gap, samples.
const THRESHOLDS: usize = 31;
const LEAST: usize = 10;

/// A dog from its clockwise to its counter-clockwise end, radians.
pub(crate) type Sector = (f64, f64);

/// The dogs on a circle of light, counter-clockwise, brighter or darker than the gaps. Among thresholds the one is taken
/// with as many dogs as expected, nearest to that which parts light from dark best (Otsu, 1979).
pub(crate) fn sectors(light: &[f64], is_bright: bool, expected: Option<usize>) -> Vec<Sector> {
    let sign = if is_bright { 1.0 } else { -1.0 };
    let smooth: Vec<f64> = (0..light.len())
        .map(|at| {
            let near = (0..=2 * SMOOTHED)
                .map(|by| light[(at + light.len() + by - SMOOTHED) % light.len()]);
            sign * median(near).unwrap_or_default()
        })
        .collect();
    let mut sorted = smooth.clone();
    sorted.sort_by(f64::total_cmp);
    let (Some(&low), Some(&high)) =
        (sorted.get(sorted.len() / 50), sorted.get(sorted.len() * 49 / 50))
    else {
        return Vec::new();
    };
    let mut tried: Vec<(f64, Vec<Sector>)> = (1..THRESHOLDS)
        .map(|at| low + (high - low) * at as f64 / THRESHOLDS as f64)
        .map(|threshold| (parted(&sorted, threshold), runs(&smooth, threshold)))
        .collect();
    tried.sort_by(|a, b| b.0.total_cmp(&a.0));
    let at = tried.iter().position(|(_, dogs)| Some(dogs.len()) == expected).unwrap_or(0);
    if tried.is_empty() { Vec::new() } else { tried.swap_remove(at).1 }
}

/// Variance between the two classes of a threshold.
fn parted(sorted: &[f64], threshold: f64) -> f64 {
    let below = sorted.partition_point(|light| *light < threshold);
    let mean = |part: &[f64]| part.iter().sum::<f64>() / part.len().max(1) as f64;
    let (dark, bright) = sorted.split_at(below);
    let apart = mean(bright) - mean(dark);
    dark.len() as f64 * bright.len() as f64 * apart * apart
}

/// The runs above a threshold, without those too short and with breaks too short filled.
fn runs(light: &[f64], threshold: f64) -> Vec<Sector> {
    let many = light.len();
    let mut is_dog: Vec<bool> = light.iter().map(|light| *light >= threshold).collect();
    for value in [false, true] {
        for (start, length) in runs_of(&is_dog, value).into_iter().filter(|run| run.1 < LEAST) {
            (start..start + length).for_each(|at| is_dog[at % many] = !value);
        }
    }
    let angle = |at: usize| TAU * (at as f64 - 0.5) / many as f64;
    let runs = runs_of(&is_dog, true);
    runs.into_iter().map(|(start, length)| (angle(start), angle(start + length))).collect()
}

/// Each run of a value: where it starts and how long it is. None where all are alike.
fn runs_of(all: &[bool], value: bool) -> Vec<(usize, usize)> {
    let many = all.len();
    let is_start = |at: &usize| all[*at] == value && all[(at + many - 1) % many] != value;
    let length =
        |start: usize| (0..many).take_while(|by| all[(start + by) % many] == value).count();
    (0..many).filter(is_start).map(|start| (start, length(start))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dogs_are_the_bright_or_the_dark_parts() {
        let light: Vec<f64> = (0..SAMPLES)
            .map(|at| {
                if (at + 48) % 240 < 96 { 180.0 + (at % 7) as f64 } else { 70.0 + (at / 20) as f64 }
            })
            .collect();
        let dogs = sectors(&light, true, Some(6));
        assert_eq!(dogs.len(), 6);
        for (start, end) in dogs {
            assert!(((end - start).to_degrees() - 24.0).abs() < 1.5, "{start} {end}");
        }
        let gaps = sectors(&light, false, None);
        assert!(gaps.iter().all(|(a, b)| ((b - a).to_degrees() - 36.0).abs() < 2.5), "{gaps:?}");
        assert!(sectors(&[], true, None).is_empty());
        assert!(sectors(&[9.0; 90], true, None).is_empty());
    }
}
