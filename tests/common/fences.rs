//! Patterns in pages: what a fenced block holds, what is announced of it, and whether that is found.
//!
//! The words behind ```` ```wale ```` say how the block becomes a pattern, and what is found in it:
//!
//! ```text
//! [FORM] [finds nothing | finds RULE [at LINE] [, RULE [at LINE]] ...]
//! ```
//!
//! The forms of the reference are `whole` (a pattern), `top` (declarations), `piece` (the inside of a piece), and `front`
//! and `both` (lines in the middle of a piece, with 20 stitches on the front bed or on each bed before them). On the pages
//! of the rules, the form `before` is the beginning of all that follow up to the next one or the next heading; without a
//! form a block follows on it, and `whole` stands by itself. A beginning may leave its last block open.
//!
//! The findings stand in the order in which they are told, all of them. The lines are those of the block; `end` is what
//! stands below it. Quotations under the block belong to its findings, the first to the first. One is all that is said, or
//! what is left of it when each `…` may stand for anything. In a list below the quotation stands what else the finding has,
//! and then nothing else:
//!
//! ```text
//! > … past 5 needles …
//! >
//! > - line 3: what is said of the line
//! > - line 4, `words`: what is said of these words of the line
//! > - no line
//! > - offered: what is changed if the knitter wants it
//! > - nothing is offered
//! ```

use super::Examples;
use std::path::Path;
use wale::Checked;
use wale::catalogue::Rule;
use wale::finding::{Finding, Label};
use wale::rules::find;
use wale::source::{FileId, Span};

/// A fenced block.
#[derive(Debug, Default)]
pub struct Fence {
    /// The page, and the line of the page that opens it.
    pub place: String,
    /// The words behind the opening marks.
    pub info: Vec<String>,
    pub text: String,
    /// The beginning that the page has for it.
    before: String,
    /// Whether there is a sentence between it and what stands above.
    introduced: bool,
    quotes: Vec<Quote>,
}

/// What is quoted of a finding.
#[derive(Debug, Default)]
struct Quote {
    words: String,
    items: Vec<String>,
}

/// A finding that is announced: its rule, and the line of the block, or none where no line is given.
#[derive(Debug)]
struct Announced {
    rule: String,
    at: Option<At>,
}

#[derive(Debug, PartialEq, Eq)]
enum At {
    Line(usize),
    End,
}

/// A block as a whole pattern, with the number of lines that stand before its own.
struct Pattern {
    text: String,
    above: usize,
}

const BEFORE_PIECE: &str = "use \"machines/bollard-room.wale\"\nyarn slate {}\nyarn foam {}\npiece \"Sample\" {\n";
const BEFORE_FRONT: &str = "in work front L10-R10\nthread slate\nstitch size 5\ncast on wound front\nrow front knit\nrow front knit, loosened 1\n";
const BEFORE_BOTH: &str =
    "in work front L10-R10, back L10-R9\nthread slate\nstitch size 5\ncast on zigzag\nrow both knit, loosened 1\n";
const FORMS: [&str; 6] = ["whole", "top", "piece", "front", "both", "before"];

/// The fenced blocks of a page of the project.
pub fn fences(name: &str) -> Vec<Fence> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    fences_in(name, &std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{name}: {error}")))
}

/// The fenced blocks of a page that is at hand.
pub fn fences_in(name: &str, page: &str) -> Vec<Fence> {
    let mut fences: Vec<Fence> = Vec::new();
    let (mut open, mut before) = (None::<Fence>, String::new());
    // Whether there was a sentence since the last block, and whether a quotation goes on.
    let (mut introduced, mut quoting) = (false, false);
    for (at, line) in page.lines().enumerate() {
        let place = || format!("{name}:{}", at + 1);
        if let Some(mut fence) = open.take() {
            if line == "```" {
                if fence.info == ["wale", "before"] {
                    before.clone_from(&fence.text);
                } else {
                    fences.push(fence);
                }
            } else {
                fence.text.push_str(line);
                fence.text.push('\n');
                open = Some(fence);
            }
        } else if let Some(info) = line.strip_prefix("```") {
            let info = info.split_whitespace().map(str::to_owned).collect();
            open = Some(Fence { place: place(), info, introduced, before: before.clone(), ..Fence::default() });
            (introduced, quoting) = (false, false);
        } else if let Some(quoted) = line.strip_prefix('>') {
            let fence = fences.last_mut().filter(|_| !introduced);
            let fence = fence.unwrap_or_else(|| panic!("{}: the quotation belongs to no block", place()));
            if !std::mem::replace(&mut quoting, true) {
                fence.quotes.push(Quote::default());
            }
            if let Some(quote) = fence.quotes.last_mut() {
                quote.read(quoted.trim());
            }
        } else {
            if line.starts_with('#') {
                before.clear();
            }
            introduced |= !line.trim().is_empty() && !line.starts_with('#');
            quoting = false;
        }
    }
    assert!(open.is_none(), "{name}: a fenced block is not closed");
    fences
}

impl Quote {
    fn read(&mut self, line: &str) {
        if let Some(item) = line.strip_prefix("- ") {
            self.items.push(item.to_owned());
        } else if !line.is_empty() {
            // A line goes on with what is above it.
            let above = self.items.last_mut().unwrap_or(&mut self.words);
            if !above.is_empty() {
                above.push(' ');
            }
            above.push_str(line);
        }
    }

    /// Whether the finding says the words.
    fn is_said(&self, said: &str) -> bool {
        let parts: Vec<&str> = self.words.split('…').map(str::trim).collect();
        let [first, .., last] = &parts[..] else { return self.words == said };
        let mut rest = said;
        for part in &parts {
            let Some((at, _)) = rest.match_indices(part).find(|(at, found)| is_cut_between_words(rest, *at, found))
            else {
                return false;
            };
            rest = &rest[at + part.len()..];
        }
        said.starts_with(first) && said.ends_with(last)
    }
}

/// Whether a part of a text begins and ends where words do.
fn is_cut_between_words(text: &str, at: usize, part: &str) -> bool {
    let is_in_a_word = |place: usize| {
        let (before, after) = text.split_at(place);
        before.ends_with(char::is_alphanumeric) && after.starts_with(char::is_alphanumeric)
    };
    part.is_empty() || !(is_in_a_word(at) || is_in_a_word(at + part.len()))
}

impl Fence {
    pub fn word(&self, at: usize) -> &str {
        self.info.get(at).map_or("", String::as_str)
    }

    /// How the block becomes a pattern; empty where it follows on the beginning of its page.
    pub fn form(&self) -> &str {
        if FORMS.contains(&self.word(1)) { self.word(1) } else { "" }
    }

    /// As a whole pattern.
    pub fn pattern(&self) -> String {
        self.whole().unwrap_or_else(|error| panic!("{}: {error}", self.place)).text
    }

    fn whole(&self) -> Result<Pattern, String> {
        let text = &self.text;
        let (head, tail) = match self.form() {
            "whole" | "top" => (String::new(), String::new()),
            "piece" => (BEFORE_PIECE.to_owned(), "}\n".to_owned()),
            "front" => (format!("{BEFORE_PIECE}{BEFORE_FRONT}"), "onto waste yarn both\n}\n".to_owned()),
            "both" => (format!("{BEFORE_PIECE}{BEFORE_BOTH}"), "onto waste yarn both\n}\n".to_owned()),
            "" => {
                let lines = || self.before.lines().map(str::trim);
                let open = lines().filter(|line| line.ends_with('{')).count();
                let closed = lines().filter(|line| *line == "}").count();
                (self.before.clone(), "}\n".repeat(open.saturating_sub(closed)))
            }
            other => return Err(format!("`{other}` does not say how the block becomes a pattern")),
        };
        let above = head.lines().count();
        Ok(Pattern { text: format!("{head}{text}{tail}"), above })
    }

    fn announced(&self) -> Result<Vec<Announced>, String> {
        let words = self.info.get(if self.form().is_empty() { 1 } else { 2 }..).unwrap_or_default().join(" ");
        match words.strip_prefix("finds ") {
            None if words.is_empty() => Ok(Vec::new()),
            Some("nothing") => Ok(Vec::new()),
            Some(list) => list.split(", ").map(Announced::read).collect(),
            None => Err(format!("`{words}` is not understood")),
        }
    }

    /// Whether it announces that something is found.
    pub fn finds(&self) -> bool {
        self.announced().is_ok_and(|announced| !announced.is_empty())
    }

    /// What is wrong with a block of a page of the reference.
    pub fn wrong(&self) -> Option<String> {
        let judged = self.whole().and_then(|pattern| self.judge(&pattern));
        judged.err().map(|error| format!("{} {}\n{error}", self.place, self.info.join(" ")))
    }

    /// What is wrong with a block of a page of the rules. A small machine and a yarn are added below, and what stands in a
    /// piece is put into one.
    pub fn wrong_by_rule(&self) -> Option<String> {
        let judged = || {
            if self.word(0) != "wale" || !["whole", ""].contains(&self.form()) {
                return Err("it is no pattern of these pages".to_owned());
            }
            if !self.introduced {
                return Err("no sentence above it says what it shows".to_owned());
            }
            if !self.info.iter().any(|word| word == "finds") {
                return Err("it does not say what is found".to_owned());
            }
            if wale::syntax::tidy(FileId(0), &self.text).text != self.text {
                return Err("it is not tidy".to_owned());
            }
            let Pattern { text, above } = self.whole()?;
            let whole = Rule::whole(text.trim_end());
            let added = whole.find(&text).map_or(0, |at| whole[..at].lines().count());
            self.judge(&Pattern { text: whole, above: above + added })
        };
        judged().err().map(|error| format!("{} {}\n{error}", self.place, self.info.join(" ")))
    }

    fn judge(&self, pattern: &Pattern) -> Result<(), String> {
        let announced = self.announced()?;
        let checked = wale::check("breakwater.wale", &pattern.text, &Examples);
        let line = |span| (checked.sources.position(span).line as usize).saturating_sub(pattern.above);
        let lines = self.text.lines().count();
        let is_announced = |(announced, finding): (&Announced, &Finding)| {
            let at = line(finding.at.span);
            let at = if at > lines { At::End } else { At::Line(at) };
            announced.rule == finding.rule.name && announced.at.as_ref().is_none_or(|announced| *announced == at)
        };
        if announced.len() != checked.findings.len() || !announced.iter().zip(&checked.findings).all(is_announced) {
            let told = |finding: &Finding| {
                let items = self.items(finding, &checked, &line).join("\n  ");
                format!("\n{} at {}: {}\n  {items}", finding.rule.name, line(finding.at.span), said(finding))
            };
            let told: String = checked.findings.iter().map(told).collect();
            return Err(format!("but it finds {}", if told.is_empty() { "nothing" } else { &told }));
        }
        if self.quotes.len() > announced.len() {
            return Err("there are more quotations than findings".to_owned());
        }
        for (quote, finding) in self.quotes.iter().zip(&checked.findings) {
            let said = said(finding);
            if !quote.words.is_empty() && !quote.is_said(&said) {
                return Err(format!("it says\n{said}\nand not\n{}", quote.words));
            }
            let found = self.items(finding, &checked, &line);
            for of_lines in [true, false] {
                let of_that_sort = |item: &&String| is_of_lines(item) == of_lines;
                let wanted: Vec<&String> = quote.items.iter().filter(of_that_sort).collect();
                if !wanted.is_empty() && wanted != found.iter().filter(of_that_sort).collect::<Vec<_>>() {
                    return Err(format!("it has\n{}", found.join("\n")));
                }
            }
        }
        Ok(())
    }

    /// What a finding has beside its words: the lines that it points at, and what it offers.
    fn items(&self, finding: &Finding, checked: &Checked, line: &dyn Fn(Span) -> usize) -> Vec<String> {
        let pointed_at = |label: &Label| {
            let (at, words) = (line(label.span), checked.sources.words(label.span));
            let own = self.text.lines().nth(at.wrapping_sub(1)).unwrap_or_default();
            let own = own.split(" #").next().unwrap_or_default().trim().trim_end_matches(" {");
            let words = if own == words { String::new() } else { format!(", `{words}`") };
            format!("line {at}{words}: {}", label.text)
        };
        let mut items: Vec<String> = finding.also.iter().map(pointed_at).collect();
        if items.is_empty() {
            items.push("no line".to_owned());
        }
        items.push(match &finding.fix {
            Some(fix) => format!("offered: {}", fix.title),
            None => "nothing is offered".to_owned(),
        });
        items
    }
}

impl Announced {
    fn read(words: &str) -> Result<Announced, String> {
        let (rule, at) = match words.split_once(" at ") {
            Some((rule, "end")) => (rule, Some(At::End)),
            Some((rule, line)) => (rule, Some(At::Line(line.parse().map_err(|_| format!("`{line}` is no line"))?))),
            None => (words, None),
        };
        find(rule).ok_or_else(|| format!("there is no rule `{rule}`"))?;
        Ok(Announced { rule: rule.to_owned(), at })
    }
}

/// All that a finding says.
fn said(finding: &Finding) -> String {
    let what = format!("{}.", finding.what);
    [&what, &finding.why, &finding.mend]
        .into_iter()
        .filter(|said| !said.is_empty())
        .cloned()
        .collect::<Vec<_>>()
        .join(" ")
}

/// Whether an item is about the lines that a finding points at, and not about what it offers.
fn is_of_lines(item: &str) -> bool {
    !item.starts_with("offered: ") && item != "nothing is offered"
}
