//! The head, the set-out and the end of a sheet, laid out on paper.

use super::end::End;
use super::head::Head;
use super::paper::{Paper, WIDTH};
use super::set_out::SetOut;
use crate::draw::MACHINE;
use std::io;

/// How far in the lines under a heading stand.
const UNDER: usize = 4;
/// Columns taken by the names of the beds.
const MARGIN: usize = 9;

/// Writes everything above the rows; on the first sheet also a picture of the machine.
///
/// # Errors
/// Those of the paper.
pub(super) fn top(paper: &mut Paper<'_>, head: &Head, set_out: Option<&SetOut>, first: bool) -> io::Result<()> {
    paper.gap();
    paper.rule("=")?;
    head.title.iter().try_for_each(|line| paper.flat(0, line))?;
    paper.rule("=")?;
    paper.gap();
    paper.flat(0, &head.totals)?;
    under(paper, "What it takes", &head.takes)?;
    paper.gap();
    paper.rule("-")?;
    paper.flat(0, "Take care")?;
    head.cautions.iter().try_for_each(|line| paper.say(UNDER, line))?;
    paper.rule("-")?;
    under(paper, "How to read this sheet", &head.reading)?;
    if first {
        paper.gap();
        paper.flat(UNDER, "The machine, seen from above")?;
        paper.gap();
        MACHINE.iter().try_for_each(|line| paper.drawn(&format!("{:MARGIN$}{line}", "")))?;
    }
    if let Some(set_out) = set_out {
        under(paper, "The needles at the start, as you sit before them", &set_out.lines)?;
        picture(paper, set_out)?;
    }
    paper.gap();
    paper.rule("-")?;
    paper.gap();
    paper.flat(0, "The work")
}

/// Writes the end.
///
/// # Errors
/// Those of the paper.
pub(super) fn end(paper: &mut Paper<'_>, end: &End) -> io::Result<()> {
    paper.gap();
    paper.rule("-")?;
    under(paper, &end.title, &end.lines)
}

fn under(paper: &mut Paper<'_>, title: &str, lines: &[impl AsRef<str>]) -> io::Result<()> {
    paper.gap();
    paper.flat(0, title)?;
    lines.iter().try_for_each(|line| paper.say(UNDER, line.as_ref()))
}

fn picture(paper: &mut Paper<'_>, set_out: &SetOut) -> io::Result<()> {
    if set_out.picture.is_empty() {
        return Ok(());
    }
    paper.gap();
    paper.flat(UNDER, "| in work   . out of work   h held")?;
    for strip in &set_out.picture {
        paper.gap();
        if !strip.title.is_empty() {
            paper.flat(UNDER, strip.title)?;
            paper.gap();
        }
        strip.lines.iter().try_for_each(|(name, line)| paper.drawn(&labelled(name, line)))?;
    }
    Ok(())
}

fn labelled(name: &str, text: &str) -> String {
    let line = format!("{name:>width$}  {text}", width = MARGIN - 2);
    debug_assert!(line.chars().count() <= WIDTH);
    line
}
