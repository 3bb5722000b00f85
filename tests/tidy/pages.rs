//! The samples of the pages.

use super::laws::tidied;
use crate::common::fences::{Fence, fences};

/// Every block of the pages that is fenced as a pattern or a part of one.
pub(crate) fn all() -> Vec<Fence> {
    let samples: Vec<Fence> = ["README.md", "grammar/README.md"]
        .into_iter()
        .flat_map(fences)
        .filter(|fence| fence.word(0) == "wale")
        .collect();
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
