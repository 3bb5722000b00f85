//! What is said of stitches that were drawn at a wrong size for being carried: the words that several rules share.

use crate::beds::{Bed, Carried, Drawn, Misfits, StitchSize, Teller, Wanted};
use crate::finding::Fix;
use crate::play::Moment;
use crate::rules::cause::{Line, at};
use crate::rules::memory::{Memory, What};
use crate::rules::remedy::behind;
use crate::rules::{Seen, Watch};
use crate::words::size;

/// How much larger than plain rows such rows are, in words, with where it comes from.
pub(crate) const USUAL: &str = "1 to 4 numbers larger than plain rows is usual for it (common practice, no source)";

/// Why they are wrong, with the numbers: how large they were drawn, and how large they should be.
pub(crate) fn why(misfits: &Misfits, moment: &Moment<'_>) -> String {
    let Some((yarn, drawn)) = misfits.alike else {
        return format!("They come from rows of several sizes, and none of these is right; {USUAL}.");
    };
    match (drawn, drawn.wanted(yarn, moment.machine)) {
        (Drawn::ByHand | Drawn::ByCastOn, _) => {
            format!("The cast-on by the carriage made them, and it is made tightly; {USUAL}.")
        }
        (Drawn::InRow { size: Some(at), .. }, Some(wanted)) => {
            format!("They were knitted at size {}. {}", size(at), should_be(wanted))
        }
        (Drawn::InRow { size: None, larger: Some(larger) }, _) if larger > 0 => {
            format!("Their row was loosened by {}; {USUAL}.", size(larger))
        }
        (Drawn::InRow { size: None, larger: Some(_) }, _) => {
            format!("Their row was not loosened; {USUAL}.")
        }
        (Drawn::InRow { .. }, _) => {
            format!("No line says at which stitch size they were knitted; {USUAL}.")
        }
    }
}

fn should_be(wanted: Wanted) -> String {
    let range = format!("size {} to {}", size(wanted.least), size(wanted.most));
    match wanted.teller {
        Teller::Yarn(plain) => {
            format!("The yarn says `plain rows at size {}`, and {USUAL}: {range}.", size(plain))
        }
        Teller::Profile => format!("The machine's profile says `transfer at {range}`."),
        Teller::Pattern(usual) => {
            format!("The usual size there is {} so far, and {USUAL}: {range}.", size(usual))
        }
    }
}

/// The size to knit them at, as it is written behind a row: `size 7`, or `loosened 2` where nothing tells a number. None
/// where the dial of the machine does not reach it.
pub(crate) fn better(misfits: &Misfits, moment: &Moment<'_>) -> Option<String> {
    let wanted = misfits.alike.and_then(|(yarn, drawn)| drawn.wanted(yarn, moment.machine));
    let Some(Wanted { least, most, .. }) = wanted else { return Some("loosened 2".to_owned()) };
    // One more than the least: the least just serves.
    let at = least.saturating_add(ONE_MORE).min(most);
    let (smallest, largest) = moment.machine.stitch_sizes.value;
    let at = at.clamp(smallest, largest);
    (least..=most).contains(&at).then(|| format!("size {}", size(at)))
}

const ONE_MORE: StitchSize = 100;

/// The beds that the row which made them worked, as they are named before an action. A row on both beds was knitted there, so
/// it can be knitted again; another may make needles collide.
pub(crate) fn row_on(bed: Bed, moment: &Moment<'_>) -> String {
    let rows = &moment.state.last_row;
    if rows[bed] == rows[bed.other()] { "both".to_owned() } else { bed.to_string() }
}

/// The last row of the bed, where that made them.
pub(crate) fn cause(misfits: &Misfits, memory: &Memory) -> Vec<Line> {
    let Some(bed) = misfits.row else { return Vec::new() };
    at(memory.last(What::Row(bed)), &format!("the last row on the {bed} bed"))
}

/// That row at a better size. Not safe: how large is for the yarn and the machine to say, and the row looks otherwise
/// afterwards.
pub(crate) fn fix(misfits: &Misfits, seen: Seen<'_>, memory: &Memory) -> Option<Fix> {
    let Seen::Done(moment) = seen else { return None };
    let bed = misfits.row?;
    let row = memory.last_row(bed).filter(|row| row.alone)?;
    Some(behind(row.span, &format!(", {} {bed}", better(misfits, moment)?)))
}

/// That they were knitted.
pub(crate) fn was_were(misfits: &Misfits) -> &'static str {
    if misfits.needles.len() == 1 { "was knitted" } else { "were knitted" }
}

/// To knit the row before them larger.
pub(crate) fn larger_row(on: &str, better: &str) -> String {
    format!("Knit the row before larger, for example `row {on} knit, {better}`; it holds for that row only.")
}

/// What to do where the dial does not reach a size that is right.
pub(crate) fn out_of_reach(rule: &Watch) -> String {
    format!(
        "The dial of the machine does not reach that: take a yarn that suits it, or transfer with the hand tool, slowly, \
         and write `allow {} because \"by hand, slowly\"` round the line.",
        rule.rule.name
    )
}

/// What else can be written where they may be right as they are, and the pattern does not say enough to know it.
pub(crate) fn or_say_it(misfits: &Misfits, moment: &Moment<'_>) -> String {
    let Some((yarn, drawn)) = misfits.alike else { return String::new() };
    let in_yarn = |plain: StitchSize| {
        format!("say in the yarn at which size you knit it plain, for example `plain rows at size {}`", size(plain))
    };
    match (drawn, drawn.wanted(yarn, moment.machine).map(|wanted| wanted.teller)) {
        (Drawn::InRow { size: Some(at), .. }, Some(Teller::Pattern(_))) => {
            // Such a size that this one is right.
            let plain = at.saturating_sub(2 * ONE_MORE);
            if plain < moment.machine.stitch_sizes.value.0 {
                return String::new();
            }
            format!(" If the size is right as it is, {}; then transfers are judged by that.", in_yarn(plain))
        }
        (Drawn::InRow { size: None, larger: None }, None) => format!(
            " If your dial is set larger than for plain rows already, write the two sizes down: {}, and set the other above \
             the row, for example `stitch size 7`.",
            in_yarn(5 * ONE_MORE)
        ),
        (_, Some(Teller::Yarn(_) | Teller::Profile)) => match better(misfits, moment) {
            Some(size) => format!(" Where every row is transferred, set it once for all of them: `stitch {size}`."),
            None => String::new(),
        },
        _ => String::new(),
    }
}

/// How many of the donors these are, in words, and which where it is not all.
pub(crate) fn how_many(misfits: &Misfits, carried: &Carried) -> (String, String) {
    use crate::words::{count, is_are, spans::on_bed};
    let (all, some) = (carried.donors.len(), misfits.needles.len());
    if some == all {
        return (count(some, "stitch is", "stitches are"), String::new());
    }
    let named = format!(": {}", on_bed(carried.from, misfits.needles));
    (format!("{some} of {all} stitches {}", is_are(some.into())), named)
}
