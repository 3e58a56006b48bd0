//! What the page begins with: the address first, then what is kept, then the example.

use crenel::design::{Design, Draft, History, LinkError, Opened, decode, example, save};
use crenel::finding::Finding;

use super::keys::{EARLIER, HISTORY, LEFT, MET};
use super::place::{fragment, parts};
use crenel_words::Message;
use crenel_words::page::frame as say;

use crate::state::app_state::Start;
use crate::state::kinds::{Notice, Offer, Unfinished};
use crate::state::language::here;
use crate::state::sentences::advice;
use crate::state::unfinished;
use crate::storage::saved_session::SavedSession;
use crate::storage::store::Store;
use crate::storage::tab_storage::{self, TabStorage};
use crate::storage::work_key;

/// What a page can begin with. Each needs more code than the one before.
pub(crate) enum Beginning {
    /// Nothing is kept and nothing was sent: [`fresh`].
    Fresh,
    /// A design was sent, and nothing is kept: [`sent`].
    Sent,
    /// Something is kept: [`start`].
    Kept,
}

/// What this page begins with. The page in `www` decides the same before the code is there.
pub(crate) fn beginning() -> Beginning {
    if Store::Tab.get(HISTORY).is_some() || work_key::is_any_kept() {
        Beginning::Kept
    } else if parts(&fragment()).0.is_empty() {
        Beginning::Fresh
    } else {
        Beginning::Sent
    }
}

/// Begins with the example.
pub(crate) fn fresh() -> Start {
    Store::Tab.remove(LEFT);
    with_example(TabStorage::of_this_tab())
}

/// Begins with the design that the address holds, where nothing is kept.
pub(crate) fn sent() -> Start {
    Store::Tab.remove(LEFT);
    let tab_storage = TabStorage::of_this_tab();
    match decode(parts(&fragment()).0) {
        Ok(Opened { design, findings, .. }) => Start {
            history: History::new(Draft { opened: design.clone(), design, ..Draft::default() }),
            notice: told(advice(&findings), &findings, Offer::Nothing),
            tab_storage,
            from_link: true,
            first_visit: false,
            unfinished: Unfinished::default(),
        },
        Err(why) => example_after(Some(&why), tab_storage),
    }
}

/// Begins with the example, and says why a link was not opened.
fn example_after(refused: Option<&LinkError>, tab_storage: TabStorage) -> Start {
    let start = with_example(tab_storage);
    let notice = refused.map(|why| refusal(why, start.history.settled()));
    Start { notice, ..start }
}

fn with_example(tab_storage: TabStorage) -> Start {
    // Somebody who was led to a place wants to be there.
    let first_visit = fragment().is_empty() && Store::Browser.get(MET).is_none();
    Start {
        history: History::new(Draft::new(example())),
        notice: None,
        tab_storage,
        from_link: false,
        first_visit,
        unfinished: Unfinished::default(),
    }
}

/// Finds the design to begin with: the address first, then what is kept, then the example.
pub(crate) fn start() -> Start {
    let tab_storage = TabStorage::of_this_tab();
    let first = || tab_storage.first().map(History::new);
    let own = Store::Tab.get(HISTORY).and_then(|text| History::open(&text)).or_else(first);
    let fragment = fragment();
    let left = Store::Tab.get(LEFT).is_some_and(|left| left == fragment);
    Store::Tab.remove(LEFT);
    if let Some(own) = own.clone().filter(|_| left) {
        let unfinished = unfinished::recall();
        return Start {
            history: own,
            notice: None,
            tab_storage,
            from_link: false,
            first_visit: false,
            unfinished,
        };
    }
    if parts(&fragment).0.is_empty() {
        return from_store(own, tab_storage, None);
    }
    match decode(parts(&fragment).0) {
        Ok(opened) => from_link(opened.design, &opened.findings, own, tab_storage),
        Err(refused) => from_store(own, tab_storage, Some(refused)),
    }
}

/// What is told of a design that was sent, if anything is.
fn told(told: Vec<Message>, findings: &[Finding], offer: Offer) -> Option<Notice> {
    let bad = !findings.is_empty();
    (!told.is_empty()).then(|| Notice { text: here(told).into_owned(), bad, offer })
}

/// Why a link was not opened, and which design is current in its place.
fn refusal(why: &LinkError, shown: &Draft) -> Notice {
    let is_example = shown.design == example();
    let shown = if is_example { say::shows_the_example() } else { say::shows_own_work() };
    Notice::bad(here([why.says(), vec![shown]].concat()).into_owned())
}

fn from_store(own: Option<History>, tab_storage: TabStorage, refused: Option<LinkError>) -> Start {
    let unfinished = if own.is_some() { unfinished::recall() } else { Unfinished::default() };
    let others = tab_storage.others(own.as_ref().map(History::settled));
    let more = others.len() - usize::from(own.is_none() && !others.is_empty());
    let newest = || others.iter().find_map(|kept| tab_storage.taken_up(kept)).map(History::new);
    let Some(history) = own.or_else(newest) else {
        return example_after(refused.as_ref(), tab_storage);
    };
    let more = (more > 0).then(|| say::more_works_kept(more));
    let told: Vec<_> = [say::restored_from_browser()].into_iter().chain(more).collect();
    let notice = match refused {
        Some(why) => refusal(&why, history.settled()),
        None => Notice { text: here(told).into_owned(), bad: false, offer: Offer::Nothing },
    };
    let notice = Some(notice);
    Start { history, notice, tab_storage, from_link: false, first_visit: false, unfinished }
}

fn from_link(
    design: Design,
    findings: &[Finding],
    own: Option<History>,
    tab_storage: TabStorage,
) -> Start {
    let on_board = own.as_ref().map(History::settled);
    let others = tab_storage.others(on_board);
    // After a reload, and when a link is opened again, the work is there already.
    let is_own = on_board.is_some_and(|draft| draft.design == design);
    let saved = save(&design);
    let met = others.iter().find(|kept| kept.has(&saved)).and_then(SavedSession::draft);
    let offered = |kept: &SavedSession| Some((kept.key.clone(), tab_storage.taken_up(kept)?));
    let earlier = if is_own || met.is_some() {
        Store::Tab.get(EARLIER).and_then(|key| offered(&SavedSession::read(&key)?))
    } else {
        let on_board = on_board.map(|draft| (tab_storage.key(draft), draft.clone()));
        on_board.or_else(|| others.iter().find_map(offered))
    };
    let earlier = earlier.filter(|(_, d)| d.design != design && !d.is_untouched_example());
    let mut says = advice(findings);
    if let Some((key, _)) = &earlier {
        // If it cannot be noted, the work can still be brought back while this page is open.
        let _ = Store::Tab.put(EARLIER, key);
        says = [vec![say::opened_from_link()], says, vec![say::earlier_work_is_kept()]].concat();
    }
    let offer = earlier.map_or(Offer::Nothing, |(_, draft)| Offer::Earlier(Box::new(draft)));
    let notice = told(says, findings, offer);
    let opened = met.map_or_else(|| design.clone(), |draft| draft.opened);
    let unfinished = if is_own { unfinished::recall() } else { Unfinished::default() };
    let history = match own {
        Some(own) if is_own => own,
        // The previous work of this tab stays kept, and Undo returns to it.
        Some(mut own) => {
            own.apply(Draft { design, opened, place: tab_storage::random_name() });
            own
        }
        None => History::new(Draft { design, opened, ..Draft::default() }),
    };
    Start { history, notice, tab_storage, from_link: !is_own, first_visit: false, unfinished }
}

/// Notes that somebody has begun here, so that the next visit is not the first.
pub(crate) fn note_met() {
    // If it cannot be noted, the next visit begins like the first.
    let _ = Store::Browser.put(MET, "yes");
}

/// Stops offering the work from before a link was opened. It stays kept.
pub(crate) fn forget_earlier() {
    Store::Tab.remove(EARLIER);
}
