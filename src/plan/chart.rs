//! Charts: pictures whose lines are followed one after the other, the lowest first.

use super::names::{Names, Sort};
use super::planner::Planner;
use crate::beds::Tile;
use crate::finding::Finding;
use crate::plan::rules;
use crate::syntax::tree::{Kind, Statement};
use std::collections::HashMap;

/// The charts by their names, each line a tile, in the order in which they are knitted. A chart that cannot be read
/// is missing.
pub(super) type Charts<'a> = HashMap<&'a str, Vec<Tile>>;

/// Lines of a chart.
const MOST_LINES: usize = 10_000;
/// Marks of a line; the widest bed has as many needles.
const MOST_MARKS: usize = 256;

/// Reads all charts. Findings: `uneven-chart`, `wrong-mark`, `too-large`, `missing-line`.
pub(super) fn read_all<'a>(names: &Names<'a>, findings: &mut Vec<Finding>) -> Charts<'a> {
    names
        .table(Sort::Chart)
        .iter()
        .filter_map(|entry| read(entry.statement, findings).map(|lines| (entry.name.text.as_ref(), lines)))
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
        match Planner::marks(text, MOST_MARKS) {
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
