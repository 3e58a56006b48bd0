//! Random numbers, rings and designs.

use std::collections::BTreeSet;

use crenel::design::{
    ClawSpec, Clutch, Column, DepthSpec, Design, DetentSpec, DogSpec, EvenLayout, GAUGES, GearSpec,
    GearboxSpec, Layout, LinkSpec, LinkageSpec, LoadCase, MOST_ALTERNATIVES, MOST_GEARS,
    MOST_TOLERANCE, Normalize, Operation, PedalBy, Plan, Readings, RingPair, RingSpec, SPREADS,
    SYMPTOMS, SelectorSpec, SetLimits, Setting, ShiftFrom, SizeBy, TOLERANCED, Tolerances, Trace,
    TrackSpec, WORKS, Work,
};
use crenel::fields::FieldId;
use crenel::fields::Slot;
use crenel::finding::any_error;
use crenel::load::Carried;
use crenel::ring::{FlankSide, PlanForm, Ring, Side};
use crenel::shift::{Drive, Shaft};
use crenel::shop::indexing::Plates;
use crenel::shop::tolerance::{Grade, Limits};
use crenel::stack::PerFacing;
use crenel::units::Quantity;
use proptest::collection::{btree_set, vec};
use proptest::num::f64::{NEGATIVE, NORMAL, POSITIVE, SUBNORMAL, ZERO};
use proptest::option::of;
use proptest::prelude::*;
use proptest::sample::select;

/// A way to make up the number of a field.
pub(crate) type Numbers = fn(FieldId) -> BoxedStrategy<f64>;

/// A number the field accepts: its limits, its default, anywhere, and more often the low end,
/// where most parts are.
pub(crate) fn within(id: FieldId) -> BoxedStrategy<f64> {
    let field = id.spec();
    let (min, max) = (field.min, field.max);
    let whole = field.quantity == Quantity::Count;
    let value = prop_oneof![
        1 => Just(min),
        1 => Just(max),
        3 => Just(field.default),
        2 => min..=max,
        4 => min..=min + (max - min) * 0.1,
    ];
    value.prop_map(move |v| if whole { v.round() } else { v }).boxed()
}

/// A finite number that the field need not accept, over the whole range of exponents too.
pub(crate) fn finite(id: FieldId) -> BoxedStrategy<f64> {
    let field = id.spec();
    let nasty = vec![
        0.0,
        -0.0,
        f64::from_bits(1),
        1e-12,
        field.min - 1e-9,
        field.max + 1e-9,
        -field.max,
        360.0,
        1e9,
        1e300,
        f64::MAX,
        f64::MIN,
    ];
    let bits = POSITIVE | NEGATIVE | NORMAL | SUBNORMAL | ZERO;
    prop_oneof![4 => within(id), 1 => select(nasty), 1 => bits].boxed()
}

/// Any number at all.
pub(crate) fn any_number(id: FieldId) -> BoxedStrategy<f64> {
    let strange = vec![f64::NAN, f64::INFINITY, f64::NEG_INFINITY];
    prop_oneof![12 => finite(id), 1 => select(strange)].boxed()
}

fn all(fields: &[FieldId], numbers: Numbers) -> Vec<BoxedStrategy<f64>> {
    fields.iter().map(|&id| numbers(id)).collect()
}

// ---- designs of any kind ----

fn form() -> impl Strategy<Value = PlanForm> {
    select(vec![PlanForm::Radial, PlanForm::Parallel])
}

fn even(numbers: Numbers) -> impl Strategy<Value = Layout> {
    let heights = vec(prop_oneof![Just(1.0), Just(0.5), Just(0.0), 0.0..=1.0], 1..5);
    let by = select(vec![SizeBy::Dog, SizeBy::Gap]);
    (all(&EvenLayout::FIELDS, numbers), heights, by).prop_map(|(values, heights, size_by)| {
        let mut even = EvenLayout { heights, size_by, ..EvenLayout::default() };
        for (id, value) in EvenLayout::FIELDS.into_iter().zip(values) {
            *even.field_mut(id).expect("a field of an even ring") = value;
        }
        Layout::Even(even)
    })
}

fn dog_of(values: &[f64]) -> DogSpec {
    let mut dog = EvenLayout::default().dogs()[0];
    for (id, &value) in DogSpec::FIELDS.into_iter().zip(values) {
        *dog.field_mut(id).expect("a field of a dog") = value;
    }
    dog
}

fn dog(numbers: Numbers) -> impl Strategy<Value = DogSpec> {
    all(&DogSpec::FIELDS, numbers).prop_map(|values| dog_of(&values))
}

fn layout(numbers: Numbers) -> impl Strategy<Value = Layout> {
    let alike = (dog(numbers), 0_usize..4).prop_map(|(dog, n)| vec![dog; n]);
    let dogs = prop_oneof![3 => vec(dog(numbers), 0..8), 1 => alike];
    prop_oneof![even(numbers), dogs.prop_map(Layout::Measured)]
}

/// Work of any kind, its number from `numbers`.
pub(crate) fn work(numbers: Numbers) -> impl Strategy<Value = Work> {
    select(WORKS.to_vec()).prop_flat_map(move |kind| match kind.number {
        Some(id) => numbers(id).prop_map(move |number| Work { kind, number }).boxed(),
        None => Just(Work { kind, number: 0.0 }).boxed(),
    })
}

fn plan(numbers: Numbers) -> impl Strategy<Value = Plan> {
    let places = btree_set(0_usize..9, 1..4);
    let operation = (work(numbers), places).prop_map(|(work, places)| {
        // Lapping is done to all dogs; which ones is not kept.
        let places = if work.kind.is_on_all { BTreeSet::new() } else { places };
        Operation { work, places }
    });
    vec(operation, 0..4).prop_map(|operations| Plan { operations })
}

fn ring(numbers: Numbers) -> impl Strategy<Value = RingSpec> {
    let (inner, outer) = (numbers(FieldId::InnerDiameter), numbers(FieldId::OuterDiameter));
    let mass = numbers(FieldId::GearMass);
    (inner, outer, mass, form(), layout(numbers), plan(numbers), of(readings())).prop_map(
        |(inner_diameter_mm, outer_diameter_mm, gear_mass_kg, form, layout, plan, readings)| {
            RingSpec {
                inner_diameter_mm,
                outer_diameter_mm,
                form,
                layout,
                gear_mass_kg,
                plan,
                readings,
            }
        },
    )
}

/// Readings of any gauges, sensible or not.
fn readings() -> impl Strategy<Value = Readings> {
    let column = |dogs: usize| {
        let kind = select(GAUGES.to_vec());
        (kind, -10.0..100.0, -0.1..1.0, vec(of(-50.0..400.0), dogs)).prop_map(
            |(kind, set_at, sigma, cells)| {
                let set_at = kind.set_by.map_or(0.0, |_| set_at);
                Column { kind, set_at, sigma, cells }
            },
        )
    };
    let rest = move |dogs: usize| {
        let datum = (0..dogs, select(FlankSide::BOTH.to_vec()));
        let spread = select(SPREADS.map(|row| row.1).to_vec());
        (datum, spread, 0.0..3.0, vec(column(dogs), 0..4), btree_set(0..dogs, 0..=dogs)).prop_map(
            move |(datum, spread, reach_mm, columns, contact)| Readings {
                dogs,
                datum,
                spread,
                reach_mm,
                columns,
                contact,
            },
        )
    };
    (1_usize..12).prop_flat_map(rest)
}

fn setting(numbers: Numbers) -> impl Strategy<Value = Setting> {
    let drive = select(vec![Drive::Force, Drive::Drum, Drive::Both]);
    let from = select(vec![ShiftFrom::Typed, ShiftFrom::Typed, ShiftFrom::Up, ShiftFrom::Down]);
    let carried =
        select(vec![Carried::HalfAboveThree, Carried::All, Carried::Third, Carried::Spacing]);
    let case = select(vec![LoadCase::Throttle, LoadCase::Largest]);
    let words = (drive, from, carried, case);
    (all(&Setting::FIELDS, numbers), words).prop_map(|(values, (drive, from, carried, case))| {
        let mut setting = Setting::default();
        for (id, value) in Setting::FIELDS.into_iter().zip(values) {
            *setting.field_mut(id).expect("a field of the setting") = value;
        }
        (setting.drive, setting.from) = (drive, from);
        (setting.carried, setting.case) = (carried, case);
        setting
    })
}

fn gear(numbers: Numbers) -> impl Strategy<Value = GearSpec> {
    let shaft = select(vec![Shaft::Input, Shaft::Output]);
    (all(&GearSpec::FIELDS, numbers), shaft).prop_map(|(values, free_on)| {
        let mut gear = GearSpec::on(free_on);
        for (id, value) in GearSpec::FIELDS.into_iter().zip(values) {
            *gear.field_mut(id).expect("a field of a gear") = value;
        }
        gear
    })
}

fn gearbox(numbers: Numbers) -> impl Strategy<Value = GearboxSpec> {
    let gears = vec(gear(numbers), 0..=MOST_GEARS);
    let clutch = select(vec![Clutch::Pulled, Clutch::Gripping]);
    (all(&GearboxSpec::FIELDS, numbers), gears, clutch).prop_map(|(values, gears, clutch)| {
        let mut gearbox = GearboxSpec::with_gears(gears);
        for (id, value) in GearboxSpec::FIELDS.into_iter().zip(values) {
            *gearbox.field_mut(id).expect("a field of a gearbox") = value;
        }
        gearbox.clutch = clutch;
        gearbox
    })
}

fn alternatives(numbers: Numbers) -> impl Strategy<Value = Vec<RingPair>> {
    let pair = ("\\PC{0,20}", ring(numbers), ring(numbers));
    vec(pair.prop_map(|(title, a, b)| RingPair { title, a, b }), 0..=MOST_ALTERNATIVES)
}

fn linkage(numbers: Numbers) -> impl Strategy<Value = LinkageSpec> {
    let by = select(vec![PedalBy::RodAbove, PedalBy::RodBelow, PedalBy::OnShaft]);
    (all(&LinkageSpec::FIELDS, numbers), by).prop_map(|(values, by)| {
        let mut linkage = LinkageSpec::joined(by);
        for (id, value) in LinkageSpec::FIELDS.into_iter().zip(values) {
            *linkage.field_mut(id).expect("a field of a linkage") = value;
        }
        linkage
    })
}

fn claw(numbers: Numbers) -> impl Strategy<Value = ClawSpec> {
    all(&ClawSpec::FIELDS, numbers).prop_map(|values| {
        let mut claw = ClawSpec::default();
        for (id, value) in ClawSpec::FIELDS.into_iter().zip(values) {
            *claw.field_mut(id).expect("a field of a claw") = value;
        }
        claw
    })
}

fn detent(numbers: Numbers) -> impl Strategy<Value = DetentSpec> {
    all(&DetentSpec::FIELDS, numbers).prop_map(|values| {
        let mut detent = DetentSpec::default();
        for (id, value) in DetentSpec::FIELDS.into_iter().zip(values) {
            *detent.field_mut(id).expect("a field of a detent") = value;
        }
        detent
    })
}

fn track(numbers: Numbers) -> impl Strategy<Value = TrackSpec> {
    let point = (numbers(FieldId::TrackAngle), numbers(FieldId::TrackTravel));
    let points = vec(point.prop_map(|(deg, mm)| [deg, mm]), 0..5);
    (all(&TrackSpec::FIELDS, numbers), points, any::<bool>()).prop_map(
        |(values, mut points, sorted)| {
            if sorted {
                points.sort_by(|[one, _], [other, _]| one.total_cmp(other));
            }
            let mut track = TrackSpec::default();
            track.points = points;
            for (id, value) in TrackSpec::FIELDS.into_iter().zip(values) {
                *track.field_mut(id).expect("a field of a track") = value;
            }
            track
        },
    )
}

/// Parts between foot and fork, each of them there or not.
pub(crate) fn selector(numbers: Numbers) -> impl Strategy<Value = SelectorSpec> {
    let parts = (of(linkage(numbers)), of(claw(numbers)), of(detent(numbers)), of(track(numbers)));
    let parts = parts.prop_map(|(linkage, claw, detent, track)| SelectorSpec {
        linkage,
        claw,
        detent,
        track,
    });
    prop_oneof![1 => Just(SelectorSpec::default()), 2 => parts]
}

fn link(numbers: Numbers) -> impl Strategy<Value = LinkSpec> {
    let values = (numbers(FieldId::LinkSize), numbers(FieldId::LinkTolerance));
    ("\\PC{0,12}", values, any::<bool>())
        .prop_map(|(name, (size, tolerance), opens)| LinkSpec::new(&name, size, tolerance, opens))
}

pub(crate) fn depth(numbers: Numbers) -> impl Strategy<Value = DepthSpec> {
    let chain = || vec(link(numbers), 0..5);
    (all(&DepthSpec::FIELDS, numbers), chain(), chain()).prop_map(|(values, this, other)| {
        let mut depth = DepthSpec::default();
        depth.chains = PerFacing { this, other };
        for (id, value) in DepthSpec::FIELDS.into_iter().zip(values) {
            *depth.field_mut(id).expect("a field of the depth") = value;
        }
        depth
    })
}

pub(crate) fn trace(numbers: Numbers) -> impl Strategy<Value = Trace> {
    let ids: Vec<_> = Trace::FIELDS.to_vec();
    let measured = vec(select(ids), 0..8).prop_flat_map(move |ids| {
        let values = all(&ids, numbers);
        values.prop_map(move |values| ids.iter().copied().zip(values).collect())
    });
    let felt = btree_set(select(SYMPTOMS.to_vec()), 0..4);
    (felt, measured).prop_map(|(felt, measured)| Trace { felt, measured })
}

fn set_limits(numbers: Numbers) -> impl Strategy<Value = SetLimits> {
    let [lash, clunk] = SetLimits::FIELDS;
    (of(numbers(lash)), of(numbers(clunk))).prop_map(move |values| {
        let set = [(lash, values.0), (clunk, values.1)].into_iter();
        SetLimits { numbers: set.filter_map(|(id, value)| Some((id, value?))).collect() }
    })
}

/// The usual plates, in every fourth design only some of them.
fn plates(which: u64) -> Plates {
    let usual = Plates::default();
    if which & 0b11 != 0b10 {
        return usual;
    }
    let chosen = (2..).zip(usual.iter()).filter(|(at, _)| which >> at & 1 == 1);
    chosen.map(|(_, plate)| plate.clone()).collect()
}

/// Tolerances of a grade, for whole rings, some of them to one side.
fn tolerances() -> impl Strategy<Value = Tolerances> {
    let number = || of((0.0..=MOST_TOLERANCE, 0.0..=MOST_TOLERANCE));
    let sizes = proptest::array::uniform6((number(), number()));
    (select(Grade::ALL.to_vec()), sizes).prop_map(|(grade, sizes)| {
        let mut tolerances = Tolerances::of_grade(grade);
        for (at, (planned, measured)) in sizes.into_iter().enumerate() {
            let slot = Slot::Ring(Side::BOTH[at % 2], TOLERANCED[at]);
            let planned = planned.map(|(minus, plus)| Limits { minus, plus });
            tolerances.set_planned(slot, planned);
            tolerances.set_measured(slot, measured.map(|(number, _)| number));
        }
        tolerances
    })
}

/// The design with some of the numbers given that equal their default.
fn some_given(mut design: Design, which: u64) -> Design {
    let assumed = design.assumed();
    let chosen = (0..).zip(assumed).filter(|(at, _)| which >> (at % 64) & 1 == 1);
    design.given = chosen.map(|(_, slot)| slot).collect();
    design
}

/// Some of the numbers that can be unknown are, in every eighth design.
fn some_unknown(mut design: Design, which: u64) -> Design {
    if which & 0b111 == 0b111 {
        let able = design.slots().into_iter().filter(|slot| slot.can_be_unknown());
        let chosen: Vec<_> =
            (3..).zip(able).filter(|(at, _)| which >> (at % 64) & 1 == 1).collect();
        for (_, slot) in chosen {
            design.set_unknown(slot);
        }
    }
    design
}

/// What somebody does with variants; numbers choose among those there are.
#[derive(Clone, Debug)]
enum Step {
    Add(String),
    Copy(usize, String),
    Switch(usize),
    Rename(usize, String),
    Remove(usize),
    LeaveOut(usize),
    Plan(Plan, Plan),
    Measure(Box<RingSpec>, f64),
}

fn steps(numbers: Numbers) -> impl Strategy<Value = Vec<Step>> {
    let (at, name) = (0_usize..6, "\\PC{0,20}");
    let step = prop_oneof![
        name.prop_map(Step::Add),
        (at.clone(), name).prop_map(|(at, name)| Step::Copy(at, name)),
        at.clone().prop_map(Step::Switch),
        (at.clone(), name).prop_map(|(at, name)| Step::Rename(at, name)),
        at.clone().prop_map(Step::Remove),
        at.prop_map(Step::LeaveOut),
        (plan(numbers), plan(numbers)).prop_map(|(a, b)| Step::Plan(a, b)),
        (ring(numbers), numbers(FieldId::Overlap))
            .prop_map(|(ring, overlap)| Step::Measure(Box::new(ring), overlap)),
    ];
    prop_oneof![2 => Just(Vec::new()), 1 => vec(step, 1..12)]
}

/// Variants as they come about in use.
fn with_variants(mut design: Design, steps: Vec<Step>) -> Design {
    for step in steps {
        match step {
            Step::Add(name) => _ = design.add_variant("first".to_owned(), name),
            Step::Copy(at, name) => _ = design.duplicate_variant(at, name),
            Step::Switch(at) => _ = design.switch_variant(at),
            Step::Rename(at, name) => design.variants.rename(at, name),
            Step::Remove(at) => design.remove_variant(at),
            Step::LeaveOut(at) => design.variants.set_compared(at, false),
            Step::Plan(a, b) => (design.a.plan, design.b.plan) = (a, b),
            Step::Measure(ring, overlap) => {
                let mut measured = Design { a: *ring, ..design.clone() };
                measured.set(Slot::Setting(FieldId::Overlap), overlap);
                design.go_on_measured(measured, "planned".to_owned(), "measured".to_owned());
            }
        }
    }
    design
}

/// A design with these numbers in it, of which the rest may be as odd as it likes.
pub(crate) fn design(numbers: Numbers) -> impl Strategy<Value = Design> {
    let texts = (any::<String>(), ".{0,8}", "\\PC{0,60}");
    let gearbox = of(gearbox(numbers));
    let normalize = select(vec![Normalize::AsDrawn, Normalize::DogWidth, Normalize::FreeAngle]);
    let alternatives = prop_oneof![3 => Just(Vec::new()), 1 => alternatives(numbers)];
    let inwards = (selector(numbers), of(depth(numbers)), trace(numbers));
    let which = prop_oneof![Just(0), any::<u64>()];
    let limits = (set_limits(numbers), tolerances(), which, steps(numbers));
    let parts = (
        texts,
        ring(numbers),
        ring(numbers),
        setting(numbers),
        gearbox,
        alternatives,
        normalize,
        inwards,
        limits,
    );
    parts.prop_map(|(texts, a, b, setting, gearbox, alternatives, normalize, inwards, limits)| {
        let (limits, tolerances, which, steps) = limits;
        let (title, initials, notes) = texts;
        let (selector, depth, trace) = inwards;
        let design = Design {
            title,
            initials,
            notes,
            a,
            b,
            variants: Default::default(),
            setting,
            gearbox,
            alternatives,
            normalize,
            held_deg: (which & 1 == 1).then_some(f64::from(u8::try_from(which >> 56).unwrap_or(0))),
            selector,
            depth,
            trace,
            plates: plates(which),
            limits,
            tolerances,
            given: BTreeSet::new(),
            unknown: BTreeSet::new(),
            around: None,
        };
        some_unknown(some_given(with_variants(design, steps), which), which)
    })
}

// ---- rings that mesh ----

/// Two rings that share a band of radii; their dogs may run into each other or have no root.
pub(crate) fn wild_pair() -> impl Strategy<Value = [RingSpec; 2]> {
    let field = FieldId::InnerDiameter.spec();
    let band = (field.min..=field.max / 4.0, 1.0..40.0, prop_oneof![Just(0.0), -0.9..0.9]);
    // So few dogs that every pair of them can be asked about at every phase.
    let few = |mut spec: RingSpec| {
        if let Layout::Even(even) = &mut spec.layout {
            even.count = even.count.min(8.0);
        }
        spec
    };
    let ring = || ring(within).prop_map(few);
    (ring(), ring(), band).prop_map(|(a, b, (inner, length, shift))| {
        let shifted: f64 = inner + shift * length;
        let at = |inner: f64, ring: RingSpec| RingSpec {
            inner_diameter_mm: inner,
            outer_diameter_mm: inner + length,
            ..ring
        };
        [at(inner, a), at(shifted.max(0.5), b)]
    })
}

/// What one dog of a sound ring is like: gap and width as weights, height, back-cuts, edge.
fn weights() -> impl Strategy<Value = [f64; 6]> {
    let cut = |id: FieldId| {
        let (min, max) = (id.spec().min, id.spec().max);
        prop_oneof![2 => Just(0.0), 4 => min / 3.0..=max / 2.0, 1 => min..=max]
    };
    let height = prop_oneof![3 => Just(5.0), 2 => Just(2.5), 3 => 0.5..8.0];
    let edge = prop_oneof![2 => Just(0.0), 1 => 0.0..0.5];
    let drive = cut(FieldId::BackCutDrive);
    let coast = cut(FieldId::BackCutCoast);
    (0.1..1.0, 0.05..1.0, height, drive, coast, edge).prop_map(
        |(gap, width, height, drive, coast, edge)| [gap, width, height, drive, coast, edge],
    )
}

/// Dogs laid round the circle one after the other, so that none runs into the next at the tips.
fn laid_out(dogs: &[[f64; 6]], first: f64) -> Layout {
    let total: f64 = dogs.iter().map(|[gap, width, ..]| gap + width).sum();
    let mut from = first;
    let place = |&[gap, width, height, drive, coast, edge]: &[f64; 6]| {
        let [gap, width] = [gap, width].map(|w| w / total * 360.0);
        let centre = from + gap + width / 2.0;
        from += gap + width;
        dog_of(&[centre % 360.0, width, height, drive, coast, edge, 0.5])
    };
    Layout::Measured(dogs.iter().map(place).collect())
}

/// Dogs that lean over: undercut on one flank and tapered on the other, all alike, so far that a
/// flank of a narrow one crosses its own middle.
fn lean() -> impl Strategy<Value = Option<[f64; 2]>> {
    let cut = FieldId::BackCutDrive.spec();
    let both = (cut.max / 2.0..=cut.max, cut.min..=cut.min / 2.0, any::<bool>());
    let leaning = both.prop_map(|(under, over, drive)| match drive {
        true => Some([under, over]),
        false => Some([over, under]),
    });
    prop_oneof![3 => Just(None), 1 => leaning]
}

fn sound_ring(form: PlanForm, lean: Option<[f64; 2]>) -> impl Strategy<Value = RingSpec> {
    let unequal = vec(weights(), 1..6);
    let equal = (weights(), 1_usize..7).prop_map(|(dog, n)| vec![dog; n]);
    (prop_oneof![unequal, equal], 0.0..360.0).prop_map(move |(mut dogs, first)| {
        if let Some([drive, coast]) = lean {
            for dog in &mut dogs {
                let [gap, width, height, .., edge] = *dog;
                *dog = [gap, width / 5.0, height, drive, coast, edge];
            }
        }
        RingSpec { form, layout: laid_out(&dogs, first), ..RingSpec::default() }
    })
}

/// Numbers of work that takes a little off.
fn light(id: FieldId) -> std::ops::Range<f64> {
    match id {
        FieldId::ShortenTo => 0.5..5.0,
        FieldId::FlankStock => 0.01..1.0,
        FieldId::RecutTo => -3.0..10.0,
        FieldId::LapStock => 0.001..0.5,
        FieldId::BreakTo => 0.05..0.4,
        _ => id.spec().min..id.spec().max,
    }
}

/// Work that takes a little off some of a few dogs.
pub(crate) fn light_operation() -> impl Strategy<Value = Operation> {
    let work = work(|id| light(id).boxed());
    (work, btree_set(0_usize..6, 1..4)).prop_map(|(work, places)| {
        let places = if work.kind.is_on_all { BTreeSet::new() } else { places };
        Operation { work, places }
    })
}

fn light_plan() -> impl Strategy<Value = Plan> {
    let some = vec(light_operation(), 1..4).prop_map(|operations| Plan { operations });
    prop_oneof![2 => Just(Plan::default()), 1 => some]
}

fn worked_ring(form: PlanForm, lean: Option<[f64; 2]>) -> impl Strategy<Value = RingSpec> {
    let ring = sound_ring(form, lean);
    (ring, light_plan()).prop_map(|(ring, plan)| RingSpec { plan, ..ring })
}

/// A ring without an error in it, as found.
pub(crate) fn ring_as_found() -> impl Strategy<Value = RingSpec> {
    let ring = (form(), lean()).prop_flat_map(|(form, lean)| sound_ring(form, lean));
    ring.prop_filter("has errors", |ring| !any_error(&ring.check(Side::A)))
}

/// What one dog of a tight pair is like: degrees wider and off its place, height, back-cuts.
fn tight_dog() -> impl Strategy<Value = [f64; 5]> {
    let height = prop_oneof![3 => Just(5.0), 1 => 2.0..5.0];
    let undercut = || prop_oneof![Just(8.0), 0.0..14.0];
    (-1.5..1.5, -0.5..0.5, height, undercut(), undercut()).prop_map(|d| [d.0, d.1, d.2, d.3, d.4])
}

/// Dogs evenly round the circle, each `share` of the pitch wide but for its own deviation.
fn tight_ring(count: usize, share: f64) -> impl Strategy<Value = RingSpec> {
    (vec(tight_dog(), count), 0.0..360.0).prop_map(move |(dogs, first)| {
        let pitch = 360.0 / f64::from(u32::try_from(dogs.len()).expect("few dogs"));
        let mut from = first;
        let place = |[wider, off, height, drive, coast]: [f64; 5]| {
            from += pitch;
            let width = share * pitch + wider;
            dog_of(&[(from + off) % 360.0, width, height, drive, coast, 0.0, 0.5])
        };
        let layout = Layout::Measured(dogs.into_iter().map(place).collect());
        RingSpec { layout, ..RingSpec::default() }
    })
}

/// Rings whose dogs fill each other's gaps to a degree or two: some gaps are closed at the tips,
/// and undercut opens pockets below them that nothing leads to.
fn tight_pair() -> impl Strategy<Value = [RingSpec; 2]> {
    let shares = (2_usize..7, 0.3..0.7);
    shares.prop_flat_map(|(n, share)| {
        [tight_ring(n, share).boxed(), tight_ring(n, 1.0 - share).boxed()]
    })
}

fn loose_pair() -> impl Strategy<Value = [RingSpec; 2]> {
    (form(), lean()).prop_flat_map(|(form, lean)| {
        [worked_ring(form, lean).boxed(), worked_ring(form, lean).boxed()]
    })
}

/// Two rings of the default diameters without an error in them.
pub(crate) fn sound_pair() -> impl Strategy<Value = [RingSpec; 2]> {
    let sound =
        |[a, b]: &[RingSpec; 2]| !any_error(&a.check(Side::A)) && !any_error(&b.check(Side::B));
    prop_oneof![loose_pair(), tight_pair()].prop_filter("has errors", sound)
}

pub(crate) fn as_cut(pair: &[RingSpec; 2]) -> [Ring; 2] {
    pair.each_ref().map(RingSpec::to_cut)
}
