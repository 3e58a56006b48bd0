//! The browser app: it translates between the core and the browser, and computes nothing.

#![allow(unreachable_pub, reason = "leptos's component macro writes `pub`")]

mod areas;
mod background;
mod deferred;
mod dom;
mod page;
mod part;
mod state;
mod storage;
mod widgets;

fn main() {
    // A release has no words for a panic: it traps, and the page says that it has stopped.
    #[cfg(debug_assertions)]
    console_error_panic_hook::set_once();
    match background::worker_scope() {
        Some(scope) => background::serve(&scope),
        None => state::with_language(|| leptos::mount::mount_to_body(page::App)),
    }
}
