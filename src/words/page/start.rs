//! The first visit: three doors.

sentences! { "page.start":
    title() = "Start";
    what_brings_you() = "What brings you here?";
    shifts_badly() = "It shifts badly";
    shifts_badly_text() =
        "Tell what you feel at the pedal. Crenel takes you from the pedal to the dogs, one measurement at a time, and \
         shows which number is off. Often it is not the dogs.";
    find_cause() = "Find the cause";
    cut_dogs() = "I plan to cut dogs";
    cut_dogs_text() =
        "Enter the dogs you have, click the ones you want lower or gone, and see at once what you gain and what it \
         costs in lash, strength and holding.";
    plan_cut() = "Plan a cut";
    compare() = "I compare layouts";
    compare_text() =
        "Put three, six or half-height dogs side by side, shift them all at the same speed, and see why the quick ones \
         clunk.";
    compare_go() = "Compare";
    own_gear() = "Start with my own gear";
    own_gear_begun() =
        "Sizes marked ◇ are assumed until you type yours. Speed, load and friction are not given; results that need \
         them say so.";
    try_example() = "Try the example";
}
