//! How long the ignition must be cut.

sentences! { "page.cut":
    each_upshift() = "Ignition cut for each upshift";
    panel() = "Ignition cut";
    longest_cut(from: Nth, to: Nth, engine: Speed, cut: Value) =
        "{from}→{to} takes the longest cut: {cut} at {engine}.";
    waits_most(wait: Value) = "{wait} of it pass while the engine slows down.";
    firing_most(wait: Value) = "{wait} of it pass until the next firing is left out.";
    out_most(wait: Value) = "{wait} of it pass until the old dogs are out.";
    shifts(shifts: List, says: Message) = "{shifts, list, each {, }}: {says, lower}";
    from_to(from: Nth, to: Nth) = "{from}→{to}";
    strikes() =
        "The old dogs are not out before their coast flanks strike. More shift force lets them out sooner.";
    too_long() =
        "Before the dogs are in, the engine has fallen below the speed of the new gear, and the coast flanks take the load.";
    not_out() = "The shift force does not pull the old dogs out. Raise it, or reduce the undercut.";
    never_in() = "At no speed difference does a shift go in at the first pass. Widen the windows.";
    only_some(share: Share) =
        "At most {share} of the shifts go in at the first pass, however long the cut. The times are for these.";
    never_slow() = "Nothing slows the engine down. Enter engine braking or drag between the rings.";
    no_gearbox() = "The cut follows from the gearbox. Enter it first.";
    lacks() = "Enter friction, tooth counts and engine torque first: the cut follows from them.";
    shift() = "Shift";
    engine() = "Engine speed";
    cut() = "Cut";
    not_longer() = "At most";
    firing() = "Firing";
    unload() = "Unload";
    out() = "Out";
    across() = "Across";
    wait() = "Wait";
    into() = "In";
    by_speed() = "Cut by engine speed, ms";
    at_share(share: Share) = "{share} of upshift speed";
    with_delay(delay: Value) =
        "The length set in the ignition unit. From the signal of the sensor it is {delay} more.";
    parts_meaning() =
        "Firing: until the next firing is left out. Unload: until the shift force begins to pull the old dogs apart. Out: until \
         they are out. Across: until the new tips are level. Wait: until the engine is slow enough. In: until the new dogs hold.";
    rigid() =
        "Estimate: two masses on one spring, the same dogs in every gear, engine braking constant. The torque returns at once.";
    caution() =
        "Shifting without the clutch: every miss takes metal off the edges, and a gear that is not fully in can let go or lock \
         the wheel.";
    chart(from: Nth, to: Nth) = "How the old dogs let go, {from}→{to}";
    chart_told() =
        "Chart of torque and overlap at the old dogs over the time since the cut. The table gives the times.";
    save_csv() = "Save table as CSV";
}
