//! Six stories: what is told, dragged and asked in each, and the model's answers.

sentences! { "story":
    // ---- fewer doors, wider doors ----
    doors() = "Fewer doors, wider doors";
    doors_told() =
        "Two sets of dogs turn past one another, and one has to slip between the other’s dogs. The window is open \
         only for the time it takes to turn by the free angle. With many dogs the windows are many but shut \
         again before \
         the sliding gear has moved far enough; with few they stay open longer. So what counts is not how often \
         a window \
         comes, but whether it lasts.";
    doors_asked(slip: Value) =
        "At {slip} apart, what is the largest number of dogs that still goes straight in?";
    number_of_dogs() = "Number of dogs";
    most_dogs(most: Value, limit: Value, slip: Value) =
        "{most} dogs: they go straight in up to {limit}, and {slip} is needed.";
    one_more(more: Value, limit: Value) = "{more} dogs reach only {limit}.";
    one_more_shut(more: Value) = "{more} dogs of this width leave no window open.";
    no_number(slip: Value) = "No number from 2 to 12 goes straight in at {slip}.";
    head_limit() = "Goes straight in up to";
    head_window_time() = "Window time";

    // ---- the second row stands back ----
    row() = "The second row stands back";
    row_told() =
        "Lower every second dog on both gears. At the entrance only the tall ones are met, so the window is as wide \
         as if half the dogs were missing. A little deeper the low ones come between and take up the play. \
         Entry of three \
         dogs, lash of six. But the low dogs overlap less, so each square [millimetre|millimeter] carries more.";
    row_asked() = "How far must every second dog come down before the window jumps?";
    height_of_low() = "Height of every second dog";
    lowered_by() = "Lowered by";
    jumps_at(by: Value, height: Value, before: Value, after: Value) =
        "By {by}, to {height}: the window time then jumps from {before} to {after}.";
    by_holding_depth(hold: Value) =
        "A tall dog then meets a low one only below the holding depth of {hold}, where it is caught and not thrown \
         back.";
    pressure_moves(before: Value, after: Value) =
        "What it costs: the flank pressure goes from {before} to {after}.";
    no_jump() = "Lowering every second dog does not widen the window of these gears.";
    head_height() = "Height";
    head_lash() = "Lash";
    head_pressure() = "Flank pressure";

    // ---- it takes two ----
    two() = "It takes two";
    two_told() =
        "Only one gear is on the bench, so only that one gets cut. Yet a tall dog of the mate still meets every tall \
         dog that is left, and the mate has them everywhere: the window is decided by the fuller of the two. Cut \
         the mate in step and the window opens at once.";
    two_asked(cut: Value, dogs: Value) =
        "{cut} of {dogs} dogs are cut on one gear. How much wider is the window?";
    dogs_cut() = "Dogs cut so far";
    wider_by() = "Wider by";
    nothing_until_mate(before: Value, after: Value) =
        "Not at all: it stays {before} until the mate follows, and opens to {after} with the last cut.";
    wider_alone(before: Value, after: Value, last: Value) =
        "From {before} to {after}. With the mate cut, too, it is {last}.";
    choices(all: Value, cut: Value, open: Value) =
        "There are {all} ways to choose {cut} dogs of the mate, and {open} of them open the window: every second dog. \
         Any other choice leaves a tall dog where one is met.";
    head_cut() = "Cut";
    head_window() = "Window";
    none_cut() = "none";

    // ---- what the throttle finds ----
    throttle() = "What the throttle finds";
    throttle_told() =
        "Between pulling and rolling the dogs cross the lash from one flank to the other. On the way the engine’s side \
         gathers speed, and on arrival the drive winds up like a spring. Wider lash, harder knock; but not in \
         proportion.";
    throttle_asked() = "Twice the lash: how much more peak torque?";
    lash_at_dogs() = "Lash at the dogs";
    more_torque() = "More by";
    twice_lash(lash: Value, torque: Value, twice: Value, more: Value, by: Value) =
        "{by} more: {torque} at a lash of {lash}, {more} at {twice}.";
    by_the_root() =
        "The lash is under a square root, beside the steady torque, which is there whatever the lash is.";
    head_clunk() = "Clunk";
    head_tyre() = "At the [tyre|tire]";

    // ---- a lean that pulls ----
    lean() = "A lean that pulls";
    lean_told() =
        "If the flanks lean in, torque draws the gears together; if they are worn to lean out, the same torque drives \
         them apart. Friction resists both, and vibration takes friction away, so do not count on it. Too much lean \
         shows elsewhere: the dog is narrower at its root, and shifting out under load gets heavy.";
    lean_asked() = "From which flank angle does it draw itself in, even with dry splines?";
    flank_angle() = "Flank angle, drive side";
    flank_friction() = "Friction of the flanks";
    spline_friction() = "Friction of the splines";
    draws_in_from(angle: Value, flank: Value, spline: Value, diameter: Value) =
        "From {angle}, with friction of {flank} on the flanks and {spline} on splines of {diameter}.";
    draws_in_less(none: Value, flank: Value) =
        "With friction on the flanks alone it is {flank}, and without friction {none}: any lean that pulls at all.";
    never_draws_in(most: Value) = "Up to {most} of undercut it does not draw itself in.";
    head_friction() = "Friction counted";
    head_draws_in() = "Draws in from";
    head_root() = "Root stress there";
    head_out() = "Force to shift out there";
    no_friction() = "none";
    flanks_alone() = "flanks";
    flanks_and_splines() = "flanks and splines";

    // ---- face to face ----
    faces() = "Face to face";
    faces_told() =
        "Sometimes two flat tips land on one another. If the gears turn slowly against each other, friction may bring \
         them to rest there: the lever stops halfway. If they turn faster, the tips slide off and the next window \
         comes. If faster still, the edge is hit and thrown back. Polished tips and a sharp push move the borders.";
    faces_asked(slip: Value) =
        "Of a hundred shifts at {slip} begun anywhere, how many end in?";
    start_phase() = "Start phase";
    speed_apart() = "Speed difference";
    end_in() = "End in";
    shares_in(ends_in: Value, hang: Value) = "{ends_in} end in, {hang} hang tip on tip.";
    shares_lapped(from: Value, to: Value, ends_in: Value, hang: Value) =
        "With lapped tips, friction {to} in place of {from}: {ends_in} end in, {hang} hang.";
    head_ending() = "Ends";
    head_as_given() = "Tips as given";
    head_lapped() = "Tips lapped";
    ends(outcome: Outcome) =
        "{outcome, select, straight_in {straight in} after_rubbing {in after rubbing} after_strikes {thrown back, then in} \
         half_in {half in} locked {hangs tip on tip} other {not in at the end}}";

    // ---- all of them ----
    no_answer(why: Message) = "No answer for these gears: {why}.";
    guess_right(guess: Value) = "You said {guess}, and that is it.";
    guess_off(guess: Value, answer: Value) = "You said {guess}; the model says {answer}.";
}
