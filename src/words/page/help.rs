//! Help.

sentences! { "page.help":
    title() = "Help";
    parts() = "Help topics";
    part_begin() = "Where to start";
    part_keys() = "Keys";
    part_words() = "Words";
    part_computed() = "How it is computed";
    part_checks() = "Verification";
    part_sources() = "Sources";
    part_about() = "About Crenel";

    // ---- where to start ----
    open_example() = "Open an example";
    shifts_badly() = "A gearbox shifts badly";
    shifts_badly_how() =
        "Under Checks, choose what the rider feels, then measure from the foot inwards: pedal, claw and stop, detent, \
         shims and depth, tips and edges, layout. The number furthest out of limits comes first. The cause of poor \
         shifting often lies outside the dogs.";
    cutting_dogs() = "You plan to cut dogs";
    cutting_dogs_how() =
        "Dogs: enter both rings as they are, or list them dog by dog as measured. Plan: list what to remove and \
         read every result as found and as cut. Sheets: print them for the shop. File: save drawings, \
         solids and index positions.";
    which_layout() = "Which layout is better?";
    which_layout_how() =
        "Compare puts up to four layouts side by side. Few dogs with wide gaps engage easily but clunk; many dogs \
         with small gaps are quiet but miss more shifts. The table marks the best of each result.";
    sharing() = "You want to share a design";
    sharing_how() =
        "Share: the link holds the whole design, and a phone reads it from the QR code. Nothing is stored anywhere but \
         on your device.";
    numbers() = "Ways to write numbers";
    numbers_how() =
        "Comma or point, mm or inch, fractions and other units: 4,5 · 3/16 in · 12°30′. Choose at the top how numbers \
         are shown.";

    // ---- keys ----
    without_mouse() =
        "Everything works without a mouse: each handle is a slider, and each number has a field as well.";
    key_tab() = "Tab, Shift+Tab";
    key_tab_does() = "next or previous handle, field or button";
    key_handle() = "← → ↑ ↓ on a handle";
    key_one_step() = "one step; ten with Shift";
    key_pages() = "Page up, Page down on a handle";
    key_pages_does() = "ten steps";
    key_ends() = "Home, End on a handle";
    key_ends_does() = "to its limits";
    key_escape() = "Escape";
    key_escape_does() = "cancels a drag; closes a menu or a dialog";
    key_field() = "↑ ↓ in a number field";
    key_enter() = "Enter in a number field";
    key_enter_does() = "accepts what you typed";
    key_press() = "Enter, Space";
    key_press_does() = "presses a button, opens a result";
    key_undo() = "Ctrl+Z";
    key_undo_does() = "undo";
    key_redo() = "Ctrl+Y, Ctrl+Shift+Z";
    key_redo_does() = "redo";
    key_solids() = "← → ↑ ↓ on the solids";
    key_solids_does() = "turns them; Home turns them back";
    key_zoom() = "Ctrl+wheel, two fingers";
    key_zoom_does() = "zooms a drawing; then drag to move it";
    key_variant() = "V, Shift+V";
    key_variant_does() = "next or previous variant of the plan";
    key_help() = "?";
    key_help_does() = "this page";

    // ---- words ----
    find_word() = "Find a word";
    no_such_word() = "Not found. Try another word, or part of it.";
    also(words: Label) = "(also {words})";

    // ---- how it is computed ----
    computed() =
        "Every result with its meaning, formula and source, worked through for the current design. “Common \
         practice” means that nothing published backs it; “from memory” means that it was not looked up.";
    not_in_design() = "Not in the current design.";

    // ---- checks ----
    checked(values: Number) =
        "{values} results are compared with expected values. A build in which one of them differs is not released.";
    kinds(published: Number, derived: Number, memory: Number, practice: Number) =
        "Of these, {published} are published, {derived} derived without the program, {memory} from memory, and \
         {practice} common practice.";
    checked_besides() =
        "On every change, thousands of results are also compared with other programs, and random rings are tested for \
         what must always hold.";
    check_values() = "The check values";
    table_of_checks() = "Check values";
    check() = "Check";
    expected() = "Expected";
    tolerance() = "Tolerance";
    loading_list() = "Loading the list …";
    not_loaded() = "This could not be loaded. Without a network it is available once this browser has stored the app.";

    // ---- sources ----
    sources() =
        "What formulas, limits and files follow. All else is derived, or common practice with no source: each result \
         says which.";

    // ---- about ----
    version(number: Verbatim) = "Crenel {number}. Open source, under MIT or Apache 2.0.";
    works_offline() = "This browser has stored the whole app: it opens without a network.";
    needs_network() = "This browser has not stored the app yet, or cannot: opening it needs a network.";
    no_server() = "Everything is computed in your browser. There is no server, no account and no tracking.";
    what_it_knows() =
        "Crenel knows only the sizes you enter, not your gearbox. A part that fails can lock the rear wheel. Keep to \
         the engine maker's limits and local rules, and have a qualified shop check the work. Examples and \
         demonstration data are invented.";
    back() = "Back to the design";
    licences() = "[Licences|Licenses]";
    licences_of_parts() = "[Licences|Licenses] of everything in Crenel";
    loading_texts() = "Loading the [licences|licenses] …";
}
