//! What can be checked, from the pedal inwards.

use super::Symptom;
use crate::fields::FieldId;

/// How far in a check stands.
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
    /// All, from the outside in.
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

/// One thing to check.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Check {
    /// The angle between rod and shaft lever through the stroke.
    RodAngle,
    /// Whether the foot brings the shaft to its stop.
    PedalReach,
    /// The gap left at the stop, each way.
    StopGap,
    /// Whether the gaps are equal.
    EqualGaps,
    /// Whether the roller turns the drum home.
    DetentReturn,
    /// What the rocking of the drum costs in overlap.
    DrumRocking,
    /// Clearance from tip to tip in neutral.
    NeutralClearance,
    /// How deep the dogs are engaged.
    EngagedDepth,
    /// What worn fork and groove cost.
    ForkPlay,
    /// Whether the tips rub themselves to a standstill.
    TipFaces,
    /// Whether rounded edges leave enough flank.
    TipEdges,
    /// Whether the drive flanks hold.
    DriveFlanks,
    /// Whether the coast flanks hold.
    CoastFlanks,
    /// Whether the windows stay open long enough.
    EntryTime,
    /// Whether the lash is that of the drawing.
    Lash,
    /// How hard the dogs meet when the throttle opens.
    Clunk,
}

use Symptom::{Clunks, CrunchesLow, FalseNeutral, Hangs, JumpsOverrun, JumpsPower, KicksBack};

impl Check {
    /// All, from the outside in.
    pub const ALL: [Self; 16] = [
        Self::RodAngle,
        Self::PedalReach,
        Self::StopGap,
        Self::EqualGaps,
        Self::DetentReturn,
        Self::DrumRocking,
        Self::NeutralClearance,
        Self::EngagedDepth,
        Self::ForkPlay,
        Self::TipFaces,
        Self::TipEdges,
        Self::DriveFlanks,
        Self::CoastFlanks,
        Self::EntryTime,
        Self::Lash,
        Self::Clunk,
    ];

    /// How far in it stands.
    pub const fn station(self) -> Station {
        match self {
            Self::RodAngle | Self::PedalReach => Station::Linkage,
            Self::StopGap | Self::EqualGaps | Self::DetentReturn | Self::DrumRocking => {
                Station::Claw
            }
            Self::NeutralClearance | Self::EngagedDepth | Self::ForkPlay => Station::Depth,
            Self::TipFaces | Self::TipEdges | Self::DriveFlanks | Self::CoastFlanks => {
                Station::Faces
            }
            Self::EntryTime | Self::Lash | Self::Clunk => Station::Layout,
        }
    }

    /// Its name.
    pub const fn title(self) -> &'static str {
        match self {
            Self::RodAngle => "Angle between rod and shaft lever",
            Self::PedalReach => "Does the foot reach the stop?",
            Self::StopGap => "Gap left at the stop",
            Self::EqualGaps => "The same gap both ways",
            Self::DetentReturn => "Does the roller bring the drum home?",
            Self::DrumRocking => "Rocking of the drum in its detent",
            Self::NeutralClearance => "Clearance in neutral",
            Self::EngagedDepth => "Engaged depth",
            Self::ForkPlay => "Fork and groove",
            Self::TipFaces => "Tip faces",
            Self::TipEdges => "Tip edges",
            Self::DriveFlanks => "Drive flanks",
            Self::CoastFlanks => "Coast flanks",
            Self::EntryTime => "Time to get in",
            Self::Lash => "Lash",
            Self::Clunk => "Blow on opening the throttle",
        }
    }

    /// The measured numbers that decide it; none where the design itself does.
    pub const fn measured(self) -> &'static [FieldId] {
        match self {
            Self::RodAngle => &[FieldId::SeenRodAngle],
            Self::PedalReach => &[FieldId::SeenSpareLift, FieldId::SeenSparePress],
            Self::StopGap => &[FieldId::SeenGapLift, FieldId::SeenGapPress],
            Self::DetentReturn => &[FieldId::SeenDrumDrag],
            Self::DrumRocking => &[FieldId::SeenDrumSlack],
            Self::NeutralClearance => &[FieldId::SeenClearanceThis, FieldId::SeenClearanceOther],
            Self::EngagedDepth => &[FieldId::SeenOverlap],
            Self::ForkPlay => &[FieldId::SeenForkPlay],
            Self::TipFaces => &[FieldId::SeenTipFriction],
            Self::TipEdges => &[FieldId::SeenEdgeA, FieldId::SeenEdgeB],
            Self::DriveFlanks => &[FieldId::SeenFlankDrive],
            Self::CoastFlanks => &[FieldId::SeenFlankCoast],
            Self::Lash => &[FieldId::SeenLash],
            Self::EqualGaps | Self::EntryTime | Self::Clunk => &[],
        }
    }

    /// What it can explain.
    pub const fn symptoms(self) -> &'static [Symptom] {
        match self {
            Self::RodAngle => &[Hangs, KicksBack],
            Self::PedalReach => &[Hangs, JumpsPower, JumpsOverrun, KicksBack, CrunchesLow],
            Self::StopGap => {
                &[Hangs, JumpsPower, JumpsOverrun, FalseNeutral, KicksBack, CrunchesLow]
            }
            Self::EqualGaps => &[FalseNeutral, KicksBack, CrunchesLow],
            Self::DetentReturn => &[Hangs, JumpsPower, JumpsOverrun, FalseNeutral, KicksBack],
            Self::DrumRocking => &[JumpsPower, JumpsOverrun, FalseNeutral],
            Self::NeutralClearance => &[FalseNeutral, CrunchesLow],
            Self::EngagedDepth => &[Hangs, JumpsPower, JumpsOverrun, KicksBack],
            Self::ForkPlay => &[JumpsPower, JumpsOverrun, Hangs],
            Self::TipFaces => &[Hangs, KicksBack, CrunchesLow],
            Self::TipEdges => &[JumpsPower, JumpsOverrun, KicksBack, CrunchesLow],
            Self::DriveFlanks => &[JumpsPower],
            Self::CoastFlanks => &[JumpsOverrun],
            Self::EntryTime => &[Hangs, KicksBack, CrunchesLow],
            Self::Lash | Self::Clunk => &[Clunks],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn checks_run_from_the_outside_in() {
        let stations: Vec<_> = Check::ALL.map(Check::station).to_vec();
        assert!(stations.is_sorted());
        let listed: Vec<_> = Check::ALL.to_vec();
        assert!(listed.is_sorted(), "a check is out of order");
    }

    #[test]
    fn every_symptom_has_checks_to_work_through() {
        for symptom in Symptom::ALL {
            let checks = Check::ALL.iter().filter(|check| check.symptoms().contains(&symptom));
            assert!(checks.count() >= 2, "{symptom:?}");
        }
    }

    #[test]
    fn a_measured_number_belongs_to_one_check() {
        let mut all: Vec<_> = Check::ALL.iter().flat_map(|check| check.measured()).collect();
        let count = all.len();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), count);
    }
}
