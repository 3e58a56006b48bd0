//! The drum of the whole gearbox around a pair, developed, with the gear that is open in its position.

use crenel_words::drawing as say;

use crate::analysis::Analysis;
use crate::design::Design;
use crate::draw::drum::DrumChart;
use crate::draw::frame::{Canvas, Frame, empty_scene};
use crate::draw::options::ViewOptions;
use crate::draw::scene::Scene;
use crate::draw::view::{Subject, View};
use crate::gearset::GearsetAnalysis;

/// The development of the drum.
pub static DRUM: View = View {
    key: "drum",
    file_name: "drum",
    title: "Drum development",
    caption: "A line for each fork, with its play as a band; dashed: the track of a bent fork. Below, a bar for each gear: \
              pale where the dogs meet, green where they hold; crossed where two gears can be in at once.",
    shape: 0.55,
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
    around.map_or_else(
        || Frame::plain(canvas),
        |of| with_chart(&of, 0.0, |chart| chart.frame(canvas.letter)),
    )
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let Some(of) = GearsetAnalysis::around(&analysis.design) else {
        return empty_scene(frame, say::no_whole_gearbox, options.reader);
    };
    let deg = of.position_of(analysis.design.gear_open());
    with_chart(&of, deg, |chart| chart.draw(frame, options.reader))
}

fn with_chart<T>(of: &GearsetAnalysis, cursor_deg: f64, read: impl FnOnce(&DrumChart) -> T) -> T {
    let (drum, gears, forks) = (&of.drum, &of.on_drum[..], &of.forks_on_drum[..]);
    let at_once = of.at_once();
    read(&DrumChart { drum, gears, forks, at_once: &at_once, cursor_deg, shows_points: false })
}
