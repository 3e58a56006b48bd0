//! From the foot to the fork: linkage, claw, detent and track.

mod stroke;

use crenel_words::Phrase;
use crenel_words::page::selector as say;
use leptos::prelude::*;

use crenel::design::{ClawSpec, Design, DetentSpec, MOST_TRACK_POINTS, PedalBy, TrackSpec};
use crenel::draw::views;
use crenel::fields::{FieldId, Slot};
use crenel::figures::Group;
use crenel::model::PedalHeight;
use crenel::units::{Angle, Quantity};

use crate::state::{AppState, Area, AreaKey, Content, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::drawing::Drawing;
use crate::widgets::number_field::NumberField;
use crate::widgets::optional_parts;
use stroke::StrokeBar;

pub(super) const AREA: Area<AnyView> = Area {
    tour: Some(say::tour),
    first_results: &[Group::Selector, Group::Depth],
    ..Area::tab(
        AreaKey::SELECTOR,
        say::title,
        Content::Board {
            drawings: || view! { <Drawings/> }.into_any(),
            sizes: || view! { <Sizes/> }.into_any(),
            sizes_first: false,
        },
    )
};

const PEDALS: [(PedalBy, Phrase); 3] = [
    (PedalBy::RodAbove, say::pedal_rod_above),
    (PedalBy::RodBelow, say::pedal_rod_below),
    (PedalBy::OnShaft, say::pedal_on_shaft),
];

/// The drawings of the area.
#[component]
fn Drawings() -> impl IntoView {
    view! {
        <section class="board inwards" aria-label="Drawings">
            <p class="first">
                "From the pedal inwards. "
                <span class="quiet">"Give the parts below, drag any round handle, and play a stroke."</span>
            </p>
            <Drawing view=&views::LINKAGE begin=optional_parts::LINKAGE/>
            <Drawing view=&views::SWING/>
            <Drawing view=&views::CLAW begin=optional_parts::CLAW/>
            <StrokeBar/>
            <Drawing view=&views::TRACK begin=optional_parts::TRACK/>
        </section>
    }
}

#[component]
fn Sizes() -> impl IntoView {
    view! {
        <div class="panels">
            <LinkageForm/>
            <ClawForm/>
            <div class="stack"><DetentForm/><TrackForm/></div>
        </div>
        <PedalHeights/>
    }
}

fn numbers(ids: &[FieldId]) -> impl IntoView {
    ids.iter().map(|&id| view! { <NumberField at=Slot::Part(id)/> }).collect_view()
}

/// The form of an optional part, or the button with which to begin one.
#[component]
fn Part(
    legend: &'static str,
    /// Its purpose.
    why: &'static str,
    part: optional_parts::OptionalPart,
    /// The label of the button that removes it.
    take: &'static str,
    children: ChildrenFn,
) -> impl IntoView {
    let state = use_app_state();
    let given = Memo::new(move |_| state.with(part.has));
    let change = move |to: bool| state.change(|d| (part.set)(d, to));
    view! {
        <fieldset class="panel">
            <legend>{legend}</legend>
            {move || if given.get() {
                view! { {children()}<button class="wide" on:click=move |_| change(false)>{take}</button> }.into_any()
            } else {
                view! {
                    <p class="quiet">{why}</p>
                    <button class="wide" on:click=move |_| change(true)>{here(part.begin)}</button>
                    <p class="quiet">"Type your own sizes over the invented ones."</p>
                }.into_any()
            }}
        </fieldset>
    }
}

#[component]
fn LinkageForm() -> impl IntoView {
    view! {
        <Part legend="Linkage" why="How far the foot turns the selector shaft, and where where the linkage binds."
            part=optional_parts::LINKAGE take="Remove linkage">
            <LinkageNumbers/>
        </Part>
    }
}

#[component]
fn LinkageNumbers() -> impl IntoView {
    let state = use_app_state();
    let by = Memo::new(move |_| {
        state.with(|d| d.selector.linkage.as_ref().map(|l| l.by)).unwrap_or_default()
    });
    let set_by = Callback::new(move |by| {
        state.change(|d| {
            if let Some(linkage) = &mut d.selector.linkage {
                linkage.by = by;
            }
        });
    });
    let rod = move || {
        (by.get() != PedalBy::OnShaft).then(|| {
            numbers(&[
                FieldId::ShaftAhead,
                FieldId::ShaftAbove,
                FieldId::PedalArm,
                FieldId::RodLength,
                FieldId::RodThread,
                FieldId::ShaftLever,
                FieldId::ShaftLeverAt,
            ])
        })
    };
    view! {
        <Choose label="Joined to the shaft by" words=&PEDALS value=by on_choose=set_by/>
        {rod}
        {numbers(&[FieldId::FootArm, FieldId::FootBend, FieldId::FootLift, FieldId::FootPress, FieldId::SplineTeeth])}
    }
}

#[component]
fn ClawForm() -> impl IntoView {
    view! {
        <Part legend="Claw and stop" why="What gap is left at the stop each way, and where the drum ends up."
            part=optional_parts::CLAW take="Remove claw">
            {numbers(&ClawSpec::FIELDS)}
            <EqualGaps/>
        </Part>
    }
}

/// The button that turns the eccentric so that both gaps are equal.
#[component]
fn EqualGaps() -> impl IntoView {
    let state = use_app_state();
    let centred = Memo::new(move |_| {
        state.analysis.with(|a| a.selector.strokes().and_then(|claw| claw.centred.ok()))
    });
    let shown = move |at: Angle| {
        let at = Quantity::Angle.show((at.degrees() * 10.0).round() / 10.0, state.units.get());
        format!("Turn the eccentric to {at}: equal gaps")
    };
    let turn = move |_| {
        let Some(at) = centred.get_untracked() else { return };
        state.change(|d| {
            if let Some(claw) = &mut d.selector.claw {
                claw.turn_eccentric(at);
            }
        });
        state.say("The eccentric is turned; travel to the stop and gaps follow.".to_owned());
    };
    move || {
        match centred.get() {
        Some(at) => view! { <button class="wide" on:click=turn>{shown(at)}</button> }.into_any(),
        None => view! {
            <p class="quiet">"The eccentric cannot make the gaps equal; the figures say what is missing."</p>
        }.into_any(),
    }
    }
}

#[component]
fn DetentForm() -> impl IntoView {
    view! {
        <Part legend="Detent" why="What torque holds the drum, and whether the roller brings it home."
            part=optional_parts::DETENT take="Remove detent">
            {numbers(&DetentSpec::FIELDS)}
        </Part>
    }
}

#[component]
fn TrackForm() -> impl IntoView {
    view! {
        <Part legend="Track" why="Turns errors of claw and detent into millimetres of overlap."
            part=optional_parts::TRACK take="Remove track">
            <TrackNumbers/>
        </Part>
    }
}

/// Changes the track, if there is one.
fn edit_track(state: AppState, edit: impl FnOnce(&mut TrackSpec)) {
    state.change(|d| {
        if let Some(track) = &mut d.selector.track {
            edit(track);
        }
    });
}

#[component]
fn TrackNumbers() -> impl IntoView {
    let state = use_app_state();
    let count = Memo::new(move |_| {
        state.with(|d| d.selector.track.as_ref().map_or(0, |track| track.points.len()))
    });
    let by_points = Memo::new(move |_| count.get() > 0);
    move || {
        if by_points.get() {
            let heads = TrackSpec::POINT_FIELDS
                .map(|id| view! { <th scope="col">{here(id.spec().name())}</th> });
            view! {
                <div class="scroll" tabindex="0" role="region" aria-label="Points of the track">
                    <table>
                        <thead>
                            <tr>
                                <th scope="col">"Point"</th>{heads.into_iter().collect_view()}
                                <th><span class="sr">"Take out"</span></th>
                            </tr>
                        </thead>
                        <tbody>
                            <For each=move || 0..count.get() key=|at| *at
                                children=move |at| view! { <TrackRow at/> }/>
                        </tbody>
                    </table>
                </div>
                <button class="wide" disabled=move || { count.get() >= MOST_TRACK_POINTS }
                    on:click=move |_| edit_track(state, TrackSpec::add_point)>
                    "Add a point"
                </button>
                <button class="wide" on:click=move |_| edit_track(state, |t| t.points.clear())>
                    "One straight flank instead"
                </button>
            }
            .into_any()
        } else {
            view! {
                {numbers(&TrackSpec::FIELDS)}
                <button class="wide" on:click=move |_| edit_track(state, TrackSpec::list_points)>
                    "Give it point by point"
                </button>
            }
            .into_any()
        }
    }
}

#[component]
fn TrackRow(at: usize) -> impl IntoView {
    let state = use_app_state();
    let cells = TrackSpec::POINT_FIELDS
        .map(|id| view! { <td><NumberField at=Slot::TrackPoint(at, id) bare=true/></td> });
    let drop_it = move |_| {
        edit_track(state, |track| {
            track.points.remove(at);
        });
        state.say(format!("Point {} of the track is taken out.", at + 1));
    };
    view! {
        <tr>
            <th scope="row">{at + 1}</th>
            {cells.into_iter().collect_view()}
            <td><button aria-label=format!("Take point {} out", at + 1) on:click=drop_it>"×"</button></td>
        </tr>
    }
}

/// The effect of other heights of the peg.
#[component]
fn PedalHeights() -> impl IntoView {
    let state = use_app_state();
    let rows = Memo::new(move |_| {
        state.analysis.with(|a| {
            let claw = a.selector.strokes().map(|strokes| &strokes.claw);
            a.selector.swing().map(|swing| swing.heights(claw)).unwrap_or_default()
        })
    });
    let take = move |rod_mm: f64| {
        let step = FieldId::RodLength.spec().fine / 10.0;
        state.change(|d: &mut Design| {
            d.set(Slot::Part(FieldId::RodLength), (rod_mm / step).round() * step);
        });
    };
    let row = move |height: PedalHeight| {
        let units = state.units.get();
        let show = |quantity: Quantity, value: f64, to: f64| {
            quantity.show((value * to).round() / to, units)
        };
        let angle = |angle: Option<Angle>| {
            angle.map_or("–".to_owned(), |a| show(Quantity::Angle, a.degrees(), 10.0))
        };
        let short = |short: Option<[Angle; 2]>| match short {
            None => "–".to_owned(),
            Some([lift, press]) if lift.radians() <= 0.0 && press.radians() <= 0.0 => {
                "no".to_owned()
            }
            Some(both) => both.map(|a| angle(Some(a))).join(" / "),
        };
        let up = height.up_mm;
        let name = match up {
            up if up > 0.0 => format!("{} higher", show(Quantity::Length, up, 10.0)),
            up if up < 0.0 => format!("{} lower", show(Quantity::Length, -up, 10.0)),
            _ => "as it is".to_owned(),
        };
        let label = format!("Take the rod for the peg {name}");
        view! {
            <tr aria-current=(up == 0.0).then_some("true")>
                <th scope="row">{name}</th>
                {match height.with {
                    None => view! { <td colspan="7">"out of reach of rod and arms"</td> }.into_any(),
                    Some(with) => view! {
                        <td>{show(Quantity::Length, with.rod_mm, 100.0)}</td>
                        <td>{format!("{:+.2}", with.turns).replace('-', "−")}</td>
                        <td>{angle(Some(with.swing.lift))}</td>
                        <td>{angle(Some(with.swing.press))}</td>
                        <td>{short(with.short)}</td>
                        <td>{angle(with.worst)}</td>
                        <td>
                            <button aria-label=label disabled={up == 0.0} on:click=move |_| take(with.rod_mm)>
                                "Take"
                            </button>
                        </td>
                    }.into_any(),
                }}
            </tr>
        }
    };
    move || {
        (!rows.with(Vec::is_empty)).then(|| view! {
            <section class="gear-shifts" aria-label="What another pedal height costs">
                <h2>"What another pedal height costs"</h2>
                <p class="quiet">
                    "By the length of the rod, with the shaft held by its centring spring. Turns are those of one \
                    rod end, plus is longer."
                </p>
                <div class="scroll" tabindex="0" role="region" aria-label="Table of pedal heights">
                    <table class="figures">
                        <thead>
                            <tr>
                                <th scope="col">"Peg"</th><th scope="col">"Rod"</th><th scope="col">"Turns"</th>
                                <th scope="col">"Shaft, lifting"</th><th scope="col">"Shaft, pressing"</th>
                                <th scope="col">"Short of the stop, lifting / pressing"</th>
                                <th scope="col">"Rod to lever, at its worst"</th>
                                <th><span class="sr">"Take it"</span></th>
                            </tr>
                        </thead>
                        <tbody>{move || rows.get().into_iter().map(row).collect_view()}</tbody>
                    </table>
                </div>
            </section>
        })
    }
}
