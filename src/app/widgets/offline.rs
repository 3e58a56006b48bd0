//! The app without a network. A service worker keeps one whole build. A newer build is announced, and taken
//! when the reader says so, so that a page never mixes two builds.

use gloo_events::EventListener;
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{ServiceWorkerContainer, ServiceWorkerRegistration, ServiceWorkerState};

use crenel_words::page::frame as say;

use crate::state::{AppState, Newer, here, use_app_state};

/// Written by the script that seals a build.
const SCRIPT: &str = "service-worker.js";

/// Keeps the app for use without a network, and listens for newer builds.
pub(crate) fn keep_whole(state: AppState) {
    // Old browsers and unencrypted pages have no service workers.
    let has = js_sys::Reflect::has(&window().navigator(), &JsValue::from_str("serviceWorker"));
    if has != Ok(true) {
        return;
    }
    let container = window().navigator().service_worker();
    announce_takeover(state, &container);
    spawn_local(async move {
        let options = web_sys::RegistrationOptions::new();
        options.set_update_via_cache(web_sys::ServiceWorkerUpdateViaCache::None);
        let registered = JsFuture::from(container.register_with_options(SCRIPT, &options)).await;
        // If it is refused, the page works as long as there is a network.
        let Ok(registration) = registered else { return };
        watch(state, registration.into());
        // Ready once a whole build is kept.
        if let Ok(ready) = container.ready() {
            state.offline.set(JsFuture::from(ready).await.is_ok());
        }
    });
}

/// Announces that another build took over the page. On a first visit the first takeover is by this build.
fn announce_takeover(state: AppState, container: &ServiceWorkerContainer) {
    let mut first_visit = container.controller().is_none();
    EventListener::new(container, "controllerchange", move |_| {
        let own = std::mem::take(&mut first_visit);
        if state.reload_requested.get_value() {
            // Fails only if the page is gone.
            let _ = window().location().reload();
        } else if !own {
            state.newer.set(Some(Newer::Taken));
        }
    })
    .forget();
}

fn watch(state: AppState, registration: ServiceWorkerRegistration) {
    announce_waiting(state, &registration);
    let found = registration.clone();
    EventListener::new(&registration, "updatefound", move |_| {
        let Some(installing) = found.installing() else { return };
        let found = found.clone();
        EventListener::new(&installing, "statechange", move |_| announce_waiting(state, &found))
            .forget();
    })
    .forget();
    // A page that stays open for weeks asks again whenever it becomes visible.
    EventListener::new(&document(), "visibilitychange", move |_| {
        if document().visibility_state() == web_sys::VisibilityState::Visible {
            // Without a network the answer is an error, which changes nothing.
            let _ = registration.update().map(|asked| {
                spawn_local(async {
                    let _ = JsFuture::from(asked).await;
                });
            });
        }
    })
    .forget();
}

fn announce_waiting(state: AppState, registration: &ServiceWorkerRegistration) {
    let waiting = registration.waiting().filter(|w| w.state() == ServiceWorkerState::Installed);
    // The first build never waits.
    if let Some(waiting) = waiting.filter(|_| registration.active().is_some()) {
        state.newer.set(Some(Newer::Waiting(waiting)));
    }
}

/// Says that there is a newer build.
#[component]
pub(crate) fn NewerNotice() -> impl IntoView {
    let state = use_app_state();
    let body = move |newer: Newer| {
        let (text, take) = match newer {
            Newer::Waiting(_) => (here(say::newer_is_ready), here(say::load_newer)),
            Newer::Taken => (here(say::newer_in_other_tab), here(say::reload)),
        };
        view! {
            <div class="notice" role="status">
                <p>{text}</p>
                <button on:click=move |_| take_newer(state)>{take}</button>
                <button on:click=move |_| state.newer.set(None)>{here(say::later)}</button>
            </div>
        }
    };
    move || state.newer.get().map(body)
}

fn take_newer(state: AppState) {
    match state.newer.get_untracked() {
        Some(Newer::Waiting(waiting)) => {
            state.reload_requested.set_value(true);
            // The page reloads when the worker has taken over.
            let _ = waiting.post_message(&JsValue::from_str("take over"));
        }
        Some(Newer::Taken) => {
            let _ = window().location().reload();
        }
        None => {}
    }
}
