//! From the foot to the fork, and the depth along the shaft.

use super::{Better, Figure, Group, if_finite};
use crate::analysis::{Analysis, ClawStrokes, PedalSwing, SelectorAnalysis};
use crate::fields::{FieldId, Slot};
use crate::selector::{Detent, Ends, Stroke, Track};
use crate::stack::{Depth, Facing};
use crate::units::{Angle, DisplayUnits, Quantity};

const FOUR_BAR: &str = "Law of cosines across the diagonal; Uicker, Pennock, Shigley, Theory of Machines and Mechanisms. 40° to 45° at least: the same.";
const CLAW: &str = "Plane geometry of claw and pins (derived). About 1 mm left at the stop, the same both ways: common practice, no source.";
const WEDGE: &str = "Wedge with friction, tan ρ = μ (derived).";
const TRACK: &str = "Straight between the points of the track; plain arithmetic.";
const CHAIN: &str = "Dimension chain; worst case Σt, RSS √Σt² as in a published tolerance example.";

/// Every figure of the parts that are given.
pub(super) fn figures(analysis: &Analysis, units: DisplayUnits) -> Vec<Figure> {
    let selector = &analysis.selector;
    let shown = Parts { analysis, selector, units };
    let mut figures = Vec::new();
    figures.extend(selector.swing().into_iter().flat_map(|swing| shown.pedal(swing)));
    figures.extend(selector.strokes().into_iter().flat_map(|claw| shown.claw(claw)));
    figures.extend(selector.detent.iter().flat_map(|detent| shown.detent(detent)));
    figures.extend(selector.sound_track().into_iter().flat_map(|track| shown.track(track)));
    figures.extend(selector.depth.iter().flat_map(|depth| shown.depth(depth)));
    figures
}

struct Parts<'a> {
    analysis: &'a Analysis,
    selector: &'a SelectorAnalysis,
    units: DisplayUnits,
}

impl Parts<'_> {
    fn mm(&self, mm: f64) -> String {
        Quantity::Length.show(mm, self.units)
    }

    fn deg(&self, angle: Angle) -> String {
        Quantity::Angle.show(angle.degrees(), self.units)
    }

    fn given(&self, id: FieldId) -> String {
        let value = self.analysis.design.get(Slot::Part(id));
        value.map_or_else(String::new, |value| id.spec().quantity.show(value, self.units))
    }

    fn pedal(&self, swing: &PedalSwing) -> Vec<Figure> {
        let figure = if_finite(Group::Selector, FOUR_BAR);
        let travel = [FieldId::FootLift, FieldId::FootPress];
        let swings = [
            ("shaft_swing_lift_deg", "Shaft swing, lifting"),
            ("shaft_swing_press_deg", "Shaft swing, pressing"),
        ];
        let mut figures: Vec<_> = Stroke::BOTH
            .into_iter()
            .map(|stroke| {
                let (key, label) = swings[stroke as usize];
                let reach = &swing.reach[stroke as usize];
                let locks = if reach.locks { ", where rod and lever come into line" } else { "" };
                let back = reach.turns_back_at_mm.map_or_else(String::new, |_| {
                    format!(
                        ", where it turns back; at the end of the stroke {}",
                        self.deg(reach.shaft)
                    )
                });
                let working = format!(
                    "foot {} of {} on an arm of {}{locks}{back}",
                    self.mm(reach.turns_back_at_mm.unwrap_or(reach.foot_mm)),
                    self.given(travel[stroke as usize]),
                    self.given(FieldId::FootArm)
                );
                let value = Some(reach.farthest.degrees());
                let formula = "Δψ of the lever for the pedal's turn s/L";
                figure(key, label, Quantity::Angle, value, Better::More, formula, working)
            })
            .collect();
        let worst = swing.worst();
        figures.push(figure(
            "transmission_worst_deg",
            "Angle between rod and lever, at its worst",
            Quantity::Angle,
            worst.map(Angle::degrees),
            Better::Neither,
            "cos μ = (b² + c² − a² − d² + 2ad·cos θ)/(2bc)",
            match (swing.rest.transmission, worst) {
                (Some(rest), Some(_)) => format!(
                    "at rest {}; a {}, b {}, c {}",
                    self.deg(rest),
                    self.given(FieldId::PedalArm),
                    self.given(FieldId::RodLength),
                    self.given(FieldId::ShaftLever)
                ),
                _ => "the pedal sits on the shaft".to_owned(),
            },
        ));
        figures.push(figure(
            "shaft_per_foot_deg",
            "Shaft for each mm of the foot, at rest",
            Quantity::Angle,
            swing.shaft_deg_per_mm,
            Better::Neither,
            "dψ/dθ = a·sin(θ − β)/(c·sin(ψ − β)), over L",
            format!("L {}", self.given(FieldId::FootArm)),
        ));
        figures.push(figure(
            "peg_per_turn_mm",
            "Peg rises for one turn of the rod end, longer",
            Quantity::Length,
            swing.peg_per_turn_mm,
            Better::Neither,
            "height of the peg with b + p, less that with b",
            format!("p {}, the shaft held by its spring", self.given(FieldId::RodThread)),
        ));
        figures.push(figure(
            "peg_per_spline_mm",
            "Peg moves for one spline",
            Quantity::Length,
            swing.peg_per_spline_mm,
            Better::Neither,
            "turn of the pedal with the lever one spline on, times L",
            format!("{} splines", self.given(FieldId::SplineTeeth)),
        ));
        figures
    }

    fn claw(&self, claw: &ClawStrokes) -> Vec<Figure> {
        let figure = if_finite(Group::Selector, CLAW);
        let hook = claw.claw.hook_radius_mm();
        let mut figures = vec![figure(
            "claw_swing_deg",
            "Swing that takes a pin one step",
            Quantity::Angle,
            Some(claw.claw.swing().degrees()),
            Better::Neither,
            "2·atan(r·sin(γ/2)/(d − r·cos(γ/2)))",
            format!(
                "r {}, d {}, γ {}; {} at the hook",
                self.given(FieldId::PinRadius),
                self.given(FieldId::ShaftToDrum),
                self.deg(claw.claw.step()),
                self.mm(claw.claw.swing_mm())
            ),
        )];
        let names = [
            (
                "gap_lift_mm",
                "Gap left at the stop, lifting",
                "drum_after_lift",
                "Drum after lifting",
            ),
            (
                "gap_press_mm",
                "Gap left at the stop, pressing",
                "drum_after_press",
                "Drum after pressing",
            ),
        ];
        for (end, (gap_key, gap_label, drum_key, drum_label)) in claw.strokes.iter().zip(names) {
            let short = if end.before_stop { ", where the pedal ends the stroke" } else { "" };
            let home =
                if end.ends == Ends::Next { "" } else { "; were the drum home, which it is not" };
            let working = format!(
                "the hook swings {}, {} at its radius of {}{short}{home}",
                self.deg(end.shaft),
                self.mm(end.shaft.radians() * hook),
                self.mm(hook)
            );
            let formula = "swing for a step + play − travel, at the hook";
            let gap = Some(end.gap_mm);
            figures.push(figure(
                gap_key,
                gap_label,
                Quantity::Length,
                gap,
                Better::Neither,
                formula,
                working,
            ));
            let pushed =
                format!("pushed {} of {}", self.deg(end.pushed), self.deg(claw.claw.step()));
            let mut drum = figure(
                drum_key,
                drum_label,
                Quantity::Angle,
                Some(end.pushed.degrees()),
                Better::Neither,
                "over half a step the roller draws it on; half a step past the next crest it is lost",
                pushed,
            );
            drum.words = Some(end.ends.words());
            figures.push(drum);
        }
        let centred = match claw.centred {
            Ok(_) => format!("now at {}", self.given(FieldId::EccentricAt)),
            Err(fault) => format!(
                "the stop has to move {}, and can move {} to {}",
                self.mm(fault.move_mm),
                self.mm(fault.can_mm[0]),
                self.mm(fault.can_mm[1])
            ),
        };
        figures.push(figure(
            "eccentric_equal_deg",
            "Eccentric for equal gaps",
            Quantity::Angle,
            claw.centred.ok().map(Angle::degrees),
            Better::Neither,
            "sin α = sin α₀ + (gap₁ − gap₂)/2 · Rs/(Rh·e)",
            centred,
        ));
        let [lift, press] = claw.claw.gaps_mm();
        figures.push(figure(
            "stop_thinner_mm",
            "Stop thinner, for the gap wanted",
            Quantity::Length,
            Some(claw.claw.stop_thinner_mm()),
            Better::Neither,
            "2·(mean gap − wanted)·Rs/Rh; minus is thicker",
            format!(
                "mean {}, wanted {}",
                self.mm((lift + press) / 2.0),
                self.given(FieldId::GapWanted)
            ),
        ));
        figures
    }

    fn detent(&self, detent: &Detent) -> Vec<Figure> {
        let figure = if_finite(Group::Selector, WEDGE);
        let working = format!(
            "F {}, R {}, α {}, μ {}",
            self.given(FieldId::RollerForce),
            self.given(FieldId::StarRadius),
            self.given(FieldId::StarFlank),
            self.given(FieldId::RollerFriction)
        );
        let hold = detent.hold_nmm();
        let foot = self.foot_force_n(hold);
        let torque = Quantity::FineTorque;
        let mut figures = vec![
            figure(
                "detent_hold_nmm",
                "Torque that lifts the roller",
                torque,
                hold,
                Better::Neither,
                "F·R·tan(α + ρ)",
                working.clone(),
            ),
            figure(
                "detent_return_nmm",
                "Torque that brings the drum home",
                torque,
                Some(detent.return_nmm()),
                Better::More,
                "F·R·tan(α − ρ)",
                working,
            ),
        ];
        if self.selector.swing().is_some() && self.selector.strokes().is_some() {
            figures.push(figure(
                "foot_over_detent_n",
                "Foot, to lift the roller",
                Quantity::Force,
                foot,
                Better::Less,
                "torque · drum/shaft · shaft/foot",
                "without the centring spring and what the forks drag".to_owned(),
            ));
        }
        figures
    }

    /// Force of the foot that turns the drum against a torque, by what each turns for the other.
    fn foot_force_n(&self, torque_nmm: Option<f64>) -> Option<f64> {
        let per_mm = self.selector.swing()?.shaft_deg_per_mm?.to_radians();
        Some(torque_nmm? * self.selector.strokes()?.claw.drum_per_shaft() * per_mm)
    }

    fn track(&self, track: &Track) -> Vec<Figure> {
        let figure = if_finite(Group::Selector, TRACK);
        let home = self.selector.step_deg();
        let home_text = self.deg(Angle::from_degrees(home));
        let mut figures = vec![
            figure(
                "fork_at_home_mm",
                "Fork travel with the drum home",
                Quantity::Length,
                Some(track.travel_mm(home)),
                Better::Neither,
                "track at one step of the drum",
                format!("at {home_text}"),
            ),
            figure(
                "rocking_costs_mm",
                "Overlap that rocking of the drum costs",
                Quantity::Length,
                self.selector.rocks_mm(),
                Better::Less,
                "track at home, less its least within ± half of the rocking",
                self.selector.slack.map_or_else(
                    || "not known: no detent is given".to_owned(),
                    |slack| {
                        let half = Angle::from_radians(slack.radians() / 2.0);
                        format!("{home_text} ± {}", self.deg(half))
                    },
                ),
            ),
            figure(
                "overlap_per_degree_mm",
                "Overlap for one degree of the drum, near home",
                Quantity::Length,
                Some(track.steepest(home, 1.0)),
                Better::Less,
                "steepest slope of the track within ± 1°",
                format!("at {home_text}"),
            ),
        ];
        let strokes = self.selector.strokes();
        let each = strokes.into_iter().flat_map(|claw| Stroke::BOTH.into_iter().zip(claw.strokes));
        let worst = each.min_by(|(_, a), (_, b)| a.pushed.radians().total_cmp(&b.pushed.radians()));
        figures.extend(worst.map(|(stroke, end)| {
            figure(
                "overlap_short_mm",
                "Overlap missing until the roller draws the drum home",
                Quantity::Length,
                self.selector.lost_mm(end.pushed.degrees()),
                Better::Less,
                "track at home, less the track where the claw stops pushing",
                format!(
                    "{}, pushed {} of {home_text}; {}",
                    stroke.word(),
                    self.deg(end.pushed),
                    end.ends.words()
                ),
            )
        }));
        figures
    }

    fn depth(&self, depth: &Depth) -> Vec<Figure> {
        let figure = if_finite(Group::Depth, CHAIN);
        let mm = Quantity::Length;
        let keys = [
            [
                ("clearance_this_mm", "Clearance in neutral, this pair"),
                ("least_clearance_this_mm", "The same at its least"),
                ("pushed_in_this_mm", "Overlap as the fork pushes, this pair"),
                ("drawn_in_this_mm", "Overlap as undercut draws in, this pair"),
            ],
            [
                ("clearance_other_mm", "Clearance in neutral, other pair"),
                ("least_clearance_other_mm", "The same at its least, other pair"),
                ("pushed_in_other_mm", "Overlap as the fork pushes, other pair"),
                ("drawn_in_other_mm", "Overlap as undercut draws in, other pair"),
            ],
        ];
        let play = self.mm(depth.play_mm);
        let mut figures = Vec::new();
        for (facing, [clear, least, pushed, drawn]) in Facing::BOTH.into_iter().zip(keys) {
            if depth.given(facing).is_none() {
                continue;
            }
            let chain = depth.chain(facing);
            let gap = self.mm(depth.clearance_mm(facing));
            let (worst, rss) = (self.mm(chain.worst_mm()), self.mm(chain.rss_mm()));
            let throw = self.mm(depth.throw_mm[facing as usize]);
            figures.extend([
                figure(
                    clear.0,
                    clear.1,
                    mm,
                    Some(depth.clearance_mm(facing)),
                    Better::Neither,
                    "Σ ± sizes of the chain",
                    format!("{} parts; ± {worst} at worst, ± {rss} RSS", chain.links.len()),
                ),
                figure(
                    least.0,
                    least.1,
                    mm,
                    Some(depth.least_clearance_mm(facing)),
                    Better::More,
                    "clearance − Σt − play/2",
                    format!("{gap} − {worst} − {play}/2"),
                ),
                figure(
                    pushed.0,
                    pushed.1,
                    mm,
                    Some(depth.pushed_in_mm(facing)),
                    Better::More,
                    "fork travel − clearance − play/2",
                    format!("{throw} − {gap} − {play}/2"),
                ),
                figure(
                    drawn.0,
                    drawn.1,
                    mm,
                    Some(depth.drawn_in_mm(facing)),
                    Better::Neither,
                    "fork travel − clearance + play/2",
                    format!("{throw} − {gap} + {play}/2"),
                ),
            ]);
        }
        figures.extend(depth.off_centre_mm().map(|off| figure(
            "shim_mm", "Shim that moves the sliding gear away from this pair", mm,
            depth.shim_mm(), Better::Neither,
            "half the difference of the clearances, rounded down to the shim step; minus is towards it",
            format!("{} off the middle, step {}", self.mm(off), self.mm(depth.shim_step_mm)),
        )));
        figures
    }
}
