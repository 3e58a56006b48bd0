//! Ranges of lash and window time against closed forms and against every corner tried.

use crenel::analysis::Analysis;
use crenel::design::{Design, Size as MadeSize, open};
use crenel::fields::{FieldId, Slot};
use crenel::figures::figures;
use crenel::ring::{PerSide, Ring, Side};
use crenel::suggest::{Goal, reach_with};
use crenel::tolerance::{
    DogSpread, Limits, Ranging, Size, SizeLimits, Spread, margins, put_all_off, ranges, shares,
    size_limits, worst_case,
};
use crenel::units::Seeded;

fn analysis(text: &str) -> Analysis {
    Analysis::of(&open(text).expect("it opens").design)
}

/// Two of three dogs each that lean, of unequal widths and heights.
const THREE: &str = r#"{ "crenel": 1, "hold_depth_mm": 1.2, "overlap_mm": 3.5, "phase_deg": 60,
    "a": { "dogs": [{ "centre_deg": 0, "tip_width_deg": 40, "height_mm": 5, "back_cut_drive_deg": 4 },
        { "centre_deg": 119, "tip_width_deg": 42, "height_mm": 5, "back_cut_drive_deg": 4 },
        { "centre_deg": 241, "tip_width_deg": 41, "height_mm": 4.6, "back_cut_drive_deg": 4 }] },
    "b": { "dogs": [{ "centre_deg": 1, "tip_width_deg": 38, "height_mm": 5, "back_cut_drive_deg": 5 },
        { "centre_deg": 121, "tip_width_deg": 39, "height_mm": 4.9, "back_cut_drive_deg": 5 },
        { "centre_deg": 240, "tip_width_deg": 37, "height_mm": 5, "back_cut_drive_deg": 5 }] } }"#;

fn spread(now: &Analysis, position: f64, width: f64, height: f64) -> Spread {
    let dog = DogSpread {
        position_deg: Limits { minus: position, plus: 0.7 * position },
        width_deg: Limits { minus: 0.5 * width, plus: width },
        height_mm: Limits { minus: height, plus: 0.5 * height },
    };
    Spread::alike(&now.cut, dog)
}

/// The number of a goal with every size at a share of its limits, −1 to 1.
fn at(now: &Analysis, spread: &Spread, goal: Goal, shares: &mut impl FnMut() -> f64) -> f64 {
    let rings = put_all_off(&now.cut, spread, |limits| limits.at(shares()));
    reach_with(now, &rings, goal).expect("they go in")
}

/// The least lash is that of the worst of all corners, here of 12 sizes: 4096 of them.
#[test]
fn the_least_lash_is_that_of_the_worst_corner() {
    let now = analysis(THREE);
    for (position, width, height) in
        [(0.2, 0.0, 0.0), (0.0, 0.3, 0.0), (0.2, 0.3, 0.0), (0.1, 0.0, 0.05)]
    {
        let spread = spread(&now, position, width, height);
        let count = spread.sizes().count();
        let mut least = f64::INFINITY;
        for corner in 0..1_u32 << count {
            let mut bit = 0;
            let mut share = || {
                bit += 1;
                if corner >> (bit - 1) & 1 == 1 { 1.0 } else { -1.0 }
            };
            least = least.min(at(&now, &spread, Goal::Lash, &mut share));
        }
        let got = worst_case(&now, &spread, Goal::Lash).expect("they go in").least;
        assert!((got - least).abs() < 1e-9, "{position} {width} {height}: {got} {least}");
    }
}

/// The greatest is in general at no corner. From many starts, sizes are moved one or two at a time as long as
/// the lash grows: that comes up to the programme, and never past it.
#[test]
fn the_greatest_lash_is_reached_and_never_passed() {
    let now = analysis(THREE);
    let spread = spread(&now, 0.2, 0.3, 0.05);
    let count = spread.sizes().count();
    let got = worst_case(&now, &spread, Goal::Lash).expect("they go in").greatest;
    let mut random = Seeded::new(5);
    let mut best: f64 = 0.0;
    for _ in 0..6 {
        let mut shares: Vec<f64> = (0..count).map(|_| 2.0 * random.share() - 1.0).collect();
        let lash = |shares: &[f64]| {
            let mut next = shares.iter().copied();
            at(&now, &spread, Goal::Lash, &mut || next.next().expect("as many as there are"))
        };
        let mut has = lash(&shares);
        let mut step = 1.0;
        while step > 1e-4 {
            let mut tried = shares.clone();
            for _ in 0..1 + random.below(4) {
                let of = &mut tried[random.below(count)];
                *of = (*of + step * (2.0 * random.share() - 1.0)).clamp(-1.0, 1.0);
            }
            let now = lash(&tried);
            if now > has {
                (shares, has) = (tried, now);
            } else {
                step *= 0.997;
            }
        }
        assert!(has <= got + 1e-9, "{has} {got}");
        best = best.max(has);
    }
    assert!(got - best < 0.02, "{got} {best}");
}

#[test]
fn every_part_is_within_the_range_and_so_are_the_shares() {
    for text in [THREE, r#"{ "crenel": 1 }"#, r#"{ "crenel": 1, "a": { "heights": [1, 0.5] } }"#] {
        let now = analysis(text);
        let spread = spread(&now, 0.3, 0.4, 0.1);
        let mut random = Seeded::new(9);
        for goal in [Goal::Lash, Goal::Window] {
            let range = worst_case(&now, &spread, goal).expect("they go in");
            for _ in 0..500 {
                let has = at(&now, &spread, goal, &mut || 2.0 * random.share() - 1.0);
                assert!(
                    range.least - 1e-9 <= has && has <= range.greatest + 1e-9,
                    "{has} {range:?}"
                );
            }
            let shares = shares(&now, &spread, goal, 2000, 1).expect("they go in");
            let order = [range.least, shares.p05, shares.p50, shares.p95, range.greatest];
            assert!(order.is_sorted_by(|a, b| *a <= b + 1e-9) && shares.not_in == 0.0, "{order:?}");
        }
    }
}

/// A size at its margin still meets the goal, and a hair past it does not.
#[test]
fn a_margin_is_where_the_goal_is_just_met() {
    let text = THREE.replacen("{", r#"{ "wished_lash_deg": 37.5, "wished_window_ms": 21,"#, 1);
    let now = analysis(&text);
    let mut found = 0;
    for goal in [Goal::Lash, Goal::Window] {
        let list = margins(&now, goal);
        assert_eq!(list.len(), 18, "six dogs of three sizes");
        for one in list {
            for (margin, sign) in [(one.minus, -1.0), (one.plus, 1.0)] {
                let Some(margin) = margin else { continue };
                found += 1;
                let has = |by: f64| {
                    let dogs = &now.cut[one.side].dogs;
                    let dog =
                        dogs.iter().position(|dog| dog.place == one.place).expect("it is there");
                    let mut spread = Spread::alike(&now.cut, DogSpread::default());
                    let limits = Limits::both(by.abs());
                    spread.dogs[one.side][dog] = DogSpread::default().with(one.size, limits);
                    let rings = put_all_off(&now.cut, &spread, |_| by);
                    reach_with(&now, &rings, goal).unwrap_or_default()
                };
                let wanted = crenel::suggest::wanted(&now.design, goal);
                assert!(has(sign * margin) >= wanted, "{one:?}");
                assert!(has(sign * (margin + 1e-5)) < wanted, "{one:?}");
            }
        }
    }
    assert!(found > 6, "{found}");
    assert!(margins(&analysis(r#"{ "crenel": 1, "wished_lash_deg": 20 }"#), Goal::Lash).is_empty());
    assert_eq!(Size::ALL.map(Size::name), ["position", "width", "height"]);
}

/// Each figure's value is that of the report, within its range, and drawn in slices it is the same.
#[test]
fn the_range_of_a_figure_is_about_its_value() {
    let geared = r#"{ "crenel": 1, "travel_by": "drum", "load": "largest" }"#;
    for text in [THREE, geared, r#"{ "crenel": 1, "a": { "heights": [1, 0.5] } }"#] {
        let now = analysis(text);
        let all = ranges(&now);
        let keys: Vec<_> = all.iter().map(|range| range.figure.key).collect();
        let want = ["window_time_ms", "straight_in_limit_rpm", "lash_deg", "lash_mm"];
        assert_eq!(keys[..4], want);
        assert_eq!(keys[4..], ["lash_wheel_deg", "lash_tyre_mm", "clunk_nm"]);
        let figures = figures(&now);
        for range in &all {
            let value = figures.iter().find(|one| one.figure == range.figure).expect("it is there");
            let value = value.value.expect("a number");
            assert!((range.nominal - value).abs() < 1e-9 * value.abs(), "{value} {range:?}");
            let [p05, p50, p95] = range.shares;
            let order = [range.worst.least, p05, p50, p95, range.worst.greatest];
            assert!(order.is_sorted_by(|a, b| *a <= b + 1e-9) && p05 < p95, "{range:?}");
            assert!(range.worst.least < value && value < range.worst.greatest, "{range:?}");
            let by: Vec<_> = range.drivers.iter().map(|driver| driver.by().abs()).collect();
            assert!(!by.is_empty() && by.is_sorted_by(|a, b| a + 1e-9 >= *b), "{range:?}");
        }
        let mut slices = Ranging::of(&now);
        assert!(slices.to_ranges().is_empty(), "nothing is drawn yet");
        let mut firsts = 0;
        while slices.step() {
            if slices.is_first() && slices.to_ranges().len() == all.len() {
                firsts += 1;
            }
        }
        assert_eq!(firsts, 1, "the first ranges are told once");
        assert!(!slices.step(), "nothing is left to do");
        assert_eq!(slices.to_ranges(), all);
    }
}

/// Own limits of a dog count more than those of its ring, these more than the grade; what is measured has an
/// uncertainty, and what the plan makes of it a tolerance.
#[test]
fn every_size_has_the_limits_that_are_given_for_it() {
    let dogs = r#""dogs": [{ "centre_deg": 0 }, { "centre_deg": 120 }, { "centre_deg": 240 }]"#;
    let text = format!(
        r#"{{ "crenel": 1, "b": {{ {dogs}, "cuts": {{ "3": 4 }} }}, "tolerances": {{ "grade": "f",
            "planned": {{ "a.height_mm": 0.03, "a.dogs[1].height_mm": [0.12, 0], "b.height_mm": 0.04 }},
            "measured": {{ "b.centre_deg": 0.05, "b.dogs[0].height_mm": 0.01 }} }} }}"#
    );
    let now = analysis(&text);
    let spread = Spread::of(&now);
    let heights = |side| spread.dogs[side].iter().map(|dog| dog.height_mm).collect::<Vec<_>>();
    let one_sided = Limits { minus: 0.12, plus: 0.0 };
    let [ring, calliper] = [0.03, 0.02].map(Limits::both);
    assert_eq!(heights(Side::A)[..3], [ring, one_sided, ring]);
    assert_eq!(heights(Side::B), [Limits::both(0.01), calliper, Limits::both(0.04)]);
    assert_eq!(spread.dogs.a[0].position_deg, Limits::both(0.1));
    assert_eq!(spread.dogs.b[0].position_deg, Limits::both(0.05));
    // ±0.1 mm of grade f on 10.8 mm at 26 mm, and ±0.02 mm measured.
    let width = |mm: f64| (mm / 26.0_f64).to_degrees();
    assert!((spread.dogs.a[0].width_deg.plus - width(0.1)).abs() < 1e-12);
    assert!((spread.dogs.b[0].width_deg.plus - width(0.02)).abs() < 1e-12);
}

/// What cannot be a tolerance is told with its place, what was given, and the limit; the rest is kept.
#[test]
fn a_tolerance_that_cannot_be_is_told_and_left_out() {
    let text = |given: &str| format!(r#"{{ "crenel": 1, "tolerances": {{ {given} }} }}"#);
    for given in ["-0.1", "5.01", "\"fine\"", "[0.1]", "[0.1, -1]", "[0.1, 0.1, 0.1]", "null"] {
        let planned = format!(r#""planned": {{ "a.height_mm": {given}, "b.height_mm": 0.05 }}"#);
        let opened = open(&text(&planned)).expect("it opens");
        let [told] = &opened.findings[..] else { panic!("{given}: {:?}", opened.findings) };
        let words = told.text(Default::default());
        assert!(words.starts_with("Ring A, dog height: “"), "{words}");
        assert!(
            words.contains("from 0 to 5 mm") && !told.hint(Default::default()).is_empty(),
            "{words}"
        );
        let kept: Vec<_> = opened.design.tolerances.all_planned().collect();
        assert_eq!(kept, [(Slot::Ring(Side::B, FieldId::Height), Limits::both(0.05))]);
    }
    for unknown in [
        r#""planned": { "a.dogs[6].height_mm": 0.1 }"#,
        r#""measured": { "slip_rpm": 1 }"#,
        r#""finest": true"#,
    ] {
        let opened = open(&text(unknown)).expect("it opens");
        assert_eq!(opened.findings.len(), 1, "{unknown}");
        assert_eq!(opened.findings[0].code, "unknown_key");
        assert_eq!(opened.design, Design::default());
    }
    let wrong = open(&text(r#""grade": "x""#)).unwrap_err();
    assert_eq!(wrong[0].code, "unknown_word");
}

/// A pair of rings with work planned on one or both, that reaches what is wished by a little.
fn job(number: u64) -> Option<Analysis> {
    let mut random = Seeded::new(number);
    let count = 2 * (1 + random.below(3)) + random.below(2);
    let every = |first: usize, by: usize| {
        (first..=count).step_by(by).map(|dog| dog.to_string()).collect::<Vec<_>>().join(", ")
    };
    let hold = 1.0 + 0.5 * random.share();
    let mut ring = || {
        let pitch = 360.0 / count as f64;
        let (width, tall) = ((0.25 + 0.15 * random.share()) * pitch, 4.5 + random.share());
        let mut plan = Vec::new();
        if random.share() < 0.8 {
            let to = tall - hold - 0.15 * random.share();
            plan.push(format!(
                r#"{{ "do": "shorten", "shorten_to_mm": {to}, "dogs": [{}] }}"#,
                every(2, 2)
            ));
        }
        if random.share() < 0.5 {
            let (stock, dogs) = (0.1 + 0.5 * random.share(), every(1, 1 + random.below(2)));
            plan.push(format!(
                r#"{{ "do": "narrow_coast", "flank_stock_mm": {stock}, "dogs": [{dogs}] }}"#
            ));
        }
        if random.share() < 0.3 {
            plan.push(format!(
                r#"{{ "do": "shorten", "shorten_to_mm": {}, "dogs": [{}] }}"#,
                tall - 0.1,
                every(1, 2)
            ));
        }
        let dogs = (0..count).map(|place| {
            format!(
                r#"{{ "centre_deg": {}, "tip_width_deg": {}, "height_mm": {tall},
                    "back_cut_drive_deg": {}, "edge_break_mm": 0.1 }}"#,
                pitch * (place as f64 + 0.02 * random.share()),
                width * (1.0 - 0.05 * random.share()),
                4.0 * random.share(),
            )
        });
        let dogs = dogs.collect::<Vec<_>>().join(", ");
        format!(r#"{{ "dogs": [{dogs}], "plan": [{}] }}"#, plan.join(", "))
    };
    let (a, b) = (ring(), ring());
    let (grade, close) = (["f", "m", "c"][random.below(3)], [random.share(), random.share()]);
    let text = format!(
        r#"{{ "crenel": 1, "a": {a}, "b": {b}, "overlap_mm": 3.4, "hold_depth_mm": {hold},
            "tolerances": {{ "grade": "{grade}" }} }}"#
    );
    let mut design = open(&text).expect("it opens").design;
    let now = Analysis::of(&design);
    for (goal, close) in [Goal::Window, Goal::Lash].into_iter().zip(close) {
        let has = reach_with(&now, &now.cut, goal)?;
        design.set(Slot::Setting(goal.field().id()), has * (1.0 - 0.1 * close));
    }
    Some(Analysis::of(&design))
}

/// Whether both goals are met by parts.
fn meets(now: &Analysis, rings: &PerSide<Ring>) -> bool {
    [Goal::Window, Goal::Lash].into_iter().all(|goal| {
        let wanted = crenel::suggest::wanted(&now.design, goal);
        reach_with(now, rings, goal).is_some_and(|has| has >= wanted)
    })
}

/// Rings with each size of a list off by what `by` makes of its limits.
fn made(
    now: &Analysis,
    list: &[SizeLimits],
    mut by: impl FnMut(&SizeLimits) -> f64,
) -> PerSide<Ring> {
    let mut rings = now.cut.clone();
    list.iter().for_each(|one| one.put_off(&now.found, &mut rings, by(one)));
    rings
}

/// Whether some part at the ends of its limits misses: heights of one ring's tallest dogs low, high or level with
/// another of them, the rest with more metal; heights and places change one or two at a time for as long as that makes
/// it worse. Then corners at random.
fn some_corner_misses(now: &Analysis, list: &[SizeLimits], random: &mut Seeded) -> bool {
    let is_tall = |one: &SizeLimits| {
        let ring = now.ring(one.side());
        let height = ring.at_place(one.place()).map(|dog| dog.height_mm);
        one.size() == Some(MadeSize::Height)
            && height.is_some_and(|mm| mm > ring.tallest_mm() - 1e-6)
    };
    let ends = |one: &SizeLimits| {
        let Limits { minus, plus } = one.limits;
        let level = list.iter().filter(|other| is_tall(other) && other.side() == one.side());
        let level = level.map(|other| other.limits.plus.min(plus)).filter(|_| is_tall(one));
        [-minus, plus].into_iter().chain(level).collect::<Vec<_>>()
    };
    let ends: Vec<_> = list.iter().map(ends).collect();
    let share = |corner: &[f64]| {
        let mut by = corner.iter();
        least_share(now, &made(now, list, |_| *by.next().expect("one for each")))
    };
    let both_ways = |at: &usize| list[*at].size().is_none() || is_tall(&list[*at]);
    let turned: Vec<_> = (0..list.len()).filter(both_ways).collect();
    let walk = |low_a: bool, low_b: bool, random: &mut Seeded| {
        let start = |(one, ends): (&SizeLimits, &Vec<f64>)| {
            let low = if one.side() == Side::A { low_a } else { low_b };
            let low = if one.size().is_none() { random.share() < 0.5 } else { low && is_tall(one) };
            ends[usize::from(!low)]
        };
        let mut corner: Vec<_> = list.iter().zip(&ends).map(start).collect();
        let (mut least, mut tried) = (share(&corner), 0);
        while least >= 1.0 && tried < 3 * turned.len() {
            let mut next = corner.clone();
            for _ in 0..1 + random.below(2) {
                let at = turned[random.below(turned.len())];
                next[at] = ends[at][random.below(ends[at].len())];
            }
            let has = share(&next);
            tried += 1;
            if has < least {
                (corner, least, tried) = (next, has, 0);
            }
        }
        least < 1.0
    };
    (0..TURNS).any(|turn| walk(turn & 1 == 1, turn & 2 == 2, random))
        || (0..500).any(|_| {
            let corner: Vec<_> = ends.iter().map(|ends| ends[random.below(2)]).collect();
            share(&corner) < 1.0
        })
}

/// How many corners are walked from.
const TURNS: usize = 48;

/// What parts reach of each goal, of what is wanted: that of the goal they are nearest to missing.
fn least_share(now: &Analysis, rings: &PerSide<Ring>) -> f64 {
    let share = |goal: Goal| {
        let wanted = crenel::suggest::wanted(&now.design, goal);
        reach_with(now, rings, goal).map_or(0.0, |has| has / wanted)
    };
    [Goal::Window, Goal::Lash].into_iter().map(share).fold(f64::INFINITY, f64::min)
}

fn from_environment(name: &str, otherwise: usize) -> usize {
    std::env::var(name).map_or(otherwise, |text| text.parse().expect("a number"))
}

/// Parts with all sizes anywhere within the printed limits reach what is wished, and no narrowed limit could be a
/// step wider. Limits that are the size's own tolerance need not be tight.
#[test]
fn printed_limits_are_worst_case_and_tight() {
    let (parts, jobs) =
        (from_environment("CRENEL_PARTS", 500), from_environment("CRENEL_JOBS", 10));
    let hang = |number: u64| {
        let now = job(number)?;
        let list = size_limits(&now);
        list.iter().any(SizeLimits::is_narrowed).then_some((number, now, list))
    };
    let (mut tight, mut of_places) = (0, 0);
    for (number, now, list) in (0..).filter_map(hang).take(jobs) {
        let mut random = Seeded::new(number);
        for _ in 0..parts {
            let at_ends = random.share() < 0.3;
            let rings = made(&now, &list, |one| {
                let Limits { minus, plus } = one.limits;
                match (at_ends, random.share()) {
                    (true, share) => {
                        if share < 0.5 {
                            -minus
                        } else {
                            plus
                        }
                    }
                    (false, share) => share * (minus + plus) - minus,
                }
            });
            assert!(meets(&now, &rings), "{number}: {}", least_share(&now, &rings));
        }
        for at in 0..list.len() {
            for more in [true, false] {
                let of = |limits: Limits| if more { limits.plus } else { limits.minus };
                let one = &list[at];
                if of(one.limits) >= of(one.own) {
                    continue;
                }
                let mut wider = list.clone();
                let limits = &mut wider[at].limits;
                *(if more { &mut limits.plus } else { &mut limits.minus }) += one.step();
                assert!(some_corner_misses(&now, &wider, &mut random), "{number}: {one:?} {more}");
                tight += 1;
                of_places += usize::from(one.size().is_none());
            }
        }
    }
    assert!(tight >= jobs && of_places > 0, "{tight} {of_places}");
}
