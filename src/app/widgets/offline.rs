//! The app without a network: a service worker keeps one whole build. A newer build is announced, and
//! taken when the reader says so, so that a page never runs parts of two.

use gloo_events::EventListener;
use leptos::prelude::*;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::{JsFuture, spawn_local};
use web_sys::{ServiceWorkerContainer, ServiceWorkerRegistration, ServiceWorkerState};

use crate::state::app_state::Office;

/// Written beside the page by the script that seals a build.
const SCRIPT: &str = "service-worker.js";

/// A newer build of the app.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Newer {
    /// It is kept and waits to be taken.
    Waiting(web_sys::ServiceWorker),
    /// Another tab took it; this page still runs the one before.
    Taken,
}

/// Takes away what the page shows while the module is loaded, and where it seemed that it could not be.
pub(crate) fn opened() {
    for id in ["opening", "unloaded"] {
        if let Some(words) = document().get_element_by_id(id) {
            words.remove();
        }
    }
}

/// Has the app kept for use without a network, and listens for newer builds.
pub(crate) fn keep_whole(office: Office) {
    // Old browsers and pages without encryption have none.
    let has = js_sys::Reflect::has(&window().navigator(), &JsValue::from_str("serviceWorker"));
    if has != Ok(true) {
        return;
    }
    let container = window().navigator().service_worker();
    announce_takeover(office, &container);
    spawn_local(async move {
        let options = web_sys::RegistrationOptions::new();
        options.set_update_via_cache(web_sys::ServiceWorkerUpdateViaCache::None);
        let registered = JsFuture::from(container.register_with_options(SCRIPT, &options)).await;
        // Where it is refused, the page works as long as there is a network.
        let Ok(registration) = registered else { return };
        watch(office, registration.into());
        // Comes once a whole build is kept.
        if let Ok(ready) = container.ready() {
            office.offline.set(JsFuture::from(ready).await.is_ok());
        }
    });
}

/// Another build has taken over the pages. On a first visit the first to do so is this one.
fn announce_takeover(office: Office, container: &ServiceWorkerContainer) {
    let mut first_visit = container.controller().is_none();
    EventListener::new(container, "controllerchange", move |_| {
        let own = std::mem::take(&mut first_visit);
        if office.taking.get_value() {
            // Fails only on a page that is gone.
            let _ = window().location().reload();
        } else if !own {
            office.newer.set(Some(Newer::Taken));
        }
    })
    .forget();
}

fn watch(office: Office, registration: ServiceWorkerRegistration) {
    announce_waiting(office, &registration);
    let found = registration.clone();
    EventListener::new(&registration, "updatefound", move |_| {
        let Some(installing) = found.installing() else { return };
        let found = found.clone();
        EventListener::new(&installing, "statechange", move |_| announce_waiting(office, &found))
            .forget();
    })
    .forget();
    // A page that stays open for weeks asks again whenever it is looked at.
    EventListener::new(&document(), "visibilitychange", move |_| {
        if document().visibility_state() == web_sys::VisibilityState::Visible {
            // Without a network there is nothing newer.
            let _ = registration.update().map(|asked| {
                spawn_local(async {
                    let _ = JsFuture::from(asked).await;
                });
            });
        }
    })
    .forget();
}

fn announce_waiting(office: Office, registration: &ServiceWorkerRegistration) {
    let waiting = registration.waiting().filter(|w| w.state() == ServiceWorkerState::Installed);
    // The first build has nobody to wait for.
    if let Some(waiting) = waiting.filter(|_| registration.active().is_some()) {
        office.newer.set(Some(Newer::Waiting(waiting)));
    }
}

/// Says that there is a newer build.
#[component]
pub(crate) fn NewerNotice() -> impl IntoView {
    let office = Office::here();
    let body = move |newer: Newer| {
        let (text, take) = match newer {
            Newer::Waiting(_) => (
                "A newer version of Crenel is ready. Your work is kept while it is taken.",
                "Take it now",
            ),
            Newer::Taken => (
                "Another tab took a newer version of Crenel. This page still runs the one before; your work is kept while it is opened anew.",
                "Open anew",
            ),
        };
        view! {
            <div class="notice" role="status">
                <p>{text}</p>
                <button on:click=move |_| take_newer(office)>{take}</button>
                <button on:click=move |_| office.newer.set(None)>"Later"</button>
            </div>
        }
    };
    move || office.newer.get().map(body)
}

fn take_newer(office: Office) {
    match office.newer.get_untracked() {
        Some(Newer::Waiting(waiting)) => {
            office.taking.set_value(true);
            // The page is opened anew when the worker has taken over.
            let _ = waiting.post_message(&JsValue::from_str("take over"));
        }
        Some(Newer::Taken) => {
            let _ = window().location().reload();
        }
        None => {}
    }
}
