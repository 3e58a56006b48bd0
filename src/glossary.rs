//! The words of the trade that stand on the page, each explained for somebody new to it.

/// A word of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Term {
    /// The word as it stands in the middle of a sentence.
    pub name: &'static str,
    /// What it is, in one or two plain sentences.
    pub explain: &'static str,
    /// Other words of the trade for it; empty where there are none.
    pub also: &'static [&'static str],
}

const fn term(name: &'static str, explain: &'static str, also: &'static [&'static str]) -> Term {
    Term { name, explain, also }
}

/// Every term, sorted by name without regard to capitals.
pub static TERMS: [Term; 72] = [
    term(
        "back-cut",
        "A flank that leans in under its tip, so that the dog is narrower at the root. Two such flanks pull the dogs \
            together under load.",
        &["undercut"],
    ),
    term(
        "case depth",
        "How thick the hard skin of a case-hardened gear is. What is ground off a flank comes off it.",
        &["depth of hardening"],
    ),
    term(
        "claw",
        "The part on the selector shaft whose hooks pull the drum round by its pins, one gear for each stroke of the \
            pedal.",
        &["pawl", "ratchet arm"],
    ),
    term(
        "clearance",
        "The room from tip to tip along the shaft while the gear is in neutral.",
        &["neutral clearance"],
    ),
    term(
        "clunk",
        "The knock when the throttle opens or closes and the dogs cross their lash from one flank to the other.",
        &[],
    ),
    term(
        "coast flank",
        "The side of a dog that carries while the wheel drives the engine, with the throttle closed.",
        &["over-run flank"],
    ),
    term(
        "common speed",
        "The speed at which both sides run together once the dogs have caught.",
        &["speed at the dogs afterwards"],
    ),
    term("core", "The softer, tougher steel below the hard skin of a case-hardened gear.", &[]),
    term(
        "cush drive",
        "Rubber blocks or springs in the rear wheel or on a shaft that take the edge off a blow.",
        &["shock damper"],
    ),
    term("datum", "The mark on a ring from which all its angles are counted.", &["reference mark"]),
    term(
        "dead point",
        "Where rod and lever of a linkage come into line, so that the pedal cannot turn the shaft any further.",
        &["where rod and lever come into line"],
    ),
    term(
        "detent",
        "The sprung roller and the star on the drum that together hold a gear and bring the drum home.",
        &["index mechanism"],
    ),
    term(
        "dimension chain",
        "Sizes one after another along the shaft that together leave a clearance. Those that open it count plus, the \
            others minus.",
        &["stack-up", "tolerance chain"],
    ),
    term(
        "dividing head",
        "A worm gear with a crank and plates of holes that turns the work by exact angles on a mill.",
        &["indexing head"],
    ),
    term(
        "dog",
        "A block on the side of a gear that stands in the way of the dogs or slots of its neighbour and so carries \
            the torque.",
        &["engagement dog", "dog tooth"],
    ),
    term(
        "dog ring",
        "All dogs on one side of a gear. A gear with slots is one too: its dogs are the webs between the slots.",
        &["ring"],
    ),
    term(
        "drawing in",
        "What back-cut flanks do under load: they pull the gear on to full depth by themselves.",
        &["draws in"],
    ),
    term(
        "drive flank",
        "The side of a dog that carries while the engine drives the wheel.",
        &["power flank"],
    ),
    term(
        "drum",
        "The cylinder that turns one step for each gear and moves the forks by the tracks cut into it.",
        &["selector drum", "shift cam"],
    ),
    term(
        "eccentric",
        "A pin that sits beside its own axis. Turning it moves the stop of the claw a little to one side.",
        &["eccentric adjuster"],
    ),
    term(
        "edge break",
        "The small chamfer or radius on the edge of a tip. It opens the window a little, and deepens what the flanks \
            need to hold.",
        &["chamfer"],
    ),
    term(
        "engaged depth",
        "How far the dogs end up inside each other when the gear is in.",
        &["full depth", "engagement"],
    ),
    term(
        "false neutral",
        "The drum stands between two gears and neither is in. The engine runs free although the pedal was moved.",
        &[],
    ),
    term(
        "flank",
        "The side of a dog that meets the other dog and carries the torque.",
        &["face of engagement"],
    ),
    term(
        "flank pressure",
        "Force on a dog over the area of flank that is engaged.",
        &["contact pressure"],
    ),
    term(
        "fork",
        "The part that grips the sliding gear by its groove and pushes it along the shaft.",
        &["shift fork", "selector fork"],
    ),
    term(
        "free angle",
        "How wide a window is: how far one ring can turn against the other before the dogs meet, as the tips come \
            level.",
        &["entry angle"],
    ),
    term(
        "groove",
        "The channel round the sliding gear in which the fork runs. Groove less fork is the play between them.",
        &["fork groove"],
    ),
    term(
        "half height dogs",
        "Every second dog cut to about half its height. The tall ones open wide windows for entry, the short ones \
            keep the lash small once in.",
        &["every second half height"],
    ),
    term(
        "half in",
        "A shift that stops on top of a short dog, or beside it, with only the tall dogs engaged.",
        &[],
    ),
    term(
        "hanging tip on tip",
        "Both rings have rubbed each other to one speed with the tips on each other, and the gear does not go in.",
        &["hangs, tip on tip", "butting"],
    ),
    term(
        "hold depth",
        "The overlap from which a flank that is met holds the gear instead of throwing it back.",
        &[],
    ),
    term(
        "holding in",
        "The pull along the shaft that keeps the gear engaged under load. It comes from the back-cut; friction is not \
            counted on.",
        &["holds it in"],
    ),
    term("indexing", "Turning the work from one dog to the next by an exact angle.", &["dividing"]),
    term(
        "inertia",
        "How hard it is to change the speed of something that turns. Metal far from the axis counts most.",
        &["moment of inertia", "J"],
    ),
    term(
        "kick-back",
        "The drum falls back to the gear it came from, because the claw let go of it too early.",
        &["kicks back"],
    ),
    term(
        "lapping",
        "Rubbing a face true with grit on a flat plate. It takes off very little.",
        &[],
    ),
    term(
        "lash",
        "How far engaged dogs can turn from the drive flank to the coast flank.",
        &["backlash"],
    ),
    term(
        "over-run",
        "Riding with the throttle closed, so that the wheel drives the engine.",
        &["coast", "engine braking"],
    ),
    term(
        "overlap",
        "How far the tallest tips of both rings have passed each other along the shaft. Below nothing it is clearance.",
        &[],
    ),
    term("phase", "How far ring A is turned against ring B.", &[]),
    term(
        "phase map",
        "A chart of what blocks what: phase across, overlap downwards. Clear columns are the windows.",
        &[],
    ),
    term(
        "play",
        "Free movement between two parts before one moves the other. Along a shaft it is called end float.",
        &["slack", "end float"],
    ),
    term(
        "roller",
        "The small wheel on a sprung arm that runs in the star and drops into its notches.",
        &["detent roller"],
    ),
    term(
        "root",
        "Where a dog grows out of its web. It is bent and sheared the most there, and a sharp corner starts cracks.",
        &[],
    ),
    term("root fillet", "The small radius in the corner between flank and web.", &[]),
    term(
        "root stress",
        "How hard the steel is bent and sheared at the root of a dog by the load on its flank.",
        &["bending at the root"],
    ),
    term(
        "rounding",
        "Wear or work that turns a sharp edge into a radius. A rounded edge needs more overlap before it holds.",
        &["rounded edge"],
    ),
    term(
        "RSS",
        "The root of the sum of squares: what a chain is likely to be out by, as all parts are seldom at their worst \
            together.",
        &["root sum square"],
    ),
    term(
        "rubbing",
        "The tips slide on each other until a window comes or the rings turn together. It takes away speed difference.",
        &[],
    ),
    term(
        "selector shaft",
        "The shaft that the pedal turns, with the claw on its inner end.",
        &["shift shaft"],
    ),
    term(
        "shim",
        "A thin washer of known thickness that moves a part along its shaft.",
        &["spacer"],
    ),
    term(
        "sliding gear",
        "The gear that the fork moves along its splines to bring its dogs into the next one.",
        &["slider"],
    ),
    term(
        "spacing error",
        "How far a dog stands off its even place. The dog that stands proud carries alone until it gives.",
        &["pitch error"],
    ),
    term(
        "speed difference",
        "How much faster one ring turns than the other when the dogs are offered to each other.",
        &["slip", "mismatch"],
    ),
    term(
        "spline",
        "One of the ridges on which a sliding gear moves along its shaft and through which it carries torque.",
        &[],
    ),
    term(
        "star",
        "The wheel with notches on the end of the drum, one notch for each gear, in which the roller runs.",
        &["detent wheel"],
    ),
    term(
        "stock",
        "Metal that is there to come off, or that a cut takes off, measured square to the face.",
        &["allowance"],
    ),
    term(
        "stop",
        "What ends the stroke of the claw, so that the drum is not thrown past the next gear.",
        &["stop pin"],
    ),
    term(
        "straight in",
        "A shift in which the dogs drop into a window without touching on the way.",
        &[],
    ),
    term(
        "taper",
        "A flank that leans the other way from a back-cut. Under load it pushes the gear out.",
        &["negative back-cut"],
    ),
    term(
        "the blow",
        "The torque that runs through the shafts when the dogs catch with speed difference left.",
        &["impact"],
    ),
    term(
        "thrown back",
        "A flank is met too shallow to hold, and its edge lifts the gear out again onto the tips.",
        &["strike"],
    ),
    term("tip", "The flat end of a dog, which meets the other dogs first.", &["end face"]),
    term(
        "track",
        "The path cut into the drum that leads the fork in and out as the drum turns.",
        &["drum groove"],
    ),
    term(
        "transmission angle",
        "The angle between the rod and the lever it turns. At 90° all force turns the lever; near nothing it locks.",
        &["angle between rod and lever"],
    ),
    term(
        "unbalance",
        "Mass times its distance from the axis, left over on one side. It shakes the shaft as it turns.",
        &["imbalance"],
    ),
    term(
        "unrolled view",
        "The ring as if it were cut open and laid flat, at the radius in the middle of the dogs.",
        &[],
    ),
    term("web", "The disc of the gear that the dogs stand on.", &[]),
    term("window", "A range of phases in which nothing blocks the dogs from going in.", &[]),
    term("window time", "How long a window stays open as the rings turn past each other.", &[]),
    term(
        "worst case",
        "Every size of a chain at that end of its tolerance that hurts most, all at once.",
        &[],
    ),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn terms_are_sorted_and_no_word_stands_for_two() {
        let names: Vec<String> = TERMS.iter().map(|term| term.name.to_lowercase()).collect();
        assert!(names.is_sorted(), "{names:?}");
        let words = TERMS.iter().flat_map(|term| term.also.iter().chain([&term.name]));
        let mut seen = BTreeSet::new();
        let twice: Vec<_> = words.filter(|word| !seen.insert(word.to_lowercase())).collect();
        assert!(twice.is_empty(), "{twice:?}");
    }

    #[test]
    fn every_explanation_is_a_plain_sentence_or_two() {
        for Term { name, explain, .. } in TERMS {
            let length = explain.chars().count();
            assert!((20..=170).contains(&length), "{name}: {length} characters");
            assert!(explain.ends_with('.'), "{name}");
            assert!(explain.matches(". ").count() <= 1, "{name} says more than two sentences");
            assert!(explain.starts_with(char::is_uppercase), "{name}");
        }
    }
}
