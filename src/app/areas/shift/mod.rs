//! The shift: which one, what pushes the ring, friction and edges.

mod charts;
mod cut;
mod gears;
mod rest;

use std::borrow::Cow;

use crenel_words::Phrase;
use crenel_words::page::{cut as cut_words, rest as rest_words, shift as say};
use leptos::prelude::*;

use crenel::design::{Need, SettingField, ShiftFrom, TIP_EDGES, TIP_FACES};
use crenel::fields::{FieldId, Slot};
use crenel::figures::needs;
use crenel::shift::{Drive, flank_met};
use crenel::units::Quantity;
use crenel::verdict::Stage;

use crate::deferred::Deferred;
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, Home, Panel, Picture, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::estimate::{Estimate, Estimator};
use crate::widgets::in_words::InWords;
use crate::widgets::number_field::NumberField;
use crate::widgets::pair_board::PairBoard;
use crate::widgets::play_bar::PlayBar;
use charts::Charts;
use cut::{CutForm, Cuts};
use gears::{GearShifts, GearboxForm, ShiftPicks};
use rest::{Rest, RestForm};

pub(super) const AREA: Area<AnyView> = Area {
    draws_outcomes: true,
    results: &[
        "window_time_ms",
        "straight_in_limit_rpm",
        "first_pass_straight_share",
        "first_pass_locked_share",
        "travel_time_ms",
        "clunk_nm",
    ],
    ..Area::of(
        Stage::Pair,
        AreaKey::SHIFT,
        say::title,
        Content::Board {
            pictures: &[
                Picture::of("film", say::picture_film, part!(work, shift_film, view! { <Film/> })),
                Picture::of(
                    "shifts",
                    say::picture_shifts,
                    part!(work, shift_table, view! { <GearShifts/> }),
                ),
                Picture::of(
                    "chances",
                    say::chances,
                    part!(work, shift_charts, view! { <Charts/> }),
                ),
                Picture::of("cut", cut_words::panel, part!(work, shift_cut, view! { <Cuts/> })),
                Picture::of("rest", rest_words::title, part!(work, shift_rest, view! { <Rest/> })),
            ],
            panels: &[
                Panel {
                    key: "conditions",
                    title: say::conditions,
                    owns: |slot| {
                        matches!(
                            slot,
                            Slot::Setting(
                                FieldId::SlipSpeed
                                    | FieldId::Inertia
                                    | FieldId::ThrottleTorque
                                    | FieldId::RatioToWheel
                                    | FieldId::Gear
                                    | FieldId::ShiftTorque
                                    | FieldId::Stiffness
                                    | FieldId::WheelDiameter
                                    | FieldId::TimeAllowed
                            )
                        )
                    },
                    form: part!(work, shift_offered_form, view! { <OfferedForm/> }),
                },
                Panel {
                    key: "push",
                    title: say::push,
                    owns: |slot| {
                        matches!(
                            slot,
                            Slot::Setting(
                                FieldId::ShiftForce
                                    | FieldId::MovingMass
                                    | FieldId::DrumSpeed
                                    | FieldId::StartSpeed
                            )
                        )
                    },
                    form: part!(work, shift_push_form, view! { <PushForm/> }),
                },
                Panel {
                    key: "faces",
                    title: say::faces,
                    owns: |slot| {
                        matches!(
                            slot,
                            Slot::Setting(
                                FieldId::TipFriction | FieldId::Drag | FieldId::StrikeLoss
                            )
                        )
                    },
                    form: part!(work, shift_faces_form, view! { <FacesForm/> }),
                },
                Panel {
                    key: "cut",
                    title: cut_words::panel,
                    owns: |slot| matches!(slot, Slot::Setting(id) if cut::FIELDS.contains(&id) || cut::DRIVELINE.contains(&id)),
                    form: part!(work, shift_cut_form, view! { <CutForm/> }),
                },
                Panel {
                    key: "rest",
                    title: rest_words::title,
                    owns: |slot| matches!(slot, Slot::Setting(id) if rest::FIELDS.contains(&id)),
                    form: part!(work, shift_rest_form, view! { <RestForm/> }),
                },
                Panel {
                    key: "gearbox",
                    title: say::gearbox,
                    owns: |slot| matches!(slot, Slot::Gearbox(_) | Slot::Gear(..)),
                    form: part!(work, shift_gearbox_form, view! { <GearboxForm/> }),
                },
            ],
            home: Home::Panel,
        },
    )
};

#[component]
fn Film() -> impl IntoView {
    view! {
        <PairBoard whole_shift=true still=true>
            <Deferred><PlayBar><ShiftPicks/></PlayBar></Deferred>
        </PairBoard>
    }
}

const SOURCES: [(ShiftFrom, Phrase); 3] = [
    (ShiftFrom::Typed, say::source_typed),
    (ShiftFrom::Up, say::source_up),
    (ShiftFrom::Down, say::source_down),
];
const DRIVES: [(Drive, Phrase); 3] = [
    (Drive::Both, say::drive_both),
    (Drive::Force, say::drive_force),
    (Drive::Drum, say::drive_drum),
];

fn fields(ids: &[FieldId]) -> impl IntoView + use<> {
    ids.iter().map(|&id| view! { <NumberField at=Slot::Setting(id)/> }).collect_view()
}

/// The choice of the shift.
#[component]
fn OfferedForm() -> impl IntoView {
    let state = use_app_state();
    let from = Memo::new(move |_| state.with(|d| d.setting.from));
    let choose = Callback::new(move |from| {
        state.change(|d| {
            if from != ShiftFrom::Typed && d.gearbox.is_none() {
                d.add_gearbox();
            }
            d.setting.from = from;
        });
    });
    let typed = move || {
        view! {
            {fields(&[FieldId::SlipSpeed])}
            <p class="quiet flank">{move || first_flank(state)}</p>
            {fields(&[FieldId::Inertia])}
            <Estimator at=Slot::Setting(FieldId::Inertia) how=Estimate::Disc/>
            {fields(&[FieldId::ThrottleTorque, FieldId::RatioToWheel])}
        }
    };
    let of_gearbox = move || {
        view! {
            <NumberField at=Slot::Setting(FieldId::Gear)/>
            <p class="quiet taken">{move || taken(state)}</p>
        }
    };
    view! {
        <fieldset class="panel">
            <legend>{here(say::conditions)}</legend>
            <Choose label=here(say::conditions_from) words=&SOURCES value=from on_choose=choose/>
            {move || if from.get() == ShiftFrom::Typed { typed().into_any() } else { of_gearbox().into_any() }}
            {fields(&[FieldId::ShiftTorque, FieldId::Stiffness])}
            <Estimator at=Slot::Setting(FieldId::Stiffness) how=Estimate::Shaft/>
            {fields(&[FieldId::WheelDiameter, FieldId::TimeAllowed])}
        </fieldset>
    }
}

/// The conditions of the shift that follow from the gearbox.
fn taken(state: AppState) -> String {
    let reader = state.reader();
    state.analysis.with(|a| {
        if let Some(slot) = a.design.missing_of(&[Need::Speed, Need::Torque, Need::Inertia]) {
            return needs(slot)().show(reader);
        }
        let Some((pair, step)) = a.pair.as_ref().and_then(|m| Some((m, m.shift_case.step?))) else {
            return say::not_computed().show(reader);
        };
        let shift_case = &pair.shift_case;
        let told = say::of_gearbox(
            say::from_gear_to_gear(step.from, step.to, step.engine_rpm),
            say::faster_side(flank_met(step.slip_rpm)),
            step.slip_rpm,
            shift_case.sides.reduced_kg_m2(),
            shift_case.throttle_nm,
            shift_case.ratio_to_wheel,
        );
        told.show(reader)
    })
}

/// Which flanks the speed difference brings together first.
fn first_flank(state: AppState) -> Option<Cow<'static, str>> {
    let slip_rpm = state.analysis.with(|a| {
        let known = a.design.missing(Need::Speed).is_none();
        a.pair.as_ref().filter(|_| known).map(|m| m.shift_case.slip_rpm)
    })?;
    Some(here(say::faster_side(flank_met(slip_rpm))))
}

/// What moves the ring along the shaft.
#[component]
fn PushForm() -> impl IntoView {
    let state = use_app_state();
    let drive = Signal::derive(move || state.with(|d| d.setting.drive));
    let set_drive = Callback::new(move |drive| state.change(|d| d.setting.drive = drive));
    view! {
        <fieldset class="panel">
            <legend>{here(say::push)}</legend>
            <Choose label=here(say::pushed_by) words=&DRIVES value=drive on_choose=set_drive/>
            {fields(&[FieldId::ShiftForce, FieldId::MovingMass, FieldId::DrumSpeed, FieldId::StartSpeed])}
        </fieldset>
    }
}

/// Tip faces and edges, in words or in numbers.
#[component]
fn FacesForm() -> impl IntoView {
    let state = use_app_state();
    let friction =
        Signal::derive(move || Some(state.with(|d| d.setting.get(SettingField::TipFriction))));
    let set_friction = Callback::new(move |value| {
        state.change(|d| {
            d.set_given(Slot::Setting(FieldId::TipFriction), value);
        });
    });
    let edge = Signal::derive(move || state.with(|d| d.common_edge_mm()));
    let set_edge = Callback::new(move |value| state.change(|d| d.break_edges(value)));
    view! {
        <fieldset class="panel">
            <legend>{here(say::faces)}</legend>
            <InWords label=here(say::tip_faces) words=&TIP_FACES value=friction on_choose=set_friction
                quantity=Quantity::Ratio/>
            {fields(&[FieldId::TipFriction])}
            <InWords label=here(say::tip_edges) words=&TIP_EDGES value=edge on_choose=set_edge
                quantity=Quantity::Length/>
            <p class="quiet">{here(say::every_edge)}</p>
            {fields(&[FieldId::HoldDepth, FieldId::Drag, FieldId::StrikeLoss])}
        </fieldset>
    }
}
