//! A shift in time: how long the ignition must be cut or the clutch be pulled, and how the engine must be blipped.

sentences! { "page.cut":
    panel() = "Cut and blip";
    in_time() = "Shifts in time";
    manner() = "How it is shifted";
    by_cut() = "Up, by ignition cut";
    by_throttle() = "Up, throttle shut";
    by_clutch_up() = "Up, with the clutch";
    by_blip() = "Down, by blip";
    by_clutch_down() = "Down, with the clutch";
    longest_cut(from: Nth, to: Nth, engine: Speed, cut: Value) =
        "{from}→{to} takes the longest cut: {cut} at {engine}.";
    longest_blip(from: Nth, to: Nth, engine: Speed, blip: Value, into: Speed) =
        "{from}→{to} takes the longest blip: {blip}, from {engine} to {into}.";
    longest_shift(from: Nth, to: Nth, engine: Speed, whole: Value) =
        "{from}→{to} takes longest: {whole} at {engine}.";
    no_length(up: Pick, from: Nth, to: Nth, engine: Speed, longest: Value, whole: Value) =
        "No length is right for {from}→{to} at {engine}: after {longest} the engine is too {up, select, up \
         {slow} other {fast}}, \
         and the dogs take {whole}.";
    input_waits_most(wait: Value) = "{wait} of it pass until the input shaft has the speed for the new dogs.";
    fork_most(wait: Value) = "{wait} of it pass until the foot is through its dead travel and the fork pushes.";
    waits_most(wait: Value) = "{wait} of it pass while the engine slows down.";
    speeds_up_most(wait: Value) = "{wait} of it pass while the engine speeds up.";
    firing_most(wait: Value) = "{wait} of it pass until the next firing is left out.";
    blip_firing_most(wait: Value) = "{wait} of it pass until the next firing.";
    out_most(wait: Value) = "{wait} of it pass until the old dogs are out.";
    shifts(shifts: List, says: Message) = "{shifts, list, each {, }}: {says, lower}";
    from_to(from: Nth, to: Nth) = "{from}→{to}";
    strikes(up: Pick) =
        "The old dogs are not out before their {up, select, up {coast} other {drive}} flanks strike. Unload them sooner or longer; \
         more shift force helps only as far as fork and drum stand it.";
    too_long(up: Pick) =
        "Before the dogs are in, the engine has {up, select, up {fallen below} other {risen above}} the speed of the new \
         gear, and the {up, select, up {coast} other {drive}} flanks take the load: no length is right here.";
    not_out() = "The shift force does not pull the old dogs out. Raise it, or reduce the undercut.";
    rattles() =
        "The old dogs rattle in their lash more often than is followed: raise the damping of the driveline, or the shift force.";
    never_in() = "At no speed difference does a shift go in at the first pass. Widen the windows.";
    too_near(up: Pick) =
        "When the tips are level, the engine is so near to the speed of the new gear that too few shifts go in: the tips \
         stay on one another. {up, select, up {Shift at a higher engine speed.} other {Blip with less torque.}}";
    only_some(asked: Share, shifts: List) =
        "Even a longer one gets fewer than {asked} in at the first pass: {shifts, list, each {, }}. The times \
         are for those that go in.";
    most_of(from: Nth, to: Nth, share: Share) = "{share} of {from}→{to}";
    never_slow() = "Nothing slows the engine down. Enter engine braking or drag between the rings.";
    clutch_drags() =
        "The pulled clutch drags the input shaft along, so it comes no nearer to the speed of the new gear. Let the oil warm up, \
         or adjust the clutch.";
    no_gearbox() = "Cut and blip follow from the gearbox. Enter it first.";
    lacks() = "Enter friction, tooth counts and engine torque first: cut and blip follow from them.";
    shift() = "Shift";
    engine() = "Engine speed";
    cut() = "Cut";
    blip() = "Blip";
    shut() = "Throttle shut";
    pulled() = "Clutch pulled";
    not_longer() = "Not longer than";
    in_at() = "Engine as tips meet";
    firing() = "Firing";
    fork() = "Fork";
    unload() = "Unload";
    out() = "Old dogs out";
    across() = "Across the gap";
    wait() = "Wait";
    into() = "In";
    by_speed(up: Pick) = "{up, select, up {Cut} other {Blip}} by engine speed, ms";
    at_share(share: Share) = "{share} of shift speed";
    with_delay(delay: Value) =
        "The length set in the ignition unit. From the signal of the sensor it is {delay} more.";
    blip_ends() =
        "From the first firing at an open throttle until the throttle is shut again. “In at” is the engine speed at which the \
         new dogs go in.";
    parts_meaning(up: Pick) =
        "Firing: until {up, select, up {the next firing is left out} other {the next firing}}. Fork: until the foot is through \
         its dead travel, if that takes longer. Unload: until the shift force begins to pull the old dogs apart. Old \
         dogs out: until they are. Across the gap: until the new tips are level. \
         Wait: until the engine is {up, select, up {slow} other {fast}} enough. In: until the new dogs hold.";
    rigid() =
        "Estimate: two masses on one spring, engine torque constant before and after the change.";
    same_dogs() = "Each gear is taken to have the dogs of this pair. Enter the whole gearbox to give each its own.";
    own_dogs() = "Each gear has its own dogs, as in Box.";
    caution() =
        "Shifting without the clutch: every miss takes metal off the edges, and a gear that is not fully in can let go or lock \
         the wheel.";
    line(from: Nth, to: Nth) = "The whole shift in time, {from}→{to}";
    beside() = "Beside it";
    beside_none() = "nothing";
    beside_told(name: Verbatim, whole: Value, this: Value) =
        "{name}, in chain lines: in after {whole}, this one after {this}.";
    beside_never(name: Verbatim) = "{name} cannot be timed here: the old dogs stay in, or the new ones never go in.";
    spread(out_from: Value, out_to: Value, in_from: Value, in_to: Value) =
        "From shift to shift: out after {out_from} to {out_to}, in after {in_from} to {in_to} (5 to 95 of 100; bars in the chart).";
    worked_out() = "How this is worked out";
    how_firing() = "Firing: share × 120000/(rpm × cylinders) ms; where firing is uneven, the rest of the interval that is hit.";
    how_torque() =
        "Torque at the old dogs after the change: T = T1 + (T0 − T1)·e^(−ζωt)·(cos ωt − ζ·sin ωt), T0 and T1 the torque before and after, \
         each times J2/(J1 + J2), ω = √(k/J), ζ the damping (two masses on one spring, any textbook of vibration).";
    how_out() =
        "They let go at T = F/(tan(α + ρ)/r + μ/rs), from flank angle, friction and splines as entered, and move with \
         m·a = F − T·(tan(α + ρ)/r + μ/rs).";
    how_wait() =
        "Wait: the speed difference falls by T/J of the engine side, and must come down to where the asked share goes in at the first \
         pass.";
    how_in() =
        "In: the dogs are followed from many phases, event by event; the time is that of the asked share of those that go in.";
    how_peak() =
        "Rigid bound at the new dogs: √(k·J)·Δω with the torque that comes back on top; the whole driveline is followed joint by joint.";
    ring_holds(gear: Nth, out: Value) = "The dogs of gear {gear} let go last, {out} after the torque begins to fall.";
    ring_waits(gear: Nth, wait: Value) = "Those of gear {gear} wait longest for the engine, {wait}.";
    foot_told(lead: Value, signal: Value) =
        "The foot moves {lead} before the ignition unit acts: the sensor signals after {signal}.";
    hook_told(hook: Value) = "The hook meets its pin after {hook}.";
    fork_told(fork: Value) = "The fork begins to push after {fork}.";
    fork_unknown() = "Enter linkage, claw and track to see when the fork begins to push.";
    drum_at(angle: Value) = "The drum has turned {angle} from its detent.";
    line_told() =
        "Chart over time of the engine speed, the torque at the dogs that hold and the overlap of old and new dogs. The slider \
         reads it out.";
    shift_takes(from: Nth, to: Nth, whole: Value, engine: Speed) =
        "{from}→{to} at {engine}: in after {whole}.";
    catches(peak: Value, times: Verbatim, force: Value) =
        "The new dogs catch {peak}, {times} times the steady torque after the shift; at a [tyre|tire] that does not slip that is \
         {force}.";
    driveline() = "The whole driveline";
    driveline_inputs() = "Driveline: masses, springs and grip";
    peaks(from: Nth, to: Nth, bound: Value, dogs: Value, road: Value) =
        "{from}→{to}: rigid bound {bound}; with the whole driveline {dogs} at the dogs, {road} at the [tyre|tire].";
    bound() = "Rigid bound";
    at_dogs() = "At the dogs";
    at_tyre() = "At the [tyre|tire]";
    does_it_slip() = "[Tyre|Tire] slips";
    no_slip() = "no";
    still_slips() = "to the end";
    feels_slip(time: Value) = "The rear [tyre|tire] slips for {time} as the dogs catch.";
    feels_spin() = "The rear [tyre|tire] breaks away as the dogs catch, and keeps slipping.";
    feels_grip() = "The rear [tyre|tire] grips throughout.";
    clutch_too() = "The clutch slips too, and takes part of the blow.";
    driveline_lacks() =
        "Enter the inertia of rear sprocket and carrier to see the whole driveline. Without it only the rigid bound is shown.";
    driveline_clutch() =
        "With the clutch pulled, only the gearbox shafts strike: the rigid bound tells the peak.";
    driveline_meaning() =
        "Rigid bound: two masses on one spring. Whole driveline: seven masses with the lash of mesh and dogs, chain slack, cush \
         drive, clutch and [tyre|tire]. All torques are at the shaft of the new dogs. A soft cush drive protects the \
         [tyre|tire]; the peak at the dogs is local, and can be above the bound where little but stiff parts stand behind them.";
    line_curves() =
        "Torque after “in”: solid at the dogs, dashed the rigid bound, double-dotted at the [tyre|tire].";
    clutch_beyond(torque: Value, most: Value) =
        "The clutch slips before the dogs meet: it carries {torque}, and holds {most} at the shaft of the dogs.";
    too_many_events() = "The flanks rattle more often than is followed. The peaks are those up to there.";
    too_stiff() =
        "The driveline is too stiff beside its masses to be followed. Lower a stiffness, or raise the inertia of the free gear.";
    no_driveline() = "The driveline does not work with these numbers.";
    now_tyre(torque: Value) = "{torque} at the [tyre|tire].";
    now(time: Value, engine: Speed, torque: Value, old: Value, new: Value) =
        "{time}: engine {engine}, {torque} at the dogs, overlap {old} old, {new} new.";
    wear() = "Wear of the edges";
    wear_first(from: Nth, to: Nth, energy: Verbatim) =
        "{from}→{to} wears the edges most: a hundred shifts spend up to {energy} J on them at the first pass.";
    no_wear() = "No shift throws the gear back at the first pass.";
    thrown_back() = "Thrown back";
    strike() = "One strike, J";
    hundred() = "100 shifts, J";
    in_now() = "In now";
    in_rounded() = "In rounded";
    wear_meaning() =
        "The most that strikes can spend: all energy of the speed difference and of the sliding gear. How fast an edge rounds is \
         not predicted.";
    rounded(rounding: Value, left: Value, hold: Value) =
        "With every edge rounded to {rounding}, {left} of the flanks still carry; the dogs hold from {hold} on.";
    gives_way(hold: Value, none: Value) =
        "From {hold} of rounding on they hold too little; from {none} on only roundings touch, push the gears apart, and the gear \
         jumps out. Friction is not counted on.";
    chart(from: Nth, to: Nth) = "How the old dogs let go, {from}→{to}";
    chart_told() =
        "Chart of torque and overlap at the old dogs over the time since the cut. The table gives the times.";
    save_csv() = "Save table as CSV";
}
