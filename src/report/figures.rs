//! The numbers of a design, each with its formula, its working and its source.

use super::analysis::{Analysis, Meshed};
use super::shifting::Shifting;
use crate::fields::FieldId;
use crate::pair::Arc;
use crate::ring::{FlankSide, Side};
use crate::shift::{Attempt, Drive, Ending, Leg, straight_in_limit_rpm};
use crate::units::{Angle, DisplayUnits, Quantity};

/// Which direction of change a builder wants.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    /// More is better.
    More,
    /// Less is better.
    Less,
    /// Neither by itself.
    Neither,
}

/// Under which heading a figure stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Getting in.
    Entry,
    /// Once in.
    Lash,
    /// Against the clock.
    Time,
    /// What becomes of a shift.
    Shift,
    /// The metal of the dogs.
    Metal,
}

impl Group {
    /// All headings in order.
    pub const ALL: [Self; 5] = [Self::Entry, Self::Lash, Self::Time, Self::Shift, Self::Metal];

    /// The heading.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Entry => "Getting in",
            Self::Lash => "Once in",
            Self::Time => "Against the clock",
            Self::Shift => "Does it go in?",
            Self::Metal => "Metal",
        }
    }
}

/// One number of a report.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// Stable key with the unit in it.
    pub key: &'static str,
    /// Heading it stands under.
    pub group: Group,
    /// Words for it.
    pub label: &'static str,
    /// What it measures.
    pub quantity: Quantity,
    /// The number; `None` where the design has none, which `working` explains.
    pub value: Option<f64>,
    /// An answer in words, where a number says too little.
    pub words: Option<&'static str>,
    /// Which way is better.
    pub better: Better,
    /// The formula in signs.
    pub formula: &'static str,
    /// The formula with this design's numbers.
    pub working: String,
    /// Where the formula comes from.
    pub source: &'static str,
}

const GEOMETRY: &str = "Plane geometry of the ring; common practice, no source.";
const KINEMATICS: &str = "Uniform motion; plain arithmetic.";

/// Every figure of a design, in the order of the headings; none where an error stands in the way.
pub fn figures(analysis: &Analysis, units: DisplayUnits) -> Vec<Figure> {
    let Some(meshed) = &analysis.meshed else { return Vec::new() };
    let shown = Shown { analysis, meshed, units };
    let mut figures = shown.entry();
    figures.extend(shown.lash());
    figures.extend(shown.time());
    figures.extend(shown.shift());
    figures.extend(shown.metal());
    figures
}

struct Shown<'a> {
    analysis: &'a Analysis,
    meshed: &'a Meshed,
    units: DisplayUnits,
}

impl Shown<'_> {
    fn deg(&self, radians: f64) -> String {
        Quantity::Angle.show(radians.to_degrees(), self.units)
    }

    fn mm(&self, mm: f64) -> String {
        Quantity::Length.show(mm, self.units)
    }

    fn show(&self, quantity: Quantity, value: f64) -> String {
        quantity.show(value, self.units)
    }

    fn setting(&self, id: FieldId) -> f64 {
        self.analysis.design.setting.of(id)
    }

    /// A setting in words, with its unit.
    fn given(&self, id: FieldId) -> String {
        self.show(id.spec().quantity, self.setting(id))
    }

    fn entry(&self) -> Vec<Figure> {
        let entry = &self.meshed.entry;
        let (least, most) = extremes(entry);
        let (_, to_hold) = extremes(&self.meshed.to_hold);
        let total: f64 = entry.iter().map(|w| w.width.radians()).sum();
        let figure = |key, label, quantity, value, better| Figure {
            key,
            group: Group::Entry,
            label,
            quantity,
            value,
            words: None,
            better,
            formula: "circle − union of all arcs [φᵢⱼ − b, φᵢⱼ + b],  b = ½(wᵢ + wⱼ)",
            working: self.list_windows(entry),
            source: GEOMETRY,
        };
        vec![
            figure(
                "entry_windows",
                "Windows",
                Quantity::Count,
                Some(count(entry.len())),
                Better::Neither,
            ),
            figure(
                "free_angle_deg",
                "Free angle",
                Quantity::Angle,
                most.map(f64::to_degrees),
                Better::More,
            ),
            figure(
                "free_angle_narrowest_deg",
                "Narrowest window",
                Quantity::Angle,
                least.map(f64::to_degrees),
                Better::More,
            ),
            Figure {
                formula: "open share = Σ windows / 360°",
                working: format!("{} / {}", self.deg(total), self.deg(std::f64::consts::TAU)),
                ..figure(
                    "open_share",
                    "Open share of the circle",
                    Quantity::Share,
                    Some(total / std::f64::consts::TAU),
                    Better::More,
                )
            },
            Figure {
                formula: "window that leads down to the hold depth, + (eA + eB)/rm at each edge",
                working: format!(
                    "dogs that come level within {}; edge breaks at rm {}: {}",
                    self.given(FieldId::HoldDepth),
                    self.mm(self.meshed.mesh.contact.mean_mm()),
                    self.list_windows(&self.meshed.to_hold),
                ),
                ..figure(
                    "free_angle_to_hold_deg",
                    "Free angle to the hold depth",
                    Quantity::Angle,
                    to_hold.map(f64::to_degrees),
                    Better::More,
                )
            },
        ]
    }

    fn list_windows(&self, windows: &[Arc]) -> String {
        if windows.is_empty() {
            return "no window is open: every phase is blocked".to_owned();
        }
        let shown = windows.iter().take(12).map(|w| {
            let from = w.start.radians();
            let (from, to) = (self.deg(from), self.deg(from + w.width.radians()));
            format!("{from}…{to} = {}", self.deg(w.width.radians()))
        });
        let more = windows.len().saturating_sub(12);
        let tail = if more > 0 { format!("; and {more} more") } else { String::new() };
        shown.collect::<Vec<_>>().join("; ") + &tail
    }

    fn lash(&self) -> Vec<Figure> {
        let meshed = self.meshed;
        let radius = meshed.mesh.contact.mean_mm();
        let lash = meshed.held.map(|w| w.width.radians());
        let ratio = self.setting(FieldId::RatioToWheel);
        let tyre = self.setting(FieldId::WheelDiameter) / 2.0;
        let none = || "no window at full depth".to_owned();
        let figure = |key, label, quantity, value, formula, working| Figure {
            key,
            group: Group::Lash,
            label,
            quantity,
            value,
            words: None,
            better: Better::Less,
            formula,
            working,
            source: GEOMETRY,
        };
        let lash_text = lash.map_or_else(none, |l| self.deg(l));
        vec![
            figure(
                "lash_deg",
                "Lash at the dogs",
                Quantity::Angle,
                lash.map(f64::to_degrees),
                "λ = width of the window that holds the phase, at full depth",
                self.held_working(),
            ),
            figure(
                "lash_mm",
                "Lash at the mean radius",
                Quantity::Length,
                lash.map(|l| l * radius),
                "λ·rm",
                format!("{lash_text} × {}", self.mm(radius)),
            ),
            figure(
                "lash_wheel_deg",
                "Lash at the rear wheel",
                Quantity::Angle,
                lash.map(|l| l.to_degrees() / ratio),
                "λ / i",
                format!("{lash_text} / {}", self.given(FieldId::RatioToWheel)),
            ),
            figure(
                "lash_tyre_mm",
                "Lash at the tyre",
                Quantity::Length,
                lash.map(|l| l / ratio * tyre),
                "λ / i · D/2",
                format!("{lash_text} / {} × {}", self.given(FieldId::RatioToWheel), self.mm(tyre)),
            ),
            self.depth(),
            self.pairs(FlankSide::Drive),
            self.pairs(FlankSide::Coast),
        ]
    }

    fn held_working(&self) -> String {
        let engagement = &self.meshed.engagement;
        let Some(held) = self.meshed.held else {
            let jam = engagement.jam.map_or(0.0, |jam| jam.overlap_mm);
            return format!("jams at an overlap of {}", self.mm(jam));
        };
        let phase = self.analysis.phase();
        let place = if held.contains(phase) { "holds" } else { "is nearest to" };
        let (from, width) = (held.start.radians(), held.width.radians());
        format!(
            "at {} the window {}…{} {place} the phase {}: {}",
            self.mm(engagement.full_depth_mm),
            self.deg(from),
            self.deg(from + width),
            self.deg(phase.radians()),
            self.deg(width)
        )
    }

    fn depth(&self) -> Figure {
        let [a, b] = self.meshed.mesh.tallest_mm;
        let engagement = &self.meshed.engagement;
        Figure {
            key: "full_depth_mm",
            group: Group::Lash,
            label: "Full depth",
            quantity: Quantity::Length,
            value: engagement.jam.is_none().then_some(engagement.full_depth_mm),
            words: None,
            better: Better::More,
            formula: "least of: overlap asked for, tallest dog of A, tallest dog of B",
            working: format!(
                "least of {}, {}, {}{}",
                self.given(FieldId::Overlap),
                self.mm(a),
                self.mm(b),
                engagement
                    .jam
                    .map_or(String::new(), |jam| format!("; jams at {}", self.mm(jam.overlap_mm)))
            ),
            source: GEOMETRY,
        }
    }

    /// How many pairs of dogs meet at once when that flank takes the load.
    fn pairs(&self, side: FlankSide) -> Figure {
        const TOGETHER_MM: f64 = 0.01;
        let meshed = self.meshed;
        let meeting = meshed.held.map(|held| {
            let end = match side {
                FlankSide::Drive => held.start,
                FlankSide::Coast => held.end(),
            };
            meshed.mesh.meeting_at(side, end, meshed.engagement.full_depth_mm, TOGETHER_MM)
        });
        let (key, label) = match side {
            FlankSide::Drive => ("pairs_meeting_drive", "Dog pairs that meet under power"),
            FlankSide::Coast => ("pairs_meeting_coast", "Dog pairs that meet on the over-run"),
        };
        Figure {
            key,
            group: Group::Lash,
            label,
            quantity: Quantity::Count,
            value: meeting.map(count),
            words: None,
            better: Better::More,
            formula: "pairs whose flanks meet within 0.01 mm of the first, rigid rings",
            working: meeting.map_or("no window at full depth".to_owned(), |n| {
                format!("{n} of {} pairs", meshed.mesh.blocks.len())
            }),
            source: "Common practice, no source; load closes small spacing errors.",
        }
    }

    fn time(&self) -> Vec<Figure> {
        let passing = &self.meshed.passing;
        let slip = self.given(FieldId::SlipSpeed);
        let widest = passing.extremes().map(|(_, most)| most);
        let travel = self.meshed.travel_s;
        let closed = || "no window is open".to_owned();
        let open = |text: String| if widest.is_some() { text } else { closed() };
        let travel_text = self.show(Quantity::Time, travel * 1000.0);
        let width_text = widest.map_or_else(closed, |w| self.deg(w));
        let figure = |key, label, quantity, value: Option<f64>, better, formula, working| Figure {
            key,
            group: Group::Time,
            label,
            quantity,
            value: value.filter(|v| v.is_finite()),
            words: None,
            better,
            formula,
            working,
            source: KINEMATICS,
        };
        let lands: Vec<_> = passing.lands.iter().take(8).map(|l| self.deg(*l)).collect();
        let lands = lands.join(", ");
        vec![
            figure(
                "window_time_ms",
                "Window time",
                Quantity::Time,
                widest.map(|w| passing.seconds_open(w) * 1000.0),
                Better::More,
                "t = b/Δω, b the free angle to the hold depth",
                format!("{width_text} at {slip}"),
            ),
            figure(
                "travel_time_ms",
                "Travel to the hold depth",
                Quantity::Time,
                Some(travel * 1000.0),
                Better::Less,
                self.travel_formula(),
                self.travel_working(),
            ),
            figure(
                "straight_in_limit_rpm",
                "Straight-in limit",
                Quantity::Speed,
                widest.map(|w| straight_in_limit_rpm(w, travel)),
                Better::More,
                "Δn_max = b/τ",
                format!("{width_text} in {travel_text}"),
            ),
            figure(
                "straight_in_share",
                "Straight in at first offer",
                Quantity::Share,
                Some(passing.straight_in_share(travel)),
                Better::More,
                "Σ max(0, b − Δω·τ) / 360°, every phase equally likely",
                open(format!("{} windows at {slip}, τ {travel_text}", passing.windows.len())),
            ),
            figure(
                "passes_per_s",
                "Windows passing",
                Quantity::Rate,
                Some(passing.per_second()),
                Better::Neither,
                "Δn·N/60",
                open(format!("{slip} × {} / 60", passing.windows.len())),
            ),
            figure(
                "mean_wait_ms",
                "Mean wait, faces rubbing",
                Quantity::Time,
                widest.map(|_| passing.mean_wait() * 1000.0),
                Better::Less,
                "Σ L²/(2·360°·Δω)",
                open(format!("lands {lands} at {slip}")),
            ),
            figure(
                "worst_wait_ms",
                "Longest wait, faces rubbing",
                Quantity::Time,
                widest.map(|_| passing.worst_wait() * 1000.0),
                Better::Less,
                "L/Δω, widest land",
                open(format!("lands {lands} at {slip}")),
            ),
        ]
    }

    fn travel_formula(&self) -> &'static str {
        match self.analysis.design.setting.drive {
            Drive::Force => "τ = (−v₀ + √(v₀² + 2ah))/a,  a = F/m",
            Drive::Drum => "τ = h/v",
            Drive::Both => "as by force, speed capped at the drum's:  a = F/m, v ≤ v_drum",
        }
    }

    fn travel_working(&self) -> String {
        let h = self.given(FieldId::HoldDepth);
        let push = format!(
            "h {h}, F {}, m {}, v₀ {}",
            self.given(FieldId::ShiftForce),
            self.given(FieldId::MovingMass),
            self.given(FieldId::StartSpeed)
        );
        let drum = self.given(FieldId::DrumSpeed);
        match self.analysis.design.setting.drive {
            Drive::Force => push,
            Drive::Drum => format!("{h} / {drum}"),
            Drive::Both => format!("{push}, drum {drum}"),
        }
    }

    fn shift(&self) -> Vec<Figure> {
        let Some(shifting) = &self.meshed.shifting else { return Vec::new() };
        let mut figures = self.one_shift(shifting);
        figures.extend(self.shares(shifting));
        figures
    }

    fn one_shift(&self, shifting: &Shifting) -> Vec<Figure> {
        let attempt = &shifting.attempt;
        let figure = |key, label, quantity, value, better| Figure {
            key,
            group: Group::Shift,
            label,
            quantity,
            value: Some(value),
            words: None,
            better,
            formula: "event by event: falls with τ, rubs with dΔω/dt = −(μ·F·r + drag)/J",
            working: self.path(attempt),
            source: "Uniform acceleration between events; plain mechanics.",
        };
        let time = attempt.time_s * 1000.0;
        let slip = attempt.slip_left.abs() * 60.0 / std::f64::consts::TAU;
        vec![
            Figure {
                value: None,
                words: Some(ending_words(attempt.ending)),
                ..figure(
                    "shift_ending",
                    "From the phase as drawn",
                    Quantity::Count,
                    0.0,
                    Better::Neither,
                )
            },
            figure("shift_time_ms", "Time until then", Quantity::Time, time, Better::Less),
            figure(
                "shift_strikes",
                "Thrown back",
                Quantity::Count,
                f64::from(attempt.strikes),
                Better::Less,
            ),
            figure(
                "shift_slip_left_rpm",
                "Speed difference left",
                Quantity::Speed,
                slip,
                Better::Neither,
            ),
        ]
    }

    /// The path of an attempt in words, leg by leg.
    fn path(&self, attempt: &Attempt) -> String {
        const TOLD: usize = 8;
        let leg = |leg: &Leg| {
            let turned = self.deg((leg.phase[1] - leg.phase[0]).abs());
            let time = self.show(Quantity::Time, leg.lasts_s * 1000.0);
            if (leg.overlap_mm[1] - leg.overlap_mm[0]).abs() > 1e-9 {
                format!("falls to {} in {time} over {turned}", self.mm(leg.overlap_mm[1]))
            } else {
                format!("rubs at {} for {time} over {turned}", self.mm(leg.overlap_mm[0]))
            }
        };
        let legs: Vec<_> = attempt.legs.iter().take(TOLD).map(leg).collect();
        let more = attempt.legs.len().saturating_sub(TOLD);
        let tail = if more > 0 { format!("; and {more} more legs") } else { String::new() };
        legs.join("; ") + &tail
    }

    fn shares(&self, shifting: &Shifting) -> [Figure; 5] {
        let shares = &shifting.shares;
        let slip = self.given(FieldId::SlipSpeed);
        let figure = |key, label, value, better| Figure {
            key,
            group: Group::Shift,
            label,
            quantity: Quantity::Share,
            value: Some(value),
            words: None,
            better,
            formula: "share of starting phases, each solved event by event; first pass only",
            working: format!("{} phases at {slip}", shares.phases),
            source: "Every phase equally likely: common practice, no source.",
        };
        [
            figure(
                "first_pass_straight_share",
                "First pass: straight in",
                shares.straight_in,
                Better::More,
            ),
            figure(
                "first_pass_rubbed_share",
                "First pass: in after rubbing",
                shares.after_rubbing,
                Better::More,
            ),
            figure(
                "first_pass_struck_share",
                "First pass: thrown back",
                shares.struck,
                Better::Less,
            ),
            figure(
                "first_pass_locked_share",
                "First pass: hangs, tip on tip",
                shares.locked,
                Better::Less,
            ),
            figure("first_pass_half_in_share", "First pass: half in", shares.half_in, Better::Less),
        ]
    }

    fn metal(&self) -> Vec<Figure> {
        Side::BOTH.into_iter().flat_map(|side| self.ring_metal(side)).collect()
    }

    fn ring_metal(&self, side: Side) -> [Figure; 3] {
        let found = self.analysis.found[side as usize].metal();
        let cut = self.analysis.ring(side).metal();
        let keys = match side {
            Side::A => ["a_dogs_mass_g", "a_cut_off_mass_g", "a_dogs_inertia_kg_mm2"],
            Side::B => ["b_dogs_mass_g", "b_cut_off_mass_g", "b_dogs_inertia_kg_mm2"],
        };
        let labels = match side {
            Side::A => ["Ring A: mass of the dogs", "Ring A: cut off", "Ring A: inertia"],
            Side::B => ["Ring B: mass of the dogs", "Ring B: cut off", "Ring B: inertia"],
        };
        let volume = |v| self.show(Quantity::Volume, v);
        let figure = |at: usize, quantity, value, formula, working| Figure {
            key: keys[at],
            group: Group::Metal,
            label: labels[at],
            quantity,
            value: Some(value),
            words: None,
            better: Better::Neither,
            formula,
            working,
            source: "Exact section of lines and arcs; steel at 7.85 g/cm³, the usual figure.",
        };
        let off = found.volume_mm3 - cut.volume_mm3;
        [
            figure(
                0,
                Quantity::Grams,
                cut.mass_g(),
                "m = ρ·∫A ds, without fillets and edge breaks",
                format!("7.85 g/cm³ × {}", volume(cut.volume_mm3)),
            ),
            figure(
                1,
                Quantity::Grams,
                found.mass_g() - cut.mass_g(),
                "as found − as cut",
                format!("7.85 g/cm³ × {}", volume(off)),
            ),
            figure(
                2,
                Quantity::Inertia,
                cut.inertia_kg_mm2(),
                "J = ρ·∫∫r² dA ds about the shaft",
                format!("{} of metal", volume(cut.volume_mm3)),
            ),
        ]
    }
}

const fn ending_words(ending: Ending) -> &'static str {
    match ending {
        Ending::StraightIn => "straight in",
        Ending::AfterRubbing => "in after rubbing",
        Ending::Locked => "hangs, tip on tip",
        Ending::HalfIn => "half in",
        Ending::Ratcheting => "still ratcheting",
    }
}

/// Narrowest and widest window, radians.
fn extremes(windows: &[Arc]) -> (Option<f64>, Option<f64>) {
    let widths = || windows.iter().map(|w: &Arc| w.width);
    let least = widths().min_by(|a, b| a.radians().total_cmp(&b.radians()));
    let most = widths().max_by(|a, b| a.radians().total_cmp(&b.radians()));
    (least.map(Angle::radians), most.map(Angle::radians))
}

#[expect(clippy::cast_precision_loss, reason = "at most a few thousand")]
fn count(n: usize) -> f64 {
    n as f64
}
