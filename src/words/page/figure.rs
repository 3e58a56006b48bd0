//! A drawing as a figure for a paper, and how to cite a design.

sentences! { "page.figure":
    title() = "Save a figure";
    open_figure() = "Save as a figure …";
    figure_of(drawing: Verbatim) = "Save as a figure: {drawing}";
    save_data() = "Save data as CSV";
    width() = "Width";
    mm_85() = "85 mm, one column";
    mm_120() = "120 mm, a column and a half";
    mm_175() = "175 mm, a page";
    in_pixels() = "in pixels";
    pixels() = "Pixels across";
    letters() = "Letters";
    pt_7() = "7 pt";
    pt_8() = "8 pt";
    pt_9() = "9 pt";
    pt_10() = "10 pt";
    pt_11() = "11 pt";
    pt_12() = "12 pt";
    ink() = "Ink";
    in_colour() = "[colour|color]";
    in_black() = "black and white";
    words() = "Words";
    as_text() = "as text";
    as_paths() = "as outlines";
    stays_text(count: Number) =
        "{count, plural, one {One line stays} other {# lines stay}} text: there is no outline for one of the letters.";
    no_letters() =
        "The outlines could not be loaded, so words stay text. Without a network they are available once this browser \
         has stored the app.";
    paper(width: Verbatim, height: Verbatim) = "Printed, the paper is {width} × {height} mm, in whole points.";
    caption() = "Caption with design, conditions and version";
    link_in_caption() = "Link to the design in the caption";
    save_svg() = "Save SVG";
    save_png() = "Save PNG";
    print() = "Print, or save as PDF";
    not_printed() = "The browser cannot print this figure. Save it as SVG and print that.";
    resolution() = "Pixels of the PNG";
    times_1() = "1 × (96 dpi)";
    times_2() = "2 × (192 dpi)";
    times_3() = "3 × (288 dpi)";
    times_4() = "4 × (384 dpi)";

    // ---- citing ----
    cite() = "Cite this";
    cite_why() = "For a list of references: the program and this design, each with its link.";
    copy_text() = "Copy as text";
    copy_bibtex() = "Copy as BibTeX";
    copy_references() = "Copy the sources as text";
    references_copied() = "Sources copied.";
    citation_copied() = "Reference copied.";
    citation_refused() = "The browser did not allow copying. Select the reference and copy it by hand.";
}
