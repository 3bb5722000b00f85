//! Charts: pictures whose lines are followed one after the other, the lowest first.

use crate::beds::Tile;
use crate::catalogue::Rule;
use crate::finding::{Finding, Fix};
use crate::plan::limits::{MOST_LINES, MOST_MARKS};
use crate::plan::names::{Names, Sort};
use crate::plan::rules;
use crate::syntax::tree::{Kind, Statement, Text};
use std::collections::HashMap;

/// The charts by the things that they are, each line a tile, in the order in which they are knitted. A chart that cannot be read
/// is missing.
pub(in crate::plan) type Charts = HashMap<usize, Vec<Tile>>;

/// Reads all charts. Findings: `uneven-chart`, `wrong-mark`, `too-large`, `missing-line`.
pub(in crate::plan) fn read_all(names: &Names<'_>, findings: &mut Vec<Finding>) -> Charts {
    names
        .all(Sort::Chart)
        .filter_map(|entry| read(entry.statement, findings).map(|lines| (entry.thing, lines)))
        .collect()
}

fn read(statement: &Statement, findings: &mut Vec<Finding>) -> Option<Vec<Tile>> {
    let body = statement.body.as_ref()?;
    let mut lines = Vec::new();
    let mut width = None;
    let mut good = true;
    for line in &body.statements {
        let Kind::ChartLine(text) = &line.kind else {
            good = false;
            continue;
        };
        match marks(text, MOST_MARKS) {
            Err(finding) => {
                findings.push(*finding);
                good = false;
            }
            Ok(marks) => {
                let (first, at) = *width.get_or_insert((marks.len(), text.span));
                if marks.len() != first {
                    findings.push(
                        rules::UNEVEN_CHART
                            .finds(text.span, "the lines of a chart must be equally long")
                            .marked(crate::words::count(marks.len() as u128, "mark", "marks"))
                            .also(at, crate::words::count(first as u128, "mark", "marks"))
                            .because("Each line is laid over the same needles, one mark to a needle.")
                            .mend(format!(
                                "Make this line {} long, or change the others.",
                                crate::words::count(first as u128, "mark", "marks")
                            )),
                    );
                    good = false;
                }
                lines.push(Tile { marks });
            }
        }
    }
    if lines.is_empty() && good {
        findings.push(
            rules::MISSING_LINE.finds(statement.span, "the chart has no lines")
                .mend("Write one line of marks in quotation marks for each row, for example `\"|..|\"`; the lowest is knitted first."),
        );
        return None;
    }
    if lines.len() > MOST_LINES {
        findings.push(
            rules::TOO_LARGE
                .finds(statement.span, "the chart has too many lines")
                .because(format!("It has {} lines, and up to {MOST_LINES} are worked out.", lines.len()))
                .mend("Write one repeat of it and follow it several times."),
        );
        return None;
    }
    lines.reverse();
    good.then_some(lines)
}

/// Reads marks; reports other signs than `|` and `.`, none at all, and too many.
pub(in crate::plan) fn marks(marks: &Text, most: usize) -> Result<Vec<bool>, Box<Finding>> {
    let error = |rule: &'static Rule, what: String| rule.finds(marks.span, what);
    if let Some(wrong) = marks.text.chars().find(|mark| !matches!(mark, '|' | '.')) {
        if crate::syntax::is_value(&marks.text) {
            let value = &marks.text;
            let finding = error(&rules::WRONG_MARK, "a value stands in quotation marks here".to_owned())
                .because("Quotation marks hold a picture of needles, in which `|` takes a needle and `.` leaves it; a number and needles stand without them.")
                .mend(format!("Write `{value}`, without quotation marks."))
                .fix(Fix::new(format!("write `{value}`"), marks.span, value.to_string()));
            return Err(Box::new(finding));
        }
        return Err(Box::new(
            error(&rules::WRONG_MARK, format!("`{}` is no mark for a needle", wrong.escape_debug()))
                .because("In a picture of needles `|` takes a needle and `.` leaves it.")
                .mend("Write only `|` and `.` between the quotation marks, one for each needle."),
        ));
    }
    let count = marks.text.len();
    if count == 0 {
        return Err(Box::new(
            error(&rules::WRONG_MARK, "the picture of needles is empty".to_owned())
                .because("It is laid again and again over the needles, and nothing cannot be laid.")
                .mend("Write `|` for a needle that is taken and `.` for one that is left, for example `\"|..|\"`."),
        ));
    }
    if count > most {
        return Err(Box::new(
            error(&rules::TOO_LARGE, "the picture of needles is too wide".to_owned())
                .because(format!("It has {count} marks, and the widest bed has {most} needles."))
                .mend("Write one repeat of the picture; it is laid again and again over the needles."),
        ));
    }
    Ok(marks.text.chars().map(|mark| mark == '|').collect())
}
