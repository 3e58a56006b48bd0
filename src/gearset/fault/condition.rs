//! A gearbox in some condition, and what would be read on it.

use crate::design::DogSpec;
use crate::drum::{Course, Drum, Face, Level, Play, Span, TURN_DEG};
use crate::fields::FieldId;
use crate::gearset::GearsetAnalysis;
use crate::ring::Side;
use crate::selector::{PerStroke, Track};

/// The dogs of a gear, as far as readings of a whole gearbox tell of them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Dogs {
    /// The least undercut of any dog of both rings, drive and coast, degrees.
    pub(super) flanks_deg: [f64; 2],
    /// The largest edge break on ring A and on ring B, mm.
    pub(super) edges_mm: [f64; 2],
    /// Lash, degrees; `None` where no window holds.
    pub(super) lash_deg: Option<f64>,
}

/// Everything that readings depend on. Gears and forks are those of the drum.
#[derive(Clone, Debug)]
pub(super) struct Condition {
    pub(super) drum: Drum,
    /// How far the drum rocks in the notch of each gear, degrees.
    pub(super) slack_deg: Vec<f64>,
    /// The gap at the stop; `None` where no claw is given.
    pub(super) gaps_mm: Option<PerStroke<f64>>,
    pub(super) dogs: Vec<Dogs>,
}

impl Condition {
    /// The gearbox as it is given.
    pub(super) fn of(analysis: &GearsetAnalysis) -> Self {
        let drum = analysis.drum.clone();
        let claw = analysis.gearset.selector.claw.as_ref();
        let gaps = claw.map(crate::design::ClawSpec::working).filter(|claw| claw.check().is_ok());
        let dogs = analysis.on_drum.iter().map(|gear| dogs(analysis, *gear)).collect();
        Self {
            slack_deg: vec![drum.slack_deg; drum.gears.len()],
            gaps_mm: gaps.map(|claw| claw.gaps_mm()),
            dogs,
            drum,
        }
    }

    /// The plays of groove and pin of the fork of a gear, mm; none where parts are too wide.
    fn lost_mm(&self, gear: usize) -> f64 {
        let fork = &self.drum.forks[self.drum.gears[gear].fork];
        (fork.groove_play_mm.max(0.0) + fork.pin_play_mm.max(0.0)) / 2.0
    }

    fn course(&self, gear: usize) -> Course {
        self.drum.overlap(gear, Play::Nominal)
    }

    /// With the gear in and the slider pulled back against its fork, mm.
    fn overlap_mm(&self, gear: usize) -> Option<f64> {
        let at = self.drum.position_deg(gear)?;
        Some(self.course(gear).at_mm(at) - self.lost_mm(gear))
    }

    /// In neutral, with the slider pushed towards the gear as far as its fork lets it, mm.
    fn clearance_mm(&self, gear: usize) -> Option<f64> {
        let neutral = self.drum.positions.iter().find(|position| position.gear.is_none())?;
        Some(-self.course(gear).at_mm(neutral.deg) - self.lost_mm(gear))
    }

    /// Where the tips touch as the fork pushes them, about the position of the gear.
    fn pushed(&self, gear: usize) -> Option<Span> {
        let at = self.drum.position_deg(gear)?;
        let spans = self.course(gear).raised(-self.lost_mm(gear)).spans(Level::Above(0.0));
        spans.into_iter().find(|span| span.contains(at))
    }

    /// Moves the part of a track that takes a gear in by so many degrees. What is as low as neutral on either side
    /// of it goes with it, unless the other gear of the slider begins there. Returns whether the track is still one.
    pub(super) fn move_ramps(&mut self, gear: usize, by_deg: f64) -> bool {
        let own = self.drum.gears[gear];
        let track = &self.drum.forks[own.fork].track;
        let mut points = track.points().to_vec();
        let in_gear = |face: Face, at: usize| {
            track.points().get(at).is_some_and(|point| face.sign() * point[1] > 0.0)
        };
        let other = if own.face == Face::Lower { Face::Higher } else { Face::Lower };
        for (at, point) in points.iter_mut().enumerate() {
            let beside = |face| at > 0 && in_gear(face, at - 1) || in_gear(face, at + 1);
            let is_foot = beside(own.face) && !beside(other) && !in_gear(other, at);
            if in_gear(own.face, at) || is_foot {
                point[0] += by_deg;
            }
        }
        let moved = Track::through(points).ok();
        let is_track = moved.is_some();
        moved.into_iter().for_each(|track| self.drum.forks[own.fork].track = track);
        is_track
    }
}

fn dogs(analysis: &GearsetAnalysis, gear: usize) -> Dogs {
    let unknown = Dogs { flanks_deg: [0.0; 2], edges_mm: [0.0; 2], lash_deg: None };
    let Some(own) = analysis.gear(gear) else { return unknown };
    let design = &own.worked.design;
    let standing = |side| {
        let found = design.ring(side).found_dogs().into_iter();
        found.filter(|dog| dog.height_mm > 0.0).collect::<Vec<_>>()
    };
    let both = Side::BOTH.map(standing);
    let least =
        |of: fn(&DogSpec) -> f64| both.iter().flatten().map(of).fold(f64::INFINITY, f64::min);
    let largest =
        |dogs: &Vec<DogSpec>| dogs.iter().map(|dog| dog.edge_break_mm).fold(0.0, f64::max);
    let held = own.worked.pair.as_ref().and_then(|pair| pair.held);
    Dogs {
        flanks_deg: [least(|dog| dog.back_cut_drive_deg), least(|dog| dog.back_cut_coast_deg)],
        edges_mm: both.each_ref().map(largest),
        // Readings are of the gearbox as it is, not of what is planned.
        lash_deg: held.filter(|_| !design.is_planned()).map(|held| held.width.degrees()),
    }
}

/// A kind of reading.
pub(super) struct ReadingKind {
    pub(super) id: FieldId,
    /// Its usual standard uncertainty: common practice, no source.
    pub(super) sigma: f64,
    /// What would be read on a gear or a fork of the drum; `None` where it cannot be told.
    pub(super) expected: fn(&Condition, usize) -> Option<f64>,
}

/// What can be read on a gear.
pub(super) static ON_GEARS: &[ReadingKind] = &[
    ReadingKind {
        id: FieldId::SeenGapLift,
        sigma: 0.1,
        expected: |condition, _| condition.gaps_mm.map(|gaps| gaps.lift),
    },
    ReadingKind {
        id: FieldId::SeenGapPress,
        sigma: 0.1,
        expected: |condition, _| condition.gaps_mm.map(|gaps| gaps.press),
    },
    ReadingKind {
        id: FieldId::SeenRest,
        sigma: 0.4,
        expected: |condition, gear| condition.drum.position_deg(gear),
    },
    ReadingKind {
        id: FieldId::SeenDrumSlack,
        sigma: 0.2,
        expected: |condition, gear| condition.slack_deg.get(gear).copied(),
    },
    ReadingKind {
        id: FieldId::SeenMeetsUp,
        sigma: 0.4,
        expected: |condition, gear| {
            condition.pushed(gear).map(|span| span.from_deg).filter(|deg| *deg > 0.0)
        },
    },
    ReadingKind {
        id: FieldId::SeenMeetsDown,
        sigma: 0.4,
        expected: |condition, gear| {
            condition.pushed(gear).map(|span| span.to_deg).filter(|deg| *deg < TURN_DEG)
        },
    },
    ReadingKind {
        id: FieldId::SeenClearanceThis,
        sigma: 0.05,
        expected: |condition, gear| condition.clearance_mm(gear),
    },
    ReadingKind {
        id: FieldId::SeenOverlap,
        sigma: 0.05,
        expected: |condition, gear| condition.overlap_mm(gear),
    },
    ReadingKind {
        id: FieldId::SeenRoomFar,
        sigma: 0.03,
        expected: |condition, gear| condition.drum.fork_room(gear).map(|room| room.drawn_mm),
    },
    ReadingKind {
        id: FieldId::SeenRoomNear,
        sigma: 0.03,
        expected: |condition, gear| condition.drum.fork_room(gear).map(|room| room.pushed_mm),
    },
    ReadingKind {
        id: FieldId::SeenEdgeA,
        sigma: 0.05,
        expected: |condition, gear| Some(condition.dogs[gear].edges_mm[0]),
    },
    ReadingKind {
        id: FieldId::SeenEdgeB,
        sigma: 0.05,
        expected: |condition, gear| Some(condition.dogs[gear].edges_mm[1]),
    },
    ReadingKind {
        id: FieldId::SeenFlankDrive,
        sigma: 0.3,
        expected: |condition, gear| Some(condition.dogs[gear].flanks_deg[0]),
    },
    ReadingKind {
        id: FieldId::SeenFlankCoast,
        sigma: 0.3,
        expected: |condition, gear| Some(condition.dogs[gear].flanks_deg[1]),
    },
    ReadingKind {
        id: FieldId::SeenLash,
        sigma: 0.3,
        expected: |condition, gear| condition.dogs[gear].lash_deg,
    },
];

/// What can be read on a fork.
pub(super) static ON_FORKS: &[ReadingKind] = &[
    ReadingKind {
        id: FieldId::SeenForkPlay,
        sigma: 0.02,
        expected: |condition, fork| Some(condition.drum.forks[fork].groove_play_mm),
    },
    ReadingKind {
        id: FieldId::SeenPinPlay,
        sigma: 0.02,
        expected: |condition, fork| Some(condition.drum.forks[fork].pin_play_mm),
    },
    ReadingKind {
        id: FieldId::SeenForkBend,
        sigma: 0.05,
        expected: |condition, fork| Some(condition.drum.forks[fork].offset_mm),
    },
];
