//! Layouts side by side: one's own first state, the variants, and up to three pairs of rings beside them.

mod adding;
mod cards;
mod charts;
mod page;
mod sweeping;
mod table;

use std::sync::Arc;

use leptos::html::Section;
use leptos::prelude::*;

use crenel::compare::{Comparison, shown};
use crenel::design::{Design, Normalize};
use crenel::export::{comparison_csv, curves_csv};
use crenel::units::Quantity;
use crenel::verdict::Stage;
use crenel_words::page::{common, compare as say, learn};
use crenel_words::{Phrase, Reader, Value, Words as _};

use self::adding::{Adding, OwnVariants, beside};
use self::cards::columns;
use self::charts::{Curves, Trades};
use self::sweeping::Sweeping;
use self::table::Table;
use crate::deferred::{Deferred, LazyDetails};
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Dialog, Player, Reel, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::files::download;
use crate::widgets::lecture::{self, LectureButton, Press};
use crate::widgets::link_code::LinkCode;
use crate::widgets::optional_number::OptionalNumber;
use crate::widgets::play_bar::Playing;

pub(super) const AREA: Area<AnyView> = Area {
    layouts,
    begins: |design| layouts(design) > 1,
    ..Area::of(
        Stage::Change,
        AreaKey("compare"),
        say::title,
        Content::Page(part!(shop, compare, view! { <Compare/> })),
    )
};

fn layouts(design: &Design) -> usize {
    if design.alternatives.is_empty() { 1 } else { shown(design).len() }
}

const NORMALIZED: [(Normalize, Phrase); 3] = [
    (Normalize::AsDrawn, say::hold_nothing),
    (Normalize::DogWidth, say::hold_dog_width),
    (Normalize::FreeAngle, say::hold_free_angle),
];

#[component]
fn Compare() -> impl IntoView {
    let state = use_app_state();
    let comparison = Memo::new(move |_| Arc::new(state.with(|d| Comparison::of(&beside(d)))));
    let face_width = RwSignal::new(None);
    let reel = Memo::new(move |_| {
        let analyses = |c: &Arc<Comparison>| -> Vec<_> {
            c.columns.iter().map(|column| Arc::clone(&column.analysis)).collect()
        };
        Reel::of_shifts(&comparison.with(analyses))
    });
    let player = Player::new(reel.into());
    let guessing = RwSignal::new(false);
    let lecture = RwSignal::new(false);
    let section = NodeRef::<Section>::new();
    lecture::follow(lecture, move |press| match press {
        Press::On => player.step(true),
        Press::Back => player.step(false),
        Press::Play => lecture::play(player),
    });
    view! {
        <section class="compare" class:lecture=lecture aria-label=here(say::compare_layouts) node_ref=section>
            <div class="row head">
                <h2>{here(say::side_by_side)}</h2>
                <Adding/>
                <LectureButton lecture section keys=learn::film_keys/>
                <p class="quiet">{here(say::same_conditions)}</p>
            </div>
            <Deferred><OwnVariants/><Holding comparison/></Deferred>
            <div class="columns">
                <Deferred>{move || columns(&comparison.get(), state, face_width, player, (guessing, lecture))}</Deferred>
            </div>
            <Deferred>
                <Playing player told=Signal::derive(move || all_shift_at(state))/>
                <label class="guessing">
                    <input type="checkbox" prop:checked=guessing
                        on:change=move |event| guessing.set(event_target_checked(&event))/>
                    <span>{here(say::guess_first)}</span>
                </label>
            </Deferred>
            <Deferred><div class="beside-each-other"><Curves comparison/><Trades comparison/></div></Deferred>
            <div class="differences" aria-live="polite">
                <Deferred>{move || comparison.with(|c| c.differences.iter().map(|told| view! {
                    <p>{told.words(state.reader())}</p>
                }).collect_view())}</Deferred>
            </div>
            <Deferred><Table comparison/></Deferred>
            <Deferred><Sweep/><Files comparison/></Deferred>
            <Deferred><div class="print-only code"><LinkCode/></div></Deferred>
            <p class="print-only">{here(common::calculated_only)}</p>
        </section>
    }
}

/// A sweep of the current design, worked out once it is opened.
#[component]
fn Sweep() -> impl IntoView {
    let lazy = LazyDetails::new();
    view! {
        <details class="sweep" on:toggle=move |_| lazy.open()>
            <summary on:click=move |_| lazy.open()>{here(say::sweep)}</summary>
            {move || lazy.is_opened().then(|| view! { <Sweeping/> })}
        </details>
    }
}

/// The table and the curves as files.
#[component]
fn Files(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let save = move |ending: &'static str, make: fn(&Comparison, Reader) -> String| {
        let text = comparison.with_untracked(|c| make(c, untrack(|| state.reader())));
        download(state, ending, "text/csv", text.as_bytes());
    };
    view! {
        <div class="row files">
            <button on:click=move |_| save("comparison.csv", comparison_csv)>{here(say::save_table)}</button>
            <button on:click=move |_| save("curves.csv", curves_csv)>{here(say::save_curves)}</button>
        </div>
    }
}

/// What is kept equal, and the buttons to share and print.
#[component]
fn Holding(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let normalize = Signal::derive(move || state.with(|d| d.normalize));
    let choose = Callback::new(move |to| state.change(|d| d.normalize = to));
    let is_held = Memo::new(move |_| normalize.get() != Normalize::AsDrawn);
    // Printing fails only if the page is gone.
    let print = move |_| drop(window().print());
    view! {
        <div class="row holding">
            <Choose label=here(say::keep_equal) words=&NORMALIZED value=normalize on_choose=choose/>
            {move || is_held.get().then(|| view! { <HeldAt comparison/> })}
            <p class="held">{move || comparison.with(|c| c.normalized.show(state.reader()))}</p>
            <button on:click=move |_| state.dialog.set(Some(Dialog::Share))>{here(say::share)}</button>
            <button on:click=print>{here(say::print)}</button>
        </div>
    }
}

/// The value at which it is kept, and what it can be in every layout.
#[component]
fn HeldAt(comparison: Memo<Arc<Comparison>>) -> impl IntoView {
    let state = use_app_state();
    let value = Signal::derive(move || state.with(|d| d.held_deg));
    let put = Callback::new(move |to| state.change(|d| d.held_deg = to));
    let told = move || {
        comparison.with(|c| match c.range_deg {
            Some((least, most)) => say::held_range(
                Value::AtLeast(Quantity::Angle, least),
                Value::AtMost(Quantity::Angle, most),
            ),
            None => say::no_held_range(),
        })
    };
    view! {
        <div class="held-at">
            <OptionalNumber label=here(say::kept_at) quantity=Quantity::Angle value on_change=put
                empty=say::as_first/>
            <p class="quiet">{move || told().show(state.reader())}</p>
        </div>
    }
}

/// The speed difference at which all layouts are played.
fn all_shift_at(state: AppState) -> String {
    let rpm = state.analysis.with(|a| a.pair.as_ref().map(|m| m.shift_case.slip_rpm.abs()));
    rpm.map(|rpm| say::all_shift_at(rpm.round()).show(state.reader())).unwrap_or_default()
}
