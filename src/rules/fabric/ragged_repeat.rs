//! `ragged-repeat`

use crate::beds::{Bed, Ragged};
use crate::finding::Finding;
use crate::play::Moment;
use crate::rules::{Besides, Facts, LooksAt, Watch};
use crate::words::count;

pub(crate) static RULE: Watch = Watch {
    rule: &crate::plan::rules::RAGGED_REPEAT,
    looks_at: &[LooksAt::Unfit(unfit)],
    disturbs: Facts::LOOPS,
    rests_on: Facts::NONE,
    besides: Besides::NOTHING,
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
