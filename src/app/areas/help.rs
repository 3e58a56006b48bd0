//! Help: where to begin, the keys, the words, how everything is computed, and what it was checked against.

use std::borrow::Cow;
use std::sync::Arc;

use leptos::prelude::*;
use serde_json::Value;
use wasm_bindgen_futures::spawn_local;

use crenel::figures::{Figure, FigureValue, Group, catalogue, figures};
use crenel::glossary::{TERMS, Term};
use crenel::references::{REFERENCES, Reference, list_of_references};
use crenel_words::Phrase;
use crenel_words::page::{common, figure, help as say, learn};

use crate::deferred::LazyDetails;
use crate::dom::{NotLoaded, html_element, text_of};
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Dialog, here, use_app_state};
use crate::widgets::clipboard::copy_text;
use crate::widgets::language_choice::LanguageChoice;

pub(super) const AREA: Area<AnyView> = Area::of_head(
    "?",
    AreaKey("help"),
    say::title,
    Content::Page(part!(more, help, view! { <Help/> })),
);

/// The file with every check value and its source, which the tests write.
const CHECKS: &str = "checks.json";

/// The file with the licences of everything in the module, which the build writes.
const LICENCES: &str = "licences.txt";

/// The parts: id of the heading, and its words.
const PARTS: [(&str, Phrase); 7] = [
    ("help-begin", say::part_begin),
    ("help-keys", say::part_keys),
    ("help-words", say::part_words),
    ("help-computed", say::part_computed),
    ("help-checks", say::part_checks),
    ("help-sources", say::part_sources),
    ("help-about", say::part_about),
];

/// What people come for, and where they find it.
const STARTS: [[Phrase; 2]; 5] = [
    [say::shifts_badly, say::shifts_badly_how],
    [say::cutting_dogs, say::cutting_dogs_how],
    [say::which_layout, say::which_layout_how],
    [say::sharing, say::sharing_how],
    [say::numbers, say::numbers_how],
];

/// Keys, and what they do.
const KEYS: [[Phrase; 2]; 14] = [
    [say::key_tab, say::key_tab_does],
    [say::key_handle, say::key_one_step],
    [say::key_pages, say::key_pages_does],
    [say::key_ends, say::key_ends_does],
    [say::key_escape, say::key_escape_does],
    [say::key_field, say::key_one_step],
    [say::key_enter, say::key_enter_does],
    [say::key_press, say::key_press_does],
    [say::key_undo, say::key_undo_does],
    [say::key_redo, say::key_redo_does],
    [say::key_solids, say::key_solids_does],
    [say::key_zoom, say::key_zoom_does],
    [say::key_variant, say::key_variant_does],
    [say::key_help, say::key_help_does],
];

#[component]
fn Help() -> impl IntoView {
    let state = use_app_state();
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
        <section class="help" aria-label=here(say::title)>
            <button class="icon away" aria-label=here(common::close) on:click=move |_| go_back(state)>"✕"</button>
            <nav class="row" aria-label=here(say::parts)>
                {PARTS.map(|(id, words)| view! {
                    <button on:click=jump(id)>{here(words)}</button>
                }).into_iter().collect_view()}
            </nav>
            <Begin/>
            <Keys/>
            <Words/>
            <Computed/>
            <Checks/>
            <Sources/>
            <About/>
        </section>
    }
}

/// To the work that help was opened from.
fn go_back(state: AppState) {
    state.open_area(state.worked_in.get_untracked());
}

fn head(at: usize) -> impl IntoView {
    let (id, words) = PARTS[at];
    view! { <h2 id=id tabindex="-1">{here(words)}</h2> }
}

#[component]
fn Begin() -> impl IntoView {
    let state = use_app_state();
    view! {
        <section>
            {head(0)}
            <div class="row">
                <button on:click=move |_| state.dialog.set(Some(Dialog::Designs))>{here(say::open_example)}</button>
                <button on:click=move |_| state.open_area(AreaKey::LEARN)>{here(learn::six_stories)}</button>
                <LanguageChoice/>
            </div>
            <dl>
                {STARTS.map(|[what, how]| view! {
                    <dt>{here(what)}</dt><dd>{here(how)}</dd>
                }).into_iter().collect_view()}
            </dl>
        </section>
    }
}

#[component]
fn Keys() -> impl IntoView {
    let row = |[keys, what]: [Phrase; 2]| {
        view! { <tr><th scope="row"><kbd>{here(keys)}</kbd></th><td>{here(what)}</td></tr> }
    };
    view! {
        <section>
            {head(1)}
            <p>{here(say::without_mouse)}</p>
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
            own.into_iter()
                .chain(term.synonyms().map(here))
                .any(|text| text.to_lowercase().contains(&sought))
        })
    };
    let entry = |term: &'static Term| {
        let also = term.synonyms().map(|words| here(say::also(words)));
        view! {
            <dt>{here(term.word())}" "<span class="quiet">{also}</span></dt><dd>{here(term.explanation())}</dd>
        }
    };
    view! {
        <section>
            {head(2)}
            <label class="field sought">
                <span>{here(say::find_word)}</span>
                <input type="search" autocomplete="off" on:input=move |event| sought.set(event_target_value(&event))/>
            </label>
            <dl class="terms">{move || TERMS.iter().filter(|term| matches(term)).map(entry).collect_view()}</dl>
            <p class="quiet" role="status">
                {move || (!TERMS.iter().any(matches)).then(|| here(say::no_such_word))}
            </p>
        </section>
    }
}

/// The formulas of all results, from the same source as the results.
#[component]
fn Computed() -> impl IntoView {
    let state = use_app_state();
    let values = Memo::new(move |_| Arc::new(state.analysis.with(|a| figures(a))));
    let group = move |group: Group| {
        let entries =
            catalogue().filter(move |f| f.group == group).map(move |f| formula(f, values));
        view! { <h3>{here(group.title())}</h3><div class="formulas">{entries.collect_view()}</div> }
    };
    view! {
        <section>
            {head(3)}
            <p>{here(say::computed)}</p>
            {Group::ALL.map(group).into_iter().collect_view()}
        </section>
    }
}

fn formula(figure: &'static Figure, values: Memo<Arc<Vec<FigureValue>>>) -> impl IntoView {
    let now = move || {
        let reader = use_app_state().reader();
        values.with(|list| {
            let own = list.iter().find(|own| own.figure == figure);
            own.map_or_else(
                || here(say::not_in_design).into_owned(),
                |own| format!("{} → {}", own.working.show(reader), own.shown_fully(reader)),
            )
        })
    };
    view! {
        <details class="figure">
            <summary><span class="name">{here(figure.name())}</span></summary>
            <dl>
                <dt>{here(common::what_it_is)}</dt><dd>{here(figure.what_it_is())}</dd>
                <dt>{here(common::formula)}</dt><dd class="formula">{here(figure.how())}</dd>
                <dt>{here(common::current_design)}</dt><dd>{now}</dd>
                <dt>{here(common::source)}</dt><dd>{here(figure.from_where())}</dd>
            </dl>
        </details>
    }
}

#[component]
fn Checks() -> impl IntoView {
    let rows = RwSignal::new(None::<Result<Vec<Value>, NotLoaded>>);
    spawn_local(async move { rows.set(Some(fetched().await)) });
    let count = move || rows.with(|rows| rows.as_ref().and_then(|r| r.as_ref().ok()).map(Vec::len));
    let kinds = move || {
        rows.with(|rows| {
            let rows = rows.as_ref()?.as_ref().ok()?;
            let of = |kind: &str| rows.iter().filter(|row| row["kind"] == kind).count();
            let [published, derived] = [of("published"), of("derived")];
            Some(here(say::kinds(published, derived, of("from memory"), of("common practice"))))
        })
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
            None => view! { <p>{here(say::loading_list)}</p> }.into_any(),
            Some(Err(NotLoaded)) => view! { <p>{here(say::not_loaded)}</p> }.into_any(),
            Some(Ok(rows)) => view! {
                <div class="scroll" tabindex="0" role="region" aria-label=here(say::table_of_checks)>
                    <table class="figures">
                        <thead>
                            <tr>
                                <th scope="col">{here(say::check)}</th>
                                <th scope="col">{here(say::expected)}</th>
                                <th scope="col">{here(say::tolerance)}</th>
                                <th scope="col">{here(common::source)}</th>
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
                {move || count().map(|values| here(say::checked(values)))}" "{kinds}" "
                {here(say::checked_besides)}
            </p>
            <details class="table"><summary>{here(say::check_values)}</summary>{body}</details>
        </section>
    }
}

async fn fetched() -> Result<Vec<Value>, NotLoaded> {
    serde_json::from_str(&text_of(CHECKS).await?).map_err(|_| NotLoaded)
}

/// The list of references, each with its link where it has one.
#[component]
fn Sources() -> impl IntoView {
    let state = use_app_state();
    let copy = move |_| {
        let told = [figure::references_copied, figure::citation_refused];
        copy_text(state, &list_of_references(), told);
    };
    let line = |source: &'static Reference| {
        let link = source.address.map(|address| {
            view! { " "<a href=address rel="noreferrer">{address}</a> }
        });
        view! { <li>{source.full}{link}<span class="quiet">" "{here((source.used_for)())}"."</span></li> }
    };
    view! {
        <section>
            {head(5)}
            <p>{here(say::sources)}</p>
            <ol class="references">{REFERENCES.iter().map(line).collect_view()}</ol>
            <button on:click=copy>{here(figure::copy_references)}</button>
        </section>
    }
}

#[component]
fn About() -> impl IntoView {
    let state = use_app_state();
    let offline =
        move || here(if state.offline.get() { say::works_offline } else { say::needs_network });
    let version = here(say::version(env!("CARGO_PKG_VERSION").to_owned()));
    view! {
        <section>
            {head(6)}
            <p>{version}" "{offline}</p>
            <p>{here(say::no_server)}</p>
            <p>{here(say::what_it_knows)}</p>
            <Licences/>
            <button on:click=move |_| go_back(state)>{here(say::back)}</button>
        </section>
    }
}

/// Fetched only when it is opened: it is long, and few read it.
#[component]
fn Licences() -> impl IntoView {
    let lazy = LazyDetails::new();
    view! {
        <details class="table" on:toggle=move |_| lazy.open()>
            <summary on:click=move |_| lazy.open()>{here(say::licences_of_parts)}</summary>
            {move || lazy.is_opened().then(licences)}
        </details>
    }
}

fn licences() -> impl IntoView {
    let text = RwSignal::new(here(say::loading_texts));
    spawn_local(async move {
        let loaded = text_of(LICENCES).await;
        text.set(loaded.map_or_else(|NotLoaded| here(say::not_loaded), Cow::Owned));
    });
    view! {
        <pre class="licences" tabindex="0" role="region" aria-label=here(say::licences)>{move || text.get()}</pre>
    }
}
