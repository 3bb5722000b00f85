//! How the beds and the carriage are set, and which yarn is in the feeder.

use super::heard::Heard;
use super::{Advice, Around};

/// `tension 5`, `set the stitch length to 5`.
pub(super) fn stitch_size(heard: &Heard, _: &Around<'_>) -> Option<Advice> {
    let words = ["stitch size", "stitch length", "stitch dial", "stitch tension", "tension", "size", "dial"];
    let said = heard.begin().phrase(&words)?;
    heard.says(&["set", "change", "turn", "put"]);
    let bed = heard.bed();
    let size = heard.measure().filter(|_| heard.done())?;
    let bed = bed.filter(|bed| *bed != "both").map_or(String::new(), |bed| format!("{bed} "));
    let why = "How large the stitches are is set with `stitch size` and a number, for both beds or with a bed before the \
               number; larger numbers are larger stitches.";
    Some(Advice::one(format!("`{said}` is not how this setting is written"), why, format!("stitch size {bed}{size}")))
}

/// `half pitch`, `set the gaiting to between`.
pub(super) fn gaiting(heard: &Heard, _: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    heard.says(&["set", "change", "move"]);
    let (word, said) = if heard.says(&["half pitch", "pitch half", "half gauge"]) {
        ("between", "half pitch")
    } else if heard.says(&["full pitch", "pitch full", "whole pitch"]) {
        ("opposite", "full pitch")
    } else {
        heard.phrase(&["gaiting", "gate", "gating", "pitch"])?;
        (heard.phrase(&["between", "opposite"])?, "gaiting")
    };
    let why = "How the needles of the beds stand to each other is the gaiting: `between`, each opposite a gap (half \
               pitch), or `opposite`, face to face (full pitch).";
    heard.done().then(|| Advice::one(format!("`{said}` does not stand so in a line"), why, format!("gaiting {word}")))
}

/// `rack left`, `swing 1 right`, `rack to 0`.
pub(super) fn rack(heard: &Heard, _: &Around<'_>) -> Option<Advice> {
    let firsts = ["rack", "racking", "swing", "shift"];
    let said = firsts.into_iter().find(|first| heard.begin().begins(&[first]))?;
    // `to 1 left` is a place, `1 to the left` a way.
    let to = heard.begins_next("to");
    let why = "A line racks by some steps to a side, or `to` a place that is counted from the centre.";
    let what = format!("`{said}` stands otherwise in a line that racks");
    if heard.says(&["centre", "center", "middle", "home", "back", "0", "zero", "start"]) {
        return heard.done().then(|| Advice::one(what, why, "rack to centre"));
    }
    let number = heard.number();
    let side = heard.side()?;
    heard.says(&["steps", "step", "positions", "position", "clicks", "click"]);
    if !heard.done() {
        return None;
    }
    let steps = number.unwrap_or(1);
    let by = format!("rack {steps} {side}");
    if to && number.is_some() {
        let when = ("from where the beds stand now", "for that place, counted from the centre");
        return Some(Advice::choice(what, why, vec![(by, when.0), (format!("rack to {steps} {side}"), when.1)]));
    }
    Some(Advice::one(what, why, by))
}

/// `put L5-R5 in work`, `in work 88 needles`, `hold 5 needles on the left`.
pub(super) fn needles(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    if heard.begins(&["unhold", "unpark", "end hold", "cancel hold", "stop holding"]) {
        let bed = heard.bed().unwrap_or_else(|| around.bed_or_blank());
        let needles = heard.needles().map_or(String::new(), |needles| format!(" {needles}"));
        let why = "Held needles are brought back to work with `release`; without needles it means all that are held.";
        let what = "needles that are held are not brought back so";
        return heard.done().then(|| Advice::one(what, why, format!("release {bed}{needles}")));
    }
    heard.says(&["put", "bring", "push", "pull", "set", "move", "place"]);
    let (line, why) = if heard.says(&["in work", "into work", "to work", "working needles", "in working position"]) {
        (
            "in work",
            "The line that brings needles into work names a bed, and the needles of it from one to another or counted from the centre.",
        )
    } else if heard.says(&["out of work", "out of action"]) {
        ("out of work", "The line that puts needles out of work names a bed first, and its needles behind it.")
    } else if heard.says(&["in hold", "on hold", "to hold", "into hold", "hold", "park"]) {
        ("hold", "The line that holds needles names a bed first, and the needles of it behind the bed.")
    } else {
        return None;
    };
    let bed = heard.bed();
    let edge = |heard: &Heard| {
        heard
            .phrase(&["leftmost", "rightmost"])
            .or_else(|| heard.side().map(|side| if side == "left" { "leftmost" } else { "rightmost" }))
    };
    let selection = match heard.needles() {
        Some(needles) => needles,
        None => {
            let number = heard.number()?;
            if heard.says(&["each side"]) {
                format!("{number} each side")
            } else if let Some(edge) = edge(heard) {
                format!("{edge} {number}")
            } else if line == "in work" {
                around_the_centre(number)?
            } else {
                return None;
            }
        }
    };
    if !heard.done() {
        return None;
    }
    let bed = bed.unwrap_or_else(|| around.bed_or_blank());
    Some(Advice::one("the needles do not stand so in this line", why, format!("{line} {bed} {selection}")))
}

/// Needles that lie half to the left and half to the right of the centre; one more to the left where they are odd.
pub(crate) fn around_the_centre(number: u64) -> Option<String> {
    match (number.div_ceil(2), number / 2) {
        (0, _) => None,
        (1, 0) => Some("L1".to_owned()),
        (left, right) => Some(format!("L{left}-R{right}")),
    }
}

/// `carriage at left`, `zero counter`.
pub(super) fn carriage(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    if heard.says(&["rc", "row counter", "counter"]) {
        heard.says(&["reset", "set", "zero", "clear", "turn"]);
        let zero = heard.says(&["000", "0", "00"]) || heard.says(&["reset"]) || heard.rest().is_empty();
        let why = "The row counter is set to 0 with `reset counter`; what it should show elsewhere is a promise.";
        return (zero && heard.done()).then(|| Advice::one("the counter is not set so", why, "reset counter"));
    }
    let side = match heard.phrase(&["col", "cor", "carriage"])? {
        "col" => "left",
        "cor" => "right",
        _ => heard.side()?,
    };
    heard.says(&["is", "side", "should be"]);
    if !heard.done() {
        return None;
    }
    let what = "where the carriage stands is not said so";
    Some(if around.has_rows() {
        let why = "After the first row the carriage is where the rows have left it. Where you count on it, `expect` says so, and wale checks it.";
        Advice::one(what, why, format!("expect carriage {side}"))
    } else {
        Advice::one(
            what,
            "Before the first row a line may say on which side the carriage begins.",
            format!("carriage {side}"),
        )
    })
}

/// `change colour to foam`, `break yarn`.
pub(super) fn yarn(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    if heard.begins(&["fasten off"]) && heard.done() {
        let ways = vec![
            ("cut yarn".to_owned(), "if the yarn is only cut off here"),
            ("note \"fasten off\"".to_owned(), "if there is more for the hands to do than that"),
        ];
        let why = "Stitches are taken off with `bind off`; what is done with the end of the yarn is said by itself.";
        return Some(Advice::choice("no line begins with `fasten off`", why, ways));
    }
    let heard = heard.begin();
    if heard.begins(&["break", "cut", "snip", "break off", "cut off"]) {
        heard.says(&["off"]);
        let yarn = heard.says(&["yarn", "yarns", "thread", "colour"]);
        return (yarn && heard.done()).then(|| {
            Advice::one(
                "this line is no instruction of the language",
                "A yarn that is cut off from the fabric is said with `cut yarn`.",
                "cut yarn",
            )
        });
    }
    let heard = heard.begin();
    let verbs = [
        "change colour to",
        "change color to",
        "change yarn to",
        "change to",
        "switch colour to",
        "switch yarn to",
        "switch to",
        "change colour",
        "change yarn",
        "join in",
        "join",
        "use yarn",
        "use",
        "with",
        "weft",
        "yarn",
        "colour",
        "color",
        "feed",
        "thread in",
        "thread the",
        "thread",
        "knit with",
    ];
    if !heard.begins(&verbs) {
        return None;
    }
    heard.says(&["yarn", "colour", "color"]);
    let name = heard.find(|word| around.is_name_of("yarn", word).then(|| word.to_owned()))?;
    heard.done().then(|| {
        let why = "The yarn in the feeder is named with `thread`; the yarn before it waits where it hangs.";
        Advice::one("a yarn is not put in the feeder so", why, format!("thread {name}"))
    })
}

/// `turn`: nobody but the knitter knows which of these it is.
pub(super) fn turn(heard: &Heard, _: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    if !heard.begins(&["turn"]) {
        return None;
    }
    heard.says(&["work", "the work", "and go back"]);
    if !heard.done() {
        return None;
    }
    let ways = vec![
        (String::new(), "if the next row only goes back: every row goes the other way than the one before it"),
        ("free pass".to_owned(), "if the carriage goes to the other side without knitting"),
        ("note \"turn\"".to_owned(), "if you take the fabric off and hang it back turned round"),
    ];
    let why = "On a machine the fabric keeps its side to you, and nothing is turned between two rows.";
    Some(Advice::choice("`turn` is no line of the language", why, ways))
}
