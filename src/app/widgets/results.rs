//! The numbers beside the drawing, each opening to its formula, working and source.

use std::borrow::Cow;
use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::compare::Verdict;
use crenel::export::{Export, Place, results_tsv};
use crenel::fields::Slot;
use crenel::figures::{Figure, FigureValue, Group, catalogue, figures};
use crenel::tolerance::figures_with_range;
use crenel::units::DisplayUnits;
use crenel::verdict::beside_bar;

use crenel_words::Reader;
use crenel_words::page::{common, drawing, files, results as say};

use crate::background::ranges::FigureSpan;
use crate::deferred::{Deferred, LazyDetails, schedule};
use crate::part::part;
use crate::state::{Part, here, use_app_state};
use crate::widgets::clipboard::copy_text;
use crate::widgets::explained::explained;
use crate::widgets::files::{files_at, take_file};
use crate::widgets::gauge_bar::GaugeBar;
use crate::widgets::lighting::measure_of;
use crate::widgets::menu::Menu;

/// The figures of the area stand open. All others are in their groups, which open on request.
#[component]
pub(crate) fn Results() -> impl IntoView {
    let state = use_app_state();
    let of = |analysis: Memo<Arc<Analysis>>| Memo::new(move |_| analysis.with(|a| figures(a)));
    let (now, before) = (of(state.analysis), of(state.before));
    let all = Memo::new(move |_| state.layout.is_open(Part::AllResults));
    let sought = RwSignal::new(String::new());
    // The figures that the design has: they change seldom.
    let had = Memo::new(move |_| {
        now.with(|values| values.iter().map(|v| v.figure.key).collect::<Vec<_>>())
    });
    // Where a part is not given there is nothing to say of it, but still of the pair.
    let keys = Memo::new(move |_| {
        let of_area = state.current_area().results;
        let any = had.with(|had| of_area.iter().any(|key| had.contains(key)));
        let of_area = if any { of_area } else { state.areas.first().results };
        let mut keys = state.layout.pinned.get();
        keys.extend(of_area.iter().filter(|key| !state.layout.pinned.with(|p| p.contains(key))));
        keys
    });
    let shown = move || {
        let (keys, had) = (keys.get(), had.get());
        catalogue_rows(&had, &keys, all.get(), &sought.get())
    };
    let shown = Memo::new(move |_| shown());
    let of_all = move || had.with(Vec::len);
    let count = move || {
        let open: usize = shown.with(|groups| groups.iter().map(|(_, rows)| rows.len()).sum());
        all.get().then(|| here(say::open_of(open, of_all())))
    };
    let turn = move |_| {
        sought.set(String::new());
        state.layout.turn(Part::AllResults);
    };
    schedule(move || {
        // By then it may have left the page.
        let _ = now.try_with_untracked(|_| ());
    });
    view! {
        <div class="row head">
            <h2>{here(say::title)}</h2>
            <span class="quiet count">{count}</span>
            <button class="quiet-button" aria-expanded=move || all.get().to_string() on:click=turn>
                {move || if all.get() { here(say::show_fewer) } else { here(say::show_all(of_all())) }}
            </button>
            <Tools now before/>
        </div>
        {move || all.get().then(|| view! {
            <input class="seek" type="search" aria-label=here(say::search) placeholder=here(say::search)
                on:input=move |event| sought.set(event_target_value(&event))/>
        })}
        <For each=move || shown.get() key=|(group, _)| *group
            children=move |(group, _)| view! { <ResultGroup group shown now before/> }/>
        <Deferred><Baseline/></Deferred>
    }
}

/// A heading with its rows; the rows of the area have none.
type Rows = Vec<(Option<Group>, Vec<&'static Figure>)>;

/// The rows to show: those of the area, and if all are asked for the rest in their groups, both as far as they are
/// sought.
fn catalogue_rows(had: &[&str], keys: &[&str], all: bool, sought: &str) -> Rows {
    let sought = sought.to_lowercase();
    let wanted = |figure: &&'static Figure| {
        had.contains(&figure.key) && here(figure.name()).to_lowercase().contains(&sought)
    };
    let find = |key: &&str| catalogue().find(|figure| figure.key == *key);
    let first = (None, keys.iter().filter_map(find).filter(wanted).collect::<Vec<_>>());
    let rest = Group::ALL.into_iter().filter(|_| all).map(|group| {
        let of = catalogue().filter(|f| f.group == group && !keys.contains(&f.key));
        (Some(group), of.filter(wanted).collect())
    });
    [first].into_iter().chain(rest).filter(|(_, rows)| !rows.is_empty()).collect()
}

#[component]
fn ResultGroup(
    group: Option<Group>,
    shown: Memo<Rows>,
    now: Memo<Vec<FigureValue>>,
    before: Memo<Vec<FigureValue>>,
) -> impl IntoView {
    let rows = move || {
        shown.with(|groups| {
            let rows = groups.iter().find(|(of, _)| *of == group);
            rows.map(|(_, rows)| rows.clone()).unwrap_or_default()
        })
    };
    view! {
        <section class="group">
            {group.map(|group| view! { <h3>{here(group.title())}</h3> })}
            <For each=rows key=|figure| figure.key children=move |figure| view! { <Row figure now before/> }/>
        </section>
    }
}

/// What the results are compared with.
#[component]
fn Baseline() -> impl IntoView {
    let state = use_app_state();
    let changed = move || state.is_changed();
    view! {
        <p class="against">
            <Show when=changed fallback=|| here(say::change_anything)>
                {here(say::compared_with_opened)}" "
                <button on:click=move |_| state.compare_from_here()>{here(say::set_as_baseline)}</button>
            </Show>
        </p>
    }
}

/// Copies the results, or takes them as a file.
#[component]
fn Tools(now: Memo<Vec<FigureValue>>, before: Memo<Vec<FigureValue>>) -> impl IntoView {
    let state = use_app_state();
    let table = move || {
        now.with_untracked(|now| {
            before.with_untracked(|before| results_tsv(now, before, untrack(|| state.reader())))
        })
    };
    view! {
        <Menu title=|| "⋯".into() name=here(drawing::tools_of(here(say::title).into_owned()))>
            <button
                on:click=move |_| copy_text(state, &table(), [files::results_copied, files::results_not_copied])>
                {here(say::copy_table)}
            </button>
            {part!(shop, result_files, view! { <ResultFiles/> })()}
        </Menu>
    }
}

/// The results as files.
#[component]
fn ResultFiles() -> impl IntoView {
    let state = use_app_state();
    let file = move |export: Export| {
        let take = move |_| take_file(state, &state.analysis.get_untracked(), export);
        view! { <button on:click=take>{here(export.label())}</button> }
    };
    files_at(Place::Results).map(file).collect_view()
}

#[component]
fn Row(
    figure: &'static Figure,
    now: Memo<Vec<FigureValue>>,
    before: Memo<Vec<FigureValue>>,
) -> impl IntoView {
    let state = use_app_state();
    let find = move |list: Memo<Vec<FigureValue>>| {
        list.with(|l| l.iter().find(|v| v.figure == figure).cloned())
    };
    let value = Memo::new(move |_| find(now));
    let earlier = Memo::new(move |_| find(before).and_then(|f| f.value));
    let gauge = Memo::new(move |_| {
        let value = value.with(|f| f.as_ref().and_then(|f| f.value))?;
        state.analysis.with(|a| figure.gauge(value, a))
    });
    let change = move || {
        value.with(|f| f.as_ref().and_then(|f| change(f, earlier.get(), state.units.get())))
    };
    let lacks = move || state.with(|d| figure.missing(d).is_some());
    let beside = move || {
        let value = value.with(|f| f.as_ref().and_then(|f| f.value))?;
        let told = state.analysis.with(|a| beside_bar(figure, value, a))?;
        Some(view! { <span class="limit-words">" "{told.show(state.reader())}</span> })
    };
    let span = Memo::new(move |_| state.spans.of(figure.key));
    let worst = Memo::new(move |_| span.get().map(|span| span.worst));
    let range = move || {
        let units = state.units.get();
        span.get()
            .map(|span| span.worst.map(|end| figure.quantity.format_result(end, units)).join(" … "))
    };
    let lazy = LazyDetails::new();
    let pinned = move || state.layout.pinned.with(|pinned| pinned.contains(&figure.key));
    let details = move || {
        view! {
            <button class="pin" aria-pressed=move || pinned().to_string()
                on:click=move |_| state.layout.turn_pin(figure.key)>{here(say::pin)}</button>
            {move || span.get().map(|span| range_details(figure, &span, state.reader()))}
            <dl>
                <dt>{here(common::what_it_is)}</dt><dd>{explained(&here(figure.what_it_is()))}</dd>
                <dt>{here(common::formula)}</dt><dd class="formula">{move || value.with(|f| f.as_ref().map(|f| here(f.formula)))}</dd>
                <dt>{here(say::working)}</dt><dd>{move || value.with(|f| f.as_ref().map(|f| f.working.show(state.reader())))}</dd>
                <dt>{here(common::result)}</dt>
                <dd>{move || value.with(|f| f.as_ref().map(|f| f.shown_fully(state.reader())))}</dd>
                <dt>{here(common::source)}</dt><dd>{here(figure.from_where())}</dd>
            </dl>
        }
    };
    // Its row is as high before the range is known as afterwards.
    let ranged = figures_with_range().any(|of| of == figure);
    view! {
        <details class="figure" class:pinned=pinned class:ranged=ranged data-key=figure.key data-measure=measure_of(figure.key)
            on:toggle=move |_| lazy.open()>
            <summary on:click=move |_| lazy.open()>
                <span class="name">
                    {here(figure.name())}
                    {beside}
                </span>
                <GaugeBar gauge was=earlier range=worst/>
                <span class="was">{move || change().map(|c| c.was)}</span>
                <output class="now" class:needs=lacks>{move || value.with(|f| f.as_ref().map(|f| with_unit(&f.shown(state.reader()))))}</output>
                <span class="range">{range}</span>
                <span class="verdict" data-way=move || change().map(|c| c.way)>
                    {move || change().map(|c| c.words)}
                </span>
            </summary>
            {move || lazy.is_opened().then(details)}
        </details>
    }
}

/// A number and its unit, so that the points and units of all rows stand below one another. Words have no unit.
fn with_unit(shown: &str) -> impl IntoView + use<> {
    let number = shown.strip_prefix('−').unwrap_or(shown);
    let begins = number.starts_with(|c: char| c.is_ascii_digit());
    let ends = shown.rfind(|c: char| c.is_ascii_digit()).map_or(0, |at| at + 1);
    let unit = if begins { shown[ends..].to_owned() } else { String::new() };
    let number = shown[..shown.len() - unit.len()].to_owned();
    let is_decimal = |c: char| c.is_ascii_digit() || c == '.' || c == '−' || c.is_whitespace();
    let is_plain = begins && number.chars().all(is_decimal);
    let point = number.find('.').unwrap_or(number.len());
    let (whole, tail) = if is_plain { number.split_at(point) } else { (&*number, "") };
    let (whole, tail) = (whole.to_owned(), tail.to_owned());
    view! {
        {whole}
        {is_plain.then(|| view! { <span class="tail">{tail}</span> })}
        {begins.then(|| view! { <span class="unit">{unit}</span> })}
    }
}

/// What the figure is over the tolerances, and the sizes that drive it most.
fn range_details(figure: &Figure, span: &FigureSpan, reader: Reader) -> impl IntoView + use<> {
    let shown = |number: f64| figure.quantity.show_result(number, reader.units);
    let between = |ends: [f64; 2]| ends.map(shown).join(" … ");
    let driver = |(slot, ends): &(Slot, [f64; 2])| {
        view! {
            <li>
                <span>{slot.words().show(reader)}</span>
                {share_of_span(*ends, span.worst)}
                <span class="ends">{between(*ends)}</span>
            </li>
        }
    };
    let drivers = span.drivers.iter().map(driver).collect_view();
    let not_in = (span.not_in > 0.0).then(|| say::parts_not_in(span.not_in).show(reader));
    view! {
        <dl class="spans">
            <dt>{here(say::worst_case)}</dt><dd>{between(span.worst)}</dd>
            <dt>{here(say::of_the_parts)}</dt><dd>{span.shares.map(shown).join(" · ")}" "{not_in}</dd>
            <dt>{here(say::driven_most_by)}</dt><dd><ul>{drivers}</ul></dd>
        </dl>
    }
}

/// What one size does by itself, as a part of what all do together.
fn share_of_span(ends: [f64; 2], worst: [f64; 2]) -> impl IntoView + use<> {
    let across = worst[1] - worst[0];
    // A size that lessens the figure as it grows has its greater end first.
    let ends = [ends[0].min(ends[1]), ends[0].max(ends[1])];
    let share =
        |from: f64, to: f64| format!("{:.1}", (100.0 * (to - from) / across).clamp(0.0, 100.0));
    (across > 0.0).then(|| view! {
        <svg class="gauge" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
            <rect class="range" x=share(worst[0], ends[0]) width=share(ends[0], ends[1]) y="1" height="4"></rect>
        </svg>
    })
}

/// A change against the design as opened, in words and not by colour alone.
struct Change {
    was: String,
    words: Cow<'static, str>,
    way: &'static str,
}

fn change(now: &FigureValue, before: Option<f64>, units: DisplayUnits) -> Option<Change> {
    let before = before?;
    let verdict = Verdict::between(now, before)?;
    let was = format!("{} →", now.figure.quantity.show_result(before, units));
    Some(Change { was, words: here(verdict.word()), way: verdict.way() })
}
