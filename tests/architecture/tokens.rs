//! Rust source as tokens, as far as imports need it: without comments, texts and tests.

/// The tokens of a source file that a release build compiles. `::` is one token; a text or a character is
/// none.
pub(crate) fn tokens(source: &str) -> Vec<String> {
    without_tests(&lex(source))
}

/// The modules in files of their own that a source file declares for tests only.
pub(crate) fn test_modules(source: &str) -> Vec<String> {
    let tokens = lex(source);
    let name = |at: usize| {
        let item = tokens.get(at + CFG_TEST.len()..)?;
        let declares = is(&tokens[at..], &CFG_TEST) && is(item, &["mod"]) && item.get(2)? == ";";
        declares.then(|| item[1].clone())
    };
    (0..tokens.len()).filter_map(name).collect()
}

const CFG_TEST: [&str; 7] = ["#", "[", "cfg", "(", "test", ")", "]"];

fn lex(source: &str) -> Vec<String> {
    let letters: Vec<char> = source.chars().collect();
    let (mut tokens, mut at) = (Vec::new(), 0);
    while at < letters.len() {
        let rest = &letters[at..];
        let word = rest.iter().take_while(|c| c.is_alphanumeric() || **c == '_').count();
        at += match rest {
            ['/', '/', ..] => rest.iter().take_while(|c| **c != '\n').count(),
            ['/', '*', ..] => block_comment(rest),
            ['r', '"' | '#', ..] | ['b', 'r', '"' | '#', ..] if raw_text(rest) > 0 => {
                raw_text(rest)
            }
            ['"', ..] => text(rest),
            ['b', '"', ..] => 1 + text(&rest[1..]),
            ['\'', '\\', ..] => 3 + rest[3..].iter().take_while(|c| **c != '\'').count(),
            ['\'', _, '\'', ..] => 3,
            [':', ':', ..] => {
                tokens.push("::".to_owned());
                2
            }
            _ if word > 0 => {
                tokens.push(rest[..word].iter().collect());
                word
            }
            [other, ..] => {
                tokens.extend((!other.is_whitespace()).then(|| other.to_string()));
                1
            }
            [] => 1,
        };
    }
    tokens
}

/// The length of a comment that may hold others.
fn block_comment(letters: &[char]) -> usize {
    let (mut depth, mut at) = (0_usize, 0);
    while at < letters.len() {
        match letters[at..] {
            ['/', '*', ..] => (depth, at) = (depth + 1, at + 2),
            ['*', '/', ..] => (depth, at) = (depth - 1, at + 2),
            _ => at += 1,
        }
        if depth == 0 {
            break;
        }
    }
    at
}

/// The length of a text with its quotation marks.
fn text(letters: &[char]) -> usize {
    let mut at = 1;
    while at < letters.len() && letters[at] != '"' {
        at += if letters[at] == '\\' { 2 } else { 1 };
    }
    at + 1
}

/// The length of a raw text; 0 where there is none, as in `r#type`.
fn raw_text(letters: &[char]) -> usize {
    let start = letters.iter().take_while(|c| matches!(c, 'b' | 'r')).count();
    let hashes = letters[start..].iter().take_while(|c| **c == '#').count();
    if letters.get(start + hashes) != Some(&'"') {
        return 0;
    }
    let mut end = vec!['"'];
    end.resize(1 + hashes, '#');
    let body = start + hashes + 1;
    let length = letters[body..].windows(end.len()).position(|part| part == end);
    body + length.unwrap_or_default() + end.len()
}

/// Leaves out whatever is compiled for tests only.
fn without_tests(tokens: &[String]) -> Vec<String> {
    let (mut kept, mut at) = (Vec::new(), 0);
    while at < tokens.len() {
        if is(&tokens[at..], &CFG_TEST) {
            at += CFG_TEST.len();
            at += item(&tokens[at..]);
        } else {
            kept.push(tokens[at].clone());
            at += 1;
        }
    }
    kept
}

fn is(tokens: &[String], expected: &[&str]) -> bool {
    tokens.len() >= expected.len() && tokens.iter().zip(expected).all(|(a, b)| a == b)
}

/// The length of the first item: up to its semicolon, the end of its braces, or what closes around it.
fn item(tokens: &[String]) -> usize {
    let mut depth = 0_usize;
    for (at, token) in tokens.iter().enumerate() {
        match token.as_str() {
            "{" | "(" | "[" => depth += 1,
            "}" | ")" | "]" if depth == 0 => return at,
            "}" | ")" | "]" => depth -= 1,
            _ => {}
        }
        if depth == 0 && matches!(token.as_str(), ";" | "}") {
            return at + 1;
        }
    }
    tokens.len()
}
