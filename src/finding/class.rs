//! The order of gravity: one table for findings, checks and the verdict.

/// How grave it is that something is past its limit, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// Cannot be computed: a number is missing or impossible.
    Unknown,
    /// Does not reach full depth, or dogs that meet where they must not.
    Blocked,
    /// A cut that must not be made.
    Cut,
    /// Does not hold in under load.
    Hold,
    /// Does not go in at the speed difference that it meets.
    Entry,
    /// A stress above the allowable.
    Stress,
    /// Depth, gap, claw, detent or balance past its limit.
    Fit,
    /// Lash or clunk above what was set for it.
    Lash,
    /// A plan that gains nothing, or not what it should.
    Gain,
    /// Too little is known to say how the shift goes.
    Open,
    /// Nothing is past a limit.
    Within,
}

impl Class {
    /// All of them, the gravest first.
    pub const ALL: [Self; 11] = [
        Self::Unknown,
        Self::Blocked,
        Self::Cut,
        Self::Hold,
        Self::Entry,
        Self::Stress,
        Self::Fit,
        Self::Lash,
        Self::Gain,
        Self::Open,
        Self::Within,
    ];

    /// Its name in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Unknown => "unknown",
            Self::Blocked => "blocked",
            Self::Cut => "cut",
            Self::Hold => "hold",
            Self::Entry => "entry",
            Self::Stress => "stress",
            Self::Fit => "fit",
            Self::Lash => "lash",
            Self::Gain => "gain",
            Self::Open => "open",
            Self::Within => "within",
        }
    }

    /// How loudly it is told: `grave` for the three gravest, then `bad`, `warn`, `open` and `within`.
    pub const fn tone(self) -> &'static str {
        match self {
            Self::Unknown | Self::Blocked | Self::Cut => "grave",
            Self::Hold | Self::Entry | Self::Stress => "bad",
            Self::Fit | Self::Lash | Self::Gain => "warn",
            Self::Open => "open",
            Self::Within => "within",
        }
    }

    /// Its sign. The shape tells the tones apart without colour.
    pub const fn mark(self) -> &'static str {
        match self {
            Self::Unknown | Self::Blocked | Self::Cut => "⬣",
            Self::Hold | Self::Entry | Self::Stress => "▲",
            Self::Fit | Self::Lash | Self::Gain => "●",
            Self::Open => "○",
            Self::Within => "✓",
        }
    }

    /// Its place in the order, for sorting.
    pub(crate) fn place(self) -> f64 {
        f64::from(self as u8)
    }

    /// Whether its numbers are estimates: strength and shock are.
    pub const fn is_estimate(self) -> bool {
        matches!(self, Self::Stress | Self::Lash)
    }
}

/// The class of each code of a warning. Errors are [`Class::Unknown`] whatever their code.
pub(crate) static CLASSES: &[(Class, &[&str])] = &[
    (
        Class::Blocked,
        &[
            "two_gears_at_once",
            "two_gears_under_torque",
            "fork_carries_thrust",
            "dogs_touch_in_neutral",
            "no_entry_window",
            "jams_before_full_depth",
            "rings_apart",
        ],
    ),
    (Class::Cut, &["case_gone"]),
    (
        Class::Hold,
        &[
            "gear_not_held",
            "pushed_out",
            "pushed_out_on_overrun",
            "only_edges_engaged",
            "edge_contact",
            "hold_depth_in_edges",
        ],
    ),
    (Class::Entry, &["too_fast_to_drop_in", "hangs_half_way", "hangs_without_friction", "half_in"]),
    (Class::Stress, &["over_allowed"]),
    (
        Class::Fit,
        &[
            "linkage_locks",
            "linkage_cramps",
            "linkage_in_line",
            "linkage_turns_back",
            "foot_short_of_stop",
            "drum_falls_back",
            "drum_not_brought_home",
            "drum_stays_between",
            "drum_pushed_past",
            "gap_too_large",
            "gap_too_small",
            "eccentric_beyond_shaft",
            "roller_stays",
            "crest_wider_than_step",
            "engaged_too_little",
            "fork_wider_than_groove",
            "gear_without_position",
            "position_outside_track",
            "same_ratio_twice",
            "teeth_leave_mesh",
            "splines_leave",
            "unbalance_over_grade",
        ],
    ),
    (Class::Lash, &["lash_over_limit", "clunk_over_limit"]),
    (
        Class::Gain,
        &[
            "nothing_gained",
            "windows_shrink",
            "windows_unequal",
            "mating_flank_forgotten",
            "cut_without_dog",
            "cut_takes_nothing",
            "cut_above_dog",
        ],
    ),
];

/// The class of a warning by its code.
pub(super) fn class_of(code: &str) -> Option<Class> {
    CLASSES.iter().find(|(_, codes)| codes.contains(&code)).map(|(class, _)| *class)
}
