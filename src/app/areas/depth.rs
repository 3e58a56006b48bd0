//! Depth: the chains along the shaft, the clearance they leave, and its effect on the pair.

use std::sync::Arc;

use crenel_words::Phrase;
use crenel_words::page::depth as say;
use leptos::prelude::*;

use crenel::analysis::Analysis;

use crenel::design::{DepthSpec, LINK_NAME_LIMIT, LinkSpec, MOST_LINKS};
use crenel::draw::views;
use crenel::fields::{FieldId, Slot};
use crenel::figures::Group;
use crenel::model::DepthCase;
use crenel::stack::Facing;
use crenel::units::Quantity;

use crate::state::{AppState, Area, AreaKey, Content, here, use_app_state};
use crate::widgets::change_table::ChangeTable;
use crate::widgets::choose::Choose;
use crate::widgets::drawing::Drawing;
use crate::widgets::number_field::NumberField;
use crate::widgets::optional_parts::CHAINS;

pub(super) const AREA: Area<AnyView> = Area {
    tour: Some(say::tour),
    first_results: &[Group::Selector, Group::Depth],
    ..Area::tab(
        AreaKey::DEPTH,
        say::title,
        Content::Board {
            drawings: || view! { <Drawings/> }.into_any(),
            sizes: || view! { <Sizes/> }.into_any(),
            sizes_first: false,
        },
    )
};

/// Whether a dimension opens the clearance, with the word for it.
const WAYS: [(bool, &str); 2] = [(true, "opens"), (false, "takes")];

const CASES: [(DepthCase, Phrase); 6] = [
    (DepthCase::Pushed, say::overlap_pushed),
    (DepthCase::DrawnIn, say::overlap_drawn_in),
    (DepthCase::Shimmed, say::overlap_shimmed),
    (DepthCase::LeastRss, say::overlap_least_rss),
    (DepthCase::Least, say::overlap_least),
    (DepthCase::Most, say::overlap_most),
];

#[component]
fn Drawings() -> impl IntoView {
    view! {
        <section class="board inwards" aria-label="Drawings">
            <p class="first">
                "Depth along the shaft: what is clear in neutral, and how far the dogs go in. "
                <span class="quiet">"Type the chain of sizes below."</span>
            </p>
            <Drawing view=&views::CHAINS begin=CHAINS/>
            <Drawing view=&views::UNROLLED caption=say::caption_developed/>
        </section>
    }
}

#[component]
fn Sizes() -> impl IntoView {
    let state = use_app_state();
    let given = Memo::new(move |_| state.with(CHAINS.has));
    let give = move |_| state.change(|d| (CHAINS.set)(d, true));
    move || {
        if given.get() {
            view! { <Given/> }.into_any()
        } else {
            view! {
                <div class="panels">
                    <fieldset class="panel">
                        <legend>"Depth"</legend>
                        <p class="quiet">
                            "With the sizes along the shaft you see clearance in neutral and overlap in gear on both \
                            sides of the sliding gear, at worst and by RSS, and the shim that centres it."
                        </p>
                        <button class="wide" on:click=give>{here(CHAINS.begin)}</button>
                        <p class="quiet">"Type your own sizes over the invented ones."</p>
                    </fieldset>
                </div>
            }.into_any()
        }
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

#[component]
fn Given() -> impl IntoView {
    let state = use_app_state();
    let numbers = DepthSpec::FIELDS.map(|id| view! { <NumberField at=Slot::Part(id)/> });
    view! {
        <div class="panels chains">
            {Facing::BOTH.map(|facing| view! { <ChainForm facing/> }).into_iter().collect_view()}
            <fieldset class="panel">
                <legend>"Fork and shims"</legend>
                {numbers.into_iter().collect_view()}
                <Shim/>
                <button class="wide" on:click=move |_| state.change(|d| d.depth = None)>"Take the chains away"</button>
            </fieldset>
        </div>
        <PairEffect/>
    }
}

#[component]
fn ChainForm(facing: Facing) -> impl IntoView {
    let state = use_app_state();
    let count = Memo::new(move |_| {
        state.with(|d| d.depth.as_ref().map_or(0, |depth| depth.chains[facing].len()))
    });
    let legend = match facing {
        Facing::This => "Chain to this pair",
        Facing::Other => "Chain to the other pair",
    };
    let add = move |_| edit(state, |depth| depth.chains[facing].push(LinkSpec::default()));
    view! {
        <fieldset class="panel">
            <legend>{legend}</legend>
            <div class="scroll" tabindex="0" role="region" aria-label=legend>
                <table>
                    <thead>
                        <tr>
                            <th scope="col">"Part"</th><th scope="col">"Size"</th><th scope="col">"Tolerance ±"</th>
                            <th scope="col">"Clearance"</th><th><span class="sr">"Take out"</span></th>
                        </tr>
                    </thead>
                    <tbody>
                        <For each=move || 0..count.get() key=|at| *at
                            children=move |at| view! { <LinkRow facing at/> }/>
                    </tbody>
                </table>
            </div>
            <button class="wide" disabled=move || { count.get() >= MOST_LINKS } on:click=add>"Add a size"</button>
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
        let word: String = event_target_value(&event);
        change(&|link| link.opens = WAYS.iter().any(|(opens, name)| *opens && *name == word));
    };
    let drop_it = move |_| {
        edit(state, |depth| drop(depth.chains[facing].remove(at)));
        state.say(format!("Size {} of the chain to {} is taken out.", at + 1, facing.words()));
    };
    let place = format!("Chain to {}, part {}", facing.words(), at + 1);
    let cells = LinkSpec::FIELDS
        .map(|id| view! { <td><NumberField at=Slot::Link(facing, at, id) bare=true/></td> });
    let options = WAYS.map(|(_, name)| view! { <option value=name>{name}</option> });
    view! {
        <tr>
            <td>
                <input class="name" type="text" maxlength=LINK_NAME_LIMIT.to_string()
                    aria-label=format!("{place}: name") prop:value=name on:change=rename/>
            </td>
            {cells.into_iter().collect_view()}
            <td>
                <select aria-label=format!("{place}: opens or takes")
                    prop:value=move || WAYS[usize::from(!opens.get())].1 on:change=choose>
                    {options.into_iter().collect_view()}
                </select>
            </td>
            <td><button aria-label=format!("{place}: take it out") on:click=drop_it>"×"</button></td>
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
        None => "With sizes in both chains the shim that centres it is worked out.".to_owned(),
        Some(0.0) => "No shim that can be had brings it nearer to the middle.".to_owned(),
        Some(mm) => {
            let side = if mm > 0.0 { "away from" } else { "towards" };
            let size = Quantity::Length.show(mm.abs(), state.units.get());
            format!("Shims of {size} that move the sliding gear {side} this pair centre it.")
        }
    };
    let shim = move || shim.get().filter(|mm| *mm != 0.0);
    let fit = move |_| {
        let Some(mm) = shim() else { return };
        let mut fitted = false;
        edit(state, |depth| fitted = depth.fit_shim(mm));
        state.say(if fitted {
            "The shim is in both chains; one fitted before is changed.".to_owned()
        } else {
            "A chain is full: take a size out first.".to_owned()
        });
    };
    view! {
        <p class="shim" role="status">{words}</p>
        <button class="wide" disabled=move || shim().is_none() on:click=fit>"Fit the shim"</button>
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
    let shown = move || {
        let show = |mm: f64| Quantity::Length.show((mm * 1e3).round() / 1e3, state.units.get());
        overlap.get().map_or_else(|| "nothing yet: its chain has no sizes".to_owned(), show)
    };
    let take = move |_| {
        if let Some(mm) = overlap.get() {
            state.change(|d| {
                d.set(Slot::Setting(FieldId::Overlap), (mm * 1e4).round() / 1e4);
            });
            state.say("The pair has the overlap of the chain now.".to_owned());
        }
    };
    view! {
        <section class="before-after" aria-label="What the depth does to the pair">
            <h2>"What the depth does to the pair"</h2>
            <div class="row">
                <Choose label="Overlap" words=&CASES value=case on_choose=set_case/>
                <p>"gives "<b>{shown}</b></p>
                <button disabled=move || overlap.get().is_none() on:click=take>"Use this overlap"</button>
            </div>
            <ChangeTable found=state.analysis cut=worked heads=[say::as_drawn, say::by_stack_up]/>
        </section>
    }
}
