//! Writes a drawing or a map as a figure for a paper, as SVG on standard output.
//!
//! `cargo run --example figure -- DESIGN.json WHAT WIDTH_MM POINTS [outlines] [black]`, with `-` for a design on standard
//! input. WHAT is the key of a view, or `FIGURE,INPUT,FROM,TO,INPUT,FROM,TO` for the map of a figure over two inputs.

mod shell;

use std::ffi::OsString;
use std::process::ExitCode;

use crenel::analysis::Analysis;
use crenel::design::Design;
use crenel::draw::views::VIEWS;
use crenel::draw::{MM_PER_POINT, Scene, ViewOptions, printed, sweep_map, sweep_map_frame};
use crenel::export::{FigureStyle, Ink, Letters, figure_caption, figure_svg};
use crenel::sweep::{Axis, INPUTS, Sweep, sweepable};
use crenel_words::Reader;
use shell::Failure;

/// The outlines that the page fetches.
const LETTERS: &str = include_str!("../www/letters.txt");

fn main() -> ExitCode {
    shell::run(answer)
}

fn answer(arguments: &[OsString]) -> Result<String, Failure> {
    let usage = || {
        let usage =
            "Give a design, a view or a map, a width and points: figure DESIGN.json face 85 8";
        Failure::Call(usage.to_owned())
    };
    let [path, rest @ ..] = arguments else { return Err(usage()) };
    let rest: Vec<_> = rest.iter().map(|word| word.to_string_lossy()).collect();
    let [what, width, points, style @ ..] = rest.as_slice() else { return Err(usage()) };
    let (Ok(width), Ok(points)) = (width.parse::<f64>(), points.parse::<f64>()) else {
        return Err(usage());
    };
    let design = shell::design(path)?.design;
    let analysis = Analysis::of(&design);
    let letter = points * MM_PER_POINT / width;
    let scene = view(&analysis, what, letter).or_else(|| map(&design, what, letter));
    let scene = scene.ok_or_else(usage)?;
    let reader = Reader::default();
    let caption = figure_caption("Figure", &analysis, env!("CARGO_PKG_VERSION"), None, reader);
    let has = |word: &str| style.iter().any(|own| own == word);
    let letters = has("outlines").then(|| Letters::read(LETTERS));
    let ink = if has("black") { Ink::Black } else { Ink::Colour };
    let style = FigureStyle { ink, letters: letters.as_ref(), ..FigureStyle::default() };
    Ok(figure_svg(&printed(&scene, width, points, &caption), design.name(), style))
}

fn view(analysis: &Analysis, key: &str, letter: f64) -> Option<Scene> {
    let view = VIEWS.iter().find(|view| view.key == key)?;
    let frame = view.frame(analysis, 1.0, view.shape, letter);
    Some(view.draw(analysis, &frame, &ViewOptions::default()))
}

fn map(design: &Design, asked: &str, letter: f64) -> Option<Scene> {
    let words: Vec<&str> = asked.split(',').collect();
    let [figure, along, from, to, up, low, high] = words.as_slice() else { return None };
    let side = |key: &str, from: &str, to: &str| {
        let input = INPUTS.iter().find(|input| input.key() == key)?;
        Some(Axis::side(input, from.parse().ok()?, to.parse().ok()?))
    };
    let figure = sweepable().find(|known| known.key == *figure)?;
    let mut sweep =
        Sweep::map(design.clone(), figure, side(along, from, to)?, side(up, low, high)?);
    while sweep.work_out_next() {}
    Some(sweep_map(&sweep_map_frame(0.66, letter), &sweep, Reader::default()))
}
