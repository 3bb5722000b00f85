//! What stands at the top of a pattern: values, yarns, gauges, sizes, stitches, titles and files.

use super::super::forms::beginning_with;
use super::super::reach::{is_name, reads};
use super::super::words::is_word_character;
use super::heard::Heard;
use super::{Advice, Around, marks, values};

/// A line at the top of a pattern.
pub(super) fn top(heard: &Heard, around: &Around<'_>) -> Option<Advice> {
    let line = around.line();
    title(line)
        .or_else(|| file(line))
        .or_else(|| if around.opens { None } else { value(line) })
        .or_else(|| sizes(line))
        .or_else(|| stitch(line, around))
        .or_else(|| named(line))
        .filter(|_| !heard.begin().rest().is_empty())
}

/// `Dark Red` as `dark-red`.
fn name(words: &str) -> Option<String> {
    let mut name = String::new();
    for part in words.split(|letter: char| !is_word_character(letter)).filter(|part| !part.is_empty()) {
        if !name.is_empty() {
            name.push('-');
        }
        name.push_str(&part.to_lowercase());
    }
    is_name(&name).then_some(name)
}

/// The line behind one of these words, without a colon or `=`.
fn behind<'l>(line: &'l str, words: &[&str]) -> Option<&'l str> {
    let first = line.split([' ', '\t', ':', '=', ';']).next()?;
    let known = words.iter().any(|word| word.eq_ignore_ascii_case(first));
    known.then(|| line[first.len()..].trim_start_matches([' ', '\t', ':', '=', ';']).trim_end())
}

fn title(line: &str) -> Option<Advice> {
    let title = behind(line, &["title", "name", "pattern"])?.trim_matches(['"', '\'']).trim();
    (!title.is_empty() && !title.contains('"')).then(|| {
        let why = "The title of the pattern stands behind `pattern`, in quotation marks.";
        Advice::one("a title is not written so", why, format!("pattern \"{title}\""))
    })
}

fn file(line: &str) -> Option<Advice> {
    let path = behind(line, &["include", "import", "require", "load", "use", "from"])?.trim_matches(['"', '\'']).trim();
    (!path.is_empty() && !path.contains([' ', '"'])).then(|| {
        let why = "What another file declares is taken in with `use` and the path of the file in quotation marks.";
        Advice::one("a file is not taken in so", why, format!("use \"{path}\""))
    })
}

/// `length = 120 cm`, `let length: 20"`.
fn value(line: &str) -> Option<Advice> {
    let rest = behind(line, &["let", "set", "var", "const", "define", "value"]);
    let bare = rest.is_none();
    let rest = rest.unwrap_or(line);
    // A line that begins with a word of the language gives nothing a value.
    if bare
        && rest
            .split([' ', '\t', '=', ':', ';'])
            .next()
            .is_some_and(|first| !is_name(&first.to_lowercase()) || beginning_with(first).next().is_some())
    {
        return None;
    }
    let signs: &[&str] = if bare { &["=", ":", ";"] } else { &["=", ":", ";", " is ", " to "] };
    let sign = signs.iter().copied().find(|sign| rest.contains(sign));
    let (called, value) = match sign {
        Some(sign) => rest.split_once(sign)?,
        // Without a sign only a number can be told from the name.
        None if !bare => {
            rest.split_once(' ').filter(|(_, value)| value.trim().starts_with(|first: char| first.is_ascii_digit()))?
        }
        None => return None,
    };
    let name = name(called)?;
    let value = values::written(value);
    let line = format!("let {name} = {value}");
    // Needles from one to another.
    let line = marks::cleaned(&line).map_or(line, |(line, _)| line);
    reads(&line).then(|| {
        let why = "A value has the form `let`, a name in small letters, `=` and the value: a number with a point for its part and \
                   its unit (`cm`, `mm`, `m`, `in`, `rows`, `stitches`, `needles`), or needles.";
        Advice::one("this value is not written so", why, line)
    })
}

fn sizes(line: &str) -> Option<Advice> {
    let list = behind(line, &["sizes", "size"])?;
    let parts: Vec<&str> = list.split([',', ';', '/', ' ']).map(str::trim).filter(|part| !part.is_empty()).collect();
    let names: Option<Vec<String>> = parts.iter().map(|part| size(part)).collect();
    let names = names.filter(|names| names.len() > 1)?;
    let why = "Sizes are named with small letters and commas between them. A name begins with a letter, and a word that the \
               language has, such as the unit `m`, cannot be one.";
    Some(Advice::one("the sizes are not named so", why, format!("sizes {}", names.join(", "))))
}

fn size(part: &str) -> Option<String> {
    let known = match part.to_lowercase().as_str() {
        "xs" => "extra-small",
        "s" => "small",
        "m" => "medium",
        "l" => "large",
        "xl" => "extra-large",
        "xxl" => "extra-extra-large",
        _ => "",
    };
    if !known.is_empty() {
        return Some(known.to_owned());
    }
    if part.bytes().all(|byte| byte.is_ascii_digit()) { Some(format!("size-{part}")) } else { name(part) }
}

/// `stitch half cardigan on both`, `define rib`.
fn stitch(line: &str, around: &Around<'_>) -> Option<Advice> {
    if !around.opens {
        return None;
    }
    let rest = behind(line, &["stitch", "define", "def", "function", "macro"])?;
    if rest.contains('(') {
        return None;
    }
    let (called, beds) = match [" on ", " from "].into_iter().find_map(|word| rest.find(word)) {
        Some(at) => rest.split_at(at),
        None => (rest, " on BED"),
    };
    let name = name(called)?;
    let why = "A stitch has a name of one word, and behind it the beds that hold stitches before and after it.";
    Some(Advice::one("a stitch does not begin so", why, format!("stitch {name}{beds}")))
}

/// `yarn dark red`, `gauge Half Cardigan`, `chart: anchor`.
fn named(line: &str) -> Option<Advice> {
    let sort =
        ["yarn", "gauge", "machine", "chart", "fabric"].into_iter().find(|sort| behind(line, &[sort]).is_some())?;
    let name = name(behind(line, &[sort])?)?;
    let why = "A name is one word: small letters, with `-` between its parts, and no quotation marks.";
    Some(Advice::one(format!("the name of this {sort} is not one word"), why, format!("{sort} {name}")))
}
