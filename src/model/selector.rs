//! The parts between foot and fork, worked out.

use crenel_words::{Message, outcome as say};

use crate::design::Design;
use crate::fields::{FieldId, Slot};
use crate::selector::{
    Claw, ClawFault, Detent, EccentricFault, Ends, Joined, Pedal, PerStroke, Posture, Reach,
    RodFault, Star, Stroke, StrokeEnd, Track, TrackFault,
};
use crate::stack::{Depth, Facing};
use crate::units::Angle;

/// The parts that are given. A part with a number outside its limits counts as not given; a finding names
/// the number.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SelectorAnalysis {
    /// Pedal, rod and lever, or why the rod does not reach.
    pub pedal: Option<Result<PedalSwing, RodFault>>,
    /// Claw, pins and stop, or why the claw cannot turn the drum.
    pub claw: Option<Result<ClawStrokes, ClawFault>>,
    /// Roller and spring.
    pub detent: Option<Detent>,
    /// The star of the drum; with six positions if the claw is not known.
    pub star: Option<Star>,
    /// How far the drum rocks in its detent, from end to end; `None` without a detent.
    pub slack: Option<Angle>,
    /// The track, or what is wrong with it.
    pub track: Option<Result<Track, TrackFault>>,
    /// The chains along the shaft.
    pub depth: Option<Depth>,
}

/// A pedal and its strokes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedalSwing {
    /// The pedal.
    pub pedal: Pedal,
    /// Its posture at rest.
    pub rest: Posture,
    /// Lifting and pressing.
    pub reach: PerStroke<Reach>,
    /// How much longer one turn makes the rod, mm.
    pub thread_mm: f64,
    /// How many degrees the shaft turns for each mm of the foot at rest; `None` at a lock.
    pub shaft_deg_per_mm: Option<f64>,
    /// How far the peg rises at rest if one turn of its end makes the rod longer, mm; `None` without a rod,
    /// or if the rod would then not reach.
    pub peg_per_turn_mm: Option<f64>,
    /// How far the peg moves along its arc if the lever or pedal is moved by one spline, mm; `None` if the
    /// rod would then not reach.
    pub peg_per_spline_mm: Option<f64>,
}

/// The pedal with its peg at another height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PedalHeight {
    /// How much higher the peg is at rest, mm.
    pub up_mm: f64,
    /// The rod that this takes, and its effect; `None` if rod and arms do not reach so far.
    pub with: Option<WithRod>,
}

/// A pedal with another rod.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WithRod {
    /// Length of the rod, mm.
    pub rod_mm: f64,
    /// Turns of one rod end for this length; negative is shorter.
    pub turns: f64,
    /// How far the shaft turns at most, lifting and pressing.
    pub swing: PerStroke<Angle>,
    /// How far that is short of the stop, lifting and pressing; `None` without a claw.
    pub short: Option<[Angle; 2]>,
    /// The angle between rod and lever that is nearest to locking in both strokes.
    pub worst: Option<Angle>,
}

/// A claw and the results of its strokes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClawStrokes {
    /// The claw.
    pub claw: Claw,
    /// Lifting and pressing, as far as the pedal lets them.
    pub strokes: PerStroke<StrokeEnd>,
    /// Where the eccentric makes both gaps equal.
    pub centred: Result<Angle, EccentricFault>,
}

impl SelectorAnalysis {
    pub(super) fn of(design: &Design) -> Self {
        let sound = |ids: &[FieldId]| {
            ids.iter().all(|id| {
                let slot = Slot::Part(*id);
                design.get(slot).is_some_and(|value| slot.check(value).is_none())
            })
        };
        let parts = &design.selector;
        let linkage = parts.linkage.as_ref().filter(|_| sound(&crate::design::LinkageSpec::FIELDS));
        let claw = parts.claw.as_ref().filter(|_| sound(&crate::design::ClawSpec::FIELDS));
        let detent = parts.detent.as_ref().filter(|_| sound(&crate::design::DetentSpec::FIELDS));
        let track = parts.track.as_ref().filter(|_| {
            let points = |slot: &Slot| matches!(slot, Slot::TrackPoint(..));
            sound(&crate::design::TrackSpec::FIELDS) && all_sound(design, points)
        });
        let depth = design.depth.as_ref().filter(|_| {
            let links = |slot: &Slot| matches!(slot, Slot::Link(..));
            sound(&crate::design::DepthSpec::FIELDS) && all_sound(design, links)
        });
        let pedal = linkage.map(PedalSwing::of);
        let positions =
            claw.map_or(FieldId::DrumPositions.spec().default, |claw| claw.working().positions);
        let star = detent.map(|detent| detent.star(positions));
        let claw = claw.map(|claw| ClawStrokes::of(&claw.working(), pedal.as_ref(), star.as_ref()));
        Self {
            claw,
            star,
            detent: detent.map(crate::design::DetentSpec::working),
            slack: detent.and_then(|d| d.field(FieldId::DrumSlack)).map(Angle::from_degrees),
            track: track.map(crate::design::TrackSpec::working),
            depth: depth.map(crate::design::DepthSpec::working),
            pedal,
        }
    }

    /// The pedal, if its rod reaches.
    pub fn swing(&self) -> Option<&PedalSwing> {
        self.pedal.as_ref()?.as_ref().ok()
    }

    /// The claw, if it can turn the drum.
    pub fn strokes(&self) -> Option<&ClawStrokes> {
        self.claw.as_ref()?.as_ref().ok()
    }

    /// The track, if nothing is wrong with it.
    pub fn sound_track(&self) -> Option<&Track> {
        self.track.as_ref()?.as_ref().ok()
    }

    /// One step of the drum, degrees; that of six positions if the claw is not known.
    pub fn step_deg(&self) -> f64 {
        let positions = FieldId::DrumPositions.spec().default;
        self.strokes().map_or(360.0 / positions, |strokes| strokes.claw.step().degrees())
    }

    /// The overlap lost with the drum so many degrees away from its position, compared with the drum at
    /// home, mm; `None` without a track.
    pub fn lost_mm(&self, drum_deg: f64) -> Option<f64> {
        let track = self.sound_track()?;
        Some(track.travel_mm(self.step_deg()) - track.travel_mm(drum_deg))
    }

    /// The overlap that rocking in the detent costs, mm; `None` without a detent or a track.
    pub fn rocks_mm(&self) -> Option<f64> {
        self.rocking_mm(self.slack?.degrees())
    }

    /// The most overlap that rocking by so many degrees from end to end costs, mm; `None` without a track.
    pub fn rocking_mm(&self, slack_deg: f64) -> Option<f64> {
        let track = self.sound_track()?;
        let home = self.step_deg();
        Some(track.travel_mm(home) - track.least_near(home, slack_deg / 2.0))
    }
}

/// The case for which a chain gives the depth of the pair.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum DepthCase {
    /// As the fork pushes, sizes nominal.
    Pushed,
    /// As undercut draws in, sizes nominal.
    DrawnIn,
    /// As the fork pushes, with the shim that centres the sliding gear.
    Shimmed,
    /// As the fork pushes, shallower by the RSS tolerance.
    LeastRss,
    /// As the fork pushes, every size at its limit.
    Least,
    /// As undercut draws in, every size at its other limit.
    Most,
}

impl DepthCase {
    /// The overlap of this pair, mm; `None` if its chain has no sizes, or if no shim can be worked out
    /// because the other chain has none.
    pub fn overlap_mm(self, depth: &Depth) -> Option<f64> {
        depth.given(Facing::This)?;
        let (pushed, drawn) = (depth.pushed_in_mm(Facing::This), depth.drawn_in_mm(Facing::This));
        let chain = depth.chain(Facing::This);
        Some(match self {
            Self::Pushed => pushed,
            Self::DrawnIn => drawn,
            Self::Shimmed => depth.shimmed(depth.shim_mm()?).pushed_in_mm(Facing::This),
            Self::LeastRss => pushed - chain.rss_mm(),
            Self::Least => pushed - chain.worst_mm(),
            Self::Most => drawn + chain.worst_mm(),
        })
    }
}

fn all_sound(design: &Design, of: impl Fn(&Slot) -> bool) -> bool {
    let slots = design.selector_slots().into_iter().chain(design.depth_slots()).filter(|s| of(s));
    slots.into_iter().all(|slot| design.get(slot).is_some_and(|v| slot.check(v).is_none()))
}

/// Changes of the height of the peg that are tried, mm.
const HEIGHTS_MM: [f64; 7] = [-20.0, -10.0, -5.0, 0.0, 5.0, 10.0, 20.0];

impl PedalSwing {
    /// Other heights of the peg and their effect, with the stop of a claw; empty without a rod to change.
    pub fn heights(&self, claw: Option<&Claw>) -> Vec<PedalHeight> {
        let Joined::ByRod(rod) = &self.pedal.joined else { return Vec::new() };
        let with = |up_mm: f64| {
            let rod_mm = self.pedal.rod_for_height(up_mm)?;
            let pedal = self.pedal.with_rod(rod_mm);
            let reach = PerStroke {
                lift: pedal.reach(Stroke::Lift).ok()?,
                press: pedal.reach(Stroke::Press).ok()?,
            };
            let turns = (rod_mm - rod.rod_mm) / self.thread_mm;
            let swing = reach.map(|reach| reach.farthest);
            let short = claw.map(|claw| {
                Stroke::BOTH.map(|stroke| {
                    let left = claw.swing_to_stop(stroke).radians() - swing[stroke].radians();
                    Angle::from_radians(left.max(0.0))
                })
            });
            Some(WithRod { rod_mm, turns, swing, short, worst: worst(&reach) })
        };
        HEIGHTS_MM.map(|up_mm| PedalHeight { up_mm, with: with(up_mm) }).to_vec()
    }

    /// Foot travel left once the shaft has turned this far in a stroke, mm; negative if travel is missing,
    /// `None` if no travel would be enough.
    pub fn spare_mm(&self, stroke: Stroke, shaft: Angle) -> Option<f64> {
        let needed = self.pedal.foot_for(stroke, shaft).ok()??;
        Some(self.reach[stroke].foot_mm - needed)
    }

    /// Whether arm and rod are in line at rest, so that both strokes turn the shaft the same way.
    pub fn in_line(&self) -> bool {
        // Less than this is rounding, degrees per mm.
        self.shaft_deg_per_mm.is_some_and(|rate| rate < 1e-6)
    }

    /// The angle between rod and lever that is nearest to locking in both strokes; `None` without a rod.
    pub fn worst(&self) -> Option<Angle> {
        worst(&self.reach)
    }

    fn of(linkage: &crate::design::LinkageSpec) -> Result<Self, RodFault> {
        let pedal = linkage.working();
        let reach =
            PerStroke { lift: pedal.reach(Stroke::Lift)?, press: pedal.reach(Stroke::Press)? };
        let rest = pedal.at_rest()?;
        let of = |id| linkage.field(id).unwrap_or_default();
        let height = |pedal: Pedal| Some(pedal.posture(0.0).ok()??.peg.y);
        let longer = pedal.longer(of(FieldId::RodThread)).and_then(height);
        let tooth = Angle::from_degrees(360.0 / of(FieldId::SplineTeeth));
        let direction = |pedal: Pedal| Some(pedal.posture(0.0).ok()??.peg.angle());
        let moved = direction(pedal.on_next_spline(tooth));
        let turned = moved.map(|at| Angle::from_radians(at - rest.peg.angle()).signed().radians());
        Ok(Self {
            shaft_deg_per_mm: pedal.shaft_per_mm()?,
            peg_per_turn_mm: longer.map(|y| y - rest.peg.y),
            peg_per_spline_mm: turned.map(|by| by.abs() * pedal.foot_arm_mm),
            pedal,
            rest,
            reach,
            thread_mm: of(FieldId::RodThread),
        })
    }
}

fn worst(reach: &PerStroke<Reach>) -> Option<Angle> {
    let off = |angle: &Angle| (angle.degrees() - 90.0).abs();
    let worst = reach.iter().filter_map(|reach| reach.worst);
    worst.max_by(|one, other| off(one).total_cmp(&off(other)))
}

impl ClawStrokes {
    fn of(
        claw: &Claw,
        pedal: Option<&Result<PedalSwing, RodFault>>,
        star: Option<&Star>,
    ) -> Result<Self, ClawFault> {
        claw.check()?;
        let can =
            |stroke: Stroke| pedal.and_then(|p| p.as_ref().ok()).map(|p| p.reach[stroke].farthest);
        let strokes = PerStroke::from_fn(|stroke| claw.stroke(stroke, can(stroke), star));
        Ok(Self { claw: *claw, strokes, centred: claw.centred() })
    }

    /// How far shaft and drum have turned when this share of a stroke is done. Once the claw has pushed
    /// the drum beyond the crest of the star, the roller draws it home, unless friction holds the roller.
    pub fn at(&self, stroke: Stroke, share: f64, star: Option<&Star>) -> (Angle, Angle) {
        let end = &self.strokes[stroke];
        let shaft = Angle::from_radians(end.shaft.radians() * share);
        let pushed = self.claw.pushed(stroke, shaft).radians();
        let step = self.claw.step().radians();
        let over = step / 2.0 + star.map_or(0.0, |star| star.stand().radians());
        let drawn = pushed > over && !star.is_some_and(|star| star.holds);
        let drum = if drawn { pushed.max(step) } else { pushed };
        (shaft, Angle::from_radians(drum))
    }

    /// Sentences on the end of a stroke: what is left at the stop, and where the drum ends up.
    pub fn told(&self, stroke: Stroke) -> [Message; 2] {
        let end = &self.strokes[stroke];
        let gap_mm = end.gap_mm;
        let place = if end.before_stop { "before" } else { "stop" };
        let what = match end.ends {
            Ends::Next if end.gap_mm >= 0.0 => say::gap_left(place, gap_mm),
            Ends::Next => say::pin_past_home(place, -gap_mm),
            _ => say::drum_pushed(place, end.pushed.degrees(), self.claw.step().degrees()),
        };
        [what, say::drum_after_stroke(say::drum(end.ends))]
    }

    /// The gaps at the stop, lifting and pressing, mm, at the end of the stroke that the pedal allows.
    pub fn gaps_mm(&self) -> PerStroke<f64> {
        self.strokes.map(|stroke| stroke.gap_mm)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crenel_words::Value;

    #[test]
    fn one_chain_without_sizes_takes_no_overlap_for_nothing_clear() {
        let whole = crate::design::DepthSpec::example().working();
        let mut half = whole.clone();
        half.chains[Facing::Other].links.clear();
        assert_eq!(DepthCase::Pushed.overlap_mm(&half), DepthCase::Pushed.overlap_mm(&whole));
        assert_eq!(DepthCase::Shimmed.overlap_mm(&half), None);
        let mut none = whole;
        none.chains[Facing::This].links.clear();
        assert_eq!(DepthCase::Most.overlap_mm(&none), None);
    }

    fn worked(set: &[(FieldId, f64)]) -> SelectorAnalysis {
        let mut design = crate::design::example();
        design.selector.linkage = Some(crate::design::LinkageSpec::default());
        design.selector.claw = Some(crate::design::ClawSpec::default());
        design.selector.detent = Some(crate::design::DetentSpec::default());
        design.selector.track = Some(crate::design::TrackSpec::default());
        for (id, value) in set {
            assert!(design.set(Slot::Part(*id), *value));
        }
        SelectorAnalysis::of(&design)
    }

    #[test]
    fn a_stroke_tells_of_a_gap_at_the_stop_only_where_there_is_one() {
        let told = |set: &[(FieldId, f64)]| {
            let selector = worked(set);
            let [what, _] = selector.strokes().expect("it turns").told(Stroke::Lift);
            (what.key(), what.values()[0].1.clone())
        };
        let (stop, before) = (Value::Pick("stop"), Value::Pick("before"));
        let past = [(FieldId::ClawLift, 12.5), (FieldId::FootLift, 60.0)];
        assert_eq!(told(&[]), ("outcome.gap_left", stop.clone()));
        assert_eq!(told(&past), ("outcome.pin_past_home", stop.clone()));
        assert_eq!(told(&[(FieldId::ClawLift, 4.0)]), ("outcome.drum_pushed", stop));
        assert_eq!(told(&[(FieldId::FootLift, 8.0)]), ("outcome.drum_pushed", before));
    }

    #[test]
    fn rocking_is_not_known_without_a_detent() {
        let mut design = crate::design::example();
        design.selector.track = Some(crate::design::TrackSpec::default());
        let bare = SelectorAnalysis::of(&design);
        assert_eq!((bare.slack, bare.rocks_mm()), (None, None));
        assert!(worked(&[]).rocks_mm().is_some());
    }

    #[test]
    fn heights_say_how_far_the_foot_is_short_of_the_stop() {
        let selector = worked(&[(FieldId::FootLift, 8.0)]);
        let (swing, claw) = (selector.swing().unwrap(), selector.strokes().unwrap().claw);
        let same = swing.heights(Some(&claw)).into_iter().find(|height| height.up_mm == 0.0);
        let [lift, press] = same.unwrap().with.unwrap().short.unwrap();
        let wanted =
            claw.swing_to_stop(Stroke::Lift).degrees() - swing.reach.lift.farthest.degrees();
        assert!(wanted > 1.0 && (lift.degrees() - wanted).abs() < 1e-6, "{wanted}");
        assert_eq!(press, Angle::ZERO);
        assert_eq!(swing.heights(None)[3].with.unwrap().short, None);
    }

    #[test]
    fn a_stroke_leaves_of_the_foot_what_the_shaft_does_not_need() {
        let selector = worked(&[]);
        let swing = selector.swing().expect("the linkage moves");
        for stroke in Stroke::BOTH {
            let reach = swing.reach[stroke];
            let left = |shaft| swing.spare_mm(stroke, shaft).expect("within reach");
            assert!((left(Angle::ZERO) - reach.foot_mm).abs() < 1e-6, "all of it");
            assert!(left(reach.shaft).abs() < 1e-6, "none of it");
        }
    }
}
