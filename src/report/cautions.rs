//! Cautions before and after a gear is cut: the whole list for paper, a short form for files.

/// The whole list, printed with every sheet. Common practice, no source, except for the standards named.
pub const CAUTIONS: [&str; 9] = [
    "This sheet is reckoned from the sizes given and does not know the gear. Keep to the engine maker's limits and \
        local rules; have a qualified shop do or check the work.",
    "A gear that fails can lock the rear wheel at speed.",
    "Grind or spark-erode hardened gears; do not saw them. Guards on; shield eyes, lungs and hands; no loose sleeves.",
    "Before the wheel turns: rating and expiry date on the wheel, rating above the speed of the spindle, no chips, a \
        test run behind the guard. No side load on a cut-off wheel.",
    "Keep the steel below its temper: straw colour means it passed about 220 °C and has gone softer. Short passes, \
        and stop before it is too hot to hold; hardened faces show grinding burn only when etched (ISO 14104).",
    "After the work look for cracks by magnetic particles (ISO 9934) or dye, in the roots above all.",
    "Leave no sharp root and no sharp edge: keep the fillet, break every new edge by hand.",
    "Wash out all grit before the gear goes near a bearing.",
    "A sliding gear often has dogs on its other face too, for another gear: this plan says nothing about those. Cut \
        the mating ring in step with this one.",
];

/// The short form, for every file that somebody may cut metal from. It has no commas or quotation marks, so
/// that every reader of tables takes a sentence as one cell.
pub const CAUTIONS_SHORT: [&str; 7] = [
    "Calculated from the sizes given. Keep to the engine maker's limits and local rules; have a qualified shop check \
        the part.",
    "A gear that fails can lock the rear wheel at speed.",
    "Grind or spark-erode hardened steel; do not saw it. Guards on; shield eyes and lungs and hands.",
    "Speed marked on the wheel above that of the spindle; no chips; not past its date; no side load on a cut-off \
        wheel.",
    "Stay below the tempering temperature: straw colour means past about 220 °C and softer. Etch for grinding burn \
        (ISO 14104).",
    "After the work look for cracks by magnetic particles (ISO 9934) or dye; in the roots above all.",
    "Leave no sharp root and no sharp edge. Wash out all grit. Cut the mating ring in step with this one.",
];

/// The shortest form, for formats with room for half a line of ASCII.
pub const CAUTION_LINE: &str = "Grind if hardened; find cracks; can lock wheel.";

#[cfg(test)]
mod tests {
    use super::*;

    /// Every subject of the list has its word in the short form too.
    #[test]
    fn the_short_form_leaves_no_subject_out() {
        let (long, short) = (CAUTIONS.join(" "), CAUTIONS_SHORT.join(" "));
        for word in [
            "maker's limits",
            "lock the rear wheel",
            "hardened",
            "spindle",
            "side load",
            "temper",
            "burn",
            "cracks",
            "sharp root",
            "sharp edge",
            "grit",
            "mating ring",
        ] {
            assert!(long.contains(word), "{word}");
            assert!(short.contains(word), "{word}");
        }
        for line in CAUTIONS_SHORT {
            assert!(!line.contains([',', '"', '\n']) && line.chars().count() < 240, "{line}");
        }
        assert!(CAUTION_LINE.is_ascii() && CAUTION_LINE.len() < 50);
    }
}
