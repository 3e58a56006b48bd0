//! The cover sheet of a whole gearbox: what goes where, with the index of the sheets, and all files in one archive.

use std::sync::Arc;

use crenel_words::page::{common, papers as say, whole};
use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::{Design, GearsetSpec, PairOf, PositionField, ShaftField, WheelField, save};
use crenel::export::{Detail, ExportFile, ExportInput, archive, gear_files, gearset_file};
use crenel::finding::Severity;
use crenel::gearset::GearsetAnalysis;
use crenel::report::{CAUTIONS, SetUpSheet};
use crenel::ring::Side;
use crenel::shift::Shaft;
use crenel::units::{ABSENT, Quantity};

use super::col;
use crate::deferred::schedule;
use crate::state::persistence::link_to;
use crate::state::{AppState, here, use_app_state};
use crate::widgets::files::{download, now};
use crate::widgets::link_code::LinkCode;

/// One row of the index.
#[derive(Clone, PartialEq)]
struct GearRow {
    gear: usize,
    teeth: String,
    moved: String,
    notch: String,
    same_as: Option<usize>,
    /// Of each ring, how many dogs and how many cuts.
    rings: [[usize; 2]; 2],
}

#[component]
pub(super) fn CoverSheet() -> impl IntoView {
    let state = use_app_state();
    let rows = Memo::new(move |_| state.with(|design| rows(design, state)));
    let title = move || here(say::cover_head(state.with(|d| d.name().to_owned())));
    let ring = |row: &GearRow, side: Side| {
        let at = usize::from(side == Side::B);
        let [dogs, cuts] = row.rings[at];
        here(say::cuts(2 * row.gear + at + 1, dogs, cuts))
    };
    let line = move |row: GearRow| {
        let rings =
            row.same_as.map_or_else(|| here(say::own_rings), |gear| here(say::rings_of(gear)));
        view! {
            <tr>
                <th scope="row">{row.gear + 1}</th>
                <td>{row.teeth.clone()}</td>
                <td>{row.moved.clone()}</td>
                <td>{row.notch.clone()}</td>
                <td class="words">{rings}</td>
                <td class="words">{ring(&row, Side::A)}</td>
                <td class="words">{ring(&row, Side::B)}</td>
            </tr>
        }
    };
    let heads =
        [say::cover_gear, say::cover_teeth, say::cover_moved, say::cover_notch, say::cover_rings];
    let shafts = move || {
        let all = state.with(|d| d.to_gearset()).map(|set| set.shafts).unwrap_or_default();
        let line = |shaft: &crenel::design::ShaftSpec| {
            let name =
                if shaft.is == Shaft::Input { whole::input_shaft() } else { whole::output_shaft() };
            let [float, shim] = [ShaftField::EndFloat, ShaftField::ShaftShim].map(|f| shaft.get(f));
            view! { <li>{here(say::cover_shaft(name, float, shim))}</li> }
        };
        all.iter().map(line).collect_view()
    };
    view! {
        <article class="set-up cover" aria-label=here(say::cover)>
            <header class="block">
                <h3>{title}</h3>
                <p><span class="whole">{here(say::checked_by)}</span></p>
            </header>
            <BoxWarnings/>
            <section>
                <h4>{here(say::cover_table)}</h4>
                <p>{here(say::cover_why)}</p>
                <div class="scroll" tabindex="0" role="region" aria-label=here(say::cover_table)>
                    <table class="figures">
                        <thead>
                            <tr>
                                {heads.map(col).into_iter().collect_view()}
                                {Side::BOTH.map(|side| view! { <th scope="col">{here(say::cover_ring(side))}</th> })
                                    .into_iter().collect_view()}
                            </tr>
                        </thead>
                        <tbody>{move || rows.get().into_iter().map(line).collect_view()}</tbody>
                    </table>
                </div>
            </section>
            <section><h4>{here(say::cover_shims)}</h4><ul>{shafts}</ul></section>
            <section class="cautions">
                <h4>{here(common::cautions)}</h4>
                <ul>{CAUTIONS.map(|text| view! { <li>{here(text)}</li> }).into_iter().collect_view()}</ul>
            </section>
            <figure class="code">
                <LinkCode/>
                <figcaption><b>{title}</b><span class="quiet">{here(say::scan)}</span></figcaption>
            </figure>
        </article>
    }
}

/// What is wrong with the gearbox, so that the shop reads it too.
#[component]
fn BoxWarnings() -> impl IntoView {
    let state = use_app_state();
    move || {
        let reader = state.reader();
        let told = state.boxed.with(|boxed| {
            let all = boxed.iter().flat_map(|boxed| &boxed.analysis.findings);
            let grave = all.filter(|placed| placed.finding.severity != Severity::Note);
            grave.map(|placed| placed.finding.whole(reader)).collect::<Vec<_>>()
        });
        let items = told.iter().map(|text| view! { <li>{text.clone()}</li> }).collect_view();
        (!told.is_empty()).then(|| {
            view! { <section class="cautions"><h4>{here(say::check_first)}</h4><ul>{items}</ul></section> }
        })
    }
}

fn rows(design: &Design, state: AppState) -> Vec<GearRow> {
    let Some(set) = design.to_gearset() else { return Vec::new() };
    (0..set.gears.len()).map(|gear| row(design, &set, gear, state)).collect()
}

fn row(design: &Design, set: &GearsetSpec, gear: usize, state: AppState) -> GearRow {
    let reader = state.reader();
    let own = &set.gears[gear];
    let teeth = |at| {
        let wheel = set.wheel(at).map(|wheel| wheel.get(WheelField::WheelTeeth));
        wheel.map_or_else(|| ABSENT.to_owned(), |teeth| teeth.to_string())
    };
    let fork = set.forks.iter().position(|fork| fork.slider == own.slider);
    let fork = fork.map_or_else(|| ABSENT.to_owned(), |fork| (fork + 1).to_string());
    let notch = set.drum.positions.iter().find(|at| at.gear == Some(gear));
    let notch =
        notch.map(|at| Quantity::Angle.show(at.get(PositionField::PositionAngle), reader.units));
    let rings = design.of_gear(gear).map(|design| {
        let analysis = Analysis::of(&design);
        Side::BOTH.map(|side| {
            let steps = SetUpSheet::of(&analysis, side, reader).steps.len();
            [analysis.ring(side).dogs.len(), steps]
        })
    });
    GearRow {
        gear,
        teeth: format!("{} / {}", teeth(own.driving), teeth(own.driven)),
        moved: format!("{} / {fork}", own.slider + 1),
        notch: notch.unwrap_or_else(|| ABSENT.to_owned()),
        same_as: match own.pair {
            PairOf::Own(_) => None,
            PairOf::SameAs(other) => Some(other),
        },
        rings: rings.unwrap_or_default(),
    }
}

/// Makes the files of all gears, one after the other, and saves them as one archive.
#[component]
pub(super) fn ArchiveButton() -> impl IntoView {
    let state = use_app_state();
    let busy = RwSignal::new(None::<usize>);
    let begin = move |_| {
        let design = state.with(Design::clone);
        let gears = design.around.as_ref().map_or(0, |around| around.gears());
        let whole = ExportFile {
            name: "gearbox.json".to_owned(),
            media_type: "application/json",
            bytes: format!("{:#}\n", save(&design)).into_bytes(),
        };
        busy.set(Some(0));
        let work = Archiving { state, busy, design: Arc::new(design), gears };
        schedule(move || work.next(0, vec![whole]));
    };
    let told = move || busy.get().map(|gear| here(say::making_archive(gear)));
    view! {
        <button title=here(say::whole_archive_why) disabled=move || busy.get().is_some() on:click=begin>
            {here(say::whole_archive)}
        </button>
        <span class="quiet" role="status">{told}</span>
    }
}

/// An archive that is being made.
#[derive(Clone)]
struct Archiving {
    state: AppState,
    busy: RwSignal<Option<usize>>,
    design: Arc<Design>,
    gears: usize,
}

impl Archiving {
    /// The files of the next gear, a moment later each, so that the page answers in between.
    fn next(self, gear: usize, mut made: Vec<ExportFile>) {
        if gear >= self.gears {
            made.extend(GearsetAnalysis::around(&self.design).as_ref().map(gearset_file));
            return self.finish(&made);
        }
        if self.busy.try_set(Some(gear)).is_some() {
            // The page is gone.
            return;
        }
        if let Some(design) = self.design.of_gear(gear) {
            let analysis = Analysis::of(&design);
            let input = ExportInput {
                analysis: &analysis,
                before: &analysis,
                reader: untrack(|| self.state.reader()),
                link: &link_to(&self.design),
                time: &now(),
                detail: Detail::default(),
            };
            made.extend(gear_files(&input, gear));
        }
        schedule(move || self.next(gear + 1, made));
    }

    fn finish(self, made: &[ExportFile]) {
        let _ = self.busy.try_set(None);
        match archive(made) {
            Ok(bytes) => download(self.state, "gearbox.zip", "application/zip", &bytes),
            Err(_) => self.state.tell(here(say::no_archive), true),
        }
    }
}
