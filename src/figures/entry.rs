//! Getting in: the windows between all tips that come level before the holding depth.
//!
//! The free angle is that of §2 of the engagement model, just past tip level, wherever tips are equal.
//! Dogs that are lower by a few hundredths, from wear or from a cut, do not open anything: a shift meets
//! them before any flank can hold. So every dog counts that comes level before the holding depth, to its own tip.

use std::f64::consts::TAU;

use crenel_words::{Message, working as say};

use super::context::{PairContext, deg, formula, mm};
use super::figure::{Answer, Better, Compute, Figure, Group};
use super::lash::window;
use super::{GEOMETRY, count};
use crate::design::SettingField;
use crate::pair::{Arc, extremes};
use crate::units::Quantity;

const WINDOWS: &str = "circle − union of all arcs φᵢⱼ ± β, β = ½(wᵢ + wⱼ), of dogs that come level before the holding \
    depth";

/// How wide the widest entry window is.
pub static FREE_ANGLE: Figure = Figure {
    key: "free_angle_deg",
    group: Group::Entry,
    label: "Window width",
    quantity: Quantity::Angle,
    better: Better::More,
    limit: None,
    needs: &[],
    formula: WINDOWS,
    meaning: "How far one ring can turn in the widest window between sharp tips; dogs shorter by less than the \
        holding depth count too. A wider window gives more time to drop in, and usually more lash.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let widest = extremes(&context.pair.entry).map(|(_, widest)| widest.degrees());
        Some(Answer::number(widest, windows(context)))
    }),
};

/// How many entry windows there are.
pub static ENTRY_WINDOWS: Figure = Figure {
    key: "entry_windows",
    group: Group::Entry,
    label: "Windows",
    quantity: Quantity::Count,
    better: Better::Neither,
    limit: None,
    needs: &[],
    formula: WINDOWS,
    meaning: "Number of windows in one turn; dogs shorter by less than the holding depth count like the tallest. \
        With more windows of the same width, the next one comes sooner and the tips rub for less time.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        Some(Answer::number(count(context.pair.entry.len()), windows(context)))
    }),
};

/// How wide the widest window is down to the holding depth, edge breaks counted.
pub static WIDTH_TO_HOLD: Figure = Figure {
    key: "free_angle_to_hold_deg",
    group: Group::Entry,
    label: "Window width with edge breaks",
    quantity: Quantity::Angle,
    better: Better::More,
    limit: None,
    needs: &[],
    formula: "widest window open down to the holding depth, wider by (eA + eB)/rm at each edge",
    meaning: "The widest window that stays open down to the holding depth, edge breaks included. Window time and \
        straight-in limit follow from it.",
    source: GEOMETRY,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let to_hold = &context.pair.to_hold;
        let widest = extremes(to_hold).map(|(_, widest)| widest.degrees());
        let working = say::windows_to_hold(
            context.given(SettingField::HoldDepth),
            mm(context.pair.mesh.contact.mean_mm()),
            list(to_hold),
        );
        Some(Answer::number(widest, working))
    }),
};

pub(super) static ROWS: &[&Figure] = &[
    &ENTRY_WINDOWS,
    &FREE_ANGLE,
    &Figure {
        key: "free_angle_narrowest_deg",
        group: Group::Entry,
        label: "Narrowest window",
        quantity: Quantity::Angle,
        better: Better::More,
        limit: None,
        needs: &[],
        formula: WINDOWS,
        meaning: "Width of the tightest window. If it is much narrower than the widest, the dogs are unevenly spaced \
            or cut, and some windows let the gear in less easily than others.",
        source: GEOMETRY,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let narrowest = extremes(&context.pair.entry).map(|(narrowest, _)| narrowest.degrees());
            Some(Answer::number(narrowest, windows(context)))
        }),
    },
    &Figure {
        key: "open_share",
        group: Group::Entry,
        label: "Fraction of the circle open",
        quantity: Quantity::Share,
        better: Better::More,
        limit: None,
        needs: &[],
        formula: "open share = Σ windows / 360°",
        meaning: "All windows together as a share of one turn: the chance that a window is open as the tips come \
            level.",
        source: GEOMETRY,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let open: f64 = context.pair.entry.iter().map(|window| window.width.radians()).sum();
            let working = formula("{} / {}", [open, TAU].map(|angle| deg(angle.to_degrees())));
            Some(Answer::number(open / TAU, working))
        }),
    },
    &WIDTH_TO_HOLD,
];

/// The entry windows and, where shorter dogs narrow them before the holding depth, what the tallest leave.
fn windows(context: &PairContext<'_>) -> Message {
    let [entry, at_tips] = [&context.pair.entry, &context.pair.at_tips].map(|w| list(w));
    if entry == at_tips {
        return entry;
    }
    say::windows_of_lower(entry, context.given(SettingField::HoldDepth), at_tips)
}

/// Windows from their start to their end, the first twelve of them.
fn list(windows: &[Arc]) -> Message {
    const LISTED: usize = 12;
    if windows.is_empty() {
        return say::no_window_open();
    }
    let listed = windows.iter().take(LISTED).map(|one| window(one).into()).collect();
    say::windows(listed, windows.len().saturating_sub(LISTED))
}

#[cfg(test)]
mod tests {
    use crate::analysis::Analysis;
    use crate::design::open;
    use crate::figures::figures;

    /// Free angle, windows and their working where one dog of six on either ring is as high as it was
    /// and the others are lower.
    fn worn(lower_mm: f64) -> (f64, f64, String) {
        let dog = |at: i32| {
            let height = if at == 0 { 5.0 } else { 5.0 - lower_mm };
            format!(r#"{{ "centre_deg": {}, "height_mm": {height} }}"#, 60 * at)
        };
        let dogs: Vec<_> = (0..6).map(dog).collect();
        let ring = format!(r#"{{ "dogs": [{}] }}"#, dogs.join(","));
        let saved = format!(r#"{{ "crenel": 1, "a": {ring}, "b": {ring} }}"#);
        let figures = figures(&Analysis::of(&open(&saved).expect("it opens").design));
        let one = |key: &str| figures.iter().find(|f| f.figure.key == key).expect("it is there");
        let number = |key| one(key).value.expect("a number");
        let working = one("free_angle_deg").working.show(Default::default());
        (number("free_angle_deg"), number("entry_windows"), working)
    }

    #[test]
    fn wear_of_hundredths_opens_nothing() {
        // Two dogs of 24° every 60° leave 12°; the tallest pair alone would leave 360° − 48°.
        for lower in [0.0, 0.001, 0.03, 0.49] {
            let (free, windows, working) = worn(lower);
            assert!((free - 12.0).abs() < 1e-9 && windows == 6.0, "{lower}: {free} {windows}");
            assert_eq!(working.contains("between the tallest alone"), lower > 0.0, "{working}");
            assert_eq!(working.contains("312°"), lower > 0.0, "{working}");
        }
        // From the holding depth of 1 mm on a lower dog leaves the window to the tall ones.
        let (free, windows, _) = worn(1.2);
        assert!((free - 312.0).abs() < 1e-9 && windows == 1.0, "{free} {windows}");
    }
}
