//! The kinds of exported files: name, input, and the function that makes each.

use crenel_words::{Message, Phrase, Reader, export as say};

use super::error::ExportError;
use crate::analysis::Analysis;
use crate::draw::views::VIEWS;
use crate::draw::{Scene, View, ViewOptions, ring_drawing};
use crate::model::Chances;
use crate::ring::{Ring, Side};
use crate::shift::OutcomeMap;
use crate::solid::Solid;
use crate::units::sort_by_number;

/// Width of a view in a file, in pixels of the screen on which its letters would have [`LETTER_PX`].
const VIEW_PX: f64 = 700.0;

/// Height of letters in a view, px.
const LETTER_PX: f64 = 12.0;

/// A kind of file. Its row in [`EXPORTS`](super::EXPORTS) defines all of it: the page, the command line and
/// the tests read the rows, and none of them names a kind.
pub struct ExportKind {
    /// The words on its button: what is in the file, with its format. The name of the ring or view comes
    /// before it.
    pub label: Phrase,
    /// What the name of the file ends in. The name of the ring or view comes before it.
    pub ending: &'static str,
    /// Media type, as IANA registers it.
    pub media_type: &'static str,
    /// Where the page has its button.
    pub place: Place,
    /// How much of the cautions is in the file.
    pub cautions: Cautions,
    /// The function that makes it, with the kind of its input.
    pub(super) make: Make,
}

/// Where the page has the button of a file. The command line makes every file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// In the menu. Of the views, it lists those of the pair.
    Menu,
    /// Beside the results.
    Results,
    /// Nowhere.
    CommandLine,
}

/// How much of the cautions a file has room for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cautions {
    /// [`cautions_short`](crate::report::cautions_short), every sentence.
    Short,
    /// [`CAUTION_LINE`](crate::report::CAUTION_LINE).
    Line,
    /// No cautions, in a file that nobody cuts metal from.
    Absent,
}

/// The bytes of a file, or why it cannot be made.
pub(super) type FileResult = Result<Vec<u8>, ExportError>;

/// The function that makes a file, with the kind of its input.
#[derive(Clone, Copy)]
pub(super) enum Make {
    /// The whole design: one file.
    Design(fn(&ExportInput) -> FileResult),
    /// A ring: one file for each of the two.
    Ring(fn(&ExportInput, Side) -> FileResult),
    /// A view with the title of the design: one file for each view.
    View(fn(&Scene, &str) -> String),
}

/// How fine files are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Detail {
    /// Phases and speed differences of an outcome map.
    pub map: [usize; 2],
    /// How far facets may be from the round faces of a solid, mm.
    pub facets_mm: f64,
}

impl Default for Detail {
    fn default() -> Self {
        Self { map: [360, 240], facets_mm: 0.01 }
    }
}

/// The input of all files.
#[derive(Clone, Copy)]
pub struct ExportInput<'a> {
    /// The design, worked out.
    pub analysis: &'a Analysis,
    /// The design as it was opened, for the column beside the results.
    pub before: &'a Analysis,
    /// Who reads the words and results. Geometry is always in mm.
    pub reader: Reader,
    /// The address that opens the design, for drawings.
    pub link: &'a str,
    /// The time for the header of a STEP file, as `2000-01-31T12:00:00`.
    pub time: &'a str,
    /// How fine the files are.
    pub detail: Detail,
}

impl ExportInput<'_> {
    /// The title of the design.
    pub(super) fn title(&self) -> &str {
        &self.analysis.design.title
    }

    /// The machining drawing of a ring.
    pub(super) fn ring_drawing(&self, side: Side) -> Scene {
        ring_drawing(self.analysis, side, self.link, self.reader.language)
    }

    /// The outcome map; `None` if the rings jam or do not reach each other.
    pub(super) fn outcomes(&self) -> Option<OutcomeMap> {
        let [phases, speeds] = self.detail.map;
        Chances::of(self.analysis).map(|chances| chances.map(phases, speeds))
    }

    /// The solid of a ring before the planned work on it.
    pub(super) fn solid_as_found(&self, side: Side) -> Result<Solid, ExportError> {
        self.solid(&self.analysis.found[side])
    }

    /// The solid of a ring after the planned work on it.
    pub(super) fn solid_as_cut(&self, side: Side) -> Result<Solid, ExportError> {
        self.solid(self.analysis.ring(side))
    }

    fn solid(&self, ring: &Ring) -> Result<Solid, ExportError> {
        Solid::of(ring, &self.analysis.body()).map_err(ExportError::NoSolid)
    }

    fn view(&self, view: &View) -> Scene {
        let frame = view.frame(self.analysis, VIEW_PX, view.shape, LETTER_PX);
        let map = if view.is_chart() { self.outcomes() } else { None };
        let (reader, outcomes) = (self.reader, map.as_ref());
        view.draw(
            self.analysis,
            &frame,
            &ViewOptions { reader, outcomes, ..ViewOptions::default() },
        )
    }
}

/// A file ready to be saved.
pub struct ExportFile {
    /// Its name without the title of the design; [`file_name`](super::file_name) joins the two.
    pub name: String,
    /// Its media type.
    pub media_type: &'static str,
    /// Its content.
    pub bytes: Vec<u8>,
}

/// What a file shows, and the function that makes it.
#[derive(Clone, Copy)]
enum Subject {
    Ring(fn(&ExportInput, Side) -> FileResult, Side),
    Design(fn(&ExportInput) -> FileResult),
    View(fn(&Scene, &str) -> String, &'static View),
}

/// One file that can be exported: a kind, and the ring or view that it shows.
#[derive(Clone, Copy)]
pub struct Export {
    /// The kind of file.
    pub kind: &'static ExportKind,
    subject: Subject,
}

impl Export {
    /// Every file of these kinds: ring by ring, then the whole design, then its views.
    pub fn all(kinds: &'static [ExportKind]) -> Vec<Self> {
        let mut all: Vec<Self> = kinds.iter().flat_map(Self::of_kind).collect();
        sort_by_number(&mut all, |one| f64::from(one.rank()));
        all
    }

    fn of_kind(kind: &'static ExportKind) -> Vec<Self> {
        let show = |subject| Self { kind, subject };
        match kind.make {
            Make::Design(make) => vec![show(Subject::Design(make))],
            Make::Ring(make) => Side::BOTH.map(|side| show(Subject::Ring(make, side))).into(),
            Make::View(make) => VIEWS.map(|view| show(Subject::View(make, view))).into(),
        }
    }

    const fn rank(&self) -> u8 {
        match self.subject {
            Subject::Ring(_, Side::A) => 0,
            Subject::Ring(_, Side::B) => 1,
            Subject::Design(_) => 2,
            Subject::View(..) => 3,
        }
    }

    /// Whether it shows one ring.
    pub(super) const fn is_of_ring(&self) -> bool {
        matches!(self.subject, Subject::Ring(..))
    }

    /// The words on its button.
    pub fn label(&self) -> Message {
        let file = (self.kind.label)();
        match self.subject {
            Subject::Ring(_, side) => say::of_ring(side, file),
            Subject::Design(_) => file,
            Subject::View(_, view) => say::of_view(view.name(), file),
        }
    }

    /// The name of its file without the title of the design.
    pub fn name(&self) -> String {
        let ending = self.kind.ending;
        match self.subject {
            Subject::Ring(_, side) => {
                format!("ring-{}{ending}", side.key())
            }
            Subject::Design(_) => ending.to_owned(),
            Subject::View(_, view) => format!("{}{ending}", view.file_name),
        }
    }

    /// Where the page has its button.
    pub const fn place(&self) -> Place {
        match self.subject {
            Subject::View(_, view) if !view.is_of_pair() => Place::CommandLine,
            _ => self.kind.place,
        }
    }

    /// Makes the file.
    ///
    /// # Errors
    ///
    /// If the design has nothing to show in the file. The error says what is missing.
    pub fn make(&self, input: &ExportInput) -> Result<ExportFile, ExportError> {
        let bytes = match self.subject {
            Subject::Ring(make, side) => make(input, side)?,
            Subject::Design(make) => make(input)?,
            Subject::View(make, view) => make(&input.view(view), input.title()).into_bytes(),
        };
        Ok(ExportFile { name: self.name(), media_type: self.kind.media_type, bytes })
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::super::EXPORTS;
    use super::*;
    use crate::design::example;
    use crate::draw::views::FACE;

    /// A kind of each sort that nothing outside this test knows.
    static DUMMIES: [ExportKind; 3] = [
        dummy("dummy.txt", Place::Menu, Make::Design(|input| Ok(input.title().into()))),
        dummy("-dummy.txt", Place::Results, Make::Ring(|_, side| Ok(side.letter().into()))),
        dummy(".txt", Place::Menu, Make::View(|scene, _| scene.items.len().to_string())),
    ];

    const fn dummy(ending: &'static str, place: Place, make: Make) -> ExportKind {
        let (label, media_type): (Phrase, _) = (say::report, "text/plain");
        ExportKind { label, ending, media_type, place, cautions: Cautions::Absent, make }
    }

    #[test]
    fn a_row_is_all_that_a_kind_needs() {
        let analysis = Analysis::of(&example());
        let (before, reader, detail) = (&analysis, Reader::default(), Detail::default());
        let input =
            ExportInput { analysis: &analysis, before, reader, link: "#", time: "", detail };
        let all = Export::all(&DUMMIES);
        let names: Vec<String> = all.iter().map(Export::name).collect();
        assert_eq!(names[..4], ["ring-a-dummy.txt", "ring-b-dummy.txt", "dummy.txt", "face.txt"]);
        let labels: Vec<_> = all.iter().map(Export::label).collect();
        let of_view = say::of_view(FACE.name(), say::report());
        assert_eq!(labels[1..4], [say::of_ring(Side::B, say::report()), say::report(), of_view]);
        let views = VIEWS.into_iter().filter(|view| view.is_of_pair()).count();
        let at = |place| all.iter().filter(|export| export.place() == place).count();
        assert_eq!([Place::Menu, Place::Results].map(at), [1 + views, 2]);
        for export in &all {
            let file = export.make(&input).expect("the example has everything");
            assert_eq!((file.name, file.media_type), (export.name(), "text/plain"));
            assert!(!file.bytes.is_empty());
        }
    }

    #[test]
    fn every_file_has_a_name_and_a_button_of_its_own() {
        let all = Export::all(EXPORTS);
        let names: BTreeSet<String> = all.iter().map(Export::name).collect();
        let label = |export: &Export| export.label().show(Reader::default());
        let labels: BTreeSet<String> = all.iter().map(label).collect();
        assert_eq!([names.len(), labels.len()], [all.len(); 2]);
    }
}
