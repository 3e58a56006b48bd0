//! The examples as programs: what they print where, what they leave behind, and how they exit.
//!
//! `cargo test` builds the examples before it runs the tests. To run this file alone, build them
//! first with `cargo build --examples`.

use std::ffi::OsStr;
use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use crenel::analysis::Analysis;
use crenel::design::{FILE_LIMIT, open};
use crenel::export::{Cautions, EXPORTS, Export};
use crenel::report::report_json;
use crenel::ring::Side;
use crenel::texts;
use crenel_words::finding::no_dogs;
use crenel_words::{Dictionary, Language, Reader};
use serde_json::Value;

const GOOD: &str = r#"{
    "crenel": 1, "title": "Second gear", "overlap_mm": 4.2,
    "a": { "heights": [1, 0.5], "back_cut_drive_deg": 3, "cuts": { "2": "remove", "4": 2.5 } },
    "b": { "size_by": "gap", "gap_deg": 40 }
}"#;

/// Dogs that come out after a cut.
const RELEASES: &str = r#"[{ "longest_s": 0.05,
    "masses": { "engine_kg_m2": 4e-3, "vehicle_kg_m2": 0.4, "stiffness_nm_per_rad": 3000 },
    "pull": { "force_n": 250, "mass_kg": 0.3, "overlap_m": 4.4e-3, "lash": 0.2, "hold_per_m": [14.1, 14.1] },
    "cut": { "engine_nm": 60, "drag_nm": 8 } }]"#;

/// An example beside this test's own folder, `target/*/deps`.
fn program(name: &str) -> PathBuf {
    let this = std::env::current_exe().expect("a test knows where it is");
    let target = this.parent().and_then(|deps| deps.parent()).expect("it lies in target/*/deps");
    let name = format!("{name}{}", std::env::consts::EXE_SUFFIX);
    let program = target.join("examples").join(name);
    assert!(program.exists(), "{} is missing: cargo build --examples", program.display());
    program
}

/// Runs a command with something on its standard input.
fn given(command: &mut Command, input: &[u8]) -> Output {
    let piped = command.stdin(Stdio::piped()).stderr(Stdio::piped());
    let mut child = piped.spawn().expect("the program starts");
    let mut stdin = child.stdin.take().expect("its input is piped");
    // One that needs no input is gone before it is written; that is no fault.
    let _ = stdin.write_all(input);
    drop(stdin);
    child.wait_with_output().expect("the program ends")
}

fn call(name: &str, arguments: &[&OsStr], input: &[u8]) -> Output {
    given(Command::new(program(name)).args(arguments).stdout(Stdio::piped()), input)
}

fn run(arguments: &[&str], input: &str) -> Output {
    let arguments: Vec<_> = arguments.iter().map(OsStr::new).collect();
    call("report", &arguments, input.as_bytes())
}

fn text(bytes: &[u8]) -> &str {
    std::str::from_utf8(bytes).expect("the example writes UTF-8")
}

/// A folder of its own for as long as `with` runs.
fn with_folder<T>(name: &str, with: impl FnOnce(&Path) -> T) -> T {
    let folder = std::env::temp_dir().join(format!("crenel-cli-{}-{name}", std::process::id()));
    fs::create_dir_all(&folder).expect("the temporary folder can be written");
    let result = with(&folder);
    fs::remove_dir_all(&folder).expect("the folder is still there");
    result
}

/// Puts a design in a file of its own for as long as `with` runs.
fn with_file<T>(name: &str, content: &str, with: impl FnOnce(&str) -> T) -> T {
    with_folder(name, |folder| {
        let path = folder.join("design.json");
        fs::write(&path, content).expect("the folder can be written");
        with(path.to_str().expect("its path is plain"))
    })
}

#[test]
fn a_good_design_is_reported_from_a_file_and_from_standard_input() {
    let expected = report_json(&Analysis::of(&open(GOOD).expect("it is good").design));
    assert_eq!(expected["computed"], true);
    let from_file = with_file("good", GOOD, |path| run(&[path], ""));
    let from_input = run(&["-"], GOOD);
    for output in [from_file, from_input] {
        assert!(output.status.success());
        let report: Value = serde_json::from_slice(&output.stdout).expect("it prints JSON");
        assert_eq!(report, expected);
        assert_eq!(text(&output.stderr), "");
    }
}

/// What is refused: the input, how many errors stand on lines of their own, and what they say.
type Refused<'a> = (&'a str, usize, &'a [&'a str]);

#[test]
fn bad_input_is_refused_with_every_reason_and_nothing_on_standard_output() {
    let cases: &[Refused] = &[
        ("", 1, &["error: This is not JSON"]),
        ("{\"crenel\": 1,", 1, &["error: This is not JSON"]),
        ("[1, 2]", 1, &["error: This is JSON, but not a design"]),
        ("{\"title\": \"x\"}", 1, &["the key “crenel” with the version is missing"]),
        (
            r#"{ "crenel": 2, "a": 5 }"#,
            1,
            &["This design has version 2; this app reads up to version 1", "Reload the page"],
        ),
        (
            r#"{ "crenel": 1, "title": 7, "a": { "count": "six" }, "travel_by": "foot" }"#,
            3,
            &[
                "“title” is not text",
                "“count” (Ring A, dog positions) is not a number",
                "“travel_by” cannot be \"foot\"",
            ],
        ),
        (
            r#"{ "crenel": 1, "a": { "count": 200 }, "b": { "height_mm": -1 }, "slip_rpm": 30000 }"#,
            3,
            &[
                "Ring A, dog positions: 200 is outside the range 1 to 96.",
                "Ring B, dog height: −1 mm is outside the range 0.2 mm to 50 mm.",
                "Speed difference: 30\u{202f}000 rpm is outside the range −20\u{202f}000 rpm to 20\u{202f}000 rpm.",
            ],
        ),
        (
            &format!(r#"{{ "crenel": 1, "a": {{ "heights": [{}1] }} }}"#, "1,".repeat(200)),
            1,
            &["Ring A: “heights” has 201 numbers; at most 200 are read."],
        ),
        (
            r#"{ "crenel": 1, "b": { "inner_diameter_mm": 70, "outer_diameter_mm": 90 } }"#,
            1,
            &["The dogs of ring B begin at 70 mm and those of ring A end at 60 mm"],
        ),
    ];
    for (input, errors, reasons) in cases {
        let output = run(&["-"], input);
        let told = text(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{input}: {told}");
        assert_eq!(text(&output.stdout), "", "{input}");
        for reason in *reasons {
            assert!(told.contains(reason), "{input}: {told}");
        }
        let lines = told.lines().filter(|line| line.starts_with("error: "));
        assert_eq!(lines.count(), *errors, "{input}: {told}");
    }
}

#[test]
fn unknown_keys_are_warned_of_and_left_out() {
    let odd = r#"{ "crenel": 1, "colour": "red", "a": { "dogs": [{ "wdith": 3 }] } }"#;
    let output = run(&["-"], odd);
    assert!(output.status.success());
    let told = text(&output.stderr);
    let lines: Vec<&str> = told.lines().collect();
    assert_eq!(lines.len(), 2, "{told}");
    for (line, key) in lines.iter().zip(["a.dogs[0].wdith", "colour"]) {
        let start = format!("warning: “{key}” is an unknown key and is ignored.");
        assert!(line.starts_with(&start), "{line}");
    }
    let report: Value = serde_json::from_slice(&output.stdout).expect("it prints JSON");
    assert_eq!(report["computed"], true);
}

#[test]
fn a_call_without_a_design_or_with_a_missing_one_says_so() {
    let output = run(&[], "");
    assert_eq!(output.status.code(), Some(2));
    assert!(text(&output.stderr).starts_with("Give a design"));
    let output = run(&["no/such/design.json"], "");
    assert_eq!(output.status.code(), Some(1));
    assert!(text(&output.stderr).starts_with("no/such/design.json cannot be read"));
    assert_eq!(text(&output.stdout), "");
}

#[test]
fn a_key_that_stands_twice_is_told_and_the_last_counts() {
    let twice =
        r#"{ "crenel": 1, "overlap_mm": 9, "a": { "count": 5, "count": 6 }, "overlap_mm": 3 }"#;
    let output = run(&["-"], twice);
    assert!(output.status.success());
    let told = text(&output.stderr);
    let want = "warning: Given more than once: “a.count”, “overlap_mm”. The last of each counts.";
    assert!(told.starts_with(want), "{told}");
    let report: Value = serde_json::from_slice(&output.stdout).expect("it prints JSON");
    assert_eq!(report["rings"]["a"]["dogs"].as_array().map(Vec::len), Some(6));
}

/// As editors on other systems save it: with a byte-order mark, or in UTF-16.
#[test]
fn a_design_opens_however_its_text_is_coded() {
    let marked = [&[0xef, 0xbb, 0xbf], GOOD.as_bytes()].concat();
    let wide = |bytes: fn(u16) -> [u8; 2]| {
        let units = "\u{feff}".encode_utf16().chain(GOOD.encode_utf16());
        units.flat_map(bytes).collect::<Vec<u8>>()
    };
    let want = run(&["-"], GOOD).stdout;
    for bytes in [marked, wide(u16::to_le_bytes), wide(u16::to_be_bytes)] {
        let output = call("report", &[OsStr::new("-")], &bytes);
        assert_eq!(text(&output.stderr), "");
        assert_eq!(output.stdout, want);
    }
    let line = [&[0xef, 0xbb, 0xbf], GOOD.replace('\n', " ").as_bytes()].concat();
    let output = call("selector", &[], &line);
    assert!(output.status.success(), "{}", text(&output.stderr));
}

#[test]
fn a_file_that_is_too_large_is_refused() {
    let large = format!("{GOOD}{}", " ".repeat(FILE_LIMIT + 1 - GOOD.len()));
    let refused = [
        with_file("large", &large, |path| run(&[path], "")),
        run(&["-"], &large),
        call("selector", &[], large.replace('\n', " ").as_bytes()),
    ];
    for output in refused {
        assert_eq!(output.status.code(), Some(1));
        let told = text(&output.stderr);
        let want =
            "4\u{202f}000\u{202f}001 bytes or more, and the limit is 4\u{202f}000\u{202f}000.";
        assert!(told.contains(want), "{told}");
        assert_eq!(text(&output.stdout), "");
    }
}

/// Every example that answers on standard output, with something that it answers.
const ANSWERS: [(&str, &[&str], &str); 10] = [
    ("report", &["-"], GOOD),
    ("indexing", &["40", "0", "60"], ""),
    ("linkage", &["35", "126", "32", "127", "0"], ""),
    ("selector", &[], r#"{ "crenel": 1 }"#),
    ("gauging", &[], r#"{ "crenel": 1, "a": { "readings": { "dogs": 6 } } }"#),
    ("suggest", &["-", "window"], GOOD),
    ("release", &["-"], RELEASES),
    ("stories", &[], ""),
    ("figure", &["-", "face", "85", "8", "outlines"], GOOD),
    ("words", &[], ""),
];

/// `/dev/full` takes nothing, as a full disk.
#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_a_failure() {
    for (name, arguments, input) in ANSWERS {
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("Linux has it");
        let mut command = Command::new(program(name));
        let output = given(command.args(arguments).stdout(full), input.as_bytes());
        assert_eq!(output.status.code(), Some(1), "{name}");
        let told = text(&output.stderr);
        assert!(told.starts_with("Standard output cannot be written: "), "{name}: {told}");
    }
}

/// As `head` does, which has what it wants.
#[test]
fn a_reader_that_goes_away_is_no_failure() {
    for (name, arguments, input) in ANSWERS {
        let (reader, writer) = std::io::pipe().expect("there are pipes");
        drop(reader);
        let mut command = Command::new(program(name));
        let output = given(command.args(arguments).stdout(writer), input.as_bytes());
        assert_eq!(text(&output.stderr), "", "{name}");
        assert!(output.status.success(), "{name}");
    }
}

#[test]
fn offers_keep_what_is_asked_of_them_and_a_wrong_option_is_refused() {
    let ask = |options: &[&str]| {
        let arguments: Vec<_> = options.iter().map(OsStr::new).collect();
        call("suggest", &arguments, br#"{ "crenel": 1, "wished_window_ms": 10 }"#)
    };
    let output = ask(&["-", "window", "--metal", "4", "--step", "0.02"]);
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).expect("it is JSON");
    let offers = told["offers"].as_array().expect("it lists offers");
    assert!(!offers.is_empty() && told["searched"].as_str().is_some_and(|s| s.contains("0.02 mm")));
    for offer in offers {
        assert!(offer["stock_g"].as_f64() <= Some(4.0) && offer["reaches"].as_f64() >= Some(10.0));
    }
    for wrong in
        [&["-"][..], &["-", "shift"], &["-", "lash", "--step", "1"], &["-", "lash", "--metal"]]
    {
        let output = ask(wrong);
        assert_eq!(output.status.code(), Some(2), "{wrong:?}: {}", text(&output.stderr));
    }
}

#[test]
fn a_picture_that_cannot_be_is_refused_in_a_sentence() {
    let hints = std::env::temp_dir().join(format!("crenel-hints-{}.json", std::process::id()));
    fs::write(&hints, "{\"propose\": 6}\n").expect("it is written");
    let hints = hints.as_os_str();
    let ask = |size: [&str; 2], file: &OsStr| {
        call("photo", &[OsStr::new(size[0]), OsStr::new(size[1]), file], &[200; 64])
    };
    let far = u64::MAX.to_string();
    for (size, file, says) in [
        (["8", &far], hints, "A side of “18446744073709551615” pixels cannot be: 2 to 16384 can."),
        (["eight", "8"], hints, "A side of “eight” pixels cannot be: 2 to 16384 can."),
        (["8", "9"], hints, "The picture cannot be read: "),
        (["8", "8"], OsStr::new("no/such/file"), "no/such/file cannot be read: "),
        // Nothing is seen where all pixels are alike.
        (["8", "8"], hints, "Line 1 has no hints: "),
    ] {
        let output = ask(size, file);
        let told = text(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{told}");
        assert!(told.starts_with(says), "{told}");
        assert_eq!(text(&output.stdout), "");
    }
    assert!(text(&call("photo", &[], b"").stderr).starts_with("Give the size of the picture"));
    fs::remove_file(hints).expect("it is there");
}

#[test]
fn a_release_is_told_event_by_event_and_a_wrong_case_is_refused() {
    let ask = |input: &str| call("release", &[OsStr::new("-")], input.as_bytes());
    let told: Value = serde_json::from_slice(&ask(RELEASES).stdout).expect("it is JSON");
    let events = told["events"].as_array().expect("it lists events");
    let what: Vec<_> = events.iter().filter_map(|event| event["what"].as_str()).collect();
    assert_eq!(what, ["moves", "unloaded", "out"]);
    for (old, new, says) in [
        ("0.3,", "0,", "case 1: “mass_kg” is 0, and must be a number above 0."),
        ("8 }", "true }", "case 1: “drag_nm” is true, and must be a number."),
        ("[14.1, 14.1]", "[14.1]", "case 1: “hold_per_m” must be two numbers."),
        ("3000 }", "3000, \"damping\": 1 }", "case 1: “damping” is 1, and must be below 1."),
        ("}]", "}", "- is not a list of cases: "),
    ] {
        let output = ask(&RELEASES.replacen(old, new, 1));
        assert_eq!(output.status.code(), Some(1));
        assert!(text(&output.stderr).starts_with(says), "{}", text(&output.stderr));
    }
    assert_eq!(call("release", &[], b"").status.code(), Some(2));
}

#[test]
fn every_text_is_printed_as_a_language_file_and_read_back() {
    let file = |arguments: &[&str]| {
        let arguments: Vec<_> = arguments.iter().map(OsStr::new).collect();
        let output = call("words", &arguments, b"");
        assert!(output.status.success(), "{}", text(&output.stderr));
        Dictionary::read(text(&output.stdout)).expect("it is a language")
    };
    let (english, longer) = (file(&[]), file(&["--longer"]));
    let length = |text: &str| text.chars().count();
    let mut lengths = [0, 0];
    for (key, words) in texts::all() {
        assert_eq!(english.text(&key), Some(words));
        let long = longer.text(&key).expect("it has every text");
        // Names of values and of cases, and the signs of a formula, keep their length: only plain texts count.
        if !words.contains(['{', '[']) && !key.ends_with(".formula") {
            lengths = [lengths[0] + length(words), lengths[1] + length(long)];
        }
    }
    assert!(lengths[1] * 10 >= lengths[0] * 14, "{lengths:?}");
    let reader =
        Reader { language: Language::Loaded(Box::leak(Box::new(longer))), ..Reader::default() };
    let shown = no_dogs(Side::A).says.show(reader);
    assert_eq!(shown, "Ŕŕíññĝ A ĥĥášš ñóó ðóóĝšš ĺééƒťť.");
    let wrong = call("words", &[OsStr::new("--shorter")], b"");
    assert_eq!(
        (wrong.status.code(), text(&wrong.stderr)),
        (Some(1), "Give no argument, or --longer.\n")
    );
}

/// Unix takes any bytes for a name.
#[cfg(unix)]
#[test]
fn names_that_are_no_text_are_opened_or_refused_in_a_sentence() {
    use std::os::unix::ffi::OsStrExt as _;
    let odd = OsStr::from_bytes(b"d\xffsign.json");
    with_folder("odd", |folder| {
        let path = folder.join(odd);
        fs::write(&path, GOOD).expect("the folder can be written");
        let output = call("report", &[path.as_os_str()], b"");
        assert!(output.status.success(), "{}", text(&output.stderr));
        let exported = folder.join(OsStr::from_bytes(b"out\xff"));
        let output = call("export", &[path.as_os_str(), exported.as_os_str()], b"");
        assert!(output.status.success(), "{}", text(&output.stderr));
        assert!(exported.join("ring-a.dxf").exists());
    });
    for name in ["indexing", "linkage", "selector", "words"] {
        let output = call(name, &[odd], b"");
        assert_eq!(output.status.code(), Some(1), "{name}");
        assert_eq!(text(&output.stderr), "“d\u{fffd}sign.json” is not text. Type it again.\n");
    }
}

/// Names of the files in a folder, sorted.
fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("the folder is there");
    let name = |entry: std::io::Result<fs::DirEntry>| {
        entry.expect("it can be read").file_name().into_string().expect("its name is plain")
    };
    let mut names: Vec<String> = entries.map(name).collect();
    names.sort();
    names
}

/// Every file that the design has is written, and says as much of what to mind as its row promises.
/// The saved design and what the solids amount to are not files to work from.
#[test]
fn every_export_is_written_and_says_what_to_mind() {
    let worked = r#"{ "crenel": 1, "a": { "plan": [
        { "do": "shorten", "shorten_to_mm": 2.5, "dogs": [2, 4] },
        { "do": "recut_drive", "recut_to_deg": 3, "dogs": [1] } ] } }"#;
    // The subjects of the list; lines of a drawing may break between any two words.
    let line = ["hardened", "crack", "lock", "wheel"];
    let more = ["limits", "spark-erode", "spindle", "temper", "burn", "sharp", "grit", "mating"];
    let none = ["ring-b-index.csv", "ring-b-index.nc"];
    with_file("minding", worked, |path| {
        let folder = Path::new(path).with_file_name("out");
        let output = call("export", &[OsStr::new(path), folder.as_os_str()], b"");
        assert!(output.status.success(), "{}", text(&output.stderr));
        let exports = Export::all(EXPORTS).into_iter();
        for export in exports.filter(|export| !none.contains(&export.name().as_str())) {
            let name = export.name();
            let bytes = fs::read(folder.join(&name)).unwrap_or_else(|e| panic!("{name}: {e}"));
            let told = String::from_utf8_lossy(&bytes);
            let words: &[&[&str]] = match export.kind.cautions {
                Cautions::Short => &[&line, &more],
                Cautions::Line => &[&line],
                Cautions::Absent => &[],
            };
            for word in words.concat() {
                assert!(told.contains(word), "{name} does not tell of “{word}”");
            }
        }
        let mut expected: Vec<_> = Export::all(EXPORTS).iter().map(Export::name).collect();
        expected.retain(|name| !none.contains(&name.as_str()));
        expected.extend(["design.json", "solid.json"].map(str::to_owned));
        expected.sort();
        assert_eq!(names(&folder), expected);
    });
}

#[test]
fn an_export_that_fails_names_the_path_and_leaves_no_half_file() {
    with_file("failing", GOOD, |path| {
        let folder = Path::new(path).with_file_name("out");
        // There is a folder where a file is to go.
        let taken = folder.join("ring-a.svg");
        fs::create_dir_all(&taken).expect("the folder can be written");
        let output = call("export", &[OsStr::new(path), folder.as_os_str()], b"");
        assert_eq!(output.status.code(), Some(1));
        let told = text(&output.stderr);
        assert!(told.starts_with(&format!("{} cannot be written: ", taken.display())), "{told}");
        assert_eq!(names(&folder), ["design.json", "ring-a.dxf", "ring-a.svg"]);
        let below = Path::new(path).join("out");
        let output = call("export", &[OsStr::new(path), below.as_os_str()], b"");
        assert_eq!(output.status.code(), Some(1));
        let told = text(&output.stderr);
        assert!(told.starts_with(&format!("{} cannot be created: ", below.display())), "{told}");
    });
}

/// Files may grow to 4 kB only, as on a disk that is nearly full: what was there before stays.
#[cfg(target_os = "linux")]
#[test]
fn a_file_that_does_not_fit_leaves_the_one_before() {
    with_file("small", GOOD, |path| {
        let folder = Path::new(path).with_file_name("out");
        fs::create_dir_all(&folder).expect("the folder can be written");
        fs::write(folder.join("ring-a.dxf"), "before").expect("the folder can be written");
        let limited = "trap '' XFSZ; ulimit -f 8; exec \"$0\" \"$@\"";
        let mut command = Command::new("sh");
        let command = command.args(["-c", limited]).arg(program("export")).arg(path).arg(&folder);
        let output = given(command.stdout(Stdio::piped()), b"");
        assert_eq!(output.status.code(), Some(1));
        assert!(text(&output.stderr).contains("ring-a.dxf cannot be written: "));
        assert_eq!(names(&folder), ["design.json", "ring-a.dxf"]);
        let kept = fs::read_to_string(folder.join("ring-a.dxf")).expect("it is still there");
        assert_eq!(kept, "before");
    });
}

#[test]
fn a_box_with_a_bent_fork_is_told_of_it_first_and_a_design_is_no_box() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let of = |file: &str| call("box", &[root.join(file).as_os_str()], b"");
    let bent = of("boxes/six-speed-bent-fork.json");
    assert!(bent.status.success() && bent.stderr.is_empty(), "{}", text(&bent.stderr));
    let told: Vec<&str> = text(&bent.stdout).lines().collect();
    assert!(told[1].trim_start().starts_with("1→2") && told[1].contains("straight-in limit"));
    let found: Vec<&str> = told[11..].to_vec();
    assert!(found[0].starts_with("fork 2, blocked: Gears 1 and 4 can be in at once"), "{found:?}");
    let burnt = |line: &&&str| line.starts_with("fork 2, blocked: With gear");
    assert_eq!(found.iter().filter(burnt).count(), 2);
    let design = of("designs/six-on-six.json");
    assert!(design.status.code() == Some(1) && design.stdout.is_empty());
    assert!(text(&design.stderr).contains("not a whole gearbox"), "{}", text(&design.stderr));
    let plain = call("box", &[OsStr::new("--layout"), OsStr::new("four-speed")], b"");
    let again = call("box", &[OsStr::new("--json"), OsStr::new("-")], &plain.stdout);
    let answer: serde_json::Value = serde_json::from_slice(&again.stdout).expect("it is JSON");
    assert_eq!(answer["shifts"].as_array().map(Vec::len), Some(6));
}

#[test]
fn a_box_is_told_its_part_at_fault_its_shims_and_its_cuts() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/boxes");
    let json =
        |out: &[u8]| -> serde_json::Value { serde_json::from_slice(out).expect("it is JSON") };
    let bent = root.join("six-speed-bent-fork.json");
    let told = call("box", &[OsStr::new("--json"), OsStr::new("--cuts"), bent.as_os_str()], b"");
    let answer = json(&told.stdout);
    let shims = &answer["shims"][0];
    assert_eq!((&shims["shims"][0]["part"], &shims["is_enough"]), (&"fork".into(), &true.into()));
    assert!(
        shims["before"]["apart_mm"].as_f64() < Some(0.0)
            && shims["after"]["apart_mm"].as_f64() >= Some(0.0)
    );
    let cuts = answer["cuts"].as_array().expect("some gears do not go straight in");
    assert!(!cuts.is_empty() && cuts.iter().all(|cut| cut["gain_per_gram"].as_f64() > Some(0.0)));
    assert!(answer["faults"].is_null(), "nothing was read");
    let read = root.join("six-speed-readings.json");
    let told = call("box", &[read.as_os_str()], b"");
    assert!(text(&told.stdout).contains("Fork 2 is bent by 0.4 mm towards its higher gear."));
    let line = json(&std::fs::read(&read).expect("it is there")).to_string();
    let told = call("box", &[OsStr::new("--faults")], format!("{line}\n\n{line}\n").as_bytes());
    let lines: Vec<_> = text(&told.stdout).lines().map(|line| json(line.as_bytes())).collect();
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[0]["suspects"][0]["part"], "fork");
}
