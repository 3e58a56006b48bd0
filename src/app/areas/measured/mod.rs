//! What was measured on a ring: the readings of gauges, and the dogs that follow from them.

mod cells;
mod columns;
mod follows;
mod photo;
mod sheet;
mod table;

use crenel_words::Phrase;
use crenel_words::page::{common, measured as say};
use leptos::prelude::*;

use crenel::design::SPREADS;
use crenel::draw::views;
use crenel::gauging::Spread;
use crenel::ring::{FlankSide, Side};
use crenel::verdict::Stage;

use self::cells::Entry;
use self::columns::AddColumn;
use self::follows::Follows;
use self::photo::FromPhoto;
use self::sheet::{Sheet, Spot};
use self::table::Table;
use crate::dom::applies;
use crate::part::part;
use crate::state::{Area, AreaKey, Content, here, use_app_state};
use crate::widgets::choose::{Choose, Picked};
use crate::widgets::drawing::Drawing;
use crate::widgets::pair_board::StaleBoard;

pub(super) const AREA: Area<AnyView> = Area {
    results: &["lash_deg", "window_time_ms"],
    listed: |design| Side::BOTH.into_iter().any(|side| design.ring(side).readings.is_some()),
    step: ring_step,
    ..Area::of(
        Stage::Pair,
        AreaKey::MEASURED,
        say::title,
        Content::Page(part!(work, measured, view! { <Measured/> })),
    )
};

/// The step with the readings of a ring, by its name.
fn ring_step(name: &str) -> Option<&'static str> {
    Side::BOTH.map(AreaKey::readings_of).into_iter().find(|step| *step == name)
}

#[component]
fn Measured() -> impl IntoView {
    let state = use_app_state();
    let side = Memo::new(move |_| {
        let step = state.layout.picture(AreaKey::MEASURED);
        let of_step = |side: &Side| step == Some(AreaKey::readings_of(*side));
        Side::BOTH.into_iter().find(of_step).unwrap_or(Side::A)
    });
    let choice = move |of: Side| {
        let show = move |_| state.layout.show_picture(AreaKey::MEASURED, AreaKey::readings_of(of));
        view! {
            <button aria-pressed=move || (side.get() == of).to_string() on:click=show>{here(common::ring(of))}</button>
        }
    };
    view! {
        <section class="measured" aria-label=here(say::title)>
            <div class="row head">
                <h2>{here(say::title)}</h2>
                {Side::BOTH.map(choice).into_iter().collect_view()}
                <button class="quiet-button" on:click=move |_| state.open_area(AreaKey::DOGS)>
                    {here(say::to_dogs)}
                </button>
            </div>
            {move || view! { <RingReadings side=side.get()/> }}
        </section>
    }
}

/// The readings of one ring beside what follows from them.
#[component]
fn RingReadings(side: Side) -> impl IntoView {
    let sheet = Sheet::new(use_app_state(), side);
    view! {
        <div class="measured-sheet">
            <div class="measured-read">
                <p>{here(say::what)}</p>
                <p class="quiet">{here(say::how)}</p>
                <AddColumn sheet/>
                <FromPhoto sheet/>
                <Table sheet/>
                <Settings sheet/>
            </div>
            <div class="measured-beside">
                {applies(BESIDE).then(|| view! {
                    <StaleBoard class="board measured-picture"><Drawing view=&views::FACE still=true/></StaleBoard>
                })}
                <Follows sheet/>
            </div>
        </div>
    }
}

/// The media query of a page with two columns, as in the style sheet: there is room for the ring with the names of its
/// dogs.
const BESIDE: &str = "(min-width: 1200px)";

const FLANKS: [(FlankSide, Phrase); 2] =
    [(FlankSide::Drive, say::drive_flank), (FlankSide::Coast, say::coast_flank)];

/// The ways to spread the closing error, with their names.
const SPREAD_WORDS: [(Spread, Phrase); SPREADS.len()] =
    [spread_words(0), spread_words(1), spread_words(2), spread_words(3)];

const fn spread_words(at: usize) -> (Spread, Phrase) {
    (SPREADS[at].1, SPREADS[at].2)
}

/// Number of dogs, datum, closing error, and how deep gauges reached.
#[component]
fn Settings(sheet: Sheet) -> impl IntoView {
    let flank = Signal::derive(move || sheet.with(|read| read.readings.datum.1));
    let set_flank = Callback::new(move |flank| sheet.change(|readings| readings.datum.1 = flank));
    let spread = Signal::derive(move || sheet.with(|read| read.readings.spread));
    let set_spread = Callback::new(move |spread| sheet.change(|readings| readings.spread = spread));
    view! {
        <fieldset class="measured-settings">
            <legend>{here(say::settings)}</legend>
            <div class="two">
                <Entry sheet at=Spot::Dogs/>
                <DatumDog sheet/>
                <Choose label=here(say::datum_flank) words=&FLANKS value=flank on_choose=set_flank/>
                <Choose label=here(say::spread) words=&SPREAD_WORDS value=spread on_choose=set_spread/>
                <Entry sheet at=Spot::Reach/>
            </div>
            <p class="quiet">{here(say::reach_how)}</p>
        </fieldset>
    }
}

/// The dog whose flank angles are counted from.
#[component]
fn DatumDog(sheet: Sheet) -> impl IntoView {
    let dogs = Memo::new(move |_| sheet.with(|read| read.readings.dogs));
    let datum = move || sheet.with(|read| read.readings.datum.0);
    let options = move || {
        let option = |dog: usize| {
            view! { <option value=dog.to_string() selected=move || datum() == dog>{dog + 1}</option> }
        };
        (0..dogs.get()).map(option).collect_view()
    };
    let choose = Callback::new(move |dog: String| {
        if let Ok(dog) = dog.parse() {
            sheet.change(|readings| readings.datum.0 = dog);
        }
    });
    let text = Signal::derive(move || (datum() + 1).to_string().into());
    let value = Signal::derive(move || datum().to_string());
    view! { <Picked label=here(say::datum_dog) text value on_choose=choose>{options}</Picked> }
}
