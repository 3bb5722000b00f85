//! `size-left-changed`

use crate::beds::Bed;
use crate::catalogue::{Rule, Severity};
use crate::finding::Finding;
use crate::rules::cause::Line;
use crate::rules::memory::{Memory, What};
use crate::rules::{Besides, Facts, LooksAt, Seen, Use, Watch};
use crate::words::size;

pub(crate) static RULE: Watch = Watch {
    rule: &Rule {
        name: "size-left-changed",
        severity: Severity::Warning,
        summary: "A stitch definition changes the stitch size and does not give it back.",
        why: "Whoever works a stitch does not see the size change inside it. If the size stays changed, everything after \
              it is too hard or too slack, and two pieces do not match.",
        source: "common practice, no source",
        bad: "stitch ridge on both {
    stitch size 7
    row both knit
}
piece \"Example\" {
    in work front L3-R3, back L3-R3
    thread slate
    stitch size 4
    cast on zigzag
    work ridge
    bind off both
}",
        good: "stitch ridge on both {
    row both knit, size 7
}
piece \"Example\" {
    in work front L3-R3, back L3-R3
    thread slate
    stitch size 4
    cast on zigzag
    work ridge
    bind off both
}",
    },
    looks_at: &[LooksAt::FirstPass(first_pass)],
    disturbs: Facts::NONE,
    rests_on: Facts::EVERY_ROW,
    besides: Besides { cause: Some(cause), ..Besides::NOTHING },
};

fn first_pass(at: &Use<'_>) -> Option<Finding> {
    let stitch = at.repeat.stitch.as_ref()?;
    let bed = Bed::BOTH.into_iter().find(|&bed| at.before.sizes[bed] != at.after.sizes[bed])?;
    let words = |hundredths: Option<i32>| hundredths.map_or_else(|| "not set".to_owned(), size);
    let (before, after) = (words(at.before.sizes[bed]), words(at.after.sizes[bed]));
    let mend = match at.before.sizes[bed] {
        Some(_) => format!("For one row write `row ..., size {after}`, which returns by itself; or end the definition with `stitch size {before}`."),
        None => "Set the stitch size in the piece before the stitch is worked, and in the definition use `row ..., size N`, which returns by itself.".to_owned(),
    };
    Some(
        RULE.finds(at.span, format!("`{}` leaves the stitch size of the {bed} bed changed", stitch.name))
            .marked("worked here")
            .also(stitch.defined, "defined here")
            .because(format!("The size was {before} before it and is {after} after it."))
            .mend(mend),
    )
}

fn cause(seen: Seen<'_>, memory: &Memory) -> Vec<Line> {
    let Seen::Use(at) = seen else { return Vec::new() };
    Bed::BOTH
        .into_iter()
        .filter(|&bed| at.before.sizes[bed] != at.after.sizes[bed])
        .filter_map(|bed| Some((memory.last(What::Size(bed))?, "the size is changed here".to_owned())))
        .collect()
}
