//! Files and links: opening, saving, exporting, sharing, copying.

sentences! { "page.files":
    // ---- files ----
    export() = "Export";
    nothing_to_export() =
        "Nothing can be exported until the design can be computed. The findings beside the drawing say what is wrong.";
    save_file() = "Save file";
    open_file() = "Open file";
    open_design_file() = "Open a design file";
    is_saved(name: Verbatim) = "{name} saved to your downloads.";
    is_open(name: Given) = "“{name}” opened.";
    not_opened(name: Given) = "“{name}” was not opened; your work is unchanged.";
    browser_cannot_read(why: Verbatim) = "The browser could not read it: {why}.";

    // ---- copies ----
    link_copied() = "Link copied.";
    link_not_copied() = "The browser did not allow copying. Select the link and copy it by hand.";
    svg_copied() = "Drawing copied as SVG.";
    svg_not_copied() = "The browser did not allow copying. Use Export instead.";
    results_copied() = "Results copied as a table.";
    results_not_copied() = "The browser did not allow copying. Save the results as CSV.";
    picture_copied() = "Drawing copied as a picture.";
    no_picture() = "This browser cannot make a picture of the drawing. Copy it as SVG.";
    picture_refused() = "The browser could neither copy nor save the picture. Copy the drawing as SVG.";

    // ---- the link ----
    share_link() = "Share";
    share_title() = "Share this design";
    share_why() =
        "The link holds the whole design and the layouts under Compare. All of it follows the # in the address, which \
         browsers do not send to any server.";
    send_link() = "Send the link";
    link_not_sent() = "The link was not sent. Copy it instead.";
    copied() = "Link copied";
    link_as_text() = "The link as text";
    link() = "Link";
    length_fits(length: Number) =
        "{length, plural, one {# character} other {# characters}}, short enough for any e-mail or messenger.";
    length_risky(length: Number) =
        "{length, plural, one {# character} other {# characters}}. Some programs cut links this long: check that it \
         arrives whole, or send the file.";
    copy_link() = "Copy link";
    for_a_phone() = "For a phone next to you";
    qr_code() = "QR code that opens this design";
    too_large_for_code() = "The design is too large for a QR code. Send the link or the file.";
}
