//! Parts of the page whose code is fetched when they are first wanted.
//!
//! [`part!`] takes a view out of the main module and into one of the few that the build splits off. Views that are
//! wanted together share a module: each further one makes the shared chunks many.

use std::future::Future;
use std::pin::Pin;
use std::task::{Context, Poll, Waker};

use crenel_words::page::frame as say;
use leptos::prelude::*;
use leptos::wasm_split::SplitLoaderError;
use wasm_bindgen_futures::spawn_local;

use crate::deferred;
use crate::dom::opened;
use crate::state::{AppState, here};

/// The code of a part could not be fetched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct NotFetched;

impl From<SplitLoaderError> for NotFetched {
    fn from(_: SplitLoaderError) -> Self {
        Self
    }
}

/// A part as it is built, once its code is there.
pub(crate) type Built = Result<AnyView, NotFetched>;

type Boxed<T> = Pin<Box<dyn Future<Output = T>>>;

/// How a part is fetched and built.
#[derive(Clone, Copy)]
pub(crate) struct Part {
    /// Fetches its code. Ready at once where the code is there.
    pub(crate) fetch: fn() -> Boxed<Result<(), SplitLoaderError>>,
    /// Builds it. Ready at once where the code is there.
    pub(crate) build: fn() -> Boxed<Built>,
}

/// Begins to fetch the code of a part that will be wanted.
pub(crate) fn fetch_ahead(part: Part) {
    spawn_local(async move {
        // Where it fails, that is said when the part is wanted.
        let _ = (part.fetch)().await;
    });
}

/// A [`Part`]: a view whose code lies in a module of its own.
macro_rules! part_of {
    ($module:ident, $name:ident, $view:expr) => {{
        #[leptos::wasm_split::wasm_split(
                        $module, wasm_split_path = ::leptos::wasm_split, preload(fetch), fallible
                    )]
        fn $name() -> $crate::part::Built {
            Ok(leptos::prelude::IntoAny::into_any($view))
        }
        $crate::part::Part { fetch: || Box::pin(fetch()), build: || Box::pin($name()) }
    }};
}
pub(crate) use part_of;

/// A function that shows a view whose code lies in a module of its own: `part!(module, name, view)`.
macro_rules! part {
    ($module:ident, $name:ident, $view:expr) => {
        || $crate::part::show($crate::part::part_of!($module, $name, $view))
    };
}
pub(crate) use part;

/// How far a part has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stage {
    Wanted,
    Fetched,
    /// It could not be fetched, after “Try again” had been pressed so many times.
    Failed(u32),
}

thread_local! {
    /// How many times “Try again” was pressed. One press tries all parts that are missing.
    static TRIES: ArcRwSignal<u32> = ArcRwSignal::new(0);
}

/// Shows a part, once its code is there: at once where it was wanted before.
pub(crate) fn show(part: Part) -> AnyView {
    let stage = RwSignal::new(Stage::Wanted);
    (move || {
        let has_failed = |tries| TRIES.with(ArcRwSignal::get) == tries;
        if matches!(stage.get(), Stage::Failed(tries) if has_failed(tries)) {
            return failed();
        }
        let mut fetch = (part.fetch)();
        if now(&mut fetch).is_ready() {
            return built(part);
        }
        let busy = deferred::Busy::begin();
        spawn_local(async move {
            let failed = || Stage::Failed(TRIES.with(ArcRwSignal::get_untracked));
            // By then it may have left the page.
            let _ = stage.try_set(fetch.await.map_or_else(|_| failed(), |()| Stage::Fetched));
            drop(busy);
        });
        ().into_any()
    })
    .into_any()
}

/// Does something whose code may still have to be fetched, and says so where it cannot be.
pub(crate) fn fetched(
    state: AppState,
    act: impl Future<Output = Result<(), SplitLoaderError>> + 'static,
) {
    spawn_local(async move {
        if act.await.is_err() {
            state.tell(here(say::part_not_fetched), true);
        }
    });
}

fn built(part: Part) -> AnyView {
    match now(&mut (part.build)()) {
        Poll::Ready(Ok(view)) => view,
        Poll::Ready(Err(NotFetched)) | Poll::Pending => failed(),
    }
}

/// What there is already, without waiting.
fn now<T>(future: &mut Boxed<T>) -> Poll<T> {
    future.as_mut().poll(&mut Context::from_waker(Waker::noop()))
}

fn failed() -> AnyView {
    // The words of a page that is loading lie above all else.
    opened();
    let again = |_| TRIES.with(|tries| tries.update(|tries| *tries += 1));
    view! {
        <div class="notice bad not-fetched" role="alert">
            <p>{here(say::part_not_fetched)}</p>
            <button on:click=again>{here(say::try_again)}</button>
        </div>
    }
    .into_any()
}
