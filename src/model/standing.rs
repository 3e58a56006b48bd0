//! Selecting a gear at rest: why it does not go in, and what rolling the machine or a turning input shaft does.

use super::shift::{Shares, conditions};
use super::shift_case::{ShiftCase, ratios};
use super::timed::{chain_lash, clutch_drag_nm, held_back_nm};
use super::worked::Worked;
use crate::design::{Clutch, Design, Need, SettingField};
use crate::pair::TipsOnTips;
use crate::shift::{Conditions, Gearbox, Shaft, Shifter, phase_sense};
use crate::units::rad_per_s;

/// A gear that is selected with the machine at rest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// The gear, first gear is 0.
    pub gear: usize,
    /// Share of all phases in which it is in at once with nothing turning.
    pub at_once: f64,
    /// The same with the machine rolled as far as the design says.
    pub rolled: f64,
    /// The same after the tips have rubbed to a standstill: then every phase has tip on tip.
    pub rolled_from_tips: f64,
    /// How far the machine is rolled at most until it is in, mm; `None` where no window is open.
    pub sure_mm: Option<f64>,
    /// With the engine idling and the clutch pulled; `None` where friction or inertia is not known.
    pub idling: Option<Idling>,
}

/// Dogs that meet while the clutch drags the input shaft after an idling engine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Idling {
    /// Speed difference at the dogs, rpm.
    pub slip_rpm: f64,
    /// How the first pass ends, over all phases.
    pub first: Shares,
    /// What the dragging clutch carries to the dogs, N·m.
    pub clutch_nm: f64,
    /// What tip on tip holds against it, N·m.
    pub tips_nm: f64,
}

impl Idling {
    /// Whether the clutch drags so hard that tip on tip cannot stop the input shaft: it turns on until a window comes.
    pub fn turns_on(&self) -> bool {
        self.clutch_nm >= self.tips_nm
    }
}

/// One gear selected at rest, with the dogs of a design; `None` without a gearbox, or where the rings jam or do not
/// meet.
pub fn standing(worked: &Worked, gear: usize) -> Option<Standing> {
    let design = &worked.design;
    let ratios = ratios(design)?;
    let pair = worked.pair.as_ref().filter(|pair| pair.shift.is_some())?;
    let is_known = design.knows_ratio(gear);
    let rolls = Rolls::of(design, &ratios, gear).filter(|_| is_known)?;
    let tips = TipsOnTips::between(&pair.to_hold);
    let turned = rolls.turned(design.setting.get(SettingField::RollTravel));
    Some(Standing {
        gear,
        at_once: tips.in_at_once(),
        rolled: tips.in_after(turned),
        rolled_from_tips: tips.freed(turned),
        sure_mm: tips.sure().map(|angle| rolls.rolled_mm(angle)),
        idling: idling(worked, gear),
    })
}

/// How the dogs of a gear turn with the wheel.
struct Rolls {
    /// Angle at the dogs for each mm on the road, rad/mm.
    per_mm: f64,
    /// What the slack of the chain takes first, mm on the road.
    slack_mm: f64,
}

impl Rolls {
    fn of(design: &Design, ratios: &Gearbox, gear: usize) -> Option<Self> {
        let wheel_mm = design.setting.get(SettingField::WheelDiameter) / 2.0;
        let per_mm = ratios.ratio_to_wheel(gear)? / wheel_mm;
        Some(Self { per_mm, slack_mm: chain_lash(design) * wheel_mm / ratios.last })
    }

    fn turned(&self, rolled_mm: f64) -> f64 {
        (rolled_mm - self.slack_mm).max(0.0) * self.per_mm
    }

    /// An angle of 0 needs no rolling.
    fn rolled_mm(&self, turned: f64) -> f64 {
        if turned > 0.0 { turned / self.per_mm + self.slack_mm } else { 0.0 }
    }
}

fn idling(worked: &Worked, gear: usize) -> Option<Idling> {
    let design = &worked.design;
    let is_known = design.missing(Need::TipFriction).is_none() && design.knows_inertia(gear);
    let pair = worked.pair.as_ref().filter(|_| is_known)?;
    let mut gearbox = design.gearbox.clone()?;
    gearbox.clutch = Clutch::Pulled;
    let ratios = gearbox.working(design.setting.get(SettingField::WheelDiameter));
    let sides = ratios.sides(gear)?;
    let clutch_nm = clutch_drag_nm(&ratios, gear, &design.setting)?;
    let slip_rpm = idle_slip_rpm(design, &ratios, gear)?;
    let case = ShiftCase { slip_rpm, sides, step: None, ..pair.shift_case };
    let given = conditions(design, &pair.mesh, pair.engagement.full_depth_mm, &case);
    let tips_nm = (given.rubbing_nm() + given.drag_nm).max(0.0);
    let nears = -clutch_nm / sides.input_kg_m2 + given.drag_nm / sides.reduced_kg_m2();
    let given = Conditions { drag_nm: held_back_nm(&given, sides, nears), ..given };
    let shifter = Shifter::new(&pair.mesh, given, phase_sense(slip_rpm));
    let first = Shares::of(&shifter, rad_per_s(slip_rpm));
    Some(Idling { slip_rpm, first, clutch_nm, tips_nm })
}

/// Speed of the input side at the dogs of a gear while the output shaft stands, rpm.
fn idle_slip_rpm(design: &Design, ratios: &Gearbox, gear: usize) -> Option<f64> {
    let input_rpm = design.setting.get(SettingField::IdleSpeed) / ratios.primary;
    let gear = ratios.gears.get(gear)?;
    Some(if gear.free_on == Shaft::Output { input_rpm / gear.ratio } else { input_rpm })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Analysis;
    use crate::design::example;

    fn first(design: &Design) -> Standing {
        standing(&Analysis::of(design), 0).expect("it can be worked out")
    }

    /// The windows of the pair against trying every tenth of a degree.
    #[test]
    fn shares_at_rest_are_those_of_trying_every_phase() {
        let mut design = example();
        design.setting.set(SettingField::RollTravel, 50.0);
        let worked = Analysis::of(&design);
        let pair = worked.pair.as_ref().expect("a pair");
        let told = first(&design);
        let ratios = ratios(&design).expect("a gearbox");
        let wheel_mm = design.setting.get(SettingField::WheelDiameter) / 2.0;
        let slack_mm = chain_lash(&design) * wheel_mm / ratios.last;
        let rolled = design.setting.get(SettingField::RollTravel) - slack_mm;
        let turned = (rolled / wheel_mm * ratios.last).to_degrees();
        let opens = |deg: f64| {
            let phase = crate::units::Angle::from_degrees(deg);
            pair.to_hold.iter().any(|window| window.contains(phase))
        };
        const PHASES: u32 = 3600;
        let phases = || (0..PHASES).map(|at| (f64::from(at) + 0.5) / 10.0);
        let share = |is_in: &dyn Fn(f64) -> bool| {
            phases().filter(|deg| is_in(*deg)).count() as f64 / f64::from(PHASES)
        };
        let steps = || (0..PHASES).map(|by| f64::from(by) / 10.0).take_while(|by| *by <= turned);
        let within = |deg: f64| steps().any(|by| opens(deg + by));
        assert!((told.at_once - share(&opens)).abs() < 2e-3, "{told:?}");
        assert!((told.rolled - share(&within)).abs() < 4e-3, "{told:?}");
        assert!(told.rolled_from_tips < told.rolled && told.at_once < told.rolled);
    }

    #[test]
    fn rolling_far_enough_always_finds_a_window() {
        let mut design = example();
        let sure = first(&design).sure_mm.expect("windows are open");
        design.setting.set(SettingField::RollTravel, sure * (1.0 + 1e-9));
        let told = first(&design);
        assert!((told.rolled - 1.0).abs() < 1e-9 && (told.rolled_from_tips - 1.0).abs() < 1e-9);
        design.setting.set(SettingField::RollTravel, 0.98 * sure);
        assert!(first(&design).rolled < 1.0);
        // A slack chain takes its part first; without one less is rolled.
        design.setting.set(SettingField::ChainStiffness, 0.0);
        assert!(first(&design).sure_mm.expect("open") < sure);
    }

    /// A clutch that drags harder than the tips rub never lets them stop.
    #[test]
    fn a_clutch_that_drags_keeps_the_input_shaft_turning() {
        let mut design = example();
        design.setting.set(SettingField::IdleSpeed, 300.0);
        let drags = |design: &mut Design, nm: f64| {
            design.setting.set(SettingField::ClutchDrag, nm);
            first(design).idling.expect("friction is known")
        };
        let free = drags(&mut design, 0.0);
        assert!(!free.turns_on() && free.clutch_nm == 0.0 && free.first.locked > 0.0, "{free:?}");
        let cold = drags(&mut design, 5.0);
        assert!(cold.turns_on() && cold.first.locked == 0.0, "{cold:?}");
        let ratios = ratios(&design).expect("a gearbox");
        let idle = design.setting.get(SettingField::IdleSpeed);
        let wanted = idle / ratios.primary / ratios.gears[0].ratio;
        assert!((cold.slip_rpm - wanted).abs() < 1e-9 * wanted);
    }

    #[test]
    fn without_a_gearbox_nothing_is_told() {
        let mut design = example();
        design.gearbox = None;
        assert_eq!(standing(&Analysis::of(&design), 0), None);
    }
}
