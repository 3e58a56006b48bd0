//! Depth, shims and stack-ups.

sentences! { "page.depth":
    title() = "Depth";
    picture_chain() = "Stack-up";
    picture_effect() = "Effect on the pair";
    caption_developed() = "The pair as drawn, with heights and widths to one scale.";
    why() =
        "Enter the sizes along the shaft. You get clearance in neutral and overlap in gear on both sides of the \
            sliding gear, worst case and likely spread, and the shim that [centres|centers] it.";

    // ---- stack-ups ----
    stack_up(facing: Facing) = "Stack-up to {facing, select, this {this pair} other {the other pair}}";
    part() = "Part";
    clearance() = "Clearance";
    adds() = "adds";
    takes() = "subtracts";
    add_size() = "Add part";
    name_of_part(stack_up: Message, part: Nth) = "{stack_up}, part {part}: name";
    effect_of_part(stack_up: Message, part: Nth) = "{stack_up}, part {part}: effect on clearance";
    remove_part(stack_up: Message, part: Nth) = "{stack_up}, part {part}: remove";
    part_removed(stack_up: Message, part: Nth) = "{stack_up}: part {part} removed.";
    remove_stack_ups() = "Remove stack-ups";

    // ---- shims ----
    fork_and_shims() = "Fork and shims";
    shim_needs_sizes() = "Enter sizes in both stack-ups to get the shim that [centres|centers] the sliding gear.";
    no_shim_helps() = "No available shim brings the sliding gear nearer to the middle.";
    shim_by(size: Length, way: Pick) =
        "To [centre|center] the sliding gear, move it {size} {way, select, away {away from} other {towards}} this \
            pair with shims.";
    fit_shim() = "Fit shim";
    shim_fitted() = "Shim entered in both stack-ups. It replaces any fitted before.";
    stack_up_full() = "A stack-up is full. Remove a part first.";

    // ---- effect on the pair ----
    effect_on_pair() = "Effect of depth on the pair";
    overlap() = "Overlap in gear";
    overlap_pushed() = "pushed by the fork";
    overlap_drawn_in() = "drawn in by the undercut";
    overlap_shimmed() = "with the [centring|centering] shim";
    overlap_least_likely() = "smallest, likely spread";
    overlap_least() = "smallest, worst case";
    overlap_most() = "largest, worst case";
    overlap_is(overlap: Length) = "Result: {overlap}";
    no_overlap() = "No result yet: enter sizes in the stack-up.";
    use_overlap() = "Use this overlap";
    overlap_used() = "The pair now uses the overlap from the stack-up.";
    as_drawn() = "As drawn";
    by_stack_up() = "From the stack-up";
}
