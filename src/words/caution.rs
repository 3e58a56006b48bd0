//! Cautions, where metal is removed and on every sheet.

sentences! { "caution":
    // ---- one cut ----
    heat() =
        "Overheated steel softens or cracks, and a dog that breaks can lock the rear wheel. Grind or spark-erode in \
         short, cool passes, and check every root for cracks before the bike is ridden.";
    thin_case(off: Length, left: Length) =
        "Up to {off} comes off a flank and leaves {left} of hard case. Where the case is thinner than entered, the \
         flank wears fast and the gear can jump out under load. Measure the case on a scrap part first.";
}
