//! Findings: what is wrong with a design or worth knowing, and the next thing to do.

sentences! { "finding":
    // ---- inputs ----
    out_of_limits(place: Message, value: Value, min: Value, max: Value, explain: Label) =
        "{place}: {value} is outside the range {min} to {max}."
        next "{explain}";
    not_a_number(place: Message, min: Value, max: Value, explain: Label) =
        "{place}: enter a number from {min} to {max}."
        next "{explain}";
    not_whole(place: Message, value: Verbatim, min: Value, max: Value) =
        "{place}: {value} is not a whole number from {min} to {max}."
        next "Enter it without decimals.";
    text_too_long(text: Pick, length: Number, most: Number) =
        "The {text, select, title {title has} notes {notes have} initials {initials have} variant {name of a \
         variant has} other {name of a stack-up part has}} {length} characters; the limit is {most}."
        next "Shorten it: a long text does not fit into a link.";

    // ---- numbers as typed ----
    nothing_typed() =
        "This field is empty."
        next "Type a number.";
    typed_no_number(typed: Given) =
        "“{typed}” is not a number."
        next "Type digits with a decimal point or comma, for example 12.5.";
    typed_two_separators(typed: Given) =
        "“{typed}” has both a point and a comma."
        next "Leave out the thousands separator.";
    typed_wrong_unit(typed: Given, quantity: Pick, unit: Verbatim) =
        "The unit “{typed}” does not fit here."
        next "Use {quantity, select, length {mm or in} angle {° or deg} number {a plain number} other {{unit}}}.";
    typed_bad_angle(typed: Given) =
        "“{typed}” is not a valid angle."
        next "Minutes and seconds run from 0 to 59, for example 11°30′00″.";
    typed_feet(typed: Given) =
        "“{typed}” is in feet, which are not accepted here."
        next "Use mm or in, for example 12.7 mm or 0.5 in.";
    typed_no_tolerance(typed: Given, most: Value) =
        "“{typed}” is not a tolerance from 0 to {most}."
        next "Type ±0.1, or +0/−0.12 where the two sides differ.";

    // ---- rings as given ----
    diameters_crossed(side: Side, inner: Length, outer: Length) =
        "Ring {side}: the inner diameter {inner} is not smaller than the outer diameter {outer}."
        next "Measure across the inner and the outer ends of the dogs.";
    height_pattern(side: Side, pattern: Given) =
        "Ring {side}: the height pattern “{pattern}” is not a list of fractions from 0 to 1."
        next "1 is full height, 0.5 is half height, 0 leaves the position empty; “1 0.5” alternates full and half \
            height.";
    gap_takes_all(side: Side, count: Count, gap: Angle, pitch: Angle) =
        "Ring {side}: {count, plural, one {# gap of {gap} leaves} other {# gaps of {gap} leave}} no metal; the pitch \
         is only {pitch}."
        next "Make the gap smaller than the pitch.";
    too_many_dogs(side: Side, dogs: Number, most: Count) =
        "Ring {side} lists {dogs} dogs; at most {most} are computed."
        next "Remove the entries that are not dogs.";
    no_dogs(side: Side) =
        "Ring {side} has no dogs left."
        next "Keep at least one dog to carry the load.";
    wider_than_bore(side: Side, dog: Nth, wide: Length, bore: Length) =
        "Ring {side}: dog {dog} with parallel flanks is {wide} wide and does not fit a bore of {bore}."
        next "Make the dog narrower or the inner diameter larger, or use radial flanks.";
    no_root_left(side: Side, dog: Nth, off: Length) =
        "Ring {side}: undercut and narrowing remove {off} from dog {dog} at the web and leave no root."
        next "Use less undercut, or a wider or shorter dog.";
    edge_break_takes_all(side: Side, dog: Nth, edge: Length, limit: Length) =
        "Ring {side}: an edge break of {edge} leaves no tip face or no flank on dog {dog}; it must be less than \
         {limit}."
        next "Measure the chamfer along the flank and across the tip; enter the smaller.";
    dogs_overlap(side: Side, dog: Nth, next: Nth, by: Angle) =
        "Ring {side}: dogs {dog} and {next} overlap by {by}."
        next "Use fewer or narrower dogs, or check the measured positions.";
    no_common_band(outside: Side, begins: Length, other: Side, ends: Length) =
        "The dogs of ring {outside} begin at {begins} and those of ring {other} end at {ends}: the rings never touch."
        next "Check the diameters of both rings: their dogs must overlap in the radial direction.";

    // ---- the plan of work as given ----
    cut_without_dog(side: Side, operation: Nth, dog: Nth, work: Label, places: Number) =
        "Ring {side}, operation {operation} (“{work}”): there is no dog {dog}; the ring has only {places, plural, one \
         {# position} other {# positions}}."
        next "Deselect that dog, unless you mean to add its position again.";
    cut_takes_nothing(side: Side, operation: Nth, work: Label) =
        "Ring {side}, operation {operation} (“{work}”) removes no metal."
        next "Check the dogs it applies to, its size, and what earlier operations removed.";
    cut_above_dog(side: Side, operation: Nth, to: Length, height: Length) =
        "Ring {side}, operation {operation} shortens to {to}, but the dogs are only {height} high by then: it removes \
         no metal."
        next "Enter a smaller height.";

    // ---- the shift as given ----
    no_gearbox() =
        "The shift conditions come from the gearbox, but no gearbox is entered."
        next "Enter gearbox data, or type the speed difference.";
    no_such_shift(up: Pick, gear: Count, gears: Number) =
        "There is no {up, select, up {upshift} other {downshift}} into gear {gear}: the gearbox has {gears, plural, \
         one {# gear} other {# gears}}."
        next "An upshift goes into second gear or higher, a downshift into any gear but the top one.";

    // ---- files ----
    damaged_text() =
        "Some characters of the file could not be decoded; they show as �."
        next "Check title and notes, or save the file as UTF-8. No number is affected.";
    too_large(bytes: Number, most: Number) =
        "The file is too large: {bytes} bytes or more, and the limit is {most}."
        next "Open a file saved by Crenel; a design is about a thousandth of that size.";
    repeated_key(keys: Verbatim, more: Number) =
        "Given more than once: {keys}{more, plural, =0 {} other { and # more}}. The last of each counts."
        next "Keep the one you mean and remove the others.";
    unknown_key(key: Given) =
        "“{key}” is an unknown key and is ignored."
        next "It may be [misspelt|misspelled], or come from a newer version of Crenel.";

    tolerance_ignored(place: Message, given: Given, most: Value) =
        "{place}: “{given}” is no tolerance from 0 to {most}, and is ignored."
        next "Give one number for ±, or two: how far below, then how far above.";

    // ---- the pair ----
    no_entry_window(edges: Pick) =
        "No window is open at tip level: at every phase some dog is over another.{edges, select, pass { Only the edge \
         breaks let the tips begin to pass.} other {}}"
        next "Make the dogs narrower, or use fewer tall ones on both rings.";
    rings_apart(overlap: Length) =
        "At an overlap of {overlap} the rings are not engaged: they turn freely and carry no load."
        next "Enter the overlap that the rings have when the gear is in.";
    short_dogs_apart(gap: Length) =
        "The short dogs of the two rings miss each other by {gap} at full depth. On one side of each window only tall \
         dogs meet."
        next "To let them carry too, leave the short dogs of both rings taller by more than half of that.";
    jams_before_full_depth(overlap: Length, full: Length) =
        "The rings jam at an overlap of {overlap}: no window stays open down to {full}."
        next "Check the height of the short dogs, and look for flanks that widen towards the root.";
    tip_meets_web(overlap: Length, tips: Side, web: Side) =
        "At an overlap of {overlap} the tips of ring {tips} meet the web of ring {web}; that is the full depth."
        next "Keep the tips clear of the web: let a stop or a shoulder limit the depth (common practice, no source).";
    phase_blocked(phase: Angle, middle: Angle) =
        "At phase {phase} a dog is in the way at full depth; the lash shown is that of the nearest window, around \
         {middle}."
        next "Turn ring A until the circle on the phase map is in a clear column.";
    nothing_gained(cut: Pick, windows: Count, width: Angle) =
        "{cut, select, a {Only ring A is cut} b {Only ring B is cut} other {Both rings are cut}}, and the windows are \
         unchanged: {windows} × {width}. Nothing is gained."
        next "Wider windows need fewer full-height dogs on both rings: cut the same dogs on both.";
    uneven_heights(at_tips: Count, to_hold: Count) =
        "The dogs are not all of one height: the {at_tips, plural, one {# window} other {# windows}} at tip level \
         {at_tips, plural, one {becomes} other {become}} {to_hold} at the holding depth."
        next "Window width and times use the windows that are open down to the holding depth.";
    fewer_on_one_ring(few: Number, side: Side, many: Number, other: Side, windows: Number) =
        "Ring {side} has {few, plural, one {# tall dog} other {# tall dogs}} and ring {other} has {many}: the pair \
         still has {windows, plural, one {# window} other {# windows}}, as if both had {many}."
        next "Wide windows need few tall dogs on both rings.";
    hold_depth_in_edges(hold: Length, edges: Length) =
        "A holding depth of {hold} is less than the two edge breaks together, {edges}: at that depth only the chamfers \
         touch, and they push the dogs apart."
        next "Enter a holding depth of at least the sum of the edge breaks.";
    too_fast_to_drop_in(slip: Speed, never: Pick, limit: Speed) =
        "At a speed difference of {slip} the gear never {never, select, never {goes in at the first pass, straight or \
         after rubbing} other {goes straight in}}: the straight-in limit is {limit}."
        next
            "Until the speeds are closer, the dogs rub or are thrown back. Wider windows, a faster or harder push, \
             or a smaller holding depth (sharper edges) raise the limit.";
    hangs_half_way(torque: Torque) =
        "From the phase as drawn, the tips rub to a standstill: the shift stays blocked until a torque above {torque} \
         turns one ring against the other."
        next "A harder push on the pedal only locks them tighter. Smoother tips, wider windows or a larger speed \
            difference will help.";
    hangs_without_friction() =
        "From the phase as drawn, the speed difference dies out tip on tip: the shift stays blocked until something \
         turns one ring against the other."
        next "A larger speed difference or wider windows will help.";
    half_in(overlap: Length) =
        "From the phase as drawn, the gear goes in only {overlap} and stops on top of a short dog: only the tall dogs \
         carry."
        next "Check the height of the short dogs, and whether the tall ones engage deep enough to carry.";
    pushed_out(force: Force, friction: Pick) =
        "Under power the drive flanks push the rings apart with {force}, {friction, select, loses {more than their \
         friction can hold: the gear jumps out} other {and only friction holds them, which vibration can overcome}}."
        next "Re-cut worn or tapered flanks to a positive undercut.";
    pushed_out_on_overrun(force: Force, friction: Pick) =
        "[On the overrun|When coasting] the coast flanks push the rings apart with {force}, {friction, select, loses \
         {more than their friction can hold: the gear jumps out} other {and only friction holds them, which vibration \
         can overcome}}."
        next "Re-cut worn or tapered flanks to a positive undercut.";
    only_edges_engaged(left: Length) =
        "At full depth some dogs meet only on their edge breaks: flank engagement is {left}."
        next "Increase the overlap or plan smaller edge breaks; on worn dogs, re-cut the flanks.";
    edge_contact(a: Nth, b: Nth, deep: Length, hold: Length) =
        "Dogs A{a} and B{b} overlap by {deep}, less than the holding depth of {hold}: their edges bear the force and can \
         chip. Flank pressure leaves them out."
        next "Shorten the short dogs until they stay clear, or let them overlap by the holding depth or more.";
    over_allowed(stress: Pick, flanks: Pick, power: Value, overrun: Value, allowable: Stress) =
        "{stress, select, pressure {Flank pressure} shear {Shear at the root} other {Combined stress at the root}} is \
         {flanks, select, power {{power}} overrun {{overrun} [on the overrun|when coasting]} other {{power} under \
         power and {overrun} [on the overrun|when coasting]}}; the allowable is {allowable}."
        next "The allowable stress is a starting point; its source is under Load. More dogs carrying, more overlap or \
            less torque lower the stress.";

    lash_over_limit(lash: Angle, limit: Angle) =
        "Lash at the dogs is {lash}; the most you accept is {limit}."
        next
            "Less lash takes a new layout: more dogs, narrower gaps, or half-height dogs between the tall ones; a \
             cut only widens gaps.";
    clunk_over_limit(clunk: Torque, limit: Torque) =
        "As the throttle opens, the clunk reaches {clunk}; the most you accept is {limit}."
        next
            "Less lash takes a new layout: more dogs, narrower gaps, or half-height dogs between the tall ones. A \
             softer driveline lowers the clunk too.";

    // ---- planned work ----
    overlap_lost(off: Length, left: Length, given: Length) =
        "The work removes {off} from the tallest tips and leaves {left} of the {given} overlap."
        next "Shim the sliding gear or move its stop to regain the overlap.";
    windows_shrink(found: Angle, cut: Angle) =
        "The work makes the widest window narrower: {found} as found, {cut} as cut."
        next "Check which dogs are the tallest now: they decide where the windows are.";
    windows_unequal(narrow: Angle, wide: Angle) =
        "The work leaves windows of unequal width, from {narrow} to {wide}."
        next "Each shift then depends on which window comes first. Cut opposite dogs, or every second dog, on both \
            rings.";
    mating_flank_forgotten(flank: Flank, side: Side, this: Angle, mate: Side, other: Angle) =
        "The {flank, select, drive {drive} other {coast}} flanks of ring {side} are re-cut to {this}, but those of \
         ring {mate} stay at {other}: the smaller angle counts."
        next "Re-cut the mating flanks too, or the flanks touch only at an edge.";
    unbalance_over_grade(side: Side, unbalance: Unbalance, allowable: Unbalance) =
        "Ring {side}: the metal removed leaves an unbalance of {unbalance}; its grade allows {allowable}."
        next "Cut opposite dogs, or dogs evenly round the ring, or have the gear balanced after the work.";
    case_gone(side: Side, off: Length, flank: Flank, dog: Nth, case: Length) =
        "Ring {side}: up to {off} comes off the {flank, select, drive {drive} other {coast}} flank of dog {dog}, and \
         the case is only {case} deep. The core is exposed there."
        next "Keep the cut well under the case depth. Otherwise check the flank at the pressure that core steel takes, \
            or have the gear re-hardened by a qualified shop.";
    core_on_tips(side: Side, dogs: Number, off: Length, case: Length) =
        "Ring {side}: {dogs, plural, one {the tip of # dog is} other {the tips of # dogs are}} cut down by up to \
         {off}, through a case of {case}. The new tip faces are core, and core rubs at entry."
        next "Soft tips wear and burr sooner. Take less than {case} off, such as half of what is needed off each of two \
            mating dogs, or have the gear re-hardened by a qualified shop.";

    // ---- linkage ----
    rod_does_not_reach(rod: Length, least: Value, most: Value) =
        "A rod of {rod} does not fit between the pedal arm and the lever at rest: it must be {least} to {most} long."
        next "Check the rod length, the arms, the lever and the shaft position.";
    arm_ends_on_shaft(rod: Length) =
        "At rest the pedal arm ends on the shaft itself: the rod of {rod} lies along the lever and cannot turn it."
        next "Measure the arms and the position of the shaft again.";
    linkage_in_line(lift: Angle, press: Angle) =
        "At rest the pedal arm and the rod are in line: lifting turns the shaft {lift} and pressing {press}, both the \
         same way."
        next "Move arm or pedal until arm and rod are about square at rest.";
    linkage_turns_back(stroke: Stroke, foot: Length, shaft: Angle) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}} {foot}, arm and rod are in \
         line: the shaft has turned {shaft} and turns back beyond that."
        next "Move arm or pedal until arm and rod are about square at rest.";
    linkage_locks(stroke: Stroke, foot: Length) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}} {foot}, rod and lever are in \
         line: the linkage locks there."
        next "Turn the lever on its splines, or change rod and arms, until both are square at mid-stroke.";
    linkage_cramps(stroke: Stroke, angle: Angle, limit: Angle, foot: Length) =
        "{stroke, select, lift {On lifting} other {On pressing}}, rod and lever reach {angle}; they bind within \
         {limit} of line, from {foot} of travel."
        next "Turn the lever on its splines, or change rod and arms, until both are square at mid-stroke.";
    linkage_near_cramping(stroke: Stroke, angle: Angle, limit: Angle) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the angle between rod and \
         lever reaches {angle}; keep it at least {limit} from line."
        next "Turn the lever on its splines, or change rod and arms, until both are square at mid-stroke.";

    // ---- claw and detent ----
    pins_too_far_out(radius: Length, most: Value) =
        "The claw cannot pull pins at a radius of {radius}: with these drum positions and this distance between the \
         axes, the limit is {most}."
        next "Measure the pin radius and the distance between the axes again.";
    eccentric_beyond_shaft(eccentric: Length, stop: Length) =
        "The eccentricity of the stop is {eccentric}, its distance from the shaft {stop}: turned, it would reach over \
         the shaft."
        next "Measure both again: the eccentricity is half the side-to-side movement.";
    foot_short_of_stop(stroke: Stroke, turns: Angle, stop: Angle, reaches: Pick, missing: Length, joined: Pick) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the shaft turns {turns}, but \
         the stop is at {stop}: {reaches, select, short {{missing} of foot travel is missing} other {the linkage \
         locks or turns back first}}."
        next "{joined, select, rod {Give the pedal more travel, a longer rod arm or a shorter shaft lever.} other \
            {Give the pedal more travel, or a shorter foot arm.}}";
    drum_falls_back(stroke: Stroke, pushed: Angle, step: Angle) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the claw turns the drum \
         {pushed} of its {step} step, short of the peak: the detent pulls it back."
        next "Thin the stop, reduce the play or give more foot travel.";
    drum_not_brought_home(stroke: Stroke, pushed: Angle, step: Angle) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the claw turns the drum \
         {pushed} of its {step} step and leaves it there: friction holds the roller."
        next "Free the roller, polish the detent wheel, or fit one with steeper flanks.";
    drum_stays_between(stroke: Stroke, pushed: Angle, step: Angle) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the claw leaves the drum at \
         {pushed} of its {step} step, on the peak: it can stay in a false neutral."
        next "Let the shaft swing farther, and dress the detent peaks.";
    drum_pushed_past(stroke: Stroke, pushed: Angle, step: Angle) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the claw turns the drum \
         {pushed}, past its step of {step} and onto the next peak."
        next "Stop the shaft earlier, with a thicker stop.";
    gap_too_large(stroke: Stroke, gap: Length, target: Length) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the gap at the stop is {gap}, \
         too large for the target of {target}: the push ends early, and the pedal may kick back."
        next "Turn the eccentric until both gaps are the same; if they are still too large, make the stop thinner.";
    gap_too_small(stroke: Stroke, gap: Length, target: Length) =
        "{stroke, select, lift {With the pedal lifted} other {With the pedal pressed}}, the gap at the stop is {gap}, \
         too small for the target of {target}: the claw may knock the drum past its position, into a false neutral."
        next "Turn the eccentric until both gaps are the same; if they are still too small, make the stop thicker.";
    gaps_unequal(lift: Length, press: Length, at: Angle) =
        "The gap at the stop is {lift} with the pedal lifted and {press} with it pressed. With the eccentric at {at} \
         both gaps are the same."
        next "Turn the eccentric to {at}, then measure both gaps again.";
    gaps_beyond_eccentric(lift: Length, press: Length, by: Length) =
        "The gap at the stop is {lift} with the pedal lifted and {press} with it pressed. The stop would have to move \
         by {by}, farther than its eccentric can move it."
        next "File or build up one side of the stop, or replace a bent part. File in small steps and keep to the \
            maker's limits: a drum that overshoots can select the wrong gear.";
    roller_stays(torque: FineTorque) =
        "Friction holds the roller on its flank: the torque returning the drum is {torque}."
        next "Free the roller, polish the detent wheel, or fit one with steeper flanks.";
    crest_wider_than_step(crest: Length, step: Length) =
        "The flat at the detent peaks is {crest} wide, but the notches are only {step} apart: no notch is left."
        next "Check the flat, the radius of the roller contact, and the number of positions.";

    // ---- track and depth ----
    track_too_short() =
        "A track needs at least two points."
        next "Add a point, or use one straight flank instead.";
    track_out_of_order(point: Nth) =
        "The drum angle of track point {point} is not larger than that of the point before it."
        next "Enter the points in the order in which the drum reaches them.";
    fork_travel_differs(track: Length, depth: Length) =
        "The drum track moves the fork {track}, but under Depth the fork moves {depth}."
        next "Measure at the fork: a bent fork or a worn pin can cause the difference.";
    fork_wider_than_groove(by: Length) =
        "The fork is {by} thicker than its groove is wide."
        next "Measure both again.";
    dogs_touch_in_neutral(facing: Facing, clear: Length, least: Length) =
        "Towards {facing, select, this {this pair} other {the other pair}} the clearance in neutral is {clear}, and \
         {least} with all sizes at their limits: the dogs can touch."
        next "Shim the sliding gear away from that pair; grind the tips only if shims are not enough.";
    engaged_too_little(pushed: Length, height: Length, wanted: Length) =
        "The fork pushes the gear in only {pushed} of {height} dog height; the target is three quarters, {wanted}."
        next "Reduce the clearance, or replace the fork if it is bent or worn. Three quarters is common practice, no \
            source.";
    sliding_gear_off_centre(off: Length, shim: Length, way: Pick) =
        "In neutral the sliding gear is {off} off [centre|center]; shimming it {shim} {way, select, away {away from} \
         other {towards}} this pair [centres|centers] it."
        next "Depth shows the effect of the shims on the pair.";
    overlap_differs_from_depth(drawn: Length, pushed: Length) =
        "The pair is drawn with an overlap of {drawn}; the stack-up under Depth gives {pushed}, pushed in by the fork."
        next "“Use this overlap” under Depth copies it to the pair.";

    // ---- solids ----
    solid_length(least: Length, most: Length, is: Length) =
        "No solid: the radii, the radial length of the dogs and the web must each be from {least} to {most}, and one \
         is {is}."
        next "Check the diameters, the web inside and outside the dogs, and its thickness.";
    bore_vanishes(inside: Length, radius: Length, least: Length) =
        "No solid: a web that reaches {inside} inside the dogs leaves a bore of radius {radius}, less than {least}."
        next "Reduce the web inside the dogs.";
    solid_without_dog() =
        "No solid: this ring has no dogs."
        next "Keep at least one dog.";
    solid_dog_without_root(dog: Nth, thin: Length, least: Length) =
        "No solid: dog {dog} is only {thin} thick at its thinnest, less than {least}."
        next "Use less undercut, or a wider or shorter dog.";
    solid_dogs_touch(dog: Nth, next: Nth, gap: Length, least: Length) =
        "No solid: the gap from dog {dog} to dog {next} is {gap}, less than {least}."
        next "Use fewer or narrower dogs, or less taper.";
    solid_flank_along_bore(short: Angle, least: Angle) =
        "No solid: a flank meets the bore at only {short}; at least {least} is needed."
        next "Use a narrower dog or a larger inner diameter.";

    // ---- the whole gearbox ----
    two_gears_at_once(one: Nth, other: Nth, by: Angle, deep: Length) =
        "Gears {one} and {other} can be in at once over {by} of the drum, both {deep} deep: that locks the gearbox and \
         the rear wheel."
        next "Do not run it. Check the forks for bends, the shims of both shafts, and the drum tracks of both forks.";
    two_gears_under_torque(old: Nth, new: Nth, by: Angle, deep: Length) =
        "With gear {old} held in by torque, the drum can still turn until gear {new} is in by {deep}, over {by}: that \
         locks the gearbox and the rear wheel."
        next "Do not run it. Reduce the play of fork, groove and pin, or check the shims and the drum tracks of both forks.";
    fork_carries_thrust(gear: Nth, deep: Pick, by: Length, go: Length, way: Pick) =
        "With gear {gear} in and the dogs home, the groove bears on the fork: {by} of clearance is missing on the side \
         that {deep, select, drawn {keeps dogs from going deeper} other {pushes them in}}. The fork carries the \
         thrust and burns."
        next "Change a shim or the track so that the fork goes {go} {way, select, deeper {deeper} other {less deep}}; \
            where too little play is left, the groove must be wider or the pads thinner.";
    gear_not_held(gear: Nth, least: Length, hold: Length) =
        "In its position gear {gear} is only {least} deep at the worst, and holds from {hold}."
        next "Check the fork for a bend, its pads and pin for wear, and the shims of the shaft.";
    can_rest_between(one: Nth, other: Nth, from: Angle, to: Angle) =
        "Between positions {one} and {other} the drum can stay on the peak of the detent, from {from} to {to}, with no \
         gear in: a false neutral."
        next "Dress the flat of the detent peak, and check that the claw carries the drum past it.";
    gear_without_free_wheel(gear: Nth) =
        "Gear {gear} needs one free wheel, and its two wheels have none or two."
        next "Make one wheel of the pair free, and the other one fixed or sliding.";
    slider_away_from_wheel(gear: Nth) =
        "The sliding gear that takes gear {gear} is not beside the free wheel."
        next "Name the sliding gear next to the free wheel, on the same shaft.";
    sliders_in_one_place(one: Nth, other: Nth) =
        "Sliding gears {one} and {other} are in one place on their shaft."
        next "Give each sliding gear a wheel of its own.";
    slider_not_sliding(slider: Nth) =
        "At the place of sliding gear {slider} there is no sliding wheel."
        next "Make the wheel there a sliding one, or correct the place.";
    slider_without_fork(slider: Nth, forks: Number) =
        "Sliding gear {slider} is moved by {forks, plural, =0 {no fork} one {# fork} other {# forks}}; it needs one."
        next "Name the sliding gear in exactly one fork.";
    slider_face_taken(slider: Nth) =
        "Sliding gear {slider} has two gears on one face, or more than two gears."
        next "A sliding gear engages one gear on either side.";
    gear_without_wheel(gear: Nth) =
        "Gear {gear} names a shaft or wheel that is not there."
        next "Count shafts and their wheels from 1.";
    gear_without_rings(gear: Nth) =
        "Gear {gear} has the rings of another gear, and that leads to no rings."
        next "Give one of these gears rings of its own.";
    gear_without_position(gear: Nth) =
        "The detent has no position for gear {gear}."
        next "Add the position, with its drum angle.";
    position_without_gear(position: Nth, gear: Nth) =
        "Position {position} is for gear {gear}, which is not there."
        next "Correct the number of the gear, or leave it out for neutral.";
    positions_out_of_order(position: Nth) =
        "Position {position} is not behind the one before it."
        next "List the positions by rising drum angle.";
    position_outside_track(position: Nth, at: Angle, fork: Nth, from: Angle, to: Angle) =
        "Position {position} at {at} is outside the track of fork {fork}, which runs from {from} to {to}."
        next "Continue the track over all positions, or correct the angle.";
    teeth_leave_mesh(gear: Nth, left: Length, need: Length) =
        "The sliding gear that drives gear {gear} keeps {left} of its teeth in mesh at one end of its travel; {need} are \
         needed."
        next "Move the wheel across it, or make one of the two wider.";
    splines_leave(slider: Nth, gear: Nth, left: Length, need: Length) =
        "With gear {gear} in, sliding gear {slider} has {left} of its splines on the shaft; {need} are needed."
        next "A shaft with longer splines, a longer hub, or less travel gives more.";
    same_ratio_twice(one: Nth, other: Nth, ratio: Ratio) =
        "Gears {one} and {other} have the same ratio, {ratio}."
        next "Check the teeth of their wheels.";
}
