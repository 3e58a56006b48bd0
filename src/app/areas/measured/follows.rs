//! What follows from the readings: the dogs with their uncertainty, the closing error, what does not fit, what the
//! marks say, and the button that uses the dogs.

use leptos::prelude::*;

use crenel::design::{COVERAGE, DogSpec, GaugedDog, SPREADS, Wrong, contact_words};
use crenel::fields::FieldId;
use crenel::gauging::{Contact, Origin};
use crenel::units::DisplayUnits;
use crenel_words::page::{common, measured as say};
use crenel_words::{Message, Value};

use super::sheet::{Read, Sheet};
use crate::state::here;

#[component]
pub(super) fn Follows(sheet: Sheet) -> impl IntoView {
    let is_read = Memo::new(move |_| sheet.with(|read| !read.readings.is_empty()));
    view! {
        <section class="measured-follows" aria-label=here(say::follows())>
            <h3>{here(say::follows())}</h3>
            {move || if is_read.get() {
                view! { <Result sheet/> }.into_any()
            } else {
                view! { <p class="quiet">{here(say::nothing_read())}</p> }.into_any()
            }}
        </section>
    }
}

#[component]
fn Result(sheet: Sheet) -> impl IntoView {
    let lines = move |of: fn(&Read) -> Vec<Message>| {
        move || {
            let reader = sheet.state.reader();
            let lines = sheet.with(of);
            lines.iter().map(|line| view! { <p>{line.show(reader)}</p> }).collect_view()
        }
    };
    let grave = move || {
        let reader = sheet.state.reader();
        let grave = sheet.with(does_not_fit);
        grave.iter().map(|line| view! { <p class="wrong">{line.show(reader)}</p> }).collect_view()
    };
    view! {
        <Fitted sheet/>
        <div class="closing">{lines(closing)}</div>
        <div aria-live="polite">{grave}</div>
        <div class="contact-says">{lines(contact_says)}</div>
        <Use sheet/>
    }
}

/// The sizes that a reading can give, in the order in which they are shown.
const SIZES: [FieldId; DogSpec::FIELDS.len()] = DogSpec::FIELDS;

/// The dogs with the uncertainty of each size. Sizes that nothing was read for are left out.
#[component]
fn Fitted(sheet: Sheet) -> impl IntoView {
    let sizes = Memo::new(move |_| {
        let dogs = |read: &Read| {
            let dogs = read.gauged.iter().flat_map(|ring| &ring.dogs);
            let dogs = dogs.collect::<Vec<_>>();
            let is_read = |id: &FieldId| dogs.iter().any(|dog| origin(dog, *id) != Origin::Kept);
            SIZES.into_iter().filter(is_read).collect::<Vec<_>>()
        };
        sheet.with(dogs)
    });
    let heads = move || {
        let units = sheet.state.units.get();
        let head = |id: FieldId| {
            let unit = id.spec().quantity.suffix(units);
            view! { <th scope="col">{here(id.spec().name())}" "<span class="quiet">{unit}</span></th> }
        };
        sizes.get().into_iter().map(head).collect_view()
    };
    let rows = move || {
        let (units, sizes) = (sheet.state.units.get(), sizes.get());
        sheet.with(|read| {
            let dogs = read.gauged.iter().flat_map(|ring| &ring.dogs).enumerate();
            let row = |(place, dog): (usize, &GaugedDog)| {
                let cells = sizes.iter().map(|id| size_cell(dog, *id, units)).collect_view();
                view! {
                    <tr><th scope="row">{format!("{}{}", sheet.side.letter(), place + 1)}</th>{cells}</tr>
                }
            };
            dogs.map(row).collect_view()
        })
    };
    let is_fitted = Memo::new(move |_| sizes.with(|sizes| !sizes.is_empty()));
    move || {
        is_fitted.get().then(|| {
            view! {
                <div class="scroll" tabindex="0" role="region" aria-label=here(say::dogs_of(sheet.side))>
                    <table class="figures">
                        <thead><tr><th scope="col">{here(common::dog_head)}</th>{heads}</tr></thead>
                        <tbody>{rows}</tbody>
                    </table>
                </div>
                <p class="quiet">{here(say::plus_minus())}</p>
            }
        })
    }
}

fn origin(dog: &GaugedDog, id: FieldId) -> Origin {
    dog.sizes.iter().find(|size| size.0 == id).map_or(Origin::Kept, |size| size.2)
}

/// A size with its uncertainty, or with what it was taken from.
fn size_cell(dog: &GaugedDog, id: FieldId, units: DisplayUnits) -> impl IntoView + use<> {
    let quantity = id.spec().quantity;
    let sigma = dog.sizes.iter().find(|size| size.0 == id).map_or(0.0, |size| size.1.sigma);
    let value = quantity.format(dog.spec.field(id).unwrap_or_default(), units);
    let beside = match origin(dog, id) {
        Origin::Measured if sigma > 0.0 => {
            format!("±{}", quantity.format(COVERAGE * sigma, units))
        }
        // The datum is where it is by itself.
        Origin::Measured => String::new(),
        Origin::Alike(..) => here(say::size_alike()).into_owned(),
        Origin::Mean => here(say::size_mean()).into_owned(),
        Origin::Rest => here(say::size_rest()).into_owned(),
        Origin::Kept => here(say::size_kept()).into_owned(),
    };
    view! { <td>{value}" "<span class="quiet">{beside}</span></td> }
}

/// The closing error and how it is spread, and how many readings are checked by others.
fn closing(read: &Read) -> Vec<Message> {
    let Some(ring) = read.gauged.as_ref().filter(|ring| !ring.checked.is_empty()) else {
        return Vec::new();
    };
    let name = SPREADS.iter().find(|row| row.1 == read.readings.spread).map(|row| (row.2)());
    let closed = match ring.closing {
        None => vec![say::not_closed()],
        Some(off) => {
            let says = if off.value < 0.0 { say::closing_over } else { say::closing_short };
            let says = says(off.value.abs(), COVERAGE * off.sigma);
            [Some(says), name.map(say::spread_how)].into_iter().flatten().collect()
        }
    };
    let by_others = ring.checked.iter().filter(|(_, one)| one.sigma.is_some()).count();
    let is_marked = ring.checked.iter().any(|(_, one)| one.marked);
    let fits = (by_others > 0 && !is_marked).then(say::fits);
    let checked = say::checked(by_others, ring.checked.len());
    closed.into_iter().chain([checked]).chain(fits).collect()
}

/// What does not fit: how many readings are marked, the closing error, and readings that no ring comes near.
fn does_not_fit(read: &Read) -> Vec<Message> {
    let Some(ring) = &read.gauged else { return Vec::new() };
    let marked = ring.checked.iter().filter(|(_, one)| one.marked).count();
    let whole = ring.faults.iter().filter(|fault| fault.at == Wrong::Whole);
    let whole = whole.flat_map(|fault| [fault.says.says.clone(), fault.says.next.clone()]);
    (marked > 0).then(|| say::does_not_fit(marked)).into_iter().chain(whole).collect()
}

/// What the marks say, and what the spacing says by itself.
fn contact_says(read: &Read) -> Vec<Message> {
    let Some(ring) = &read.gauged else { return Vec::new() };
    let says = |head: fn() -> Message, found: Option<Contact>| {
        found.into_iter().flat_map(move |found| [head(), contact_words(found)])
    };
    says(say::by_blue, ring.contact).chain(says(say::by_spacing, ring.spacing)).collect()
}

/// The button that uses the dogs, and whether they are used.
#[component]
fn Use(sheet: Sheet) -> impl IntoView {
    let can_be = Memo::new(move |_| {
        let is_fitted = |read: &Read| read.gauged.as_ref().is_some_and(|r| !r.dogs.is_empty());
        sheet.with(|read| read.readings.has_readings() && is_fitted(read) && !read.is_used)
    });
    let take = move |_| {
        sheet.state.change(|d| {
            d.use_readings(sheet.side);
        });
        let dogs = sheet.state.with(|d| d.ring(sheet.side).places());
        sheet.state.flash(here(say::used(sheet.side, dogs)));
    };
    let told = move || {
        let side = sheet.side;
        let told = sheet.with(|read| {
            let names = |dogs: &[usize]| {
                let name = |dog: &usize| Value::from(say::dog_name(side, *dog));
                dogs.iter().map(name).collect::<Vec<_>>()
            };
            match (read.is_used, &read.differing[..]) {
                (true, _) => say::follows_now(side),
                (false, []) => say::not_used(side),
                (false, dogs) => say::typed_by_hand(side, names(dogs)),
            }
        });
        told.show(sheet.state.reader())
    };
    view! {
        <p>{told}</p>
        <button class="main" disabled=move || !can_be.get() on:click=take>{here(say::use_dogs())}</button>
    }
}
