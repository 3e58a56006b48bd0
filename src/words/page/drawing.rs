//! Drawings of the pair, their tools, and the bars below them.

sentences! { "page.drawing":
    // ---- tools ----
    copy_picture() = "Copy picture";
    copy_picture_of(drawing: Verbatim) = "Copy picture: {drawing}";
    copy_svg() = "Copy SVG";
    copy_svg_of(drawing: Verbatim) = "Copy SVG: {drawing}";
    fit() = "Fit";
    fit_drawing(drawing: Verbatim) = "Fit: {drawing}";
    tools_of(drawing: Verbatim) = "More: {drawing}";
    zoom_in() = "Zoom in";
    zoom_in_on(drawing: Verbatim) = "Zoom in: {drawing}";
    handle(name: Label, value: Value) = "{name} {value}";

    // ---- the drawings of the pair ----
    last_computed() = "This is the last drawing that could be computed. The findings say what is wrong.";
    computing() = "Computing …";
    refining() = "Refining …";
    no_shift() = "There is no shift: the rings jam or do not meet.";

    // ---- cutting ----
    cut_dogs() = "Cut dogs";
    keep() = "Keep";
    shorten() = "Shorten";
    same_every_second() = "Same for every second dog";
    same_all() = "Same for all dogs of the ring";
    window_of(time: Value) = "window {time}";
    window_from_to(from: Value, to: Value) = "window {from} → {to}";
    no_window() = "no window";
    same_on_ring(side: Side) = "Same cuts on ring {side}";
    clear_plan() = "Clear the whole plan";
    no_gain() = "no gain by itself";
    dogs_of_ring(side: Side) = "Dogs of ring {side}";
    dog(side: Side, dog: Nth) = "{side}{dog}";
    dog_is_high(side: Side, dog: Nth, height: Length) = "Dog {side}{dog}: {height} high";
    dog_is_short(side: Side, dog: Nth, height: Length) = "Dog {side}{dog}: shortened to {height}";
    dog_is_removed(side: Side, dog: Nth) = "Dog {side}{dog}: removed";
    no_dog_here(side: Side, dog: Nth) = "Dog {side}{dog}: empty position";
    nothing_to_cut() = "There is no dog at this position.";
    odd_dogs(side: Side, dogs: Number) =
        "Ring {side} has {dogs} dogs, an odd number: two [neighbours|neighbors] are treated alike.";

    // ---- playing ----
    play() = "Play the shift";
    previous_event() = "Previous event";
    next_event() = "Next event";
    back_to_start() = "Back to the start";
    slow_motion() = "Slow motion";
    time() = "Time";
    less_motion() =
        "Your system asks for less motion: the phase map shows the whole path, and the buttons step from event to \
         event.";
}
