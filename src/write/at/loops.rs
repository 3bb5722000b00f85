//! Needles that carry more than one fresh stitch: tucks, stitches on stitches, loops that are no stitches yet, and
//! stitches that rest.

use crate::beds::{Bed, Loop, NeedleSet, State};
use crate::words::{count, list};

/// One sentence for all needles of a bed that carry the same loops, from left to right. A needle with one stitch says
/// nothing, unless it is held.
pub(super) fn waiting(state: &State) -> Vec<String> {
    let mut said = Vec::new();
    for bed in Bed::BOTH {
        let mut groups: Vec<(Vec<Loop>, NeedleSet)> = Vec::new();
        for needle in state.loops.loaded(bed).iter() {
            let stack = state.loops.stack(bed, needle);
            if let [Loop { caught: false, .. }] = stack.as_slice()
                && !state.held[bed].contains(needle)
            {
                continue;
            }
            match groups.iter_mut().find(|(known, _)| *known == stack) {
                Some((_, needles)) => needles.insert(needle),
                None => groups.push((stack, [needle].into_iter().collect())),
            }
        }
        said.extend(groups.iter().map(|(stack, needles)| format!("{bed} {needles}: {}", sentence(stack, state.row))));
    }
    said
}

/// `a stitch of row 6 and 2 tucks of rows 7 and 8; the oldest has waited 2 rows`.
fn sentence(stack: &[Loop], now: u64) -> String {
    let has_stitch = stack.iter().any(|what| !what.caught);
    let rows = |caught: bool| -> Vec<u64> {
        stack.iter().filter(|what| what.caught == caught).map(|what| what.made).collect()
    };
    let caught_words = if has_stitch { ("tuck", "tucks") } else { ("caught loop", "caught loops") };
    let mut parts = Vec::new();
    for (rows, (one, many)) in [(rows(false), ("stitch", "stitches")), (rows(true), caught_words)] {
        if !rows.is_empty() {
            parts.push(format!("{} of {}", count(rows.len() as u64, one, many), row_list(&rows)));
        }
    }
    let mut text = list(&parts);
    if !has_stitch {
        text.push_str(" on a needle that was empty, no stitch until it is knitted");
    }
    let oldest = stack.iter().map(|what| now.saturating_sub(what.made)).max().unwrap_or(0);
    if oldest > 0 {
        text.push_str(&format!("; the oldest has waited {}", count(oldest, "row", "rows")));
    }
    text
}

/// `row 6`, `rows 6 and 8`; loops of one row are named once, and 0 is before the first row.
fn row_list(rows: &[u64]) -> String {
    let mut rows = rows.to_vec();
    rows.sort_unstable();
    rows.dedup();
    let names: Vec<String> = rows.iter().map(u64::to_string).collect();
    match rows.as_slice() {
        [0] => "before the first row".to_owned(),
        [_] => format!("row {}", list(&names)),
        _ => format!("rows {}", list(&names)),
    }
}
