//! Keeps the work in the page's address and in the browser's store, and finds it again.

use std::cell::RefCell;
use std::rc::Rc;

use gloo_events::EventListener;
use gloo_timers::callback::Timeout;
use leptos::prelude::*;
use wasm_bindgen::{JsCast as _, JsValue};

use crenel::design::{
    Design, Draft, History, LINK_LIMIT, LinkError, decode, encode, example, save,
};
use crenel::finding::Finding;

use crate::state::app_state::{Area, Notice, Offer, Office};
use crate::state::unfinished::{self, Unfinished};
use crate::storage::store::{forget, note, recall};
use crate::storage::tab_storage::{self, Kept, NotKept, Shelf, is_work, kept};

/// The address that was left with changes it does not hold yet.
const LEFT: &str = "crenel.left";
/// Where the work is kept that was on the board before a link was opened, while it is still offered.
const EARLIER: &str = "crenel.earlier";
/// What is on the board of this tab, with its past and future.
const HISTORY: &str = "crenel.history";

/// Put once it was said that another tab is open.
const TOLD: &str = "crenel.told";

/// The address may be replaced only so often.
const PAUSE_MS: u32 = 300;

/// How long a page can take to leave once a reload is asked for.
const LEAVING_MS: f64 = 2000.0;

/// What the page begins with.
pub(crate) struct Start {
    pub(crate) history: History,
    pub(crate) notice: Option<Notice>,
    pub(crate) shelf: Shelf,
    pub(crate) area: Area,
    /// What was typed before a reload and is not in the design.
    pub(crate) unfinished: Unfinished,
}

/// Finds the design to begin with: the address first, then what is kept, then the example.
pub(crate) fn start() -> Start {
    let shelf = Shelf::of_this_tab();
    let first = || shelf.first().map(History::new);
    let own = recall(HISTORY).and_then(|text| History::open(&text)).or_else(first);
    let fragment = fragment();
    let left = recall(LEFT).is_some_and(|left| left == fragment);
    forget(LEFT);
    if let Some(own) = own.clone().filter(|_| left) {
        let unfinished = Unfinished::recall();
        return Start { history: own, notice: None, shelf, area: Area::Rings, unfinished };
    }
    if fragment.is_empty() {
        return from_store(own, shelf, None);
    }
    match decode(&fragment) {
        Ok(opened) => from_link(opened.design, &opened.findings, own, shelf),
        Err(refused) => from_store(own, shelf, Some(refused)),
    }
}

/// Why a link was not opened, and what is on the board in its place.
fn refusal(why: &LinkError, shown: &Draft) -> Notice {
    let shown = if shown.design == example() {
        "the invented example that Crenel begins with"
    } else {
        "your own work, as you left it"
    };
    let text = format!("{why} What is shown here is not the design of the link but {shown}.");
    bad(text)
}

const fn bad(text: String) -> Notice {
    Notice { text, bad: true, offer: Offer::Nothing }
}

fn from_store(own: Option<History>, shelf: Shelf, refused: Option<LinkError>) -> Start {
    let area = Area::Rings;
    let unfinished = if own.is_some() { Unfinished::recall() } else { Unfinished::default() };
    let others = shelf.others(own.as_ref().map(History::settled));
    let more = others.len() - usize::from(own.is_none() && !others.is_empty());
    let newest = || others.iter().find_map(|kept| shelf.taken_up(kept)).map(History::new);
    let Some(history) = own.or_else(newest) else {
        let history = History::new(Draft::new(example()));
        let notice = refused.map(|why| refusal(&why, history.settled()));
        return Start { history, notice, shelf, area, unfinished };
    };
    let text = match more {
        0 => String::new(),
        1 => " One other work is kept too: see Designs.".to_owned(),
        more => format!(" {more} other works are kept too: see Designs."),
    };
    let text = format!(
        "Brought back from this browser, where you left it. That is no backup: save a file of what matters.{text}"
    );
    let notice = match refused {
        Some(why) => refusal(&why, history.settled()),
        None => Notice { text, bad: false, offer: Offer::Nothing },
    };
    Start { history, notice: Some(notice), shelf, area, unfinished }
}

fn from_link(design: Design, findings: &[Finding], own: Option<History>, shelf: Shelf) -> Start {
    let on_board = own.as_ref().map(History::settled);
    let others = shelf.others(on_board);
    // A reload of the page, or a link opened again, meets its own work.
    let is_own = on_board.is_some_and(|draft| draft.design == design);
    let saved = save(&design);
    let met = others.iter().find(|kept| kept.has(&saved)).and_then(Kept::draft);
    let offered = |kept: &Kept| Some((kept.key.clone(), shelf.taken_up(kept)?));
    let earlier = if is_own || met.is_some() {
        recall(EARLIER).and_then(|key| offered(&kept(&key)?))
    } else {
        let on_board = on_board.map(|draft| (shelf.key(draft), draft.clone()));
        on_board.or_else(|| others.iter().find_map(offered))
    };
    let earlier = earlier.filter(|(_, d)| d.design != design && !d.is_untouched_example());
    // A comparison was sent to be compared.
    let compares = !design.beside.is_empty() && !is_own;
    let area = if compares { Area::Compare } else { Area::Rings };
    let mut text = sentences(findings);
    if let Some((key, _)) = &earlier {
        // If it cannot be noted, it can still be brought back from this page.
        let _ = note(EARLIER, key);
        text = format!("Opened from a link. {text}Your earlier work is kept.");
    }
    let offer = earlier.map_or(Offer::Nothing, |(_, draft)| Offer::Earlier(Box::new(draft)));
    let notice = (!text.is_empty()).then_some(Notice { text, bad: !findings.is_empty(), offer });
    let opened = met.map_or_else(|| design.clone(), |draft| draft.opened);
    let unfinished = if is_own { Unfinished::recall() } else { Unfinished::default() };
    let history = match own {
        Some(own) if is_own => own,
        // The work this tab had stays where it is kept, and Undo leads back to it.
        Some(mut own) => {
            own.apply(Draft { design, opened, place: tab_storage::some_name() });
            own
        }
        None => History::new(Draft { design, opened, ..Draft::default() }),
    };
    Start { history, notice, shelf, area, unfinished }
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
    Effect::new(move |before: Option<String>| {
        let draft = settled.get();
        keep(office);
        let place = draft.place.clone();
        if before.as_ref() != Some(&place) {
            office.shelf.with_value(|shelf| shelf.merge(&draft));
        }
        let noted = Rc::clone(&noted);
        let address = move || {
            *noted.borrow_mut() = (fragment(), js_sys::Date::now());
            put_into_address(office, &draft.design);
        };
        // Replacing the timer cancels the one before.
        *pending.borrow_mut() = Some(Timeout::new(PAUSE_MS, address));
        place
    });
    tell_what_is_forgotten(office);
    unfinished::watch(office);
    // What was changed within the pause before the page is left is not in the address.
    EventListener::new(&window(), "pagehide", move |_| {
        unfinished::leave(office);
        let left = fragment();
        let (before, at) = earlier.borrow().clone();
        office.shelf.update_value(Shelf::leave);
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
    EventListener::new(&window(), "pageshow", move |event| come_back(office, event)).forget();
    EventListener::new(&window(), "hashchange", move |_| open_address(office)).forget();
    EventListener::new(&window(), "storage", move |event| other_tab(office, event)).forget();
}

/// The page is back out of the browser's memory, where it had given its places up.
fn come_back(office: Office, event: &web_sys::Event) {
    let back = event.dyn_ref::<web_sys::PageTransitionEvent>();
    if back.is_some_and(web_sys::PageTransitionEvent::persisted) {
        office.shelf.update_value(Shelf::come_back);
        keep(office);
    }
}

/// Says once, and for a moment, that the oldest steps can no longer be undone.
fn tell_what_is_forgotten(office: Office) {
    let forgot = Memo::new(move |_| office.history.with(History::forgot));
    Effect::new(move |before: Option<bool>| {
        let forgot = forgot.get();
        if forgot && before == Some(false) {
            office.flash("The oldest steps of Undo have gone, to make room for new ones.");
        }
        forgot
    });
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

/// Keeps what is settled, and says where that is not possible.
pub(crate) fn keep(office: Office) {
    let (draft, text) = office.history.with_untracked(|h| (h.settled().clone(), h.save()));
    if note(HISTORY, &text).is_err() {
        // One that is behind would bring back what was changed since.
        forget(HISTORY);
    }
    match office.shelf.with_value(|shelf| shelf.keep(&draft)) {
        Ok(()) => {
            if draft.design != draft.opened {
                tab_storage::ask_to_last();
            }
            let was_full = |notice: &Notice| notice.offer == Offer::Clearing;
            if office.notice.with_untracked(|n| n.as_ref().is_some_and(was_full)) {
                office.notice.set(None);
            }
        }
        Err(why) if office.notice.with_untracked(Option::is_none) => {
            office.notice.set(Some(not_kept(why)));
        }
        Err(_) => {}
    }
}

fn not_kept(why: NotKept) -> Notice {
    match why {
        NotKept::Forbidden => bad("This browser does not let the page keep your work. The address above holds it: copy the link or save a file before you leave.".to_owned()),
        NotKept::Full => {
            let text = format!(
                "There is no room left in this browser for what you change: {}. Nothing was taken away. The address above holds your work: copy the link or save a file, or make room.",
                tab_storage::taken()
            );
            Notice { text, bad: true, offer: Offer::Clearing }
        }
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
