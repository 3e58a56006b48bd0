//! The chosen shift as a whole in time, played or read out at any moment.

use leptos::prelude::*;

use crenel::draw::{time_line_chart, time_line_frame};
use crenel::model::TimeLine;
use crenel::units::{Quantity, decimal};
use crenel_words::page::cut as say;
use crenel_words::{Message, Value};

use super::driveline::feels;
use super::{Row, Shown, longest_part, ms};
use crate::state::{AppState, Player, Reel, use_app_state};
use crate::widgets::chart_figure::{ChartFigure, ChartRoom};
use crate::widgets::play_bar::Playing;

#[component]
pub(super) fn Line(shown: Shown) -> impl IntoView {
    let state = use_app_state();
    let row = Memo::new(move |_| shown.row());
    let line = Memo::new(move |_| {
        let shift = row.get()?.shift;
        TimeLine::of(&shift, shift.step.engine_rpm).ok()
    });
    let player = Player::new(Memo::new(move |_| line.with(|line| reel(line.as_ref()))).into());
    let chart = Callback::new(move |room: ChartRoom| {
        let to = row.get()?.shift.step.to;
        line.with(|line| {
            let line = line.as_ref()?;
            let frame = time_line_frame(line, if room.is_narrow { 1.2 } else { 0.6 }, room.letter);
            Some(time_line_chart(&frame, line, to, player.time.get(), state.reader()))
        })
    });
    let title = move || {
        let says = row.get().map(|row| say::line(row.shift.step.from, row.shift.step.to));
        says.map(|says| says.show(state.reader())).unwrap_or_default()
    };
    let told = move || {
        let whole = || {
            row.with(|row| {
                row.as_ref().zip(line.get()).map(|(row, line)| summed_up(row, &line, state))
            })
        };
        let moment = || {
            let time = player.time.get().filter(|_| !player.running.get())?;
            line.with(|line| now(line.as_ref()?, time, state))
        };
        moment().or_else(whole).unwrap_or_default()
    };
    move || {
        line.with(Option::is_some).then(|| view! {
            <ChartFigure title=Signal::derive(title) told=say::line_told name="shift-in-time" chart/>
            <Playing player told=Signal::derive(told)/>
        })
    }
}

fn reel(line: Option<&TimeLine>) -> Reel {
    line.map_or_else(Reel::default, |line| Reel {
        lasts_s: line.lasts_s(),
        events: line.events.iter().map(|(time_s, _)| *time_s).collect(),
    })
}

/// When the gear is in, what takes longest, and what the dogs and the tyre feel.
fn summed_up(row: &Row, line: &TimeLine, state: AppState) -> String {
    let (step, parts) = (row.shift.step, line.timing.parts);
    let steady = if line.steady_nm > 0.0 { line.peak_nm / line.steady_nm } else { 1.0 };
    let mut says: Vec<Message> = vec![
        say::shift_takes(step.from, step.to, ms(parts.sum()), step.engine_rpm),
        longest_part(&parts, row.shift.is_cut()),
        say::catches(
            Value::Number(Quantity::Torque, line.peak_nm),
            decimal(steady, 1),
            Value::Number(Quantity::Force, line.tyre_n),
        ),
    ];
    says.extend(line.whole.as_ref().and_then(|whole| whole.as_ref().ok()).map(feels));
    says.iter().map(|says| says.show(state.reader())).collect::<Vec<_>>().join(" ")
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
    let told = [Some(says), tyre].into_iter().flatten().map(|says| says.show(state.reader()));
    Some(told.collect::<Vec<_>>().join(" "))
}
