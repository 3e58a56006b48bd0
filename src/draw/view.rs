//! One row of the catalogue of views: all that is known of a view, in one place.

use crenel_words::{Label, Message, Phrase, Reader};

use super::frame::{Canvas, Frame};
use super::handle::{Handle, HandleMaker, keep_apart};
use super::options::ViewOptions;
use super::scene::Scene;
use crate::analysis::Analysis;
use crate::design::Design;
use crate::fields::Slot;
use crate::ring::{Point, Side};
use crate::shift::OutcomeMap;
use crate::units::Angle;

/// Height over width of a long view on a wide and on a narrow screen.
const LONG_SHAPES: [f64; 2] = [0.38, 0.62];

/// Height over width of a chart on a wide and on a narrow screen.
pub(crate) const CHART_SHAPES: [f64; 2] = [0.55, 0.85];

/// A view of a design. The app refers to one row alone, so that a part of the page that is loaded later
/// can bring its own views.
pub struct View {
    /// Its name in style sheets and tests; no two views have the same.
    pub key: &'static str,
    /// Its name in names of files.
    pub file_name: &'static str,
    /// Its heading.
    pub(crate) title: &'static str,
    /// What it shows, for somebody who sees it for the first time.
    pub(crate) caption: &'static str,
    /// Height over width that suits it on paper.
    pub shape: f64,
    /// Height over width on a wide and on a narrow screen.
    pub screen_shape: [f64; 2],
    /// What it shows.
    pub subject: Subject,
    /// What it follows while something is played.
    pub follows: Follows,
    /// Whether its handles are still where the numbers are while what it follows is played.
    pub keeps_handles: bool,
    /// Whether a press on the drawing itself takes hold of all its handles.
    pub press_holds_all: bool,
    /// Whether it can show the rings as found, as cut, or both.
    pub shows_states: bool,
    /// Which handle is worth a closer look; otherwise the middle of the view is.
    pub worth_a_look: fn(Slot) -> bool,
    /// What makes it a chart of an outcome map, if it is one.
    pub chart: Option<Chart>,
    pub(crate) frame: fn(&Analysis, &Canvas) -> Frame,
    pub(crate) draw: fn(&Analysis, &Frame, &ViewOptions) -> Scene,
    pub(crate) handles: fn(&HandleMaker) -> Vec<Handle>,
}

/// What a view shows.
#[derive(Clone, Copy)]
pub enum Subject {
    /// The pair of rings.
    Pair,
    /// A part between foot and dogs, which a design need not have.
    Part {
        /// Whether the design has it.
        is_given: fn(&Design) -> bool,
        /// What is said where it has not.
        absent: Phrase,
    },
}

/// What a view follows while something is played.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Follows {
    /// Nothing: it shows the design.
    Nothing,
    /// The rings during a shift.
    Shift,
    /// The pedal during a stroke.
    Stroke,
}

/// What a view that charts an outcome map does with the map.
#[derive(Clone, Copy)]
pub struct Chart {
    pub(crate) cells: fn(&Frame, &OutcomeMap, Reader) -> Scene,
    pub(crate) cross: fn(&Frame, Angle, f64) -> Point,
    pub(crate) reading: fn(&Frame, Point, &OutcomeMap) -> Option<Message>,
}

impl View {
    /// What most views have in common; a row gives what differs.
    pub(crate) const BASE: Self = Self {
        key: "",
        file_name: "",
        title: "",
        caption: "",
        shape: 0.5,
        screen_shape: LONG_SHAPES,
        subject: Subject::Pair,
        follows: Follows::Nothing,
        keeps_handles: true,
        press_holds_all: false,
        shows_states: false,
        worth_a_look: |_| false,
        chart: None,
        frame: |_, canvas| Frame::plain(canvas),
        draw: |_, frame, _| Scene::new(frame.bounds),
        handles: |_| Vec::new(),
    };

    /// Its heading, as a text of the catalogue.
    pub const fn name(&self) -> Label {
        Label { key: ["view", self.key, "title"], english: self.title }
    }

    /// What it shows, as a text of the catalogue.
    pub const fn what_it_shows(&self) -> Label {
        Label { key: ["view", self.key, "caption"], english: self.caption }
    }

    /// Whether it shows the pair, and not a part between foot and dogs.
    pub const fn is_of_pair(&self) -> bool {
        matches!(self.subject, Subject::Pair)
    }

    /// Whether it shows a map that takes a while to work out.
    pub const fn is_chart(&self) -> bool {
        self.chart.is_some()
    }

    /// The frame of the view. `width_px` is how wide it is shown, `shape` its height over its width
    /// (for the face view at most 1), `letter_px` the height of its letters. A design with an infinite
    /// number or NaN gets a plain sheet.
    pub fn frame(&self, analysis: &Analysis, width_px: f64, shape: f64, letter_px: f64) -> Frame {
        let letter = letter_px / width_px;
        self.frame_on(analysis, &Canvas { shape, letter, whole_shift: false })
    }

    /// The same with room for a whole shift, from tip level on.
    pub fn frame_of_shift(
        &self,
        analysis: &Analysis,
        width_px: f64,
        shape: f64,
        letter_px: f64,
    ) -> Frame {
        let letter = letter_px / width_px;
        self.frame_on(analysis, &Canvas { shape, letter, whole_shift: true })
    }

    fn frame_on(&self, analysis: &Analysis, canvas: &Canvas) -> Frame {
        let frame = (self.frame)(analysis, canvas);
        if frame.is_finite() { frame } else { Frame::plain(canvas) }
    }

    /// The drawing. A chart has its cells behind it where the options hold a map.
    pub fn draw(&self, analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
        let mut scene = (self.draw)(analysis, frame, options);
        if let Some((chart, map)) = self.chart.zip(options.outcomes) {
            let mut cells = chart.cells(frame, map, options.reader).items;
            cells.append(&mut scene.items);
            scene.items = cells;
        }
        scene.retain_finite()
    }

    /// The handles for one ring and one dog of it, by its place from 0.
    pub fn handles(
        &self,
        analysis: &Analysis,
        frame: &Frame,
        side: Side,
        place: usize,
    ) -> Vec<Handle> {
        self.handles_where(analysis, frame, (side, place), |_| true)
    }

    /// Those of the handles for a ring and a dog whose number is wanted.
    pub fn handles_where(
        &self,
        analysis: &Analysis,
        frame: &Frame,
        (side, place): (Side, usize),
        is_wanted: impl Fn(Slot) -> bool,
    ) -> Vec<Handle> {
        let mut handles = (self.handles)(&HandleMaker { analysis, frame, side, place });
        // A handle on an infinite number or NaN has no place.
        handles.retain(|handle| is_wanted(handle.slot) && handle.is_finite());
        keep_apart(&mut handles, frame);
        handles
    }

    /// What is said in place of the drawing of a part that the design does not have.
    pub fn absent(&self, design: &Design) -> Option<Message> {
        match self.subject {
            Subject::Pair => None,
            Subject::Part { is_given, absent } => (!is_given(design)).then(absent),
        }
    }
}

impl Chart {
    /// What is worked out of a map, as the chart shows it, without anything of the design.
    pub fn cells(&self, frame: &Frame, map: &OutcomeMap, reader: Reader) -> Scene {
        (self.cells)(frame, map, reader)
    }

    /// Where a phase and a speed difference in rpm lie on the chart, brought onto it.
    pub fn cross(&self, frame: &Frame, phase: Angle, rpm: f64) -> Point {
        let most = frame.top_rpm * (1.0 - 1e-9);
        (self.cross)(frame, phase, rpm.min(most))
    }

    /// What the chart shows at a point; `None` off the chart.
    pub fn reading(&self, frame: &Frame, p: Point, map: &OutcomeMap) -> Option<Message> {
        (self.reading)(frame, p, map)
    }
}

impl std::fmt::Debug for View {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.key)
    }
}

impl PartialEq for View {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
    }
}
