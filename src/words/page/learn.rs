//! Learn: six short stories.

sentences! { "page.learn":
    title() = "Learn";
    six_stories() = "Learn in six short stories";
    stories() = "Stories";
    nth_story(number: Nth, title: Message) = "{number} {title}";
    told_of_example() = "The gears are those of the example, which is invented.";
    told_of_own() = "The gears are yours. Where they are changed, all dogs count as alike and evenly spaced.";
    with_my_gear() = "Do this with my gear";
    drag() = "Drag";
    drawing_of(view: Label, story: Message) = "{view}: {story, lower}";
    beside() = "Figures of this drawing";
    question() = "Guess first";
    show_answer() = "Show the answer";
    answer() = "Answer";
    guess_again() = "Guess again";
    tried() = "What was tried";
    worked_out() = "How it is worked out";
    open_design() = "Open as my design";
    design_opened() = "The gears of the story are your design now. Undo returns to your earlier work.";
    previous() = "Previous story";
    next() = "Next story";
    lecture() = "Full screen";
    leave_lecture() = "Leave full screen";
    lecture_keys() = "← → or Page Up and Page Down change the story, Space plays a film, Esc leaves.";
    film_keys() = "← → or Page Up and Page Down go from event to event, Space plays, Esc leaves.";
    copy_link() = "Copy link to this story";
    link_copied() = "Link copied.";
    link_refused() = "The browser does not allow copying. Copy the address at the top instead.";
    film_waits() = "Play the shift, or go to its next event.";
}
