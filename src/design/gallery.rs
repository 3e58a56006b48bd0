//! The gallery: classic layouts and classic faults as designs to open. All of it is invented.
//!
//! The designs are the files in `examples/designs`, in the saved form, so that the command line reads exactly
//! what the gallery shows.

use serde_json::json;

use super::{Design, example, open};

/// One design of the gallery.
#[derive(Debug)]
pub struct Example {
    /// Stable name: that of its file in `examples/designs`, without the ending.
    pub key: &'static str,
    /// What it is, in a few words.
    pub name: &'static str,
    /// What to look for, in one sentence or two.
    pub story: &'static str,
    /// The name of the area of the app that shows the subject of the design.
    pub opens_in: &'static str,
    saved: &'static str,
}

impl Example {
    /// The design itself. A test checks that every file opens without a finding.
    pub fn design(&self) -> Design {
        open(self.saved).map(|opened| opened.design).unwrap_or_default()
    }
}

macro_rules! examples {
    ($($key:literal in $opens_in:literal $name:literal, $story:literal;)*) => {
        static EXAMPLES: &[Example] = &[$(Example {
            key: $key,
            name: $name,
            story: $story,
            opens_in: $opens_in,
            saved: include_str!(concat!("../../examples/designs/", $key, ".json")),
        }),*];
    };
}

examples! {
    "few-dogs" in "load" "Three dogs, wide gaps",
        "Goes in at once, and clunks: see how the lash turns into a blow on opening the throttle.";
    "six-on-six" in "shift" "Six dogs, small gaps",
        "Little lash, and no phase that goes straight in at this speed difference: compare it with the limit.";
    "five-on-five" in "compare" "Five dogs beside three and six",
        "The same dogs on three, five and six places: each more leaves less lash to cross, and a \
         window that is open for less time.";
    "half-height" in "rings" "Every second dog at half height",
        "Three tall dogs find the wide gap, all six take up the lash: see windows and lash together.";
    "one-ring-cut" in "rework" "Only one ring cut down",
        "Nothing is gained while the mating ring keeps its six tall dogs: cut the same dogs of \
         ring B and see the windows open.";
    "cut-down" in "rework" "A plan of work on both rings",
        "Shorten, re-cut, lap and break edges: every number as found beside as cut.";
    "rounded-flanks" in "load" "Flanks worn round",
        "The flanks lean the wrong way and push the rings apart: the gear jumps out under power.";
    "rough-faces" in "shift" "Rough tips",
        "Play the shift: tip on tip it rubs to a standstill. Lapping both rings cures it.";
    "damaged-dog" in "load" "One dog bent",
        "One dog of six stands 1.5° ahead and carries everything: see which dogs meet, and the flank pressure.";
    "worn-measured" in "rings" "A worn ring, dog by dog",
        "One dog is low, rounded and leans: what is measured dog by dog decides where the rings meet.";
    "shallow-dogs" in "depth" "Too little depth",
        "The sliding gear stands off the middle: see what a shim gives back.";
    "cramped-linkage" in "selector" "A pedal linkage that cramps",
        "At the end of the press rod and lever come near to line: move the lever by a spline and see the angle open.";
    "claw-overthrows" in "selector" "A claw without clearance",
        "Hardly any gap is left at the stop, and the drum is knocked on: make the stop thicker \
         until it is right both ways.";
    "kicks-back" in "trace" "It kicks back",
        "Several things are off at once: work from the outside in and see which number is farthest past its limit.";
    "wide-first-step" in "compare" "A wide first step",
        "Three dogs, or six with every second cut down: which takes the first shift better?";
    "road-six-speed" in "shift" "A road gearbox with six gears",
        "The same dogs in every gear: the first step is more than twice the last.";
}

/// The gallery, plain layouts first, then faults from the dogs outwards, then whole stories.
///
/// ```
/// let rough = crenel::design::gallery().iter().find(|example| example.key == "rough-faces");
/// assert!(rough.expect("it is there").design().title.ends_with("(invented)"));
/// ```
pub fn gallery() -> &'static [Example] {
    EXAMPLES
}

/// Whether a design is one of the gallery or the one a newcomer sees first, with nothing changed.
pub fn is_invented(design: &Design) -> bool {
    // Only designs with the same title are opened: opening all of them would delay the opening of the page.
    let title = json!(design.title).to_string();
    let alike = |example: &&Example| example.saved.contains(&title);
    *design == example() || gallery().iter().filter(alike).any(|other| other.design() == *design)
}
