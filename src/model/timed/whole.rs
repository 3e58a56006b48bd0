//! What the new dogs and the tyre feel with all masses and joints of the driveline, beside the two masses on one spring.

use std::f64::consts::TAU;

use super::{TimedShift, Timing};
use crate::design::{Design, SettingField};
use crate::driveline::{
    Driveline, DrivelineEvent, DrivelineFault, DrivelineRun, Elastic, Joint, JointStep, MASSES,
    RunEnd, Start, Stop, TorqueCourse,
};
use crate::fields::FieldId;
use crate::shift::{Gearbox, Shaft};

/// Pitch of the final chain, mm: 5/8 in, chain 10B of ISO 606.
const CHAIN_PITCH_MM: f64 = 15.875;

/// The new dogs as they catch, with the whole driveline.
#[derive(Clone, Debug, PartialEq)]
pub struct WholeCatch {
    /// When the new dogs meet, s on the time line.
    pub begins_s: f64,
    /// Everything that happens from then on, at the shaft of the new dogs.
    pub run: DrivelineRun,
    /// Greatest torque at the new dogs, N·m, without its sign.
    pub dogs_nm: f64,
    /// Greatest torque at the tyre, N·m at the shaft of the new dogs, without its sign.
    pub tyre_nm: f64,
    /// The same as a force on the road, N.
    pub tyre_n: f64,
}

/// How a slip ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SlipEnd {
    /// After so long in all, s.
    After(f64),
    /// Not in the time that is looked at.
    Never,
}

impl WholeCatch {
    fn of(begins_s: f64, run: DrivelineRun, tyre_n_per_nm: f64) -> Self {
        let [dogs_nm, tyre_nm] = [Joint::Dogs, Joint::Tyre].map(|joint| run.peak_nm(joint));
        Self { begins_s, run, dogs_nm, tyre_nm, tyre_n: tyre_nm * tyre_n_per_nm }
    }

    /// Whether a joint slips, and for how long.
    pub fn slips(&self, joint: Joint) -> Option<SlipEnd> {
        let at_joint = |event: &&DrivelineEvent| event.joint == joint;
        let (mut from, mut whole, mut any) = (None, 0.0, false);
        for event in self.run.events.iter().filter(at_joint) {
            match event.what {
                JointStep::Slips => (from, any) = (from.or(Some(event.time_s)), true),
                JointStep::Grips => whole += from.take().map_or(0.0, |from| event.time_s - from),
                _ => {}
            }
        }
        let end = if from.is_some() { SlipEnd::Never } else { SlipEnd::After(whole) };
        any.then_some(end)
    }

    /// Whether more happens than is followed, so that the end is not known.
    pub fn is_cut_short(&self) -> bool {
        self.run.end == RunEnd::TooManyEvents
    }

    /// Torque at the dogs and at the tyre at a time of the line, N·m at the shaft of the dogs.
    pub fn at(&self, time_s: f64) -> Option<[f64; 2]> {
        let moments = &self.run.moments;
        let since = time_s - self.begins_s;
        let after = moments.partition_point(|moment| moment.time_s <= since);
        let low = moments.get(after.checked_sub(1)?)?;
        let high = moments.get(after).unwrap_or(low);
        let lasts = high.time_s - low.time_s;
        let share = if lasts > 0.0 { (since - low.time_s) / lasts } else { 0.0 };
        Some([Joint::Dogs, Joint::Tyre].map(|joint| {
            let [low, high] = [low, high].map(|moment| moment.torques_nm[joint.place()]);
            low + (high - low) * share
        }))
    }
}

/// Everything between engine and road about the dogs of a gear; `None` without the inertia between dogs and cush drive.
pub(super) fn driveline(
    design: &Design,
    ratios: &Gearbox,
    gear: usize,
    lash: f64,
) -> Option<Driveline> {
    let carrier = design.setting.get(SettingField::CarrierInertia);
    let referred = Referred::of(ratios, gear).filter(|_| carrier > 0.0)?;
    let inertia_kg_m2 = inertia(design, ratios, referred)?;
    Some(Parts { design, referred, inertia_kg_m2 }.driveline(lash))
}

/// Turns of the shaft of the dogs for one of the input shaft's, of the output shaft and of the wheel.
#[derive(Clone, Copy)]
struct Referred {
    input: f64,
    output: f64,
    wheel: f64,
    dogs_first: bool,
}

impl Referred {
    fn of(ratios: &Gearbox, gear: usize) -> Option<Self> {
        let wheel = ratios.ratio_to_wheel(gear)?;
        let gear = ratios.gears.get(gear)?;
        Some(match gear.free_on {
            Shaft::Output => {
                Self { input: 1.0 / gear.ratio, output: 1.0, wheel, dogs_first: false }
            }
            Shaft::Input => Self { input: 1.0, output: gear.ratio, wheel, dogs_first: true },
        })
    }
}

/// What stands at a shaft that turns so often for one turn of the other, seen there: inertia and stiffness.
fn seen(number: f64, turns: f64) -> f64 {
    number / (turns * turns)
}

/// Of each mass at the shaft of the dogs, kg·m².
fn inertia(design: &Design, ratios: &Gearbox, referred: Referred) -> Option<[f64; MASSES]> {
    let gearbox = design.gearbox.as_ref()?;
    let own = |field| design.setting.get(field);
    let Referred { input, output, wheel, .. } = referred;
    let crank = gearbox.field(FieldId::EngineInertia)? * ratios.primary * ratios.primary;
    Some([
        seen(crank, input),
        seen(gearbox.field(FieldId::InputInertia)?, input),
        own(SettingField::FreeGearInertia),
        seen(gearbox.field(FieldId::OutputInertia)?, output),
        seen(own(SettingField::CarrierInertia), wheel),
        seen(own(SettingField::WheelInertia), wheel),
        seen(ratios.wheel_kg_m2, wheel),
    ])
}

struct Parts<'a> {
    design: &'a Design,
    referred: Referred,
    inertia_kg_m2: [f64; MASSES],
}

impl Parts<'_> {
    fn of(&self, field: SettingField) -> f64 {
        self.design.setting.get(field)
    }

    fn driveline(&self, lash: f64) -> Driveline {
        let Referred { input, wheel, dogs_first, .. } = self.referred;
        let wheel_m = self.of(SettingField::WheelDiameter) / 2000.0;
        let grip_nm =
            self.of(SettingField::TyreFriction) * self.of(SettingField::RearLoad) * wheel_m;
        let given = |nm: f64| (nm > 0.0).then_some(nm);
        // A free gear without inertia is one with its shaft.
        let has_gear = self.of(SettingField::FreeGearInertia) > 0.0;
        Driveline {
            inertia_kg_m2: self.inertia_kg_m2,
            clutch_nm: given(self.of(SettingField::ClutchSlip) / input),
            mesh: has_gear.then(|| self.mesh()),
            dogs: Some(Elastic { lash, ..self.dogs() }),
            chain: self.chain(),
            cush: self.cush(),
            tyre_nm: given(grip_nm / wheel),
            dogs_first,
        }
    }

    /// The shaft that the free gear does not stand on, with the lash of the mesh.
    fn mesh(&self) -> Elastic {
        let Referred { input, output, dogs_first, .. } = self.referred;
        let turns = if dogs_first { output } else { input };
        let stiffness = seen(self.of(SettingField::ShaftStiffness), turns);
        let lash = self.of(SettingField::MeshLash).to_radians();
        Elastic {
            lash,
            ..self.damped(if dogs_first { Joint::Dogs } else { Joint::Mesh }, stiffness)
        }
    }

    /// The shaft of the dogs.
    fn dogs(&self) -> Elastic {
        let place = if self.referred.dogs_first { Joint::Mesh } else { Joint::Dogs };
        self.damped(place, self.of(SettingField::ShaftStiffness))
    }

    /// A spring in the place of a joint, damped like the two masses: by the ratio of the swing of both sides on it.
    fn damped(&self, place: Joint, stiffness: f64) -> Elastic {
        self.damped_by(SettingField::DrivelineDamping, place, stiffness)
    }

    fn damped_by(&self, ratio: SettingField, place: Joint, stiffness: f64) -> Elastic {
        let (ahead, behind) = self.inertia_kg_m2.split_at(place.place() + 1);
        let [ahead, behind] = [ahead, behind].map(|masses| masses.iter().sum::<f64>());
        let swings = (stiffness * (1.0 / ahead + 1.0 / behind)).sqrt();
        Elastic::of(stiffness, 2.0 * self.of(ratio) * stiffness / swings)
    }

    fn chain(&self) -> Option<Elastic> {
        let stiffness = self.of(SettingField::ChainStiffness);
        let lash = chain_slack_mm(self.design) / sprocket_mm(self.design) * self.referred.output;
        let spring = self.damped(Joint::Chain, seen(stiffness, self.referred.output));
        (stiffness > 0.0).then_some(Elastic { lash, ..spring })
    }

    fn cush(&self) -> Option<Elastic> {
        let wheel = self.referred.wheel;
        let stiffness = seen(self.of(SettingField::CushStiffness), wheel);
        let spring = self.damped_by(SettingField::CushDamping, Joint::Cush, stiffness);
        let travel = self.of(SettingField::CushTravel).to_radians() * wheel;
        // Past its stop only metal gives way, like a shaft.
        let stop = Stop { travel, stiffness_nm_per_rad: self.of(SettingField::ShaftStiffness) };
        (stiffness > 0.0).then_some(Elastic { stop: (travel > 0.0).then_some(stop), ..spring })
    }
}

/// Length that the chain of a design has too much, mm: `2s²/L` pushed taut to ±s, `8s²/(3L)` hanging by s.
fn chain_slack_mm(design: &Design) -> f64 {
    let of = |field| design.setting.get(field);
    let (pushed, hangs) = (of(SettingField::ChainSlack), of(SettingField::ChainSag));
    let run = of(SettingField::ChainRun);
    if pushed > 0.0 { 2.0 * pushed * pushed / run } else { 8.0 * hangs * hangs / (3.0 * run) }
}

/// Pitch radius of the front sprocket of a design, mm: `p/(2·sin(π/z))`.
fn sprocket_mm(design: &Design) -> f64 {
    let teeth = design.gearbox.as_ref().and_then(|of| of.field(FieldId::FinalDriving));
    CHAIN_PITCH_MM / (2.0 * libm::sin(TAU / 2.0 / teeth.unwrap_or(15.0)))
}

/// How far the output shaft of a design turns until its slack chain pulls, rad; 0 for a rigid final drive.
pub(in crate::model) fn chain_lash(design: &Design) -> f64 {
    let has_chain = design.setting.get(SettingField::ChainStiffness) > 0.0;
    if has_chain { chain_slack_mm(design) / sprocket_mm(design) } else { 0.0 }
}

impl TimedShift {
    /// The catch with the whole driveline, which begins at a time of the line.
    pub(super) fn whole(
        &self,
        timing: &Timing,
        begins_s: f64,
    ) -> Option<Result<WholeCatch, DrivelineFault>> {
        let driveline = self.driveline.as_ref()?;
        let back = &self.returns;
        let course = TorqueCourse::ramp(back.engine_nm, -back.drag_nm, back.ramp_s);
        let start = Start::Met { slip: self.slip_caught(timing) };
        let run = driveline.run(&course, start, self.caught_for_s());
        Some(run.map(|run| WholeCatch::of(begins_s, run, self.tyre_n_per_nm)))
    }

    /// A swing and a half on the softest joints, s; nothing without the whole driveline.
    pub(super) fn slow_swing_s(&self) -> f64 {
        let Some(driveline) = &self.driveline else { return 0.0 };
        let springs = Joint::ALL.into_iter().filter_map(|joint| driveline.elastic(joint));
        let gives: f64 = springs.map(|spring| 1.0 / spring.stiffness_nm_per_rad).sum();
        1.5 * TAU * (gives * self.masses.reduced_kg_m2()).sqrt()
    }
}

#[cfg(test)]
mod tests;
