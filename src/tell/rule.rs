//! What a rule says of itself, as text or JSON.

use super::Screen;
use super::severity_word;
use super::wrap::wrapped_to;
use crate::catalogue::{Rule, Severity};
use crate::clean;

/// A rule as it is explained to a knitter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(test, derive(schemars::JsonSchema))]
pub struct RuleText<'a> {
    /// Its name in kebab-case.
    pub name: &'a str,
    /// Error or warning.
    pub severity: Severity,
    /// One line.
    pub summary: &'a str,
    /// The reason, in whole sentences.
    pub why: &'a str,
    /// Where its numbers come from.
    pub source: &'a str,
    /// A pattern, or a part of one, that breaks it.
    pub bad: &'a str,
    /// The same, mended.
    pub good: &'a str,
}

impl<'a> From<&'a Rule> for RuleText<'a> {
    fn from(rule: &'a Rule) -> Self {
        let &Rule { name, severity, summary, why, source, bad, good } = rule;
        Self { name, severity, summary, why, source, bad, good }
    }
}

/// One rule in full, as wide as can be; ends in a newline.
#[must_use]
pub fn text(rule: &RuleText<'_>) -> String {
    text_on(rule, Screen::default())
}

/// The same on a screen.
#[must_use]
pub fn text_on(rule: &RuleText<'_>, screen: Screen) -> String {
    let wrapped = |text: &str, first, indent| wrapped_to(screen.width(), text, first, indent);
    let mut out = format!("{} ({})\n", clean::line(rule.name), severity_word(rule.severity));
    out.push_str(&wrapped(rule.summary, 0, 0));
    out.push('\n');
    for (title, words) in [("Why", rule.why), ("Where the numbers come from", rule.source)] {
        if !words.is_empty() {
            out.push_str(&format!("\n{title}\n  {}\n", wrapped(words, 2, 2)));
        }
    }
    for (title, pattern) in [("To be mended", rule.bad), ("Mended", rule.good)] {
        if !pattern.is_empty() {
            out.push_str(&format!("\n{title}\n"));
            for line in clean::block(pattern.trim_matches('\n')).lines() {
                out.push_str(format!("    {line}").trim_end());
                out.push('\n');
            }
        }
    }
    out
}

/// Fewer columns than these are no room for a sentence beside a name.
const LEAST_ROOM: usize = 40;
/// Where it stands below it then.
const INDENT: usize = 4;

/// All rules, a line each where there is room, errors first and then by name; ends in a newline.
#[must_use]
pub fn list(rules: &[RuleText<'_>], screen: Screen) -> String {
    let mut sorted: Vec<&RuleText<'_>> = rules.iter().collect();
    sorted.sort_by_key(|rule| (std::cmp::Reverse(rule.severity), rule.name));
    let width = sorted.iter().map(|rule| rule.name.chars().count()).max().unwrap_or_default();
    let lines = sorted.iter().map(|rule| {
        let start = format!("{:7}  {:width$}  ", severity_word(rule.severity), rule.name);
        let column = start.chars().count();
        if column + LEAST_ROOM <= screen.width() {
            format!("{start}{}\n", wrapped_to(screen.width(), rule.summary, column, column))
        } else {
            // On a narrow screen what it looks for stands below its name.
            let summary = wrapped_to(screen.width(), rule.summary, INDENT, INDENT);
            format!("{}\n{:INDENT$}{summary}\n", start.trim_end(), "")
        }
    });
    lines.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const LONG_FLOAT: RuleText<'_> = RuleText {
        name: "long-float",
        severity: Severity::Warning,
        summary: "the yarn passes too many needles without being caught",
        why: "A long float catches on fingers and hooks.",
        source: "common practice, no source",
        bad: "row front knit on every 12\n\trow back slip\n",
        good: "row front knit on every 4",
    };
    const OFF_BED: RuleText<'_> = RuleText { name: "off-bed", severity: Severity::Error, ..LONG_FLOAT };

    #[test]
    fn a_rule_in_full() {
        insta::assert_snapshot!(text(&LONG_FLOAT), @r"
        long-float (warning)
        the yarn passes too many needles without being caught

        Why
          A long float catches on fingers and hooks.

        Where the numbers come from
          common practice, no source

        To be mended
            row front knit on every 12
             row back slip

        Mended
            row front knit on every 4
        ");
    }

    #[test]
    fn the_list_has_errors_first() {
        insta::assert_snapshot!(list(&[LONG_FLOAT, OFF_BED], Screen::default()), @r"
        error    off-bed     the yarn passes too many needles without being caught
        warning  long-float  the yarn passes too many needles without being caught
        ");
        insta::assert_snapshot!(list(&[LONG_FLOAT, OFF_BED], Screen::new(crate::tell::Colour::Plain, Some(40))), @r"
        error    off-bed
            the yarn passes too many needles
            without being caught
        warning  long-float
            the yarn passes too many needles
            without being caught
        ");
    }
}
