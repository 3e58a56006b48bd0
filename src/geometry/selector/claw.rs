//! The claw on the selector shaft, the pins of the drum, and the stop.

use libm::{asin, atan2, cos, sin, sqrt};

use super::{PerStroke, Star, Stroke};
use crate::ring::Point;
use crate::units::Angle;

/// A claw whose hooks pull the drum round by its pins, one step for each stroke.
///
/// At rest two pins are symmetric about the line from drum to shaft, half a step to each side. A stroke
/// pulls one of them to the place of the other. Travel, play and gap are measured at the hook, along its
/// arc about the shaft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Claw {
    /// Number of positions round the drum, which is the number of pins.
    pub positions: f64,
    /// From the drum's axis to the middle of a pin, mm.
    pub pin_radius_mm: f64,
    /// From the drum's axis to that of the selector shaft, mm.
    pub apart_mm: f64,
    /// Free play of the hook before it meets its pin, lifting and pressing, mm.
    pub play_mm: PerStroke<f64>,
    /// Travel of the hook from rest to the stop, lifting and pressing, mm.
    pub travel_mm: PerStroke<f64>,
    /// From the shaft's axis to the stop, mm.
    pub stop_radius_mm: f64,
    /// How far the stop is off its own axis, mm; 0 for a fixed stop.
    pub eccentric_mm: f64,
    /// The angle of the eccentric now; plus gives the lifting stroke more travel.
    pub eccentric_at: Angle,
    /// The target gap at the stop, mm.
    pub wanted_mm: f64,
}

/// The claw cannot turn a drum with pins so far out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClawFault {
    /// Radius of the pins, mm.
    pub pin_radius_mm: f64,
    /// The largest radius at which the hook can still pull, mm.
    pub most_mm: f64,
}

/// Why an eccentric cannot make the gaps equal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EccentricFault {
    /// How far the stop has to be moved, mm at the stop.
    pub move_mm: f64,
    /// How far the eccentric can move it, mm: least and most.
    pub can_mm: [f64; 2],
}

/// Where the drum ends up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ends {
    /// The roller falls back as soon as the foot lets go: the drum returns to the position it left.
    Back,
    /// Friction holds the roller: the drum stays where the claw leaves it.
    Held,
    /// The roller rests on the crest: no gear, a false neutral.
    Between,
    /// The roller falls into the next valley.
    Next,
    /// The claw pushes the roller to or over the crest after it.
    Beyond,
}

impl Ends {
    /// All of them, from the drum pushed least to the drum pushed furthest.
    pub const ALL: [Self; 5] = [Self::Back, Self::Held, Self::Between, Self::Next, Self::Beyond];

    /// Its stable name, for the words of a language.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Back => "back",
            Self::Held => "held",
            Self::Between => "between",
            Self::Next => "next",
            Self::Beyond => "beyond",
        }
    }
}

/// The result of a stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrokeEnd {
    /// How far the shaft has turned.
    pub shaft: Angle,
    /// Whether the pedal or rod ended the stroke before the stop.
    pub before_stop: bool,
    /// How far the claw has pushed the drum.
    pub pushed: Angle,
    /// The gap between hook and pin once the drum is home, mm. Minus is the distance by which the pin is
    /// pushed past its place.
    pub gap_mm: f64,
    /// Where the drum ends up.
    pub ends: Ends,
}

impl Claw {
    /// One step of the drum.
    pub fn step(&self) -> Angle {
        Angle::from_degrees(360.0 / self.positions)
    }

    /// Whether the claw can turn the drum.
    ///
    /// The hook pulls a pin only as long as the line from the shaft meets the pin circle from outside.
    ///
    /// # Errors
    /// If the pins are too far out for the distance of the axes.
    pub fn check(&self) -> Result<(), ClawFault> {
        let most_mm = self.apart_mm * cos(self.step().radians() / 2.0);
        let fits = self.pin_radius_mm < most_mm;
        if fits { Ok(()) } else { Err(ClawFault { pin_radius_mm: self.pin_radius_mm, most_mm }) }
    }

    /// A pin at this angle from the line of the axes, radians.
    pub fn pin(&self, at: f64) -> Point {
        Point::polar(self.pin_radius_mm, at)
    }

    /// Angle of a pin as seen from the shaft, from the line of the axes.
    fn seen(&self, at: f64) -> f64 {
        let r = self.pin_radius_mm;
        atan2(r * sin(at), self.apart_mm - r * cos(at))
    }

    /// From the shaft to the pin that is hooked at rest, mm.
    pub fn hook_radius_mm(&self) -> f64 {
        let (r, d) = (self.pin_radius_mm, self.apart_mm);
        sqrt(r * r + d * d - 2.0 * r * d * cos(self.step().radians() / 2.0))
    }

    /// Swing of the shaft that takes a hooked pin one whole step, without play.
    pub fn swing(&self) -> Angle {
        Angle::from_radians(2.0 * self.seen(self.step().radians() / 2.0))
    }

    /// [`Self::swing`] as an arc at the hook, mm.
    pub fn swing_mm(&self) -> f64 {
        self.swing().radians() * self.hook_radius_mm()
    }

    /// Swing of the shaft from rest to the stop.
    pub fn swing_to_stop(&self, stroke: Stroke) -> Angle {
        Angle::from_radians(self.travel_mm[stroke] / self.hook_radius_mm())
    }

    /// How far the drum is pushed when the shaft has swung by `shaft`, the play included. Beyond the tangent
    /// to the pin circle the hook slips off, and the drum is pushed no further.
    pub fn pushed(&self, stroke: Stroke, shaft: Angle) -> Angle {
        let play = self.play_mm[stroke] / self.hook_radius_mm();
        let half = self.step().radians() / 2.0;
        let tangent = asin((self.pin_radius_mm / self.apart_mm).min(1.0));
        let seen = (self.seen(half) - (shaft.radians() - play).max(0.0)).max(-tangent);
        let sine = (self.apart_mm * sin(seen) / self.pin_radius_mm).clamp(-1.0, 1.0);
        Angle::from_radians(half - (asin(sine) - seen))
    }

    /// How far the shaft swings until it has pushed the drum by an angle, the play included: the inverse of
    /// [`Self::pushed`] as far as the hook holds.
    pub fn shaft_for(&self, stroke: Stroke, drum: Angle) -> Angle {
        let play = self.play_mm[stroke] / self.hook_radius_mm();
        let half = self.step().radians() / 2.0;
        Angle::from_radians(play + self.seen(half) - self.seen(half - drum.radians()))
    }

    /// The ratio of the speeds of drum and shaft as the hook takes hold.
    ///
    /// `dδ/dψ = d·cos ψ/√(r² − d²·sin² ψ) − 1`
    pub fn drum_per_shaft(&self) -> f64 {
        let seen = self.seen(self.step().radians() / 2.0);
        let (r, d) = (self.pin_radius_mm, self.apart_mm);
        let across = d * sin(seen);
        d * cos(seen) / sqrt(r * r - across * across) - 1.0
    }

    /// The gap at the stop, lifting and pressing, mm at the hook.
    pub fn gaps_mm(&self) -> PerStroke<f64> {
        PerStroke::from_fn(|stroke| self.gap_mm(stroke, self.swing_to_stop(stroke)))
    }

    fn gap_mm(&self, stroke: Stroke, shaft: Angle) -> f64 {
        self.swing_mm() + self.play_mm[stroke] - shaft.radians() * self.hook_radius_mm()
    }

    /// The result of a stroke with a shaft that can swing by `can`; `None` is as far as the stop.
    pub fn stroke(&self, stroke: Stroke, can: Option<Angle>, star: Option<&Star>) -> StrokeEnd {
        let stop = self.swing_to_stop(stroke);
        let before_stop = can.is_some_and(|can| can.radians() < stop.radians());
        let shaft = can.filter(|_| before_stop).unwrap_or(stop);
        let pushed = self.pushed(stroke, shaft);
        let gap_mm = self.gap_mm(stroke, shaft);
        StrokeEnd { shaft, before_stop, pushed, gap_mm, ends: self.ends(pushed.radians(), star) }
    }

    fn ends(&self, pushed: f64, star: Option<&Star>) -> Ends {
        let stand = star.map_or(0.0, |star| star.stand().radians());
        let step = self.step().radians();
        if pushed < step * 1.5 - stand && star.is_some_and(|star| star.holds) {
            Ends::Held
        } else if pushed < step / 2.0 - stand {
            Ends::Back
        } else if pushed <= step / 2.0 + stand {
            Ends::Between
        } else if pushed < step * 1.5 - stand {
            Ends::Next
        } else {
            Ends::Beyond
        }
    }

    /// The angle of the eccentric that makes both gaps equal, the nearest to its present angle.
    ///
    /// Moving the stop adds to one gap what it takes from the other: the hook moves by
    /// `e·(sin α − sin α₀)·(hook radius)/(stop radius)`.
    ///
    /// # Errors
    /// If the eccentric cannot move the stop that far.
    pub fn centred(&self) -> Result<Angle, EccentricFault> {
        let PerStroke { lift, press } = self.gaps_mm();
        let move_mm = (lift - press) / 2.0 * self.stop_radius_mm / self.hook_radius_mm();
        let (e, now) = (self.eccentric_mm, self.eccentric_at.sin());
        let sine = now + move_mm / e;
        // A fixed stop that is right already needs no turn; 0/0 must not count as an angle.
        if move_mm.abs() < 1e-9 {
            return Ok(self.eccentric_at);
        }
        if sine.is_nan() || sine.abs() > 1.0 {
            return Err(EccentricFault { move_mm, can_mm: [e * (-1.0 - now), e * (1.0 - now)] });
        }
        let at = asin(sine);
        let places = [at, std::f64::consts::PI - at].map(Angle::from_radians);
        let off = |at: &Angle| (at.radians() - self.eccentric_at.radians()).abs();
        let nearest = |at: Angle| {
            let turn = Angle::from_radians(at.radians() - self.eccentric_at.radians()).signed();
            Angle::from_radians(self.eccentric_at.radians() + turn.radians())
        };
        let [one, other] = places.map(nearest);
        let best = if off(&one) <= off(&other) { one } else { other };
        // Within half a turn, as people type it.
        Ok(best.signed())
    }

    /// The same claw with its eccentric turned to another angle.
    #[must_use]
    pub fn turned_to(&self, at: Angle) -> Self {
        let hook = self.hook_radius_mm() / self.stop_radius_mm;
        let by = self.eccentric_mm * (at.sin() - self.eccentric_at.sin()) * hook;
        let PerStroke { lift, press } = self.travel_mm;
        Self {
            eccentric_at: at,
            travel_mm: PerStroke { lift: lift + by, press: press - by },
            ..*self
        }
    }

    /// How much thinner the stop has to be, mm, for the mean of both gaps to be the target gap; minus is
    /// thicker.
    pub fn stop_thinner_mm(&self) -> f64 {
        let PerStroke { lift, press } = self.gaps_mm();
        let over = (lift + press) / 2.0 - self.wanted_mm;
        2.0 * over * self.stop_radius_mm / self.hook_radius_mm()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn claw() -> Claw {
        Claw {
            positions: 6.0,
            pin_radius_mm: 10.0,
            apart_mm: 46.0,
            play_mm: PerStroke { lift: 1.0, press: 1.2 },
            travel_mm: PerStroke { lift: 9.6, press: 10.4 },
            stop_radius_mm: 30.0,
            eccentric_mm: 0.8,
            eccentric_at: Angle::ZERO,
            wanted_mm: 1.0,
        }
    }

    #[test]
    fn the_whole_swing_turns_the_drum_one_step() {
        for positions in [4.0, 6.0, 8.0, 14.0] {
            let claw = Claw { positions, ..claw() };
            for stroke in Stroke::BOTH {
                let play = claw.play_mm[stroke] / claw.hook_radius_mm();
                let all = Angle::from_radians(claw.swing().radians() + play);
                let pushed = claw.pushed(stroke, all);
                assert!((pushed.radians() - claw.step().radians()).abs() < 1e-12, "{positions}");
                assert!(claw.pushed(stroke, Angle::from_radians(play)).radians().abs() < 1e-12);
                for share in [0.0, 0.2, 0.7, 1.0] {
                    let drum = claw.step() * share;
                    let pushed = claw.pushed(stroke, claw.shaft_for(stroke, drum));
                    assert!((pushed.radians() - drum.radians()).abs() < 1e-12, "{share}");
                }
            }
        }
    }

    #[test]
    fn a_shaft_far_away_pulls_along_the_chord() {
        let far = Claw { apart_mm: 1e6, ..claw() };
        // Chord of 60° on a radius of 10 mm.
        assert!((far.swing_mm() - 10.0).abs() < 1e-4, "{}", far.swing_mm());
    }

    #[test]
    fn the_drum_starts_as_fast_as_its_slope_says() {
        let claw = Claw { play_mm: PerStroke::both(0.0), ..claw() };
        let at = |shaft| claw.pushed(Stroke::Lift, Angle::from_radians(shaft)).radians();
        assert!((at(1e-6) / 1e-6 - claw.drum_per_shaft()).abs() < 1e-4);
    }

    #[test]
    fn the_centred_eccentric_makes_the_gaps_equal() {
        let claw = claw();
        let at = claw.centred().expect("it can");
        let PerStroke { lift, press } = claw.turned_to(at).gaps_mm();
        assert!((lift - press).abs() < 1e-12, "{lift} {press}");
        let mean = claw.gaps_mm().iter().sum::<f64>() / 2.0;
        assert!((lift - mean).abs() < 1e-12);
        let fault = Claw { eccentric_mm: 0.2, ..claw }.centred().expect_err("too little");
        assert!(fault.move_mm > fault.can_mm[1]);
        assert!(Claw { eccentric_mm: 0.0, ..claw }.centred().is_err());
    }

    #[test]
    fn of_the_two_places_of_the_eccentric_the_nearer_one_is_taken() {
        // Two places have the same sine, `a` and `180° − a`; the shorter way goes to one of them.
        for at in [-179.0, -150.0, -110.0, -70.0, -20.0, 20.0, 60.0, 120.0, 150.0, 179.0] {
            let claw = Claw { eccentric_at: Angle::from_degrees(at), eccentric_mm: 4.0, ..claw() };
            let found = claw.centred().expect("it can");
            let PerStroke { lift, press } = claw.turned_to(found).gaps_mm();
            assert!((lift - press).abs() < 1e-12, "{at}: {lift} {press}");
            let way = |to: f64| Angle::from_degrees(to - at).signed().degrees().abs();
            let (near, far) = (way(found.degrees()), way(180.0 - found.degrees()));
            assert!(near < far && near < 15.0, "{at}: {near} to {found:?}, {far} to the other");
            assert!(found.degrees().abs() <= 180.0, "{found:?}");
        }
    }

    #[test]
    fn a_thinner_stop_gives_the_wanted_gap() {
        let claw = claw();
        let thinner = claw.stop_thinner_mm();
        let more = thinner / 2.0 * claw.hook_radius_mm() / claw.stop_radius_mm;
        let mended = Claw { travel_mm: claw.travel_mm.map(|mm| mm + more), ..claw };
        let mean = mended.gaps_mm().iter().sum::<f64>() / 2.0;
        assert!((mean - 1.0).abs() < 1e-12, "{mean}");
    }

    #[test]
    fn too_little_falls_back_and_too_much_goes_past() {
        let star = Star { positions: 6.0, radius_mm: 18.0, crest_mm: 1.0, holds: false };
        let ends = |travel| {
            let claw = Claw { travel_mm: PerStroke::both(travel), ..claw() };
            claw.stroke(Stroke::Lift, None, Some(&star)).ends
        };
        let walk: Vec<_> = (0..200).map(|tenth| ends(f64::from(tenth) / 10.0)).collect();
        let mut order = walk.clone();
        order.dedup();
        assert_eq!(order, [Ends::Back, Ends::Between, Ends::Next, Ends::Beyond]);
    }

    #[test]
    fn a_roller_that_friction_holds_brings_no_drum_home() {
        let star = Star { positions: 6.0, radius_mm: 18.0, crest_mm: 1.0, holds: true };
        for travel in [2.0, 6.0, 9.6] {
            let claw = Claw { travel_mm: PerStroke::both(travel), ..claw() };
            assert_eq!(claw.stroke(Stroke::Lift, None, Some(&star)).ends, Ends::Held, "{travel}");
        }
    }

    #[test]
    fn a_drum_is_held_up_to_where_the_crest_after_the_next_position_begins() {
        // From half the crest, 1/36 rad, before one and a half steps on it is pushed past.
        let star = Star { positions: 6.0, radius_mm: 18.0, crest_mm: 1.0, holds: true };
        let (held, free) = (Some(&star), Star { holds: false, ..star });
        let (step, stand) = (claw().step().radians(), 1.0 / 36.0);
        let ends = |pushed: f64, star| claw().ends(pushed, star);
        assert_eq!(ends(1.5 * step - stand - 1e-6, held), Ends::Held);
        assert_eq!(ends(1.5 * step - stand + 1e-6, held), Ends::Beyond);
        let walk = [(0.5, -1.0, -1e-6), (0.5, -1.0, 1e-6), (0.5, 1.0, -1e-6), (0.5, 1.0, 1e-6)];
        let walk =
            walk.map(|(steps, side, by)| ends(steps * step + side * stand + by, Some(&free)));
        assert_eq!(walk, [Ends::Back, Ends::Between, Ends::Between, Ends::Next]);
        assert_eq!(ends(1.5 * step - stand - 1e-6, Some(&free)), Ends::Next);
        assert_eq!(ends(1.5 * step - stand + 1e-6, Some(&free)), Ends::Beyond);
    }

    #[test]
    fn a_short_pedal_ends_the_stroke_before_the_stop() {
        let claw = claw();
        let can = Angle::from_degrees(5.0);
        let end = claw.stroke(Stroke::Lift, Some(can), None);
        assert!(end.before_stop && end.shaft == can && end.gap_mm > claw.gaps_mm().lift);
        let free = claw.stroke(Stroke::Lift, Some(Angle::from_degrees(90.0)), None);
        assert!(!free.before_stop);
        assert_eq!(free.gap_mm, claw.gaps_mm().lift);
    }

    #[test]
    fn pins_too_far_out_are_told_with_the_limit() {
        let fault = Claw { pin_radius_mm: 40.0, ..claw() }.check().expect_err("too far out");
        assert!((fault.most_mm - 46.0 * 0.75_f64.sqrt()).abs() < 1e-9);
        assert!(claw().check().is_ok());
    }
}
