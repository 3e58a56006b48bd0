//! The shifts of a gearbox in time, each with the dogs of its own two gears.

use super::GearsetAnalysis;
use crate::model::{Manner, TimedShift, gear_steps, timed_shift};

impl GearsetAnalysis {
    /// Every shift in one manner that can be timed.
    pub fn timed_shifts(&self, manner: Manner) -> Vec<TimedShift> {
        let way = manner.way();
        let into = |gear: &super::SetGear| {
            let steps = gear_steps(&gear.worked.design).into_iter();
            steps.filter(move |step| step.way == way && step.to == gear.gear).collect::<Vec<_>>()
        };
        let timed = |gear: &super::SetGear, step: crate::shift::Step| {
            timed_shift(&self.gear(step.from)?.worked, &gear.worked, step, manner)
        };
        let gears = self.gears.iter();
        gears.flat_map(|gear| into(gear).into_iter().filter_map(|step| timed(gear, step))).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{GearsetSpec, LAYOUTS, PairOf, SettingField};
    use crate::fields::{FieldId, Slot};
    use crate::ring::Side;

    fn five_speed() -> GearsetSpec {
        let five = LAYOUTS.iter().find(|layout| layout.key == "five-speed");
        let mut gearset = five.expect("it is one of them").to_gearset();
        let mut own = gearset.pair(0).expect("it has dogs").clone();
        own.setting.set(SettingField::CutShare, 0.5);
        for gear in &mut gearset.gears {
            gear.pair = PairOf::Own(Box::new(own.clone()));
        }
        gearset
    }

    /// Unload and out, and wait, of each upshift, s.
    fn times(gearset: &GearsetSpec) -> Vec<[f64; 2]> {
        let timed = GearsetAnalysis::of(gearset).timed_shifts(Manner::Cut);
        let at = |shift: &TimedShift| shift.at(shift.step.engine_rpm).expect("a cut").parts;
        let parts = timed.iter().map(at);
        parts.map(|parts| [parts.unload_s + parts.out_s, parts.wait_s]).collect()
    }

    #[test]
    fn each_shift_leaves_one_gear_and_enters_another_with_their_own_dogs() {
        let mut gearset = five_speed();
        let before = times(&gearset);
        assert_eq!(before.len(), 4);
        // Undercut holds the dogs of second gear: it is left more slowly, and entered as before.
        let PairOf::Own(second) = &mut gearset.gears[1].pair else { panic!("its own dogs") };
        second.set(Slot::Ring(Side::A, FieldId::BackCutDrive), 8.0);
        second.set(Slot::Ring(Side::B, FieldId::BackCutDrive), 8.0);
        let after = times(&gearset);
        assert_eq!(before[0][0].to_bits(), after[0][0].to_bits());
        assert!(after[1][0] > before[1][0], "{before:?} {after:?}");
        assert_eq!(before[2], after[2]);
    }
}
