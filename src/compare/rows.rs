//! What changed in a row, in one sentence: `the back bed tucks on every second needle from L30 to R28 instead of knitting`.

use super::played::{Sets, Told};
use crate::beds::{Bed, NeedleSet};
use crate::words;

/// More groups of needles than that are not named; the whole rows stand below.
const MOST_GROUPS: usize = 2;
/// Needles whose names take more characters than that are counted.
const LONGEST_NAMES: usize = 60;

/// What changed from one row to the other.
pub(super) fn sentence(old: &Told, new: &Told) -> String {
    let (Some(before), Some(after)) = (&old.sets, &new.sets) else { return "another row".to_owned() };
    let mut said: Vec<(Bed, String)> = Vec::new();
    for bed in Bed::BOTH {
        if let Some(what) = of_bed(bed, before, after) {
            said.push((bed, what));
        }
    }
    let beds = match said.as_slice() {
        [] => String::new(),
        [(_, one), (_, other)] if one == other => format!("both beds {}", plural(one)),
        parts => parts.iter().map(|(bed, what)| format!("the {bed} bed {what}")).collect::<Vec<_>>().join("; "),
    };
    let sized = old.said.size != new.said.size;
    match (beds.is_empty(), sized) {
        (false, false) => beds,
        (false, true) => format!("{beds}; and the stitch size for this row is another"),
        (true, true) => match (&old.said.size, &new.said.size) {
            (None, Some(_)) => "a stitch size for this row only is new".to_owned(),
            (Some(_), None) => "the stitch size for this row only is gone".to_owned(),
            _ => "the stitch size for this row is another".to_owned(),
        },
        (true, false) => "the row is worked otherwise".to_owned(),
    }
}

/// What one bed does otherwise; none when it does the same.
fn of_bed(bed: Bed, before: &Sets, after: &Sets) -> Option<String> {
    let of = |sets: &Sets| {
        [
            ("knits", "knitting", sets.knit[bed]),
            ("tucks", "tucking", sets.tuck[bed]),
            ("slips", "slipping", sets.slip[bed]),
        ]
    };
    let (old, new) = (of(before), of(after));
    if old == new {
        return None;
    }
    let whole = |sets: &[(&str, &str, NeedleSet); 3]| sets.iter().fold(NeedleSet::EMPTY, |all, (_, _, set)| all | *set);
    if whole(&old) != whole(&new) {
        return Some("works other needles".to_owned());
    }
    let mut groups = Vec::new();
    for (index, (does, _, now)) in new.iter().enumerate() {
        for (before_index, (_, doing, then)) in old.iter().enumerate() {
            let needles = *now & *then;
            if index != before_index && !needles.is_empty() {
                groups.push((*does, *doing, needles));
            }
        }
    }
    let all = whole(&new);
    match groups.as_slice() {
        [] => None,
        [(does, doing, needles)] if *needles == all => Some(format!("{does} instead of {doing}")),
        groups if groups.len() <= MOST_GROUPS => {
            let named = |(does, doing, needles): &(&str, &str, NeedleSet)| {
                let names = words::needles(*needles);
                if names.len() > LONGEST_NAMES {
                    let count = words::total_of(u64::from(needles.len()), "needle", "needles");
                    return format!("{does} on {count} instead of {doing}");
                }
                format!("{does} on {names} instead of {doing}")
            };
            Some(groups.iter().map(named).collect::<Vec<_>>().join(" and "))
        }
        _ => Some("works otherwise".to_owned()),
    }
}

/// The same said of several: `tuck instead of knitting`.
fn plural(what: &str) -> String {
    let (verb, rest) = what.split_once(' ').unwrap_or((what, ""));
    format!("{} {rest}", verb.trim_end_matches('s'))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::beds::{Both, Needle};
    use crate::write::sheet::said::Said;

    fn told(knit: NeedleSet, tuck: NeedleSet) -> Told {
        let on = |set| Both { front: NeedleSet::EMPTY, back: set };
        Told { said: Said::default(), sets: Some(Sets { knit: on(knit), tuck: on(tuck), slip: on(NeedleSet::EMPTY) }) }
    }

    #[test]
    fn the_needles_that_changed_are_named() {
        let all: NeedleSet = (118..138).map(Needle).collect();
        let half: NeedleSet = (118..138).step_by(2).map(Needle).collect();
        let none = NeedleSet::EMPTY;
        assert_eq!(
            sentence(&told(all, none), &told(all - half, half)),
            "the back bed tucks on every second needle from L10 to R9 instead of knitting"
        );
        let thirds: NeedleSet = (30..220).filter(|number| number % 3 > 0).map(Needle).collect();
        let wide: NeedleSet = (30..220).map(Needle).collect();
        assert_eq!(
            sentence(&told(wide, none), &told(wide - thirds, thirds)),
            "the back bed tucks on L97 to R91, taking 2 and leaving 1 again and again instead of knitting"
        );
        let uneven: NeedleSet = (30..220).filter(|number| number % 7 > 2 && number % 5 > 0).map(Needle).collect();
        assert_eq!(
            sentence(&told(wide, none), &told(wide - uneven, uneven)),
            "the back bed tucks on 87 needles instead of knitting"
        );
        assert_eq!(sentence(&told(all, none), &told(none, all)), "the back bed tucks instead of knitting");
        assert_eq!(sentence(&told(all, none), &told(half, none)), "the back bed works other needles");
    }
}
