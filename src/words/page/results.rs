//! Results, findings, tables of changes, and estimates.

sentences! { "page.results":
    title() = "Results";
    open_of(open: Number, all: Number) = "{open} of {all}";
    show_all(all: Number) = "All {all}";
    show_fewer() = "Show fewer";
    search() = "Search the results";
    change_anything() = "Change anything to see the original values next to the new ones.";
    compared_with_opened() = "Compared with the design as opened.";
    set_as_baseline() = "Set as baseline";
    copy_table() = "Copy the table";
    working() = "Working";
    pin() = "Show in every area";

    // ---- ranges over tolerances ----
    worst_case() = "Worst case";
    of_the_parts() = "5 · 50 · 95 % of parts";
    parts_not_in(share: Share) = "({share} of the parts do not go in)";
    driven_most_by() = "Driven most by";

    // ---- findings ----
    findings() = "Findings";
    notes_count(notes: Number) = "{notes, plural, one {# note} other {# notes}}";
    findings_count(checks: Number, notes: Number) =
        "{checks, plural, one {# warning} other {# warnings}}{notes, plural, =0 {} one {, # note} other {, # notes}}";
    error() = "Cannot be computed:";
    warning() = "Check this:";
    note() = "Note:";

    // ---- tables of changes ----
    nothing_changes() = "Nothing changes.";
    only_changes() = "Changes only";
    number() = "Result";
    change() = "Change";

    // ---- estimates ----
    estimate_disc() = "Estimate as a disc: m·D²/8";
    estimate_shaft() = "Estimate as a steel shaft: G·π·d⁴/(32·l), G 80 GPa";
    estimate_input(number: Message, input: Label) = "{number}: {input, lower}";
    estimate_used(number: Message, value: Value) = "{number} is now {value}.";
    use_estimate(number: Label) = "Use for {number, lower}";
}
