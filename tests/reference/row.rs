//! One number to meet, and the sources that several subjects name.

/// How well an expected number is founded.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    /// It is printed in a work that anybody can look up.
    Published,
    /// It is worked out apart from the program, by hand or in closed form.
    Derived,
    /// It is remembered from a work that was not at hand.
    FromMemory,
    /// The trade does it so; no work is cited.
    CommonPractice,
}

impl Kind {
    /// Its word in the list of the page.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::Derived => "derived",
            Self::FromMemory => "from memory",
            Self::CommonPractice => "common practice",
        }
    }
}

/// Where an expected number comes from.
#[derive(Clone, Copy)]
pub(crate) struct Source {
    pub(crate) kind: Kind,
    pub(crate) cited: &'static str,
}

impl Source {
    pub(crate) const fn published(cited: &'static str) -> Self {
        Self { kind: Kind::Published, cited }
    }

    pub(crate) const fn derived(cited: &'static str) -> Self {
        Self { kind: Kind::Derived, cited }
    }

    pub(crate) const fn from_memory(cited: &'static str) -> Self {
        Self { kind: Kind::FromMemory, cited }
    }

    pub(crate) const fn practice(cited: &'static str) -> Self {
        Self { kind: Kind::CommonPractice, cited }
    }
}

pub(crate) const PRACTICE: Source =
    Source::practice("common practice, no source; plain arithmetic");
pub(crate) const ARITHMETIC: Source = Source::derived("plain arithmetic");
pub(crate) const DERIVED: Source = Source::derived("derived, no source");

/// One number to meet.
pub(crate) struct Row {
    /// What is compared, with its unit, as the page lists it.
    pub(crate) name: String,
    pub(crate) source: Source,
    /// What the core makes of it; `None` where it has no answer, which fails.
    pub(crate) computed: Option<f64>,
    pub(crate) expected: f64,
    /// How far the computed number may be off, in the unit of the row.
    pub(crate) tolerance: f64,
}

impl Row {
    /// A row whose computed number may be absent; `wanted` is the expected number and its tolerance.
    pub(crate) fn new(
        source: Source,
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
        let cited = source.cited;
        let off = computed.map(|c| (c - expected).abs());
        let right = off.is_some_and(|off| off <= *tolerance);
        (!right).then(|| format!("{name} ({cited}): {computed:?} instead of {expected}"))
    }

    /// The expected number in as few decimals as stay within a tenth of the tolerance.
    pub(crate) fn expected_written(&self) -> f64 {
        let rounded = |decimals: usize| format!("{:.decimals$}", self.expected).parse().ok();
        let near = |value: &f64| (value - self.expected).abs() <= self.tolerance / 10.0;
        (0..=15).filter_map(rounded).find(near).unwrap_or(self.expected)
    }
}

/// Makes rows of one source from name, computed number, expected number and tolerance.
pub(crate) fn row_from(source: Source) -> impl Fn(&str, f64, f64, f64) -> Row {
    move |name, computed, expected, tolerance| {
        Row::new(source, name, Some(computed), (expected, tolerance))
    }
}
