//! The blow: of the shift, and on opening the throttle.

use crenel_words::{Message, Value, working as say};

use super::context::{PairContext, deg, formula, inertia, torque};
use super::figure::{Answer, Better, Compute, Figure, Group};
use crate::design::{Need, SettingField};
use crate::limits;
use crate::pair::extremes;
use crate::ring::FlankSide;
use crate::shift::{Blow, flank_met};
use crate::units::{Quantity, rpm};

const IMPACT: &str = "Energy balance of two inertias and a torsion spring; with one end fixed and no torque this is \
    Gere, Mechanics of Materials, problem 3.9-11. Bearings, teeth and oil absorb some of the energy.";
const ENERGY: &str =
    "Kinetic energy of two inertias before and after they reach one speed; plain mechanics.";
const MOMENTUM: &str = "Conservation of angular momentum of two inertias.";
const LARGEST: &str = "The largest of three torques. Shock and clunk come from the energy balance of two inertias and \
    a torsion spring.";

const WITH_SLIP: &str = "T = T_s + √(T_s² + k·J·Δω² + 2·k·T_s·λ); T_s < 0: λ = 0";
const TURNED_BACK: &str = "T = T_s + √(T_s² + 2·k·T_s·λ)";

/// The blow on the drive flanks when the throttle is opened.
pub static CLUNK: Figure = Figure {
    key: "clunk_nm",
    group: Group::Blow,
    label: "Clunk as the throttle opens",
    quantity: Quantity::Torque,
    better: Better::Less,
    limit: Some(limits::clunk),
    needs: &[Need::Torque, Need::Inertia],
    formula: "T = T_s + √(T_s² + 2·k·T_s·λ), T_s the steady torque, λ the lash",
    meaning: "Peak torque as the throttle opens and the drive flanks meet across the lash. It occurs at every change \
        from coast to drive, far more often than a shift.",
    source: IMPACT,
    words: Vec::new,
    compute: Compute::Pair(|context| {
        let working = across_the_lash(context, context.pair.shift_case.throttle_nm);
        Some(Answer::number(context.pair.torques.clunk_nm, working))
    }),
};

pub(super) static ROWS: &[&Figure] = &[
    &Figure {
        key: "blow_drawn_nm",
        group: Group::Blow,
        label: "Shock torque, shift as drawn",
        quantity: Quantity::Torque,
        better: Better::Less,
        limit: None,
        needs: &[Need::Speed, Need::TipFriction, Need::Inertia],
        formula: "T = T_s + √(T_s² + k·J·Δω² + 2·k·T_s·λ), T_s the steady torque, Δω and λ as left; T_s < 0: λ = 0",
        meaning: "Peak torque in the shafts as the dogs engage in the shift as drawn. Compare it with the steady \
            torque at the dogs with the throttle open.",
        source: IMPACT,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let drawn_nm = context.pair.torques.drawn_nm;
            let left = context.pair.shift.as_ref().map_or(0.0, |s| s.attempt.slip_left);
            let lash = context.pair.torques.drawn_lash;
            let working = drawn_nm.map_or_else(say::not_going_in, |_| at_slip(context, left, lash));
            Some(Answer::number(drawn_nm, working))
        }),
    },
    &Figure {
        key: "blow_full_nm",
        group: Group::Blow,
        label: "Shock torque at full speed difference",
        quantity: Quantity::Torque,
        better: Better::Less,
        limit: None,
        needs: &[Need::Speed, Need::Inertia],
        formula: "T = T_s + √(T_s² + k·J·Δω² + 2·k·T_s·λ), T_s the steady torque, λ the whole lash; T_s < 0: λ = 0",
        meaning: "The hardest that this shift can be: rubbing takes nothing off the speed difference, and torque left \
            on pushes across the whole lash, whichever flank it drives to.",
        source: IMPACT,
        words: Vec::new,
        compute: Compute::Pair(|context| Some(hardest(context))),
    },
    &Figure {
        key: "blow_energy_j",
        group: Group::Blow,
        label: "Kinetic energy lost at engagement",
        quantity: Quantity::Energy,
        better: Better::Less,
        limit: None,
        needs: &[Need::Speed, Need::Inertia],
        formula: "½·J·Δω², J = J₁·J₂/(J₁ + J₂)",
        meaning: "Energy lost as the two sides reach one speed. Shafts, dogs and oil absorb it.",
        source: ENERGY,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let blow = blow(context);
            let working = formula("J {}, Δω {}", [inertia(blow.reduced_kg_m2()), context.slip()]);
            Some(Answer::number(blow.energy_j(context.pair.shift_case.slip()), working))
        }),
    },
    &Figure {
        key: "common_speed_rpm",
        group: Group::Blow,
        label: "Speed after engagement",
        quantity: Quantity::Speed,
        better: Better::Neither,
        limit: None,
        needs: &[Need::Speed, Need::Inertia],
        formula: "(J₁ω₁ + J₂ω₂)/(J₁ + J₂)",
        meaning: "How fast the dogs turn once both sides run together. The closer it is to the speed of the output \
            side before the shift, the less the bike jerks.",
        source: MOMENTUM,
        words: Vec::new,
        compute: Compute::Pair(|context| Some(common_speed(context))),
    },
    &CLUNK,
    &Figure {
        key: "overrun_clunk_nm",
        group: Group::Blow,
        label: "Clunk as the throttle closes",
        quantity: Quantity::Torque,
        better: Better::Less,
        limit: None,
        needs: &[Need::Torque, Need::Inertia],
        formula: "T = T_s + √(T_s² + 2·k·T_s·λ), T_s of engine braking, λ the lash",
        meaning: "Peak torque as the throttle closes and the coast flanks meet across the lash. Engine braking is set \
            under Load.",
        source: IMPACT,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let torques = &context.pair.torques;
            let working = across_the_lash(context, torques.overrun_nm);
            Some(Answer::number(torques.overrun_clunk_nm, working))
        }),
    },
    &Figure {
        key: "dog_torque_nm",
        group: Group::Blow,
        label: "Peak torque at the dogs",
        quantity: Quantity::Torque,
        better: Better::Less,
        limit: None,
        needs: &[Need::Torque, Need::Speed, Need::Inertia],
        formula: "largest of: steady pull, shift shock, clunk",
        meaning: "The largest torque on the drive flanks: steady pull, shift shock or clunk. The stresses under “Will \
            it hold?” use it only if it is chosen under Load; otherwise they use the steady pull.",
        source: LARGEST,
        words: Vec::new,
        compute: Compute::Pair(|context| {
            let torques = &context.pair.torques;
            let clunk = torques.clunk_nm.map_or_else(|| say::no_clunk().into(), torque);
            let working =
                say::largest_of(torque(torques.steady_nm), torque(torques.shift_nm), clunk);
            let largest = torques.clunk_nm.map(|_| torques.largest_nm(FlankSide::Drive));
            Some(Answer::number(largest, working))
        }),
    },
];

/// What meets in the blow of the shift.
fn blow(context: &PairContext<'_>) -> Blow {
    context.pair.shift_case.blow(&context.worked.design)
}

/// The inertia and the stiffness that every blow has.
fn between(context: &PairContext<'_>) -> [Value; 2] {
    [inertia(blow(context).reduced_kg_m2()), context.given(SettingField::Stiffness)]
}

/// The working of a blow that takes this slip, rad/s, with this lash still to close, rad.
fn at_slip(context: &PairContext<'_>, slip: f64, lash: f64) -> Message {
    let [reduced, stiffness] = between(context);
    let steady_nm = blow(context).steady_nm();
    let speed = Value::Working(Quantity::Speed, rpm(slip.abs()));
    let counted = if steady_nm > 0.0 { lash } else { 0.0 };
    let sizes = [reduced, stiffness, torque(steady_nm), speed, deg(counted.to_degrees())];
    formula("J {}, k {}, T_s {}, Δω {}, λ {}", sizes)
}

/// The hardest blow of the shift, on whichever flank.
fn hardest(context: &PairContext<'_>) -> Answer {
    let torques = &context.pair.torques;
    let lash = extremes(&context.pair.engagement.windows).map_or(0.0, |(_, w)| w.radians());
    let case = &context.pair.shift_case;
    if torques.shift_flank == flank_met(case.slip_rpm) {
        return Answer::number(torques.shift_nm, at_slip(context, case.slip(), lash)).by(WITH_SLIP);
    }
    let [reduced, stiffness] = between(context);
    let steady = torque(-blow(context).steady_nm());
    let sizes = [reduced, stiffness, steady, deg(lash.to_degrees())];
    let working = formula("J {}, k {}, T_s {}, λ {}", sizes);
    Answer::number(torques.shift_nm, working).by(TURNED_BACK)
}

/// The working of a clunk under this steady torque, N·m.
fn across_the_lash(context: &PairContext<'_>, steady_nm: f64) -> Message {
    let [reduced, stiffness] = between(context);
    let lash = context.pair.held.map_or(0.0, |held| held.width.degrees());
    let steady_nm = context.pair.shift_case.clunk(&context.worked.design, steady_nm).steady_nm();
    formula("J {}, k {}, T_s {}, λ {}", [reduced, stiffness, torque(steady_nm), deg(lash)])
}

fn common_speed(context: &PairContext<'_>) -> Answer {
    let shift_case = &context.pair.shift_case;
    let Some(step) = shift_case.step else {
        return Answer::number(None, say::common_speed_unknown());
    };
    let (input_rpm, output_rpm) = (step.dogs_rpm + step.slip_rpm, step.dogs_rpm);
    let speed = |rpm| Value::Working(Quantity::Speed, rpm);
    let working = formula(
        "J₁ {}, ω₁ {}, J₂ {}, ω₂ {}",
        [
            inertia(shift_case.sides.input_kg_m2),
            speed(input_rpm),
            inertia(shift_case.sides.output_kg_m2),
            speed(output_rpm),
        ],
    );
    Answer::number(blow(context).common_speed(input_rpm, output_rpm), working)
}
