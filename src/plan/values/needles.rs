//! Needle words and spans of needles: counted from the centre, within the ends of the beds.

use crate::beds::{Machine, Needle, NeedleSet, Pick};
use crate::plan::rules;
use crate::plan::values::context::Values;
use crate::plan::values::quantity::needles;
use crate::plan::values::sides::side;
use crate::source::Span;
use crate::syntax::tree::{NeedleWord, SideWord};

/// What a span of that many needles less or more would be: the end farther from the centre gives way, the nearer one
/// is moved out. None where the bed ends.
pub(in crate::plan) fn resized(
    first: Needle,
    last: Needle,
    width: u32,
    ends: (Needle, Needle),
) -> Option<(Needle, Needle)> {
    let half = (NeedleSet::WIDTH / 2) as i32;
    // Distances of the two ends from the centre, counted outwards.
    let (mut left, mut right) = (half - i32::from(first.0), i32::from(last.0) - half + 1);
    let width = i32::try_from(width).ok().filter(|&width| width > 0)?;
    let (most_left, most_right) = (half - i32::from(ends.0.0), i32::from(ends.1.0) - half + 1);
    while left + right > width {
        if left > right { left -= 1 } else { right -= 1 }
    }
    while left + right < width {
        if (left <= right && left < most_left) || right >= most_right {
            left += 1;
        } else {
            right += 1;
        }
        if left > most_left {
            return None;
        }
    }
    let needle = |number: i32| u8::try_from(number).ok().map(Needle);
    Some((needle(half - left)?, needle(half + right - 1)?))
}

/// `L30-R29`, or `L5` for one needle.
pub(in crate::plan) fn span_words(first: Needle, last: Needle) -> String {
    if first == last { first.to_string() } else { format!("{first}-{last}") }
}

impl<'a> Values<'a> {
    /// A needle word in this size; reports a zero and a needle past the end of the bed.
    pub(in crate::plan) fn needle(&mut self, word: &'a NeedleWord) -> Option<Needle> {
        let number = self.of_size(&word.numbers, word.span)?;
        let letter = if word.side == SideWord::Left { 'L' } else { 'R' };
        let (machine, ends) = self.ends();
        let end = if word.side == SideWord::Left { ends.0 } else { ends.1 };
        let whole = if number.decimals == 0 { u32::try_from(number.units).unwrap_or(u32::MAX) } else { 0 };
        if whole == 0 {
            self.sure(
                rules::OFF_BED.finds(word.span,
                    format!("there is no needle `{}`", self.words(word.span)),
                )
                .because(
                    "Needles are counted from the centre, L1 to the left of it and R1 to the right; there is no zero.",
                )
                .mend(format!("The needle nearest to the centre on that side is {letter}1.")),
            );
            return None;
        }
        let needle = Needle::new(side(word.side), whole).filter(|needle| (ends.0..=ends.1).contains(needle));
        if needle.is_none() {
            self.sure(
                rules::OFF_BED
                    .finds(word.span, format!("{letter}{} is past the end of the bed", number.units))
                    .because(format!("{machine} ends at {end} on that side."))
                    .mend(format!("Use needles up to {end}, or centre the piece.")),
            );
        }
        needle
    }

    /// A name for the machine and the ends of its beds.
    pub(in crate::plan) fn ends(&self) -> (String, (Needle, Needle)) {
        match &self.machine {
            Some(machine) if !machine.name.is_empty() => (format!("The bed of `{}`", machine.name), machine.ends()),
            Some(machine) => ("The widest bed".to_owned(), machine.ends()),
            None => ("The widest bed".to_owned(), Machine::new("", 128).ends()),
        }
    }

    /// Reports needles named in a selection that the machine of this piece has not.
    pub(in crate::plan) fn on_bed(&mut self, pick: &Pick, span: Span) -> bool {
        let Some(machine) = self.machine.clone() else { return true };
        let named = named_needles(pick);
        let past = named - machine.bed();
        let Some((first, last)) = past.first().zip(past.last()) else { return true };
        let (bed, ends) = self.ends();
        self.error(
            &rules::OFF_BED,
            span,
            format!("{} {} past the end of the bed", span_words(first, last), if first == last { "is" } else { "are" }),
            format!("{bed} has {} and goes from {} to {}.", needles(machine.bed().len()), ends.0, ends.1),
            format!("Use needles from {} to {}, or centre the piece.", ends.0, ends.1),
        );
        false
    }
}

/// The needles that a selection names whatever the state of the beds.
fn named_needles(pick: &Pick) -> NeedleSet {
    match pick {
        Pick::These(set) => *set,
        Pick::And(both) | Pick::Or(both) => named_needles(&both.0) | named_needles(&both.1),
        Pick::AllBut(inner) => named_needles(inner),
        _ => NeedleSet::EMPTY,
    }
}
