//! The gallery: classic layouts and classic faults as designs to open. All of it is invented.
//!
//! The designs are the files in `examples/designs`, in the saved form, so that the command line reads exactly
//! what the gallery shows.

use crenel_words::Label;
use serde_json::json;

use super::{Design, example, open};

/// One design of the gallery.
#[derive(Debug)]
pub struct Example {
    /// Stable name: that of its file in `examples/designs`, without the ending.
    pub key: &'static str,
    /// What it is, in a few words.
    pub(crate) name: &'static str,
    /// What to look for, in one sentence or two.
    pub(crate) story: &'static str,
    /// The name of the area of the app that shows the subject of the design.
    pub opens_in: &'static str,
    saved: &'static str,
}

impl Example {
    /// Its name, as a text of the catalogue.
    pub const fn name(&self) -> Label {
        Label { key: ["example", self.key, "name"], english: self.name }
    }

    /// What to look for, as a text of the catalogue.
    pub const fn story(&self) -> Label {
        Label { key: ["example", self.key, "story"], english: self.story }
    }

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
        "It engages at once but clunks: see the lash, and the clunk as the throttle opens.";
    "six-on-six" in "shift" "Six dogs, small gaps",
        "Little lash, but at this speed difference it never goes straight in: compare the straight-in limit.";
    "five-on-five" in "compare" "Five dogs beside three and six",
        "The same dogs, three, five and six to a ring. More dogs reduce the lash, but also the time that a window \
         stays open.";
    "half-height" in "dogs" "Every second dog at half height",
        "Three tall dogs find the wide gaps, and all six keep the lash small: see windows and lash together.";
    "one-ring-cut" in "rework" "Only one ring cut down",
        "Nothing is gained while the mating ring keeps its six tall dogs: cut the same dogs of ring B and the windows \
         open.";
    "cut-down" in "rework" "A plan of work on both rings",
        "Shorten, re-cut, lap and break edges: every result is shown both as found and as cut.";
    "rounded-flanks" in "load" "Flanks worn round",
        "The flanks lean the wrong way and push the rings apart: the gear jumps out under power.";
    "rough-faces" in "shift" "Rough tips",
        "Play the shift: tip on tip, it rubs to a standstill. With both rings lapped it goes in.";
    "damaged-dog" in "load" "One dog out of position",
        "One dog of six is 1.5° ahead and carries the whole load: see which dogs meet, and the flank pressure.";
    "worn-measured" in "dogs" "A worn ring, dog by dog",
        "One dog is short, rounded and tapered: only measuring dog by dog shows where the rings meet.";
    "shallow-dogs" in "depth" "Too little depth",
        "The sliding gear is off [centre|center]: see how much overlap a shim restores.";
    "cramped-linkage" in "selector" "A pedal linkage that binds",
        "At the end of the down-stroke rod and lever are almost in line: move the lever by one spline and see the \
         angle open.";
    "claw-overthrows" in "selector" "A claw with no gap at the stop",
        "Hardly any gap is left at the stop, and a hurried foot knocks the drum too far: make the stop thicker until \
         the gap is right both ways.";
    "kicks-back" in "trace" "It kicks back",
        "Several things are off at once: work from the outside in, and see which number is furthest out of limits.";
    "wide-first-step" in "compare" "A wide first ratio step",
        "Three dogs, or six with every second cut down: which copes better with the shift into second?";
    "road-six-speed" in "shift" "A road gearbox with six gears",
        "The same dogs in every gear: into second they meet more than twice as fast as into sixth.";
    "six-speed-bent-fork" in "box" "A whole gearbox, a fork bent",
        "Six gears on three forks, one of them bent: see which gears it brings in at once, and where the fork carries the \
         thrust.";
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
