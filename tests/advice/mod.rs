//! Advice as a law: every line that a message advises is put in its place here, and must be accepted and mean what was
//! meant.
//!
//! The pages of this folder hold slips of newcomers. A block ```` ```slips FRAME ```` holds some with a blank line between
//! them, and each stands in the place of the line `SLIP` of that frame of `frames.md`:
//!
//! ```text
//! the line or lines as a newcomer writes them
//! -> what was meant
//! .. its next line
//! -> what may have been meant as well: the message lets the knitter choose
//! where NEEDLES is L10-R10
//! ```
//!
//! What a message advises is its fix, each of its ways, and every line in backticks that can be typed. A word in capitals in
//! a line is for the knitter to fill in; `where` says what this one does. An advised line is good if nothing is found with it
//! but what the meant pattern has too, and the two are the same knitting and say the same words; or if something else
//! is found with it at that place, and whatever is advised against that is good. Every meaning of a slip must be advised.
#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout)]

mod page;

use crate::common::Examples;
use page::{Slip, slips};
use std::collections::BTreeSet;
use wale::Checked;
use wale::finding::{Finding, Fix, blanks};
use wale::mend::apply;
use wale::source::{FileId, Library};

/// So many findings may follow on each other before the line is right.
const MOST_STEPS: usize = 3;

/// A pattern with lines of it in question: those from `first` on, as many as `count`.
struct Written {
    text: String,
    first: usize,
    count: usize,
}

/// A pattern that an advised line makes, and what the line is.
struct Advised {
    line: String,
    written: Written,
}

impl Written {
    fn new(slip: &Slip, lines: &[String]) -> Self {
        let mut text = String::new();
        let mut first = 0;
        for (at, line) in slip.frame.lines().enumerate() {
            let Some(indent) = line.strip_suffix("SLIP") else {
                text += &format!("{line}\n");
                continue;
            };
            first = at + 1;
            for line in lines {
                text += &format!("{indent}{line}\n");
            }
        }
        Self { text, first, count: lines.len() }
    }

    fn check(&self) -> Checked {
        wale::check("sample.wale", &self.text, &Examples)
    }

    /// The same with another text, which differs from this one in the lines in question only.
    fn changed(&self, text: String) -> Self {
        let count = (text.lines().count() + self.count).saturating_sub(self.text.lines().count());
        Self { text, first: self.first, count }
    }

    fn fixed(&self, fix: &Fix) -> Option<Self> {
        let (text, made) = apply(&self.text, FileId::default(), [fix]);
        (made == 1).then(|| self.changed(text))
    }

    /// The same with a line instead of those in question.
    fn instead(&self, line: &str) -> Self {
        let lines: Vec<&str> = self.text.lines().collect();
        let (before, rest) = lines.split_at(self.first - 1);
        let text: String = before
            .iter()
            .chain(&[line])
            .chain(&rest[self.count.min(rest.len())..])
            .map(|line| format!("{line}\n"))
            .collect();
        self.changed(text)
    }

    /// What is found at the lines in question.
    fn found<'c>(&self, checked: &'c Checked) -> Vec<&'c Finding> {
        let here = |finding: &&Finding| {
            let at = checked.sources.position(finding.at.span).line as usize;
            finding.at.span.file == FileId::default() && (self.first..self.first + self.count.max(1)).contains(&at)
        };
        checked.findings.iter().filter(here).collect()
    }
}

/// Whether words in backticks are a line that can be typed.
fn is_line(words: &str) -> bool {
    let opened = words.trim_end().ends_with('{');
    let text = if opened { format!("{words}\n}}\n") } else { format!("{words}\n") };
    let (tree, findings) = wale::syntax::read(FileId::default(), &text);
    // A single mark of a picture is no line to be typed.
    let missing = |finding: &Finding| finding.rule.name == "missing-block";
    words.len() > 2 && findings.iter().all(missing) && tree.statements.len() == 1
}

/// The words in backticks of a text.
fn ticked(text: &str) -> impl Iterator<Item = &str> {
    text.split('`').skip(1).step_by(2)
}

/// A text with its blanks filled in as the slip says.
fn filled(slip: &Slip, text: &str) -> Result<String, String> {
    let mut text = text.to_owned();
    for (blank, value) in &slip.fill {
        text = text.replace(blank, value);
    }
    let unsaid = blanks(&text).next().map(|blank| format!("nothing is said of {blank} in `{text}`"));
    unsaid.map_or(Ok(text), Err)
}

/// Everything that a finding advises.
fn advised(slip: &Slip, written: &Written, finding: &Finding) -> Result<Vec<Advised>, String> {
    let mut all: Vec<Advised> = Vec::new();
    if let Some(fix) = &finding.fix {
        let written = written.fixed(fix).ok_or("its fix cannot be made")?;
        all.push(Advised { line: format!("the fix: {}", fix.title), written });
    }
    for way in &finding.ways {
        let mut whole = way.clone();
        whole.text = filled(slip, &way.text)?;
        let written = written.fixed(&whole.fix()).ok_or("its way cannot be made")?;
        all.push(Advised { line: way.text.clone(), written });
    }
    let before: BTreeSet<&str> = written.text.lines().map(str::trim).collect();
    for words in ticked(&finding.why).chain(ticked(&finding.mend)) {
        let line = filled(slip, words).unwrap_or_default();
        if line.is_empty() || !is_line(&line) {
            continue;
        }
        let line = line.trim_end_matches('{').trim().to_owned();
        let stands_in = |advised: &Advised| {
            advised.written.text.lines().any(|new| new.contains(&line) && !before.contains(new.trim()))
        };
        if all.iter().any(stands_in) {
            continue;
        }
        let opened =
            if written.text.lines().nth(written.first - 1).is_some_and(|line| line.ends_with('{')) { " {" } else { "" };
        all.push(Advised { line: words.to_owned(), written: written.instead(&format!("{line}{opened}")) });
    }
    Ok(all)
}

/// What is found in a pattern, without places.
fn whats(checked: &Checked) -> Vec<(&'static str, String)> {
    checked.findings.iter().map(|finding| (finding.rule.name, finding.what.clone())).collect()
}

/// The meanings that are reached by what is advised against the findings in question; an error if an advised line is not
/// good.
fn followed(slip: &Slip, meant: &[Checked], written: &Written, steps: usize) -> Result<BTreeSet<usize>, String> {
    let checked = written.check();
    let accepted = |meant: &Checked| whats(&checked).iter().all(|found| whats(meant).contains(found));
    if steps > 0 && meant.iter().any(accepted) {
        for (at, meant) in meant.iter().enumerate().filter(|(_, meant)| accepted(meant)) {
            let comparison = wale::compare::compare(meant, &checked, None, None);
            if comparison.is_same() && comparison.words.is_empty() {
                return Ok(BTreeSet::from([at]));
            }
        }
        return Err("is accepted and is not what was meant".to_owned());
    }
    let found = written.found(&checked);
    if found.is_empty() {
        let elsewhere = whats(&checked).first().map_or("nothing", |(rule, _)| rule);
        return Err(format!("and nothing is found at that line, elsewhere: {elsewhere}"));
    }
    if steps == MOST_STEPS {
        return Err(format!("and still it finds: {}", found[0].what));
    }
    let mut reached = BTreeSet::new();
    let mut silent = None;
    for finding in found {
        if meant.iter().any(|meant| whats(meant).contains(&(finding.rule.name, finding.what.clone()))) {
            continue;
        }
        let said = format!("{}. {} {}", finding.what, finding.why, finding.mend);
        let all = advised(slip, written, finding).map_err(|error| format!("{error}: {said}"))?;
        if all.is_empty() {
            silent = Some(format!("no line is advised: {said}"));
        }
        for Advised { line, written } in all {
            let again = written.check();
            if written.found(&again).iter().any(|again| again.rule == finding.rule && again.what == finding.what) {
                return Err(format!("`{line}` gives the same finding: {said}"));
            }
            let error = |error| format!("`{line}` {error}\n    {said}");
            reached.extend(followed(slip, meant, &written, steps + 1).map_err(error)?);
        }
    }
    // What follows from another finding of the line may leave it to that one to say what to write.
    match silent {
        Some(error) if reached.is_empty() => Err(error),
        _ => Ok(reached),
    }
}

fn judge(slip: &Slip) -> Result<(), String> {
    let meant: Vec<Checked> = slip.meant.iter().map(|lines| Written::new(slip, lines).check()).collect();
    for (lines, checked) in slip.meant.iter().zip(&meant) {
        if let Some(finding) = checked.findings.iter().find(|finding| wale::rules::is_found_in_reading(finding.rule)) {
            return Err(format!("what was meant is wrong itself: {lines:?} {}", finding.what));
        }
    }
    let reached = followed(slip, &meant, &Written::new(slip, &slip.lines), 0)?;
    match slip.meant.iter().enumerate().find(|(at, _)| !reached.contains(at)) {
        Some((_, lines)) => Err(format!("`{}` is not advised", lines.join("` `"))),
        None => Ok(()),
    }
}

#[test]
fn every_line_that_is_advised_is_accepted_and_is_what_was_meant() {
    let all = slips();
    let mut wrong = Vec::new();
    let (mut good, mut excused) = (0, 0);
    for slip in &all {
        match (judge(slip), &slip.known) {
            (Ok(()), None) => good += 1,
            (Ok(()), Some(_)) => wrong.push(format!("{}: {:?} is said to fail and does not", slip.place, slip.lines)),
            (Err(_), Some(reason)) => {
                println!("{}: {:?} fails: {reason}", slip.place, slip.lines);
                excused += 1;
            }
            (Err(error), None) => wrong.push(format!("{}: `{}`\n    {error}", slip.place, slip.lines.join("` `"))),
        }
    }
    println!("good advice for {good} of {} slips", all.len());
    assert!(all.len() >= 80, "only {} slips", all.len());
    assert!(wrong.is_empty(), "good advice for {good} of {} slips\n{}", all.len(), wrong.join("\n"));
    assert!(excused * 20 <= all.len(), "{excused} failures are too many to be excused");
}

/// A pattern that uses a file with mistakes in it, each of which names the file.
#[test]
fn what_is_found_in_a_used_file_names_it() {
    struct Shed;
    impl Library for Shed {
        fn read(&self, _: &str, path: &str) -> Result<(String, String), String> {
            let text = "machine shed {\n    needles 180\n    pitch 5 rows\n    selectors both beds\n}\nlet half = 3 cm + 2 rows\n";
            Ok((path.to_owned(), text.to_owned()))
        }
    }
    let checked = wale::check("sample.wale", "use \"machines/shed.wale\"\nyarn slate {}\nyarn slate {}\n", &Shed);
    let (own, used): (Vec<_>, Vec<_>) =
        checked.findings.iter().partition(|finding| finding.at.span.file == FileId::default());
    assert!(!own.is_empty() && used.len() >= 3, "{:?}", checked.findings);
    assert!(used.iter().all(|finding| finding.what.ends_with(" (in the used file `machines/shed.wale`)")), "{used:?}");
    assert!(own.iter().all(|finding| !finding.what.contains("used file")), "{own:?}");
}
