//! What each source is used for.

sentences! { "reference":
    yield_strength() = "Starting values of yield strength";
    splines() = "Starting values of allowable stress, and how many dogs share the load";
    grits() = "Grain sizes of abrasive papers";
    shock() = "Shock torque when dogs engage";
    lines() = "Line types of the drawings";
    dimensions() = "Dimensions on the machining drawing";
    general_tolerances() = "Limits of sizes without a tolerance of their own";
    index_program() = "Index positions for a rotary axis";
    cracks() = "Checking for cracks after the work";
    step_file() = "STEP files";
    edges() = "Sizes of broken edges";
    grinding_burn() = "Checking for grinding burn";
    balance() = "Permissible unbalance";
    tables() = "CSV files";
    linkage() = "Linkage from pedal to shift shaft, and its least angle";
}
