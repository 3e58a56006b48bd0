//! The papers for the shop: one set-up sheet for each ring, as it comes out of the printer.

use std::collections::BTreeMap;
use std::sync::Arc;

use crenel_words::Phrase;
use crenel_words::page::papers as say;
use leptos::prelude::*;

use crenel::draw::{Fit, PaperSize, paper_drawing};
use crenel::fields::{FieldId, Slot};
use crenel::finding::Severity;
use crenel::report::{CAUTIONS, INSPECTED, Inspected, SetUpSheet, retyped};
use crenel::rework::PlanStep;
use crenel::ring::{PerSide, Side};
use crenel::shop::grit::GRITS;
use crenel::shop::indexing::PLATES;
use crenel::units::{AngleStyle, DisplayUnits, Quantity, decimal};

use crate::state::{Area, AreaKey, Content, Measured, here, use_app_state};
use crate::widgets::choose::Choose;
use crate::widgets::link_code::LinkCode;
use crate::widgets::number_field::NumberField;
use crate::widgets::scene_marks::SceneMarks;

pub(super) const AREA: Area<AnyView> = Area {
    tour: Some(say::tour),
    ..Area::tab(AreaKey("papers"), say::title, Content::Page(|| view! { <Papers/> }.into_any()))
};

/// The numbers of the machines that the sheets need.
const MACHINE_FIELDS: [FieldId; 5] = [
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
    let print = move |_| {
        // Printing fails only if the page is gone.
        let _ = window().print();
    };
    let class = move || match size.get() {
        PaperSize::A4 => "papers a4",
        PaperSize::Letter => "papers letter",
    };
    let worked = Memo::new(move |_| state.analysis.with(|a| a.pair.is_some()));
    let sheets = move || {
        if worked.get() {
            let sheets = Side::BOTH.map(|side| {
                let shown = wanted[side];
                move || shown.get().then(|| view! { <Sheet side size/> })
            });
            sheets.into_iter().collect_view().into_any()
        } else {
            view! {
                <p class="old">
                    "No sheets while the design cannot be worked out. The findings in the other areas say why."
                </p>
            }.into_any()
        }
    };
    let machine = |id: FieldId| view! { <NumberField at=Slot::Setting(id)/> };
    view! {
        <section class=class aria-label="Shop papers">
            <div class="row head">
                <h2>"Set-up sheets"</h2>
                <Choose label="Paper" words=&SIZES value=size on_choose=set_size/>
                {Side::BOTH.map(|side| {
                    let shown = wanted[side];
                    view! {
                        <label class="tick">
                            <input type="checkbox" prop:checked=move || shown.get()
                                on:change=move |event| shown.set(event_target_checked(&event))/>
                            {side.name()}
                        </label>
                    }
                }).collect_view()}
                <button class="main" disabled=move || !worked.get() on:click=print>"Print the sheets"</button>
            </div>
            <p class="quiet on-screen">
                "Print at 100 %, “actual size”: then the square on each drawing measures 10 mm. Measured values \
                typed into the inspection table are printed too, and become the ring as measured when you take them \
                over."
            </p>
            <details class="on-screen shop-form">
                <summary>"Shop equipment"</summary>
                <div class="two">
                    {MACHINE_FIELDS.map(machine).into_iter().collect_view()}
                </div>
            </details>
            {sheets}
        </section>
    }
}

#[component]
fn Sheet(side: Side, size: RwSignal<PaperSize>) -> impl IntoView {
    let state = use_app_state();
    let sheet = Memo::new(move |_| {
        state.analysis.with(|a| Arc::new(SetUpSheet::of(a, side, state.units.get())))
    });
    let typed = state.measured;
    let title = move || state.with(|d| d.name().to_owned());
    let initials = move || state.with(|d| d.initials.clone());
    let notes = move || state.with(|d| d.notes.clone());
    view! {
        <article class=if side == Side::A { "set-up ring-a" } else { "set-up ring-b" }
            aria-label=format!("Set-up sheet of {}", side.lower_name())>
            <header class="block">
                <h3>{move || format!("{} – {}", title(), side.name())}</h3>
                <p>
                    "Set-up sheet for the dogs. Drawn by "
                    <b>{move || if initials().is_empty() { "______________".to_owned() } else { initials() }}</b>". "
                    <span class="whole">"Made by ______________ on __________."</span>" "
                    <span class="whole">"Checked by ______________."</span>
                </p>
                <p class="quiet">{notes}</p>
                <figure class="code">
                    <LinkCode/>
                    <figcaption class="quiet">"The design, for a phone at the machine"</figcaption>
                </figure>
            </header>
            <Warnings/>
            <PaperDrawing side size/>
            {move || sheet.with(|s| operations(s, state.units.get()))}
            {move || sheet.with(|s| index(s))}
            {move || sheet.with(|s| tools(s))}
            <Inspection side sheet typed/>
            <section class="cautions">
                <h4>"Cautions"</h4>
                <ul>{CAUTIONS.map(|text| view! { <li>{text}</li> }).into_iter().collect_view()}</ul>
            </section>
        </article>
    }
}

/// The warnings among the findings, so that the shop reads them too.
#[component]
fn Warnings() -> impl IntoView {
    let state = use_app_state();
    let list = move || {
        let reader = state.reader();
        state.analysis.with(|a| {
            let warnings = a.findings.iter().filter(|f| f.severity == Severity::Warning);
            let items = warnings.map(|f| view! { <li>{f.whole(reader)}</li> });
            items.collect_view()
        })
    };
    let any =
        move || state.analysis.with(|a| a.findings.iter().any(|f| f.severity == Severity::Warning));
    move || {
        any().then(|| view! { <section class="cautions"><h4>"Look at this first"</h4><ul>{list}</ul></section> })
    }
}

/// The drawing at true size, or as large as the paper allows.
#[component]
fn PaperDrawing(side: Side, size: RwSignal<PaperSize>) -> impl IntoView {
    let state = use_app_state();
    let drawn = Memo::new(move |_| {
        state.drawn.with(|a| {
            let fit = Fit::of(a, side, size.get());
            (fit, paper_drawing(a, side, fit.scale))
        })
    });
    let scene = Signal::derive(move || drawn.with(|(_, scene)| scene.clone()));
    let size_mm = move || drawn.with(|(_, scene)| (scene.bounds.width(), scene.bounds.height()));
    let mm = |value: f64| format!("{value:.4}mm");
    view! {
        <figure class="true-size view">
            <div class="scroll" tabindex="0" role="region" aria-label=format!("{} at true size", side.name())>
                <svg role="img" aria-label=format!("Drawing of {} for the machine", side.lower_name())
                width=move || mm(size_mm().0)
                height=move || mm(size_mm().1)
                viewBox=move || { let (wide, high) = size_mm(); format!("0 0 {wide:.4} {high:.4}") }>
                    <SceneMarks scene/>
                </svg>
            </div>
            <figcaption class="quiet">
                {move || drawn.with(|(fit, _)| fit.words().to_owned())}
                " Looking at the dogs; angles counter-clockwise from the datum. Hatched: metal that comes off. Wide \
                lines: tips. Dashed: roots. To sharp corners. An asterisk beside a number: that dog is cut down."
            </figcaption>
        </figure>
    }
}

fn operations(sheet: &SetUpSheet, units: DisplayUnits) -> AnyView {
    if sheet.steps.is_empty() {
        return view! { <section><h4>"Operations"</h4><p>"Nothing is planned on this ring."</p></section> }.into_any();
    }
    let row = |(at, step): (usize, &PlanStep)| {
        let dogs: Vec<_> = step.dogs.iter().map(ToString::to_string).collect();
        view! {
            <tr>
                <th scope="row">{at + 1}</th>
                <td class="words">{step.words.clone()}</td>
                <td class="words">{dogs.join(" ")}</td>
                <td>{step.stock_words(units)}</td>
                <td>{step.case_words(units)}</td>
                <td class="blank"></td>
            </tr>
        }
    };
    let rows = sheet.steps.iter().enumerate().map(row).collect_view();
    view! {
        <section>
            <h4>"Operations, in this order"</h4>
            <div class="scroll" tabindex="0" role="region"
                aria-label=format!("Operations on {}", sheet.side.lower_name())>
                <table class="figures">
                    <thead>
                        <tr>
                            <th scope="col">"No."</th><th scope="col">"Work"</th><th scope="col">"Dogs"</th>
                            <th scope="col">"Stock"</th><th scope="col">"Case left"</th><th scope="col">"Done"</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_any()
}

fn index(sheet: &SetUpSheet) -> AnyView {
    if sheet.operation.is_empty() {
        return ().into_any();
    }
    let dms = DisplayUnits { angle: AngleStyle::Dms, ..DisplayUnits::default() };
    let head = sheet.index.head.as_ref();
    let table = sheet.index.table.as_ref();
    let row = |(at, (name, angle)): (usize, &(String, crenel::units::Angle))| {
        let step = head.map(|job| &job.steps[at]);
        let turns = |turns: u32, holes: u16, circle: u16| format!("{turns} + {holes}/{circle}");
        let crank = step.map(|step| step.fit.crank);
        let error = step.map_or(String::new(), |step| {
            if step.fit.is_exact() {
                "0".to_owned()
            } else {
                format!("{}′", decimal(step.fit.error_min, 2).replace('-', "−"))
            }
        });
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
    let circle = head.map_or("No dividing head can do this.".to_owned(), |job| {
        let error = if job.is_exact() {
            "every position has a hole".to_owned()
        } else {
            format!("nearest holes, off by {}′ at most", decimal(job.largest_error_min(), 2))
        };
        let plate = PLATES.iter().find(|plate| plate.circles.contains(&job.circle));
        let plate = plate.map_or("", |plate| plate.name);
        format!(
            "Dividing head {}:1 on the circle of {}, plate {plate}: {error}.",
            job.ratio, job.circle
        )
    });
    let rotary = table.map_or(String::new(), |job| format!(" Rotary table {}:1.", job.ratio));
    view! {
        <section>
            <h4>"Index table"</h4>
            <p>
                {circle}{rotary}" "<b>"Turn the work clockwise, looking at its dogs"</b>
                ": then each position, which counts counter-clockwise from the datum mark, comes under the cutter \
                that stood over the mark. Before the first cut let a pointer run round all positions and see that it \
                meets the dogs named. Positions count from the mark with crank and dial at 0, so that errors do not \
                add up; always turn the same way, so that backlash stays on one side. For a radial flank the \
                position is that of its new tip edge at the mean diameter; the metal beyond it, away from the middle \
                of the dog, comes off. For a parallel flank it is the middle of the dog, and the cutter is set over."
            </p>
            <div class="scroll" tabindex="0" role="region"
                aria-label=format!("Index table of {}", sheet.side.lower_name())>
                <table class="figures">
                    <thead>
                        <tr>
                            <th scope="col">"Op."</th><th scope="col">"To"</th><th scope="col">"Position"</th>
                            <th scope="col">"° ′ ″"</th><th scope="col">"Crank: turns + holes"</th>
                            <th scope="col">"On from the last"</th><th scope="col">"Error"</th>
                            <th scope="col">"Table: turns + dial"</th>
                        </tr>
                    </thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </section>
    }
    .into_any()
}

fn tools(sheet: &SetUpSheet) -> AnyView {
    let row = |(name, text): &(&'static str, String)| {
        view! {
            <tr><th scope="row">{*name}</th><td class="words">{text.clone()}</td></tr>
        }
    };
    let rows = sheet.tools.iter().map(row).collect_view();
    let grits: Vec<_> = GRITS
        .iter()
        .map(|grit| format!("{} {} µm", grit.name, decimal(grit.median_um, 1)))
        .collect();
    let grits = format!(
        "{} (median, FEPA, ISO 6344); CAMI grits above 220 are finer or coarser than their number here",
        grits.join(", ")
    );
    view! {
        <section>
            <h4>"Cutter, wheel and stock"</h4>
            <table class="figures">
                <tbody>{rows}
                    <tr><th scope="row">"Grit for lapping"</th><td class="words">{grits}</td></tr>
                </tbody>
            </table>
        </section>
    }
    .into_any()
}

// ---- inspection ----

#[component]
fn Inspection(
    side: Side,
    sheet: Memo<Arc<SetUpSheet>>,
    typed: RwSignal<Measured>,
) -> impl IntoView {
    let state = use_app_state();
    let wrong = RwSignal::new(Vec::<String>::new());
    let heads = INSPECTED.map(|id| {
        let unit = move || id.spec().quantity.suffix(state.units.get());
        view! { <th scope="col">{here(id.spec().name())}" "<span class="quiet">{unit}</span></th> }
    });
    let rows = move || {
        sheet.with(|s| {
            let rows =
                s.inspection.iter().map(|dog| view! { <InspectedRow side dog=dog.clone() typed/> });
            rows.collect_view()
        })
    };
    let nothing = move || typed.with(|t| t.keys().all(|(of, ..)| *of != side));
    let take = move |_| {
        let units = state.units.get_untracked();
        let texts = typed.with_untracked(|t| {
            let own = t.iter().filter(|((of, ..), _)| *of == side);
            own.map(|((_, place, at), text)| ((*place, *at), text.clone()))
                .collect::<BTreeMap<_, _>>()
        });
        let result = state.analysis.with_untracked(|a| retyped(a, side, &texts, units));
        match result {
            Ok(taken) => {
                wrong.set(Vec::new());
                typed.update(|t| t.retain(|(of, ..), _| *of != side));
                state.change(|d| *d = taken.design);
                let dogs = state.with(|d| d.ring(side).places());
                state.tell(
                    format!(
                        "{} is now as measured: its {dogs} dogs are listed anew under Rings, numbered from 1. \
                        Cells left empty were taken at nominal, and the overlap at what is left of it. {} \
                        Undo brings it all back.",
                        side.name(),
                        taken.says
                    ),
                    false,
                );
            }
            Err(why) => wrong.set(why),
        }
    };
    view! {
        <section class="inspection">
            <h4>"Inspection, once it is cut"</h4>
            <p>
                "Nominal with tolerance (ISO 2768-1 m where nothing better is agreed), and room for what is \
                measured. Centres and widths are those of the tip at the mean diameter. The general tolerance of a \
                centre is far too coarse for dogs that are to share a load: agree on one for their spacing."
            </p>
            <div class="scroll" tabindex="0" role="region" aria-label=format!("Inspection of {}", side.lower_name())>
                <table class="figures">
                    <thead><tr><th scope="col">"Dog"</th>{heads.into_iter().collect_view()}</tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
            <p>{move || sheet.with(|s| s.hangs.clone())}</p>
            <ul class="wrong" aria-live="polite">
                {move || wrong.get().into_iter().map(|text| view! { <li>{text}</li> }).collect_view()}
            </ul>
            <button class="on-screen" disabled=nothing on:click=take>
                {format!("Take these for {} as measured", side.lower_name())}
            </button>
        </section>
    }
}

#[component]
fn InspectedRow(side: Side, dog: Inspected, typed: RwSignal<Measured>) -> impl IntoView {
    let state = use_app_state();
    let place = dog.place;
    let cells = INSPECTED.into_iter().enumerate().map(|(at, id)| {
        let (nominal, allowed) = (dog.nominal[at], dog.allowed[at]);
        let quantity = id.spec().quantity;
        let shown = move || {
            let units = state.units.get();
            let allowed = allowed.map_or(String::new(), |a| format!(" {}", a.words(quantity, units)));
            format!("{}{allowed}", quantity.format_kept(nominal, units))
        };
        let key = (side, place, at);
        let text = move || typed.with(|t| t.get(&key).cloned().unwrap_or_default());
        let put = move |event| {
            let text: String = event_target_value(&event);
            typed.update(|t| {
                if text.trim().is_empty() { t.remove(&key) } else { t.insert(key, text) };
            });
        };
        let label = format!("Dog {}{}, {} measured", side.letter(), place + 1, here(id.spec().name()).to_lowercase());
        view! {
            <td>
                <span class="nominal">{shown}</span>
                <input type="text" inputmode="decimal" autocomplete="off" aria-label=label prop:value=text
                    on:change=put/>
            </td>
        }
    });
    view! { <tr><th scope="row">{format!("{}{}", side.letter(), place + 1)}</th>{cells.collect_view()}</tr> }
}
