//! Stitches that are cast on, moved, dropped and taken off.

use super::beds::around_the_centre;
use super::heard::Heard;
use super::{Advice, Around};

/// `transfer all to back`, `transfer every second`, `move the front stitches to the back bed`.
pub(super) fn transfer(heard: &Heard, _: &Around<'_>) -> Option<Advice> {
    if !heard.begin().begins(&["transfer", "move"]) {
        return None;
    }
    let carriage = heard.says(&["with the carriage", "by carriage", "with the transfer carriage"]);
    let hand = heard.says(&["by hand", "with the transfer tool", "with the tool"]);
    let joining = heard.says(&["joining", "together"]);
    let goes = ["front", "back"].into_iter().find(|bed| {
        let to = ["to", "to the", "onto", "onto the", "on to", "->", "→", "over to", "over to the"];
        to.iter().any(|to| heard.says(&[&format!("{to} {bed}")]))
    });
    let from = heard.phrase(&["front", "back"]);
    let selection = heard.needles();
    if !heard.done() {
        return None;
    }
    let other = |bed| if bed == "front" { "back" } else { "front" };
    let (from, goes) = match (from, goes) {
        (Some(from), Some(goes)) if from != goes => (from, goes),
        (None, Some(goes)) => (other(goes), goes),
        (Some(from), None) => (from, other(from)),
        _ => return None,
    };
    let mut line = format!("transfer {from}");
    if let Some(selection) = selection {
        line += &format!(" {selection}");
    }
    line += &format!(" to {goes}");
    for (said, words) in [(joining, ", joining"), (carriage, ", by carriage"), (hand, ", by hand")] {
        line += if said { words } else { "" };
    }
    let why = "A transfer names the bed that gives its stitches, then the needles if it is not all of them, and behind `to` \
               the bed that takes them.";
    Some(Advice::one("the words of this transfer do not stand in their order", why, line))
}

/// `move back L30 to L29`: on which bed the other needle is only the knitter knows.
pub(super) fn moved(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    if !heard.begin().begins(&["move"]) {
        return None;
    }
    let bed = heard.bed().unwrap_or_else(|| around.bed_or_blank());
    let from = heard.needles()?;
    let to = heard.needles().filter(|_| heard.done())?;
    let why = "A move names the bed of the needles that give their stitches, and the bed of those that take them.";
    let other = if bed == "front" { "back" } else { "front" };
    let line = |goes| format!("move {bed} {from} to {goes} {to}");
    Some(Advice::choice(
        "the bed that takes the stitches is not named",
        why,
        vec![(line(bed), "to stay on the bed"), (line(other), "to go to the other bed")],
    ))
}

/// `cast on 20 stitches`, `CO 20`, `e-wrap cast on`, `chain 20`.
pub(super) fn cast_on(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    let chained = heard.begins(&["chain", "ch", "crochet"]);
    if !heard.says(&["cast on", "cast-on", "co", "caston"]) && !chained {
        return None;
    }
    let kind = if chained { Some("chain") } else { kind(heard) };
    heard.says(&["row", "edge"]);
    let bed = heard.bed();
    let needles = heard.needles();
    let number = if needles.is_none() { heard.number() } else { None };
    heard.says(&["long tail", "long-tail", "loosely"]);
    if !heard.done() {
        return None;
    }
    let selection = match number {
        Some(number) => Some(around_the_centre(number)?),
        None => needles,
    };
    let over = selection.as_ref().map_or(String::new(), |needles| format!(" {needles}"));
    let bed = bed.unwrap_or_else(|| around.bed_or_blank());
    let what = "the words of this cast-on do not stand so";
    let counted = number.map_or(String::new(), |number| {
        format!(" {number} stitches around the centre are {}.", selection.clone().unwrap_or_default())
    });
    let why = format!("A cast-on says how it is done, and on which needles.{counted}");
    match (kind, &selection) {
        (Some(kind @ ("zigzag" | "open")), Some(_)) => {
            Some(Advice::one(what, why, format!("in work {bed}{over}\ncast on {kind}")))
        }
        (Some("zigzag"), None) => Some(Advice::one(what, why, "cast on zigzag")),
        (Some(kind), _) => Some(Advice::one(what, why, format!("cast on {kind} {bed}{over}"))),
        // Only by hand are needles brought into work as they are cast on.
        (None, Some(_)) => Some(Advice::one(what, why, format!("cast on wound {bed}{over}"))),
        (None, None) => {
            let mut ways = vec![
                (format!("cast on wound {bed}"), "for a loop wound by hand on each needle"),
                (format!("cast on chain {bed}"), "for needles chained by hand with a latch tool"),
                (format!("cast on open {bed}"), "for a row of the carriage, on waste yarn as a rule"),
            ];
            if bed == "both" {
                ways = vec![("cast on zigzag".to_owned(), "for a row that goes from bed to bed")];
            }
            Some(Advice::choice("how it is cast on is not said", why, ways))
        }
    }
}

fn kind(heard: &Heard) -> Option<&'static str> {
    const KINDS: &[(&[&str], &str)] = &[
        (&["zigzag", "zig-zag", "zig zag", "rib", "closed"], "zigzag"),
        (&["open", "provisional", "waste", "waste yarn", "scrap"], "open"),
        (&["wound", "e-wrap", "ewrap", "wrap", "long tail", "long-tail", "thumb", "backward loop"], "wound"),
        (&["chain", "latch tool", "latch", "crochet"], "chain"),
    ];
    KINDS.iter().find(|(words, _)| heard.says(words)).map(|(_, kind)| *kind)
}

/// `cast off all stitches`, `BO`, `scrap off`.
pub(super) fn take_off(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    let waste = heard.begins(&["scrap off", "waste off", "take off", "put on waste yarn", "onto waste"]);
    if waste {
        heard.says(&["onto waste yarn", "on waste yarn", "waste yarn", "scrap yarn", "waste"]);
    } else if !heard.begins(&["bind off", "cast off", "bo", "co off", "cast-off", "bind-off"]) {
        return None;
    }
    heard.says(&["all", "loosely", "everything"]);
    heard.says(&["loosely", "all"]);
    let bed = heard.bed();
    let needles = heard.needles();
    if !heard.done() {
        return None;
    }
    let bed = bed.unwrap_or_else(|| around.bed_or_blank());
    let needles = needles.map_or(String::new(), |needles| format!(" {needles}"));
    Some(if waste {
        let why = "Stitches that come off onto waste yarn are kept; the line names the bed.";
        Advice::one("this is not how stitches are taken off", why, format!("onto waste yarn {bed}{needles}"))
    } else {
        let why = "The line that binds off names the bed; without needles it means all its stitches.";
        Advice::one("which bed is bound off is not said so", why, format!("bind off {bed}{needles}"))
    })
}

/// `drop stitch R5`.
pub(super) fn drop(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    if !heard.begin().begins(&["drop", "ladder", "unravel"]) {
        return None;
    }
    let bed = heard.bed();
    let needles = heard.needles().filter(|_| heard.done())?;
    let bed = bed.unwrap_or_else(|| around.bed_or_blank());
    let why = "A stitch that is let fall on purpose is named by its bed and then its needle.";
    Some(Advice::one("the stitch to be dropped is not named so", why, format!("drop {bed} {needles}")))
}

/// `k2tog at L5`, `cable L2-L1 over R1-R2`.
pub(super) fn lace(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    let bed = around.bed_or_blank();
    if heard.begins(&["cross", "cable", "twist"]) {
        let bed = heard.bed().unwrap_or(bed);
        let (first, other) = (heard.needles()?, {
            heard.says(&["over", "with", "in front of"]);
            heard.needles()?
        });
        let why = "Two groups that change places are written with `cross`, their bed and `over` between them; the first lies in front.";
        return heard.done().then(|| {
            Advice::one("the groups of this cross do not stand so", why, format!("cross {bed} {first} over {other}"))
        });
    }
    if !heard.begins(&["k2tog", "ssk", "skpo", "eyelet", "lace hole"]) {
        return None;
    }
    let needle = heard.needles().unwrap_or_else(|| "NEEDLES".to_owned());
    if !heard.done() {
        return None;
    }
    let ways = vec![
        (format!("move {bed} {needle} 1 left, joining"), "to lay the stitch on its left neighbour"),
        (format!("move {bed} {needle} 1 right, joining"), "to lay it on its right neighbour"),
    ];
    let why = "On a machine two stitches are knitted together by laying one on its neighbour. The next row says `new loops` \
               where the emptied needle is to catch the yarn, for an eyelet.";
    Some(Advice::choice("this is a word of hand knitting", why, ways))
}
