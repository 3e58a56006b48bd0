//! Solids: of every sound ring one closed piece, and never a panic.

use std::collections::HashSet;
use std::f64::consts::TAU;

use crenel::analysis::Analysis;
use crenel::draw::{RingState, Turn3, ViewOptions, picture};
use crenel::export::{step, stl, svg_markup};
use crenel::ring::Ring;
use crenel::solid::{Body, Facets, Kind, Solid, Triangle, Vec3};
use proptest::prelude::*;

use crate::cases;
use crate::designs::{any_number, as_cut, design, sound_pair, wild_pair};

/// How far the facets may be from the cylinders, mm.
const TOLERANCE_MM: f64 = 0.05;

fn corners(facets: &Facets, triangle: &Triangle) -> [Vec3; 3] {
    triangle.corners.map(|corner| facets.points[corner])
}

fn six_volumes(facets: &Facets, triangle: &Triangle) -> f64 {
    let [a, b, c] = corners(facets, triangle);
    a.dot(b.cross(c))
}

/// Whether every side is gone along once each way.
fn closes(facets: &Facets) -> bool {
    let side = |t: &Triangle, at: usize| (t.corners[at], t.corners[(at + 1) % 3]);
    let sides = facets.triangles().flat_map(|t| [0, 1, 2].map(|at| side(&t, at)));
    let sides: Vec<_> = sides.collect();
    let known: HashSet<_> = sides.iter().copied().collect();
    known.len() == sides.len() && sides.iter().all(|&(from, to)| known.contains(&(to, from)))
}

/// Whether tips and the top of the web look up everywhere: nothing folds over.
fn lies_flat(facets: &Facets) -> bool {
    facets.triangles().all(|triangle| {
        let [a, b, c] = corners(facets, &triangle);
        let level = a.z == b.z && b.z == c.z && a.z >= 0.0;
        let flat = level && matches!(triangle.kind, Kind::Tip | Kind::Web);
        !flat || (b - a).cross(c - a).z > 0.0
    })
}

fn check(ring: &Ring) -> Result<(), TestCaseError> {
    let Ok(solid) = Solid::of(ring, &Body::default()) else { return Ok(()) };
    let facets = solid.facets(TOLERANCE_MM);
    prop_assert!(closes(&facets));
    prop_assert!(lies_flat(&facets));
    let volume = facets.triangles().map(|t| six_volumes(&facets, &t)).sum::<f64>() / 6.0;
    let exact = solid.metal().volume_mm3;
    let ends = (ring.inner_radius_mm + ring.outer_radius_mm) * solid.tallest_mm();
    let web = (solid.bore_mm() + solid.rim_mm()) * solid.thickness_mm();
    let most = TOLERANCE_MM * TAU * (ends + web) + 1e-9 * exact;
    prop_assert!((volume - exact).abs() < most, "{volume} for {exact}, give or take {most}");
    let boundary = solid.boundary();
    let uses: Vec<_> = boundary.faces.iter().flat_map(|f| f.bounds.iter().flatten()).collect();
    prop_assert_eq!(uses.len(), 2 * boundary.edges.len());
    let far = 2.0 * solid.rim_mm() + solid.tallest_mm() + solid.thickness_mm();
    prop_assert!(boundary.points.iter().all(|point| point.length() < far));
    Ok(())
}

proptest! {
    #![proptest_config(cases(400))]

    #[test]
    fn sound_rings_are_one_closed_piece(pair in sound_pair()) {
        for ring in as_cut(&pair) {
            check(&ring)?;
        }
    }

    #[test]
    fn wild_rings_are_one_closed_piece_or_none(pair in wild_pair()) {
        for ring in as_cut(&pair) {
            check(&ring)?;
        }
    }

    #[test]
    fn no_design_panics_as_a_solid(
        design in design(any_number),
        yaw_deg in any::<f64>(),
        pitch_deg in -90.0..90.0,
        apart_mm in any::<f64>(),
        state in prop::sample::select(RingState::ALL.to_vec()),
    ) {
        let analysis = Analysis::of(&design);
        for ring in analysis.found.iter().chain(&analysis.cut) {
            if let Ok(solid) = Solid::of(ring, &Body::default()) {
                step(&solid, &design.title, &design.notes);
                stl(&solid.facets(1.0), &design.title);
            }
        }
        let turn = Turn3 { yaw_deg, pitch_deg, apart_mm };
        let options = ViewOptions { state, ..ViewOptions::default() };
        let scene = picture(&analysis, &Body::default(), &turn, &options);
        prop_assert!(scene.bounds.width().is_finite());
        svg_markup(&scene);
    }
}
