//! The catalogue of symptoms: what the rider feels, and when.

use std::cmp::Ordering;

use crenel_words::Label;

/// One way in which a gearbox shifts badly. Symptoms are in the order in which they are asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Symptom {
    /// The word for it in files; no two symptoms have the same.
    pub key: &'static str,
    /// What the rider would say.
    pub(crate) words: &'static str,
    /// Other words for it, with commas between; nobody reads them, but Find knows them.
    pub(crate) also: &'static str,
    /// Whether it says when it happens, and not what: it clears checks and asks for none.
    pub is_when: bool,
}

/// Makes the catalogue of its rows, each with a name by which checks refer to it.
macro_rules! symptoms {
    (
        what { $($(#[$only:meta])? $name:ident: $key:literal, $words:literal, $also:literal;)+ }
        when { $($when:ident: $when_key:literal, $when_words:literal, $when_also:literal;)+ }
    ) => {
        impl Symptom {
            $(#[doc = concat!($words, ".")] $(#[$only])? pub const $name: Self =
                Self { key: $key, words: $words, also: $also, is_when: false };)+
            $(#[doc = concat!($when_words, ".")] pub const $when: Self =
                Self { key: $when_key, words: $when_words, also: $when_also, is_when: true };)+
        }

        /// Every symptom, in the order in which they are asked for.
        pub static SYMPTOMS: &[Symptom] = &[$($(#[$only])? Symptom::$name,)+ $(Symptom::$when),+];
    };
}

symptoms! {
    what {
    WILL_NOT: "will_not_go_in", "It will not go in",
        "won’t go in, refuses, cannot select, blocked, no gear, baulks";
    SLOW: "slow_to_go_in", "It is slow to go in",
        "stiff, heavy, sluggish, hard to shift, notchy, lazy";
    HANGS: "hangs", "The shift hangs halfway",
        "sticks half way, butts, tip on tip, half in";
    GRINDS: "grinds", "It grinds on the way in",
        "grates, gnashes, graunches, ratchets, crunches, rattles";
    JUMPS_POWER: "jumps_power", "The gear jumps out under power",
        "pops out, slips out, drops out under load";
    JUMPS_OVERRUN: "jumps_overrun", "The gear jumps out [on the overrun|when coasting]",
        "pops out, slips out on engine braking, closed throttle";
    FALSE_NEUTRAL: "false_neutral", "It overshoots into a false neutral",
        "between gears, misses, over-shifts";
    KICKS_BACK: "kicks_back", "The pedal kicks back and the gear does not engage",
        "missed shift, thrown back, lever kicks";
    CLUNKS: "clunks", "It clunks when the throttle is opened or closed",
        "bangs, knocks, snatches, backlash";
    CRUNCHES_LOW: "crunches_low", "It crunches only between first and second",
        "first to second, 1–2";
    ONLY_COLD: "only_cold", "It shifts badly only when cold",
        "cold start, thick oil, warm-up, winter";
    ONLY_HOT: "only_hot", "It shifts badly only when hot",
        "warm engine, heat, after a while, traffic";
    #[cfg(test)]
    DUMMY: "dummy", "It rattles in a test",
        "shakes in a test";
    }
    when {
    ONE_GEAR: "one_gear", "In one gear only",
        "single gear, just third, only second";
    EVERY_GEAR: "every_gear", "In every gear",
        "all gears, each gear";
    ONE_WAY: "one_way", "One way only, up or down",
        "only upshifts, only downshifts, lifting, pressing";
    NO_CLUTCH: "no_clutch", "Only without the clutch",
        "clutchless, quickshifter, ignition cut";
    }
}

impl Symptom {
    /// What the rider would say, as a text of the catalogue.
    pub const fn label(&self) -> Label {
        Label { key: ["symptom", self.key, "words"], english: self.words }
    }

    /// Other words for it, as a text of the catalogue.
    pub const fn synonyms(&self) -> Label {
        Label { key: ["symptom", self.key, "also"], english: self.also }
    }

    fn place(&self) -> Option<usize> {
        SYMPTOMS.iter().position(|symptom| symptom.key == self.key)
    }
}

impl Ord for Symptom {
    fn cmp(&self, other: &Self) -> Ordering {
        self.place().cmp(&other.place())
    }
}

impl PartialOrd for Symptom {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    #[test]
    fn keys_and_words_are_unique() {
        let distinct = |word: fn(&Symptom) -> &'static str| {
            SYMPTOMS.iter().map(word).collect::<BTreeSet<_>>().len()
        };
        assert_eq!([distinct(|s| s.key), distinct(|s| s.words)], [SYMPTOMS.len(); 2]);
    }

    #[test]
    fn a_set_of_symptoms_is_in_the_order_in_which_they_are_asked_for() {
        let felt: BTreeSet<Symptom> = SYMPTOMS.iter().rev().copied().collect();
        assert!(felt.iter().eq(SYMPTOMS));
    }
}
