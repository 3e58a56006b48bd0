//! A page with one mark on it, which the bench waits for.

use leptos::prelude::*;

fn main() {
    console_error_panic_hook::set_once();
    leptos::mount::mount_to_body(|| view! { <svg><path data-dog=""/></svg> });
}
