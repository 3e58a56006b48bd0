//! What each figure is, and why somebody who builds a gearbox cares.

/// Keys of figures that are one thing, and the words for it.
struct Meaning {
    keys: &'static [&'static str],
    words: &'static str,
}

/// What a figure is and why it matters, in a sentence or two, by its key; empty for a key that no
/// figure has. The same figure of ring A and ring B has the same words.
pub fn meaning(key: &str) -> &'static str {
    let found = MEANINGS.iter().find(|meaning| meaning.keys.contains(&key));
    found.map_or("", |meaning| meaning.words)
}

const fn of(keys: &'static [&'static str], words: &'static str) -> Meaning {
    Meaning { keys, words }
}

/// In the order in which the figures stand.
static MEANINGS: &[Meaning] = &[
    // ---- getting in ----
    of(
        &["entry_windows"],
        "How many places in one turn let the dogs in, where those lower by less than the hold depth count like the tallest. More windows of the same width come round sooner, so the faces rub for a shorter time.",
    ),
    of(
        &["free_angle_deg"],
        "How far the ring can turn inside the widest window before dog meets dog; one lower by less than the hold depth counts too. The wider it is, the more time to drop in, and as a rule the more lash there is afterwards.",
    ),
    of(
        &["free_angle_narrowest_deg"],
        "The tightest of the windows. If it is much narrower than the widest, the dogs are not spaced or cut alike, and the gear goes in at some places and not at others.",
    ),
    of(
        &["open_share"],
        "All windows together as a share of the turn. It is the chance of finding a window at once when the ring hardly turns against the other.",
    ),
    of(
        &["free_angle_to_hold_deg"],
        "The widest window that is still open at the depth where a flank holds, with the broken edges counted in. Window time and the straight-in limit come from it.",
    ),
    // ---- once in ----
    of(
        &["lash_deg"],
        "How far the engaged dogs can turn from the drive flank to the coast flank. It is what the rider feels as a clunk as the throttle opens and closes.",
    ),
    of(
        &["lash_mm"],
        "The lash measured along the circle at the middle of the dogs: what a dial indicator reads there when the gear is rocked.",
    ),
    of(
        &["lash_wheel_deg"],
        "How far the rear wheel turns while the dogs cross their lash, with nothing else loose. It can be felt with the gear in and the engine still.",
    ),
    of(
        &["lash_tyre_mm"],
        "The same lash along the tread. It is easily measured with a chalk mark; chain, cush drive and gear teeth add their own play.",
    ),
    of(
        &["full_depth_mm"],
        "How far the dogs end up inside each other. Too little loads the tips and rounds them; where there is no number the rings jam on the way in.",
    ),
    of(
        &["pairs_meeting_drive"],
        "How many dogs really touch when the engine drives, with rings that do not give. One dog that stands proud takes the whole load until it wears or breaks.",
    ),
    of(
        &["pairs_meeting_coast"],
        "How many dogs touch when the wheel drives the engine. Coast flanks are often worn unevenly, so the number may differ from that under power.",
    ),
    // ---- against the clock ----
    of(
        &["window_time_ms"],
        "How long the widest window stands open as it passes by. It has to be longer than the travel to the hold depth, or the dogs strike and are thrown back.",
    ),
    of(
        &["travel_time_ms"],
        "How long the sliding gear takes from tip on tip to the depth where a flank holds. A harder push, a lighter gear or a quicker drum makes it shorter.",
    ),
    of(
        &["straight_in_limit_rpm"],
        "The largest speed difference at which the dogs can go in without touching first. Above it they have to slow each other down before they hold.",
    ),
    of(
        &["drop_in_limit_rpm"],
        "The largest speed difference at which a ring that has been rubbing on a face can still drop into the next window. The gear starts from rest there, so it is never higher than the straight-in limit.",
    ),
    of(
        &["lock_limit_rpm"],
        "Below this speed difference rubbing can stop the rings before a window comes, and the gear hangs tip on tip. Wide tips, rough faces and a hard push raise it.",
    ),
    of(
        &["edge_hold_depth_mm"],
        "How deep the dogs must be before flank meets flank and not only the broken edges. Shallower than this the edges can push the gear out again.",
    ),
    of(
        &["straight_in_share"],
        "The most of all starting places from which the dogs could drop in, edge breaks counted as open. The first pass, solved blow by blow, comes to less where edges are met or a short dog stands in the way.",
    ),
    of(
        &["passes_per_s"],
        "How often a window comes by in a second at this speed difference. Many passes mean a short wait, but each one is short too.",
    ),
    of(
        &["mean_wait_ms"],
        "How long the faces rub on average before a window comes. It is the time in which tips wear and get hot.",
    ),
    of(
        &["worst_wait_ms"],
        "The wait when the tips come level just behind a window. The foot has to keep pushing for as long as that.",
    ),
    // ---- does it go in? ----
    of(
        &["shift_ending"],
        "How this one shift ends, from the place where the rings are drawn. Turn the phase to see how much it depends on luck.",
    ),
    of(&["shift_time_ms"], "How long this shift takes, from tip level with tip to its end."),
    of(
        &["shift_strikes"],
        "How many times a flank was met too shallow to hold, so that the gear was thrown back. Each time rounds the edges a little more.",
    ),
    of(
        &["shift_slip_left_rpm"],
        "The speed difference that is left when the dogs hold. It ends in one blow, and the shafts have to take it.",
    ),
    of(
        &["first_pass_straight_share"],
        "The share of all starting places from which the gear goes in at the first try without a touch. This is the shift that a rider calls clean.",
    ),
    of(
        &["first_pass_rubbed_share"],
        "The share in which the faces rub first and then drop into a window. It is normal, but it takes longer and wears the tips.",
    ),
    of(
        &["first_pass_struck_share"],
        "The share in which a flank is met too shallow at first and throws the gear back. The rider hears it crunch, and the edges get round.",
    ),
    of(
        &["first_pass_locked_share"],
        "The share in which the tips rub to a stop on the first land and the gear hangs, neither in nor out. What is thrown back first and hangs later counts as thrown back; the chances under Shift count how it ends.",
    ),
    of(
        &["first_pass_half_in_share"],
        "The share in which the gear stops on top of a short dog. Only the tall dogs carry then, and it can jump out.",
    ),
    of(
        &["first_pass_ratcheting_share"],
        "The share in which the faces are still rubbing when the time allowed is over. It comes where the rings pass each other so slowly that no window arrives in time.",
    ),
    // ---- the blow ----
    of(
        &["blow_drawn_nm"],
        "The torque that shoots through the shafts when the dogs of this shift catch. Compare it with what the engine gives.",
    ),
    of(
        &["blow_full_nm"],
        "The same blow if no rubbing had taken off any of the speed difference: the hardest that this shift can be.",
    ),
    of(
        &["blow_energy_j"],
        "The work that has to go somewhere when the two sides come to one speed. It goes into the shafts, the dogs and the oil.",
    ),
    of(
        &["common_speed_rpm"],
        "How fast the dogs turn once both sides run together. The nearer it is to the speed that the output side had, the less the shift tugs at the machine.",
    ),
    of(
        &["clunk_nm"],
        "The torque with which the drive flanks meet when the throttle opens and the lash is crossed. It comes at every change from coast to drive, far more often than a shift.",
    ),
    of(
        &["overrun_clunk_nm"],
        "The torque with which the coast flanks meet when the throttle shuts and the lash is crossed the other way. The engine brakes with the share of its torque that is given under Load.",
    ),
    of(
        &["dog_torque_nm"],
        "The largest torque on the drive flanks: steady pull, blow of the shift or clunk. The stresses under “Will it hold?” are to be read beside it.",
    ),
    // ---- will it hold? ----
    of(
        &["dogs_carrying"],
        "How many dogs share the load. Dogs are never spaced quite alike, so it is often fewer than could touch.",
    ),
    of(
        &["dog_force_n"],
        "The push on the dog that carries most. Pressure, shear and bending all come from it.",
    ),
    of(
        &["flank_pressure_mpa"],
        "Force over the area of flank that is engaged. Too much of it dents and rolls the flank and cracks the hard skin; more depth lowers it.",
    ),
    of(
        &["root_shear_mpa"],
        "How hard the dog is pushed to slide off its web. A wider dog lowers it.",
    ),
    of(
        &["root_bending_mpa"],
        "How hard the dog is bent at its root, on the side that is pulled. A tall dog on a thin root, as after a deep back-cut, has most of it.",
    ),
    of(
        &["root_combined_mpa"],
        "Bending and shear as one number, to set against the strength of the steel. What a sharp root adds is not in it.",
    ),
    of(
        &["holding_n"],
        "How hard the back-cut pulls the dogs together under power, with no help from friction. A minus means that the flanks push the gear out and only the detent and the fork hold it.",
    ),
    of(
        &["pull_in_n"],
        "What is left to draw the gear in to full depth after friction of flanks and splines has taken its part. A minus means that it stays where the fork left it.",
    ),
    of(
        &["pull_out_n"],
        "How hard the fork has to pull to get the gear out while it drives. A large back-cut makes it large: the throttle has to close for the shift, or the fork bends.",
    ),
    of(
        &["overrun_pressure_mpa"],
        "Flank pressure on the coast flanks while the wheel drives the engine.",
    ),
    of(
        &["overrun_combined_mpa"],
        "Stress at the root of the dogs while the coast flanks carry, bending and shear as one number.",
    ),
    of(
        &["overrun_holding_n"],
        "How hard the coast flanks pull the dogs together on the over-run. A minus here is a usual reason for jumping out when the throttle closes.",
    ),
    of(
        &["overrun_pull_out_n"],
        "How hard the fork has to pull to get the gear out on the over-run, as when shifting down without the clutch.",
    ),
    // ---- metal ----
    of(
        &["a_dogs_mass_g", "b_dogs_mass_g"],
        "What the dogs of this ring weigh as cut, without the gear they stand on. A check against the scales when dogs were copied or cut.",
    ),
    of(
        &["a_cut_off_mass_g", "b_cut_off_mass_g"],
        "What comes off this ring in grams. Weigh the gear before and after: if the scales say otherwise, something else was cut.",
    ),
    of(
        &["a_dogs_inertia_kg_mm2", "b_dogs_inertia_kg_mm2"],
        "How much the dogs alone resist a change of speed. It is small beside the gear, so lighter dogs do not by themselves make it shift faster.",
    ),
    of(
        &["a_unbalance_g_mm", "b_unbalance_g_mm"],
        "How far what is cut off leaves the gear out of balance. Cuts placed evenly round the ring cancel each other; a single dog does not.",
    ),
    of(
        &["a_case_left_mm", "b_case_left_mm"],
        "How much of the hard skin is left on the flank that lost most. With none left the soft core carries, and it wears and dents quickly.",
    ),
    // ---- from the pedal to the fork ----
    of(
        &["shaft_swing_lift_deg"],
        "How far the selector shaft turns when the foot lifts the pedal all the way. The claw needs its swing and its play out of that.",
    ),
    of(
        &["shaft_swing_press_deg"],
        "How far the selector shaft turns when the foot presses the pedal down. If it differs much from lifting, the rod is not near square to its lever.",
    ),
    of(
        &["transmission_worst_deg"],
        "The angle between rod and lever at the worst place of the swing. Near 90° the rod turns the lever; far from it the rod mostly pushes on the bearing, and the pedal feels stiff.",
    ),
    of(
        &["shaft_per_foot_deg"],
        "How quick the linkage is: degrees of the shaft for a millimetre of the foot. Quicker means a shorter and a heavier pedal.",
    ),
    of(
        &["peg_per_turn_mm"],
        "How far the pedal moves when the rod is made longer by one turn of its thread. It tells how many turns set a pedal that sits too high or too low.",
    ),
    of(
        &["peg_per_spline_mm"],
        "How far the pedal moves when its lever goes one spline on. Use splines for the coarse step and the thread for the rest.",
    ),
    of(
        &["claw_swing_deg"],
        "How far the selector shaft has to turn to move the drum one gear on, before any play. The stop has to let it go a little further.",
    ),
    of(
        &["gap_lift_mm"],
        "What is still missing to a whole step when the claw reaches its stop, lifting. Too much leaves the drum short and it kicks back; too little lets it fly on past the gear.",
    ),
    of(
        &["drum_after_lift"],
        "Where the drum comes to rest after the claw has lifted it: at the next gear, back where it was, or past it.",
    ),
    of(
        &["gap_press_mm"],
        "What is still missing to a whole step at the stop, pressing. It ought to be the same as lifting, or one way shifts well and the other badly.",
    ),
    of(
        &["drum_after_press"],
        "Where the drum comes to rest after the claw has pressed it, with the roller of the detent doing the last part.",
    ),
    of(
        &["eccentric_equal_deg"],
        "How to set the eccentric of the stop so that both gaps come out the same. With no number it cannot move far enough: look for a bent or a wrong part first.",
    ),
    of(
        &["stop_thinner_mm"],
        "How much to take off the stop so that the gaps become as wanted, once they are equal. A minus means that it has to be built up or bushed.",
    ),
    of(
        &["detent_hold_nmm"],
        "The torque that turns the drum out of its notch. It keeps the drum where it is, and the foot has to overcome it at each shift.",
    ),
    of(
        &["detent_return_nmm"],
        "The torque with which the roller brings the drum home when the claw has let go. Near nothing it is stuck half way: flanks too flat, or a roller that does not turn.",
    ),
    of(
        &["foot_over_detent_n"],
        "What the foot has to push on the pedal to lift the roller of the detent. A heavier spring holds better and costs the foot this much more.",
    ),
    of(
        &["fork_at_home_mm"],
        "How far the fork has moved when the drum stands in its notch. Less the clearance in neutral, it is how deep the dogs go in.",
    ),
    of(
        &["rocking_costs_mm"],
        "How much depth is lost when the drum rocks in its notch. Play there costs little on a flat of the track, and much on its flank.",
    ),
    of(
        &["overlap_per_degree_mm"],
        "How much depth one degree of the drum is worth near its home. Where it is not zero, the notch of the star sets how deep the dogs go in.",
    ),
    of(
        &["overlap_short_mm"],
        "How much depth is still missing where the claw stops pushing. The roller has to bring the drum and the fork that far by itself.",
    ),
    // ---- depth along the shaft ----
    of(
        &["clearance_this_mm"],
        "The room between the tips in neutral, with all sizes as given. With too little the dogs tick or grab in neutral.",
    ),
    of(
        &["least_clearance_this_mm"],
        "The same room with every part at its worst and the gear as far over as the fork lets it go. It has to be more than nothing.",
    ),
    of(
        &["pushed_in_this_mm"],
        "How deep the dogs go when the fork only pushes, with its play taken up against it. This is the depth that a straight flank gets.",
    ),
    of(
        &["drawn_in_this_mm"],
        "How deep the dogs go when the back-cut draws the gear on, until the groove comes up against the fork. A fork that has to hold it back there wears.",
    ),
    of(
        &["clearance_other_mm"],
        "The room to the dogs on the other side of the sliding gear, in neutral. What a shim gives one side it takes from the other.",
    ),
    of(
        &["least_clearance_other_mm"],
        "The room on the other side at its worst. If it comes to nothing, those dogs touch in neutral.",
    ),
    of(
        &["pushed_in_other_mm"],
        "How deep the dogs on the other side go when the fork only pushes.",
    ),
    of(
        &["drawn_in_other_mm"],
        "How deep the dogs on the other side go when the back-cut draws them in.",
    ),
    of(
        &["shim_mm"],
        "How thick a shim puts the sliding gear in the middle between its two partners, away from this pair. A minus means towards it.",
    ),
];

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::analysis::Analysis;
    use crate::design::open;
    use crate::figures::figures;

    /// Every example design, which together have every part.
    const EXAMPLES: [&str; 5] = [
        include_str!("../../examples/designs/cut-down.json"),
        include_str!("../../examples/designs/half-height.json"),
        include_str!("../../examples/designs/kicks-back.json"),
        include_str!("../../examples/designs/wide-first-step.json"),
        include_str!("../../examples/designs/worn-measured.json"),
    ];

    fn keys_of_the_examples() -> BTreeSet<&'static str> {
        let designs = EXAMPLES.iter().map(|text| open(text).expect("it opens").design);
        let all = designs.flat_map(|design| figures(&Analysis::of(&design), Default::default()));
        all.map(|figure| figure.key).collect()
    }

    fn keys_explained() -> Vec<&'static str> {
        MEANINGS.iter().flat_map(|meaning| meaning.keys).copied().collect()
    }

    #[test]
    fn every_figure_of_the_examples_is_explained() {
        let keys = keys_of_the_examples();
        assert!(keys.len() >= 80, "only {}", keys.len());
        let mute: Vec<_> = keys.iter().filter(|key| meaning(key).is_empty()).collect();
        assert!(mute.is_empty(), "nothing is said of {mute:?}");
        assert_eq!(meaning("no_such_figure"), "");
    }

    #[test]
    fn every_explanation_is_used_and_none_comes_twice() {
        let (used, explained) = (keys_of_the_examples(), keys_explained());
        let unused: Vec<_> = explained.iter().filter(|key| !used.contains(*key)).collect();
        assert!(unused.is_empty(), "no figure of the examples is {unused:?}");
        let once: BTreeSet<_> = explained.iter().collect();
        assert_eq!(once.len(), explained.len(), "a key stands in two places");
        let words: BTreeSet<_> = MEANINGS.iter().map(|meaning| meaning.words).collect();
        assert_eq!(words.len(), MEANINGS.len(), "two figures have the same words");
    }

    #[test]
    fn every_explanation_is_a_short_sentence_or_two() {
        for Meaning { keys, words } in MEANINGS {
            let length = words.chars().count();
            assert!((40..=240).contains(&length), "{keys:?}: {length} characters");
            assert!(words.ends_with('.'), "{keys:?}");
            assert!(words.matches(". ").count() <= 1, "{keys:?} says more than two sentences");
        }
    }
}
