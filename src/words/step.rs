//! Steps of the work, as a machinist reads them.

sentences! { "step":
}
