//! The gear pedal and what joins it to the selector shaft.

use std::f64::consts::{FRAC_PI_2, PI};

use libm::{acos, asin, cos, sin};

use super::four_bar::{Assembly, FourBar, from_lock};
use super::{PerStroke, Stroke};
use crate::ring::Point;
use crate::units::Angle;

/// Transmission angles, degrees: below the lower one a linkage cramps, between the two it is close to
/// cramping. Source: the 40° to 45° that machine design asks for, as in Uicker, Pennock, Shigley, *Theory of Machines
/// and Mechanisms*.
pub const CRAMPED: [f64; 2] = [40.0, 45.0];

/// An arm whose end is nearer to the shaft than this share of arm, rod and lever ends on the shaft.
const ON_SHAFT: f64 = 1e-9;

/// A pedal with its foot arm, and how it turns the shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pedal {
    /// From the pivot to the middle of the peg, mm.
    pub foot_arm_mm: f64,
    /// How far the foot arm lies ahead of the rod arm, towards the front of the machine; on the shaft,
    /// ahead of straight up.
    pub bend: Angle,
    /// How far the foot moves the peg along its arc from rest, lifting and pressing, mm.
    pub foot_mm: PerStroke<f64>,
    /// How it turns the shaft.
    pub joined: Joined,
}

/// How a pedal turns the selector shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joined {
    /// It sits on the shaft.
    OnShaft,
    /// Through a rod.
    ByRod(Rod),
}

/// A rod from an arm of the pedal to a lever on the shaft. The centring spring of the shaft holds the lever
/// in its place at rest, so that the length of the rod decides the height of the pedal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rod {
    /// The shaft, from the pedal's pivot, *x* to the front and *y* up.
    pub shaft: Point,
    /// From the pedal's pivot to the rod, mm.
    pub arm_mm: f64,
    /// From joint to joint, mm.
    pub rod_mm: f64,
    /// From the shaft to the rod, mm.
    pub lever_mm: f64,
    /// How far the lever leans ahead of straight up at rest.
    pub lever_at: Angle,
    /// Whether the pedal's arm is above the line from its pivot to the lever's end, not below it.
    pub above: bool,
}

/// Why a rod does not turn the lever at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RodFault {
    /// It does not reach from the pedal's arm to the lever.
    Short {
        /// Its length, mm.
        rod_mm: f64,
        /// The shortest that would reach, mm.
        least_mm: f64,
        /// The longest, mm.
        most_mm: f64,
    },
    /// The end of the pedal's arm is on the shaft, so that the rod lies along the lever.
    OnShaft {
        /// Its length and that of the lever, mm.
        rod_mm: f64,
    },
}

/// A pedal in one position, with all points from the pedal's pivot, *x* to the front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Posture {
    /// The peg.
    pub peg: Point,
    /// The pedal's end of the rod.
    pub arm_end: Option<Point>,
    /// The lever's end of the rod.
    pub lever_end: Option<Point>,
    /// How far the shaft has turned from rest, counter-clockwise with the front to the right.
    pub shaft: Angle,
    /// Angle between rod and lever; `None` if the pedal sits on the shaft.
    pub transmission: Option<Angle>,
}

/// The result of one stroke of the foot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// How far the foot moves the peg, mm along its arc: the whole travel, or as far as the rod allows.
    pub foot_mm: f64,
    /// Whether rod and lever came into line before the foot had all its travel.
    pub locks: bool,
    /// How far the shaft has turned at the end, whichever way.
    pub shaft: Angle,
    /// How far the shaft turns until it turns back, or until the end if it does not turn back. It is less
    /// than the turn at the end only if the shaft turns back beyond rest.
    pub farthest: Angle,
    /// Foot travel at which arm and rod are in line and the shaft turns back, mm; `None` if that
    /// is not in this stroke.
    pub turns_back_at_mm: Option<f64>,
    /// The angle between rod and lever that is nearest to locking in the stroke.
    pub worst: Option<Angle>,
    /// Foot travel at which the transmission angle falls below the lower of [`CRAMPED`], mm; `None`
    /// if it does not in this stroke.
    pub cramps_at_mm: Option<f64>,
}

/// The pedal with its place at rest worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Rest {
    /// Direction of the foot arm, counter-clockwise from the front, radians.
    foot: f64,
    linked: Option<Linked>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Linked {
    bars: FourBar,
    assembly: Assembly,
    /// Direction from pivot to shaft, radians.
    line: f64,
    /// Directions at rest from that line, radians.
    arm: f64,
    lever: f64,
    shaft: Point,
}

impl Rod {
    /// The end of the lever at rest.
    pub fn lever_end(&self) -> Point {
        let at = FRAC_PI_2 - self.lever_at.radians();
        Point::new(self.shaft.x + self.lever_mm * cos(at), self.shaft.y + self.lever_mm * sin(at))
    }

    fn at_rest(&self) -> Result<Linked, RodFault> {
        let end = self.lever_end();
        let far = end.radius();
        let (least_mm, most_mm) = ((far - self.arm_mm).abs(), far + self.arm_mm);
        if !(least_mm..=most_mm).contains(&self.rod_mm) {
            return Err(RodFault::Short { rod_mm: self.rod_mm, least_mm, most_mm });
        }
        let (a, b) = (self.arm_mm, self.rod_mm);
        let opening = acos(((a * a + far * far - b * b) / (2.0 * a * far)).clamp(-1.0, 1.0));
        // Above is to the left of a line that runs to the front, and to the right of one to the back.
        let left = self.above == (end.x >= 0.0);
        let arm = end.angle() + if left { opening } else { -opening };
        let tip = Point::polar(a, arm);
        if tip.distance(self.shaft) < ON_SHAFT * (a + b + self.lever_mm) {
            return Err(RodFault::OnShaft { rod_mm: b });
        }
        let line = self.shaft.angle();
        let cross =
            (self.shaft.x - tip.x) * (end.y - tip.y) - (self.shaft.y - tip.y) * (end.x - tip.x);
        let assembly = if cross >= 0.0 { Assembly::Left } else { Assembly::Right };
        let bars = FourBar {
            arm_mm: a,
            rod_mm: b,
            lever_mm: self.lever_mm,
            apart_mm: self.shaft.radius(),
        };
        let (arm, lever) = (arm - line, FRAC_PI_2 - self.lever_at.radians() - line);
        Ok(Linked { bars, assembly, line, arm, lever, shaft: self.shaft })
    }
}

impl Linked {
    /// The posture with the lever where its spring holds it. A rod that just reaches must not fail because of
    /// rounding.
    fn at_rest(&self, rod: &Rod, peg: Point) -> Posture {
        let (arm_end, lever_end) =
            (Point::polar(self.bars.arm_mm, self.line + self.arm), rod.lever_end());
        let way = |to: Point| Point::new(to.x - lever_end.x, to.y - lever_end.y).angle();
        let between = Angle::from_radians(way(arm_end) - way(self.shaft)).signed().radians().abs();
        Posture {
            peg,
            arm_end: Some(arm_end),
            lever_end: Some(lever_end),
            shaft: Angle::ZERO,
            transmission: Some(Angle::from_radians(between)),
        }
    }

    fn posture(&self, turn: f64, peg: Point) -> Option<Posture> {
        let arm = self.arm + turn;
        let transmission = self.bars.transmission(arm)?;
        let lever = self.bars.lever(arm, self.assembly)?;
        let at = self.line + lever;
        let end = Point::new(
            self.shaft.x + self.bars.lever_mm * cos(at),
            self.shaft.y + self.bars.lever_mm * sin(at),
        );
        Some(Posture {
            peg,
            arm_end: Some(Point::polar(self.bars.arm_mm, self.line + arm)),
            lever_end: Some(end),
            shaft: Angle::from_radians(lever - self.lever).signed(),
            transmission: Some(Angle::from_radians(transmission)),
        })
    }
}

impl Pedal {
    fn rest(&self) -> Result<Rest, RodFault> {
        let linked = match &self.joined {
            Joined::OnShaft => None,
            Joined::ByRod(rod) => Some(rod.at_rest()?),
        };
        let arm = linked.map_or(FRAC_PI_2, |linked| linked.line + linked.arm);
        Ok(Rest { foot: arm - self.bend.radians(), linked })
    }

    /// How far the pedal turns for this much foot travel, plus for lifting, radians counter-clockwise.
    fn turn(&self, rest: &Rest, foot_mm: f64) -> f64 {
        // A peg behind the pivot goes up as the pedal turns clockwise.
        let way = if cos(rest.foot) >= -1e-12 { 1.0 } else { -1.0 };
        way * foot_mm / self.foot_arm_mm
    }

    /// The posture at rest.
    ///
    /// # Errors
    /// If the rod does not reach, or cannot turn the lever.
    pub fn at_rest(&self) -> Result<Posture, RodFault> {
        let rest = self.rest()?;
        let peg = Point::polar(self.foot_arm_mm, rest.foot);
        Ok(match (&self.joined, &rest.linked) {
            (Joined::ByRod(rod), Some(linked)) => linked.at_rest(rod, peg),
            _ => Posture {
                peg,
                arm_end: None,
                lever_end: None,
                shaft: Angle::ZERO,
                transmission: None,
            },
        })
    }

    /// The posture with the peg moved along its arc by `foot_mm`, plus for lifting; `None` if the rod does
    /// not let the peg reach that place.
    ///
    /// # Errors
    /// If the rod does not even reach at rest.
    pub fn posture(&self, foot_mm: f64) -> Result<Option<Posture>, RodFault> {
        let rest = self.rest()?;
        let turn = self.turn(&rest, foot_mm);
        let peg = Point::polar(self.foot_arm_mm, rest.foot + turn);
        Ok(match &rest.linked {
            None => {
                let shaft = Angle::from_radians(turn);
                Some(Posture { peg, arm_end: None, lever_end: None, shaft, transmission: None })
            }
            Some(linked) => linked.posture(turn, peg),
        })
    }

    /// The result of a whole stroke.
    ///
    /// # Errors
    /// If the rod does not reach at rest.
    pub fn reach(&self, stroke: Stroke) -> Result<Reach, RodFault> {
        let rest = self.rest()?;
        let foot_mm = self.foot_mm[stroke];
        let turn = self.turn(&rest, stroke.sign() * foot_mm);
        let Some(linked) = &rest.linked else {
            let shaft = Angle::from_radians(turn.abs());
            return Ok(Reach {
                foot_mm,
                locks: false,
                shaft,
                farthest: shaft,
                turns_back_at_mm: None,
                worst: None,
                cramps_at_mm: None,
            });
        };
        let (bars, way) = (&linked.bars, turn.signum());
        let lock = bars.turn_to_lock(linked.arm, way).filter(|lock| *lock <= turn.abs());
        // Short of the lock itself, so that rounding does not take the rod beyond it.
        let got = lock.map_or(turn.abs(), |lock| lock * (1.0 - 1e-9));
        let swing = |turn: f64| {
            let swung = bars.swing(linked.arm, way * turn, linked.assembly).unwrap_or(0.0);
            Angle::from_radians(swung.abs())
        };
        let back = bars.turn_to_reversal(linked.arm, way, linked.assembly).filter(|at| *at < got);
        let worst = bars.worst_transmission(linked.arm, way * got);
        Ok(Reach {
            foot_mm: got * self.foot_arm_mm,
            locks: lock.is_some(),
            shaft: swing(got),
            farthest: swing(back.unwrap_or(got)),
            turns_back_at_mm: back.map(|turn| turn * self.foot_arm_mm),
            worst: worst.map(Angle::from_radians),
            cramps_at_mm: cramps_at(linked, way, got).map(|turn| turn * self.foot_arm_mm),
        })
    }

    /// How far the foot has to move the peg, mm, for the shaft to turn by `shaft` in a stroke. The travel of
    /// the foot sets no limit. `None` if the linkage locks or turns back before.
    ///
    /// # Errors
    /// If the rod does not reach at rest.
    pub fn foot_for(&self, stroke: Stroke, shaft: Angle) -> Result<Option<f64>, RodFault> {
        // Half a turn of the pedal is more than a foot can do.
        let far = |foot_mm: f64| Self { foot_mm: PerStroke::both(foot_mm), ..*self }.reach(stroke);
        let most = far(PI * self.foot_arm_mm)?;
        let (mut low, mut high) = (0.0, most.turns_back_at_mm.unwrap_or(most.foot_mm));
        if most.farthest.radians() < shaft.radians() {
            return Ok(None);
        }
        // Up to there the shaft turns one way only. The range is halved to the last bit.
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if far(middle)?.farthest.radians() < shaft.radians() {
                low = middle;
            } else {
                high = middle;
            }
        }
        Ok(Some(high))
    }

    /// How many degrees the shaft turns for each mm of the foot at rest, whichever way; `None` at a lock.
    ///
    /// # Errors
    /// If the rod does not reach at rest.
    pub fn shaft_per_mm(&self) -> Result<Option<f64>, RodFault> {
        let rest = self.rest()?;
        let ratio = match &rest.linked {
            None => Some(1.0),
            Some(linked) => linked.bars.ratio(linked.arm, linked.assembly),
        };
        Ok(ratio.map(|ratio| (ratio / self.foot_arm_mm).to_degrees().abs()))
    }

    /// The length of rod, mm, that brings the peg at rest into this direction from the pivot; `None` if
    /// there is no rod.
    pub fn rod_for_peg(&self, peg: Point) -> Option<f64> {
        let Joined::ByRod(rod) = &self.joined else { return None };
        let arm = Point::polar(rod.arm_mm, peg.angle() + self.bend.radians());
        Some(arm.distance(rod.lever_end()))
    }

    /// The same pedal with a rod of another length.
    #[must_use]
    pub fn with_rod(&self, rod_mm: f64) -> Self {
        let joined = match self.joined {
            Joined::OnShaft => Joined::OnShaft,
            Joined::ByRod(rod) => Joined::ByRod(Rod { rod_mm, ..rod }),
        };
        Self { joined, ..*self }
    }

    /// The same pedal with its rod longer by this; `None` where there is no rod.
    pub fn longer(&self, by_mm: f64) -> Option<Self> {
        match &self.joined {
            Joined::OnShaft => None,
            Joined::ByRod(rod) => Some(self.with_rod(rod.rod_mm + by_mm)),
        }
    }

    /// The same pedal with its lever mounted on the shaft this much farther to the front, or with the pedal
    /// itself if it sits on the shaft.
    #[must_use]
    pub fn on_next_spline(&self, tooth: Angle) -> Self {
        let ahead = |angle: Angle| Angle::from_radians(angle.radians() + tooth.radians());
        match self.joined {
            Joined::OnShaft => Self { bend: ahead(self.bend), ..*self },
            Joined::ByRod(rod) => {
                let joined = Joined::ByRod(Rod { lever_at: ahead(rod.lever_at), ..rod });
                Self { joined, ..*self }
            }
        }
    }

    /// The length of rod, mm, that raises the peg at rest by `up_mm`, square to the ground. `None` if there
    /// is no rod, if the foot arm does not reach that height, or if the pedal's arm would have to swing
    /// through the rod.
    pub fn rod_for_height(&self, up_mm: f64) -> Option<f64> {
        let peg = self.posture(0.0).ok().flatten()?.peg;
        let sine = (peg.y + up_mm) / self.foot_arm_mm;
        if sine.abs() > 1.0 {
            return None;
        }
        let level = asin(sine);
        let at = if peg.x >= 0.0 { level } else { PI - level };
        let rod_mm = self.rod_for_peg(Point::polar(self.foot_arm_mm, at))?;
        let there = self.with_rod(rod_mm).posture(0.0).ok().flatten()?.peg;
        (there.distance(Point::polar(self.foot_arm_mm, at)) < 1e-6 * self.foot_arm_mm)
            .then_some(rod_mm)
    }
}

/// How far the arm turns, within `got`, until the linkage cramps.
fn cramps_at(linked: &Linked, way: f64, got: f64) -> Option<f64> {
    let least = CRAMPED[0].to_radians();
    let now = linked.bars.transmission(linked.arm).map(from_lock)?;
    if now < least {
        return Some(0.0);
    }
    linked.bars.turn_to_transmission(linked.arm, way, least).filter(|turn| *turn <= got)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rod() -> Rod {
        Rod {
            shaft: Point::new(125.0, 20.0),
            arm_mm: 35.0,
            rod_mm: 126.0,
            lever_mm: 32.0,
            lever_at: Angle::ZERO,
            above: true,
        }
    }

    fn pedal() -> Pedal {
        Pedal {
            foot_arm_mm: 130.0,
            bend: Angle::from_degrees(100.0),
            foot_mm: PerStroke::both(36.0),
            joined: Joined::ByRod(rod()),
        }
    }

    #[test]
    fn the_joints_keep_their_distances_through_the_swing() {
        let pedal = pedal();
        for step in -36..=36 {
            let posture = pedal.posture(f64::from(step)).unwrap().expect("within reach");
            let (arm, lever) = (posture.arm_end.unwrap(), posture.lever_end.unwrap());
            assert!((arm.radius() - 35.0).abs() < 1e-9);
            assert!((arm.distance(lever) - 126.0).abs() < 1e-9);
            assert!((lever.distance(Point::new(125.0, 20.0)) - 32.0).abs() < 1e-9);
            assert!((posture.peg.radius() - 130.0).abs() < 1e-9);
        }
        assert!(pedal.posture(0.0).unwrap().unwrap().shaft.radians().abs() < 1e-12);
    }

    #[test]
    fn lifting_raises_the_peg_and_both_strokes_turn_the_shaft_opposite_ways() {
        let pedal = pedal();
        let at = |foot| pedal.posture(foot).unwrap().unwrap();
        assert!(at(10.0).peg.y > at(0.0).peg.y);
        assert!(at(10.0).shaft.radians() * at(-10.0).shaft.radians() < 0.0);
        let behind = Pedal { bend: Angle::from_degrees(-80.0), ..pedal };
        let at = |foot| behind.posture(foot).unwrap().unwrap();
        assert!(at(0.0).peg.x < 0.0 && at(10.0).peg.y > at(0.0).peg.y);
    }

    #[test]
    fn a_pedal_on_the_shaft_turns_it_as_far_as_itself() {
        let pedal = Pedal { joined: Joined::OnShaft, ..pedal() };
        let reach = pedal.reach(Stroke::Lift).unwrap();
        assert!((reach.shaft.radians() - 36.0 / 130.0).abs() < 1e-12);
        assert_eq!(reach.worst, None);
        assert!(
            (pedal.shaft_per_mm().unwrap().unwrap() - (1.0_f64 / 130.0).to_degrees()).abs() < 1e-12
        );
    }

    #[test]
    fn a_rod_too_short_or_too_long_says_what_would_reach() {
        for wrong in [40.0, 400.0] {
            let fault = pedal().with_rod(wrong).reach(Stroke::Lift).expect_err("cannot reach");
            let RodFault::Short { rod_mm, least_mm, most_mm } = fault else { panic!("{fault:?}") };
            assert_eq!(rod_mm, wrong);
            for within in [least_mm + 1e-9, most_mm - 1e-9] {
                assert!(pedal().with_rod(within).posture(0.0).is_ok());
            }
        }
    }

    #[test]
    fn a_linkage_that_locks_stops_short_and_cramps_before() {
        let Joined::ByRod(rod) = pedal().joined else { panic!("it has a rod") };
        let tilted = Rod { lever_at: Angle::from_degrees(60.0), rod_mm: 165.0, ..rod };
        let pedal =
            Pedal { joined: Joined::ByRod(tilted), foot_mm: PerStroke::both(120.0), ..pedal() };
        let reaches = Stroke::BOTH.map(|stroke| pedal.reach(stroke).unwrap());
        let locked = reaches.iter().find(|reach| reach.locks).expect("one way locks");
        assert!(locked.foot_mm < 120.0);
        let cramps = locked.cramps_at_mm.expect("it cramps first");
        assert!(cramps < locked.foot_mm);
        assert!(locked.worst.unwrap().degrees() < 1.0 || locked.worst.unwrap().degrees() > 179.0);
    }

    #[test]
    fn the_rod_for_a_height_puts_the_peg_there() {
        let pedal = pedal();
        let peg = pedal.posture(0.0).unwrap().unwrap().peg;
        for up in [-20.0, -5.0, 0.0, 5.0, 20.0] {
            let rod = pedal.rod_for_height(up).expect("within reach");
            let there = pedal.with_rod(rod).posture(0.0).unwrap().unwrap().peg;
            assert!((there.y - peg.y - up).abs() < 1e-9, "{up}");
        }
        assert!((pedal.rod_for_height(0.0).unwrap() - 126.0).abs() < 1e-9);
    }

    #[test]
    fn the_foot_for_a_turn_of_the_shaft_turns_it_so_far() {
        for (stroke, deg) in Stroke::BOTH.into_iter().zip([12.0, 30.0]) {
            let shaft = Angle::from_degrees(deg);
            let foot = pedal().foot_for(stroke, shaft).unwrap().expect("it gets there");
            let there = pedal().posture(stroke.sign() * foot).unwrap().unwrap();
            assert!((there.shaft.degrees().abs() - deg).abs() < 1e-9, "{stroke:?}");
        }
        assert_eq!(pedal().foot_for(Stroke::Lift, Angle::from_degrees(200.0)), Ok(None));
        let on_shaft = Pedal { joined: Joined::OnShaft, ..pedal() };
        let foot = on_shaft.foot_for(Stroke::Lift, Angle::from_radians(0.1)).unwrap().unwrap();
        assert!((foot - 13.0).abs() < 1e-9, "{foot}");
    }

    /// Arm and rod in line at rest, at a right angle to the lever.
    fn in_line() -> Pedal {
        let rod = Rod { shaft: Point::new(150.0, -32.0), rod_mm: 115.0, ..rod() };
        Pedal { joined: Joined::ByRod(rod), bend: Angle::from_degrees(60.0), ..pedal() }
    }

    #[test]
    fn a_linkage_in_line_at_rest_turns_the_shaft_the_same_way_in_both_strokes() {
        let [lift, press] = Stroke::BOTH.map(|stroke| in_line().reach(stroke).unwrap());
        assert_eq!((lift.turns_back_at_mm, press.turns_back_at_mm), (None, None));
        let ends = [36.0, -36.0].map(|foot| in_line().posture(foot).unwrap().unwrap().shaft);
        assert!(ends[0].radians() * ends[1].radians() > 0.0);
        assert!((lift.farthest.radians() - ends[0].radians().abs()).abs() < 1e-9);
        assert!(in_line().shaft_per_mm().unwrap().unwrap() < 1e-6);
    }

    #[test]
    fn an_arm_that_ends_on_the_shaft_turns_nothing() {
        let rod = Rod { shaft: Point::new(35.0, 0.0), rod_mm: 32.0, ..rod() };
        for above in [false, true] {
            let pedal = Pedal { joined: Joined::ByRod(Rod { above, ..rod }), ..pedal() };
            let reached = pedal.reach(Stroke::Lift);
            let on_shaft = reached == Err(RodFault::OnShaft { rod_mm: 32.0 });
            assert_eq!(on_shaft, !above, "{reached:?}");
        }
    }
}
