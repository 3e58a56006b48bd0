//! Thousands of designs through the report, every drawing and every file, each file read back.
//!
//! A design is made from its number alone, so that a failure names the one it was and the same is tried
//! on every machine. `cargo test` tries some; `make soak` tries ten thousand, the same way.

use std::sync::atomic::{AtomicU32, AtomicUsize, Ordering};

use crenel::analysis::Analysis;
use crenel_words::{Language, Reader};

use crenel::design::{Design, LINK_LIMIT, ShiftFrom, decode, encode, open, save, to_json};
use crenel::draw::views::VIEWS;
use crenel::draw::{PaperSize, Scene, Turn3, ViewOptions, paper_drawing, picture, ring_drawing};
use crenel::export::{
    Detail, EXPORTS, Export, ExportInput, chances_csv, dogs_csv, dxf, index_csv, step, stl,
    svg_file, svg_markup,
};
use crenel::figures::figures;
use crenel::model::Chances;
use crenel::report::{SetUpSheet, report_json};
use crenel::ring::Side;
use crenel::solid::Solid;
use crenel::units::{AngleStyle, DisplayUnits, LengthUnit};
use proptest::prelude::*;
use proptest::sample::select;
use proptest::strategy::ValueTree as _;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};

use crate::designs::{design, finite, sound_pair, within};
use crate::readers;

/// How many designs are tried, where nothing else is asked for.
const FEW: u32 = 300;

/// The name under which another number is asked for, or certain designs: `10000`, or `4711..4712`.
const ASKED: &str = "CRENEL_DESIGNS";

/// How far facets may be from the cylinders, mm.
const FACETS_MM: f64 = 0.05;

/// Texts that would break out of one kind of file or another.
pub(crate) fn names() -> impl Strategy<Value = String> {
    let nasty = select(NASTY_NAMES.to_vec()).prop_map(str::to_owned);
    prop_oneof![2 => nasty, 1 => any::<String>(), 1 => "[ -~]{0,40}"]
}

/// Markup, other directions of writing, signs beyond 16 bits, line ends, control characters, a mark of
/// byte order, formulas, codes of DXF and STEP, and places for numbers in our own sentences.
pub(crate) const NASTY_NAMES: [&str; 30] = [
    "",
    " ",
    "<script>alert(1)</script>",
    "\"><img src=x onerror=alert(1)>",
    "'/><svg onload=alert(1)>",
    "]]><b>&amp;&lt;&#0;&nosuch;",
    "--><!-- <?pi ?>",
    "</title></style></text></svg>",
    "&amp;&quot;",
    "\u{202e}gnitirw\u{202c}\u{2067}\u{2069}",
    "שיניים أسنان",
    "😀𝔊👩🏽‍🔧\u{10ffff}",
    "0\nENDSEC\n  0\nEOF\n",
    "a\r\n  0\r\nLINE\r\n",
    "\u{0}\u{1}\u{7}\u{8}\u{b}\u{1b}[31m\u{7f}\u{85}",
    "\u{feff}",
    "\u{fffe}\u{ffff}\u{2028}\u{2029}",
    "=1+1",
    "+1",
    "-1+cmd|' /C calc'!A0",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "a,\"b\";c\td",
    "'); DROP('",
    "O'Neill \\X2\\0041\\X0\\ \\S\\ \\P \\\\",
    "%%d %%%C ^J \\U+0041 \\M+1A2B4 {\\P;}",
    "solid {} {{}} {0}",
    "../../etc/passwd\u{0}.dxf",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW\
     WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
];

/// A design of whatever kind, with two rings that mesh more often than not, and names in every text.
fn any_design() -> impl Strategy<Value = Design> {
    let sound = (design(within), sound_pair()).prop_map(|(mut design, [a, b])| {
        (design.a, design.b) = (a, b);
        // What was given of other rings names numbers that are gone.
        design.given.clear();
        // A shift that the gearbox does not have would stand in the way of all the rest.
        if design.check().iter().any(|f| matches!(f.code, "no_such_shift" | "no_gearbox")) {
            design.setting.from = ShiftFrom::Typed;
        }
        design
    });
    let design = prop_oneof![6 => sound, 1 => design(within), 1 => design(finite)];
    let texts = (names(), names(), names(), names());
    (design, texts).prop_map(|(mut design, (title, initials, notes, name))| {
        (design.title, design.initials, design.notes) = (title, initials, notes);
        for link in design.depth.iter_mut().flat_map(|depth| depth.chains.iter_mut().flatten()) {
            link.name.clone_from(&name);
        }
        design.alternatives.iter_mut().for_each(|pair| pair.title.clone_from(&name));
        design
    })
}

/// The design of a number.
fn numbered(number: u32) -> Design {
    let mut seed = [0; 32];
    seed[..4].copy_from_slice(&number.to_le_bytes());
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &seed);
    let mut runner = TestRunner::new_with_rng(Config::default(), rng);
    any_design().new_tree(&mut runner).expect("designs are made without end").current()
}

/// What a file is, and what is wrong with it.
type CheckOutcome = Result<(), String>;

fn named<T>(what: &str, told: Result<T, String>) -> Result<T, String> {
    told.map_err(|why| format!("{what}: {why}"))
}

fn holds(what: &str, it: bool) -> CheckOutcome {
    if it { Ok(()) } else { Err(what.to_owned()) }
}

/// A design through everything. Says whether it could be worked out.
fn try_all(design: &Design) -> Result<bool, String> {
    let analysis = Analysis::of(design);
    saved(design)?;
    let report = report_json(&analysis);
    named("report", readers::json(&report))?;
    holds("the title of the report", report["title"] == design.title.as_str())?;
    for finding in &analysis.findings {
        let text = finding.text(Reader::default());
        holds(&text, text.ends_with('.') && finding.hint(Reader::default()).ends_with('.'))?;
    }
    drawings(&analysis)?;
    sheets(&analysis)?;
    solids(&analysis)?;
    tables(&analysis)?;
    exports(&analysis)?;
    Ok(analysis.pair.is_some())
}

fn saved(design: &Design) -> CheckOutcome {
    named("saved", readers::json(&save(design)))?;
    for text in [to_json(design), format!("{:#}\n", save(design))] {
        let opened = open(&text).map_err(|why| format!("{text}: {why:?}"))?;
        holds("the file opens as it was", opened.design == *design && opened.findings.is_empty())?;
    }
    let link = encode(design);
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_');
    holds("the link is plain", link.chars().all(plain))?;
    let too_long = link.len() > LINK_LIMIT;
    let same = decode(&link).is_ok_and(|opened| opened.design == *design);
    holds("the link opens as it was", same || too_long)
}

/// Views in the units of the shop and on a narrow screen too, with their frames and handles.
fn drawings(analysis: &Analysis) -> CheckOutcome {
    let shop = DisplayUnits { length: LengthUnit::Inch, angle: AngleStyle::Dms };
    let title = &analysis.design.title;
    let map = Chances::of(analysis).map(|chances| chances.map(9, 6));
    for (view, (wide, units)) in VIEWS
        .into_iter()
        .flat_map(|view| [(600.0, DisplayUnits::default()), (330.0, shop)].map(|how| (view, how)))
    {
        let frame = view.frame(analysis, wide, view.shape, 12.0);
        let reader = Reader { units, ..Reader::default() };
        let options = ViewOptions { reader, outcomes: map.as_ref(), ..ViewOptions::default() };
        let scene = view.draw(analysis, &frame, &options);
        let name = view.file_name;
        named(name, drawn(&scene, analysis.pair.is_some() || !view.is_of_pair()))?;
        named(name, readers::markup(&svg_markup(&scene)).map(drop))?;
        for side in Side::BOTH {
            for handle in view.handles(analysis, &frame, side, 1) {
                let value = handle.value_at(handle.at);
                let within = (handle.min..=handle.max).contains(&value);
                holds(&format!("{handle:?} gives {value}"), within || handle.min > handle.max)?;
            }
        }
        if wide > 500.0 {
            file(name, &scene, title)?;
        }
    }
    let scene = picture(analysis, &analysis.body(), &Turn3::default(), &ViewOptions::default());
    file("solid", &scene, title)
}

/// Nothing on a drawing is nowhere, nor says a number that is none.
fn drawn(scene: &Scene, sound: bool) -> CheckOutcome {
    let at_hand = readers::numbers_of(scene).into_iter().all(f64::is_finite);
    holds("a coordinate is no number", at_hand || !sound)
}

/// An SVG file with everything in it that the scene says.
pub(crate) fn file(name: &str, scene: &Scene, title: &str) -> CheckOutcome {
    let read = named(name, readers::svg(&svg_file(scene, title)))?;
    let legal = |words: &str| words.chars().filter(|&c| known_to_xml(c)).collect::<String>();
    // A parser takes line ends of every kind for one.
    let line = |words: &str| words.replace("\r\n", "\n").replace('\r', "\n");
    let same = |read: &str, words: &str| line(read).trim() == line(&legal(words)).trim();
    holds("the title of the file", same(&read.title, title))?;
    let mut words = readers::words_of(scene);
    let all = read.texts.iter().all(|text| words.next().is_some_and(|words| same(text, words)));
    holds(&format!("{name} says something else"), all && words.next().is_none())
}

/// The characters that XML 1.0 has, section 2.2.
fn known_to_xml(c: char) -> bool {
    matches!(c, '\t' | '\n' | '\r' | ' '..='\u{d7ff}' | '\u{e000}'..='\u{fffd}' | '\u{10000}'..)
}

fn sheets(analysis: &Analysis) -> CheckOutcome {
    let link = format!("https://example.org/#{}", encode(&analysis.design));
    for side in Side::BOTH {
        let scene = ring_drawing(analysis, side, &link, Language::British);
        file("sheet", &scene, &analysis.design.title)?;
        file("paper", &paper_drawing(analysis, side, 0.5, Language::British), "")?;
        let _ = crenel::draw::Fit::of(analysis, side, PaperSize::Letter, Language::British);
        let read = named("dxf", readers::dxf(&dxf(&scene)))?;
        let drawn = read.entities > read.texts.len();
        holds("the dxf shows the ring", drawn || analysis.pair.is_none())?;
        let words = readers::words_of(&scene).count();
        holds("the dxf has no text of its own", read.texts.len() <= words)?;
    }
    Ok(())
}

fn solids(analysis: &Analysis) -> CheckOutcome {
    for side in Side::BOTH {
        for ring in [&analysis.found[side], analysis.ring(side)] {
            let Ok(solid) = Solid::of(ring, &analysis.body()) else { continue };
            let facets = solid.facets(FACETS_MM);
            let title = &analysis.design.title;
            named("stl", readers::stl(&stl(&facets, title), facets.points.len()))?;
            let strings =
                named("step", readers::step(&step(&solid, title, "1970-01-01T00:00:00")))?;
            let plain: String = title.chars().filter(|c| !c.is_control()).collect();
            holds("the step file has its name", strings.contains(&plain))?;
        }
    }
    Ok(())
}

fn tables(analysis: &Analysis) -> CheckOutcome {
    let dogs = named("dogs.csv", readers::csv(&dogs_csv(analysis)))?;
    let standing: usize = analysis.found.iter().map(|ring| ring.dogs.len()).sum();
    holds("dogs.csv has a row for each dog", dogs.len() == 1 + standing)?;
    for side in Side::BOTH {
        let sheet = SetUpSheet::of(analysis, side, Default::default());
        let index = named(
            "index.csv",
            readers::csv(&index_csv(&sheet.named_by_operation(Default::default()))),
        )?;
        holds("index.csv has a row for each", index.len() == 1 + sheet.operation.len())?;
    }
    if let Some(chances) = Chances::of(analysis) {
        let rows = named("chances.csv", readers::csv(&chances_csv(&chances.map(12, 8))))?;
        holds("chances.csv has a row for each speed", rows.len() == 9)?;
    }
    let figures = figures(analysis);
    let finite = figures.iter().all(|figure| figure.value.is_none_or(f64::is_finite));
    holds("every figure is a number", finite || analysis.pair.is_none())
}

/// Every file that can be taken, read back by the reader of its format.
fn exports(analysis: &Analysis) -> CheckOutcome {
    let (reader, link, time) = (Reader::default(), "#", "1970-01-01T00:00:00");
    let detail = Detail { map: [12, 8], facets_mm: FACETS_MM };
    let input = ExportInput { analysis, before: analysis, reader, link, time, detail };
    for export in Export::all(EXPORTS) {
        let name = export.name();
        match export.make(&input) {
            Ok(file) => named(&name, readers::file(&file))?,
            Err(why) => holds(&format!("{name}: {why}"), why.to_string().ends_with('.'))?,
        }
    }
    Ok(())
}

/// Whether this is `make soak`, which has all the time it takes.
pub(crate) fn is_long() -> bool {
    std::env::var_os(ASKED).is_some()
}

/// Which designs are tried.
fn asked() -> std::ops::Range<u32> {
    let Ok(asked) = std::env::var(ASKED) else { return 0..FEW };
    let (first, end) = asked.split_once("..").unwrap_or(("0", &asked));
    let number = |text: &str| text.parse().unwrap_or_else(|_| panic!("{ASKED} is {asked}"));
    number(first)..number(end)
}

/// Tries designs by their numbers, on as many threads as there are cores. Says how many of them were
/// worked out, and every failure.
fn try_designs(numbers: std::ops::Range<u32>) -> (usize, Vec<String>) {
    let (next, worked_out) = (AtomicU32::new(numbers.start), AtomicUsize::new(0));
    let failures = std::sync::Mutex::new(Vec::new());
    let work = || {
        loop {
            let number = next.fetch_add(1, Ordering::Relaxed);
            if number >= numbers.end {
                return;
            }
            let tried = std::panic::catch_unwind(|| try_all(&numbered(number)));
            let told = match tried {
                Ok(Ok(pair)) => {
                    worked_out.fetch_add(usize::from(pair), Ordering::Relaxed);
                    continue;
                }
                Ok(Err(why)) => why,
                Err(_) => "it panics".to_owned(),
            };
            failures.lock().expect("no thread dies").push(format!("design {number}: {told}"));
        }
    };
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| (0..cores).for_each(|_| drop(scope.spawn(work))));
    (worked_out.into_inner(), failures.into_inner().expect("no thread dies"))
}

#[test]
fn thousands_of_designs_come_back_from_every_file() {
    let numbers = asked();
    let count = numbers.len();
    let (worked_out, failures) = try_designs(numbers);
    let first: Vec<String> =
        failures.iter().take(8).map(|f| f.chars().take(600).collect()).collect();
    assert!(failures.is_empty(), "{} of {count} fail: {first:#?}", failures.len());
    let enough = worked_out * 2 > count || count < 100;
    assert!(enough, "only {worked_out} of {count} could be worked out");
}
