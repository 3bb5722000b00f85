//! Which findings only follow from an earlier one: one mistake is said once.

/// Findings after which the beds are not as the pattern thinks, and the rules that would then find the same mistake
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
            "eyelet-becomes-ladder",
            "hold-left-on",
            "left-on-needles",
            "lone-edge",
            "lost-stitch",
            "needless-allow",
            "no-slant",
            "nothing-to-do",
            "open-repeat",
            "tight-transfer",
            "unplanned-loop",
            "unsupported-tuck",
            "wrong-bed",
        ],
    ),
    (
        &["wrong-side"],
        &[
            "count-mismatch",
            "edge-tuck",
            "held-at-carriage-side",
            "needless-allow",
            "wrong-side",
            "yarn-not-at-this-side",
        ],
    ),
    (
        &["racking-range"],
        &[
            "adjacent-tucks",
            "count-mismatch",
            "facing-needles",
            "lone-edge",
            "needle-in-the-way",
            "needless-allow",
            "no-slant",
            "no-way-back",
            "racked-two-steps",
            "racking-range",
            "racking-strain",
            "unsupported-tuck",
        ],
    ),
    (&["count-mismatch"], &["count-mismatch"]),
    // What lasts over several lines is said at the first.
    (&["eyelet-becomes-ladder"], &["eyelet-becomes-ladder"]),
    (&["held-at-carriage-side"], &["held-at-carriage-side"]),
    // Where the end stitches of one bed stand alone, its tucks there lie side by side.
    (&["lone-edge"], &["adjacent-tucks", "lone-edge"]),
    (&["no-slant"], &["no-slant"]),
    (&["racking-strain"], &["racking-strain"]),
    (&["stretched-hold"], &["stretched-hold"]),
    // One row too many or too few turns the side of every yarn after it.
    (&["yarn-not-at-this-side"], &["yarn-not-at-this-side"]),
];

/// Rules that judge by how many rows there were and how they were knitted. After a row that could not be understood
/// they would only repeat that finding in other words.
const NEED_EVERY_ROW: &[&str] = &[
    "adjacent-empties",
    "count-mismatch",
    "edge-tuck",
    "eyelet-becomes-ladder",
    "held-at-carriage-side",
    "needless-allow",
    "no-slant",
    "no-yarn",
    "racking-strain",
    "size-left-changed",
    "stretched-hold",
    "tight-transfer",
    "tubular-floats",
    "tuck-pile",
    "unplanned-loop",
    "wrong-side",
    "yarn-not-at-this-side",
];

/// Whether findings that come after one of that rule may only follow from it.
pub(super) fn is_root(rule: &str) -> bool {
    FOLLOW.iter().any(|(roots, _)| roots.contains(&rule))
}

/// Whether a finding of `rule` after one of `root` probably says the same mistake again.
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
