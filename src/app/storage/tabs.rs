//! Which tabs are open. Each holds a lock under its name, which the browser takes back when the tab is
//! closed or crashes.

use js_sys::{Array, Function, Promise, Reflect};
use leptos::prelude::window;
use wasm_bindgen::closure::Closure;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// What the names of the locks begin with; the name of the tab follows.
const LOCK: &str = "crenel.tab.";

/// A tab that says it is open, until it ends.
pub(crate) struct Presence {
    /// Gives the lock back.
    release: Option<Function>,
}

impl Presence {
    /// Says that a tab is open, where the browser has locks.
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

    /// The page is left. Holding on would keep it from coming back out of the browser's memory.
    pub(crate) fn end(&mut self) {
        if let Some(release) = self.release.take() {
            // Giving back cannot fail.
            let _ = release.call0(&JsValue::NULL);
        }
    }
}

/// Lets an answer come that changes nothing: where locks are refused, no tab takes another for closed.
fn forgive(asked: Result<JsValue, JsValue>) {
    if let Ok(asked) = asked.and_then(JsCast::dyn_into::<Promise>) {
        spawn_local(async { drop(JsFuture::from(asked).await) });
    }
}

/// Asks which tabs are open, and tells it where that can be known.
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

/// The browser's locks and what they can do, where the page may use them.
fn locks(act: &str) -> Option<(JsValue, Function)> {
    let locks = Reflect::get(&window().navigator(), &"locks".into()).ok()?;
    let act = Reflect::get(&locks, &act.into()).ok()?.dyn_into().ok()?;
    Some((locks, act))
}
