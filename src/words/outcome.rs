//! How a shift ends.

sentences! { "outcome":
}
