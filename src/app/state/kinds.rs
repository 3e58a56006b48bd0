//! The kinds of things that the page remembers: messages, sheets, the tour, what was typed.

use std::collections::BTreeMap;

use crenel::design::Draft;
use crenel::ring::Side;

/// A message above the drawings.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Notice {
    /// What happened.
    pub(crate) text: String,
    /// Whether something went wrong.
    pub(crate) bad: bool,
    /// What can be done about it.
    pub(crate) offer: Offer,
}

impl Notice {
    /// A message that something went wrong, without an offer.
    pub(crate) const fn bad(text: String) -> Self {
        Self { text, bad: true, offer: Offer::Nothing }
    }
}

/// What a message offers to do.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Offer {
    Nothing,
    /// To bring back earlier work.
    Earlier(Box<Draft>),
    /// To show what is kept, because there is no room for more.
    Clearing,
}

/// What is typed into the inspection tables: by ring, dog and column.
pub(crate) type Measured = BTreeMap<(Side, usize, usize), String>;

/// A field, a text that it did not accept, and the number that it held then.
pub(crate) type Refused = (String, String, String);

/// What was typed before a reload and is not in the design.
#[derive(Default)]
pub(crate) struct Unfinished {
    pub(crate) measured: Measured,
    pub(crate) refused: Vec<Refused>,
}

/// Which sheet lies over the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Dialog {
    Share,
    Designs,
}

/// How far the tour for newcomers has got.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tour {
    /// Offered on a first visit.
    ShiftCase,
    /// At a stop.
    At(usize),
}

/// A newer build of the app.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Newer {
    /// It is kept and waits to be taken.
    Waiting(web_sys::ServiceWorker),
    /// Another tab took it; this page still runs the one before.
    Taken,
}
