//! The frame of the page: its head, the tabs, the tour, notices, and what is said while it loads.

sentences! { "page.frame":
    tab_with_layouts(title: Message, layouts: Number) = "{title} ({layouts})";
}
