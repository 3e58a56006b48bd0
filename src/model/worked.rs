//! A design worked out: its rings, the pair they make, and the parts between foot and dogs.

use super::pair::PairAnalysis;
use super::selector::SelectorAnalysis;
use super::shift::ShiftAnalysis;
use super::strength::Strength;
use crate::design::{Design, Need, SettingField};
use crate::fields::Slot;
use crate::finding::{Finding, Severity};
use crate::pair::{Engagement, Mesh};
use crate::ring::{FlankSide, PerSide, Ring, Side};
use crate::solid::Body;
use crate::units::Angle;

/// A design worked out, before anything is said about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// What it was worked out from.
    pub design: Design,
    /// The rings as found, A first.
    pub found: PerSide<Ring>,
    /// The rings with their cuts made, A first.
    pub cut: PerSide<Ring>,
    /// The pair, unless an error stands in the way.
    pub pair: Option<PairAnalysis>,
    /// What stands between foot and fork.
    pub selector: SelectorAnalysis,
}

/// Where the rings stand to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// How far ring A is turned.
    pub phase: Angle,
    /// Distance past tip level with tip, mm.
    pub overlap_mm: f64,
}

/// The first steps of [`Worked`]: the rings laid out, and whether and how they meet.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidOut {
    found: PerSide<Ring>,
    cut: PerSide<Ring>,
    /// The pair and how deep it goes, unless an error stands in the way.
    engaged: Option<(Mesh, Engagement)>,
    findings: Vec<Finding>,
}

impl LaidOut {
    /// Lays the rings of a design out.
    pub fn of(design: &Design) -> Self {
        let mut findings = design.check();
        let found = design.to_found_rings();
        let cut = design.to_cut_rings();
        let mut engaged = None;
        if !findings.iter().any(stops_the_pair) {
            match Mesh::new(&cut.a, &cut.b) {
                Ok(mesh) => {
                    let overlap =
                        design.setting.get(SettingField::Overlap) - lowered_mm(&found, &cut);
                    let engagement = mesh.engage(overlap);
                    engaged = Some((mesh, engagement));
                }
                Err(error) => findings.push(error.into()),
            }
        }
        Self { found, cut, engaged, findings }
    }
}

impl LaidOut {
    /// The rings with their cuts made.
    pub const fn cut(&self) -> &PerSide<Ring> {
        &self.cut
    }

    /// The pair and how deep it goes, unless an error stands in the way.
    pub const fn engaged(&self) -> Option<&(Mesh, Engagement)> {
        self.engaged.as_ref()
    }
}

impl Worked {
    /// Works a design out, and gives the findings of laying it out with it. Never panics, whatever the
    /// design holds.
    pub(crate) fn of(design: &Design) -> (Self, Vec<Finding>) {
        let LaidOut { found, cut, engaged, findings } = LaidOut::of(design);
        let pair =
            engaged.map(|(mesh, engagement)| PairAnalysis::of(design, &cut, mesh, engagement));
        let selector = SelectorAnalysis::of(design);
        (Self { design: design.clone(), found, cut, pair, selector }, findings)
    }

    /// One of the rings with its cuts made.
    pub fn ring(&self, side: Side) -> &Ring {
        &self.cut[side]
    }

    /// The phase of the design.
    pub fn phase(&self) -> Angle {
        Angle::from_degrees(self.design.setting.get(SettingField::Phase))
    }

    /// The overlap of the design, mm: that of the rings as found, less what the cuts took off the
    /// tallest tips of both, because the stop of the sliding gear stays where it is.
    pub fn overlap_mm(&self) -> f64 {
        self.design.setting.get(SettingField::Overlap) - lowered_mm(&self.found, &self.cut)
    }

    /// How high the tallest dogs of the ring with the lower ones stand, mm.
    pub fn lowest_tall_mm(&self) -> f64 {
        self.cut.a.tallest_mm().min(self.cut.b.tallest_mm())
    }

    /// The web that the solids of the rings stand on.
    pub fn body(&self) -> Body {
        let of = |field| self.design.setting.get(field);
        Body {
            inside_mm: of(SettingField::WebInside),
            outside_mm: of(SettingField::WebOutside),
            thickness_mm: of(SettingField::WebThickness),
        }
    }

    /// The shift; `None` where the rings jam or stand apart, and if nobody knows what it
    /// depends on.
    pub fn shift(&self) -> Option<&ShiftAnalysis> {
        let needs = [Need::Speed, Need::TipFriction, Need::Inertia];
        let is_known = self.design.missing_of(&needs).is_none();
        self.pair.as_ref().filter(|_| is_known)?.shift.as_ref()
    }

    /// The dogs under a torque of this many N·m on one flank; `None` where nothing is carried.
    pub(crate) fn strength_under(&self, flank: FlankSide, torque_nm: f64) -> Option<Strength> {
        let pair = self.pair.as_ref()?;
        let (full, held) = (pair.engagement.full_depth_mm, pair.held.as_ref());
        Strength::of(&self.design, &self.cut, &pair.mesh, full, held, flank, torque_nm)
    }

    /// The largest edge breaks of the two rings together, mm.
    pub fn edges_mm(&self) -> f64 {
        let most = |ring: &Ring| ring.dogs.iter().map(|d| d.edge_break_mm).fold(0.0, f64::max);
        self.cut.iter().map(most).sum()
    }

    /// Where the rings stand in the drawings.
    pub fn pose(&self) -> Pose {
        Pose { phase: self.phase(), overlap_mm: self.drawn_overlap_mm() }
    }

    /// The overlap that the rings can really have, mm: no deeper than a web or a jam lets them.
    pub fn drawn_overlap_mm(&self) -> f64 {
        let Some(pair) = &self.pair else { return self.overlap_mm() };
        let engagement = &pair.engagement;
        engagement.jam.map_or(engagement.full_depth_mm, |jam| jam.overlap_mm)
    }
}

/// Whether a finding stands in the way of the pair. What is wrong between foot and fork does not.
fn stops_the_pair(finding: &Finding) -> bool {
    let elsewhere = matches!(
        finding.place,
        Some(
            Slot::Part(_)
                | Slot::TrackPoint(..)
                | Slot::Link(..)
                | Slot::Seen(_)
                | Slot::Limit(_)
                | Slot::Box(..)
        )
    );
    finding.severity == Severity::Error && !elsewhere && finding.code != "text_too_long"
}

/// How much lower the tallest tips of both rings together are once they are cut, mm.
pub(crate) fn lowered_mm(found: &PerSide<Ring>, cut: &PerSide<Ring>) -> f64 {
    let lower = |(found, cut): (&Ring, &Ring)| found.tallest_mm() - cut.tallest_mm();
    found.iter().zip(cut).map(lower).sum()
}
