//! The browser app. All that is not about the browser lives in the library.

#![allow(unreachable_pub, reason = "leptos's component macro writes `pub`")]

mod app;

fn main() {
    console_error_panic_hook::set_once();
    match app::worker_scope() {
        Some(scope) => app::serve(&scope),
        None => leptos::mount::mount_to_body(app::App),
    }
}
