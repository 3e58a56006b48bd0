//! The catalogue of checks, from the pedal inwards.

use std::fmt;

use super::evidence::{Evidence, Judgement};
use crate::design::Symptom;
use crate::fields::FieldId;
use crate::ring::FlankSide;

/// The place of a check between the pedal and the dogs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Station {
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
    pub const ALL: [Self; 5] = [Self::Linkage, Self::Claw, Self::Depth, Self::Faces, Self::Layout];

    /// Its heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Linkage => "Pedal linkage",
            Self::Claw => "Claw, stop and detent",
            Self::Depth => "Depth and shims",
            Self::Faces => "Faces, edges and flanks",
            Self::Layout => "Layout of the dogs",
        }
    }
}

/// One thing to check. Its row in [`CHECKS`] defines all of it.
pub struct Check {
    /// Its name in the page and in tests; no two checks have the same.
    pub key: &'static str,
    /// Its heading.
    pub title: &'static str,
    /// Its place between the pedal and the dogs.
    pub station: Station,
    /// The symptoms that it can explain.
    pub symptoms: &'static [Symptom],
    /// The measured numbers that decide it; empty if the design itself does.
    pub measured: &'static [FieldId],
    /// The next step if it fails; the outcome of the check can replace it.
    pub next: &'static str,
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

/// Every check, from the outside in. Which symptoms belong to which is common practice, no source.
pub static CHECKS: &[Check] = &[
    Check {
        key: "rod_angle",
        title: "Angle between rod and shaft lever",
        station: Station::Linkage,
        symptoms: &[Symptom::HANGS, Symptom::KICKS_BACK],
        measured: &[FieldId::SeenRodAngle],
        next: "Move the lever by a spline, or change rod and arms, until rod and lever stand square in the middle \
            of the swing.",
        judge: |evidence| evidence.rod_angle(),
    },
    Check {
        key: "pedal_reach",
        title: "Does the foot reach the stop?",
        station: Station::Linkage,
        symptoms: &[
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        measured: &[FieldId::SeenSpareLift, FieldId::SeenSparePress],
        next: "Give the pedal room, or more shaft for the same foot: a longer rod arm or a shorter shaft lever.",
        judge: |evidence| evidence.pedal_reach(),
    },
    Check {
        key: "stop_gap",
        title: "Gap left at the stop",
        station: Station::Claw,
        symptoms: &[
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::FALSE_NEUTRAL,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        measured: &[FieldId::SeenGapLift, FieldId::SeenGapPress],
        next: "Make the gaps equal with the eccentric, then the stop thinner where they are too large, or thicker \
            where they are too small.",
        judge: |evidence| evidence.stop_gap(),
    },
    Check {
        key: "equal_gaps",
        title: "The same gap both ways",
        station: Station::Claw,
        symptoms: &[Symptom::FALSE_NEUTRAL, Symptom::KICKS_BACK, Symptom::CRUNCHES_LOW],
        measured: &[],
        next: "Turn the eccentric, or file one side of a fixed stop.",
        judge: |evidence| evidence.equal_gaps(),
    },
    Check {
        key: "detent_return",
        title: "Does the roller bring the drum home?",
        station: Station::Claw,
        symptoms: &[
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::FALSE_NEUTRAL,
            Symptom::KICKS_BACK,
        ],
        measured: &[FieldId::SeenDrumDrag],
        next: "Free the roller, polish the star, a stronger spring; find what drags on the drum and forks.",
        judge: |evidence| evidence.detent_return(),
    },
    Check {
        key: "drum_rocking",
        title: "Rocking of the drum in its detent",
        station: Station::Claw,
        symptoms: &[Symptom::JUMPS_POWER, Symptom::JUMPS_OVERRUN, Symptom::FALSE_NEUTRAL],
        measured: &[FieldId::SeenDrumSlack],
        next: "A new roller and pin; a star whose valleys are not worn; check that the drum's bearing has no play.",
        judge: |evidence| evidence.drum_rocking(),
    },
    Check {
        key: "neutral_clearance",
        title: "Clearance in neutral",
        station: Station::Depth,
        symptoms: &[Symptom::FALSE_NEUTRAL, Symptom::CRUNCHES_LOW],
        measured: &[FieldId::SeenClearanceThis, FieldId::SeenClearanceOther],
        next: "Shim the sliding gear to the middle (see Depth); take metal off the tips only if shims do not do it.",
        judge: |evidence| evidence.neutral_clearance(),
    },
    Check {
        key: "engaged_depth",
        title: "Engaged depth",
        station: Station::Depth,
        symptoms: &[
            Symptom::HANGS,
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::KICKS_BACK,
        ],
        measured: &[FieldId::SeenOverlap],
        next: "Check fork, groove and drum track for wear, then shim (see Depth).",
        judge: |evidence| evidence.engaged_depth(),
    },
    Check {
        key: "fork_play",
        title: "Fork and groove",
        station: Station::Depth,
        symptoms: &[Symptom::JUMPS_POWER, Symptom::JUMPS_OVERRUN, Symptom::HANGS],
        measured: &[FieldId::SeenForkPlay],
        next: "A new fork, or its pads built up by a shop that can; look for a bent fork.",
        judge: |evidence| evidence.fork_play(),
    },
    Check {
        key: "tip_faces",
        title: "Tip faces",
        station: Station::Faces,
        symptoms: &[Symptom::HANGS, Symptom::KICKS_BACK, Symptom::CRUNCHES_LOW],
        measured: &[FieldId::SeenTipFriction],
        next: "Lap or polish the tip faces of both rings; “What if only the tip faces were polished?” shows what \
            that alone would do.",
        judge: |evidence| evidence.tip_faces(),
    },
    Check {
        key: "tip_edges",
        title: "Tip edges",
        station: Station::Faces,
        symptoms: &[
            Symptom::JUMPS_POWER,
            Symptom::JUMPS_OVERRUN,
            Symptom::KICKS_BACK,
            Symptom::CRUNCHES_LOW,
        ],
        measured: &[FieldId::SeenEdgeA, FieldId::SeenEdgeB],
        next: "Re-cut the flanks until the rounding is gone (Rework), or count on the larger holding depth and see \
            what Shift says.",
        judge: |evidence| evidence.tip_edges(),
    },
    Check {
        key: "drive_flanks",
        title: "Drive flanks",
        station: Station::Faces,
        symptoms: &[Symptom::JUMPS_POWER],
        measured: &[FieldId::SeenFlankDrive],
        next: UNDERCUT,
        judge: |evidence| evidence.flanks(FlankSide::Drive),
    },
    Check {
        key: "coast_flanks",
        title: "Coast flanks",
        station: Station::Faces,
        symptoms: &[Symptom::JUMPS_OVERRUN],
        measured: &[FieldId::SeenFlankCoast],
        next: UNDERCUT,
        judge: |evidence| evidence.flanks(FlankSide::Coast),
    },
    Check {
        key: "entry_time",
        title: "Time to get in",
        station: Station::Layout,
        symptoms: &[Symptom::HANGS, Symptom::KICKS_BACK, Symptom::CRUNCHES_LOW],
        measured: &[],
        next: "Fewer tall dogs or narrower ones open longer windows (Rework, wished window time); a faster push \
            helps too.",
        judge: |evidence| evidence.entry_time(),
    },
    Check {
        key: "lash",
        title: "Lash",
        station: Station::Layout,
        symptoms: &[Symptom::CLUNKS],
        measured: &[FieldId::SeenLash],
        next: "Less lash by the layout: more dogs, or half-height dogs in between (Rework).",
        judge: |evidence| evidence.lash(),
    },
    Check {
        key: "clunk",
        title: "Blow on opening the throttle",
        station: Station::Layout,
        symptoms: &[Symptom::CLUNKS],
        measured: &[],
        next: "Less lash: more dogs, or half-height dogs in between; a softer drive takes some of it (Shift).",
        judge: |evidence| evidence.clunk(),
    },
    #[cfg(test)]
    super::dummy::DUMMY,
];

/// What is next for the flanks of either side.
const UNDERCUT: &str =
    "Re-cut both rings to an undercut (Rework): 3 to 7 degrees are common practice, no source.";

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
        let distinct = |word: fn(&Check) -> &'static str| {
            CHECKS.iter().map(word).collect::<BTreeSet<_>>().len()
        };
        assert_eq!([distinct(|c| c.key), distinct(|c| c.title)], [CHECKS.len(); 2]);
    }

    #[test]
    fn every_symptom_has_checks_to_work_through() {
        for symptom in SYMPTOMS.iter().filter(|symptom| **symptom != Symptom::DUMMY) {
            let checks = CHECKS.iter().filter(|check| check.symptoms.contains(symptom));
            assert!(checks.count() >= 2, "{symptom:?}");
        }
    }

    #[test]
    fn each_number_that_can_be_measured_decides_one_check() {
        let measured: Vec<_> = CHECKS.iter().flat_map(|check| check.measured).copied().collect();
        assert_eq!(measured, Trace::FIELDS);
    }
}
