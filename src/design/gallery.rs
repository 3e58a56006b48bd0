//! The gallery: classic layouts and classic faults as designs to open. All of it is invented.
//!
//! The designs are the files in `examples/designs`, in the saved form, so that what the command line
//! reads and what the gallery shows are one thing.

use serde_json::json;

use super::{Design, example, open};

/// The part of the job in which a design of the gallery shows what it is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LookIn {
    /// The rings as they are.
    Rings,
    /// One shift and all shifts of the gearbox.
    Shift,
    /// What the dogs carry.
    Load,
    /// The plan of work on the rings.
    Rework,
    /// The sizes along the shaft.
    Depth,
    /// From the foot to the fork.
    Selector,
    /// From what the rider feels to its cause.
    Trace,
    /// Layouts side by side.
    Compare,
}

/// One design of the gallery.
#[derive(Debug)]
pub struct Exhibit {
    /// Stable name: that of its file in `examples/designs`, without the ending.
    pub key: &'static str,
    /// What it is, in a few words.
    pub name: &'static str,
    /// What to look for, in one sentence or two.
    pub story: &'static str,
    /// Where to look first.
    pub look_in: LookIn,
    saved: &'static str,
}

impl Exhibit {
    /// The design itself. Tests hold every file to opening without a finding.
    pub fn design(&self) -> Design {
        open(self.saved).map(|opened| opened.design).unwrap_or_default()
    }
}

macro_rules! exhibits {
    ($($key:literal in $look_in:ident $name:literal, $story:literal;)*) => {
        static EXHIBITS: &[Exhibit] = &[$(Exhibit {
            key: $key,
            name: $name,
            story: $story,
            look_in: LookIn::$look_in,
            saved: include_str!(concat!("../../examples/designs/", $key, ".json")),
        }),*];
    };
}

exhibits! {
    "few-dogs" in Load "Three dogs, wide gaps",
        "Goes in at once, and clunks: see how the lash turns into a blow on opening the throttle.";
    "six-on-six" in Shift "Six dogs, small gaps",
        "Little lash, and no phase that goes straight in at this speed difference: compare it with the limit.";
    "five-on-five" in Compare "Five dogs beside three and six",
        "The same dogs on three, five and six places: each more leaves less lash to cross, and a window that is open for less time.";
    "half-height" in Rings "Every second dog at half height",
        "Three tall dogs find the wide gap, all six take up the lash: see windows and lash together.";
    "one-ring-cut" in Rework "Only one ring cut down",
        "Nothing is gained while the mating ring keeps its six tall dogs: cut the same dogs of ring B and see the windows open.";
    "cut-down" in Rework "A plan of work on both rings",
        "Shorten, re-cut, lap and break edges: every number as found beside as cut.";
    "rounded-flanks" in Load "Flanks worn round",
        "The flanks lean the wrong way and push the rings apart: the gear jumps out under power.";
    "rough-faces" in Shift "Rough tips",
        "Play the shift: tip on tip it rubs to a standstill. Lapping both rings cures it.";
    "damaged-dog" in Load "One dog bent",
        "One dog of six stands 1.5° ahead and carries everything: see which dogs meet, and the flank pressure.";
    "worn-measured" in Rings "A worn ring, dog by dog",
        "One dog is low, rounded and leans: what is measured dog by dog decides where the rings meet.";
    "shallow-dogs" in Depth "Too little depth",
        "The sliding gear stands off the middle: see what a shim gives back.";
    "cramped-linkage" in Selector "A pedal linkage that cramps",
        "At the end of the press rod and lever come near to line: move the lever by a spline and see the angle open.";
    "claw-overthrows" in Selector "A claw without clearance",
        "Hardly any gap is left at the stop, and the drum is knocked on: make the stop thicker until it is right both ways.";
    "kicks-back" in Trace "It kicks back",
        "Several things are off at once: work from the outside in and see which number is farthest past its limit.";
    "wide-first-step" in Compare "A wide first step",
        "Three dogs, or six with every second cut down: which takes the first shift better?";
    "road-six-speed" in Shift "A road gearbox with six gears",
        "The same dogs in every gear: the first step is more than twice the last.";
}

/// The gallery, plain layouts first, then faults from the dogs outwards, then whole stories.
///
/// ```
/// let rough = crenel::design::gallery().iter().find(|exhibit| exhibit.key == "rough-faces");
/// assert!(rough.expect("it is there").design().title.ends_with("(invented)"));
/// ```
pub fn gallery() -> &'static [Exhibit] {
    EXHIBITS
}

/// Whether a design is one of the gallery or the one a newcomer sees first, with nothing changed.
pub fn is_invented(design: &Design) -> bool {
    // Only what has the title is opened: to open all of them takes longer than to open a page may.
    let title = json!(design.title).to_string();
    let alike = |exhibit: &&Exhibit| exhibit.saved.contains(&title);
    *design == example() || gallery().iter().filter(alike).any(|other| other.design() == *design)
}
