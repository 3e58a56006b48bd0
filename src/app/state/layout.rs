//! What of the frame is open, and what is selected. What is open is remembered by the browser.

use std::collections::BTreeMap;

use leptos::prelude::*;

use crenel::draw::RingState;
use crenel::figures::catalogue;

use super::area::AreaKey;
use crate::dom::{PHONE, watch_media};
use crate::storage::store::Store;

/// Where it is remembered.
const KEPT: &str = "crenel.open";

/// Where the pinned results are remembered.
const PINNED: &str = "crenel.pinned";

/// What the inspector shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Inspected {
    /// Nothing is selected: what the area begins with.
    Home,
    /// The pair, even where the area begins with a panel.
    Pair,
    /// The chosen dog.
    Dog,
    /// A panel of the area, by its key.
    Panel(&'static str),
}

/// A part of the frame that opens and closes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    /// All sizes of the area, below the drawings.
    Drawer,
    /// Every result, and not only those of the area.
    AllResults,
    /// Every finding.
    Findings,
    /// The sizes of each ring by itself, even while both have the same.
    EachRing,
    /// All checks at once, and not one at a time.
    AllChecks,
}

impl Part {
    const ALL: [Self; 5] =
        [Self::Drawer, Self::AllResults, Self::Findings, Self::EachRing, Self::AllChecks];

    const fn name(self) -> &'static str {
        match self {
            Self::Drawer => "sizes",
            Self::AllResults => "results",
            Self::Findings => "findings",
            Self::EachRing => "each-ring",
            Self::AllChecks => "checks",
        }
    }
}

/// What is seen of the page above the keypad of a phone, CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct AboveKeypad {
    pub(crate) top: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

impl AboveKeypad {
    /// The name of its frame in the style sheet.
    pub(crate) fn frame(&self) -> &'static str {
        match self {
            Self { width, height, .. } if *width > 2.0 * height => "wide",
            Self { height, .. } if *height < 400.0 => "short",
            _ => "tall",
        }
    }
}

/// What of the frame is open.
#[derive(Clone, Copy)]
pub(crate) struct PageLayout {
    open: [RwSignal<bool>; Part::ALL.len()],
    pub(crate) inspected: RwSignal<Inspected>,
    /// What is left of the page while a size is typed on a keypad.
    pub(crate) above_keypad: RwSignal<Option<AboveKeypad>>,
    /// Whether the screen is that of a phone.
    pub(crate) phone: ReadSignal<bool>,
    /// Which state of the rings the drawings show, once work is planned.
    pub(crate) rings_shown: RwSignal<RingState>,
    /// The area of the check from which this one was opened, to which it leads back.
    pub(crate) left_check: RwSignal<Option<AreaKey>>,
    /// The keys of the results that are shown in every area, in the order in which they were pinned.
    pub(crate) pinned: RwSignal<Vec<&'static str>>,
    /// The picture that was chosen last in each area.
    pictures: RwSignal<BTreeMap<&'static str, &'static str>>,
}

impl PageLayout {
    /// As the browser remembers it.
    pub(crate) fn remembered() -> Self {
        let kept = Store::Browser.get(KEPT).unwrap_or_default();
        let open =
            Part::ALL.map(|part| RwSignal::new(kept.split(' ').any(|name| name == part.name())));
        Self {
            open,
            inspected: RwSignal::new(Inspected::Home),
            above_keypad: RwSignal::new(None),
            phone: watch_media(PHONE),
            rings_shown: RwSignal::default(),
            left_check: RwSignal::new(None),
            pinned: RwSignal::new(pinned()),
            pictures: RwSignal::default(),
        }
    }

    /// Whether a part is open.
    pub(crate) fn is_open(&self, part: Part) -> bool {
        self.open[part as usize].get()
    }

    /// Opens or closes a part.
    pub(crate) fn turn(&self, part: Part) {
        self.open[part as usize].update(|open| *open = !*open);
        let open = Part::ALL.iter().filter(|part| self.open[**part as usize].get_untracked());
        let names: Vec<_> = open.map(|part| part.name()).collect();
        // If it cannot be remembered, that is not worth a message.
        let _ = Store::Browser.put(KEPT, &names.join(" "));
    }

    /// Pins a result or no longer does.
    pub(crate) fn turn_pin(&self, key: &'static str) {
        self.pinned.update(|pinned| match pinned.iter().position(|other| *other == key) {
            Some(at) => drop(pinned.remove(at)),
            None => pinned.push(key),
        });
        // If it cannot be remembered, that is not worth a message.
        let _ = Store::Browser.put(PINNED, &self.pinned.get_untracked().join(" "));
    }

    /// Whether so little of the page is above the keypad that a drawing is shown in part.
    pub(crate) fn is_low(&self) -> bool {
        self.above_keypad.with(|above| above.is_some_and(|above| above.frame() != "tall"))
    }

    /// The picture that was chosen last in an area.
    pub(crate) fn picture(&self, area: AreaKey) -> Option<&'static str> {
        self.pictures.with(|all| all.get(area.0).copied())
    }

    /// Chooses a picture of an area.
    pub(crate) fn show_picture(&self, area: AreaKey, key: &'static str) {
        self.pictures.update(|all| {
            all.insert(area.0, key);
        });
    }
}

/// The results that the browser remembers as pinned, as far as there still are such.
fn pinned() -> Vec<&'static str> {
    let kept = Store::Browser.get(PINNED).unwrap_or_default();
    kept.split(' ').filter_map(|key| catalogue().find(|f| f.key == key)).map(|f| f.key).collect()
}
