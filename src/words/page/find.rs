//! Find: numbers, results, words, areas, designs and actions by their name.

sentences! { "page.find":
    title() = "Find";
    placeholder() = "width a1 24";
    found() = "Matches";
    nothing() = "No match.";
    how() = "Type a few letters and press Enter to go there. A number after a name sets it: “width a1 24”.";
    set_to(now: Value, to: Value) = "now {now}; Enter sets {to}";
    design() = "Example design";
    action() = "Action";
    in_millimetres() = "Show lengths in [millimetres|millimeters]";
    in_inches() = "Show lengths in inches";
    in_degrees() = "Show angles in decimal degrees";
    in_minutes() = "Show angles in degrees and minutes";
}
