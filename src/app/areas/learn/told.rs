//! One story: what it tells, what is dragged, and what stands beside the drawing.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::Design;
use crenel::shift::OutcomeMap;
use crenel::story::{Drag, Span, Story, told_of};
use crenel_words::Value;
use crenel_words::page::{drawing, learn as say};

use super::answer::Question;
use super::picture::Picture;
use super::range::{Dragged, Range};
use crate::background::maps as background_maps;
use crate::state::{AppState, Player, Reel, here, persistence, use_app_state};
use crate::widgets::clipboard::copy_text;
use crate::widgets::explained::explained;
use crate::widgets::play_bar::Playing;

#[component]
pub(super) fn Told(
    story: &'static Story,
    own: RwSignal<bool>,
    lecture: RwSignal<bool>,
    /// The player of the story, for the keys of a lecture.
    film: RwSignal<Option<Player>>,
) -> impl IntoView {
    let state = use_app_state();
    let base = Memo::new(move |_| if own.get() { state.with(own_gear) } else { told_of() });
    let share = move |_| {
        let link = persistence::link_to_place(state);
        copy_text(state, &link, [say::link_copied, say::link_refused]);
    };
    let note = move || here(if own.get() { say::told_of_own } else { say::told_of_example });
    view! {
        <article class="story" aria-labelledby="story-title" data-story=story.key>
            <h3 id="story-title">{here(story.title)}</h3>
            <p class="told">{explained(&here(story.told))}</p>
            <div class="row">
                <button aria-pressed=move || own.get().to_string() on:click=move |_| own.update(|own| *own = !*own)>
                    {here(say::with_my_gear)}
                </button>
                <button on:click=share>{here(say::copy_link)}</button>
            </div>
            <p class="quiet">{note}</p>
            {move || view! { <Live story base=base.get() lecture shown_film=film/> }}
        </article>
    }
}

/// The reader's own gears, without what is kept beside them.
fn own_gear(design: &Design) -> Design {
    Design { alternatives: Vec::new(), ..design.without_box() }
}

/// The drawing with its slider, and the question, for these gears.
#[component]
fn Live(
    story: &'static Story,
    base: Design,
    lecture: RwSignal<bool>,
    shown_film: RwSignal<Option<Player>>,
) -> impl IntoView {
    let state = use_app_state();
    let base = Arc::new(base);
    let dragged: Dragged = RwSignal::new(story.starts(&base));
    let design = {
        let base = Arc::clone(&base);
        Memo::new(move |_| dragged.with(|values| story.design(&base, values)))
    };
    let analysis = Memo::new(move |_| design.with(|design| Arc::new(Analysis::of(design))));
    let steady = Arc::new(Analysis::of(&story.design(&base, &[])));
    let reel = Memo::new(move |_| Reel::of_shifts(&[analysis.get()]));
    let player = Player::new(reel.into());
    player.filmed.set(story.is_film);
    shown_film.set(story.is_film.then_some(player));
    let map = map_of(story, &steady.design);
    let pictures = story.views.iter().map(|view| {
        let steady = Arc::clone(&steady);
        view! { <Picture story view=*view analysis steady player map dragged lecture/> }
    });
    let sliders = story.drags.iter().enumerate().map(|(at, drag)| {
        let span = drag.span(&base);
        view! { <Slider drag span at dragged/> }
    });
    let film = story.is_film.then(|| {
        let told = Signal::derive(move || film_told(state, player, &analysis.get()));
        view! { <Playing player told/> }
    });
    let open = move |_| {
        state.replace(design.get_untracked());
        state.open_area(state.areas.first().key);
        state.tell(here(say::design_opened), false);
    };
    view! {
        <div class="live">
            <div class="pictures">{pictures.collect_view()}</div>
            {film}
            <div class="drags" role="group" aria-label=here(say::drag)>{sliders.collect_view()}</div>
            <Beside story analysis/>
        </div>
        <Question story base/>
        <div class="row"><button on:click=open>{here(say::open_design)}</button></div>
    }
}

/// The outcome map of a story that draws one. It is that of the gears: no drag changes it.
fn map_of(story: &Story, design: &Design) -> RwSignal<Option<Arc<OutcomeMap>>> {
    let map = RwSignal::new(None);
    if story.views.iter().any(|view| view.is_chart()) {
        let background =
            background_maps::start(move |_, made| drop(map.try_set(Some(Arc::new(made)))));
        background_maps::ask(&background, 0.0, std::slice::from_ref(design));
        // It works for as long as the story is on the screen.
        let background = StoredValue::new_local(background);
        on_cleanup(move || background.dispose());
    }
    map
}

/// What the film shows. While it runs it is only said that it does, so that the end is not known before.
fn film_told(state: AppState, player: Player, analysis: &Analysis) -> String {
    let time = player.time.get();
    let Some(shift) = analysis.shift() else { return here(drawing::no_shift).into_owned() };
    match time {
        Some(time) if !player.running.get() || time >= player.lasts() => {
            crenel::figures::moment_words(&shift.attempt, Some(time)).show(state.reader())
        }
        Some(_) | None => here(say::film_waits).into_owned(),
    }
}

/// One number that is dragged.
#[component]
fn Slider(drag: &'static Drag, span: Span, at: usize, dragged: Dragged) -> impl IntoView {
    let state = use_app_state();
    let now = move || dragged.with(|values| values.get(at).copied().unwrap_or(span.start));
    let put = move |value: f64| {
        dragged.update(|values| values.iter_mut().skip(at).take(1).for_each(|own| *own = value));
    };
    if drag.is_switch {
        let is_on = move || now() > 0.5;
        let turned = move |event| put(f64::from(u8::from(event_target_checked(&event))));
        return view! {
            <label class="switch">
                <input type="checkbox" prop:checked=is_on on:change=turned/>
                <span>{here(drag.name)}</span>
            </label>
        }
        .into_any();
    }
    let shown = move || Value::Result(drag.quantity, now()).show(state.reader());
    view! { <Range name=here(drag.name).into_owned() span now=Signal::derive(now) shown=Signal::derive(shown) put=Callback::new(put)/> }
        .into_any()
}

/// The figures of the drawing as it is now.
#[component]
fn Beside(story: &'static Story, analysis: Memo<Arc<Analysis>>) -> impl IntoView {
    let state = use_app_state();
    let rows = move || {
        let reader = state.reader();
        let figures = analysis.with(|analysis| story.figures(analysis));
        let row = |figure: &'static crenel::figures::Figure| {
            let value = figures.iter().find(|value| value.figure == figure);
            let value =
                value.map_or_else(|| crenel::units::ABSENT.to_owned(), |value| value.shown(reader));
            view! { <div><dt>{here(figure.name())}</dt><dd>{value}</dd></div> }
        };
        story.shown.iter().map(|figure| row(figure)).collect_view()
    };
    view! { <dl class="beside-drawing" aria-label=here(say::beside)>{rows}</dl> }
}
