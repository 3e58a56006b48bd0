//! Messages become words. The notation is described at the top of the crate.

use std::borrow::Cow;

use crenel_geometry::units::sanitize_quote;

use crate::language::{Language, Reader};
use crate::message::{Label, Message, Value};
use crate::text::Text;

impl Text {
    /// The text in a language, as it is written before its values are put in.
    fn template(&self, language: Language) -> &'static str {
        match language {
            Language::Loaded(dictionary) => dictionary.text(self.key).unwrap_or(self.english),
            Language::British | Language::American => self.english,
        }
    }

    /// A text without values in a language.
    pub fn show(&self, language: Language) -> Cow<'static, str> {
        spelled(self.template(language), language)
    }

    /// The names of the values that the text asks for, each once, by the alphabet.
    pub fn asks_for(&self) -> Vec<&'static str> {
        names(self.english)
    }
}

impl Label {
    /// The text in a language.
    pub fn show(self, language: Language) -> Cow<'static, str> {
        if let Language::Loaded(dictionary) = language
            && let Some(text) = dictionary.text(&self.key.join("."))
        {
            return Cow::Borrowed(text);
        }
        spelled(self.english, language)
    }
}

impl Message {
    /// The sentence in the words of a reader.
    pub fn show(&self, reader: Reader) -> String {
        let writer = Writer { values: self.values(), reader };
        writer.written(self.text().template(reader.language), None)
    }
}

impl Value {
    /// The value in the words of a reader.
    pub fn show(&self, reader: Reader) -> String {
        let units = reader.units;
        match self {
            Self::Number(quantity, value) => quantity.show(*value, units),
            Self::Result(quantity, value) => quantity.show_result(*value, units),
            Self::Working(quantity, value) => quantity.show_working(*value, units),
            Self::Tolerance(quantity, value) => quantity.show_tolerance(*value, units),
            Self::AtMost(quantity, value) => quantity.show_at_most(*value, units),
            Self::AtLeast(quantity, value) => quantity.show_at_least(*value, units),
            Self::Size(quantity, value) => quantity.show_kept(*value, units),
            Self::Exact(quantity, value) => quantity.show_exact(*value),
            Self::Pick(word) => (*word).to_owned(),
            Self::Given(words) => sanitize_quote(words),
            Self::Verbatim(words) => words.clone(),
            Self::Label(label) => label.show(reader.language).into_owned(),
            Self::Message(message) => message.show(reader),
            Self::List(values) => joined(values, reader, ", ", ", "),
        }
    }
}

/// What becomes words only where somebody reads it.
pub trait Words {
    /// The words for a reader.
    fn words(&self, reader: Reader) -> Cow<'static, str>;
}

impl Words for Label {
    fn words(&self, reader: Reader) -> Cow<'static, str> {
        self.show(reader.language)
    }
}

impl Words for Message {
    fn words(&self, reader: Reader) -> Cow<'static, str> {
        Cow::Owned(self.show(reader))
    }
}

/// The sentences of a paragraph.
impl Words for Vec<Message> {
    fn words(&self, reader: Reader) -> Cow<'static, str> {
        let sentences: Vec<_> = self.iter().map(|message| message.show(reader)).collect();
        Cow::Owned(sentences.join(" "))
    }
}

/// A function of the catalogue whose sentence has no values.
impl<F: Fn() -> Message> Words for F {
    fn words(&self, reader: Reader) -> Cow<'static, str> {
        plain(self(), reader.language)
    }
}

/// The words of a sentence without values. A page has hundreds of calls, each of a function of its own: what they
/// share is here once.
#[inline(never)]
#[expect(clippy::needless_pass_by_value, reason = "it is dropped here, once")]
fn plain(message: Message, language: Language) -> Cow<'static, str> {
    message.text().show(language)
}

/// A text without values in the spelling of a language.
fn spelled(text: &'static str, language: Language) -> Cow<'static, str> {
    if !text.contains(['[', '{']) {
        return Cow::Borrowed(text);
    }
    let reader = Reader { language, ..Reader::default() };
    Cow::Owned(Writer { values: &[], reader }.written(text, None))
}

struct Writer<'a> {
    values: &'a [(&'static str, Value)],
    reader: Reader,
}

impl Writer<'_> {
    /// `count` is what `#` stands for inside a plural.
    fn written(&self, text: &str, count: Option<&str>) -> String {
        let mut out = String::with_capacity(text.len() + 16);
        let mut rest = text;
        while let Some(at) = rest.find(['{', '[', '#']) {
            out += &rest[..at];
            let (sign, after) = rest[at..].split_at(1);
            rest = match (sign, count) {
                ("{", _) => {
                    let (inside, after) = until_close(after);
                    out += &self.argument(inside);
                    after
                }
                ("[", _) => {
                    let (inside, after) = after.split_once(']').unwrap_or((after, ""));
                    match inside.split_once('|') {
                        Some(both) => out += &self.written(self.spelling(both), count),
                        // Brackets without a choice are brackets.
                        None => out = out + "[" + &self.written(inside, count) + "]",
                    }
                    after
                }
                (_, count) => {
                    out += count.unwrap_or("#");
                    after
                }
            };
        }
        out + rest
    }

    fn spelling<'t>(&self, (british, american): (&'t str, &'t str)) -> &'t str {
        if self.reader.language == Language::American { american } else { british }
    }

    /// A value of the sentence. A number is written finer where another of its kind differs from it and would
    /// look the same.
    fn value(&self, value: &Value) -> String {
        let Some((quantity, number)) = value.rounded() else { return value.show(self.reader) };
        let others = self.values.iter().filter_map(|(_, other)| other.rounded());
        let alike: Vec<_> = others.filter(|(of, _)| *of == quantity).map(|(_, n)| n).collect();
        match quantity.further(&alike, self.reader.units) {
            0 => value.show(self.reader),
            further => quantity.show_finer(number, self.reader.units, further),
        }
    }

    /// What stands for `name` or `name, plural, …` or `name, select, …`.
    fn argument(&self, inside: &str) -> String {
        let mut parts = inside.splitn(3, ',').map(str::trim);
        let name = parts.next().unwrap_or_default();
        let Some((_, value)) = self.values.iter().find(|(given, _)| *given == name) else {
            return format!("{{{inside}}}");
        };
        let shown = || self.value(value);
        match (parts.next(), parts.next()) {
            (Some("plural"), Some(cases)) => {
                let count = shown();
                let wanted = value.as_number().map_or_else(String::new, |n| format!("={n}"));
                let class = if value.as_number() == Some(1.0) { "one" } else { "other" };
                self.case(cases, [&wanted, class], Some(&count))
            }
            (Some("select"), Some(cases)) => {
                let word = if let Value::Pick(word) = value { word } else { "other" };
                self.case(cases, [word, "other"], None)
            }
            (Some("list"), Some(between)) => {
                let [each, last] =
                    ["each", "last"].map(|name| self.case(between, [name, "each"], None));
                let values = if let Value::List(values) = value {
                    values
                } else {
                    std::slice::from_ref(value)
                };
                joined(values, self.reader, &each, &last)
            }
            (Some("lower"), None) => with_small_letter(&shown()),
            _ => shown(),
        }
    }

    /// The first of the wanted cases that there is, or the case `other`.
    fn case(&self, cases: &str, wanted: [&str; 2], count: Option<&str>) -> String {
        let of = |name: &str| all(cases).into_iter().find(|(case, _)| *case == name);
        let found = wanted.into_iter().chain(["other"]).find_map(of);
        found.map_or_else(String::new, |(_, text)| self.written(text, count))
    }
}

/// Values one after the other, with what is between two of them and what is before the last.
fn joined(values: &[Value], reader: Reader, each: &str, last: &str) -> String {
    let mut text = String::new();
    for (at, value) in values.iter().enumerate() {
        text += match at {
            0 => "",
            _ if at + 1 == values.len() => last,
            _ => each,
        };
        text += &value.show(reader);
    }
    text
}

/// The text with a small first letter, unless it begins with an abbreviation.
fn with_small_letter(text: &str) -> String {
    let mut letters = text.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if !second.is_uppercase() => {
            [small_letter(first)].into_iter().chain(letters).collect()
        }
        _ => text.to_owned(),
    }
}

/// The small letter of a Latin, Greek or Cyrillic capital; any other letter as it is. The table of the standard library
/// has all alphabets, and would be a thirtieth of the first download.
fn small_letter(capital: char) -> char {
    let further = match capital {
        'A'..='Z' | 'À'..='Ö' | 'Ø'..='Þ' | 'Α'..='Ρ' | 'Σ'..='Ϋ' | 'А'..='Я' => 32,
        'Ѐ'..='Џ' => 80,
        'Ά' => 38,
        'Έ'..='Ί' => 37,
        'Ό' => 64,
        'Ύ' | 'Ώ' => 63,
        'Ÿ' => return 'ÿ',
        // Capitals and small letters in turn.
        'Ā'..='į' | 'Ĳ'..='ķ' | 'Ŋ'..='ŷ' => 1 - u32::from(capital) % 2,
        'Ĺ'..='ň' | 'Ź'..='ž' => u32::from(capital) % 2,
        _ => 0,
    };
    char::from_u32(u32::from(capital) + further).unwrap_or(capital)
}

/// A text with its words changed, as a translator would: values, the names of cases and the signs of the
/// notation stay.
pub fn map_words(text: &str, change: &impl Fn(&str) -> String) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(['{', '[', '#']) {
        out += &change(&rest[..at]);
        let (sign, after) = rest[at..].split_at(1);
        rest = match sign {
            "{" => {
                let (inside, after) = until_close(after);
                out = out + "{" + &map_argument(inside, change) + "}";
                after
            }
            "[" => {
                let (inside, after) = after.split_once(']').unwrap_or((after, ""));
                let spellings: Vec<_> =
                    inside.split('|').map(|one| map_words(one, change)).collect();
                out = out + "[" + &spellings.join("|") + "]";
                after
            }
            _ => {
                out += sign;
                after
            }
        };
    }
    out + &change(rest)
}

/// What is in braces, with the words of its cases changed.
fn map_argument(inside: &str, change: &impl Fn(&str) -> String) -> String {
    let Some((head, cases)) = inside.split_once(',').and_then(|(name, after)| {
        let (kind, cases) = after.split_once(',')?;
        Some((format!("{name},{kind},"), cases))
    }) else {
        return inside.to_owned();
    };
    let case = |(name, text)| format!(" {name} {{{}}}", map_words(text, change));
    head + &all(cases).into_iter().map(case).collect::<String>()
}

/// The text before the bracket that closes, and what is after it.
fn until_close(text: &str) -> (&str, &str) {
    let mut open = 0;
    for (at, c) in text.char_indices() {
        match c {
            '{' => open += 1,
            '}' if open == 0 => return (&text[..at], &text[at + 1..]),
            '}' => open -= 1,
            _ => {}
        }
    }
    (text, "")
}

/// The cases of a plural or a choice: name and text of each.
fn all(cases: &str) -> Vec<(&str, &str)> {
    let mut found = Vec::new();
    let mut rest = cases;
    while let Some((name, after)) = rest.split_once('{') {
        let (text, after) = until_close(after);
        found.push((name.trim(), text));
        rest = after;
    }
    found
}

/// The names of all values that a text asks for, each once, also inside its cases.
fn names(text: &str) -> Vec<&str> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some((_, after)) = rest.split_once('{') {
        let (inside, after) = until_close(after);
        let mut parts = inside.splitn(3, ',').map(str::trim);
        found.extend(parts.next());
        if let Some(cases) = parts.nth(1) {
            found.extend(all(cases).into_iter().flat_map(|(_, text)| names(text)));
        }
        rest = after;
    }
    found.sort_unstable();
    found.dedup();
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crenel_geometry::units::Quantity;

    fn of(text: &str, values: &[(&'static str, Value)]) -> [String; 2] {
        [Language::British, Language::American]
            .map(|language| Reader { language, ..Reader::default() })
            .map(|reader| Writer { values, reader }.written(text, None))
    }

    #[test]
    fn small_letters_are_those_of_the_standard_library() {
        // Two letters by special rules of Turkish are left out.
        let known = ('A'..='ž').chain('Ά'..='ώ').chain('Ѐ'..='я').filter(|c| *c != 'İ');
        for letter in known {
            let small: String = letter.to_lowercase().collect();
            assert_eq!(small_letter(letter).to_string(), small, "{letter}");
        }
        assert_eq!(small_letter('İ'), 'İ');
    }

    #[test]
    fn values_spellings_plurals_and_choices_are_written() {
        let dogs = |n: f64| vec![("dogs", Value::count_of(n))];
        let text = "{dogs, plural, =0 {No dog} one {# dog} other {# dogs}} at the [tyre|tire].";
        assert_eq!(of(text, &dogs(1.0)), ["1 dog at the tyre.", "1 dog at the tire."]);
        assert_eq!(of(text, &dogs(0.0))[0], "No dog at the tyre.");
        assert_eq!(of(text, &dogs(12.0))[1], "12 dogs at the tire.");
        let values =
            vec![("flank", Value::Pick("coast")), ("gap", Value::Number(Quantity::Length, 0.4))];
        let text = "{flank, select, drive {Pulling} other {On the [overrun|coast]}}: {gap}, {gap}.";
        assert_eq!(
            of(text, &values),
            ["On the overrun: 0.4 mm, 0.4 mm.", "On the coast: 0.4 mm, 0.4 mm."]
        );
    }

    #[test]
    fn lists_have_their_own_words_between() {
        let dogs = |dogs: &[&str]| {
            let dogs = dogs.iter().map(|dog| Value::Verbatim((*dog).to_owned())).collect();
            vec![("dogs", Value::List(dogs))]
        };
        let text = "Dogs {dogs, list, each {, } last { and }}.";
        assert_eq!(of(text, &dogs(&["A1", "A3", "A5"]))[0], "Dogs A1, A3 and A5.");
        assert_eq!(of(text, &dogs(&["A1", "A3"]))[0], "Dogs A1 and A3.");
        assert_eq!(of(text, &dogs(&["A1"]))[0], "Dogs A1.");
        assert_eq!(of("{dogs, list, each {; }}", &dogs(&["A1", "A3"]))[0], "A1; A3");
        assert_eq!(of("{dogs}", &dogs(&["A1", "A3"]))[0], "A1, A3");
        assert_eq!(names(text), ["dogs"]);
    }

    #[test]
    fn values_inside_a_case_are_written_and_named() {
        let text =
            "{n, plural, one {# gap of {gap}} other {# gaps, {side, select, a {A} other {{who}}}}}";
        assert_eq!(names(text), ["gap", "n", "side", "who"]);
        let values = vec![
            ("n", Value::count_of(2.0)),
            ("side", Value::Pick("b")),
            ("who", Value::Given("a friend".to_owned())),
        ];
        assert_eq!(of(text, &values)[0], "2 gaps, a friend");
    }

    #[test]
    fn words_are_changed_and_the_notation_stays() {
        let shout = |text: &str| map_words(text, &str::to_uppercase);
        let plural = "about {dogs, plural, =0 {no dog} one {# dog at {side}} other {# dogs}}";
        assert_eq!(
            shout(plural),
            "ABOUT {dogs, plural, =0 {NO DOG} one {# DOG AT {side}} other {# DOGS}}"
        );
        assert_eq!(
            shout("{label, lower}: [tyre|tire] [2, 4]"),
            "{label, lower}: [TYRE|TIRE] [2, 4]"
        );
        for text in ["{", "[", "a {b", "{a, plural, x", "#}"] {
            assert!(shout(text).len() < 40, "{text}");
        }
    }

    #[test]
    fn a_text_that_is_written_badly_is_shown_and_does_not_panic() {
        for text in [
            "{",
            "}",
            "[",
            "]",
            "{a",
            "{a, plural}",
            "{a, plural, {",
            "[a|b",
            "#",
            "{a, x, y}",
            "é{é",
        ] {
            let shown = of(text, &[("a", Value::count_of(1.0))]);
            assert!(shown[0].len() < 40, "{text}");
            assert!(names(text).len() < 2);
        }
    }
}
