//! Prints the ring in a picture.
//!
//! `cargo run --example photo WIDTH HEIGHT HINTS < GREY`
//!
//! Standard input holds the pixels of one or more pictures of that size, one byte each, row by row from the top. `HINTS` is
//! a file with a JSON object on each line, for one picture each:
//!
//! - `outer`, `inner`: two circles about the axis, as somebody would lay them over the picture: `middle` of the ellipse,
//!   two conjugate half diameters `half` (to the right and up), `height_mm` above the tips, and `diameter_mm` or `null`.
//! - `dogs`: how many are expected, or `null`; `bright`: whether the tips are brighter than the gaps, or `null`;
//!   `tips_mm`: inner and outer diameter of the tips, where a circle is not theirs; `lowered`: for each dog that was cut down
//!   an angle within it, radians, and how far its tip is below the others, mm.
//! - `{"propose": DOGS, "outer_mm": DIAMETER}` stands for the circles that the picture itself suggests.
//!
//! - `{"points": [[X, Y], …]}` needs no picture: the answer is the ellipse through them, its `middle` and half `axes`.
//!
//! Each line of the answer is a JSON object: the camera, its tilt, and each dog's flanks in degrees, as [`crenel_photo`]
//! has them; or `error`.

mod shell;

use std::io::Read as _;
use std::process::ExitCode;

use crenel_photo::{
    Circle, Ellipse, Grey, Hints, hints_from_json, measure, measured_to_json, propose,
};
use serde_json::{Value, json};

/// The longest side of a picture, pixels.
const MOST_PX: usize = 16_384;

fn main() -> ExitCode {
    shell::run_on_words(answer)
}

fn answer(words: &[String]) -> Result<String, String> {
    let [width, height, hints] = words else {
        return Err("Give the size of the picture and a file: photo WIDTH HEIGHT HINTS.".to_owned());
    };
    let (width, height) = (side(width)?, side(height)?);
    let hints =
        std::fs::read_to_string(hints).map_err(|e| format!("{hints} cannot be read: {e}."))?;
    let mut stdin = std::io::stdin();
    let mut answers = String::new();
    for (number, line) in (1..).zip(hints.lines()) {
        if let Some(points) = points_of(line) {
            let ellipse = Ellipse::through(&points).ok_or_else(|| {
                format!(
                    "Line {number}: no ellipse comes near these points. Give five or more on one."
                )
            })?;
            let ellipse = json!({ "middle": ellipse.middle(), "axes": ellipse.axes() });
            answers += &format!("{ellipse}\n");
            continue;
        }
        let mut light = vec![0; width * height];
        stdin.read_exact(&mut light).map_err(|e| format!("The picture cannot be read: {e}."))?;
        let grey = Grey::new(width, height, light).ok_or("A picture has at least 2 × 2 pixels.")?;
        let hints = hints_for(&grey, line).ok_or_else(|| {
            format!("Line {number} has no hints: “{line}”. See the head of photo.rs.")
        })?;
        let answer = measure(&grey, &hints)
            .map_or_else(|why| json!({ "error": why.to_string() }), |ring| measured_to_json(&ring));
        answers += &format!("{answer}\n");
    }
    Ok(answers)
}

/// A side of the picture, pixels.
fn side(text: &String) -> Result<usize, String> {
    let side = text.parse::<usize>().ok().filter(|side| (2..=MOST_PX).contains(side));
    side.ok_or_else(|| format!("A side of “{text}” pixels cannot be: 2 to {MOST_PX} can."))
}

fn points_of(line: &str) -> Option<Vec<[f64; 2]>> {
    let all: Value = serde_json::from_str(line).ok()?;
    let point = |p: &Value| Some([p.get(0)?.as_f64()?, p.get(1)?.as_f64()?]);
    all.get("points")?.as_array()?.iter().map(point).collect()
}

fn hints_for(grey: &Grey, line: &str) -> Option<Hints> {
    let all: Value = serde_json::from_str(line).ok()?;
    let Some(dogs) = all.get("propose").and_then(Value::as_u64) else {
        return hints_from_json(line);
    };
    let dogs = usize::try_from(dogs).ok()?;
    let (middle, outer, inner) = propose(grey, dogs)?;
    let diameter = all.get("outer_mm").and_then(Value::as_f64);
    Some(Hints {
        outer: Circle::round(middle, outer, diameter),
        inner: Circle::round(middle, inner, None),
        dogs: Some(dogs),
        bright: None,
        tips_mm: None,
        lowered: Vec::new(),
    })
}
