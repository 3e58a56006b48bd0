//! Designs to open: those kept in this browser, and the examples.

sentences! { "page.designs":
    title() = "Designs";
    kept_here() = "Kept in this browser";
    kept_here_why() =
        "Every design you worked on, except the current one. Designs stay until you delete them here. This is not \
         a backup: save what matters as a file.";
    room_taken(works: Number, size: Message, room: Message) =
        "{works, plural, one {# design takes} other {# designs take}} {size} of {room}.";
    kilobytes(size: Value) = "{size} kB";
    kept_on(time: Verbatim, size: Message) = "{time}, {size}";
    opened_from_kept() = "Opened. Undo returns to your earlier work.";
    deleted(title: Given) = "{title} deleted.";
    restored(title: Given) = "{title} restored.";
    no_room_to_restore(title: Given) = "No room left to restore {title}.";
    delete() = "Delete";
    delete_design(title: Given) = "Delete {title}";
    restore() = "Restore";
    restore_design(title: Given) = "Restore {title}";
    is_deleted() = "Deleted.";
    is_open_elsewhere() = "Open in another tab.";
    open() = "Open";
    open_a_copy() = "Open a copy";
    open_example(title: Label) = "Open: {title}";
    examples() = "Invented examples";
    examples_why() =
        "Classic layouts and faults, of no real make or model. Your current design is kept; Undo returns to \
         it.";
    example_opened(title: Label, story: Label) = "{title}. {story} Undo returns to your earlier work.";
}
