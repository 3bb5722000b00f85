//! `ragged-repeat`

use crate::beds::{Bed, Ragged};
use crate::finding::{Finding, Severity};
use crate::play::Moment;
use crate::rules::words::count;
use crate::rules::{LooksAt, Rule};

pub(crate) static RULE: Rule = Rule {
    name: "ragged-repeat",
    severity: Severity::Error,
    summary: "A repeat does not go into its width, or its rows, a whole number of times.",
    why: "The last repeat would be cut off: the pattern does not meet at the seam, and a second piece does not match \
          the first.",
    source: "follows from the numbers of the pattern",
    bad: "in work front L5-R5
thread slate
cast on wound front
row front slip on \"|..\", knit elsewhere
row front knit
bind off front",
    good: "in work front L6-R6
thread slate
cast on wound front
row front slip on \"|..\", knit elsewhere
row front knit
bind off front",
    looks_at: &[LooksAt::Unfit(unfit)],
};

fn unfit(moment: &Moment<'_>, bed: Bed, ragged: Ragged) -> Option<Finding> {
    let (width, tile) = (ragged.width, ragged.tile.max(1));
    let below = width / tile * tile;
    let above = below + tile;
    let neighbours = if below == 0 {
        format!("The nearest width that fits is {above}.")
    } else {
        format!("The nearest widths that fit are {below} and {above}.")
    };
    Some(
        RULE.finds(
            moment.span,
            format!(
                "a picture of {} does not fit the {} of the {bed} bed",
                count(tile, "needle", "needles"),
                count(width, "needle", "needles")
            ),
        )
        .marked(format!("{} left over", count(width - below, "needle is", "needles are")))
        .because(format!(
            "The working width of the {bed} bed is {}: {} and {} over.",
            count(width, "needle", "needles"),
            count(width / tile, "whole picture", "whole pictures"),
            count(width % tile, "needle", "needles")
        ))
        .mend(format!(
            "{neighbours} Change the set-out, or lay the picture over a part of it: `\"...\" over L10-R10`."
        )),
    )
}
