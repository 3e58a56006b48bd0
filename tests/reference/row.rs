//! One number to meet, and the sources that several subjects name.

pub(crate) const PRACTICE: &str = "common practice, no source; plain arithmetic";
pub(crate) const ARITHMETIC: &str = "plain arithmetic";
pub(crate) const DERIVED: &str = "derived, no source";

/// One number to meet.
pub(crate) struct Row {
    /// What is compared, with its unit, as the page lists it.
    pub(crate) name: String,
    pub(crate) source: &'static str,
    /// What the core makes of it; `None` where it has no answer, which fails.
    pub(crate) computed: Option<f64>,
    pub(crate) expected: f64,
    /// How far the computed number may be off, in the unit of the row.
    pub(crate) tolerance: f64,
}

impl Row {
    /// A row whose computed number may be absent; `wanted` is the expected number and its tolerance.
    pub(crate) fn new(
        source: &'static str,
        name: &str,
        computed: Option<f64>,
        wanted: (f64, f64),
    ) -> Self {
        let (expected, tolerance) = wanted;
        Self { name: name.to_owned(), source, computed, expected, tolerance }
    }

    /// Why the row is not met.
    pub(crate) fn failure(&self) -> Option<String> {
        let Self { name, source, computed, expected, tolerance } = self;
        let off = computed.map(|c| (c - expected).abs());
        let right = off.is_some_and(|off| off <= *tolerance);
        (!right).then(|| format!("{name} ({source}): {computed:?} instead of {expected}"))
    }

    /// The expected number in as few decimals as stay within a tenth of the tolerance.
    pub(crate) fn expected_written(&self) -> f64 {
        let rounded = |decimals: usize| format!("{:.decimals$}", self.expected).parse().ok();
        let near = |value: &f64| (value - self.expected).abs() <= self.tolerance / 10.0;
        (0..=15).filter_map(rounded).find(near).unwrap_or(self.expected)
    }
}

/// Makes rows of one source from name, computed number, expected number and tolerance.
pub(crate) fn row_from(source: &'static str) -> impl Fn(&str, f64, f64, f64) -> Row {
    move |name, computed, expected, tolerance| {
        Row::new(source, name, Some(computed), (expected, tolerance))
    }
}
