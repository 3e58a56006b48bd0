//! The table of readings.

sentences! { "page.measured":
    title() = "Measured";
    spread_equally() = "equally";
    spread_into_gaps() = "into the gaps";
    spread_by_uncertainty() = "by uncertainty";
    spread_not_at_all() = "not at all";

    // ---- the way here ----
    enter_readings() = "Enter gauge readings";
    to_dogs() = "Back to the dogs";

    // ---- the ring ----
    what() = "Measure the dogs of one ring one by one: each dog is fitted to its readings, with its uncertainty.";
    how() =
        "Enter what the gauge shows, in any unit: 12.4, 1/2 in, 59°30′, or 6 + 12/18 turns. Sizes that you do not \
         measure stay as they are.";
    settings() = "Datum and closing error";
    dogs() = "Number of dogs";
    datum_dog() = "Datum: dog";
    datum_flank() = "Datum: flank";
    drive_flank() = "drive flank";
    coast_flank() = "coast flank";
    spread() = "Spread the closing error";
    reach() = "Pins and jaws reach below the tips";
    reach_how() = "Matters for tapered flanks only: there the narrowest gap is where the pin ends.";

    // ---- gauges ----
    add_gauge() = "Gauge";
    add() = "Add column";
    begin_with() = "Begin with one of these sets of gauges, or add columns one by one:";
    begin_with_pins() = "Chord, pins and height";
    begin_on_table() = "Rotary table and height";
    table_full(most: Number) = "A ring has at most {most} columns of readings."
        next "Remove a column first.";
    added(gauge: Message) = "Column added: {gauge, lower}.";
    removed(gauge: Message) = "Column removed: {gauge, lower}. Undo returns it.";
    turns() = "turns";
    uncertainty() = "±σ";
    uncertainty_of(gauge: Message) = "{gauge}: uncertainty, one standard deviation";
    set_at_of(gauge: Message, set: Message) = "{gauge}: {set, lower}";
    usual() =
        "±σ is one standard deviation of a reading. The values here are common practice, no source: replace them by \
         your own. An empty field returns to the usual value.";
    remove_column(gauge: Message) = "Remove column: {gauge, lower}";

    // ---- the table ----
    readings_of(side: Side) = "Readings of ring {side}";
    reading_of(dog: Nth, gauge: Message) = "Dog {dog}, {gauge, lower}";
    contact() = "Marked";
    contact_how() = "Tick the dogs whose drive flank shows marking blue or polish. A dog blued by heat is no contact: it has lost hardness, so reject it.";
    contact_of(dog: Nth) = "Dog {dog} shows marking blue or polish";
    keys() =
        "Enter goes to the dog below, arrows from cell to cell. Ctrl+D fills the empty cells below with the same \
         reading. A block copied from a spreadsheet can be pasted into any cell.";
    fill_down() = "Fill down";
    copy() = "Copy table";
    copied() = "The readings are copied.";
    copy_refused() = "The browser does not allow copying here.";
    filled(cells: Number, dog: Nth) =
        "{cells, plural, =0 {No empty cell is below dog {dog}.} one {# cell filled from dog {dog}.} other {# cells \
         filled from dog {dog}.}}";
    nothing_to_fill(dog: Nth) = "Dog {dog} has no reading there to fill down.";
    pasted(cells: Number) = "{cells, plural, one {# cell} other {# cells}} pasted.";
    pasted_headings() = "The first line was taken for headings.";
    pasted_unread(cells: Number) =
        "{cells, plural, one {# cell} other {# cells}} could not be read: see the table.";
    pasted_outside(cells: Number) =
        "{cells, plural, one {# cell} other {# cells}} lay outside the table: add columns or dogs, and paste again.";
    off(off: Verbatim) = "off {off}";
    beyond() = "beyond 3σ";

    // ---- what follows ----
    follows() = "Dogs from these readings";
    nothing_read() = "Nothing has been entered yet.";
    dogs_of(side: Side) = "Dogs of ring {side} from the readings";
    plus_minus() = "± is twice the standard uncertainty, which holds for about 95 %. Ranges of figures use it.";
    size_alike() = "assumed alike";
    size_mean() = "assumed, mean width";
    size_rest() = "from the rest of the circle";
    closing_short(off: Angle, within: Angle) = "Dogs and gaps together are {off} (±{within}) short of 360°.";
    closing_over(off: Angle, within: Angle) = "Dogs and gaps together are {off} (±{within}) over 360°.";
    spread_how(how: Message) = "Spread: {how, lower}.";
    not_closed() = "The whole circle was needed to find the sizes: no closing error checks it.";
    checked(checked: Number, read: Number) =
        "{checked} of {read, plural, one {# reading} other {# readings}} can be checked by the others.";
    fits() = "No reading is beyond 3σ.";
    does_not_fit(marked: Number) =
        "{marked, plural, one {# reading is} other {# readings are}} beyond 3σ: see the table.";
    size_kept() = "kept";
    by_blue() = "By the marks:";
    by_spacing() = "By the measured spacing:";
    use_dogs() = "Use these dogs";
    follows_now(side: Side) = "Ring {side} has these dogs, and follows every further reading.";
    not_used(side: Side) = "Ring {side} does not have these dogs yet.";
    typed_by_hand(side: Side, dogs: List) =
        "Ring {side} has other sizes on {dogs, list, each {, } last { and }}.";
    dog_name(side: Side, dog: Nth) = "{side}{dog}";
    used(side: Side, dogs: Number) =
        "Ring {side} now has the {dogs, plural, one {# dog} other {# dogs}} that were measured. Undo reverses this.";
}
