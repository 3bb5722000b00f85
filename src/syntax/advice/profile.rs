//! Lines of a machine, a yarn and a gauge.

use super::heard::Heard;
use super::{Advice, Around, BLANKS, values};

/// `needles 180`, `gauge 5 mm`, `racking 5`.
pub(super) fn machine(heard: &Heard, _: &Around<'_>) -> Option<Advice> {
    let heard = heard.begin();
    if heard.says(&["racking", "racks", "rack"]) {
        let number = heard.number()?;
        heard.says(&["steps", "step", "each side", "each way", "positions"]);
        let why = "A machine says which of its beds racks, and how far to each side of the centre.";
        return heard.done().then(|| {
            let line = |bed| format!("racking {bed} bed, {number} left to {number} right");
            Advice::choice(
                "the racking is not said so",
                why,
                vec![(line("back"), "if the back bed moves"), (line("front"), "if the front bed moves")],
            )
        });
    }
    if heard.says(&["pitch", "gauge", "needle distance", "spacing"]) {
        let pitch = heard.measure()?;
        heard.says(&["mm"]);
        let why = "How far the needles of a bed stand apart is the `pitch`; a gauge is what is counted on a swatch.";
        return heard.done().then(|| Advice::one("the pitch is not said so", why, format!("pitch {pitch} mm")));
    }
    if heard.says(&["needles", "needle count"]) {
        let number = heard.number()?;
        let each = heard.says(&["each side", "per side", "on each side", "either side", "on both sides", "a side"]);
        let per_side = if each { number } else { number / 2 };
        if !heard.done() || per_side == 0 || !each && number % 2 == 1 {
            return None;
        }
        let why = if each {
            "Needles are counted from the centre to one side, with `each side`.".to_owned()
        } else {
            format!("Needles are counted from the centre: of {number} needles of a bed, {per_side} are on each side.")
        };
        return Some(Advice::one("the needles are not counted so", why, format!("needles {per_side} each side")));
    }
    None
}

/// `2 ply`, `weight 50 g`, `count Nm 2/30`.
pub(super) fn yarn(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let line = around.line();
    let heard = heard.begin();
    if heard.says(&["ply", "strands", "strand", "ends", "end", "plies"]) {
        let strands = heard.number().filter(|_| heard.done())?;
        let why = "How many ends are threaded together is said with `strands`.";
        return Some(Advice::one("the ends are not counted so", why, format!("strands {strands}")));
    }
    if heard.says(&["ball", "weight", "weighs", "cone", "skein", "balls"]) {
        let grams = heard.number()?;
        heard.says(&["g", "grams", "gram"]);
        let why = "What a ball or a cone weighs is said with `ball`.";
        return heard.done().then(|| Advice::one("the weight is not said so", why, format!("ball {grams} g")));
    }
    for (words, meant) in [(["color", "colour", "shade"], "colour"), (["fiber", "fibre", "material"], "fibre")] {
        let first = line.split([' ', ':', '=']).next().unwrap_or_default();
        if words.iter().any(|word| word.eq_ignore_ascii_case(first)) {
            let said = line[first.len()..].trim_matches([' ', ':', '=', '"', '\'']);
            let why = "Colours and fibres are told in words, which stand in quotation marks.";
            return (!said.is_empty() && !said.contains('"'))
                .then(|| Advice::one(format!("the {meant} is not said so"), why, format!("{meant} \"{said}\"")));
        }
    }
    let systems =
        [("nm", "Nm"), ("ne", "Ne"), ("tex", "tex"), ("dtex", "dtex"), ("denier", "denier"), ("worsted", "worsted")];
    let system = heard.find(|word| systems.iter().find(|(small, _)| *small == word).map(|(_, name)| *name))?;
    heard.says(&["count", "yarn count", "number"]);
    let number = heard.find(|word| {
        let plain = word.trim_end_matches('s');
        let good = !plain.is_empty() && plain.bytes().all(|byte| byte.is_ascii_digit() || b"/.".contains(&byte));
        good.then(|| plain.to_owned())
    })?;
    let why = "The count stands as on the cone: the number, and behind it how it is counted.";
    heard.done().then(|| Advice::one("the count is not written so", why, format!("count {number} {system}")))
}

/// `28 stitches, 36 rows`, `28 x 36`, `28 sts and 36 rows = 10 cm`.
pub(super) fn gauge(_: &Heard, around: &Around<'_>) -> Option<Advice> {
    let line = around.line();
    let washing = ["unwashed", "washed", "relaxed"].into_iter().find(|word| line.contains(word));
    let line = washing.map_or_else(|| line.to_owned(), |word| line.replace(word, ""));
    let line = values::written(&line.replace([',', '=', ':'], " "));
    let mut numbers: Vec<(&str, &str)> = Vec::new();
    let words: Vec<&str> = line.split(' ').collect();
    for (at, word) in words.iter().enumerate() {
        if word.parse::<f64>().is_ok() {
            numbers.push((word, words.get(at + 1).copied().unwrap_or_default()));
        }
    }
    let unit = |unit: &str| matches!(unit, "cm" | "mm" | "in");
    let measured = numbers.iter().find(|(_, of)| unit(of)).map(|(number, of)| format!("{number} {of}"));
    numbers.retain(|(_, of)| !unit(of));
    let known =
        ["stitches", "rows", "x", "*", "by", "and", "to", "per", "over", "in", "on", "for", "a", "swatch", "cm", "mm"];
    let understood = words.iter().all(|word| word.is_empty() || word.parse::<f64>().is_ok() || known.contains(word));
    let [one, other] = numbers.as_slice() else { return None };
    if !understood {
        return None;
    }
    let (stitches, rows) = if one.1 == "rows" { (other.0, one.0) } else { (one.0, other.0) };
    let washing = washing.map_or(String::new(), |washing| format!(", {washing}"));
    let written = |length: &str| format!("{stitches} stitches and {rows} rows in {length}{washing}");
    let what = "a gauge is not written so";
    let why = "A gauge says how many stitches and how many rows were counted, and in how much fabric.";
    let blank = BLANKS.iter().find(|(blank, ..)| *blank == "LENGTH").map_or("", |(blank, ..)| blank);
    Some(match measured {
        Some(length) => Advice::one(what, why, written(&length)),
        None => Advice::choice(
            what,
            why,
            vec![
                (written("10 cm"), "if you have counted them in 10 cm, as is usual"),
                (written(blank), "if in another length"),
            ],
        ),
    })
}
