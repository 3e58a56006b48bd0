//! The goals of a builder, and how near rings come to them.

use crate::analysis::Analysis;
use crate::design::{Design, Need, SettingField};
use crate::finding::any_error;
use crate::model::{ShiftCase, lowered_mm};
use crate::pair::{Arc, Edges, Mesh};
use crate::ring::{PerSide, Ring, Side};
use crate::shift::Passing;
use crate::units::Angle;

/// A goal, whose number is in the settings of the design.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Goal {
    /// The widest window is open for at least a time at the speed difference.
    Window,
    /// There is at least this much lash at full depth.
    Lash,
}

impl Goal {
    /// Both.
    pub const ALL: [Self; 2] = [Self::Window, Self::Lash];

    /// The input with its number.
    pub const fn field(self) -> SettingField {
        match self {
            Self::Window => SettingField::WishedWindow,
            Self::Lash => SettingField::WishedLash,
        }
    }
}

/// The number wanted, ms or degrees.
pub fn wanted(design: &Design, goal: Goal) -> f64 {
    design.setting.get(goal.field())
}

/// The speed difference of the shift, rpm.
pub(super) fn shift_rpm(design: &Design) -> f64 {
    ShiftCase::of(design).slip_rpm
}

/// The number that a design reaches, ms or degrees; `None` if the rings do not go in.
pub(super) fn reaches(design: &Design, goal: Goal) -> Option<f64> {
    let sound = Side::BOTH.into_iter().all(|side| !any_error(&design.ring(side).check(side)));
    let found = design.to_found_rings();
    let cut = design.to_cut_rings();
    sound.then(|| reach(design, &found, &cut, goal)).flatten()
}

/// The number that other rings would reach in place of those of an analysis as cut, ms or degrees; `None` if
/// they do not go in. Only windows and lash are worked out.
pub fn reach_with(analysis: &Analysis, cut: &PerSide<Ring>, goal: Goal) -> Option<f64> {
    reach(&analysis.design, &analysis.found, cut, goal)
}

/// [`reach_with`] for every goal, in the order of [`Goal`].
pub fn reach_both_with(analysis: &Analysis, cut: &PerSide<Ring>) -> [Option<f64>; 2] {
    let design = &analysis.design;
    let Some((mesh, _, held)) = meshing(design, &analysis.found, cut) else { return [None; 2] };
    Goal::ALL.map(|goal| of_goal(design, &mesh, &held, goal))
}

/// The number that other rings would reach in place of those of a design as cut, ms or degrees; `None` if
/// they do not go in.
pub(crate) fn reach(
    design: &Design,
    found: &PerSide<Ring>,
    cut: &PerSide<Ring>,
    goal: Goal,
) -> Option<f64> {
    let (mesh, _, held) = meshing(design, found, cut)?;
    of_goal(design, &mesh, &held, goal)
}

/// How rings mesh, how deep they are once they are in, and the window that holds them there; `None` if they do not
/// go in.
fn meshing(
    design: &Design,
    found: &PerSide<Ring>,
    cut: &PerSide<Ring>,
) -> Option<(Mesh, f64, Arc)> {
    let mesh = Mesh::new(&cut.a, &cut.b).ok()?;
    let overlap = design.setting.get(SettingField::Overlap) - lowered_mm(found, cut);
    let engagement = mesh.engage(overlap);
    let phase = Angle::from_degrees(design.setting.get(SettingField::Phase));
    let depth_mm = engagement.full_depth_mm;
    let held = engagement.window_near(phase).filter(|_| depth_mm > 0.0)?;
    Some((mesh, depth_mm, *held))
}

fn of_goal(design: &Design, mesh: &Mesh, held: &Arc, goal: Goal) -> Option<f64> {
    match goal {
        Goal::Lash => Some(held.width.degrees()),
        Goal::Window => {
            let windows = windows_to_hold(design, mesh)?;
            let passing = Passing::new(&windows, shift_rpm(design));
            let (_, widest) = passing.extremes()?;
            Some(passing.seconds_open(widest) * 1000.0)
        }
    }
}

/// The windows that lead down to the holding depth; `None` where no speed difference is given.
fn windows_to_hold(design: &Design, mesh: &Mesh) -> Option<Vec<Arc>> {
    let hold = design.setting.get(SettingField::HoldDepth);
    design.missing(Need::Speed).is_none().then(|| mesh.windows_down_to(hold, Edges::Broken))
}

/// What a goal is about in rings that go in.
pub(crate) struct Opened {
    pub(crate) mesh: Mesh,
    /// How deep the rings are once they are in, mm.
    pub(crate) depth_mm: f64,
    /// The windows of which the widest counts.
    pub(crate) windows: Vec<Arc>,
    /// The number of the goal by the radian of a window.
    pub(crate) by_radian: f64,
}

/// What a goal is about in other rings in place of those of a design as cut; `None` if they do not go in.
pub(crate) fn opened(
    design: &Design,
    found: &PerSide<Ring>,
    cut: &PerSide<Ring>,
    goal: Goal,
) -> Option<Opened> {
    let (mesh, depth_mm, held) = meshing(design, found, cut)?;
    let (windows, by_radian) = match goal {
        Goal::Lash => (vec![held], 1_f64.to_degrees()),
        Goal::Window => {
            let windows = windows_to_hold(design, &mesh)?;
            let by_radian = Passing::new(&windows, shift_rpm(design)).seconds_open(1.0) * 1000.0;
            (windows, by_radian)
        }
    };
    Some(Opened { mesh, depth_mm, windows, by_radian })
}
