//! `wale explain`: what a rule is about.

use super::streams::Streams;
use super::{EXIT_CODES, Outcome, work};
use std::io;
use wale::clean;
use wale::tell::json::write_value;
use wale::tell::rule::{self, RuleText};

/// Explains a rule: what it looks for, why, where its numbers come from, and an example.
///
/// The name of the rule stands in brackets in every finding. Without a name, all rules are listed.
#[derive(Debug, clap::Args)]
#[command(after_long_help = EXIT_CODES)]
pub(crate) struct Arguments {
    /// The name of the rule, such as lost-stitch.
    #[arg(value_name = "RULE")]
    rule: Option<String>,
    /// How it is written.
    #[arg(long, value_name = "FORMAT", default_value = "terminal")]
    format: Format,
}

/// How rules are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum Format {
    /// For reading at the screen.
    Terminal,
    /// JSON, for programs: a list of rules, each in full.
    Json,
}

/// Writes one rule of the table or all of them.
///
/// # Errors
/// Those of the streams.
pub(crate) fn run(arguments: &Arguments, rules: &[RuleText<'_>], streams: &mut Streams<'_>) -> io::Result<Outcome> {
    let wanted: Vec<RuleText<'_>> = match &arguments.rule {
        None => rules.to_vec(),
        Some(name) => rules.iter().filter(|rule| rule.name == name).copied().collect(),
    };
    match (&arguments.rule, arguments.format, wanted.as_slice()) {
        (Some(name), _, []) => return work::refuse(&unknown(name, rules), streams),
        (_, Format::Json, wanted) => write_value(&mut streams.output, &wanted)?,
        (Some(_), Format::Terminal, wanted) => {
            let text: String = wanted.iter().map(|rule| rule::text_on(rule, streams.output_screen)).collect();
            streams.output.write_all(text.as_bytes())?;
        }
        (None, Format::Terminal, wanted) => {
            streams.output.write_all(rule::list(wanted, streams.output_screen).as_bytes())?;
        }
    }
    Ok(Outcome::Clean)
}

/// What is said of a name that no rule has.
fn unknown(name: &str, rules: &[RuleText<'_>]) -> String {
    let names: Vec<&str> = rules.iter().map(|rule| rule.name).collect();
    let near = similar::get_close_matches(name, &names, 1, 0.6);
    let instead = match near.first() {
        Some(near) => format!("Did you mean `{near}`? `wale explain` alone lists all rules."),
        None => "`wale explain` alone lists all rules.".to_owned(),
    };
    format!("there is no rule `{}`. {instead}", clean::line(name))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::command::streams::tried;
    use wale::catalogue::Severity;

    const RULES: &[RuleText<'static>] = &[
        RuleText {
            name: "lost-stitch",
            severity: Severity::Error,
            summary: "a stitch has no needle to go to",
            why: "It would run down.",
            source: "",
            bad: "bad",
            good: "good",
        },
        RuleText {
            name: "long-float",
            severity: Severity::Warning,
            summary: "s",
            why: "",
            source: "",
            bad: "",
            good: "",
        },
    ];

    fn explained(rule: Option<&str>, format: Format) -> (Outcome, String, String) {
        let arguments = Arguments { rule: rule.map(str::to_owned), format };
        tried("", |streams| run(&arguments, RULES, streams))
    }

    #[test]
    fn one_rule_or_all() {
        let (outcome, output, _) = explained(Some("lost-stitch"), Format::Terminal);
        assert_eq!(outcome, Outcome::Clean);
        assert!(output.starts_with("lost-stitch (error)\n") && !output.contains("long-float"), "{output}");
        let (_, output, _) = explained(None, Format::Terminal);
        assert_eq!(output.lines().count(), RULES.len());
        let (_, output, _) = explained(None, Format::Json);
        let read: serde_json::Value = serde_json::from_str(&output).expect("it is JSON");
        assert_eq!(read[1]["name"], "long-float");
        assert_eq!(read[0]["severity"], "error");
    }

    #[test]
    fn a_rule_that_there_is_not_gets_the_nearest_one() {
        let (outcome, output, report) = explained(Some("lost-stich"), Format::Json);
        assert_eq!((outcome, output.as_str()), (Outcome::WrongUse, ""));
        assert!(report.contains("Did you mean `lost-stitch`?"), "{report}");
        let (_, _, report) = explained(Some("zz"), Format::Terminal);
        assert!(!report.contains("Did you mean"), "{report}");
    }
}
