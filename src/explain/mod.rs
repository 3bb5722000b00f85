//! Pages beside the rules: the words of the trade, work that needs care, and what is seen when something went wrong.
//!
//! A page is data; how it is laid out is for `tell`. Where nothing else is said, what stands here is common practice, no
//! source; a machine's manual goes before it.

mod symptoms;
mod trade;
mod work;

use crate::draw::MACHINE;
use crate::syntax::forms;
use std::sync::LazyLock;

/// What a page is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Sort {
    /// A word of the trade.
    Word,
    /// Work at the machine.
    Work,
    /// What is seen when something went wrong.
    Symptom,
}

/// A page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
pub struct Page {
    /// Its name, small letters with blanks between words.
    pub name: &'static str,
    /// Other names of it, and other forms of the word.
    pub also: &'static [&'static str],
    /// What it is about.
    pub sort: Sort,
    /// What it says, in whole sentences, one paragraph each.
    pub says: &'static [&'static str],
    /// The rules that have to do with it, by name.
    pub rules: &'static [&'static str],
    /// Other pages to read, by name.
    pub pages: &'static [&'static str],
    /// Words of the language by which lines about it are known; the words of one entry stand behind each other.
    #[serde(skip)]
    keys: &'static [&'static str],
    /// Lines about it that the table of statements does not show.
    #[serde(skip)]
    shown: &'static [&'static str],
}

const fn page(sort: Sort, name: &'static str, says: &'static [&'static str]) -> Page {
    Page { name, also: &[], sort, says, rules: &[], pages: &[], keys: &[], shown: &[] }
}

impl Page {
    const fn also(self, also: &'static [&'static str]) -> Self {
        Self { also, ..self }
    }

    const fn rules(self, rules: &'static [&'static str]) -> Self {
        Self { rules, ..self }
    }

    const fn pages(self, pages: &'static [&'static str]) -> Self {
        Self { pages, ..self }
    }

    const fn keys(self, keys: &'static [&'static str]) -> Self {
        Self { keys, ..self }
    }

    const fn shown(self, shown: &'static [&'static str]) -> Self {
        Self { shown, ..self }
    }

    /// Lines of the language in which it stands: its own, and those that the table of statements shows; a few at the most.
    #[must_use]
    pub fn lines(&self) -> Vec<&'static str> {
        const MOST: usize = 4;
        let samples = || forms::all().flat_map(|form| form.samples.iter().copied());
        let mut lines: Vec<&str> = self.shown.to_vec();
        // One line for each key first, so that no word of several has all the lines.
        for nth in 0..MOST {
            for key in self.keys {
                if let Some(line) = samples().filter(|line| has(line, key)).nth(nth)
                    && !lines.contains(&line)
                    && lines.len() < MOST
                {
                    lines.push(line);
                }
            }
        }
        lines
    }

    /// The picture that belongs to it: the machine seen from above; nothing for most.
    #[must_use]
    pub fn picture(&self) -> &'static [&'static str] {
        if ["front bed", "back bed", "bed"].contains(&self.name) { &MACHINE } else { &[] }
    }

    /// Its name and the other ones.
    fn names(&self) -> impl Iterator<Item = &'static str> {
        std::iter::once(self.name).chain(self.also.iter().copied())
    }
}

/// Every page, words first, each sort in the order of the alphabet.
pub static PAGES: LazyLock<Vec<&'static Page>> = LazyLock::new(|| {
    let mut pages: Vec<&Page> = trade::WORDS.iter().chain(work::WORK).chain(symptoms::SYMPTOMS).collect();
    pages.sort_by_key(|page| (page.sort as u8, page.name));
    pages
});

/// The page of that name, or of one that has it as another name; large and small letters, and dashes and blanks, are the
/// same.
#[must_use]
pub fn find(name: &str) -> Option<&'static Page> {
    let name = name.to_lowercase().replace('-', " ");
    let named = |by: fn(&Page, &str) -> bool| PAGES.iter().copied().find(|page| by(page, &name));
    named(|page, name| page.name.replace('-', " ") == name)
        .or_else(|| named(|page, name| page.also.iter().any(|also| also.replace('-', " ") == name)))
}

/// The names of that sort of page.
pub fn names_of(sort: Sort) -> impl Iterator<Item = &'static str> {
    PAGES.iter().filter(move |page| page.sort == sort).map(|page| page.name)
}

/// The words of the trade that stand in a text and have a page, in the order of the alphabet.
#[must_use]
pub fn words_in(text: &str) -> Vec<&'static Page> {
    let text = text.to_lowercase();
    let stands = |page: &&Page| page.sort == Sort::Word && page.names().any(|name| has(&text, name));
    PAGES.iter().copied().filter(stands).collect()
}

/// Whether a word, or several behind each other, stand in a text, not inside longer words.
fn has(text: &str, words: &str) -> bool {
    let inside = |letter: char| letter.is_alphanumeric() || letter == '-';
    text.match_indices(words).any(|(at, found)| {
        let before = text.get(..at).and_then(|before| before.chars().next_back());
        let behind = text.get(at + found.len()..).and_then(|behind| behind.chars().next());
        !before.is_some_and(inside) && !behind.is_some_and(inside)
    })
}

#[cfg(test)]
mod tests {
    use super::{MACHINE, PAGES, Sort, find, has, words_in};
    use crate::rules;
    use std::collections::BTreeSet;

    #[test]
    fn every_link_leads_somewhere() {
        for page in PAGES.iter() {
            for rule in page.rules {
                assert!(rules::find(rule).is_some(), "{}: there is no rule `{rule}`", page.name);
            }
            for other in page.pages {
                assert!(find(other).is_some_and(|found| found.name == *other), "{}: no page `{other}`", page.name);
                assert_ne!(*other, page.name);
            }
            for key in page.keys {
                assert!(!page.lines().is_empty(), "{}: no line has `{key}`", page.name);
            }
        }
    }

    #[test]
    fn names_are_given_once_and_are_no_rules() {
        let mut seen = BTreeSet::new();
        for name in PAGES.iter().flat_map(|page| page.names()) {
            assert!(seen.insert(name), "`{name}` is given twice");
            assert!(rules::find(name).is_none(), "`{name}` is a rule");
            assert_eq!(name, name.to_lowercase());
            assert!(find(name).is_some());
        }
    }

    #[test]
    fn pages_speak_in_whole_sentences() {
        for page in PAGES.iter() {
            assert!(!page.says.is_empty(), "{}", page.name);
            for says in page.says {
                assert!(says.ends_with('.') && !says.contains("  "), "{}: {says}", page.name);
            }
            assert!(page.sort != Sort::Word || page.says.len() == 1, "{}: a word has one sentence", page.name);
            assert!(page.sort != Sort::Symptom || !page.rules.is_empty() || !page.pages.is_empty(), "{}", page.name);
        }
    }

    /// Looked for in another way than [`words_in`] does: word by word.
    #[test]
    fn every_word_in_the_text_of_a_rule_that_has_a_page_is_found() {
        for rule in rules::ALL.iter() {
            let text = format!("{} {}", rule.summary, rule.why);
            let found: Vec<&str> = words_in(&text).iter().map(|page| page.name).collect();
            for word in text.split(|letter: char| !(letter.is_alphanumeric() || letter == '-')) {
                let Some(page) = find(word).filter(|page| page.sort == Sort::Word) else { continue };
                assert!(found.contains(&page.name), "{}: `{word}` is not among {found:?}", rule.name);
            }
        }
        let names: Vec<&str> = words_in("The front bed tucks.").iter().map(|page| page.name).collect();
        assert_eq!(names, ["bed", "front bed", "tuck"]);
    }

    /// Words for what no line is about: parts of a needle, and what the fabric is made of.
    const NO_LINES: [&str; 6] = ["course", "hook", "knit side", "latch", "purl side", "wale"];

    #[test]
    fn every_word_shows_the_lines_it_stands_in() {
        for page in PAGES.iter().filter(|page| page.sort == Sort::Word) {
            assert_eq!(page.lines().is_empty(), NO_LINES.contains(&page.name), "{}: {:?}", page.name, page.lines());
        }
    }

    #[test]
    fn lines_that_a_page_shows_can_be_read() {
        for page in PAGES.iter() {
            for line in page.shown {
                let text = format!(
                    "machine club {{ needles 9 each side }}\nyarn slate {{}}\npiece \"A\" {{\nin work front L4-R4, back \
                     L4-R3\nthread slate\ncast on zigzag\n{line}\nbind off both\n}}\n"
                );
                let found = crate::check("a.wale", &text, &crate::source::NoLibrary).findings;
                let refused = found.iter().find(|it| it.rule.source == "the grammar of the language");
                assert!(refused.is_none(), "{}: {line}: {}", page.name, refused.map_or("", |it| it.what.as_str()));
            }
        }
    }

    #[test]
    fn words_stand_alone() {
        assert!(has("row front knit, back tuck", "back tuck") && has("tuck", "tuck"));
        assert!(!has("tucks", "tuck") && !has("half-cardigan", "half") && !has("", "tuck"));
    }

    #[test]
    fn the_front_bed_is_the_nearer_one_and_the_reference_shows_the_same_picture() {
        let front = find("front").expect("the front bed has a page");
        assert!(front.says[0].contains("nearer to you"));
        assert_eq!(front.picture(), MACHINE);
        assert!(front.lines().iter().all(|line| has(line, "front")));
        let reference = include_str!("../../grammar/README.md");
        assert!(reference.contains(&MACHINE.join("\n")));
    }
}
