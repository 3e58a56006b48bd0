//! Hatching of fills: the sign that tells areas apart without colour, on the screen and in files.

use std::fmt::Write as _;

use crate::draw::{Role, Scene};
use crate::shift::Outcome;
use crate::units::decimal;

/// A rectangle of a hatching: left, top, width, height and the radius of its corners.
pub type HatchBar = [f64; 5];

/// A fill that repeats: a ground, and bars on it.
#[derive(Clone, Copy, Debug)]
pub struct SvgHatch {
    /// The role that it fills, or ring B; `hatch-` and this is its name on a page or in a file.
    pub name: &'static str,
    /// Width and height of the piece that repeats, in lengths of the drawing.
    pub size: f64,
    /// By how much it is turned, degrees clockwise.
    pub turned_deg: f64,
    /// The bars on one piece.
    pub bars: &'static [HatchBar],
}

/// Every hatching. Fills without one are plain.
pub static HATCHES: [SvgHatch; 8] = [
    SvgHatch { name: "b", size: 1.6, turned_deg: 45.0, bars: &[[0.0, 0.0, 0.35, 1.6, 0.0]] },
    hatch(Role::Web, 1.6, -45.0, &[[0.0, 0.0, 0.25, 1.6, 0.0]]),
    hatch(Role::Blocked, 1.6, -45.0, &[[0.0, 0.0, 0.2, 1.6, 0.0]]),
    hatch(Role::AfterRubbing, 1.6, 45.0, &[[0.4, 0.4, 0.45, 0.45, 0.225]]),
    hatch(Role::AfterStrikes, 2.8, 0.0, &[[0.0, 1.2, 2.8, 0.35, 0.0]]),
    hatch(Role::HalfIn, 1.6, 45.0, &[[0.0, 0.0, 0.35, 1.6, 0.0]]),
    hatch(Role::Locked, 2.4, 45.0, &[[0.0, 0.0, 0.3, 2.4, 0.0], [0.0, 0.0, 2.4, 0.3, 0.0]]),
    hatch(Role::Ratcheting, 2.0, -45.0, &[[0.0, 0.0, 0.22, 2.0, 0.0]]),
];

const fn hatch(role: Role, size: f64, turned_deg: f64, bars: &'static [HatchBar]) -> SvgHatch {
    SvgHatch { name: role.name(), size, turned_deg, bars }
}

impl SvgHatch {
    /// Its name on a page or in a file.
    pub fn id(&self) -> String {
        format!("hatch-{}", self.name)
    }

    /// Its turn, as the attribute of a pattern.
    pub fn transform(&self) -> String {
        format!("rotate({})", self.turned_deg)
    }

    fn is_in(&self, scene: &Scene) -> bool {
        scene.items.iter().any(|item| item.role.name() == self.name)
    }

    /// As an element of a file.
    fn markup(&self) -> String {
        let (id, size, turn) = (self.id(), mm(self.size), self.transform());
        let mut text = format!(
            "<pattern height=\"{size}\" id=\"{id}\" patternTransform=\"{turn}\" \
             patternUnits=\"userSpaceOnUse\" width=\"{size}\">\
             <rect class=\"tint\" height=\"{size}\" width=\"{size}\"/>"
        );
        for [x, y, width, height, rx] in self.bars.iter().map(|bar| bar.map(mm)) {
            let _ = write!(
                text,
                "<rect class=\"bar\" height=\"{height}\" rx=\"{rx}\" width=\"{width}\" x=\"{x}\" \
                 y=\"{y}\"/>"
            );
        }
        text + "</pattern>"
    }
}

/// Lengths of hatchings have hundredths at most.
fn mm(value: f64) -> String {
    decimal(value, 2)
}

/// The hatchings that a scene needs in a file of its own.
pub(super) fn used_in(scene: &Scene) -> Vec<String> {
    HATCHES.iter().filter(|hatch| hatch.is_in(scene)).map(SvgHatch::markup).collect()
}

/// Fills on paper: those of the light page. From the best outcome to the worst they grow darker, by so much
/// that a copy in grey still tells them apart.
pub(super) fn fills() -> String {
    let mut css = String::from(
        "path.blocked{fill:url(#hatch-blocked);stroke:#76808a;stroke-width:.5;paint-order:stroke}\
         path.web{fill:url(#hatch-web);stroke:none}.tint{fill:none}.bar{fill:#1a2129;fill-opacity:.45}\
         #hatch-blocked .tint{fill:#c9c4b8}#hatch-locked .bar,#hatch-ratcheting .bar{fill:#fff}",
    );
    for outcome in Outcome::ALL {
        let (name, colour) = (Role::for_outcome(outcome).name(), outcome_colour(outcome));
        let hatched = HATCHES.iter().any(|hatch| hatch.name == name);
        let fill = if hatched { format!("url(#hatch-{name})") } else { colour.to_owned() };
        let _ = write!(
            css,
            "path.{name}{{fill:{fill};stroke:#fff;stroke-width:.6;paint-order:stroke}}\
             #hatch-{name} .tint{{fill:{colour}}}"
        );
    }
    css
}

const fn outcome_colour(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::StraightIn => "#eef8ef",
        Outcome::AfterRubbing => "#a6dbb0",
        Outcome::AfterStrikes => "#cfa742",
        Outcome::HalfIn => "#ae6c9e",
        Outcome::Locked => "#70377a",
        Outcome::Ratcheting => "#20262c",
    }
}
