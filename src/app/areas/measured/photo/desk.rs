//! A photograph that is open: its circles, its ring, and what somebody placed by hand.

use std::collections::BTreeMap;
use std::sync::Arc;

use leptos::prelude::*;
use wasm_bindgen_futures::spawn_local;

use crenel::design::PhotoFlank;
use crenel::ring::FlankSide;
use crenel_photo::{Doubt, Flank, Handle, Hints, Measured, NotMeasured};
use crenel_words::page::photo as say;
use crenel_words::{Advice, Message};

use super::super::sheet::Sheet;
use super::picture::{Kept, Picture, open};
use crate::background::{Background, photo as worker};
use crate::state::here;

/// What is dragged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Grip {
    /// A handle of the circles.
    Circle(Handle),
    /// A flank: the dog in the order of the picture, and 0 for its drive flank.
    Flank(usize, usize),
}

/// The uncertainty of a flank that was placed by hand, px.
const BY_HAND_PX: f64 = 1.0;

/// How far the tip of a dog surely reaches beside a flank, radians.
const BESIDE: f64 = 0.1;

/// A photograph on the page.
#[derive(Clone, Copy)]
pub(super) struct Desk {
    pub(super) sheet: Sheet,
    pub(super) picture: RwSignal<Option<Picture>, LocalStorage>,
    pub(super) hints: RwSignal<Option<Hints>>,
    pub(super) ring: RwSignal<Option<Arc<Measured>>>,
    /// Flanks that were placed by hand, and `None` for those left out.
    pub(super) placed: RwSignal<BTreeMap<(usize, usize), Option<f64>>>,
    /// What is dragged or chosen.
    pub(super) grip: RwSignal<Option<Grip>>,
    /// The dog of the picture that is the first one of the ring.
    pub(super) first: RwSignal<usize>,
    /// Whether the tips are brighter than the gaps, where somebody said so.
    pub(super) bright: RwSignal<Option<bool>>,
    /// The diameter that is known, mm, and whether it is that of the outer circle.
    pub(super) diameter_mm: RwSignal<f64>,
    pub(super) is_outer: RwSignal<bool>,
    /// Heights of outer and inner circle above the tips, mm.
    pub(super) heights_mm: [RwSignal<f64>; 2],
    /// The picture as it is kept in the file, if it is.
    pub(super) kept: RwSignal<Option<Kept>>,
    /// What is going on.
    pub(super) busy: RwSignal<Option<fn() -> Message>>,
    /// What went wrong.
    pub(super) wrong: RwSignal<Option<Advice>>,
    worker: StoredValue<Option<Background>, LocalStorage>,
}

impl Desk {
    pub(super) fn new(sheet: Sheet) -> Self {
        let diameter = sheet.state.with(|d| d.ring(sheet.side).outer_diameter_mm);
        let desk = Self {
            sheet,
            picture: RwSignal::new_local(None),
            hints: RwSignal::new(None),
            ring: RwSignal::new(None),
            placed: RwSignal::default(),
            grip: RwSignal::new(None),
            first: RwSignal::new(0),
            bright: RwSignal::new(None),
            diameter_mm: RwSignal::new(diameter),
            is_outer: RwSignal::new(true),
            heights_mm: [RwSignal::new(0.0), RwSignal::new(0.0)],
            kept: RwSignal::new(None),
            busy: RwSignal::new(None),
            wrong: RwSignal::new(None),
            worker: StoredValue::new_local(None),
        };
        on_cleanup(move || desk.give_back());
        desk
    }

    /// Gives back the memory of picture and worker.
    fn give_back(self) {
        if let Some(Some(picture)) = self.picture.try_get_untracked() {
            picture.close();
        }
        if let Some(Some(worker)) = self.worker.try_get_value() {
            worker.end();
        }
    }

    /// Opens a file in place of the picture there is.
    pub(super) fn open(self, file: web_sys::Blob) {
        self.open_then(file, Self::suggest);
    }

    /// Opens a file in place of the picture there is, and does what comes then.
    pub(super) fn open_then(self, file: web_sys::Blob, then: impl FnOnce(Self) + 'static) {
        self.busy.set(Some(say::opening));
        self.wrong.set(None);
        spawn_local(async move {
            let opened = open(&file).await;
            // By then the desk may be closed.
            if self.busy.try_set(None).is_some() {
                opened.into_iter().for_each(|picture| picture.close());
                return;
            }
            match opened {
                Ok(picture) => {
                    self.begin(picture);
                    then(self);
                }
                Err(why) => self.wrong.set(Some(why)),
            }
        });
    }

    fn begin(self, picture: Picture) {
        if let Some(before) = self.picture.get_untracked() {
            before.close();
        }
        self.hints.set(None);
        self.ring.set(None);
        self.placed.set(BTreeMap::new());
        self.grip.set(None);
        self.first.set(0);
        self.kept.set(None);
        self.picture.set(Some(picture));
    }

    /// Lets the picture itself suggest its circles.
    pub(super) fn suggest(self) {
        let light = self.light();
        let Some(light) = light else { return };
        let dogs = untrack(|| self.sheet.with(|read| read.readings.dogs));
        let diameter = self.diameter_mm.get_untracked();
        self.busy.set(Some(say::measuring));
        worker::ask_where(&self.worker(), &light, u32::try_from(dogs).unwrap_or(6), diameter);
    }

    fn light(self) -> Option<worker::Light> {
        self.picture.with_untracked(|p| p.as_ref().map(|picture| picture.light.clone()))
    }

    fn worker(self) -> Background {
        if let Some(worker) = self.worker.get_value() {
            return worker;
        }
        let worker = worker::start(move |looked| {
            // By then the desk may be closed.
            if self.busy.try_set(None).is_none() {
                self.looked(looked);
            }
        });
        self.worker.set_value(Some(worker.clone()));
        worker
    }

    fn looked(self, looked: worker::Looked) {
        let Some(size) = self.picture.with_untracked(|p| p.as_ref().map(Picture::size)) else {
            return;
        };
        let hints = looked.hints.unwrap_or_else(|| Hints::in_the_middle(size));
        self.placed.set(BTreeMap::new());
        match looked.ring {
            Ok(ring) => {
                self.hints.set(Some(hints.snapped(&ring)));
                self.ring.set(Some(Arc::new(ring)));
                self.wrong.set(None);
            }
            Err(why) => {
                self.hints.set(Some(hints));
                self.ring.set(None);
                self.wrong.set(Some(reason(why)));
            }
        }
        if matches!(self.grip.get_untracked(), Some(Grip::Flank(..))) {
            self.grip.set(None);
        }
    }

    /// Measures the ring under the circles as they are now.
    pub(super) fn measure(self) {
        let (Some(light), Some(hints)) = (self.light(), untrack(|| self.asked())) else { return };
        self.busy.set(Some(say::measuring));
        worker::ask(&self.worker(), &light, &hints);
    }

    /// The circles as they are now, with all that is known.
    pub(super) fn asked(self) -> Option<Hints> {
        let mut hints = self.hints.get()?;
        let diameter = Some(self.diameter_mm.get());
        let is_outer = self.is_outer.get();
        let [outer, inner] = self.heights_mm.map(|height| height.get());
        hints.outer.diameter_mm = diameter.filter(|_| is_outer);
        hints.inner.diameter_mm = diameter.filter(|_| !is_outer);
        (hints.outer.height_mm, hints.inner.height_mm) = (outer, inner);
        hints.bright = self.bright.get();
        hints.dogs = Some(self.sheet.with(|read| read.readings.dogs));
        hints.tips_mm = self.sheet.state.with(|d| {
            let ring = d.ring(self.sheet.side);
            Some([ring.inner_diameter_mm, ring.outer_diameter_mm])
        });
        Some(hints)
    }

    // ---- dogs that were cut down ----

    /// How far the tip of a dog is below the others, mm.
    pub(super) fn below(self, dog: usize) -> f64 {
        let below = |ring: &Arc<Measured>| Some(ring.dogs.get(dog)?.below_mm);
        self.ring.with(|ring| ring.as_ref().and_then(below)).unwrap_or_default()
    }

    /// Says how far the tip of a dog is below the others, mm, and measures again.
    pub(super) fn lower(self, dog: usize, below_mm: f64) {
        let ends = untrack(|| [0, 1].map(|side| self.angle(dog, side)));
        // Of a dog with one flank in sight some of its tip is beside that.
        let (from, to) = match ends {
            [Some(from), Some(to)] => (from, to),
            [Some(from), None] => (from, from + BESIDE),
            [None, Some(to)] => (to - BESIDE, to),
            [None, None] => return,
        };
        self.hints.update(|hints| {
            hints.iter_mut().for_each(|hints| hints.lower(from, to, below_mm));
        });
        self.measure();
    }

    /// Whether a dog lies off the circles of the others.
    pub(super) fn is_off(self, dog: usize) -> bool {
        let doubts = [0, 1].map(|side| self.flank(dog, side).and_then(|flank| flank.doubt));
        doubts.contains(&Some(Doubt::OffCircle))
    }

    // ---- handles ----

    /// Where a handle is, px of the picture.
    pub(super) fn place(self, grip: Grip) -> Option<[f64; 2]> {
        match grip {
            Grip::Flank(dog, side) => {
                let angle = self.angle(dog, side)?;
                self.ring.with(|ring| Some(ring.as_ref()?.flank_at(dog, angle)[1]))
            }
            Grip::Circle(handle) => self.hints.with(|hints| Some(hints.as_ref()?.handle(handle))),
        }
    }

    /// The angle of a flank: as placed, or as measured.
    pub(super) fn angle(self, dog: usize, side: usize) -> Option<f64> {
        let placed = self.placed.with(|placed| placed.get(&(dog, side)).copied().flatten());
        placed
            .or_else(|| self.flank(dog, side)?.angle)
            .or_else(|| self.ring.with(|ring| ring.as_ref()?.expected(dog, side)))
    }

    pub(super) fn flank(self, dog: usize, side: usize) -> Option<Flank> {
        self.ring.with(|ring| {
            let dog = ring.as_ref()?.dogs.get(dog)?;
            Some(if side == 0 { dog.drive } else { dog.coast })
        })
    }

    /// Moves a handle to a place of the picture.
    pub(super) fn move_to(self, grip: Grip, to: [f64; 2]) {
        match grip {
            Grip::Flank(dog, side) => {
                let ring = self.ring.get_untracked();
                if let Some(angle) = ring.map(|ring| ring.angle_at(dog, to)) {
                    self.put(dog, side, angle);
                }
            }
            Grip::Circle(handle) => self.hints.update(|hints| {
                *hints = hints.take().map(|hints| hints.dragged(handle, to));
            }),
        }
    }

    /// Lets go of a handle: circles snap to the edges.
    pub(super) fn let_go(self, grip: Grip) {
        if !matches!(grip, Grip::Flank(..)) {
            self.measure();
        }
    }

    /// Moves a handle by so many px to the right and down; a flank along its circle, by tenths.
    pub(super) fn nudge(self, grip: Grip, [right, down]: [f64; 2]) {
        if let Grip::Flank(dog, side) = grip {
            let by = if right == 0.0 { -down } else { right };
            return self.turn(dog, side, by * 0.1);
        }
        if let Some([x, y]) = untrack(|| self.place(grip)) {
            self.move_to(grip, [x + right, y + down]);
        }
    }

    /// Turns a flank counter-clockwise by so many px.
    pub(super) fn turn(self, dog: usize, side: usize, px: f64) {
        let step = self.ring.with_untracked(|ring| {
            let ring = ring.as_ref()?;
            Some(ring.angle_of_px())
        });
        if let (Some(step), Some(angle)) = (step, untrack(|| self.angle(dog, side))) {
            self.put(dog, side, angle + px * step);
        }
    }

    /// Places a flank by hand.
    fn put(self, dog: usize, side: usize, angle: f64) {
        self.placed.update(|placed| {
            placed.insert((dog, side), Some(angle));
        });
    }

    /// Uses a flank as it is now, or leaves it out.
    pub(super) fn use_flank(self, dog: usize, side: usize, is_used: bool) {
        let angle = untrack(|| self.angle(dog, side)).filter(|_| is_used);
        let is_sure = untrack(|| self.flank(dog, side)).is_some_and(|flank| flank.doubt.is_none());
        self.placed.update(|placed| {
            if is_used && is_sure && placed.get(&(dog, side)) == Some(&None) {
                placed.remove(&(dog, side));
            } else {
                placed.insert((dog, side), angle);
            }
        });
    }

    /// Whether a flank is used: placed by hand, or sure and not left out.
    pub(super) fn is_used(self, dog: usize, side: usize) -> bool {
        match self.placed.with(|placed| placed.get(&(dog, side)).copied()) {
            Some(placed) => placed.is_some(),
            None => self.flank(dog, side).is_some_and(|flank| flank.doubt.is_none()),
        }
    }

    /// The dog of the picture that is the nth of the ring.
    pub(super) fn nth(self, place: usize, dogs: usize) -> usize {
        (place + self.first.get()) % dogs.max(1)
    }

    /// The place in the ring of a dog of the picture.
    pub(super) fn place_of(self, dog: usize) -> usize {
        let dogs = self.ring.with(|ring| ring.as_ref().map_or(1, |ring| ring.dogs.len())).max(1);
        (dog + dogs - self.first.get() % dogs) % dogs
    }

    /// Counts the dogs from the next one on.
    pub(super) fn next_first(self) {
        let dogs = self.ring.with_untracked(|ring| ring.as_ref().map_or(1, |ring| ring.dogs.len()));
        self.first.update(|first| *first = (*first + 1) % dogs.max(1));
    }

    /// Every flank that is used, dog by dog as the ring counts them.
    pub(super) fn readings(self) -> Vec<[Option<PhotoFlank>; 2]> {
        let Some(ring) = self.ring.get() else { return Vec::new() };
        let by_hand = BY_HAND_PX * ring.angle_of_px();
        let many = ring.dogs.len();
        (0..many)
            .map(|place| {
                let dog = self.nth(place, many);
                [0, 1].map(|side| {
                    let flank = self.flank(dog, side).filter(|_| self.is_used(dog, side))?;
                    let is_placed = self.placed.with(|placed| placed.contains_key(&(dog, side)));
                    let sigma = if is_placed { flank.sigma.max(by_hand) } else { flank.sigma };
                    let deg = self.angle(dog, side)?.to_degrees();
                    Some(PhotoFlank { deg, sigma_deg: sigma.to_degrees() })
                })
            })
            .collect()
    }

    /// The angle of a flank from the first one that is used, and its uncertainty, degrees.
    pub(super) fn told(self, dog: usize, side: usize) -> Option<[f64; 2]> {
        let readings = self.readings();
        let own = readings.get(self.place_of(dog)).and_then(|dog| dog[side]);
        let first = readings.iter().flatten().flatten().next().map_or(0.0, |first| first.deg);
        let deg = self.angle(dog, side)?.to_degrees();
        let sigma = own.map_or_else(
            || self.flank(dog, side).map(|f| f.sigma.to_degrees()),
            |own| Some(own.sigma_deg),
        )?;
        Some([(deg - first + 1.0).rem_euclid(360.0) - 1.0, crenel::design::COVERAGE * sigma])
    }

    /// Adds what was read to the readings; returns whether it did.
    pub(super) fn take(self) -> bool {
        let flanks = untrack(|| self.readings());
        let many = flanks.iter().flatten().flatten().count();
        let has_room = self.sheet.has_room(PhotoFlank::columns_of(&flanks));
        if has_room {
            self.sheet.change(|readings| {
                readings.add_photo(&flanks);
            });
            self.sheet.state.flash(here(say::taken(many)));
        }
        has_room
    }
}

/// The name of a flank.
pub(super) fn side_name(side: usize) -> Message {
    match FlankSide::BOTH[side.min(1)] {
        FlankSide::Drive => say::drive(),
        FlankSide::Coast => say::coast(),
    }
}

fn reason(why: NotMeasured) -> Advice {
    match why {
        NotMeasured::NoDiameter => say::no_diameter(),
        NotMeasured::TooSmall => say::too_small(),
        NotMeasured::NotInPicture => say::not_in_picture(),
        NotMeasured::NoDogs => say::no_dogs(),
        NotMeasured::NoCircle => say::no_circle(),
    }
}
