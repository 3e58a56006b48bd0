//! The words of the trade that stand on the page, each explained for somebody new to it.

use crenel_words::Label;

/// A word of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Term {
    /// The word as it stands in the middle of a sentence.
    pub name: &'static str,
    /// What it is, in one or two plain sentences.
    pub explain: &'static str,
    /// Other words of the trade for it, with commas between; empty where there are none.
    pub also: &'static str,
}

impl Term {
    /// The word, as a text of the catalogue.
    pub const fn word(&self) -> Label {
        Label { key: ["term", self.name, "name"], english: self.name }
    }

    /// What it is, as a text of the catalogue.
    pub const fn explanation(&self) -> Label {
        Label { key: ["term", self.name, "explain"], english: self.explain }
    }

    /// Other words for it, as a text of the catalogue; `None` if there are none.
    pub fn synonyms(&self) -> Option<Label> {
        let label = Label { key: ["term", self.name, "also"], english: self.also };
        (!self.also.is_empty()).then_some(label)
    }
}

/// A piece of a text in which terms of the glossary are marked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Piece<'a> {
    /// Words that are no term.
    Plain(&'a str),
    /// A term as it stands in the text.
    Term(&'static Term, &'a str),
}

/// A text in pieces, with so many terms marked at most, each where it comes first: the longest terms, for they say the
/// most. `word_of` gives a term in the language of the text. A plural in s counts.
///
/// ```
/// use crenel::glossary::{Piece, marked};
/// let pieces = marked("It crosses the lash twice.", 3, |term| term.name.to_owned());
/// assert!(matches!(pieces[..], [Piece::Plain("It crosses the "), Piece::Term(_, "lash"), Piece::Plain(" twice.")]));
/// ```
pub fn marked(text: &str, most: usize, word_of: impl Fn(&Term) -> String) -> Vec<Piece<'_>> {
    let mut words: Vec<_> = TERMS.iter().map(|term| (term, word_of(term))).collect();
    words.sort_by_key(|(_, word)| std::cmp::Reverse(word.chars().count()));
    let mut found: Vec<(usize, usize, &'static Term)> = Vec::new();
    for (term, word) in words {
        if found.len() == most {
            break;
        }
        let is_free = |from: usize, to: usize| found.iter().all(|own| to <= own.0 || own.1 <= from);
        let places =
            text.char_indices().filter_map(|(from, _)| Some((from, end_of(text, from, &word)?)));
        if let Some((from, to)) = places.into_iter().find(|&(from, to)| is_free(from, to)) {
            found.push((from, to, term));
        }
    }
    found.sort_by_key(|own| own.0);
    let mut pieces = Vec::new();
    let mut told = 0;
    for (from, to, term) in found {
        pieces.push(Piece::Plain(&text[told..from]));
        pieces.push(Piece::Term(term, &text[from..to]));
        told = to;
    }
    pieces.push(Piece::Plain(&text[told..]));
    pieces.retain(|piece| *piece != Piece::Plain(""));
    pieces
}

/// Where a word ends that begins at a place of a text; `None` if it is not there or only part of a longer word.
fn end_of(text: &str, from: usize, word: &str) -> Option<usize> {
    let inside = |c: char| c.is_alphanumeric() || c == '-';
    if text[..from].chars().next_back().is_some_and(inside) {
        return None;
    }
    let mut rest = text[from..].chars();
    for wanted in word.chars() {
        let own = rest.next()?;
        if own != wanted && !own.to_lowercase().eq(wanted.to_lowercase()) {
            return None;
        }
    }
    let after = rest.as_str().strip_prefix('s').unwrap_or(rest.as_str());
    let ends = [rest.as_str(), after].into_iter().find(|after| !after.starts_with(inside))?;
    (!word.is_empty()).then(|| text.len() - ends.len())
}

const fn term(name: &'static str, explain: &'static str, also: &'static str) -> Term {
    Term { name, explain, also }
}

/// Every term, sorted by name without regard to capitals.
pub static TERMS: [Term; 75] = [
    term(
        "case depth",
        "Thickness of the hard skin on a case-hardened gear. Grinding a flank makes it thinner.",
        "depth of hardening",
    ),
    term(
        "claw",
        "The part on the selector shaft whose hooks turn the drum by its pins, one gear per stroke of the pedal.",
        "pawl, ratchet arm",
    ),
    term(
        "clearance",
        "The gap from tip to tip along the shaft while the gear is in neutral.",
        "neutral clearance",
    ),
    term(
        "clunk",
        "The knock when the throttle opens or closes and the dogs cross their lash from one flank to the other.",
        "",
    ),
    term(
        "clutch drag",
        "A clutch that does not release fully: with the lever pulled it still turns the input shaft.",
        "dragging clutch, creep",
    ),
    term(
        "coast flank",
        "The side of a dog that carries while the wheel drives the engine, with the throttle closed.",
        "overrun flank",
    ),
    term(
        "common speed",
        "The speed at which both sides run together once the dogs have engaged.",
        "speed after engagement",
    ),
    term("core", "The softer, tougher steel below the hard skin of a case-hardened gear.", ""),
    term(
        "cush drive",
        "Rubber blocks or springs in the rear wheel or on a shaft that soften the shocks of the driveline.",
        "shock damper",
    ),
    term("datum", "The mark on a ring from which all its angles are measured.", "reference mark"),
    term(
        "dead [centre|center]",
        "The position in which rod and lever of a linkage are in line and the pedal cannot turn the shaft.",
        "toggle, dead point, [over-centre|over-center]",
    ),
    term(
        "detent",
        "The sprung roller and the notched wheel on the drum. They pull the drum into each position and hold it there.",
        "index mechanism",
    ),
    term(
        "detent wheel",
        "The wheel with notches on the end of the drum, one for each position, on which the roller runs.",
        "star wheel, detent cam",
    ),
    term(
        "developed view",
        "The ring drawn as if it were cut open and laid flat, at the mean radius of the dogs.",
        "development, unrolled view",
    ),
    term(
        "dividing head",
        "A worm drive with a crank and hole plates that turns the work through exact angles.",
        "indexing head",
    ),
    term(
        "dog",
        "A block on the side of a gear that bears on the dogs or slots of the [neighbouring|neighboring] gear and \
         so carries the torque.",
        "engagement dog, dog tooth",
    ),
    term(
        "drawing in",
        "Under load, undercut flanks pull the gear in to full depth by themselves.",
        "pull-in",
    ),
    term(
        "drive flank",
        "The side of a dog that carries while the engine drives the wheel.",
        "power flank",
    ),
    term(
        "drum",
        "The cylinder that turns one step for each gear and moves the forks by the tracks cut into it.",
        "selector drum, shift cam",
    ),
    term(
        "eccentric",
        "A pin offset from the axis on which it turns. Turning it moves the stop of the claw slightly to one side.",
        "eccentric adjuster",
    ),
    term(
        "edge break",
        "The small chamfer or radius on the edge of a tip. It opens the window a little, but the flanks then \
            need more overlap to hold.",
        "chamfer",
    ),
    term(
        "engagement shock",
        "The peak torque in the shafts when the dogs engage with some speed difference left.",
        "impact torque",
    ),
    term(
        "false neutral",
        "The drum rests between two gears, and neither is in. The engine revs freely although the pedal was moved.",
        "",
    ),
    term(
        "flank",
        "The side of a dog that meets the other dog and carries the torque.",
        "engaging face",
    ),
    term(
        "flank pressure",
        "Force on a dog divided by the engaged area of its flank.",
        "contact pressure",
    ),
    term(
        "fork",
        "The part that grips the sliding gear by its groove and pushes it along the shaft.",
        "shift fork, selector fork",
    ),
    term(
        "grinding",
        "Tips or edges running over each other: the dogs meet too fast, or too shallow, to hold.",
        "grinds, graunching, grating",
    ),
    term(
        "groove",
        "The channel around the sliding gear in which the fork runs. Its width minus the fork thickness is the play \
         between them.",
        "fork groove",
    ),
    term(
        "half in",
        "A shift that ends on top of a short dog, or beside it, with only the tall dogs engaged.",
        "",
    ),
    term(
        "half-height dogs",
        "Every second dog is cut to about half height. The tall ones leave wide windows for entry; the short ones \
            keep the lash small once the gear is in.",
        "alternate-height dogs",
    ),
    term(
        "hanging tip on tip",
        "Rubbing has brought both rings to the same speed with tip on tip, and the gear does not go in.",
        "hangs tip on tip, butting",
    ),
    term(
        "holding depth",
        "The smallest overlap at which a flank holds the gear instead of throwing it back.",
        "",
    ),
    term(
        "holding in",
        "The pull along the shaft that keeps the gear engaged under load. It comes from the undercut; friction is not \
            relied on.",
        "retaining force",
    ),
    term(
        "ignition cut",
        "The engine is not fired for some milliseconds, so that the old dogs let go and the new ones go in. How \
         long it \
            must last for each shift stands under Shift, Cut and blip.",
        "quickshifter, length of the cut, kill time",
    ),
    term(
        "indexing",
        "Turning the work from one dog to the next through an exact angle.",
        "dividing",
    ),
    term(
        "inertia",
        "How hard it is to change the speed of a rotating part. Metal far from the axis counts most.",
        "moment of inertia, J",
    ),
    term(
        "kick-back",
        "The drum falls back to the gear it came from, because the claw let go of it too early.",
        "kicks back",
    ),
    term(
        "lapping",
        "Rubbing a face true with grit on a flat plate. It removes very little metal.",
        "",
    ),
    term(
        "lash",
        "How far one ring can turn against the other with the gear in, from one flank to the other.",
        "backlash",
    ),
    term(
        "likely spread",
        "How far a stack-up is likely to be out, since sizes are seldom all at their limits at once: the root of the sum \
            of the squares of their tolerances.",
        "RSS, root sum square",
    ),
    term(
        "overlap",
        "How far the tallest tips of both rings have passed each other along the shaft. A negative overlap is \
         clearance.",
        "",
    ),
    term(
        "overlap in gear",
        "How far the dogs overlap along the shaft when the gear is in.",
        "engaged depth, full depth, engagement",
    ),
    term(
        "[overrun|coasting]",
        "Running with the throttle closed, so that the wheel drives the engine.",
        "engine braking",
    ),
    term("phase", "How far ring A is turned against ring B.", ""),
    term(
        "phase map",
        "A chart of where dogs block each other: phase across, overlap downwards. Clear columns are the windows.",
        "",
    ),
    term(
        "play",
        "Free movement between two parts before one moves the other. Along a shaft it is called [end float|end play].",
        "slack, end float, end play",
    ),
    term(
        "roller",
        "The small wheel on a sprung arm that runs on the detent wheel and drops into its notches.",
        "detent roller",
    ),
    term(
        "root",
        "Where a dog joins its web. Bending and shear stress are greatest there, and a sharp corner starts cracks.",
        "",
    ),
    term("root fillet", "The small radius in the corner between flank and web.", ""),
    term(
        "root stress",
        "Stress from bending and shear at the root of a dog, caused by the load on its flank.",
        "combined root stress",
    ),
    term(
        "rounding",
        "Wear or work that turns a sharp edge into a radius. A rounded edge needs more overlap before it holds.",
        "rounded edge",
    ),
    term(
        "rubbing",
        "Tips sliding on each other until a window comes or the rings turn together. It lowers the speed difference.",
        "",
    ),
    term(
        "selector shaft",
        "The shaft that the pedal turns, with the claw on its inner end.",
        "shift shaft",
    ),
    term(
        "set of dogs",
        "All dogs on one side of a gear, here called ring A or ring B. On a gear with slots, the metal between the \
         slots.",
        "ring",
    ),
    term(
        "shim",
        "A thin washer of known thickness that moves a part along its shaft.",
        "shim washer",
    ),
    term(
        "sliding gear",
        "The gear that the fork moves along its splines to engage its dogs with the next gear.",
        "slider",
    ),
    term(
        "spacing error",
        "How far a dog is out of even spacing. The leading dog carries alone until it deflects.",
        "pitch error",
    ),
    term(
        "speed difference",
        "How much faster one ring turns than the other when the shift begins.",
        "slip, mismatch",
    ),
    term(
        "spline",
        "One of the ridges along a shaft on which a sliding gear moves and through which it carries torque.",
        "",
    ),
    term("stock", "Metal to be removed by a cut, measured square to the face.", "machining stock"),
    term(
        "stop",
        "The pin or screw that ends the stroke of the claw, so that the drum is not thrown past the next gear.",
        "stop pin",
    ),
    term(
        "straight in",
        "A shift in which the dogs drop into a window without touching on the way.",
        "",
    ),
    term(
        "taper",
        "A flank that leans the opposite way to an undercut. Under load it pushes the gear out.",
        "negative undercut",
    ),
    term(
        "thrown back",
        "The flanks meet at too little depth to hold, and the edge lifts the gear back out onto the tips.",
        "strike, clash",
    ),
    term("tip", "The flat end of a dog, which meets the other dogs first.", "end face"),
    term(
        "tolerance stack-up",
        "The sizes along the shaft, each with its tolerance, that add up to a clearance. Those that open it are \
         added, the others subtracted.",
        "dimension chain, stack-up",
    ),
    term(
        "track",
        "The groove cut into the drum that moves the fork along the shaft as the drum turns.",
        "drum groove",
    ),
    term(
        "transmission angle",
        "The angle between the rod and the lever it turns. At 90° all the force turns the lever; near 0° or 180° \
         the linkage locks.",
        "angle between rod and lever",
    ),
    term(
        "unbalance",
        "Mass on one side of the axis, times its distance from it. It shakes the shaft as it turns.",
        "imbalance",
    ),
    term(
        "undercut",
        "A flank that leans in under its tip, so that the dog is narrower at the root. Two such flanks pull the dogs \
            together under load.",
        "back-cut",
    ),
    term("web", "The disc of the gear that carries the dogs.", ""),
    term("window", "A range of phases in which nothing blocks the dogs from going in.", ""),
    term("window time", "How long a window stays open as the rings turn past each other.", ""),
    term(
        "window width",
        "The width of a window at tip level: how far one ring can turn against the other before the dogs meet.",
        "free angle, entry angle",
    ),
    term(
        "worst case",
        "Every size of a stack-up at the worse end of its tolerance, all at once.",
        "",
    ),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use crenel_words::Language;

    use super::*;

    #[test]
    fn terms_are_sorted_and_no_word_stands_for_two() {
        let british = |term: &Term| term.word().show(Language::British).to_lowercase();
        let names: Vec<String> = TERMS.iter().map(british).collect();
        assert!(names.is_sorted(), "{names:?}");
        let also = |term: &Term| term.also.split(", ").filter(|word| !word.is_empty());
        let words = TERMS.iter().flat_map(|term| also(term).chain([term.name]));
        let mut seen = BTreeSet::new();
        let twice: Vec<_> = words.filter(|word| !seen.insert(word.to_lowercase())).collect();
        assert!(twice.is_empty(), "{twice:?}");
    }

    #[test]
    fn the_longest_terms_are_marked_where_they_come_first_and_no_part_of_a_word_is() {
        let english = |term: &Term| term.word().show(Language::British).into_owned();
        let terms = |text: &str, most| -> Vec<String> {
            let pieces = marked(text, most, english);
            let whole: String = pieces
                .iter()
                .map(|piece| match piece {
                    Piece::Plain(words) | Piece::Term(_, words) => *words,
                })
                .collect();
            assert_eq!(whole, text);
            let term = |piece: &Piece| match piece {
                Piece::Term(term, words) => Some(format!("{}={words}", english(term))),
                Piece::Plain(_) => None,
            };
            pieces.iter().filter_map(term).collect()
        };
        assert_eq!(
            terms("Window times and a window.", 3),
            ["window time=Window times", "window=window"]
        );
        assert_eq!(terms("The dogs, then more dogs.", 3), ["dog=dogs"]);
        assert!(terms("A dogma of lashing, un-dog, dog-like.", 3).is_empty());
        assert_eq!(terms("lash, dog, window width", 1), ["window width=window width"]);
        assert!(terms("", 3).is_empty() && terms("größe – ½", 3).is_empty());
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
