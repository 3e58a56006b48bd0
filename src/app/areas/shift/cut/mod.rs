//! Shifts in time: how long the ignition must be cut or the clutch be pulled, how the engine must be blipped, and each
//! shift on one chart.

mod driveline;
mod line;
mod release;
mod table;
mod wear;

use std::sync::Arc;

use leptos::prelude::*;

use crenel::design::SettingField;
use crenel::export::cuts_csv;
use crenel::fields::{FieldId, Slot};
use crenel::model::{
    Manner, TIMED_SPEEDS, TimeParts, TimedShift, Timing, TimingFault, timed_shifts,
};
use crenel::shift::Way;
use crenel::units::Quantity;
use crenel_words::page::cut as say;
use crenel_words::{Message, Phrase, Value};

use crate::state::{AppState, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::files::download;
use crate::widgets::number_field::NumberField;
use driveline::{DrivelineForm, Whole};
use line::Line;
use release::Letting;
use table::{BySpeed, Table};
use wear::Wear;

/// The inputs of the whole driveline.
pub(super) const DRIVELINE: [FieldId; 15] = [
    FieldId::CarrierInertia,
    FieldId::FreeGearInertia,
    FieldId::WheelInertia,
    FieldId::MeshLash,
    FieldId::ShaftStiffness,
    FieldId::ChainStiffness,
    FieldId::ChainSlack,
    FieldId::ChainSag,
    FieldId::ChainRun,
    FieldId::CushStiffness,
    FieldId::CushTravel,
    FieldId::CushDamping,
    FieldId::TyreFriction,
    FieldId::RearLoad,
    FieldId::ClutchSlip,
];

/// The other inputs that only a shift in time has.
pub(super) const FIELDS: [FieldId; 14] = [
    FieldId::CutShare,
    FieldId::Cylinders,
    FieldId::LongestFiring,
    FieldId::SensorTravel,
    FieldId::FootSpeed,
    FieldId::CutDelay,
    FieldId::TorqueFall,
    FieldId::ThrottleTime,
    FieldId::BlipShare,
    FieldId::ClutchTime,
    FieldId::ClutchDrag,
    FieldId::NeutralTravel,
    FieldId::DrivelineDamping,
    FieldId::EdgeWear,
];

/// Every manner of a shift in words.
const MANNERS: [(Manner, Phrase); 5] = [
    (Manner::Cut, say::by_cut),
    (Manner::Throttle, say::by_throttle),
    (Manner::ClutchUp, say::by_clutch_up),
    (Manner::Blip, say::by_blip),
    (Manner::ClutchDown, say::by_clutch_down),
];

#[component]
pub(super) fn CutForm() -> impl IntoView {
    view! {
        <fieldset class="panel">
            <legend>{here(say::panel)}</legend>
            {FIELDS.map(|id| view! { <NumberField at=Slot::Setting(id)/> }).into_iter().collect_view()}
            <DrivelineForm/>
        </fieldset>
    }
}

/// A shift with its time at shift speed and at each speed of the table.
#[derive(Clone, PartialEq)]
struct Row {
    shift: Arc<TimedShift>,
    at_shift: Result<Timing, TimingFault>,
    by_speed: Vec<Result<Timing, TimingFault>>,
}

impl Row {
    fn of(shift: TimedShift) -> Self {
        let speed = shift.step.engine_rpm;
        Self {
            at_shift: shift.at(speed),
            by_speed: TIMED_SPEEDS.map(|share| shift.at(share * speed)).to_vec(),
            shift: Arc::new(shift),
        }
    }
}

/// Every shift in one manner, with the dogs of its own gears where there is a whole gearbox.
fn shifts(state: AppState, manner: Manner) -> Vec<TimedShift> {
    match state.boxed.get() {
        Some(boxed) => boxed.analysis.timed_shifts(manner),
        None => state.unturned.with(|a| timed_shifts(a, manner)),
    }
}

/// The shifts in one manner, and which of them is looked at.
#[derive(Clone, Copy)]
struct Shown {
    rows: Memo<Vec<Row>>,
    manner: RwSignal<Manner>,
    chosen: RwSignal<usize>,
}

impl Shown {
    fn up(self) -> &'static str {
        way_word(self.manner.get())
    }

    /// The shift that is looked at.
    fn row(self) -> Option<Row> {
        self.rows.with(|rows| rows.get(self.chosen.get()).or(rows.first()).cloned())
    }
}

fn way_word(manner: Manner) -> &'static str {
    if manner.way() == Way::Up { "up" } else { "down" }
}

#[component]
pub(super) fn Cuts() -> impl IntoView {
    let state = use_app_state();
    let manner = RwSignal::new(Manner::Cut);
    let rows = Memo::new(move |_| shifts(state, manner.get()).into_iter().map(Row::of).collect());
    let shown = Shown { rows, manner, chosen: RwSignal::new(0) };
    let lacking = move || {
        let words = state.with(|d| if d.gearbox.is_some() { say::lacks } else { say::no_gearbox });
        view! { <p class="quiet">{here(words)}</p> }
    };
    let choose = Callback::new(move |to: Manner| {
        let turns = manner.get_untracked().way() != to.way();
        if turns {
            shown.chosen.set(0);
        }
        manner.set(to);
    });
    view! {
        <section class="cuts" aria-label=here(say::in_time)>
            <div class="row head">
                <h2>{here(say::in_time)}</h2>
                <Choose label=here(say::manner) words=&MANNERS value=manner on_choose=choose/>
            </div>
            {move || if rows.with(Vec::is_empty) { lacking().into_any() } else { view! { <Told shown/> }.into_any() }}
        </section>
    }
}

/// What is said of the shifts one way.
#[component]
fn Told(shown: Shown) -> impl IntoView {
    let state = use_app_state();
    let Shown { rows, manner, .. } = shown;
    let save = move |_| {
        let timed = rows
            .with_untracked(|rows| rows.iter().map(|row| (*row.shift).clone()).collect::<Vec<_>>());
        let name = if manner.get_untracked() == Manner::Cut { "cuts.csv" } else { "blips.csv" };
        download(state, name, "text/csv", cuts_csv(&timed).as_bytes());
    };
    let dogs = move || {
        here(if state.boxed.with(Option::is_some) { say::own_dogs } else { say::same_dogs })
    };
    let ends = move || match manner.get() {
        Manner::Blip => here(say::blip_ends).into_owned(),
        _ => say::with_delay(delay(state)).show(state.reader()),
    };
    let for_unit = move || {
        manner.get().is_signalled().then(|| {
            view! {
                <BySpeed shown/>
                <p class="quiet">{ends}</p>
                <div class="row"><button on:click=save>{here(say::save_csv)}</button></div>
            }
        })
    };
    let careful = move || {
        (!manner.get().has_clutch()).then(|| view! { <p class="caution">{here(say::caution)}</p> })
    };
    view! {
        <p class="told">{move || rows.with(|rows| worst_told(rows, state))}</p>
        {move || rows.with(|rows| faults_told(rows, shown, state))}
        <p>{move || rows.with(|rows| shown_all(&rings_told(rows), state))}</p>
        <Table shown/>
        <p class="quiet">{move || say::parts_meaning(shown.up()).show(state.reader())}</p>
        <details class="table">
            <summary>{here(say::worked_out)}</summary>
            <ul class="formulas">{WORKED_OUT.map(|how| view! { <li>{here(how)}</li> }).into_iter().collect_view()}</ul>
        </details>
        <Whole shown/>
        <Line shown/>
        {for_unit}
        <Letting shown/>
        <Wear/>
        <p class="quiet">{here(say::rigid)}" "{dogs}</p>
        {careful}
    }
}

/// Sentences one after the other.
fn shown_all(says: &[Message], state: AppState) -> String {
    says.iter().map(|says| says.show(state.reader())).collect::<Vec<_>>().join(" ")
}

fn ms(seconds: f64) -> Value {
    Value::Number(Quantity::Time, seconds * 1000.0)
}

fn delay(state: AppState) -> Value {
    Value::Number(Quantity::Time, state.with(|d| d.setting.get(SettingField::CutDelay)))
}

/// The shift that takes longest, and the part of it that takes most.
fn worst_told(rows: &[Row], state: AppState) -> String {
    let timed = rows.iter().filter_map(|row| Some((row, row.at_shift.ok()?)));
    let Some((row, timing)) =
        timed.max_by(|(_, a), (_, b)| a.parts.sum().total_cmp(&b.parts.sum()))
    else {
        return String::new();
    };
    let (step, whole) = (row.shift.step, ms(timing.parts.sum()));
    let (from, to, engine_rpm) = (step.from, step.to, step.engine_rpm);
    let takes = match row.shift.manner {
        manner if timing.is_too_long() => {
            let up = way_word(manner);
            say::no_length(up, from, to, engine_rpm, ms(timing.longest_s), whole)
        }
        Manner::Cut => say::longest_cut(from, to, engine_rpm, whole),
        Manner::Blip => {
            say::longest_blip(from, to, engine_rpm, whole, timing.engine_in_rpm.round())
        }
        _ => say::longest_shift(from, to, engine_rpm, whole),
    };
    let part = longest_part(&timing.parts, row.shift.manner);
    format!("{} {}", takes.show(state.reader()), part.show(state.reader()))
}

/// The formulas behind the table and the chart, each with what it comes from.
const WORKED_OUT: [Phrase; 6] =
    [say::how_firing, say::how_torque, say::how_out, say::how_wait, say::how_in, say::how_peak];

/// Whose dogs make the shifts long: those that let go last, and those that wait longest.
fn rings_told(rows: &[Row]) -> Vec<Message> {
    let timed = || rows.iter().filter_map(|row| Some((row.shift.step, row.at_shift.ok()?.parts)));
    let out = |parts: &TimeParts| parts.unload_s + parts.out_s;
    let last = timed().max_by(|(_, a), (_, b)| out(a).total_cmp(&out(b)));
    let longest = timed().max_by(|(_, a), (_, b)| a.wait_s.total_cmp(&b.wait_s));
    let holds = last.map(|(step, parts)| say::ring_holds(step.from, ms(out(&parts))));
    let waits = longest.filter(|(_, parts)| parts.wait_s > 0.0);
    let waits = waits.map(|(step, parts)| say::ring_waits(step.to, ms(parts.wait_s)));
    holds.into_iter().chain(waits).collect()
}

/// A sentence with a time.
type Timed = fn(Value) -> Message;

/// A sentence on the part that takes most.
fn longest_part(parts: &TimeParts, manner: Manner) -> Message {
    let TimeParts { firing_s, fork_s, unload_s, out_s, wait_s, .. } = *parts;
    let waits: Timed = match manner {
        Manner::Cut | Manner::Throttle => say::waits_most,
        Manner::Blip => say::speeds_up_most,
        Manner::ClutchUp | Manner::ClutchDown => say::input_waits_most,
    };
    let fires: Timed =
        if manner == Manner::Blip { say::blip_firing_most } else { say::firing_most };
    let mut most = (unload_s + out_s, say::out_most as Timed);
    for other in [(firing_s, fires), (fork_s, say::fork_most), (wait_s, waits)] {
        if other.0 > most.0 {
            most = other;
        }
    }
    (most.1)(ms(most.0))
}

/// What is wrong with a shift.
fn faults(row: &Row, up: &'static str) -> Vec<Message> {
    match row.at_shift {
        Err(TimingFault::NotOut) => vec![say::not_out()],
        Err(TimingFault::Rattles) => vec![say::rattles()],
        Err(TimingFault::NeverIn) => vec![say::never_in()],
        Err(TimingFault::TooNear) => vec![say::too_near(up)],
        Err(TimingFault::NeverNearer) if row.shift.manner.has_clutch() => vec![say::clutch_drags()],
        Err(TimingFault::NeverNearer) => vec![say::never_slow()],
        Ok(timing) => [
            timing.strikes.then(|| say::strikes(up)),
            timing.is_too_long().then(|| say::too_long(up)),
        ]
        .into_iter()
        .flatten()
        .collect(),
    }
}

/// What is wrong, each with the shifts of which it is true.
fn faults_told(rows: &[Row], shown: Shown, state: AppState) -> impl IntoView + use<> {
    let mut told: Vec<(Message, Vec<Value>)> = Vec::new();
    for row in rows {
        let shift = Value::from(say::from_to(row.shift.step.from, row.shift.step.to));
        for says in faults(row, shown.up()) {
            match told.iter_mut().find(|(other, _)| *other == says) {
                Some((_, shifts)) => shifts.push(shift.clone()),
                None => told.push((says, vec![shift.clone()])),
            }
        }
    }
    let told = told.into_iter().map(|(says, shifts)| say::shifts(shifts, says));
    let reader = state.reader();
    told.chain(too_few(rows, state))
        .map(|says| view! { <p class="wrong">"▲ "{says.show(reader)}</p> })
        .collect_view()
}

/// The share of shifts that is to go in at the first pass.
fn asked(state: AppState) -> f64 {
    state.with(|d| d.setting.get(SettingField::CutShare))
}

/// The shifts of which fewer are in than was asked for, however long cut or blip are.
fn too_few(rows: &[Row], state: AppState) -> Option<Message> {
    let asked = asked(state);
    let few = rows.iter().filter_map(|row| {
        let (step, share) = (row.shift.step, row.at_shift.ok()?.share);
        let most = (100.0 * share).floor() / 100.0;
        (share < asked).then(|| Value::from(say::most_of(step.from, step.to, most)))
    });
    let few: Vec<_> = few.collect();
    (!few.is_empty()).then(|| say::only_some(asked, few))
}
