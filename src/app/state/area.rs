//! An area of the page, one part of the job. Its row says how it is reached and what it shows. The rows are in
//! `areas`; nothing else matches on an area.

use crenel::design::Design;
use crenel::fields::Slot;
use crenel::ring::Side;
use crenel::verdict::Stage;
use crenel_words::page::frame as say;
use crenel_words::{Message, Phrase};

/// The name of an area, by which others link to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct AreaKey(pub(crate) &'static str);

/// The areas that others link to.
impl AreaKey {
    pub(crate) const CHECKS: Self = Self("trace");
    pub(crate) const DOGS: Self = Self("dogs");
    pub(crate) const SHIFT: Self = Self("shift");
    pub(crate) const REWORK: Self = Self("rework");
    pub(crate) const DEPTH: Self = Self("depth");
    pub(crate) const SELECTOR: Self = Self("selector");
    pub(crate) const MEASURED: Self = Self("measured");
    pub(crate) const BOX: Self = Self("box");
    pub(crate) const LEARN: Self = Self("learn");

    /// The step of [`AreaKey::MEASURED`] with the readings of a ring.
    pub(crate) const fn readings_of(side: Side) -> &'static str {
        side.key()
    }
}

/// How a reader opens an area.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum OpenedBy {
    /// A button among the areas of a stage.
    Stage(Stage),
    /// A button in the head of the page, and a key that works anywhere except in a field.
    HeadButton { key: &'static str },
    /// The first visit, and “New” among the files.
    FirstVisit,
    /// Links where it is wanted, and Find.
    Links,
}

/// The content of an area; `V` is a view.
pub(crate) enum Content<V: 'static> {
    /// Drawings, one set of them at a time, and the panels of sizes that belong to them.
    Board {
        /// The first is shown until another is chosen.
        pictures: &'static [Picture<V>],
        panels: &'static [Panel<V>],
        /// What the inspector shows while nothing is selected.
        home: Home,
    },
    /// The whole page below the stages, without inspector and results.
    Page(fn() -> V),
}

/// One choice of what is shown in the middle of an area.
pub(crate) struct Picture<V> {
    /// Stable and short; it is remembered and goes into the address.
    pub(crate) key: &'static str,
    pub(crate) title: Phrase,
    /// Whether it is left out where there is no room for several drawings, because others of the area show the same.
    pub(crate) roomy: bool,
    /// Whether it shows the rings, which then can be shown as found, as cut, or both.
    pub(crate) shows_rings: bool,
    pub(crate) show: fn() -> V,
}

impl<V> Picture<V> {
    pub(crate) const fn of(key: &'static str, title: Phrase, show: fn() -> V) -> Self {
        Self { key, title, roomy: false, shows_rings: false, show }
    }

    /// A picture of the rings.
    pub(crate) const fn of_rings(key: &'static str, title: Phrase, show: fn() -> V) -> Self {
        Self { shows_rings: true, ..Self::of(key, title, show) }
    }
}

/// A form with sizes that belong together.
pub(crate) struct Panel<V> {
    /// Stable and short; it goes into the address.
    pub(crate) key: &'static str,
    pub(crate) title: Phrase,
    /// The numbers that are typed in it.
    pub(crate) owns: fn(Slot) -> bool,
    pub(crate) form: fn() -> V,
}

/// What the inspector shows while nothing is selected.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Home {
    /// The six sizes of the pair that matter most.
    Pair,
    /// The first panel of the area.
    Panel,
    /// The panel with a key that suits the design as the reader comes.
    PanelFor(fn(&Design) -> &'static str),
}

impl Home {
    /// The key of the panel that it is, of those of an area; `None` where the pair is shown.
    pub(crate) fn panel<V>(self, panels: &[Panel<V>], design: &Design) -> Option<&'static str> {
        match self {
            Self::Pair => None,
            Self::Panel => panels.first().map(|panel| panel.key),
            Self::PanelFor(key) => Some(key(design)),
        }
    }
}

/// One row of the table of areas.
pub(crate) struct Area<V: 'static> {
    pub(crate) key: AreaKey,
    /// The text on its button.
    pub(crate) title: Phrase,
    pub(crate) opened_by: OpenedBy,
    pub(crate) content: Content<V>,
    /// The keys of the figures that stand open among its results.
    pub(crate) results: &'static [&'static str],
    /// The numbers that are typed on it outside of its panels.
    pub(crate) owns: fn(Slot) -> bool,
    /// The name of a step of an area that goes step by step, if it has the step. It is remembered and goes into
    /// the address, like a picture.
    pub(crate) step: fn(&str) -> Option<&'static str>,
    /// Whether it draws the outcome map.
    pub(crate) draws_outcomes: bool,
    /// The number of layouts that it would show of a design, if it can show several. The button shows the number.
    pub(crate) layouts: fn(&Design) -> usize,
    /// Whether a link to a design opens here.
    pub(crate) begins: fn(&Design) -> bool,
    /// Whether its button stands among those of its stage while another area is open. One that is not listed is
    /// reached from where it is wanted, and by Find.
    pub(crate) listed: fn(&Design) -> bool,
}

impl<V> Area<V> {
    /// An area of a stage. Rows override what differs with the struct update syntax.
    pub(crate) const fn of(stage: Stage, key: AreaKey, title: Phrase, content: Content<V>) -> Self {
        Self {
            key,
            title,
            opened_by: OpenedBy::Stage(stage),
            content,
            results: &[],
            owns: |_| false,
            step: |_| None,
            draws_outcomes: false,
            layouts: |_| 1,
            begins: |_| false,
            listed: |_| true,
        }
    }

    /// An area with a button in the head of the page, and the key that opens it.
    pub(crate) const fn of_head(
        opens: &'static str,
        key: AreaKey,
        title: Phrase,
        content: Content<V>,
    ) -> Self {
        Self {
            opened_by: OpenedBy::HeadButton { key: opens },
            ..Self::of(Stage::Pair, key, title, content)
        }
    }

    /// The stage of the job that it belongs to.
    pub(crate) const fn stage(&self) -> Option<Stage> {
        match self.opened_by {
            OpenedBy::Stage(stage) => Some(stage),
            OpenedBy::HeadButton { .. } | OpenedBy::FirstVisit | OpenedBy::Links => None,
        }
    }

    /// The area of a first visit.
    pub(crate) const fn of_first_visit(key: AreaKey, title: Phrase, content: Content<V>) -> Self {
        Self { opened_by: OpenedBy::FirstVisit, ..Self::of(Stage::Pair, key, title, content) }
    }

    /// An area that is reached from where it is wanted.
    pub(crate) const fn of_links(key: AreaKey, title: Phrase, content: Content<V>) -> Self {
        Self { opened_by: OpenedBy::Links, ..Self::of(Stage::Pair, key, title, content) }
    }

    /// Its title, with the number of layouts if there are several.
    pub(crate) fn title_for(&self, design: &Design) -> Message {
        match (self.layouts)(design) {
            0 | 1 => (self.title)(),
            layouts => say::tab_with_layouts((self.title)(), layouts),
        }
    }

    /// Its pictures; empty for an area that fills the page.
    pub(crate) const fn pictures(&self) -> &'static [Picture<V>] {
        match self.content {
            Content::Board { pictures, .. } => pictures,
            Content::Page(_) => &[],
        }
    }

    /// Its pictures on a phone, or on a larger screen.
    pub(crate) fn pictures_on(&self, phone: bool) -> impl Iterator<Item = &'static Picture<V>> {
        self.pictures().iter().filter(move |picture| !(phone && picture.roomy))
    }

    /// Its panels of sizes.
    pub(crate) const fn panels(&self) -> &'static [Panel<V>] {
        match self.content {
            Content::Board { panels, .. } => panels,
            Content::Page(_) => &[],
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
    pub(crate) fn first(self) -> &'static Area<V> {
        self.0.iter().find(|area| area.key == AreaKey::DOGS).unwrap_or(&self.0[0])
    }

    /// An area by its name; the first area if none has it.
    pub(crate) fn find(self, key: AreaKey) -> &'static Area<V> {
        self.0.iter().find(|area| area.key == key).unwrap_or_else(|| self.first())
    }

    /// The areas of a stage.
    pub(crate) fn of_stage(self, stage: Stage) -> impl Iterator<Item = &'static Area<V>> {
        self.0.iter().filter(move |area| area.stage() == Some(stage))
    }

    /// The areas with a button in the head of the page.
    pub(crate) fn head_buttons(self) -> impl Iterator<Item = &'static Area<V>> {
        let in_head = |area: &&Area<V>| matches!(area.opened_by, OpenedBy::HeadButton { .. });
        self.0.iter().filter(in_head)
    }

    /// The area that a first visit begins with.
    pub(crate) fn first_visit(self) -> &'static Area<V> {
        let begins = |area: &&Area<V>| area.opened_by == OpenedBy::FirstVisit;
        self.0.iter().find(begins).unwrap_or_else(|| self.first())
    }

    /// The area of the whole gearbox.
    pub(crate) fn whole_box(self) -> &'static Area<V> {
        self.find(AreaKey::BOX)
    }

    /// The area of the stories.
    pub(crate) fn stories(self) -> &'static Area<V> {
        self.find(AreaKey::LEARN)
    }

    /// The area that a key opens.
    pub(crate) fn opened_by_key(self, pressed: &str) -> Option<&'static Area<V>> {
        let opens = |area: &&Area<V>| match area.opened_by {
            OpenedBy::Stage(_) | OpenedBy::FirstVisit | OpenedBy::Links => false,
            OpenedBy::HeadButton { key } => key == pressed,
        };
        self.0.iter().find(opens)
    }

    /// The area that a link to a design opens in, where it is not the one that is open.
    pub(crate) fn beginning(self, design: &Design) -> Option<&'static Area<V>> {
        self.0.iter().find(|area| (area.begins)(design))
    }
}
