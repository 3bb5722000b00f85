//! Rows as they are spoken of: `knit 20 rows`, `k2, p2`, `stocking stitch`.

use super::heard::Heard;
use super::{Advice, Around};

const ROWS: &[&str] = &["rows", "row", "courses", "course", "picks", "pick", "passes", "r"];
const PLAIN: &[&str] = &[
    "stocking stitch",
    "stocking-stitch",
    "stockinette stitch",
    "stockinette",
    "st st",
    "plain knitting",
    "plain",
    "jersey",
    "work even",
    "work straight",
    "knit even",
    "knit straight",
    "knit across",
    "knit to end",
    "knit to the end",
    "knit every stitch",
    "knit",
    "knits",
    "k",
];
const RIB: &[&str] =
    &["full needle rib", "full-needle rib", "1x1 rib", "2x2 rib", "1 x 1 rib", "2 x 2 rib", "ribbing", "rib"];

/// How many rows the line speaks of, if it says so.
fn count(heard: &Heard) -> Option<u64> {
    if let Some((first, last)) = heard.find(|word| {
        let (first, last) = word.split_once('-')?;
        Some((first.parse::<u64>().ok()?, last.parse::<u64>().ok()?))
    }) {
        heard.says(ROWS);
        return last.checked_sub(first).map(|more| more + 1);
    }
    let count = heard.number_of(ROWS).or_else(|| heard.number_behind(&["rows", "row"])).or_else(|| heard.times());
    heard.says(ROWS);
    count
}

/// `k2`, `p1`: the number behind the letter.
fn spelt(word: &str, letter: char) -> Option<u64> {
    word.strip_prefix(letter).and_then(|rest| rest.parse().ok())
}

/// One row or several.
pub(super) fn rows(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    // A wale of a rib: so many knit, so many purl.
    let knits = heard.find(|word| spelt(word, 'k'));
    let purls = heard.find(|word| spelt(word, 'p'));
    if knits.is_some() != purls.is_some() {
        return None;
    }
    let count = count(heard);
    let loose = heard.says(&["loosely", "loose"]);
    let loosened = if heard.begins(&["loosen"]) { heard.number() } else { None };
    let toward = ["to left", "to the left", "to right", "to the right"].into_iter().find(|way| heard.says(&[way]));
    let bed = heard.bed();
    let needles = heard.needles();
    let elsewhere = heard.phrase(&["knit elsewhere", "slip elsewhere", "tuck elsewhere"]);
    let rib = heard.says(RIB) | knits.is_some();
    let purl = !rib && heard.says(&["purl", "purls", "p", "reverse stocking stitch", "reverse stockinette"]);
    let slip = heard.says(&["slip stitch", "slip", "slips", "miss", "misses", "skip stitch", "float"]);
    let tuck = heard.says(&["tuck stitch", "tuck", "tucks"]);
    // Behind a row count alone the needles knit.
    let knit = heard.says(PLAIN) || loosened.is_some() || count.is_some() && !(rib || purl || slip || tuck);
    if !heard.done() || [rib, purl, slip, tuck, knit].iter().filter(|said| **said).count() != 1 {
        return None;
    }
    if (slip || tuck) && needles.is_none() && count.is_none() && bed.is_none() {
        return None;
    }
    let there = around.bed();
    let (what, why);
    let bed = if rib {
        what = "rib is not written stitch by stitch";
        why = "Which stitches of a rib are purl is a matter of the needles: those on the back bed. Once stitches stand on both beds as \
               the rib wants them, every row of it is knitted on both.";
        "both"
    } else if purl {
        what = "`purl` is nothing that a needle does";
        why = "A stitch shows its purl side where it hangs on the back bed, and is knitted there.";
        if there == Some("front") && bed != Some("back") {
            return Some(turned(count));
        }
        "back"
    } else {
        what = "a row is not written so";
        why = "A row says which bed and then what its needles do; several rows begin with `rows` and their number.";
        bed.unwrap_or_else(|| around.bed_or_blank())
    };
    let action = if slip {
        "slip"
    } else if tuck {
        "tuck"
    } else {
        "knit"
    };
    let head = match count {
        Some(1) | None => "row".to_owned(),
        Some(0) => return None,
        Some(count) => format!("rows {count}"),
    };
    let way = match toward {
        Some(way) if way.ends_with("left") => " to left",
        Some(_) => " to right",
        None => "",
    };
    let mut line = format!("{head}{way} {bed} {action}");
    if let Some(needles) = needles {
        line += &format!(" on {needles}");
        match elsewhere {
            Some(elsewhere) => line += &format!(", {elsewhere}"),
            // What slips or tucks does so among needles that knit.
            None if action != "knit" => line += ", knit elsewhere",
            None => {}
        }
    }
    if let Some(by) = loosened {
        line += &format!(", loosened {by}");
    } else if loose {
        line += ", loosened NUMBER";
    }
    Some(Advice::one(what, why, line))
}

/// A purl row where all stitches are on the front bed.
fn turned(count: Option<u64>) -> Advice {
    let row = match count {
        Some(count) if count > 1 => format!("rows {} back knit\nrow back knit, loosened 1", count - 1),
        _ => "row back knit, loosened 1".to_owned(),
    };
    let line = format!(
        "gaiting opposite\nin work back NEEDLES\nrow front knit, loosened 1\ntransfer front to back\n{row}\ntransfer back to front"
    );
    let why = "A stitch shows its purl side where it hangs on the back bed. So the stitches go over to the back bed, are \
               knitted there, and come back; the row before each transfer is a little larger, and knits plain.";
    Advice::one("a needle of the front bed cannot purl", why, line)
}

/// `garter 10 rows`.
pub(super) fn garter(heard: &Heard, _: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    if !heard.says(&["garter stitch", "garter"]) {
        return None;
    }
    heard.says(&["knit", "work"]);
    let rows = count(heard).filter(|rows| *rows > 1 && heard.done())?;
    let line = format!(
        "gaiting opposite\nin work back NEEDLES\nrepeat {} times {{\n    row front knit, loosened 1\n    transfer front to back\n    \
         row back knit, loosened 1\n    transfer back to front\n}}",
        rows.div_ceil(2)
    );
    let why = "Garter stitch turns its face row by row: one bed knits a row, every stitch goes to the other bed, and that one \
               knits the next. Each time through is two rows.";
    Some(Advice::one("`garter` is no line of the language", why, line))
}
