//! One dog of the search: what can come off it, what that opens, and what it weighs.

use super::super::new_sizes::own_limits;
use super::rules::Rules;
use crate::analysis::Analysis;
use crate::design::{SettingField, Size};
use crate::fields::FieldId;
use crate::pair::Contact;
use crate::ring::{DENSITY_G_PER_MM3, Dog, FlankSide, PerFlank, PlanForm, Ring, Side};
use crate::shop::tolerance::Limits;

/// Thickness that a cut has to leave of every dog, mm.
const LEAST_STANDING_MM: f64 = 1.0;

/// The share of the thickness that the edge break of one flank may take of the tip.
const EDGE_SHARE: f64 = 0.25;

/// Stock with which the metal of a flank is weighed, mm.
const WEIGHED_MM: f64 = 0.1;

/// What can be done to a dog. Lengths along the circle are arcs at the mean radius of the contact.
#[derive(Clone, Debug)]
pub(super) struct Room<'a> {
    now: &'a Analysis,
    pub(super) side: Side,
    pub(super) place: usize,
    pub(super) height_mm: f64,
    pub(super) tan: PerFlank<f64>,
    /// The edge break that the dog has now.
    pub(super) edge_mm: f64,
    /// The largest edge break.
    pub(super) most_edge_mm: f64,
    thickness_mm: f64,
    /// How much can come off both flanks together, to the last.
    spare_mm: f64,
    /// How much can come off each flank without going through the case.
    pub(super) case_mm: PerFlank<f64>,
    /// How much can come off the tip without going through the case.
    pub(super) tip_case_mm: f64,
    mass_g: f64,
    /// Metal by the mm off the tip.
    pub(super) tip_g: f64,
    /// Metal by the mm off each flank, at the full height.
    pub(super) flank_g: PerFlank<f64>,
    /// Metal of the edge breaks by the square of their size.
    edge_g: f64,
    arcs: PerFlank<Arcs>,
}

/// How far stock off a flank opens a window.
#[derive(Clone, Copy, Debug)]
enum Arcs {
    /// By so much for each mm.
    Radial(f64),
    /// By the angle between two chords, on a circle.
    Parallel { half_chord_mm: f64, meeting_mm: f64, mean_mm: f64 },
}

impl Arcs {
    fn of(ring: &Ring, dog: &Dog, flank: FlankSide, contact: &Contact) -> Self {
        let mean_mm = contact.mean_mm();
        match ring.form {
            PlanForm::Radial => Self::Radial(mean_mm / ring.mean_radius_mm()),
            PlanForm::Parallel => Self::Parallel {
                half_chord_mm: ring.half_chord_mm(dog) - dog.narrowed_mm[flank],
                meeting_mm: contact.meeting_mm,
                mean_mm,
            },
        }
    }

    fn arc_mm(self, stock_mm: f64) -> f64 {
        match self {
            Self::Radial(scale) => stock_mm * scale,
            Self::Parallel { half_chord_mm, meeting_mm, mean_mm } => {
                let angle = |chord: f64| libm::asin((chord / meeting_mm).clamp(-1.0, 1.0));
                mean_mm * (angle(half_chord_mm) - angle(half_chord_mm - stock_mm))
            }
        }
    }

    fn stock_mm(self, arc_mm: f64) -> f64 {
        match self {
            Self::Radial(scale) => arc_mm / scale,
            Self::Parallel { half_chord_mm, meeting_mm, mean_mm } => {
                let angle = libm::asin((half_chord_mm / meeting_mm).clamp(-1.0, 1.0));
                half_chord_mm - meeting_mm * libm::sin(angle - arc_mm / mean_mm)
            }
        }
    }
}

/// What comes off a dog, and what that opens at the worst of its tolerances.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Cuts {
    /// Off the tip, mm; infinite for a dog that is removed.
    pub(super) lower_mm: f64,
    /// Off each flank, mm at the mean radius of the ring.
    pub(super) stock_mm: PerFlank<f64>,
    /// The edge break, mm.
    pub(super) edge_mm: f64,
    /// How much lower the tip is for certain, mm.
    pub(super) lowered_mm: f64,
    /// How far each flank is in for certain, mm of arc.
    pub(super) arc_mm: PerFlank<f64>,
    /// How much larger the edge break is for certain, mm.
    pub(super) eased_mm: f64,
}

impl<'a> Room<'a> {
    pub(super) fn of(now: &'a Analysis, side: Side, dog: &Dog, contact: &Contact) -> Self {
        let (ring, found) = (now.ring(side), now.found[side].at_place(dog.place));
        let case_mm = now.design.setting.get(SettingField::CaseDepth);
        let alone = |dog: Dog| Ring { dogs: vec![dog], ..ring.clone() };
        let mass = |dog: Dog| alone(dog).metal().mass_g();
        let mass_g = mass(*dog);
        let narrowed = |flank: FlankSide| {
            let mut ring = alone(*dog);
            ring.narrow(|_| true, flank, WEIGHED_MM);
            (mass_g - ring.metal().mass_g()) / WEIGHED_MM
        };
        let thick = |depth| ring.thickness_mm(dog, depth);
        let tip = alone(*dog).tip_outline(dog).map_or(0.0, |outline| outline.moments().area);
        let has_case = case_mm > 0.0;
        let left = |flank: FlankSide| {
            let off = found.map_or(0.0, |found| ring.flank_stock_mm(found, dog, flank));
            let per_mm = match ring.form {
                PlanForm::Radial => ring.outer_radius_mm / ring.mean_radius_mm(),
                PlanForm::Parallel => 1.0,
            };
            if has_case { (case_mm - off) / per_mm - 1e-6 } else { f64::INFINITY }
        };
        let thickness_mm = thick(0.0);
        Self {
            now,
            side,
            place: dog.place,
            height_mm: dog.height_mm,
            tan: dog.back_cut.map(crate::units::Angle::tan),
            edge_mm: dog.edge_break_mm,
            most_edge_mm: (EDGE_SHARE * thickness_mm).min(FieldId::BreakTo.spec().max),
            thickness_mm,
            spare_mm: thickness_mm.min(thick(dog.height_mm)) - LEAST_STANDING_MM,
            case_mm: PerFlank::from_fn(left),
            tip_case_mm: if has_case { case_mm - dog.cut_down_mm - 1e-6 } else { f64::INFINITY },
            mass_g,
            tip_g: tip * DENSITY_G_PER_MM3,
            flank_g: PerFlank::from_fn(narrowed),
            edge_g: (ring.outer_radius_mm - ring.inner_radius_mm) * DENSITY_G_PER_MM3,
            arcs: PerFlank::from_fn(|flank| Arcs::of(ring, dog, flank, contact)),
        }
    }

    pub(super) const fn uncut(&self) -> Cuts {
        Cuts {
            lower_mm: 0.0,
            stock_mm: PerFlank { drive: 0.0, coast: 0.0 },
            edge_mm: self.edge_mm,
            lowered_mm: 0.0,
            arc_mm: PerFlank { drive: 0.0, coast: 0.0 },
            eased_mm: 0.0,
        }
    }

    /// Metal that comes off, g, with the edge breaks as chamfers of 45°.
    pub(super) fn cost_g(&self, cuts: &Cuts) -> f64 {
        if cuts.lower_mm == f64::INFINITY {
            return self.mass_g;
        }
        let left = 1.0 - cuts.lower_mm / self.height_mm;
        let flank = |flank: FlankSide| self.flank_g[flank] * cuts.stock_mm[flank];
        let flanks = flank(FlankSide::Drive) + flank(FlankSide::Coast);
        let edges = cuts.edge_mm * cuts.edge_mm - self.edge_mm * self.edge_mm;
        self.tip_g * cuts.lower_mm + flanks * left + self.edge_g * edges
    }

    /// Whether cuts keep the rules.
    pub(super) fn keeps(&self, cuts: &Cuts, rules: &Rules) -> bool {
        let is_removed = cuts.lower_mm == f64::INFINITY;
        let narrowed = |flank: FlankSide| {
            let within = cuts.stock_mm[flank] <= self.most_stock_mm(flank, rules);
            cuts.stock_mm[flank] == 0.0 || rules.narrows && within
        };
        let tip = rules.removes || !rules.keeps_case || cuts.lower_mm <= self.tip_case_mm;
        (rules.removes || !is_removed)
            && (rules.lowers || cuts.lower_mm == 0.0)
            && (rules.eases || cuts.eased_mm == 0.0)
            && (is_removed || tip && FlankSide::BOTH.into_iter().all(narrowed))
    }

    /// Lowers the tip by a certain amount at the worst of its tolerance, mm; removes the dog where that is
    /// more than a cut leaves standing. Returns whether the rules allow it.
    pub(super) fn lower(&self, cuts: &mut Cuts, by_mm: f64, most_mm: f64, rules: &Rules) -> bool {
        (cuts.lower_mm, cuts.lowered_mm) = (0.0, 0.0);
        if by_mm <= 0.0 {
            return true;
        }
        let height = |off: f64| rules.steps.length.down(self.height_mm - off);
        let tolerance = |off: f64| self.over_mm(rules, Size::Height, height(off));
        let least = FieldId::ShortenTo.spec().min;
        let made = made(by_mm, |off| self.height_mm - height(off), tolerance);
        match made.filter(|(off, _)| self.height_mm - off >= least) {
            Some((off, certain)) if off <= most_mm => {
                (cuts.lower_mm, cuts.lowered_mm) = (off, certain);
                true
            }
            Some(_) => false,
            None => {
                self.remove(cuts);
                rules.removes
            }
        }
    }

    pub(super) const fn remove(&self, cuts: &mut Cuts) {
        (cuts.lower_mm, cuts.lowered_mm) = (f64::INFINITY, f64::INFINITY);
    }

    /// Takes as much off the tip as the rules allow.
    fn open_tip(&self, cuts: &mut Cuts, rules: &Rules) {
        if rules.removes {
            return self.remove(cuts);
        }
        let most = if rules.keeps_case { self.tip_case_mm } else { f64::INFINITY };
        let most = most.min(self.height_mm - FieldId::ShortenTo.spec().min);
        // A step less than the most, so that rounding keeps within it.
        let tolerance = self.over_mm(rules, Size::Height, self.height_mm).unwrap_or(most);
        if !self.lower(cuts, most - tolerance - rules.steps.length.mm(), most, rules) {
            self.lower(cuts, 0.0, most, rules);
        }
    }

    /// About what the edges cost for each mm.
    pub(super) fn edge_price_g(&self) -> f64 {
        self.edge_g * self.most_edge_mm
    }

    /// Moves a flank in by a certain arc at the worst of its tolerance, mm, or by the most that is whole steps.
    pub(super) fn narrow(
        &self,
        cuts: &mut Cuts,
        flank: FlankSide,
        arc_mm: f64,
        most_mm: f64,
        rules: &Rules,
    ) {
        let (ring, arcs) = (self.now.ring(self.side), self.arcs[flank]);
        let size = |mm: f64| rules.steps.stock_up(ring, mm).min(most_mm);
        let tolerance =
            |stock: f64| self.over_mm(rules, Size::Width, (self.thickness_mm - stock).max(0.0));
        let wanted = (arc_mm > 0.0).then(|| arcs.stock_mm(arc_mm)).filter(|mm| *mm > 0.0);
        let (stock, certain) =
            wanted.and_then(|wanted| made(wanted, size, tolerance)).unwrap_or_default();
        cuts.stock_mm[flank] = stock;
        cuts.arc_mm[flank] = arcs.arc_mm(certain.max(0.0));
    }

    /// How far a flank is in at its nominal size, mm of arc.
    pub(super) fn nominal_arc_mm(&self, cuts: &Cuts, flank: FlankSide) -> f64 {
        self.arcs[flank].arc_mm(cuts.stock_mm[flank])
    }

    pub(super) fn most_stock_mm(&self, flank: FlankSide, rules: &Rules) -> f64 {
        let case = if rules.keeps_case { self.case_mm[flank] } else { f64::INFINITY };
        self.spare_mm(rules, 1.0).min(case).min(FieldId::FlankStock.spec().max).max(0.0)
    }

    /// How much can come off so many flanks together, mm: what is left stands even if each comes out as far in as
    /// it may.
    pub(super) fn spare_mm(&self, rules: &Rules, flanks: f64) -> f64 {
        let limits = self.limits(rules, Size::Width, LEAST_STANDING_MM).unwrap_or_default();
        self.spare_mm - flanks * limits.minus
    }

    /// Breaks the edges by so much more at the worst of their tolerance, mm, or as far as `most_mm`.
    pub(super) fn ease(&self, cuts: &mut Cuts, by_mm: f64, most_mm: f64, rules: &Rules) {
        (cuts.edge_mm, cuts.eased_mm) = (self.edge_mm, 0.0);
        let tolerance = |edge: f64| self.over_mm(rules, Size::Edge, edge);
        let most = rules.steps.length.down(self.most_edge_mm.min(most_mm));
        if by_mm <= 0.0 || most <= self.edge_mm {
            return;
        }
        let least = FieldId::BreakTo.spec().min;
        let size = |edge: f64| rules.steps.length.up(edge.max(least)).min(most);
        if let Some((edge, certain)) = made(self.edge_mm + by_mm, size, tolerance) {
            let eased = (certain - self.edge_mm).max(0.0);
            (cuts.edge_mm, cuts.eased_mm) = (edge, eased);
        }
    }

    /// How far a size may be off and the goal still has to be met; none if only the nominal size has to meet it.
    fn limits(&self, rules: &Rules, size: Size, mm: f64) -> Option<Limits> {
        if !rules.holds {
            return Some(Limits::default());
        }
        own_limits(&self.now.design, (self.side, self.now.ring(self.side)), self.place, size, mm)
    }

    /// The metal that may be left on a size beyond what is planned, mm.
    fn over_mm(&self, rules: &Rules, size: Size, mm: f64) -> Option<f64> {
        self.limits(rules, size, mm).map(|limits| limits.plus)
    }
}

/// How far the rules let a dog be cut.
pub(super) struct Most {
    /// With the tip and both flanks cut as far as that.
    cuts: Cuts,
    /// Off each flank, in whole steps, mm.
    pub(super) stock_mm: PerFlank<f64>,
}

impl Most {
    pub(super) fn of(room: &Room<'_>, rules: &Rules) -> Self {
        let ring = room.now.ring(room.side);
        let most_mm = |flank| room.most_stock_mm(flank, rules);
        let stock_mm = PerFlank::from_fn(|flank| rules.steps.stock_down(ring, most_mm(flank)));
        let mut cuts = room.uncut();
        room.open_tip(&mut cuts, rules);
        for flank in FlankSide::BOTH {
            let arc_mm = room.arcs[flank].arc_mm(most_mm(flank));
            room.narrow(&mut cuts, flank, arc_mm, stock_mm[flank], rules);
        }
        Self { cuts, stock_mm }
    }

    /// Cuts flanks as far as that, and the tip too unless the dog keeps its height.
    pub(super) const fn open(&self, cuts: &mut Cuts, rules: &Rules, keeps_height: bool) {
        if keeps_height {
            (cuts.lower_mm, cuts.lowered_mm) = (0.0, 0.0);
        } else if rules.lowers {
            (cuts.lower_mm, cuts.lowered_mm) = (self.cuts.lower_mm, self.cuts.lowered_mm);
        }
        if rules.narrows {
            (cuts.stock_mm, cuts.arc_mm) = (self.cuts.stock_mm, self.cuts.arc_mm);
        }
    }
}

/// The smallest size that is at least `wanted` at the worst of its tolerance, and what it is at that worst; the
/// largest size if none is. `None` if a size has no tolerance.
fn made(
    wanted: f64,
    size: impl Fn(f64) -> f64,
    tolerance: impl Fn(f64) -> Option<f64>,
) -> Option<(f64, f64)> {
    let mut spare = 0.0;
    loop {
        let made = size(wanted + spare);
        let needed = tolerance(made)?;
        // A size that has reached its largest grows no more.
        if needed <= spare || made < wanted + spare - 1e-9 {
            return Some((made, made - needed));
        }
        spare = needed;
    }
}
