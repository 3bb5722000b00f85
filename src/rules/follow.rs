//! Which findings only follow from an earlier one: one mistake is said once.

/// Errors after which the beds are not as the pattern thinks, and the rules that would then find the same mistake
/// again in other words, at other lines. They are asked again as soon as the first one is mended.
const FOLLOW: &[(&[&str], &[&str])] = &[
    (
        &[
            "adjacent-empties",
            "doubled-stitch",
            "lost-stitch",
            "no-yarn",
            "not-opposite",
            "off-bed",
            "open-repeat",
            "ragged-repeat",
            "unplanned-loop",
            "wrong-bed",
        ],
        &[
            "adjacent-empties",
            "count-mismatch",
            "doubled-stitch",
            "hold-left-on",
            "left-on-needles",
            "lost-stitch",
            "needless-allow",
            "nothing-to-do",
            "open-repeat",
            "tight-transfer",
            "unplanned-loop",
            "wrong-bed",
        ],
    ),
    (&["wrong-side"], &["count-mismatch", "edge-tuck", "needless-allow", "wrong-side"]),
    (
        &["racking-range"],
        &["adjacent-tucks", "count-mismatch", "facing-needles", "needless-allow", "no-way-back", "racking-range"],
    ),
    (&["count-mismatch"], &["count-mismatch"]),
];

/// Rules that judge by how many rows there were and how they were knitted. After a row that could not be understood
/// they would only repeat that finding in other words.
const NEED_EVERY_ROW: &[&str] = &[
    "adjacent-empties",
    "count-mismatch",
    "edge-tuck",
    "needless-allow",
    "no-yarn",
    "size-left-changed",
    "tight-transfer",
    "tuck-pile",
    "unplanned-loop",
    "wrong-side",
];

/// Whether a finding of `rule` after an error of `root` probably says the same mistake again.
pub(super) fn follows(rule: &str, root: &str) -> bool {
    FOLLOW.iter().any(|(roots, follow)| roots.contains(&root) && follow.contains(&rule))
}

/// Whether the rule cannot be asked after a row that could not be understood.
pub(super) fn needs_every_row(rule: &str) -> bool {
    NEED_EVERY_ROW.contains(&rule)
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_names_are_those_of_rules() {
        let lists = super::FOLLOW.iter().flat_map(|(roots, follow)| roots.iter().chain(*follow));
        for name in lists.chain(super::NEED_EVERY_ROW) {
            assert!(crate::rules::find(name).is_some(), "{name}");
        }
    }
}
