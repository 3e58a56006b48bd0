//! What a source file names from elsewhere: its imports and the paths written out in its code.

/// One name that a `use` brings in.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Import {
    /// The path to it, segment by segment; `*` for everything in it.
    pub(crate) path: Vec<String>,
    /// What it is called here.
    pub(crate) alias: String,
}

/// Everything that the tokens of a file name with a path.
#[derive(Clone, Debug, Default)]
pub(crate) struct Named {
    /// By `use`, whether it hands them on or not.
    pub(crate) imports: Vec<Import>,
    /// In place.
    pub(crate) paths: Vec<Vec<String>>,
}

/// Reads what a file names off its tokens.
pub(crate) fn named(tokens: &[String]) -> Named {
    let (mut named, mut at) = (Named::default(), 0);
    while at < tokens.len() {
        let before = at.checked_sub(1).map_or("", |before| tokens[before].as_str());
        if tokens[at] == "use" && matches!(before, "" | ";" | "}" | "{" | "pub" | ")" | "]") {
            at += 1;
            tree(tokens, &mut at, &[], &mut named.imports);
        } else if is_name(&tokens[at]) && !matches!(before, "::" | ".") {
            let mut path = vec![tokens[at].clone()];
            while tokens.get(at + 1).is_some_and(|t| t == "::")
                && tokens.get(at + 2).is_some_and(|t| is_name(t))
            {
                path.push(tokens[at + 2].clone());
                at += 2;
            }
            if path.len() > 1 {
                named.paths.push(path);
            }
            at += 1;
        } else {
            at += 1;
        }
    }
    named
}

fn is_name(token: &str) -> bool {
    token.starts_with(|c: char| c.is_alphabetic() || c == '_')
}

/// One tree of a `use`, from its first segment on.
fn tree(tokens: &[String], at: &mut usize, start: &[String], imports: &mut Vec<Import>) {
    let mut path = start.to_vec();
    while let Some(token) = tokens.get(*at) {
        *at += 1;
        match token.as_str() {
            "::" => {}
            "{" => {
                while tokens.get(*at).is_some_and(|token| token != "}") {
                    tree(tokens, at, &path, imports);
                    *at += usize::from(tokens.get(*at).is_some_and(|token| token == ","));
                }
                *at += 1;
                return;
            }
            "as" => {
                let alias = tokens[*at].clone();
                *at += 1;
                imports.push(Import { path, alias });
                return;
            }
            segment => path.push(segment.to_owned()),
        }
        if tokens.get(*at).is_none_or(|next| matches!(next.as_str(), "," | "}" | ";")) {
            break;
        }
    }
    // `{self}` is the module before it.
    if path.len() > 1 && path.last().is_some_and(|last| last == "self") {
        path.pop();
    }
    let alias = path.last().cloned().unwrap_or_default();
    imports.push(Import { path, alias });
}
