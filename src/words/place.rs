//! Where a number is in a design.

sentences! { "place":
    typed(place: Message, wrong: Message) = "{place}: {wrong, lower}";
    alone(label: Label) = "{label}";
    with_ring(label: Label, side: Side) = "{label} with ring {side}";
    of_ring(side: Side, label: Label) = "Ring {side}, {label, lower}";
    of_dog(side: Side, dog: Nth, label: Label) = "Ring {side}, dog {dog}, {label, lower}";
    of_operation(side: Side, operation: Nth, label: Label) = "Ring {side}, operation {operation}, {label, lower}";
    of_gear(gear: Nth, label: Label) = "Gear {gear}, {label, lower}";
    of_shaft(shaft: Nth, label: Label) = "Shaft {shaft}, {label, lower}";
    of_wheel(shaft: Nth, wheel: Nth, label: Label) = "Shaft {shaft}, wheel {wheel}, {label, lower}";
    of_fork(fork: Nth, label: Label) = "Fork {fork}, {label, lower}";
    of_fork_track(fork: Nth, point: Nth, label: Label) = "Fork {fork}, track point {point}, {label, lower}";
    of_position(position: Nth, label: Label) = "Drum position {position}, {label, lower}";
    of_track_point(point: Nth, label: Label) = "Track, point {point}, {label, lower}";
    of_chain(facing: Facing, part: Nth, label: Label) =
        "Stack-up to {facing, select, this {this pair} other {the other pair}}, part {part}, {label, lower}";
}
