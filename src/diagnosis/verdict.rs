//! The verdicts of the checks, and the ranking of causes.
//!
//! Each check uses the measurement, else the number worked out from the design. If there is neither, it
//! stays open. Causes are ranked only by how far each number is past its limit.

use crenel_words::{Message, diagnosis as say};

use super::check::{CHECKS, Check};
use super::evidence::{Evidence, KnownBy};
use crate::analysis::Analysis;
use crate::design::Symptom;
use crate::units::sort_by_number;

/// The result of a check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CheckStatus {
    /// Within its limit.
    Passes,
    /// Past its limit.
    Fails,
    /// Unknown: something is still to be measured.
    Open,
}

impl CheckStatus {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Passes, Self::Fails, Self::Open];

    /// Its word in reports.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Passes => "passes",
            Self::Fails => "fails",
            Self::Open => "not measured",
        }
    }

    /// Its words for readers.
    pub fn label(self) -> Message {
        match self {
            Self::Passes => say::within_limits(),
            Self::Fails => say::out_of_limits(),
            Self::Open => say::not_known(),
        }
    }
}

/// One check with its verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckResult {
    /// Which check.
    pub check: &'static Check,
    /// Its result.
    pub status: CheckStatus,
    /// The source of its number; `None` while it is open.
    pub known_by: Option<KnownBy>,
    /// The number, the limit and the consequence; for an open check, what is missing.
    pub says: Vec<Message>,
    /// Which of these sentences has the number that decides.
    pub decides: usize,
    /// The next step; absent while it is open.
    pub next: Option<Message>,
    /// The excess over the limit, as a multiple of the limit or, if that is 0, of the usual size; 0 if the
    /// number is within its limit.
    pub exceedance: f64,
    /// The share of the limit that is used: 1 at the limit, more past it; `None` while it is open.
    pub used: Option<f64>,
    /// The symptoms felt that it explains; empty if it passes or is open.
    pub explains: Vec<Symptom>,
}

/// The diagnosis of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagnosis {
    /// Whether any symptom is given that says what happens.
    pub asked: bool,
    /// How many checks are left out because of when it happens.
    pub cleared: usize,
    /// The checks that belong to the symptoms given, or all of them if none is given, from the outside in.
    pub checks: Vec<CheckResult>,
    /// Indices into `checks` of the failed checks that explain a symptom, the furthest past its limit first.
    pub causes: Vec<usize>,
}

/// Works out the diagnosis of a design.
pub fn diagnose(analysis: &Analysis) -> Diagnosis {
    let felt = &analysis.design.trace.felt;
    let asked = analysis.design.trace.has_complaint();
    let any = |symptoms: &[Symptom]| symptoms.iter().any(|symptom| felt.contains(symptom));
    let asks = |check: &&Check| !asked || any(check.symptoms);
    let is_cleared = |check: &&Check| any(check.cleared_by);
    let cleared = CHECKS.iter().filter(asks).filter(is_cleared).count();
    // The measurements are of the rings as they are, before any planned work.
    let found = analysis.design.to_found();
    let unworked = (found != analysis.design).then(|| Analysis::of(&found));
    let drawn = unworked.as_ref().unwrap_or(analysis);
    let taken = found.with_measured();
    let measured = (taken != found).then(|| Analysis::of(&taken));
    let evidence = Evidence { drawn, seen: measured.as_ref().unwrap_or(drawn) };
    let checks: Vec<_> = CHECKS
        .iter()
        .filter(asks)
        .filter(|c| !is_cleared(c))
        .map(|c| evidence.checked(c))
        .collect();
    let mut causes: Vec<usize> =
        (0..checks.len()).filter(|&at| !checks[at].explains.is_empty()).collect();
    sort_by_number(&mut causes, |&at| -checks[at].exceedance);
    Diagnosis { asked, cleared, checks, causes }
}

impl Diagnosis {
    /// The verdict in a sentence or two.
    pub fn verdict(&self) -> Vec<Message> {
        let open = self.open();
        let still_open = (open > 0).then(|| say::still_open(open));
        [self.cause().unwrap_or_else(|| self.no_cause())].into_iter().chain(still_open).collect()
    }

    /// The most likely cause: of the checks past their limit that explain a ticked symptom, the farthest one. Absent
    /// while no symptom is ticked.
    pub fn most_likely(&self) -> Option<&CheckResult> {
        self.causes.first().map(|&at| &self.checks[at])
    }

    /// Where to go on, from the outside in: the outermost check that is open, else the outermost cause, else the
    /// outermost check.
    pub fn check_first(&self) -> Option<&CheckResult> {
        let cause = || self.causes.iter().min().map(|&at| &self.checks[at]);
        self.first_open().or_else(cause).or_else(|| self.checks.first())
    }

    /// The outermost check that is open.
    pub fn first_open(&self) -> Option<&CheckResult> {
        self.with_status(CheckStatus::Open).next()
    }

    /// How many checks are open.
    pub fn open(&self) -> usize {
        self.with_status(CheckStatus::Open).count()
    }

    fn with_status(&self, status: CheckStatus) -> impl Iterator<Item = &CheckResult> {
        self.checks.iter().filter(move |check| check.status == status)
    }

    /// The cause that is furthest out of limits, and where to begin.
    fn cause(&self) -> Option<Message> {
        let title = |at: usize| (self.checks[at].check.title)();
        let (&worst, &outermost) = (self.causes.first()?, self.causes.iter().min()?);
        Some(if outermost == worst {
            say::furthest_and_outermost(title(worst))
        } else {
            say::furthest(title(worst), title(outermost))
        })
    }

    fn no_cause(&self) -> Message {
        let fails = self.with_status(CheckStatus::Fails).count();
        let outermost = self.with_status(CheckStatus::Fails).next();
        match (outermost, self.asked) {
            _ if self.open() == self.checks.len() => say::nothing_measured(),
            (_, true) => say::nothing_explains(),
            (None, false) => say::all_within_limits(),
            (Some(first), false) => say::some_out_of_limits(fails, (first.check.title)()),
        }
    }
}

impl Evidence<'_> {
    fn checked(&self, check: &'static Check) -> CheckResult {
        let felt = &self.drawn.design.trace.felt;
        match (check.judge)(self) {
            Ok(outcome) => {
                let fails = outcome.exceedance > 0.0;
                let can_explain = outcome.explains.unwrap_or(check.symptoms);
                let explains = can_explain.iter().filter(|s| felt.contains(s)).copied();
                CheckResult {
                    check,
                    status: if fails { CheckStatus::Fails } else { CheckStatus::Passes },
                    known_by: Some(outcome.known_by),
                    says: outcome.says,
                    decides: outcome.decides,
                    next: Some(outcome.next.unwrap_or(check.next)()),
                    exceedance: outcome.exceedance.max(0.0),
                    used: Some((1.0 + outcome.exceedance).max(0.0)),
                    explains: if fails { explains.collect() } else { Vec::new() },
                }
            }
            Err(missing) => CheckResult {
                check,
                status: CheckStatus::Open,
                known_by: None,
                says: vec![missing],
                decides: 0,
                next: None,
                exceedance: 0.0,
                used: None,
                explains: Vec::new(),
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{ClawSpec, Design, DetentSpec, LinkageSpec, TrackSpec, example};
    use crate::design::{Operation, Work};
    use crate::design::{SYMPTOMS, SettingField};
    use crate::fields::{FieldId, Slot};
    use crate::ring::FlankSide;
    use crate::stack::Facing;

    /// The example with every part given.
    fn full() -> Design {
        let mut design = example();
        design.selector.linkage = Some(LinkageSpec::default());
        design.selector.claw = Some(ClawSpec::default());
        design.selector.detent = Some(DetentSpec::default());
        design.selector.track = Some(TrackSpec::default());
        design.depth = Some(crate::design::DepthSpec::example());
        design
    }

    /// The key and the text of each sentence: numbers that are shown alike are alike.
    fn shown(sentences: &[Message]) -> Vec<(&'static str, String)> {
        let told = |one: &Message| (one.key(), one.show(crenel_words::Reader::default()));
        sentences.iter().map(told).collect()
    }

    fn checked(design: &Design, check: &str) -> CheckResult {
        let diagnosis = diagnose(&Analysis::of(design));
        let found = diagnosis.checks.into_iter().find(|checked| checked.check.key == check);
        found.unwrap_or_else(|| panic!("{check:?} does not belong"))
    }

    #[test]
    fn without_numbers_everything_but_the_layout_is_open() {
        let diagnosis = diagnose(&Analysis::of(&example()));
        for checked in &diagnosis.checks {
            let known = matches!(checked.check.key, "entry_time" | "clunk");
            assert_eq!(checked.status == CheckStatus::Open, !known, "{checked:?}");
            assert!(!checked.says.is_empty());
        }
        assert_eq!(diagnosis.causes, Vec::<usize>::new());
    }

    #[test]
    fn when_it_happens_clears_checks_that_could_not_be_the_cause() {
        let asked = |felt: &[Symptom]| {
            let mut design = full();
            design.trace.felt = felt.iter().copied().collect();
            let diagnosis = diagnose(&Analysis::of(&design));
            let keys: Vec<_> = diagnosis.checks.iter().map(|c| c.check.key).collect();
            (keys, diagnosis.cleared)
        };
        let (all, none) = asked(&[Symptom::JUMPS_POWER]);
        assert_eq!(none, 0);
        // A gear that jumps out by itself is no matter of linkage, claw or detent.
        let (of_one, cleared) = asked(&[Symptom::JUMPS_POWER, Symptom::ONE_GEAR]);
        assert_eq!(of_one, ["engaged_depth", "fork_play", "tip_edges", "drive_flanks"]);
        assert_eq!(cleared, all.len() - of_one.len());
        let (of_every, _) = asked(&[Symptom::JUMPS_POWER, Symptom::EVERY_GEAR]);
        assert_eq!(of_every, ["pedal_reach", "stop_gap", "detent_return", "drum_rocking"]);
        // Alone it asks for nothing, but it leaves out.
        let (clutchless, cleared) = asked(&[Symptom::NO_CLUTCH]);
        assert!(!clutchless.contains(&"clutch_release") && cleared == 1);
    }

    #[test]
    fn a_number_to_either_side_of_its_limit_passes_and_fails() {
        let cases = [
            (FieldId::SeenClutchSpeed, 200.0, 300.0, "clutch_release"),
            (FieldId::SeenRodAngle, 75.0, 35.0, "rod_angle"),
            (FieldId::SeenRodAngle, 110.0, 150.0, "rod_angle"),
            (FieldId::SeenSpareLift, 2.0, -2.0, "pedal_reach"),
            (FieldId::SeenGapLift, 1.4, 1.6, "stop_gap"),
            (FieldId::SeenGapPress, 0.6, 0.4, "stop_gap"),
            (FieldId::SeenDrumDrag, 250.0, 300.0, "detent_return"),
            (FieldId::SeenClearanceThis, 0.2, 0.0, "neutral_clearance"),
            (FieldId::SeenOverlap, 3.8, 3.7, "engaged_depth"),
            (FieldId::SeenForkPlay, 0.1, 3.0, "fork_play"),
            (FieldId::SeenEdgeB, 0.1, 1.1, "tip_edges"),
            (FieldId::SeenFlankDrive, 0.0, -1.0, "drive_flanks"),
            (FieldId::SeenFlankCoast, 5.0, -5.0, "coast_flanks"),
            (FieldId::SeenLash, 12.0, 40.0, "lash"),
        ];
        for (id, passes, fails, check) in cases {
            let mut design = full();
            design.set(Slot::Seen(FieldId::SeenEdgeA), 0.0);
            design.set(Slot::Seen(FieldId::SeenGapLift), 1.0);
            design.set(Slot::Seen(FieldId::SeenGapPress), 1.0);
            if check == "fork_play" {
                design.set(Slot::Seen(FieldId::SeenOverlap), 3.0);
            }
            for (value, status) in [(passes, CheckStatus::Passes), (fails, CheckStatus::Fails)] {
                design.set(Slot::Seen(id), value);
                let checked = checked(&design, check);
                assert_eq!(checked.status, status, "{checked:?}");
                assert_eq!(checked.exceedance > 0.0, status == CheckStatus::Fails, "{checked:?}");
            }
        }
    }

    #[test]
    fn a_measured_play_of_the_fork_stands_in_for_that_of_the_chain() {
        // Chain of the example: 1.2 mm clear ± 0.13, throw 5.8 mm, so 4.6 mm without any play.
        let mut design = full();
        design.set(Slot::Seen(FieldId::SeenForkPlay), 2.0);
        let says = |check| shown(&checked(&design, check).says);
        assert_eq!(says("engaged_depth"), shown(&[say::engaged(3.6, 5.0, 3.75)]));
        let costs = say::fork_play_costs(2.0, 1.0, 3.6, 4.6, 3.75);
        assert_eq!(says("fork_play"), shown(&[costs]));
        assert_eq!(says("neutral_clearance")[..1], shown(&[say::clearance(Facing::This, 0.07)]));
    }

    #[test]
    fn a_wide_lash_as_drawn_explains_a_clunk() {
        let mut design = example();
        design.trace.felt = [Symptom::CLUNKS].into();
        assert_eq!(checked(&design, "lash").status, CheckStatus::Open);
        // Pitch 60°: dogs of 15° on both rings leave 30° at the tips, and their undercuts a little more.
        for side in crate::ring::Side::BOTH {
            design.set(Slot::Ring(side, FieldId::TipWidth), 15.0);
        }
        let drawn = checked(&design, "lash");
        assert_eq!(
            (drawn.status, drawn.explains.as_slice()),
            (CheckStatus::Fails, [Symptom::CLUNKS].as_slice())
        );
        assert!((1.0..1.1).contains(&drawn.exceedance), "{drawn:?}");
        assert_eq!(shown(&drawn.says), shown(&[say::lash_drawn(31.0, 15.0)]));
        design.set(Slot::Seen(FieldId::SeenLash), 30.0);
        let as_drawn = checked(&design, "lash");
        assert_eq!((as_drawn.exceedance, as_drawn.next), (1.0, drawn.next));
    }

    #[test]
    fn a_clunk_is_that_of_the_lash_and_not_the_blow_of_the_shift() {
        let mut design = example();
        let says = checked(&design, "clunk").says;
        design.set(Slot::Setting(FieldId::SlipSpeed), 3000.0);
        assert_eq!(checked(&design, "clunk").says, says);
        design.set(Slot::Seen(FieldId::SeenLash), 40.0);
        assert_ne!(checked(&design, "clunk").says, says);
    }

    #[test]
    fn unequal_gaps_explain_what_their_smaller_or_larger_one_does() {
        let [false_neutral, kicks_back, crunches_low] =
            [Symptom::FALSE_NEUTRAL, Symptom::KICKS_BACK, Symptom::CRUNCHES_LOW];
        let explains = |lift, press| {
            let mut design = full();
            design.trace.felt = SYMPTOMS.iter().filter(|s| !s.is_when).copied().collect();
            design.set(Slot::Seen(FieldId::SeenGapLift), lift);
            design.set(Slot::Seen(FieldId::SeenGapPress), press);
            checked(&design, "equal_gaps").explains
        };
        assert_eq!(explains(0.2, 0.9), [false_neutral]);
        assert_eq!(explains(2.0, 1.2), [kicks_back, crunches_low]);
        assert_eq!(explains(0.2, 1.8), [false_neutral, kicks_back, crunches_low]);
    }

    #[test]
    fn a_roller_ever_weaker_ends_where_one_that_sticks_does() {
        let exceedance = |flank| {
            let mut design = full();
            design.set(Slot::Part(FieldId::StarFlank), flank);
            design.set(Slot::Part(FieldId::RollerFriction), 0.5);
            design.set(Slot::Seen(FieldId::SeenDrumDrag), 200.0);
            checked(&design, "detent_return").exceedance
        };
        // Friction of 0.5 holds up to atan 0.5, 26.57°.
        assert!(
            exceedance(26.0) == 9.0
                && exceedance(26.6) == 9.0
                && (1.0..9.0).contains(&exceedance(30.0))
                && exceedance(35.0) < exceedance(30.0)
        );
    }

    #[test]
    fn with_nothing_said_to_be_felt_nothing_is_explained() {
        let mut design = full();
        design.set(Slot::Seen(FieldId::SeenRodAngle), 20.0);
        let verdict = |design: &Design| diagnose(&Analysis::of(design)).verdict();
        assert_eq!(verdict(&design)[0], say::some_out_of_limits(3, say::rod_angle()));
        design.trace.felt = [Symptom::CLUNKS].into();
        assert_eq!(verdict(&design)[0], say::nothing_explains());
    }

    #[test]
    fn straight_flanks_pass_and_say_that_nothing_holds_them() {
        let mut design = full();
        design.set(Slot::Seen(FieldId::SeenFlankDrive), 0.0);
        let checked = checked(&design, "drive_flanks");
        assert_eq!(checked.status, CheckStatus::Passes);
        assert_eq!(checked.says, [say::straight_flanks()]);
    }

    /// 1000 N on a flank of 4° push along the shaft with `1000·tan 4°`.
    #[test]
    fn flanks_that_lean_say_which_way_they_push() {
        let force = 1000.0 * libm::tan(4_f64.to_radians());
        for (deg, says) in [
            (4.0, say::flank_draws_in(4.0, force, 1000.0)),
            (-4.0, say::flank_pushes_out(4.0, force, 1000.0)),
        ] {
            let mut design = full();
            design.set(Slot::Seen(FieldId::SeenFlankDrive), deg);
            assert_eq!(checked(&design, "drive_flanks").says, [says]);
        }
    }

    #[test]
    fn causes_are_ranked_by_how_far_past_the_limit_they_are() {
        let mut design = full();
        design.trace.felt = [Symptom::JUMPS_POWER].into();
        design.set(Slot::Seen(FieldId::SeenFlankDrive), -3.0);
        design.set(Slot::Seen(FieldId::SeenOverlap), 3.0);
        let diagnosis = diagnose(&Analysis::of(&design));
        let causes: Vec<_> =
            diagnosis.causes.iter().map(|&at| diagnosis.checks[at].check.key).collect();
        assert_eq!(causes, ["drive_flanks", "engaged_depth"]);
        let verdict = say::furthest(say::drive_flanks(), say::engaged_depth());
        assert_eq!(diagnosis.verdict()[0], verdict);
        design.set(Slot::Seen(FieldId::SeenFlankDrive), -0.1);
        let diagnosis = diagnose(&Analysis::of(&design));
        assert_eq!(diagnosis.checks[diagnosis.causes[0]].check.key, "engaged_depth");
    }

    #[test]
    fn work_goes_on_at_what_is_open_or_else_at_the_outermost_cause() {
        let first = |design: &Design| {
            let diagnosis = diagnose(&Analysis::of(design));
            [diagnosis.most_likely(), diagnosis.check_first()].map(|one| one.map(|c| c.check.key))
        };
        let mut design = full();
        design.trace.felt = [Symptom::ONLY_HOT].into();
        assert_eq!(first(&design), [None, Some("clutch_release")]);
        design.set(Slot::Seen(FieldId::SeenClearanceThis), -0.1);
        assert_eq!(first(&design), [Some("neutral_clearance"), Some("clutch_release")]);
        design.set(Slot::Seen(FieldId::SeenClutchSpeed), 0.0);
        design.set(Slot::Seen(FieldId::SeenOverlap), 1.0);
        assert_eq!(first(&design), [Some("engaged_depth"), Some("neutral_clearance")]);
        design.trace.felt.clear();
        assert_eq!(first(&design)[0], None, "nothing is asked");
    }

    #[test]
    fn a_planted_fault_is_the_first_cause_of_what_is_felt() {
        for (symptom, id, value, check) in [
            (Symptom::WILL_NOT, FieldId::SeenClutchSpeed, 2000.0, "clutch_release"),
            (Symptom::WILL_NOT, FieldId::SeenGapLift, 5.0, "stop_gap"),
            (Symptom::SLOW, FieldId::SeenDrumDrag, 5000.0, "detent_return"),
            (Symptom::SLOW, FieldId::SeenRodAngle, 10.0, "rod_angle"),
            (Symptom::GRINDS, FieldId::SeenClearanceThis, -2.0, "neutral_clearance"),
            (Symptom::GRINDS, FieldId::SeenClutchSpeed, 2000.0, "clutch_release"),
            (Symptom::ONLY_COLD, FieldId::SeenClutchSpeed, 900.0, "clutch_release"),
            (Symptom::ONLY_COLD, FieldId::SeenDrumDrag, 900.0, "detent_return"),
            (Symptom::ONLY_HOT, FieldId::SeenClutchSpeed, 900.0, "clutch_release"),
            (Symptom::ONLY_HOT, FieldId::SeenOverlap, 1.0, "engaged_depth"),
        ] {
            let mut design = full();
            design.trace.felt = [symptom].into();
            let first = |design: &Design| {
                let diagnosis = diagnose(&Analysis::of(design));
                diagnosis.causes.first().map(|&at| diagnosis.checks[at].check.key)
            };
            assert_ne!(first(&design), Some(check), "{symptom:?} before the fault is planted");
            design.set(Slot::Seen(id), value);
            assert_eq!(first(&design), Some(check), "{symptom:?}");
        }
    }

    /// 3 mm short of the stop, of the usual 30 mm of a stroke.
    #[test]
    fn a_pedal_that_ends_early_is_ranked_by_its_share_of_a_stroke() {
        let mut design = full();
        for (short, share) in [(3.0, 0.1), (30.0, 1.0)] {
            design.set(Slot::Seen(FieldId::SeenSpareLift), -short);
            let exceedance = checked(&design, "pedal_reach").exceedance;
            assert!((exceedance - share).abs() < 1e-12, "{exceedance}");
        }
    }

    #[test]
    fn a_gap_too_small_explains_a_false_neutral_and_one_too_large_a_kick() {
        let gaps = |mm| {
            let mut design = full();
            design.trace.felt = [Symptom::FALSE_NEUTRAL, Symptom::KICKS_BACK].into();
            design.set(Slot::Seen(FieldId::SeenGapLift), mm);
            design.set(Slot::Seen(FieldId::SeenGapPress), mm);
            checked(&design, "stop_gap").explains
        };
        assert_eq!(gaps(0.1), [Symptom::FALSE_NEUTRAL]);
        assert_eq!(gaps(3.0), [Symptom::KICKS_BACK]);
        assert_eq!(gaps(1.0), []);
    }

    #[test]
    fn every_symptom_is_worked_through_from_the_outside_in() {
        for &symptom in SYMPTOMS.iter().filter(|symptom| !symptom.is_when) {
            let mut design = full();
            design.trace.felt = [symptom].into();
            let checks = diagnose(&Analysis::of(&design)).checks;
            assert!(checks.is_sorted_by_key(|checked| checked.check.station), "{symptom:?}");
            assert!(checks.iter().all(|checked| checked.check.symptoms.contains(&symptom)));
        }
    }

    #[test]
    fn what_is_measured_on_the_dogs_goes_into_the_shift() {
        let mut design = full();
        design.set(Slot::Seen(FieldId::SeenTipFriction), 0.42);
        design.set(Slot::Seen(FieldId::SeenEdgeA), 0.4);
        design.set(Slot::Seen(FieldId::SeenFlankDrive), 3.0);
        design.set(Slot::Seen(FieldId::SeenOverlap), 4.1);
        let taken = design.with_measured();
        assert_eq!(taken.tip_friction(), 0.42);
        assert_eq!(taken.a.found_dogs()[0].edge_break_mm, 0.4);
        assert_eq!(taken.b.found_dogs()[0].back_cut_drive_deg, 3.0);
        assert_eq!(taken.setting.get(SettingField::Overlap), 4.1);
        let lapped = taken.with_polished_tips();
        assert_eq!(lapped.tip_friction(), FieldId::LappedFriction.spec().default);
        let alone = Design { b: taken.b.clone(), ..design.clone() }.polished_alone();
        assert_eq!(alone.to_found().tip_friction(), 0.42);
        assert_eq!(alone.a.found_dogs(), design.a.found_dogs());
        assert_eq!(
            alone.setting.get(SettingField::Overlap),
            design.setting.get(SettingField::Overlap)
        );
        let mut planned = design.clone();
        planned.a.plan.operations.push(Operation::on_all(Work::narrow(FlankSide::Drive, 0.5)));
        assert_eq!(planned.polished_alone(), design.polished_alone());
        assert_eq!(full().with_measured(), full());
    }
}
