//! The set-up sheets for the shop: one for each ring, as it comes out of the printer.

mod bench;
mod cover;
mod inspection;
mod plates;

use std::sync::Arc;

use crenel_words::page::{common, papers as say};
use crenel_words::{Message, Phrase, Reader, Words};
use leptos::prelude::*;

use crenel::analysis::Analysis;
use crenel::design::Design;
use crenel::draw::{Fit, PaperSize, paper_drawing};
use crenel::fields::{FieldId, Slot};
use crenel::finding::Severity;
use crenel::report::{CAUTIONS, CutDepth, FACES, SetUpSheet};
use crenel::rework::PlanStep;
use crenel::ring::{PerSide, Side};
use crenel::shop::grit::GRITS;
use crenel::shop::indexing::{self, Job, Plate, Plates};
use crenel::units::{ABSENT, AngleStyle, DisplayUnits, Quantity, decimal};
use crenel::verdict::Stage;

use self::bench::BenchSheet;
use self::cover::{ArchiveButton, CoverSheet};
use self::inspection::{BlankInspection, Inspection};
use self::plates::PlatesField;
use crate::part::part;
use crate::state::{AppState, Area, AreaKey, Content, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::choose::Picked;
use crate::widgets::gear_bar::show_gear;
use crate::widgets::link_code::LinkCode;
use crate::widgets::number_field::NumberField;
use crate::widgets::scene_marks::SceneMarks;

pub(super) const AREA: Area<AnyView> = Area {
    owns: |slot| matches!(slot, Slot::Setting(id) if EQUIPMENT.contains(&id)),
    ..Area::of(
        Stage::Make,
        AreaKey("papers"),
        say::title,
        Content::Page(part!(shop, papers, view! { <Papers/> })),
    )
};

/// The numbers of the shop equipment that the sheets need.
const EQUIPMENT: [FieldId; 5] = [
    FieldId::CutWidth,
    FieldId::CutWheelDiameter,
    FieldId::CutWheelSpeed,
    FieldId::DividingRatio,
    FieldId::TableRatio,
];

const SIZES: [(PaperSize, Phrase); 2] =
    [(PaperSize::A4, say::paper_a4), (PaperSize::Letter, say::paper_letter)];

#[component]
fn Papers() -> impl IntoView {
    let state = use_app_state();
    let size = RwSignal::new(PaperSize::A4);
    let set_size = Callback::new(move |kind| size.set(kind));
    let wanted = PerSide::from_fn(|_| RwSignal::new(true));
    let (bench, face) = (RwSignal::new(false), RwSignal::new(0));
    let (cover, every) = (RwSignal::new(true), RwSignal::new(false));
    let in_box = Memo::new(move |_| state.with(|d| d.around.is_some()));
    let others = Memo::new(move |_| {
        let count = state.with(|d| d.around.as_ref().map_or(0, |around| around.gears()));
        if every.get() { count } else { 0 }
    });
    let print = move |_| {
        // Printing fails only if the page is gone.
        let _ = window().print();
    };
    let class = move || match size.get() {
        PaperSize::A4 => "papers a4",
        PaperSize::Letter => "papers letter",
    };
    let worked = Memo::new(move |_| state.analysis.with(|a| a.pair.is_some()));
    let planned = move || state.with(Design::is_planned);
    let sheets = move || {
        if worked.get() {
            let of_gear = move |shown: Shown| {
                let sheets = Side::BOTH.map(|side| {
                    let wanted = wanted[side];
                    move || wanted.get().then(|| view! { <Sheet shown side size face/> })
                });
                sheets.into_iter().collect_view()
            };
            // With every gear they come in the order of the gears, the open one in its place.
            let of_others = move |gear: usize| {
                let is_open = Memo::new(move |_| state.with(|d| d.gear_open()) == Some(gear));
                move || {
                    of_gear(if is_open.get() {
                        Shown::open(state)
                    } else {
                        Shown::other(state, gear)
                    })
                }
            };
            view! {
                {move || (others.get() == 0).then(|| of_gear(Shown::open(state)))}
                <For each=move || 0..others.get() key=|gear| *gear children=of_others/>
            }
            .into_any()
        } else {
            view! { <p class="old">{here(say::no_sheets)}</p> }.into_any()
        }
    };
    let field = |id: FieldId| view! { <NumberField at=Slot::Setting(id)/> };
    view! {
        <section class=class aria-label=here(say::title)>
            <div class="row head">
                <h2>{here(say::title)}</h2>
                <Choose label=here(say::paper) words=&SIZES value=size on_choose=set_size/>
                {Side::BOTH.map(|side| {
                    let shown = wanted[side];
                    view! {
                        <label class="tick">
                            <input type="checkbox" prop:checked=move || shown.get()
                                on:change=move |event| shown.set(event_target_checked(&event))/>
                            {here(common::ring(side))}
                        </label>
                    }
                }).collect_view()}
                <Tick on=bench says=say::bench/>
                {move || in_box.get().then(|| view! {
                    <Tick on=cover says=say::cover/>
                    <Tick on=every says=say::every_gear/>
                    <ArchiveButton/>
                })}
                <button class:main=planned disabled=move || !worked.get() on:click=print>{here(say::print)}</button>
            </div>
            <p class="quiet on-screen">{here(say::print_at_full_size)}</p>
            <details class="on-screen shop-form">
                <summary>{here(say::shop_equipment)}</summary>
                <div class="two">
                    {EQUIPMENT.map(field).into_iter().collect_view()}
                    <PlatesField/>
                    <DepthsFrom face/>
                </div>
            </details>
            {move || (in_box.get() && cover.get()).then(|| view! { <CoverSheet/> })}
            {sheets}
            {move || (worked.get() && bench.get()).then(|| view! { <BenchSheet/> })}
        </section>
    }
}

/// A sheet that can be left out.
#[component]
fn Tick(on: RwSignal<bool>, says: Phrase) -> impl IntoView {
    view! {
        <label class="tick">
            <input type="checkbox" prop:checked=move || on.get()
                on:change=move |event| on.set(event_target_checked(&event))/>
            {here(says)}
        </label>
    }
}

/// Whose sheet it is.
#[derive(Clone, Copy)]
struct Shown {
    /// The pair worked out.
    of: Signal<Arc<Analysis>>,
    /// The gear, in a whole gearbox.
    gear: Signal<Option<usize>>,
    /// Whether it is the pair that is open: what is measured of it can be typed.
    is_open: bool,
}

impl Shown {
    /// The pair that is open.
    fn open(state: AppState) -> Self {
        let gear = Signal::derive(move || state.with(Design::gear_open));
        Self { of: state.analysis.into(), gear, is_open: true }
    }

    /// Another gear of the gearbox.
    fn other(state: AppState, gear: usize) -> Self {
        let design = Memo::new(move |_| state.with(|d| d.of_gear(gear).unwrap_or_default()));
        let of = Memo::new(move |_| design.with(|d| Arc::new(Analysis::of(d))));
        Self { of: of.into(), gear: Signal::derive(move || Some(gear)), is_open: false }
    }

    /// What the sheet is called: the design, with its gear in a whole gearbox.
    fn name(self) -> String {
        let name = self.of.with(|a| a.design.name().to_owned());
        match self.gear.get() {
            Some(gear) => here(say::of_gear(name, gear)).into_owned(),
            None => name,
        }
    }
}

/// The face that depths of cut are counted from, by its row of [`FACES`].
#[component]
fn DepthsFrom(face: RwSignal<usize>) -> impl IntoView {
    let options = FACES.iter().enumerate().map(move |(at, one)| {
        view! { <option value=at.to_string() selected=move || face.get() == at>{here(one.label)}</option> }
    });
    let choose = Callback::new(move |at: String| {
        let at = at.parse().ok().filter(|at| *at < FACES.len());
        face.set(at.unwrap_or_default());
    });
    let text = Signal::derive(move || {
        FACES.get(face.get()).map_or_else(Default::default, |one| here(one.label))
    });
    let value = Signal::derive(move || face.get().to_string());
    view! { <Picked label=here(say::depths_from) text value on_choose=choose>{options.collect_view()}</Picked> }
}

#[component]
fn Sheet(
    shown: Shown,
    side: Side,
    size: RwSignal<PaperSize>,
    face: RwSignal<usize>,
) -> impl IntoView {
    let state = use_app_state();
    let Shown { of, is_open, .. } = shown;
    let sheet = Memo::new(move |_| of.with(|a| Arc::new(SetUpSheet::of(a, side, state.reader()))));
    let typed = state.measured;
    let planned = Memo::new(move |_| sheet.with(|s| !s.steps.is_empty()));
    let go = move |_| {
        if let Some(gear) = shown.gear.get_untracked().filter(|_| !is_open) {
            show_gear(state, gear);
        }
        state.open_area(AreaKey::REWORK);
    };
    let title = move || here(say::sheet_head(shown.name(), side));
    let drawn_by = move || {
        let initials = state.with(|d| d.initials.clone());
        here(say::drawn_by(if initials.is_empty() {
            "______________".to_owned()
        } else {
            initials
        }))
    };
    let notes = move || of.with(|a| note_lines(&a.design.notes));
    let label = move || match shown.gear.get() {
        Some(gear) => here(say::sheet_of_gear(side, gear)),
        None => here(say::sheet_of(side)),
    };
    view! {
        <article class=if side == Side::A { "set-up ring-a" } else { "set-up ring-b" }
            aria-label=label>
            <header class="block">
                <h3>{title}</h3>
                <p>
                    {drawn_by}" "<span class="whole">{here(say::made_by)}</span>" "
                    <span class="whole">{here(say::checked_by)}</span>
                </p>
                {notes}
            </header>
            // Without a cut only the ring as it is: its drawing, and its sizes to inspect.
            {move || if planned.get() {
                view! { <Warnings of/> }.into_any()
            } else {
                view! {
                    <section class="row no-cut">
                        <p>{here(say::nothing_planned)}</p>
                        <button class="on-screen" on:click=go>{here(say::go_to_plan)}</button>
                    </section>
                }.into_any()
            }}
            <PaperDrawing of side size/>
            {move || planned.get().then(|| view! {
                <CutCautions sheet/>
                {move || sheet.with(|s| operations(s, state.reader()))}
                {move || sheet.with(|s| set_up(s, state.reader()))}
                {move || of.with(|a| sheet.with(|s| depths(s, a, face.get(), state.reader())))}
                {move || sheet.with(|s| state.with(|d| index(s, &d.plates, state.reader())))}
                {move || sheet.with(|s| tools(s))}
            })}
            {if is_open {
                view! { <Inspection side sheet typed/> }.into_any()
            } else {
                view! { <BlankInspection side sheet/> }.into_any()
            }}
            <section class="cautions">
                <h4>{here(common::cautions)}</h4>
                <ul>{CAUTIONS.map(|text| view! { <li>{here(text)}</li> }).into_iter().collect_view()}</ul>
            </section>
            {is_open.then(|| view! { <figure class="code">
                <LinkCode/>
                <figcaption>
                    <b>{title}</b>
                    <span class="quiet">{here(say::scan)}</span>
                </figcaption>
            </figure> })}
        </article>
    }
}

/// The notes of the design: those on several lines are numbered steps.
fn note_lines(notes: &str) -> AnyView {
    let lines: Vec<String> =
        notes.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect();
    match &lines[..] {
        [] => ().into_any(),
        [one] => view! { <p class="quiet">{one.clone()}</p> }.into_any(),
        _ => {
            let items = lines.into_iter().map(|line| view! { <li>{line}</li> });
            view! { <ol class="quiet notes">{items.collect_view()}</ol> }.into_any()
        }
    }
}

/// What to mind in the cut of this ring.
#[component]
fn CutCautions(sheet: Memo<Arc<SetUpSheet>>) -> impl IntoView {
    let state = use_app_state();
    move || {
        let cautions = sheet.with(|s| s.cautions.clone());
        let items = cautions.iter().map(|one| view! { <li>{one.show(state.reader())}</li> });
        let items = items.collect_view();
        (!cautions.is_empty()).then(|| {
            view! { <section class="cautions"><h4>{here(say::cautions_of_cut)}</h4><ul>{items}</ul></section> }
        })
    }
}

/// The warnings among the findings, so that the shop reads them too.
#[component]
fn Warnings(of: Signal<Arc<Analysis>>) -> impl IntoView {
    let state = use_app_state();
    let list = move || {
        let reader = state.reader();
        of.with(|a| {
            let warnings = a.findings.iter().filter(|f| f.severity == Severity::Warning);
            let items = warnings.map(|f| view! { <li>{f.whole(reader)}</li> });
            items.collect_view()
        })
    };
    let any = move || of.with(|a| a.findings.iter().any(|f| f.severity == Severity::Warning));
    move || {
        any().then(|| view! { <section class="cautions"><h4>{here(say::check_first)}</h4><ul>{list}</ul></section> })
    }
}

/// The drawing at true size, or as large as the paper allows.
#[component]
fn PaperDrawing(of: Signal<Arc<Analysis>>, side: Side, size: RwSignal<PaperSize>) -> impl IntoView {
    let state = use_app_state();
    let drawn = Memo::new(move |_| {
        of.with(|a| {
            let language = state.reader().language;
            let fit = Fit::of(a, side, size.get(), language);
            (fit, paper_drawing(a, side, fit.scale, language))
        })
    });
    let scene = Signal::derive(move || drawn.with(|(_, scene)| scene.clone()));
    let size_mm = move || drawn.with(|(_, scene)| (scene.bounds.width(), scene.bounds.height()));
    let mm = |value: f64| format!("{value:.4}mm");
    view! {
        <figure class="true-size view">
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::true_size(side))>
                <svg role="img" aria-label=here(say::drawing_of(side))
                width=move || mm(size_mm().0)
                height=move || mm(size_mm().1)
                viewBox=move || { let (wide, high) = size_mm(); format!("0 0 {wide:.4} {high:.4}") }>
                    <SceneMarks scene/>
                </svg>
            </div>
            <figcaption class="quiet">
                {move || drawn.with(|(fit, _)| here(fit.words()))}
                " "{here(say::drawing_key)}
            </figcaption>
        </figure>
    }
}

fn operations(sheet: &SetUpSheet, reader: Reader) -> AnyView {
    let row = |(at, step): (usize, &PlanStep)| {
        let dogs: Vec<_> = step.dogs.iter().map(ToString::to_string).collect();
        view! {
            <tr>
                <th scope="row">{at + 1}</th>
                <td class="words">{step.words.show(reader)}</td>
                <td class="words">{dogs.join(" ")}</td>
                <td>{step.stock_words().show(reader)}</td>
                <td>{step.case_left().map_or_else(|| ABSENT.to_owned(), |left| left.show(reader))}</td>
                <td class="blank"></td>
            </tr>
        }
    };
    let rows = sheet.steps.iter().enumerate().map(row).collect_view();
    view! {
        <section>
            <h4>{here(say::in_this_order)}</h4>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::operations_on(sheet.side))>
                <table class="figures">
                    <thead>
                        <tr>
                            {[say::number, say::work, say::dogs, say::removed, say::case_left, say::done]
                                .map(col).into_iter().collect_view()}
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_any()
}

/// How to set up the work, in numbered steps.
fn set_up(sheet: &SetUpSheet, reader: Reader) -> AnyView {
    let steps = sheet.set_up.iter().map(|step| view! { <li>{step.show(reader)}</li> });
    view! { <section><h4>{here(say::set_up)}</h4><ol>{steps.collect_view()}</ol></section> }
        .into_any()
}

/// How deep each operation cuts, from the tip of each dog and from the face that was chosen.
fn depths(sheet: &SetUpSheet, analysis: &Analysis, face: usize, reader: Reader) -> AnyView {
    let Some(face) = FACES.get(face).filter(|_| !sheet.depths.is_empty()) else {
        return ().into_any();
    };
    let length = |mm: f64| Quantity::Length.show(mm, reader.units);
    let row = |depth: &CutDepth| {
        let dogs: Vec<_> = depth.dogs.iter().map(ToString::to_string).collect();
        view! {
            <tr>
                <th scope="row">{depth.operation}</th>
                <td class="words">{dogs.join(" ")}</td>
                <td>{length(depth.from_tip_mm)}</td>
                <td>{length(depth.from_face_mm(face, analysis, sheet.side))}</td>
                <td>{length(depth.over_web_mm)}</td>
            </tr>
        }
    };
    let rows = sheet.depths.iter().map(row).collect_view();
    view! {
        <section>
            <h4>{here(say::depths)}</h4>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::depths_of(sheet.side))>
                <table class="figures">
                    <thead>
                        <tr>
                            {[say::operation, say::dogs, say::from_own_tip].map(col).into_iter().collect_view()}
                            <th scope="col">{here(say::from_face((face.label)()))}</th>
                            {col(say::left_over_web)}
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_any()
}

fn index(sheet: &SetUpSheet, plates: &Plates, reader: Reader) -> AnyView {
    if sheet.operation.is_empty() {
        return ().into_any();
    }
    let units = reader.units;
    let dms = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
    let head = sheet.index.head.as_ref();
    let table = sheet.index.table.as_ref();
    let row = |(at, (name, angle)): (usize, &(String, crenel::units::Angle))| {
        let step = head.map(|job| &job.steps[at]);
        let turns = |turns: u32, holes: u16, circle: u16| format!("{turns} + {holes}/{circle}");
        let crank = step.map(|step| step.fit.crank);
        let error =
            step.map_or(String::new(), |step| error_words(&step.fit, sheet.rim_radius_mm, units));
        let dial = table.map(|job| {
            let dial = &job.dials[at];
            format!("{} + {}", dial.turns, dial.reading())
        });
        view! {
            <tr>
                <th scope="row">{sheet.operation[at]}</th>
                <td>{name.clone()}</td>
                <td>{format!("{}°", decimal(angle.degrees(), 4))}</td>
                <td>{Quantity::Angle.format(angle.degrees(), dms)}</td>
                <td>{crank.map(|c| turns(c.turns, c.holes, c.circle))}</td>
                <td>{step.map(|s| turns(s.on.turns, s.on.holes, s.on.circle))}</td>
                <td>{error}</td>
                <td>{dial}</td>
            </tr>
        }
    };
    let rows = sheet.index.dogs.iter().enumerate().map(row).collect_view();
    let dividing =
        here(head.map_or_else(say::no_head, |job| dividing_head(job, plates, sheet.rim_radius_mm)));
    let rotary = table.map(|job| here(say::rotary_table(job.ratio.into())));
    view! {
        <section>
            <h4>{here(say::index_table)}</h4>
            <p>
                {dividing}" "{rotary}" "<b>{here(say::turn_clockwise)}</b>
            </p>
            <div class="scroll" tabindex="0" role="region" aria-label=here(say::index_table_of(sheet.side))>
                <table class="figures">
                    <thead>
                        <tr>
                            {[say::operation, say::index_to, say::position].map(col).into_iter().collect_view()}
                            <th scope="col">"° ′ ″"</th>
                            {[say::crank, say::from_last, say::error, say::dial].map(col).into_iter().collect_view()}
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_any()
}

/// The head of a column.
fn col(words: Phrase) -> impl IntoView {
    view! { <th scope="col">{here(words)}</th> }
}

/// The error of a position in minutes of arc, and along the rim.
fn error_words(fit: &indexing::Fit, rim_mm: f64, units: DisplayUnits) -> String {
    if fit.is_exact() {
        return "0".to_owned();
    }
    let minus = |text: String| text.replace('-', "−");
    let rim = Quantity::Length.show(fit.error_mm(rim_mm), units);
    minus(format!("{}′, {rim}", decimal(fit.error_min, 2)))
}

/// The dividing head, its circle and its plate, with the largest error.
fn dividing_head(job: &Job, plates: &Plates, rim_mm: f64) -> Message {
    let plate = plates.with_circle(job.circle).map(Plate::name).unwrap_or_default();
    let (ratio, circle) = (job.ratio.into(), job.circle.into());
    if job.is_exact() {
        say::head_exact(ratio, circle, plate)
    } else {
        let errors = job.steps.iter().map(|step| step.fit.error_mm(rim_mm).abs());
        let most = errors.fold(0.0, f64::max);
        say::head_near(ratio, circle, plate, decimal(job.largest_error_min(), 2), most)
    }
}

fn tools(sheet: &SetUpSheet) -> AnyView {
    let reader = use_app_state().reader();
    let row = |(name, says): &(Phrase, Vec<Message>)| {
        view! {
            <tr><th scope="row">{here(*name)}</th><td class="words">{says.words(reader)}</td></tr>
        }
    };
    let rows = sheet.tools.iter().map(row).collect_view();
    let grits: Vec<_> = GRITS
        .iter()
        .map(|grit| format!("{} {} µm", grit.name, decimal(grit.median_um, 1)))
        .collect();
    let grits = here(say::grits(grits.join(", ")));
    view! {
        <section>
            <h4>{here(say::tools)}</h4>
            <table class="figures">
                <tbody>{rows}
                    <tr><th scope="row">{here(say::grit)}</th><td class="words">{grits}</td></tr>
                </tbody>
            </table>
        </section>
    }
    .into_any()
}
