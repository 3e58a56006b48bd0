//! Help: where to begin, the keys, the words, how everything is computed, and what it was checked against.

use std::borrow::Cow;
use std::sync::Arc;

use leptos::prelude::*;
use serde_json::Value;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::{JsFuture, spawn_local};

use crenel::figures::{Figure, FigureValue, Group, catalogue, figures};
use crenel::glossary::{TERMS, Term};
use crenel_words::Language;
use crenel_words::page::help as say;

use crate::deferred::LazyDetails;
use crate::dom::html_element;
use crate::state::{
    Area, AreaKey, Content, Dialog, LANGUAGES, OpenedBy, choose_language, here, language,
    use_app_state,
};
use crate::widgets::tour;

pub(super) const AREA: Area<AnyView> = Area {
    opened_by: OpenedBy::HeadButton { key: "?" },
    ..Area::tab(AreaKey("help"), say::title, Content::Page(|| view! { <Help/> }.into_any()))
};

/// The file with every check value and its source, which the tests write.
const CHECKS: &str = "checks.json";

/// The file with the licences of everything in the module, which the build writes.
const LICENCES: &str = "licences.txt";

const GONE: &str = "This could not be fetched. Without a network it is there once the app is kept in this browser.";

const PARTS: [(&str, &str); 6] = [
    ("help-begin", "Where to begin"),
    ("help-keys", "Keys"),
    ("help-words", "Words"),
    ("help-computed", "How it is computed"),
    ("help-checks", "Checks passed"),
    ("help-about", "About Crenel"),
];

const KEYS: [(&str, &str); 13] = [
    ("Tab, Shift+Tab", "to the next handle, field or button, and back"),
    ("← → ↑ ↓ on a handle", "one step; with Shift ten"),
    ("Page up, Page down on a handle", "ten steps"),
    ("Home, End on a handle", "to its limits"),
    ("Escape", "gives up a drag, closes a menu, a sheet or the tour"),
    ("↑ ↓ in a number field", "one step; with Shift ten"),
    ("Enter in a number field", "takes what was typed"),
    ("Enter, Space", "presses the button, opens a result"),
    ("Ctrl+Z", "undo"),
    ("Ctrl+Y, Ctrl+Shift+Z", "redo"),
    ("← → ↑ ↓ on the solids", "turn them; Home turns them back"),
    ("Ctrl+wheel, two fingers", "look closer at a drawing; then drag the paper"),
    ("?", "this page"),
];

#[component]
fn Help() -> impl IntoView {
    let jump = |id: &'static str| {
        move |_| {
            if let Some(head) = html_element(id) {
                head.scroll_into_view();
                // Focusing fails only if the page is gone.
                let _ = head.focus();
            }
        }
    };
    view! {
        <section class="help" aria-label="Help">
            <nav class="row" aria-label="Parts of the help">
                {PARTS.map(|(id, words)| view! {
                    <button on:click=jump(id)>{words}</button>
                }).into_iter().collect_view()}
            </nav>
            <Begin/>
            <Keys/>
            <Words/>
            <Computed/>
            <Checks/>
            <About/>
        </section>
    }
}

fn head(at: usize) -> impl IntoView {
    let (id, words) = PARTS[at];
    view! { <h2 id=id tabindex="-1">{words}</h2> }
}

/// The languages of the page. Choosing one opens the page again; the work is kept.
#[component]
fn LanguageChoice() -> impl IntoView {
    let button = |(one, name): (Language, &'static str)| {
        let pressed = (one == language()).to_string();
        view! { <button aria-pressed=pressed lang=one.tag() on:click=move |_| choose_language(one)>{name}</button> }
    };
    view! {
        <div class="pick" role="group" aria-label="Language">
            {LANGUAGES.map(button).into_iter().collect_view()}
        </div>
    }
}

#[component]
fn Begin() -> impl IntoView {
    let state = use_app_state();
    view! {
        <section>
            {head(0)}
            <div class="row">
                <button class="main" on:click=move |_| tour::begin(state)>"Show me round in a minute"</button>
                <button on:click=move |_| state.dialog.set(Some(Dialog::Designs))>"Open an example"</button>
                <LanguageChoice/>
            </div>
            <dl>
                <dt>"A gearbox shifts badly"</dt>
                <dd>
                    "Trace: say what the rider feels, then measure from the foot inwards – pedal, claw and stop, \
                    detent, shims and depth, faces, layout. The number farthest past its limit comes first. Most \
                    poor shifting is not the fault of the dogs."
                </dd>
                <dt>"Dogs are to be cut down"</dt>
                <dd>
                    "Rings: give both rings as they are, or list them dog by dog as measured. Rework: plan what \
                    comes off and read every number as found beside as cut. Papers: print the set-up sheets. Export: \
                    drawing, solids and index positions for the machine."
                </dd>
                <dt>"Which layout is better?"</dt>
                <dd>
                    "Compare: put up to four side by side. Few dogs with wide gaps go in quickly and clunk; many \
                    with small gaps are quiet and miss. The table says which is best at what."
                </dd>
                <dt>"Somebody else should see it"</dt>
                <dd>
                    "Share link: the link holds the whole design; a phone reads it from the QR code. Nothing is \
                    stored anywhere but with you."
                </dd>
                <dt>"Numbers as you write them"</dt>
                <dd>
                    "Comma or point, mm or inch, fractions and other units: 4,5 – 3/16 in – 12°30′. The units at the \
                    top say how all numbers are shown."
                </dd>
            </dl>
        </section>
    }
}

#[component]
fn Keys() -> impl IntoView {
    let row = |(keys, what): (&'static str, &'static str)| {
        view! {
            <tr><th scope="row"><kbd>{keys}</kbd></th><td>{what}</td></tr>
        }
    };
    view! {
        <section>
            {head(1)}
            <p>
                "Everything can be done without a mouse: each handle is a slider of its own, and the same number \
                stands in a field."
            </p>
            <table class="figures keys"><tbody>{KEYS.map(row).into_iter().collect_view()}</tbody></table>
        </section>
    }
}

#[component]
fn Words() -> impl IntoView {
    let sought = RwSignal::new(String::new());
    let matches = move |term: &Term| {
        sought.with(|sought| {
            let sought = sought.trim().to_lowercase();
            let own = [term.word(), term.explanation()].map(here);
            let also = term.also.iter().copied().map(Cow::Borrowed);
            own.into_iter().chain(also).any(|text| text.to_lowercase().contains(&sought))
        })
    };
    let entry = |term: &'static Term| {
        let also = (!term.also.is_empty()).then(|| format!(" (also {})", term.also.join(", ")));
        view! {
            <dt>{here(term.word())}<span class="quiet">{also}</span></dt><dd>{here(term.explanation())}</dd>
        }
    };
    view! {
        <section>
            {head(2)}
            <label class="field sought">
                <span>"Find a word"</span>
                <input type="search" autocomplete="off" on:input=move |event| sought.set(event_target_value(&event))/>
            </label>
            <dl class="terms">{move || TERMS.iter().filter(|term| matches(term)).map(entry).collect_view()}</dl>
            <p class="quiet" role="status">
                {move || (!TERMS.iter().any(matches)).then_some("No such word here. Try another, or part of it.")}
            </p>
        </section>
    }
}

/// The formulas of all results, from the same source as the results.
#[component]
fn Computed() -> impl IntoView {
    let state = use_app_state();
    let here = Memo::new(move |_| Arc::new(state.analysis.with(|a| figures(a, state.units.get()))));
    let group = move |group: Group| {
        let entries = catalogue().filter(move |f| f.group == group).map(move |f| formula(f, here));
        view! { <h3>{group.title()}</h3><div class="formulas">{entries.collect_view()}</div> }
    };
    view! {
        <section>
            {head(3)}
            <p>
                "Each result with what it is, its formula and its source – the same text that opens beside the \
                drawing – and its numbers for the design on the board. A source that says “common practice” has no \
                publication behind it; “from memory” was not looked up."
            </p>
            {Group::ALL.map(group).into_iter().collect_view()}
        </section>
    }
}

fn formula(figure: &'static Figure, values: Memo<Arc<Vec<FigureValue>>>) -> impl IntoView {
    let now = move || {
        let units = use_app_state().units.get();
        values.with(|list| {
            let own = list.iter().find(|own| own.figure == figure);
            own.map_or_else(
                || "Not in the design on the board.".to_owned(),
                |own| format!("{} → {}", own.working, own.shown_fully(units)),
            )
        })
    };
    view! {
        <details class="figure">
            <summary><span class="name">{here(figure.name())}</span></summary>
            <dl>
                <dt>"What it is"</dt><dd>{here(figure.what_it_is())}</dd>
                <dt>"Formula"</dt><dd class="formula">{figure.formula}</dd>
                <dt>"On the board"</dt><dd>{now}</dd>
                <dt>"Source"</dt><dd>{here(figure.from_where())}</dd>
            </dl>
        </details>
    }
}

#[component]
fn Checks() -> impl IntoView {
    let rows = RwSignal::new(None::<Result<Vec<Value>, &'static str>>);
    spawn_local(async move { rows.set(Some(fetched().await)) });
    let count = move || rows.with(|rows| rows.as_ref().and_then(|r| r.as_ref().ok()).map(Vec::len));
    let counted = |n: usize| {
        format!("{n} numbers that somebody else worked out, or that follow from plain arithmetic; ")
    };
    let text = |row: &Value, key: &str| {
        row[key].as_str().map_or_else(|| row[key].to_string(), str::to_owned)
    };
    let line = move |row: &Value| {
        let [name, expected, tolerance, source] =
            ["name", "expected", "tolerance", "source"].map(|key| text(row, key));
        view! {
            <tr><th scope="row">{name}</th><td>{expected}</td><td>{tolerance}</td><td class="words">{source}</td></tr>
        }
    };
    let body = move || {
        rows.with(|rows| match rows {
            None => view! { <p>"The list is being fetched."</p> }.into_any(),
            Some(Err(why)) => view! { <p>{*why}</p> }.into_any(),
            Some(Ok(rows)) => view! {
                <div class="scroll" tabindex="0" role="region" aria-label="Check values">
                    <table class="figures">
                        <thead>
                            <tr>
                                <th scope="col">"What"</th><th scope="col">"Must be"</th><th scope="col">"Within"</th>
                                <th scope="col">"Source"</th>
                            </tr>
                        </thead>
                        <tbody>{rows.iter().map(line).collect_view()}</tbody>
                    </table>
                </div>
            }
            .into_any(),
        })
    };
    view! {
        <section>
            {head(4)}
            <p>
                {move || count().map(counted)}
                "a build in which one of them comes out otherwise is not made. Besides these, thousands of numbers \
                are compared with other programs' on every change, and random rings are held to what must always be \
                true."
            </p>
            <details class="table"><summary>"The check values"</summary>{body}</details>
        </section>
    }
}

async fn fetched() -> Result<Vec<Value>, &'static str> {
    serde_json::from_str(&text_of(CHECKS).await?).map_err(|_| GONE)
}

/// The text of a file in the page's folder.
async fn text_of(name: &str) -> Result<String, &'static str> {
    let response = JsFuture::from(window().fetch_with_str(name)).await.map_err(|_| GONE)?;
    let response: web_sys::Response = response.dyn_into().map_err(|_| GONE)?;
    if !response.ok() {
        return Err(GONE);
    }
    let text = JsFuture::from(response.text().map_err(|_| GONE)?).await.map_err(|_| GONE)?;
    Ok(text.as_string().unwrap_or_default())
}

#[component]
fn About() -> impl IntoView {
    let state = use_app_state();
    let offline = move || {
        if state.offline.get() {
            "This browser keeps the whole app: it opens without a network."
        } else {
            "This browser does not keep the app yet, or cannot: it needs a network to open."
        }
    };
    view! {
        <section>
            {head(5)}
            <p>{format!("Crenel {}. Open source, under MIT or Apache 2.0. ", env!("CARGO_PKG_VERSION"))}{offline}</p>
            <p>
                "All is computed in your browser. There is no server behind the page, no account and no counting of \
                visitors."
            </p>
            <p>
                "Crenel knows the sizes you give and nothing else of your gearbox. A part that fails can lock the \
                rear wheel. Keep to the engine maker's limits and local rules, and have a qualified shop check the \
                work. Examples and demonstration data are invented."
            </p>
            <Licences/>
            <button on:click=move |_| state.area.set(state.areas.first().key)>"Back to the rings"</button>
        </section>
    }
}

/// Fetched only when it is opened: it is long, and few read it.
#[component]
fn Licences() -> impl IntoView {
    let lazy = LazyDetails::new();
    view! {
        <details class="table" on:toggle=move |_| lazy.open()>
            <summary on:click=move |_| lazy.open()>"Licences of all that Crenel is made of"</summary>
            {move || lazy.is_opened().then(licences)}
        </details>
    }
}

fn licences() -> impl IntoView {
    let text = RwSignal::new("The texts are being fetched.".to_owned());
    spawn_local(async move { text.set(text_of(LICENCES).await.unwrap_or_else(str::to_owned)) });
    view! { <pre class="licences" tabindex="0" role="region" aria-label="Licences">{text}</pre> }
}
