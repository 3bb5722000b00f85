//! The samples of the pages.

use super::laws::tidied;
use std::fs;
use std::path::Path;

/// A sample of a page.
pub(crate) struct Sample {
    /// The page, the line, and the words behind the opening marks.
    pub(crate) place: String,
    pub(crate) text: String,
}

/// Every block of the pages that is fenced as a pattern or a part of one.
pub(crate) fn all() -> Vec<Sample> {
    let mut samples = Vec::new();
    for page in ["README.md", "grammar/README.md"] {
        let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(page)).unwrap();
        let mut lines = text.lines().enumerate();
        while let Some((at, line)) = lines.next() {
            let Some(info) = line.strip_prefix("```") else { continue };
            let inside: String = lines
                .by_ref()
                .map(|(_, line)| line)
                .take_while(|line| *line != "```")
                .map(|line| format!("{line}\n"))
                .collect();
            if info.starts_with("wale ") {
                samples.push(Sample { place: format!("{page}:{} {info}", at + 1), text: inside });
            }
        }
    }
    assert!(samples.len() > 40, "there are {} samples", samples.len());
    samples
}

/// Who copies a sample into a file and tidies it gets it back.
#[test]
fn every_sample_of_the_pages_is_tidy() {
    for sample in all() {
        assert_eq!(tidied(&sample.text).text, sample.text, "{}", sample.place);
    }
}
