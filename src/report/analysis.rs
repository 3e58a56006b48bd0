//! From a design to its working geometry.

use super::figures::extremes;
use super::gravity::sort_by_gravity;
use super::loading::Loading;
use super::offered::Offered;
use super::selecting::Selecting;
use super::shifting::Shifting;
use super::strength::Strength;
use super::{inwards, judge};
use crate::design::{Design, SettingField};
use crate::fields::Slot;
use crate::finding::{Finding, Severity};
use crate::pair::{Arc, Edges, Engagement, Mesh};
use crate::ring::{FlankSide, Ring, Side};
use crate::shift::Passing;
use crate::solid::Body;
use crate::units::Angle;

/// A design worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Analysis {
    /// What it was worked out from.
    pub design: Design,
    /// The rings as found, A first.
    pub found: [Ring; 2],
    /// The rings with their cuts made, A first.
    pub cut: [Ring; 2],
    /// The pair, unless an error stands in the way.
    pub meshed: Option<Meshed>,
    /// What stands between foot and fork.
    pub selecting: Selecting,
    /// Everything wrong or worth knowing, the gravest first.
    pub findings: Vec<Finding>,
}

/// The pair worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Meshed {
    /// What blocks what.
    pub mesh: Mesh,
    /// Windows between the tallest tips alone, just past tip level, to sharp edges.
    pub at_tips: Vec<Arc>,
    /// Entry windows to sharp tip edges: those between all dogs that come level before the hold depth.
    /// Where tips are equal, or lower by the hold depth or more, these are the windows at tip level.
    pub entry: Vec<Arc>,
    /// Windows that lead down to the hold depth, with the edge breaks.
    pub to_hold: Vec<Arc>,
    /// The rings at full depth.
    pub engagement: Engagement,
    /// The window at full depth that holds the phase, or the nearest one.
    pub held: Option<Arc>,
    /// The windows that lead to the hold depth passing by at the speed difference.
    pub passing: Passing,
    /// Time in seconds from tip level to the hold depth.
    pub travel_s: f64,
    /// The shift that is offered.
    pub offered: Offered,
    /// The shift; none where the rings jam or stand apart.
    pub shifting: Option<Shifting>,
    /// The torques that the dogs have to take.
    pub loading: Loading,
    /// The dogs under load, under power; none where nothing is carried.
    pub strength: Option<Strength>,
    /// The dogs under load on the over-run.
    pub overrun: Option<Strength>,
}

/// Where the rings stand to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// How far ring A is turned.
    pub phase: Angle,
    /// Distance past tip level with tip, mm.
    pub overlap_mm: f64,
}

/// The first steps of an [`Analysis`]: the rings laid out, and whether and how they meet.
#[derive(Clone, Debug, PartialEq)]
pub struct LaidOut {
    found: [Ring; 2],
    cut: [Ring; 2],
    /// The pair and how deep it goes, unless an error stands in the way.
    engaged: Option<(Mesh, Engagement)>,
    findings: Vec<Finding>,
}

impl LaidOut {
    /// Lays the rings of a design out.
    pub fn of(design: &Design) -> Self {
        let mut findings = design.check();
        let found = [design.a.to_found(), design.b.to_found()];
        let cut = [design.a.to_cut(), design.b.to_cut()];
        let mut engaged = None;
        if !findings.iter().any(stops_the_pair) {
            match Mesh::new(&cut[0], &cut[1]) {
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

impl Analysis {
    /// Works a design out. Never panics, whatever the design holds.
    pub fn of(design: &Design) -> Self {
        let LaidOut { found, cut, engaged, findings } = LaidOut::of(design);
        let meshed = engaged.map(|(mesh, engagement)| Meshed::of(design, &cut, mesh, engagement));
        let selecting = Selecting::of(design);
        let mut analysis = Self { design: design.clone(), found, cut, meshed, selecting, findings };
        let judged = judge::findings(&analysis);
        analysis.findings.extend(judged);
        let inwards = inwards::findings(&analysis);
        analysis.findings.extend(inwards);
        sort_by_gravity(&mut analysis.findings);
        analysis
    }

    /// One of the rings with its cuts made.
    pub const fn ring(&self, side: Side) -> &Ring {
        &self.cut[side as usize]
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
        self.cut[0].tallest_mm().min(self.cut[1].tallest_mm())
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

    /// The shift; `None` where the rings jam or stand apart.
    pub fn shifting(&self) -> Option<&Shifting> {
        self.meshed.as_ref()?.shifting.as_ref()
    }

    /// The dogs under a torque of this many N·m on the drive flanks; `None` where nothing is carried.
    pub(super) fn strength_under(&self, torque_nm: f64) -> Option<Strength> {
        let meshed = self.meshed.as_ref()?;
        let (full, held) = (meshed.engagement.full_depth_mm, meshed.held.as_ref());
        let drive = FlankSide::Drive;
        Strength::of(&self.design, &self.cut, &meshed.mesh, full, held, drive, torque_nm)
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
        let Some(meshed) = &self.meshed else { return self.overlap_mm() };
        let engagement = &meshed.engagement;
        engagement.jam.map_or(engagement.full_depth_mm, |jam| jam.overlap_mm)
    }
}

/// Whether a finding stands in the way of the pair. What is wrong between foot and fork does not.
fn stops_the_pair(finding: &Finding) -> bool {
    let elsewhere = matches!(
        finding.place,
        Some(Slot::Part(_) | Slot::TrackPoint(..) | Slot::Link(..) | Slot::Seen(_))
    );
    finding.severity == Severity::Error && !elsewhere && finding.code != "text_too_long"
}

/// How much lower the tallest tips of both rings together are once they are cut, mm.
pub(super) fn lowered_mm(found: &[Ring; 2], cut: &[Ring; 2]) -> f64 {
    let lower = |(found, cut): (&Ring, &Ring)| found.tallest_mm() - cut.tallest_mm();
    found.iter().zip(cut).map(lower).sum()
}

impl Meshed {
    /// The widest entry window, rad; none where there is none.
    pub fn free_angle(&self) -> Option<f64> {
        extremes(&self.entry).1
    }

    fn of(design: &Design, rings: &[Ring; 2], mesh: Mesh, engagement: Engagement) -> Self {
        let setting = &design.setting;
        let hold = setting.get(SettingField::HoldDepth);
        let phase = Angle::from_degrees(setting.get(SettingField::Phase));
        let offered = Offered::of(design);
        let to_hold = mesh.windows_down_to(hold, Edges::Broken);
        let full = engagement.full_depth_mm;
        let held = (full > 0.0).then(|| engagement.window_near(phase).copied()).flatten();
        let shifting = (engagement.jam.is_none() && full > 0.0)
            .then(|| Shifting::of(design, &mesh, &engagement, &offered));
        let loading = Loading::of(design, &offered, shifting.as_ref(), held.as_ref());
        let carried = |flank| {
            let torque_nm = loading.counted_nm(setting.case, flank);
            Strength::of(design, rings, &mesh, full, held.as_ref(), flank, torque_nm)
        };
        Self {
            strength: carried(FlankSide::Drive),
            overrun: carried(FlankSide::Coast),
            at_tips: mesh.entry_windows(Edges::Sharp),
            entry: mesh.windows_down_to(hold, Edges::Sharp),
            held,
            passing: Passing::new(&to_hold, offered.slip_rpm),
            travel_s: setting.travel().seconds_to(hold),
            loading,
            shifting,
            offered,
            to_hold,
            engagement,
            mesh,
        }
    }
}
