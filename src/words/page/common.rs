//! Words that several parts of the page share: buttons, states, heads of columns.

sentences! { "page.common":
    as_cut() = "As cut";
    as_found() = "As found";
    found_and_cut() = "Both";
    as_the_number_says() = "as entered";
    begin_chains() = "Start with example stack-ups";
    begin_claw() = "Start with an example claw";
    begin_detent() = "Start with an example detent";
    begin_linkage() = "Start with an example linkage";
    begin_track() = "Start with an example drum track";
    calculated_only() =
        "Crenel computes from the sizes entered and does not know the gearbox. Keep to the maker's limits and local \
            rules, and have a qualified shop check what is cut.";
    cautions() = "Cautions";
    close() = "Close";
    current_design() = "Current design";
    dog(side: Side, dog: Nth) = "Dog {side}{dog}";
    dog_head() = "Dog";
    drawings() = "Drawings";
    enter_own_sizes() = "Then replace the example sizes with your own.";
    formula() = "Formula";
    gear() = "Gear";
    is_assumed() = "A usual value, not entered by you.";
    less(number: Label) = "Decrease {number, lower}";
    more_of(number: Label) = "Increase {number, lower}";
    if_every_gear() = "As if every gear had these dogs.";
    not_given() = "not given";
    lacking(needs: Message) = "This {needs, lower}.";
    enter_number(number: Message) = "Enter: {number, lower}";
    not_negative() = "Enter 0 or more, or leave it empty.";
    no_limit() = "no limit";
    not_measured() = "not measured";
    open_area(area: Message) = "Open {area}";
    pause() = "Pause";
    preset(name: Label, value: Value) = "{name} ({value})";
    remove() = "Remove";
    result() = "Result";
    ring(side: Side) = "Ring {side}";
    source() = "Source";
    table_of(title: Message) = "Table: {title, lower}";
    table_of_changes(before: Message, after: Message) = "Results: {before, lower} and {after, lower}";
    what_it_is() = "Meaning";
}
