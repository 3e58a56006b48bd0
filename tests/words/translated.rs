//! No text that people read is written anywhere but in the catalogue: in a language without a single letter of
//! English, no English is left on any surface.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use crenel::analysis::Analysis;
use crenel::compare::{Comparison, changes, verdict_words};
use crenel::design::{Design, RingPair, SYMPTOMS, WORKS, example, gallery};
use crenel::diagnosis::diagnose;
use crenel::draw::views::VIEWS;
use crenel::draw::{Scene, Shape, ViewOptions, paper_drawing, ring_drawing};
use crenel::export::{EXPORTS, Export, results_csv};
use crenel::figures::{catalogue, figures, moment_words};
use crenel::model::{Chances, chance_table, hardest_words};
use crenel::report::{CAUTIONS, SetUpSheet, cautions_short, report_json};
use crenel::rework::plan_steps;
use crenel::ring::Side;
use crenel::selector::Stroke;
use crenel::shift::Way;
use crenel::suggest::{Goal, Search, suggestions};
use crenel::texts;
use crenel::verdict::{Stage, Verdict, change, headline, matters};
use crenel_words::{Dictionary, Language, Message, Reader, map_words};
use serde_json::Value;

/// The first letters of a run that English is told by; a single one is a ring or a symbol.
const SHORTEST: usize = 2;

/// What is written with Latin letters in every language: units, functions, and symbols of formulas.
const SYMBOLS: [&str; 13] =
    ["MPa", "cm", "dA", "drum", "ds", "kg", "min", "mm", "ms", "per", "rad", "rm", "rpm"];

/// Every letter with an accent, so that none is English.
fn accented(words: &str) -> String {
    const LETTERS: &str = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
    const ACCENTED: &str = "áƀçðéƒĝĥíĵķĺɱñóþɋŕšťúṽŵẋýžÁƁÇÐÉƑĜĤÍĴĶĹṀÑÓÞɊŔŠŤÚṼŴẊÝŽ";
    let accent = |letter| LETTERS.chars().zip(ACCENTED.chars()).find(|(plain, _)| *plain == letter);
    words.chars().map(|letter| accent(letter).map_or(letter, |(_, other)| other)).collect()
}

/// Somebody who reads that language.
static STRANGER: LazyLock<Reader> = LazyLock::new(|| {
    let all = texts::all().map(|(key, text)| (key, map_words(text, &accented)));
    let file = Dictionary::file("en-XA", "Accented", all).to_string();
    let dictionary = Dictionary::read(&file).expect("it is a language");
    Reader { language: Language::Loaded(Box::leak(Box::new(dictionary))), ..Reader::default() }
});

/// The words of English in a text.
fn english(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_ascii_alphabetic()).filter(|run| run.len() >= SHORTEST)
}

/// A design with nothing in it that its user wrote: titles, notes, initials and names of parts.
fn unnamed(mut design: Design) -> Design {
    for text in [&mut design.title, &mut design.notes, &mut design.initials] {
        text.clear();
    }
    for pair in &mut design.alternatives {
        pair.title.clear();
    }
    for chain in design.depth.iter_mut().flat_map(|depth| depth.chains.iter_mut()) {
        chain.iter_mut().for_each(|link| link.name.clear());
    }
    design
}

/// The gallery and the example, each with another pair beside it.
fn designs() -> Vec<(&'static str, Design)> {
    let gallery = gallery().iter().map(|one| (one.key, one.design()));
    let all = gallery.chain([("example", example())]);
    all.map(|(key, design)| {
        let beside = RingPair { a: example().a, b: example().b, ..RingPair::default() };
        (key, unnamed(Design { alternatives: vec![beside], ..design }))
    })
    .collect()
}

fn words_of(scene: &Scene) -> impl Iterator<Item = String> {
    scene.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text.words.clone()),
        _ => None,
    })
}

/// Everything that is said of a design.
fn said(analysis: &Analysis, reader: Reader) -> Vec<String> {
    let mut all = Vec::new();
    for finding in &analysis.findings {
        all.extend([finding.text(reader), finding.hint(reader), finding.whole(reader)]);
    }
    for figure in figures(analysis) {
        all.extend([figure.shown(reader), figure.working.show(reader), figure.absent.show(reader)]);
        all.push(figure.formula.show(reader.language).into_owned());
    }
    let mut messages: Vec<Message> = Vec::new();
    let diagnosis = diagnose(analysis);
    for result in &diagnosis.checks {
        messages.extend([(result.check.title)(), (result.check.next)(), result.status.label()]);
        messages.push(result.check.station.title());
        messages.extend(result.says.iter().chain(&result.next).cloned());
    }
    messages.extend(diagnosis.verdict());
    for side in Side::BOTH {
        let sheet = SetUpSheet::of(analysis, side, reader);
        for step in plan_steps(analysis, side) {
            messages.extend([step.words.clone(), step.stock_words()]);
        }
        messages.extend(sheet.tools.iter().flat_map(|(name, says)| {
            [name()].into_iter().chain(says.iter().cloned()).collect::<Vec<_>>()
        }));
        all.extend(sheet.named_by_operation(reader).dogs.into_iter().map(|(name, _)| name));
        messages.extend(sheet.hangs);
    }
    for way in [Way::Up, Way::Down] {
        messages.extend(hardest_words(analysis, way));
    }
    if let Some(shift) = analysis.pair.as_ref().and_then(|pair| pair.shift.as_ref()) {
        let times = [0.0, 0.3, 0.7, 1.0].map(|share| Some(share * shift.attempt.time_s));
        messages.extend(times.into_iter().chain([None]).map(|t| moment_words(&shift.attempt, t)));
    }
    if let Some(chances) = Chances::of(analysis) {
        let table = chance_table(&chances.map(8, 4), 4);
        all.extend(table.rows.into_iter().flatten().map(|cell| cell.show(reader)));
    }
    let verdict = Verdict::of(analysis);
    messages.extend([verdict.fact, verdict.short].into_iter().chain(verdict.next));
    for matter in matters(analysis) {
        messages.extend([matter.fact, matter.next, matter.short]);
    }
    for stage in Stage::ALL {
        messages.extend([stage.title(), stage.short_title()]);
        for figure in headline(stage, analysis) {
            all.push(figure.value.show(reader));
            messages.extend([figure.name].into_iter().chain(figure.told));
        }
    }
    let found = Analysis::of(&analysis.design.to_found());
    messages.extend(verdict_words(&changes(&found, analysis)).into_iter().flatten());
    messages.extend(change(&found, analysis).into_iter().flat_map(|line| {
        let moved = line.moved.map(|moved| moved.words);
        let crossed = line.crossed.into_iter().map(|crossed| crossed.words);
        [line.what].into_iter().chain(moved).chain(crossed).collect::<Vec<_>>()
    }));
    let comparison = Comparison::of(&analysis.design);
    messages.extend(comparison.differences.concat());
    messages.push(comparison.normalized);
    messages.extend(comparison.columns.into_iter().filter_map(|column| column.note));
    for goal in [Goal::Window, Goal::Lash] {
        for offer in suggestions(analysis, &Search::new(goal, reader.units)) {
            messages.extend(offer.words.into_iter().chain(offer.cautions));
            messages.extend(offer.prices.into_iter().map(|price| price.words));
            all.extend(offer.warnings.iter().chain(&offer.against).map(|f| f.whole(reader)));
        }
    }
    all.extend(messages.iter().map(|message| message.show(reader)));
    all
}

/// Every word on every drawing of a design.
fn drawn(analysis: &Analysis, reader: Reader) -> Vec<String> {
    let map = Chances::of(analysis).map(|chances| chances.map(8, 8));
    let mut all = Vec::new();
    for view in VIEWS {
        let frame = view.frame(analysis, 700.0, view.shape, 12.0);
        for stroke in [None, Some((Stroke::Lift, 0.5)), Some((Stroke::Press, 1.0))] {
            let outcomes = map.as_ref();
            let options = ViewOptions { reader, outcomes, stroke, ..ViewOptions::default() };
            all.extend(words_of(&view.draw(analysis, &frame, &options)));
        }
    }
    for side in Side::BOTH {
        all.extend(words_of(&ring_drawing(analysis, side, "", reader.language)));
        all.extend(words_of(&paper_drawing(analysis, side, 0.5, reader.language)));
    }
    all
}

/// What is the same for every design.
fn fixed(reader: Reader) -> Vec<String> {
    let mut all: Vec<_> = cautions_short(reader).into();
    all.extend(CAUTIONS.iter().map(|caution| caution().show(reader)));
    all.extend(Export::all(EXPORTS).iter().map(|export| export.label().show(reader)));
    for figure in catalogue() {
        let labels = [figure.name(), figure.what_it_is(), figure.how(), figure.from_where()];
        all.extend(labels.map(|label| label.show(reader.language).into_owned()));
        all.extend((figure.words)().iter().map(|words| words.show(reader)));
    }
    let labels = WORKS.iter().map(|work| work.label()).chain(SYMPTOMS.iter().map(|s| s.label()));
    all.extend(labels.map(|label| label.show(reader.language).into_owned()));
    let results = figures(&Analysis::of(&example()));
    let csv = results_csv(&results, &results, reader);
    // The second column is the key of a figure.
    let cells = csv.lines().map(|line| line.split(',').enumerate());
    all.extend(cells.flatten().filter(|(at, _)| *at != 1).map(|(_, cell)| cell.to_owned()));
    all
}

#[test]
fn nothing_that_is_read_is_written_outside_the_catalogue() {
    let reader = *STRANGER;
    let mut shown = fixed(reader);
    for (_, design) in designs() {
        let analysis = Analysis::of(&design);
        shown.extend(said(&analysis, reader));
        shown.extend(drawn(&analysis, reader));
    }
    assert!(shown.len() > 5_000, "only {} texts were found", shown.len());
    let symbols = BTreeSet::from(SYMBOLS);
    let is_english = |text: &&String| english(text).any(|run| !symbols.contains(run));
    let left: BTreeSet<_> = shown.iter().filter(is_english).collect();
    assert!(left.is_empty(), "{} texts are English: {left:#?}", left.len());
    // An exception that nothing needs would let a word through.
    let met: BTreeSet<_> = shown.iter().flat_map(|text| english(text)).collect();
    assert_eq!(met, symbols);
}

/// The strings of a report, except those under `keys`.
fn strings<'a>(value: &'a Value, keys: &[&str], all: &mut Vec<&'a str>) {
    match value {
        Value::String(text) => all.push(text),
        Value::Array(list) => list.iter().for_each(|value| strings(value, keys, all)),
        Value::Object(map) => {
            let told = map.iter().filter(|(key, _)| !keys.contains(&key.as_str()));
            told.for_each(|(_, value)| strings(value, keys, all));
        }
        _ => {}
    }
}

#[test]
fn a_report_says_nothing_that_the_page_does_not_say() {
    let reader = Reader::default();
    let fixed: BTreeSet<_> = fixed(reader).into_iter().collect();
    for (key, design) in designs() {
        let analysis = Analysis::of(&design);
        let said: BTreeSet<_> = said(&analysis, reader).into_iter().collect();
        let report = report_json(&analysis);
        let mut told = Vec::new();
        // The values of a sentence are in the sentence.
        strings(&report, &["values"], &mut told);
        let is_key = |text: &&str| !text.contains(' ');
        let is_said = |text: &&str| said.contains(*text) || fixed.contains(*text);
        let other: Vec<_> = told.into_iter().filter(|t| !is_key(t) && !is_said(t)).collect();
        assert!(other.is_empty(), "{key}: {other:#?}");
    }
}
