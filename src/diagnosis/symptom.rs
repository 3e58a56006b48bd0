//! What the rider feels.

/// One way in which a gearbox shifts badly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Symptom {
    /// The shift hangs half way.
    Hangs,
    /// The gear jumps out under power.
    JumpsPower,
    /// The gear jumps out on the over-run.
    JumpsOverrun,
    /// The shift goes past the gear into a false neutral.
    FalseNeutral,
    /// The pedal kicks back and the gear is not in.
    KicksBack,
    /// It clunks as the throttle opens and closes.
    Clunks,
    /// It crunches between first and second only.
    CrunchesLow,
}

impl Symptom {
    /// All of them, in the order in which they are asked for.
    pub const ALL: [Self; 7] = [
        Self::Hangs,
        Self::JumpsPower,
        Self::JumpsOverrun,
        Self::FalseNeutral,
        Self::KicksBack,
        Self::Clunks,
        Self::CrunchesLow,
    ];

    /// The word for it in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Hangs => "hangs",
            Self::JumpsPower => "jumps_power",
            Self::JumpsOverrun => "jumps_overrun",
            Self::FalseNeutral => "false_neutral",
            Self::KicksBack => "kicks_back",
            Self::Clunks => "clunks",
            Self::CrunchesLow => "crunches_low",
        }
    }

    /// What the rider would say.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Hangs => "The shift hangs half way",
            Self::JumpsPower => "The gear jumps out under power",
            Self::JumpsOverrun => "The gear jumps out on the over-run",
            Self::FalseNeutral => "It goes past the gear into a false neutral",
            Self::KicksBack => "The pedal kicks back and the gear is not in",
            Self::Clunks => "It clunks as the throttle opens and closes",
            Self::CrunchesLow => "It crunches between first and second only",
        }
    }
}
