//! A strategy of cutting: which dogs of which ring, and what is done to them as the cut grows.

use super::step::{ShopStep, Steps};
use crate::analysis::Analysis;
use crate::design::{Cut, Design, MOST_OPERATIONS, Operation, RingSpec, Work};
use crate::fields::{FieldId, Slot};
use crate::ring::{Dog, FlankSide, PerSide, Ring, Side};
use crate::units::Angle;

/// Thickness that a cut has to leave of every dog, mm.
const LEAST_STANDING_MM: f64 = 1.0;

/// Heights closer than this are the same, mm.
const SAME_MM: f64 = 1e-6;

/// What is done to every second dog.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Treat {
    CutDown,
    Remove,
}

/// Every second dog that is present, on one ring or on both.
#[derive(Clone, Copy, Debug)]
struct AlternateDogs {
    treat: Treat,
    /// The place of the dog with which counting begins; `None` for a ring that is left unchanged.
    from: PerSide<Option<usize>>,
}

/// The dogs whose coast flanks are narrowed.
#[derive(Clone, Copy, Debug)]
struct Narrowed {
    sides: &'static [Side],
    /// Whether only the tallest dogs of a ring are narrowed.
    tall: bool,
}

#[derive(Clone, Copy, Debug)]
pub(super) struct CutStrategy {
    alternate: Option<AlternateDogs>,
    narrowed: Option<Narrowed>,
}

/// How large a cut is.
#[derive(Clone, Copy, Debug)]
pub(super) struct Size {
    /// The steps of its sizes.
    pub(super) steps: Steps,
    /// How far below the tallest dogs of their ring the treated ones are, mm, before their height is
    /// rounded down to a step.
    pub(super) lower_mm: f64,
    /// How many steps come off the coast flanks of each ring.
    pub(super) flank_steps: u32,
}

impl Size {
    fn flank_mm(self, standing: &Ring) -> f64 {
        self.steps.stock_mm(standing, self.flank_steps)
    }

    /// The height of a treated dog, mm.
    fn height_mm(self, standing: &Ring) -> f64 {
        self.steps.length.down(standing.tallest_mm() - self.lower_mm)
    }
}

/// The sizes worth trying, the smallest cut first.
#[derive(Clone, Debug)]
pub(super) struct Sizes {
    /// See [`Size::lower_mm`], from 0 on.
    pub(super) lowers_mm: Vec<f64>,
    /// The most of [`Size::flank_steps`].
    pub(super) most_flank_steps: u32,
}

/// What is common to strategies that read alike: they only differ in the dog they begin with, or in how
/// the flanks top up a cut of every second dog. The best of each kind is enough.
pub(super) type Kind = (Option<Treat>, [bool; 2], Option<&'static [Side]>);

impl CutStrategy {
    /// Every strategy that the rings as planned allow.
    pub(super) fn all(now: &Analysis) -> Vec<Self> {
        let unequal = Side::BOTH.into_iter().any(|side| {
            let ring = now.ring(side);
            ring.dogs.iter().any(|dog| dog.height_mm < ring.tallest_mm() - SAME_MM)
        });
        let mut list = Vec::new();
        for alternate in AlternateDogs::choices(now) {
            let cuts_down = alternate.is_some_and(|dogs| dogs.treat == Treat::CutDown);
            for narrowed in Narrowed::choices(unequal || cuts_down) {
                if alternate.is_some() || narrowed.is_some() {
                    list.push(Self { alternate, narrowed });
                }
            }
        }
        list
    }

    pub(super) const fn narrows(self) -> bool {
        self.narrowed.is_some()
    }

    pub(super) const fn treats_seconds(self) -> bool {
        self.alternate.is_some()
    }

    /// Whether a cut removes metal, from every ring whose dogs it names.
    pub(super) fn cuts(self, design: &Design, cut: &Design, size: Size) -> bool {
        let alternate = self.alternate.is_none_or(|alternate| {
            Side::BOTH.into_iter().filter(|side| alternate.from[*side].is_some()).all(|side| {
                let mut ring = design.ring(side).clone();
                alternate.on(side, &mut ring, size);
                ring.plan != design.ring(side).plan
            })
        });
        alternate && cut != design
    }

    pub(super) fn kind(self) -> Kind {
        let sides = self.narrowed.map(|narrowed| narrowed.sides);
        match self.alternate {
            None => (None, [false; 2], sides),
            Some(AlternateDogs { treat, from }) => {
                (Some(treat), from.map(|from| from.is_some()).into_array(), sides.map(|_| &[][..]))
            }
        }
    }

    /// The sizes worth trying; `None` if there are none.
    pub(super) fn sizes(self, now: &Analysis, steps: Steps) -> Option<Sizes> {
        let sides = self.narrowed.map_or(&[][..], |narrowed| narrowed.sides);
        let spare = sides.iter().map(|side| (now.ring(*side), spare_width_mm(now.ring(*side))));
        let has_room = spare.clone().all(|(_, mm)| mm.is_finite() && mm >= 0.0);
        let most = spare.map(|(ring, mm)| steps.stock_within(ring, mm));
        let lowers_mm = match self.alternate {
            Some(alternate) if alternate.treat == Treat::CutDown => {
                alternate.lowers_mm(now, steps.length)
            }
            _ => vec![0.0],
        };
        let most_flank_steps = most.min().unwrap_or_default();
        (has_room && !lowers_mm.is_empty()).then_some(Sizes { lowers_mm, most_flank_steps })
    }

    /// A design with the cut in its plan; `None` if a number of the cut is outside its limits.
    pub(super) fn on(self, design: &Design, size: Size) -> Option<Design> {
        let mut cut = design.clone();
        if let Some(alternate) = self.alternate {
            for side in Side::BOTH {
                alternate.on(side, cut.ring_mut(side), size);
            }
        }
        if let Some(narrowed) = self.narrowed.filter(|_| size.flank_steps > 0) {
            for side in narrowed.sides {
                narrowed.on(cut.ring_mut(*side), size);
            }
        }
        can_be_planned(&cut).then_some(cut)
    }
}

/// Whether the plans of a design fit into a file, with every number within its limits.
pub(super) fn can_be_planned(cut: &Design) -> bool {
    let fits = |side: Side| cut.ring(side).plan.operations.len() <= MOST_OPERATIONS;
    let numbers = cut.slots().into_iter().filter(|slot| matches!(slot, Slot::Work(..)));
    let mut wrong = numbers.filter_map(|slot| slot.check(cut.get(slot)?));
    Side::BOTH.into_iter().all(fits) && wrong.next().is_none()
}

/// How much can come off the flanks of a ring until its thinnest dog has the least thickness, mm.
fn spare_width_mm(ring: &Ring) -> f64 {
    let thin = |dog: &Dog| ring.thickness_mm(dog, 0.0).min(ring.thickness_mm(dog, dog.height_mm));
    ring.dogs.iter().map(thin).fold(f64::INFINITY, f64::min) - LEAST_STANDING_MM
}

/// The dogs with which the count of every second dog can begin. `None`, for no dogs at all, comes first;
/// then the second dog; and the first dog as well, unless the ring is even and its dogs are alike.
fn starts(ring: &Ring) -> Vec<Option<usize>> {
    let count = ring.dogs.len();
    if count < 2 || !count.is_multiple_of(2) {
        return vec![None];
    }
    let plain = |dog: &Dog| Dog { place: 0, centre: Angle::from_degrees(0.0), ..*dog };
    let alike = ring.dogs.iter().all(|dog| plain(dog) == plain(&ring.dogs[0]));
    let gaps = ring.gaps();
    let even = gaps.iter().all(|gap| (gap - gaps[0]).abs() < 1e-9);
    let [first, second] = [0, 1].map(|at| Some(ring.by_centre()[at].place));
    if alike && even { vec![None, second] } else { vec![None, second, first] }
}

impl AlternateDogs {
    /// `None` for no dogs, then every second dog of one ring or of both, cut down or removed.
    fn choices(now: &Analysis) -> Vec<Option<Self>> {
        let mut list = vec![None];
        for a in starts(now.ring(Side::A)) {
            for b in starts(now.ring(Side::B)) {
                if a.is_some() || b.is_some() {
                    let from = PerSide { a, b };
                    list.extend(
                        [Treat::CutDown, Treat::Remove].map(|treat| Some(Self { treat, from })),
                    );
                }
            }
        }
        list
    }

    /// Which places of a ring are treated.
    fn places(self, side: Side, standing: &Ring) -> Vec<usize> {
        self.from[side].map(|from| standing.every_second(from)).unwrap_or_default()
    }

    /// By how much the treated dogs can be lower, mm, from 0 on: every amount at which the height on one
    /// of the rings is a whole step.
    fn lowers_mm(self, now: &Analysis, step: ShopStep) -> Vec<f64> {
        let treated = Side::BOTH.into_iter().filter(|side| self.from[*side].is_some());
        let tallest: Vec<_> = treated.map(|side| now.ring(side).tallest_mm()).collect();
        let most = tallest.iter().copied().fold(f64::INFINITY, f64::min);
        let least = FieldId::ShortenTo.spec().min;
        let heights = |tall: &f64| {
            let tall = *tall;
            (0..=step.within(tall)).map(move |count| tall - step.times(count))
        };
        let lowers = tallest.iter().flat_map(heights);
        let mut lowers: Vec<_> =
            lowers.filter(|lower| (SAME_MM..=most - least).contains(lower)).collect();
        lowers.push(0.0);
        lowers.sort_by(f64::total_cmp);
        lowers.dedup_by(|a, b| *a - *b < SAME_MM);
        lowers
    }

    /// Cuts the dogs of one ring. Dogs that the plan removes, or makes lower already, are unchanged.
    fn on(self, side: Side, ring: &mut RingSpec, size: Size) {
        let standing = ring.to_cut();
        let height = size.height_mm(&standing);
        for place in self.places(side, &standing) {
            let taller = standing.at_place(place).is_some_and(|dog| dog.height_mm > height);
            match self.treat {
                Treat::Remove => ring.plan.set_cut(place, Some(Cut::Remove)),
                Treat::CutDown if size.lower_mm > 0.0 && taller => {
                    ring.plan.set_cut(place, Some(Cut::Shorten(height)));
                }
                Treat::CutDown => {}
            }
        }
    }
}

impl Narrowed {
    /// `None` for no flanks, then those of one ring or of both: of all dogs, and of the tallest alone if
    /// heights differ.
    fn choices(heights_differ: bool) -> Vec<Option<Self>> {
        const SIDES: [&[Side]; 3] = [&[Side::A], &[Side::B], &Side::BOTH];
        let of = |tall: bool| SIDES.map(|sides| Some(Self { sides, tall }));
        let mut list = vec![None];
        list.extend(of(false));
        if heights_differ {
            list.extend(of(true));
        }
        list
    }

    fn on(self, ring: &mut RingSpec, size: Size) {
        let standing = ring.to_cut();
        let lowest = if self.tall { standing.tallest_mm() - SAME_MM } else { 0.0 };
        let dogs = standing.dogs.iter().filter(|dog| dog.height_mm >= lowest);
        let places = dogs.map(|dog| dog.place).collect();
        let work = Work::narrow(FlankSide::Coast, size.flank_mm(&standing));
        ring.plan.operations.push(Operation { work, places });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{EvenLayout, Layout};

    #[test]
    fn every_second_dog_is_counted_where_there_are_two_at_least() {
        let ring = |count: f64| {
            let even = EvenLayout { count, tip_width_deg: 20.0, ..EvenLayout::default() };
            RingSpec { layout: Layout::Even(even), ..RingSpec::default() }.to_found()
        };
        let mut bare = ring(2.0);
        assert_eq!(starts(&bare), [None, Some(1)]);
        assert_eq!(starts(&ring(3.0)), [None]);
        bare.dogs[1].height_mm = 3.0;
        assert_eq!(starts(&bare), [None, Some(1), Some(0)]);
        bare.dogs.clear();
        assert_eq!(starts(&bare), [None]);
    }

    #[test]
    fn dogs_are_told_apart_by_their_height_only_where_it_differs() {
        let names_the_tallest = |text: &str| {
            let now = Analysis::of(&crate::design::open(text).expect("it opens").design);
            let flanks_only =
                CutStrategy::all(&now).into_iter().filter(|way| !way.treats_seconds());
            flanks_only.filter_map(|way| way.narrowed).any(|narrowed| narrowed.tall)
        };
        assert!(!names_the_tallest(r#"{ "crenel": 1 }"#));
        assert!(names_the_tallest(r#"{ "crenel": 1, "b": { "cuts": { "2": 4 } } }"#));
    }
}
