//! Drawings: their titles, handles, zoom, and how to copy them.

sentences! { "page.drawing":
    copy_picture() = "Copy picture";
    copy_picture_of(drawing: Verbatim) = "Copy picture: {drawing}";
    copy_svg() = "Copy SVG";
    copy_svg_of(drawing: Verbatim) = "Copy SVG: {drawing}";
    fit() = "Fit";
    fit_drawing(drawing: Verbatim) = "Fit: {drawing}";
    zoom_in() = "Zoom in";
    zoom_in_on(drawing: Verbatim) = "Zoom in: {drawing}";
}
