//! The addresses that an editor gives to texts, and the names under which wale knows them.
//!
//! The address of a file is its path after `file://`, with some characters written as their bytes; editors differ in which.
//! So a text is known by its path, and the address is kept as the editor wrote it.

use crate::clean;

const FILE: &str = "file://";

/// The name of the text at an address: the path of a file, and the address itself of a text that is none.
pub(super) fn name_of(address: &str) -> String {
    let path = address.strip_prefix(FILE).and_then(|rest| rest.find('/').map(|at| &rest[at..]));
    let Some(Ok(path)) = path.map(unwritten) else { return address.to_owned() };
    // `/c:/patterns`: a path that begins with the letter of a disk.
    match path.as_bytes() {
        [b'/', letter, b':', ..] if letter.is_ascii_alphabetic() => path[1..].to_owned(),
        _ => path,
    }
}

/// A path with the bytes that are written as `%` and two digits put back (RFC 3986, section 2.1, from memory). A `%` with
/// anything else behind it stands for itself.
fn unwritten(path: &str) -> Result<String, std::string::FromUtf8Error> {
    let mut bytes = Vec::with_capacity(path.len());
    let mut rest = path.as_bytes();
    while let [first, after @ ..] = rest {
        let digits = after.get(..2).filter(|digits| *first == b'%' && digits.iter().all(u8::is_ascii_hexdigit));
        let byte = digits
            .and_then(|digits| std::str::from_utf8(digits).ok())
            .and_then(|digits| u8::from_str_radix(digits, 16).ok());
        bytes.push(byte.unwrap_or(*first));
        rest = if byte.is_some() { &after[2..] } else { after };
    }
    String::from_utf8(bytes)
}

/// Whether that is the name of a file and not of a text that only the editor knows.
#[must_use]
pub fn is_file(name: &str) -> bool {
    match name.as_bytes() {
        [b'/', ..] => true,
        [letter, b':', b'/' | b'\\', ..] => letter.is_ascii_alphabetic(),
        _ => false,
    }
}

/// The address of the text of that name.
pub(super) fn address_of(name: &str) -> String {
    if !is_file(name) {
        return name.to_owned();
    }
    let path = name.replace('\\', "/");
    let slash = if path.starts_with('/') { "" } else { "/" };
    format!("{FILE}{slash}{}", clean::reference(&path))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_file_has_the_same_name_however_it_is_written() {
        for address in
            ["file:///mooring/my%20hat.wale", "file://localhost/mooring/my%20hat.wale", "file:///mooring/my hat.wale"]
        {
            assert_eq!(name_of(address), "/mooring/my hat.wale");
        }
        for address in ["file:///c%3A/mooring/hat.wale", "file:///c:/mooring/hat.wale"] {
            assert_eq!(name_of(address), "c:/mooring/hat.wale");
        }
        assert_eq!(name_of("untitled:Untitled-1"), "untitled:Untitled-1");
        assert_eq!(name_of("file:///100%/%é%2/%C3%a9%"), "/100%/%é%2/é%");
        // Bytes that are no letters: the address is all there is.
        assert_eq!(name_of("file:///%ff%fe"), "file:///%ff%fe");
        assert_eq!(name_of("file:"), "file:");
    }

    #[test]
    fn there_and_back() {
        for name in
            ["/mooring/my hat.wale", "/mooring/é/100%.wale", "c:/mooring/hat.wale", "untitled:Untitled-1", "/a#b?c"]
        {
            assert_eq!(name_of(&address_of(name)), name);
        }
        assert_eq!(address_of("/mooring/my hat.wale"), "file:///mooring/my%20hat.wale");
        assert!(is_file("/a") && is_file("C:\\a") && !is_file("untitled:a") && !is_file(""));
    }
}
