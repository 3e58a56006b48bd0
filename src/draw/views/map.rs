//! The phase map: blocked phases over overlap. Phase runs across, overlap downwards.

use std::collections::HashSet;
use std::f64::consts::TAU;

use crenel_words::{Message, Phrase, Reader, drawing as say};

use crate::analysis::Analysis;

use crate::design::SettingField;
use crate::draw::frame::{
    Axes, AxisNumber, BELOW, Canvas, Frame, LABEL, LEFT, TITLE, angle_ticks_between_deg,
    chart_width, drawable, has_label_margin, measure_labels, right_margin, ticks,
};
use crate::draw::handle::{DragMapping, Handle, HandleMaker};
use crate::draw::legend::{INSET, LEGEND_ROW};
use crate::draw::options::{RingState, ViewOptions};
use crate::draw::scene::{Anchor, Bounds, Role, Scene, Shape, clip, spread, words_width};
use crate::draw::view::{Follows, View};
use crate::fields::{FieldId, Slot};
use crate::measure::Measure;
use crate::model::{PairAnalysis, Pose};
use crate::pair::{Arc, Block, Edges};
use crate::ring::{FlankSide, Point, Side};
use crate::shift::Leg;
use crate::units::{Angle, Quantity, decimal, sort_by_number};

/// The phase map with the state of the rings and the way of the shift.
pub static MAP: View = View {
    key: "map",
    file_name: "phase-map",
    title: "Phase map",
    caption: "One window, and what blocks the way beside it. Across: how far ring A is turned. Down: how deep the dogs \
              are. Drag the circle to try another point; the curve is one shift from its phase.",
    shape: 0.5,
    screen_shape: [0.5, 0.7],
    follows: Follows::Shift,
    press_holds_all: true,
    shows_states: true,
    frame,
    draw,
    handles,
    ..View::BASE
};

/// How deep the map goes: until a tip meets a web.
fn map_depth(analysis: &Analysis) -> f64 {
    let [a, b] = Side::BOTH.map(|s| analysis.ring(s).tallest_mm());
    drawable(a.min(b), 0.5)
}

/// Height of the web below the deepest overlap, in letter heights.
const WEB: f64 = 0.9;

/// Rows above the map, in letter heights: the title of the upright axis, and the names of the passes below it.
const ABOVE: f64 = TITLE + 1.2;

fn frame(analysis: &Analysis, canvas: &Canvas) -> Frame {
    let right = right_margin(has_label_margin(canvas.letter));
    let (text_mm, plot) = chart_width(canvas.letter, right);
    let (min_x, max_x) = (-LEFT * text_mm, plot + right * text_mm);
    let [from, to] = span(analysis, canvas.whole_shift);
    let radius_mm = plot / (to - from);
    let deepest = map_depth(analysis);
    // An overlap asked for outside the map is shown as far as it still leaves room for the map.
    let clearance = (0.2 * deepest - analysis.overlap_mm()).clamp(0.15 * deepest, deepest);
    let below = WEB + BELOW + LEGEND_ROW * key_rows(canvas.letter);
    let paper = ((max_x - min_x) * canvas.shape - (below + ABOVE) * text_mm).max(LEAST * text_mm);
    let stretch = paper / (deepest + clearance);
    let min = Point::new(min_x, -deepest * stretch - below * text_mm);
    let max = Point::new(max_x, clearance * stretch + ABOVE * text_mm);
    let axes = [[from, to], [0.0; 2]];
    Frame { stretch, radius_mm, axes, ..Frame::new(Bounds { min, max }, text_mm) }
}

/// What is shown on either side of a window.
const BESIDE: Angle = Angle::from_radians(TAU / 12.0);

/// How far inside the edges the phase of the design is, at least.
const INSIDE: f64 = TAU / 60.0;

/// The phases that the map covers, radians: the window nearest to the phase, and as much on either side of it as shows
/// what is in the way. All of a turn where there is no window, and for a whole shift of rings whose windows differ.
fn span(analysis: &Analysis, whole_shift: bool) -> [f64; 2] {
    let whole = [0.0, TAU];
    let Some(pair) = &analysis.pair else { return whole };
    let phase = analysis.phase();
    let near =
        |a: &&Arc, b: &&Arc| a.distance(phase).radians().total_cmp(&b.distance(phase).radians());
    let Some(window) = pair.entry.iter().min_by(near) else { return whole };
    if whole_shift && pair.mesh.repeats() == 1 {
        return whole;
    }
    let middle = window.start.radians() + window.width.radians() / 2.0;
    let beside = window.width.radians() / 2.0 + BESIDE.radians();
    let own = middle + (phase - Angle::from_radians(middle)).signed().radians();
    let [from, to] = [(middle - beside).min(own - INSIDE), (middle + beside).max(own + INSIDE)];
    if to - from < TAU { [from, to] } else { whole }
}

/// Where a phase lies across the map: the place nearest to its middle.
fn across(frame: &Frame, phase: f64) -> f64 {
    let [from, to] = frame.axes[0];
    if to - from >= TAU {
        return frame.across((phase - from).rem_euclid(TAU));
    }
    let middle = (from + to) / 2.0;
    frame.across(middle - from + Angle::from_radians(phase - middle).signed().radians())
}

/// The width of the map.
fn width(frame: &Frame) -> f64 {
    frame.across(frame.axes[0][1] - frame.axes[0][0])
}

/// Least height of the map, in letter heights.
const LEAST: f64 = 8.0;

/// The map without what is written round it; nothing is left of it on a paper that is too low for the words.
fn inside(frame: &Frame) -> Bounds {
    let Bounds { min, max } = frame.bounds;
    let below = min.y + (BELOW + LEGEND_ROW * key_rows(frame.letter())) * frame.text_mm;
    let above = (max.y - ABOVE * frame.text_mm).max(below);
    Bounds { min: Point::new(0.0, below), max: Point::new(width(frame), above) }
}

fn draw(analysis: &Analysis, frame: &Frame, options: &ViewOptions) -> Scene {
    let mut scene = Scene::new(frame.bounds);
    let Some(pair) = &analysis.pair else { return scene };
    let deepest = map_depth(analysis);
    let axes = Axes::new(frame, inside(frame));
    let state = state(analysis, pair, frame, options.pose);
    numbers(&mut scene, frame, &axes, deepest, &state, options.reader);
    web(&mut scene, frame, &axes.inside, deepest);
    scene.add(Role::Blocked, Shape::Patches(patches(pair, frame, deepest)));
    if let Some(found) = was_blocked(options) {
        for patch in patches(found, frame, deepest) {
            scene.polygon(Role::Removed, &patch);
        }
    }
    if let Some(dog) = options.chosen {
        of_dog(&mut scene, analysis, pair, frame, dog);
    }
    axes.outline(&mut scene);
    levels(&mut scene, pair, frame, &axes, options.reader);
    windows(&mut scene, pair, frame);
    if let Some(shift) = &pair.shift {
        passes(&mut scene, &shift.attempt.legs, pair.mesh.repeats(), frame, options.reader);
    }
    axes.working_point(&mut scene, state.at);
    key(&mut scene, frame, options.reader);
    scene
}

/// What the selected dog blocks, outlined.
fn of_dog(
    scene: &mut Scene,
    analysis: &Analysis,
    pair: &PairAnalysis,
    frame: &Frame,
    (side, place): (Side, usize),
) {
    let dogs = &analysis.ring(side).dogs;
    let is_its_own = |block: &&Block| {
        let dog = if side == Side::A { block.dog_a } else { block.dog_b };
        dogs.get(dog).is_some_and(|dog| dog.place == place)
    };
    let deepest = map_depth(analysis);
    for block in pair.mesh.blocks.iter().filter(is_its_own).filter(|b| b.starts_mm < deepest) {
        for points in copies(&region(block, frame, deepest), block, frame) {
            for flank in flanks(&points, frame, deepest) {
                scene.line(Role::Rim, &flank).dog(side, place).chosen = true;
            }
        }
    }
}

/// A region at its place, and once more on either side of a turn, as far as it lies on the map.
fn copies(outline: &[Point], block: &Block, frame: &Frame) -> Vec<Vec<Point>> {
    let cut_off = places(outline, block, frame).map(|shift| clip(outline, shift, width(frame)));
    cut_off.filter(|points| points.len() > 2).collect()
}

/// How far a region is moved to where it lies on the map, or so near it that rounding decides.
fn places(outline: &[Point], block: &Block, frame: &Frame) -> impl Iterator<Item = f64> {
    let (turn, middle) = (frame.across(TAU), across(frame, block.phase.radians()));
    let (least, most) =
        outline.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), p| {
            (p.x.min(least), p.x.max(most))
        });
    let width = width(frame);
    let is_off = move |shift: &f64| most + shift < -NEAR_MM || least + shift > width + NEAR_MM;
    [middle - turn, middle, middle + turn].into_iter().filter(move |shift| !is_off(shift))
}

/// A region farther than this from the map is none of those on it, which are told apart by less, mm of paper.
const NEAR_MM: f64 = 0.01;

/// The edges of a region that are flanks or tips, and not where the map ends.
fn flanks(points: &[Point], frame: &Frame, deepest: f64) -> Vec<[Point; 2]> {
    const SAME: f64 = 1e-6;
    let next = points.iter().cycle().skip(1);
    let is_end = |a: &Point, b: &Point| {
        let both =
            |at: f64, of: fn(&Point) -> f64| (of(a) - at).abs() < SAME && (of(b) - at).abs() < SAME;
        both(0.0, |p| p.x) || both(width(frame), |p| p.x) || both(frame.down(deepest), |p| p.y)
    };
    let edges = points.iter().zip(next).filter(|(a, b)| !is_end(a, b));
    edges.map(|(a, b)| [*a, *b]).collect()
}

/// What is drawn how, below the axis.
fn key(scene: &mut Scene, frame: &Frame, reader: Reader) {
    let text = frame.text_mm;
    let columns = KEY.len() / key_rows_of(frame.letter());
    let share =
        (frame.bounds.width() - INSET * text) / f64::from(u32::try_from(columns).unwrap_or(1));
    for (at, (role, words)) in KEY.into_iter().enumerate() {
        let [row, column] =
            [at / columns, at % columns].map(|n| f64::from(u32::try_from(n).unwrap_or_default()));
        let x = frame.bounds.min.x + INSET * text + column * share;
        let y = inside(frame).min.y - (BELOW + 0.5 + LEGEND_ROW * row) * text;
        let corner = |[dx, dy]: [f64; 2]| Point::new(x + dx * text, y + dy * text);
        if role == Role::Blocked {
            let swatch = [[0.0, -0.5], [1.4, -0.5], [1.4, 0.5], [0.0, 0.5]].map(corner);
            scene.add(role, Shape::Patches(vec![swatch.into()]));
        } else {
            scene.line(role, &[[0.0, 0.0], [1.4, 0.0]].map(corner));
        }
        let at = corner([1.9, 0.0]);
        scene.text(Role::Note, at, text, Anchor::Start, words().show(reader));
    }
}

/// What the key explains.
const KEY: [(Role, Phrase); 4] = [
    (Role::Blocked, say::blocked),
    (Role::OpenEntry, say::open_at_tips),
    (Role::OpenDeep, say::open_at_depth),
    (Role::Way, say::path_of_shift),
];

/// From this share of a letter in the width on, the key has two rows, or four.
const KEY_LETTERS: [f64; 2] = [0.0182, 0.0361];

const fn key_rows_of(letter: f64) -> usize {
    if letter <= KEY_LETTERS[0] {
        1
    } else if letter <= KEY_LETTERS[1] {
        2
    } else {
        4
    }
}

fn key_rows(letter: f64) -> f64 {
    f64::from(u32::try_from(key_rows_of(letter)).unwrap_or(4))
}

/// The phase and overlap of the rings, and where they lie on the map.
struct State {
    phase_deg: f64,
    overlap_mm: f64,
    at: Point,
}

/// While a shift is played it moves along its way, and the point of the design is left out.
fn state(analysis: &Analysis, pair: &PairAnalysis, frame: &Frame, played: Option<Pose>) -> State {
    let (phase, overlap_mm) =
        played.map_or((analysis.phase(), analysis.overlap_mm()), |p| (p.phase, p.overlap_mm));
    let Bounds { min, max } = inside(frame);
    let phase = phase.wrapped();
    // A ring that is played may be windows away, all of them alike.
    let shown = if played.is_some() {
        folded(frame, phase.radians(), pair.mesh.repeats())
    } else {
        phase.radians()
    };
    let x = across(frame, shown).clamp(min.x, max.x);
    let at = Point::new(x, frame.down(overlap_mm).clamp(min.y, max.y));
    State { phase_deg: phase.degrees(), overlap_mm, at }
}

/// Phases below and depths at the left.
fn numbers(
    scene: &mut Scene,
    frame: &Frame,
    axes: &Axes,
    deepest: f64,
    state: &State,
    reader: Reader,
) {
    let units = reader.units;
    let [from, to] = frame.axes[0].map(f64::to_degrees);
    let phases = angle_ticks_between_deg(from, to, axes.room_across(3)).into_iter();
    let place = |deg: f64| frame.across((deg - from).to_radians());
    let phases: Vec<AxisNumber> =
        phases.map(|deg| (place(deg), format!("{:.0}", deg.rem_euclid(360.0)))).collect();
    let tenth = (state.phase_deg * 10.0).round() / 10.0;
    axes.below(scene, &phases, Some((state.at.x, tenth.to_string())));
    let scale = Quantity::Length.scale(units);
    let depths = ticks(deepest / scale, axes.room_up()).into_iter();
    let depths: Vec<AxisNumber> =
        depths.map(|depth| (frame.down(depth * scale), decimal(depth, 6))).collect();
    let own = Quantity::Length.format(state.overlap_mm, units).replace('-', "−");
    axes.beside(scene, &depths, Some((state.at.y, own)));
    axes.title_below(scene, say::phase_axis().show(reader));
    let unit = Quantity::Length.unit(units).to_owned();
    axes.title_beside(scene, say::depth_axis(unit).show(reader), 1.8);
}

/// Below this depth the tips would be in the web.
fn web(scene: &mut Scene, frame: &Frame, bounds: &Bounds, deepest: f64) {
    let top = frame.down(deepest);
    let corners = [
        (bounds.min.x, top),
        (bounds.max.x, top),
        (bounds.max.x, bounds.min.y),
        (bounds.min.x, bounds.min.y),
    ];
    scene.polygon(Role::Web, &corners.map(|(x, y)| Point::new(x, y)));
}

/// The pair as found, where its outline is drawn beside the pair as cut.
fn was_blocked<'a>(options: &ViewOptions<'a>) -> Option<&'a PairAnalysis> {
    options.found.filter(|_| options.state == RingState::Both)?.pair.as_ref()
}

/// What the dogs block, one patch for each region.
fn patches(pair: &PairAnalysis, frame: &Frame, deepest: f64) -> Vec<Vec<Point>> {
    let mut seen = HashSet::new();
    let mut patches = Vec::new();
    for block in pair.mesh.blocks.iter().filter(|b| b.starts_mm < deepest) {
        let outline = region(block, frame, deepest);
        // Equal rings block the same phases many times over; one drawing of it is enough.
        if places(&outline, block, frame).next().is_some()
            && seen.insert(fingerprint(&outline, frame.across(block.phase.radians())))
        {
            patches.append(&mut copies(&outline, block, frame));
        }
    }
    patches
}

/// A region's outline to a thousandth of a millimetre of paper.
fn fingerprint(outline: &[Point], middle: f64) -> Vec<i64> {
    #[expect(clippy::cast_possible_truncation, reason = "saturates, which only costs a drawing")]
    let round = |v: f64| (v * 1000.0).round() as i64;
    let ends = outline.iter().flat_map(|p| [round(p.x), round(p.y)]);
    std::iter::once(round(middle)).chain(ends).collect()
}

/// The phases and overlaps one pair of dogs blocks, about its middle, counter-clockwise.
fn region(block: &Block, frame: &Frame, deepest: f64) -> Vec<Point> {
    let [top, edge] = [block.starts_mm, block.edge_ends_mm().min(deepest)];
    let depths =
        [Some(top), Some(edge).filter(|x| *x != top), Some(deepest).filter(|x| *x != edge)];
    let at = |side: FlankSide, x: f64| {
        let reach = block.reach(side, x, Edges::Broken).max(0.0);
        Point::new(-side.sign() * frame.across(reach), frame.down(x))
    };
    let mut outline = Vec::with_capacity(2 * depths.len());
    outline.extend(depths.iter().flatten().map(|&x| at(FlankSide::Coast, x)));
    outline.extend(depths.iter().rev().flatten().map(|&x| at(FlankSide::Drive, x)));
    outline
}

/// Tip level and full depth, and how wide the windows are there: in the margin or, where there is none, at the
/// ends of the lines.
fn levels(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame, axes: &Axes, reader: Reader) {
    let full = pair.engagement.full_depth_mm;
    let opens = pair.entry.first().map(|window| say::opens(window.width.degrees()).show(reader));
    let lash = pair.held.map(|held| say::lash(held.width.degrees()).show(reader));
    let (depth, full_depth) = (Some(Measure::Depth), say::full_depth(full).show(reader));
    let (deep, shallow) = (frame.down(full), frame.down(0.0));
    let tips_level = say::tips_level().show(reader);
    let Bounds { min, max } = axes.inside;
    for (y, measure) in [(deep, depth), (shallow, None)] {
        let level = [Point::new(min.x, y), Point::new(max.x, y)];
        scene.line(Role::Level, &level).measures(measure);
    }
    let (lash, opens) = (
        lash.map(|words| (words, Some(Measure::Lash))),
        opens.map(|words| (words, Some(Measure::Window))),
    );
    if has_label_margin(frame.letter()) {
        let (full_depth, tips_level) = (Some((full_depth, depth)), Some((tips_level, None)));
        let labels =
            [(deep, &lash), (deep, &full_depth), (shallow, &opens), (shallow, &tips_level)];
        let labels = labels.into_iter().filter_map(|(y, label)| {
            let (words, measure) = label.as_ref()?;
            Some((y, words.as_str(), *measure))
        });
        return measure_labels(scene, frame, &axes.inside, &labels.collect::<Vec<_>>());
    }
    let text = frame.text_mm;
    let mut write = |y: f64, (words, measure): (String, Option<Measure>)| {
        let at = Point::new(max.x - 0.4 * text, y);
        scene.text(Role::Note, at, LABEL * text, Anchor::End, words).measures(measure);
    };
    // Below its line: the names of the passes are above it.
    write(shallow - 1.0 * text, opens.unwrap_or((tips_level, None)));
    write(deep + 0.9 * text, (full_depth, depth));
    if let Some(label) = lash {
        write(deep - 1.0 * text, label);
    }
}

/// Marks the windows at tip level and at full depth.
fn windows(scene: &mut Scene, pair: &PairAnalysis, frame: &Frame) {
    let engagement = &pair.engagement;
    let full = engagement.full_depth_mm;
    strips(scene, (Role::OpenEntry, Measure::Window), &pair.entry, frame, 0.0);
    strips(scene, (Role::OpenDeep, Measure::Lash), &engagement.windows, frame, full);
}

fn strips(
    scene: &mut Scene,
    (role, measure): (Role, Measure),
    windows: &[Arc],
    frame: &Frame,
    overlap_mm: f64,
) {
    let (y, turn) = (frame.down(overlap_mm), frame.across(TAU));
    for window in windows {
        let half = frame.across(window.width.radians()) / 2.0;
        let middle = across(frame, window.middle().radians());
        for middle in [middle - turn, middle, middle + turn] {
            let (from, to) = ((middle - half).max(0.0), (middle + half).min(width(frame)));
            if to > from {
                let strip = [Point::new(from, y), Point::new(to, y)];
                scene.line(role, &strip).measures(Some(measure));
            }
        }
    }
}

/// A phase brought as near to the middle of the map as blocked phases come again that often in a turn.
fn folded(frame: &Frame, phase: f64, repeats: u32) -> f64 {
    let (middle, part) = (f64::midpoint(frame.axes[0][0], frame.axes[0][1]), part(repeats));
    middle + (phase - middle + part / 2.0).rem_euclid(part) - part / 2.0
}

/// After how many radians blocked phases come again.
fn part(repeats: u32) -> f64 {
    TAU / f64::from(repeats.max(1))
}

/// The course of one shift: its first pass and its last, and faintly those between. A pass ends where the ring is
/// thrown back.
fn passes(scene: &mut Scene, legs: &[Leg], repeats: u32, frame: &Frame, reader: Reader) {
    /// Legs drawn between the first pass and the last; a shift that ratchets on would only blacken the map.
    const DRAWN: usize = 40;
    let is_thrown_back = |pair: &[Leg]| pair[1].overlap_mm[0] < pair[0].overlap_mm[1] - 1e-9;
    let thrown: Vec<usize> =
        (1..legs.len()).filter(|at| is_thrown_back(&legs[at - 1..=*at])).collect();
    let (first, last) = match (thrown.first(), thrown.last()) {
        (Some(first), Some(last)) => (*first, *last),
        _ => (legs.len(), legs.len()),
    };
    let between = &legs[first..last.min(first + DRAWN)];
    strokes(scene, &[Role::Border], between, repeats, frame);
    for pass in [&legs[last..], &legs[..first]] {
        strokes(scene, &[Role::Casing, Role::Way], pass, repeats, frame);
    }
    let fall =
        |pass: &[Leg]| pass.iter().find(|leg| leg.overlap_mm[1] > leg.overlap_mm[0]).copied();
    let begin = legs.first().map(|leg| leg.phase[0]);
    let mut named = vec![(begin, say::first_pass())];
    if last < legs.len() {
        named.push((fall(&legs[last..]).map(|leg| leg.phase[0]), say::last_pass()));
    }
    let place = |(phase, words): (Option<f64>, Message)| {
        let x = across(frame, folded(frame, phase?, repeats));
        (0.0..=width(frame)).contains(&x).then(|| (x, words.show(reader)))
    };
    let named: Vec<AxisNumber> = named.into_iter().filter_map(place).collect();
    name_passes(scene, frame, named);
}

/// Words over the map, each with a leader to tip level.
fn name_passes(scene: &mut Scene, frame: &Frame, mut named: Vec<AxisNumber>) {
    let (text, Bounds { min, max }) = (frame.text_mm, inside(frame));
    sort_by_number(&mut named, |(x, _)| *x);
    let wanted: Vec<_> = named.iter().map(|(x, _)| *x).collect();
    let rooms: Vec<_> =
        named.iter().map(|(_, words)| (words_width(words) * LABEL + 0.8) * text).collect();
    let places = spread(&wanted, &rooms, [min.x, max.x]);
    for ((x, words), place) in named.into_iter().zip(places) {
        let leader = [(x, frame.down(0.0)), (x, max.y), (place, max.y + 0.25 * text)];
        let path = Some(Measure::Path);
        scene.line(Role::Border, &leader.map(|(x, y)| Point::new(x, y))).measures(path);
        let at = Point::new(place, max.y + 0.8 * text);
        scene.text(Role::Note, at, LABEL * text, Anchor::Middle, words).measures(path);
    }
}

/// Legs as straight strokes in each of these roles, from the back.
fn strokes(scene: &mut Scene, roles: &[Role], legs: &[Leg], repeats: u32, frame: &Frame) {
    /// Straight pieces for the curve of a fall.
    const PIECES: u32 = 12;
    let mut strokes = Vec::new();
    for leg in legs {
        let points = (0..=PIECES).map(|at| leg.at(f64::from(at) / f64::from(PIECES)));
        let points: Vec<_> = points.collect();
        for pair in points.windows(2) {
            piece(&mut strokes, pair[0], pair[1], part(repeats), frame);
        }
    }
    if !strokes.is_empty() {
        for role in roles {
            let measure = (*role == Role::Way).then_some(Measure::Path);
            scene.add(*role, Shape::Strokes(strokes.clone())).measures(measure);
        }
    }
}

/// One straight piece of the way, wherever it comes again on the map, cut off at its edges.
fn piece(
    strokes: &mut Vec<[Point; 2]>,
    from: (f64, f64),
    to: (f64, f64),
    part: f64,
    frame: &Frame,
) {
    let [left, right] = frame.axes[0];
    let (low, high) = (from.0.min(to.0), from.0.max(to.0));
    // Nobody turns a ring so often that the count of turns needs more.
    let first = ((left - high) / part).ceil().clamp(-1e6, 1e6);
    for copy in 0..MOST_COPIES {
        let moved = (first + f64::from(copy)) * part;
        if low + moved > right {
            return;
        }
        let at = |phase: f64| phase + moved;
        let share = |edge: f64| {
            let (start, end) = (at(from.0), at(to.0));
            if end == start { 0.0 } else { (edge - start) / (end - start) }
        };
        let mut ends = [share(left), share(right)].map(|share: f64| share.clamp(0.0, 1.0));
        ends.sort_by(f64::total_cmp);
        let [begin, end] = if from.0 == to.0 { [0.0, 1.0] } else { ends };
        let point = |s: f64| {
            let (phase, overlap) = (at(from.0 + s * (to.0 - from.0)), from.1 + s * (to.1 - from.1));
            Point::new(frame.across(phase - left), frame.down(overlap))
        };
        if end > begin {
            strokes.push([point(begin), point(end)]);
        }
    }
}

/// As often as blocked phases come again on a map, at most: 60 dogs on 59 make 3540.
const MOST_COPIES: u32 = 4000;

fn handles(maker: &HandleMaker) -> Vec<Handle> {
    let (frame, bounds) = (maker.frame, inside(maker.frame));
    let y = frame.down(maker.analysis.overlap_mm()).clamp(bounds.min.y, bounds.max.y);
    // The handle of an overlap beyond the paper is at its edge and is dragged on from its own number.
    let zero = y + maker.design().setting.get(SettingField::Overlap) * frame.stretch;
    let phase = maker.analysis.phase().radians();
    let mapping = DragMapping::Across { from: frame.axes[0][0], radius_mm: frame.radius_mm };
    // On the axis of its number, where no words are in its way.
    let at = Point::new(across(frame, phase), bounds.min.y + 0.5 * frame.text_mm);
    let phase = maker.handle(Slot::Setting(FieldId::Phase), at, mapping);
    let overlap = maker.handle(
        Slot::Setting(FieldId::Overlap),
        Point::new(bounds.min.x, y),
        DragMapping::Along { zero, factor: -1.0 / frame.stretch },
    );
    [phase, overlap].into_iter().flatten().collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{Design, example, open};

    fn design(saved: &str) -> Design {
        open(saved).expect("it opens").design
    }

    #[test]
    fn the_map_shows_one_window_and_half_a_right_angle_less_on_either_side() {
        for phase in [30.0, 33.0, 95.0, 271.0, 359.0] {
            let mut design = example();
            design.set(Slot::Setting(FieldId::Phase), phase);
            let analysis = Analysis::of(&design);
            let frame = MAP.frame(&analysis, 500.0, 0.5, 12.0);
            let [from, to] = frame.axes[0].map(f64::to_degrees);
            assert!((to - from - 72.0).abs() < 3.0, "{from} {to}");
            let window = 60.0 * (phase / 60.0_f64).floor() + 30.0;
            assert!((from - (window - 36.0)).abs() < 3.0, "{phase}: {from}");
            let x = across(&frame, analysis.phase().radians());
            assert!((0.0..=width(&frame)).contains(&x), "{phase}");
        }
        // Windows of rings as measured differ: for a whole shift, all of them are shown.
        let measured = r#"{"crenel":1,"a":{"dogs":[{"centre_deg":0},{"centre_deg":100},{"centre_deg":200}]},
            "b":{"dogs":[{"centre_deg":0},{"centre_deg":97},{"centre_deg":230}]}}"#;
        let analysis = Analysis::of(&design(measured));
        assert_eq!(MAP.frame_of_shift(&analysis, 500.0, 0.5, 12.0).axes[0], [0.0, TAU]);
        assert_ne!(MAP.frame(&analysis, 500.0, 0.5, 12.0).axes[0], [0.0, TAU]);
    }

    fn words(scene: &Scene) -> Vec<String> {
        let text = |item: &crate::draw::Item| match &item.shape {
            Shape::Text(text) => Some(text.words.clone()),
            _ => None,
        };
        scene.items.iter().filter_map(text).collect()
    }

    #[test]
    fn first_and_last_pass_are_named_and_the_selected_dog_is_outlined() {
        let drawn = |saved: &str, chosen| {
            let analysis = Analysis::of(&design(saved));
            let frame = MAP.frame(&analysis, 500.0, 0.5, 12.0);
            MAP.draw(&analysis, &frame, &ViewOptions { chosen, ..ViewOptions::default() })
        };
        let has = |scene: &Scene, wanted: &str| words(scene).iter().any(|words| words == wanted);
        // Thrown back once at 300 rpm, straight in at 100.
        let thrown = drawn(r#"{"crenel":1}"#, None);
        assert!(has(&thrown, "first pass") && has(&thrown, "last pass"));
        let straight = drawn(r#"{"crenel":1,"slip_rpm":100}"#, None);
        assert!(has(&straight, "first pass") && !has(&straight, "last pass"));
        let outlined = |scene: &Scene| scene.items.iter().filter(|item| item.chosen).count();
        assert_eq!(outlined(&thrown), 0);
        assert!(outlined(&drawn(r#"{"crenel":1}"#, Some((Side::B, 2)))) > 0);
    }
}
