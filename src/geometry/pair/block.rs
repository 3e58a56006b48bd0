//! The phase map: for each pair of dogs, the phases at which they block each other.

use super::circle::{Arc, windows_between};
use super::contact::{Contact, NoCommonBand};
use crate::ring::{Dog, FlankSide, PerFlank, Ring};
use crate::units::Angle;

/// Overlaps closer than this (mm) count as the same.
pub(super) const OVERLAP_TOLERANCE_MM: f64 = 1e-9;

/// Whether tip edges are taken as sharp or with their edge breaks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edges {
    /// To the theoretical corner. Windows and lash are stated so.
    Sharp,
    /// With 45° chamfers of the size of the edge breaks: the entry is wider at the very tip.
    Broken,
}

/// One dog of A that can block one dog of B.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Block {
    /// Index of the dog in ring A.
    pub dog_a: usize,
    /// Index of the dog in ring B.
    pub dog_b: usize,
    /// Phase at which the middles of the two tips face each other, in `[0, 2π)`.
    pub phase: Angle,
    /// Overlap past which they block, mm: `(HA_max − Hi) + (HB_max − Hj)`.
    pub starts_mm: f64,
    /// Each side of the blocked arc at the tips, drive and coast, radians: half the sum of the two tip
    /// widths as found, less the narrowing and less what the undercuts take where a tip was cut down.
    half_width: PerFlank<f64>,
    /// By how much each side of the arc shrinks per mm, drive and coast, radians per mm.
    shrink: PerFlank<f64>,
    /// Sum of the edge breaks, mm, and in radians.
    edge_mm: f64,
    edge: f64,
}

/// The share of one dog in every pair that it is part of.
struct Part {
    centre: Angle,
    /// How much lower the dog is than the tallest of its ring, mm.
    low_mm: f64,
    /// From the middle of the dog to each flank where the rings meet, radians: half the tip width as
    /// found, less the narrowing and less what the undercut takes where the tip was cut down.
    half_width: PerFlank<f64>,
    /// Tangents of the undercuts, drive and coast.
    undercut: PerFlank<f64>,
    edge_mm: f64,
}

impl Part {
    fn new(ring: &Ring, dog: &Dog, contact: &Contact) -> Self {
        let undercut = dog.back_cut.map(Angle::tan);
        Self {
            centre: dog.centre,
            low_mm: ring.tallest_mm() - dog.height_mm,
            half_width: PerFlank::from_fn(|side| {
                let half = ring.half_width_at(dog, side, contact.meeting_mm).radians();
                half - dog.leaned_mm(side, 0.0) / contact.mean_mm()
            }),
            undercut,
            edge_mm: dog.edge_break_mm,
        }
    }
}

impl Block {
    fn new((dog_a, a): (usize, &Part), (dog_b, b): (usize, &Part), contact: &Contact) -> Self {
        let edge_mm = a.edge_mm + b.edge_mm;
        let undercut = |side: FlankSide| a.undercut[side].min(b.undercut[side]);
        Self {
            dog_a,
            dog_b,
            phase: (-(a.centre + b.centre)).wrapped(),
            starts_mm: a.low_mm + b.low_mm,
            half_width: PerFlank::from_fn(|side| a.half_width[side] + b.half_width[side]),
            shrink: PerFlank::from_fn(|side| undercut(side) / contact.mean_mm()),
            edge_mm,
            edge: edge_mm / contact.mean_mm(),
        }
    }

    /// How far the arc reaches from its middle on one side, radians: towards smaller phases, where coast
    /// flank meets coast flank, or towards larger ones, where drive meets drive. It can be negative.
    ///
    /// `b(x) = ½(wi + wj) − (x − xij)·min(tan αi, tan αj)/rm`, less the edge breaks.
    pub fn reach(&self, side: FlankSide, overlap_mm: f64, edges: Edges) -> f64 {
        let depth = overlap_mm - self.starts_mm;
        let sharp = self.half_width[side] - depth * self.shrink[side];
        match edges {
            Edges::Sharp => sharp,
            Edges::Broken if self.edge_mm > 0.0 => {
                sharp - self.edge * (1.0 - depth / self.edge_mm).max(0.0)
            }
            Edges::Broken => sharp,
        }
    }

    /// The blocked arc at an overlap, whether or not the tips have come level; `None` if it is empty.
    pub fn arc(&self, overlap_mm: f64, edges: Edges) -> Option<Arc> {
        let middle = self.phase.radians();
        let start = middle - self.reach(FlankSide::Coast, overlap_mm, edges);
        let end = middle + self.reach(FlankSide::Drive, overlap_mm, edges);
        (end > start).then(|| Arc::between(start, end))
    }

    /// Whether the two block each other at an overlap: past tip level by more than rounding.
    pub fn is_past(&self, overlap_mm: f64) -> bool {
        overlap_mm - self.starts_mm > OVERLAP_TOLERANCE_MM
    }

    /// Whether the arc contains its middle. It does unless the dogs lean over.
    pub(super) fn holds_middle(&self, overlap_mm: f64) -> bool {
        let reaches = |side| self.reach(side, overlap_mm, Edges::Sharp) >= 0.0;
        FlankSide::BOTH.into_iter().all(reaches)
    }

    /// How fast one side of the arc shrinks with the overlap, radians per mm.
    pub fn shrink(&self, side: FlankSide) -> f64 {
        self.shrink[side]
    }

    /// The smaller of the two tangents of the undercuts on one side: the angle at which the flanks meet.
    pub fn undercut(&self, side: FlankSide, contact: &Contact) -> f64 {
        self.shrink[side] * contact.mean_mm()
    }

    /// Whether it blocks as another does at every overlap, at whichever phase.
    pub(crate) fn is_shaped_as(&self, other: &Self) -> bool {
        let Self { dog_a: _, dog_b: _, phase: _, starts_mm, half_width, shrink, edge_mm, edge } =
            self;
        (starts_mm, half_width, shrink, edge_mm, edge)
            == (&other.starts_mm, &other.half_width, &other.shrink, &other.edge_mm, &other.edge)
    }

    /// Overlap at which the edge breaks end and the flank proper begins, mm.
    pub const fn edge_ends_mm(&self) -> f64 {
        self.starts_mm + self.edge_mm
    }
}

/// Two rings in mesh: every pair of dogs that can block each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Mesh {
    /// Where the rings touch.
    pub contact: Contact,
    /// Tallest dog of A and of B, mm.
    pub tallest_mm: [f64; 2],
    /// Every pair of dogs.
    pub blocks: Vec<Block>,
}

impl Mesh {
    /// Brings two rings together.
    ///
    /// # Errors
    /// The rings have no common band of radii.
    pub fn new(a: &Ring, b: &Ring) -> Result<Self, NoCommonBand> {
        let contact = Contact::between(a, b)?;
        let parts = |ring: &Ring| -> Vec<Part> {
            ring.dogs.iter().map(|dog| Part::new(ring, dog, &contact)).collect()
        };
        let (parts_a, parts_b) = (parts(a), parts(b));
        let with_a = |a| parts_b.iter().enumerate().map(move |b| Block::new(a, b, &contact));
        let blocks = parts_a.iter().enumerate().flat_map(with_a).collect();
        Ok(Self { contact, tallest_mm: [a.tallest_mm(), b.tallest_mm()], blocks })
    }

    /// The open windows at an overlap: the complement of all arcs blocked there.
    pub fn windows_at(&self, overlap_mm: f64, edges: Edges) -> Vec<Arc> {
        self.windows_of(|block| block.is_past(overlap_mm), overlap_mm, edges)
    }

    /// The open windows just past an overlap: dogs whose tips come level at that overlap count as blocking.
    pub fn windows_past(&self, overlap_mm: f64, edges: Edges) -> Vec<Arc> {
        let limit = overlap_mm + OVERLAP_TOLERANCE_MM;
        self.windows_of(|block| block.starts_mm <= limit, overlap_mm, edges)
    }

    /// The entry windows: those just past the overlap at which the tallest tips are level.
    pub fn entry_windows(&self, edges: Edges) -> Vec<Arc> {
        self.windows_past(0.0, edges)
    }

    /// The gap on one flank of every pair of dogs that is past its tips, mm at the mean radius, with
    /// ring A turned to `phase`. A negative gap is the depth to which the two dogs would intersect.
    pub fn gaps_at(
        &self,
        side: FlankSide,
        phase: Angle,
        overlap_mm: f64,
    ) -> impl Iterator<Item = (&Block, f64)> {
        // Drive meets drive at the upper end of a blocked arc, coast meets coast at the lower.
        let away = -side.sign();
        let gap = move |block: &Block| {
            let reach = Angle::from_radians(away * block.reach(side, overlap_mm, Edges::Sharp));
            away * (phase - (block.phase + reach)).signed().radians()
        };
        let past = self.blocks.iter().filter(move |b| b.is_past(overlap_mm));
        past.map(move |block| (block, gap(block) * self.contact.mean_mm()))
    }

    /// The pairs of dogs that touch on one flank: those whose gap at the mean radius is at most
    /// `tolerance_mm`.
    pub fn meeting_at(
        &self,
        side: FlankSide,
        phase: Angle,
        overlap_mm: f64,
        tolerance_mm: f64,
    ) -> Vec<&Block> {
        let gaps = self.gaps_at(side, phase, overlap_mm);
        gaps.filter(|(_, gap)| gap.abs() <= tolerance_mm).map(|(block, _)| block).collect()
    }

    /// The windows that lead down to an overlap. Every pair of dogs that comes level before that
    /// overlap blocks with its tips, at the overlap where they come level.
    ///
    /// Where all tall dogs have the same height these are the entry windows. Where heights differ by a
    /// few hundredths of a millimetre they are the windows that a shift really meets.
    pub fn windows_down_to(&self, overlap_mm: f64, edges: Edges) -> Vec<Arc> {
        let limit = overlap_mm.max(2.0 * OVERLAP_TOLERANCE_MM);
        let met = self.blocks.iter().filter(|b| b.is_past(limit));
        let arcs: Vec<_> = met.filter_map(|b| b.arc(b.starts_mm, edges)).collect();
        windows_between(&arcs)
    }

    pub(super) fn windows_of(
        &self,
        active: impl Fn(&Block) -> bool,
        overlap_mm: f64,
        edges: Edges,
    ) -> Vec<Arc> {
        let blocks = self.blocks.iter().filter(|block| active(block));
        let arcs: Vec<_> = blocks.filter_map(|block| block.arc(overlap_mm, edges)).collect();
        windows_between(&arcs)
    }
}
