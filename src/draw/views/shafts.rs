//! The shafts of the whole gearbox around a pair in section, with the gear that is open in.

use crenel_words::drawing as say;

use crate::analysis::Analysis;
use crate::design::Design;
use crate::draw::frame::{Canvas, Frame, empty_scene};
use crate::draw::options::ViewOptions;
use crate::draw::scene::Scene;
use crate::draw::shafts::ShaftSection;
use crate::draw::view::{Subject, View};
use crate::gearset::GearsetAnalysis;

/// The section along the shafts.
pub static SHAFTS: View = View {
    key: "shafts",
    file_name: "shafts",
    title: "Section along the shafts",
    caption: "Outer half of each shaft cut, inner half from outside. Dogs, clearances, grooves, pads and pins are to scale; \
              shafts, wheels and drum are not.",
    shape: 0.9,
    subject: Subject::Part { is_given, absent: say::no_whole_gearbox },
    frame,
    draw,
    ..View::BASE
};

const fn is_given(design: &Design) -> bool {
    design.around.is_some()
}

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let around = GearsetAnalysis::around(&analysis.design);
    around
        .map_or_else(|| Frame::plain(canvas), |of| ShaftSection::at(&of, 0.0).frame(canvas.letter))
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let Some(of) = GearsetAnalysis::around(&analysis.design) else {
        return empty_scene(frame, say::no_whole_gearbox, options.reader);
    };
    let deg = of.position_of(analysis.design.gear_open());
    ShaftSection::at(&of, deg).draw(frame, options.reader)
}
