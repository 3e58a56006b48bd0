//! The catalogue of checks, from the pedal inwards.

use std::fmt;

use crenel_words::{Message, Phrase, diagnosis as say};

use super::evidence::{Evidence, Judgement};
use super::sketch::{self, Sketch};
use crate::design::Symptom;
use crate::fields::FieldId;
use crate::finding::Class;
use crate::ring::FlankSide;

/// The place of a check between the pedal and the dogs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Station {
    /// The clutch.
    Clutch,
    /// Pedal, rod and lever.
    Linkage,
    /// Claw, stop and detent.
    Claw,
    /// Shims, clearance and engaged depth.
    Depth,
    /// Faces, edges and flanks of the dogs.
    Faces,
    /// The layout of the dogs.
    Layout,
}

impl Station {
    /// All of them, from the outside in.
    pub const ALL: [Self; 6] =
        [Self::Clutch, Self::Linkage, Self::Claw, Self::Depth, Self::Faces, Self::Layout];

    /// Its heading.
    pub fn title(self) -> Message {
        match self {
            Self::Clutch => say::clutch(),
            Self::Linkage => say::linkage(),
            Self::Claw => say::claw(),
            Self::Depth => say::depth(),
            Self::Faces => say::faces(),
            Self::Layout => say::layout(),
        }
    }
}

/// One thing to check. Its row in [`CHECKS`] defines all of it.
pub struct Check {
    /// Its name in the page and in tests; no two checks have the same.
    pub key: &'static str,
    /// Its heading.
    pub title: Phrase,
    /// Its place between the pedal and the dogs.
    pub station: Station,
    /// The symptoms that it can explain.
    pub symptoms: &'static [Symptom],
    /// What clears it: said of when it happens, it cannot be this one.
    pub cleared_by: &'static [Symptom],
    /// How grave it is if a measured number fails; `None` where something else says so.
    pub class: Option<Class>,
    /// The measured numbers that decide it; empty if the design itself does.
    pub measured: &'static [FieldId],
    /// The next step if it fails; the outcome of the check can replace it.
    pub next: Phrase,
    /// Where to measure.
    pub sketch: Sketch,
    /// The function that judges the numbers, or says which are missing.
    pub(super) judge: fn(&Evidence) -> Judgement,
}

impl PartialEq for Check {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}

impl fmt::Debug for Check {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.key)
    }
}

/// The keys of all checks, for those who must not bring the checks themselves along.
const KEYS: [&str; CHECKS.len()] = {
    let mut keys = [""; CHECKS.len()];
    let mut at = 0;
    while at < keys.len() {
        keys[at] = CHECKS[at].key;
        at += 1;
    }
    keys
};

/// The key of the check with a name, if there is one.
///
/// ```
/// use crenel::diagnosis::check_key;
/// assert_eq!(check_key("clutch_release"), Some("clutch_release"));
/// assert_eq!(check_key("no such check"), None);
/// ```
pub fn check_key(name: &str) -> Option<&'static str> {
    KEYS.iter().find(|key| **key == name).copied()
}

/// Every check, from the outside in. Which symptoms belong to which is common practice, no source; those of a
/// complaint only when cold or only when hot, and what clears a check, are from memory.
pub static CHECKS: &[Check] = &[
    Check {
        key: "clutch_release",
        title: say::clutch_release,
        station: Station::Clutch,
        symptoms: &[Symptom::WILL_NOT, Symptom::GRINDS, Symptom::ONLY_COLD, Symptom::ONLY_HOT],
        cleared_by: &[Symptom::ONE_GEAR, Symptom::NO_CLUTCH],
        class: Some(Class::Entry),
        measured: &[FieldId::SeenClutchSpeed],
        next: say::free_clutch,
        sketch: sketch::CLUTCH_RELEASE,
        judge: |evidence| evidence.clutch_release(),
    },
    Check {
        key: "rod_angle",
        title: say::rod_angle,
        station: Station::Linkage,
        symptoms: &[Symptom::WILL_NOT, Symptom::SLOW, Symptom::HANGS, Symptom::KICKS_BACK],
        cleared_by: &[Symptom::ONE_GEAR],
        class: Some(Class::Fit),
        measured: &[FieldId::SeenRodAngle],
        next: say::turn_lever,
        sketch: sketch::ROD_ANGLE,
        judge: |evidence| evidence.rod_angle(),
    },
    Check {
        key: "pedal_reach",
        title: say::pedal_reach,
        station: Station::Linkage,
        symptoms: &[
            Symptom::WILL_NOT,
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        cleared_by: &[Symptom::ONE_GEAR],
        class: Some(Class::Fit),
        measured: &[FieldId::SeenSpareLift, FieldId::SeenSparePress],
        next: say::more_travel,
        sketch: sketch::PEDAL_REACH,
        judge: |evidence| evidence.pedal_reach(),
    },
    Check {
        key: "stop_gap",
        title: say::stop_gap,
        station: Station::Claw,
        symptoms: &[
            Symptom::WILL_NOT,
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::FALSE_NEUTRAL,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        cleared_by: &[Symptom::ONE_GEAR],
        class: Some(Class::Fit),
        measured: &[FieldId::SeenGapLift, FieldId::SeenGapPress],
        next: say::set_gaps,
        sketch: sketch::STOP_GAP,
        judge: |evidence| evidence.stop_gap(),
    },
    Check {
        key: "equal_gaps",
        title: say::equal_gaps,
        station: Station::Claw,
        symptoms: &[Symptom::FALSE_NEUTRAL, Symptom::KICKS_BACK, Symptom::CRUNCHES_LOW],
        cleared_by: &[Symptom::ONE_GEAR],
        class: Some(Class::Fit),
        measured: &[],
        next: say::even_gaps,
        sketch: sketch::EQUAL_GAPS,
        judge: |evidence| evidence.equal_gaps(),
    },
    Check {
        key: "detent_return",
        title: say::detent_return,
        station: Station::Claw,
        symptoms: &[
            Symptom::SLOW,
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::FALSE_NEUTRAL,
            Symptom::KICKS_BACK,
            Symptom::ONLY_COLD,
        ],
        cleared_by: &[Symptom::ONE_GEAR, Symptom::ONE_WAY],
        class: Some(Class::Fit),
        measured: &[FieldId::SeenDrumDrag],
        next: say::free_roller,
        sketch: sketch::DETENT_RETURN,
        judge: |evidence| evidence.detent_return(),
    },
    Check {
        key: "drum_rocking",
        title: say::drum_play,
        station: Station::Claw,
        symptoms: &[Symptom::JUMPS_POWER, Symptom::JUMPS_OVERRUN, Symptom::FALSE_NEUTRAL],
        cleared_by: &[Symptom::ONE_GEAR, Symptom::ONE_WAY],
        class: Some(Class::Fit),
        measured: &[FieldId::SeenDrumSlack],
        next: say::new_roller,
        sketch: sketch::DRUM_ROCKING,
        judge: |evidence| evidence.drum_rocking(),
    },
    Check {
        key: "neutral_clearance",
        title: say::neutral_clearance,
        station: Station::Depth,
        symptoms: &[
            Symptom::GRINDS,
            Symptom::FALSE_NEUTRAL,
            Symptom::CRUNCHES_LOW,
            Symptom::ONLY_HOT,
        ],
        cleared_by: &[Symptom::EVERY_GEAR],
        class: Some(Class::Blocked),
        measured: &[FieldId::SeenClearanceThis, FieldId::SeenClearanceOther],
        next: say::shim_to_middle,
        sketch: sketch::NEUTRAL_CLEARANCE,
        judge: |evidence| evidence.neutral_clearance(),
    },
    Check {
        key: "engaged_depth",
        title: say::engaged_depth,
        station: Station::Depth,
        symptoms: &[
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::KICKS_BACK,
            Symptom::ONLY_HOT,
        ],
        cleared_by: &[Symptom::EVERY_GEAR],
        class: Some(Class::Fit),
        measured: &[FieldId::SeenOverlap],
        next: say::check_fork,
        sketch: sketch::ENGAGED_DEPTH,
        judge: |evidence| evidence.engaged_depth(),
    },
    Check {
        key: "fork_play",
        title: say::fork_play,
        station: Station::Depth,
        symptoms: &[Symptom::JUMPS_POWER, Symptom::JUMPS_OVERRUN, Symptom::HANGS],
        cleared_by: &[Symptom::EVERY_GEAR],
        class: Some(Class::Fit),
        measured: &[FieldId::SeenForkPlay],
        next: say::new_fork,
        sketch: sketch::FORK_PLAY,
        judge: |evidence| evidence.fork_play(),
    },
    Check {
        key: "tip_faces",
        title: say::tip_faces,
        station: Station::Faces,
        symptoms: &[
            Symptom::WILL_NOT,
            Symptom::SLOW,
            Symptom::HANGS,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        cleared_by: &[Symptom::EVERY_GEAR],
        class: Some(Class::Entry),
        measured: &[FieldId::SeenTipFriction],
        next: say::lap_tips,
        sketch: sketch::TIP_FACES,
        judge: |evidence| evidence.tip_faces(),
    },
    Check {
        key: "tip_edges",
        title: say::tip_edges,
        station: Station::Faces,
        symptoms: &[
            Symptom::GRINDS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        cleared_by: &[Symptom::EVERY_GEAR],
        class: Some(Class::Hold),
        measured: &[FieldId::SeenEdgeA, FieldId::SeenEdgeB],
        next: say::recut_edges,
        sketch: sketch::TIP_EDGES,
        judge: |evidence| evidence.tip_edges(),
    },
    Check {
        key: "drive_flanks",
        title: say::drive_flanks,
        station: Station::Faces,
        symptoms: &[Symptom::JUMPS_POWER],
        cleared_by: &[Symptom::EVERY_GEAR],
        class: Some(Class::Hold),
        measured: &[FieldId::SeenFlankDrive],
        next: say::recut_to_undercut,
        sketch: sketch::DRIVE_FLANKS,
        judge: |evidence| evidence.flanks(FlankSide::Drive),
    },
    Check {
        key: "coast_flanks",
        title: say::coast_flanks,
        station: Station::Faces,
        symptoms: &[Symptom::JUMPS_OVERRUN],
        cleared_by: &[Symptom::EVERY_GEAR],
        class: Some(Class::Hold),
        measured: &[FieldId::SeenFlankCoast],
        next: say::recut_to_undercut,
        sketch: sketch::COAST_FLANKS,
        judge: |evidence| evidence.flanks(FlankSide::Coast),
    },
    Check {
        key: "entry_time",
        title: say::entry_time,
        station: Station::Layout,
        symptoms: &[
            Symptom::WILL_NOT,
            Symptom::SLOW,
            Symptom::HANGS,
            Symptom::GRINDS,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        cleared_by: &[],
        class: None,
        measured: &[],
        next: say::open_windows,
        sketch: sketch::ENTRY_TIME,
        judge: |evidence| evidence.entry_time(),
    },
    Check {
        key: "lash",
        title: say::lash,
        station: Station::Layout,
        symptoms: &[Symptom::CLUNKS],
        cleared_by: &[],
        class: None,
        measured: &[FieldId::SeenLash],
        next: say::less_lash,
        sketch: sketch::LASH,
        judge: |evidence| evidence.lash(),
    },
    Check {
        key: "clunk",
        title: say::clunk,
        station: Station::Layout,
        symptoms: &[Symptom::CLUNKS],
        cleared_by: &[],
        class: None,
        measured: &[],
        next: say::lower_shock,
        sketch: sketch::CLUNK,
        judge: |evidence| evidence.clunk(),
    },
    #[cfg(test)]
    super::dummy::DUMMY,
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::design::{SYMPTOMS, Trace};

    #[test]
    fn checks_run_from_the_outside_in() {
        assert!(CHECKS.is_sorted_by_key(|check| check.station), "a check is out of order");
    }

    #[test]
    fn keys_and_titles_are_unique() {
        let keys: BTreeSet<_> = CHECKS.iter().map(|check| check.key).collect();
        let titles: BTreeSet<_> = CHECKS.iter().map(|check| (check.title)().key()).collect();
        assert_eq!([keys.len(), titles.len()], [CHECKS.len(); 2]);
    }

    #[test]
    fn every_symptom_has_checks_to_work_through() {
        for symptom in SYMPTOMS.iter().filter(|s| !s.is_when && **s != Symptom::DUMMY) {
            let checks = CHECKS.iter().filter(|check| check.symptoms.contains(symptom));
            assert!(checks.count() >= 2, "{symptom:?}");
        }
    }

    #[test]
    fn what_says_when_clears_checks_and_asks_for_none() {
        for symptom in SYMPTOMS {
            let asks = CHECKS.iter().any(|check| check.symptoms.contains(symptom));
            let clears = CHECKS.iter().filter(|check| check.cleared_by.contains(symptom)).count();
            assert_eq!((asks, clears > 0), (!symptom.is_when, symptom.is_when), "{symptom:?}");
            assert!(clears < CHECKS.len() / 2 + 1, "{symptom:?}");
        }
    }

    #[test]
    fn every_check_shows_where_to_measure() {
        for check in CHECKS {
            let Sketch { still, moving: _, gauge } = check.sketch;
            for path in [still, gauge] {
                let is_path = |c: char| c.is_ascii_alphanumeric() || " .-".contains(c);
                assert!(path.starts_with('M') && path.chars().all(is_path), "{check:?}: {path}");
            }
        }
    }

    #[test]
    fn each_number_that_can_be_measured_decides_one_check() {
        let measured: Vec<_> = CHECKS.iter().flat_map(|check| check.measured).copied().collect();
        assert_eq!(measured, Trace::FIELDS);
    }
}
