//! An area of the page, one part of the job. Its row says how it is reached, what it shows, and what the tour says
//! of it. The rows are in `areas`; nothing else matches on an area.

use crenel::design::Design;
use crenel::figures::Group;
use crenel_words::page::frame as say;
use crenel_words::{Message, Phrase};

/// The name of an area, by which others link to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct AreaKey(pub(crate) &'static str);

/// The areas that others link to.
impl AreaKey {
    pub(crate) const SHIFT: Self = Self("shift");
    pub(crate) const REWORK: Self = Self("rework");
    pub(crate) const DEPTH: Self = Self("depth");
    pub(crate) const SELECTOR: Self = Self("selector");
}

/// How a reader opens an area.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum OpenedBy {
    /// A tab among the parts of the job.
    Tab,
    /// A button in the head of the page, and a key that works anywhere except in a field.
    HeadButton { key: &'static str },
}

/// The content of an area; `V` is a view.
pub(crate) enum Content<V> {
    /// Drawings and sizes, with the results beside them.
    Board {
        drawings: fn() -> V,
        sizes: fn() -> V,
        /// Whether the sizes come above the drawings.
        sizes_first: bool,
    },
    /// The whole width of the page, without the results.
    Page(fn() -> V),
}

/// One row of the table of areas.
pub(crate) struct Area<V> {
    pub(crate) key: AreaKey,
    /// The text on its tab or button.
    pub(crate) title: Phrase,
    pub(crate) opened_by: OpenedBy,
    pub(crate) content: Content<V>,
    /// The sentence of the tour on it; `None` if the tour leaves it out.
    pub(crate) tour: Option<Phrase>,
    /// The groups of results that belong to it. They come first.
    pub(crate) first_results: &'static [Group],
    /// Whether it draws the outcome map.
    pub(crate) draws_outcomes: bool,
    /// The number of layouts that it would show of a design, if it can show several. The tab shows the number, and
    /// a link to a design with several opens here.
    pub(crate) layouts: fn(&Design) -> usize,
}

impl<V> Area<V> {
    /// An area with a tab. Rows override what differs with the struct update syntax.
    pub(crate) const fn tab(key: AreaKey, title: Phrase, content: Content<V>) -> Self {
        Self {
            key,
            title,
            opened_by: OpenedBy::Tab,
            content,
            tour: None,
            first_results: &[],
            draws_outcomes: false,
            layouts: |_| 1,
        }
    }

    /// Its title, with the number of layouts if there are several.
    pub(crate) fn title_for(&self, design: &Design) -> Message {
        match (self.layouts)(design) {
            0 | 1 => (self.title)(),
            layouts => say::tab_with_layouts((self.title)(), layouts),
        }
    }
}

/// All areas, in the order of the job.
pub(crate) struct Areas<V: 'static>(pub(crate) &'static [Area<V>]);

// Not derived: the derive would require it of `V` too.
impl<V> Clone for Areas<V> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<V> Copy for Areas<V> {}

impl<V> Areas<V> {
    /// The area that the page begins with.
    pub(crate) const fn first(self) -> &'static Area<V> {
        &self.0[0]
    }

    /// An area by its name; the first area if none has it.
    pub(crate) fn find(self, key: AreaKey) -> &'static Area<V> {
        self.0.iter().find(|area| area.key == key).unwrap_or(self.first())
    }

    /// The areas with a tab.
    pub(crate) fn tabs(self) -> impl Iterator<Item = &'static Area<V>> {
        self.0.iter().filter(|area| area.opened_by == OpenedBy::Tab)
    }

    /// The areas with a button in the head of the page.
    pub(crate) fn head_buttons(self) -> impl Iterator<Item = &'static Area<V>> {
        self.0.iter().filter(|area| area.opened_by != OpenedBy::Tab)
    }

    /// The area that a key opens.
    pub(crate) fn opened_by_key(self, pressed: &str) -> Option<&'static Area<V>> {
        let opens = |area: &&Area<V>| match area.opened_by {
            OpenedBy::Tab => false,
            OpenedBy::HeadButton { key } => key == pressed,
        };
        self.0.iter().find(opens)
    }

    /// The area for a design with layouts beside it.
    pub(crate) fn for_layouts(self, design: &Design) -> Option<&'static Area<V>> {
        self.0.iter().find(|area| (area.layouts)(design) > 1)
    }

    /// The sentences of the tour on the areas, in order.
    pub(crate) fn tour(self) -> impl Iterator<Item = Phrase> {
        self.0.iter().filter_map(|area| area.tour)
    }
}
