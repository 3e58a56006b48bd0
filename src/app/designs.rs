//! Designs to open: those kept in this browser, and the invented ones of the gallery.

use leptos::prelude::*;

use crenel::design::{Exhibit, LookIn, gallery};

use super::dialog::{Dialog, Sheet};
use super::office::{Area, Office};
use super::shelf::{Kept, take_away};

#[component]
pub(crate) fn DesignsDialog() -> impl IntoView {
    view! {
        <Sheet which=Dialog::Designs title="Designs">
            <KeptHere/>
            <Gallery/>
        </Sheet>
    }
}

/// What this and other tabs worked on.
#[component]
fn KeptHere() -> impl IntoView {
    let office = Office::here();
    let kept = RwSignal::new_local(office.shelf.with_value(|shelf| shelf.others()));
    let open = move |kept: &Kept| {
        office.put_on_board(kept.work.clone());
        office.dialog.set(None);
        office.tell(
            "Opened from what is kept in this browser. Undo brings back what was on the board.",
            false,
        );
    };
    let forget = move |tab: &str| {
        take_away(tab);
        kept.update(|list| list.retain(|kept| kept.tab != tab));
        office.say("It is no longer kept.");
    };
    let item = move |one: Kept| {
        let title = one.work.design.name().to_owned();
        let (tab, label) = (one.tab.clone(), format!("Do not keep {title} any longer"));
        let when = String::from(
            js_sys::Date::new(&one.at_ms.into()).to_locale_string("en-GB", &js_sys::Object::new()),
        );
        view! {
            <li>
                <p><b>{title}</b>" "<span class="quiet">{when}</span></p>
                <div class="row">
                    <button on:click=move |_| open(&one)>"Open"</button>
                    <button aria-label=label on:click=move |_| forget(&tab)>"Do not keep"</button>
                </div>
            </li>
        }
    };
    let any = move || kept.with(|list| !list.is_empty());
    view! {
        <section class="kept" class:hidden=move || !any()>
            <h3>"Kept in this browser"</h3>
            <p class="quiet">"What each tab worked on last, apart from what is on the board here. This is no backup: save a file of what matters."</p>
            <ul class="designs">{move || kept.get().into_iter().map(item).collect_view()}</ul>
        </section>
    }
}

/// Classic layouts and faults.
#[component]
fn Gallery() -> impl IntoView {
    let office = Office::here();
    let item = |exhibit: &'static Exhibit| {
        view! {
            <li>
                <p><b>{exhibit.name}</b>" "<span class="quiet">{exhibit.story}</span></p>
                <div class="row"><button aria-label=format!("Open: {}", exhibit.name) on:click=move |_| show(office, exhibit)>"Open"</button></div>
            </li>
        }
    };
    view! {
        <h3>"Invented examples"</h3>
        <p class="quiet">"Classic layouts and classic faults. No real maker or model stands behind them. What is on the board now stays kept, and Undo brings it back."</p>
        <ul class="designs">{gallery().iter().map(item).collect_view()}</ul>
    }
}

fn show(office: Office, exhibit: &'static Exhibit) {
    office.replace(exhibit.design());
    office.dialog.set(None);
    office.area.set(match exhibit.look_in {
        LookIn::Rings => Area::Rings,
        LookIn::Shift => Area::Shift,
        LookIn::Load => Area::Load,
        LookIn::Rework => Area::Rework,
        LookIn::Depth => Area::Depth,
        LookIn::Selector => Area::Selector,
        LookIn::Trace => Area::Trace,
        LookIn::Compare => Area::Compare,
    });
    office.tell(
        format!("{}. {} Undo brings your earlier work back.", exhibit.name, exhibit.story),
        false,
    );
}
