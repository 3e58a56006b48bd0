//! Words that several parts of the page share: buttons, states, heads of columns.

sentences! { "page.common":
}
