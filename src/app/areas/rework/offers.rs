//! The cuts that were found, as a table.

use crenel::analysis::Analysis;
use crenel::suggest::{Ceilings, Goal, Search, Spare, Suggestion};
use crenel::units::Quantity;
use crenel::verdict::{Headline, Mark, Stage, headline};
use crenel_words::page::rework as say;
use crenel_words::{Message, Phrase, Reader, Value, Words as _};
use leptos::prelude::*;

use crate::state::{AppState, here, use_app_state};

/// A cut with the figures of its row.
struct Offer {
    suggestion: Suggestion,
    window: Headline,
    lash: Headline,
    stress: Headline,
}

impl Offer {
    fn of(suggestion: Suggestion, goal: Goal) -> Self {
        let after = Analysis::of(&suggestion.design);
        let [plain, _, lash] = headline(Stage::Pair, &after);
        let [target, _, stress] = headline(Stage::Change, &after);
        let window = if goal == Goal::Window { target } else { plain };
        Self { suggestion, window, lash, stress }
    }

    fn crossed(&self) -> usize {
        self.suggestion.prices.iter().filter(|price| price.crossed).count()
    }
}

/// A column that the offers can be sorted by.
struct Column {
    head: Phrase,
    /// What is sorted by: the better offer has the smaller number.
    rank: fn(&Offer) -> f64,
    cell: fn(&Offer, Reader) -> AnyView,
}

const COLUMNS: [Column; 5] = [
    Column {
        head: say::window_time,
        rank: |offer| -offer.window.value.as_number().unwrap_or_default(),
        cell: |offer, reader| figure(&offer.window, reader),
    },
    Column {
        head: say::metal_removed,
        rank: |offer| offer.suggestion.stock_g,
        cell: |offer, reader| {
            Value::Result(Quantity::Grams, offer.suggestion.stock_g).show(reader).into_any()
        },
    },
    Column {
        head: say::lash,
        rank: |offer| offer.lash.value.as_number().unwrap_or_default(),
        cell: |offer, reader| figure(&offer.lash, reader),
    },
    Column {
        head: say::worst_stress,
        rank: |offer| offer.stress.gauge.map_or(0.0, |gauge| gauge.used()),
        cell: |offer, reader| figure(&offer.stress, reader),
    },
    Column { head: say::gets_worse, rank: worse, cell: worst_price },
];

#[expect(clippy::cast_precision_loss, reason = "small numbers")]
fn worse(offer: &Offer) -> f64 {
    (1000 * offer.crossed() + offer.suggestion.prices.len()) as f64
}

/// A figure with its limit or target.
fn figure(headline: &Headline, reader: Reader) -> AnyView {
    let past = (headline.mark == Mark::Past).then_some("▲ ");
    let told = headline.told.as_ref().map(|told| told.show(reader));
    view! {
        <span class:past=past.is_some()>{past}{headline.value.show(reader)}</span>
        <span class="note">{told}</span>
    }
    .into_any()
}

/// What gets worse most.
fn worst_price(offer: &Offer, reader: Reader) -> AnyView {
    let prices = &offer.suggestion.prices;
    let first = prices.first().map(|price| price.words.show(reader));
    let more = prices.len().saturating_sub(1);
    let more = (more > 0).then(|| say::and_more(more).show(reader));
    view! { <span class:past=offer.crossed() != 0>{first}</span> <span class="note">{more}</span> }
        .into_any()
}

/// The order of the rows: a column, and whether the worst comes first. `None` is the order in which they were found.
type Order = Option<(usize, bool)>;

/// The places of the offers in an order.
fn sorted(list: &[Offer], order: Order) -> Vec<usize> {
    let mut places: Vec<_> = (0..list.len()).collect();
    if let Some((column, reversed)) = order {
        let rank = |at: &usize| (COLUMNS[column].rank)(&list[*at]);
        places.sort_by(|a, b| match rank(a).total_cmp(&rank(b)) {
            order if reversed => order.reverse(),
            order => order,
        });
    }
    places
}

/// All that the search found, or why it found nothing.
#[component]
pub(super) fn Offers() -> impl IntoView {
    let state = use_app_state();
    let order = RwSignal::new(None);
    let standing = move || state.cuts.standing();
    let found = move || standing().map(|(of, list)| here(told(state, of, &list)));
    let tables = move || standing().map(|(search, list)| tables(search.goal, list, order));
    let searched = move || standing().map(|(search, _)| search.searched().show(state.reader()));
    view! {
        <p class="quiet" aria-live="polite">{found}</p>
        {tables}
        <p class="quiet">{searched}</p>
    }
}

/// What the list is, or why it is empty.
fn told(state: AppState, search: Search, list: &[Suggestion]) -> Phrase {
    let bounded = search.ceilings != Ceilings::default();
    if list.is_empty() {
        return state.analysis.with_untracked(|now| match now.pair {
            None => say::cannot_be_computed,
            Some(_) if search.is_met(now) => say::target_met,
            Some(_) => say::nothing_within,
        });
    }
    match (list.iter().any(|one| one.reached), bounded) {
        (true, _) => say::least_metal_first,
        (false, true) => say::nearest_within,
        (false, false) => say::nearest,
    }
}

/// The offers, and folded behind them those that are not advisable.
fn tables(goal: Goal, list: Vec<Suggestion>, order: RwSignal<Order>) -> impl IntoView {
    let offers = list.into_iter().map(|one| Offer::of(one, goal));
    let (against, advised): (Vec<_>, Vec<_>) =
        offers.partition(|offer| offer.suggestion.against.is_some());
    let count = against.len();
    let harmful = (count > 0).then(|| {
        view! {
            <details class="harmful">
                <summary>{here(say::not_advisable(count))}</summary>
                <OfferTable list=against order caption=say::not_advisable_cuts/>
            </details>
        }
    });
    let advised = (!advised.is_empty())
        .then(|| view! { <OfferTable list=advised order caption=say::offers/> });
    view! { <div class="offers">{advised}{harmful}</div> }
}

#[component]
fn OfferTable(list: Vec<Offer>, order: RwSignal<Order>, caption: Phrase) -> impl IntoView {
    // A cautionary word that is the same for all stands once.
    let all = list.first().map(|offer| offer.suggestion.cautions.clone()).unwrap_or_default();
    let common =
        |caution: &Message| list.iter().all(|offer| offer.suggestion.cautions.contains(caution));
    let common: Vec<_> = all.into_iter().filter(common).collect();
    let state = use_app_state();
    let list = StoredValue::new(list);
    let common = StoredValue::new(common);
    let cautions = move || {
        let reader = state.reader();
        common.with_value(|common| common.iter().map(|one| caution(one, reader)).collect_view())
    };
    let rows = move || {
        let places = list.with_value(|list| sorted(list, order.get()));
        places.into_iter().map(|at| view! { <OfferRow list at common/> }).collect_view()
    };
    view! {
        <table class="offer-table" role="table" aria-label=here(caption)>
            <thead role="rowgroup">
                <tr role="row">
                    <th scope="col" role="columnheader">{here(say::cut)}</th>
                    {(0..COLUMNS.len()).map(|column| view! { <SortHead column order/> }).collect_view()}
                    <th scope="col" role="columnheader"><span class="sr">{here(say::add_to_plan)}</span></th>
                </tr>
            </thead>
            {rows}
        </table>
        {cautions}
    }
}

/// The head of a column, which sorts by it; pressed again, the other way round.
#[component]
fn SortHead(column: usize, order: RwSignal<Order>) -> impl IntoView {
    let sorted = move || order.get().filter(|(by, _)| *by == column).map(|(_, reversed)| reversed);
    let press = move |_| order.set(Some((column, sorted() == Some(false))));
    let (way, arrow) = (
        move || match sorted() {
            None => "none",
            Some(false) => "ascending",
            Some(true) => "descending",
        },
        move || sorted().map(|reversed| if reversed { " ▼" } else { " ▲" }),
    );
    view! {
        <th scope="col" role="columnheader" aria-sort=way>
            <button on:click=press>{here(COLUMNS[column].head)}<span aria-hidden="true">{arrow}</span></button>
        </th>
    }
}

fn caution(caution: &Message, reader: Reader) -> impl IntoView + use<> {
    view! { <p class="caution">{caution.show(reader)}</p> }
}

#[component]
fn OfferRow(
    list: StoredValue<Vec<Offer>>,
    at: usize,
    /// Cautions that all have.
    common: StoredValue<Vec<Message>>,
) -> impl IntoView {
    let state = use_app_state();
    let open = RwSignal::new(false);
    let cells = COLUMNS.iter().map(|column| {
        let cell = move || list.with_value(|list| (column.cell)(&list[at], state.reader()));
        view! { <td role="cell" data-head=here(column.head)>{cell}</td> }
    });
    let cells = cells.collect_view();
    let cut = move || list.with_value(|list| cut_cell(&list[at].suggestion, state.reader()));
    let details = move || {
        let of = |list: &Vec<Offer>| {
            let one = &list[at].suggestion;
            common.with_value(|common| details(one, common, state.reader()))
        };
        open.get().then(|| list.with_value(of))
    };
    let take = move |_| {
        let (a, b) = list.with_value(|list| {
            let design = &list[at].suggestion.design;
            (design.a.plan.clone(), design.b.plan.clone())
        });
        state.change(|d| (d.a.plan, d.b.plan) = (a, b));
        state.say(here(say::added_to_plan));
    };
    let name = move || list.with_value(|list| list[at].suggestion.words.words(state.reader()));
    let short = list.with_value(|list| !list[at].suggestion.reached);
    view! {
        <tbody role="rowgroup">
            <tr role="row" class:short=short>
                <th scope="row" role="rowheader">{cut}</th>
                {cells}
                <td role="cell" class="buttons">
                    <button aria-expanded=move || open.get().to_string() on:click=move |_| open.update(|on| *on = !*on)>
                        {here(say::details)}<span class="sr">": "{name}</span>
                    </button>
                    <button on:click=take>{here(say::add_to_plan)}<span class="sr">": "{name}</span></button>
                </td>
            </tr>
            <tr role="row" class="more" hidden=move || !open.get()>
                <td role="cell" colspan=COLUMNS.len() + 2>{details}</td>
            </tr>
        </tbody>
    }
}

/// What is cut. What speaks against it comes first.
fn cut_cell(one: &Suggestion, reader: Reader) -> impl IntoView + use<> {
    let against =
        one.against.as_ref().map(|against| view! { <b class="warns">{against.text(reader)}</b> });
    let spare = match one.spare {
        Spare::None if one.reached => Some(here(say::no_tolerance)),
        Spare::Holds | Spare::None | Spare::NoSize => None,
    };
    view! {
        {against}
        <span class="done">{one.words.words(reader)}</span>
        <span class="note">{spare}</span>
    }
}

/// All that gets worse, with warnings, and cautions that not every offer has.
fn details(one: &Suggestion, common: &[Message], reader: Reader) -> impl IntoView + use<> {
    let grade = one.design.tolerances.grade.letter().to_owned();
    let holds =
        (one.reached && one.spare == Spare::Holds).then(|| here(say::tolerance_holds(grade)));
    let prices = one
        .prices
        .iter()
        .map(|price| view! { <li class:warns=price.crossed>{price.words.show(reader)}</li> });
    let warnings = one.warnings.iter().map(|f| view! { <p class="warns">{f.text(reader)}</p> });
    let own = one.cautions.iter().filter(|caution| !common.contains(caution));
    view! {
        <p class="quiet">{one.against.as_ref().map(|against| against.hint(reader))}</p>
        <p class="quiet">{holds}</p>
        <ul class="prices">{prices.collect_view()}</ul>
        {warnings.collect_view()}
        {own.map(|one| caution(one, reader)).collect_view()}
    }
}
