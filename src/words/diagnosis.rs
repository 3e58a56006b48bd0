//! Fault finding: checks, readings and the verdict.

sentences! { "diagnosis":
}
