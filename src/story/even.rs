//! The gears of a story: alike and evenly spaced, whatever the reader's own look like.

use crate::design::{Cut, Design, EvenLayout, Layout, Plan, RingSpec, SizeBy};
use crate::ring::Side;

/// The dogs of a ring as if all were alike: as many, of their mean width, as tall as the tallest.
pub(super) fn alike(ring: &RingSpec) -> EvenLayout {
    let plain = |even: &EvenLayout| EvenLayout {
        tip_width_deg: even.dog_width_deg(),
        size_by: SizeBy::Dog,
        heights: vec![1.0],
        ..even.clone()
    };
    match &ring.layout {
        Layout::Even(even) => plain(even),
        Layout::Measured(dogs) => {
            let count = count_of(dogs.len());
            let mean = |read: fn(&crate::design::DogSpec) -> f64| {
                dogs.iter().map(read).sum::<f64>() / count.max(1.0)
            };
            EvenLayout {
                count,
                tip_width_deg: mean(|dog| dog.tip_width_deg),
                height_mm: dogs.iter().map(|dog| dog.height_mm).fold(0.0, f64::max),
                back_cut_drive_deg: mean(|dog| dog.back_cut_drive_deg),
                back_cut_coast_deg: mean(|dog| dog.back_cut_coast_deg),
                edge_break_mm: mean(|dog| dog.edge_break_mm),
                root_fillet_mm: mean(|dog| dog.root_fillet_mm),
                first_dog_deg: dogs.first().map_or(0.0, |dog| dog.centre_deg),
                ..EvenLayout::default()
            }
        }
    }
}

/// The design as found, both rings evenly spaced and changed alike.
pub(super) fn with_rings(base: &Design, change: impl Fn(&mut EvenLayout)) -> Design {
    let mut design = base.to_found();
    for side in Side::BOTH {
        let ring = design.ring_mut(side);
        let mut even = alike(ring);
        change(&mut even);
        ring.layout = Layout::Even(even);
        ring.readings = None;
    }
    design
}

/// The design as found and evenly spaced, with dogs of each ring cut to half their height, by place.
pub(super) fn with_cuts(base: &Design, cut: impl Fn(Side) -> Vec<usize>) -> Design {
    let mut design = with_rings(base, |_| ());
    for side in Side::BOTH {
        let half = alike(design.ring(side)).height_mm / 2.0;
        let cuts = cut(side).into_iter().map(|place| (place, Cut::Shorten(half)));
        design.ring_mut(side).plan = Plan::of_cuts(cuts);
    }
    design
}

/// A count as a number.
#[expect(clippy::cast_precision_loss, reason = "dogs are few")]
pub(super) const fn count_of(n: usize) -> f64 {
    n as f64
}
