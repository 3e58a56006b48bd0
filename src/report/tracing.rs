//! From what the rider feels to what the numbers say is the cause.
//!
//! Each check takes what was measured for it or, where nothing was, what the sections of the design
//! work out; what is known by neither stays open. Causes are ranked by how far past its limit each
//! number is, and nothing else.

use super::analysis::Analysis;
use super::gears::gear_shifts;
use super::inwards::{ENGAGED_SHARE, GAP_SHARE, GAPS_APART_MM};
use crate::fields::FieldId;
use crate::load::Stress;
use crate::ring::FlankSide;
use crate::selector::{CRAMPED, Joined, Stroke};
use crate::shift::straight_in_limit_rpm;
use crate::stack::{Depth, Facing};
use crate::trace::{Check, Symptom};
use crate::units::{Angle, DisplayUnits, Quantity, sort_by_number};

/// By how much the measured lash may be larger than the drawn one, degrees: our own bound.
const LASH_APART_DEG: f64 = 1.0;

/// Lash at the dogs above which opening the throttle is felt as a clunk, degrees: our own bound, about
/// what six dogs to a ring leave with a quarter of the pitch free.
const WIDE_LASH_DEG: f64 = 15.0;

/// Share of the wanted depth up to which a cost is small: our own bound.
const SMALL_SHARE: f64 = 0.1;

/// What a number is set against where its limit is nothing, so that causes can be ranked: the middle of
/// the usual undercuts, the usual foot travel of a stroke, a clear millimetre (common practice, no source).
const USUAL_UNDERCUT_DEG: f64 = 5.0;
const USUAL_FOOT_MM: f64 = 30.0;
const USUAL_CLEARANCE_MM: f64 = 1.0;

/// What a check comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Judged {
    /// Within its limit.
    Passes,
    /// Past its limit.
    Fails,
    /// Not known: something is still to be measured.
    Open,
}

impl Judged {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Passes => "passes",
            Self::Fails => "fails",
            Self::Open => "not measured",
        }
    }
}

/// Where the number of a check comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KnownBy {
    /// It was measured.
    Measured,
    /// It is worked out from what the other areas have.
    WorkedOut,
}

/// One check with its verdict.
#[derive(Clone, Debug, PartialEq)]
pub struct Checked {
    /// Which check.
    pub check: Check,
    /// What it comes to.
    pub judged: Judged,
    /// Where its number comes from; none while it is open.
    pub known_by: Option<KnownBy>,
    /// The number, the limit and what follows; for an open check what is missing.
    pub says: String,
    /// What to do next.
    pub next: &'static str,
    /// By how many times its limit or, where that is nothing, its usual size the number is past it; 0
    /// where it is not.
    pub past: f64,
    /// Which of the symptoms that are felt it explains; none where it passes or is open.
    pub explains: Vec<Symptom>,
}

/// The trace of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Traced {
    /// Whether anything is said to be felt.
    pub asked: bool,
    /// The checks that belong to what is felt, or all of them where nothing is said to be felt, from
    /// the outside in.
    pub checks: Vec<Checked>,
    /// The failed checks that explain something felt, by how far past their limits they are: places in
    /// `checks`.
    pub causes: Vec<usize>,
}

/// What one check found.
struct Told {
    known_by: KnownBy,
    /// How many times its limit it is past it; 0 or less passes.
    past: f64,
    says: String,
    next: &'static str,
    explains: &'static [Symptom],
}

/// Works the trace of a design through.
pub fn trace(analysis: &Analysis, units: DisplayUnits) -> Traced {
    let felt = &analysis.design.trace.felt;
    let belongs = |check: &Check| {
        felt.is_empty() || check.symptoms().iter().any(|symptom| felt.contains(symptom))
    };
    // What was measured was measured on the rings as they are, before any planned work.
    let found = analysis.design.as_found();
    let unworked = (found != analysis.design).then(|| Analysis::of(&found));
    let drawn = unworked.as_ref().unwrap_or(analysis);
    let taken = found.with_measured();
    let measured = (taken != found).then(|| Analysis::of(&taken));
    let tracer = Tracer { drawn, seen: measured.as_ref().unwrap_or(drawn), units };
    let checks: Vec<_> =
        Check::ALL.into_iter().filter(belongs).map(|check| tracer.checked(check)).collect();
    let mut causes: Vec<usize> =
        (0..checks.len()).filter(|&at| !checks[at].explains.is_empty()).collect();
    sort_by_number(&mut causes, |&at| -checks[at].past);
    Traced { asked: !felt.is_empty(), checks, causes }
}

impl Traced {
    /// What the numbers say, in a sentence or two.
    pub fn words(&self) -> String {
        let open = self.checks.iter().filter(|c| c.judged == Judged::Open).count();
        let still = match open {
            0 => String::new(),
            1 => " One check is still open.".to_owned(),
            n => format!(" {n} checks are still open."),
        };
        let Some(&first) = self.causes.first() else {
            return self.no_cause(open) + &still;
        };
        let worst = self.checks[first].check.title();
        let outermost = self.causes.iter().min().map_or(worst, |&at| self.checks[at].check.title());
        let start = if outermost == worst {
            "It is the outermost too: begin there.".to_owned()
        } else {
            format!("Working from the outside in, begin with “{outermost}”.")
        };
        format!("Farthest past its limit: “{worst}”. {start}{still}")
    }

    fn no_cause(&self, open: usize) -> String {
        let fails = self.checks.iter().filter(|c| c.judged == Judged::Fails).count();
        let outermost = self.checks.iter().find(|c| c.judged == Judged::Fails);
        match (outermost, self.asked) {
            _ if open == self.checks.len() => {
                "Nothing is measured yet, so nothing can be said.".to_owned()
            }
            (_, true) => "No check that is known explains what is felt.".to_owned(),
            (None, false) => "No check that is known is past its limit.".to_owned(),
            (Some(first), false) => {
                let many = if fails == 1 {
                    "One check is".to_owned()
                } else {
                    format!("{fails} checks are")
                };
                let title = first.check.title();
                format!(
                    "{many} past the limit, “{title}” the outermost. Tick what the rider feels to see which of them explain it."
                )
            }
        }
    }
}

struct Tracer<'a> {
    /// The design as drawn.
    drawn: &'a Analysis,
    /// The design with what was measured on the dogs taken in.
    seen: &'a Analysis,
    units: DisplayUnits,
}

impl Tracer<'_> {
    fn checked(&self, check: Check) -> Checked {
        let felt = &self.drawn.design.trace.felt;
        match self.told(check) {
            Ok(told) => {
                let fails = told.past > 0.0;
                let explains = told.explains.iter().filter(|s| felt.contains(s)).copied();
                Checked {
                    check,
                    judged: if fails { Judged::Fails } else { Judged::Passes },
                    known_by: Some(told.known_by),
                    says: told.says,
                    next: told.next,
                    past: told.past.max(0.0),
                    explains: if fails { explains.collect() } else { Vec::new() },
                }
            }
            Err(missing) => Checked {
                check,
                judged: Judged::Open,
                known_by: None,
                says: missing.to_owned(),
                next: "",
                past: 0.0,
                explains: Vec::new(),
            },
        }
    }

    fn told(&self, check: Check) -> Result<Told, &'static str> {
        let mut told = match check {
            Check::RodAngle => self.rod_angle(),
            Check::PedalReach => self.pedal_reach(),
            Check::StopGap => self.stop_gap(),
            Check::EqualGaps => self.equal_gaps(),
            Check::DetentReturn => self.detent_return(),
            Check::DrumRocking => self.drum_rocking(),
            Check::NeutralClearance => self.neutral_clearance(),
            Check::EngagedDepth => self.engaged_depth(),
            Check::ForkPlay => self.fork_play(),
            Check::TipFaces => self.tip_faces(),
            Check::TipEdges => self.tip_edges(),
            Check::DriveFlanks => self.flanks(FlankSide::Drive),
            Check::CoastFlanks => self.flanks(FlankSide::Coast),
            Check::EntryTime => self.entry_time(),
            Check::Lash => self.lash(),
            Check::Clunk => self.clunk(),
        }?;
        if told.explains.is_empty() {
            told.explains = check.symptoms();
        }
        Ok(told)
    }

    fn measured(&self, id: FieldId) -> Option<f64> {
        self.drawn.design.trace.seen(id)
    }

    fn show(&self, quantity: Quantity, value: f64) -> String {
        quantity.show(value, self.units)
    }

    fn mm(&self, mm: f64) -> String {
        // Hundredths are as much as feelers tell.
        self.show(Quantity::Length, (mm * 100.0).round() / 100.0)
    }

    fn deg(&self, deg: f64) -> String {
        self.show(Quantity::Angle, (deg * 10.0).round() / 10.0)
    }

    // ---- linkage ----

    fn rod_angle(&self) -> Result<Told, &'static str> {
        let worked_out = || Some(self.drawn.selecting.swing()?.worst()?.degrees());
        let (angle, known_by) = known(self.measured(FieldId::SeenRodAngle), worked_out)
            .ok_or("Measure it, or give the linkage under Selector. A pedal on the shaft has no rod to check.")?;
        let off = angle.min(180.0 - angle);
        let [least, near] = CRAMPED;
        Ok(Told {
            known_by,
            past: (least - off) / least,
            says: format!(
                "{} at its worst, {} from line; {} to {} at least.",
                self.deg(angle),
                self.deg(off),
                self.deg(least),
                self.deg(near)
            ),
            next: "Move the lever by a spline, or change rod and arms, until rod and lever stand square in the middle of the swing.",
            explains: &[],
        })
    }

    fn pedal_reach(&self) -> Result<Told, &'static str> {
        let measured =
            [FieldId::SeenSpareLift, FieldId::SeenSparePress].map(|id| self.measured(id));
        let spares =
            Stroke::BOTH.map(|stroke| known(measured[stroke as usize], || self.spare_mm(stroke)));
        let missing = "Measure both ways, or give linkage and claw under Selector.";
        let swing = self.drawn.selecting.swing();
        let on_shaft = swing.is_some_and(|swing| swing.pedal.joined == Joined::OnShaft);
        self.both_ways(spares, missing, |tracer, spare, at| {
            let word = Stroke::BOTH[at].word();
            if spare >= 0.0 {
                (0.0, format!("{} to spare {word}", tracer.mm(spare)))
            } else if spare.is_finite() {
                (-spare / USUAL_FOOT_MM, format!("{} short of the stop {word}", tracer.mm(-spare)))
            } else {
                (1.0, format!("no foot travel reaches the stop {word}"))
            }
        }, if on_shaft {
            "Give the pedal room; on the shaft only a shorter foot arm turns it farther for the same foot."
        } else {
            "Give the pedal room, or more shaft for the same foot: a longer rod arm or a shorter shaft lever."
        })
    }

    /// Foot travel left at the stop, mm; without end short where no travel reaches it.
    fn spare_mm(&self, stroke: Stroke) -> Option<f64> {
        let (swing, claw) = (self.drawn.selecting.swing()?, self.drawn.selecting.strokes()?);
        let spare = swing.spare_mm(stroke, claw.claw.swing_to_stop(stroke));
        Some(spare.unwrap_or(f64::NEG_INFINITY))
    }

    /// A check with a number for each stroke or each side. One that fails decides; one that is missing leaves it open.
    fn both_ways(
        &self,
        numbers: [Option<(f64, KnownBy)>; 2],
        missing: &'static str,
        judge: impl Fn(&Self, f64, usize) -> (f64, String),
        next: &'static str,
    ) -> Result<Told, &'static str> {
        let given = numbers.into_iter().enumerate();
        let judged: Vec<_> = given
            .filter_map(|(at, number)| {
                let (value, by) = number?;
                Some((judge(self, value, at), by))
            })
            .collect();
        let past = judged.iter().map(|((past, _), _)| *past).fold(0.0, f64::max);
        if judged.is_empty() || (judged.len() < 2 && past <= 0.0) {
            return Err(missing);
        }
        let says: Vec<_> = judged.iter().map(|((_, says), _)| says.as_str()).collect();
        let by_hand = judged.iter().any(|(_, by)| *by == KnownBy::Measured);
        Ok(Told {
            known_by: if by_hand { KnownBy::Measured } else { KnownBy::WorkedOut },
            past,
            says: format!("{}.", says.join(", ")),
            next,
            explains: &[],
        })
    }

    // ---- claw and detent ----

    fn gap_mm(&self, stroke: Stroke) -> Option<(f64, KnownBy)> {
        let id = [FieldId::SeenGapLift, FieldId::SeenGapPress][stroke as usize];
        known(self.measured(id), || {
            Some(self.drawn.selecting.strokes()?.claw.gaps_mm()[stroke as usize])
        })
    }

    fn wanted_gap_mm(&self) -> f64 {
        let claw = self.drawn.selecting.strokes();
        claw.map_or(FieldId::GapWanted.spec().default, |claw| claw.claw.wanted_mm)
    }

    fn stop_gap(&self) -> Result<Told, &'static str> {
        let wanted = self.wanted_gap_mm();
        let gaps = Stroke::BOTH.map(|stroke| self.gap_mm(stroke));
        let missing = "Measure both ways, or give the claw under Selector.";
        let mut told = self.both_ways(
            gaps,
            missing,
            |tracer, gap, at| {
                let past = ((gap - wanted).abs() - GAP_SHARE * wanted) / wanted;
                (past, format!("{} {}", tracer.mm(gap), Stroke::BOTH[at].word()))
            },
            "Make the gaps equal with the eccentric, then the stop thinner where they are too large, or thicker where they are too small.",
        )?;
        told.says = format!(
            "{} About {} are wanted, {} to {}.",
            told.says,
            self.mm(wanted),
            self.mm(wanted * (1.0 - GAP_SHARE)),
            self.mm(wanted * (1.0 + GAP_SHARE))
        );
        let off = gaps.into_iter().flatten().map(|(gap, _)| gap - wanted);
        let (least, most) = off.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), off| {
            (least.min(off), most.max(off))
        });
        let bound = GAP_SHARE * wanted;
        told.explains = match (least < -bound, most > bound) {
            // Too little left: the claw pushes on past the position.
            (true, false) => &[Symptom::FalseNeutral],
            // Too much left: the push ends early.
            (false, true) => &[
                Symptom::Hangs,
                Symptom::JumpsPower,
                Symptom::JumpsOverrun,
                Symptom::KicksBack,
                Symptom::CrunchesLow,
            ],
            _ => &[],
        };
        Ok(told)
    }

    fn equal_gaps(&self) -> Result<Told, &'static str> {
        let [lift, press] = Stroke::BOTH.map(|stroke| self.gap_mm(stroke));
        let ((lift, by), (press, and)) =
            lift.zip(press).ok_or("It follows from the gaps of both strokes.")?;
        let apart = (lift - press).abs();
        let by_hand = by == KnownBy::Measured || and == KnownBy::Measured;
        let turn = self.drawn.selecting.strokes().and_then(|claw| claw.centred.ok());
        let turn = turn.filter(|_| !by_hand).map_or_else(String::new, |at| {
            format!(" With the eccentric at {} they are the same.", self.deg(at.degrees()))
        });
        Ok(Told {
            known_by: if by_hand { KnownBy::Measured } else { KnownBy::WorkedOut },
            past: (apart - GAPS_APART_MM) / self.wanted_gap_mm(),
            says: format!(
                "{} apart; up to {} count as the same (our own bound).{turn}",
                self.mm(apart),
                self.mm(GAPS_APART_MM)
            ),
            next: "Turn the eccentric, or file one side of a fixed stop.",
            explains: gaps_explain([lift, press], self.wanted_gap_mm()),
        })
    }

    fn detent_return(&self) -> Result<Told, &'static str> {
        let detent =
            self.drawn.selecting.detent.as_ref().ok_or("Give the detent under Selector.")?;
        let torque = detent.return_nmm();
        let shown = |nmm: f64| self.show(Quantity::FineTorque, nmm);
        let next = "Free the roller, polish the star, a stronger spring; find what drags on the drum and forks.";
        let drag = self.measured(FieldId::SeenDrumDrag);
        if torque <= 0.0 {
            let says = format!("{}: friction holds the roller where it is.", shown(torque));
            return Ok(Told { known_by: KnownBy::WorkedOut, past: 1.0, says, next, explains: &[] });
        }
        let drag =
            drag.ok_or("Measure the torque that turns the drum with the roller held off.")?;
        Ok(Told {
            known_by: KnownBy::Measured,
            // A share of what is missing, so that a weak roller ends where one that sticks does: at 1.
            past: (drag - torque) / drag.max(torque),
            says: format!(
                "The roller brings the drum home with {}, and {} are needed to turn it.",
                shown(torque),
                shown(drag)
            ),
            next,
            explains: &[],
        })
    }

    fn drum_rocking(&self) -> Result<Told, &'static str> {
        let selecting = &self.drawn.selecting;
        let given = || selecting.slack.map(Angle::degrees);
        let (slack, known_by) = known(self.measured(FieldId::SeenDrumSlack), given)
            .ok_or("Measure it, or give the detent under Selector.")?;
        let cost = selecting
            .rocking_mm(slack)
            .ok_or("Give the drum track under Selector: it says what the rocking costs.")?;
        let (engaged, _) = self.engaged_mm();
        let (left, wanted) = (engaged - cost, self.wanted_depth_mm());
        Ok(Told {
            known_by,
            // Rocking is to blame for no more than it takes.
            past: blamed(wanted - left, cost, wanted),
            says: format!(
                "Rocking by {} costs up to {} of overlap: {} are left, {} are wanted.",
                self.deg(slack),
                self.mm(cost),
                self.mm(left),
                self.mm(wanted)
            ),
            next: "A new roller and pin; a star whose valleys are not worn; check that the drum's bearing has no play.",
            explains: &[],
        })
    }

    // ---- depth ----

    fn wanted_depth_mm(&self) -> f64 {
        ENGAGED_SHARE * self.seen.lowest_tall_mm()
    }

    /// The chains, with the play of the fork that was measured in place of theirs.
    fn depth(&self) -> Option<Depth> {
        let depth = self.drawn.selecting.depth.clone()?;
        let play_mm = self.measured(FieldId::SeenForkPlay).unwrap_or(depth.play_mm);
        Some(Depth { play_mm, ..depth })
    }

    /// The overlap that is known best: measured, by the chain, or as drawn.
    fn engaged_mm(&self) -> (f64, Option<KnownBy>) {
        let chain = || self.depth()?.given(Facing::This)?.pushed_in_mm(Facing::This).into();
        match known(self.measured(FieldId::SeenOverlap), chain) {
            Some((mm, by)) => (mm, Some(by)),
            None => (self.drawn.overlap_mm(), None),
        }
    }

    fn neutral_clearance(&self) -> Result<Told, &'static str> {
        let ids = [FieldId::SeenClearanceThis, FieldId::SeenClearanceOther];
        let sides = Facing::BOTH.map(|facing| {
            known(self.measured(ids[facing as usize]), || {
                self.depth()?.given(facing)?.least_clearance_mm(facing).into()
            })
        });
        let missing = "Measure both sides, or give the chains under Depth.";
        let mut told = self.both_ways(
            sides,
            missing,
            |tracer, clear, at| {
                let facing = Facing::BOTH[at].words();
                (past_zero(clear), format!("{} to {facing}", tracer.mm(clear)))
            },
            "Shim the sliding gear to the middle (see Depth); take metal off the tips only if shims do not do it.",
        )?;
        told.says = format!("At its least {} More than nothing is needed.", told.says);
        Ok(told)
    }

    fn engaged_depth(&self) -> Result<Told, &'static str> {
        let (engaged, known_by) = self.engaged_mm();
        let known_by = known_by.ok_or("Measure it, or give the chain under Depth.")?;
        let wanted = self.wanted_depth_mm();
        Ok(Told {
            known_by,
            past: (wanted - engaged) / wanted,
            says: format!(
                "{} engaged of {} that the dogs stand high; three quarters are {}.",
                self.mm(engaged),
                self.mm(self.seen.lowest_tall_mm()),
                self.mm(wanted)
            ),
            next: "Check fork, groove and drum track for wear, then shim (see Depth).",
            explains: &[],
        })
    }

    fn fork_play(&self) -> Result<Told, &'static str> {
        let chain = || self.drawn.selecting.depth.as_ref().map(|depth| depth.play_mm);
        let (play, known_by) = known(self.measured(FieldId::SeenForkPlay), chain)
            .ok_or("Measure it, or give fork and groove under Depth.")?;
        let (engaged, by) = self.engaged_mm();
        by.ok_or("Measure the overlap too, or give the chain under Depth.")?;
        let (without, wanted) = (engaged + play / 2.0, self.wanted_depth_mm());
        Ok(Told {
            known_by,
            // It is to blame for no more than it takes.
            past: blamed(wanted - engaged, play / 2.0, wanted),
            says: format!(
                "{} of play take {} of overlap: {} are engaged, without play it would be {}; {} are wanted.",
                self.mm(play),
                self.mm(play / 2.0),
                self.mm(engaged),
                self.mm(without),
                self.mm(wanted)
            ),
            next: "A new fork, or its pads built up by a shop that can; look for a bent fork.",
            explains: &[],
        })
    }

    // ---- faces, edges, flanks ----

    fn tip_faces(&self) -> Result<Told, &'static str> {
        let friction = self
            .measured(FieldId::SeenTipFriction)
            .ok_or("Say how the faces look, by word or number.")?;
        let stuck =
            |analysis: &Analysis| analysis.shifting().map(|s| s.shares.locked + s.shares.half_in);
        let now = stuck(self.seen).ok_or("The pair jams or stands apart: see the findings.")?;
        let polished = stuck(&Analysis::of(&self.seen.design.with_polished_tips())).unwrap_or(now);
        let percent = |share: f64| self.show(Quantity::Share, share);
        Ok(Told {
            known_by: KnownBy::Measured,
            // Only what lapping would cure is the fault of the faces.
            past: now - polished,
            says: format!(
                "With a friction of {}, {} of all shifts rub to a standstill or stay half in at {}; with both rings lapped it would be {}.",
                self.show(Quantity::Ratio, friction),
                percent(now),
                self.slip_words(),
                percent(polished)
            ),
            next: "Lap or polish the tip faces of both rings; “What if only the tip faces were polished?” shows what that alone would do.",
            explains: &[],
        })
    }

    fn slip_words(&self) -> String {
        let slip = self.seen.meshed.as_ref().map_or(0.0, |m| m.offered.slip_rpm.abs());
        self.show(Quantity::Speed, slip)
    }

    fn tip_edges(&self) -> Result<Told, &'static str> {
        let measured = [FieldId::SeenEdgeA, FieldId::SeenEdgeB].map(|id| self.measured(id));
        let [Some(a), Some(b)] = measured else { return Err("Measure both rings.") };
        let hold = self.drawn.design.setting.of(FieldId::HoldDepth);
        Ok(Told {
            known_by: KnownBy::Measured,
            past: (a + b - hold) / hold,
            says: format!(
                "{} and {}: a flank holds only from {} of overlap on, and the shift counts on {}.",
                self.mm(a),
                self.mm(b),
                self.mm(a + b),
                self.mm(hold)
            ),
            next: "Re-cut the flanks until the rounding is gone (Rework), or count on the larger hold depth and see what Shift says.",
            explains: &[],
        })
    }

    fn flanks(&self, flank: FlankSide) -> Result<Told, &'static str> {
        let id = match flank {
            FlankSide::Drive => FieldId::SeenFlankDrive,
            FlankSide::Coast => FieldId::SeenFlankCoast,
        };
        let angle = self.measured(id).ok_or("Measure it; the drawing may be of a new ring.")?;
        let push = 1000.0 * libm::tan(angle.to_radians());
        let force = self.show(Quantity::Force, push.abs());
        let says = if angle > 0.0 {
            format!(
                "{} undercut draw in, with {force} for each 1000 N on the flank.",
                self.deg(angle)
            )
        } else if angle < 0.0 {
            format!(
                "{} the wrong way push out, with {force} for each 1000 N on the flank. Friction is not counted on to hold.",
                self.deg(-angle)
            )
        } else {
            "Straight flanks neither draw in nor push out: nothing but friction and the detent holds them in.".to_owned()
        };
        Ok(Told {
            known_by: KnownBy::Measured,
            past: -angle / USUAL_UNDERCUT_DEG,
            says,
            next: "Re-cut both rings to an undercut (Rework): 3 to 7 degrees are common practice, no source.",
            explains: &[],
        })
    }

    // ---- layout ----

    fn entry_time(&self) -> Result<Told, &'static str> {
        let meshed = self.seen.meshed.as_ref();
        let meshed = meshed.ok_or("The pair cannot be worked out: see the findings.")?;
        let widest = meshed.passing.extremes().map_or(0.0, |(_, widest)| widest);
        let limit = straight_in_limit_rpm(widest, meshed.travel_s);
        let (slip, which) = self.hardest_low().unwrap_or_else(|| {
            (meshed.offered.slip_rpm.abs(), "the shift of the design".to_owned())
        });
        let speed = |rpm: f64| self.show(Quantity::Speed, rpm.round());
        Ok(Told {
            known_by: KnownBy::WorkedOut,
            // A share, so that a high speed does not drown every other cause.
            past: (slip - limit) / slip.max(1.0),
            says: format!(
                "For {which} the speeds differ by {}; straight in is possible up to {}.",
                speed(slip),
                speed(limit)
            ),
            next: "Fewer tall dogs or narrower ones open longer windows (Rework, wished window time); a faster push helps too.",
            explains: &[],
        })
    }

    /// The larger speed difference of the shifts between first and second, if the rider feels those.
    fn hardest_low(&self) -> Option<(f64, String)> {
        self.drawn.design.trace.felt.contains(&Symptom::CrunchesLow).then_some(())?;
        let low = gear_shifts(self.seen).into_iter().filter(|s| s.step.from + s.step.to == 1);
        let worst = low.max_by(|a, b| a.step.slip_rpm.abs().total_cmp(&b.step.slip_rpm.abs()))?;
        let words = format!("the shift from {} to {}", worst.step.from + 1, worst.step.to + 1);
        Some((worst.step.slip_rpm.abs(), words))
    }

    fn lash(&self) -> Result<Told, &'static str> {
        let held = self.drawn.meshed.as_ref().and_then(|meshed| meshed.held);
        let drawn = held.ok_or("The drawing has no window at full depth to compare with.")?;
        let drawn = drawn.width.degrees();
        let worn = |seen: f64| (seen - drawn - LASH_APART_DEG) / drawn.max(1.0);
        let wide = |lash: f64| (lash - WIDE_LASH_DEG) / WIDE_LASH_DEG;
        let seen = self.measured(FieldId::SeenLash);
        if seen.is_none() && wide(drawn) <= 0.0 {
            return Err("Measure it at the dogs.");
        }
        let is_worn = seen.is_some_and(|seen| worn(seen) > 0.0);
        let measured =
            seen.map_or_else(String::new, |seen| format!("{} measured, ", self.deg(seen)));
        let same = seen.map_or_else(String::new, |_| {
            format!("up to {} more count as the same, and ", self.deg(LASH_APART_DEG))
        });
        let by_layout = if wide(drawn) > 0.0 { ": wide by its layout" } else { "" };
        Ok(Told {
            known_by: seen.map_or(KnownBy::WorkedOut, |_| KnownBy::Measured),
            past: seen.map_or(0.0, worn).max(wide(seen.unwrap_or(drawn))),
            says: format!(
                "{measured}{} by the drawing{by_layout}; {same}up to {} are not felt as a clunk (our own bounds).",
                self.deg(drawn),
                self.deg(WIDE_LASH_DEG)
            ),
            next: if is_worn {
                "Flanks or splines are worn, or the drawing is not that of these rings: list the dogs as measured."
            } else {
                "Less lash by the layout: more dogs, or half-height dogs in between (Rework)."
            },
            explains: &[],
        })
    }

    fn clunk(&self) -> Result<Told, &'static str> {
        const NOTHING: &str = "Nothing is carried: the rings jam or stand apart.";
        let (design, meshed) = (&self.seen.design, self.seen.meshed.as_ref().ok_or(NOTHING)?);
        let drawn = meshed.held.map(|held| held.width.radians());
        let seen = self.measured(FieldId::SeenLash).map(f64::to_radians);
        let lash = seen.or(drawn).ok_or(NOTHING)?;
        // The blow of the shift is another one: it is struck before the gear is in.
        let clunk = meshed.offered.clunk(design).peak_nm(0.0, lash);
        let torque = clunk.max(meshed.loading.steady_nm);
        let strength = self.seen.strength_under(torque).ok_or(NOTHING)?;
        let most = strength.most(Stress::combined_mpa);
        let allowed = design.setting.of(FieldId::AllowedStress);
        let mpa = |value: f64| self.show(Quantity::Stress, value);
        Ok(Told {
            known_by: KnownBy::WorkedOut,
            past: (most - allowed) / allowed,
            says: format!(
                "Opening the throttle across the lash of {} strikes with {}, and stresses the root with {}; {} are allowed under Load.",
                self.deg(lash.to_degrees()),
                self.show(Quantity::Torque, clunk),
                mpa(most),
                mpa(allowed)
            ),
            next: "Less lash: more dogs, or half-height dogs in between; a softer drive takes some of it (Shift).",
            explains: &[],
        })
    }
}

/// What unequal gaps explain: one below the gap wanted lets the claw push past the position, one above
/// it ends the push early.
fn gaps_explain([lift, press]: [f64; 2], wanted: f64) -> &'static [Symptom] {
    match (lift.min(press) < wanted, lift.max(press) > wanted) {
        (true, false) => &[Symptom::FalseNeutral],
        (false, true) => &[Symptom::KicksBack, Symptom::CrunchesLow],
        // The check's own: all of these.
        _ => &[],
    }
}

/// A number as measured or, where it was not, as worked out.
fn known(
    measured: Option<f64>,
    worked_out: impl FnOnce() -> Option<f64>,
) -> Option<(f64, KnownBy)> {
    let by_hand = measured.map(|value| (value, KnownBy::Measured));
    by_hand.or_else(|| Some((worked_out()?, KnownBy::WorkedOut)))
}

/// How much of a depth that is missing is to be blamed on what takes `cost` of it: none where the depth
/// is there, or where it would be missing all the same and the cost is small beside it.
fn blamed(missing: f64, cost: f64, wanted: f64) -> f64 {
    let decides = missing > 0.0 && (cost >= missing || cost > SMALL_SHARE * wanted);
    if decides { missing.min(cost) / wanted } else { 0.0 }
}

/// How far a clearance in mm is past nothing; exactly nothing is past it too.
fn past_zero(clear: f64) -> f64 {
    if clear > 0.0 { 0.0 } else { (-clear / USUAL_CLEARANCE_MM).max(1e-6) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Claw, Design, Detent, Linkage, Track, example};
    use crate::fields::Slot;
    use crate::ring::{Operation, Work};

    /// The example with every part given.
    fn full() -> Design {
        let mut design = example();
        design.selector.linkage = Some(Linkage::default());
        design.selector.claw = Some(Claw::default());
        design.selector.detent = Some(Detent::default());
        design.selector.track = Some(Track::default());
        design.depth = Some(crate::design::Depth::example());
        design
    }

    fn checked(design: &Design, check: Check) -> Checked {
        let traced = trace(&Analysis::of(design), DisplayUnits::default());
        let found = traced.checks.into_iter().find(|checked| checked.check == check);
        found.unwrap_or_else(|| panic!("{check:?} does not belong"))
    }

    #[test]
    fn without_numbers_everything_but_the_layout_is_open() {
        let traced = trace(&Analysis::of(&example()), DisplayUnits::default());
        for checked in &traced.checks {
            let known = matches!(checked.check, Check::EntryTime | Check::Clunk);
            assert_eq!(checked.judged == Judged::Open, !known, "{checked:?}");
            assert!(!checked.says.is_empty());
        }
        assert_eq!(traced.causes, Vec::<usize>::new());
    }

    #[test]
    fn a_number_to_either_side_of_its_limit_passes_and_fails() {
        let cases = [
            (FieldId::SeenRodAngle, 75.0, 35.0, Check::RodAngle),
            (FieldId::SeenRodAngle, 110.0, 150.0, Check::RodAngle),
            (FieldId::SeenSpareLift, 2.0, -2.0, Check::PedalReach),
            (FieldId::SeenGapLift, 1.4, 1.6, Check::StopGap),
            (FieldId::SeenGapPress, 0.6, 0.4, Check::StopGap),
            (FieldId::SeenDrumDrag, 250.0, 300.0, Check::DetentReturn),
            (FieldId::SeenClearanceThis, 0.2, 0.0, Check::NeutralClearance),
            (FieldId::SeenOverlap, 3.8, 3.7, Check::EngagedDepth),
            (FieldId::SeenForkPlay, 0.1, 3.0, Check::ForkPlay),
            (FieldId::SeenEdgeB, 0.1, 1.1, Check::TipEdges),
            (FieldId::SeenFlankDrive, 0.0, -1.0, Check::DriveFlanks),
            (FieldId::SeenFlankCoast, 5.0, -5.0, Check::CoastFlanks),
            (FieldId::SeenLash, 12.0, 40.0, Check::Lash),
        ];
        for (id, passes, fails, check) in cases {
            let mut design = full();
            design.set(Slot::Seen(FieldId::SeenEdgeA), 0.0);
            design.set(Slot::Seen(FieldId::SeenGapLift), 1.0);
            design.set(Slot::Seen(FieldId::SeenGapPress), 1.0);
            if check == Check::ForkPlay {
                design.set(Slot::Seen(FieldId::SeenOverlap), 3.0);
            }
            for (value, judged) in [(passes, Judged::Passes), (fails, Judged::Fails)] {
                design.set(Slot::Seen(id), value);
                let checked = checked(&design, check);
                assert_eq!(checked.judged, judged, "{checked:?}");
                assert_eq!(checked.past > 0.0, judged == Judged::Fails, "{checked:?}");
            }
        }
    }

    #[test]
    fn a_measured_play_of_the_fork_stands_in_for_that_of_the_chain() {
        // Chain of the example: 1.2 mm clear ± 0.13, throw 5.8 mm, so 4.6 mm without any play.
        let mut design = full();
        design.set(Slot::Seen(FieldId::SeenForkPlay), 2.0);
        let says = |check| checked(&design, check).says;
        assert!(
            says(Check::EngagedDepth).starts_with("3.6 mm engaged"),
            "{:?}",
            says(Check::EngagedDepth)
        );
        let play = says(Check::ForkPlay);
        assert!(play.contains("3.6 mm are engaged, without play it would be 4.6 mm"), "{play}");
        let clear = says(Check::NeutralClearance);
        assert!(clear.contains("0.07 mm to this pair"), "{clear}");
    }

    #[test]
    fn a_wide_lash_as_drawn_explains_a_clunk() {
        let mut design = example();
        design.trace.felt = [Symptom::Clunks].into();
        assert_eq!(checked(&design, Check::Lash).judged, Judged::Open);
        // Pitch 60°: dogs of 15° on both rings leave 30° at the tips, and their back-cuts a little more.
        for side in crate::ring::Side::BOTH {
            design.set(Slot::Ring(side, FieldId::TipWidth), 15.0);
        }
        let drawn = checked(&design, Check::Lash);
        assert_eq!(
            (drawn.judged, drawn.explains.as_slice()),
            (Judged::Fails, [Symptom::Clunks].as_slice())
        );
        assert!((1.0..1.1).contains(&drawn.past), "{drawn:?}");
        assert!(drawn.says.contains("31° by the drawing: wide by its layout"), "{drawn:?}");
        design.set(Slot::Seen(FieldId::SeenLash), 30.0);
        let as_drawn = checked(&design, Check::Lash);
        assert_eq!((as_drawn.past, as_drawn.next), (1.0, drawn.next));
    }

    #[test]
    fn a_clunk_is_that_of_the_lash_and_not_the_blow_of_the_shift() {
        let mut design = example();
        let says = checked(&design, Check::Clunk).says;
        design.set(Slot::Setting(FieldId::SlipSpeed), 3000.0);
        assert_eq!(checked(&design, Check::Clunk).says, says);
        design.set(Slot::Seen(FieldId::SeenLash), 40.0);
        assert_ne!(checked(&design, Check::Clunk).says, says);
    }

    #[test]
    fn unequal_gaps_explain_what_their_smaller_or_larger_one_does() {
        use Symptom::{CrunchesLow, FalseNeutral, KicksBack};
        let explains = |lift, press| {
            let mut design = full();
            design.trace.felt = Symptom::ALL.into();
            design.set(Slot::Seen(FieldId::SeenGapLift), lift);
            design.set(Slot::Seen(FieldId::SeenGapPress), press);
            checked(&design, Check::EqualGaps).explains
        };
        assert_eq!(explains(0.2, 0.9), [FalseNeutral]);
        assert_eq!(explains(2.0, 1.2), [KicksBack, CrunchesLow]);
        assert_eq!(explains(0.2, 1.8), [FalseNeutral, KicksBack, CrunchesLow]);
    }

    #[test]
    fn a_roller_ever_weaker_ends_where_one_that_sticks_does() {
        let past = |flank| {
            let mut design = full();
            design.set(Slot::Part(FieldId::StarFlank), flank);
            design.set(Slot::Part(FieldId::RollerFriction), 0.5);
            design.set(Slot::Seen(FieldId::SeenDrumDrag), 200.0);
            checked(&design, Check::DetentReturn).past
        };
        // Friction of 0.5 holds up to atan 0.5, 26.57°.
        assert!(past(26.0) == 1.0 && (0.99..1.0).contains(&past(26.6)) && past(27.5) < past(26.6));
    }

    #[test]
    fn with_nothing_said_to_be_felt_nothing_is_explained() {
        let mut design = full();
        design.set(Slot::Seen(FieldId::SeenRodAngle), 20.0);
        let words = |design: &Design| trace(&Analysis::of(design), DisplayUnits::default()).words();
        assert!(!words(&design).contains("explains what is felt"), "{}", words(&design));
        assert!(words(&design).contains("“Angle between rod and shaft lever” the outermost"));
        design.trace.felt = [Symptom::Clunks].into();
        assert!(words(&design).contains("explains what is felt"), "{}", words(&design));
    }

    #[test]
    fn straight_flanks_pass_and_say_that_nothing_holds_them() {
        let mut design = full();
        design.set(Slot::Seen(FieldId::SeenFlankDrive), 0.0);
        let checked = checked(&design, Check::DriveFlanks);
        assert_eq!(checked.judged, Judged::Passes);
        assert!(checked.says.contains("nothing but friction"));
    }

    #[test]
    fn causes_are_ranked_by_how_far_past_the_limit_they_are() {
        let mut design = full();
        design.trace.felt = [Symptom::JumpsPower].into();
        design.set(Slot::Seen(FieldId::SeenFlankDrive), -3.0);
        design.set(Slot::Seen(FieldId::SeenOverlap), 3.0);
        let traced = trace(&Analysis::of(&design), DisplayUnits::default());
        let causes: Vec<_> = traced.causes.iter().map(|&at| traced.checks[at].check).collect();
        assert_eq!(causes, [Check::DriveFlanks, Check::EngagedDepth]);
        assert!(
            traced.words().contains("Drive flanks") && traced.words().contains("Engaged depth")
        );
        design.set(Slot::Seen(FieldId::SeenFlankDrive), -0.1);
        let traced = trace(&Analysis::of(&design), DisplayUnits::default());
        assert_eq!(traced.checks[traced.causes[0]].check, Check::EngagedDepth);
    }

    #[test]
    fn a_gap_too_small_explains_a_false_neutral_and_one_too_large_a_kick() {
        let gaps = |mm| {
            let mut design = full();
            design.trace.felt = [Symptom::FalseNeutral, Symptom::KicksBack].into();
            design.set(Slot::Seen(FieldId::SeenGapLift), mm);
            design.set(Slot::Seen(FieldId::SeenGapPress), mm);
            checked(&design, Check::StopGap).explains
        };
        assert_eq!(gaps(0.1), [Symptom::FalseNeutral]);
        assert_eq!(gaps(3.0), [Symptom::KicksBack]);
        assert_eq!(gaps(1.0), []);
    }

    #[test]
    fn every_symptom_is_worked_through_from_the_outside_in() {
        for symptom in Symptom::ALL {
            let mut design = full();
            design.trace.felt = [symptom].into();
            let checks = trace(&Analysis::of(&design), DisplayUnits::default()).checks;
            assert!(checks.is_sorted_by_key(|checked| checked.check.station()), "{symptom:?}");
            assert!(checks.iter().all(|checked| checked.check.symptoms().contains(&symptom)));
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
        assert_eq!(taken.setting.of(FieldId::Overlap), 4.1);
        let lapped = taken.with_polished_tips();
        assert_eq!(lapped.tip_friction(), FieldId::LappedFriction.spec().default);
        let alone = Design { b: taken.b.clone(), ..design.clone() }.polished_alone();
        assert_eq!(alone.as_found().tip_friction(), 0.42);
        assert_eq!(alone.a.found_dogs(), design.a.found_dogs());
        assert_eq!(alone.setting.of(FieldId::Overlap), design.setting.of(FieldId::Overlap));
        let mut planned = design.clone();
        planned.a.plan.operations.push(Operation::on_all(Work::Narrow(FlankSide::Drive, 0.5)));
        assert_eq!(planned.polished_alone(), design.polished_alone());
        assert_eq!(full().with_measured(), full());
    }
}
