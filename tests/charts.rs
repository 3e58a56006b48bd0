//! Words on charts and drawings keep clear of each other, in a language that is 40 % longer too.

use crenel_words::{Dictionary, Language, Reader};

use crenel::analysis::Analysis;
use crenel::design::{
    ClawSpec, DepthSpec, Design, DetentSpec, LinkageSpec, PedalBy, SettingField, TrackSpec,
    example, gallery,
};
use crenel::draw::views::VIEWS;
use crenel::draw::{
    Anchor, Bounds, Curve, Role, Scene, Shape, Text, TimeLines, Trade, View, ViewOptions,
    chance_curves, chance_frame, release_chart, release_frame, time_line_chart, time_line_frame,
    top_of, trade_chart,
};
use crenel::model::{Chances, Manner, TimeLine, timed_shifts};
use crenel::ring::{Point, Segment};
use crenel::selector::Stroke;
use crenel::shift::{OutcomeMap, Pull, Release, TorqueCut, TwoMasses};
use crenel::texts;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit};

/// Widths of a drawing on phones, tablets and desks, CSS pixels.
const WIDTHS_PX: [f64; 5] = [292.0, 370.0, 540.0, 684.0, 1052.0];

fn readers() -> [Reader; 2] {
    let file = texts::longer().to_string();
    let longer = Box::leak(Box::new(Dictionary::read(&file).expect("it is of that form")));
    let shop = DisplayUnits { length: LengthUnit::Inch, angle: AngleStyle::Dms };
    [Reader::default(), Reader { language: Language::Loaded(longer), units: shop }]
}

fn designs() -> Vec<(String, Design)> {
    let mut all: Vec<_> =
        gallery().iter().map(|example| (example.key.to_owned(), example.design())).collect();
    for by in [PedalBy::RodAbove, PedalBy::RodBelow, PedalBy::OnShaft] {
        all.push((format!("{by:?}"), inwards(by)));
    }
    all
}

/// A design with every part between foot and dogs.
fn inwards(by: PedalBy) -> Design {
    let mut design = example();
    design.selector.linkage = Some(LinkageSpec::joined(by));
    design.selector.claw = Some(ClawSpec::default());
    design.selector.detent = Some(DetentSpec::default());
    design.selector.track = Some(TrackSpec::default());
    design.depth = Some(DepthSpec::example());
    design
}

fn texts_of(scene: &Scene) -> impl Iterator<Item = &Text> {
    scene.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text),
        _ => None,
    })
}

fn box_of(text: &Text) -> Bounds {
    // A letter is 0.55 of its height wide, all in all.
    let letters = f64::from(u32::try_from(text.words.chars().count()).expect("few"));
    let width = 0.55 * letters * text.height;
    let left = match text.anchor {
        Anchor::Start => text.at.x,
        Anchor::Middle => text.at.x - width / 2.0,
        Anchor::End => text.at.x - width,
    };
    let half = 0.45 * text.height;
    Bounds {
        min: Point::new(left, text.at.y - half),
        max: Point::new(left + width, text.at.y + half),
    }
}

fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.min.x < b.max.x && b.min.x < a.max.x && a.min.y < b.max.y && b.min.y < a.max.y
}

/// What is wrong with the words of a scene.
fn faults(scene: &Scene) -> Vec<String> {
    let all: Vec<_> = texts_of(scene).map(|text| (text, box_of(text))).collect();
    let mut faults = Vec::new();
    for (at, (text, own)) in all.iter().enumerate() {
        for (other, its) in &all[at + 1..] {
            if overlap(own, its) {
                faults.push(format!("“{}” over “{}”", text.words, other.words));
            }
        }
        let paper = &scene.bounds;
        let slack = 0.3 * text.height;
        if own.min.x < paper.min.x - slack
            || own.max.x > paper.max.x + slack
            || own.min.y < paper.min.y - slack
            || own.max.y > paper.max.y + slack
        {
            faults.push(format!("“{}” off the paper", text.words));
        }
    }
    faults
}

fn drawn(view: &View, analysis: &Analysis, px: f64, options: &ViewOptions) -> Scene {
    let shape = view.screen_shape[usize::from(px < 440.0)];
    let frame = view.frame(analysis, px, shape, 12.0);
    view.draw(analysis, &frame, options)
}

#[test]
fn no_words_of_a_view_lie_over_others_or_leave_the_paper() {
    let mut wrong = Vec::new();
    let readers = readers();
    for (name, design) in designs() {
        let analysis = Analysis::of(&design);
        let map = Chances::of(&analysis).map(|chances| chances.map(12, 8));
        for reader in readers {
            for stroke in [None, Some((Stroke::Lift, 1.0))] {
                let options = ViewOptions {
                    reader,
                    stroke,
                    outcomes: map.as_ref(),
                    ..ViewOptions::default()
                };
                for (view, px) in VIEWS.into_iter().flat_map(|view| WIDTHS_PX.map(|px| (view, px)))
                {
                    let faults = faults(&drawn(view, &analysis, px, &options));
                    let tag = reader.language.tag();
                    wrong.extend(
                        faults.iter().map(|fault| format!("{name} {view:?} {px} {tag}: {fault}")),
                    );
                }
            }
        }
    }
    wrong.dedup();
    assert!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn no_names_of_curves_lie_over_each_other() {
    let maps: Vec<OutcomeMap> = designs()
        .iter()
        .filter_map(|(_, design)| {
            let chances = Chances::of(&Analysis::of(design))?;
            Some(chances.up_to(1000.0).map(12, 24))
        })
        .collect();
    for reader in readers() {
        for four in maps.windows(4) {
            // The last is equal to the first.
            let curves: Vec<_> = [0, 1, 2, 0]
                .into_iter()
                .zip(1..)
                .map(|(at, number)| {
                    let name = format!("A layout with a name that goes on {number}");
                    Curve { number, name, map: &four[at] }
                })
                .collect();
            for px in WIDTHS_PX {
                let frame = chance_frame(1000.0, 0.5, 12.0 / px);
                let scene = chance_curves(&frame, &curves, reader);
                assert_eq!(faults(&scene), Vec::<String>::new(), "{px}");
                let names = texts_of(&scene).filter(|text| text.words.contains(" = ")).count();
                assert!(names >= 1, "equal curves have one name");
            }
        }
    }
}

#[test]
fn no_names_of_layouts_lie_over_each_other_where_they_cost_alike() {
    // Near each other, in a row, one above the other, in the corner of the words, and at nothing.
    let places = [
        [[300.0, 40.0], [302.0, 40.5], [304.0, 41.0], [310.0, 40.0], [300.0, 42.0], [306.0, 39.0]],
        [[100.0, 20.0], [200.0, 20.0], [300.0, 20.0], [400.0, 20.0], [500.0, 20.0], [600.0, 20.0]],
        [[400.0, 5.0], [400.0, 6.0], [400.0, 30.0], [399.0, 1.0], [401.0, 90.0], [400.0, 60.0]],
        [[0.0, 0.0], [0.0, 0.0], [900.0, 0.0], [900.0, 90.0], [0.0, 90.0], [450.0, 45.0]],
    ];
    for reader in readers() {
        for places in places {
            let trades: Vec<_> = places
                .into_iter()
                .zip(1..)
                .map(|([straight_in_rpm, clunk_nm], number)| {
                    let name = format!("A layout with a name that goes on {number}");
                    Trade { number, name, straight_in_rpm, clunk_nm }
                })
                .collect();
            for px in WIDTHS_PX {
                let frame = chance_frame(top_of(&trades), 0.7, 12.0 / px);
                let scene = trade_chart(&frame, &trades, reader);
                assert_eq!(faults(&scene), Vec::<String>::new(), "{px} {places:?}");
                let names = texts_of(&scene).filter(|text| text.words.contains("layout")).count();
                assert!(names == 6 || px < 440.0, "{px}: {names} names");
            }
        }
    }
}

/// The middle of the corners of a marker.
fn middle(sides: &[Segment]) -> Point {
    let sum = sides.iter().map(Segment::from).fold([0.0; 2], |[x, y], p| [x + p.x, y + p.y]);
    let count = f64::from(u32::try_from(sides.len()).expect("few"));
    Point::new(sum[0] / count, sum[1] / count)
}

#[test]
fn a_layout_lies_at_its_numbers() {
    let trade = |number, straight_in_rpm, clunk_nm| Trade {
        number,
        name: String::new(),
        straight_in_rpm,
        clunk_nm,
    };
    let trades = [trade(1, 275.0, 50.0), trade(2, 550.0, 100.0)];
    let frame = chance_frame(top_of(&trades), 0.42, 12.0 / 620.0);
    let scene = trade_chart(&frame, &trades, Reader::default());
    let middles: Vec<Point> = scene
        .items
        .iter()
        .filter(|item| item.role == Role::Datum)
        .filter_map(|item| match &item.shape {
            Shape::Path { segments, .. } => Some(middle(segments)),
            _ => None,
        })
        .collect();
    let [first, second] = middles[..] else { panic!("{middles:?}") };
    assert!((second.x / first.x - 2.0).abs() < 0.05 && (second.y / first.y - 2.0).abs() < 0.05);
}

#[test]
fn no_words_of_a_release_lie_over_others() {
    let masses = TwoMasses {
        engine_kg_m2: 4e-3,
        vehicle_kg_m2: 0.4,
        stiffness_nm_per_rad: 3000.0,
        damping: 0.05,
    };
    let cut = TorqueCut { engine_nm: 60.0, drag_nm: 8.0, ramp_s: 0.0 };
    // Out at once, after one strike, and never.
    for force_n in [2000.0, 250.0, 60.0, 5.0] {
        let pull = Pull {
            force_n,
            mass_kg: 0.3,
            fastest_m_per_s: None,
            overlap_m: 4.4e-3,
            hold_per_m: [14.0, 14.0],
            lash: 0.2,
            begins_s: 0.0,
        };
        let release = Release::of(&masses, &pull, &cut, 0.2);
        for reader in readers() {
            for px in WIDTHS_PX {
                let frame = release_frame(&release, 0.6, 12.0 / px);
                let scene = release_chart(&frame, &release, reader);
                assert_eq!(faults(&scene), Vec::<String>::new(), "{px} {force_n}");
                let named = texts_of(&scene).filter(|text| text.words.contains("ms")).count();
                assert!(named >= 2, "{force_n}: {named}");
            }
        }
    }
}

#[test]
fn no_words_of_a_whole_shift_lie_over_others() {
    let mut design = example();
    design.setting.set(SettingField::CutShare, 0.5);
    // With two masses, with the whole driveline, and with a cush drive at its stop and a tyre and a clutch that slip.
    let mut whole = design.clone();
    whole.setting.set(SettingField::CarrierInertia, 0.02);
    let mut slipping = whole.clone();
    slipping.setting.set(SettingField::CushTravel, 0.5);
    slipping.setting.set(SettingField::RearLoad, 300.0);
    slipping.setting.set(SettingField::ClutchSlip, 60.0);
    for (design, manner) in
        [design, whole, slipping].iter().flat_map(|d| Manner::ALL.map(|manner| (d, manner)))
    {
        let shifts = timed_shifts(&Analysis::of(design), manner);
        let lines = shifts.iter().map(|shift| TimeLine::of(shift, shift.step.engine_rpm).ok());
        let lines: Vec<_> = lines.collect();
        for (shift, line) in shifts.iter().zip(&lines) {
            let Some(line) = line else { continue };
            let beside = lines.iter().flatten().next_back();
            let lines = TimeLines { line, beside, to: shift.step.to, manner };
            for (reader, px) in readers().into_iter().flat_map(|r| WIDTHS_PX.map(|px| (r, px))) {
                let frame = time_line_frame(&lines, 0.6, 12.0 / px);
                let scene = time_line_chart(&frame, &lines, Some(0.02), reader);
                assert_eq!(faults(&scene), Vec::<String>::new(), "{px} {:?}", shift.step);
                let named = texts_of(&scene).filter(|text| text.words.contains("ms")).count();
                assert!(named >= 3, "{named}");
                assert!(scene.items.iter().any(|item| item.role == Role::CurveF));
            }
        }
    }
}

/// The line of the engine runs from the speed of the old gear to that of the new one.
#[test]
fn a_whole_shift_lies_at_its_numbers() {
    let mut design = example();
    design.setting.set(SettingField::CutShare, 0.5);
    let shift = timed_shifts(&Analysis::of(&design), Manner::Cut).swap_remove(0);
    let line = TimeLine::of(&shift, shift.step.engine_rpm).expect("a shift");
    let lines = TimeLines { line: &line, beside: None, to: shift.step.to, manner: Manner::Cut };
    let frame = time_line_frame(&lines, 0.6, 12.0 / 620.0);
    let scene = time_line_chart(&frame, &lines, None, Reader::default());
    let speeds = scene.items.iter().find(|item| item.role == Role::CurveC).expect("a curve");
    let Shape::Path { segments, .. } = &speeds.shape else { panic!("{speeds:?}") };
    let (first, last) = (segments[0].from(), segments[segments.len() - 1].to());
    assert!(first.x.abs() < 1e-9);
    let across = last.x / frame.bounds.max.x;
    assert!(across > 0.85 && across < 1.0, "{across}");
    // Upshift: the engine ends slower, at the line of the new gear.
    assert!(last.y < first.y);
    let levels = scene.items.iter().filter(|item| item.role == Role::Level);
    let flat = levels.filter_map(|item| match &item.shape {
        Shape::Path { segments, .. } => Some((segments[0].from().y, segments[0].to().y)),
        _ => None,
    });
    assert!(flat.into_iter().any(|(a, b)| (a - b).abs() < 1e-9 && (a - last.y).abs() < 1e-9));
}
