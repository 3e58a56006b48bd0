//! Reads every kind of file back, by rules of the formats and not by the code that writes them.

use std::collections::{HashMap, HashSet};

use crenel::draw::{Scene, Shape};
use crenel::export::ExportFile;
use crenel::ring::Segment;
use serde_json::Value;

/// Whether a text holds a number that is none, as a word by itself.
pub(crate) fn tells_no_number(text: &str) -> bool {
    let words = text.split(|c: char| !c.is_alphanumeric());
    words.into_iter().any(|word| matches!(word, "NaN" | "inf" | "nan" | "infinity" | "Infinity"))
}

/// Reads a file by the rules of its format. A format that nothing here reads is an error.
pub(crate) fn file(file: &ExportFile) -> Result<(), String> {
    let text = || str::from_utf8(&file.bytes).map_err(|e| e.to_string());
    match file.name.rsplit('.').next().unwrap_or_default() {
        "svg" => svg(text()?).map(drop),
        "dxf" => dxf(text()?).map(drop),
        "stl" => stl(&file.bytes, usize::MAX),
        "step" => step(text()?).map(drop),
        "nc" => nc(text()?),
        "csv" => csv(text()?).map(drop),
        "json" => serde_json::from_str::<Value>(text()?).map(drop).map_err(|e| e.to_string()),
        end => Err(format!("there is no reader for .{end} in tests/properties/readers.rs")),
    }
}

// ---- programs ----

/// A program of an axis that only turns and stops: its words, in lines that a control shows whole.
fn nc(text: &str) -> Result<(), String> {
    let is_turn = |line: &str| {
        let to = line.strip_prefix("G0 A").and_then(|to| to.parse::<f64>().ok());
        to.is_some_and(|to| (0.0..360.0).contains(&to)) && line.contains('.')
    };
    let is_comment = |line: &str| {
        let inside = line.strip_prefix('(').and_then(|line| line.strip_suffix(')'));
        inside.is_some_and(|text| !text.contains(['(', ')', '%', ';']))
    };
    let known =
        |line: &&str| ["%", "G90", "M0", "M30"].contains(line) || is_turn(line) || is_comment(line);
    match text.lines().find(|line| !known(line) || !line.is_ascii() || line.len() > 72) {
        Some(line) => Err(format!("“{line}” is no line of a turning program")),
        None => Ok(()),
    }
}

// ---- scenes ----

/// Every number of the geometry of a scene.
pub(crate) fn numbers_of(scene: &Scene) -> Vec<f64> {
    let (min, max) = (scene.bounds.min, scene.bounds.max);
    let mut numbers = vec![min.x, min.y, max.x, max.y];
    for item in &scene.items {
        match &item.shape {
            Shape::Path { segments, .. } => segments.iter().for_each(|segment| match *segment {
                Segment::Line { from, to } => numbers.extend([from.x, from.y, to.x, to.y]),
                Segment::Arc { radius, start, sweep } => numbers.extend([radius, start, sweep]),
            }),
            Shape::Patches(patches) => {
                numbers.extend(patches.iter().flatten().flat_map(|p| [p.x, p.y]));
            }
            Shape::Strokes(strokes) => {
                numbers.extend(strokes.iter().flatten().flat_map(|p| [p.x, p.y]));
            }
            Shape::Circle { radius } => numbers.push(*radius),
            Shape::Text(text) => numbers.extend([text.at.x, text.at.y, text.height]),
        }
    }
    numbers
}

/// Every text of a scene.
pub(crate) fn words_of(scene: &Scene) -> impl Iterator<Item = &str> {
    scene.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text.words.as_str()),
        _ => None,
    })
}

// ---- SVG ----

/// Elements and attributes that our drawings have; one more would be somebody's text.
const ELEMENTS: [&str; 11] =
    ["svg", "title", "desc", "style", "defs", "pattern", "g", "rect", "path", "circle", "text"];
const ATTRIBUTES: [&str; 19] = [
    "id",
    "patternTransform",
    "patternUnits",
    "rx",
    "width",
    "height",
    "viewBox",
    "class",
    "transform",
    "d",
    "cx",
    "cy",
    "r",
    "x",
    "y",
    "font-size",
    "text-anchor",
    "data-dog",
    "data-measure",
];

/// What an SVG file says: its title and its texts.
pub(crate) struct SvgRead {
    pub(crate) title: String,
    pub(crate) texts: Vec<String>,
}

/// An SVG file, read by an XML parser.
pub(crate) fn svg(file: &str) -> Result<SvgRead, String> {
    let document = roxmltree::Document::parse(file).map_err(|e| e.to_string())?;
    let mut read = SvgRead { title: String::new(), texts: Vec::new() };
    for node in document.root().descendants() {
        if node.is_comment() || node.is_pi() {
            return Err(format!("there is {node:?}"));
        }
        if !node.is_element() {
            continue;
        }
        let name = node.tag_name().name();
        if !ELEMENTS.contains(&name) {
            return Err(format!("there is an element {name}"));
        }
        for attribute in node.attributes() {
            if !ATTRIBUTES.contains(&attribute.name()) || tells_no_number(attribute.value()) {
                return Err(format!("{name} has {attribute:?}"));
            }
        }
        match name {
            "title" => read.title = node.text().unwrap_or_default().to_owned(),
            "text" => read.texts.push(node.text().unwrap_or_default().to_owned()),
            "path" => path_data(node.attribute("d").unwrap_or_default())?,
            _ => {}
        }
    }
    Ok(read)
}

/// The marks that go on the screen, which have no element about them.
pub(crate) fn markup(marks: &str) -> Result<SvgRead, String> {
    svg(&format!("<svg xmlns=\"http://www.w3.org/2000/svg\">{marks}</svg>"))
}

fn path_data(d: &str) -> Result<(), String> {
    let apart = |c: char| c.is_ascii_whitespace() || c == ',' || "MLAZ".contains(c);
    let odd = |word: &&str| !word.is_empty() && !word.parse::<f64>().is_ok_and(f64::is_finite);
    d.split(apart).find(odd).map_or(Ok(()), |word| Err(format!("{word} in a path")))
}

// ---- DXF ----

/// What a DXF file says: its texts as written, and how many entities it has.
pub(crate) struct DxfRead {
    pub(crate) texts: Vec<String>,
    pub(crate) entities: usize,
}

const SECTIONS: [&str; 6] = ["HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS"];
const ENTITIES: [&str; 5] = ["LINE", "ARC", "CIRCLE", "LWPOLYLINE", "TEXT"];

/// A DXF file as pairs of group code and value.
pub(crate) fn dxf(file: &str) -> Result<DxfRead, String> {
    let lines: Vec<&str> = file.split("\r\n").collect();
    let Some((&"", lines)) = lines.split_last() else {
        return Err("it does not end with a line end".to_owned());
    };
    if lines.len() % 2 != 0 || lines.iter().any(|line| !is_dxf_line(line)) {
        return Err("its lines are no pairs of plain text".to_owned());
    }
    let mut read = DxfRead { texts: Vec::new(), entities: 0 };
    let (mut sections, mut inside, mut in_entities) = (Vec::new(), false, false);
    let mut pairs = lines.chunks(2).map(|two| (two[0], two[1])).peekable();
    while let Some((code, value)) = pairs.next() {
        let code: u16 = code.trim().parse().map_err(|_| format!("{code} is no group code"))?;
        dxf_value(code, value)?;
        match (code, value) {
            (0, "SECTION") if !inside => {
                inside = true;
                let name = pairs.peek().map_or("", |(_, name)| name);
                in_entities = name == "ENTITIES";
                sections.push(name);
            }
            (0, "ENDSEC") if inside => (inside, in_entities) = (false, false),
            (0, "EOF") if !inside && pairs.peek().is_none() => {
                return if sections == SECTIONS { Ok(read) } else { Err(format!("{sections:?}")) };
            }
            (0, "SECTION" | "ENDSEC" | "EOF") => return Err(format!("{value} out of place")),
            (0, _) if in_entities => {
                if !ENTITIES.contains(&value) {
                    return Err(format!("{value} is no entity of ours"));
                }
                read.entities += 1;
            }
            (0, _) if !inside => return Err(format!("{value} stands in no section")),
            (1, text) if in_entities => read.texts.push(text.to_owned()),
            _ => {}
        }
    }
    Err("it has no end".to_owned())
}

fn is_dxf_line(line: &str) -> bool {
    line.len() < 2049 && line.bytes().all(|byte| matches!(byte, b' '..=b'~'))
}

/// Values have the kind that the range of their group code asks for.
fn dxf_value(code: u16, value: &str) -> Result<(), String> {
    let fits = match code {
        10..=59 | 140..=147 => value.parse::<f64>().is_ok_and(f64::is_finite),
        60..=79 | 90..=99 | 280..=290 | 370 => value.trim().parse::<i32>().is_ok(),
        5 | 105 | 330..=350 => u32::from_str_radix(value, 16).is_ok(),
        _ => true,
    };
    if fits { Ok(()) } else { Err(format!("{value} under {code}")) }
}

// ---- STL ----

/// Bytes before the first triangle of an STL file, and of each triangle.
const STL_HEAD: usize = 84;
const STL_EACH: usize = 50;

type Corner = [u32; 3];

/// A binary STL file: as many triangles as it says, finite, and closed. A side shorter than single
/// precision can tell is a point, and whatever meets there may meet more than once.
pub(crate) fn stl(file: &[u8], points: usize) -> Result<(), String> {
    let told =
        file.get(80..STL_HEAD).and_then(|four| Some(u32::from_le_bytes(four.try_into().ok()?)));
    let told = told.ok_or("it is shorter than its head")? as usize;
    let triangles = &file[STL_HEAD..];
    if triangles.len() != told * STL_EACH || told == 0 {
        return Err(format!("{told} triangles in {} bytes", triangles.len()));
    }
    if file.starts_with(b"solid") || !file[..80].iter().all(|b| matches!(b, b' '..=b'~')) {
        return Err("its head is no plain text, or that of the other form".to_owned());
    }
    let mut sides: HashMap<(Corner, Corner), i32> = HashMap::new();
    let mut seen = HashSet::new();
    for triangle in triangles.chunks(STL_EACH) {
        let number = |at: usize| {
            f32::from_le_bytes(triangle[4 * at..4 * at + 4].try_into().expect("four bytes"))
        };
        let numbers: [f32; 12] = std::array::from_fn(number);
        if !numbers.iter().all(|n| n.is_finite()) {
            return Err(format!("{numbers:?}"));
        }
        // Minus nought is the same place as nought.
        let corner = |at: usize| std::array::from_fn(|of| (numbers[3 * at + of] + 0.0).to_bits());
        let corners: [Corner; 3] = [corner(1), corner(2), corner(3)];
        seen.extend(corners);
        for at in 0..3 {
            let (from, to) = (corners[at], corners[(at + 1) % 3]);
            if from != to {
                *sides.entry((from, to)).or_default() += 1;
            }
        }
    }
    let twice = |(&(from, to), &times): (&(Corner, Corner), &i32)| {
        let back = sides.get(&(to, from)).copied().unwrap_or_default();
        times == back && (times == 1 || seen.len() < points)
    };
    if sides.iter().all(twice) { Ok(()) } else { Err("it is not closed".to_owned()) }
}

// ---- STEP ----

/// A STEP file: its strings decoded, after every reference is found and every number finite.
pub(crate) fn step(file: &str) -> Result<Vec<String>, String> {
    if !file.bytes().all(|byte| matches!(byte, b'\n' | b' '..=b'~')) {
        return Err("it is not plain text".to_owned());
    }
    let (plain, strings) = without_strings(file)?;
    if plain.matches("ENDSEC;").count() != 2 || !plain.ends_with("END-ISO-10303-21;\n") {
        return Err("its sections do not close".to_owned());
    }
    let data = plain.split_once("DATA;\n").ok_or("it has no data")?.1;
    let data = data.split_once("ENDSEC;").ok_or("its data do not end")?.0;
    let (mut named, mut used) = (HashSet::new(), HashSet::new());
    for line in data.lines() {
        let (name, entity) = line.split_once('=').ok_or_else(|| format!("{line} has no name"))?;
        if !named.insert(name) || !entity.ends_with(");") {
            return Err(format!("{line} is no entity, or has another's name"));
        }
        if entity.matches('(').count() != entity.matches(')').count() {
            return Err(format!("{line} does not close"));
        }
        let words = entity.split(|c: char| "(),; ".contains(c)).filter(|word| !word.is_empty());
        for word in words {
            let number = word.starts_with(|c: char| c.is_ascii_digit() || c == '-');
            if number && !word.parse::<f64>().is_ok_and(f64::is_finite) {
                return Err(format!("{word} in {line}"));
            }
            if word.starts_with('#') {
                used.insert(word);
            }
        }
    }
    if tells_no_number(&plain) || !used.is_subset(&named) || named.is_empty() {
        return Err(format!("{:?} is nowhere", used.difference(&named).next()));
    }
    strings.iter().map(|string| step_string(string)).collect()
}

/// The text with its strings taken out, and the strings, apostrophes undoubled.
fn without_strings(file: &str) -> Result<(String, Vec<String>), String> {
    let (mut plain, mut strings) = (String::new(), Vec::new());
    let mut letters = file.chars().peekable();
    while let Some(letter) = letters.next() {
        if letter != '\'' {
            plain.push(letter);
            continue;
        }
        let mut string = String::new();
        loop {
            match letters.next().ok_or("a string does not end")? {
                '\'' if letters.next_if_eq(&'\'').is_some() => string.push('\''),
                '\'' => break,
                '\n' => return Err("a string runs over its line".to_owned()),
                other => string.push(other),
            }
        }
        strings.push(string);
    }
    Ok((plain, strings))
}

/// A string of ISO 10303-21 without its directives.
fn step_string(coded: &str) -> Result<String, String> {
    let mut text = String::new();
    let mut rest = coded;
    while let Some(at) = rest.find('\\') {
        text += &rest[..at];
        rest = &rest[at..];
        let digits = match rest.get(..4) {
            Some("\\X2\\") => 4,
            Some("\\X4\\") => 8,
            _ => {
                rest =
                    rest.strip_prefix("\\\\").ok_or_else(|| format!("{coded} has no meaning"))?;
                text.push('\\');
                continue;
            }
        };
        let (code, after) = rest[4..].split_once("\\X0\\").ok_or("a code does not end")?;
        for at in (0..code.len()).step_by(digits) {
            let letter =
                code.get(at..at + digits).and_then(|code| u32::from_str_radix(code, 16).ok());
            text.push(
                letter.and_then(char::from_u32).ok_or_else(|| format!("{code} is no letter"))?,
            );
        }
        rest = after;
    }
    Ok(text + rest)
}

// ---- CSV and JSON ----

/// Signs with which a cell would begin a formula.
const FORMULA: [char; 10] = ['=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠'];

/// A CSV file, read by a CSV parser: its rows, the heads first. Above them stand only lines that a
/// reader is told to skip.
pub(crate) fn csv(file: &str) -> Result<Vec<Vec<String>>, String> {
    let mut reader = csv::ReaderBuilder::new();
    let mut reader = reader.has_headers(false).comment(Some(b'#')).from_reader(file.as_bytes());
    let mut rows = Vec::new();
    for row in reader.records() {
        // Another number of cells than in the row before is an error of this reader.
        let row = row.map_err(|e| e.to_string())?;
        let cells: Vec<String> = row.iter().map(str::to_owned).collect();
        for cell in &cells {
            let number = cell.parse::<f64>().is_ok();
            let begins = cell.trim_start_matches(' ').starts_with(FORMULA);
            if tells_no_number(cell) || !number && begins || cell.contains(['\n', '\r']) {
                return Err(format!("the cell {cell:?}"));
            }
        }
        rows.push(cells);
    }
    if rows.is_empty() { Err("it has no rows".to_owned()) } else { Ok(rows) }
}

/// JSON text, parsed: the same as what was written.
pub(crate) fn json(written: &Value) -> Result<(), String> {
    for text in [written.to_string(), format!("{written:#}")] {
        let read: Value = serde_json::from_str(&text).map_err(|e| e.to_string())?;
        if read != *written {
            return Err(format!("{text} reads as {read}"));
        }
    }
    Ok(())
}
