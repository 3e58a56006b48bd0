//! STEP: ISO 10303-21 text of the application protocol 214, one solid with exact faces.
//!
//! Units are mm and radians. Planes and cylinders are bounded by lines, circles and ellipses: every face is
//! exact.

use std::fmt::Write as _;

use crenel_words::Reader;

use crate::report::cautions_short;
use crate::solid::{Boundary, Curve, Edge, Face, Solid, Surface, Vec3};

/// Points closer than this count as one, mm.
const UNCERTAINTY: &str = "1.E-7";

const SCHEMA: &str = "AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }";

/// The solid as a STEP file. Its header carries the cautions.
///
/// `name` becomes the name of the product and of the solid. `stamp` is the time in the header, as
/// `2000-01-31T12:00:00`. The same input gives the same bytes.
pub fn step(solid: &Solid, name: &str, stamp: &str) -> String {
    let name = quoted(name);
    let mut writer = Writer { text: String::new(), last: 0 };
    let brep = writer.solid(&solid.boundary(), &name);
    writer.product(&brep, &name);
    let stamp = quoted(stamp);
    let cautions = cautions_short(Reader::default());
    let told = ["Set of dogs, mm"].into_iter().chain(cautions.iter().map(String::as_str));
    let told = list(told.map(quoted));
    format!(
        "ISO-10303-21;\nHEADER;\n\
         FILE_DESCRIPTION({told},'2;1');\n\
         FILE_NAME({name},{stamp},(''),(''),'Crenel','Crenel','');\n\
         FILE_SCHEMA(('{SCHEMA}'));\nENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
        writer.text
    )
}

/// A string of the exchange structure. ASCII is written as it is, with apostrophe and backslash doubled; any
/// other character by its code in `\X2\` or `\X4\`. Control characters are left out. An apostrophe that no
/// letter follows is written by its code too: OpenCASCADE takes a doubled one before a bracket for the end
/// of the string.
fn quoted(words: &str) -> String {
    let mut text = String::from("'");
    let mut letters = words.chars().peekable();
    while let Some(c) = letters.next() {
        let in_word = letters.peek().is_some_and(char::is_ascii_alphanumeric);
        // Writing to a String cannot fail.
        let _ = match (c, u32::from(c)) {
            ('\'', code) if !in_word => write!(text, "\\X2\\{code:04X}\\X0\\"),
            ('\'' | '\\', _) => write!(text, "{c}{c}"),
            (' '..='~', _) => write!(text, "{c}"),
            (_, ..0xa0) => Ok(()),
            (_, code @ ..0x1_0000) => write!(text, "\\X2\\{code:04X}\\X0\\"),
            (_, code) => write!(text, "\\X4\\{code:08X}\\X0\\"),
        };
    }
    text + "'"
}

/// A real number with all its digits. The format requires the point, but no digits after it.
fn real(value: f64) -> String {
    let text = format!("{:E}", if value.is_finite() { value } else { 0.0 });
    match text.split_once('E') {
        Some((digits, "0")) if digits.contains('.') => digits.to_owned(),
        Some((digits, "0")) => format!("{digits}."),
        Some((digits, power)) if digits.contains('.') => format!("{digits}E{power}"),
        Some((digits, power)) => format!("{digits}.E{power}"),
        None => text,
    }
}

fn triple(v: Vec3) -> String {
    format!("({},{},{})", real(v.x), real(v.y), real(v.z))
}

fn list(names: impl IntoIterator<Item = String>) -> String {
    format!("({})", names.into_iter().collect::<Vec<_>>().join(","))
}

const fn flag(yes: bool) -> &'static str {
    if yes { ".T." } else { ".F." }
}

/// Writes entities and gives out their names.
struct Writer {
    text: String,
    last: u32,
}

impl Writer {
    fn add(&mut self, entity: &str) -> String {
        self.last += 1;
        let name = format!("#{}", self.last);
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "{name}={entity};");
        name
    }

    // ---- geometry ----

    fn point(&mut self, at: Vec3) -> String {
        self.add(&format!("CARTESIAN_POINT('',{})", triple(at)))
    }

    fn direction(&mut self, along: Vec3) -> String {
        self.add(&format!("DIRECTION('',{})", triple(along)))
    }

    /// Where a surface or a curve lies: its origin, its axis, and where its angles begin.
    fn placement(&mut self, at: Vec3, axis: Vec3, start: Vec3) -> String {
        let (at, axis, start) = (self.point(at), self.direction(axis), self.direction(start));
        self.add(&format!("AXIS2_PLACEMENT_3D('',{at},{axis},{start})"))
    }

    fn curve(&mut self, curve: &Curve, from: Vec3, to: Vec3) -> String {
        match *curve {
            Curve::Line => {
                let (at, along) = (self.point(from), self.direction((to - from).unit()));
                let vector = self.add(&format!("VECTOR('',{along},1.)"));
                self.add(&format!("LINE('',{at},{vector})"))
            }
            Curve::Circle { radius, z } => {
                let start = Vec3::new(1.0, 0.0, 0.0);
                let place = self.placement(Vec3::UP * z, Vec3::UP, start);
                self.add(&format!("CIRCLE('',{place},{})", real(radius)))
            }
            Curve::Ellipse { z, normal, along, major, minor } => {
                let place = self.placement(Vec3::UP * z, normal, along);
                self.add(&format!("ELLIPSE('',{place},{},{})", real(major), real(minor)))
            }
        }
    }

    /// The surface, and whether its own normal points out of the metal.
    fn surface(&mut self, surface: &Surface) -> (String, bool) {
        match *surface {
            Surface::Plane { at, normal, along } => {
                let place = self.placement(at, normal, along);
                (self.add(&format!("PLANE('',{place})")), true)
            }
            Surface::Cylinder { radius, clear, solid } => {
                let start = Vec3::polar(1.0, clear, 0.0);
                let place = self.placement(Vec3::default(), Vec3::UP, start);
                (self.add(&format!("CYLINDRICAL_SURFACE('',{place},{})", real(radius))), solid)
            }
        }
    }

    // ---- topology ----

    fn solid(&mut self, boundary: &Boundary, name: &str) -> String {
        let vertex = |at: &Vec3| {
            let point = self.point(*at);
            self.add(&format!("VERTEX_POINT('',{point})"))
        };
        let vertices: Vec<_> = boundary.points.iter().map(vertex).collect();
        let edges: Vec<_> =
            boundary.edges.iter().map(|e| self.edge(boundary, e, &vertices)).collect();
        let faces: Vec<_> = boundary.faces.iter().map(|face| self.face(face, &edges)).collect();
        let shell = self.add(&format!("CLOSED_SHELL('',{})", list(faces)));
        self.add(&format!("MANIFOLD_SOLID_BREP({name},{shell})"))
    }

    fn edge(&mut self, boundary: &Boundary, edge: &Edge, vertices: &[String]) -> String {
        let [from, to] = [edge.from, edge.to].map(|at| boundary.points[at]);
        let curve = self.curve(&edge.curve, from, to);
        let (from, to) = (&vertices[edge.from], &vertices[edge.to]);
        self.add(&format!("EDGE_CURVE('',{from},{to},{curve},.T.)"))
    }

    fn face(&mut self, face: &Face, edges: &[String]) -> String {
        let (surface, outward) = self.surface(&face.surface);
        let mut bounds = Vec::new();
        for (at, bound) in face.bounds.iter().enumerate() {
            let oriented = bound.iter().map(|&(edge, forward)| {
                self.add(&format!("ORIENTED_EDGE('',*,*,{},{})", edges[edge], flag(forward)))
            });
            let oriented = list(oriented.collect::<Vec<_>>());
            let path = self.add(&format!("EDGE_LOOP('',{oriented})"));
            let kind = if at == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
            bounds.push(self.add(&format!("{kind}('',{path},.T.)")));
        }
        self.add(&format!("ADVANCED_FACE('',{},{surface},{})", list(bounds), flag(outward)))
    }

    // ---- the product ----

    fn product(&mut self, brep: &str, name: &str) {
        let application =
            self.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
        self.add(&format!(
            "APPLICATION_PROTOCOL_DEFINITION('international \
            standard','automotive_design',2000,{application})"
        ));
        let context = self.add(&format!("PRODUCT_CONTEXT('',{application},'mechanical')"));
        let product = self.add(&format!("PRODUCT({name},{name},'',({context}))"));
        self.add(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,({product}))"));
        let formation = self.add(&format!("PRODUCT_DEFINITION_FORMATION('','',{product})"));
        let context = self
            .add(&format!("PRODUCT_DEFINITION_CONTEXT('part definition',{application},'design')"));
        let definition =
            self.add(&format!("PRODUCT_DEFINITION('design','',{formation},{context})"));
        let shape = self.add(&format!("PRODUCT_DEFINITION_SHAPE('','',{definition})"));
        let origin = self.placement(Vec3::default(), Vec3::UP, Vec3::new(1.0, 0.0, 0.0));
        let units = self.units();
        let form = self
            .add(&format!("ADVANCED_BREP_SHAPE_REPRESENTATION({name},({origin},{brep}),{units})"));
        self.add(&format!("SHAPE_DEFINITION_REPRESENTATION({shape},{form})"));
    }

    fn units(&mut self) -> String {
        let length = self.add("(LENGTH_UNIT() NAMED_UNIT(*) SI_UNIT(.MILLI.,.METRE.))");
        let angle = self.add("(NAMED_UNIT(*) PLANE_ANGLE_UNIT() SI_UNIT($,.RADIAN.))");
        let solid = self.add("(NAMED_UNIT(*) SI_UNIT($,.STERADIAN.) SOLID_ANGLE_UNIT())");
        let close = self.add(&format!(
            "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE({UNCERTAINTY}),{length},\
            'distance_accuracy_value','points this close are one')"
        ));
        self.add(&format!(
            "(GEOMETRIC_REPRESENTATION_CONTEXT(3) GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT(({close})) \
            GLOBAL_UNIT_ASSIGNED_CONTEXT(({length},{angle},{solid})) REPRESENTATION_CONTEXT('',''))"
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strings_are_coded_as_the_standard_has_it() {
        let cases = [
            ("plain", "'plain'"),
            ("it's \\", "'it''s \\\\'"),
            ("Ø5 – 齿", "'\\X2\\00D8\\X0\\5 \\X2\\2013\\X0\\ \\X2\\9F7F\\X0\\'"),
            ("a😀b", "'a\\X4\\0001F600\\X0\\b'"),
            ("a\n\u{0}\u{7f}\u{85}b", "'ab'"),
            ("');ENDSEC;", "'\\X2\\0027\\X0\\);ENDSEC;'"),
        ];
        for (words, want) in cases {
            assert_eq!(quoted(words), want);
        }
    }

    #[test]
    fn real_numbers_have_a_point_and_come_back_to_the_bit() {
        let cases = [(0.0, "0."), (1.0, "1."), (-22.5, "-2.25E1"), (1e-7, "1.E-7"), (3.25, "3.25")];
        for (value, want) in cases {
            assert_eq!(real(value), want);
        }
        for value in [0.1, -1.0 / 3.0, 1e300, f64::MIN_POSITIVE, 123_456.789] {
            assert_eq!(real(value).parse(), Ok(value));
        }
    }
}
