//! How to cite a design and the program, as text and as BibTeX.

use super::name::file_name;

/// What is cited.
#[derive(Clone, Copy, Debug)]
pub struct Cited<'a> {
    /// The title of the design.
    pub title: &'a str,
    /// The version of the program.
    pub version: &'a str,
    /// The day on which the design was read, as 2026-11-30.
    pub day: &'a str,
    /// The link to the design.
    pub link: &'a str,
    /// The address of the program.
    pub page: &'a str,
}

impl Cited<'_> {
    /// Both as lines of a list of references. They are in English, as such lists mostly are.
    pub fn text(&self) -> String {
        let Self { title, version, day, link, page } = self;
        format!(
            "Crenel {version}. Program for gearbox dogs. {page} (accessed {day}).\n\
             {title}. Design in Crenel {version}. {link} (accessed {day}).\n"
        )
    }

    /// Both as BibTeX.
    pub fn bibtex(&self) -> String {
        let Self { title, version, day, link, page } = self;
        let year = day.get(..4).unwrap_or_default();
        let key = file_name(title, "design");
        let key: String = key.chars().filter(|c| c.is_ascii_alphanumeric() || *c == '-').collect();
        let title = escaped(title);
        format!(
            "@software{{crenel,\n  title = {{Crenel}},\n  version = {{{version}}},\n  year = {{{year}}},\n  \
             url = {{{page}}},\n  urldate = {{{day}}}\n}}\n\n\
             @misc{{{key},\n  title = {{{title}}},\n  howpublished = {{Design in Crenel {version}}},\n  \
             year = {{{year}}},\n  url = {{{link}}},\n  urldate = {{{day}}}\n}}\n"
        )
    }
}

/// A title without what TeX takes for its own.
fn escaped(title: &str) -> String {
    let mut out = String::new();
    for letter in title.chars() {
        match letter {
            '&' | '%' | '$' | '#' | '_' => out.extend(['\\', letter]),
            '{' | '}' => {}
            '\\' | '~' | '^' => out.push(' '),
            letter if letter.is_control() => out.push(' '),
            letter => out.push(letter),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    const CITED: Cited<'static> = Cited {
        title: "Ring {A} & 50 % \\cut_off",
        version: "0.1.0",
        day: "2026-11-30",
        link: "https://example.org/#1.x",
        page: "https://example.org/",
    };

    #[test]
    fn text_has_both_with_their_links() {
        let text = CITED.text();
        assert_eq!(text.lines().count(), 2);
        assert!(text.contains(CITED.link) && text.contains("accessed 2026-11-30"));
    }

    #[test]
    fn bibtex_has_balanced_braces_and_escapes_the_title() {
        let bibtex = CITED.bibtex();
        assert_eq!(bibtex.matches('{').count(), bibtex.matches('}').count());
        assert!(bibtex.contains("title = {Ring A \\& 50 \\%  cut\\_off}"), "{bibtex}");
        assert!(bibtex.contains("@misc{ring-a-50-cut-off-design,"), "{bibtex}");
        assert!(bibtex.contains("year = {2026}"));
    }
}
