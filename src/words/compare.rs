//! The comparison of layouts in words.

sentences! { "compare":
}
