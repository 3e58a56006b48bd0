//! From the foot to the fork: linkage, claw, detent and track.

mod stroke;

use crenel_words::Phrase;
use crenel_words::page::{common, selector as say};
use leptos::prelude::*;

use crenel::design::{
    ClawSpec, Design, DetentSpec, LinkageSpec, MOST_TRACK_POINTS, PedalBy, TrackSpec,
};
use crenel::draw::views;
use crenel::fields::{FieldId, Slot};
use crenel::model::PedalHeight;
use crenel::units::{ABSENT, Angle, Quantity};
use crenel::verdict::Stage;

use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Home, Panel, Picture, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::drawing::Drawing;
use crate::widgets::number_field::NumberField;
use crate::widgets::optional_parts::{self, EmptyState, Outline};
use stroke::StrokeBar;

pub(super) const AREA: Area<AnyView> = Area {
    results: &[
        "gap_lift_mm",
        "gap_press_mm",
        "transmission_worst_deg",
        "detent_return_nmm",
        "shaft_swing_lift_deg",
        "shaft_swing_press_deg",
    ],
    ..Area::of(
        Stage::Cause,
        AreaKey::SELECTOR,
        say::title,
        Content::Board {
            pictures: &[
                Picture::of(
                    "parts",
                    say::picture_parts,
                    part!(work, selector_drawings, view! { <Drawings/> }),
                ),
                Picture::of(
                    "heights",
                    say::pedal_heights,
                    part!(work, selector_pedal_heights, view! { <PedalHeights/> }),
                ),
            ],
            panels: &[
                Panel {
                    key: "linkage",
                    title: say::linkage,
                    owns: |slot| matches!(slot, Slot::Part(id) if LinkageSpec::FIELDS.contains(&id)),
                    form: part!(work, selector_linkage_form, view! { <LinkageForm/> }),
                },
                Panel {
                    key: "claw",
                    title: say::claw_and_stop,
                    owns: |slot| matches!(slot, Slot::Part(id) if ClawSpec::FIELDS.contains(&id)),
                    form: part!(work, selector_claw_form, view! { <ClawForm/> }),
                },
                Panel {
                    key: "detent",
                    title: say::detent,
                    owns: |slot| matches!(slot, Slot::Part(id) if DetentSpec::FIELDS.contains(&id)),
                    form: part!(work, selector_detent_form, view! { <DetentForm/> }),
                },
                Panel {
                    key: "track",
                    title: say::track,
                    owns: |slot| match slot {
                        Slot::TrackPoint(..) => true,
                        Slot::Part(id) => TrackSpec::FIELDS.contains(&id),
                        _ => false,
                    },
                    form: part!(work, selector_track_form, view! { <TrackForm/> }),
                },
            ],
            home: Home::Panel,
        },
    )
};

const PEDALS: [(PedalBy, Phrase); 3] = [
    (PedalBy::RodAbove, say::pedal_rod_above),
    (PedalBy::RodBelow, say::pedal_rod_below),
    (PedalBy::OnShaft, say::pedal_on_shaft),
];

const OUTLINE: Outline =
    Outline { view: &views::LINKAGE, begin: |design| (optional_parts::LINKAGE.set)(design, true) };

/// The drawings of the area.
#[component]
fn Drawings() -> impl IntoView {
    let state = use_app_state();
    let parts = optional_parts::SELECTOR;
    let is_empty = Memo::new(move |_| state.with(|d| !parts.iter().any(|part| (part.has)(d))));
    let begin = Callback::new(move |()| {
        state.change(|d| parts.iter().for_each(|part| (part.set)(d, true)));
    });
    move || {
        if is_empty.get() {
            return view! { <EmptyState words=here(say::nothing_entered) go=here(say::begin_all) on_go=begin outline=OUTLINE/> }
                .into_any();
        }
        view! {
            <section class="board inwards" aria-label=here(common::drawings)>
                <Drawing view=&views::LINKAGE begin=optional_parts::LINKAGE/>
                <Drawing view=&views::SWING/>
                <Drawing view=&views::CLAW begin=optional_parts::CLAW/>
                <Drawing view=&views::TRACK begin=optional_parts::TRACK/>
                <StrokeBar/>
            </section>
        }
        .into_any()
    }
}

fn numbers(ids: &[FieldId]) -> impl IntoView {
    ids.iter().map(|&id| view! { <NumberField at=Slot::Part(id)/> }).collect_view()
}

/// The form of an optional part, or the button with which to begin one.
#[component]
fn Part(
    legend: Phrase,
    /// Its purpose.
    why: Phrase,
    part: optional_parts::OptionalPart,
    /// The label of the button that removes it.
    take: Phrase,
    children: ChildrenFn,
) -> impl IntoView {
    let state = use_app_state();
    let given = Memo::new(move |_| state.with(part.has));
    let change = move |to: bool| state.change(|d| (part.set)(d, to));
    view! {
        <fieldset class="panel">
            <legend>{here(legend)}</legend>
            {move || if given.get() {
                view! {
                    {children()}
                    <button class="wide" on:click=move |_| change(false)>{here(take)}</button>
                }.into_any()
            } else {
                view! {
                    <p class="quiet">{here(why)}</p>
                    <button class="wide" on:click=move |_| change(true)>{here(part.begin)}</button>
                    <p class="quiet">{here(common::enter_own_sizes)}</p>
                }.into_any()
            }}
        </fieldset>
    }
}

#[component]
fn LinkageForm() -> impl IntoView {
    view! {
        <Part legend=say::linkage why=say::linkage_why part=optional_parts::LINKAGE take=say::remove_linkage>
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
        <Choose label=here(say::connected_by) words=&PEDALS value=by on_choose=set_by/>
        {rod}
        {numbers(&[FieldId::FootArm, FieldId::FootBend, FieldId::FootLift, FieldId::FootPress, FieldId::SplineTeeth])}
    }
}

#[component]
fn ClawForm() -> impl IntoView {
    view! {
        <Part legend=say::claw_and_stop why=say::claw_why part=optional_parts::CLAW take=say::remove_claw>
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
    let shown = move |to: Angle| say::turn_eccentric(to.degrees()).show(state.reader());
    let turn = move |_| {
        let Some(at) = centred.get_untracked() else { return };
        state.change(|d| {
            if let Some(claw) = &mut d.selector.claw {
                claw.turn_eccentric(at);
            }
        });
        state.say(here(say::eccentric_turned));
    };
    move || match centred.get() {
        Some(to) => view! { <button class="wide" on:click=turn>{shown(to)}</button> }.into_any(),
        None => view! { <p class="quiet">{here(say::gaps_stay_unequal)}</p> }.into_any(),
    }
}

#[component]
fn DetentForm() -> impl IntoView {
    view! {
        <Part legend=say::detent why=say::detent_why part=optional_parts::DETENT take=say::remove_detent>
            {numbers(&DetentSpec::FIELDS)}
        </Part>
    }
}

#[component]
fn TrackForm() -> impl IntoView {
    view! {
        <Part legend=say::track why=say::track_why part=optional_parts::TRACK take=say::remove_track>
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
                <div class="scroll" tabindex="0" role="region" aria-label=here(say::track_points)>
                    <table>
                        <thead>
                            <tr>
                                <th scope="col">{here(say::point)}</th>{heads.into_iter().collect_view()}
                                <th><span class="sr">{here(common::remove)}</span></th>
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
                    {here(say::add_point)}
                </button>
                <button class="wide" on:click=move |_| edit_track(state, |t| t.points.clear())>
                    {here(say::one_flank)}
                </button>
            }
            .into_any()
        } else {
            view! {
                {numbers(&TrackSpec::FIELDS)}
                <button class="wide" on:click=move |_| edit_track(state, TrackSpec::list_points)>
                    {here(say::list_points)}
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
        state.say(here(say::point_removed(at)));
    };
    view! {
        <tr>
            <th scope="row">{at + 1}</th>
            {cells.into_iter().collect_view()}
            <td><button aria-label=here(say::remove_point(at)) on:click=drop_it>"×"</button></td>
        </tr>
    }
}

const HEIGHT_HEADS: [Phrase; 7] = [
    say::peg,
    say::rod,
    say::turns,
    say::shaft_lifting,
    say::shaft_pressing,
    say::short_of_stop,
    say::worst_rod_angle,
];

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
        let reader = state.reader();
        let angle = |angle: Option<Angle>| {
            let shown = |a: Angle| Quantity::Angle.show_result(a.degrees(), reader.units);
            angle.map_or_else(|| ABSENT.to_owned(), shown)
        };
        let short = |short: Option<[Angle; 2]>| match short {
            None => ABSENT.to_owned(),
            Some([lift, press]) if lift.radians() <= 0.0 && press.radians() <= 0.0 => {
                here(say::not_short).into_owned()
            }
            Some([lift, press]) => {
                say::lifting_pressing(lift.degrees(), press.degrees()).show(reader)
            }
        };
        let up = height.up_mm;
        let name = match up {
            up if up > 0.0 => say::peg_higher(up),
            up if up < 0.0 => say::peg_lower(-up),
            _ => say::peg_unchanged(),
        };
        let label = say::use_rod_for(name.clone()).show(reader);
        view! {
            <tr aria-current=(up == 0.0).then_some("true")>
                <th scope="row">{name.show(reader)}</th>
                {match height.with {
                    None => view! { <td colspan="7">{here(say::out_of_reach)}</td> }.into_any(),
                    Some(with) => view! {
                        <td>{Quantity::Length.show_result(with.rod_mm, reader.units)}</td>
                        <td>{format!("{:+.2}", with.turns).replace('-', "−")}</td>
                        <td>{angle(Some(with.swing.lift))}</td>
                        <td>{angle(Some(with.swing.press))}</td>
                        <td>{short(with.short)}</td>
                        <td>{angle(with.worst)}</td>
                        <td>
                            <button aria-label=label disabled={up == 0.0} on:click=move |_| take(with.rod_mm)>
                                {here(say::use_rod)}
                            </button>
                        </td>
                    }.into_any(),
                }}
            </tr>
        }
    };
    let begin = Callback::new(move |()| state.change(|d| (optional_parts::LINKAGE.set)(d, true)));
    move || {
        if !state.with(optional_parts::LINKAGE.has) {
            let go = here(optional_parts::LINKAGE.begin);
            return view! { <EmptyState words=here(say::linkage_why) go on_go=begin/> }.into_any();
        }
        (!rows.with(Vec::is_empty)).then(|| view! {
            <section class="gear-shifts" aria-label=here(say::pedal_heights)>
                <h2>{here(say::pedal_heights)}</h2>
                <p class="quiet">{here(say::pedal_heights_how)}</p>
                <div class="scroll" tabindex="0" role="region" aria-label=here(common::table_of(say::pedal_heights()))>
                    <table class="figures">
                        <thead>
                            <tr>
                                {HEIGHT_HEADS.map(|name| view! { <th scope="col">{here(name)}</th> })
                                    .into_iter().collect_view()}
                                <th><span class="sr">{here(say::use_rod)}</span></th>
                            </tr>
                        </thead>
                        <tbody>{move || rows.get().into_iter().map(row).collect_view()}</tbody>
                    </table>
                </div>
            </section>
        })
        .into_any()
    }
}
