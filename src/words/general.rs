//! Small sentences that others are made of.

sentences! { "general":
    two(first: Value, last: Value) = "{first} and {last}";
}
