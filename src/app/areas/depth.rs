//! Depth: the stack-ups along the shaft, the clearance they leave, and its effect on the pair.

use std::borrow::Cow;
use std::sync::Arc;

use crenel_words::Phrase;
use crenel_words::page::{common, depth as say};
use leptos::prelude::*;

use crenel::analysis::Analysis;

use crenel::design::{DepthSpec, LINK_NAME_LIMIT, LinkSpec, MOST_LINKS};
use crenel::draw::views;
use crenel::fields::{FieldId, Slot};
use crenel::model::DepthCase;
use crenel::stack::Facing;
use crenel::verdict::Stage;

use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Home, Panel, Picture, here, use_app_state};
use crate::widgets::change_table::ChangeTable;
use crate::widgets::choose::Choose;
use crate::widgets::drawing::Drawing;
use crate::widgets::number_field::NumberField;
use crate::widgets::optional_parts::{CHAINS, EmptyState, Outline};

pub(super) const AREA: Area<AnyView> = Area {
    results: &[
        "clearance_this_mm",
        "clearance_other_mm",
        "pushed_in_this_mm",
        "pushed_in_other_mm",
        "shim_mm",
        "full_depth_mm",
    ],
    ..Area::of(
        Stage::Cause,
        AreaKey::DEPTH,
        say::title,
        Content::Board {
            pictures: &[
                Picture::of(
                    "chain",
                    say::picture_chain,
                    part!(work, depth_drawings, view! { <Drawings/> }),
                ),
                Picture::of(
                    "effect",
                    say::picture_effect,
                    part!(work, depth_pair_effect, view! { <PairEffect/> }),
                ),
            ],
            panels: &[
                Panel {
                    key: "shims",
                    title: say::fork_and_shims,
                    owns: |slot| matches!(slot, Slot::Part(id) if DepthSpec::FIELDS.contains(&id)),
                    form: part!(work, depth_shim_form, view! { <ShimForm/> }),
                },
                Panel {
                    key: "out",
                    title: || say::stack_up(Facing::BOTH[0]),
                    owns: |slot| matches!(slot, Slot::Link(facing, ..) if facing == Facing::BOTH[0]),
                    form: part!(
                        work,
                        depth_chain_form_out,
                        view! { <ChainForm facing=Facing::BOTH[0]/> }
                    ),
                },
                Panel {
                    key: "home",
                    title: || say::stack_up(Facing::BOTH[1]),
                    owns: |slot| matches!(slot, Slot::Link(facing, ..) if facing == Facing::BOTH[1]),
                    form: part!(
                        work,
                        depth_chain_form_home,
                        view! { <ChainForm facing=Facing::BOTH[1]/> }
                    ),
                },
            ],
            home: Home::Panel,
        },
    )
};

/// Whether a dimension opens the clearance, with the key of that choice and the word for it.
const WAYS: [(bool, &str, Phrase); 2] = [(true, "opens", say::adds), (false, "takes", say::takes)];

const CASES: [(DepthCase, Phrase); 6] = [
    (DepthCase::Pushed, say::overlap_pushed),
    (DepthCase::DrawnIn, say::overlap_drawn_in),
    (DepthCase::Shimmed, say::overlap_shimmed),
    (DepthCase::LeastRss, say::overlap_least_likely),
    (DepthCase::Least, say::overlap_least),
    (DepthCase::Most, say::overlap_most),
];

const OUTLINE: Outline =
    Outline { view: &views::CHAINS, begin: |design| (CHAINS.set)(design, true) };

#[component]
fn Drawings() -> impl IntoView {
    let state = use_app_state();
    let given = Memo::new(move |_| state.with(CHAINS.has));
    let begin = Callback::new(move |()| state.change(|d| (CHAINS.set)(d, true)));
    move || {
        if !given.get() {
            return view! { <EmptyState words=here(say::why) go=here(CHAINS.begin) on_go=begin outline=OUTLINE/> }
                .into_any();
        }
        view! { <Stacks/> }.into_any()
    }
}

/// The stack-ups, and what they leave at the dogs.
#[component]
fn Stacks() -> impl IntoView {
    view! {
        <section class="board inwards" aria-label=here(common::drawings)>
            <Drawing view=&views::CHAINS begin=CHAINS/>
            <Drawing view=&views::UNROLLED caption=say::caption_developed/>
        </section>
    }
}

/// Changes the depth, if it is given.
fn edit(state: AppState, edit: impl FnOnce(&mut DepthSpec)) {
    state.change(|d| {
        if let Some(depth) = &mut d.depth {
            edit(depth);
        }
    });
}

/// The fork, the shims, and what they are worked out from; or the way to begin.
#[component]
fn ShimForm() -> impl IntoView {
    let state = use_app_state();
    let given = Memo::new(move |_| state.with(CHAINS.has));
    let give = move |_| state.change(|d| (CHAINS.set)(d, true));
    view! {
        <fieldset class="panel">
            <legend>{here(say::fork_and_shims)}</legend>
            {move || if given.get() {
                let numbers = DepthSpec::FIELDS.map(|id| view! { <NumberField at=Slot::Part(id)/> });
                view! {
                    {numbers.into_iter().collect_view()}
                    <Shim/>
                    <button class="wide" on:click=move |_| state.change(|d| d.depth = None)>
                        {here(say::remove_stack_ups)}
                    </button>
                }.into_any()
            } else {
                view! {
                    <button class="wide" on:click=give>{here(CHAINS.begin)}</button>
                    <p class="quiet">{here(common::enter_own_sizes)}</p>
                }.into_any()
            }}
        </fieldset>
    }
}

#[component]
fn ChainForm(facing: Facing) -> impl IntoView {
    let state = use_app_state();
    let count = Memo::new(move |_| {
        state.with(|d| d.depth.as_ref().map_or(0, |depth| depth.chains[facing].len()))
    });
    let sizes = LinkSpec::FIELDS.map(|id| view! { <th scope="col">{here(id.spec().name())}</th> });
    let add = move |_| edit(state, |depth| depth.chains[facing].push(LinkSpec::default()));
    view! {
        <fieldset class="panel">
            <legend>{here(say::stack_up(facing))}</legend>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::stack_up(facing))>
                <table>
                    <thead>
                        <tr>
                            <th scope="col">{here(say::part)}</th>{sizes.into_iter().collect_view()}
                            <th scope="col">{here(say::clearance)}</th>
                            <th><span class="sr">{here(common::remove)}</span></th>
                        </tr>
                    </thead>
                    <tbody>
                        <For each=move || 0..count.get() key=|at| *at
                            children=move |at| view! { <LinkRow facing at/> }/>
                    </tbody>
                </table>
            </div>
            <button class="wide" disabled=move || { count.get() >= MOST_LINKS } on:click=add>
                {here(say::add_size)}
            </button>
        </fieldset>
    }
}

#[component]
fn LinkRow(facing: Facing, at: usize) -> impl IntoView {
    let state = use_app_state();
    let link = move || state.with(|d| d.depth.as_ref()?.link(facing, at).cloned());
    let name = Memo::new(move |_| link().map(|link| link.name).unwrap_or_default());
    let opens = Memo::new(move |_| link().is_some_and(|link| link.opens));
    let change = move |edit_link: &dyn Fn(&mut LinkSpec)| {
        edit(state, |depth| depth.link_mut(facing, at).into_iter().for_each(edit_link));
    };
    let rename = move |event| {
        let name: String = event_target_value(&event);
        change(&|link| link.name.clone_from(&name));
    };
    let choose = move |event| {
        let chosen: String = event_target_value(&event);
        change(&|link| link.opens = WAYS.iter().any(|(opens, key, _)| *opens && *key == chosen));
    };
    let drop_it = move |_| {
        edit(state, |depth| drop(depth.chains[facing].remove(at)));
        state.say(here(say::part_removed(say::stack_up(facing), at)));
    };
    let cells = LinkSpec::FIELDS
        .map(|id| view! { <td><NumberField at=Slot::Link(facing, at, id) bare=true/></td> });
    let options = WAYS.map(|(_, key, name)| view! { <option value=key>{here(name)}</option> });
    view! {
        <tr>
            <td>
                <input class="name" type="text" maxlength=LINK_NAME_LIMIT.to_string()
                    aria-label=here(say::name_of_part(say::stack_up(facing), at)) prop:value=name on:change=rename/>
            </td>
            {cells.into_iter().collect_view()}
            <td>
                <select aria-label=here(say::effect_of_part(say::stack_up(facing), at))
                    prop:value=move || WAYS[usize::from(!opens.get())].1 on:change=choose>
                    {options.into_iter().collect_view()}
                </select>
            </td>
            <td>
                <button aria-label=here(say::remove_part(say::stack_up(facing), at)) on:click=drop_it>"×"</button>
            </td>
        </tr>
    }
}

/// The shim that centres the sliding gear, and the button that fits it.
#[component]
fn Shim() -> impl IntoView {
    let state = use_app_state();
    let shim = Memo::new(move |_| {
        state.analysis.with(|a| a.selector.depth.as_ref().and_then(crenel::stack::Depth::shim_mm))
    });
    let words = move || match shim.get() {
        None => here(say::shim_needs_sizes),
        Some(0.0) => here(say::no_shim_helps),
        Some(mm) => {
            let way = if mm > 0.0 { "away" } else { "towards" };
            Cow::Owned(say::shim_by(mm.abs(), way).show(state.reader()))
        }
    };
    let shim = move || shim.get().filter(|mm| *mm != 0.0);
    let fit = move |_| {
        let Some(mm) = shim() else { return };
        let mut fitted = false;
        edit(state, |depth| fitted = depth.fit_shim(mm));
        state.say(here(if fitted { say::shim_fitted() } else { say::stack_up_full() }));
    };
    view! {
        <p class="shim" role="status">{words}</p>
        <button class="wide" disabled=move || shim().is_none() on:click=fit>{here(say::fit_shim)}</button>
    }
}

/// The numbers of the pair as drawn, and with the overlap that the chain gives.
#[component]
fn PairEffect() -> impl IntoView {
    let state = use_app_state();
    let case = RwSignal::new(DepthCase::Pushed);
    let overlap = Memo::new(move |_| {
        let case = case.get();
        state.analysis.with(|a| a.selector.depth.as_ref().and_then(|depth| case.overlap_mm(depth)))
    });
    let worked = Memo::new(move |_| {
        let overlap = overlap.get();
        state.analysis.with(|a| {
            let mut design = a.design.clone();
            if let Some(mm) = overlap {
                design.set(Slot::Setting(FieldId::Overlap), mm);
            }
            Arc::new(Analysis::of(&design))
        })
    });
    let set_case = Callback::new(move |chosen| case.set(chosen));
    let shown =
        move || overlap.get().map_or_else(say::no_overlap, say::overlap_is).show(state.reader());
    let take = move |_| {
        if let Some(mm) = overlap.get() {
            state.change(|d| {
                d.set(Slot::Setting(FieldId::Overlap), (mm * 1e4).round() / 1e4);
            });
            state.say(here(say::overlap_used));
        }
    };
    view! {
        <section class="before-after" aria-label=here(say::effect_on_pair)>
            <h2>{here(say::effect_on_pair)}</h2>
            <div class="row">
                <Choose label=here(say::overlap) words=&CASES value=case on_choose=set_case/>
                <p><b>{shown}</b></p>
                <button disabled=move || overlap.get().is_none() on:click=take>
                    {here(say::use_overlap)}
                </button>
            </div>
            <ChangeTable found=state.analysis cut=worked heads=[say::as_drawn, say::by_stack_up]/>
        </section>
    }
}
