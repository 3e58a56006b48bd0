//! Find: numbers, results, words, areas and designs by their name.

sentences! { "page.find":
    title() = "Find";
    placeholder() = "width a1 24";
    found() = "What was found";
    nothing() = "Nothing has such a name.";
    how() = "Type a few letters. A number after a name sets it: “width a1 24”. Enter goes there.";
    set_to(now: Value, to: Value) = "{now}, set to {to}";
    design() = "Example design";
}
