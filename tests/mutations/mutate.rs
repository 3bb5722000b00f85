//! Makes mutants: a pattern with one thing changed, the way a hand slips when it types.

/// A pattern with one thing changed.
pub struct Mutant {
    /// What kind of slip.
    pub kind: &'static str,
    /// The line, from 1, on which the first changed word stands in the mutant.
    pub line: usize,
    /// The lines before.
    pub before: String,
    /// The lines before and after.
    pub what: String,
    /// The whole text.
    pub text: String,
}

/// One line taken apart: words, numbers and signs with their places; comments and words in quotation marks are left
/// whole.
struct Line<'a> {
    text: &'a str,
    words: Vec<(usize, &'a str)>,
}

impl<'a> Line<'a> {
    fn new(text: &'a str) -> Self {
        let mut words = Vec::new();
        let mut at = 0;
        while let Some(first) = text[at..].chars().next() {
            let rest = &text[at..];
            let length = match first {
                '#' => break,
                '"' => rest[1..].find('"').map_or(rest.len(), |end| end + 2),
                _ if first.is_alphabetic() => {
                    let end = |c: char| !(c.is_alphanumeric() || c == '-');
                    // `L30-R29` is two needles, a name with a dash is one word.
                    let needle = first.is_uppercase();
                    rest.find(|c: char| end(c) || needle && c == '-').unwrap_or(rest.len())
                }
                _ if first.is_ascii_digit() => {
                    rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len())
                }
                _ => first.len_utf8(),
            };
            if first != ' ' {
                words.push((at, &rest[..length]));
            }
            at += length;
        }
        Self { text, words }
    }

    fn first(&self) -> &str {
        self.words.first().map_or("", |(_, word)| word)
    }

    fn second(&self) -> &str {
        self.words.get(1).map_or("", |(_, word)| word)
    }

    fn is_statement(&self) -> bool {
        !self.words.is_empty() && self.first() != "}" && !self.opens()
    }

    fn opens(&self) -> bool {
        self.words.last().is_some_and(|(_, word)| *word == "{")
    }

    /// The line with each word that `instead` has something for put in its place.
    fn with(&self, instead: impl Fn(usize, &str) -> Option<String>) -> String {
        let mut out = String::new();
        let mut at = 0;
        for (index, (start, word)) in self.words.iter().enumerate() {
            out.push_str(&self.text[at..*start]);
            out.push_str(&instead(index, word).unwrap_or_else(|| (*word).to_owned()));
            at = start + word.len();
        }
        out.push_str(&self.text[at..]);
        out
    }

    /// The line without a part that stands behind a comma.
    fn without_part(&self, words: &str) -> Option<String> {
        let parts: Vec<&str> = self.text.split(',').collect();
        let left: Vec<&str> = parts.iter().copied().filter(|part| !part.trim_start().starts_with(words)).collect();
        (left.len() < parts.len() && !left.is_empty()).then(|| left.join(","))
    }
}

fn is_number(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit()) && !word.contains('.')
}

fn one_more(word: &str, by: i64) -> Option<String> {
    Some((word.parse::<i64>().ok()? + by).to_string())
}

/// Which part of the pattern a line stands in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Part {
    /// Outside all braces.
    Top,
    /// In a yarn, a gauge or a machine.
    Declaration,
    /// In a piece or a stitch.
    Work,
}

/// Every mutant of a pattern, line by line.
pub fn mutants(text: &str) -> Vec<Mutant> {
    let lines: Vec<&str> = text.lines().collect();
    let parts = parts(&lines);
    let mut made = Maker { lines: &lines, mutants: Vec::new() };
    for (index, line) in lines.iter().enumerate() {
        let line = Line::new(line);
        if line.words.is_empty() || line.first() == "}" || line.first() == "pattern" {
            continue;
        }
        if parts[index] == Part::Declaration {
            made.numbers(index, &line, "change a number of a declaration");
            continue;
        }
        made.left_out(index, &line, parts[index]);
        if line.is_statement() && parts[index] == Part::Work {
            made.push("double a statement", index + 1, &[line.text, line.text], index..index + 1);
        }
        let next = lines.get(index + 1).map(|next| Line::new(next));
        if let Some(next) = next.filter(|next| line.is_statement() && next.is_statement() && parts[index] == Part::Work)
        {
            made.push("swap two neighbouring lines", index, &[next.text, line.text], index..index + 2);
        }
        made.words(index, &line);
        made.actions(index, &line);
    }
    made.mutants
}

fn parts(lines: &[&str]) -> Vec<Part> {
    let mut part = Part::Top;
    let mut parts = Vec::new();
    for line in lines {
        parts.push(if line.starts_with('}') { Part::Top } else { part });
        if !line.starts_with([' ', '#']) && line.ends_with('{') {
            let works = line.starts_with("piece") || line.starts_with("stitch");
            part = if works { Part::Work } else { Part::Declaration };
        } else if line.starts_with('}') {
            part = Part::Top;
        }
    }
    parts
}

struct Maker<'a> {
    lines: &'a [&'a str],
    mutants: Vec<Mutant>,
}

impl Maker<'_> {
    /// The pattern with the lines of `range` replaced; `line` is counted from 0.
    fn push(&mut self, kind: &'static str, line: usize, instead: &[&str], range: std::ops::Range<usize>) {
        let before = &self.lines[range.clone()];
        if before == instead {
            return;
        }
        let all = self.lines[..range.start].iter().chain(instead).chain(&self.lines[range.end..]);
        let text = all.map(|line| format!("{line}\n")).collect();
        let short = |lines: &[&str]| lines.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" / ");
        let what = match instead {
            [] => format!("without `{}`", before[0].trim()),
            _ => format!("`{}` -> `{}`", short(before), short(instead)),
        };
        self.mutants.push(Mutant { kind, line: line + 1, before: short(before), what, text });
    }

    fn change(&mut self, kind: &'static str, index: usize, instead: &str) {
        self.push(kind, index, &[instead], index..index + 1);
    }

    fn left_out(&mut self, index: usize, line: &Line<'_>, part: Part) {
        let kind = match (line.first(), line.second()) {
            _ if part == Part::Top => "drop a declaration",
            _ if line.opens() => "drop a block",
            ("row" | "rows" | "tubular", _) => "drop a row",
            ("rack", _) => "forget a racking",
            ("in" | "out" | "gaiting" | "hold" | "release", _) => "drop in work, out of work, gaiting or hold",
            ("stitch", "size") => "drop a stitch size",
            ("expect" | "note" | "remind", _) => "drop a promise or a note",
            _ => "drop another statement",
        };
        let end = if line.opens() { self.end_of(index) } else { index };
        self.push(kind, index, &[], index..end + 1);
        for (kind, words) in [
            ("drop joining", "joining"),
            ("drop loosened", "loosened"),
            ("drop new loops", "new loops"),
            ("drop what becomes of emptied needles", "emptied"),
            ("drop one bed of a row", "back "),
            ("drop one bed of a row", "front "),
        ] {
            if let Some(without) = line.without_part(&format!(" {words}")) {
                self.change(kind, index, &without);
            }
        }
    }

    fn end_of(&self, index: usize) -> usize {
        let indent = |line: &str| line.len() - line.trim_start().len();
        let own = indent(self.lines[index]);
        let closes = |line: &&str| line.trim() == "}" && indent(line) == own;
        self.lines[index..].iter().position(closes).map_or(index, |offset| index + offset)
    }

    fn words(&mut self, index: usize, line: &Line<'_>) {
        let swap = |word: &str| match word {
            "front" => Some("back".to_owned()),
            "back" => Some("front".to_owned()),
            _ => None,
        };
        self.change("swap front and back", index, &line.with(|_, word| swap(word)));
        let side = |word: &str| match word {
            "left" => Some("right".to_owned()),
            "right" => Some("left".to_owned()),
            "leftmost" => Some("rightmost".to_owned()),
            "rightmost" => Some("leftmost".to_owned()),
            _ => None,
        };
        let kind = if line.first() == "rack" { "rack the other way" } else { "swap left and right" };
        self.change(kind, index, &line.with(|_, word| side(word)));
        for (at, (_, word)) in line.words.iter().enumerate() {
            let instead: Vec<(&'static str, String)> = match *word {
                _ if is_needle(word) => {
                    [-1, 1].iter().filter_map(|by| Some(("shift a needle by one", shifted(word, *by)?))).collect()
                }
                "zigzag" => vec![("cast on in another way", "wound".to_owned())],
                "between" => vec![("the other gaiting", "opposite".to_owned())],
                "opposite" => vec![("the other gaiting", "between".to_owned())],
                _ if line.first() == "thread" && at == 1 => vec![("use the other yarn", "other".to_owned())],
                _ if word.starts_with("\"") && word[1..].starts_with(['|', '.']) => {
                    vec![("change a tile", format!("\"{}{}\"", &word[2..word.len() - 1], &word[1..2]))]
                }
                _ => Vec::new(),
            };
            for (kind, instead) in instead {
                self.change(kind, index, &line.with(|i, _| (i == at).then(|| instead.clone())));
                if kind == "use the other yarn" {
                    let Some(mutant) = self.mutants.last_mut() else { continue };
                    mutant.text.push_str("yarn other {}\n");
                }
            }
        }
        let kind = match (line.first(), line.second()) {
            ("expect", _) => "change a promised number",
            ("let" | "gauge", _) => "change a number of a declaration",
            ("stitch", "size") => "change a stitch size",
            _ => "change a count by one",
        };
        self.numbers(index, line, kind);
    }

    fn numbers(&mut self, index: usize, line: &Line<'_>, kind: &'static str) {
        for (at, (_, word)) in line.words.iter().enumerate().filter(|(_, (_, word))| is_number(word)) {
            let sized = at > 0 && matches!(line.words[at - 1].1, "loosened" | "tightened");
            let kind = if sized { "change a stitch size" } else { kind };
            for by in [-1, 1] {
                if let Some(instead) = one_more(word, by) {
                    self.change(kind, index, &line.with(|i, _| (i == at).then(|| instead.clone())));
                }
            }
        }
    }

    fn actions(&mut self, index: usize, line: &Line<'_>) {
        if !matches!(line.first(), "row" | "rows") {
            return;
        }
        for (at, (_, word)) in line.words.iter().enumerate() {
            let others: &[&str] = match *word {
                "knit" => &["tuck", "slip"],
                "tuck" => &["knit", "slip"],
                "slip" => &["knit", "tuck"],
                _ => &[],
            };
            for other in others {
                let kind = "swap knit, tuck and slip on one bed";
                self.change(kind, index, &line.with(|i, _| (i == at).then(|| (*other).to_owned())));
                // One bed of `both`.
                if at > 0 && line.words[at - 1].1 == "both" {
                    let split = format!("front {other}, back {word}");
                    let instead = |i: usize, _: &str| match i {
                        _ if i == at => Some(split.clone()),
                        _ if i + 1 == at => Some(String::new()),
                        _ => None,
                    };
                    self.change(kind, index, &line.with(instead).replace("  ", " "));
                }
            }
        }
    }
}

fn is_needle(word: &str) -> bool {
    word.strip_prefix(['L', 'R'])
        .is_some_and(|number| !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit()))
}

/// The needle `by` places farther from the centre.
fn shifted(word: &str, by: i64) -> Option<String> {
    let number = one_more(&word[1..], by).filter(|number| number != "0")?;
    Some(format!("{}{number}", &word[..1]))
}
