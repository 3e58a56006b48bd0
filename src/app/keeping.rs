//! Keeps the work in the page's address and in the browser's store, and finds it again.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use leptos::prelude::*;
use wasm_bindgen::JsValue;

use crenel::design::{Design, LINK_LIMIT, decode, encode, example, open, to_json};
use crenel::finding::Finding;

use super::office::{Notice, Office, Work};

/// The work as it stands, in the saved form.
const WORK: &str = "crenel.work";
/// The design it began from.
const OPENED: &str = "crenel.opened";
/// The address that was left with changes it does not hold yet.
const LEFT: &str = "crenel.left";
/// Work that was on the board before a link was opened over it.
const EARLIER: &str = "crenel.earlier";

/// The address may be replaced only so often; a pause also keeps drags cheap.
const PAUSE_MS: u32 = 300;

/// How long a page can take to leave once a reload is asked for.
const LEAVING_MS: f64 = 2000.0;

/// What the page begins with.
pub(crate) struct Start {
    pub(crate) design: Design,
    pub(crate) opened: Design,
    pub(crate) notice: Option<Notice>,
}

/// Finds the design to begin with: the address first, then the store, then the example.
pub(crate) fn start() -> Start {
    let kept = kept(WORK);
    let fragment = fragment();
    if get(LEFT).is_some_and(|left| left == fragment) {
        forget(LEFT);
        if let Some(design) = kept {
            let opened = self::kept(OPENED).unwrap_or_else(|| design.clone());
            return Start { design, opened, notice: None };
        }
    }
    if fragment.is_empty() {
        return from_store(kept, None);
    }
    match decode(&fragment) {
        Ok(opened) => from_link(opened.design, &opened.findings, kept),
        Err(e) => {
            let text = format!("{e} Your own work was not touched.");
            from_store(kept, Some(Notice { text, bad: true, earlier: None }))
        }
    }
}

fn from_store(kept: Option<Design>, notice: Option<Notice>) -> Start {
    let Some(design) = kept else {
        return Start { design: example(), opened: example(), notice };
    };
    let text = "Brought back from this browser, where you left it. That is no backup: save a file of what matters.";
    let notice = notice.unwrap_or(Notice { text: text.to_owned(), bad: false, earlier: None });
    Start {
        opened: self::kept(OPENED).unwrap_or_else(|| design.clone()),
        design,
        notice: Some(notice),
    }
}

fn from_link(design: Design, findings: &[Finding], kept: Option<Design>) -> Start {
    // A reload of the page meets its own link again.
    let own = kept.as_ref() == Some(&design);
    let opened = if own { self::kept(OPENED) } else { None };
    // Work that a link was opened over is offered until it is brought back or dismissed.
    let earlier = if own { self::kept(EARLIER) } else { kept.filter(|kept| *kept != example()) };
    if let Some(earlier) = &earlier {
        // If it cannot be kept, it can still be brought back from this page.
        let _ = put(EARLIER, &to_json(earlier));
    }
    let mut text = sentences(findings);
    if earlier.is_some() {
        text = format!("Opened from a link. {text}Your earlier work is kept.");
    }
    let notice = (!text.is_empty()).then(|| Notice {
        text,
        bad: !findings.is_empty(),
        earlier: earlier.map(Box::new),
    });
    Start { opened: opened.unwrap_or_else(|| design.clone()), design, notice }
}

/// Findings as running text.
pub(crate) fn sentences(findings: &[Finding]) -> String {
    let sentence = |f: &Finding| format!("{} {} ", f.text(Default::default()), f.hint);
    findings.iter().map(sentence).collect()
}

/// Keeps the work from now on, and opens links put into the address by hand.
pub(crate) fn watch(office: Office) {
    let pending: Rc<RefCell<Option<Timeout>>> = Rc::default();
    // The address before the last change of it, and when that was.
    let earlier: Rc<RefCell<(String, f64)>> = Rc::default();
    let noted = Rc::clone(&earlier);
    Effect::new(move |_| {
        let work = office.history.with(|h| h.settled().clone());
        let noted = Rc::clone(&noted);
        let keep = move || {
            *noted.borrow_mut() = (fragment(), js_sys::Date::now());
            keep(office, &work);
        };
        // Replacing the timer cancels the one before.
        *pending.borrow_mut() = Some(Timeout::new(PAUSE_MS, keep));
    });
    // What was changed within the pause before the page is left is kept on leaving.
    EventListener::new(&window(), "pagehide", move |_| {
        let work = office.history.with_untracked(|h| h.settled().clone());
        // A reload goes to the address from before the change, even if it was changed on the way out.
        let left = fragment();
        let (before, at) = earlier.borrow().clone();
        if left != encode(&work.design) && put(LEFT, &left).is_ok() {
            keep(office, &work);
        } else if js_sys::Date::now() - at < LEAVING_MS && before != left {
            // Where it cannot be put, the work is still kept and offered.
            let _ = put(LEFT, &before);
        }
    })
    .forget();
    // The page lives as long as its window.
    EventListener::new(&window(), "hashchange", move |_| open_address(office)).forget();
}

fn keep(office: Office, work: &Work) {
    let link = encode(&work.design);
    let fits = link.len() <= LINK_LIMIT;
    if fits {
        set_fragment(&link);
    }
    let kept = put(WORK, &to_json(&work.design)).and_then(|()| put(OPENED, &to_json(&work.opened)));
    let quiet = office.notice.with_untracked(Option::is_none);
    if !fits && quiet {
        office.tell(
            "The design is too large for a link: the address no longer holds it. Save a file.",
            true,
        );
    }
    if kept.is_err() && quiet {
        office.tell(
            "This browser does not let the page keep your work. The address above holds it: copy the link or save a file before you leave.",
            true,
        );
    }
}

/// Somebody put another link into the address of the open page.
fn open_address(office: Office) {
    let fragment = fragment();
    let now = office.history.with_untracked(|h| h.settled().design.clone());
    if fragment == encode(&now) {
        return;
    }
    match decode(&fragment) {
        Ok(opened) => {
            office.replace(opened.design);
            let text = format!(
                "Opened from a link. {}Undo brings your earlier work back.",
                sentences(&opened.findings)
            );
            office.tell(text, !opened.findings.is_empty());
        }
        Err(e) => {
            set_fragment(&encode(&now));
            office.tell(format!("{e} Your own work was not touched."), true);
        }
    }
}

/// The whole link to a design.
pub(crate) fn link_to(design: &Design) -> String {
    let href = window().location().href().unwrap_or_default();
    let page = href.split('#').next().unwrap_or_default();
    format!("{page}#{}", encode(design))
}

fn fragment() -> String {
    window().location().hash().unwrap_or_default().trim_start_matches('#').to_owned()
}

fn set_fragment(link: &str) {
    if let Ok(history) = window().history() {
        // Refused when it comes too often; the next change tries again.
        let _ = history.replace_state_with_url(&JsValue::NULL, "", Some(&format!("#{link}")));
    }
}

fn kept(key: &str) -> Option<Design> {
    open(&get(key)?).ok().map(|opened| opened.design)
}

fn store() -> Option<web_sys::Storage> {
    window().local_storage().ok().flatten()
}

/// Reads from the browser's store.
pub(crate) fn get(key: &str) -> Option<String> {
    store()?.get_item(key).ok().flatten()
}

/// Forgets the work that a link was opened over.
pub(crate) fn forget_earlier() {
    forget(EARLIER);
}

fn forget(key: &str) {
    if let Some(store) = store() {
        // What is not there need not be taken away.
        let _ = store.remove_item(key);
    }
}

/// Writes to the browser's store.
pub(crate) fn put(key: &str, value: &str) -> Result<(), JsValue> {
    store().ok_or(JsValue::NULL)?.set_item(key, value)
}
