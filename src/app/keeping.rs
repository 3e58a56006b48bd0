//! Keeps the work in the page's address and in the browser's store, and finds it again.

use std::cell::RefCell;
use std::rc::Rc;

use gloo_events::EventListener;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};

use crenel::design::{Design, LINK_LIMIT, LinkError, decode, encode, example};
use crenel::finding::Finding;

use super::office::{Area, Notice, Office, Work};
use super::shelf::{Kept, Shelf, forget, is_work, note, recall};

/// The address that was left with changes it does not hold yet.
const LEFT: &str = "crenel.left";
/// The work of another tab that was on the board before a link was opened, while it is still offered.
const EARLIER: &str = "crenel.earlier";

/// Put once it was said that another tab is open.
const TOLD: &str = "crenel.told";

/// The address may be replaced only so often.
const PAUSE_MS: u32 = 300;

/// How long a page can take to leave once a reload is asked for.
const LEAVING_MS: f64 = 2000.0;

/// What the page begins with.
pub(crate) struct Start {
    pub(crate) work: Work,
    pub(crate) notice: Option<Notice>,
    pub(crate) shelf: Shelf,
    pub(crate) area: Area,
}

/// Finds the design to begin with: the address first, then what is kept, then the example.
pub(crate) fn start() -> Start {
    let shelf = Shelf::of_this_tab();
    let own = shelf.own();
    let fragment = fragment();
    let left = recall(LEFT).is_some_and(|left| left == fragment);
    forget(LEFT);
    if let Some(own) = own.clone().filter(|_| left) {
        return Start { work: own.work, notice: None, shelf, area: Area::Rings };
    }
    if fragment.is_empty() {
        return from_store(own, shelf, None);
    }
    match decode(&fragment) {
        Ok(opened) => from_link(opened.design, &opened.findings, own.as_ref(), shelf),
        Err(refused) => from_store(own, shelf, Some(refused)),
    }
}

/// Why a link was not opened, and what is on the board in its place.
fn refusal(why: &LinkError, shown: &Design) -> Notice {
    let shown = if *shown == example() {
        "the invented example that Crenel begins with"
    } else {
        "your own work, as you left it"
    };
    let text = format!("{why} What is shown here is not the design of the link but {shown}.");
    Notice { text, bad: true, earlier: None }
}

fn from_store(own: Option<Kept>, shelf: Shelf, refused: Option<LinkError>) -> Start {
    let others = shelf.others();
    let Some(kept) = own.or_else(|| others.first().cloned()) else {
        let work = Work { design: example(), opened: example() };
        let notice = refused.map(|why| refusal(&why, &work.design));
        return Start { work, notice, shelf, area: Area::Rings };
    };
    let more = others.iter().filter(|other| other.work.design != kept.work.design).count();
    let text = match more {
        0 => String::new(),
        1 => " One other work is kept too: see Designs.".to_owned(),
        more => format!(" {more} other works are kept too: see Designs."),
    };
    let text = format!(
        "Brought back from this browser, where you left it. That is no backup: save a file of what matters.{text}"
    );
    let notice = match refused {
        Some(why) => refusal(&why, &kept.work.design),
        None => Notice { text, bad: false, earlier: None },
    };
    Start { work: kept.work, notice: Some(notice), shelf, area: Area::Rings }
}

fn from_link(design: Design, findings: &[Finding], own: Option<&Kept>, shelf: Shelf) -> Start {
    // A reload of the page, or a link opened again, meets its own work.
    let others = shelf.others();
    let met = own.into_iter().chain(&others).find(|kept| kept.work.design == design);
    let offered = match met {
        Some(_) => recall(EARLIER),
        None => own.or(others.first()).map(|kept| kept.tab.clone()),
    };
    let reloaded = own.is_some_and(|own| own.work.design == design);
    // A comparison was sent to be compared.
    let compares = !design.beside.is_empty() && !reloaded;
    let area = if compares { Area::Compare } else { Area::Rings };
    // The work this tab had stays where it is kept.
    let shelf = if own.is_some() && !reloaded { Shelf::new_place() } else { shelf };
    let offered = own.into_iter().chain(&others).find(|kept| offered.as_ref() == Some(&kept.tab));
    let offered =
        offered.filter(|kept| kept.work.design != design && kept.work.design != example());
    let mut text = sentences(findings);
    if let Some(earlier) = offered {
        // If it cannot be noted, it can still be brought back from this page.
        let _ = note(EARLIER, &earlier.tab);
        text = format!("Opened from a link. {text}Your earlier work is kept.");
    }
    let notice = (!text.is_empty()).then(|| Notice {
        text,
        bad: !findings.is_empty(),
        earlier: offered.map(|kept| Box::new(kept.work.design.clone())),
    });
    let opened = met.map_or_else(|| design.clone(), |kept| kept.work.opened.clone());
    Start { work: Work { design, opened }, notice, shelf, area }
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
    // Not at every step of a drag: what is settled is kept at once, so that a crash takes the gesture only.
    let settled = Memo::new(move |_| office.history.with(|h| h.settled().clone()));
    Effect::new(move |_| {
        let work = settled.get();
        keep(office, &work);
        let noted = Rc::clone(&noted);
        let address = move || {
            *noted.borrow_mut() = (fragment(), js_sys::Date::now());
            put_into_address(office, &work.design);
        };
        // Replacing the timer cancels the one before.
        *pending.borrow_mut() = Some(Timeout::new(PAUSE_MS, address));
    });
    // What was changed within the pause before the page is left is not in the address.
    EventListener::new(&window(), "pagehide", move |_| {
        let left = fragment();
        let (before, at) = earlier.borrow().clone();
        office.shelf.with_value(Shelf::leave);
        // A reload goes to the address from before the change, even if it was changed on the way out.
        // Where it cannot be noted, the work is still kept and offered.
        if left != encode(&settled.get_untracked().design) {
            let _ = note(LEFT, &left);
        } else if js_sys::Date::now() - at < LEAVING_MS && before != left {
            let _ = note(LEFT, &before);
        }
    })
    .forget();
    // The page lives as long as its window.
    EventListener::new(&window(), "pageshow", move |_| Shelf::come_back()).forget();
    EventListener::new(&window(), "hashchange", move |_| open_address(office)).forget();
    EventListener::new(&window(), "storage", move |event| other_tab(office, event)).forget();
}

/// Says once that another tab is at work, and that neither writes over the other.
fn other_tab(office: Office, event: &web_sys::Event) {
    let key = event.dyn_ref::<web_sys::StorageEvent>().and_then(web_sys::StorageEvent::key);
    let told = recall(TOLD).is_some() || office.notice.with_untracked(Option::is_some);
    if key.is_some_and(|key| is_work(&key)) && !told {
        // Where it cannot be noted, it is said again after a reload.
        let _ = note(TOLD, "yes");
        office.tell(
            "Crenel is open in another tab too. Each tab keeps its own work and neither writes over the other; what you change here does not show there.",
            false,
        );
    }
}

fn keep(office: Office, work: &Work) {
    let kept = office.shelf.with_value(|shelf| shelf.keep(work));
    if kept.is_err() && office.notice.with_untracked(Option::is_none) {
        office.tell(
            "This browser does not let the page keep your work. The address above holds it: copy the link or save a file before you leave.",
            true,
        );
    }
}

fn put_into_address(office: Office, design: &Design) {
    let link = encode(design);
    if link.len() <= LINK_LIMIT {
        return set_fragment(&link);
    }
    if office.notice.with_untracked(Option::is_none) {
        office.tell(
            "The design is too large for a link: the address no longer holds it. Save a file.",
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
        // The same once more, with something hung on by what it came through.
        Ok(opened) if opened.design == now => set_fragment(&encode(&now)),
        Ok(opened) => {
            if !opened.design.beside.is_empty() {
                office.area.set(Area::Compare);
            }
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

/// The work that a link was opened over is no longer offered; it stays kept.
pub(crate) fn forget_earlier() {
    forget(EARLIER);
}
