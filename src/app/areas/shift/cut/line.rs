//! The chosen shift as a whole in time, played or read out at any moment.

use std::sync::Arc;

use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::Design;
use crenel::draw::{TimeLines, time_line_chart, time_line_frame};
use crenel::export::line_csv;
use crenel::model::{Foot, Manner, Pose, TimeLine, TimedShift, Worked, timed_shift};
use crenel::shift::Step;
use crenel::units::{Quantity, decimal};
use crenel_words::page::cut as say;
use crenel_words::{Message, Value};

use super::driveline::feels;
use super::{Shown, longest_part, ms, shown_all};
use crate::state::{AppState, Player, Reel, here, use_app_state};
use crate::widgets::chart_figure::{ChartFigure, ChartRoom};
use crate::widgets::choose::Picked;
use crate::widgets::pair_board::PairBoard;
use crate::widgets::play_bar::Playing;
use crate::widgets::variants::variant_name;

#[component]
pub(super) fn Line(shown: Shown) -> impl IntoView {
    let state = use_app_state();
    let row = Memo::new(move |_| shown.row());
    let shift = move || row.with(|row| Some(Arc::clone(&row.as_ref()?.shift)));
    let line = Memo::new(move |_| {
        let shift = shift()?;
        TimeLine::of(&shift, shift.step.engine_rpm).ok()
    });
    let beside = RwSignal::new(None::<usize>);
    let other = Memo::new(move |_| {
        let (at, shift) = (beside.get()?, shift()?);
        Other::of(state, at, shift.step, shift.manner)
    });
    let player = Player::new(Memo::new(move |_| line.with(|line| reel(line.as_ref()))).into());
    let chart = Callback::new(move |room: ChartRoom| {
        let (shift, played) = (shift()?, player.time.get());
        let drawn = |line: &TimeLine, beside: Option<&TimeLine>| {
            let lines = TimeLines { line, beside, to: shift.step.to, manner: shift.manner };
            let frame =
                time_line_frame(&lines, if room.is_narrow { 1.2 } else { 0.6 }, room.letter);
            let now = played.map(|time| time + line.begins_s());
            time_line_chart(&frame, &lines, now, state.reader())
        };
        let beside = |other: &Option<Other>, line: &TimeLine| {
            drawn(line, other.as_ref().and_then(|other| other.line.as_ref()))
        };
        line.with(|line| other.with(|other| line.as_ref().map(|line| beside(other, line))))
    });
    let data = Callback::new(move |()| {
        let text = |line: &TimeLine| {
            let shift = shift()?;
            Some(state.analysis.with(|a| line_csv(&shift, line, a, state.reader())))
        };
        line.with(|line| line.as_ref().and_then(text)).unwrap_or_default()
    });
    let title = move || {
        let says = shift().map(|shift| say::line(shift.step.from, shift.step.to));
        says.map(|says| says.show(state.reader())).unwrap_or_default()
    };
    let told = move || {
        let whole = |line: &TimeLine| shift().map(|shift| summed_up(&shift, line, state));
        let moment = |line: &TimeLine| {
            let time = player.time.get().filter(|_| !player.running.get())?;
            now(line, time + line.begins_s(), state)
        };
        let told = |line: &TimeLine| moment(line).or_else(|| whole(line));
        line.with(|line| line.as_ref().and_then(told)).unwrap_or_default()
    };
    let turned = Memo::new(move |_| -> Option<(Pose, Option<f64>)> {
        let (time, shift) = (player.time.get()?, shift()?);
        line.with(|line| {
            let line = line.as_ref()?;
            let time_s = time + line.begins_s();
            let pose = state.unturned.with(|worked| line.pose(&shift, worked, time_s))?;
            Some((pose, drum_deg(state, shift.step.from, line, time_s)))
        })
    });
    Effect::new(move |_| state.posed.set(turned.get().map(|(pose, _)| pose)));
    on_cleanup(move || state.posed.set(None));
    let drum = move || {
        let (_, deg) = turned.get()?;
        let says = say::drum_at(Value::Number(Quantity::Angle, deg?));
        Some(view! { <p>{says.show(state.reader())}</p> })
    };
    let also = move || {
        let says = |line: &TimeLine| {
            let own = shift().map(|shift| also_told(&shift, line)).unwrap_or_default();
            let beside = other.with(|other| other.as_ref().map(|other| other.told(line)));
            own.into_iter().chain(beside).collect::<Vec<_>>()
        };
        let says = line.with(|line| line.as_ref().map(says)).unwrap_or_default();
        shown_all(&says, state)
    };
    // What stands on the page is built once, not at every frame that is played.
    let stands = Memo::new(move |_| line.with(Option::is_some));
    let plays = Memo::new(move |_| turned.with(Option::is_some));
    move || {
        stands.get().then(|| view! {
            <Beside beside/>
            <ChartFigure title=Signal::derive(title) told=say::line_told name="shift-in-time" chart data/>
            <Playing player told=Signal::derive(told)/>
            {drum}
            <p class="quiet also">{also}</p>
            {move || plays.get().then(|| view! {
                <div class="turned"><PairBoard whole_shift=true still=true/></div>
            })}
        })
    }
}

/// How far the drum has turned with the track of the gear that is left: its own in a whole gearbox.
fn drum_deg(state: AppState, from: usize, line: &TimeLine, time_s: f64) -> Option<f64> {
    match state.boxed.get() {
        Some(boxed) => line.drum_deg(&boxed.analysis.gear(from)?.worked, time_s),
        None => state.unturned.with(|a| line.drum_deg(a, time_s)),
    }
}

/// The same shift with the dogs of another variant.
#[derive(Clone, PartialEq)]
struct Other {
    name: String,
    line: Option<TimeLine>,
}

impl Other {
    /// In a whole gearbox the variant has the dogs of the gear that is open, and the other gear of the shift keeps its
    /// own.
    fn of(state: AppState, at: usize, step: Step, manner: Manner) -> Option<Self> {
        let design = state.with(|d| d.to_variant(at))?;
        let analysis = Analysis::of(&design);
        let worked: &Worked = &analysis;
        let shift = match state.boxed.get() {
            None => timed_shift(worked, worked, step, manner),
            Some(boxed) => {
                let open = design.gear();
                let of = |gear: usize| match boxed.analysis.gear(gear) {
                    Some(own) if open != Some(gear) => &own.worked,
                    _ => worked,
                };
                timed_shift(of(step.from), of(step.to), step, manner)
            }
        };
        let line = shift.and_then(|shift| TimeLine::of(&shift, step.engine_rpm).ok());
        let name = state.with(|d| variant_name(d, at));
        Some(Self { name, line })
    }

    fn told(&self, beside: &TimeLine) -> Message {
        let whole = |line: &TimeLine| ms(line.timing.parts.sum());
        match &self.line {
            Some(line) => say::beside_told(self.name.clone(), whole(line), whole(beside)),
            None => say::beside_never(self.name.clone()),
        }
    }
}

/// The choice of the variant that is drawn beside the shift; nothing while there is only one.
#[component]
fn Beside(beside: RwSignal<Option<usize>>) -> impl IntoView {
    let state = use_app_state();
    let others = Memo::new(move |_| state.with(others));
    let value = move || beside.get().map(|at| at.to_string()).unwrap_or_default();
    let name = move |at: usize| state.with(|d| variant_name(d, at));
    let text = move || beside.get().map_or_else(|| here(say::beside_none), |at| name(at).into());
    let choose = Callback::new(move |at: String| beside.set(at.parse().ok()));
    let options = move || {
        let none = view! { <option value="">{here(say::beside_none)}</option> };
        let all = others.get().into_iter().map(|at| {
            view! { <option value=at.to_string() selected=move || beside.get() == Some(at)>{name(at)}</option> }
        });
        view! { {none}{all.collect_view()} }
    };
    move || {
        (!others.with(Vec::is_empty)).then(|| view! {
            <div class="row beside-it"><Picked label=here(say::beside) text=Signal::derive(text) value=Signal::derive(value) on_choose=choose>
                {options()}
            </Picked></div>
        })
    }
}

/// The variants that are not the current one.
fn others(design: &Design) -> Vec<usize> {
    let current = design.variants.current();
    (0..design.variants.len()).filter(|at| Some(*at) != current).collect()
}

fn reel(line: Option<&TimeLine>) -> Reel {
    line.map_or_else(Reel::default, |line| Reel {
        lasts_s: line.lasts_s() - line.begins_s(),
        from_s: line.begins_s(),
        events: line.events.iter().map(|(time_s, _)| *time_s - line.begins_s()).collect(),
    })
}

/// How far the times differ from shift to shift, and what the foot does before the cut.
fn also_told(shift: &TimedShift, line: &TimeLine) -> Vec<Message> {
    let ([out_from, _, out_to], [in_from, _, in_to]) = (line.spread.out_s, line.spread.in_s);
    let spread = say::spread(ms(out_from), ms(out_to), ms(in_from), ms(in_to));
    let Some(Foot { signal_s, hook_s, fork_s }) = shift.foot else { return vec![spread] };
    let foot = [
        Some(say::foot_told(ms(shift.lead_s()), ms(signal_s))),
        hook_s.map(|at| say::hook_told(ms(at))),
        Some(fork_s.map_or_else(say::fork_unknown, |at| say::fork_told(ms(at)))),
    ];
    [spread].into_iter().chain(foot.into_iter().flatten()).collect()
}

/// When the gear is in, what takes longest, and what the dogs and the tyre feel.
fn summed_up(shift: &TimedShift, line: &TimeLine, state: AppState) -> String {
    let (step, parts) = (shift.step, line.timing.parts);
    let steady = if line.steady_nm > 0.0 { line.peak_nm / line.steady_nm } else { 1.0 };
    let mut says: Vec<Message> = vec![
        say::shift_takes(step.from, step.to, ms(parts.sum()), step.engine_rpm),
        longest_part(&parts, shift.manner),
        say::catches(
            Value::Number(Quantity::Torque, line.peak_nm),
            decimal(steady, 1),
            Value::Number(Quantity::Force, line.tyre_n),
        ),
    ];
    says.extend(line.whole.as_ref().and_then(|whole| whole.as_ref().ok()).map(feels));
    shown_all(&says, state)
}

/// What is read out at a moment.
fn now(line: &TimeLine, time_s: f64, state: AppState) -> Option<String> {
    let moment = line.at(time_s)?;
    let number = Value::Number;
    let whole = line.whole.as_ref().and_then(|whole| whole.as_ref().ok()?.at(time_s));
    let torque_nm = whole.map_or(moment.torque_nm, |[dogs, _]| dogs);
    let says = say::now(
        ms(time_s),
        moment.engine_rpm.round(),
        number(Quantity::Torque, torque_nm),
        number(Quantity::Length, moment.old_mm),
        number(Quantity::Length, moment.new_mm),
    );
    let tyre = whole.map(|[_, tyre]| say::now_tyre(number(Quantity::Torque, tyre)));
    let told: Vec<Message> = [says].into_iter().chain(tyre).collect();
    Some(shown_all(&told, state))
}
