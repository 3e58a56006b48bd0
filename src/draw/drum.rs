//! The drum of a whole gearbox, developed over its turn: a line for each fork, when each gear meets and holds, and
//! the positions of the detent.

use crenel_words::{Reader, drawing as say};

use super::frame::{Axes, AxisNumber, BELOW, Canvas, Frame, LEFT, Plot, cased, chart_width, ticks};
use super::scene::{Anchor, Bounds, Role, Scene, Shape, circle, words_width};
use crate::drum::{Course, Drum, Level, Play, Span};
use crate::ring::Point;

/// Height of the line of a fork, and room above it, in letter heights.
const LANE: [f64; 2] = [4.4, 0.8];

/// Height of the row of a gear, and of the bar in it, in letter heights.
const ROW: [f64; 2] = [1.7, 0.9];

/// Room between the lines of the forks and the rows of the gears, in letter heights.
const BETWEEN: f64 = 0.9;

/// Room above the chart for the positions, in letter heights.
const ABOVE: f64 = 2.0;

/// Room right of the chart, in letter heights.
const RIGHT: f64 = 1.4;

/// Most letters of an angle along the axis.
const ANGLE_LETTERS: usize = 4;

/// What of a drum is shown.
#[derive(Clone, Copy, Debug)]
pub struct DrumChart<'a> {
    /// The drum.
    pub drum: &'a Drum,
    /// For each gear of the drum, its number from 0.
    pub gears: &'a [usize],
    /// For each fork of the drum, its number from 0.
    pub forks: &'a [usize],
    /// Where two gears can be in at once.
    pub at_once: &'a [Span],
    /// The drum angle that is pointed at, degrees.
    pub cursor_deg: f64,
    /// Whether the points of the tracks are marked, to be taken hold of.
    pub shows_points: bool,
}

impl DrumChart<'_> {
    /// The drum angles that the chart covers, degrees: as far as there are tracks and positions.
    pub fn range_deg(&self) -> [f64; 2] {
        let tracks = self.drum.forks.iter().filter_map(|fork| fork.track.points().last());
        let ends = tracks.map(|[deg, _]| *deg);
        let positions = self.drum.positions.iter().map(|position| position.deg);
        let last = ends.chain(positions).filter(|deg| deg.is_finite()).fold(30.0, f64::max);
        [0.0, last.min(crate::drum::TURN_DEG)]
    }

    /// The frame of the chart, with letters of this share of its width.
    pub fn frame(&self, letter: f64) -> Frame {
        let canvas = Canvas { shape: 1.0, letter, whole_shift: false };
        let (text, wide) = chart_width(canvas.letter, RIGHT);
        let high = self.rows_top() + BETWEEN + count(self.drum.forks.len()) * (LANE[0] + LANE[1]);
        let min = Point::new(-LEFT * text, -BELOW * text);
        let max = Point::new(wide + RIGHT * text, (high + ABOVE) * text);
        let across = self.range_deg();
        Frame { axes: [across, [0.0, high]], ..Frame::new(Bounds { min, max }, text) }
    }

    /// The drum angle at a point of the chart, degrees, within the chart.
    pub fn angle_deg(&self, frame: &Frame, at: Point) -> f64 {
        let plot = plot(frame);
        let [from, to] = frame.axes[0];
        (from + (at.x - plot.inside.min.x) / plot.scale()[0]).clamp(from, to)
    }

    /// The point of a track that is nearest to a point of the chart, no farther than `reach`: its fork on the drum, and
    /// its number in the track, both from 0.
    pub fn track_point_at(&self, frame: &Frame, at: Point, reach: f64) -> Option<(usize, usize)> {
        let plot = plot(frame);
        let forks = 0..self.drum.forks.len();
        let all = forks.flat_map(|fork| {
            let places = self.track_places(&plot, fork).into_iter().enumerate();
            places.map(move |(point, place)| ((fork, point), place.distance(at)))
        });
        let near = all.filter(|(_, apart)| *apart <= reach);
        near.min_by(|(_, a), (_, b)| a.total_cmp(b)).map(|(which, _)| which)
    }

    /// The drum angle in degrees and the place of a fork in mm that a point of the chart stands for.
    pub fn track_value(&self, frame: &Frame, at: Point, fork: usize) -> [f64; 2] {
        let plot = plot(frame);
        let up = (at.y - plot.inside.min.y) / plot.scale()[1] + frame.axes[1][0];
        [self.angle_deg(frame, at), (up - self.lane(fork)) / self.per_mm()]
    }

    /// Where the points of a track lie on the chart.
    fn track_places(&self, plot: &Plot, fork: usize) -> Vec<Point> {
        let (middle, per_mm) = (self.lane(fork), self.per_mm());
        let points = self.drum.forks[fork].track.points().iter();
        points.map(|[deg, mm]| plot.at(*deg, middle + mm * per_mm)).collect()
    }

    /// The chart.
    pub fn draw(&self, frame: &Frame, reader: Reader) -> Scene {
        let mut scene = Scene::new(frame.bounds);
        let plot = plot(frame);
        self.locked(&mut scene, frame, &plot);
        self.positions(&mut scene, frame, &plot);
        for fork in 0..self.drum.forks.len() {
            self.fork(&mut scene, frame, &plot, fork, reader);
        }
        for row in 0..self.drum.gears.len() {
            self.gear(&mut scene, frame, &plot, row);
        }
        let axes = Axes::new(frame, plot.inside);
        let [from, to] = frame.axes[0];
        let number = |deg: f64| -> AxisNumber { (plot.at(from + deg, 0.0).x, format!("{deg:.0}")) };
        let numbers: Vec<_> =
            ticks(to - from, axes.room_across(ANGLE_LETTERS)).into_iter().map(number).collect();
        axes.below(&mut scene, &numbers, None);
        axes.title_below(&mut scene, say::drum_axis().show(reader));
        self.cursor(&mut scene, frame, &plot);
        for fork in (0..self.drum.forks.len()).filter(|_| self.shows_points) {
            for place in self.track_places(&plot, fork) {
                circle(&mut scene, Role::Tip, place, 0.45 * frame.text_mm);
            }
        }
        scene.retain_finite()
    }

    /// The upper edge of the rows of the gears, in letter heights.
    fn rows_top(&self) -> f64 {
        count(self.drum.gears.len()) * ROW[0]
    }

    /// The middle of the line of a fork, in letter heights, the first one on top.
    fn lane(&self, fork: usize) -> f64 {
        let below = count(self.drum.forks.len() - 1 - fork);
        self.rows_top() + BETWEEN + below * (LANE[0] + LANE[1]) + LANE[0] / 2.0
    }

    /// Letter heights for one mm of fork travel, the same for every fork.
    fn per_mm(&self) -> f64 {
        let forks = 0..self.drum.forks.len();
        let most = |fork: usize| {
            let course = self.drum.fork_course(fork);
            let far = course.points().iter().map(|[_, mm]| mm.abs()).fold(0.0, f64::max);
            far + self.drum.fork_play_mm(fork)
        };
        LANE[0] / 2.0 / forks.map(most).filter(|mm| mm.is_finite()).fold(1.0, f64::max)
    }

    /// Where two gears can be in at once, behind the rows of the gears.
    fn locked(&self, scene: &mut Scene, frame: &Frame, plot: &Plot) {
        let ([from, to], top) = (frame.axes[0], self.rows_top());
        let shown = self.at_once.iter().map(|span| [span.from_deg.max(from), span.to_deg.min(to)]);
        let band = |[from, to]: [f64; 2]| {
            [(from, 0.0), (to, 0.0), (to, top), (from, top)]
                .map(|(deg, up)| plot.at(deg, up))
                .to_vec()
        };
        let bands: Vec<_> = shown.filter(|[from, to]| from < to).map(band).collect();
        if !bands.is_empty() {
            scene.add(Role::Locked, Shape::Patches(bands));
        }
    }

    /// Where the detent holds the drum, and what is in there.
    fn positions(&self, scene: &mut Scene, frame: &Frame, plot: &Plot) {
        let text = frame.text_mm;
        for position in &self.drum.positions {
            let (foot, top) = (plot.at(position.deg, 0.0), plot.inside.max.y);
            scene.line(Role::Grid, &[foot, Point::new(foot.x, top)]);
            let gear = position.gear.and_then(|gear| self.gears.get(gear));
            let words = gear.map_or_else(|| "N".to_owned(), |gear| (gear + 1).to_string());
            let at = Point::new(foot.x, top + 0.9 * text);
            scene.text(Role::Label, at, text, Anchor::Middle, words);
        }
    }

    /// The pads of a fork over the turn, with the play as a band, and the track of a bent fork.
    fn fork(&self, scene: &mut Scene, frame: &Frame, plot: &Plot, fork: usize, reader: Reader) {
        let (own, text) = (&self.drum.forks[fork], frame.text_mm);
        let (middle, per_mm) = (self.lane(fork), self.per_mm());
        let [from, to] = frame.axes[0];
        let at = |deg: f64, mm: f64| plot.at(deg, middle + mm * per_mm);
        scene.line(Role::Grid, &[at(from, 0.0), at(to, 0.0)]);
        let course = self.drum.fork_course(fork);
        let line =
            |by: f64| -> Vec<Point> { within(&course, [from, to], |deg, mm| at(deg, mm + by)) };
        let play = self.drum.fork_play_mm(fork);
        let band: Vec<_> = line(play).into_iter().chain(line(-play).into_iter().rev()).collect();
        scene.add(Role::Blocked, Shape::Patches(vec![band]));
        if own.offset_mm != 0.0 {
            scene.line(Role::Level, &line(-own.offset_mm));
        }
        scene.line(Role::Section, &line(0.0));
        let number = self.forks.get(fork).copied().unwrap_or(fork);
        let name = say::fork(number).show(reader);
        // A language whose word has no room there has the number alone.
        let fits = words_width(&name) <= LEFT - 0.7;
        let name = if fits { name } else { (number + 1).to_string() };
        let left = Point::new(plot.inside.min.x - 0.5 * text, at(from, 0.0).y);
        scene.text(Role::Note, left, text, Anchor::End, name);
    }

    /// When a gear meets, when it holds, and how much further play can bring it in.
    fn gear(&self, scene: &mut Scene, frame: &Frame, plot: &Plot, row: usize) {
        let Some(number) = self.gears.get(row) else { return };
        let text = frame.text_mm;
        let middle = self.rows_top() - (count(row) + 0.5) * ROW[0];
        let [from, to] = frame.axes[0];
        let bars = |play: Play, level: Level, half: f64| -> Vec<Vec<Point>> {
            let spans = self.drum.overlap(row, play).spans(level).into_iter();
            let shown = spans.map(|span| [span.from_deg.max(from), span.to_deg.min(to)]);
            let bar = |[from, to]: [f64; 2]| {
                let corners = [(from, -half), (to, -half), (to, half), (from, half)];
                corners.map(|(deg, up)| plot.at(deg, middle + up)).to_vec()
            };
            shown.filter(|[from, to]| from < to).map(bar).collect()
        };
        scene.line(Role::Grid, &[plot.at(from, middle), plot.at(to, middle)]);
        let half = ROW[1] / 2.0;
        let hold = self.drum.gears[row].hold_mm;
        let all = [
            (Role::Blocked, bars(Play::Most, Level::Above(0.0), half / 2.0)),
            (Role::StraightIn, bars(Play::Nominal, Level::Above(0.0), half)),
            (Role::AfterRubbing, bars(Play::Nominal, Level::From(hold), half)),
        ];
        for (role, patches) in all.into_iter().filter(|(_, patches)| !patches.is_empty()) {
            scene.add(role, Shape::Patches(patches));
        }
        let left = Point::new(plot.inside.min.x - 0.5 * text, plot.at(from, middle).y);
        scene.text(Role::Note, left, text, Anchor::End, (number + 1).to_string());
    }

    /// The drum angle that is pointed at, with a mark on the line of each fork.
    fn cursor(&self, scene: &mut Scene, frame: &Frame, plot: &Plot) {
        let [from, to] = frame.axes[0];
        let deg = self.cursor_deg.clamp(from, to);
        let (foot, top) = (plot.at(deg, 0.0), plot.inside.max.y);
        cased(scene, Role::State, &[foot, Point::new(foot.x, top)]);
        for fork in 0..self.drum.forks.len() {
            let mm = self.drum.fork_course(fork).at_mm(deg);
            let at = plot.at(deg, self.lane(fork) + mm * self.per_mm());
            for role in [Role::Casing, Role::State] {
                circle(scene, role, at, 0.4 * frame.text_mm);
            }
        }
    }
}

/// The inside of the chart: degrees across, letter heights upwards.
fn plot(frame: &Frame) -> Plot<'_> {
    let Bounds { min, max } = frame.bounds;
    let text = frame.text_mm;
    let inside = Bounds {
        min: Point::new(min.x + LEFT * text, min.y + BELOW * text),
        max: Point::new(max.x - RIGHT * text, max.y - ABOVE * text),
    };
    let [across, up] = frame.axes;
    Plot::within(frame, inside, across, up)
}

/// A course between two angles, each of its points placed.
fn within(course: &Course, [from, to]: [f64; 2], place: impl Fn(f64, f64) -> Point) -> Vec<Point> {
    let inside = course.points().iter().map(|[deg, _]| *deg).filter(|deg| *deg > from && *deg < to);
    let angles = [from].into_iter().chain(inside).chain([to]);
    angles.map(|deg| place(deg, course.at_mm(deg))).collect()
}

fn count(of: usize) -> f64 {
    f64::from(u32::try_from(of).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drum::{Face, Fork, Gear, Position};
    use crate::selector::Track;

    /// The drum of the check: two forks move 5 mm, one after the other, with 0.6 to go.
    fn drum() -> Drum {
        let fork =
            |points: [[f64; 2]; 2]| Fork::plain(Track::through(points.to_vec()).expect("it rises"));
        let gear = |fork| Gear { fork, hold_mm: 1.0, ..Gear::plain(Face::Higher, 0.6) };
        Drum {
            forks: vec![fork([[4.0, 5.0], [26.0, 0.0]]), fork([[34.0, 0.0], [56.0, 5.0]])],
            shafts_mm: vec![0.0],
            gears: vec![gear(0), gear(1)],
            positions: [(0.0, Some(0)), (30.0, None), (60.0, Some(1))]
                .map(|(deg, gear)| Position { deg, gear })
                .to_vec(),
            float_mm: 0.0,
            slack_deg: 0.0,
            stand_deg: 0.0,
        }
    }

    fn chart(drum: &Drum) -> DrumChart<'_> {
        let (gears, forks) = (&[0, 1], &[0, 1]);
        DrumChart { drum, gears, forks, at_once: &[], cursor_deg: 30.0, shows_points: true }
    }

    #[test]
    fn a_point_of_a_track_is_taken_hold_of_where_it_is_drawn() {
        let drum = drum();
        let chart = chart(&drum);
        let frame = chart.frame(0.02);
        let plot = plot(&frame);
        for fork in 0..2 {
            for (point, [deg, mm]) in drum.forks[fork].track.points().iter().enumerate() {
                let at = chart.track_places(&plot, fork)[point];
                assert_eq!(chart.track_point_at(&frame, at, 0.1), Some((fork, point)));
                let [back_deg, back_mm] = chart.track_value(&frame, at, fork);
                assert!((back_deg - deg).abs() < 1e-9 && (back_mm - mm).abs() < 1e-9);
            }
        }
        assert_eq!(chart.track_point_at(&frame, Point::new(-1e3, 0.0), 0.1), None);
        let marked = chart.draw(&frame, Reader::default());
        assert_eq!(marked.items.iter().filter(|item| item.role == Role::Tip).count(), 4);
    }

    /// The angles at which the bars of a role begin and end.
    fn ends(chart: &DrumChart, role: Role) -> Vec<[f64; 2]> {
        let frame = chart.frame(0.02);
        let scene = chart.draw(&frame, Reader::default());
        let patches = scene.items.iter().filter(|item| item.role == role).flat_map(|item| {
            let Shape::Patches(patches) = &item.shape else { panic!("bars are filled") };
            patches.clone()
        });
        let degrees = |bar: Vec<Point>| {
            let at = |p: Point| chart.angle_deg(&frame, p);
            [at(bar[0]), at(bar[1])]
        };
        patches.map(degrees).collect()
    }

    #[test]
    fn bars_begin_and_end_where_the_dogs_meet_and_hold() {
        let drum = drum();
        let chart = chart(&drum);
        // 4.4° for each mm: they meet 0.6 mm from neutral and hold 1 mm deeper.
        let near = |role, wanted: [[f64; 2]; 2]| {
            let found = ends(&chart, role);
            assert_eq!(found.len(), 2);
            let all = found.as_flattened().iter().zip(wanted.as_flattened());
            assert!(all.clone().all(|(a, b)| (a - b).abs() < 1e-9), "{role:?}: {found:?}");
        };
        near(Role::StraightIn, [[0.0, 23.36], [36.64, 60.0]]);
        near(Role::AfterRubbing, [[0.0, 18.96], [41.04, 60.0]]);
        assert!(ends(&chart, Role::Locked).is_empty());
    }

    #[test]
    fn where_two_gears_are_in_at_once_is_marked_and_the_cursor_keeps_to_the_chart() {
        let drum = drum();
        let span = Span { from_deg: 14.8, to_deg: 45.2 };
        let chart = DrumChart { at_once: &[span], cursor_deg: 900.0, ..chart(&drum) };
        let found = ends(&chart, Role::Locked);
        assert!((found[0][0] - 14.8).abs() < 1e-9 && (found[0][1] - 45.2).abs() < 1e-9);
        let frame = chart.frame(0.035);
        let scene = chart.draw(&frame, Reader::default());
        let Bounds { min, max } = frame.bounds;
        let inside = |p: Point| (min.x..=max.x).contains(&p.x) && (min.y..=max.y).contains(&p.y);
        let ends = scene.items.iter().filter_map(|item| match &item.shape {
            Shape::Path { segments, .. } => Some(segments.iter().flat_map(|s| [s.from(), s.to()])),
            _ => None,
        });
        assert!(ends.flatten().all(inside));
    }

    #[test]
    fn a_bent_fork_is_drawn_beside_its_track() {
        let mut drum = drum();
        drum.forks[1].offset_mm = 0.75;
        let chart = chart(&drum);
        let scene = chart.draw(&chart.frame(0.02), Reader::default());
        let tracks = scene.items.iter().filter(|item| item.role == Role::Level);
        assert_eq!(tracks.count(), 1);
        assert!((drum.fork_course(1).at_mm(60.0) - 5.75).abs() < 1e-12);
    }
}
