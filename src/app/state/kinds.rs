//! Small types of the state: messages, sheets and typed texts.

use std::collections::BTreeMap;

use crenel::design::Draft;
use crenel::draw::Scene;
use crenel::ring::Side;
use leptos::prelude::Callback;

/// A message above the drawings.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Notice {
    /// What happened.
    pub(crate) text: String,
    /// Whether something went wrong.
    pub(crate) bad: bool,
    /// The action that it offers.
    pub(crate) offer: Offer,
}

impl Notice {
    /// A message that something went wrong, without an offer.
    pub(crate) const fn bad(text: String) -> Self {
        Self { text, bad: true, offer: Offer::Nothing }
    }
}

/// An action that a message offers.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Offer {
    Nothing,
    /// Bring back earlier work.
    Earlier(Box<Draft>),
    /// Show the kept work, because there is no room for more.
    Clearing,
}

/// The texts in the inspection tables, by ring, dog and column.
pub(crate) type Measured = BTreeMap<(Side, usize, usize), String>;

/// A field, a text that it did not accept, and the number that it held then.
pub(crate) type Refused = (String, String, String);

/// Texts typed before a reload that are not in the design.
#[derive(Default)]
pub(crate) struct Unfinished {
    pub(crate) measured: Measured,
    pub(crate) refused: Vec<Refused>,
}

/// A drawing that is to become a figure.
#[derive(Clone)]
pub(crate) struct Printing {
    /// The drawing in words.
    pub(crate) what: String,
    /// Its name in names of files.
    pub(crate) name: &'static str,
    /// Lays it out for letters of this share of its width.
    pub(crate) scene: Callback<f64, Scene>,
}

/// Which sheet lies over the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Dialog {
    Share,
    Designs,
    Find,
    Figure,
}

/// A newer build of the app.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Newer {
    /// It is downloaded and waits for the reader to take it.
    Waiting(web_sys::ServiceWorker),
    /// Another tab took it; this page still runs the one before.
    Taken,
}

/// Pictures of rings that are to be saved with the design: each picture with the place of the work that it belongs to,
/// as its file has it; `null` where it was let go.
pub(crate) type Photos = leptos::prelude::RwSignal<Vec<(String, serde_json::Value)>>;
