//! Files: opening, saving and exporting.

use gloo_file::Blob;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::spawn_local;

use crenel::design::{Opened, check_size, read as read_file, save};
use crenel::draw::views::{CHANCE, FACE, MAP, OUTCOME, UNROLLED};
use crenel::draw::{View, ViewOptions, ring_drawing};
use crenel::export::{chances_csv, dogs_csv, dxf, file_name, index_csv, step, stl, svg_file};
use crenel::finding::Finding;
use crenel::report::{Analysis, Chances, SetUpSheet, report_json};
use crenel::ring::{Ring, Side};
use crenel::solid::Solid;

use crate::deferred::LazyDetails;
use crate::dom::html_element;
use crate::state::persistence::link_to;
use crate::state::{AppState, sentences, use_app_state};

/// How far facets may be from the round faces, mm.
const STL_TOLERANCE_MM: f64 = 0.01;

/// Phases and speed differences of an outcome map in a file.
const PHASES: usize = 360;
const SPEEDS: usize = 240;

/// Whether a ring is taken with its work done.
#[derive(Clone, Copy)]
enum RingState {
    Found,
    Cut,
}

/// A file that can be taken away.
#[derive(Clone, Copy)]
enum Take {
    RingSvg(Side),
    RingDxf(Side),
    Stl(Side, RingState),
    Step(Side),
    Index(Side),
    Dogs,
    Report,
    Chances,
    View(&'static View),
}

const TAKES: [(Take, &str); 20] = [
    (Take::RingDxf(Side::A), "Ring A, drawing for the machine (DXF)"),
    (Take::RingSvg(Side::A), "Ring A, drawing for the machine (SVG)"),
    (Take::Index(Side::A), "Ring A, index positions (CSV)"),
    (Take::Step(Side::A), "Ring A, solid as cut (STEP)"),
    (Take::Stl(Side::A, RingState::Cut), "Ring A, as cut, for a printed trial gauge (STL)"),
    (Take::Stl(Side::A, RingState::Found), "Ring A, as found (STL)"),
    (Take::RingDxf(Side::B), "Ring B, drawing for the machine (DXF)"),
    (Take::RingSvg(Side::B), "Ring B, drawing for the machine (SVG)"),
    (Take::Index(Side::B), "Ring B, index positions (CSV)"),
    (Take::Step(Side::B), "Ring B, solid as cut (STEP)"),
    (Take::Stl(Side::B, RingState::Cut), "Ring B, as cut, for a printed trial gauge (STL)"),
    (Take::Stl(Side::B, RingState::Found), "Ring B, as found (STL)"),
    (Take::Dogs, "Dog positions (CSV)"),
    (Take::Report, "All numbers and findings (JSON)"),
    (Take::Chances, "Chances over the speed difference (CSV)"),
    (Take::View(&FACE), "Face view (SVG)"),
    (Take::View(&UNROLLED), "Unrolled view (SVG)"),
    (Take::View(&MAP), "Phase map (SVG)"),
    (Take::View(&OUTCOME), "Outcome map (SVG)"),
    (Take::View(&CHANCE), "Chances (SVG)"),
];

/// A file ready to be saved: the ending of its name, its kind for the browser, its bytes.
struct Made {
    ending: String,
    kind: &'static str,
    bytes: Vec<u8>,
}

const SVG: &str = "image/svg+xml";
const CSV: &str = "text/csv";

impl Take {
    /// The file, or a sentence why there is none.
    fn make(self, state: AppState) -> Result<Made, String> {
        let analysis = state.drawn.get_untracked();
        let title = &analysis.design.title;
        let letter = |side: Side| side.letter().to_ascii_lowercase();
        let ring = |side| ring_drawing(&analysis, side, &link_to(&analysis.design));
        let made = |ending: String, kind, text: String| {
            Ok(Made { ending, kind, bytes: text.into_bytes() })
        };
        match self {
            Self::RingSvg(side) => {
                made(format!("ring-{}.svg", letter(side)), SVG, svg_file(&ring(side), title))
            }
            Self::RingDxf(side) => {
                made(format!("ring-{}.dxf", letter(side)), "image/vnd.dxf", dxf(&ring(side)))
            }
            Self::Stl(side, ring_state) => {
                let (rings, words) = match ring_state {
                    RingState::Found => (&analysis.found, "found"),
                    RingState::Cut => (&analysis.cut, "cut"),
                };
                let solid = solid(&analysis, &rings[side as usize])?;
                let told = format!("{}, as {words}. {title}", side.name());
                let bytes = stl(&solid.facets(STL_TOLERANCE_MM), &told);
                let ending = format!("ring-{}-{words}.stl", letter(side));
                Ok(Made { ending, kind: "model/stl", bytes })
            }
            Self::Step(side) => {
                let solid = solid(&analysis, analysis.ring(side))?;
                let name = format!("{title} {}", side.name());
                let now = String::from(js_sys::Date::new_0().to_iso_string());
                let stamp = now.split('.').next().unwrap_or_default();
                made(
                    format!("ring-{}.step", letter(side)),
                    "model/step",
                    step(&solid, name.trim(), stamp),
                )
            }
            Self::Index(side) => {
                let sheet = SetUpSheet::of(&analysis, side, state.units.get_untracked());
                if sheet.operation.is_empty() {
                    return Err(format!(
                        "Nothing on {} has to be indexed: plan some work on single dogs or flanks under Rework.",
                        side.lower_name()
                    ));
                }
                made(
                    format!("ring-{}-index.csv", letter(side)),
                    CSV,
                    index_csv(&sheet.named_by_operation()),
                )
            }
            Self::Dogs => made("dogs.csv".to_owned(), CSV, dogs_csv(&analysis)),
            Self::Report => made(
                "report.json".to_owned(),
                "application/json",
                format!("{:#}", report_json(&analysis)),
            ),
            Self::Chances => {
                let chances = Chances::of(&analysis).map(|chances| chances.map(PHASES, SPEEDS));
                let map = chances
                    .ok_or("There are no chances to export: the rings jam or stand apart.")?;
                made("chances.csv".to_owned(), CSV, chances_csv(&map))
            }
            Self::View(view) => {
                let frame = view.frame(&analysis, 700.0, view.shape, 12.0);
                let chances = Chances::of(&analysis).filter(|_| view.is_chart());
                let map = chances.map(|chances| chances.map(PHASES, SPEEDS));
                let units = state.units.get_untracked();
                let options =
                    ViewOptions { units, outcomes: map.as_ref(), ..ViewOptions::default() };
                let scene = view.draw(&analysis, &frame, &options);
                made(format!("{}.svg", view.file_name), SVG, svg_file(&scene, title))
            }
        }
    }
}

/// The solid of a ring, or a sentence why there is none.
fn solid(analysis: &Analysis, ring: &Ring) -> Result<Solid, String> {
    let told = |error| {
        let finding = Finding::from(error);
        format!("{} {}", finding.text(Default::default()), finding.hint)
    };
    Solid::of(ring, &analysis.body()).map_err(told)
}

#[component]
pub(crate) fn ExportMenu() -> impl IntoView {
    let state = use_app_state();
    let take = move |take: Take| {
        if state.analysis.with_untracked(|a| a.meshed.is_none()) {
            state.tell("Nothing is exported while the design cannot be worked out. The findings beside the drawing say why.", true);
            return;
        }
        match take.make(state) {
            Ok(made) => download(state, &made.ending, made.kind, &made.bytes),
            Err(why) => state.tell(why, true),
        }
    };
    let item = move |&(what, words): &(Take, &'static str)| view! { <button on:click=move |_| take(what)>{words}</button> };
    let lazy = LazyDetails::new();
    view! {
        <details class="menu" id="export" on:toggle=move |_| lazy.open()>
            <summary id="export-button" on:click=move |_| lazy.open()>"Export"</summary>
            <div class="sheet" on:click=move |_| close_menu()>{move || lazy.is_opened().then(|| TAKES.iter().map(item).collect_view())}</div>
        </details>
    }
}

/// Closes the export menu.
pub(crate) fn close_menu() {
    let Some(menu) = html_element("export") else { return };
    let held = document().active_element().is_some_and(|active| menu.contains(Some(&active)));
    // Removing an attribute and taking the focus can only fail on a page that is gone.
    let _ = menu.remove_attribute("open");
    if let Some(summary) = html_element("export-button").filter(|_| held) {
        let _ = summary.focus();
    }
}

/// Saves the design as a file.
pub(crate) fn save_design(state: AppState) {
    let text = state.with(|d| format!("{:#}\n", save(d)));
    download(state, "design.json", "application/json", text.as_bytes());
}

pub(crate) fn download(state: AppState, ending: &str, kind: &str, bytes: &[u8]) {
    let name = file_name(&state.with(|d| d.title.clone()), ending);
    let blob = Blob::new_with_options(bytes, Some(kind));
    let url = gloo_file::ObjectUrl::from(blob);
    let link = document().create_element("a").ok();
    let Some(link) = link.and_then(|a| a.dyn_into::<web_sys::HtmlAnchorElement>().ok()) else {
        return;
    };
    link.set_href(&url);
    link.set_download(&name);
    link.click();
    state.say(format!("{name} is saved with your downloads."));
    // The browser needs the address a moment longer than this call.
    gloo_timers::callback::Timeout::new(10_000, move || drop(url)).forget();
}

#[component]
pub(crate) fn OpenButton() -> impl IntoView {
    let state = use_app_state();
    let input = NodeRef::<leptos::html::Input>::new();
    let pick = move |_| {
        if let Some(input) = input.get_untracked() {
            input.click();
        }
    };
    let picked = move |_| {
        let Some(input) = input.get_untracked() else { return };
        if let Some(file) = input.files().and_then(|list| list.get(0)) {
            spawn_local(read(state, file.into()));
        }
        // So that the same file can be opened again.
        input.set_value("");
    };
    view! {
        <button on:click=pick>"Open file"</button>
        <input type="file" accept=".json,application/json" hidden node_ref=input on:change=picked aria-label="Open a design file"/>
    }
}

async fn read(state: AppState, file: gloo_file::File) {
    let name = file.name();
    match read_design(file).await {
        Ok(opened) => {
            state.replace(opened.design);
            let text = format!(
                "“{name}” is open. {}Undo brings your earlier work back.",
                sentences(&opened.findings)
            );
            state.tell(text, !opened.findings.is_empty());
        }
        Err(why) => state
            .tell(format!("“{name}” was not opened, and your work was not touched. {why}"), true),
    }
}

/// The design in a file, or why there is none.
pub(crate) async fn read_design(file: gloo_file::File) -> Result<Opened, String> {
    let bytes = usize::try_from(file.size()).unwrap_or(usize::MAX);
    check_size(bytes).map_err(|findings| sentences(&findings))?;
    let bytes = gloo_file::futures::read_as_bytes(&file).await;
    let bytes = bytes.map_err(|e| format!("The browser could not read it: {e}."))?;
    read_file(&bytes).map_err(|findings| sentences(&findings))
}
