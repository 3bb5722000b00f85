//! What a file is that is no pattern: what word processors, browsers and others save instead of plain text.

/// What these bytes are, in words that go on from "is", where their beginning says so. Plain text in UTF-8 is nothing of it,
/// whatever it says.
///
/// The marks that files of each kind begin with are from memory.
pub(super) fn of(bytes: &[u8]) -> Option<&'static str> {
    const MARKS: &[(&[u8], &str)] = &[
        (b"\xff\xfe\0\0", "text in UTF-32"),
        (b"\0\0\xfe\xff", "text in UTF-32"),
        (b"\xff\xfe", "text in UTF-16"),
        (b"\xfe\xff", "text in UTF-16"),
        (b"PK\x03\x04", "a packed file (zip), as word processors and spreadsheets save their documents"),
        (b"PK\x05\x06", "a packed file (zip) with nothing in it"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "a document of an older word processor or spreadsheet"),
        (b"%PDF-", "a document for printing (PDF)"),
        (b"\x1f\x8b", "a packed file (gzip)"),
        (b"\x89PNG\r\n\x1a\n", "a picture (PNG)"),
        (b"\xff\xd8\xff", "a picture (JPEG)"),
        (b"GIF8", "a picture (GIF)"),
    ];
    /// What a text begins with that a program writes for another one. No pattern begins with a brace or with `<`.
    const WORDS: &[(&str, &str)] = &[
        ("{\\rtf", "rich text (RTF), as word processors save it"),
        ("<!doctype html", "a web page (HTML)"),
        ("<html", "a web page (HTML)"),
        ("<?xml", "a document in XML"),
    ];
    if let Some((_, kind)) = MARKS.iter().find(|(mark, _)| bytes.starts_with(mark)) {
        return Some(kind);
    }
    let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes).trim_ascii_start();
    let begins =
        |words: &str| text.get(..words.len()).is_some_and(|start| start.eq_ignore_ascii_case(words.as_bytes()));
    if let Some((_, kind)) = WORDS.iter().find(|(words, _)| begins(words)) {
        return Some(kind);
    }
    is_wide(bytes).then_some("text in UTF-16")
}

/// Whether this is text of two bytes a letter without a mark at its beginning: of plain letters every second byte is zero.
fn is_wide(bytes: &[u8]) -> bool {
    const LOOKED_AT: usize = 512;
    let start = &bytes[..bytes.len().min(LOOKED_AT) & !1];
    let zeros = |which: usize| start.iter().skip(which).step_by(2).filter(|byte| **byte == 0).count();
    let (first, second, most) = (zeros(0), zeros(1), start.len() / 2);
    // A few letters of another alphabet, and ends of lines that were made otherwise, may stand between.
    most >= 4 && (first.min(second) == 0) && first.max(second) * 10 >= most * 7
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_saved_instead_of_text_is_named() {
        let wide = |low_first: bool| -> Vec<u8> {
            "pattern \"Hat\"\n"
                .encode_utf16()
                .flat_map(|unit| if low_first { unit.to_le_bytes() } else { unit.to_be_bytes() })
                .collect()
        };
        for (bytes, words) in [
            (&b"{\\rtf1\\ansi pattern}"[..], "rich text"),
            (b"\xef\xbb\xbf {\\rtf1", "rich text"),
            (b"PK\x03\x04\x14\0", "packed"),
            (b"%PDF-1.7\n", "PDF"),
            (b"<!DOCTYPE html>\n<html>", "web page"),
            (b"\n<HTML>", "web page"),
            (b"<?xml version", "XML"),
            (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1\0", "older word processor"),
            (b"\xff\xfep\0", "UTF-16"),
            (b"\xfe\xff\0p", "UTF-16"),
            (&wide(true), "UTF-16"),
            (&wide(false), "UTF-16"),
        ] {
            assert!(of(bytes).is_some_and(|kind| kind.contains(words)), "{words}: {:?}", of(bytes));
        }
    }

    #[test]
    fn plain_text_is_none_of_it() {
        for text in [
            "",
            "\n",
            "pattern \"Hat\"\n",
            "{",
            "# <html> {\\rtf\n",
            "\u{feff}pattern",
            "note \"PDF\"",
            "\0",
            "a\0b\0",
            "één",
        ] {
            assert_eq!(of(text.as_bytes()), None, "{text:?}");
        }
        assert_eq!(of(b"\xef\xbb\xbfrow \xe9"), None);
        assert_eq!(of(&[0; 600]), None);
    }
}
