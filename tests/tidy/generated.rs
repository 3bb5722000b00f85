//! Patterns by chance, written down twice: once in the tidy form by this test's own rules, and once as carelessly as the
//! language allows. Tidying the second must give the first.

use super::laws::tidied;
use super::pages;
use crate::common::examples;
use crate::common::random::Dice;
use proptest::prelude::*;
use std::sync::LazyLock;

const OWNERS: &[&str] = &[
    "piece \"Scarf  { # }\", make 2 on club",
    "section \"Hem\"",
    "repeat 3 times",
    "stitch tide-mark (middle selection, count number) on both",
    "yarn ålgrön",
    "machine club",
    "gauge half-cardigan",
    "chart waves",
    "fabric basket",
    "shape over 60 rows",
    "allow long-float because \"the gull's wing, {so}\"",
];
const STATEMENTS: &[&str] = &[
    "row front knit on all but leftmost 2, slip elsewhere, to left",
    "row front slip on \"|..  \" over L6-R6, knit elsewhere",
    "rows 20 (24, 28) rows both knit, loosened 3 back",
    "let a = 120 (160) cm - half-cardigan * 2 + 3.25 in / 4",
    "let b = every 2 over 3 each side and L12 (14, 16)-R12 (14, 16) or all",
    "in work front L30-R30, back \"|.\" over L3-R3",
    "work tide-mark (middle L18-R18, count 3) 24 times",
    "count 2/15 Nm",
    "26 stitches and 44 rows in 10 cm, washed",
    "racking back bed, 4 left to 7 right",
    "transfer carriage to back from left, to front from right",
    "transfer front to back, joining, emptied stay in work, by hand",
    "expect 60 stitches front, carriage left, counter 48, gaiting opposite, racking centre",
    "decrease front 1 at left, inset 2, 10 times evenly",
    "remind every 60 rows \"Move the weights up, # slowly.\"",
    "\"|..|  X\"",
    "X  X O\t.",
    "note \"\"",
];
/// Lines that cannot be read, and keep what is in them.
const UNREADABLE: &[&str] = &["rwo  front ,knit", "let a  = \u{a0}3", "note  \"never  closed"];
const COMMENTS: &[&str] = &["# why", "#", "#  { \"three\t }", "#é"];

/// Writes the tidy form and the careless one side by side.
struct Writer {
    dice: Dice,
    tidy: String,
    careless: String,
    /// Whether the last line of the careless text must end before anything else is written.
    must_end: bool,
    /// Whether the next thing may stand on the line that was written last: behind a brace, and at the start.
    may_join: bool,
    /// How many statements can be read, and how many lines cannot.
    readable: usize,
    unreadable: usize,
}

impl Writer {
    fn new(seed: u64) -> Self {
        Self {
            dice: Dice::new(seed),
            tidy: String::new(),
            careless: String::new(),
            must_end: false,
            may_join: true,
            readable: 0,
            unreadable: 0,
        }
    }

    /// Between words: one blank, and any number of blanks and tabs, from `least`.
    fn blanks(&mut self, least: usize) -> String {
        let count = least + self.dice.below(3);
        (0..count).map(|_| if self.dice.below(4) == 0 { '\t' } else { ' ' }).collect()
    }

    fn line_end(&mut self) -> &'static str {
        self.dice.pick(&["\n", "\r\n", "\n", "\n", "\r"])
    }

    /// Begins a line for something in a block of that depth.
    fn begin(&mut self, depth: usize, empty_before: bool, is_comment: bool) {
        if !self.tidy.is_empty() {
            self.tidy.push('\n');
        }
        let join = self.may_join && !self.must_end && !empty_before && !is_comment;
        (self.may_join, self.must_end) = (false, false);
        if !join || self.dice.below(2) == 0 {
            let count = match (empty_before, self.tidy.is_empty()) {
                (true, _) => 2 + self.dice.below(3),
                (false, true) => self.dice.below(3),
                (false, false) => 1,
            };
            for _ in 0..count {
                let text = self.line_end().to_owned();
                self.careless.push_str(&text);
                // Two signs that end one line must not come from two.
                self.careless.push_str(if text == "\r" { " " } else { "" });
                let blanks = self.blanks(0);
                self.careless.push_str(&blanks);
            }
        }
        if empty_before {
            self.tidy.push('\n');
        }
        self.tidy.push_str(&" ".repeat(4 * depth));
        let blanks = self.blanks(0);
        self.careless.push_str(&blanks);
    }

    /// The words of a statement, in both forms.
    fn words(&mut self, statement: &str) {
        self.readable += 1;
        self.tidy.push_str(statement);
        let careless = careless(statement, &mut self.dice);
        self.careless.push_str(&careless);
    }

    fn comment(&mut self) {
        let comment = self.dice.pick(COMMENTS);
        self.tidy.push_str(comment);
        self.careless.push_str(comment);
        let blanks = self.blanks(0);
        self.careless.push_str(&blanks);
        self.must_end = true;
    }

    /// Perhaps a comment behind what was written last.
    fn trailing(&mut self) {
        if self.dice.below(4) == 0 {
            self.tidy.push_str("  ");
            let blanks = self.blanks(0);
            self.careless.push_str(&blanks);
            self.comment();
        }
    }

    fn list(&mut self, depth: usize) {
        let count = self.dice.below(6);
        for at in 0..count {
            let empty_before = at > 0 && self.dice.below(4) == 0;
            let what = self.dice.below(10);
            self.begin(depth, empty_before, what < 2);
            match what {
                0 | 1 => self.comment(),
                2 => {
                    let line = self.dice.pick(UNREADABLE);
                    self.unreadable += 1;
                    self.tidy.push_str(line);
                    self.careless.push_str(line);
                    self.must_end = true;
                }
                3..6 if depth < 5 => {
                    self.block(depth);
                    self.may_join = true;
                }
                _ => {
                    let statement = self.dice.pick(STATEMENTS);
                    self.words(statement);
                    self.trailing();
                }
            }
        }
    }

    fn block(&mut self, depth: usize) {
        let owner = self.dice.pick(OWNERS);
        self.words(owner);
        self.tidy.push_str(" {");
        // A word may touch the brace.
        let blanks = self.blanks(0);
        self.careless.push_str(&blanks);
        match self.dice.below(4) {
            0 => {
                self.careless.push('{');
                let blanks = self.blanks(0);
                self.careless.push_str(&blanks);
                self.careless.push('}');
                self.tidy.push('}');
                self.trailing();
            }
            1 => {
                let statement = self.dice.pick(STATEMENTS);
                let width = 4 * depth + owner.chars().count() + " {  }".len() + statement.chars().count();
                self.careless.push('{');
                let blanks = self.blanks(0);
                self.careless.push_str(&blanks);
                let opened = width > 80;
                self.tidy.push_str(&if opened { format!("\n{}", " ".repeat(4 * depth + 4)) } else { " ".to_owned() });
                self.words(statement);
                let blanks = self.blanks(0);
                self.careless.push_str(&format!("{blanks}}}"));
                self.tidy.push_str(&if opened { format!("\n{}}}", " ".repeat(4 * depth)) } else { " }".to_owned() });
                self.trailing();
            }
            _ => {
                if self.dice.below(3) == 0 {
                    let below = self.line_end().to_owned() + &self.blanks(0);
                    self.careless.push_str(&below);
                }
                self.careless.push('{');
                self.trailing();
                self.may_join = true;
                self.list(depth + 1);
                // A line end keeps the block from being one that stands on one line.
                let end = format!("{} {}", self.line_end(), self.blanks(0));
                self.careless.push_str(&end);
                self.must_end = false;
                self.tidy.push_str(&format!("\n{}}}", " ".repeat(4 * depth)));
                self.careless.push('}');
                self.trailing();
            }
        }
    }
}

/// A tidy statement with other blanks wherever the language does not mind.
fn careless(statement: &str, dice: &mut Dice) -> String {
    if statement.starts_with("X ") {
        return statement.to_owned();
    }
    let mut text = String::new();
    for (at, part) in statement.split_inclusive('"').enumerate() {
        if at % 2 == 1 {
            // The inside of quotation marks, up to the closing one.
            text.push_str(part);
            continue;
        }
        let signs: Vec<char> = part.chars().collect();
        for (at, &sign) in signs.iter().enumerate() {
            let near = |step: isize| at.checked_add_signed(step).and_then(|at| signs.get(at)).copied().unwrap_or('"');
            let blanks = |dice: &mut Dice, least: usize| dice.pick(&["", " ", "  ", " \t", "\t"][least..]).to_owned();
            match sign {
                ' ' => {
                    let (before, behind) = (near(-1), near(1));
                    let is_tight = |sign: char| "=+*/,()".contains(sign);
                    let is_unit =
                        before.is_ascii_digit() && (part[..].starts_with("let") || before == ')') && near(2) == 'm';
                    let free = before == ','
                        || before != ')' && behind == '('
                        || is_tight(before) && before != ')'
                        || is_tight(behind)
                        || is_unit;
                    text.push_str(&blanks(dice, usize::from(!free)));
                }
                ',' | ')' => {
                    text.push_str(&blanks(dice, 0));
                    text.push(sign);
                }
                '(' => {
                    text.push(sign);
                    text.push_str(&blanks(dice, 0));
                }
                sign => text.push(sign),
            }
        }
    }
    text
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_careless_pattern_becomes_the_tidy_one(seed in any::<u64>()) {
        let mut writer = Writer::new(seed);
        for _ in 0..3 {
            writer.list(0);
        }
        let Writer { mut tidy, mut careless, readable, unreadable, .. } = writer;
        if !tidy.is_empty() {
            tidy.push('\n');
        }
        // So that not all lines end with two signs.
        careless.push_str("\n \n");
        // Where more cannot be read than can, nothing is done.
        prop_assume!(unreadable <= readable);
        let done = tidied(&careless);
        prop_assert!(done.findings.is_empty(), "{:?}\n{:?}\n{}", done.findings, careless, tidy);
        prop_assert_eq!(done.unread, unreadable);
        prop_assert_eq!(done.text.as_ref(), tidy.as_str(), "from {:?}", careless);
    }
}

/// The examples and the samples of the pages, which are tidy.
static TIDY: LazyLock<Vec<String>> = LazyLock::new(|| {
    let pages = pages::all().into_iter().map(|sample| sample.text);
    pages.chain(examples().into_iter().map(|(_, text)| text)).filter(|text| tidied(text).unread == 0).collect()
});

/// A tidy text with its blanks, indentation and empty lines in disorder.
fn scrambled(text: &str, dice: &mut Dice) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let words = line.trim_start();
        out.push_str(dice.pick(&["", " ", "\t", "      "]));
        // A comment is kept; it begins where an even number of quotation marks stands before it.
        let starts = words.match_indices('#').map(|(at, _)| at);
        let comment = starts.into_iter().find(|&at| words[..at].matches('"').count() % 2 == 0).unwrap_or(words.len());
        let (statement, comment) = words.split_at(comment);
        let trails = !statement.is_empty() && !comment.is_empty();
        let statement = statement.trim_end();
        let (inside, brace) = match statement.strip_suffix(" {") {
            Some(inside) => (inside, "{"),
            None => (statement, ""),
        };
        // Blocks on one line are left as they are.
        out.push_str(&if inside.contains('{') { inside.to_owned() } else { careless(inside, dice) });
        if !brace.is_empty() {
            out.push_str(dice.pick(&["", "  ", "\n", " \n\n\t"]));
            out.push_str(brace);
        }
        out.push_str(if trails { dice.pick(&["", " ", "     "]) } else { "" });
        out.push_str(comment);
        out.push_str(dice.pick(&["", "  ", "\t"]));
        let empty = if !brace.is_empty() || words.is_empty() { dice.below(3) } else { 0 };
        out.push_str(&dice.pick(&["\n", "\r\n"]).repeat(1 + empty));
    }
    out + "\n\n"
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_tidy_pattern_in_disorder_is_tidied_back(at in any::<prop::sample::Index>(), seed in any::<u64>()) {
        let tidy = at.get(&TIDY[..]);
        let scrambled = scrambled(tidy, &mut Dice::new(seed));
        let done = tidied(&scrambled);
        prop_assert_eq!(done.text.as_ref(), tidy.as_str(), "{:?}\nfrom {:?}", done.findings, scrambled);
    }
}
