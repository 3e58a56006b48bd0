//! What dogs and tyre feel with all masses and joints of the driveline, beside the two masses on one spring.

use leptos::prelude::*;

use crenel::driveline::{DrivelineFault, Joint};
use crenel::fields::{FieldId, Slot};
use crenel::model::{SlipEnd, TimeLine, WholeCatch};
use crenel::units::{ABSENT, Quantity};
use crenel_words::page::cut as say;
use crenel_words::{Message, Phrase, Value};

use super::{DRIVELINE, Row, Shown, ms, shown_all};
use crate::state::{AppState, here, use_app_state};
use crate::widgets::estimate::{Estimate, Estimator};
use crate::widgets::number_field::NumberField;

/// Masses that can be estimated as discs.
const DISCS: [FieldId; 3] =
    [FieldId::CarrierInertia, FieldId::FreeGearInertia, FieldId::WheelInertia];

/// The inputs of the driveline, folded away until one is asked for.
#[component]
pub(super) fn DrivelineForm() -> impl IntoView {
    let state = use_app_state();
    let asked =
        move || matches!(state.explained.get(), Some(Slot::Setting(id)) if DRIVELINE.contains(&id));
    let opened = RwSignal::new(false);
    let open = move || opened.get() || asked();
    let turned = move |event: leptos::ev::Event| {
        opened.set(event_target::<web_sys::Element>(&event).has_attribute("open"));
    };
    let field = |id: FieldId| {
        let at = Slot::Setting(id);
        let disc = DISCS.contains(&id).then(|| view! { <Estimator at how=Estimate::Disc/> });
        view! { <NumberField at/>{disc} }
    };
    view! {
        <details class="table driveline" prop:open=open on:toggle=turned>
            <summary>{here(say::driveline_inputs)}</summary>
            {DRIVELINE.map(field).into_iter().collect_view()}
        </details>
    }
}

/// A shift with its line in time at its own speed, where it goes in.
type Caught = (Row, Option<TimeLine>);

fn caught(row: &Row) -> Caught {
    (row.clone(), TimeLine::of(&row.shift, row.shift.step.engine_rpm).ok())
}

/// What the whole driveline tells of a line, where all is known.
fn told(line: Option<&TimeLine>) -> Option<&Result<WholeCatch, DrivelineFault>> {
    line?.whole.as_ref()
}

/// Every shift with its peaks, the one that is looked at in a sentence first.
#[component]
pub(super) fn Whole(shown: Shown) -> impl IntoView {
    let state = use_app_state();
    let lines =
        Memo::new(move |_| shown.rows.with(|rows| rows.iter().map(caught).collect::<Vec<_>>()));
    let known = Memo::new(move |_| {
        lines.with(|all| all.iter().any(|(_, line)| told(line.as_ref()).is_some()))
    });
    let sentence = move || {
        lines.with(|all| {
            let chosen = all.get(shown.chosen.get()).or(all.first())?;
            Some(in_words(chosen, state))
        })
    };
    let heads: [Phrase; 5] =
        [say::shift, say::bound, say::at_dogs, say::at_tyre, say::does_it_slip];
    let table = move || {
        view! {
            <p class="peaks">{sentence}</p>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::driveline)>
                <table class="figures wear-table driveline-table">
                    <thead><tr>
                        {heads.map(|head| view! { <th scope="col">{here(head)}</th> }).into_iter().collect_view()}
                    </tr></thead>
                    <tbody>
                        {move || lines.with(|all| all.iter().map(|one| line_of(one, state)).collect_view())}
                    </tbody>
                </table>
            </div>
            <p class="quiet">{here(say::line_curves)}" "{here(say::driveline_meaning)}</p>
        }
    };
    view! {
        <h3>{here(say::driveline)}</h3>
        {move || if shown.manner.get().has_clutch() {
            view! { <p class="quiet">{here(say::driveline_clutch)}</p> }.into_any()
        } else if known.get() {
            table().into_any()
        } else {
            view! { <p class="quiet">{here(say::driveline_lacks)}</p> }.into_any()
        }}
    }
}

/// One row of the table.
fn line_of((row, line): &Caught, state: AppState) -> impl IntoView + use<> {
    let reader = state.reader();
    let torque = |nm: Option<f64>| {
        nm.map_or(ABSENT.to_owned(), |nm| Value::Number(Quantity::Torque, nm).show(reader))
    };
    let whole = told(line.as_ref()).and_then(|whole| whole.as_ref().ok());
    let slips = whole.map_or(ABSENT.to_owned(), |whole| match whole.slips(Joint::Tyre) {
        None => here(say::no_slip).into_owned(),
        Some(SlipEnd::After(time_s)) => ms(time_s).show(reader),
        Some(SlipEnd::Never) => here(say::still_slips).into_owned(),
    });
    let cells: [(Phrase, String); 4] = [
        (say::bound, torque(line.as_ref().map(|line| line.peak_nm))),
        (say::at_dogs, torque(whole.map(|whole| whole.dogs_nm))),
        (say::at_tyre, torque(whole.map(|whole| whole.tyre_nm))),
        (say::does_it_slip, slips),
    ];
    let cells = cells.map(|(head, text)| view! { <td data-head=here(head)>{text}</td> });
    view! { <tr><th scope="row">{row.shift.step.gears()}</th>{cells.into_iter().collect_view()}</tr> }
}

/// The bound and the whole driveline of one shift in words, or why there is none.
fn in_words((row, line): &Caught, state: AppState) -> String {
    let Some(line) = line else { return String::new() };
    let says: Vec<Message> = match &line.whole {
        None => vec![say::driveline_lacks()],
        Some(Err(fault)) => vec![fault_told(fault)],
        Some(Ok(whole)) => {
            let torque = |nm: f64| Value::Number(Quantity::Torque, nm);
            let [bound, dogs, tyre] = [line.peak_nm, whole.dogs_nm, whole.tyre_nm].map(torque);
            let step = row.shift.step;
            let clutch = whole.slips(Joint::Clutch).map(|_| say::clutch_too());
            let short = whole.is_cut_short().then(say::too_many_events);
            let first = [say::peaks(step.from, step.to, bound, dogs, tyre), feels(whole)];
            first.into_iter().chain(clutch).chain(short).collect()
        }
    };
    shown_all(&says, state)
}

/// What the rider feels of the tyre.
pub(super) fn feels(whole: &WholeCatch) -> Message {
    match whole.slips(Joint::Tyre) {
        None => say::feels_grip(),
        Some(SlipEnd::After(time_s)) => say::feels_slip(ms(time_s)),
        Some(SlipEnd::Never) => say::feels_spin(),
    }
}

fn fault_told(fault: &DrivelineFault) -> Message {
    let torque = |nm: f64| Value::Number(Quantity::Torque, nm);
    match *fault {
        DrivelineFault::TorqueBeyond { nm, most_nm, .. } => {
            say::clutch_beyond(torque(nm.abs()), torque(most_nm))
        }
        DrivelineFault::TooStiff => say::too_stiff(),
        _ => say::no_driveline(),
    }
}
