//! The parts between foot and fork as the user gives them. Each part is optional.

use super::numbers::{numbered, place};
use crate::fields::FieldId;
use crate::ring::Point;
use crate::selector::{self, Joined, Pedal, PerStroke, Rod, Star, TrackFault};
use crate::units::Angle;

/// Most points of a drum track.
pub const MOST_TRACK_POINTS: usize = 24;

/// How the pedal turns the selector shaft.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum PedalBy {
    /// Through a rod, its arm above the line from the pivot to the lever's end.
    #[default]
    RodAbove,
    /// Through a rod, its arm below that line.
    RodBelow,
    /// Sitting on the shaft.
    OnShaft,
}

/// Pedal, rod and lever.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinkageSpec {
    /// How the pedal turns the shaft.
    pub by: PedalBy,
    numbers: [f64; LinkageField::COUNT],
}

numbered!(
    LinkageField of LinkageSpec:
    ShaftAhead, ShaftAbove, PedalArm, RodLength, ShaftLever, ShaftLeverAt, FootArm, FootBend,
    FootLift, FootPress, RodThread, SplineTeeth
);

impl Default for LinkageSpec {
    fn default() -> Self {
        Self::joined(PedalBy::default())
    }
}

impl LinkageSpec {
    /// A linkage of this kind, with defaults for the rest.
    pub fn joined(by: PedalBy) -> Self {
        Self { by, numbers: LinkageField::defaults() }
    }

    /// Its geometry.
    pub fn working(&self) -> Pedal {
        let rod = || Rod {
            shaft: Point::new(
                self.get(LinkageField::ShaftAhead),
                self.get(LinkageField::ShaftAbove),
            ),
            arm_mm: self.get(LinkageField::PedalArm),
            rod_mm: self.get(LinkageField::RodLength),
            lever_mm: self.get(LinkageField::ShaftLever),
            lever_at: Angle::from_degrees(self.get(LinkageField::ShaftLeverAt)),
            above: self.by == PedalBy::RodAbove,
        };
        Pedal {
            foot_arm_mm: self.get(LinkageField::FootArm),
            bend: Angle::from_degrees(self.get(LinkageField::FootBend)),
            foot_mm: PerStroke::from([LinkageField::FootLift, LinkageField::FootPress])
                .map(|field| self.get(field)),
            joined: match self.by {
                PedalBy::OnShaft => Joined::OnShaft,
                PedalBy::RodAbove | PedalBy::RodBelow => Joined::ByRod(rod()),
            },
        }
    }
}

/// Claw, pins and stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ClawSpec {
    numbers: [f64; ClawField::COUNT],
}

numbered!(
    ClawField of ClawSpec:
    DrumPositions, PinRadius, ShaftToDrum, PlayLift, PlayPress, ClawLift, ClawPress, StopRadius,
    Eccentric, EccentricAt, GapWanted
);

impl Default for ClawSpec {
    fn default() -> Self {
        Self { numbers: ClawField::defaults() }
    }
}

impl ClawSpec {
    /// Its geometry.
    pub fn working(&self) -> selector::Claw {
        selector::Claw {
            positions: self.get(ClawField::DrumPositions),
            pin_radius_mm: self.get(ClawField::PinRadius),
            apart_mm: self.get(ClawField::ShaftToDrum),
            play_mm: PerStroke::from([ClawField::PlayLift, ClawField::PlayPress])
                .map(|field| self.get(field)),
            travel_mm: PerStroke::from([ClawField::ClawLift, ClawField::ClawPress])
                .map(|field| self.get(field)),
            stop_radius_mm: self.get(ClawField::StopRadius),
            eccentric_mm: self.get(ClawField::Eccentric),
            eccentric_at: Angle::from_degrees(self.get(ClawField::EccentricAt)),
            wanted_mm: self.get(ClawField::GapWanted),
        }
    }

    /// Turns the eccentric, and changes the travel of the hook to the stop with it.
    pub fn turn_eccentric(&mut self, to: Angle) {
        let turned = self.working().turned_to(to);
        let PerStroke { lift, press } = turned.travel_mm;
        let values = [
            (ClawField::EccentricAt, to.degrees()),
            (ClawField::ClawLift, lift),
            (ClawField::ClawPress, press),
        ];
        for (field, value) in values {
            // A hundredth of the smallest length that can be measured is precise enough.
            let rounded = (value * 1e4).round() / 1e4;
            self.set(field, if rounded.is_finite() { rounded } else { value });
        }
    }
}

/// Roller and star.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DetentSpec {
    numbers: [f64; DetentField::COUNT],
}

numbered!(DetentField of DetentSpec: RollerForce, StarRadius, StarFlank, RollerFriction, StarCrest, DrumSlack);

impl Default for DetentSpec {
    fn default() -> Self {
        Self { numbers: DetentField::defaults() }
    }
}

impl DetentSpec {
    /// The working mechanics.
    pub fn working(&self) -> selector::Detent {
        selector::Detent {
            force_n: self.get(DetentField::RollerForce),
            radius_mm: self.get(DetentField::StarRadius),
            flank: Angle::from_degrees(self.get(DetentField::StarFlank)),
            friction: self.get(DetentField::RollerFriction),
        }
    }

    /// The star of a drum with this number of positions.
    pub fn star(&self, positions: f64) -> Star {
        Star {
            positions,
            radius_mm: self.get(DetentField::StarRadius),
            crest_mm: self.get(DetentField::StarCrest),
            holds: self.working().holds(),
        }
    }
}

/// The track in the drum: one straight flank, or points if there are any.
#[derive(Clone, Debug, PartialEq)]
pub struct TrackSpec {
    /// Drum angle in degrees and fork travel in mm of each point.
    pub points: Vec<[f64; 2]>,
    numbers: [f64; TrackField::COUNT],
}

numbered!(TrackField of TrackSpec: TrackStart, TrackEnd, ForkThrow);

impl Default for TrackSpec {
    fn default() -> Self {
        Self { points: Vec::new(), numbers: TrackField::defaults() }
    }
}

impl TrackSpec {
    /// The numbers of one point.
    pub const POINT_FIELDS: [FieldId; 2] = [FieldId::TrackAngle, FieldId::TrackTravel];

    /// Its geometry.
    ///
    /// # Errors
    /// If its angles do not rise.
    pub fn working(&self) -> Result<selector::Track, TrackFault> {
        selector::Track::through(self.shape())
    }

    /// The points as given, in order or not; the two ends of the straight flank if there are no points.
    pub fn shape(&self) -> Vec<[f64; 2]> {
        if !self.points.is_empty() {
            return self.points.clone();
        }
        self.flank().to_vec()
    }

    /// The two ends of the straight flank.
    fn flank(&self) -> [[f64; 2]; 2] {
        let [start, end, throw] = self.numbers;
        [[start, 0.0], [end, throw]]
    }

    /// A number of one point, to change it.
    pub fn point_mut(&mut self, at: usize, id: FieldId) -> Option<&mut f64> {
        let which = Self::POINT_FIELDS.iter().position(|field| *field == id)?;
        self.points.get_mut(at)?.get_mut(which)
    }

    /// Replaces the straight flank by its points, so that they can be changed one by one.
    pub fn list_points(&mut self) {
        self.points = self.shape();
    }

    /// Adds a point half way between the last two. A single point gets the end of the straight flank, or its
    /// start if the end is not behind the point.
    pub fn add_point(&mut self) {
        match self.points[..] {
            [] => self.list_points(),
            [only] => {
                let [start, end] = self.flank();
                let at = usize::from(end[0] > only[0]);
                self.points.insert(at, if at == 1 { end } else { start });
            }
            [.., [from, low], [to, high]] if self.points.len() < MOST_TRACK_POINTS => {
                let middle = [(from + to) / 2.0, (low + high) / 2.0];
                self.points.insert(self.points.len() - 1, middle);
            }
            _ => {}
        }
    }
}

/// The parts between foot and fork.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SelectorSpec {
    /// Pedal, rod and lever.
    pub linkage: Option<LinkageSpec>,
    /// Claw, pins and stop.
    pub claw: Option<ClawSpec>,
    /// Roller and star.
    pub detent: Option<DetentSpec>,
    /// The track in the drum.
    pub track: Option<TrackSpec>,
}

impl SelectorSpec {
    /// The number of one field of the parts that are given.
    pub fn field(&self, id: FieldId) -> Option<f64> {
        let linkage = || self.linkage.as_ref()?.field(id);
        let claw = || self.claw.as_ref()?.field(id);
        let detent = || self.detent.as_ref()?.field(id);
        let track = || self.track.as_ref()?.field(id);
        linkage().or_else(claw).or_else(detent).or_else(track)
    }

    /// The number of one field, to change it.
    pub fn field_mut(&mut self, id: FieldId) -> Option<&mut f64> {
        let Self { linkage, claw, detent, track } = self;
        let linkage = linkage.as_mut().and_then(|part| part.field_mut(id));
        let claw = claw.as_mut().and_then(|part| part.field_mut(id));
        let detent = detent.as_mut().and_then(|part| part.field_mut(id));
        let track = track.as_mut().and_then(|part| part.field_mut(id));
        linkage.or(claw).or(detent).or(track)
    }

    /// The fields of the parts that are given.
    pub fn fields(&self) -> Vec<FieldId> {
        let parts: [(bool, &[FieldId]); 4] = [
            (self.linkage.is_some(), &LinkageSpec::FIELDS),
            (self.claw.is_some(), &ClawSpec::FIELDS),
            (self.detent.is_some(), &DetentSpec::FIELDS),
            (self.track.is_some(), &TrackSpec::FIELDS),
        ];
        parts.into_iter().filter(|(given, _)| *given).flat_map(|(_, ids)| ids).copied().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_point_can_be_added_whatever_is_left() {
        for left in [vec![], vec![[5.0, 1.0]], vec![[52.0, 6.0]], vec![[90.0, 6.0]]] {
            let mut track = TrackSpec { points: left.clone(), ..TrackSpec::default() };
            track.add_point();
            assert_eq!(track.points.len(), 2, "{left:?}");
            assert!(track.working().is_ok(), "{left:?}: {:?}", track.points);
        }
    }

    #[test]
    fn a_point_is_added_half_way_between_the_last_two_as_long_as_there_is_room() {
        let mut track = TrackSpec {
            points: vec![[5.0, 0.0], [10.0, 1.0], [50.0, 6.0]],
            ..TrackSpec::default()
        };
        track.add_point();
        assert_eq!(track.points, [[5.0, 0.0], [10.0, 1.0], [30.0, 3.5], [50.0, 6.0]]);
        for _ in 0..2 * MOST_TRACK_POINTS {
            track.add_point();
        }
        assert_eq!(track.points.len(), MOST_TRACK_POINTS);
    }
}
