//! Keys that are given more than once in one object. A JSON reader silently takes the last one.

use serde_json::{Map, Value};

use crenel_words::finding as say;

use crate::finding::Finding;
use crate::units::sanitize_quote;

/// The largest number of keys that are named; the rest are counted.
const NAMED: usize = 5;

/// A set of keys in their order. It is a map of JSON because the code for that is in the download already.
type Keys = Map<String, Value>;

/// An object or a list that is open at a place in the text.
enum Open {
    /// An object: the keys so far, and the latest one.
    Object { keys: Keys, key: String },
    /// A list: the index of the present element.
    List(usize),
}

/// The finding that keys are given more than once, for a text that is JSON.
pub(super) fn repeated_keys(text: &str) -> Option<Finding> {
    let paths = repeated(text);
    if paths.is_empty() {
        return None;
    }
    let quoted = |path: &String| format!("“{}”", sanitize_quote(path));
    let named: Vec<_> = paths.keys().take(NAMED).map(quoted).collect();
    let more = paths.len() - named.len();
    Some(Finding::warning(say::repeated_key(named.join(", "), more)))
}

/// The paths of the repeated keys, in the order in which they are repeated.
fn repeated(text: &str) -> Keys {
    let mut paths = Keys::new();
    let mut open: Vec<Open> = Vec::new();
    // Whether the next string is a key: after the brace that opens an object, or its commas.
    let mut key_is_next = false;
    let mut at = 0;
    while let Some(&byte) = text.as_bytes().get(at) {
        match byte {
            b'"' => {
                let end = string_end(text, at);
                if let (true, Some(name)) = (key_is_next, text.get(at..end)) {
                    paths.extend(give_key(&mut open, name).map(|path| (path, Value::Null)));
                }
                (at, key_is_next) = (end, false);
                continue;
            }
            b'{' => {
                open.push(Open::Object { keys: Keys::new(), key: String::new() });
                key_is_next = true;
            }
            b'[' => open.push(Open::List(0)),
            b'}' | b']' => {
                open.pop();
                key_is_next = false;
            }
            b',' => match open.last_mut() {
                Some(Open::Object { .. }) => key_is_next = true,
                Some(Open::List(number)) => *number += 1,
                None => {}
            },
            _ => {}
        }
        at += 1;
    }
    paths
}

/// The place after the quotation mark that ends the string which starts at `start`.
fn string_end(text: &str, start: usize) -> usize {
    let mut escaped = false;
    let mut bytes = text.bytes().skip(start + 1);
    let length = bytes.position(|byte| {
        let ends = byte == b'"' && !escaped;
        escaped = byte == b'\\' && !escaped;
        ends
    });
    length.map_or(text.len(), |length| start + length + 2)
}

/// Notes a key, and returns its path if its object has it already.
fn give_key(open: &mut [Open], name: &str) -> Option<String> {
    let name: String = serde_json::from_str(name).ok()?;
    let Some(Open::Object { keys, key }) = open.last_mut() else { return None };
    key.clone_from(&name);
    keys.insert(name, Value::Null).map(|_| path(open))
}

/// The path of the latest key, as `a.dogs[0].height_mm`.
fn path(open: &[Open]) -> String {
    let mut path = String::new();
    for part in open {
        match part {
            Open::Object { key, .. } if path.is_empty() => path += key,
            Open::Object { key, .. } => path = path + "." + key,
            Open::List(number) => path += &format!("[{number}]"),
        }
    }
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_given_twice_is_found_with_its_place() {
        let cases: &[(&str, &[&str])] = &[
            (r#"{"a":1,"b":{"a":1},"c":[{"a":1},{"a":2}]}"#, &[]),
            (r#"{"a":1,"b":2,"a":3}"#, &["a"]),
            (r#"{"a":{"dogs":[{"x":1},{"x":1,"y":{},"x":2}]},"b":1}"#, &["a.dogs[1].x"]),
            (
                r#"{ "q\"u,{" : "a\\" , "q\u0022u,{" : ["\"x\":", {"k":[]}], "k": "k" }"#,
                &["q\"u,{"],
            ),
            (r#"{"a":[1,{"b":1,"b":2,"b":3}],"ä":"a","\u00e4":0}"#, &["a[1].b", "ä"]),
            (r#"{"a":"b","b":"a","c":["c","c"]}"#, &[]),
            (r#"[{},{},[]]"#, &[]),
        ];
        for (text, want) in cases {
            serde_json::from_str::<serde_json::Value>(text).expect("the case is JSON");
            assert_eq!(repeated(text).keys().collect::<Vec<_>>(), *want, "{text}");
        }
    }

    #[test]
    fn few_are_named_and_the_rest_is_counted() {
        let keys: Vec<_> = (0..8).map(|n| format!("\"k{n}\":0,\"k{n}\":1")).collect();
        let finding = repeated_keys(&format!("{{{}}}", keys.join(","))).expect("there are some");
        let told = finding.text(crenel_words::Reader::default());
        assert_eq!(
            told,
            "Given more than once: “k0”, “k1”, “k2”, “k3”, “k4” and 3 more. The last of each counts."
        );
    }
}
