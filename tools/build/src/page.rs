//! The page: what it is made of, and how it names what was built.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context as _, Result, bail};

use crate::Tools;
use crate::module::{Module, minify};
use crate::parts::{hash, integrity};

/// A page as it is written, with the links that say what it is made of.
pub(crate) struct Page {
    pub(crate) folder: PathBuf,
    html: String,
}

/// What one line of the page asks for.
#[derive(Debug, PartialEq, Eq)]
enum Asked {
    Module(Module),
    Style(PathBuf),
    Copy(PathBuf),
}

impl Page {
    pub(crate) fn read(path: &Path) -> Result<Self> {
        let html =
            fs::read_to_string(path).with_context(|| format!("cannot read {}", path.display()))?;
        let folder = path.parent().map(Path::to_path_buf).unwrap_or_default();
        Ok(Self { folder, html })
    }

    /// Builds what the page is made of into a folder; gives the page that names it.
    pub(crate) fn put_together(&self, folder: &Path, tools: &Tools) -> Result<String> {
        let mut html = String::new();
        for line in self.html.lines() {
            match self.asked(line)? {
                None => html += line,
                Some(Asked::Module(module)) => {
                    html += &module_lines(&module.build(folder, tools)?, folder)?;
                }
                Some(Asked::Style(sheet)) => html += &style_line(&sheet, folder, tools)?,
                Some(Asked::Copy(file)) => {
                    copy(&file, folder)?;
                    continue;
                }
            }
            html.push('\n');
        }
        Ok(html)
    }

    fn asked(&self, line: &str) -> Result<Option<Asked>> {
        let Some(rest) = line.trim().strip_prefix("<link data-trunk ") else { return Ok(None) };
        let of = |name: &str| attribute(rest, name).map(str::to_owned);
        let path = of("href").with_context(|| format!("the page names no file in {line}"))?;
        let path = self.folder.join(path);
        Ok(Some(match attribute(rest, "rel") {
            Some("rust") => Asked::Module(Module {
                manifest: path,
                bin: of("data-bin"),
                level: of("data-wasm-opt"),
                ahead: attribute(rest, "data-ahead")
                    .map_or(Vec::new(), |names| names.split(' ').map(str::to_owned).collect()),
            }),
            Some("css") => Asked::Style(path),
            Some("copy-file") => Asked::Copy(path),
            _ => bail!("the page asks for what this program does not know: {line}"),
        }))
    }
}

/// The value of an attribute of a tag.
fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let start = tag.match_indices(name).map(|(at, _)| at + name.len());
    start.filter_map(|at| tag[at..].strip_prefix("=\"")?.split('"').next()).next()
}

fn module_lines(built: &crate::module::Built, folder: &Path) -> Result<String> {
    let name = &built.name;
    let script = integrity(&built.script);
    let wasm = integrity(&fs::read(folder.join(format!("{name}_bg.wasm")))?);
    let ahead = if built.ahead.is_empty() { String::new() } else { fetched_ahead(&built.ahead) };
    Ok(format!(
        r#"<link rel="modulepreload" href="./{name}.js" crossorigin="anonymous" integrity="{script}">
<link rel="preload" href="./{name}_bg.wasm" crossorigin="anonymous" integrity="{wasm}"
  as="fetch" type="application/wasm">
<script type="module">
{ahead}import init, * as bindings from "./{name}.js";
const wasm = await init({{ module_or_path: "./{name}_bg.wasm" }});
window.wasmBindings = bindings;
dispatchEvent(new CustomEvent("TrunkApplicationStarted", {{ detail: {{ wasm }} }}));
</script>"#
    ))
}

/// Lines of a script that begin to fetch the files of the part that this visit needs at once, as the page says.
fn fetched_ahead(parts: &BTreeMap<String, Vec<String>>) -> String {
    format!(
        r#"for (const file of {parts:?}[window.needsAhead] ?? []) {{
  const link = {{ rel: "preload", as: "fetch", crossOrigin: "anonymous", href: `./${{file}}` }};
  document.head.append(Object.assign(document.createElement("link"), link));
}}
"#
    )
}

fn style_line(sheet: &Path, folder: &Path, tools: &Tools) -> Result<String> {
    let stem = sheet.file_stem().context("a style sheet without a name")?.to_string_lossy();
    let draft = folder.join(format!("{stem}.css"));
    fs::copy(sheet, &draft).with_context(|| format!("cannot read {}", sheet.display()))?;
    minify(&draft, tools)?;
    let content = fs::read(&draft)?;
    let name = format!("{stem}-{}.css", hash(&[&content]));
    fs::rename(&draft, folder.join(&name))?;
    let integrity = integrity(&content);
    Ok(format!(r#"<link rel="stylesheet" href="./{name}" integrity="{integrity}">"#))
}

fn copy(file: &Path, folder: &Path) -> Result<()> {
    let name = file.file_name().context("a file without a name")?;
    fs::copy(file, folder.join(name)).with_context(|| format!("cannot copy {}", file.display()))?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn asked(line: &str) -> Result<Option<Asked>> {
        Page { folder: "www".into(), html: String::new() }.asked(line)
    }

    #[test]
    fn a_page_says_what_it_is_made_of() {
        let rust = r#"<link data-trunk rel="rust" href="../app/Cargo.toml" data-bin="app" data-wasm-opt="z" data-ahead="one two">"#;
        let module = Module {
            manifest: "www/../app/Cargo.toml".into(),
            bin: Some("app".to_owned()),
            level: Some("z".to_owned()),
            ahead: vec!["one".to_owned(), "two".to_owned()],
        };
        assert_eq!(asked(rust).unwrap(), Some(Asked::Module(module)));
        let css = asked(r#"  <link data-trunk rel="css" href="style.css">"#).unwrap();
        assert_eq!(css, Some(Asked::Style("www/style.css".into())));
        let copied = asked(r#"<link data-trunk rel="copy-file" href="icon.svg">"#).unwrap();
        assert_eq!(copied, Some(Asked::Copy("www/icon.svg".into())));
        assert_eq!(asked(r#"<link rel="icon" href="icon.svg">"#).unwrap(), None);
    }

    #[test]
    fn what_is_not_known_is_refused() {
        assert!(asked(r#"<link data-trunk rel="sass" href="style.scss">"#).is_err());
        assert!(asked(r#"<link data-trunk rel="css">"#).is_err());
    }
}
