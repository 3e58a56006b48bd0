//! The frame of the page: its head, the stages, notices, and what is said while it loads.

sentences! { "page.frame":
    // ---- head and tabs ----
    tagline() = "gearbox dogs";
    skip_to_results() = "Skip to the results";
    works_offline() = "works offline";
    stored_here() = "The whole app is stored in this browser: it opens without a network.";
    design_title() = "Title of the design";
    undo() = "Undo";
    redo() = "Redo";
    more() = "More";
    begin_new() = "New";
    files() = "File";
    title_and_notes() = "Title block and notes";
    units() = "Units";
    lengths_in() = "Lengths";
    inch() = "inch";
    angles_in() = "Angles";
    decimal_degrees() = "12.5°, decimal degrees";
    degrees_and_minutes() = "12°30′, degrees and minutes";
    parts_of_the_job() = "Parts of the job";
    tab_with_layouts(title: Message, layouts: Number) = "{title} ({layouts})";
    undone() = "Undone.";
    redone() = "Redone.";
    cancelled() = "Cancelled.";
    dog_selected(side: Side, dog: Nth) = "Dog {side}{dog} selected.";

    // ---- verdict ----
    verdict() = "Verdict on the design";
    undo_change() = "Undo this change";
    estimate() = "estimate";
    why() = "Why";
    assumed(values: Number) = "{values, plural, one {# value} other {# values}} assumed";
    assumed_short(values: Number) = "{values} assumed";
    assumed_why() = "These values were not entered. Crenel assumes usual ones; measure them and enter your own.";
    steady_torque() = "The load is a steady torque: shift shock and clunk are not in it (Load).";
    past_limits(matters: Number) = "{matters} past a limit";

    // ---- beside and below the drawings ----
    pictures() = "Drawings to show";
    back_to_check() = "Back to the check";
    rings_shown() = "Rings shown";
    inspector() = "Selected";
    the_pair() = "The pair";
    enter_each_ring() = "Each ring";
    differs() = "see Dogs";
    /// Below the width of a dog in degrees.
    dog_width_of(side: Side, width: Length) = "{side}: {width}";
    dog_width_too(width: Length) = "= {width}";
    dog_width(width: Length, diameter: Length) = "{width} across the tip at Ø{diameter}";
    alike() = "all alike";
    measured_singly() = "as measured";
    previous_dog() = "Previous dog";
    next_dog() = "Next dog";
    show_pair() = "Show the pair";
    sizes() = "Sizes";
    all_sizes() = "All sizes";
    explained(number: Message, explanation: Label) = "{number}. {explanation}";
    disclaimer() =
        "Crenel computes from the sizes you enter and does not know your gearbox. Keep to the maker's limits and \
         local rules, and have a qualified shop check what you cut: a part that fails can lock the rear wheel.";

    // ---- while a phone's keypad is up ----
    typing() = "While typing";
    give_up_typing() = "Cancel typing";
    previous_size() = "Previous size";
    next_size() = "Next size";
    done_typing() = "Done";
    key_minus() = "Minus";
    key_degrees() = "Degrees";
    key_minutes() = "Minutes";
    key_seconds() = "Seconds, or inches";
    key_point() = "Decimal point";
    key_half() = "One half; pressed again, the bar of a fraction";
    key_delete() = "Delete";

    // ---- a part that is fetched when it is wanted ----
    part_not_fetched() =
        "This part could not be fetched. The network may be gone, or a newer version of Crenel is out. Your work is kept.";
    try_again() = "Try again";

    // ---- another build ----
    newer_is_ready() = "A newer version of Crenel is ready. Loading it keeps your work.";
    load_newer() = "Load it now";
    newer_in_other_tab() =
        "Another tab loaded a newer version of Crenel; this page still runs the old one. Your work is kept when you \
         reload.";
    reload() = "Reload";
    later() = "Later";

    // ---- notices ----
    dismiss() = "Dismiss";
    restore() = "Restore it";
    see_kept() = "Show kept designs";
    earlier_work_is_back() = "Your earlier work is back. Undo returns to the design from the link.";
    undo_returns() = "Undo returns to your earlier work.";
    earlier_work_is_kept() = "Your earlier work is kept.";
    own_work_untouched() = "Your own work is unchanged.";
    opened_from_link() = "Opened from a link.";
    shows_the_example() = "This page shows the invented example instead, not the design from the link.";
    shows_own_work() = "This page shows your own work as you left it, not the design from the link.";
    restored_from_browser() =
        "Restored from this browser as you left it. This is not a backup: save what matters as a file.";
    more_works_kept(works: Number) =
        "{works, plural, one {# other design is} other {# other designs are}} kept too: see Designs in the menu.";
    too_large_for_link() =
        "The design is too large for a link, so the address no longer holds it. Save it as a file.";
    keeping_forbidden() =
        "This browser does not let the page keep your work. The address holds it: copy the link or save a file before \
         you leave.";
    no_room(works: Number, size: Message) =
        "There is no room left in this browser for your changes: {works, plural, one {# design takes} other {# designs \
         take}} {size}. Nothing was deleted. The address holds your work: copy the link or save a file, or make room.";
    oldest_steps_gone() = "The oldest Undo steps were deleted to make room for new ones.";
    open_in_other_tab() =
        "Crenel is open in another tab too. Each tab keeps its own work and neither overwrites the other; changes here \
         do not show there.";

    // ---- language ----
    language() = "Language";
    open_language() = "Open a language file";
    remove_language(name: Verbatim) = "Remove {name}";
    language_not_opened(file: Given) = "“{file}” was not opened; the language is unchanged.";
    language_lacks(key: Verbatim) = "It is not a language file: “{key}” is missing.";
    language_text_is_none(key: Given) = "It is not a language file: “{key}” is not text.";
    language_too_long(most: Number) = "It is too long: at most {most} characters are read.";
    language_not_kept() = "This browser does not let the page keep a language.";
}
