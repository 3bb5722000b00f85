//! `ragged-repeat`

use crate::beds::{Bed, Operation, Ragged};
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
    let found = Width::of(moment, bed, ragged);
    let (width, tile, laid_over) = (found.width, ragged.tile.max(1), found.bed);
    let why_there = if laid_over == bed {
        ""
    } else {
        "What a line brings into work without naming needles is laid over the needles in work of the other bed. "
    };
    Some(
        RULE.finds(
            moment.span,
            format!(
                "a picture of {} does not fit the {} of the {laid_over} bed",
                count(tile, "needle", "needles"),
                count(width, "needle", "needles")
            ),
        )
        .marked(format!("{} left over", count(width % tile, "needle is", "needles are")))
        .because(format!(
            "{why_there}The working width of the {laid_over} bed is {}: {} and {} over.",
            count(width, "needle", "needles"),
            count(width / tile, "whole picture", "whole pictures"),
            count(width % tile, "needle", "needles")
        ))
        .mend(found.mend()),
    )
}

/// A working width, and the pictures that do not go into it: one mistake, however many lines lay a picture over it.
#[derive(Debug)]
pub(crate) struct Width {
    bed: Bed,
    width: u32,
    /// How wide each picture is; none twice.
    tiles: Vec<u32>,
    /// The needles of a bed.
    most: u32,
}

impl Width {
    /// Needles that come into work are laid out by those of the other bed.
    pub(crate) fn of(moment: &Moment<'_>, bed: Bed, ragged: Ragged) -> Self {
        let coming = matches!(moment.operation, Operation::InWork(_));
        let bed = if coming { bed.other() } else { bed };
        Self { bed, width: ragged.width, tiles: vec![ragged.tile.max(1)], most: moment.machine.bed().len() }
    }

    /// Takes in another one, if it is the same width: then gives what is said of the line, and what to do now.
    pub(crate) fn joined(&mut self, other: &Self) -> Option<(String, String)> {
        if (self.bed, self.width) != (other.bed, other.width) {
            return None;
        }
        let is = other.tiles.first().copied().unwrap_or(1);
        if !self.tiles.contains(&is) {
            self.tiles.push(is);
        }
        Some((format!("nor does a picture of {} here", count(is, "needle", "needles")), self.mend()))
    }

    /// What to do: the nearest widths that all of the pictures go into.
    fn mend(&self) -> String {
        let all = self.tiles.iter().fold(1, |all, &tile| common(all, tile));
        let below = self.width / all * all;
        let fit: Vec<String> = [below, below + all]
            .into_iter()
            .filter(|&fit| fit > 0 && fit <= self.most)
            .map(|fit| fit.to_string())
            .collect();
        let them = if self.tiles.len() > 1 { " all of them" } else { "" };
        let change = match &fit[..] {
            [] if self.tiles.len() > 1 => {
                "No width of this bed fits all of them: make the pictures equally wide".to_owned()
            }
            [] => "The picture is wider than the bed: make it narrower".to_owned(),
            [one] => format!("The nearest width that fits{them} is {one}. Change the set-out"),
            [one, other, ..] => format!("The nearest widths that fit{them} are {one} and {other}. Change the set-out"),
        };
        format!("{change}, or lay the picture over a part of it: `\"...\" over L10-R10`.")
    }
}

/// The smallest width that both go into.
fn common(a: u32, b: u32) -> u32 {
    let (mut divisor, mut rest) = (a, b);
    while rest > 0 {
        (divisor, rest) = (rest, divisor % rest);
    }
    (a / divisor.max(1)).saturating_mul(b)
}
