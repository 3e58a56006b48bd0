//! Rings to start from, and the design a newcomer sees first. All of it is invented.

use crenel_words::Label;

use super::{Design, GearboxSpec, Setting, SettingField, ShiftFrom};
use crate::design::{EvenLayout, Layout, RingSpec, SizeBy};

/// A ring to start from.
#[derive(Debug)]
pub struct StartRing {
    /// Stable name.
    pub key: &'static str,
    /// The name for users.
    pub(crate) name: &'static str,
    /// A description for users.
    pub(crate) explain: &'static str,
    make: fn() -> EvenLayout,
}

impl StartRing {
    /// Its name, as a text of the catalogue.
    pub const fn name(&self) -> Label {
        Label { key: ["start", self.key, "name"], english: self.name }
    }

    /// What it is good for, as a text of the catalogue.
    pub const fn explanation(&self) -> Label {
        Label { key: ["start", self.key, "explain"], english: self.explain }
    }

    /// The ring itself, with the diameters of a new design.
    pub fn ring(&self) -> RingSpec {
        RingSpec { layout: Layout::Even((self.make)()), ..RingSpec::default() }
    }
}

fn plain(count: f64) -> EvenLayout {
    EvenLayout { count, ..EvenLayout::default() }
}

/// The rings to start from.
pub static START_RINGS: [StartRing; 7] = [
    StartRing {
        key: "three",
        name: "3 dogs",
        explain: "Wide gaps: goes in at once, but clunks at each change between drive and [overrun|coast].",
        make: || plain(3.0),
    },
    StartRing {
        key: "four",
        name: "4 dogs",
        explain: "Gaps are still wide, with one more dog to share the load.",
        make: || plain(4.0),
    },
    StartRing {
        key: "five",
        name: "5 dogs",
        explain: "A compromise between quick entry and little lash.",
        make: || plain(5.0),
    },
    StartRing {
        key: "six",
        name: "6 dogs",
        explain: "Narrow gaps: little lash, but easily missed at a large speed difference.",
        make: || plain(6.0),
    },
    StartRing {
        key: "six-half",
        name: "6 dogs, every second half-height",
        explain: "The three tall dogs find wide gaps; the short ones keep the lash of six.",
        make: || EvenLayout { heights: vec![1.0, 0.5], ..plain(6.0) },
    },
    StartRing {
        key: "slots",
        name: "6 slots",
        explain: "A gear face with slots: the metal between them acts as dogs.",
        make: || EvenLayout {
            size_by: SizeBy::Gap,
            gap_deg: 38.0,
            tip_width_deg: 22.0,
            ..plain(6.0)
        },
    },
    StartRing {
        key: "spline",
        name: "Fine spline, 30 teeth",
        explain: "Almost no lash, but it hardly goes in unless the speeds match.",
        make: || EvenLayout { tip_width_deg: 5.6, root_fillet_mm: 0.2, ..plain(30.0) },
    },
];

/// The design that a newcomer sees first: an invented gearbox with a common complaint.
pub fn example() -> Design {
    let ring = || {
        let even = EvenLayout {
            back_cut_drive_deg: 3.0,
            back_cut_coast_deg: 3.0,
            edge_break_mm: 0.2,
            ..plain(6.0)
        };
        RingSpec { layout: Layout::Even(even), ..RingSpec::default() }
    };
    let mut setting = Setting { from: ShiftFrom::Up, ..Setting::default() };
    setting.set(SettingField::SlipSpeed, 400.0);
    setting.set(SettingField::Gear, 2.0);
    Design {
        title: "Hill-climb single, second gear (invented)".to_owned(),
        notes: "Invented example. Hurried shifts miss the gear; the owner is considering \
                cutting every second dog to half height."
            .to_owned(),
        a: ring(),
        b: ring(),
        setting,
        gearbox: Some(GearboxSpec::default()),
        ..Design::default()
    }
}
