//! Where wheels and sliders lie along their shafts in neutral, and how large they are drawn.
//!
//! What lies between a slider and a wheel that it engages is true: heights of the dogs, the clearance between their
//! tips, the groove. Where nobody gives a size it is a plain one: see [`ShaftSection`](super::ShaftSection).

use crate::design::{ForkField, Place, WheelField, WheelKind};
use crate::draw::frame::drawable;
use crate::gearset::GearsetAnalysis;
use crate::ring::Side;

/// Width of a wheel, and room between neighbours, mm.
const WHEEL_MM: f64 = 12.0;
const BETWEEN_MM: f64 = 1.5;

/// Room that a slider needs towards a neighbour that it does not engage, mm.
const TRAVEL_MM: f64 = 8.0;

/// From the groove of a slider to either of its faces, mm.
const FLANGE_MM: f64 = 4.0;

/// Radius of a shaft as a share of the smallest inner radius of its dogs.
const SHAFT_SHARE: f64 = 0.55;

/// How far a wheel stands out beyond its dogs, and beyond its shaft, at least, mm.
const BEYOND_MM: f64 = 4.0;

/// Sizes where no ring is known: inner and outer radius and height of the dogs, mm.
const PLAIN: RingSize = RingSize { inner_mm: 22.0, outer_mm: 30.0, height_mm: 5.0 };

/// Most mm between two shafts.
const FARTHEST_MM: f64 = 400.0;

/// The size of a set of dogs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct RingSize {
    pub(super) inner_mm: f64,
    pub(super) outer_mm: f64,
    pub(super) height_mm: f64,
}

/// A wheel or a slider on its shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Body {
    pub(super) kind: WheelKind,
    /// Its middle along the shaft, mm, in neutral.
    pub(super) x: f64,
    pub(super) half_mm: f64,
    pub(super) radius_mm: f64,
}

/// A gear that the drum can bring in, as it lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Dogs {
    /// Which gear of the gearbox, from 0.
    pub(super) gear: usize,
    pub(super) wheel: Place,
    pub(super) slider: Place,
    /// 1 where the wheel is behind the slider, else −1.
    pub(super) along: f64,
    /// Those of the slider, and those of the wheel.
    pub(super) sizes: [RingSize; 2],
    /// From tip to tip in neutral, mm.
    clearance_mm: f64,
}

/// Everything that lies along the shafts.
pub(super) struct Laid {
    /// The wheels of each shaft.
    pub(super) bodies: Vec<Vec<Body>>,
    pub(super) dogs: Vec<Dogs>,
    /// Radius of all shafts, mm.
    pub(super) shaft_mm: f64,
    /// From one shaft to the next, mm.
    pub(super) apart_mm: f64,
}

impl Laid {
    pub(super) fn of(analysis: &GearsetAnalysis) -> Self {
        let dogs: Vec<Dogs> =
            (0..analysis.on_drum.len()).filter_map(|at| dogs_of(analysis, at)).collect();
        let inner = dogs.iter().flat_map(|own| own.sizes).map(|size| size.inner_mm);
        let shaft_mm = SHAFT_SHARE * inner.fold(PLAIN.inner_mm, f64::min);
        let apart_mm = apart(analysis, &dogs, shaft_mm);
        let mut laid = Self { bodies: Vec::new(), dogs, shaft_mm, apart_mm };
        laid.bodies = (0..analysis.gearset.shafts.len())
            .map(|shaft| {
                let wheels = 0..analysis.gearset.shafts[shaft].wheels.len();
                wheels.map(|wheel| laid.body(analysis, Place { shaft, wheel })).collect()
            })
            .collect();
        laid.place(analysis);
        laid
    }

    /// The wheel at a place; `None` if there is none.
    pub(super) fn at(&self, place: Place) -> Option<&Body> {
        self.bodies.get(place.shaft)?.get(place.wheel)
    }

    fn at_mut(&mut self, place: Place) -> Option<&mut Body> {
        self.bodies.get_mut(place.shaft)?.get_mut(place.wheel)
    }

    /// The dogs of a gear.
    pub(super) fn dogs_of(&self, gear: usize) -> Option<&Dogs> {
        self.dogs.iter().find(|own| own.gear == gear)
    }

    fn body(&self, analysis: &GearsetAnalysis, place: Place) -> Body {
        let set = &analysis.gearset;
        let kind = set.wheel(place).map_or_else(WheelKind::default, |wheel| wheel.kind);
        let beside = self.dogs.iter().filter(|own| own.wheel == place || own.slider == place);
        let dogs = beside.flat_map(|own| own.sizes).map(|size| size.outer_mm);
        let least = dogs.fold(self.shaft_mm + BEYOND_MM, f64::max) + BEYOND_MM / 2.0;
        let meshing = set.gears.iter().find_map(|gear| {
            let mate = match place {
                at if at == gear.driving => gear.driven,
                at if at == gear.driven => gear.driving,
                _ => return None,
            };
            let teeth = |at| set.wheel(at).map(|wheel| wheel.get(WheelField::WheelTeeth));
            let (own, other) = (teeth(place)?, teeth(mate)?);
            Some(self.apart_mm * own / (own + other))
        });
        let radius_mm = drawable(meshing.unwrap_or(least), 1.0).min(FARTHEST_MM);
        let half_mm = if kind == WheelKind::Sliding {
            groove_of(analysis, place) / 2.0 + FLANGE_MM
        } else {
            WHEEL_MM / 2.0
        };
        Body { kind, x: 0.0, half_mm, radius_mm }
    }

    /// Moves the wheels along their shafts until none is in another, each pair of wheels meshes, and each wheel is as
    /// far from its slider as its dogs want it.
    fn place(&mut self, analysis: &GearsetAnalysis) {
        let links = self.links(analysis);
        let wheels = self.bodies.iter().map(Vec::len).sum::<usize>();
        // A gearbox that cannot be built never comes to rest: it is drawn as it is then.
        for _ in 0..=2 * wheels {
            let moved = links.iter().fold(false, |moved, link| self.pull(link) | moved);
            if !moved {
                break;
            }
        }
        let exact: Vec<Link> = self.dogs.iter().filter_map(|own| self.engages(own)).collect();
        for link in exact {
            let from = self.at(link.from).map_or(0.0, |body| body.x);
            if let Some(to) = self.at_mut(link.to) {
                to.x = from + link.by_mm;
            }
        }
    }

    /// Moves one end of a link up as far as it has to be. Returns whether it moved.
    fn pull(&mut self, link: &Link) -> bool {
        /// Rounding, mm.
        const NEAR_MM: f64 = 1e-9;
        let x = |laid: &Self, at| laid.at(at).map_or(0.0, |body| body.x);
        let (from, to) = (x(self, link.from), x(self, link.to));
        let missing = from + link.by_mm - to;
        let (at, by) = if missing > NEAR_MM {
            (link.to, missing)
        } else if link.is_exact && missing < -NEAR_MM {
            (link.from, -missing)
        } else {
            return false;
        };
        self.at_mut(at).map(|body| body.x += by).is_some()
    }

    fn links(&self, analysis: &GearsetAnalysis) -> Vec<Link> {
        let mut links: Vec<Link> = self.dogs.iter().filter_map(|own| self.engages(own)).collect();
        for (shaft, bodies) in self.bodies.iter().enumerate() {
            for (wheel, pair) in bodies.windows(2).enumerate() {
                let [from, to] = [wheel, wheel + 1].map(|wheel| Place { shaft, wheel });
                let slides = pair.iter().any(|body| body.kind == WheelKind::Sliding);
                let room = if slides { TRAVEL_MM } else { BETWEEN_MM };
                let by_mm = pair[0].half_mm + pair[1].half_mm + room;
                let engaged = links.iter().any(|link| link.is_between(from, to));
                links.extend((!engaged).then_some(Link { from, to, by_mm, is_exact: false }));
            }
        }
        let meshing = analysis.gearset.gears.iter().map(|gear| Link {
            from: gear.driving,
            to: gear.driven,
            by_mm: 0.0,
            is_exact: true,
        });
        links.extend(meshing.filter(|link| self.at(link.from).and(self.at(link.to)).is_some()));
        links
    }

    fn engages(&self, own: &Dogs) -> Option<Link> {
        let (slider, wheel) = (self.at(own.slider)?, self.at(own.wheel)?);
        let [a, b] = own.sizes;
        let webs = a.height_mm + own.clearance_mm + b.height_mm;
        let by_mm = own.along * (slider.half_mm + webs + wheel.half_mm);
        Some(Link { from: own.slider, to: own.wheel, by_mm, is_exact: true })
    }
}

/// How far one wheel lies behind another: so far, or at least so far, mm.
struct Link {
    from: Place,
    to: Place,
    by_mm: f64,
    is_exact: bool,
}

impl Link {
    fn is_between(&self, one: Place, other: Place) -> bool {
        [(one, other), (other, one)].contains(&(self.from, self.to))
    }
}

fn dogs_of(analysis: &GearsetAnalysis, at_drum: usize) -> Option<Dogs> {
    let (set, gear) = (&analysis.gearset, analysis.on_drum[at_drum]);
    let wheel = set.free_wheel(gear)?;
    let slider = *set.sliders.get(set.gears.get(gear)?.slider)?;
    let clearance_mm = analysis.drum.gears[at_drum].clearance_mm;
    let rings = analysis.gear(gear);
    let sizes = Side::BOTH.map(|side| {
        rings.map_or(PLAIN, |own| {
            let ring = own.worked.ring(side);
            RingSize {
                inner_mm: drawable(ring.inner_radius_mm, 1.0),
                outer_mm: drawable(ring.outer_radius_mm, 2.0),
                height_mm: ring.tallest_mm().clamp(0.0, FARTHEST_MM),
            }
        })
    });
    let along = if wheel.wheel > slider.wheel { 1.0 } else { -1.0 };
    let is_sound = clearance_mm.is_finite();
    is_sound.then_some(Dogs { gear, wheel, slider, along, sizes, clearance_mm })
}

/// The width of the groove of a slider, mm.
pub(super) fn groove_of(analysis: &GearsetAnalysis, place: Place) -> f64 {
    let set = &analysis.gearset;
    let slider = set.sliders.iter().position(|own| *own == place);
    let fork = set.forks.iter().find(|fork| Some(fork.slider) == slider);
    fork.map_or(0.0, |fork| fork.get(ForkField::GrooveWidth)).clamp(0.0, FARTHEST_MM)
}

/// From shaft to shaft, mm: as near as the wheels stand out beyond dogs and shafts.
fn apart(analysis: &GearsetAnalysis, dogs: &[Dogs], shaft_mm: f64) -> f64 {
    let set = &analysis.gearset;
    let wanted = set.gears.iter().enumerate().flat_map(|(gear, own)| {
        let teeth = |at| set.wheel(at).map(|wheel| wheel.get(WheelField::WheelTeeth));
        let both = [own.driving, own.driven];
        let sum: f64 = both.into_iter().filter_map(teeth).sum();
        both.into_iter().filter_map(move |at| {
            let ring = dogs.iter().find(|dogs| dogs.gear == gear && dogs.wheel == at);
            let outer = ring.map_or(shaft_mm, |ring| {
                ring.sizes.iter().map(|size| size.outer_mm).fold(shaft_mm, f64::max)
            });
            Some((outer + BEYOND_MM) * sum / teeth(at)?)
        })
    });
    let most = wanted.filter(|mm| mm.is_finite()).fold(2.0 * PLAIN.outer_mm, f64::max);
    most.min(FARTHEST_MM)
}
