//! The smallest cut for a target: offers, reasons, and what was searched.

sentences! { "suggest":
}
