//! The sentences of findings: for each code its fact, the next step and the short form.

use std::f64::consts::TAU;

use crenel_words::{Advice, Message, Value, verdict as say};

use crate::analysis::Analysis;
use crate::design::{Layout, Need, SettingField};
use crate::fields::Slot;
use crate::figures::{
    FLANK_PRESSURE, OVERRUN_COMBINED, OVERRUN_PRESSURE, ROOT_COMBINED, ROOT_SHEAR,
};
use crate::finding::Finding;
use crate::limits::GAPS_APART_MM;
use crate::model::{Strength, hardest_shift};
use crate::pair::{Edges, Mesh, extremes};
use crate::ring::{FlankSide, Ring, Side};
use crate::shift::{Passing, Step, window_needed};
use crate::units::Quantity;

/// The least undercut that common practice gives a flank, degrees (no source).
const LEAST_UNDERCUT_DEG: f64 = 3.0;

/// A fact, what to do next, and the fact in short.
pub(super) struct Said {
    pub(super) fact: Message,
    pub(super) next: Message,
    pub(super) short: Message,
}

impl Said {
    pub(super) fn new(Advice { says, next }: Advice, short: Message) -> Self {
        Self { fact: says, next, short }
    }
}

/// What is said about a finding.
pub(super) fn of_finding(finding: &Finding, analysis: &Analysis) -> Said {
    let facts = Facts { finding, analysis };
    let own = SENTENCES.iter().find(|(codes, _)| codes.contains(&finding.code));
    own.and_then(|(_, say)| say(&facts)).unwrap_or_else(|| facts.as_found(facts.not_computed()))
}

type Say = fn(&Facts<'_>) -> Option<Said>;

/// The sentences by the codes of findings. A code that is not listed is said as its finding says it.
static SENTENCES: &[(&[&str], Say)] = &[
    (&["no_gearbox"], |_| Some(Said::new(say::gearbox_missing(), say::gearbox_missing_short()))),
    (&["out_of_limits"], |facts| facts.impossible()),
    (&["dogs_overlap"], |facts| facts.dogs_do_not_fit()),
    (&["jams_before_full_depth"], |facts| {
        let gauge = facts.finding.gauge()?;
        let short = gauge.limit - gauge.value;
        Some(Said::new(say::jams(short, gauge.value), say::jams_short(short)))
    }),
    (&["no_entry_window"], |_| Some(Said::new(say::no_window(), say::no_window_short()))),
    (&["rings_apart"], |facts| {
        let overlap = || facts.value("overlap");
        Some(Said::new(say::rings_apart(overlap()), say::rings_apart_short(overlap())))
    }),
    (&["dogs_touch_in_neutral"], |facts| {
        let least = || facts.value("least");
        let advice = say::touch_in_neutral(facts.value("facing"), least());
        Some(Said::new(advice, say::touch_in_neutral_short(least())))
    }),
    (&["case_gone"], |facts| {
        let [off, case] = ["off", "case"].map(|name| facts.value(name));
        let short = say::case_gone_short(off.clone(), case.clone());
        Some(Said::new(say::case_gone(off, case), short))
    }),
    (&["pushed_out"], |facts| facts.pushed_out(facts.strength(FlankSide::Drive)?)),
    (&["pushed_out_on_overrun"], |facts| facts.pushed_out(facts.strength(FlankSide::Coast)?)),
    (&["only_edges_engaged"], |facts| {
        let left = || facts.value("left");
        Some(Said::new(say::only_edges(left()), say::only_edges_short(left())))
    }),
    (&["edge_contact"], |facts| {
        let [deep, hold] = ["deep", "hold"].map(|name| facts.value(name));
        let short = say::edge_contact_short(deep.clone(), hold.clone());
        Some(Said::new(say::edge_contact(deep, hold), short))
    }),
    (&["hold_depth_in_edges"], |facts| {
        let [hold, edges] = ["hold", "edges"].map(|name| facts.value(name));
        let short = say::hold_in_edges_short(hold.clone(), edges.clone());
        Some(Said::new(say::hold_in_edges(hold, edges), short))
    }),
    (&["too_fast_to_drop_in"], |facts| facts.too_fast()),
    (&["hangs_half_way", "hangs_without_friction", "half_in"], |facts| {
        let share = || Some(result(Quantity::Share, facts.finding.gauge()?.value));
        Some(Said::new(say::hangs(share()?), say::hangs_short(share()?)))
    }),
    (&["over_allowed"], |facts| facts.stress()),
    (&["engaged_too_little"], |facts| facts.too_shallow()),
    (&["gap_too_large", "gap_too_small"], |facts| facts.stop_gaps()),
    (&["lash_over_limit"], |facts| facts.lash()),
    (&["clunk_over_limit"], |facts| facts.clunk()),
    (&["nothing_gained"], |facts| facts.nothing_gained()),
    (&["linkage_locks"], |facts| facts.short(say::rod_locks_short(facts.value("stroke")))),
    (&["linkage_cramps"], |facts| {
        let [stroke, angle, limit] = ["stroke", "angle", "limit"].map(|name| facts.value(name));
        facts.short(say::rod_binds_short(stroke, angle, limit))
    }),
    (&["linkage_in_line"], |facts| facts.short(say::rod_in_line_short())),
    (&["linkage_turns_back"], |facts| {
        facts.short(say::rod_turns_back_short(facts.value("stroke")))
    }),
    (&["foot_short_of_stop"], |facts| {
        let [stroke, reaches, missing] =
            ["stroke", "reaches", "missing"].map(|name| facts.value(name));
        facts.short(say::foot_short_short(stroke, reaches, missing))
    }),
    (
        &["drum_falls_back", "drum_not_brought_home", "drum_stays_between", "drum_pushed_past"],
        |facts| {
            let [stroke, pushed, step] = ["stroke", "pushed", "step"].map(|name| facts.value(name));
            facts.short(say::drum_short(stroke, pushed, step))
        },
    ),
    (&["eccentric_beyond_shaft"], |facts| facts.short(say::eccentric_short())),
    (&["roller_stays"], |facts| facts.short(say::roller_stays_short(facts.value("torque")))),
    (&["crest_wider_than_step"], |facts| {
        let [crest, step] = ["crest", "step"].map(|name| facts.value(name));
        facts.short(say::crest_short(crest, step))
    }),
    (&["fork_wider_than_groove"], |facts| facts.short(say::fork_short(facts.value("by")))),
    (&["unbalance_over_grade"], |facts| {
        let [side, is, may] = ["side", "unbalance", "allowable"].map(|name| facts.value(name));
        facts.short(say::unbalance_short(side, is, may))
    }),
    (&["windows_shrink"], |facts| {
        let [found, cut] = ["found", "cut"].map(|name| facts.value(name));
        facts.short(say::windows_shrink_short(found, cut))
    }),
    (&["windows_unequal"], |facts| {
        let [narrow, wide] = ["narrow", "wide"].map(|name| facts.value(name));
        facts.short(say::windows_unequal_short(narrow, wide))
    }),
    (&["mating_flank_forgotten"], |facts| {
        let [side, this, mate, other] =
            ["side", "this", "mate", "other"].map(|name| facts.value(name));
        facts.short(say::mate_forgotten_short(side, this, mate, other))
    }),
    (&["cut_without_dog"], |facts| {
        let [side, operation, dog] = ["side", "operation", "dog"].map(|name| facts.value(name));
        facts.short(say::no_such_dog_short(side, operation, dog))
    }),
    (&["cut_takes_nothing", "cut_above_dog"], |facts| {
        let [side, operation] = ["side", "operation"].map(|name| facts.value(name));
        facts.short(say::idle_operation_short(side, operation))
    }),
];

/// A finding in its design.
struct Facts<'a> {
    finding: &'a Finding,
    analysis: &'a Analysis,
}

impl Facts<'_> {
    /// A value that the finding names.
    fn value(&self, name: &str) -> Value {
        let named = self.finding.says.values().iter().find(|(own, _)| *own == name);
        named.map_or_else(|| Value::Verbatim(String::new()), |(_, value)| value.clone())
    }

    /// The words of the finding, with this short form.
    fn as_found(&self, short: Message) -> Said {
        Said { fact: self.finding.says.clone(), next: self.finding.next.clone(), short }
    }

    #[expect(clippy::unnecessary_wraps, reason = "a row of the table")]
    fn short(&self, short: Message) -> Option<Said> {
        Some(self.as_found(short))
    }

    /// That the design cannot be computed, in short.
    fn not_computed(&self) -> Message {
        let side = match self.finding.place {
            Some(Slot::Ring(side, _) | Slot::Dog(side, ..)) => Some(side),
            _ => [Side::A, Side::B].into_iter().find(|side| {
                let of = |value: &Value| *value == Value::from(*side);
                self.finding.says.values().iter().any(|(name, value)| *name == "side" && of(value))
            }),
        };
        side.map_or_else(say::not_computed_short, say::ring_impossible_short)
    }

    fn impossible(&self) -> Option<Said> {
        let place = self.finding.place?;
        let spec = place.field().spec();
        let [value, min, max] = ["value", "min", "max"].map(|name| self.value(name));
        let advice = say::impossible(place.words().into(), value.clone(), min.clone(), max.clone());
        let label = Value::Label(spec.name());
        Some(Said::new(advice, say::impossible_short(label, value, min, max)))
    }

    /// Dogs of an even ring that overlap.
    fn dogs_do_not_fit(&self) -> Option<Said> {
        let sides = Side::BOTH.into_iter();
        let side = sides.rev().rfind(|side| self.value("side") == Value::from(*side))?;
        let Layout::Even(even) = &self.analysis.design.ring(side).layout else { return None };
        let (dogs, width) = (even.dogs().len(), even.dog_width_deg());
        let most = || Value::AtMost(Quantity::Angle, 360.0 / even.count);
        let short = say::dogs_do_not_fit_short(dogs, width, most());
        Some(Said::new(say::dogs_do_not_fit(dogs, width, most()), short))
    }

    fn strength(&self, flank: FlankSide) -> Option<&Strength> {
        let pair = self.analysis.pair.as_ref()?;
        match flank {
            FlankSide::Drive => pair.strength.as_ref(),
            FlankSide::Coast => pair.overrun.as_ref(),
        }
    }

    #[expect(clippy::unnecessary_wraps, reason = "a row of the table")]
    fn pushed_out(&self, strength: &Strength) -> Option<Said> {
        let (flank, force) = (strength.flank, || self.value("force"));
        let lean = -libm::atan(strength.hold.undercut).to_degrees();
        let advice = say::pushed_out(flank, force(), lean, LEAST_UNDERCUT_DEG);
        Some(Said::new(advice, say::pushed_out_short(flank, force(), lean)))
    }

    fn too_fast(&self) -> Option<Said> {
        let gauge = self.finding.gauge()?;
        let [slip, limit] = [gauge.limit, gauge.value].map(|rpm| result(Quantity::Speed, rpm));
        let next = self.window_needed(gauge.limit)?;
        let (fact, short) = match hardest_shift(self.analysis)?.step {
            Some(Step { from, to, engine_rpm, .. }) => {
                let engine = result(Quantity::Speed, engine_rpm);
                let short = say::hard_shift_short(from, to, slip.clone(), limit.clone());
                let is_own = self.analysis.design.gear() == Some(to);
                let fact = if is_own { say::hard_shift } else { say::hard_shift_elsewhere };
                (fact(engine, from, to, slip, limit), short)
            }
            None => {
                let short = say::too_fast_short(slip.clone(), limit.clone());
                (say::too_fast(slip, limit), short)
            }
        };
        Some(Said { fact, next, short })
    }

    /// How long the window is open at a speed difference, and how long it has to be. On a whole turn no window is so
    /// wide.
    fn window_needed(&self, slip_rpm: f64) -> Option<Message> {
        let pair = self.analysis.pair.as_ref()?;
        let passing = Passing::new(&pair.to_hold, slip_rpm);
        let widest = passing.extremes().map_or(0.0, |(_, widest)| widest);
        let time = |seconds: f64| result(Quantity::Time, seconds * 1000.0);
        let needed = window_needed(slip_rpm, pair.travel_s);
        Some(if needed < TAU {
            say::widen_window(time(passing.seconds_open(widest)), time(pair.travel_s))
        } else {
            say::no_window_so_wide(result(Quantity::Angle, needed.to_degrees()))
        })
    }

    /// A stress above the allowable one; beside the windows that the cut opens, if it does.
    fn stress(&self) -> Option<Said> {
        let gauge = self.finding.gauge()?;
        let on_overrun = self.value("flanks") == Value::Pick("overrun");
        let figure = match (self.value("stress"), on_overrun) {
            (Value::Pick("pressure"), false) => &FLANK_PRESSURE,
            (Value::Pick("pressure"), true) => &OVERRUN_PRESSURE,
            (Value::Pick("shear"), _) => &ROOT_SHEAR,
            (_, false) => &ROOT_COMBINED,
            (_, true) => &OVERRUN_COMBINED,
        };
        let figure = figure.name();
        let [value, limit] = [gauge.value, gauge.limit].map(|mpa| result(Quantity::Stress, mpa));
        Some(match self.windows_opened() {
            Some([before, after]) => {
                let [was, is] = [&before, &after].map(Clone::clone);
                let short = say::gain_with_price_short(was, is, value.clone(), limit.clone());
                Said::new(say::gain_with_price(before, after, figure, value, limit), short)
            }
            None => {
                let short = say::stress_short(figure, value.clone(), limit.clone());
                Said::new(say::stress(figure, value, limit), short)
            }
        })
    }

    /// The window time as found and as cut, if the plan makes it longer.
    fn windows_opened(&self) -> Option<[Value; 2]> {
        let analysis = self.analysis;
        let is_known = analysis.design.missing(Need::Speed).is_none();
        let is_cut = analysis.found != analysis.cut;
        let pair = analysis.pair.as_ref().filter(|_| is_known && is_cut)?;
        let mesh = Mesh::new(&analysis.found.a, &analysis.found.b).ok()?;
        let hold = analysis.design.setting.get(SettingField::HoldDepth);
        let to_hold = mesh.windows_down_to(hold, Edges::Broken);
        let [was, is] = [extremes(&to_hold), extremes(&pair.to_hold)]
            .map(|found| found.map_or(0.0, |(_, widest)| widest.radians()));
        let passing = Passing::new(&to_hold, pair.shift_case.slip_rpm);
        let time = |width: f64| result(Quantity::Time, passing.seconds_open(width) * 1000.0);
        (is > was && was > 0.0).then(|| [time(was), time(is)])
    }

    fn too_shallow(&self) -> Option<Said> {
        let gear = self.analysis.design.setting.get(SettingField::Gear);
        let [pushed, height, wanted] = ["pushed", "height", "wanted"].map(|name| self.value(name));
        let short = say::too_shallow_short(gear, pushed.clone(), height.clone(), wanted.clone());
        let mut said = Said::new(say::too_shallow(gear, pushed, height, wanted), short);
        let shim = self.analysis.selector.depth.as_ref()?.shim_mm();
        if let Some(towards) = shim.filter(|shim| *shim < 0.0) {
            said.next = say::shim_towards(-towards);
        }
        Some(said)
    }

    fn stop_gaps(&self) -> Option<Said> {
        let claw = self.analysis.selector.strokes()?;
        let length = |mm| result(Quantity::Length, mm);
        let gaps = claw.claw.gaps_mm();
        let (lift, press) = (|| length(gaps.lift), || length(gaps.press));
        let mut said = if !self.analysis.design.trace.has_complaint() {
            let target = length(claw.claw.wanted_mm);
            let short = say::stop_gaps_short(lift(), press());
            Said::new(say::stop_gaps(lift(), press(), target), short)
        } else {
            let short = say::not_the_dogs_short(lift(), press());
            Said::new(say::not_the_dogs(lift(), press()), short)
        };
        // Gaps that are equal already need another stop, not another setting of the eccentric.
        let thinner = claw.claw.stop_thinner_mm();
        if (gaps.lift - gaps.press).abs() <= GAPS_APART_MM {
            let stop = if thinner > 0.0 { say::stop_thinner } else { say::stop_thicker };
            said.next = stop(length(thinner.abs()));
        } else if let Ok(at) = claw.centred {
            said.next = say::turn_eccentric(result(Quantity::Angle, at.degrees()));
        }
        Some(said)
    }

    fn lash(&self) -> Option<Said> {
        let gauge = self.finding.gauge()?;
        let pair = self.analysis.pair.as_ref()?;
        let [lash, most] = [gauge.value, gauge.limit].map(|deg| result(Quantity::Angle, deg));
        let short = say::lash_short(lash.clone(), most.clone());
        let clunk = pair.torques.clunk_nm.filter(|_| pair.torques.steady_nm > 0.0);
        let Some(clunk) = clunk else { return Some(Said::new(say::lash_alone(lash, most), short)) };
        let times = result(Quantity::Ratio, clunk / pair.torques.steady_nm);
        Some(Said::new(say::lash(lash, most, result(Quantity::Torque, clunk), times), short))
    }

    fn clunk(&self) -> Option<Said> {
        let gauge = self.finding.gauge()?;
        let lash = self.analysis.pair.as_ref()?.held?.width.degrees();
        let lash = || result(Quantity::Angle, lash);
        let [clunk, most] = [gauge.value, gauge.limit].map(|nm| result(Quantity::Torque, nm));
        let short = say::clunk_short(lash(), clunk.clone(), most.clone());
        Some(Said::new(say::clunk(lash(), clunk, most), short))
    }

    #[expect(clippy::unnecessary_wraps, reason = "a row of the table")]
    fn nothing_gained(&self) -> Option<Said> {
        let side = match self.value("cut") {
            Value::Pick("a") => Side::A,
            Value::Pick("b") => Side::B,
            _ => {
                let [windows, width] = ["windows", "width"].map(|name| self.value(name));
                let short = say::cuts_gain_nothing_short();
                return Some(Said::new(say::cuts_gain_nothing(windows, width), short));
            }
        };
        let mate = side.other();
        let full = full_dogs(self.analysis.ring(mate));
        let plan = &self.analysis.design.ring(side).plan;
        let same = full.iter().filter(|place| plan.cut_of(**place).is_some());
        let name = |place: &usize| Value::Verbatim(format!("{}{}", mate.letter(), place + 1));
        let list: Vec<_> = same.map(name).collect();
        let short = say::one_ring_cut_short(side, mate, full.len());
        if list.is_empty() {
            return Some(self.as_found(short));
        }
        Some(Said::new(say::one_ring_cut(side, mate, full.len(), list), short))
    }
}

/// The places of the dogs of a ring that have its full height.
fn full_dogs(ring: &Ring) -> Vec<usize> {
    let tallest = ring.tallest_mm();
    let full = ring.dogs.iter().filter(|dog| tallest - dog.height_mm < 1e-9);
    full.map(|dog| dog.place).collect()
}

/// A computed number.
pub(super) const fn result(quantity: Quantity, value: f64) -> Value {
    Value::Result(quantity, value)
}
