//! Files: opening, saving and exporting.

use gloo::file::Blob;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use wasm_bindgen_futures::spawn_local;

use crenel::design::{Opened, open, save};
use crenel::draw::{Frame, Look, ViewKind, ring_drawing, view};
use crenel::export::{chances_csv, dogs_csv, dxf, svg_file};
use crenel::report::{Chances, report_json};
use crenel::ring::Side;

use super::keeping::{link_to, sentences};
use super::office::{Office, html_element};

/// Largest file that is read; a design is a thousandth of it.
const LARGEST_FILE: u64 = 4_000_000;

/// Phases and speed differences of an outcome map in a file.
const PHASES: usize = 360;
const SPEEDS: usize = 240;

/// A file that can be taken away.
#[derive(Clone, Copy)]
enum Take {
    RingSvg(Side),
    RingDxf(Side),
    Dogs,
    Report,
    Chances,
    View(ViewKind),
}

const TAKES: [(Take, &str); 12] = [
    (Take::RingDxf(Side::A), "Ring A, drawing for the machine (DXF)"),
    (Take::RingSvg(Side::A), "Ring A, drawing for the machine (SVG)"),
    (Take::RingDxf(Side::B), "Ring B, drawing for the machine (DXF)"),
    (Take::RingSvg(Side::B), "Ring B, drawing for the machine (SVG)"),
    (Take::Dogs, "Dog positions (CSV)"),
    (Take::Report, "All numbers and findings (JSON)"),
    (Take::Chances, "Chances over the speed difference (CSV)"),
    (Take::View(ViewKind::Face), "Face view (SVG)"),
    (Take::View(ViewKind::Unrolled), "Unrolled view (SVG)"),
    (Take::View(ViewKind::Map), "Phase map (SVG)"),
    (Take::View(ViewKind::Outcome), "Outcome map (SVG)"),
    (Take::View(ViewKind::Chance), "Chances (SVG)"),
];

impl Take {
    /// Ending of the file's name, kind for the browser, and contents; `None` where there is no shift
    /// to tell of.
    fn make(self, office: Office) -> Option<(String, &'static str, String)> {
        const SVG: &str = "image/svg+xml";
        let analysis = office.drawn.get_untracked();
        let title = &analysis.design.title;
        let letter = |side: Side| side.letter().to_ascii_lowercase();
        let ring = |side| ring_drawing(&analysis, side, &link_to(&analysis.design));
        Some(match self {
            Self::RingSvg(side) => {
                (format!("ring-{}.svg", letter(side)), SVG, svg_file(&ring(side), title))
            }
            Self::RingDxf(side) => {
                (format!("ring-{}.dxf", letter(side)), "image/vnd.dxf", dxf(&ring(side)))
            }
            Self::Dogs => ("dogs.csv".to_owned(), "text/csv", dogs_csv(&analysis)),
            Self::Report => (
                "report.json".to_owned(),
                "application/json",
                format!("{:#}", report_json(&analysis)),
            ),
            Self::Chances => {
                let map = Chances::of(&analysis).map(|chances| chances.map(PHASES, SPEEDS));
                (
                    "chances.csv".to_owned(),
                    "text/csv",
                    map.as_ref().map_or_else(String::new, chances_csv),
                )
            }
            Self::View(kind) => {
                let frame = Frame::of(kind, &analysis, 700.0, kind.shape(), 12.0);
                let chances = Chances::of(&analysis).filter(|_| kind.is_chart());
                let map = chances.map(|chances| chances.map(PHASES, SPEEDS));
                let units = office.units.get_untracked();
                let look = Look { units, outcomes: map.as_ref(), ..Look::default() };
                let scene = view(kind, &analysis, &frame, &look);
                (format!("{}.svg", kind.name()), SVG, svg_file(&scene, title))
            }
        })
    }
}

#[component]
pub(crate) fn ExportMenu() -> impl IntoView {
    let office = Office::here();
    let take = move |take: Take| {
        if office.analysis.with_untracked(|a| a.meshed.is_none()) {
            office.tell("Nothing is exported while the design cannot be worked out. The findings beside the drawing say why.", true);
            return;
        }
        match take.make(office) {
            Some((ending, kind, text)) => download(office, &ending, kind, &text),
            None => {
                office.tell("There are no chances to export: the rings jam or stand apart.", true);
            }
        }
    };
    let items =
        TAKES.map(|(what, words)| view! { <button on:click=move |_| take(what)>{words}</button> });
    view! {
        <details class="menu" id="export">
            <summary id="export-button">"Export"</summary>
            <div class="sheet" on:click=move |_| close_menu()>{items.collect_view()}</div>
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
pub(crate) fn save_design(office: Office) {
    let text = office.with(|d| format!("{:#}\n", save(d)));
    download(office, "design.json", "application/json", &text);
}

fn download(office: Office, ending: &str, kind: &str, text: &str) {
    let name = file_name(&office.with(|d| d.title.clone()), ending);
    let blob = Blob::new_with_options(text, Some(kind));
    let url = gloo::file::ObjectUrl::from(blob);
    let link = document().create_element("a").ok();
    let Some(link) = link.and_then(|a| a.dyn_into::<web_sys::HtmlAnchorElement>().ok()) else {
        return;
    };
    link.set_href(&url);
    link.set_download(&name);
    link.click();
    office.say(format!("{name} is saved with your downloads."));
    // The browser needs the address a moment longer than this call.
    gloo::timers::callback::Timeout::new(10_000, move || drop(url)).forget();
}

/// The title as a file name that every system takes.
fn file_name(title: &str, ending: &str) -> String {
    let plain: String =
        title.chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).take(60).collect();
    let stem = plain.split_whitespace().collect::<Vec<_>>().join("-").to_lowercase();
    if stem.is_empty() { format!("crenel-{ending}") } else { format!("{stem}-{ending}") }
}

#[component]
pub(crate) fn OpenButton() -> impl IntoView {
    let office = Office::here();
    let input = NodeRef::<leptos::html::Input>::new();
    let pick = move |_| {
        if let Some(input) = input.get_untracked() {
            input.click();
        }
    };
    let picked = move |_| {
        let Some(input) = input.get_untracked() else { return };
        if let Some(file) = input.files().and_then(|list| list.get(0)) {
            spawn_local(read(office, file.into()));
        }
        // So that the same file can be opened again.
        input.set_value("");
    };
    view! {
        <button on:click=pick>"Open file"</button>
        <input type="file" accept=".json,application/json" hidden node_ref=input on:change=picked aria-label="Open a design file"/>
    }
}

async fn read(office: Office, file: gloo::file::File) {
    let name = file.name();
    match read_design(file).await {
        Ok(opened) => {
            office.replace(opened.design);
            let text = format!(
                "“{name}” is open. {}Undo brings your earlier work back.",
                sentences(&opened.findings)
            );
            office.tell(text, !opened.findings.is_empty());
        }
        Err(why) => office
            .tell(format!("“{name}” was not opened, and your work was not touched. {why}"), true),
    }
}

/// The design in a file, or why there is none.
pub(crate) async fn read_design(file: gloo::file::File) -> Result<Opened, String> {
    if file.size() > LARGEST_FILE {
        return Err(format!("It has {} bytes; a design has at most {LARGEST_FILE}.", file.size()));
    }
    let text = gloo::file::futures::read_as_text(&file).await;
    let text = text.map_err(|e| format!("The browser could not read it: {e}."))?;
    open(&text).map_err(|findings| sentences(&findings))
}
