//! Which tabs are open. Each holds a Web Lock under its name, which the browser releases when the tab is
//! closed or crashes.

use js_sys::{Array, Function, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// The prefix of the locks' names; the name of the tab follows.
const LOCK: &str = "crenel.tab.";

/// Tells other tabs that this one is open.
pub(crate) struct Presence {
    /// Releases the lock.
    release: Option<Function>,
}

impl Presence {
    /// Takes the lock of a tab, in a browser that has locks.
    pub(crate) fn of(tab: &str) -> Self {
        let mut release = None;
        let until = Promise::new(&mut |resolve, _| release = Some(resolve));
        let hold = Closure::once_into_js(move || until);
        if let Some((locks, request)) = locks("request") {
            let asked = request.call2(&locks, &format!("{LOCK}{tab}").into(), &hold);
            forgive(asked);
        }
        Self { release }
    }

    /// Releases the lock when the page is left: a page that holds one is not kept in the browser's memory.
    pub(crate) fn end(&mut self) {
        if let Some(release) = self.release.take() {
            // Releasing cannot fail.
            let _ = release.call0(&JsValue::NULL);
        }
    }
}

/// Ignores how a request ends: where locks are refused, no tab believes that another is closed.
fn forgive(asked: Result<JsValue, JsValue>) {
    if let Ok(asked) = asked.and_then(JsCast::dyn_into::<Promise>) {
        spawn_local(async { drop(JsFuture::from(asked).await) });
    }
}

/// Finds out which tabs are open and passes it to `tell`, unless the browser cannot know.
pub(crate) fn ask_open(tell: Box<dyn FnOnce(Vec<String>)>) {
    spawn_local(async move {
        if let Some(open) = open().await {
            tell(open);
        }
    });
}

async fn open() -> Option<Vec<String>> {
    let (locks, query) = locks("query")?;
    let asked: Promise = query.call0(&locks).ok()?.dyn_into().ok()?;
    let answer = JsFuture::from(asked).await.ok()?;
    let mut open = Vec::new();
    for list in ["held", "pending"] {
        let list: Array = Reflect::get(&answer, &list.into()).ok()?.dyn_into().ok()?;
        let names = list.iter().filter_map(|lock| Reflect::get(&lock, &"name".into()).ok());
        let names = names.filter_map(|name| name.as_string());
        open.extend(names.filter_map(|name| name.strip_prefix(LOCK).map(str::to_owned)));
    }
    Some(open)
}

/// The browser's lock manager and one of its methods, if the page may use them.
fn locks(act: &str) -> Option<(JsValue, Function)> {
    let locks = Reflect::get(&window().navigator(), &"locks".into()).ok()?;
    let act = Reflect::get(&locks, &act.into()).ok()?.dyn_into().ok()?;
    Some((locks, act))
}
