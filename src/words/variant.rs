//! Plans of work in one line.

sentences! { "variant":
    nothing_planned() = "no work planned";
    plan(works: List) = "{works, list, each {; }}";

    // ---- on which dogs ----
    all_dogs(side: Side) = "all dogs of ring {side}";
    all_of_both() = "all dogs of both rings";
    every_second(side: Side) = "every second dog of ring {side}";
    every_second_of_both() = "every second dog of both rings";
    dogs(dogs: List) = "{dogs, list, each {, } last { and }}";

    // ---- what is done to them ----
    named(work: Label, dogs: Message) = "{work, lower}: {dogs}";
    removed(dogs: Message) = "{dogs} removed";
    shortened(dogs: Message, to: Value) = "{dogs} to {to}";
    drive_narrowed(dogs: Message, stock: Value) = "{stock} off the drive flanks of {dogs}";
    coast_narrowed(dogs: Message, stock: Value) = "{stock} off the coast flanks of {dogs}";
    drive_recut(dogs: Message, to: Angle) = "drive flanks of {dogs} re-cut to {to}";
    coast_recut(dogs: Message, to: Angle) = "coast flanks of {dogs} re-cut to {to}";
    lapped(dogs: Message, stock: Value) = "{stock} lapped off the tips of {dogs}";
    edges_broken(dogs: Message, to: Value) = "tip edges of {dogs} broken to {to}";
}
