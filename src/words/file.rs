//! Findings about a file or a link that does not hold a design as it should.

sentences! { "finding":
    not_json(why: Verbatim) =
        "This is not JSON: {why}."
        next "Open a file that was saved here, or copy the whole link again.";
    no_object() =
        "This is JSON, but not a design: it does not begin with a brace."
        next "Open a file that was saved here, or copy the whole link again.";
    not_a_design() =
        "This is JSON, but not a design: the key “crenel” with the version is missing."
        next "Open a file that was saved here, or copy the whole link again.";
    newer_version(version: Verbatim, reads: Verbatim) =
        "This design has version {version}; this app reads up to version {reads}. It was saved by a newer app."
        next "Reload the page to get the newest app.";
    not_a_text(key: Given) =
        "“{key}” is not text."
        next "Put it in quotation marks.";
    not_a_plain_number(key: Verbatim, place: Message) =
        "“{key}” ({place}) is not a number."
        next "Write a plain number with a decimal point.";
    unknown_word(key: Given, value: Given, known: Verbatim) =
        "“{key}” cannot be {value}."
        next "Use one of: {known}.";
    unknown_symptom(value: Given, known: Verbatim) =
        "“felt” cannot contain {value}."
        next "Use one of: {known}.";
    not_a_ring(key: Given) =
        "“{key}” is not a ring."
        next "Write the ring in braces.";
    not_a_part(key: Given) =
        "“{key}” is not a set of numbers."
        next "Write it in braces.";
    not_a_list(key: Given, most: Number) =
        "“{key}” is not a list of at most {most}."
        next "Write the list in square brackets, each part in braces.";
    not_a_list_of_places(key: Given) =
        "“{key}” is not a list of dog numbers."
        next "Write it like this: [2, 4, 6]; dogs are counted from 1.";
    not_a_list_of_dogs(side: Side, most: Number) =
        "Ring {side}: “dogs” is not a list of at most {most} dogs."
        next "Write the list in square brackets, each dog in braces.";
    not_a_list_of_words(key: Given, example: Verbatim) =
        "“{key}” is not a list of words."
        next "Write it like this: [\"{example}\"].";
    not_readings(side: Side, most: Number) =
        "Ring {side}: “readings” does not say how many dogs were measured."
        next "Write a number from 1 to {most} under “dogs”.";
    not_a_reading(key: Given, value: Given) =
        "“{key}” is {value}, which is not a number."
        next "Write a plain number with a decimal point.";
    no_dog_of_ring(key: Given, value: Given, dogs: Number) =
        "“{key}” has {value}, which is no dog of this ring, and is ignored."
        next "Dogs are counted from 1 to {dogs}.";
    word_ignored(key: Given, value: Given, known: Verbatim) =
        "“{key}” cannot be {value}, which is ignored."
        next "Use one of: {known}.";
    reading_ignored(key: Given, value: Given) =
        "“{key}” has {value}, which is not a number, and is ignored."
        next "Write a plain number, or null where nothing was read.";
    not_a_dog(side: Side, dog: Nth) =
        "Ring {side}: entry {dog} of “dogs” is not a dog."
        next "Write each dog in braces.";
    too_many_heights(side: Side, heights: Number, most: Number) =
        "Ring {side}: “heights” has {heights} numbers; at most {most} are read."
        next "Enter one repeat of the pattern; it continues round the ring by itself.";
    not_heights(side: Side) =
        "Ring {side}: “heights” is not a list of numbers."
        next "Write it like this: [1, 0.5].";
    photos_left_out(photos: Number) =
        "{photos, plural, one {A picture} other {# pictures}} in the file left out: damaged, too large or too many."
        next "Open the original photograph. No number is affected.";
    not_plates() =
        "“plates” is not a list of index plates."
        next "List the plates, each as the list of the holes of its circles, such as [15, 16, 17].";
    not_cuts(side: Side, example: Verbatim) =
        "Ring {side}: “cuts” is not a list of cuts by dog."
        next "Write it like this: {example}";
    not_a_cut(side: Side, dog: Given, cut: Given) =
        "Ring {side}: “cuts” has “{dog}”: {cut}, which is not a dog number followed by “remove” or a height."
        next "Write it like this: \"2\": \"remove\" or \"4\": 2.5; dogs are counted from 1.";
    not_one_current(variants: Number, current: Number) =
        "“variants” has {variants, plural, one {# entry} other {# entries}}, of which {current, plural, =0 {none is} one \
         {# is} other {# are}} marked as current."
        next "Mark exactly one with “current”: true; its plan is that of the rings.";
    too_much_work(side: Side, work: Number, most: Number) =
        "Ring {side}: “cuts” and “plan” together are {work} operations; at most {most} are kept."
        next "Remove operations, or put dogs that are treated alike into one.";

    // ---- a whole gearbox ----
    not_a_gearbox() =
        "This is JSON, but not a whole gearbox: the key “crenel_gearbox” with the version is missing."
        next "Open a gearbox that was saved here; a single pair opens as a design.";
    not_places(key: Given) =
        "“{key}” is not a place on a shaft."
        next "Write it like this: [2, 3], the number of the shaft and that of its wheel, both counted from 1.";
    not_a_count(key: Given, value: Given) =
        "“{key}” is {value}, which is not a number counted from 1."
        next "Count gears, sliding gears and shafts from 1.";
    not_a_track(key: Given, most: Number) =
        "“{key}” is not a track of at most {most} points."
        next "Write each point in square brackets: the drum angle, then the place of the fork.";
}
