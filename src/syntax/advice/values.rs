//! Values as spreadsheets and people write them: fractions, units in full, commas for points, sums in brackets.

/// The value as the language writes it, if anything about it is to be changed.
pub(super) fn written(value: &str) -> String {
    let mut value = value.trim().trim_end_matches(';').trim().to_owned();
    if let Some(inner) = value.strip_prefix('"').and_then(|rest| rest.strip_suffix('"'))
        && !inner.contains(['|', '.', '"'])
    {
        value = inner.trim().to_owned();
    }
    // `20"` for inches, and fractions as one sign.
    for (sign, plain) in [("½", ".5"), ("¼", ".25"), ("¾", ".75"), ("″", " in"), ("\"", " in"), ("×", "*"), ("÷", "/")]
    {
        if !(sign == "\"" && value.matches('"').count() != 1) {
            value = value.replace(sign, plain);
        }
    }
    let mut words: Vec<String> = value.split_whitespace().map(str::to_owned).collect();
    for word in &mut words {
        *word = unit(word).unwrap_or(word).to_owned();
        if let Some(plain) = decimal_comma(word) {
            *word = plain;
        }
        if word.starts_with('.') && word.len() > 1 {
            *word = format!("0{word}");
        }
        if *word == "x" {
            "*".clone_into(word);
        }
    }
    let mut at = 0;
    while at < words.len() {
        if let Some(part) = fraction(&words[at]) {
            let whole = at.checked_sub(1).and_then(|before| words[before].parse::<u64>().ok());
            if let Some(whole) = whole {
                words[at - 1] = format!("{whole}{}", part.trim_start_matches('0'));
                words.remove(at);
                continue;
            }
            words[at] = part;
        } else if let Some(unit) = words[at].strip_prefix('-').and_then(unit_word).filter(|_| at > 0) {
            words[at] = unit.to_owned();
        }
        at += 1;
    }
    let value = words.join(" ");
    bracketed(&value).unwrap_or(value)
}

fn unit(word: &str) -> Option<&'static str> {
    unit_word(&word.to_lowercase())
}

fn unit_word(word: &str) -> Option<&'static str> {
    Some(match word {
        "centimetres" | "centimeters" | "centimetre" | "centimeter" | "cms" => "cm",
        "millimetres" | "millimeters" | "millimetre" | "millimeter" => "mm",
        "metres" | "meters" | "metre" | "meter" => "m",
        "inches" | "inch" | "ins" | "in." => "in",
        "grams" | "grammes" | "gram" => "g",
        "kilograms" | "kilos" | "kilo" => "kg",
        "sts" | "st" => "stitches",
        "courses" | "course" => "rows",
        _ => return None,
    })
}

/// `1,5`.
fn decimal_comma(word: &str) -> Option<String> {
    let (whole, part) = word.split_once(',')?;
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    // Three digits behind it may as well be thousands.
    (digits(whole) && digits(part) && part.len() < 3).then(|| format!("{whole}.{part}"))
}

/// `1/2` as `0.5`, where it comes out in a few digits.
fn fraction(word: &str) -> Option<String> {
    let (top, bottom) = word.split_once('/')?;
    let (top, bottom): (u64, u64) = (top.parse().ok()?, bottom.parse().ok()?);
    if !matches!(bottom, 2 | 4 | 5 | 8 | 10 | 16) || top >= bottom {
        return None;
    }
    let part = format!("{:04}", top * 10_000 / bottom);
    Some(format!("0.{}", part.trim_end_matches('0')))
}

/// `(50 + 10) cm` as `60 cm`.
fn bracketed(value: &str) -> Option<String> {
    let (inside, unit) = value.strip_prefix('(')?.split_once(')')?;
    let mut sum = 0_i64;
    let mut sign = 1;
    for word in inside.split_whitespace() {
        match word {
            "+" => sign = 1,
            "-" => sign = -1,
            number => sum = sum.checked_add(sign * number.parse::<i64>().ok()?)?,
        }
    }
    (sum > 0).then(|| format!("{sum} {}", unit.trim()).trim_end().to_owned())
}
