//! Cautions, where metal is removed and on every sheet.

sentences! { "caution":
    // ---- the whole list, on every sheet ----
    sizes_only() =
        "This sheet is calculated from the sizes entered and nothing else. Keep to the engine maker's limits and local \
         rules, and have a qualified shop do or check the work.";
    can_lock() = "A gear that fails can lock the rear wheel at speed.";
    hardened() =
        "Grind or [spark-erode|EDM] hardened gears; do not saw them. Fit the guards, protect eyes, lungs and hands, \
         and wear no loose sleeves.";
    wheel() =
        "The speed marked on the wheel must be above that of the spindle. Check its expiry date, look for chips, and \
         run it up behind the guard before cutting. Put no side load on a cut-off wheel.";
    temper() =
        "Stay below the tempering temperature: steel that shows a straw [colour|color] is softer already. Take short \
         passes, and stop before it is too hot to touch. Grinding burn on hardened \
         faces shows only when etched (ISO 14104).";
    cracks() =
        "After the work, check for cracks by magnetic-particle inspection (ISO 9934) or dye penetrant, above all at \
         the roots of the dogs. Demagnetise the part before it is washed.";
    edges() =
        "Leave no sharp root and no sharp edge: keep the fillet, and break new edges no more than the sheet says. \
         Stay inside the hard case; dress off what spark erosion has hardened.";
    grit() = "Wash out all grit before the gear goes near a bearing.";
    other_face() =
        "A sliding gear often has dogs on its other face too, for another gear; this plan does not cover them. Cut the \
         mating ring only where its own sheet says so.";

    // ---- the short list, in every file: no comma, so that a table has each in one cell ----
    sizes_only_short() =
        "Calculated from the sizes entered. Keep to the engine maker's limits and local rules; have a qualified shop \
         check the part.";
    hardened_short() =
        "Grind or [spark-erode|EDM] hardened steel; do not saw it. Fit the guards; protect eyes and lungs and hands.";
    wheel_short() =
        "Use a wheel marked for more than the spindle speed; without chips and not past its date; put no side load on \
         a cut-off wheel.";
    temper_short() =
        "Stay below the tempering temperature: steel that shows a straw [colour|color] is softer already. Etch to \
         find grinding burn (ISO 14104).";
    cracks_short() =
        "A dog that breaks can lock the rear wheel: after the work check for cracks by magnetic-particle inspection \
         (ISO 9934) or dye penetrant; above all at the roots.";
    rest_short() =
        "Leave no sharp root and no sharp edge. Stay inside the case. Wash out all grit. Cut the mating ring only \
         where its own sheet says so.";

    // ---- one cut ----
    heat() =
        "Overheated steel softens or cracks, and a dog that breaks can lock the rear wheel. Grind or [spark-erode|EDM] \
         in short, cool passes, and check every root for cracks before the bike is ridden.";
    thin_case(off: Length, left: Length) =
        "Up to {off} comes off a flank and leaves {left} of hard case. Where the case is thinner than entered, the \
         flank wears fast and the gear can jump out under load. Measure the case on a scrap part first.";
    core_tips(off: Length, case: Length) =
        "Up to {off} comes off a tip, more than the case of {case}: core rubs at entry, and soft tips wear and burr \
         soon. Have them re-hardened by a qualified shop, or choose a cut that takes less off each tip.";

    // ---- one kind of work ----
    fewer_dogs() =
        "The remaining dogs carry the load of those removed, and one that breaks can lock the rear wheel. Check Load \
         first, and cut in a symmetrical pattern.";
    cut_off_wheel() =
        "A cut-off wheel can burst: use one marked for more than the spindle speed, put no side load on it, and keep \
         the guard on and your face out of its plane.";
    lapped() =
        "Lapping grit ruins bearings: lap with the gear off its shaft, and wash out all grit before it goes back.";
    broken_edges() =
        "Break the edges by hand, evenly on all dogs and no larger than planned: a larger break leaves less flank to \
         hold the gear in.";
}
