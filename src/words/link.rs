//! Why a link cannot be read, and what to do.

sentences! { "link":
    no_link(begins: Verbatim) =
        "The link holds no design: after the # it must begin with “{begins}”. Copy the whole link again.";
    too_long(length: Number, most: Number) =
        "The link has {length} characters after the #; at most {most} are read. Ask for the design as a file.";
    cut_short(length: Number) =
        "The link is cut short: only {length} characters arrived. Ask for it again, or scan the code; your own work \
         has not changed.";
    damaged() =
        "The link is damaged: characters in it were changed on the way. Copy the whole link again, or ask for the \
         design as a file.";
    unpacks_too_large(most: Number) =
        "The link unpacks to more than {most} bytes, far more than any design needs. It was not opened.";
    no_design() = "The link unpacks, but its content is not a design.";
}
