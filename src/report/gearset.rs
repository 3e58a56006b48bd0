//! The report on a whole gearbox as JSON. Keys are stable and carry their unit; gears, forks, shafts and positions are
//! counted from 1.
//!
//! | key | meaning |
//! |---|---|
//! | `crenel_gearbox_report` | version of this form, 1 |
//! | `title` | title of the gearbox |
//! | `shifts` | every shift, the one furthest past a limit first: see below |
//! | `findings` | list of `part`, `number`, `code`, `class`, `text` and `hint`, the gravest first |
//! | `faults` | what the readings say of the part at fault, or `null` where nothing was read: see below |
//! | `shims` | the shims that bring the gearbox back, the fewest first: see below |
//! | `cuts` | the smallest cut of each gear, the most gain for each gram first; empty unless asked for: see below |
//! | `positions` | where everything stands in each position of the detent: see below |
//!
//! In `shifts`, `from` and `to` are gears, `slip_rpm` is positive if the input side is the faster one, `chance` is the
//! share in at the first pass and `end_chance` the share in at last, `hold_n` the retaining force under power and on the
//! overrun, `depth_left_mm` what the dogs are deeper than the holding depth at the worst, `excess` the share by which
//! what is worst is past its limit, `class` how grave that is, and `reason` says it.
//!
//! In `faults`, `suspects` lists the parts with `share`, the probability that the part is at fault, `blamed`, `size` in
//! the unit of its kind, `deviation` and `limit`; `next` is what to read next, with the parts that the reading would tell
//! apart; `odd` is a reading that fits nothing.
//!
//! In `shims`, each entry has `shims` (`part`, `number`, `mm`), `is_enough`, and the least margins `before` and `after`:
//! `apart_mm` between two gears, `room_mm` of a fork, `hold_mm` of the holding depth, each with the gears it is of.
//!
//! In `cuts`, pairs are before and after: `goes_in` (share), `lash_deg`, `tyre_mm`, `strength` (share of what is
//! allowed), `unbalance_g_mm`; `twin` is the gear on the other face of the same slider, and `cut` says what to do.
//!
//! In `positions`, each slider has the places of its fork's pin and pads along the shaft, its own place, the room and the
//! play of the fork in it, and for each of its gears how deep the dogs overlap and whether they are home.

use crenel_words::{Message, Reader};
use serde_json::{Value, json};

use crate::drum::Position;
use crate::gearset::{
    BeforeAfter, FaultPart, FaultTrace, GearCut, GearStanding, GearsetAnalysis, Placed, Restored,
    SetShift, ShimMargins, ShimPlace, SliderStanding, Suspect, faults, restore, shift_table,
};

/// The whole report, with the cuts that were searched.
pub fn gearset_report(analysis: &GearsetAnalysis, cuts: &[GearCut]) -> Value {
    json!({
        "crenel_gearbox_report": 1,
        "title": analysis.gearset.title,
        "shifts": shift_table(analysis).iter().map(shift).collect::<Vec<_>>(),
        "findings": analysis.findings.iter().map(found).collect::<Vec<_>>(),
        "faults": faults(analysis).as_ref().map(fault_report),
        "shims": restore(analysis).iter().map(restored).collect::<Vec<_>>(),
        "cuts": cuts.iter().map(cut).collect::<Vec<_>>(),
        "positions": analysis.drum.positions.iter().map(|at| position(analysis, at)).collect::<Vec<_>>(),
    })
}

fn position(analysis: &GearsetAnalysis, at: &Position) -> Value {
    json!({
        "position_deg": at.deg,
        "gear": at.gear.map(|gear| analysis.on_drum[gear] + 1),
        "sliders": analysis.standing(at.deg).iter().map(slider).collect::<Vec<_>>(),
    })
}

fn slider(own: &SliderStanding) -> Value {
    let gear = |gear: &GearStanding| {
        json!({
            "gear": gear.gear + 1, "overlap_mm": gear.overlap_mm,
            "meeting": gear.meeting.name(), "home": gear.is_home,
        })
    };
    json!({
        "fork": own.fork + 1, "pin_mm": own.pin_mm, "pad_mm": own.pad_mm,
        "slider_mm": own.slider_mm, "room_mm": own.room_mm, "play_mm": own.play_mm,
        "gears": own.gears.iter().map(gear).collect::<Vec<_>>(),
    })
}

fn shift(row: &SetShift) -> Value {
    let SetShift { shift, end_chance, hold_n, depth_left_mm, tyre_mm, excess, class, reason } = row;
    json!({
        "from": shift.step.from + 1, "to": shift.step.to + 1, "slip_rpm": shift.step.slip_rpm,
        "window_ms": shift.window_ms, "limit_rpm": shift.limit_rpm, "chance": shift.chance,
        "end_chance": end_chance, "blow_nm": shift.blow_nm, "hold_n": hold_n,
        "depth_left_mm": depth_left_mm, "tyre_mm": tyre_mm, "excess": excess,
        "class": class.name(),
        "reason": reason.show(Reader::default()),
    })
}

fn found(placed: &Placed) -> Value {
    let (part, number) = placed.part.key();
    let finding = &placed.finding;
    json!({
        "part": part, "number": number, "code": finding.code, "class": finding.class().name(),
        "text": finding.text(Reader::default()), "hint": finding.hint(Reader::default()),
    })
}

/// What the readings of a gearbox say, as in its report.
pub fn fault_report(traced: &FaultTrace) -> Value {
    let reader = Reader::default();
    let suspect = |suspect: &Suspect| {
        let (part, number) = suspect.part.key();
        json!({
            "part": part, "number": number, "kind": suspect.kind.key,
            "gears": suspect.gears.iter().map(|gear| gear + 1).collect::<Vec<_>>(),
            "size": suspect.size, "deviation": suspect.deviation, "limit": suspect.kind.limit,
            "share": suspect.share, "blamed": suspect.is_blamed,
            "text": suspect.says.says.show(reader), "hint": suspect.says.next.show(reader),
        })
    };
    let parts = |parts: &[FaultPart]| parts.iter().map(|part| part.key()).collect::<Vec<_>>();
    json!({
        "readings": traced.readings, "sound": traced.sound,
        "suspects": traced.suspects.iter().map(suspect).collect::<Vec<_>>(),
        "next": traced.next.as_ref().map(|next| json!({
            "read": next.slot.path(), "parts": next.parts.each_ref().map(|own| parts(own)),
            "expects": next.expects, "apart": next.apart, "again": next.is_again,
        })),
        "odd": traced.odd.map(|(slot, by)| json!({ "read": slot.path(), "by": by })),
    })
}

fn restored(found: &Restored) -> Value {
    let margins = |left: &ShimMargins| {
        let number = |gear: usize| gear + 1;
        json!({
            "apart_mm": left.apart_mm, "apart": left.apart.map(|both| both.map(number)),
            "room_mm": left.room_mm, "room": left.room.map(number),
            "hold_mm": left.hold_mm, "hold": left.hold.map(number),
        })
    };
    let shim = |(place, mm): &(ShimPlace, f64)| {
        let (part, number) = place.key();
        json!({ "part": part, "number": number, "mm": mm, "text": place.says(*mm).show(Reader::default()) })
    };
    json!({
        "shims": found.shims.iter().map(shim).collect::<Vec<_>>(), "is_enough": found.after.is_kept(),
        "before": margins(&found.before), "after": margins(&found.after),
    })
}

fn cut(cut: &GearCut) -> Value {
    let both = |of: BeforeAfter| json!([of.before, of.after]);
    json!({
        "gear": cut.gear + 1, "metal_g": cut.metal_g, "gain_per_gram": cut.gain_per_gram(),
        "goes_in": both(cut.goes_in), "off_slider_g": cut.off_slider_g,
        "lash_deg": cut.lash_deg.map(both), "tyre_mm": cut.tyre_mm.map(both),
        "strength": cut.strength.map(both), "unbalance_g_mm": both(cut.unbalance_g_mm),
        "allowed_g_mm": cut.allowed_g_mm,
        "twin": cut.twin.map(|twin| json!({ "gear": twin.gear + 1, "reach": both(twin.reach) })),
        "advisable": cut.cut.against.is_none(), "text": sentences(&cut.says()),
        "cut": sentences(&cut.cut.words),
    })
}

fn sentences(says: &[Message]) -> String {
    let shown: Vec<_> = says.iter().map(|says| says.show(Reader::default())).collect();
    shown.join(" ")
}
